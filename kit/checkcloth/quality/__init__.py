"""Quality: strike-offs, suppliers' lists, score tables, strength windows, tolerance, striping."""

from checkcloth.cloth.spectral import (
    LightTable,
    Partings,
    inconstancy,
    parting_pairs,
    tone_spectra,
    under_lights,
)
from checkcloth.cloth.viewing import merging_distances, viewing
from checkcloth.colour.illuminant import adapt_lab
from checkcloth.colour.spectra.lights import light_shifts, spectral_lab
from checkcloth.colour.spectra.reading import read_spectra
from checkcloth.colour.spectra.texture import TextureFactor
from checkcloth.colour.spectra.yarn import blend
from checkcloth.files.frames import Definition
from checkcloth.quality.colourway_csv import (
    colourway_faults,
    read_colourways,
    stream_colourways,
    write_colourways,
)
from checkcloth.quality.glossary import Glossary, glossary
from checkcloth.quality.grounds import GroundGain, GroundGains, ground_gains
from checkcloth.quality.readings import (
    Readings,
    read_readings,
    readings_from_spectra,
    write_blank_readings,
)
from checkcloth.quality.scatter import ToleranceScore, score_with_tolerance
from checkcloth.quality.strike_off import StrikeOff, ToneCheck, check_strike_off
from checkcloth.quality.striping import Striping, cycles_per_degree, striping
from checkcloth.quality.supplier import Shade, SupplierPalette, read_supplier_palette
from checkcloth.quality.sweep import (
    Binding,
    Demand,
    Span,
    StrengthWindow,
    StrengthWindows,
    Sweep,
    strength_windows,
    sweep,
)
from checkcloth.quality.table import ScoreTable, palette_colourways, score_table, write_score_table
from checkcloth.quality.tolerance import Tolerance, direction_words, wilson_interval
from checkcloth.scoring.distinct import distinct_tones

__all__ = [
    "Binding",
    "Definition",
    "Demand",
    "Glossary",
    "GroundGain",
    "GroundGains",
    "LightTable",
    "Partings",
    "Readings",
    "ScoreTable",
    "Shade",
    "Span",
    "StrengthWindow",
    "StrengthWindows",
    "StrikeOff",
    "Striping",
    "SupplierPalette",
    "Sweep",
    "TextureFactor",
    "Tolerance",
    "ToleranceScore",
    "ToneCheck",
    "adapt_lab",
    "blend",
    "check_strike_off",
    "colourway_faults",
    "cycles_per_degree",
    "direction_words",
    "distinct_tones",
    "glossary",
    "ground_gains",
    "inconstancy",
    "light_shifts",
    "merging_distances",
    "palette_colourways",
    "parting_pairs",
    "read_colourways",
    "read_readings",
    "read_spectra",
    "read_supplier_palette",
    "readings_from_spectra",
    "score_table",
    "score_with_tolerance",
    "spectral_lab",
    "stream_colourways",
    "strength_windows",
    "striping",
    "sweep",
    "tone_spectra",
    "under_lights",
    "viewing",
    "wilson_interval",
    "write_blank_readings",
    "write_colourways",
    "write_score_table",
]
