"""Ranges: listed with their first cloths, opened onto a desk, and the settings saved with them."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import clean_text, one_line
from checkcloth.colour.css import hex_of
from checkcloth.desk.forms.hand_off_order import DEFAULTS
from checkcloth.desk.keep_file import ENDING, Earlier
from checkcloth.desk.state.choices import settings_of
from checkcloth.desk.state.state import Card, DeskState
from checkcloth.errors import ArgumentError, ExistsError
from checkcloth.export.page.tone_packing import laid
from checkcloth.files.names import safe_stem
from checkcloth.files.whole import write_whole

MOST_LISTED = 200
# Files that were chosen on the page: where they lie beside the range they have these endings.
_CHOSEN = {"press": ".icc", "condition": ".txt"}
# Not saved: whoever opens a range says anew that files may be replaced.
_NOT_SAVED = ("replace",)


def range_entries(ranges: Iterable[Earlier], here: Path | None) -> list[dict[str, Any]]:
    """Return ranges for the page: name, file, date, how many, the tones of the first four.

    ``tones`` holds of each cloth its hex codes, row after row of the tones array (warp 0 with
    weft 0, 1 ..., then warp 1); ``counts`` its stripes and ``wefts`` those of the weft's own, so
    that a row has one more. ``laid`` is their check: see :func:`laid`.
    """
    return [
        {
            "path": one.path.name,
            "name": one.name,
            "kept": one.kept,
            "when": one.when,
            "fault": one.fault,
            "counts": [len(colourway.stripes) for colourway in one.first],
            "wefts": [len(colourway.weft_stripes) for colourway in one.first],
            "laid": laid(one.check),
            "tones": [_tone_codes(colourway) for colourway in one.first],
            "here": one.path == here,
        }
        for one in ranges
    ]


def _tone_codes(colourway: Colourway) -> list[str]:
    tones = colourway.tones.reshape(-1, 3)
    return [hex_of((float(r), float(g), float(b))) for r, g, b in tones]


def with_range(state: DeskState, chosen: ChosenSet | None) -> DeskState:
    """Return the state with a range in place of what is kept; None stands for an empty one."""
    members = chosen.chosen if chosen is not None else ()
    cards = tuple(Card.of(number, one) for number, one in enumerate(members, state.next_number))
    shown = {card.number for card in state.shown}
    return state.with_(
        kept=cards,
        next_number=state.next_number + len(cards),
        **(settings_of(chosen.check) if chosen is not None else {}),
        client=client_words(chosen.settings) if chosen is not None else "",
        compared=tuple(number for number in state.compared if number in shown),
    )


def client_words(saved: Mapping[str, Any]) -> str:
    """Return what the client said of a range as a whole, as saved with it."""
    words = saved.get("client")
    return one_line(words) if isinstance(words, str) else ""


def range_path(folder: Path, file: str) -> Path:
    """Return the path of a range by the name of its file, which is in that folder itself.

    Raises
    ------
    ArgumentError
    """
    path = folder / file
    if Path(file).name != file or not file.endswith(ENDING) or not path.is_file():
        raise ArgumentError("path", "one of the ranges that are there", file)
    return path


def typed_name(value: object) -> str:
    """Return a name of a range or a palette, or say that there is none."""
    name = clean_text(value, "name")
    if not name:
        raise ArgumentError("name", "a name of one character or more", words="none")
    return name


# -- settings that are saved with a range ----------------------------------------------------------


def export_settings(values: Mapping[str, Any], folder: Path) -> dict[str, Any]:
    """Return the fields of the export as plain values; a file that was chosen is written there.

    Raises
    ------
    OSError, ArgumentError
        Where such a file cannot be written.
    """
    found = {name: values[name] for name in DEFAULTS if name not in _NOT_SAVED}
    for name, ending in _CHOSEN.items():
        if isinstance(found[name], bytes):
            found[name] = str(_file_of(found[name], folder, ending))
    return found


def _file_of(raw: bytes, folder: Path, ending: str) -> Path:
    """Keep a file under a name that says its content, so that it is written once."""
    path = folder / f"press-{hashlib.sha256(raw).hexdigest()[:12]}{ending}"
    try:
        return write_whole(path, raw)
    except ExistsError:
        return path


def known_settings(saved: object) -> dict[str, Any]:
    """Return those of saved export fields that are fields of this kit, of their kind."""
    if not isinstance(saved, Mapping):
        return {}
    known = {
        name: value
        for name, value in saved.items()
        if name in DEFAULTS and name not in _NOT_SAVED and type(value) is type(DEFAULTS[name])
    }
    # Saved before files were made by task: a sett alone asked for the mill's.
    return known if "mill" in known else known | {"mill": bool(known.get("ends"))}


def renamed_defaults(values: Mapping[str, Any], old: str, new: str) -> dict[str, str]:
    """Return name and folder of the export as they follow a range that gets another name."""
    follow = {
        "name": (old, new),
        "folder": (f"out/{safe_stem(old, 'range')}", f"out/{safe_stem(new, 'range')}"),
    }
    return {key: after for key, (before, after) in follow.items() if values[key] == before}
