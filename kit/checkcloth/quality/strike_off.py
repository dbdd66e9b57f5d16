"""A strike-off against its specification: what departs, which way, whether it passes, and why.

A tone passes where its CMC(2:1) from the standard is within the tolerance (``_check_tones``),
and the strike-off where every measured tone does (``StrikeOff.passed``). Why it departs is
worked out in ``diagnosis/``; ``conditions.py`` brings specification and readings under one light,
and ``misread.py`` there looks for readings made under another illuminant than was stated.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import Any, ClassVar

import numpy as np

from checkcloth.arguments import Floats, as_number, require_type
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import delta_e_cmc, lab_differences
from checkcloth.colour.inked import Inked
from checkcloth.colour.spectra.texture import TextureFactor
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition, Table, Tabular, as_table
from checkcloth.files.html import AS_TYPED, Cell, OneLine, table
from checkcloth.quality.conditions import Compared, compared, with_condition
from checkcloth.quality.diagnosis import Cause, Diagnosis, Evidence, diagnose
from checkcloth.quality.diagnosis.misread import misreadings
from checkcloth.quality.diagnosis.verdict import scatter_of
from checkcloth.quality.readings import Readings, ToneIndex, read_readings, tone_indices
from checkcloth.quality.tolerance import direction_words
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.vocabulary import estimate_words

# The verdict stands first: in a narrow window the others are scrolled to.
HEADINGS = (
    "Tone", "Result", "CMC(2:1)", "Direction", "ΔE00", "ΔL*", "ΔC*", "ΔH*", "Wanted L* a* b*",
    "Found L* a* b*", "Readings", "Spread ΔE00",
)  # fmt: skip
_NUMBER_COLUMNS = (2, *range(4, 12))


@dataclass(frozen=True, repr=False)
class ToneCheck(OneLine):
    """One tone of a strike-off against its standard.

    Attributes
    ----------
    tone : str
    index : (int, int)
        Its canonical (warp, weft) index in the tones.
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
    index: ToneIndex
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

    def row(self) -> tuple[str, ...]:
        """Return the cells of its row in a table, one for each of ``HEADINGS``."""
        return (
            self.tone,
            "pass" if self.passed else "FAIL",
            f"{self.cmc:.2f}",
            self.direction,
            f"{self.de2000:.2f}",
            *(f"{round(value, 2) + 0.0:+.2f}" for value in (self.dl, self.dc, self.dh)),
            *(
                " ".join(f"{value:.1f}" for value in np.round(lab, 1) + 0.0)
                for lab in (self.wanted, self.found)
            ),
            str(self.readings),
            "–" if np.isnan(self.spread) else f"{self.spread:.2f}",
        )

    def __str__(self) -> str:
        result = "pass" if self.passed else "FAIL"
        return f"{self.tone}: CMC(2:1) {self.cmc:.2f}, {self.direction}, {result}"


@dataclass(frozen=True, repr=False)
class StrikeOff(Tabular):
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
    diagnosis : Diagnosis
        Why it departs: the verdict, the causes it names, and all that were fitted.
    explanation : str
        What that comes to, in words.
    """

    colourway: Colourway
    tolerance: float
    checks: tuple[ToneCheck, ...]
    missing: tuple[str, ...]
    basis: str
    cautions: tuple[str, ...]
    diagnosis: Diagnosis
    explanation: str

    made_by: ClassVar[str] = "check_strike_off"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("tone", "name of the tone", "as the specification has it"),
        *(
            Definition(
                f"wanted_{axis}", f"{axis}* of the specification, or of the standard",
                f"{axis}* under the illuminant and the observer that are compared under",
            )
            for axis in "Lab"
        ),
        *(
            Definition(f"found_{axis}", f"{axis}* of the strike-off", "the mean of the readings")
            for axis in "Lab"
        ),
        Definition("readings", "how many readings the tone has", "a whole number"),
        Definition(
            "spread", "how far the readings scatter",
            "the mean ΔE00 of the readings from their mean; none for one reading",
            source=find_measure("de2000").source,
        ),
        Definition(
            "cmc", "CMC(2:1)",
            "√((ΔL* / 2S_L)² + (ΔC* / S_C)² + (ΔH* / S_H)²), the S of the standard",
            "what is wanted, first, and what was found",
            source="ISO 105-J03",
        ),
        Definition(
            "de2000", "ΔE00", find_measure("de2000").formula,
            "what is wanted, and what was found",
            source=find_measure("de2000").source,
        ),
        Definition("dl", "ΔL*: lighter, or darker", "L* found − L* wanted"),
        Definition("dc", "ΔC*: more vivid, or duller", "C* found − C* wanted, C* = √(a*² + b*²)"),
        Definition(
            "dh", "ΔH*: the difference in hue",
            "√(Δa*² + Δb*² − ΔC*²), with the sign of the turn in hue",
        ),
        Definition(
            "direction", "where it went, in words",
            "ΔL*, ΔC* and ΔH* (Δa* and Δb* of a near-grey), each from 0.2 as CMC(2:1) weighs it, "
            "the largest first",
        ),
        Definition("passed", "whether the tone is within the tolerance", "CMC(2:1) ≤ tolerance"),
    )  # fmt: skip

    @property
    def causes(self) -> tuple[Cause, ...]:
        """Single causes, the best first."""
        return self.diagnosis.singles

    @property
    def passed(self) -> bool:
        """Whether every tone that was measured is within the tolerance."""
        return all(check.passed for check in self.checks)

    def texts(self) -> Iterator[tuple[str, ...]]:
        """Yield the table of tones as texts, a row a tone."""
        return (check.row() for check in self.checks)

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a tone."""
        wanted = np.array([check.wanted for check in self.checks]).reshape(-1, 3)
        found = np.array([check.found for check in self.checks]).reshape(-1, 3)
        names = ("readings", "spread", "cmc", "de2000", "dl", "dc", "dh", "direction", "passed")
        return {
            "tone": [check.tone for check in self.checks],
            **{f"wanted_{axis}": wanted[:, n] for n, axis in enumerate("Lab")},
            **{f"found_{axis}": found[:, n] for n, axis in enumerate("Lab")},
            **{name: [getattr(check, name) for check in self.checks] for name in names},
        }

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

    def _repr_html_(self) -> str:
        """The verdict first, then tone by tone, then the basis and the cautions."""
        rows = [[Cell(text, strong=text == "FAIL") for text in row] for row in self.texts()]
        notes = [self.basis, *self.cautions]
        if self.missing:
            notes.append(f"Not measured: {', '.join(self.missing)}.")
        listed = "".join(f"<li>{escape(note)}</li>" for note in notes)
        return (
            f"<div {AS_TYPED}><p><b>{escape(str(self))}</b></p><p>{escape(self.explanation)}</p>"
            f"{table((), HEADINGS, rows, right=_NUMBER_COLUMNS)}<ul>{listed}</ul></div>"
        )


def check_strike_off(
    colourway: Colourway | Inked,
    readings: Readings | Table,
    *,
    tolerance: float = 1.0,
    standard: Readings | Table | None = None,
    illuminant: str | None = None,
    observer: int | None = None,
    accept_10_degree: bool = False,
    texture: TextureFactor | None = None,
) -> StrikeOff:
    """Compare a strike-off with its specification, tone by tone.

    Parameters
    ----------
    colourway : Colourway or Inked
        The specification; of stripes given as inks of a print condition, what that prints.
    readings : Readings, path or pandas DataFrame
        Of the strike-off; tones are matched by name, several readings a tone averaged.
    tolerance : float
        CMC(2:1) up to which a tone passes, above 0 up to 20. 1.0 is the trade's usual
        limit (common practice; buyers set their own).
    standard : Readings, path or pandas DataFrame, optional
        Readings of an approved standard, made the same way; used instead of the Lab of
        the specification. The only exact way for other lights and for the 10° observer,
        where the colours have no measured reflectances.
    illuminant, observer :
        See :func:`read_readings`, for files that do not state them.
    accept_10_degree : bool
        Compare readings for 10° under D65 or D50 with the 2° specification as they are,
        instead of bringing the specification to 10° by its spectra; the result says so.
    texture : TextureFactor, optional
        The specification's colours are those of a yarn card, and the cloth gives back so
        much of their light: what was wanted is darkened by it. Not with a ``standard``.

    Raises
    ------
    FileFormatError
        For faults in a file, and tones that the specification does not have.
    ArgumentError
        For a standard measured otherwise, tolerances out of range, arguments of another
        kind.

    Notes
    -----
    Readings for D65 or D50 and 2° are held against the specification's sRGB. For any other
    light, and for 10°, the specification is brought there from the reflectances of its tones
    (:func:`tone_spectra`): ``basis`` says whether those were measured or recovered from sRGB,
    and ``cautions`` how far off recovered ones may be.

    >>> from checkcloth.quality.readings import Reading
    >>> readings = Readings("a", "D65", 2, (Reading("white", (99.9, 0.0, 0.2), 2),))
    >>> result = check_strike_off(Colourway("white", ["navy"]), readings)
    >>> print(result)
    strike-off of navy on white, 50 %, source-over: 1 of 3 tones measured, all pass at CMC(2:1) 1
    >>> result.missing
    ('navy on white', 'navy over navy')
    """
    inked = colourway if isinstance(colourway, Inked) else None
    colourway = Colourway.of_inks(colourway) if isinstance(colourway, Inked) else colourway
    require_type(colourway, "colourway", Colourway)
    limit = as_number(tolerance, "tolerance", 0, 20, low_open=True)
    if texture is not None:
        require_type(texture, "texture", TextureFactor)
        if standard is not None or inked is not None:
            allowed = "left out with a standard or a print condition, which are of cloth already"
            raise ArgumentError("texture", allowed)
    strike = _as_readings(readings, "readings", illuminant, observer)
    measured = strike.by_tone(colourway)
    tones = sorted(measured, key=lambda tone: ((tone[0] > 0) + (tone[1] > 0), tone))
    means = np.array([measured[tone].mean(axis=0) for tone in tones])
    if standard is not None:
        approved = _as_readings(standard, "standard", illuminant, observer)
        held = _with_standard(approved, strike, colourway, tones, means)
    elif inked is not None:
        held = with_condition(inked, strike, tones, means)
    else:
        held = compared(colourway, strike, tones, means, accept_10_degree, texture)
    wanted, found, cautions = held.wanted, held.found, [*held.cautions]
    checks = _check_tones(colourway, measured, tones, wanted, found, limit)
    cautions += [*held.light.cautions, *_reading_cautions(strike, checks)]
    if find_mixing(colourway.mixing).estimate:
        cautions.append(_estimate_caution(colourway, inked))
    scatter = scatter_of([measured[tone] for tone in tones], wanted)
    day = held.as_daylight(colourway, tones)
    evidence = Evidence(colourway, tones, day.wanted, day.found, scatter, day.misread)
    diagnosis = diagnose(evidence, limit)
    explanation = diagnosis.text
    if held.light.suspect:
        explanation = f"Settle {held.light.settle} first. As the readings stand: {explanation}"
    every = dict.fromkeys(tone_indices(colourway).values())
    return StrikeOff(
        colourway,
        limit,
        tuple(checks),
        tuple(colourway.tone_label(*tone) for tone in every if tone not in measured),
        held.basis,
        tuple(cautions),
        diagnosis,
        explanation,
    )


def _estimate_caution(colourway: Colourway, inked: Inked | None) -> str:
    """Say what rests on a mixing that is an estimate."""
    words = estimate_words(colourway)
    if inked is not None:
        return (
            "What was wanted is what the condition prints; why the cloth departs is worked out "
            f"by mixing {colourway.mixing}, an estimate, and is no surer than it is: {words}."
        )
    return (
        f"The specification's mixing, {colourway.mixing}, is an estimate: what the tones were "
        f"wanted to be, and the causes named, are no surer than it is: {words}."
    )


def _as_readings(
    value: object, name: str, illuminant: str | None, observer: int | None
) -> Readings:
    if not isinstance(value, Readings):
        return read_readings(as_table(value, name), illuminant=illuminant, observer=observer)
    if not len(value):
        raise ArgumentError(name, "one reading or more", words="none")
    return value


def _with_standard(
    standard: Readings,
    strike: Readings,
    colourway: Colourway,
    tones: list[ToneIndex],
    means: Floats,
) -> Compared:
    """Hold mean readings (T, 3) against an approved standard that was measured the same way."""
    if standard.conditions != strike.conditions:
        allowed = f"measured as the strike-off was ({strike.conditions})"
        raise ArgumentError("standard", allowed, words=standard.conditions)
    approved = standard.by_tone(colourway)
    missing = [colourway.tone_label(*tone) for tone in tones if tone not in approved]
    if missing:
        allowed = "readings of every tone that the strike-off has"
        raise ArgumentError("standard", allowed, words=f"none of {', '.join(missing[:4])}")
    light, observer = standard.illuminant, standard.observer
    return Compared(
        np.array([approved[tone].mean(axis=0) for tone in tones]),
        means,
        f"Standard and strike-off were both measured under {standard.conditions}; nothing was "
        "adapted.",
        misread=misreadings(means, light, observer, light),
    )


def _check_tones(
    colourway: Colourway,
    measured: dict[ToneIndex, Floats],
    tones: list[ToneIndex],
    wanted: Floats,
    found: Floats,
    limit: float,
) -> list[ToneCheck]:
    """Judge each tone: it passes where its CMC(2:1) is within the limit."""
    cmc, de2000 = delta_e_cmc(wanted, found), delta_e_2000(wanted, found)
    parts = lab_differences(wanted, found)
    checks = []
    for row, tone in enumerate(tones):
        readings = measured[tone]
        spread = delta_e_2000(readings, readings.mean(axis=0)).mean()
        dl, dc, dh = parts[row].tolist()
        checks.append(
            ToneCheck(
                tone=colourway.tone_label(*tone),
                index=tone,
                wanted=tuple(wanted[row].tolist()),
                found=tuple(found[row].tolist()),
                readings=len(readings),
                spread=float(spread) if len(readings) > 1 else float("nan"),
                cmc=float(cmc[row]),
                de2000=float(de2000[row]),
                dl=dl,
                dc=dc,
                dh=dh,
                direction=direction_words(wanted[row], found[row]),
                passed=bool(cmc[row] <= limit),
            )
        )
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
    out += strike.notes
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
