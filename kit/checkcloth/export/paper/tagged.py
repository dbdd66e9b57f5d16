"""What stands on the pages of a PDF, in reading order, for those who hear it or read it large.

PDF/UA-1 (ISO 14289-1): everything painted is either a piece of the document's structure, such as
a heading, a paragraph, a cell of a table or a figure with words in its place, or marked as an
artifact: rules, frames, what only repeats. Structure elements, marked content and the parent
tree: ISO 32000-1, 14.6 to 14.8.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, BinaryIO

from checkcloth.files.pdf import pdf_text, xmp
from checkcloth.needs import need
from checkcloth.version import PROGRAM


@dataclass(eq=False)
class Element:
    """A piece of the document: its type, as ISO 32000-1 14.8.4 names it, and what is in it.

    ``marks`` are (page, number) of its marked content; ``alt`` stands in a figure's place;
    ``scope`` is that of a heading cell, ``"Column"`` or ``"Row"``.
    """

    kind: str
    parent: Element | None = None
    alt: str = ""
    scope: str = ""
    kids: list[Element] = field(default_factory=list)
    marks: list[tuple[int, int]] = field(default_factory=list)

    @property
    def shown(self) -> bool:
        """Whether any of it stands on a page."""
        return bool(self.marks) or any(kid.shown for kid in self.kids)

    def add(self, kind: str, *, alt: str = "", scope: str = "") -> Element:
        """Add a piece after those that are in it."""
        kid = Element(kind, self, alt, scope)
        self.kids.append(kid)
        return kid


class Structure:
    """The structure of one document; filled while its pages are drawn."""

    def __init__(self) -> None:
        self.root = Element("Document")  #: the document
        self._pages: dict[int, list[Element]] = {}

    def mark(self, canvas: Any, element: Element | None) -> str:
        """Return the operator that begins a piece, or with None an artifact, on the page."""
        if element is None:
            return "/Artifact BMC"
        page = canvas.getPageNumber() - 1
        marked = self._pages.setdefault(page, [])
        element.marks.append((page, len(marked)))
        marked.append(element)
        return f"/{element.kind} <</MCID {len(marked) - 1}>> BDC"

    @contextmanager
    def marked(self, canvas: Any, element: Element | None) -> Iterator[None]:
        """Mark all that is drawn within as a piece, or with None as an artifact."""
        canvas._code.append(self.mark(canvas, element))
        yield
        canvas._code.append("EMC")

    def finish(self, canvas: Any) -> None:
        """Write the structure into the document of a canvas, all of whose pages are drawn."""
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFObject

        class Raw(PDFObject):  # type: ignore[misc]
            """An object that is written as bytes known only when all objects have numbers."""

            __RefOnly__ = 1

            def __init__(self, write: Any) -> None:
                self.write = write

            def format(self, document: Any) -> bytes:
                return str(self.write()).encode("latin-1")

        document = canvas._doc
        pages = document.Pages.pages
        objects: dict[Element, Any] = {}

        def ref(thing: Any) -> str:
            return str(document.Reference(thing).format(document), "latin-1")

        def register(element: Element) -> None:
            objects[element] = Raw(lambda: _words_of(element, objects, tree, pages, ref))
            document.Reference(objects[element])
            for kid in element.kids:
                if kid.shown:
                    register(kid)

        def numbers() -> str:
            rows = (
                f"{page} [{' '.join(ref(objects[one]) for one in self._pages[page])}]"
                for page in sorted(self._pages)
            )
            return f"<</Nums [{' '.join(rows)}]>>"

        parents = Raw(numbers)
        tree = Raw(
            lambda: (
                f"<</Type /StructTreeRoot /K {ref(objects[self.root])} /ParentTree "
                f"{ref(parents)} /ParentTreeNextKey {len(pages)}>>"
            )
        )
        document.Reference(parents)
        register(self.root)
        document.Catalog.StructTreeRoot = tree
        document.Catalog.MarkInfo = PDFDictionary({"Marked": "true"})
        for index, page in enumerate(pages):
            page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
            page.StructParents, page.Tabs = index, PDFName("S")


def _words_of(element: Element, objects: Any, tree: Any, pages: Any, ref: Any) -> str:
    """A structure element as PDF writes it."""
    parent = objects[element.parent] if element.parent else tree
    kids = [ref(objects[kid]) for kid in element.kids if kid in objects]
    home = element.marks[0][0] if element.marks else None
    for page, number in element.marks:
        on = f"<</Type /MCR /Pg {ref(pages[page])} /MCID {number}>>"
        kids.append(str(number) if page == home else on)
    out = f"<</S /{element.kind} /P {ref(parent)}"
    if home is not None:
        out += f" /Pg {ref(pages[home])}"
    if element.alt:
        out += f" /Alt {pdf_text(element.alt)}"
    if element.scope:
        out += f" /A <</O /Table /Scope /{element.scope}>>"
    return f"{out} /K {kids[0] if len(kids) == 1 else '[' + ' '.join(kids) + ']'}>>"


def tagged_canvas(
    stream: BinaryIO | str,
    structure: Structure,
    *,
    title: str = "",
    subject: str = "",
    **options: Any,
) -> Any:
    """Return a reportlab canvas that carries a structure, and writes it when it is saved.

    The title is shown in place of the file's name, the language is stated, there is no date,
    so that the same pages give the same bytes.
    """
    need("reportlab")
    from reportlab.pdfgen.canvas import Canvas

    class Tagged(Canvas):  # type: ignore[misc]
        def save(self) -> None:
            structure.finish(self)
            self._doc.Catalog.Metadata = _metadata(title)
            super().save()

    options = {"invariant": 1, "pageCompression": 1} | options | {"lang": "en-GB"}
    canvas = Tagged(stream, **options)
    canvas.structure = structure
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setAuthor("")
    canvas.setCreator(PROGRAM)
    canvas.setProducer(PROGRAM)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


def _metadata(title: str) -> Any:
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFStream

    kind = PDFDictionary({"Type": PDFName("Metadata"), "Subtype": PDFName("XML")})
    return PDFStream(kind, xmp(title), filters=())
