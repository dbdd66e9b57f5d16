"""What an export would make, as the page shows it before it is begun."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.desk.forms.hand_off_order import DEFAULTS, field_name, read_order
from checkcloth.errors import ArgumentError
from checkcloth.export.hand_off.foretell import Foretold, foretell, replaced_words

_NOTHING = ["Nothing is kept yet", "Keep a colourway first", "colourways", None, True]


def foretold_fields(chosen: ChosenSet, values: Mapping[str, Any]) -> dict[str, Any]:
    """Return what an export of these fields would make, or what is wrong beside which field.

    Parameters
    ----------
    chosen : ChosenSet
    values : mapping
        As ``DEFAULTS`` of the form; those left out are as there.

    Returns
    -------
    dict
        ``tasks``: rows of files, what, [across, down] in pixels or None, dpi exactly as text or
        "", bytes about, whom for, what is missing. ``warnings``: rows of words, remedy, field,
        its value then or None, whether it blocks. ``goes``: files of an earlier export that
        would be no more; ``kept`` and ``foreign`` likewise. ``faults``: by field, what is wrong.
    """
    unknown = sorted(values.keys() - DEFAULTS.keys())
    if unknown:
        raise ArgumentError("fields", f"of {', '.join(DEFAULTS)}", ", ".join(map(str, unknown)))
    empty: dict[str, Any] = {"tasks": [], "warnings": [], "goes": [], "kept": [], "foreign": []}
    if not len(chosen):
        return empty | {"warnings": [_NOTHING], "faults": {}}
    told, faults = foretold(chosen, DEFAULTS | dict(values))
    if told is None:
        return empty | {"faults": faults}
    return {
        "tasks": [
            [
                task.files,
                task.what,
                list(task.pixels) if task.pixels else None,
                str(task.dpi) if task.dpi else "",
                task.size,
                task.task,
                task.missing,
            ]
            for task in told.tasks
        ],
        "warnings": [
            [one.words, one.remedy, field_name(one.argument), one.value, one.blocks]
            for one in told.cautions
        ],
        "goes": list(told.replaces.goes),
        "kept": sorted(told.replaces.kept),
        "foreign": list(told.replaces.foreign),
        "faults": {},
    }


def foretold(
    chosen: ChosenSet, values: Mapping[str, Any], *, measure: bool = True
) -> tuple[Foretold | None, dict[str, str]]:
    """Return what an export would make, or None and the faults of its fields."""
    order, faults = read_order(values, chosen)
    if faults:
        return None, faults
    named = ChosenSet(chosen.check, chosen.chosen, order.pop("name") or chosen.name)
    for name in ("zipped", "overwrite"):
        del order[name]
    return foretell(named, None, order.pop("folder"), measure=measure, **order), {}


def replacing_words(chosen: ChosenSet, values: Mapping[str, Any]) -> str:
    """Say what replacing an earlier export would do, "" where none is there."""
    if not len(chosen):
        return ""
    told, _ = foretold(chosen, values, measure=False)
    if told is None or told.replaces.foreign:
        return ""
    before = told.replaces
    there = before.goes or before.again or before.kept
    return f"{replaced_words(str(values['folder']).strip(), before)}." if there else ""
