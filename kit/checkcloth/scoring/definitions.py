"""What every number of a score is: its name, its words, how it is worked out, and of what.

Put together from what stands beside the code that works them out: kinds of pairs
(``pairs.py``), measures (``measures.py``) and scores of the whole cloth (``cloth_scores.py``).
The words of all columns come from here, and so does the glossary.
"""

from __future__ import annotations

from checkcloth.files.frames import Definition
from checkcloth.scoring.cloth_scores import WHOLE_CLOTH
from checkcloth.scoring.measures import MEASURE_NAMES, find_measure
from checkcloth.scoring.pairs import KIND_MEANINGS

STATISTICS = {
    "least": "the least over the pairs",
    "mean": "Σ wᵢ·dᵢ over the pairs, the weights adding up to 1",
}


_DE2000 = find_measure("de2000")

LEAST_EDGE = Definition(
    "least_edge",
    f"every edge: least {_DE2000.label}",
    f"the least of d, d = {_DE2000.formula}",
    "all tones that share an edge on the cloth, of whatever kind",
    source=_DE2000.source,
)

PAIR_COLUMNS = tuple(
    Definition(
        f"{kind}_{statistic}_{name}",
        f"{meaning.words}: {statistic} {find_measure(name).label}",
        f"{how}, d = {find_measure(name).formula}",
        meaning.compared,
        meaning.weighed if statistic == "mean" else "",
        find_measure(name).source,
    )
    for kind, meaning in KIND_MEANINGS.items()
    for name in MEASURE_NAMES
    for statistic, how in STATISTICS.items()
)

WHOLE_COLUMNS = tuple(
    Definition(each.name, each.words, each.formula, "the cloth as a whole", source=each.source)
    for each in WHOLE_CLOTH
)
