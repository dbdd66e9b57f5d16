"""Soft proofs, against a press whose gamut is known, and against LittleCMS step by step."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
import pytest
from icc_maker import HIGH, LOW, make_matrix_profile, make_press_profile
from PIL import Image, ImageCms

from checkcloth import Check, Colourway, delta_e_2000, srgb_to_lab
from checkcloth.cloth.bands import Band
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.export.print.press import INTENTS, open_press
from checkcloth.export.print.proof import soft_proof

# CMYK profiles of Debian's libgs-common; the tests that use them are passed over elsewhere.
GHOSTSCRIPT = Path("/usr/share/color/icc/ghostscript")
DEBIAN = GHOSTSCRIPT / "default_cmyk.icc"


@pytest.fixture(scope="module")
def cmyk(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("icc") / "press.icc"
    path.write_bytes(make_press_profile())
    return path


@pytest.fixture(scope="module")
def rgb(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("icc") / "screen.icc"
    path.write_bytes(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    return path


def test_bytes_do_as_well_as_their_file(cmyk):
    assert open_press(cmyk.read_bytes()) == open_press(cmyk)
    with pytest.raises(FileFormatError, match=r"^profile: press must be"):
        open_press(b"halt")


def test_an_absolute_intent_has_no_black_point_compensation(cmyk):
    """LittleCMS compensates in none (its manual, from memory), and none is claimed."""
    press = open_press(cmyk, "absolute colorimetric", black_point=True)
    assert press == open_press(cmyk, "absolute colorimetric", black_point=False)
    assert str(press) == "Imaginary press for tests (CMYK), absolute colorimetric"
    assert str(open_press(cmyk)).endswith("relative colorimetric, with black-point compensation")


def test_what_the_press_can_print_stays_and_what_it_cannot_is_named(cmyk):
    # The imaginary press prints sRGB from 0.25 to 0.92 in each channel, and no farther.
    inside = Colourway("rgb(224 220 214)", ["rgb(150 110 90)", "rgb(100 120 160)"], 1.0)
    press = open_press(cmyk, black_point=False)
    assert (press.space, press.name) == ("CMYK", "Imaginary press for tests")
    proof = soft_proof(inside, press)
    # Interpolation in its 8-bit tables blurs by a few units; the colours stay.
    assert proof.shift.max() < 4
    assert proof.named_outside == []
    vivid = soft_proof(Colourway("rgb(224 220 214)", ["#ff0000", "#0000ff"], 1.0), press)
    assert "#ff0000 on rgb(224 220 214)" in vivid.named_outside
    assert "#0000ff over #ff0000" in vivid.named_outside
    assert "rgb(224 220 214)" not in vivid.named_outside
    assert vivid.shift[1, 0] > 8
    assert "out of gamut" in vivid.csv()


@pytest.mark.parametrize("make", [make_press_profile, make_matrix_profile])
def test_ink_amounts_are_those_of_the_profile(make):
    colourway = Colourway("rgb(224 220 214)", ["rgb(150 110 90)"], 1.0)
    proof = soft_proof(colourway, open_press(make(), black_point=False))
    assert proof.shift.max() < 4
    wanted = 1 - (colourway.tones - LOW) / (HIGH - LOW)
    np.testing.assert_allclose(proof.inks[..., :3], wanted * 100, atol=4)
    np.testing.assert_allclose(proof.inks[..., 3], 0, atol=1)


def test_the_screen_as_press_changes_nothing(rgb):
    press = open_press(rgb)
    assert press.space == "RGB"
    proof = soft_proof(Colourway("white", ["#a62a3c", "gold", "#123456"], 0.6), press)
    assert proof.shift.max() < 1.0
    assert np.abs(proof.tones - proof.colourway.tones).max() <= 1.6 / 255
    assert not proof.outside.any()
    assert proof.inks.shape == (4, 4, 3)


@pytest.mark.parametrize("intent", INTENTS)
def test_every_intent_proofs(cmyk, intent):
    proof = soft_proof(Colourway("white", ["red"]), open_press(cmyk, intent))
    assert proof.tones.shape == (2, 2, 3)
    assert intent in str(proof.press)
    assert (proof.shift >= 0).all()


@pytest.mark.skipif(not DEBIAN.is_file(), reason="libgs-common has the profile")
def test_a_proof_is_the_way_to_the_press_and_back():
    colourway = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0", "#00ff40"], 0.8)
    proof = soft_proof(colourway, open_press(DEBIAN))
    screen = ImageCms.createProfile("sRGB")
    press = ImageCms.getOpenProfile(str(DEBIAN))
    flat = np.floor(colourway.tones.reshape(1, -1, 3) * 255 + 0.5).astype(np.uint8)
    bpc = ImageCms.Flags.BLACKPOINTCOMPENSATION
    relative = ImageCms.Intent.RELATIVE_COLORIMETRIC
    to = ImageCms.buildTransform(screen, press, "RGB", "CMYK", relative, flags=bpc)
    back = ImageCms.buildTransform(press, screen, "CMYK", "RGB", relative)
    inks = ImageCms.applyTransform(Image.fromarray(flat), to)
    np.testing.assert_allclose(
        proof.inks.reshape(-1, 4), np.asarray(inks).reshape(-1, 4) / 2.55, atol=0.01
    )
    seen = np.asarray(ImageCms.applyTransform(inks, back)).reshape(4, 4, 3) / 255
    # The proof goes through in one pass, this in two with inks of 8 bits between.
    assert delta_e_2000(srgb_to_lab(seen), srgb_to_lab(proof.tones)).max() < 1.5
    assert any("#00ff40" in name for name in proof.named_outside)


def test_a_profile_that_cannot_be_written_again_still_proofs():
    raw = make_matrix_profile()
    press = ImageCms.ImageCmsProfile(io.BytesIO(raw))
    ImageCms.buildTransform(ImageCms.createProfile("sRGB"), press, "RGB", "CMYK")
    with pytest.raises(OSError, match="profile size"):  # else this profile proves nothing
        press.tobytes()
    for intent in INTENTS:
        assert soft_proof(Colourway("white", ["navy"]), open_press(raw, intent)).inks.shape[-1] == 4


@pytest.mark.skipif(not DEBIAN.is_file(), reason="libgs-common has the profiles")
@pytest.mark.parametrize("intent", INTENTS)
@pytest.mark.parametrize("name", ["ps_cmyk.icc", "gray_to_k.icc"])
def test_real_profiles_that_cannot_be_written_again_still_proof(name, intent):
    proof = soft_proof(Colourway("white", ["black"], 1.0), open_press(GHOSTSCRIPT / name, intent))
    np.testing.assert_allclose(proof.inks[0, 0], 0, atol=1)  # white takes no ink
    assert proof.inks[1, 1].max() > 95


def test_the_picture_follows_uneven_bands(cmyk):
    warp = (Band(1, 3), Band(0, 1))
    weft = (Band(1, 1), Band(0, 1), Band(1, 2), Band(0, 4))
    proof = soft_proof(Colourway("white", ["navy"]), open_press(cmyk))
    check = Check("1 cm", 1, warp=warp, weft=weft)
    pixels = np.asarray(Image.open(io.BytesIO(proof.picture(check=check).png)))
    half = (pixels.shape[1] - 24) // 2
    for tones, cloth in (
        (proof.colourway.tones, pixels[:, :half]), (proof.tones, pixels[:, -half:]),
    ):  # fmt: skip
        mean = sum(tones[w.stripe, f.stripe] * w.checks * f.checks for w in warp for f in weft) / (
            4 * 8
        )
        np.testing.assert_allclose(cloth.mean(axis=(0, 1)) / 255, mean, atol=0.5 / 255)


def test_the_table_and_the_picture_show_it(cmyk):
    colourway = Colourway("white", ["=red"[1:], "navy"], name="Quay")
    proof = soft_proof(colourway, open_press(cmyk))
    rows = list(csv.DictReader(io.StringIO(proof.csv(), newline="")))
    assert len(rows) == 9
    assert {"cyan %", "magenta %", "yellow %", "black %", "shift ΔE00"} <= set(rows[0])
    for row in rows:
        shift = proof.shift[int(row["warp"]), int(row["weft"])]
        assert float(row["shift ΔE00"]) == pytest.approx(shift, abs=0.006)
    picture = proof.picture()
    pixels = np.asarray(Image.open(io.BytesIO(picture.png)).convert("RGB"))
    half = (pixels.shape[1] - 24) // 2
    designed = {tuple(p) for p in pixels[:, :half].reshape(-1, 3).tolist()}
    printed = {tuple(p) for p in pixels[:, -half:].reshape(-1, 3).tolist()}
    assert designed == {tuple(t) for t in np.floor(colourway.tones * 255 + 0.5).reshape(-1, 3)}
    assert printed == {tuple(t) for t in np.round(proof.tones * 255).reshape(-1, 3)}
    assert "Designed, left" in proof._repr_html_()


def _changed(path: Path, offset: int, value: bytes) -> bytes:
    raw = bytearray(path.read_bytes())
    raw[offset : offset + len(value)] = value
    return bytes(raw)


@pytest.mark.parametrize(
    ("make", "argument"),
    [
        (lambda path: b"", "press"),
        (lambda path: b"not a profile" * 99, "press"),
        (lambda path: path.read_bytes()[:200], "press"),
        (lambda path: _changed(path, 8, b"\x05"), "ICC version"),
        (lambda path: _changed(path, 16, b"GRAY"), "colour space"),
        (lambda path: _changed(path, 16, b"Lab "), "colour space"),
        (lambda path: _changed(path, 128, b"\0\0\0\0"), "press"),
    ],
)
def test_what_is_no_press_profile_is_refused(cmyk, tmp_path, make, argument):
    path = tmp_path / "odd.icc"
    path.write_bytes(make(cmyk))
    with pytest.raises(FileFormatError) as caught:
        open_press(path)
    assert (caught.value.argument, caught.value.source) == (argument, "odd.icc")


def test_wrong_arguments_are_named(cmyk, tmp_path):
    with pytest.raises(ArgumentError) as caught:
        open_press(cmyk, "vivid")
    assert caught.value.argument == "intent"
    with pytest.raises(ArgumentError) as caught:
        soft_proof(Colourway("white", ["red"]), cmyk)
    assert caught.value.argument == "press"
    with pytest.raises(FileFormatError):
        open_press(tmp_path)
    with pytest.raises(FileNotFoundError):
        open_press(tmp_path / "missing.icc")
