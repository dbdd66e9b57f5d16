"""Plates by a measured condition's own curves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from checkcloth.arguments import Floats, require_type
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.illuminant import adapt_xyz
from checkcloth.colour.inked import Inked
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.colour.spaces import xyz_to_shown
from checkcloth.errors import ArgumentError
from checkcloth.export.print.plates import Plate, PlateSet, plates_of


def condition_plates(
    design: Colourway | Inked, condition: PrintCondition | None = None
) -> PlateSet:
    """Return plates whose tints go by the measured curves of a print condition.

    Parameters
    ----------
    design : Colourway or Inked
        Stripes given as tone values of a condition's inks; or a colourway whose stripes are
        called as inks of ``condition``.
    condition : PrintCondition, optional
        Needed for a colourway.

    Returns
    -------
    PlateSet
        Its ``rule`` says which condition. Of an :class:`Inked`, and of mixing ``ink``, plates
        carry nominal tone values, and ``composite`` is what the condition prints. Of the other
        mixings each tint is corrected, so that in print its dots cover the share that is
        wanted: what the press adds is taken off in the film.

    Raises
    ------
    ArgumentError
        For a stripe that is no ink of the condition; a colourway without one.

    Examples
    --------
    >>> shop = PrintCondition([0.82, 0.85, 0.70], {"brick": [0.20, 0.12, 0.06]}, name="Halt press")
    >>> plates = condition_plates(Inked(shop, [{"brick": 0.6}]))
    >>> plates.plates[0].name, plates.plates[0].cover[1].round(2).tolist()
    ('brick', [0.6, 0.84])
    """
    if isinstance(design, Inked):
        return _of_inked(design, Colourway.of_inks(design))
    require_type(design, "design", Colourway)
    known = require_type(condition, "condition", PrintCondition)
    inks = _inks_of(design, known)
    if find_mixing(design.mixing).uses_stock:
        made = [{ink: design.strength} for ink in inks]
        warp = made[: len(design.stripes)]
        weft = [made[at] for at in design.weft_inks] if design.weft_stripes else None
        return _of_inked(Inked(known, warp, None, weft), design)
    named = dict(zip((ink.name for ink in design.inks), inks, strict=True))
    return _corrected(plates_of(design), named, known)


def _inks_of(colourway: Colourway, condition: PrintCondition) -> list[str]:
    """The condition's ink for each of a colourway's."""
    known = {ink.casefold(): ink for ink in condition.solids}
    missing = [ink.name for ink in colourway.inks if ink.name.casefold() not in known]
    if missing:
        allowed = f"called as inks of the condition, which are {', '.join(condition.solids)}"
        raise ArgumentError("stripes", allowed, missing[0])
    return [known[ink.name.casefold()] for ink in colourway.inks]


def _of_inked(inked: Inked, colourway: Colourway) -> PlateSet:
    condition, inks = inked.condition, [*inked.condition.solids]
    used = [k for k in range(len(inks)) if inked.tone_values[..., k].any()]
    plates = tuple(
        Plate(inks[k], _shown(condition.solids[inks[k]]), inked.tone_values[..., k]) for k in used
    )

    def compose(covers: Sequence[Floats]) -> Floats:
        given = np.zeros((*covers[0].shape, len(inks)))
        given[..., used] = np.stack(covers, axis=-1)
        return _srgb(condition.xyz_of(np.clip(given, 0, 1)))

    increase = condition.tone_value_increase
    gains = ", ".join(f"{inks[k]} {increase[inks[k]] * 100:.0f} %" for k in used)
    rule = (
        "Inks of a measured print condition, printed over each other at screen angles of their "
        "own: each plate carries nominal tone values, as they are in the file, and the press "
        f"adds its increase at 50 % ({gains}). Condition: {inked.words}. Where two stripes, or "
        "a stripe and the ground, take one ink, its plate carries 1 − (1−α)(1−β)."
    )
    return PlateSet(colourway, plates, rule, compose)


def _corrected(made: PlateSet, inks: dict[str, str], condition: PrintCondition) -> PlateSet:
    """Plates whose tints cover in print what they are wanted to."""
    # A second pass of an ink is called after it.
    names = [
        inks.get(plate.name, inks.get(plate.name.rpartition(",")[0], "")) for plate in made.plates
    ]
    plates = tuple(
        replace(plate, cover=condition.tone_value_for(name, plate.cover))
        for plate, name in zip(made.plates, names, strict=True)
    )

    def compose(covers: Sequence[Floats]) -> Floats:
        areas = (condition.area_of(name, c) for name, c in zip(names, covers, strict=True))
        return made.composite([*areas])

    rule = (
        f"{made.rule} Tints are corrected by the measured curves of "
        f"{condition.name or 'a condition without a name'}: the film carries the tone value that "
        "covers so much in print."
    )
    return PlateSet(made.colourway, plates, rule, compose)


def _srgb(xyz: Floats) -> Floats:
    return xyz_to_shown(adapt_xyz(xyz, "D50", "D65"))


def _shown(xyz: Floats) -> tuple[float, float, float]:
    red, green, blue = _srgb(xyz).tolist()
    return red, green, blue
