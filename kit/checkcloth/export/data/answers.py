"""What came back from a page that travels: the text of a mail or a small file, read alike."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from os import PathLike
from typing import NamedTuple

from checkcloth.arguments import as_path, require_type
from checkcloth.cloth.chosen import ANSWERS, ChosenSet
from checkcloth.cloth.named_colour import one_line
from checkcloth.errors import FileFormatError
from checkcloth.export.members import counted, number_order, stripes_on_ground
from checkcloth.files.json_reader import JsonReader, parse_json
from checkcloth.files.whole import read_text

FORMAT, VERSION = "checkcloth answers", 1
_MOST_BYTES, _MOST_ANSWERS = 2 << 20, 1000
_MOST_LETTERS = 2000
# Lines that a mail program may break a long name and its answer into.
_MOST_BROKEN = 8
_WHAT = "all that the client's page sends back, with its line “Reference …”, or its file"


class Answer(NamedTuple):
    """What was said of one colourway: its number and name on the page, answer, remark.

    ``answer`` is ``"yes"``, ``"maybe"``, ``"no"`` or empty.
    """

    number: int
    name: str
    answer: str
    remark: str = ""

    def __str__(self) -> str:
        said = self.answer or "no answer"
        return f"{self.number} {self.name}: {said}{f'. {self.remark}' if self.remark else ''}"


@dataclass(frozen=True)
class Answers:
    """Everything that one reader sent back.

    Examples
    --------
    >>> answers = read_answers('''Tea rooms, spring: answers
    ... Reference QH 26-04, page of 27 November 2026
    ... From: A. Client
    ...
    ... > 1 Violet six: yes
    ... > 2 Violet three: maybe. Could the blue be
    ... > a little weaker?
    ... ''')
    >>> print(answers)
    2 answers to QH 26-04 from A. Client: 1 yes, 1 maybe
    >>> answers.answers[1].remark
    'Could the blue be a little weaker?'
    """

    reference: str  #: of the page that was answered
    answers: tuple[Answer, ...]
    title: str = ""  #: of the page
    date: str = ""  #: of the page
    sender: str = ""
    seen: str = ""  #: what the reader had last moved, such as ``"check 1 in, strength 40 %"``
    remark: str = ""  #: on all of them
    #: Lines of a text that say nothing which can be read; nothing is guessed from them.
    unread: tuple[str, ...] = ()

    def __str__(self) -> str:
        counts = ((say, sum(one.answer == say for one in self.answers)) for say in ANSWERS)
        words = ", ".join(f"{count} {say}" for say, count in counts if count) or "none given"
        done = counted(sum(bool(one.answer) for one in self.answers), "answer")
        sender = f" from {self.sender}" if self.sender else ""
        return f"{done} to {self.reference}{sender}: {words}"


def read_answers(source: str | PathLike[str]) -> Answers:
    """Read what a range page sent back.

    Parameters
    ----------
    source : str or path
        The text itself, as pasted from a mail with its line breaks and ``>`` signs; the text of the
        file; or, as a path object, the file.

    Returns
    -------
    Answers

    Raises
    ------
    FileFormatError
        For what is no answer to a range page, or a damaged or newer file.
    FileNotFoundError, PermissionError
        As the system says, for a path.

    Examples
    --------
    >>> found = read_answers("Reference QH 1\\n1 Quay: maybe. A little paler?\\n2 Mole: no answer")
    >>> found.answers[0]
    Answer(number=1, name='Quay', answer='maybe', remark='A little paler?')
    """
    if isinstance(source, str):
        return parse_answers(source)
    path = as_path(source, "source")
    return parse_answers(read_text(path, _MOST_BYTES), path.name)


def parse_answers(text: str, name: str = "the text") -> Answers:
    """Read the text of a mail or of a file; ``name`` is what errors call it."""
    if len(text) > _MOST_BYTES:
        raise FileFormatError("file", f"at most {_MOST_BYTES} characters", len(text), source=name)
    text = text.removeprefix("\ufeff")
    in_file = text.lstrip().startswith("{")
    made = _of_file(parse_json(text, name)) if in_file else _of_text(text, name)
    if len(made.answers) > _MOST_ANSWERS:
        most = f"at most {_MOST_ANSWERS}"
        raise FileFormatError("answers", most, len(made.answers), source=name)
    return made


# -- the file --------------------------------------------------------------------------------------


def _of_file(fields: JsonReader) -> Answers:
    fields.check_kind(FORMAT, VERSION)
    made = Answers(
        one_line(fields.text("reference")),
        tuple(fields.read_each("answers", _answer_in)),
        one_line(fields.text("title", "")),
        one_line(fields.text("date", "")),
        one_line(fields.text("from", "")),
        one_line(fields.text("seen", "")),
        one_line(fields.text("remark", "")),
    )
    fields.done()
    return made


def _answer_in(fields: JsonReader) -> Answer:
    number, name = fields.whole("number"), one_line(fields.text("name"))
    answer, remark = fields.text("answer"), one_line(fields.text("remark", ""))
    if answer not in ("", *ANSWERS):
        fields.fail("answer", f"one of {', '.join(ANSWERS)}, or empty", answer)
    fields.done()
    return Answer(number, name, answer, remark)


# -- the text --------------------------------------------------------------------------------------

_QUOTED = re.compile(r"^[>|\s]+")
_NUMBERED = re.compile(r"\d{1,3} \S")
_STARTS = re.compile(r"\d{1,3} \S|Reference |From:|Seen last at:|To all:")
_SAID = re.compile(r"(\d{1,3}) (.*?): (yes|maybe|no answer|no)(?:\. ?(.*))?$", re.DOTALL)
_REFERENCE = re.compile(r"Reference (.*?)(?:, page of (.*))?$")


def _of_text(text: str, name: str) -> Answers:
    found: dict[str, str] = {}
    answers: list[Answer] = []
    unread: list[str] = []
    for paragraph in _paragraphs(text):
        if said := _SAID.fullmatch(paragraph):
            number, called, answer, remark = said.groups()
            given = "" if answer == "no answer" else answer
            answers.append(Answer(int(number), one_line(called), given, one_line(remark or "")))
        elif not _of_head(paragraph, found):
            unread.append(one_line(paragraph))
    if "reference" not in found or not answers:
        first = next((line for line in text.splitlines() if line.strip()), "")
        raise FileFormatError("answers", _WHAT, first[:_MOST_LETTERS], source=name)
    return Answers(answers=tuple(answers), unread=tuple(unread), **found)


def _of_head(paragraph: str, found: dict[str, str]) -> bool:
    """Take a line that is no answer; whether it was one that is known, and came first."""
    if "reference" not in found and (named := _REFERENCE.fullmatch(paragraph)):
        found["reference"], found["date"] = one_line(named[1]), one_line(named[2] or "")
        return True
    for key, start in (("sender", "From: "), ("seen", "Seen last at: "), ("remark", "To all: ")):
        # The head of the mail may have a line “From:” as well, before the page's own.
        if paragraph.startswith(start) and key not in found and "reference" in found:
            value = one_line(paragraph.removeprefix(start))
            found[key] = "" if value == "(no name)" else value
            return True
    if "title" not in found and paragraph.endswith(": answers"):
        found["title"] = one_line(paragraph.removesuffix(": answers"))
        return True
    return False


def _paragraphs(text: str) -> list[str]:
    """Join the lines that a mail program broke; each of the result says one thing."""
    made: list[list[str]] = []
    fresh = True
    for raw in text.replace("\u00a0", " ").splitlines():
        line = _QUOTED.sub("", raw).strip()
        if not line:
            fresh = True
            continue
        if fresh or _STARTS.match(line):
            made.append([line])
        else:
            made[-1].append(line)
        # The title's line ends with itself.
        fresh = line.endswith(": answers")
    whole = (said for lines in made for said in _parted(lines))
    return _without_false_starts(whole)


def _parted(lines: list[str]) -> list[str]:
    """Lines as one; what was written right under an answer without a remark is parted."""
    joined = " ".join(lines)
    if _SAID.fullmatch(joined) or not _NUMBERED.match(joined):
        return [joined]
    for count in range(1, min(len(lines), _MOST_BROKEN)):
        answer = " ".join(lines[:count])
        if _SAID.fullmatch(answer):
            return [answer, " ".join(lines[count:])]
    return [joined]


def _without_false_starts(paragraphs: Iterable[str]) -> list[str]:
    """A remark may go on with a line that begins with a number: it is joined to its answer."""
    made: list[list[str]] = []
    in_remark = False
    for paragraph in paragraphs:
        said = _SAID.fullmatch(paragraph)
        if in_remark and not said and _NUMBERED.match(paragraph):
            made[-1].append(paragraph)
        else:
            made.append([paragraph])
            in_remark = said is not None and bool(said[4])
    return [" ".join(parts) for parts in made]


# -- whose they are --------------------------------------------------------------------------------


class Matched(NamedTuple):
    """Answers on the colourways of a set: indices with their answers, and those of none there."""

    found: tuple[tuple[int, Answer], ...]
    gone: tuple[Answer, ...]


def match_answers(answers: Answers, chosen: ChosenSet) -> Matched:
    """Find the colourway of each answer: that of its number if the name agrees, else of its name.

    Names are compared by their letters and digits, as mail programs change the rest. A colourway
    without a name is known by the names of its colours. Where a name is not there, or several have
    it, the answer is of none: it is shown to people, and nothing is guessed. What says nothing (no
    answer and no remark) is of interest only where it is found.

    Parameters
    ----------
    answers : Answers
    chosen : ChosenSet

    Returns
    -------
    Matched
        ``found``: pairs of an index in the set and its answer; ``gone``: answers of none there.

    Raises
    ------
    ArgumentError
        For what are no answers.

    Examples
    --------
    >>> from checkcloth import Check, Colourway
    >>> quay, mole = (Colourway("white", ["navy"], name=name) for name in ("Quay", "Mole"))
    >>> said = Answers("QH 1", (Answer(1, "Mole", "yes"), Answer(2, "Pier", "no")))
    >>> matched = match_answers(said, ChosenSet(Check("1 in", 1), [quay, mole]))
    >>> [index for index, _ in matched.found], [str(one) for one in matched.gone]
    ([1], ['2 Pier: no'])
    """
    require_type(answers, "answers", Answers)
    require_type(chosen, "chosen", ChosenSet)
    names = [_letters(one.name or stripes_on_ground(one)) for one in chosen]
    order = number_order(chosen)
    found: dict[int, Answer] = {}
    gone: list[Answer] = []
    for answer in answers.answers:
        wanted = _letters(answer.name)
        same = [index for index, name in enumerate(names) if name == wanted]
        numbered = order[answer.number - 1] if 1 <= answer.number <= len(order) else None
        index = numbered if numbered in same else same[0] if len(same) == 1 else None
        if index is not None and index not in found:
            found[index] = answer
        elif answer.answer or answer.remark:
            gone.append(answer)
    return Matched(tuple(sorted(found.items())), tuple(gone))


def _letters(text: str) -> str:
    return "".join(char for char in text.casefold() if char.isalnum())
