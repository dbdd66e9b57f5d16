"""Plates by a measured condition's own curves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from checkcloth.arguments import Floats, require_type
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.css import shown_rgb
from checkcloth.colour.illuminant import adapt_xyz
from checkcloth.colour.inked import Inked, tints_in
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
    missing = without_curves(design, known)
    if missing:
        allowed = f"called as inks of the condition, which are {', '.join(known.solids)}"
        raise ArgumentError("stripes", allowed, missing[0])
    inks = [tints_in(ink.name, known) or {} for ink in design.inks]
    if find_mixing(design.mixing).uses_stock:
        made = [{ink: v * design.strength for ink, v in tints.items()} for tints in inks]
        warp = made[: len(design.stripes)]
        weft = [made[at] for at in design.weft_inks] if design.weft_stripes else None
        # A ground called as an ink alone is a colour of cloth; one of tints is printed.
        ground = tints_in(design.ground.name, known)
        ground = None if _is_ink(design.ground.name, known) else ground
        return _of_inked(Inked(known, warp, ground, weft), design)
    named = {ink.name: next(iter(tints)) for ink, tints in zip(design.inks, inks, strict=True)}
    return _corrected(plates_of(design), named, known)


def without_curves(colourway: Colourway, condition: PrintCondition) -> list[str]:
    """Return the names of its stripes that are no inks of a condition: none, and its curves apply.

    Of mixing ``ink`` a stripe may also be called by tints, as :class:`Inked` calls its own.

    >>> shop = PrintCondition([0.82, 0.85, 0.70], {"brick": [0.20, 0.12, 0.06]}, name="Halt press")
    >>> without_curves(Colourway("white", ["navy", "teal"]), shop)
    ['navy', 'teal']
    """
    known = tints_in if find_mixing(colourway.mixing).uses_stock else _is_ink
    return [ink.name for ink in colourway.inks if not known(ink.name, condition)]


def _is_ink(name: str, condition: PrintCondition) -> bool:
    return name.casefold() in {ink.casefold() for ink in condition.solids}


def plates_by(colourway: Colourway, kind: str, condition: PrintCondition | None) -> PlateSet:
    """Return the plates of one colourway of several, by a condition's curves where they apply.

    Where a stripe is no ink of the condition they are those of :func:`plates_of`, and the rule
    says so.

    Raises
    ------
    ArgumentError
        See :func:`plates_of`.

    Examples
    --------
    >>> shop = PrintCondition([0.82, 0.85, 0.70], {"brick": [0.20, 0.12, 0.06]}, name="Halt press")
    >>> plates_by(Colourway("white", ["navy"]), "colours", shop).rule[-75:]
    'Not by the curves of Halt press: navy is none of its inks, which are brick.'
    """
    if condition is None:
        return plates_of(colourway, kind)
    missing = without_curves(colourway, condition)
    if not missing:
        return condition_plates(colourway, condition)
    made = plates_of(colourway, kind)
    return replace(made, rule=f"{made.rule} {no_curves_words(missing, condition)}")


def no_curves_words(missing: Sequence[str], condition: PrintCondition) -> str:
    """Say that a colourway's plates do not go by a condition's curves, and why."""
    are = "is none" if len(missing) == 1 else "are none"
    return (
        f"Not by the curves of {condition.called}: {', '.join(missing)} {are} of its inks, which "
        f"are {', '.join(condition.solids)}."
    )


def _of_inked(inked: Inked, colourway: Colourway) -> PlateSet:
    condition, inks = inked.condition, [*inked.condition.solids]
    used = [k for k in range(len(inks)) if inked.tone_values[..., k].any()]
    solids = [shown_rgb(adapt_xyz(condition.solids[inks[k]], "D50", "D65")) for k in used]
    plates = tuple(
        Plate(inks[k], solid, inked.tone_values[..., k])
        for k, solid in zip(used, solids, strict=True)
    )

    def compose(covers: Sequence[Floats]) -> Floats:
        given = np.zeros((*covers[0].shape, len(inks)))
        given[..., used] = np.stack(covers, axis=-1)
        xyz = condition.xyz_of(np.clip(given, 0, 1))
        return xyz_to_shown(adapt_xyz(xyz, "D50", "D65"))

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
        f"{condition.called}: the film carries the tone value that "
        "covers so much in print."
    )
    return PlateSet(made.colourway, plates, rule, compose)
