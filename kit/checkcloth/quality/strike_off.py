"""A strike-off against its specification: what departs, which way, whether it passes, and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from os import PathLike
from pathlib import Path

import numpy as np

from checkcloth.arguments import Floats, as_number
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.colour.illuminant import adapt_lab
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.quality.conditions import conditions
from checkcloth.quality.difference_words import differences, direction_words
from checkcloth.quality.explain import Cause, explain_shift
from checkcloth.quality.illuminant_check import mix_up_cautions
from checkcloth.quality.readings import Readings, read_readings, tone_places
from checkcloth.quality.verdict import explanation_text
from checkcloth.scoring.measures import tone_label

__all__ = ["StrikeOff", "ToneCheck", "check_strike_off"]


@dataclass(frozen=True)
class ToneCheck:
    """One tone of a strike-off against its standard.

    Attributes
    ----------
    tone : str
    place : (int, int)
        Its (warp, weft) in the tones.
    wanted, found : tuple of three floats
        Lab of the standard, and the mean of the readings.
    readings : int
    spread : float
        Mean CIEDE2000 of the readings from their mean; NaN for one reading.
    cmc, de2000 : float
        CMC(2:1) with the standard first, and CIEDE2000.
    dl, dc, dh : float
        ΔL*, ΔC*, ΔH* of the strike-off against the standard.
    direction : str
        In words.
    passed : bool
    """

    tone: str
    place: tuple[int, int]
    wanted: tuple[float, float, float]
    found: tuple[float, float, float]
    readings: int
    spread: float
    cmc: float
    de2000: float
    dl: float
    dc: float
    dh: float
    direction: str
    passed: bool


@dataclass(frozen=True, repr=False)
class StrikeOff:
    """The whole comparison; make it with :func:`check_strike_off`.

    Attributes
    ----------
    colourway : Colourway
    tolerance : float
        CMC(2:1) up to which a tone passes.
    checks : tuple of ToneCheck
        In the order ground, singles, crossings.
    missing : tuple of str
        Tones that were not measured.
    basis : str
        What was compared with what, and how readings were adapted.
    cautions : tuple of str
        What the reader must know before trusting the figures.
    causes : tuple of Cause
        Single causes, the best first.
    explanation : str
        What they come to, in words.

    >>> from checkcloth.quality.readings import Reading
    >>> readings = Readings("a", "D65", 2, (Reading("white", (99.9, 0.0, 0.2), 2),))
    >>> print(check_strike_off(Colourway("white", ["navy"]), readings))
    strike-off of navy on white, 50 %, source-over: 1 of 3 tones measured, all pass at CMC(2:1) 1
    """

    colourway: Colourway
    tolerance: float
    checks: tuple[ToneCheck, ...]
    missing: tuple[str, ...]
    basis: str
    cautions: tuple[str, ...]
    causes: tuple[Cause, ...]
    explanation: str

    @property
    def passed(self) -> bool:
        """Whether every tone that was measured is within the tolerance."""
        return all(check.passed for check in self.checks)

    def rows(self) -> Iterator[tuple[str, ...]]:
        """Yield the table of tones as texts, a row a tone."""
        for check in self.checks:
            spread = "–" if np.isnan(check.spread) else f"{check.spread:.2f}"
            yield (
                check.tone,
                str(check.readings),
                spread,
                " ".join(f"{value:.1f}" for value in check.wanted),
                " ".join(f"{value:.1f}" for value in check.found),
                f"{check.cmc:.2f}",
                f"{check.de2000:.2f}",
                f"{check.dl:+.2f}",
                f"{check.dc:+.2f}",
                f"{check.dh:+.2f}",
                check.direction,
                "pass" if check.passed else "FAIL",
            )

    def __str__(self) -> str:
        failed = sum(not check.passed for check in self.checks)
        measured = len(self.checks)
        state = "all pass" if not failed else f"{failed} of {measured} fail"
        # A verdict on some of the tones must not read like one on the cloth.
        of = f" of {measured + len(self.missing)} tones measured" if self.missing else " tones"
        return (
            f"strike-off of {self.colourway.name or self.colourway}: {measured}{of}, "
            f"{state} at CMC(2:1) {self.tolerance:g}"
        )

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        from checkcloth.quality.strike_off_html import strike_off_html

        return strike_off_html(self)


def check_strike_off(
    colourway: Colourway,
    readings: Readings | str | PathLike[str],
    *,
    tolerance: float = 1.0,
    standard: Readings | str | PathLike[str] | None = None,
    illuminant: str | None = None,
    observer: int | None = None,
    accept_10_degree: bool = False,
) -> StrikeOff:
    """Compare a strike-off with its specification, tone by tone.

    Parameters
    ----------
    colourway : Colourway
        The specification.
    readings : Readings or path
        Of the strike-off; tones are matched by name, several readings a tone averaged.
    tolerance : float
        CMC(2:1) up to which a tone passes, above 0 up to 20. 1.0 is the trade's usual
        limit (common practice; buyers set their own).
    standard : Readings or path, optional
        Readings of an approved standard, made the same way; used instead of the Lab of
        the specification. The only exact way for the 10° observer.
    illuminant, observer :
        See :func:`read_readings`, for files that do not state them.
    accept_10_degree : bool
        Compare readings for 10° with a 2° specification all the same; the result says so.

    Raises
    ------
    FileFormatError
        For faults in a file, and tones that the specification does not have.
    ArgumentError
        For 10° readings without a standard, a standard measured otherwise, tolerances out
        of range.

    >>> from checkcloth.quality.readings import Reading
    >>> readings = Readings("a", "D65", 2, (Reading("white", (99.9, 0.0, 0.2), 2),))
    >>> check_strike_off(Colourway("white", ["navy"]), readings).missing
    ('navy on white', 'navy over navy')
    """
    limit = as_number(tolerance, "tolerance", 0, 20, low_open=True)
    strike = _as_readings(readings, illuminant, observer)
    approved = None if standard is None else _as_readings(standard, illuminant, observer)
    basis, cautions = conditions(strike, approved, accept_10_degree)
    measured = strike.by_place(colourway)
    places = sorted(measured, key=lambda place: ((place[0] > 0) + (place[1] > 0), place))
    means = np.array([measured[place].mean(axis=0) for place in places])
    specified = srgb_to_lab(np.array([colourway.tones[place] for place in places]))
    mix_up: list[str] = []
    if approved is not None:
        own = approved.by_place(colourway)
        lacking = [tone_label(colourway, *place) for place in places if place not in own]
        if lacking:
            raise ArgumentError(
                f"standard must have every tone that the strike-off has; missing "
                f"{', '.join(lacking[:4])}"
            )
        wanted, found = np.array([own[place].mean(axis=0) for place in places]), means
    else:
        wanted, found = specified, adapt_lab(means, strike.illuminant, "D65")
        mix_up = mix_up_cautions(means, strike.illuminant, specified)
        cautions += mix_up
    checks = _tone_checks(colourway, places, wanted, found, measured, limit)
    cautions += _reading_cautions(strike, checks)
    if find_mixing(colourway.mixing).estimate:
        cautions.append(
            f"The specification's mixing, {colourway.mixing}, is an estimate: what the tones were "
            "wanted to be, and the causes named, are no surer than it is."
        )
    causes = explain_shift(colourway, places, wanted, found)
    explanation = explanation_text(causes, wanted, found)
    if any("fit far better" in caution for caution in mix_up):
        explanation = f"Settle the illuminant first. As the readings stand: {explanation}"
    names = {place: tone_label(colourway, *place) for place in tone_places(colourway).values()}
    return StrikeOff(
        colourway,
        limit,
        tuple(checks),
        tuple(name for place, name in names.items() if place not in measured),
        basis,
        tuple(cautions),
        tuple(causes),
        explanation,
    )


def _as_readings(
    value: Readings | str | PathLike[str], illuminant: str | None, observer: int | None
) -> Readings:
    if isinstance(value, Readings):
        return value
    return read_readings(Path(value), illuminant=illuminant, observer=observer)


def _tone_checks(
    colourway: Colourway,
    places: list[tuple[int, int]],
    wanted: Floats,
    found: Floats,
    measured: dict[tuple[int, int], Floats],
    limit: float,
) -> list[ToneCheck]:
    cmc, de = delta_e_cmc(wanted, found), delta_e_2000(wanted, found)
    parts = differences(wanted, found)
    checks = []
    for row, place in enumerate(places):
        each = measured[place]
        spread = delta_e_2000(each, each.mean(axis=0)).mean() if len(each) > 1 else np.nan
        dl, dc, dh = parts[row].tolist()
        one, two = wanted[row].tolist(), found[row].tolist()
        checks.append(
            ToneCheck(
                tone_label(colourway, *place), place, (one[0], one[1], one[2]),
                (two[0], two[1], two[2]), len(each), float(spread), float(cmc[row]),
                float(de[row]), dl, dc, dh, direction_words(wanted[row], found[row]),
                bool(cmc[row] <= limit),
            )
        )  # fmt: skip
    return checks


def _reading_cautions(strike: Readings, checks: list[ToneCheck]) -> list[str]:
    out = []
    if strike.repeats:
        lines = ", ".join(f"{later} repeats {earlier}" for earlier, later in strike.repeats[:5])
        out.append(
            f"Some lines hold the very same numbers for the same tone (line {lines}): pasted "
            "twice? They were averaged like the others."
        )
    if strike.empty:
        lines = ", ".join(map(str, strike.empty[:8])) + (" …" if len(strike.empty) > 8 else "")
        out.append(f"Lines without figures were passed over: {lines}.")
    if strike.unused:
        out.append(f"Columns not used: {', '.join(strike.unused)}.")
    rough = [check.tone for check in checks if check.spread > 0.5]
    if rough:
        out.append(
            f"Readings of {', '.join(rough[:4])} differ among themselves by more than ΔE00 0.5 "
            "from their mean: measure again before deciding."
        )
    if any(check.readings == 1 for check in checks):
        out.append("Some tones have one reading only, so nothing says how well it repeats.")
    return out
