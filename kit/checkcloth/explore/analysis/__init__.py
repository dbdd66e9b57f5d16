"""The analyst's bench: tables, strength windows, tolerances, strike-offs, striping."""

from checkcloth.colour.illuminant import adapt_lab
from checkcloth.explore.analysis.blank_readings import write_blank_readings
from checkcloth.explore.analysis.colourway_csv import (
    colourway_faults,
    read_colourways,
    stream_colourways,
    write_colourways,
)
from checkcloth.explore.analysis.distinct import distinct_tones
from checkcloth.explore.analysis.grounds import GroundGain, ground_gains
from checkcloth.explore.analysis.readings import Readings, read_readings
from checkcloth.explore.analysis.roots import Span
from checkcloth.explore.analysis.scatter import ToleranceScore, score_with_tolerance
from checkcloth.explore.analysis.sources import palette_colourways
from checkcloth.explore.analysis.strike_off import StrikeOff, ToneCheck, check_strike_off
from checkcloth.explore.analysis.striping import Striping, cycles_per_degree, striping
from checkcloth.explore.analysis.supplier import SupplierPalette, read_supplier_palette
from checkcloth.explore.analysis.supplier_rows import Shade
from checkcloth.explore.analysis.sweep import Sweep, score_strengths, sweep
from checkcloth.explore.analysis.table import ScoreTable, score_table, write_score_table
from checkcloth.explore.analysis.tolerance import Tolerance, wilson_interval
from checkcloth.explore.analysis.window import (
    Demand,
    StrengthWindow,
    StrengthWindows,
    strength_windows,
)
from checkcloth.explore.analysis.words import direction_words

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
    "score_strengths",
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
