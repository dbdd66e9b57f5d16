"""Tones as CGATS.17 text, which instruments and laboratories read: wanted, or to be filled."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checkcloth.arguments import Floats, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.spectral import measured_spectra
from checkcloth.colour.cie1931 import WAVELENGTHS
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.export.members import Colourways, as_set, label_of
from checkcloth.files.cgats import cgats_text

# The light and observer of the Lab that stands there.
_CONDITIONS = {"ILLUMINANT": "D65", "OBSERVER": "2"}
_LAB = ("LAB_L", "LAB_A", "LAB_B")


def tones_cgats(colourways: Colourways, check: Check | None = None) -> str:
    """Return every tone of every colourway as CGATS.17 text: sRGB, and Lab under D65, 2°.

    Where all colours of all colourways carry measured reflectances, those of the tones follow
    (``SPECTRAL_NM380`` …, as fractions), and the text says so.

    Several colourways are told apart by the part of ``SAMPLE_NAME`` before its colon; the tones
    of one read back as readings of its strike-off.

    Examples
    --------
    >>> quay = Colourway("white", ["navy"], name="Quay")
    >>> print(tones_cgats(quay, Check("1 in", 1)).splitlines()[12])
    1 "white" 255 255 255 100 0 0
    """
    chosen = as_set(colourways, check)
    fields = ["SAMPLE_ID", "SAMPLE_NAME", "RGB_R", "RGB_G", "RGB_B", *_LAB]
    found = [measured_spectra(one) for one in chosen]
    every = all(one is not None for one in found)
    spectra = found if every else [None] * len(found)
    rows = [
        row
        for index, (one, bands) in enumerate(zip(chosen, spectra, strict=True))
        for row in _rows(one, index, len(chosen) > 1, bands)
    ]
    numbered = ([number, *row] for number, row in enumerate(rows, start=1))
    title = {"DESCRIPTOR": f"tones wanted: {chosen.name or 'a range'}"}
    if every:
        fields += [f"SPECTRAL_NM{nm:.0f}" for nm in WAVELENGTHS]
        title["SPECTRA"] = "mixed of measured reflectances"
    return cgats_text(fields, numbered, title | _CONDITIONS)


def _rows(
    colourway: Colourway, index: int, several: bool, spectra: Floats | None
) -> Iterator[Sequence[object]]:
    lead = f"{label_of(colourway, index)}: " if several else ""
    labs = colourway.tones_lab.round(2) + 0.0
    parts = srgb_to_bytes(colourway.tones)
    for tone in colourway.unique_tones:
        at = tone.warp, tone.weft
        name = lead + colourway.tone_label(*at)
        bands = [] if spectra is None else spectra[at].round(5).tolist()
        yield name, *parts[at].tolist(), *labs[at].tolist(), *bands


def blank_cgats(colourway: Colourway, readings: int = 3) -> str:
    """Return CGATS.17 text with every tone's name, to be filled with a strike-off's readings.

    Light and observer are for whoever measures to state, as keywords ``ILLUMINANT`` and
    ``OBSERVER`` or to :func:`checkcloth.quality.read_readings`.

    Examples
    --------
    >>> print(blank_cgats(Colourway("white", ["navy"]), 1).splitlines()[8])
    1 "white" "" "" ""
    """
    require_type(colourway, "colourway", Colourway)
    names = [
        colourway.tone_label(tone.warp, tone.weft)
        for tone in colourway.unique_tones
        for _ in range(readings)
    ]
    rows = ([number, name, None, None, None] for number, name in enumerate(names, start=1))
    title = {"DESCRIPTOR": f"strike-off of {colourway}"}
    return cgats_text(("SAMPLE_ID", "SAMPLE_NAME", *_LAB), rows, title)
