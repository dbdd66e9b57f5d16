"""CxF3 files (ISO 17972) are read as laboratories write them, and damaged ones are refused."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest

from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spectra.cxf import MOST_BYTES, read_cxf
from checkcloth.colour.spectra.lights import spectral_lab
from checkcloth.colour.spectra.reading import read_spectra
from checkcloth.errors import FileFormatError, MissingPackageError
from checkcloth.quality import read_readings

colour_cxf = pytest.importorskip("colour_cxf")  # not for Python 3.14 yet

SPECTRUM = " ".join(["0.25"] * 36)
OBJECT = """<cc:Object ObjectType="Target" Name="{name}" Id="{name}"><cc:ColorValues>
<cc:ColorCIELab ColorSpecification="M1"><cc:L>57</cc:L><cc:A>1.5</cc:A><cc:B>-2</cc:B>
</cc:ColorCIELab>
<cc:ReflectanceSpectrum StartWL="380" ColorSpecification="M1">{spectrum}</cc:ReflectanceSpectrum>
</cc:ColorValues></cc:Object>
"""
DOCUMENT = """<?xml version="1.0" encoding="UTF-8"?>
<cc:CxF xmlns:cc="http://colorexchangeformat.com/CxF3-core">
<cc:FileInformation><cc:Creator>Quillhaven Halt</cc:Creator></cc:FileInformation>
<cc:Resources><cc:ObjectCollection>
{objects}</cc:ObjectCollection>
<cc:ColorSpecificationCollection><cc:ColorSpecification Id="M1">
<cc:TristimulusSpec><cc:Illuminant>D65</cc:Illuminant><cc:Observer>10_Degree</cc:Observer>
<cc:Method>E308_Table5</cc:Method></cc:TristimulusSpec>
<cc:MeasurementSpec><cc:MeasurementType>Spectrum_Reflectance</cc:MeasurementType>
<cc:GeometryChoice><cc:Sphere><cc:SphereConfiguration>d8</cc:SphereConfiguration></cc:Sphere>
</cc:GeometryChoice><cc:WavelengthRange StartWL="380" Increment="10"/></cc:MeasurementSpec>
</cc:ColorSpecification></cc:ColorSpecificationCollection></cc:Resources></cc:CxF>
"""


def document(*patches: tuple[str, str]) -> str:
    objects = "".join(OBJECT.format(name=name, spectrum=spectrum) for name, spectrum in patches)
    return DOCUMENT.format(objects=objects)


SEA = document(("Sea", SPECTRUM))


def write(tmp_path, text, name="a.cxf"):
    path = tmp_path / name
    path.write_text(text, "utf-8")
    return path


def test_the_librarys_own_sample(tmp_path):
    """144 objects whose Lab (D50, 2°) stands beside their spectra: the two must agree."""
    sample = files("colour_cxf") / "tests" / "resources" / "sample.cxf"
    if not sample.is_file():
        pytest.skip("this colour-cxf comes without its sample")
    path = tmp_path / "sample.cxf"
    path.write_bytes(sample.read_bytes())
    spectra, readings = read_spectra(path), read_readings(path)
    assert len(spectra) == len(readings) == 144
    assert readings.conditions == "D50/2°"
    stated = np.array([reading.lab for reading in readings.readings])
    ours = spectral_lab(np.array([spectra[one.tone] for one in readings.readings]), "D50", 2)
    off = delta_e_2000(ours, stated)
    assert off.max() < 0.2  # bands end at 680 nm, and their Lab is by a table of 10 nm
    assert off.mean() < 0.08
    lines = path.read_text("utf-8").splitlines()
    assert all("<cc:Object " in lines[reading.line - 1] for reading in readings.readings)


def test_names_conditions_and_bands(tmp_path):
    path = write(tmp_path, SEA, "a.xml")  # known by what it holds
    assert read_spectra(path)["Sea"] == pytest.approx(0.25)
    (one,) = read_readings(path).readings
    assert (one.tone, one.lab, one.line) == ("Sea", (57.0, 1.5, -2.0), 5)
    assert read_readings(path).conditions == "D65/10°"


def test_two_readings_of_a_patch(tmp_path):
    near = document(("Sea", SPECTRUM), ("Sea", SPECTRUM.replace("0.25", "0.26")))
    assert read_spectra(write(tmp_path, near))["Sea"] == pytest.approx(0.255)
    far = document(("Sea", SPECTRUM), ("Sea", SPECTRUM.replace("0.25", "0.45")))
    with pytest.raises(FileFormatError, match=r"line 10: reading of 'Sea' .* on line 5, found"):
        read_spectra(write(tmp_path, far))


def test_per_cents_are_read_as_such(tmp_path):
    path = write(tmp_path, SEA.replace("0.25", "25"))
    with pytest.raises(FileFormatError, match=r"line 5: values .*per cent\? per_cent=True"):
        read_spectra(path)
    assert read_spectra(path, per_cent=True)["Sea"] == pytest.approx(0.25)


def test_of_several_measuring_modes_one_is_named(tmp_path):
    at = SEA.index("<cc:ReflectanceSpectrum")
    more = SEA[at : SEA.index("</cc:ColorValues>")].replace("M1", "M0").replace("0.25", "0.35")
    specification = SEA[
        SEA.index("<cc:ColorSpecification Id") : SEA.index("</cc:ColorSpecificationC")
    ]
    text = (SEA[:at] + more + SEA[at:]).replace(
        specification, specification + specification.replace('"M1"', '"M0"')
    )
    path = write(tmp_path, text)
    with pytest.raises(FileFormatError, match="those of M0, M1"):
        read_spectra(path)
    assert read_spectra(path, specification="M0")["Sea"] == pytest.approx(0.35)


ENTITIES = '?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">]>'
FOREIGN = '?><!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]>'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("<a/>", "objects"),
        (SEA[:700], "line .*well-formed"),
        (SEA.replace("?>", ENTITIES, 1).replace("Quillhaven", "&a;"), "line 1.*document type"),
        (SEA.replace("?>", FOREIGN, 1).replace("Quillhaven", "&a;"), "line 1.*document type"),
        (SEA.replace("0.25", "zz", 1), "line 5: ReflectanceSpectrum .*numbers"),
        (SEA.replace("0.25", "NaN", 1), "line 5: ReflectanceSpectrum .*numbers"),
        (SEA.replace("0.25", "-0.02", 1), "line 5: values .*0 to 2"),
        (SEA.replace(SPECTRUM, "0.25 0.25"), "line 5: wavelengths"),
        (SEA.replace('Increment="10"', 'Increment="40"'), "line 5: wavelengths"),
        (SEA.replace(' Increment="10"', ""), "line 5: WavelengthRange .*None"),
        (SEA.replace("<cc:L>57", "<cc:L>dark"), "line 5: l .*'dark'"),
        (SEA.replace("ReflectanceSpectrum", "TransmittanceSpectrum"), "one or more"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said(tmp_path, text, said):
    with pytest.raises(FileFormatError, match=said):
        read_spectra(write(tmp_path, text))


def test_a_document_type_is_seen_in_any_encoding(tmp_path):
    path = tmp_path / "a.cxf"
    text = SEA.replace("UTF-8", "UTF-16").replace("?>", ENTITIES, 1)
    path.write_bytes(text.encode("utf-16"))
    with pytest.raises(FileFormatError, match="document type"):
        read_cxf(path)


def test_illuminants_that_the_kit_has_not_are_said(tmp_path):
    path = write(tmp_path, SEA.replace(">D65<", ">TL84<"))
    with pytest.raises(FileFormatError, match=r"line 5: illuminant .*'TL84'"):
        read_readings(path)
    assert read_spectra(path)["Sea"] == pytest.approx(0.25)  # a reflectance has no light


def test_a_file_over_the_size_is_refused_unread(tmp_path):
    path = tmp_path / "a.cxf"
    with path.open("wb") as stream:
        stream.truncate(MOST_BYTES + 1)
    with pytest.raises(FileFormatError, match=f"at most {MOST_BYTES} bytes"):
        read_cxf(path)


def test_without_the_package_the_line_to_type_is_said(tmp_path, monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "colour_cxf", None)
    with pytest.raises(MissingPackageError, match=r"checkcloth\[cxf\]"):
        read_spectra(write(tmp_path, SEA))
