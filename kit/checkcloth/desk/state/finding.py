"""Finding: the best colourways that a palette holds, as one of the wall's sources.

What is looked for follows the desk: its palette, stripes, ground, mixing and what stays. The
request adds a goal, how many, and conditions. Nothing is searched here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from checkcloth.arguments import as_number, as_whole, require_one_of
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.vision import VISIONS
from checkcloth.desk.state import ideas
from checkcloth.desk.state.fields import Request, given
from checkcloth.desk.state.state import MOST_SHOWN, DeskState, Origin
from checkcloth.errors import ArgumentError
from checkcloth.search import CONDITIONS, Relaxed, Wanted, best_orders
from checkcloth.search.bands.joint import every_order_alike
from checkcloth.search.wanted import NOTHING, shows_every_stripe

EYES = tuple(vision for vision in VISIONS if vision not in ("normal", "grey"))
#: What can be looked for, in the words of a button; {} is how many there are.
GOALS = {
    "clear": "The clearest of all {}",
    "every_eye": "Still clear to every eye",
    "unlike": "As unlike each other as can be",
}
#: The conditions that the desk offers, arguments of :class:`Wanted`.
ASKED = (
    *("ground_apart", "crossings_apart", "stripes_apart"),
    *("edge_lightness", "edge_ratio", "edge_hyab", "edge_harmony"),
)
# The most unlike are chosen from so many of the clearest, or twice as many as are wanted.
_POOL = 5000
_USUAL = 500


@dataclass(frozen=True)
class Finding:
    """What is looked for.

    Attributes
    ----------
    goal : str
        One of ``GOALS``.
    count : int
        How many are to come onto the wall at most.
    wanted : Wanted
    at_least : mapping of str to float
        The conditions, by the argument of ``wanted``.
    stays : tuple of NamedColour or None
        Stripes that stay where they are.
    ground : str
        The desk's choice of a ground.
    measured : str
        What of the desk's bands could not be searched.
    """

    goal: str
    count: int
    wanted: Wanted
    at_least: Mapping[str, float]
    stays: tuple[NamedColour | None, ...]
    ground: str
    measured: str = ""

    @property
    def pool(self) -> int:
        """How many of the clearest are looked for."""
        return max(_POOL, 2 * self.count) if self.goal == "unlike" else self.count

    @property
    def words(self) -> str:
        """What came of it, said after a number: "clearest of 134,596"."""
        total = f"{self.wanted.count:,}{self._where}"
        if self.goal == "clear":
            return f"clearest of {total}"
        if self.goal == "every_eye":
            return f"clearest to every eye, of {total}"
        pool = f"the {self.pool:,} clearest of " if self.wanted.count > self.pool else ""
        return f"most unlike each other, of {pool}{total}"

    @property
    def _where(self) -> str:
        wefts = " with their own wefts" if self.wanted.weft_stripes else ""
        return (" in these bands" if self.wanted.order_counts else "") + wefts + self.measured

    @property
    def laid_as_found(self) -> bool:
        """Whether the order of the stripes is part of what was found."""
        return not every_order_alike(self.wanted)


def searched_check(check: Check, *, own_weft: bool = False) -> tuple[Check | None, str]:
    """Return the check that a search of a desk's check is of, and what it leaves out, in words.

    A stripe that is not laid touches nothing.

    >>> searched_check(Check("1 cm", 2, warp="1 A"))
    (None, ', measured as even checks: a stripe is not laid')
    """
    if check.is_even:
        return None, ""
    if not shows_every_stripe(check, own_weft=own_weft):
        return None, ", measured as even checks: a stripe is not laid"
    return check, ""


def finding(state: DeskState, request: Request) -> Finding:
    """Read what is looked for.

    Parameters
    ----------
    state : DeskState
    request : mapping
        ``goal``; ``count``; ``at_least``, numbers by the names in ``ASKED``, of which 0 asks
        nothing; ``visions`` under which it all must hold; ``strengths``. Each may be left out.

    Raises
    ------
    ArgumentError
        For a value out of range, and for more stripes than the palette can fill.
    """
    goal = require_one_of(request.get("goal", "clear"), "goal", GOALS)
    count = request.get("count") if given(request, "count") else _USUAL
    at_least: dict[str, Any] = _at_least(request.get("at_least") or {})
    visions = _several(request, "visions") or []
    strengths = _several(request, "strengths")
    ground = ideas.fixed_ground(state)
    stays = state.staying_stripes[: state.stripes]
    held = [colour for colour in stays if colour is not None]
    if len({colour.rgb for colour in held}) < len(held):
        raise ArgumentError("stays", "different colours", words="one colour in two stripes")
    # Wefts as a draw would have them: as many colours of their own as the desk says.
    wefts = state.weft_colours
    laid = state.with_(wefts=wefts if wefts != state.stripes else 0).check
    check, measured = searched_check(laid, own_weft=wefts > 0)
    wanted = Wanted(
        state.chosen_palette,
        state.stripes,
        grounds=() if ground is None else (ground,),
        strengths=strengths or (0.5 if state.strength is None else state.strength),
        mixings=state.mixing or "source-over",
        stock=state.stock if state.prints and state.stock is not None else "",
        must=held,
        visions=(*visions, *(EYES if goal == "every_eye" else ())),
        measured="worst",
        check=check,
        placed=stays,
        weft_stripes=wefts,
        **at_least,
    )
    most = as_whole(count, "count", 1, MOST_SHOWN)
    return Finding(goal, most, wanted, at_least, stays, state.ground, measured)


def _at_least(asked: Any) -> dict[str, float]:
    """The conditions that ask for something; a ratio begins at 1, harmony at -3."""
    if not isinstance(asked, Mapping) or set(asked) - set(ASKED):
        raise ArgumentError("at_least", f"numbers by the names {', '.join(ASKED)}", asked)
    numbers = {
        name: as_number(value, name, min(0, NOTHING.get(name, 0)), CONDITIONS[name][2])
        for name, value in asked.items()
    }
    return {name: n for name, n in numbers.items() if n > NOTHING.get(name, 0)}


def _several(request: Request, name: str) -> list[Any]:
    values = request.get(name) or []
    if not isinstance(values, list):
        raise ArgumentError(name, "a list", values)
    return values


def arranged(sought: Finding, colourways: Iterable[Colourway]) -> Iterator[Colourway]:
    """Yield colourways with their stripes in an order to look at, where a search leaves it open.

    What stays stands where it stands; where nothing does, neighbours are as unlike as can be.
    """
    if sought.laid_as_found:
        yield from colourways
    elif sought.wanted.weft_stripes:
        members = list(colourways)
        warps = _ordered(sought, (one.with_(weft_stripes=None) for one in members))
        wefts = best_orders(
            one.with_(stripes=one.weft_colours, weft_stripes=None) for one in members
        )
        for warp, weft in zip(warps, wefts, strict=True):
            yield warp.with_(weft_stripes=weft.stripes)
    else:
        yield from _ordered(sought, colourways)


def _ordered(sought: Finding, colourways: Iterable[Colourway]) -> Iterator[Colourway]:
    if not any(sought.stays):
        yield from best_orders(colourways)
        return
    held = {colour.rgb for colour in sought.stays if colour is not None}
    row = (*sought.stays, *[None] * (sought.wanted.stripes - len(sought.stays)))
    for colourway in colourways:
        others = iter([stripe for stripe in colourway.stripes if stripe.rgb not in held])
        yield colourway.with_(stripes=[colour or next(others) for colour in row])


def deal_found(
    state: DeskState, sought: Finding, colourways: Iterable[Colourway], origin: Origin
) -> DeskState:
    """Deal what was found, in its order; the desk's settings become those that it was found by."""
    wanted = sought.wanted
    name = wanted.palette.name
    settings: dict[str, Any] = {"stripes": wanted.stripes, "mixing": wanted.mixings[0]}
    settings["strength"] = wanted.strengths[0] if len(wanted.strengths) == 1 else None
    settings["weft_colours"] = wanted.weft_stripes
    if any(palette.name == name for palette in state.palettes):
        settings |= {"palette": name, "ground": sought.ground}
    held = "".join(f"; {constraint}" for constraint in wanted.constraints)
    return state.deal(
        colourways,
        f"{sought.words} from {name}{held}",
        {**origin, "goal": sought.words},
        source=sought.words,
        sort="",
        **settings,
    )


def offers(asked: Mapping[str, float], relaxed: Iterable[Relaxed]) -> list[dict[str, Any]]:
    """Return what to ask for instead where nothing holds all that was asked.

    Each has ``words``, those of its ``button``, and ``at_least``, with which something holds.
    """
    out = []
    for one in relaxed:
        if one.argument:
            changed = {} if one.value is None else {one.argument: one.value}
            words = f"{one.words} is too much"
            button = f"Ask for {one.value:g}" if changed else ""
        else:  # all numbers together
            words = str(one)
            share = one.reached or 0
            changed = {name: int(n * share * 100) / 100 for name, n in asked.items()}
            button = "Ask for less of each"
        if changed:
            at_least = {**asked, **changed}
            out.append({"words": words, "button": button, "at_least": at_least})
    return out
