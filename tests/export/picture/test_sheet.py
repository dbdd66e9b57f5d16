"""The contact sheet, read back by Pillow."""

from __future__ import annotations

import io
import subprocess
import sys

import numpy as np
import pytest
from PIL import Image

from checkcloth import Check, Colourway, draw_colourways, read_palette, score
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.export.picture.lettering import BOLD, PLAIN, font_of, wrapped
from checkcloth.export.picture.sheet import _stripes_on_ground, contact_sheet, edge_line

COLOURWAYS = [
    Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], 0.5, name="Morning"),
    Colourway("black", ["gold"], 0.8, "woven", name='=cmd|" /C calc"!A0'),
    Colourway("white", ["navy", "teal", "tan"], name="<script>alert(1)</script>"),
]


def test_contact_sheet_shows_every_tone_of_every_colourway():
    sheet = contact_sheet(COLOURWAYS, Check("0.5 in", 2), title="Counter cloths")
    image = Image.open(io.BytesIO(sheet.png))
    assert image.info["dpi"][0] == pytest.approx(150, abs=0.02)
    assert image.size == pytest.approx((sheet.width * 150 / 96, sheet.height * 150 / 96), abs=1)
    seen = {tuple(colour) for _, colour in image.getcolors(1 << 20)}
    for colourway in COLOURWAYS:
        for tone in np.floor(colourway.tones.reshape(-1, 3) * 255 + 0.5).astype(int):
            assert tuple(tone.tolist()) in seen
    assert "Counter cloths" in sheet.title
    for colourway in COLOURWAYS:
        assert colourway.name in sheet.alt
    html = sheet._repr_html_()
    assert "<script>" not in html
    assert 'alt="Contact sheet' in html


def test_contact_sheet_says_the_least_of_each_difference():
    one = score(COLOURWAYS[0])
    parts = (one.ground_single, one.single_crossing)
    de = min(part.least_de2000 for part in parts)
    dl = min(part.least_dl for part in parts)
    ratio = min(part.least_ratio for part in parts)
    assert edge_line(COLOURWAYS[0]) == f"ΔE00 {de:.1f} · ΔL* {dl:.1f} · {ratio:.2f}:1"


def test_every_edge_counts_where_there_is_no_ground():
    """Stripe beside stripe: four crossings that touch, and nothing else."""
    lab = srgb_to_lab(COLOURWAYS[0].tones[1:, 1:])
    light, bare = lab[..., 0], Check("1 cm", 2, warp="1 A, 1 B")
    least = min(np.abs(np.diff(light, axis=axis)).min() for axis in (0, 1))
    assert f" · ΔL* {least:.1f} · " in edge_line(COLOURWAYS[0], bare)
    assert edge_line(COLOURWAYS[0], Check("1 cm", 2, warp="1 A")) == "one tone"


def test_contact_sheet_is_the_same_bytes_twice_and_refuses_nonsense():
    check = Check("0.5 in", 2)
    assert contact_sheet(COLOURWAYS, check).png == contact_sheet(COLOURWAYS, check).png
    for wrong in ([], "navy", [Colourway("white", ["red"]), "navy"]):
        with pytest.raises(ArgumentError, match=r"colourways|chosen"):
            contact_sheet(wrong, check)
    with pytest.raises(ArgumentError, match="check"):
        contact_sheet(COLOURWAYS)
    with pytest.raises(ArgumentError, match="columns"):
        contact_sheet(COLOURWAYS, check, columns=-1)
    with pytest.raises(ArgumentError, match="50 megapixels"):
        contact_sheet(COLOURWAYS * 60, check, swatch="400 mm")
    with pytest.raises(ArgumentError, match="swatch"):
        contact_sheet(COLOURWAYS, check, swatch="1 mm")


def test_one_and_many_stripes_fit_on_one_sheet():
    palette = read_palette("palettes/tea-table.csv")
    many = [*draw_colourways(palette, 8, 5), *draw_colourways(palette, 1, 2)]
    assert contact_sheet(many, Check("1/4 in", 8)).width > 400


def test_drawing_a_sheet_does_not_load_matplotlib():
    code = (
        "import sys; from checkcloth import Check, Colourway\n"
        "from checkcloth.export.picture.sheet import contact_sheet\n"
        "assert 'PIL' not in sys.modules\n"
        "contact_sheet(Colourway('white', ['navy']), Check('1 in', 1))\n"
        "assert 'matplotlib' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_the_sheet_says_its_scale_and_cuts_no_name():
    """Two repeats of 2 in (2 × 0.5 in × 2) over the pixels of a cloth, by plain arithmetic."""
    name = "Cornflower Verge beside the tea rooms at the halt"
    long = [COLOURWAYS[0].with_(name=name), COLOURWAYS[0].with_(name="Short")]
    sheet = contact_sheet(long, Check("0.5 in", 2), columns=2)
    wide = wrapped(name, font_of(BOLD, 17).getlength, 240, 4)
    assert len(wide) == 3
    assert " ".join(wide) == name
    assert all(font_of(BOLD, 17).getlength(line) <= 240 for line in wide)
    said = f"drawn at {240 / 600 * 100:.3g} % of true size where it is printed at 150 dpi"
    assert said in sheet.alt
    lower = contact_sheet(long[1:], Check("0.5 in", 2), columns=1)
    assert sheet.height - lower.height == round(2 * 19 * 96 / 150)


def test_a_per_cent_sign_stays_with_its_number():
    """However narrow the swatch: a line that begins with % says nothing."""
    words = _stripes_on_ground(COLOURWAYS[2].with_(strength=0.55))
    for room in range(60, 400, 7):
        lines = wrapped(words, font_of(PLAIN, 14).getlength, room, 12)
        assert not any(line.startswith("%") for line in lines), (room, lines)
