"""Colours out of pasted text: a mail, a table, a list of codes; names beside them come along."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from checkcloth.arguments import require_type
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.css import css_names, nearest_css_name
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.files.names import distinct_names

MOST_CHARACTERS = 200_000
MOST_COLOURS = 500

_FUNCTIONS = "rgba?|hsla?|hwb|lab|lch|oklab|oklch|color"
# A code wherever it stands: with its #, as a CSS function, six bare digits of which one is 0–9, or
# red, green and blue of 255 in brackets or after "RGB".
_CODE = re.compile(
    rf"(?P<hash>\#[0-9a-z]+)|(?P<function>\b(?:{_FUNCTIONS})\([^()]*\)?)"
    r"|(?P<bare>(?<![\w.,+-])(?=[0-9a-f]*[0-9])(?=[0-9a-f]*[a-f])[0-9a-f]{6}(?![\w-]))"
    r"|(?P<triple>(?<![\w)])\(\s*\d{1,3}\s*[,;]\s*\d{1,3}\s*[,;]\s*\d{1,3}\s*\)"
    r"|\brgb\b\s*[:=]?\s*\d{1,3}(?:\s*[,;/]\s*|\s+)\d{1,3}(?:\s*[,;/]\s*|\s+)\d{1,3}(?![\w%]|\.\d|\s*[,;/]?\s*\d))",
    re.IGNORECASE,
)
_LONE_DIGITS = re.compile(r"[0-9]{6}")
_BULLET = re.compile(r"^\s*(?:[-*•–—>]+|\(?\d{1,3}[.):])\s+")
_EDGES = " \t:;,=|/–—-•*()[]{}<>\"'“”‘’«»"
_CELLS = re.compile(r"[\t;,|]")
_AND = re.compile(r"^and\b(?:\s+(?:an?|the)\b)?", re.IGNORECASE)  # what goes on with a list
# Between a name and its code these are words for the code.
_CODE_WORDS = {"hex", "code", "html", "css", "rgb", "srgb", "colour", "color", "web"}


@dataclass(frozen=True)
class LeftOut:
    """A piece of pasted text that looked like a colour and is none."""

    line: int  # counted from 1
    text: str
    why: str


@dataclass(frozen=True)
class PastedColours:
    """The colours that a text holds, in its order, and what of it could not be read."""

    colours: tuple[NamedColour, ...]  # each colour once, each under a name of its own
    left_out: tuple[LeftOut, ...]

    def __repr__(self) -> str:
        return f"<{len(self.colours)} colours, {len(self.left_out)} left out>"


def colours_in_text(text: str) -> PastedColours:
    """Return the colours that a text holds: codes anywhere in it, names beside them.

    A code is any opaque CSS Color 4 colour, six hexadecimal digits without their ``#``, or red,
    green and blue of 255, as "(217, 196, 232)" or "RGB 217 196 232". The words before a code on
    its line are its name (after a colon among them those that follow it), or those after it where
    a line begins with its code; without words it gets the name of the nearest CSS colour. A CSS
    colour name counts only where it stands alone on its line or in its cell, so that prose is
    passed over. So does a word a letter or two away from one, such as "tael": it is left out with
    what may be meant, where it stands among colours, in a list or on a line beside theirs.

    Parameters
    ----------
    text : str
        At most 200,000 characters.

    Returns
    -------
    PastedColours
        A second mention of a colour is left out without a word unless it brings another name.

    Raises
    ------
    ArgumentError
        For what is not text, or is too long, or holds over 500 colours.

    Examples
    --------
    >>> found = colours_in_text("Good morning,\\nPeach Skin: #f2b084\\n#fffaf0 Icing\\nnavy\\n#12")
    >>> [str(colour) for colour in found.colours]
    ['Peach Skin #f2b084', 'Icing #fffaf0', 'navy #000080']
    >>> [(part.line, part.text) for part in found.left_out]
    [(5, '#12')]
    """
    if len(require_type(text, "text", str)) > MOST_CHARACTERS:
        raise ArgumentError("text", f"at most {MOST_CHARACTERS} characters", len(text))
    found: list[tuple[NamedColour, bool]] = []
    lines = text.splitlines()
    left_out = [*_misspelt(lines)]
    for number, line in enumerate(lines, start=1):
        for name, code in _names_and_codes(line):
            try:
                found.append((_colour(name, code), bool(name)))
            except CheckclothError as error:
                left_out.append(LeftOut(number, code, f"must be {error.allowed}"))
        if len(found) > MOST_COLOURS:
            raise ArgumentError("text", f"of at most {MOST_COLOURS} colours", words="more")
    left_out.sort(key=lambda part: part.line)
    return PastedColours(_each_once(found), tuple(left_out))


def _names_and_codes(line: str) -> list[tuple[str, str]]:
    """The codes of a line, each with its name or ""."""
    line = _BULLET.sub("", line)
    codes = list(_CODE.finditer(line))
    if not codes:
        return [("", word) for cell in _CELLS.split(line) if (word := _lone_word(cell))]
    edges = [0, *(edge for code in codes for edge in code.span()), len(line)]
    between = [line[start:end] for start, end in zip(edges[::2], edges[1::2], strict=True)]
    before = bool(between[0].strip(_EDGES))
    names = map(_after_colon, between[:-1]) if before else between[1:]
    return [(_name(name), code[0]) for name, code in zip(names, codes, strict=True)]


def _after_colon(words: str) -> str:
    """What stands after a colon names the code; before it, where that only says what it is."""
    lead, colon, last = words.rstrip(_EDGES).rpartition(": ")
    return words if not colon else lead if last.strip(_EDGES).lower() in _CODE_WORDS else last


def _lone_word(cell: str) -> str:
    """A colour that has its cell to itself and no mark of a code: a CSS name, or six digits."""
    word = cell.strip(_EDGES)
    return word if word.lower() in css_names() or _LONE_DIGITS.fullmatch(word) else ""


def _misspelt(lines: list[str]) -> Iterator[LeftOut]:
    """Words that stand where colours do and are nearly the name of one."""
    full = [(number, line) for number, line in enumerate(lines, start=1) if line.strip(_EDGES)]
    for index, (number, line) in enumerate(full):
        words = _words_alone(line)
        others = [word for word in words if not _lone_word(word)]
        if not others or 2 * len(others) > max(2, len(words)):
            continue
        beside = [full[at][1] for at in (index - 1, index + 1) if 0 <= at < len(full)]
        if len(words) > len(others) or any(map(_is_of_colours, beside)):
            for word in others:
                if meant := _nearly_named(word.lower()):
                    yield LeftOut(number, word, f"must be a colour; is {meant} meant?")


def _words_alone(line: str) -> list[str]:
    """The words of a line where every cell is a word; of any other line none."""
    line = _BULLET.sub("", line)
    cells = [word for cell in _CELLS.split(line) if (word := cell.strip(_EDGES))]
    return cells if all(cell.isalnum() for cell in cells) and not _CODE.search(line) else []


def _is_of_colours(line: str) -> bool:
    """Whether a line has a code, or nothing but names of colours."""
    words = _words_alone(line)
    return all(map(_lone_word, words)) if words else bool(_CODE.search(line))


@lru_cache(maxsize=1024)
def _nearly_named(word: str) -> str:
    """The CSS colour that a word is a slip of the pen away from, or ""; a plural is none.

    One letter wrong, too many, missing or changed about with the next; two in long names. Names
    of three letters are too like other words.
    """
    if not word.isalpha() or word in {f"{name}s" for name in css_names()}:
        return ""
    near = [(_slips(word, name), name) for name in css_names() if len(name) > 3]
    return min(((n, name) for n, name in near if n <= 1 + (len(name) > 6)), default=(0, ""))[1]


def _slips(word: str, name: str) -> int:
    """Return how many slips make one of the other, 3 standing for more.

    Optimal string alignment: F. J. Damerau, *Communications of the ACM* 7:171-176, 1964, cited
    from memory.
    """
    if abs(len(word) - len(name)) > 2:
        return 3
    before: list[int] = []
    row = list(range(len(name) + 1))
    for i, letter in enumerate(word, start=1):
        before, last = row, before
        row = [i]
        for j, other in enumerate(name, start=1):
            least = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != other))
            if i > 1 and j > 1 and (letter, word[i - 2]) == (name[j - 2], other):
                least = min(least, last[j - 2] + 1)
            row.append(least)
    return min(row[-1], 3)


def _name(text: str) -> str:
    """Words beside a code, without what only parts them from it; the cell next to it counts."""
    cells = [cell for cell in (part.strip(_EDGES) for part in re.split(r"[\t;|]", text)) if cell]
    words = " ".join(" ".join(cells).split())
    words = "".join(char for char in words if char.isprintable()).strip(_EDGES)
    return _AND.sub("", words)[:80].strip(_EDGES)


def _colour(name: str, code: str) -> NamedColour:
    colour = NamedColour.of(_as_css(code))
    if code.lower() in css_names():
        return replace(colour, name=name or code)
    return replace(colour, name=name or nearest_css_name(colour.rgb))


def _as_css(code: str) -> str:
    """A code as CSS writes it: digits with their ``#``, a triple as ``rgb()``."""
    if re.fullmatch(r"[0-9a-fA-F]{6}", code):
        return f"#{code}"
    found = _CODE.fullmatch(code)
    if found is None or not found["triple"]:
        return code
    parts = re.findall(r"\d+", code)
    if max(map(int, parts)) > 255:
        raise ArgumentError("colour", "three numbers from 0 to 255", code)
    return f"rgb({' '.join(parts)})"


def _each_once(found: list[tuple[NamedColour, bool]]) -> tuple[NamedColour, ...]:
    """Drop what was there before: the same colour under the same name, or under none."""
    kept: list[NamedColour] = []
    for colour, named in found:
        twins = [other for other in kept if other.rgb == colour.rgb]
        if not any(not named or other.name == colour.name for other in twins):
            kept.append(colour)
    names = distinct_names(colour.name for colour in kept)
    return tuple(replace(colour, name=name) for colour, name in zip(kept, names, strict=True))
