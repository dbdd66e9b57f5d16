"""What an export would make, as the page shows it before it is begun."""

from __future__ import annotations

import os
from collections.abc import Mapping
from itertools import count
from pathlib import Path
from typing import Any

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.desk.forms.hand_off_order import (
    DEFAULTS,
    field_name,
    read_field,
    read_order,
)
from checkcloth.errors import ArgumentError
from checkcloth.export.hand_off.foretell import (
    Caution,
    Foretold,
    Part,
    foretell,
)
from checkcloth.export.print.preflight import Preflight

# Colourways that are named where a finding is not of all.
_MOST_NAMES = 4
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
        ``tasks``: rows of files, what, bytes about, whom for, what is missing, parts; of these
        kind, files, [least, most] pixels across or None, dpi exactly, bytes. ``warnings``: rows
        of words, remedy, field, its value then or None, whether it blocks. ``goes``: files of an
        earlier export that would be no more; ``again`` and ``kept`` likewise. ``beside``: a folder
        beside it that is free. ``faults``: by field, what is wrong. ``preflight``: words, and
        rows of item, whether it passes, found, limit, reason, of whom ("all", or names) and of
        how many.
    """
    unknown = sorted(values.keys() - DEFAULTS.keys())
    if unknown:
        raise ArgumentError("fields", f"of {', '.join(DEFAULTS)}", ", ".join(map(str, unknown)))
    lists = ("tasks", "warnings", "goes", "again", "kept")
    empty: dict[str, Any] = {name: [] for name in lists}
    empty |= {"beside": "", "preflight": {"words": "", "rows": []}}
    if not len(chosen):
        return empty | {"warnings": [_NOTHING], "faults": {}}
    values = DEFAULTS | dict(values)
    made, faults = foretold(chosen, values)
    if made is None:
        return empty | {"faults": faults}
    earlier = made.replaces.goes or made.replaces.again or made.replaces.kept
    return {
        "tasks": [
            [
                task.files,
                task.what,
                task.size,
                task.task,
                task.missing,
                list(map(_part_row, task.parts)),
            ]
            for task in made.tasks
        ],
        "warnings": [
            [one.words, one.remedy, field_name(one.argument), _field_value(one, values), one.blocks]
            for one in made.cautions
        ],
        "goes": list(made.replaces.goes),
        "again": list(made.replaces.again),
        "kept": sorted(made.replaces.kept),
        "beside": free_folder(str(values["folder"]).strip()) if earlier else "",
        "faults": {},
        "preflight": _preflight_fields(made.preflight),
    }


def _preflight_fields(made: Preflight | None) -> dict[str, Any]:
    if made is None:
        return {"words": "", "rows": []}
    rows = [
        [*one, list(names[:_MOST_NAMES]) if len(names) < len(made.names) else [], len(names)]
        for one, names in made.grouped()
    ]
    return {"words": str(made), "rows": rows}


def _part_row(part: Part) -> list[Any]:
    dpi = [str(dpi) for dpi in part.dpi]
    return [part.kind, part.files, list(part.pixels) if part.pixels else None, dpi, part.size]


def _field_value(caution: Caution, values: Mapping[str, Any]) -> Any:
    """What the field holds once the remedy is taken: of several resolutions one changes."""
    if field_name(caution.argument) != "resolutions" or caution.value is None:
        return caution.value
    dpi = [f"{number:g}" for number in read_field("resolutions", values)]
    other = f"{float(caution.value):.10g}"
    return ", ".join(
        dict.fromkeys(other if one == f"{caution.instead_of:g}" else one for one in dpi)
    )


def free_folder(folder: str) -> str:
    """Return the first of ``folder-2``, ``folder-3`` ... that is not there."""
    return next(
        name
        for name in (f"{folder}-{number}" for number in count(2))
        if not os.path.lexists(Path(name).expanduser())
    )


def foretold(
    chosen: ChosenSet, values: Mapping[str, Any]
) -> tuple[Foretold | None, dict[str, str]]:
    """Return what an export would make, or None and the faults of its fields."""
    order, faults = read_order(values, chosen)
    if faults:
        return None, faults
    named = ChosenSet(chosen.check, chosen.chosen, order.pop("name") or chosen.name)
    for name in ("zipped", "overwrite"):
        del order[name]
    return foretell(named, None, order.pop("folder"), **order), {}
