"""Charts of scores, tones and strike-offs.

Each returns a :class:`Picture` that shows itself in a notebook: on the page's own paper,
with a title that says what to see and with an alternative text. Given matplotlib axes
(``ax=``, or ``axes=`` where it needs several) it draws on those and returns them, in the
caller's own settings, to be put into a figure and saved as matplotlib does it.
"""

from checkcloth.export.charts.charts import lab_chart, pair_matrix
from checkcloth.export.charts.charts_hues import HueJump, hue_jumps, opposite_hues_chart
from checkcloth.export.charts.charts_strength import compare_chart, ground_chart, strength_chart
from checkcloth.export.charts.charts_strike_off import strike_off_chart
from checkcloth.export.picture.picture import Picture, picture_of

__all__ = [
    "HueJump",
    "Picture",
    "compare_chart",
    "ground_chart",
    "hue_jumps",
    "lab_chart",
    "opposite_hues_chart",
    "pair_matrix",
    "picture_of",
    "strength_chart",
    "strike_off_chart",
]
