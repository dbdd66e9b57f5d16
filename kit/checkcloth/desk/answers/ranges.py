"""Answers about ranges: listed, opened, begun, copied, named."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from typing import Any

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.desk.answers.host import Answer, Host
from checkcloth.desk.keep_file import KeepFile, earlier_sets
from checkcloth.desk.saved_ranges import (
    MOST_LISTED,
    known_settings,
    range_entries,
    range_path,
    renamed_defaults,
    typed_name,
    with_range,
)
from checkcloth.desk.state.fields import Request, text
from checkcloth.desk.state.state import History
from checkcloth.errors import ArgumentError
from checkcloth.files.names import safe_stem


def _ranges(desk: Host, _: Request) -> dict[str, Any]:
    ranges = earlier_sets(desk.keep_file.folder, most=MOST_LISTED)
    return {"ranges": range_entries(ranges, desk.keep_file.path)}


def _open_range(desk: Host, request: Request) -> dict[str, Any]:
    path = range_path(desk.keep_file.folder, text(request, "path"))
    keep_file, chosen = KeepFile.opened(path)
    _leave_range(desk)
    _enter_range(desk, keep_file, chosen)
    return _said(desk, f"Range {keep_file.name} opened: {len(chosen)} kept.")


def _new_range(desk: Host, request: Request) -> dict[str, Any]:
    name = typed_name(request.get("name", desk.keep_file.name))
    _leave_range(desk)
    _enter_range(desk, KeepFile(desk.keep_file.folder, name), None)
    return _said(desk, f"Range {name} begun; its file comes with the first that is kept.")


def _copy_range(desk: Host, request: Request) -> dict[str, Any]:
    name = typed_name(request.get("name", f"{desk.keep_file.name} copy"))
    _leave_range(desk)
    old = desk.keep_file
    desk.keep_file = KeepFile(old.folder, name)
    _rename_defaults(desk, old.name, name)
    _after_rename(desk)
    return _said(desk, f"Going on in a copy, {name}; {old.name} stays as it was.")


def _name_range(desk: Host, request: Request) -> dict[str, Any]:
    name, old = typed_name(request.get("name")), desk.keep_file.name
    if name != old:
        _rename_defaults(desk, old, name)
        noted = desk.as_range()
        try:
            path = desk.keep_file.rename(
                name, ChosenSet(noted.check, noted.chosen, name, noted.settings)
            )
        except BaseException:
            _rename_defaults(desk, name, old)
            raise
        desk.saved = f"saved in {path.name}" if path else ""
        _after_rename(desk)
    return _said(desk, f"The range is called {name}.")


ANSWERS: dict[str, Answer] = {
    "ranges": _ranges,
    "open_range": _open_range,
    "new_range": _new_range,
    "copy_range": _copy_range,
    "name_range": _name_range,
}


# -- from one range to another ---------------------------------------------------------------------


def _leave_range(desk: Host) -> None:
    """Save the range that is here; refuse to leave it where that cannot be."""
    desk.save()
    if desk.save_fault:
        raise ArgumentError("range", "saved before it is left", words=desk.save_fault)


def _enter_range(desk: Host, keep_file: KeepFile, chosen: ChosenSet | None) -> None:
    """Go on with another range; undo does not lead back to the one before, its file does."""
    before = desk.state
    desk.finder.stop()
    desk.keep_file, desk.saved = keep_file, ""
    desk.history = History(with_range(before, chosen))
    noted = chosen.settings if chosen is not None else {}
    desk.noted = dict(noted)
    first = {"name": keep_file.name, "folder": f"out/{safe_stem(keep_file.name, 'range')}"}
    _fill_export(desk, first | known_settings(noted.get("export")))
    if keep_file.path is not None:
        desk.saved = f"saved in {keep_file.path.name}"
    desk.offer = [one for one in desk.offer if one.path != keep_file.path]
    desk.unsaved = False
    if desk.hand_off is not None:
        desk.hand_off.chosen = desk.kept
    desk.follow(before, save=False)


def _rename_defaults(desk: Host, old: str, new: str) -> None:
    if desk.hand_off is not None:
        _fill_export(desk, renamed_defaults(desk.hand_off.fields.values, old, new))


def _fill_export(desk: Host, values: Mapping[str, Any]) -> None:
    """Fill fields of the export without taking that for a change that a person made."""
    job = desk.hand_off
    if job is None:
        return
    job.on_change = lambda: None
    for name, value in values.items():
        with contextlib.suppress(ArgumentError):  # no choice of this kit: it stays as it is
            job.fields.show({name: value})
    job.on_change = desk.follow_export
    desk.put_export()


def _after_rename(desk: Host) -> None:
    if desk.hand_off is not None:
        desk.hand_off.chosen = desk.kept
    desk.save()


def _said(desk: Host, message: str) -> dict[str, Any]:
    desk.say(message)
    return {}
