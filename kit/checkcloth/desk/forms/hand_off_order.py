"""Reads the fields of an export: an order for ``hand_off``, or what is wrong where.

Plain functions over plain values, so that every fault can be tested without a widget.
"""

from __future__ import annotations

import contextlib
import dataclasses
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.named_colour import clean_text
from checkcloth.cloth.threads import Allowances, Sett
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.errors import ArgumentError, CheckclothError, shown
from checkcloth.export.for_client import ForClient
from checkcloth.export.hand_off.contents import CHOSEN_TASKS
from checkcloth.export.hand_off.coordinates import family, family_fits
from checkcloth.export.mill.thread_plan import thread_plan
from checkcloth.export.picture.bias import bias_cells, bias_size
from checkcloth.export.picture.piece import Piece
from checkcloth.export.picture.raster import tile_size
from checkcloth.export.print.plates import PLATE_KINDS, plates_of
from checkcloth.export.print.preflight import Limits
from checkcloth.export.print.press import INTENTS, open_press

# What the printer takes, as ``Limits`` names it.
_LIMITS = tuple(one.name for one in dataclasses.fields(Limits))


def _standing() -> dict[str, str]:
    """What a printer takes by common practice, as it is typed; its cloth is the one exported."""
    texts = {}
    for name in _LIMITS:
        value = getattr(Limits(), name)
        if name == "screens":
            texts[name] = ", ".join(one.text for one in value)
        elif name == "stretch":
            texts[name] = f"{value * 100:g}"
        else:
            texts[name] = value.text if isinstance(value, Length) else str(value).removesuffix(".0")
    return texts | {"cloth_width": ""}


# Every field by name, as it stands at first. Texts are what people type.
DEFAULTS: dict[str, Any] = {
    "name": "",
    "folder": "out/explore",
    "resolutions": "300",
    "title": "",
    "note": "",
    "reference": "",
    "date": "",
    "client_sizes": "",
    "client_strengths": "",
    "codes": True,
    "paper": "A4",
    "zipped": False,
    "replace": False,
    "keep_other_sizes": True,
    "width": "",
    "length": "",
    "cut": False,
    "plates": "",
    "press": "",
    "intent": "relative colorimetric",
    "black_point": True,
    "condition": "",
    "ends": "",
    "picks": "",
    "warp_take_up": "8",
    "weft_take_up": "6",
    "waste": "5",
    "thumbnails": "256",
    "sizes": "",
    "bias": False,
    "families": False,
    **_standing(),
    "client": True,
    "printer": True,
    "mill": False,
    "shop": True,
}
# What fields may hold that are no text to be typed.
CHOICES: dict[str, tuple[Any, ...]] = {
    "paper": ("A4", "Letter", ""),
    "plates": ("", *PLATE_KINDS),
    "intent": INTENTS,
}
# Fields that nobody reads where none of these tasks is asked for.
_PRINTER = ("plates", "bias", "press", "intent", "black_point", "condition", *_LIMITS)
_CLIENT = ("title", "note", "reference", "date", "client_sizes", "client_strengths", "codes")
_USED_BY = {
    **dict.fromkeys(("paper", "families", *_CLIENT), ("client",)),
    **dict.fromkeys(("width", "length", "cut"), ("client", "mill")),
    **dict.fromkeys(("resolutions", "sizes"), ("client", "printer")),
    **dict.fromkeys(_PRINTER, ("printer",)),
    **dict.fromkeys(("ends", "picks", "warp_take_up", "weft_take_up", "waste"), ("mill",)),
    "thumbnails": ("shop",),
}
# Fields that are called otherwise than the argument they fill.
_FIELDS = {
    "dpi": "resolutions",
    "cloth": "width",
    "sett": "ends",
    "path": "folder",
    "overwrite": "replace",
    "tasks": "client",
}


def beside(error: Exception) -> str:
    """Word an error for its place beside the field, which names the argument already.

    >>> beside(ArgumentError("dpi", "from 1 to 9600", 0))
    'Must be from 1 to 9600, found 0'
    """
    if isinstance(error, FileNotFoundError):
        return f"No file is there, found {shown(str(error.filename))}"
    if isinstance(error, OSError):
        return f"{error.strerror or error}, found {shown(str(error.filename or ''))}"
    text = str(error)
    if isinstance(error, CheckclothError) and not error.source:
        text = error.rule.replace("overwrite=True given", "“replace” ticked")
    return text[:1].upper() + text[1:]


def field_of(error: Exception) -> str:
    """Return the field that an error of the kit is about, "" where no field is.

    >>> field_of(ArgumentError("dpi", "from 1 to 9600", 0))
    'resolutions'
    """
    if not isinstance(error, CheckclothError):
        return ""
    name = field_name(error.argument)
    return name if name in DEFAULTS else ""


def field_name(argument: str) -> str:
    """Return the field that fills an argument of ``hand_off``."""
    return _FIELDS.get(argument, argument)


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
        raise ArgumentError("folder", "a path that ends in a name of its own", text)
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


def read_condition(source: str | bytes, name: str = "the chart") -> PrintCondition | None:
    """Read a chart that was measured: of its path, or the bytes of one called ``name``."""
    if isinstance(source, str):
        text = source.strip()
        return PrintCondition.from_cgats(Path(text).expanduser()) if text else None
    return PrintCondition.from_cgats(source, source=name)


def _length(text: str) -> Length | None:
    return Length(text) if text else None


def _sett(text: str) -> Sett | None:
    return Sett(text) if text else None


def _sizes(text: str) -> list[Length]:
    return [Check(part, 1).size for part in (_several(text, "sizes") if text else ())]


def _strengths(text: str) -> list[float]:
    parts = _several(text, "strengths") if text else ()
    return [_share(part, "strengths") for part in parts]


def _line(text: str, name: str) -> str:
    """Read a text for the client, with its own limits."""
    fields: dict[str, Any] = {name: text}
    return str(getattr(ForClient(**fields), name))


def _of_client(read: Mapping[str, Any]) -> ForClient:
    names = {name: name.removeprefix("client_") for name in _CLIENT}
    return ForClient(**{argument: read[name] for name, argument in names.items()})


def _limit(text: str, name: str) -> Any:
    """Read one thing that the printer takes; as it is at first where nothing is typed."""
    if not text:
        return None
    value: Any = text
    if name == "screens":
        value = () if text.casefold() == "none" else tuple(_several(text, name))
    elif name == "stretch":
        value = _share(text, name)
    elif name in ("side", "threads"):
        value = int(text) if text.isdecimal() and len(text) < 9 else text
    elif name in ("least_dpi", "most_dpi", "megabytes", "difference"):
        value = re.sub(r"\s*(dpi|ppi|MB)$", "", text, flags=re.I)
    # The least resolution is no limit to the most one here: both are seen together later.
    given = {"least_dpi": 1, name: value} if name == "most_dpi" else {name: value}
    if name == "least_dpi":
        given["most_dpi"] = 9600
    return getattr(Limits(**given), name)


def _limits_of(read: Mapping[str, Any]) -> Limits:
    given = {name: read[name] for name in _LIMITS if read[name] is not None}
    if "cloth_width" not in given and read["width"] is not None:
        given["cloth_width"] = read["width"]
    return Limits(**given)


_READERS: dict[str, Callable[[str], Any]] = {
    "folder": _folder,
    "resolutions": _resolutions,
    "thumbnails": _sides,
    "width": _length,
    "length": _length,
    "ends": _sett,
    "picks": _sett,
    "sizes": _sizes,
    "client_sizes": lambda text: ForClient(sizes=_sizes(text)).sizes,
    "client_strengths": lambda text: ForClient(strengths=_strengths(text)).strengths,
    **{name: partial(_limit, name=name) for name in _LIMITS},
    **{name: partial(_line, name=name) for name in ("title", "note", "reference", "date")},
    **{name: partial(_share, name=name) for name in ("warp_take_up", "weft_take_up", "waste")},
}


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
    if name == "press":
        return _press(values)
    if name == "condition":
        return read_condition(value)
    if name == "name":
        return clean_text(value, "name")
    return _READERS[name](value.strip()) if name in _READERS else value


def in_use(values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the fields, with those as they stand at first that belong to no task asked for.

    >>> in_use(DEFAULTS | {"mill": False, "ends": "some"})["ends"]
    ''
    """
    return {
        name: value
        if any(values[task] for task in _USED_BY.get(name, CHOSEN_TASKS)) or name not in _USED_BY
        else DEFAULTS[name]
        for name, value in values.items()
    }


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
    values = in_use(values)
    for name in DEFAULTS:
        try:
            read[name] = read_field(name, values)
        except (CheckclothError, OSError) as error:
            faults[name] = beside(error)
    _needs(read, faults)
    tasks = tuple(task for task in CHOSEN_TASKS if values[task])
    if not tasks:
        faults["client"] = "Tick at least one of those whom the files are for"
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
        "condition": read["condition"],
        "sizes": read["sizes"],
        "tasks": tasks,
        "for_client": _of_client(read),
        "limits": _limits_of(read),
        "bias": read["bias"],
        "families": read["families"],
        "zipped": read["zipped"],
        "overwrite": read["replace"],
        "keep_other_sizes": read["keep_other_sizes"],
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
    if read.get("condition") is not None and read.get("plates", "colours") != "colours":
        words = "A print condition is for plates of one a colour: choose them, or clear it"
        faults.setdefault("plates", words)


def _fits(read: Mapping[str, Any], chosen: ChosenSet) -> dict[str, str]:
    """Try what was read on the set itself, with the kit's own limits."""
    faults: dict[str, str] = {}

    def trying(field: str, tries: Iterable[Callable[[], object]], *, exactly: bool = True) -> None:
        """Run until a fault is met: it belongs to ``field``, or to the one that it names."""
        for attempt in tries:
            try:
                attempt()
            except CheckclothError as error:
                faults.setdefault((not exactly and field_of(error)) or field, beside(error))
                return

    kinds, dpi = list(_kinds(chosen)), read["resolutions"]
    trying("least_dpi", [lambda: _limits_of(read)], exactly=False)
    trying("resolutions", _tiles([check for _, check in kinds], dpi))
    if read["bias"]:
        trying("bias", [partial(bias_cells, check) for _, check in kinds])
        trying("bias", [partial(bias_size, check, each) for _, check in kinds for each in dpi])
    if read["families"]:
        trying("families", [partial(family_fits, one, check) for one, check in kinds])
    if read["sizes"]:
        trying("sizes", [lambda: family(chosen.check, read["sizes"])])
        sized = [check.with_size(size) for _, check in kinds for size in read["sizes"]]
        trying("sizes", _tiles(sized, dpi))
    if read["plates"]:
        trying("plates", [partial(plates_of, one, read["plates"]) for one in chosen])
    if read["width"] is not None:
        sides = (read["width"], read["length"])
        pieces = [partial(Piece, check, *sides, dpi[0], read["cut"]) for _, check in kinds]
        trying("width", pieces, exactly=False)
        if read["ends"] is not None and not faults:
            more = dict(zip(("width", "length"), sides, strict=True))
            more |= {"sett": read["ends"], "picks": read["picks"]}
            plans = [partial(thread_plan, one, check, **more) for one, check in kinds]
            trying("ends", plans, exactly=False)
    return faults


def _tiles(checks: list[Check], resolutions: list[float]) -> list[Callable[[], object]]:
    return [partial(tile_size, check, dpi) for check in checks for dpi in resolutions]
