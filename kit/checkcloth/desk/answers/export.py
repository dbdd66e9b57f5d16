"""Answers about the export: its fields, what it would make, begun, stopped, proofed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from checkcloth.cloth.chosen import Chosen, ChosenSet
from checkcloth.cloth.named_colour import one_line
from checkcloth.colour.ink import LONGEST_NAME
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.desk.answers.host import Answer, Host
from checkcloth.desk.forms.export_foretold import foretold_fields
from checkcloth.desk.forms.hand_off import HandOffJob, proof_rows
from checkcloth.desk.forms.hand_off_order import read_condition, read_field
from checkcloth.desk.payloads import offered_stocks, size_text
from checkcloth.desk.state.fields import Request, text, whole
from checkcloth.errors import ArgumentError


def _foretell(desk: Host, request: Request) -> dict[str, Any]:
    """Say what an export would make of the fields as they stand, or as they are asked about."""
    values = _job(desk).fields.values | _fields_of(request)
    return foretold_fields(_chosen(desk, request), values)


def _set_export(desk: Host, request: Request) -> dict[str, Any]:
    _job(desk).fields.show(_fields_of(request))
    return {}


def _check_sizes(_: Host, request: Request) -> dict[str, Any]:
    """Read check sizes as they are typed; rows of text and inches."""
    sizes = read_field("sizes", {"sizes": text(request, "text")})
    return {"sizes": [[size_text(size), size.inches] for size in dict.fromkeys(sizes)]}


def _press_profile(desk: Host, request: Request, content: bytes = b"") -> dict[str, Any]:
    """Take an ICC profile that was chosen on the page."""
    _job(desk).fields.take_press(text(request, "name"), content)
    return {}


def _press_chart(desk: Host, request: Request, content: bytes = b"") -> dict[str, Any]:
    """Print the wall on a measured press: of a chart sent now or before, or that plates go by."""
    fields = _job(desk).fields
    name, source = fields.chart
    sent = "name" in request
    if sent:
        name, source = text(request, "name").strip() or "chart", content
    condition = _measured(name, source)
    if sent:
        fields.take_chart(name, content)
    called = one_line(Path(name).stem, longest=LONGEST_NAME)
    made = replace(condition.as_stock, name=called)
    # The same numbers are the same press, under the name that it has here already.
    stock = next((one for one in offered_stocks(desk.state) if one == made), made)
    desk.take_step({"do": "stock", "value": stock.text})
    return {"words": f"{name}: {_known_of(condition)}"}


def _measured(name: str, source: str | bytes) -> PrintCondition:
    try:
        condition = read_condition(source, name)
    except OSError:
        raise ArgumentError("chart", "a file that is there and can be read", source) from None
    if condition is None:
        raise ArgumentError("chart", "chosen: readings as CGATS text", words="none")
    return condition


def _known_of(condition: PrintCondition) -> str:
    """What the wall takes of a press."""
    inks = f"{', '.join(condition.solids)}, from {condition.basis}. "
    if "ramps" not in condition.basis:
        return f"{inks}Not every ink was measured in tints, so the increase is an estimate."
    return f"{inks}The wall takes the mean of their increases."


def _export(desk: Host, request: Request) -> dict[str, Any]:
    job = _job(desk)
    job.begin(_chosen(desk, request), beside_it=request.get("beside") is True)
    return {}


def _stop_export(desk: Host, _: Request) -> dict[str, Any]:
    _job(desk).work.stop()
    return {}


def proof(desk: Host, request: Request) -> tuple[dict[str, Any], list[bytes]]:
    """Show what a press makes of the first colourways."""
    return proof_rows(_chosen(desk, request), _job(desk).fields.values)


ANSWERS: dict[str, Answer] = {
    "foretell": _foretell,
    "set_export": _set_export,
    "check_sizes": _check_sizes,
    "press_profile": _press_profile,
    "press_chart": _press_chart,
    "export": _export,
    "stop_export": _stop_export,
}


def _job(desk: Host) -> HandOffJob:
    if desk.hand_off is None:
        raise ArgumentError("desk", "the one that is open", words="closed")
    return desk.hand_off


def _fields_of(request: Request) -> dict[str, Any]:
    fields = request.get("fields", {})
    if not isinstance(fields, Mapping):
        raise ArgumentError("fields", "the fields of the export by name", fields)
    return dict(fields)


def _chosen(desk: Host, request: Request) -> ChosenSet:
    """What is kept; while nothing is, the card that the page names, if it names one."""
    kept, state = desk.kept, desk.state
    if len(kept) or "number" not in request:
        return kept
    card = state.find(whole(request, "number"))
    shown = Chosen(state.as_shown(card), card.note, card.origin)
    return ChosenSet(state.check_for(shown.colourway), [shown], kept.name)
