"""The thread plan for a weaver or a mill: orders, totals, metres of yarn, a draft."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_whole
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.length import Length
from checkcloth.cloth.threads import Allowances, Sett, ThreadOrder, thread_order
from checkcloth.cloth.tones import area_shares
from checkcloth.cloth.viewing import thread_colours, thread_xyz, viewing
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_lab, srgb_to_linear, xyz_to_lab
from checkcloth.errors import LengthError
from checkcloth.files.csv_rows import csv_text

# 8 double ends a side: "Gingham (common)", an old handbook text at weavinglibrary.org.
_SELVEDGE = 16


@dataclass(frozen=True, repr=False)
class ThreadPlan:
    """How to warp and weave a colourway; made by :func:`thread_plan`."""

    colourway: Colourway
    check: Check
    warp: ThreadOrder
    weft: ThreadOrder
    ends: Sett
    picks: Sett
    width: Length  #: of the finished cloth, as wanted
    length: Length
    allowances: Allowances

    @property
    def yarns(self) -> Floats:
        """Colours to dye the yarns to, shape (K+1, 3), encoded sRGB; the ground first.

        A yarn for each warp stripe, then for colours that only the weft has
        (:attr:`Colourway.inks`). Overlay strength thins a stripe on screen; a thread cannot
        be thinned, so it is dyed to the stripe mixed with the ground, as light, in that
        strength.
        """
        return thread_colours(self.colourway)

    def yarn_of(self, way: str) -> NDArray[np.intp]:
        """Return the index into :attr:`yarns` of the ground and each stripe, warp or weft."""
        if way == "warp":
            return np.arange(len(self.colourway.stripes) + 1)
        return np.array([0, *(index + 1 for index in self.colourway.weft_inks)], dtype=np.intp)

    @property
    def shift(self) -> float:
        """Greatest CIEDE2000 between a tone as designed and as these yarns weave it.

        Nought where the mixing is ``woven`` with half warp; other mixings are not what
        threads do, and the plan says by how much.
        """
        laid = area_shares(*self.check.counted_bands) > 0
        if any(self.colourway.known):
            xyz = thread_xyz(self.colourway)
            warp, weft = xyz[self.yarn_of("warp")], xyz[self.yarn_of("weft")]
            lab = xyz_to_lab((warp[:, None] + weft[None]) / 2)
            return float(delta_e_2000(self.colourway.tones_lab, lab)[laid].max())
        light = srgb_to_linear(self.yarns)
        warp, weft = light[self.yarn_of("warp")], light[self.yarn_of("weft")]
        woven = np.clip(linear_to_srgb((warp[:, None] + weft[None]) / 2), 0, 1)
        off = delta_e_2000(srgb_to_lab(self.colourway.tones), srgb_to_lab(woven))
        return float(off[laid].max())

    def real_size(self, sett: Sett, order: ThreadOrder) -> Length:
        """Return how large the check comes out with whole, even threads."""
        return sett.length_of(order.each, self.check.size.unit)

    @property
    def metres(self) -> list[tuple[float, float]]:
        """Metres of each yarn for warp and weft, allowances in; the ground first."""
        add = self.allowances
        across = self.ends.length_of(self.warp.threads).mm / 1000
        along = self.picks.length_of(self.weft.threads).mm / 1000
        end = along * (1 + add.warp_take_up) * (1 + add.waste)
        pick = across * (1 + add.weft_take_up) * (1 + add.waste)
        return [(warp * end, weft * pick) for warp, weft in zip(*self._threads(), strict=True)]

    def _threads(self) -> tuple[list[int], list[int]]:
        """Ends and picks of each yarn."""
        ways = []
        for way, order in (("warp", self.warp), ("weft", self.weft)):
            count = [0] * len(self.yarns)
            yarn_of = self.yarn_of(way).tolist()
            for stripe, threads in enumerate(order.per_stripe(len(yarn_of) - 1)):
                count[yarn_of[stripe]] += threads
            ways.append(count)
        return ways[0], ways[1]

    def yarn_name(self, yarn: int) -> str:
        """Name a yarn by the colour that it is for; 0 is the ground."""
        return self.colourway.inks[yarn - 1].name if yarn else self.colourway.ground.name

    def order_text(self, way: str) -> str:
        """Return one repeat of the order of ends or picks as weavers write it.

        >>> plan = thread_plan(Colourway("white", ["navy"]), Check("1/8 in", 1),
        ...                    width="10 in", length="20 in", sett="64 per in")
        >>> plan.order_text("warp")
        '8 navy, 8 white'
        """
        order, name_of = self._named(way)
        return ", ".join(f"{run.threads} {name_of[run.stripe]}" for run in order.repeat_runs)

    def _named(self, way: str) -> tuple[ThreadOrder, list[str]]:
        """The order of ends or picks, and the yarn of the ground and each stripe by name."""
        order = self.warp if way == "warp" else self.weft
        return order, [self.yarn_name(yarn) for yarn in self.yarn_of(way).tolist()]

    def order_csv(self, way: str) -> str:
        """Return the order of ends (``"warp"``) or picks (``"weft"``) as CSV text."""
        order, name_of = self._named(way)

        def rows() -> Iterator[Sequence[object]]:
            first = 1
            for run in order.runs:
                last = first + run.threads - 1
                number = run.stripe or "ground"
                yield run.part, number, name_of[run.stripe], run.threads, first, last
                first = last + 1

        what = "ends" if way == "warp" else "picks"
        return csv_text(("part", "stripe", "yarn", what, "first", "last"), rows())

    def yarn_csv(self) -> str:
        """Return totals and metres of each yarn as CSV text."""
        ends, picks = self._threads()

        def rows() -> Iterator[Sequence[object]]:
            for yarn, (warp, weft) in enumerate(self.metres):
                yield (
                    self.yarn_name(yarn),
                    hex_of(self.yarns[yarn]),
                    ends[yarn],
                    picks[yarn],
                    *(round(metres, 1) for metres in (warp, weft, warp + weft)),
                )

        header = ("yarn", "colour to dye", "ends", "picks", "warp m", "weft m", "together m")
        return csv_text(header, rows())

    def facts(self) -> list[tuple[str, str]]:
        """Return what the plan says and rests on, as pairs of a heading and a plain line."""
        add = self.allowances
        rows = [("colourway", str(self.colourway)), ("check", str(self.check))]
        rows.append(("weave", "plain; all sizes are of the finished cloth"))
        for way, what, sett, order, wanted in (
            ("warp", "ends", self.ends, self.warp, self.width),
            ("weft", "picks", self.picks, self.weft, self.length),
        ):
            real = self.real_size(sett, order)
            off = float(real.exact - self.check.size.exact)
            share = off / self.check.size.mm
            rows += [
                (f"{way} sett", f"{what} {sett}"),
                (f"{way} band", f"{order.each} {what}, rounded to even"),
                (f"{way} check", f"{real}: {off:+.3f} mm ({share:+.2%}) from what was wanted"),
                (f"{way} in all", f"{order.threads} {what}, {order.repeats} whole repeats: "
                                  f"{sett.length_of(order.threads)}; wanted {wanted}"),
            ]  # fmt: skip
            if self.colourway.weft_stripes or not self.check.is_even:
                rows.append((f"{way} order", f"{self.order_text(way)}, and again"))
        why = "" if self.shift <= 0.5 else ", because its mixing is not what threads do"
        rows += [
            ("allowances", f"take-up warp {add.warp_take_up:.1%}, weft {add.weft_take_up:.1%} of "
                           f"the cloth, waste {add.waste:.1%}; ask the mill for its own"),
            ("yarn colours", "the stripe mixed with the ground, as light, at the overlay "
                             f"strength of {self.colourway.strength:.1%}"),
            ("difference", f"greatest ΔE00 of a woven tone from the design {self.shift:.1f}{why}"),
            ("viewing distance", self._viewing()),
            ("caution", "weave a sample before dyeing a quantity: yarn, finish and light move "
                        "colour; loom and reed waste come on top"),
        ]  # fmt: skip
        return rows

    def _viewing(self) -> str:
        coarser = min(self.ends, self.picks, key=lambda sett: sett.per_mm)
        seen = viewing(self.colourway, sett=coarser, check=self.check)
        tone = self.colourway.tone_name(seen.warp, seen.weft)
        return (
            f"from {seen.metres:.2f} m on threads merge into the tones ({tone} last, by "
            "S-CIELAB); nearer, they show"
        )

    def facts_csv(self) -> str:
        """Return :meth:`facts` as CSV text."""
        return csv_text(("what", "value"), iter(self.facts()))


def thread_plan(
    colourway: Colourway,
    check: Check,
    *,
    width: Length | str,
    length: Length | str,
    sett: Sett | str,
    picks: Sett | str | None = None,
    balanced: bool = True,
    selvedge: int = _SELVEDGE,
    allowances: Allowances | None = None,
) -> ThreadPlan:
    """Plan the threads of a colourway, woven plain.

    Parameters
    ----------
    colourway : Colourway
    check : Check
        With as many stripes as the colourway has.
    width, length : Length or str
        Of the finished cloth, selvedges in.
    sett : Sett or str
        Ends, such as ``"64 per in"`` or ``"24 per cm"``, in the finished cloth.
    picks : Sett or str, optional
        Picks; otherwise as the ends (a balanced cloth).
    balanced : bool
        Begin and end with the same stripe; otherwise whole repeats, so that joined pieces
        run on.
    selvedge : int
        Ends on each side, in the ground's colour.
    allowances : Allowances, optional

    Raises
    ------
    ArgumentError, LengthError
        For values out of range, or no room for one repeat.

    Examples
    --------
    >>> plan = thread_plan(Colourway("white", ["navy"]), Check("1/8 in", 1),
    ...                    width="10 in", length="20 in", sett="64 per in")
    >>> plan.warp.threads, plan.warp.each, plan.warp.repeats
    (640, 8, 37)
    """
    ends = Sett(sett)
    rows = Sett(picks) if picks is not None else ends
    across, along = Length(width), Length(length)
    edge = as_whole(selvedge, "selvedge", 0, 1000)
    fitting(colourway, check)
    return ThreadPlan(
        colourway,
        check,
        _order("width", check, ends, across, balanced=balanced, selvedge=edge),
        _order("length", check, rows, along, bands=check.weft_bands, balanced=balanced),
        ends,
        rows,
        across,
        along,
        allowances or Allowances(),
    )


def _order(name: str, check: Check, sett: Sett, extent: Length, **options: Any) -> ThreadOrder:
    try:
        return thread_order(check, sett, extent, **options)
    except LengthError as error:
        raise LengthError(name, error.allowed, words=str(extent)) from None
