"""Quality: strike-offs, suppliers' lists, score tables, strength windows, tolerance, striping."""

from checkcloth.colour.illuminant import adapt_lab
from checkcloth.quality.colourway_csv import (
    colourway_faults,
    read_colourways,
    stream_colourways,
    write_colourways,
)
from checkcloth.quality.grounds import GroundGain, ground_gains
from checkcloth.quality.readings import Readings, read_readings, write_blank_readings
from checkcloth.quality.scatter import ToleranceScore, score_with_tolerance
from checkcloth.quality.strike_off import StrikeOff, ToneCheck, check_strike_off
from checkcloth.quality.striping import Striping, cycles_per_degree, striping
from checkcloth.quality.supplier import Shade, SupplierPalette, read_supplier_palette
from checkcloth.quality.sweep import (
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
    "Demand",
    "GroundGain",
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
    "Tolerance",
    "ToleranceScore",
    "ToneCheck",
    "adapt_lab",
    "check_strike_off",
    "colourway_faults",
    "cycles_per_degree",
    "direction_words",
    "distinct_tones",
    "ground_gains",
    "palette_colourways",
    "read_colourways",
    "read_readings",
    "read_supplier_palette",
    "score_table",
    "score_with_tolerance",
    "stream_colourways",
    "strength_windows",
    "striping",
    "sweep",
    "wilson_interval",
    "write_blank_readings",
    "write_colourways",
    "write_score_table",
]
