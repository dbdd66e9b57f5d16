"""File names from names that people typed: safe on every system, still readable."""

from __future__ import annotations

import re
import sys
import unicodedata
from collections.abc import Iterable

# A stem leaves room for what is hung on it ("-tile-1200dpi.png"): names stay under 80
# characters, and under the 255 bytes that file systems allow.
LONGEST_STEM = 48
_MOST_BYTES = 144
# Names that one family of systems keeps for devices (published by its maker; from memory).
_DEVICE = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)", re.IGNORECASE)


def _spelt(char: str) -> str:
    """A character as it may stand in a file name; a pictogram by its Unicode name."""
    kind = unicodedata.category(char)
    if kind[0] in "LN" or char == "_":
        return char
    if kind[0] == "M":
        # Joins the letter before it; variation selectors and the like have no letter.
        return "" if unicodedata.name(char, "").startswith("VARIATION") else char
    if kind == "So":
        return "-" + unicodedata.name(char, "").lower().replace(" ", "-") + "-"
    return "-"


def safe_stem(text: str, otherwise: str = "colourway") -> str:
    """Return a file name, without its ending, made of what a person typed.

    Letters and digits of any script stay; a pictogram is spelt out; all else becomes one
    hyphen. No path, no leading dot, no name that a system keeps for itself, at most 48
    characters.

    >>> safe_stem("../Quay & <b>Signal</b>")
    'Quay-b-Signal-b'
    >>> safe_stem("🍓"), safe_stem("con"), safe_stem("..")
    ('strawberry', 'con-cloth', 'colourway')
    """
    whole = "".join(map(_spelt, unicodedata.normalize("NFKC", text)))
    # A mark stands for each letter that names of files here cannot have.
    encoding = sys.getfilesystemencoding()
    whole = whole.encode(encoding, "replace").decode(encoding)
    stem = _cut(re.sub(r"[-?]+", "-", whole).strip("-_"), LONGEST_STEM)
    if not stem or unicodedata.category(stem[0])[0] == "M":
        stem = otherwise
    return f"{stem}-cloth" if _DEVICE.fullmatch(stem) else stem


def _cut(text: str, longest: int) -> str:
    text = text[:longest]
    while len(text.encode("utf-8")) > _MOST_BYTES:
        text = text[:-1]
    return text.strip("-_")


def file_stems(names: Iterable[str], otherwise: str = "colourway") -> list[str]:
    """Return one stem a name, all different even where capitals do not count.

    >>> file_stems(["Quay", "quay", "Quay-2", ""])
    ['Quay', 'quay-2', 'Quay-2-2', 'colourway']
    """
    taken: set[str] = set()
    # Where counting goes on for a stem, so that a thousand of one name take a thousand steps.
    numbers: dict[str, int] = {}
    out: list[str] = []
    for name in names:
        stem = first = safe_stem(name, otherwise)
        number = numbers.get(first, 1)
        while _folded(stem) in taken:
            number += 1
            tail = f"-{number}"
            stem = _cut(first, LONGEST_STEM - len(tail)) + tail
        numbers[first] = number
        taken.add(_folded(stem))
        out.append(stem)
    return out


def distinct_names(names: Iterable[str], numbered: str = "{} {}") -> list[str]:
    """Number names that come again, so that each is there once.

    >>> distinct_names(["teal", "gold", "teal", "teal"])
    ['teal', 'gold', 'teal 2', 'teal 3']
    """
    numbers: dict[str, int] = {}
    out: dict[str, None] = {}
    for name in names:
        made, number = name, numbers.get(name, 1)
        while made in out:
            number += 1
            made = numbered.format(name, number)
        numbers[name] = number
        out[made] = None
    return list(out)


def _folded(stem: str) -> str:
    return unicodedata.normalize("NFKC", stem.casefold())
