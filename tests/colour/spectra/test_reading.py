"""Reflectances as laboratories write them, and what is wrong with them otherwise."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth.colour.spectra.reading import read_spectra
from checkcloth.errors import FileFormatError
from checkcloth.files.cgats import cgats_text
from checkcloth.quality import read_readings, readings_from_spectra

BANDS = range(400, 701, 20)


def table(columns, rows, mark=","):
    return "\n".join(mark.join(map(str, row)) for row in [columns, *rows]) + "\n"


@pytest.mark.parametrize("form", ["R{}", "nm{}", "SPECTRAL_NM{}", "SPECTRAL_NM_{}", "{}", "{} nm"])
def test_columns_by_wavelength(tmp_path, form):
    path = tmp_path / "a.csv"
    values = [round(0.1 + 0.01 * k, 2) for k in range(16)]
    path.write_text(
        table(["name", *(form.format(nm) for nm in BANDS)], [["Sea", *values]]), "utf-8"
    )
    found = read_spectra(path)["Sea"]
    assert found[[2, 4, 6]] == pytest.approx(values[:3], abs=1e-12)  # 400, 420, 440 nm


def test_cgats_decimal_commas_per_cents_and_two_readings(tmp_path):
    path = tmp_path / "a.txt"
    fields = ["SAMPLE_ID", "SAMPLE_NAME", *(f"SPECTRAL_NM{nm}" for nm in range(380, 731, 10))]
    rows = [[1, "Sea", *[20.0] * 36], [2, "Sea", *[21.0] * 36], [3, "Moss", *[12.5] * 36]]
    path.write_text(cgats_text(fields, rows).replace("12.5", "12,5"), "utf-8")
    found = read_spectra(path, per_cent=True)
    assert found["Sea"] == pytest.approx(0.205)
    assert found["Moss"] == pytest.approx(0.125)
    with pytest.raises(FileFormatError, match=r"a\.txt, line 8: values .*per cent"):
        read_spectra(path)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "names and columns such as R400"),
        ("name,colour\nSea,#fff\n", "R400"),
        (table([*(f"R{nm}" for nm in BANDS)], [[0.1] * 16]), "no name"),
        (table(["name", *(f"R{nm}" for nm in BANDS)], [["Sea", *[0.1] * 15]]), "line 2"),
        (table(["name", *(f"R{nm}" for nm in BANDS)], [["Sea", *[-0.1] * 16]]), "line 2.*0 to 2"),
        (table(["name", *(f"R{nm}" for nm in BANDS)], [["", *[0.1] * 16]]), "a name"),
        (table(["name", *(f"R{nm}" for nm in BANDS)], [["Sea", *["x"] * 16]]), "line 2"),
        (table(["name", *(f"R{nm}" for nm in BANDS)], []), "one or more"),
        (table(["name", *(f"R{nm}" for nm in BANDS)], [["Sea", *[0.2] * 16], ["Sea", *[0.3] * 16]]),
         "line 3: reading of 'Sea' .*ΔE00 3 of that on line 2"),
        (table(["name", *(f"R{nm}" for nm in range(400, 701, 50))], [["Sea", *[0.1] * 7]]), "even"),
        (table(["nm", "Sea"], [[nm, 0.1] for nm in [*BANDS[:-1], "L*"]]), "line 17: nm .* as 400"),
        (table(["nm", "Sea"], [[nm, "x"] for nm in BANDS]), "line 2: sea"),
        (table(["nm"], [[nm] for nm in BANDS]), "under “nm”"),
        (table(["name", "R400", "nm400", *(f"R{nm}" for nm in range(420, 701, 20))],
               [["Sea", *[0.1] * 17]]), "R400"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said(tmp_path, text, said):
    path = tmp_path / "a.csv"
    path.write_text(text, "utf-8")
    with pytest.raises(FileFormatError, match=said):
        read_spectra(path)


def test_what_is_read_is_written_in_the_bands(tmp_path):
    path = tmp_path / "a.csv"
    rng = np.random.default_rng(3)
    values = rng.random(36).round(4)
    columns = ["name", *(f"R{nm}" for nm in range(380, 731, 10))]
    path.write_text(table(columns, [["Sea", *values]], ";"), "utf-8")
    assert read_spectra(path)["Sea"] == pytest.approx(values, abs=1e-12)


@pytest.mark.parametrize("head", ["Farbton", "Sample", "tone name"])
def test_a_table_is_read_under_titles_and_another_word_for_names(tmp_path, head):
    columns = ";".join([head, *(f"{nm} nm" for nm in range(400, 701, 10))])
    titles = "Exported for Halt linen;;\nDate;27.11.2026\n\n"
    path = tmp_path / "s.csv"
    path.write_text(f"{titles}{columns}\nMöwe" + ";0,25" * 31, "utf-8")
    assert np.allclose(read_spectra(path)["Möwe"], 0.25)
    path.write_text(f"{titles}Nr;{columns}\n1;Möwe" + ";0,25" * 31, "utf-8")
    if head == "Farbton":
        with pytest.raises(FileFormatError, match="no name among nr, farbton") as caught:
            read_spectra(path)
        assert caught.value.line == 4
    else:
        assert [*read_spectra(path)] == ["Möwe"]


def test_fractions_read_as_per_cents_and_the_reverse_are_refused(tmp_path):
    path = tmp_path / "s.csv"

    def written(*rows):
        path.write_text(table(["name", *(f"R{nm}" for nm in BANDS)], rows), "utf-8")
        return path

    written(["Sea", *[0.3] * 16], ["Chalk", *[0.95] * 15, 1.02])
    with pytest.raises(FileFormatError, match=r"nothing above 1\.02; fractions\?") as caught:
        read_spectra(path, per_cent=True)
    assert (caught.value.argument, caught.value.source) == ("values", "s.csv")
    with pytest.raises(FileFormatError, match="leave per_cent out"):
        readings_from_spectra(path, per_cent=True)
    # Blacks alone: as fractions more light than falls on them, at every wavelength.
    written(["Pitch", *[1.5] * 16])
    with pytest.raises(FileFormatError, match=r"line 2: .* per_cent=True reads them"):
        read_spectra(path)
    assert read_spectra(path, per_cent=True)["Pitch"] == pytest.approx(0.015)
    # A black among others, none at all, and a white that glows stay what they are.
    written(["Pitch", *[0.4] * 16], ["Sea", *[30] * 16], ["Void", *[0] * 16])
    assert read_spectra(path, per_cent=True)["Pitch"] == pytest.approx(0.004)
    assert read_spectra(written(["Void", *[0] * 16]), per_cent=True)["Void"].max() == 0
    assert read_spectra(written(["Glow", 0.4, *[1.4] * 15]))["Glow"].max() > 1.39


def test_reflectances_where_readings_are_wanted_say_what_reads_them(tmp_path):
    path = tmp_path / "s.csv"
    path.write_text(
        ",".join(["tone", *(f"R{nm}" for nm in range(400, 701, 10))]) + "\nwhite" + ",1" * 31
    )
    with pytest.raises(FileFormatError, match="readings_from_spectra") as caught:
        read_readings(path)
    assert "20 more" in caught.value.rule


@pytest.mark.parametrize("head", ["nm", "Wavelength (nm)", "λ / nm", "Wellenlänge"])
def test_wavelengths_may_stand_one_under_another(tmp_path, head):
    """As instruments write them, here falling, with titles, decimal commas and in Windows-1252."""
    lines = ["Serie 12;;", f"{head};Löwenzahn;Rost"]
    lines += [f"{nm} nm;{nm / 10:.1f};{40 + nm / 100:.2f}".replace(".", ",") for nm in BANDS[::-1]]
    path, across = tmp_path / "down.csv", tmp_path / "across.csv"
    path.write_bytes("\r\n".join(lines).encode("utf-8" if "λ" in head else "cp1252"))
    across.write_text(table(["name", *BANDS], [["a", *[nm / 1000 for nm in BANDS]]]), "utf-8")
    found = read_spectra(path, per_cent=True)
    assert [*found] == ["Löwenzahn", "Rost"]
    assert found["Löwenzahn"] == pytest.approx(read_spectra(across)["a"])
