"""A measured print condition: a press, inks and paper, as far as somebody has measured them.

The cellular idea of Neugebauer (1937) with Yule and Nielsen's exponent: each patch is a mosaic
of paper, solids and overprints ("primaries") in Demichel's shares, summed in XYZ^(1/2). How large a
dot prints is a curve for each ink and each channel, from its ramp; where ramps were also
measured over another solid, a curve for that too (as Hersch and Crété, 2005, do for what they
call ink spreading). What was not measured is estimated as :mod:`checkcloth.colour.ink` does.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from os import PathLike
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_fraction, as_number, require_type
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.illuminant import WHITES, adapt_xyz, as_illuminant
from checkcloth.colour.ink import LONGEST_NAME, Stock, effective_areas
from checkcloth.colour.spaces import (
    into_srgb,
    lab_to_xyz,
    linear_to_srgb,
    rec2020_to_xyz,
    xyz_to_lab,
    xyz_to_linear,
    xyz_to_rec2020,
)
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.files.cgats import CgatsTable, cgats_text, read_cgats

__all__ = ["PrintCondition", "PrintedColour", "chart_cgats"]

MOST_INKS = 8  # 256 primaries
# Weights by which a channel that an ink hardly changes takes the common curve of its channels,
# and a curve over another solid that of the ink on paper.
_SHARED, _SHARED_OVER = 0.003, 0.01
# Readings of one patch that lie farther apart than this are no readings of one patch (choice).
_FAR_APART = 3.0
# A tint that covers less than a smaller one by more than this turns back (choice).
_TURNS_BACK = 0.03
_INKS = {"C": "cyan", "M": "magenta", "Y": "yellow", "K": "black"}
_DEVICE = re.compile(r"CMYK?_([CMYK])|(\d{1,2})CLR_(\d{1,2})")

# p95 of ΔE00 over all patches of nine measured sets by what was known (tests/bench/bench_ink.py).
BASIS_ERRORS = {
    "colours only": 7.4,
    "stock": 5.1,
    "overprints": 4.5,
    "ramps": 7.2,
    "ramps and overprints": 1.9,
    "ramps, overprints and ramps over solids": 1.5,
}

Curve = tuple[Floats, Floats]  # tone values (K,), areas (K, 3)


@dataclass(frozen=True, eq=False)
class PrintedColour:
    """What a condition prints.

    Attributes
    ----------
    xyz, lab : ndarray, shape (3,)
        Under D50 and the 2° observer, white Y = 1.
    rgb : ndarray, shape (3,)
        Encoded sRGB, brought into the gamut where it lies outside.
    in_srgb : bool
        Whether sRGB can show it as it is.
    """

    xyz: Floats
    lab: Floats
    rgb: Floats
    in_srgb: bool


@dataclass(frozen=True, repr=False, eq=False)
class PrintCondition:
    """Inks on a paper, printed by one press.

    Parameters
    ----------
    paper : array_like, shape (3,)
        XYZ, white Y = 1.
    solids : mapping of str to array_like, shape (3,)
        XYZ of each ink printed solid; 1 to 8 inks, in printing order.
    overprints : mapping of tuples of names to array_like, optional
        XYZ of solids printed over each other, as far as measured.
    ramps : mapping of str to sequences of (tone value, XYZ), optional
        Tints of an ink on the paper, tone values 0 to 1.
    ramps_over : mapping of (ink, other ink) to such sequences, optional
        Tints of an ink printed over the solid of another.
    white : str
        What XYZ were measured under: ``"D50"`` or ``"D65"``; 2° observer.
    stock : str or Stock
        What is printed on, for inks without a ramp.
    name : str

    Raises
    ------
    ArgumentError
        For inks, overprints or ramps that do not fit each other; a ramp that turns back.

    Examples
    --------
    >>> shop = PrintCondition([0.82, 0.85, 0.70], {"brick": [0.20, 0.12, 0.06]}, name="Halt press")
    >>> print(shop)
    Halt press: brick on paper, from colours only
    >>> shop.predict({"brick": 0.5}).lab.round(0).tolist()
    [68.0, 22.0, 6.0]
    """

    paper: Floats
    solids: Mapping[str, Floats]
    stock: Stock
    name: str
    # Square roots of XYZ (2^k, 3) of all solids over each other, paper first, and which of
    # them were measured; by bits, the first ink the highest.
    _primaries: Floats
    _measured: tuple[bool, ...]
    _curves: tuple[Curve, ...]
    _over: Mapping[tuple[int, int], Curve]
    _ramped: tuple[bool, ...]

    def __init__(
        self,
        paper: ArrayLike,
        solids: Mapping[str, ArrayLike],
        overprints: Mapping[tuple[str, ...], ArrayLike] | None = None,
        ramps: Mapping[str, Sequence[tuple[float, ArrayLike]]] | None = None,
        ramps_over: Mapping[tuple[str, str], Sequence[tuple[float, ArrayLike]]] | None = None,
        white: str = "D50",
        stock: str | Stock = "",
        name: str = "",
    ) -> None:
        light = as_illuminant(white, "white")
        given_inks = _items(solids, "solids")
        named = [ink for ink, _ in given_inks if isinstance(ink, str) and ink]
        if not 1 <= len(given_inks) <= MOST_INKS or len(named) < len(given_inks):
            raise ArgumentError("solids", f"1 to {MOST_INKS} inks by name", solids)
        known: dict[tuple[str, ...], Floats] = {(): _as_xyz(paper, "paper", light)}
        for ink, xyz in solids.items():
            known[ink,] = _as_xyz(xyz, f"solids[{ink!r}]", light)
        for key, xyz in _items(overprints, "overprints"):
            known[_in_order(key, tuple(solids))] = _as_xyz(xyz, f"overprints[{key!r}]", light)
        inks = tuple(solids)
        set_ = object.__setattr__
        set_(self, "paper", known[()])
        set_(self, "solids", {ink: known[ink,] for ink in inks})
        set_(self, "stock", Stock.of(stock))
        set_(self, "name", require_type(name, "name", str).strip())
        primaries, measured = _all_primaries(inks, known, self.stock)
        set_(self, "_primaries", np.sqrt(primaries))
        set_(self, "_measured", measured)
        given = {
            ink: _as_ramp(ramp, f"ramps[{ink!r}]", light) for ink, ramp in _items(ramps, "ramps")
        }
        set_(self, "_ramped", tuple(ink in given for ink in inks))
        for ink in given:
            _index(ink, inks, "ramps")
        set_(
            self, "_curves", tuple(self._curve_of(k, given.get(ink)) for k, ink in enumerate(inks))
        )
        over = {}
        for pair, ramp in _items(ramps_over, "ramps_over"):
            if not isinstance(pair, tuple) or len(pair) != 2:
                raise ArgumentError("ramps_over", "by (ink, ink under it)", pair)
            at = (_index(pair[0], inks, "ramps_over"), _index(pair[1], inks, "ramps_over"))
            over[at] = self._curve_over(at, _as_ramp(ramp, f"ramps_over[{pair!r}]", light))
        set_(self, "_over", over)

    # -- how large dots print --------------------------------------------------------------------

    def _at(self, *inks: int) -> Floats:
        """Square root of XYZ of the primary made of these inks."""
        number = sum(1 << (len(self.solids) - 1 - ink) for ink in inks)
        return np.asarray(self._primaries[number])

    def _curve_of(self, ink: int, ramp: Curve | None) -> Curve:
        paper, solid = self._at(), self._at(ink)
        if ramp is None:
            steps = np.linspace(0, 1, 33)
            wide = [xyz_to_rec2020(adapt_xyz(root**2, "D50", "D65")) for root in (paper, solid)]
            areas = effective_areas(wide[0], [wide[1]], steps[:, None], self.stock)
            return steps, np.repeat(areas, 3, axis=1)
        name = f"ramps[{[*self.solids][ink]!r}]"
        pulled, span = (paper - np.sqrt(ramp[1])) * (paper - solid), (paper - solid) ** 2
        common = pulled.sum(axis=1) / span.sum()
        _check_rising(ramp[0], common, name)
        return _ended(ramp[0], (pulled + _SHARED * common[:, None]) / (span + _SHARED))

    def _curve_over(self, at: tuple[int, int], ramp: Curve) -> Curve:
        ink, under = at
        below, above = self._at(under), self._at(ink, under)
        usual = _areas_at(self._curves[ink], ramp[0]).mean(axis=1)
        pulled, span = (below - np.sqrt(ramp[1])) * (below - above), (below - above) ** 2
        common = (pulled.sum(axis=1) + _SHARED_OVER * usual) / (span.sum() + _SHARED_OVER)
        return _ended(ramp[0], (pulled + _SHARED * common[:, None]) / (span + _SHARED))

    def _areas(self, tone_values: Floats) -> Floats:
        """Areas (M, k, 3) of tone values (M, k), in each channel."""
        inks = range(tone_values.shape[1])
        alone = np.stack([_areas_at(self._curves[i], tone_values[:, i]) for i in inks], axis=1)
        if not self._over:
            return alone
        shift = {
            (i, j): _areas_at(curve, tone_values[:, i]) - alone[:, i]
            for (i, j), curve in self._over.items()
        }
        areas = alone
        for _ in range(3):  # how much an ink lies over others hangs on how large those print
            areas = np.stack([self._shifted(i, areas, alone, shift) for i in inks], axis=1)
        return areas

    def _shifted(
        self, ink: int, areas: Floats, alone: Floats, shift: Mapping[tuple[int, int], Floats]
    ) -> Floats:
        """Areas of an ink over what lies under it: the mean of its shifts over those solids."""
        others = [j for j in range(areas.shape[1]) if j != ink]
        total = alone[:, ink].copy()
        for on in product((0, 1), repeat=len(others)):
            under = [j for j, bit in zip(others, on, strict=True) if bit and (ink, j) in shift]
            if under:
                bits = zip(others, on, strict=True)
                share = np.prod(
                    [areas[:, j] if bit else 1 - areas[:, j] for j, bit in bits], axis=0
                )
                total += share * sum(shift[ink, j] for j in under) / len(under)
        return np.clip(total, 0, 1)

    # -- what comes out --------------------------------------------------------------------------

    def xyz_of(self, tone_values: ArrayLike) -> Floats:
        """Return XYZ (..., 3), D50, white Y = 1, of nominal tone values (..., k) in 0–1."""
        values = as_fraction(tone_values, "tone_values")
        if values.ndim == 0 or values.shape[-1] != len(self.solids):
            words = f"shape {values.shape}"
            raise ArgumentError("tone_values", f"of shape (..., {len(self.solids)})", words=words)
        areas = self._areas(values.reshape(-1, len(self.solids)))
        # Demichel's sum, ink by ink: of 2^k primaries half are left after each.
        left = np.broadcast_to(self._primaries, (len(areas), *self._primaries.shape))
        for ink in range(areas.shape[1]):
            half = left.shape[1] // 2
            area = areas[:, ink, None]
            left = (1 - area) * left[:, :half] + area * left[:, half:]
        return np.asarray(left[:, 0] ** 2).reshape(*values.shape[:-1], 3)

    def predict(self, tone_values: Mapping[str, float]) -> PrintedColour:
        """Return what these inks print together, by name: nominal tone values 0 to 1."""
        values = np.zeros(len(self.solids))
        for ink, value in tone_values.items():
            values[_index(ink, tuple(self.solids), "tone_values")] = as_fraction(value, ink)
        xyz = self.xyz_of(values)
        linear = xyz_to_linear(adapt_xyz(xyz, "D50", "D65"))
        inside = bool(((linear >= -1e-6) & (linear <= 1 + 1e-6)).all())
        rgb = np.clip(linear_to_srgb(into_srgb(linear)), 0, 1)
        return PrintedColour(xyz, xyz_to_lab(xyz, WHITES["D50"]), rgb, inside)

    def cloth_xyz(
        self, stripes: Iterable[Mapping[str, float]], ground: Mapping[str, float] | None = None
    ) -> Floats:
        """Return XYZ (N+1, N+1, 3), D50, of a check whose stripes are inks of this condition.

        Parameters
        ----------
        stripes : iterable of mappings of ink names to tone values
        ground : such a mapping, optional
            Printed all over; without it the paper.

        Notes
        -----
        Each ink has one plate: where two of ground, warp and weft take the same ink, its plate
        carries 1 − (1−α)(1−β), as independent dots would cover.
        """
        return self.xyz_of(self.cloth_tone_values(stripes, ground))

    def cloth_tone_values(
        self,
        stripes: Iterable[Mapping[str, float]],
        ground: Mapping[str, float] | None = None,
        weft_stripes: Iterable[Mapping[str, float]] | None = None,
    ) -> Floats:
        """Return nominal tone values (W+1, F+1, k) of the plates; see :meth:`cloth_xyz`."""
        warp = self._rows(stripes, "stripes")
        weft = warp if weft_stripes is None else self._rows(weft_stripes, "weft_stripes")
        base = 1 - self._rows([ground or {}], "ground")[1]
        return np.asarray(1 - base * (1 - warp[:, None]) * (1 - weft[None]))

    def _rows(self, stripes: Iterable[Mapping[str, float]], name: str) -> Floats:
        """Tone values (1+N, k) of stripes by names of inks, the first row none."""
        inks, rows = tuple(self.solids), [np.zeros(len(self.solids))]
        for number, stripe in enumerate(stripes, start=1):
            if not isinstance(stripe, Mapping):
                raise ArgumentError(name, "mappings of names of inks to tone values", stripe)
            rows.append(np.zeros(len(inks)))
            for ink, value in stripe.items():
                at = _index(ink, inks, f"{name}[{number}]")
                rows[-1][at] = as_fraction(value, f"{name}[{number}]")
        return np.array(rows)

    def area_of(self, ink: str, tone_value: ArrayLike) -> Floats:
        """Return what share of the paper a tint of an ink covers in print, of any shape.

        By its own curve, the mean of its channels.
        """
        values = as_fraction(tone_value, "tone_value")
        curve = self._curves[_index(ink, tuple(self.solids), "ink")]
        areas = _areas_at(curve, values.reshape(-1)).mean(axis=-1)
        return np.asarray(areas.reshape(values.shape))

    def tone_value_for(self, ink: str, area: ArrayLike) -> Floats:
        """Return the tone value in the file that covers such a share in print: the way back.

        Examples
        --------
        >>> shop = PrintCondition([0.82, 0.85, 0.70], {"brick": [0.20, 0.12, 0.06]})
        >>> shop.tone_value_for("brick", shop.area_of("brick", 0.4)).round(6).item()
        0.4
        """
        wanted = as_fraction(area, "area")
        curve = self._curves[_index(ink, tuple(self.solids), "ink")]
        # Readings scatter: where a curve stands still, the least tone value that covers as much.
        areas = np.maximum.accumulate(curve[1].mean(axis=-1))
        rising = np.concatenate([[True], np.diff(areas) > 1e-9])
        found = np.interp(wanted.reshape(-1), areas[rising], curve[0][rising])
        return np.asarray(np.where(wanted.reshape(-1) >= 1, 1.0, found).reshape(wanted.shape))

    def overprint(self, *inks: str) -> tuple[Floats, bool]:
        """Return XYZ of these solids over each other, and whether it was measured."""
        at = [_index(ink, tuple(self.solids), "inks") for ink in inks]
        number = sum(1 << (len(self.solids) - 1 - ink) for ink in at)
        return self._primaries[number] ** 2, self._measured[number]

    @property
    def tone_value_increase(self) -> dict[str, float]:
        """The increase of each ink at 50 %, by Murray and Davies in its darkest channel."""
        found = {}
        for ink, name in enumerate(self.solids):
            paper, solid = self._at() ** 2, self._at(ink) ** 2
            areas = _areas_at(self._curves[ink], np.array([0.5]))[0]
            tint = ((1 - areas) * self._at() + areas * self._at(ink)) ** 2
            channel = int(np.argmin(solid / paper))
            read = (paper - tint)[channel] / (paper - solid)[channel]
            found[name] = float(read - 0.5)
        return found

    @property
    def basis(self) -> str:
        """What predictions rest on, of the keys of ``BASIS_ERRORS``."""
        pairs = [n for n in range(len(self._measured)) if n.bit_count() == 2]
        overprints = bool(pairs) and all(self._measured[n] for n in pairs)
        ramps = all(self._ramped)
        if ramps and (overprints or not pairs):
            number = len(self.solids)
            full = len(self._over) == number * (number - 1) > 0
            return "ramps, overprints and ramps over solids" if full else "ramps and overprints"
        if ramps or overprints:
            return "ramps" if ramps else "overprints"
        return "stock" if self.stock.named else "colours only"

    @property
    def expected_error(self) -> float:
        """ΔE00 that 19 in 20 patches of nine measured sets stayed within on this basis."""
        return BASIS_ERRORS[self.basis]

    @property
    def words(self) -> str:
        """Which condition, what it rests on, and how far off it may be."""
        return (
            f"{self.called}, from {self.basis}: 19 in 20 patches of nine measured sets within "
            f"ΔE00 {self.expected_error:.1f}"
        )

    @property
    def called(self) -> str:
        """Its name, on one line, or what stands in the place of one."""
        return _plain_name(self.name) or "a condition without a name"

    @property
    def as_stock(self) -> Stock:
        """What mixing ``ink`` needs of this condition: mean increase, and its limiting density.

        The density is the one that meets the measured overprints of two solids best; where none
        was measured, that of the stock.
        """
        increase = float(np.clip(np.mean([*self.tone_value_increase.values()]), 0, 0.30))
        return Stock(_plain_name(self.name), round(increase, 4), self._limiting_density(), 2.0)

    def _limiting_density(self) -> float:
        count = len(self.solids)
        wide = xyz_to_rec2020(adapt_xyz(self._primaries**2, "D50", "D65"))
        pairs = [
            (1 << i, 1 << j)
            for i in range(count)
            for j in range(i)
            if self._measured[1 << i | 1 << j]
        ]
        if not pairs:
            return self.stock.limiting_density
        trials = np.round(np.arange(0.6, 4.01, 0.05), 2)
        off = [
            np.mean([
                delta_e_2000(_lab(_overprinted(wide[[0, one, two]], float(limit))),
                             _lab(wide[one | two]))
                for one, two in pairs
            ])
            for limit in trials
        ]  # fmt: skip
        return float(trials[int(np.argmin(off))])

    def __str__(self) -> str:
        lead = f"{self.name}: " if self.name else ""
        return f"{lead}{', '.join(self.solids)} on paper, from {self.basis}"

    def __repr__(self) -> str:
        return f"<{self}>"

    @classmethod
    def from_cgats(
        cls,
        path: str | PathLike[str] | bytes,
        *,
        white: str = "D50",
        stock: str | Stock = "",
        source: str = "the chart",
    ) -> PrintCondition:
        """Read a condition from a chart that was measured, as CGATS text.

        Parameters
        ----------
        path : path or bytes
            The file, or what stands in it: tone values in per cent as ``CMYK_C`` … or
            ``2CLR_1``, ``2CLR_2`` …, and ``XYZ_X`` … (paper about 80 to 100) or ``LAB_L`` ….
            Inks are named by the keywords ``INK_1`` …, where there are such.
        white, stock : str
            See the class.
        source : str
            What errors call bytes.

        Raises
        ------
        FileFormatError
            For a chart without paper or a solid, readings of one patch that lie far apart, a ramp
            that turns back, and numbers on another scale; and as :func:`read_cgats` does.
        """
        table = _chart_table(read_cgats(path, source))
        inks, values = _device_values(table)
        xyz = _readings(table, white)
        patches = _merged(table, values, xyz)
        return _from_patches(cls, table, inks, patches, stock)


def _plain_name(name: str) -> str:
    """The name as a stock may have it: one line of printable text, not too long."""
    return " ".join("".join(c if c.isprintable() else " " for c in name).split())[:LONGEST_NAME]


def _items(value: Any, name: str) -> list[tuple[Any, Any]]:
    if value is not None and not isinstance(value, Mapping):
        raise ArgumentError(name, "a mapping, by names of inks", value)
    return [*(value or {}).items()]


def _as_xyz(value: ArrayLike, name: str, light: str) -> Floats:
    xyz = as_colours(value, name, unit=False)
    if xyz.shape != (3,) or not bool((xyz > 0).all()) or float(xyz.max()) > 1.6:
        hint = " (on a scale to 100? divide by 100)" if float(xyz.max(initial=0)) > 1.6 else ""
        raise ArgumentError(name, "X, Y, Z above 0, white Y = 1", value, hint=hint)
    return adapt_xyz(xyz, light, "D50")


def _as_ramp(ramp: Sequence[tuple[float, ArrayLike]], name: str, light: str) -> Curve:
    try:
        pairs = [(tone, xyz) for tone, xyz in ramp]
    except (TypeError, ValueError):
        raise ArgumentError(name, "several of (tone value, XYZ)", ramp) from None
    steps = sorted(
        (float(as_number(tone, name, 0, 1)), _as_xyz(xyz, name, light).tolist())
        for tone, xyz in pairs
    )
    inner = [(tone, xyz) for tone, xyz in steps if 0 < tone < 1]
    tones = np.array([tone for tone, _ in inner])
    if not inner or bool((np.diff(tones) == 0).any()):
        raise ArgumentError(name, "of one tint or more between 0 and 1, each tone value once", ramp)
    return tones, np.array([xyz for _, xyz in inner])


def _check_rising(tones: Floats, areas: Floats, name: str) -> None:
    falls = np.diff(np.concatenate([[0.0], areas, [1.0]]))
    if float(falls.min()) < -_TURNS_BACK:
        at = int(np.argmin(falls))
        where = f"{[*tones, 1.0][at] * 100:.4g} %"
        raise ArgumentError(
            name,
            "of tints that cover more as their tone value grows",
            words=f"one at {where} that covers {-float(falls.min()) * 100:.0f} % less",
        )


def _ended(tones: Floats, areas: Floats) -> Curve:
    ends = np.zeros((1, 3)), np.ones((1, 3))
    return np.concatenate([[0.0], tones, [1.0]]), np.clip(
        np.concatenate([ends[0], areas, ends[1]]), 0, 1
    )


def _areas_at(curve: Curve, tone_values: Floats) -> Floats:
    """Areas (M, 3) at tone values (M,), by straight lines."""
    return np.stack([np.interp(tone_values, curve[0], curve[1][:, c]) for c in range(3)], axis=-1)


def _index(ink: str, inks: tuple[str, ...], name: str) -> int:
    if ink not in inks:
        raise ArgumentError(name, f"of inks among {', '.join(inks)}", ink)
    return inks.index(ink)


def _in_order(key: Any, inks: tuple[str, ...]) -> tuple[str, ...]:
    if not isinstance(key, tuple):
        raise ArgumentError("overprints", "by tuples of names of inks", key)
    numbers = sorted(_index(ink, inks, "overprints") for ink in key)
    if len(set(numbers)) < len(key) or len(key) < 2:
        raise ArgumentError("overprints", "of two or more different inks each", key)
    return tuple(inks[number] for number in numbers)


def _all_primaries(
    inks: tuple[str, ...], known: Mapping[tuple[str, ...], Floats], stock: Stock
) -> tuple[Floats, tuple[bool, ...]]:
    """XYZ (2^k, 3) of every overprint of solids, those not measured estimated."""
    paper = known[()]
    wide = xyz_to_rec2020(adapt_xyz(np.array([paper, *(known[i,] for i in inks)]), "D50", "D65"))
    out, measured = [], []
    for bits in product((0, 1), repeat=len(inks)):
        key = tuple(ink for ink, bit in zip(inks, bits, strict=True) if bit)
        measured.append(key in known)
        if key in known:
            out.append(known[key])
            continue
        rows = [0, *(number for number, bit in enumerate(bits, start=1) if bit)]
        light = _overprinted(wide[rows], stock.limiting_density)
        out.append(np.maximum(adapt_xyz(rec2020_to_xyz(light), "D65", "D50"), 1e-6))
    return np.array(out), tuple(measured)


def _overprinted(wide: Floats, limit: float) -> Floats:
    """Solids over each other in linear BT.2020: paper, then each solid on it, (1+s, 3)."""
    ratios = np.clip(wide[1:] / wide[0], 1e-6, 1)
    room = 1 - np.minimum(-np.log10(ratios), limit) / limit
    density = limit * (1 - room.prod(axis=0))
    return np.asarray(wide[0] * np.minimum(10**-density, ratios.min(axis=0)))


def _lab(wide: Floats) -> Floats:
    return xyz_to_lab(rec2020_to_xyz(wide))


# -- charts as CGATS text ------------------------------------------------------------------------

_Patches = dict[tuple[float, ...], Floats]


def _chart_table(tables: Sequence[CgatsTable]) -> CgatsTable:
    for table in tables:
        if any(_DEVICE.fullmatch(name) for name in table.fields):
            return table
    raise FileFormatError(
        "fields", "CMYK_C … or 2CLR_1 …: what each patch was printed with",
        words=", ".join(tables[0].fields[:12]), source=tables[0].source,
    )  # fmt: skip


def _device_values(table: CgatsTable) -> tuple[list[str], Floats]:
    """Names of the inks, and tone values (K, k) in 0–1."""
    columns = [name for name in table.fields if _DEVICE.fullmatch(name)]
    if len(columns) > MOST_INKS:
        words = str(len(columns))
        raise FileFormatError(
            "fields", f"at most {MOST_INKS} inks", words=words, source=table.source
        )
    names = []
    for number, column in enumerate(columns, start=1):
        letter = column.rpartition("_")[2]
        usual = _INKS.get(letter, f"ink {letter}")
        names.append(table.keywords.get(f"INK_{number}", "").strip() or usual)
    if len(set(names)) < len(names):
        raise FileFormatError("INK_1 …", "names of different inks", words=", ".join(names),
                              source=table.source)  # fmt: skip
    values = np.array([table.numbers(column) for column in columns]).T
    if not len(values) or values.min() < 0 or values.max() > 100:
        raise FileFormatError(columns[0], "tone values of 0 to 100 %", source=table.source)
    if values.max() <= 1:
        raise _fractions(table, columns[0], "tone values in per cent")
    return names, values / 100


def _fractions(table: CgatsTable, field_: str, allowed: str) -> FileFormatError:
    hint = " (fractions? multiply by 100)"
    return FileFormatError(field_, allowed, words="none above 5", hint=hint, source=table.source)


def _readings(table: CgatsTable, white: str) -> Floats:
    """XYZ (K, 3), D50, white Y = 1."""
    light = as_illuminant(white, "white")
    if "XYZ_X" in table.fields:
        xyz = np.array([table.numbers(f"XYZ_{axis}") for axis in "XYZ"]).T / 100
        if len(xyz) and xyz[:, 1].max() < 0.05:
            raise _fractions(table, "XYZ_Y", "on the scale of the standard, white 100")
    else:
        lab = np.array([table.numbers(f"LAB_{axis}") for axis in "LAB"]).T
        if len(lab) and not (lab[:, 0].min() >= 0 and np.abs(lab).max() <= 200):
            raise FileFormatError(
                "LAB_L", "0 to 100, a* and b* of at most 200", source=table.source
            )
        xyz = lab_to_xyz(lab, WHITES[light])
    return np.maximum(adapt_xyz(xyz, light, "D50"), 1e-6)


def _merged(table: CgatsTable, values: Floats, xyz: Floats) -> _Patches:
    """The mean reading of each patch."""
    found: dict[tuple[float, ...], list[int]] = {}
    for row, patch in enumerate(map(tuple, values.tolist())):
        found.setdefault(patch, []).append(row)
    first = np.empty(len(values), dtype=np.intp)
    for rows in found.values():
        first[rows] = rows[0]
    lab = xyz_to_lab(xyz, WHITES["D50"])
    off = delta_e_2000(lab, lab[first])
    if float(off.max()) > _FAR_APART:
        at = int(np.argmax(off))
        shown = " ".join(f"{value * 100:g}" for value in values[at])
        allowed = f"within ΔE00 {_FAR_APART:g} of that on line {table.lines[first[at]]}"
        raise table.fault(at, f"reading of patch {shown}", allowed, round(float(off[at]), 1))
    return {patch: xyz[rows].mean(axis=0) for patch, rows in found.items()}


def _from_patches(
    cls: type[PrintCondition], table: CgatsTable, inks: list[str], patches: _Patches,
    stock: str | Stock,
) -> PrintCondition:  # fmt: skip
    count = len(inks)
    paper = patches.get((0.0,) * count)
    solids = {ink: patches.get(_only(count, {k: 1.0})) for k, ink in enumerate(inks)}
    missing = [
        *(["the paper"] if paper is None else []),
        *(i for i, x in solids.items() if x is None),
    ]
    if missing:
        words = f"none of {', '.join(missing)}"
        raise FileFormatError(
            "patches", "of the paper and of each ink solid", words=words, source=table.source
        )
    overprints = {
        tuple(ink for ink, value in zip(inks, patch, strict=True) if value): xyz
        for patch, xyz in patches.items()
        if set(patch) <= {0.0, 1.0} and sum(patch) > 1
    }
    ramps: dict[str, list[tuple[float, ArrayLike]]] = {}
    over: dict[tuple[str, str], list[tuple[float, ArrayLike]]] = {}
    for patch, xyz in patches.items():
        tints = [k for k, value in enumerate(patch) if 0 < value < 1]
        solid = [k for k, value in enumerate(patch) if value == 1]
        if len(tints) == 1 and not solid:
            ramps.setdefault(inks[tints[0]], []).append((patch[tints[0]], xyz))
        elif len(tints) == 1 and len(solid) == 1 and _pair(inks, tints[0], solid[0]) in overprints:
            pair = (inks[tints[0]], inks[solid[0]])
            over.setdefault(pair, []).append((patch[tints[0]], xyz))
    name = table.keywords.get("DESCRIPTOR") or table.keywords.get("FILE_DESCRIPTOR", "")
    assert paper is not None
    known = {ink: xyz for ink, xyz in solids.items() if xyz is not None}
    try:
        return cls(paper, known, overprints, ramps, over, stock=stock, name=name)
    except ArgumentError as error:
        raise error.at(table.source) from None


def _only(count: int, values: Mapping[int, float]) -> tuple[float, ...]:
    return tuple(values.get(k, 0.0) for k in range(count))


def _pair(inks: Sequence[str], one: int, two: int) -> tuple[str, ...]:
    return tuple(inks[k] for k in sorted((one, two)))


def chart_patches(
    count: int, steps: Sequence[float] = (0.25, 0.5, 0.75)
) -> list[tuple[float, ...]]:
    """Return the patches of a little chart: paper, each ink's ramp and solid, pairs of solids.

    Parameters
    ----------
    count : int
        Of inks, 1 to 8.
    steps : sequence of float
        Tone values of the tints.

    Examples
    --------
    >>> len(chart_patches(2)), chart_patches(1)
    (10, [(0.0,), (0.25,), (0.5,), (0.75,), (1.0,)])
    """
    patches = [_only(count, {})]
    patches += [_only(count, {k: step}) for k in range(count) for step in (*steps, 1.0)]
    pairs = [(i, j) for i in range(count) for j in range(i + 1, count)]
    return patches + [_only(count, {i: 1.0, j: 1.0}) for i, j in pairs]


def chart_cgats(inks: Sequence[str], patches: Sequence[Sequence[float]] | None = None) -> str:
    """Return the blank CGATS file of a chart, to be filled with readings.

    Parameters
    ----------
    inks : sequence of str
        1 to 8 names.
    patches : sequence of tone values, optional
        Those of :func:`chart_patches` unless given.

    Examples
    --------
    >>> chart_cgats(["brick"]).splitlines()[6]
    'SAMPLE_ID 1CLR_1 LAB_L LAB_A LAB_B'
    """
    if not 1 <= len(inks) <= MOST_INKS or len(set(inks)) < len(inks):
        raise ArgumentError("inks", f"1 to {MOST_INKS} different names", [*inks])
    rows = [
        [number, *(round(100 * float(v), 4) for v in patch), None, None, None]
        for number, patch in enumerate(patches or chart_patches(len(inks)), start=1)
    ]
    fields = ["SAMPLE_ID", *(f"{len(inks)}CLR_{k}" for k in range(1, len(inks) + 1))]
    keywords = {
        "DESCRIPTOR": "chart to be measured: D50, 2 degrees, 45/0, no filter",
        **{f"INK_{k}": ink for k, ink in enumerate(inks, start=1)},
    }
    return cgats_text([*fields, "LAB_L", "LAB_A", "LAB_B"], rows, keywords)
