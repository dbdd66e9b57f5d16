"""Texts of a PDF outside its pages: strings of its objects, and what it says of itself."""

from __future__ import annotations

from html import escape

from checkcloth.version import PROGRAM


def pdf_text(text: str) -> str:
    """A text string as PDF writes it: as it is, or as UTF-16 where it has other letters."""
    if text.isascii():
        return "(" + "".join(f"\\{char}" if char in "()\\" else char for char in text) + ")"
    return f"<{(chr(0xFEFF) + text).encode('utf-16-be').hex()}>"


def xmp(title: str) -> bytes:
    """Return XMP: the title, the program, and that it follows PDF/UA-1 (ISO 14289-1, clause 5)."""
    text = (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">'
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
        '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" '
        'xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" '
        'xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">'
        "<pdfuaid:part>1</pdfuaid:part>"
        f'<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{escape(title)}</rdf:li></rdf:Alt>'
        "</dc:title><dc:language><rdf:Bag><rdf:li>en-GB</rdf:li></rdf:Bag></dc:language>"
        f"<pdf:Producer>{escape(PROGRAM)}</pdf:Producer>"
        f"<xmp:CreatorTool>{escape(PROGRAM)}</xmp:CreatorTool>"
        '</rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end="w"?>'
    )
    return text.encode("utf-8")
