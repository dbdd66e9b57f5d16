"""A caution on striping: what the published consensus says of patterns that provoke.

Regular light and dark stripes can cause discomfort, and seizures in people with
pattern-sensitive epilepsy. The figures here are for a caution. They are never a clearance:
no published limit was made for cloth, which moves, drapes and is seen at any distance.
Local codes and the advice of a qualified person decide.

Sources: Harding, Wilkins, Erba, Barkley and Fisher, *Epilepsia* 46(9):1423–1425, 2005 (the
consensus: more than 5 light–dark pairs, 8 if still, over 0.006 sr, lightest stripe above
50 cd/m², for 0.5 s or more); Wilkins et al., *Brain* 107:989–1017, 1984 (worst near 3
cycles per degree).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from html import escape
from math import floor, log, pi, radians, tan
from typing import Any, ClassVar

import numpy as np

from checkcloth.arguments import Floats, as_number, require_type
from checkcloth.cloth.bands import Bands, joined, parts_of_a_check
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.tones import area_shares
from checkcloth.colour.difference import relative_luminance
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import AS_TYPED, table
from checkcloth.scoring.pairs import bands_of

_WORST = 3.0
_PAIRS_MOVING, _PAIRS_STILL = 5, 8
_STERADIANS = 0.006
_BRIGHT = 50.0
# Michelson contrast of tones under which a check cannot be seen at arm's length, and so draws
# no caution: a choice of ours, on the safe side of the 1 % or so that a good eye still sees of
# coarse stripes under good light (Campbell and Robson 1968, cited from memory).
INVISIBLE = 0.01

LIMITS = (
    "This is a caution and not a clearance. The consensus was written for pictures on a screen "
    "and not for cloth, which moves, folds and is seen from any distance; checks seem to provoke "
    "less than stripes do, but how much less is not settled. People differ. Where the cloth is for "
    "a place that people cannot easily leave, follow the local codes and ask someone qualified."
)


def cycles_per_degree(size: Length | str, distance: Length | str) -> float:
    """Return light–dark pairs in one degree of sight, a pair being two checks wide.

    2 · distance · tan(½°) / (2 · check size), at right angles to the cloth.

    Raises
    ------
    LengthError
        For a length without a unit.
    ArgumentError
        For a distance of nothing.

    >>> round(cycles_per_degree("1/16 in", "400 mm"), 2)
    2.2
    """
    width, far = Length(size), Length(distance)
    if not width.exact > 0:
        raise ArgumentError("size", "above 0", str(width))
    if not far.exact > 0:
        raise ArgumentError("distance", "above 0", str(far))
    return _degree(far) / float(2 * width.exact)


def _degree(distance: Length) -> float:
    """Length of cloth in one degree of sight, in the unit of ``Length.exact``."""
    return 2 * float(distance.exact) * tan(radians(0.5))


@dataclass(frozen=True, repr=False)
class Striping(Tabular):
    """Figures and cautions for one cloth at one distance.

    Attributes
    ----------
    check : Check
    distance : Length
    width, height : Length
        The piece of cloth in sight.
    cycles : float
        Light–dark pairs a degree, a pair being two neighbouring bands: the mean over the
        repeat, of the direction that has more.
    pairs : int
        Whole light–dark pairs across the longer side of the piece.
    steradians : float
        Solid angle of the piece, seen square on.
    contrast : float
        Michelson contrast of the lightest and darkest bands, 0 to 1.
    brightest : float
        Luminance of the lightest band in cd/m²; NaN where the light was not stated.
    brightest_tone, tone_contrast : float
        The same of single tones, which reach farther than the mean of a band.
    cautions : tuple of str
    """

    check: Check
    distance: Length
    width: Length
    height: Length
    cycles: float
    pairs: int
    steradians: float
    contrast: float
    brightest: float
    brightest_tone: float
    tone_contrast: float
    cautions: tuple[str, ...]

    made_by: ClassVar[str] = "striping"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition(
            "cycles", "light–dark pairs a degree",
            "2·D·tan(½°) / p, D the distance and p the mean width of two neighbouring bands; of "
            "the direction that has more",
            source="worst near 3: Wilkins et al. 1984",
        ),
        Definition(
            "pairs", "light–dark pairs in sight", "whole pairs across the longer side of the piece",
            source="over 5; over 8 if still: Harding et al. 2005",
        ),
        Definition(
            "steradians", "size in sight", "4·atan(ab / (D·√(a² + b² + D²))), a and b half sides",
            source="over 0.006 sr: Harding et al. 2005",
        ),
        Definition(
            "brightest", "luminance of the lightest band, cd/m²",
            "Y·E / π, a matt surface, Y the mean of the band by area, E the illuminance",
            source="over 50 cd/m²: Harding et al. 2005",
        ),
        Definition(
            "brightest_tone", "luminance of the lightest tone, cd/m²", "Y·E / π",
            "all tones that are laid",
            source="over 50 cd/m²: Harding et al. 2005; the worse of band and tone counts",
        ),
        Definition(
            "contrast", "Michelson contrast of the bands", "(Y_max − Y_min) / (Y_max + Y_min)",
            "means of all bands of both directions",
        ),
        Definition(
            "tone_contrast", "Michelson contrast of the tones",
            "(Y_max − Y_min) / (Y_max + Y_min)", "all tones that are laid",
        ),
        Definition("cautions", "how many cautions", "a whole number; none is no clearance"),
    )  # fmt: skip

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, one row."""
        names = ("cycles", "pairs", "steradians", "brightest", "brightest_tone", "contrast",
                 "tone_contrast")  # fmt: skip
        return {name: [getattr(self, name)] for name in names} | {"cautions": [len(self.cautions)]}

    def texts(self) -> Iterator[tuple[str, str, str]]:
        """Yield figure, value, and what the sources say beside it."""
        band, tone = (
            "light not stated" if np.isnan(value) else f"{value:.0f} cd/m²"
            for value in (self.brightest, self.brightest_tone)
        )
        yield "Light–dark pairs a degree", f"{self.cycles:.2f}", "worst near 3 (Wilkins 1984)"
        yield "Light–dark pairs in sight", str(self.pairs), "over 5; over 8 if still (Harding 2005)"
        yield "Size in sight", f"{self.steradians:.4f} sr", "over 0.006 sr (Harding 2005)"
        yield "Lightest band", band, "over 50 cd/m² (Harding 2005)"
        yield "Lightest tone", tone, "counts if it is the worse"
        yield "Contrast of the bands (Michelson)", f"{self.contrast:.2f}", "the more, the worse"
        tones = f"{self.tone_contrast:.2f}"
        yield "Contrast of the tones (Michelson)", tones, "counts if the worse"

    def __str__(self) -> str:
        noun = "caution" if len(self.cautions) == 1 else "cautions"
        return (
            f"striping of {self.check.size} at {self.distance}: {self.cycles:.2f} cycles a degree, "
            f"{self.pairs} pairs, {len(self.cautions)} {noun}; not a clearance"
        )

    def _repr_html_(self) -> str:
        notes = "".join(f"<li>{escape(note)}</li>" for note in self.cautions)
        shown = table([str(self)], (), self.texts())
        return f"{shown}<ul {AS_TYPED}>{notes}</ul><p>{escape(LIMITS)}</p>"


def _band_means(light: Floats, shares: Floats) -> Floats:
    """Mean luminance of each warp stripe and ground along the cloth, then of each weft one."""
    means = []
    for axis in (1, 0):
        share = shares.sum(axis=axis)
        laid = share > 0
        means.append((light * shares).sum(axis=axis)[laid] / share[laid])
    return np.concatenate(means)


def _michelson(light: float, dark: float) -> float:
    return (light - dark) / (light + dark) if light + dark > 0 else 0.0


def _pair_widths(bands: Bands, parts: int) -> list[int]:
    """Widths of every two neighbouring bands, the last and the first too, in parts of a check.

    Of one band all round there are none.
    """
    widths = [band.checks.numerator * (parts // band.checks.denominator) for band in joined(bands)]
    if len(widths) < 2:
        return []
    return [a + b for a, b in zip(widths, widths[1:] + widths[:1], strict=True)]


def striping(
    colourway: Colourway,
    check: Check,
    distance: Length | str,
    *,
    width: Length | str = "100 cm",
    height: Length | str = "100 cm",
    illuminance: float | None = None,
    still: bool = True,
) -> Striping:
    """Set a check beside the published consensus on patterns that provoke.

    Parameters
    ----------
    colourway : Colourway
    check : Check
        With as many stripes as the colourway has.
    distance : Length or str
        The closest that people are expected to be.
    width, height : Length or str
        Of the piece of cloth that is in sight.
    illuminance : float, optional
        Light on the cloth in lux, 0 to 200,000; without it the lightest band is taken to
        be above 50 cd/m², as daylight makes it.
    still : bool
        Whether the cloth hangs still: the consensus allows 8 pairs then, and 5 otherwise.

    Returns
    -------
    Striping
        With cautions where figures reach those of the sources. No caution is no
        clearance, and the result says so.

    Raises
    ------
    ArgumentError, LengthError
        For values out of range, and a check of another number of stripes.

    Examples
    --------
    >>> print(striping(Colourway("white", ["black"]), Check("1/16 in", 1), "400 mm"))
    striping of 1/16 in (1.5875 mm) at 400 mm (15.748 in): 2.20 cycles a degree, 314 pairs, \
4 cautions; not a clearance
    """
    require_type(colourway, "colourway", Colourway)
    bands_of(colourway, require_type(check, "check", Check))
    far, wide, high = Length(distance), Length(width), Length(height)
    for name, length in (("distance", far), ("width", wide), ("height", high)):
        if not length.exact > 0:
            raise ArgumentError(name, "above 0", str(length))
    parts = parts_of_a_check(check.warp_bands, check.weft_bands)
    part = check.size.exact / parts
    directions = [_pair_widths(bands, parts) for bands in (check.warp_bands, check.weft_bands)]
    means = [Fraction(sum(widths), len(widths)) for widths in directions if widths]
    mean = min(means) * part if means else None
    degree = _degree(far)
    local = [degree / float(n * part) for widths in directions for n in widths]
    # Solid angle of a rectangle seen square on from its middle.
    a, b, d = float(wide.exact) / 2, float(high.exact) / 2, float(far.exact)
    angle = 4 * float(np.arctan(a * b / (d * np.sqrt(a * a + b * b + d * d))))
    shares, light = area_shares(*check.counted_bands), relative_luminance(colourway.tones)
    bands, tones = _band_means(light, shares), light[shares > 0]
    brightest, darkest = float(bands.max()), float(bands.min())
    lux = float("nan")
    if illuminance is not None:
        lux = as_number(illuminance, "illuminance", 0, 200_000)
    made = Striping(
        check,
        far,
        wide,
        high,
        cycles=degree / float(mean) if mean else 0.0,
        pairs=floor(max(wide.exact, high.exact) / mean) if mean else 0,
        steradians=angle,
        contrast=_michelson(brightest, darkest),
        # A matt surface: luminance = reflectance · illuminance / π.
        brightest=brightest * lux / pi,
        brightest_tone=float(tones.max()) * lux / pi,
        tone_contrast=_michelson(float(tones.max()), float(tones.min())),
        cautions=(),
    )
    if not local:  # plain cloth
        return made
    worst = min(local, key=lambda cycles: abs(log(cycles / _WORST)))
    return replace(made, cautions=_cautions(made, worst, still=still))


def _cautions(made: Striping, worst: float, *, still: bool) -> tuple[str, ...]:
    """What the sources say of the figures; ``worst`` is the frequency closest to their worst."""
    if max(made.contrast, made.tone_contrast) < INVISIBLE:
        return ()
    most = _PAIRS_STILL if still else _PAIRS_MOVING
    # The worse of the two counts, and unknown counts as bright.
    bright = not max(made.brightest, made.brightest_tone) <= _BRIGHT
    out = []
    if made.pairs > most and made.steradians > _STERADIANS and bright:
        unknown = np.isnan(made.brightest)
        note = " (the light was not stated, so it is assumed)" if unknown else ""
        out.append(
            f"More than {most} light–dark pairs, more than {_STERADIANS} sr in sight and a "
            f"lightest band or tone above {_BRIGHT:g} cd/m²{note}: what Harding et al. 2005 name "
            "as a hazard if the stripes are clearly seen for half a second or more."
        )
    # An octave either way of the worst is a choice of ours; the sources give no edges.
    if _WORST / 2 <= worst <= _WORST * 2:
        out.append(
            f"{worst:.2f} light–dark pairs a degree is within an octave of 3, where Wilkins "
            "et al. 1984 found the most discomfort. Nearer or farther is not safe, only less."
        )
    contrast = max(made.contrast, made.tone_contrast)
    if contrast > 0.5:
        whose = "bands" if made.contrast > 0.5 else "tones"
        out.append(
            f"The {whose} differ strongly (Michelson {contrast:.2f}); a lower strength or a "
            "closer ground lessens what provokes."
        )
    if still and made.pairs > _PAIRS_MOVING:
        out.append(
            f"Hung where it moves, or walked past, it counts as moving: the limit is then "
            f"{_PAIRS_MOVING} pairs, and this has {made.pairs}."
        )
    return tuple(out)
