"""The tones of a cloth under the lights that a buyer names, from spectra."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, ClassVar, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_number, as_tuple
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.ciede2000 import ciede2000_columns, delta_e_2000
from checkcloth.colour.css import shown_rgb
from checkcloth.colour.illuminant import between_whites
from checkcloth.colour.reflectance import (
    absorption_to_reflectance,
    reflectance_to_absorption,
    reflectances,
)
from checkcloth.colour.spaces import D65_WHITE
from checkcloth.colour.spectra.accuracy import recovered_error
from checkcloth.colour.spectra.lights import (
    BUYERS_LIGHTS,
    as_light,
    spectral_lab,
    spectral_xyz,
    white_of,
)
from checkcloth.colour.wide import best_reflectance
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import table
from checkcloth.files.progress import Progress, progress_of

ONE_COLOUR = 1.0  # ΔE00: two colours match
_PARTED = 2.0  # and no longer do (both are choices of ours)
_LEAST = 1e-4
# How far a colour shifts from one light to another, in words: up to ΔE00, choices of ours.
_SHIFT_WORDS = ((1.0, "hardly"), (2.0, "a little"), (4.0, "clearly"), (float("inf"), "strongly"))
# Pairs of colours that are compared at a time.
_PAIRS = 1 << 18
_DE2000 = "CIEDE2000: ISO/CIE 11664-6; Sharma, Wu and Dalal 2005"


class ToneSpectra(NamedTuple):
    """Reflectances (W+1, F+1, 36) of the tones, and whether some had to be recovered."""

    reflectance: Floats
    recovered: bool


def tone_spectra(
    colourway: Colourway, spectra: Mapping[str, ArrayLike] | None = None
) -> ToneSpectra:
    """Return the reflectance of every tone, mixed wavelength by wavelength.

    Parameters
    ----------
    colourway : Colourway
    spectra : mapping of str to array_like, shape (36,), optional
        Measured reflectances of its colours by name, as :func:`read_spectra` gives them. For one
        that is not there stands the colour's own, or else the smoothest that looks like it.

    Notes
    -----
    ``source-over`` and ``multiply`` mix what a screen shows, which has no spectrum: of these the
    smoothest of each tone is returned.
    """
    measured = spectra or {}
    mixing = find_mixing(colourway.mixing)
    colours = (colourway.ground, *colourway.inks)
    if mixing.space == "as-is":
        return ToneSpectra(reflectances(colourway.tones), True)
    lone, guessed = [], []
    for one in colours:
        values, guess = (measured[one.name], False) if one.name in measured \
            else best_reflectance(one)  # fmt: skip
        lone.append(np.asarray(values, dtype=np.float64))
        guessed.append(guess)
        if lone[-1].shape != (36,):
            raise ArgumentError(f"spectra[{one.name!r}]", "36 values", words=f"{lone[-1].shape}")
    recovered = any(guessed)
    held = np.clip(np.array(lone), _LEAST, 1)
    n = colourway.yule_nielsen if mixing.uses_yule_nielsen else 1.0
    encoded = reflectance_to_absorption(held) if mixing.space == "absorption" else held ** (1 / n)
    warp = encoded[None, 1 : len(colourway.stripes) + 1]
    weft = (
        encoded[None, [ink + 1 for ink in colourway.weft_inks]] if colourway.weft_stripes else None
    )
    laid = mixing.lay(
        encoded[None, 0], warp, np.array([colourway.strength]), colourway.warp_share, weft,
        colourway.stock,
    )[0]  # fmt: skip
    mixed = absorption_to_reflectance(laid) if mixing.space == "absorption" else laid**n
    return ToneSpectra(np.clip(mixed, 0, 1), recovered)


def measured_spectra(colourway: Colourway) -> Floats | None:
    """Return the reflectances of its tones where all of its colours carry measured ones; or None.

    ``source-over`` and ``multiply`` mix what a screen shows, and have none.
    """
    known = all(one.reflectance is not None for one in colourway.colours)
    if find_mixing(colourway.mixing).space == "as-is" or not known:
        return None
    return tone_spectra(colourway).reflectance


def shift_words(shift: float) -> str:
    """Say how much a shift of ΔE00 is.

    >>> shift_words(0.4), shift_words(2.6)
    ('hardly', 'clearly')
    """
    return next(words for most, words in _SHIFT_WORDS if shift <= most)


class Parting(NamedTuple):
    """Two tones that match under one light and part under another."""

    one: str
    two: str
    match_light: str
    match: float
    part_light: str
    part: float


class Partings(Tabular, tuple[Parting, ...]):
    """Pairs that match under one light and part under another, the widest parted first.

    A tuple that is also a table.
    """

    made_by: ClassVar[str] = "parting_pairs"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("one", "name of one colour, or tone", "as it was given"),
        Definition("two", "name of the other", "as it was given"),
        Definition("match_light", "the light under which they are nearest", "one of the lights"),
        Definition(
            "match_de2000", "how far apart they are under it",
            "ΔE00 of their L*a*b* relative to that light's white, at most what counts as a match",
            "the two", source=_DE2000,
        ),
        Definition("part_light", "the light under which they are farthest", "one of the lights"),
        Definition(
            "part_de2000", "how far apart they are under that",
            "ΔE00, from where they count as parted",
            "the two", source=_DE2000,
        ),
    )  # fmt: skip

    heads = ("One", "The other", "Match under", "ΔE00", "Part under", "ΔE00")

    @property
    def words(self) -> str:
        """How many there are, in one sentence."""
        if not self:
            return "No two match under one light and part under another"
        verb = "pair matches" if len(self) == 1 else "pairs match"
        part = "parts" if len(self) == 1 else "part"
        return f"{len(self)} {verb} under one light and {part} under another"

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a pair."""
        return {
            "one": [pair.one for pair in self],
            "two": [pair.two for pair in self],
            "match_light": [pair.match_light for pair in self],
            "match_de2000": np.array([pair.match for pair in self]),
            "part_light": [pair.part_light for pair in self],
            "part_de2000": np.array([pair.part for pair in self]),
        }

    def __str__(self) -> str:
        return self.words

    def texts(self) -> Iterator[tuple[str, ...]]:
        """Yield the rows of the table as texts."""
        for one in self:
            match, part = f"{one.match:.1f}", f"{one.part:.1f}"
            yield one.one, one.two, one.match_light, match, one.part_light, part

    def _repr_html_(self) -> str:
        return table([self.words], self.heads, self.texts(), right=(3, 5), row_heads=True)


#: Columns of a :class:`LightTable`; the last once for each light but the first.
LIGHT_COLUMNS = (
    Definition("tone", "name of the tone", "as the colourway has it"),
    *(
        Definition(
            f"{axis}*", f"{axis}* under the first light",
            "CIELAB of the tone's reflectance, relative to that light's white",
            source="CIELAB: ISO/CIE 11664-4",
        )
        for axis in "Lab"
    ),
    Definition(
        "de2000_LIGHT", "how far the tone shifts under that light",
        "ΔE00 between its L*a*b* under that light and under the first, each relative to the "
        "light's own white",
        "a tone, and itself", source=_DE2000,
    ),
)  # fmt: skip


@dataclass(frozen=True, repr=False, eq=False)
class LightTable(Tabular):
    """The tones of a colourway under several lights.

    Attributes
    ----------
    colourway : Colourway
    lights : tuple of str
    observer : int
    lab : ndarray, shape (L, W+1, F+1, 3)
        Relative to each light's white.
    shifts : ndarray, shape (L, W+1, F+1)
        ΔE00 of each tone from itself under the first light: how inconstant it is.
    recovered : bool
        Whether spectra were recovered from sRGB: then it is a guess at best.
    """

    colourway: Colourway
    lights: tuple[str, ...]
    observer: int
    lab: Floats
    shifts: Floats
    recovered: bool

    made_by: ClassVar[str] = "under_lights"

    @property
    def definitions(self) -> tuple[Definition, ...]:
        """What each of its columns is."""
        *own, shift = LIGHT_COLUMNS
        return (*own, *(replace(shift, column=f"de2000_{light}") for light in self.lights[1:]))

    @property
    def worst(self) -> tuple[str, str, float]:
        """The tone that shifts most, under which light, and by how much."""
        light, warp, weft = np.unravel_index(int(self.shifts.argmax()), self.shifts.shape)
        tone = self.colourway.tone_label(int(warp), int(weft))
        return tone, self.lights[int(light)], float(self.shifts.max())

    @property
    def partings(self) -> Partings:
        """Pairs of tones that are one colour under one of the lights and two under another."""
        tones = self.colourway.unique_tones
        labs = np.array([self.lab[:, tone.warp, tone.weft] for tone in tones])
        return Partings(_partings([tone.name for tone in tones], labs, self.lights))

    @property
    def words(self) -> str:
        """The table in one sentence."""
        tone, light, shift = self.worst
        first = (
            f"{tone} shifts most, {shift_words(shift)}: ΔE00 {shift:.1f} from {self.lights[0]} "
            f"to {light}"
        )
        partings = self.partings
        said = f"; {partings.words}" if partings else ""
        basis = "spectra recovered from sRGB, a guess" if self.recovered else "measured spectra"
        return f"{first}{said} ({self.observer}° observer, {basis})"

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a tone: its Lab under the first light, and its shifts."""
        tones = self.colourway.unique_tones
        lab = [self.lab[0, tone.warp, tone.weft] for tone in tones]
        return {
            "tone": [tone.name for tone in tones],
            **{axis: [float(one[n]) for one in lab] for n, axis in enumerate(("L*", "a*", "b*"))},
            **{
                f"de2000_{light}": [float(shift[tone.warp, tone.weft]) for tone in tones]
                for light, shift in zip(self.lights[1:], self.shifts[1:], strict=True)
            },
        }

    def texts(self) -> Iterator[list[str]]:
        """Yield each tone: its Lab under the first light, and its shift under the others."""
        for tone in self.colourway.unique_tones:
            lab = self.lab[0, tone.warp, tone.weft]
            moves = self.shifts[1:, tone.warp, tone.weft]
            shown = [f"{value + 0.0:.1f}" for value in (*lab.round(1), *moves)]
            yield [tone.name, *shown]

    def text(self) -> str:
        """Return the table as plain text, the sentence first."""
        rows = [[*self.heads], *self.texts()]
        widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
        lines = ("  ".join(c.rjust(w) for c, w in zip(row, widths, strict=True)) for row in rows)
        return "\n".join([self.words, *lines])

    @property
    def heads(self) -> tuple[str, ...]:
        """Headings of :meth:`rows`."""
        lead = (f"{axis} {self.lights[0]}" for axis in ("L*", "a*", "b*"))
        return ("tone", *lead, *(f"ΔE00 {light}" for light in self.lights[1:]))

    def __str__(self) -> str:
        return self.words

    def _repr_html_(self) -> str:
        width = len(self.lights) + 3
        return table([self.words], self.heads, self.texts(), right=range(1, width), row_heads=True)


def under_lights(
    colourway: Colourway,
    lights: Iterable[str] = BUYERS_LIGHTS,
    *,
    observer: int = 2,
    spectra: Mapping[str, ArrayLike] | None = None,
) -> LightTable:
    """Look at a colourway under several lights.

    Parameters
    ----------
    colourway : Colourway
    lights : iterable of str
        Two or more of ``LIGHTS``; shifts are from the first.
    observer : int
        2 or 10 degrees.
    spectra : mapping, optional
        See :func:`tone_spectra`.

    Raises
    ------
    ArgumentError
        For fewer than two lights, unknown ones, another observer.

    Examples
    --------
    >>> found = under_lights(Colourway("white", ["teal"], 1.0, "pigment"))
    >>> found.worst[:2], found.recovered
    (('teal on white', 'A'), True)
    """
    names = tuple(dict.fromkeys(as_light(one, "lights") for one in as_tuple(lights, "lights")))
    if len(names) < 2:
        raise ArgumentError("lights", "two or more", names)
    mixed = tone_spectra(colourway, spectra)
    lab = np.stack([spectral_lab(mixed.reflectance, light, observer) for light in names])
    shifts = np.stack([delta_e_2000(lab[0], one) for one in lab])
    degrees = 10 if str(observer).startswith("10") else 2
    return LightTable(colourway, names, degrees, lab, shifts, mixed.recovered)


class Inconstancy(NamedTuple):
    """What of a colourway shifts most under other lights; made by :func:`inconstancy`."""

    name: str
    first: str
    light: str
    shift: float
    observer: int
    recovered: bool

    @property
    def words(self) -> str:
        """In one sentence, with how sure it is."""
        basis = "of a measured spectrum"
        if self.recovered:
            error = recovered_error(self.light, self.observer)
            basis = f"of a recovered spectrum, a guess: 19 in 20 within ΔE00 {error:.1f}"
        return (
            f"{self.name} shifts most, {shift_words(self.shift)}: ΔE00 {self.shift:.1f} from "
            f"{self.first} to {self.light} ({self.observer}°; {basis})"
        )

    @property
    def short(self) -> str:
        """For a line, the name last: ``ΔE00 5.5 to A, strongly (recovered ±4.5): teal``."""
        error = f"recovered ±{recovered_error(self.light, self.observer):.1f}"
        basis = error if self.recovered else "measured"
        how = shift_words(self.shift)
        return f"ΔE00 {self.shift:.1f} to {self.light}, {how} ({basis}): {self.name}"


def inconstancy(
    colourway: Colourway, lights: Sequence[str] = BUYERS_LIGHTS, observer: int = 2
) -> Inconstancy:
    """Say what of a colourway shifts most under other lights.

    Of the tones, where their mixing has spectra; of the colours, where it mixes what a screen
    shows (``source-over``, ``multiply``).

    >>> inconstancy(Colourway("white", ["teal"], 1.0)).words
    'teal shifts most, strongly: ΔE00 5.5 from D65 to A (2°; of a recovered spectrum, a guess: \
19 in 20 within ΔE00 4.5)'
    """
    if find_mixing(colourway.mixing).space == "as-is":
        found = {one.name: best_reflectance(one) for one in colourway.colours}
        recovered = any(guess for _, guess in found.values())
        spectra = [spectrum for spectrum, _ in found.values()]
        labs = np.stack([spectral_lab(spectra, light, observer) for light in lights])
        shifts = np.stack([delta_e_2000(labs[0], lab) for lab in labs])
        at, colour = np.unravel_index(int(shifts.argmax()), shifts.shape)
        name, light, shift = [*found][int(colour)], lights[int(at)], float(shifts.max())
    else:
        lit = under_lights(colourway, lights, observer=observer)
        (name, light, shift), recovered = lit.worst, lit.recovered
    return Inconstancy(name, lights[0], light, shift, observer, recovered)


def seen_under(colourway: Colourway, light: str) -> Colourway:
    """Return a colourway with each colour as it looks under a light, to an eye used to that light.

    Its reflectance under the light (2°), measured or recovered, and Bradford's transform from that
    white to D65. Mixing takes those colours as any: an estimate, nearest where light is mixed.

    >>> white = seen_under(Colourway("white", ["teal"]), "A").ground.rgb
    >>> [round(channel, 2) for channel in white]
    [1.0, 1.0, 1.0]
    """
    name = as_light(light)
    if name == "D65":
        return colourway
    return colourway.with_(
        ground=looks_under(colourway.ground, name),
        stripes=[looks_under(one, name) for one in colourway.stripes],
        weft_stripes=tuple(looks_under(one, name) for one in colourway.weft_stripes),
    )


@lru_cache(maxsize=8192)
def looks_under(colour: NamedColour, light: str) -> NamedColour:
    """Return a colour as it looks under one of ``LIGHTS``; see :func:`seen_under`."""
    if light == "D65":
        return colour
    bring = between_whites(white_of(light), D65_WHITE).T
    xyz = spectral_xyz(best_reflectance(colour)[0], light) @ bring
    return NamedColour(colour.name, shown_rgb(xyz))


def parting_pairs(
    spectra: Mapping[str, ArrayLike] | Iterable[NamedColour],
    lights: Iterable[str] = BUYERS_LIGHTS,
    *,
    observer: int = 2,
    match: float = ONE_COLOUR,
    part: float = _PARTED,
    progress: bool | Progress = False,
) -> Partings:
    """Return the pairs of colours that match under one light and part under another.

    Parameters
    ----------
    spectra : mapping of str to array_like, shape (36,), or Palette or iterable of NamedColour
        Of a palette, recovered reflectances stand for those that were not measured: then it
        is a guess.
    lights : iterable of str
    observer : int
    match, part : float
        ΔE00 up to which two match, and from which they have parted.
    progress : bool or callable
        A progress bar with an estimate, or ``progress(done, total)`` in pairs that are
        compared: those that lightness does not tell apart.

    Examples
    --------
    >>> parting_pairs({"one": [0.2] * 36, "two": [0.2] * 36})
    <No two match under one light and part under another>
    """
    lit = tuple(as_light(one, "lights") for one in as_tuple(lights, "lights"))
    if isinstance(spectra, Mapping):
        names, values = [*spectra], [np.asarray(one, dtype=float) for one in spectra.values()]
    else:
        colours = as_tuple(spectra, "spectra", NamedColour)
        names = [one.name for one in colours]
        values = [best_reflectance(one)[0] for one in colours]
    low, high = as_number(match, "match", 0, 100), as_number(part, "part", 0, 100)
    if not names or not lit:
        return Partings()
    labs = np.stack([spectral_lab(np.array(values), light, observer) for light in lit], axis=1)
    return Partings(_partings(names, labs, lit, low, high, progress))


def _partings(
    names: list[str], labs: Floats, lights: tuple[str, ...],
    match: float = ONE_COLOUR, part: float = _PARTED, progress: bool | Progress = False,
) -> Iterator[Parting]:  # fmt: skip
    """Pairs of Lab (K, L, 3), the widest parted first; of pairs alike in the order of names."""
    columns = [np.ascontiguousarray(lab.T) for lab in labs.transpose(1, 0, 2)]
    every = [_lightness_neighbours(lab[0], match) for lab in columns]
    rows, apart = [np.empty((2, 0), dtype=np.intp)], [np.empty((len(lights), 0))]
    total = sum(int(near.counts.sum()) for near in every)
    with progress_of(progress, total, "pairs", "comparing colours") as step:
        for number, near in enumerate(every):
            for pairs in near.blocks():
                step(pairs.shape[1])
                own = _apart(columns[number], pairs)
                pairs = pairs[:, own <= match]
                under = np.stack([_apart(lab, pairs) for lab in columns])
                # A pair that matches under several lights is taken under the first of them.
                mine = ((under <= match).argmax(axis=0) == number) & (under.max(axis=0) >= part)
                rows.append(pairs[:, mine])
                apart.append(under[:, mine])
    (i, j), under = np.concatenate(rows, axis=1), np.concatenate(apart, axis=1)
    most, least = under.max(axis=0), under.min(axis=0)
    for pair in np.lexsort((j, i, -most)).tolist():
        at = under[:, pair]
        yield Parting(
            names[i[pair]], names[j[pair]], lights[int(at.argmin())], float(least[pair]),
            lights[int(at.argmax())], float(most[pair]),
        )  # fmt: skip


def _apart(lab: Floats, pairs: NDArray[np.intp]) -> Floats:
    """ΔE00 of pairs (2, P) of columns (3, K)."""
    return ciede2000_columns(lab[:, pairs[0]], lab[:, pairs[1]])


class _Neighbours(NamedTuple):
    """Colours by lightness, and how many after each are near enough in it to match."""

    order: NDArray[np.intp]
    counts: NDArray[np.intp]

    def blocks(self) -> Iterator[NDArray[np.intp]]:
        """Yield these pairs (2, P), the earlier colour first."""
        ends = np.cumsum(self.counts)
        start = 0
        while start < len(ends):
            before = int(ends[start - 1]) if start else 0
            stop = max(start + 1, int(np.searchsorted(ends, before + _PAIRS, "right")))
            counts = self.counts[start:stop]
            one = np.repeat(np.arange(start, stop), counts)
            first = ends[start:stop] - counts - before
            two = one + 1 + np.arange(len(one)) - np.repeat(first, counts)
            yield np.sort(self.order[np.stack([one, two])], axis=0)
            start = stop


def _lightness_neighbours(lightness: Floats, match: float) -> _Neighbours:
    """Pairs of colours (K,) that can be within ``match`` of one another.

    CIEDE2000 is at least |ΔL*| / S_L, since what chroma and hue add is never negative
    (|R_T| < 2), and S_L grows with the distance of the mean from 50.
    """
    order = np.argsort(lightness, kind="stable")
    rising = lightness[order]
    from_mid = float(np.abs(lightness - 50).max(initial=0)) ** 2
    reach = match * (1 + 0.015 * from_mid / np.sqrt(20 + from_mid)) * (1 + 1e-9)
    last = np.searchsorted(rising, rising + reach, "right")
    return _Neighbours(order, last - np.arange(1, len(rising) + 1))
