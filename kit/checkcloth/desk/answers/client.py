"""The client's side of a range: the page that goes out, and the answers that come back."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.desk.answers.host import Answer as AnswerTo
from checkcloth.desk.answers.host import Host
from checkcloth.desk.state.fields import Request
from checkcloth.desk.state.state import DeskState, recipe
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.export.data.answers import Answer, Answers, match_answers, parse_answers
from checkcloth.export.for_client import ForClient
from checkcloth.export.members import number_order
from checkcloth.export.page.range_page import range_page_html, stops_around, usual_reference
from checkcloth.files.names import safe_stem
from checkcloth.files.whole import write_free

# Editions of the page that a range remembers, and what is said of one range as a whole.
_MOST_PAGES, _MOST_SAID = 20, 2000
_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


class MadePage(NamedTuple):
    """A page that was written: its file, and what the range remembers of it."""

    path: Path
    note: dict[str, Any]


def date_words(day: datetime.date) -> str:
    """Return a date as it is read, in any country.

    >>> date_words(datetime.date(2026, 11, 27))
    '27 November 2026'
    """
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def write_range_page(chosen: ChosenSet, folder: Path, request: Request) -> MadePage:
    """Write the page for the client beside the range, under a name that is free.

    ``request`` may hold ``note`` and ``reference``, texts, and ``sizes``, ``strengths``, ``codes``:
    whether the client may choose half and twice the check size, move the strength, see codes.

    Raises
    ------
    ArgumentError, OSError
        For an empty range, a field that is no text, or a folder that cannot be written to.
    """
    if not len(chosen):
        raise ArgumentError("kept", "at least one colourway", words="none", hint="; keep one first")
    asked = ForClient(
        note=request.get("note", ""),
        reference=request.get("reference", ""),
        date=date_words(datetime.date.today()),
        sizes=_around(chosen.check.size) if request.get("sizes", True) else (),
        strengths=stops_around([one.strength for one in chosen])
        if request.get("strengths", True)
        else (),
        codes=request.get("codes", True),
    )
    html = range_page_html(chosen, None, asked)
    stem = f"{safe_stem(chosen.name, 'range')}-for-the-client"
    path = write_free(folder, stem, ".html", html.encode("utf-8"))
    note = {
        "reference": asked.reference or usual_reference(chosen),
        "file": path.name,
        "shown": [_fingerprint(chosen.colourways[index]) for index in number_order(chosen)],
    }
    return MadePage(path, note)


def _around(size: Length) -> list[Length]:
    """Half and twice the size, where cloth can have them."""
    return [other for other in (size / 2, size * 2) if 0.1 <= other.mm <= 1000]


def _fingerprint(colourway: Colourway) -> str:
    return hashlib.sha256(repr(recipe(colourway)).encode("utf-8")).hexdigest()[:12]


def pages_noted(noted: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return the pages that a saved range remembers, newest last; what is no such note is left."""
    pages = noted.get("pages")
    good = [page for page in pages if _is_note(page)] if isinstance(pages, list) else []
    return good[-_MOST_PAGES:]


def _is_note(page: Any) -> bool:
    return (
        isinstance(page, Mapping)
        and isinstance(page.get("reference"), str)
        and isinstance(page.get("shown"), list)
    )


# -- what came back --------------------------------------------------------------------------------


class Heard(NamedTuple):
    """What answers come to: the state with them, and what the page says of them."""

    state: DeskState
    words: str
    fields: dict[str, Any]


def read_sent_back(request: Request, file: bytes = b"") -> Answers:
    """Read what was pasted, chosen or dropped.

    Raises
    ------
    FileFormatError
    """
    name = str(request.get("name", "")) or "the text"
    if not file:
        return parse_answers(str(request.get("text", "")), name)
    try:
        return parse_answers(file.decode("utf-8"), name)
    except UnicodeDecodeError as error:
        found = file[error.start : error.end]
        raise FileFormatError("file", "UTF-8 text", found, source=name) from None


def hear(
    state: DeskState,
    answers: Answers,
    pages: Sequence[Mapping[str, Any]],
    *,
    exported: str = "",
    anyway: bool = False,
) -> Heard:
    """Put answers and remarks on the kept colourways that they are about.

    Parameters
    ----------
    state : DeskState
    answers : Answers
    pages : sequence of mapping
        What the range remembers of its pages.
    exported : str
        The reference that the range's exports are given, beside the usual one.
    anyway : bool
        Whether answers to a page that it does not remember are taken too, by number and name.

    Raises
    ------
    ArgumentError
        For answers to another range's page.
    """
    chosen = state.chosen_set()
    page = next((one for one in pages if _same(one["reference"], answers.reference)), None)
    usual = [usual_reference(chosen), *([exported] if exported else [])]
    known = page is not None or any(_same(one, answers.reference) for one in usual)
    if not known and not anyway:
        names = ", ".join(str(one["reference"]) for one in pages) or "it has sent none"
        raise ArgumentError(
            "reference", f"that of a page of this range ({names})", answers.reference
        )
    if page is not None:
        answers = replace(answers, answers=_renamed(answers.answers, chosen, page["shown"]))
    matched = match_answers(answers, chosen)
    said = dict(matched.found)
    kept = tuple(
        replace(card, answer=said[index].answer, remark=said[index].remark)
        if index in said
        else card
        for index, card in enumerate(state.kept)
    )
    after = state.with_(kept=kept, client=_whole_words(answers))
    fields = {
        "words": f"{str(answers)[:1].upper()}{str(answers)[1:]}.",
        "gone": [str(answer) for answer in matched.gone],
        "unread": list(answers.unread),
    }
    return Heard(after, f"answers from {answers.sender or 'the client'}", fields)


def _same(one: object, other: str) -> bool:
    return isinstance(one, str) and one.casefold().split() == other.casefold().split()


def _renamed(
    answers: Sequence[Answer], chosen: ChosenSet, shown: Sequence[Any]
) -> tuple[Answer, ...]:
    """Follow colourways that were renamed or moved since: the cloth is the same."""
    prints = [_fingerprint(one) for one in chosen]
    order = number_order(chosen)
    made = []
    for answer in answers:
        there = 1 <= answer.number <= len(shown)
        same = [i for i, one in enumerate(prints) if there and one == shown[answer.number - 1]]
        if len(same) == 1:
            colourway = chosen.colourways[same[0]]
            name = colourway.name or answer.name
            answer = answer._replace(number=order.index(same[0]) + 1, name=name)
        made.append(answer)
    return tuple(made)


def _whole_words(answers: Answers) -> str:
    """What was said of the range as a whole, on one line; "" where nothing was."""
    parts = [f"{answers.sender or 'The client'}, reference {answers.reference}"]
    if answers.remark:
        parts.append(f"“{answers.remark}”")
    if answers.seen:
        parts.append(f"seen last at {answers.seen}")
    return "; ".join(parts)[:_MOST_SAID] if len(parts) > 1 else ""


# -- requests --------------------------------------------------------------------------------------


def _range_page(desk: Host, request: Request) -> dict[str, Any]:
    """Write the page for the client beside the range, and remember its reference."""
    made = write_range_page(desk.kept, desk.keep_file.folder, request)
    desk.noted = desk.noted | {"pages": [*pages_noted(desk.noted), made.note]}
    desk.save()
    desk.say(f"Page for the client: {made.path.name}, reference {made.note['reference']}.")
    return {"file": made.path.name, "reference": made.note["reference"]}


def _sent_back(desk: Host, request: Request, file: bytes = b"") -> dict[str, Any]:
    """Put what a client sent back on the kept colourways: one step, which undo takes back."""
    answers = read_sent_back(request, file)
    try:
        heard = hear(
            desk.state,
            answers,
            pages_noted(desk.noted),
            exported=desk.hand_off.fields.shown["reference"].strip() if desk.hand_off else "",
            anyway=bool(request.get("anyway")),
        )
    except ArgumentError as error:
        if error.argument != "reference":
            raise
        return {"refused": str(error)}  # the page asks whether to read them all the same
    desk.message = heard.fields["words"]
    desk.commit(heard.state, heard.words)
    desk.put_facts()
    return heard.fields


ANSWERS: dict[str, AnswerTo] = {"range_page": _range_page, "sent_back": _sent_back}
