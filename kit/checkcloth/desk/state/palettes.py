"""The palettes of a desk: added, edited, counted by use. Each returns a new state."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.cloth.palette import Palette
from checkcloth.desk.state.colour_names import colour_called, unknown_colour
from checkcloth.desk.state.state import DeskState, History
from checkcloth.errors import ArgumentError, ColourError

FIELDS = ("name", "colour", "role", "note", "remove", "add")


def find_palette(state: DeskState, name: str) -> Palette:
    """Return the palette of that name.

    Raises
    ------
    ArgumentError
    """
    for palette in state.palettes:
        if palette.name == name:
            return palette
    names = ", ".join(palette.name for palette in state.palettes)
    raise ArgumentError("palette", f"one of {names}", name)


def add_palette(state: DeskState, palette: Palette) -> DeskState:
    """Return the state with one palette more, at the end of the list."""
    return state.with_(palettes=(*state.palettes, palette))


def edit_palette(
    state: DeskState, name: str, index: int, field: str, text: str, called: str = ""
) -> tuple[DeskState, str]:
    """Change one colour of a palette; kept colourways hold their own colours and stay.

    Parameters
    ----------
    state : DeskState
    name : str
        Of the palette.
    index : int
        Of the colour, from 0; for ``"add"`` the new colour stands after it.
    field : str
        One of ``FIELDS``.
    text : str
        A name, a CSS colour or the name of another palette's, a role, a note; unused by
        ``"remove"``.
    called : str
        The name of a colour that is added; without it, it is called as it was typed.

    Returns
    -------
    state : DeskState
    words : str
        What was done.

    Raises
    ------
    ArgumentError, ColourError
        For what is not there, a name that another colour has, the only colour removed.
    """
    palette = find_palette(state, name)
    if field not in FIELDS:
        raise ArgumentError("field", f"one of {', '.join(FIELDS)}", field)
    if not 0 <= index < len(palette):
        raise ArgumentError("index", f"from 0 to {len(palette) - 1}", index)
    colours, before = list(palette.colours), palette.colours[index]
    after: NamedColour | None = None
    match field:
        case "remove":
            if len(colours) == 1:
                raise ArgumentError("palette", "of one colour or more", words="its only one")
            del colours[index]
            words = f"{before.name} is out of {name}"
        case "add":
            after = _new(state, palette, text, called)
            colours.insert(index + 1, after)
            words = f"{after.name} is in {name}{_shown(after)}"
        case _:
            after, words = _edited(state, before, field, text)
            colours[index] = after
    made = Palette(name, colours)
    changed = state.with_(palettes=tuple(made if p is palette else p for p in state.palettes))
    if after == before:
        return state, words
    if state.chosen_palette.name == name and state.ground == before.name and field != "add":
        changed = changed.with_(ground="" if after is None else after.name)
    return changed, words


def _typed(state: DeskState, text: str) -> NamedColour:
    try:
        return NamedColour.of(text)
    except ColourError as error:
        if found := colour_called(text, state.palettes):
            return found
        raise unknown_colour(error.argument, text, state.palettes) from None


def _new(state: DeskState, palette: Palette, text: str, called: str) -> NamedColour:
    """A colour to be added, under a name that is free."""
    typed = _typed(state, text)
    made = replace(typed, name=clean_text(called, "name") or typed.name)
    if any(made.name == colour.name for colour in palette):
        raise ArgumentError("name", "one that no other colour of the palette has", made.name)
    return made


def _edited(
    state: DeskState, before: NamedColour, field: str, text: str
) -> tuple[NamedColour, str]:
    if field == "name":
        after = replace(before, name=text)
        return after, f"{before.name} is called {after.name}"
    if field == "colour":
        made = _typed(state, text)
        after = replace(made, name=before.name, role=before.role, note=before.note)
        return after, f"{before.name} is {made.hex}{_shown(made)}{no_longer_measured(before, made)}"
    if field == "role":
        role = text.strip().lower()
        after = replace(before, role="" if role == "either" else role)
        return after, f"{before.name} is for {after.role or 'either'}"
    return replace(before, note=text), f"note to {before.name}"


def no_longer_measured(before: NamedColour, after: NamedColour) -> str:
    """Say that a reflectance is gone with a colour that another was typed for, or ""."""
    gone = before.reflectance and not after.reflectance
    return "; the reflectance measured of it is gone" if gone else ""


def _shown(colour: NamedColour) -> str:
    return f", {colour.shift_words}" if colour.shift_words else ""


def kept_with(state: DeskState, colour: NamedColour) -> list[int]:
    """Return the numbers of the kept cards that hold a colour, as ground or as any stripe."""
    return [
        card.number for card in state.kept if colour.rgb in {c.rgb for c in card.colourway.colours}
    ]


def colours_of_card(state: DeskState, number: int) -> tuple[NamedColour, ...]:
    """Return the colours of a card, each once: the ground, marked so, then all stripes."""
    colourway = state.find(number).colourway
    ground = replace(colourway.ground, role="ground")
    found = {ground.rgb: ground}
    for stripe in (*colourway.stripes, *colourway.weft_stripes):
        found.setdefault(stripe.rgb, replace(stripe, role="stripe"))
    return tuple(found.values())


def with_files_read(
    history: History, new: Iterable[Palette], changed: Mapping[str, Palette]
) -> History:
    """Return the history with palettes that files brought, in all of its states.

    What stands in files is no step of the desk: undo does not take it back.
    """
    new = tuple(new)
    # Also in place of one of that name which was undone here: the file is another's now.
    changed = dict(changed) | {palette.name: palette for palette in new}
    seen: dict[int, DeskState] = {}

    def follow(state: DeskState) -> DeskState:
        if id(state) not in seen:
            seen[id(state)] = _with_palettes(state, new, changed)
        return seen[id(state)]

    def both(steps: Iterable[tuple[DeskState, str]]) -> tuple[Any, ...]:
        return tuple((follow(state), words) for state, words in steps)

    return replace(
        history, now=follow(history.now), past=both(history.past), future=both(history.future)
    )


def _with_palettes(
    state: DeskState, new: tuple[Palette, ...], changed: Mapping[str, Palette]
) -> DeskState:
    there = {palette.name for palette in state.palettes}
    palettes = [changed.get(palette.name, palette) for palette in state.palettes]
    palettes += [palette for palette in new if palette.name not in there]
    # The one in use stays in use where it was so only by being the first.
    after = state.with_(palettes=tuple(palettes), palette=state.chosen_palette.name)
    names = {colour.name for colour in after.chosen_palette}
    return after if state.ground in {"", *names} else after.with_(ground="")
