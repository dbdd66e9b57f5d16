"""The specification sheet, as qpdf, Poppler and their like read it."""

from __future__ import annotations

import io
import itertools
import shutil
import subprocess

import numpy as np
import pytest
from PIL import Image

from checkcloth import (
    Check,
    ChosenSet,
    Colourway,
    NamedColour,
    draw_colourways,
    read_palette,
)
from checkcloth.cloth.spectral import inconstancy
from checkcloth.errors import ArgumentError
from checkcloth.export.paper.page import MARGIN
from checkcloth.export.paper.specification import save_spec_sheet, tone_rows, write_spec_sheet

DPI = 254  # 10 pixels a millimetre
PALETTE = read_palette("palettes/tea-table.csv")


def _set(size="0.5 in") -> ChosenSet:
    stripes = [PALETTE[name] for name in ("Jam Pan", "Cornflower Cup", "Garden Mint")]
    morning = Colourway(PALETTE["Starched Linen"], stripes, 0.6, name="Morning")
    woven = Colourway("black", ["gold", "teal"], 0.9, "woven", name="</b> & 'Woven' é")
    return ChosenSet(Check(size, 3), [morning, woven], "Counter cloths")


def _pdf(chosen: ChosenSet, **more) -> bytes:
    stream = io.BytesIO()
    write_spec_sheet(stream, chosen, **more)
    return stream.getvalue()


def tool(name: str) -> str:
    if shutil.which(name) is None:
        pytest.skip(f"{name} is not here")
    return name


def _run(*command: str) -> str:
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


@pytest.fixture(scope="module")
def sheet(tmp_path_factory):
    path = tmp_path_factory.mktemp("pdf") / "sheet.pdf"
    path.write_bytes(_pdf(_set()))
    return str(path)


def _page(path: str, number: int, folder) -> np.ndarray:
    out = str(folder / "page")
    _run(tool("pdftoppm"), "-r", str(DPI), "-f", str(number), "-l", str(number), "-png",
         "-singlefile", path, out)  # fmt: skip
    return np.asarray(Image.open(f"{out}.png").convert("RGB"))


def test_it_is_a_valid_pdf_with_its_fonts_in_it(sheet):
    assert "No syntax or stream encoding errors" in _run(tool("qpdf"), "--check", sheet)
    fonts = _run(tool("pdffonts"), sheet).splitlines()[2:]
    assert len(fonts) == 2
    for line in fonts:
        assert "DejaVu" in line
        embedded, subset, unicode_ = line.split()[-5:-2]
        assert (embedded, subset, unicode_) == ("yes", "yes", "yes")


def test_it_is_drawn_and_holds_no_picture(sheet):
    # The first two lines of Poppler's list are its heading.
    assert len(_run(tool("pdfimages"), "-list", sheet).splitlines()) == 2


def test_streams_are_bytes_and_the_switch_of_the_library_is_put_back(sheet):
    from reportlab import rl_config

    before = rl_config.useA85
    data = _pdf(_set())
    assert b"/ASCII85Decode" not in data
    assert b"/FlateDecode" in data
    assert rl_config.useA85 == before


def test_what_every_page_shares_is_held_once(sheet):
    one, two = ChosenSet(_set().check, _set().colourways[:1]), _set()
    assert _pdf(one).count(b"/Subtype /Form") + 2 >= _pdf(two).count(b"/Subtype /Form")
    text = _run(tool("pdftotext"), "-layout", sheet, "-")
    assert text.count("Agree a strike-off") == len(two)


@pytest.mark.parametrize(("paper", "size"), [("A4", (210, 297)), ("Letter", (215.9, 279.4))])
def test_paper_sizes(tmp_path, paper, size):
    path = tmp_path / "sheet.pdf"
    path.write_bytes(_pdf(_set(), paper=paper))
    info = _run(tool("pdfinfo"), str(path))
    assert "Pages:           2" in info
    line = next(line for line in info.splitlines() if line.startswith("Page size"))
    points = [float(word) for word in line.split() if word.replace(".", "").isdigit()]
    np.testing.assert_allclose(np.array(points[:2]) / 72 * 25.4, size, atol=0.01)
    assert "Title:           Counter cloths: specification" in info
    assert "checkcloth" in info


def test_everything_is_there_as_text(sheet):
    text = _run(tool("pdftotext"), "-layout", sheet, "-")
    for words in (
        "Morning", "Counter cloths · 1 of 2", "Check size", "1/2 in (12.7 mm)", "Repeat",
        "3 in (76.2 mm)", "Overlay strength", "60 %", "source-over", "Screens", "Band plan",
        "6 bands", "Jam Pan over Cornflower Cup", "sRGB", "Lab under D65, 2°", "25.00 %",
        "least ΔE00", "least ΔL*", "Strike-off", "Tolerance ΔE00", "no proof", "tolerance",
        "5 cm", "2 in", "</b> & 'Woven' é", "gold with teal, both ways",
    ):  # fmt: skip
        assert words in text, words
    rows = tone_rows(_set().colourways[0], Check("0.5 in", 3))
    for row in rows:
        assert "#{:02x}{:02x}{:02x}".format(*(int(v * 255 + 0.5) for v in row.rgb)) in text


def test_numbers_below_nothing_have_a_minus_and_the_repeat_is_said_once(sheet):
    text = _run(tool("pdftotext"), "-layout", "-f", "1", "-l", "1", sheet, "-")
    rows = tone_rows(_set().colourways[0], Check("0.5 in", 3))
    below = [f"−{-value:.1f}" for row in rows for value in row.lab.round(1) if value < 0]
    assert below
    assert all(number in text for number in below)
    assert " -" not in text
    assert text.count("3 in (76.2 mm)") == 1


LONG = ("Harbour Wall at Low Tide", "Old Copper Kettle, Polished", "Sugared Almond and Rosewater",
        "Cowslip Meadow in the Rain", "Crème Caramel", "Faded Violet")  # fmt: skip


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_long_names_of_crossings_are_whole_and_no_page_is_added(tmp_path, paper):
    stripes = [NamedColour(name, (n / 8, 0.4, 0.6)) for n, name in enumerate(LONG)]
    cloth = Colourway("white", stripes, 0.5, "woven", name="Long")
    path = tmp_path / "sheet.pdf"
    path.write_bytes(_pdf(ChosenSet(Check("1/2 in", 6), [cloth]), paper=paper))
    assert "Pages:           1" in _run(tool("pdfinfo"), str(path))
    words = " ".join(_run(tool("pdftotext"), "-raw", str(path), "-").split())
    tones = words[words.index("crossed both ways") :]
    for one, two in itertools.combinations(LONG, 2):
        assert f"{one} with {two}" in tones
    for name in LONG:
        assert f"{name} over {name}" in tones


def test_tone_rows_cover_the_whole_cloth_once():
    for colourway in [*_set(), Colourway("white", ["red", "blue"], 0.5, "woven", warp_share=0.3)]:
        rows = tone_rows(colourway, Check("1 cm", len(colourway.stripes)))
        assert sum(row.share for row in rows) == pytest.approx(1)
        assert len({row.code for row in rows}) == len(rows)
    assert len(tone_rows(_set().colourways[0], Check("1 cm", 3))) == 13
    assert len(tone_rows(_set().colourways[1], Check("1 cm", 2))) == 6


@pytest.mark.parametrize("size", ["0.5 in", "1/16 in", "7 mm", "2 in"])
def test_the_cloth_is_drawn_at_true_size_in_the_true_tones(tmp_path, size):
    chosen = _set(size)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(_pdf(chosen))
    page = _page(str(path), 1, tmp_path).astype(int)
    colourway, check = chosen.colourways[0], chosen.check
    tones = np.floor(colourway.tones * 255 + 0.5).astype(int)
    left, top = MARGIN * 10, 31 * 10
    each = check.size.mm * 10
    plan = check.plan()
    cells = min(int(840 / each), 60)
    centre = ((np.arange(cells) + 0.5) * each).astype(int)
    kinds = plan[np.arange(cells) % len(plan)]
    seen = page[int(top) + centre[:, None], int(left) + centre]
    wanted = tones[kinds[None, :], kinds[:, None]]
    assert np.abs(seen - wanted).max() <= 1
    # Every edge lies within 0.1 mm, one pixel, of where it belongs.
    for number in range(1, cells):
        row = page[int(top + each / 2)]
        edge = left + number * each
        before, after = row[round(edge - 1.5)], row[round(edge + 1.5)]
        assert np.abs(before - wanted[0, number - 1]).max() <= 1
        assert np.abs(after - wanted[0, number]).max() <= 1


def test_no_paper_shines_through_between_cells(tmp_path):
    """Dark cloth on white paper: a seam would show as a lighter pixel at an edge."""
    dark = ChosenSet(Check("3.3 mm", 2), [Colourway("#101010", ["#202020", "#302010"], 0.5)])
    path = tmp_path / "sheet.pdf"
    path.write_bytes(_pdf(dark))
    page = _page(str(path), 1, tmp_path)
    assert page[315:1145, 145:975].max() <= 0x30


def test_the_rulers_measure(tmp_path, sheet):
    page = _page(sheet, 1, tmp_path)
    grey = page.mean(axis=-1)
    right = int((MARGIN + 84 + 8) * 10)
    lengths = []
    for row in range(900, 1400):
        dark = np.flatnonzero(grey[row, right - 3 : right + 700] < 190)
        if len(dark) and np.diff(dark).max(initial=1) == 1 and len(dark) > 400:
            lengths.append(len(dark))
    # A ruler's line is drawn from tick to tick: 50 mm and 50.8 mm, to 0.1 mm.
    assert lengths
    for wanted in (500, 508):
        assert min(abs(length - wanted) for length in lengths) <= 2


def test_many_tones_go_on_with_more_pages(tmp_path):
    stripes = [f"hsl({15 * n} 60% {35 + n}%)" for n in range(24)]
    many = ChosenSet(Check("1/4 in", 24), [Colourway("white", stripes, name="Many")])
    path = tmp_path / "sheet.pdf"
    path.write_bytes(_pdf(many, paper="Letter"))
    text = _run(tool("pdftotext"), "-layout", str(path), "-")
    assert "Tones, continued" in text
    rows = tone_rows(many.colourways[0], many.check)
    assert len(rows) == 1 + 24 + 24 * 24
    for row in rows[::37]:
        assert f" {row.code} " in text


def test_signs_that_the_typeface_lacks_are_told_by_their_codes(tmp_path):
    path = tmp_path / "sheet.pdf"
    names = ["東雲", "café ½ Ω", ""]
    named = [Colourway("white", ["navy"], name=name) for name in names]
    save_spec_sheet(named, Check("1 in", 1), path)
    pages = _run(tool("pdftotext"), "-layout", str(path), "-").split("\f")
    assert "□: U+6771 U+96F2, not in this typeface" in pages[0]
    assert "U+" not in pages[1] + pages[2]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_six_stripes_fit_one_page(tmp_path, paper):
    six = ChosenSet(Check("0.5 in", 6), draw_colourways(PALETTE, 6, 3))
    path = tmp_path / "sheet.pdf"
    path.write_bytes(_pdf(six, paper=paper))
    assert "Pages:           3" in _run(tool("pdfinfo"), str(path))


def test_the_worst_shift_under_other_lights_stands_on_the_sheet(tmp_path):
    cloth = Colourway("white", ["navy", "teal"], 0.7, "woven", name="Quay")
    path = tmp_path / "sheet.pdf"
    save_spec_sheet(cloth, Check("1 in", 2), path)
    text = " ".join(_run(tool("pdftotext"), "-raw", str(path), "-").split())
    assert f"Other lights (2°), worst: {inconstancy(cloth).short}" in text
    # Where there is no ground there are no steps from it.
    save_spec_sheet(cloth, Check("1 in", 2, warp="1 A, 1 B"), path, overwrite=True)
    text = " ".join(_run(tool("pdftotext"), "-raw", str(path), "-").split())
    assert "cannot be compared from ground over single to crossing" in text
    assert "nan" not in text


def test_the_same_bytes_twice_and_odd_input(tmp_path):
    assert _pdf(_set()) == _pdf(_set())
    with pytest.raises(ArgumentError, match="paper must be one of A4, Letter"):
        _pdf(_set(), paper="A3")
    odd = Colourway("white", ["navy"], name="🍓 日本 " + "x" * 300)
    assert save_spec_sheet(odd, Check("0.1 mm", 1), tmp_path / "odd.pdf").stat().st_size > 1000
    assert save_spec_sheet(odd, Check("100 cm", 1), tmp_path / "large.pdf").exists()
    with pytest.raises(ArgumentError, match="folder that exists"):
        save_spec_sheet(odd, Check("1 cm", 1), tmp_path / "missing" / "odd.pdf")
