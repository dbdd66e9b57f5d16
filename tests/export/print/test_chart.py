"""The chart's films: what is black on them is what the blank file says."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from checkcloth.colour.print_condition import chart_patches
from checkcloth.errors import ArgumentError, ExistsError
from checkcloth.export.print.chart import write_chart
from checkcloth.files.cgats import read_cgats


def test_films_carry_the_tone_values_of_the_file(tmp_path):
    inks = ["brick", "sage", "café ½"]
    *films, readings = write_chart(inks, tmp_path, 100)
    table = read_cgats(readings)[0]
    assert [table.keywords[f"INK_{k}"] for k in (1, 2, 3)] == inks
    patches = chart_patches(3)
    patch, strip, margin = (round(mm * 100 / 25.4) for mm in (12, 4, 15))
    for ink, film in enumerate(films):
        image = Image.open(io.BytesIO(film.read_bytes()))
        assert image.info["dpi"] == pytest.approx((100, 100), abs=0.01)
        pixels = np.asarray(image.convert("L"))
        written = table.numbers(f"3CLR_{ink + 1}")
        for number, row in enumerate(patches):
            line, at = divmod(number, 8)
            y = margin + line * (strip + patch) + strip + patch // 2
            read = 1 - pixels[y, margin + at * patch + patch // 2] / 255
            assert read == pytest.approx(row[ink], abs=1 / 255)
            assert written[number] == pytest.approx(100 * row[ink])


def test_nothing_is_written_over(tmp_path):
    (tmp_path / "chart-readings.txt").write_text("mine")
    with pytest.raises(ExistsError):
        write_chart(["brick"], tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["chart-readings.txt"]
    write_chart(["brick"], tmp_path, overwrite=True)
    assert (tmp_path / "chart-readings.txt").read_text("utf-8").startswith("CGATS.17")


@pytest.mark.parametrize(
    ("inks", "dpi", "argument"),
    [([], 300, "inks"), (["a", "a"], 300, "inks"), ([""], 300, "inks"), (["a"] * 9, 300, "inks"),
     (["a"], 10, "dpi"), ("brick", 300, "inks"), ([3], 300, "inks")],
)  # fmt: skip
def test_bad_input(tmp_path, inks, dpi, argument):
    with pytest.raises(ArgumentError) as error:
        write_chart(inks, tmp_path, dpi)
    assert error.value.argument == argument
    assert not [*tmp_path.iterdir()]
