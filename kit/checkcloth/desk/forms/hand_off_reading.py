"""Reads the fields of the hand-off form: an order for ``hand_off``, or what is wrong where.

Plain functions over plain values, so that every fault can be tested without a widget.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.named_colour import clean_text
from checkcloth.cloth.threads import Allowances, Sett
from checkcloth.errors import ArgumentError, CheckclothError, shown
from checkcloth.export.hand_off.coordinates import family
from checkcloth.export.mill.thread_plan import thread_plan
from checkcloth.export.picture.piece import Piece
from checkcloth.export.picture.raster import tile_size
from checkcloth.export.print.plates import plates_of
from checkcloth.export.print.press import open_press

__all__ = ["DEFAULTS", "beside", "field_of", "read_field", "read_order"]

# Every field by name, as it stands at first. Texts are what people type.
DEFAULTS: dict[str, Any] = {
    "name": "",
    "folder": "out/explore",
    "resolutions": "300",
    "paper": "A4",
    "zipped": False,
    "replace": False,
    "width": "",
    "length": "",
    "cut": False,
    "plates": "",
    "press": "",
    "intent": "relative colorimetric",
    "black_point": True,
    "ends": "",
    "picks": "",
    "warp_take_up": "8",
    "weft_take_up": "6",
    "waste": "5",
    "thumbnails": "256",
    "sizes": "",
}
# Errors begin with the argument at fault; these are the fields that fill it.
_FIELDS = {
    "dpi": "resolutions",
    "cloth": "width",
    "paper": "paper",
    "sett": "ends",
    "path": "folder",
    "the": "folder",
}
_LEAD = re.compile(r"^[a-z_]+(?: and [a-z_]+)? (?=must )")


def beside(error: Exception) -> str:
    """Word an error for its place beside the field: the field already names the argument.

    >>> beside(ArgumentError("dpi must be from 1 to 9600, found 0"))
    'Must be from 1 to 9600, found 0'
    """
    if isinstance(error, FileNotFoundError):
        return f"No file is there, found {shown(str(error.filename))}"
    if isinstance(error, OSError):
        return f"{error.strerror or error}, found {shown(str(error.filename or ''))}"
    text = _LEAD.sub("", str(error)).replace("overwrite=True given", "“replace” ticked")
    return text[:1].upper() + text[1:]


def field_of(error: Exception) -> str:
    """Return the field that an error of the kit is about, "" where no field is.

    >>> field_of(ArgumentError("plates of 'Quay' must be 'tones'"))
    'plates'
    """
    first = str(error).split(" ", 1)[0]
    name = _FIELDS.get(first, first)
    return name if name in DEFAULTS else ""


def _several(text: str, what: str) -> list[str]:
    parts = [part.strip() for part in re.split(r"[,;]", text)]
    if not all(parts):
        raise ArgumentError(what, "parted by single commas", text)
    return parts


def _resolutions(text: str) -> list[float]:
    if not text:
        raise ArgumentError("dpi", "one or several numbers, such as 150, 300", words="none")
    parts = [re.sub(r"\s*(dpi|ppi)$", "", part, flags=re.I) for part in _several(text, "dpi")]
    return [as_number(part, "dpi", 1, 9600) for part in parts]


def _sides(text: str) -> list[int] | None:
    if not text:
        return None
    parts = [re.sub(r"\s*(px|pixels)$", "", part) for part in _several(text, "thumbnails")]
    return [
        as_whole(int(part) if part.isdecimal() and len(part) < 9 else part, "thumbnails", 16, 4096)
        for part in parts
    ]


def _share(text: str, name: str) -> float:
    return as_number(re.sub(r"\s*(%|per cent)$", "", text), name, 0, 100) / 100


def _folder(text: str) -> Path:
    if not text:
        raise ArgumentError("folder", "named, such as out/tea-table", words="none")
    if not text.isprintable():
        raise ArgumentError("folder", "a name without control signs", text)
    folder = Path(text).expanduser()
    if not folder.name or folder.name == "..":
        raise ArgumentError(f"folder must end in a name of its own, found {shown(text)}")
    with contextlib.suppress(FileNotFoundError):
        folder.lstat()  # too long a name, or one under a file, is found now
    return folder


def _press(values: Mapping[str, Any]) -> Any:
    """Read the profile: a path, or the bytes of a file that was chosen on the page."""
    source = values["press"]
    if isinstance(source, str):
        if not source.strip():
            return None
        source = Path(source.strip()).expanduser()
    return open_press(source, values["intent"], black_point=bool(values["black_point"]))


def read_field(name: str, values: Mapping[str, Any]) -> Any:
    """Return what one field says, by itself.

    Raises
    ------
    CheckclothError, OSError
        What is wrong with it, and what is allowed.

    >>> str(read_field("width", DEFAULTS | {"width": "60 in"}))
    '60 in (1524 mm)'
    """
    value = values[name]
    text = value.strip() if isinstance(value, str) else ""
    readers: dict[str, Callable[[], Any]] = {
        "name": lambda: clean_text(value, "name"),
        "folder": lambda: _folder(text),
        "resolutions": lambda: _resolutions(text),
        "thumbnails": lambda: _sides(text),
        "width": lambda: Length(text) if text else None,
        "length": lambda: Length(text) if text else None,
        "ends": lambda: Sett(text) if text else None,
        "picks": lambda: Sett(text) if text else None,
        "press": lambda: _press(values),
        "sizes": lambda: [
            Check(part, 1).size for part in (_several(text, "sizes") if text else ())
        ],
    }
    if name in ("warp_take_up", "weft_take_up", "waste"):
        return _share(text, name)
    return readers[name]() if name in readers else value


def _kinds(chosen: ChosenSet) -> Iterator[tuple[Colourway, Check]]:
    """One colourway of each number of stripes: sizes and threads ask for no more."""
    seen = {len(colourway.stripes): colourway for colourway in chosen}
    for colourway in seen.values():
        yield colourway, chosen.check_for(colourway)


def read_order(
    values: Mapping[str, Any], chosen: ChosenSet
) -> tuple[dict[str, Any], dict[str, str]]:
    """Read all fields for a set.

    Parameters
    ----------
    values : mapping
        As ``DEFAULTS``.
    chosen : ChosenSet
        Not empty.

    Returns
    -------
    order : dict
        Arguments of ``hand_off``, with the folder and the set's name; empty where there
        are faults.
    faults : dict
        By field, what is wrong and what is allowed.

    Examples
    --------
    >>> kept = ChosenSet(Check("1/2 in", 1), [Colourway("white", ["navy"])])
    >>> order, faults = read_order(DEFAULTS | {"resolutions": "0"}, kept)
    >>> faults
    {'resolutions': 'Must be from 1 to 9600, found 0'}
    """
    read: dict[str, Any] = {}
    faults: dict[str, str] = {}
    for name in DEFAULTS:
        try:
            read[name] = read_field(name, values)
        except (CheckclothError, OSError) as error:
            faults[name] = beside(error)
    _needs(read, faults)
    if not faults:
        faults |= _fits(read, chosen)
    if faults:
        return {}, faults
    cloth = None if read["width"] is None else (read["width"], read["length"])
    return {
        "name": read["name"],
        "folder": read["folder"],
        "dpi": read["resolutions"],
        "thumbnails": read["thumbnails"],
        "cloth": cloth,
        "cut": read["cut"],
        "paper": read["paper"] or None,
        "plates": read["plates"] or None,
        "sett": read["ends"],
        "picks": read["picks"],
        "allowances": Allowances(read["warp_take_up"], read["weft_take_up"], read["waste"]),
        "press": read["press"],
        "sizes": read["sizes"],
        "zipped": read["zipped"],
        "overwrite": read["replace"],
    }, {}


def _needs(read: Mapping[str, Any], faults: dict[str, str]) -> None:
    """Find what one field needs of another."""
    asks = [
        ("width", "ends", "A thread plan needs the width of the cloth, such as 60 in or 150 cm"),
        ("length", "ends", "A thread plan needs the length of the cloth, such as 10 in or 50 cm"),
        ("length", "width", "Needed with the width, such as 10 in or 50 cm; or clear both"),
        ("width", "length", "Needed with the length, such as 60 in or 150 cm; or clear both"),
        ("ends", "picks", "Needed with the picks, such as 64 per in; or clear both"),
    ]
    for needed, by, words in asks:
        if read.get(by) is not None and needed in read and read[needed] is None:
            faults.setdefault(needed, words)


def _fits(read: Mapping[str, Any], chosen: ChosenSet) -> dict[str, str]:
    """Try what was read on the set itself, with the kit's own limits."""
    faults: dict[str, str] = {}

    def trying(name: str, tries: Iterable[Callable[[], object]]) -> None:
        for one in tries:
            try:
                one()
            except CheckclothError as error:
                at = field_of(error)
                faults.setdefault(at if name == "cloth" and at else name, beside(error))
                return

    kinds, dpi = list(_kinds(chosen)), read["resolutions"]
    trying("resolutions", (lambda c=c, d=d: tile_size(c, d) for _, c in kinds for d in dpi))  # type: ignore[misc]
    if read["sizes"]:
        trying("sizes", [lambda: family(chosen.check, read["sizes"])])
        sized = [c.with_size(size) for _, c in kinds for size in read["sizes"]]
        trying("sizes", (lambda c=c, d=d: tile_size(c, d) for c in sized for d in dpi))  # type: ignore[misc]
    if read["plates"]:
        trying("plates", (lambda c=c: plates_of(c, read["plates"]) for c in chosen))  # type: ignore[misc]
    if read["width"] is not None:
        sides = (read["width"], read["length"])
        trying("cloth", (lambda c=c: Piece(c, *sides, dpi[0], read["cut"]) for _, c in kinds))  # type: ignore[misc]
        if read["ends"] is not None and not faults:
            _thread(read, kinds, faults)
    return faults


def _thread(
    read: Mapping[str, Any], kinds: list[tuple[Colourway, Check]], faults: dict[str, str]
) -> None:
    for colourway, check in kinds:
        try:
            thread_plan(
                colourway, check, width=read["width"], length=read["length"], sett=read["ends"],
                picks=read["picks"],
            )  # fmt: skip
        except CheckclothError as error:
            at = field_of(error)
            if at == "width" and not str(error).endswith(str(read["width"])):
                at = "length"
            faults[at or "ends"] = beside(error)
            return
