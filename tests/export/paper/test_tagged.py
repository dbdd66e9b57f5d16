"""Every PDF of the kit is tagged: read back by pypdf, operator by operator, and by qpdf.

The rules are those of ISO 14289-1 (PDF/UA-1) as far as a program can see: everything painted is
a piece of the structure or an artifact, pieces are found from the structure's root, figures have
words, heads of tables a scope, title and language stand in the document. Cited from memory.
"""

from __future__ import annotations

import io
import shutil
import subprocess

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from checkcloth import Check, ChosenSet, Colourway
from checkcloth.cloth.chosen import Chosen
from checkcloth.export.charts.charts import pair_matrix
from checkcloth.export.paper.client_sheet import client_sheet
from checkcloth.export.paper.report import Heading, report
from checkcloth.export.paper.specification import write_spec_sheet
from checkcloth.quality import score_table, sweep

NAMES = ("Morning", "Noon (late)", "\u6771\u96f2 & <b>")
KEPT = ChosenSet(
    Check("1/4 in", 3, weft="2 A, 1 ground, 1 B, 1 C"),
    [
        Chosen(Colourway("white", ["navy", shade, "gold"], name=name), note="Look.", family=family)
        for name, shade, family in zip(
            NAMES, ("teal", "coral", "plum"), ("Quay", "Quay", ""), strict=True
        )
    ],
    "Tea tables",
)
# ISO 32000-1, annex A: operators that paint, and those that show text.
PAINTS = {b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"S", b"s", b"sh", b"Do", b"Tj", b"TJ",
          b"'", b'"', b"EI", b"INLINE IMAGE"}  # fmt: skip


def specification() -> bytes:
    out = io.BytesIO()
    write_spec_sheet(out, KEPT)
    return out.getvalue()


def clients() -> bytes:
    out = io.BytesIO()
    more = ChosenSet(KEPT.check, KEPT.chosen * 6, KEPT.name)
    client_sheet(more, sizes=["1 in"], note="Two to choose from.", date="May").write_pdf(out)
    return out.getvalue()


def reported() -> bytes:
    colourway = KEPT.colourways[0]
    parts = ["A word.", Heading("Figures"), score_table(list(KEPT)), sweep(colourway),
             pair_matrix(colourway)]  # fmt: skip
    return report("Tea <table>", parts).pdf()


MADE = {"specification": specification, "client": clients, "report": reported}


@pytest.fixture(scope="module", params=MADE)
def made(request) -> bytes:
    return MADE[request.param]()


def elements(node, found=None):
    """Every structure element, in reading order."""
    found = [] if found is None else found
    node = node.get_object()
    if "/S" in node:
        found.append(node)
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        kid = kid.get_object() if hasattr(kid, "get_object") else kid
        if isinstance(kid, dict) and "/S" in kid:
            elements(kid, found)
    return found


def marks_of(page, reader):
    """The kinds of marked content on a page by number; all that is painted lies within some."""
    seen, open_marks = {}, []
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator in (b"BMC", b"BDC"):
            assert not open_marks, "pieces do not lie in one another"
            open_marks.append(operands[0])
            if operator == b"BDC":
                number = int(operands[1]["/MCID"])
                assert number not in seen
                seen[number] = operands[0]
            else:
                assert operands[0] == "/Artifact"
        elif operator == b"EMC":
            open_marks.pop()
        elif operator in PAINTS:
            assert open_marks, f"{operator!r} {operands} is neither content nor artifact"
    assert not open_marks
    return seen


def test_everything_painted_is_a_piece_or_an_artifact(made):
    reader = PdfReader(io.BytesIO(made))
    tree = reader.root_object["/StructTreeRoot"]
    parents = tree["/ParentTree"]["/Nums"]
    by_page = dict(zip(parents[::2], parents[1::2], strict=True))
    shown = set()
    for index, page in enumerate(reader.pages):
        assert page["/StructParents"] == index
        assert page["/Tabs"] == "/S"
        marks = marks_of(page, reader)
        owners = [one.get_object() for one in by_page[index]]
        assert list(marks) == list(range(len(owners)))
        assert [one["/S"] for one in owners] == list(marks.values())
        shown |= {one.indirect_reference.idnum for one in owners}
    reached = {one.indirect_reference.idnum for one in elements(tree)}
    assert shown <= reached, "every piece is found from the root"


def test_what_is_said_of_pieces(made):
    reader = PdfReader(io.BytesIO(made))
    found = elements(reader.root_object["/StructTreeRoot"])
    assert found[0]["/S"] == "/Document"
    assert found[1]["/S"] == "/H1"
    figures = [one for one in found if one["/S"] == "/Figure"]
    assert figures
    assert all(len(one["/Alt"]) > 10 for one in figures)
    for table in (one for one in found if one["/S"] == "/Table"):
        rows = [kid.get_object() for kid in table["/K"]]
        counts = {len(row["/K"]) for row in rows}
        assert len(counts) == 1, "as many cells in every row"
        heads = [kid.get_object() for kid in rows[0]["/K"]]
        assert {one["/S"] for one in heads} == {"/TH"}
        assert {one["/A"]["/Scope"] for one in heads} == {"/Column"}


def test_title_language_and_standard_stand_in_the_document(made):
    reader = PdfReader(io.BytesIO(made))
    root = reader.root_object
    assert root["/Lang"] == "en-GB"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    metadata = root["/Metadata"].get_object()
    xmp = metadata.get_data().decode()
    assert "<pdfuaid:part>1</pdfuaid:part>" in xmp
    assert reader.metadata.title
    assert reader.xmp_metadata.dc_title["x-default"] == reader.metadata.title
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            assert "/FontFile2" in font.get_object()["/FontDescriptor"]


def test_all_words_of_a_page_can_be_had_again():
    """The pieces in reading order hold names, codes and notes, whatever their letters."""
    reader = PdfReader(io.BytesIO(specification()))
    text = "\n".join(page.extract_text() for page in reader.pages)
    assert "Noon (late)" in text
    assert text.count("Strike-off") == len(KEPT)
    found = elements(reader.root_object["/StructTreeRoot"])
    alts = [one["/Alt"] for one in found if "/Alt" in one]
    assert any("navy, teal, gold on white" in alt for alt in alts)


def test_the_same_set_gives_the_same_bytes():
    assert specification() == specification()
    assert clients() == clients()


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf is not installed")
def test_qpdf_finds_nothing(made, tmp_path):
    (tmp_path / "made.pdf").write_bytes(made)
    asked = ["qpdf", "--check", tmp_path / "made.pdf"]
    done = subprocess.run(asked, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
