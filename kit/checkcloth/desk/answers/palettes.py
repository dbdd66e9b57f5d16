"""Answers about palettes: colours read from what was given, palettes saved, edited, listed."""

from __future__ import annotations

from typing import Any

from checkcloth.arguments import as_whole
from checkcloth.desk.answers.host import Answer, Host
from checkcloth.desk.answers.read_colours import (
    ReadColours,
    colour_rows,
    colours_of_rows,
    known_words,
    read_colour_file,
    read_colours,
)
from checkcloth.desk.saved_ranges import typed_name
from checkcloth.desk.state.fields import Request, text, whole
from checkcloth.desk.state.palettes import (
    add_palette,
    colours_of_card,
    find_palette,
    kept_with,
)
from checkcloth.files.names import safe_stem


def _read_colours(desk: Host, request: Request, file: bytes = b"") -> dict[str, Any]:
    """Read colours from what was pasted, typed or dropped, or from a card; save nothing."""
    name = str(request.get("name", "the text"))
    if file:
        count = as_whole(request.get("count", 12), "count", 6, 24)
        found = read_colour_file(file, name, count)
    elif "number" in request:
        found = ReadColours(colours_of_card(desk.state, whole(request, "number")))
    else:
        found = read_colours(text(request, "text"), name)
    left_out = [[one.line, one.text, one.why] for one in found.left_out]
    return {"colours": colour_rows(found.colours), "left_out": left_out}


def _save_palette(desk: Host, request: Request) -> dict[str, Any]:
    colours = colours_of_rows(request.get("colours"))
    taken = [palette.name for palette in desk.state.palettes]
    name = typed_name(request.get("name"))
    made = desk.palette_files.create(name, colours, taken)
    wanted = safe_stem(name, "palette")
    other = "" if made.name == wanted else f" {wanted} is another, and stays as it was."
    desk.message = words = f"Palette {made.name} saved.{other}"
    desk.commit(add_palette(desk.state, made), f"palette {made.name}")
    return {"palette": made.name, "words": words}


def _edit_palette(desk: Host, request: Request) -> dict[str, Any]:
    """Edit a palette; say who still has the colour as it was, for kept ones hold their own."""
    before = desk.state
    desk.take_step(request)
    name, index = text(request, "palette"), whole(request, "index")
    old = find_palette(before, name).colours[index]
    repainted = request["field"] in ("colour", "remove")
    return {"old": old.hex, "kept": kept_with(before, old) if repainted else []}


def _palette(desk: Host, request: Request) -> dict[str, Any]:
    state = desk.state
    rows = []
    for colour in find_palette(state, text(request, "palette")):
        kept = kept_with(state, colour)
        rows.append(
            [colour.name, colour.hex, colour.role, len(kept), colour.note, colour.text, kept,
             *([words] if (words := known_words(colour)) else [])]
        )  # fmt: skip
    return {"colours": rows}


def _refresh(desk: Host, _: Request) -> dict[str, Any]:
    desk.refresh_palettes()
    return {}


ANSWERS: dict[str, Answer] = {
    "read_colours": _read_colours,
    "save_palette": _save_palette,
    "edit_palette": _edit_palette,
    "palette": _palette,
    "refresh": _refresh,
}
