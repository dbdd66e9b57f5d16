"""The palette files that ship with the project, read with nothing but csv and coloraide.

CIEDE2000 and Lab come from coloraide (D65, 2° observer: ``lab-d65``). The distances asked for
are our own house rule for gingham that reads clearly; there is no published source for them.
"""

import csv
import itertools
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from coloraide import Color

FOLDER = Path(__file__).resolve().parents[2] / "palettes"
FILES = sorted(FOLDER.glob("*.csv"))
FAILING = "fog-signal-fails"
SOUND = [path for path in FILES if path.stem != FAILING]

GROUND_DELTA_E = 12.0
GROUND_DELTA_L = 10.0
STRIPE_DELTA_E = 4.0


@dataclass(frozen=True)
class Row:
    """One line of a palette file."""

    name: str
    text: str
    role: str
    note: str

    @property
    def colour(self) -> Color:
        return Color(self.text)

    @property
    def lab(self) -> Color:
        return self.colour.convert("lab-d65")


def load(path: Path) -> list[Row]:
    with path.open(encoding="utf-8", newline="") as stream:
        header, *lines = csv.reader(stream, strict=True)
    assert header == ["name", "colour", "role", "note"]
    assert all(len(line) == 4 for line in lines), "a stray comma"
    return [Row(*line) for line in lines]


def grounds(rows: list[Row]) -> list[Row]:
    return [row for row in rows if row.role == "ground"]


def stripes(rows: list[Row]) -> list[Row]:
    """Every colour that may be chosen as a stripe: a colour without a role may be."""
    return [row for row in rows if row.role != "ground"]


def delta_e(one: Row, two: Row) -> float:
    return float(one.lab.delta_e(two.lab, method="2000", space="lab-d65"))


def delta_l(one: Row, two: Row) -> float:
    return abs(float(one.lab["l"]) - float(two.lab["l"]))


def by_stem(path: Path) -> str:
    return path.stem


each = pytest.mark.parametrize("path", FILES, ids=by_stem)
each_sound = pytest.mark.parametrize("path", SOUND, ids=by_stem)


def test_the_set_is_whole() -> None:
    assert len(FILES) == 12
    assert len(SOUND) == 11
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", path.stem) for path in FILES)


@each
def test_file_is_plain_utf8_text(path: Path) -> None:
    data = path.read_bytes()
    assert not data.startswith(b"\xef\xbb\xbf")
    assert b"\r" not in data
    assert data.endswith(b"\n")


@each
def test_counts_and_roles(path: Path) -> None:
    rows = load(path)
    assert 6 <= len(rows) <= 24
    assert {row.role for row in rows} <= {"ground", "stripe", ""}
    assert 1 <= len(grounds(rows)) <= 3
    assert sum(row.role == "stripe" for row in rows) >= 5


@each
def test_names_are_unique_and_tidy(path: Path) -> None:
    rows = load(path)
    assert len({row.name.casefold() for row in rows}) == len(rows)
    for row in rows:
        assert row.name
        for field in (row.name, row.text, row.note):
            assert field == field.strip()
            # A spreadsheet would run these as a formula.
            assert not field.startswith(("=", "+", "-", "@"))


@each
def test_colours_are_opaque_and_inside_srgb(path: Path) -> None:
    for row in load(path):
        assert row.colour.alpha() == 1, row.name
        assert row.colour.in_gamut("srgb", tolerance=0), row.name


@each_sound
def test_every_stripe_stands_clear_of_every_ground(path: Path) -> None:
    rows = load(path)
    pairs = list(itertools.product(grounds(rows), stripes(rows)))
    near = [(g.name, s.name, delta_e(g, s)) for g, s in pairs if delta_e(g, s) < GROUND_DELTA_E]
    assert near == []
    clear = sum(delta_l(g, s) >= GROUND_DELTA_L for g, s in pairs)
    assert clear / len(pairs) >= 0.9


@each_sound
def test_no_two_stripes_are_alike(path: Path) -> None:
    pairs = itertools.combinations(stripes(load(path)), 2)
    near = [(a.name, b.name, delta_e(a, b)) for a, b in pairs if delta_e(a, b) < STRIPE_DELTA_E]
    assert near == []


def test_the_failing_palette_fails_and_says_so() -> None:
    rows = load(FOLDER / f"{FAILING}.csv")
    assert "fails" in FAILING
    assert all("fails" in row.note.casefold() for row in rows)
    for ground, stripe in itertools.product(grounds(rows), stripes(rows)):
        assert delta_l(ground, stripe) < 5
        assert delta_e(ground, stripe) < GROUND_DELTA_E
        # WCAG 2.1 contrast ratio; 1 is no contrast at all. The limit is our own.
        assert ground.colour.contrast(stripe.colour, method="wcag21") < 1.2


def test_only_the_failing_palette_says_that_it_fails() -> None:
    for path in SOUND:
        assert "fail" not in path.stem
        assert not any("fail" in row.note.casefold() for row in load(path))


def test_light_dark_and_mixed_grounds_are_all_there() -> None:
    lightness = {path.stem: [float(row.lab["l"]) for row in grounds(load(path))] for path in SOUND}
    assert [s for s, ls in lightness.items() if max(ls) < 20] == ["staff-scarves", "winter-supper"]
    assert [s for s, ls in lightness.items() if min(ls) < 20 and max(ls) > 80] == [
        "deck-chair-canvas",
        "harvest-stall",
    ]
    assert sum(min(ls) > 80 for ls in lightness.values()) == 7


def chromas(name: str) -> list[float]:
    rows = stripes(load(FOLDER / f"{name}.csv"))
    return [float(row.colour.convert("lch-d65")["chroma"]) for row in rows]


def test_kinds_of_palette() -> None:
    assert max(chromas("night-train-bedding")) < 10, "near-greys"
    assert min(chromas("childrens-corner")) > 35, "brights"
    # Oklch here: the CIELAB hue of one and the same blue drifts as it darkens.
    blues = [row.colour.convert("oklch") for row in stripes(load(FOLDER / "tea-towels.csv"))]
    hues = [float(blue["hue"]) for blue in blues]
    assert max(hues) - min(hues) < 10, "one hue"
    pastels = [r for r in load(FOLDER / "anniversary.csv") if r.role == "stripe"]
    assert min(float(r.lab["l"]) for r in pastels) > 65, "pastels"
    assert len(load(FOLDER / "harvest-stall.csv")) == 24, "the big palette for searching"


def test_readers_are_given_something_to_read() -> None:
    rows = [row for path in FILES for row in load(path)]
    kinds = {re.split(r"[( #]", row.text)[0] for row in rows}
    assert kinds == {"", "rgb", "hsl", "lab", "oklch", "color", "hotpink"}
    assert [row.name for row in rows if "," in row.name] == ["Thyme, Dried"]
    assert [row.name for row in rows if not row.name.isascii()] == ["Crème Caramel"]
    assert {bool(row.note) for row in rows} == {True, False}
    assert "" in {row.role for row in rows}
