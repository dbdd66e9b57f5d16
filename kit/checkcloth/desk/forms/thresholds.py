"""The numbers of a brief on its form: what is asked at first, fitted to what the palette holds."""

from __future__ import annotations

import time
from typing import Any

import ipywidgets

from checkcloth.desk.forms.parts import field
from checkcloth.search import SearchStoppedError, Wanted, common_share
from checkcloth.search.wanted import NOTHING

# Argument of the brief, words on the page, value to begin with, greatest.
APART = (
    ("ground_apart", "Every stripe from the ground, ΔE00", 12.0, 100.0),
    ("crossings_apart", "Every crossing from its stripes, ΔE00", 4.0, 100.0),
    ("stripes_apart", "Any two stripes, ΔE00", 6.0, 100.0),
    ("crossings_unlike", "Any two crossings, ΔE00", 0.0, 100.0),
    ("edge_lightness", "Every edge, ΔL*", 0.0, 100.0),
    ("edge_ratio", "Every edge, contrast ratio", 1.0, 21.0),
    ("edge_hyab", "Every edge, HyAB", 0.0, 300.0),
    ("edge_harmony", "Every edge, harmony", -3.0, 3.0),
)
#: So many colourways hold what is asked at first, or is offered where nothing does.
SOME = 24
_STEP = 0.5
# With more grounds × strengths × mixings the first numbers are not fitted: it would hold up typing.
_MOST_FITTED = 60
_LONGEST = 1.0  # seconds for it, for the kernel answers nobody meanwhile


class Thresholds:
    """The fields of the numbers.

    Attributes
    ----------
    fields : dict of str to Widget
        By the argument of the brief.
    """

    def __init__(self) -> None:
        self.fields = {
            name: field(
                ipywidgets.BoundedFloatText, words, value=value, min=NOTHING.get(name, 0.0),
                max=top, step=_STEP,
            )
            for name, words, value, top in APART
        }  # fmt: skip
        self._fitted = self.values

    @property
    def values(self) -> dict[str, float]:
        """What stands in every field."""
        return {name: number.value for name, number in self.fields.items()}

    @property
    def asked(self) -> dict[str, float]:
        """What is asked for."""
        return {n: value for n, value in self.values.items() if value > NOTHING.get(n, 0.0)}

    @property
    def touched(self) -> bool:
        """Whether somebody chose a number."""
        return self.values != self._fitted

    def show(self, values: dict[str, float]) -> None:
        """Put numbers into their fields."""
        for name, value in values.items():
            self.fields[name].value = value

    def fit(self, wanted: Wanted) -> None:
        """Ask for as much as the usual, or as a palette like this holds; chosen numbers stay.

        Parameters
        ----------
        wanted : Wanted
            The brief as it stands; its numbers do not count.
        """
        if self.touched or wanted.setting_count > _MOST_FITTED:
            return
        usual = {name: value for name, _, value, _ in APART if value > NOTHING.get(name, 0.0)}
        if wanted.stripes == 1:
            usual.pop("stripes_apart")
        brief = wanted.with_(**(dict.fromkeys(self.fields) | usual))
        end = time.perf_counter() + _LONGEST
        try:
            share = common_share(brief, SOME, lambda: time.perf_counter() > end)
        except SearchStoppedError:
            return  # of many stripes it can take minutes: the numbers stay as they are
        share = min(1.0, share or 0.0)
        fitted = {name: value * share // _STEP * _STEP for name, value in usual.items()}
        self._fitted = {name: fitted.get(name, value) for name, _, value, _ in APART}
        self.show(self._fitted)


def words_of(values: dict[str, Any]) -> str:
    """Say numbers by the words of their fields.

    >>> words_of({"ground_apart": 9.5})
    'Every stripe from the ground, ΔE00 9.5'
    """
    return "; ".join(f"{words} {values[name]:g}" for name, words, *_ in APART if name in values)
