"""What must hold for a colourway to count: one condition, in numbers and in words."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["BY", "KIND_WORDS", "MEASURES", "Need", "measure_parts"]

# How two tones are compared, and how that is written after a number.
BY = {"de2000": "ΔE00", "dl": "ΔL*", "ratio": "contrast ratio"}

KIND_WORDS = {
    "ground_single": "stripe and ground",
    "single_crossing": "crossing and stripe",
    "single_single": "two stripes",
    "crossing_crossing": "two crossings",
    "least_edge": "two tones that share an edge",
    "lightness": "lightness order",
}

_RANKED = ("least_edge", "ground_single", "single_crossing", "single_single")
_ENDINGS = {"de2000": "", "dl": "_dl", "ratio": "_ratio"}

#: Every measure a search can rank by: the least, over all pairs of that kind.
MEASURES = tuple(kind + ending for ending in _ENDINGS.values() for kind in _RANKED)


def measure_parts(measure: str) -> tuple[str, str]:
    """Split the name of a measure into the pairs it looks at and how it compares them.

    >>> measure_parts("least_edge_ratio")
    ('least_edge', 'ratio')
    """
    for by, ending in _ENDINGS.items():
        if ending and measure.endswith(ending):
            return measure.removesuffix(ending), by
    return measure, "de2000"


@dataclass(frozen=True)
class Need:
    """One condition under one colour vision.

    Attributes
    ----------
    kind : str
        The pairs it looks at: a key of ``KIND_WORDS``. ``"lightness"`` asks that lightness
        runs one way from ground over stripe to crossing, as :class:`Score` defines it.
    by : str
        How they are compared: ``"de2000"``, ``"dl"`` or ``"ratio"``; empty for lightness.
    at_least : float
        What the closest pair must reach.
    vision : str

    Examples
    --------
    >>> print(Need("ground_single", "de2000", 20, "deutan"))
    every stripe at least ΔE00 20 from the ground, to deutan vision
    """

    kind: str
    by: str
    at_least: float
    vision: str = "normal"

    def __str__(self) -> str:
        how = f"{BY.get(self.by, '')} {self.at_least:.4g}"
        words = {
            "ground_single": f"every stripe at least {how} from the ground",
            "single_crossing": f"every crossing at least {how} from its stripes",
            "single_single": f"any two stripes at least {how} apart",
            "crossing_crossing": f"any two crossings at least {how} apart",
            "least_edge": f"every edge at least {how}",
            "lightness": "lightness runs from ground over stripe to crossing",
        }[self.kind]
        return words if self.vision == "normal" else f"{words}, to {self.vision} vision"
