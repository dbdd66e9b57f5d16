"""The report: every table and picture in both forms, nothing half written, nothing unescaped."""

from __future__ import annotations

import io
from html.parser import HTMLParser
from pathlib import Path

import numpy as np
import pandas
import pytest
from matplotlib.figure import Figure
from PIL import Image
from pypdf import PdfReader

from checkcloth import Palette, colour_gamp
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError, ExistsError
from checkcloth.export.charts import pair_matrix, picture_of
from checkcloth.export.paper.report import Heading, report
from checkcloth.quality import (
    Demand,
    check_strike_off,
    ground_gains,
    parting_pairs,
    read_readings,
    score_table,
    score_with_tolerance,
    strength_windows,
    striping,
    sweep,
    under_lights,
)
from checkcloth.search import Wanted, search

READINGS = "tone,L*,a*,b*,illuminant,observer\nwhite,97,0,2,D65,2\nnavy on white,52,16,-38,D65,2\n"


@pytest.fixture
def strike_off(tmp_path: Path):
    (tmp_path / "r.csv").write_text(READINGS, "utf-8")
    return check_strike_off(Colourway("white", ["navy"], name="Halt"), tmp_path / "r.csv")


@pytest.fixture
def whole(strike_off):
    colourway = Colourway("white", ["navy"], name="Halt")
    return report(
        "Tea table",
        [
            "A first word.",
            Heading("Figures"),
            score_table(colourway),
            sweep(colourway),
            strength_windows(colourway, [Demand("edges", "dl", 10)]),
            score_with_tolerance(colourway, draws=200),
            striping(colourway, Check("1/4 in", 1), "60 cm"),
            pair_matrix(colourway),
            strike_off,
        ],
    )


class Seen(HTMLParser):
    """What a page holds: tags, images, and text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.images: list[dict[str, str | None]] = []
        self.text = ""
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        if tag == "img":
            self.images.append(dict(attributes))

    def handle_data(self, data):
        self.text += data


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def test_the_page_stands_alone_with_every_part(whole):
    page = whole.html()
    seen = Seen(page)
    assert seen.tags.count("table") == 7
    assert [
        bool(image["alt"]) and image["src"].startswith("data:image/png") for image in seen.images
    ] == [True, True]  # one given, and the strike-off's own
    assert "http" not in page.replace("http-equiv", "")
    for words in ("A first word.", "strength windows of Halt", "Wilson", "not a clearance",
                  "Strike-off: Halt", "Measured by"):  # fmt: skip
        assert words in seen.text


def test_the_pdf_has_the_same_words_and_embedded_fonts(whole):
    pdf = whole.pdf()
    text = " ".join(text_of(pdf).split())
    for words in ("A first word.", "strength windows of Halt", "Wilson", "not a clearance",
                  "Strike-off: Halt", "Measured by", "CMC(2:1)", "ΔE00"):  # fmt: skip
        assert words in text
    reader = PdfReader(io.BytesIO(pdf))
    assert reader.metadata.title == "Tea table"
    assert any(page.images for page in reader.pages)
    # The strike-off begins a page of its own, to be sent back.
    (page,) = [p for p in reader.pages if "Strike-off: Halt" in p.extract_text()]
    assert page.extract_text().strip().index("Strike-off: Halt") < 60
    assert "Measured by" in page.extract_text()


def test_figures_are_the_same_in_table_and_print(whole, strike_off):
    for check in strike_off.checks:
        for text in (Seen(whole.html()).text, text_of(whole.pdf())):
            assert f"{check.cmc:.2f}" in text
            assert f"{check.dl:+.2f}".replace("-", "−") in text


def test_the_same_report_gives_the_same_bytes(whole):
    assert whole.pdf() == whole.pdf()
    assert whole.html() == whole.html()


def test_typed_names_are_text_in_both(tmp_path):
    name = "<img src=x onerror=alert(1)> & </para>"
    colourway = Colourway(NamedColour(name, (1, 1, 1)), ["navy"], name=name)
    made = report(name, [score_table(colourway), sweep(colourway), Heading(name), name])
    assert "<img src=x" not in made.html()
    assert "onerror=alert(1)" in Seen(made.html()).text
    assert "onerror=alert(1)" in text_of(made.pdf()).replace("\n", "").replace(" ", "")


def test_a_long_name_and_a_long_table_stay_on_the_page():
    long = Colourway(NamedColour("W" * 200, (1, 1, 1)), ["navy"], name="N" * 200)
    made = report("long", [score_table([long] * 250)])
    pdf = PdfReader(io.BytesIO(made.pdf()))
    assert len(pdf.pages) > 3
    assert "50 more rows are not printed" in " ".join(text_of(made.pdf()).split())


def test_saving_is_whole_or_not_at_all(whole, tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    assert whole.save(folder / "r.html").read_text("utf-8") == whole.html()
    assert whole.save(folder / "r.pdf").read_bytes() == whole.pdf()
    with pytest.raises(ExistsError):
        whole.save(folder / "r.pdf")
    with pytest.raises(ArgumentError) as caught:
        whole.save(folder / "r.doc")
    assert (caught.value.argument, caught.value.found) == ("path", "r.doc")
    assert sorted(p.name for p in folder.iterdir()) == ["r.html", "r.pdf"]


@pytest.mark.parametrize(
    ("title", "content", "argument"),
    [("", ["x"], "title"), ("x", [], "content"), ("x", [5], "content")],
)
def test_bad_content_says_what_is_allowed(title, content, argument):
    with pytest.raises(ArgumentError) as caught:
        report(title, content)
    assert caught.value.argument == argument
    assert caught.value.allowed


def test_tones_under_lights_and_pairs_that_part_are_printed():
    cloth = Colourway("white", ["navy", "#010180"], 0.5, "woven", name="Halt")
    found = under_lights(cloth)
    pairs = parting_pairs([NamedColour.of("#aaa"), NamedColour.of("#ababab")], match=1, part=0.01)
    made = report("Lights", [found, pairs])
    html, seen = made.html(), made.pdf()
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(seen)).pages)
    assert found.words in html
    assert "ΔE00 F11" in html
    assert "a guess" in " ".join(text.split())
    assert "1 pair matches under one light" in " ".join(text.split())


def test_gains_of_grounds_are_printed():
    gains = ground_gains(Colourway("silver", ["navy"]), ["white", NamedColour("<b>", (0, 0, 0))])
    made = report("Grounds", [gains])
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(made.pdf())).pages)
    for shown in (made.html(), text):
        assert "what 2 grounds would bring" in shown
        assert "22.8" in shown
    assert "<b>" not in made.html().split("<table")[1].split("</table")[0]


def test_frames_figures_and_every_other_result_are_printed():
    """Tables of pandas' own and a figure of matplotlib's, as somebody works with both."""
    table = score_table([Colourway("white", [name], name=f"<{name}>") for name in ("navy", "red")])
    frame = table.frame()
    mean = frame.groupby("mixing")[["tones", "strength"]].mean()
    drawn = Figure(figsize=(4, 3), layout="constrained")
    ax = drawn.subplots()
    ax.plot([0, 1], [1, 2])
    ax.set(title="Two <lots>", xlabel="lot", ylabel="ΔE00")
    readings = read_readings(
        pandas.DataFrame({"tone": ["white"], "L*": [98.5], "a*": [0.0], "b*": [-0.04]}),
        illuminant="D65", observer=2,
    )  # fmt: skip
    gamp = colour_gamp(["navy"], ["gold", "teal"])
    found = search(Wanted(Palette("bay", ["white", "navy", "teal"]), 1, grounds=["white"]), k=2)
    described = frame[["tones", "strength"]].describe()
    made = report("Mine", [frame.iloc[:, :12], mean, described, drawn, readings, gamp, found])
    assert str(made) == "report Mine: 7 tables, 2 pictures"
    assert ">std<" in made.html()
    html = made.html()
    for words in ("&lt;navy&gt;", "source-over", "alt=\"Two &lt;lots&gt;; ΔE00 over lot\"",
                  "colour gamp of 1 warp by 2 weft colours", "98.5", "−0.04",
                  "least_edge"):  # fmt: skip
        assert words in html
    assert html.count("2 rows") == 2  # twelve columns are two tables, the names in both
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(made.pdf())).pages)
    assert "<navy>" in text
    assert html.count("Two &lt;lots&gt;") == 1  # its title stands in it already
    gaps = pandas.DataFrame({"lot": ["one", "two"], "ends": pandas.array([4, None], "Int64")})
    gaps["lab"] = [np.array([52, -3, 4]), None]
    rows = (("one", "4", "[52 −3  4]"), ("two", "–", "–"))
    assert report("Gaps", [gaps]).parts[0].rows == rows
    ax.set_title("")
    with pytest.raises(ArgumentError, match=r"picture_of\(figure") as caught:
        report("Mine", [drawn])
    assert caught.value.argument == "content"
    assert str(report("Mine", [picture_of(drawn, "Lots", "two")])).endswith("0 tables, 1 pictures")


def test_a_figure_laid_out_by_nobody_keeps_its_labels():
    def drawn(**layout):
        figure = Figure(figsize=(4, 3), **layout)
        axes = figure.subplots()
        axes.barh(["Bay at Noon over Jug Blue, the longest name of all"], [1])
        return picture_of(figure, "a", "b")

    held, free = drawn(layout="constrained"), drawn()
    assert (held.width, held.height) == (384, 288)
    assert free.width > 500  # as wide as its longest name asks
    size = Image.open(io.BytesIO(free.png)).size
    assert size == pytest.approx((2 * free.width, 2 * free.height), abs=1)
