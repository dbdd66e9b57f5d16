"""A CSV file of colourways, from a supplier or a spreadsheet, read as it streams by.

Columns: ``ground``, ``stripe 1`` to ``stripe 24`` (as many as the widest check needs), and
optionally ``weft 1`` to ``weft 24`` (where the weft has colours of its own), ``name``,
``strength``, ``mixing``, ``warp share``, ``yule-nielsen``, ``stock``, ``note``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from os import PathLike
from pathlib import Path

from checkcloth.arguments import as_path, as_tuple, as_whole
from checkcloth.cloth.check import MOST_STRIPES
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.colour.css import parse_css, read_css
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.colour.wide import Known, known_of
from checkcloth.errors import CheckclothError, ColourError, FileFormatError
from checkcloth.files.csv_rows import Row, as_value, csv_text, read_rows
from checkcloth.files.frames import Table, as_table, table_name
from checkcloth.files.whole import write_whole

_COLUMNS = ("name", "ground", "strength", "mixing", "warp share", "yule-nielsen", "stock", "note")
# Columns of numbers: what stands where a cell is empty, and the least and most allowed.
_NUMBERS = {"strength": (0.5, 0, 1), "warp share": (0.5, 0, 1), "yule-nielsen": (1.0, 1, 10)}
_STRIPE = re.compile(r"(stripe|weft)[ _-]?0*([1-9][0-9]?)")
_UNIT = tuple(step / 255 for step in range(256))
_EXPECTED = "a header with ground and stripe 1, and optionally name, stripe 2 …, strength, mixing"

_SRGB = Known()
_Rgb = tuple[float, float, float]
# Encoded sRGB, or a colour that is more than that.
_Colour = _Rgb | NamedColour


@dataclass(frozen=True, slots=True)
class PlainColourway:
    """One colourway as numbers: what scoring thousands needs, and nothing more.

    Colours are encoded sRGB in 0–1; a colour itself where it lies outside, or is measured.
    """

    name: str
    ground: _Colour
    stripes: tuple[_Colour, ...]
    strength: float = 0.5
    mixing: str = "source-over"
    warp_share: float = 0.5
    yule_nielsen: float = 1.0
    texts: tuple[str, ...] = ()  # colours as they were written: ground, stripes, the weft's own
    weft_stripes: tuple[_Colour, ...] = ()  # where the weft has colours of its own
    stock: Stock = STOCKS[""]

    @classmethod
    def of(cls, colourway: Colourway) -> PlainColourway:
        """Return what scoring needs of a colourway."""
        members = (colourway.ground, *colourway.stripes, *colourway.weft_stripes)
        colours: list[_Colour] = [*members]
        if not any(colourway.known):
            colours = [member.rgb for member in members]
        weft_from = 1 + len(colourway.stripes)
        return cls(
            colourway.name or str(colourway),
            colours[0],
            tuple(colours[1:weft_from]),
            colourway.strength,
            colourway.mixing,
            colourway.warp_share,
            colourway.yule_nielsen,
            tuple(member.text for member in members),
            tuple(colours[weft_from:]),
            colourway.stock,
        )

    @property
    def known(self) -> Known:
        """What is known of its colours beyond sRGB."""
        every = (self.ground, *self.stripes, *self.weft_stripes)
        return known_of(every) if any(type(colour) is not tuple for colour in every) else _SRGB

    @property
    def shown_ground(self) -> _Rgb:
        """Encoded sRGB of the ground."""
        return self.ground.rgb if isinstance(self.ground, NamedColour) else self.ground

    def colourway(self) -> Colourway:
        """Return it as a colourway."""
        weft_from = 1 + len(self.stripes)
        return Colourway(
            self.texts[0],
            self.texts[1:weft_from],
            self.strength,
            self.mixing,
            self.name,
            self.warp_share,
            self.yule_nielsen,
            self.stock,
            self.texts[weft_from:],
        )


def read_colour(text: str) -> _Rgb:
    """Read a colour; the plain form, which long files hold, without the general parser."""
    if len(text) == 7 and text[0] == "#" and text[1:].isalnum():  # fromhex lets spaces through
        try:
            red, green, blue = bytes.fromhex(text[1:])
        except ValueError:
            return parse_css(text)
        return _UNIT[red], _UNIT[green], _UNIT[blue]
    return parse_css(text)


def _asked(text: str) -> _Colour:
    """A colour as it was asked for, also where no screen shows it."""
    if text.startswith("#") or read_css(text).xyz is None:
        return read_colour(text)
    return NamedColour.of(text)


def _layout(header: Row) -> tuple[dict[str, str], list[str], list[str]]:
    """Which column holds what: the known ones by our name, the stripes, and the wefts, in order."""
    known: dict[str, str] = {}
    ways: dict[str, dict[int, str]] = {"stripe": {}, "weft": {}}
    for column in header.cells:
        match = _STRIPE.fullmatch(column)
        name = column.replace("_", " ").replace("yule nielsen", "yule-nielsen")
        if match:
            way, number = match[1], int(match[2])
            if number > MOST_STRIPES or number in ways[way]:
                allowed = f"{way} 1 to {way} {MOST_STRIPES}, each named once"
                raise header.fault("header", allowed, column)
            ways[way][number] = column
        elif name in _COLUMNS and name not in known:
            known[name] = column
        else:
            allowed = f"of {', '.join(_COLUMNS)}, stripe 1 … and weft 1 …"
            raise header.fault("header", allowed, column, hint=_header_hint(header))
    missing = [] if "ground" in known else ["ground"]
    for way, least in (("stripe", 1), ("weft", 0)):
        numbers = range(1, max(ways[way], default=least) + 1)
        missing += [f"{way} {number}" for number in numbers if number not in ways[way]]
    if missing:
        raise header.fault(
            "header", _EXPECTED, words=f"no {', '.join(missing)}", hint=_header_hint(header)
        )
    stripes, wefts = ([way[number] for number in sorted(way)] for way in ways.values())
    return known, stripes, wefts


def _header_hint(header: Row) -> str:
    """What an error adds about a header without a ground: it may be that of another file."""
    if "ground" in header.cells:
        return ""
    return f"{header.search_words}; for a supplier's list of shades see read_supplier_palette"


def _colours(row: Row, columns: list[str], least: int) -> tuple[list[str], list[_Colour]]:
    """Texts and colours of a row; beyond so many, empty cells at the end are left out."""
    cells, last = row.cells, len(columns)
    while last > least and columns[last - 1] not in cells:
        last -= 1
    texts, colours = [], []
    for column in columns[:last]:
        text = cells.get(column, "")
        if not text:
            raise row.fault(column, "a colour", words="nothing")
        try:
            colours.append(_asked(text))
        except ColourError as error:
            raise row.fault(column, error.allowed or "a colour", text) from None
        texts.append(text)
    return texts, colours


def _read_row(
    row: Row, known: dict[str, str], stripes: list[str], wefts: list[str]
) -> PlainColourway:
    texts, (ground, *bands) = _colours(row, [known["ground"], *stripes], 2)
    own_texts, own = _colours(row, wefts, 0)
    if own == bands:
        own_texts, own = [], []
    mixing = row.cells.get(known.get("mixing", ""), "source-over")
    if mixing not in MIXINGS:
        raise row.fault("mixing", f"one of {', '.join(MIXINGS)}", mixing)
    numbers = []
    for name, (default, low, high) in _NUMBERS.items():
        column = known.get(name, "")
        given = column in row.cells
        numbers.append(as_value(row, column, low, high, percent=high == 1) if given else default)
    try:
        name = clean_text(row.cells.get(known.get("name", ""), f"line {row.line}"), "name")
        stock = Stock.of(row.cells.get(known.get("stock", ""), ""))
    except CheckclothError as error:
        raise error.at(row.source, row.line) from None
    return PlainColourway(
        name, ground, tuple(bands), numbers[0], mixing, numbers[1], numbers[2],
        (*texts, *own_texts), tuple(own), stock,
    )  # fmt: skip


def stream_colourways(
    path: Table, faults: list[FileFormatError] | None = None
) -> Iterator[PlainColourway]:
    """Yield the colourways of a CSV file one by one; memory does not grow with the file.

    Parameters
    ----------
    path : path or pandas DataFrame
        UTF-8 CSV; commas, semicolons or tabs; decimal commas where semicolons or tabs
        separate; titles may stand above the header. Colours are CSS Color 4; strength is 0–1
        or a percentage with its sign, 0.5 where none is given; mixing is one of ``MIXINGS``,
        else ``source-over``.
    faults : list, optional
        If given, faulty rows are put here and passed over instead of raised.

    Raises
    ------
    FileFormatError
        Naming file, line, column, what was found and what is allowed.
    FileNotFoundError, PermissionError
        As the system says.

    >>> from tempfile import TemporaryDirectory
    >>> aprons = [Colourway("white", ["navy"], name="Quay")]
    >>> with TemporaryDirectory() as folder:
    ...     path = write_colourways(aprons, Path(folder, "aprons.csv"))
    ...     [plain.name for plain in stream_colourways(path)]
    ['Quay']
    """
    table = as_table(path)
    rows = read_rows(
        table, empty=_EXPECTED, faults=faults, is_header=lambda cells: "ground" in cells
    )
    layout = _layout(next(rows))
    found = False
    for row in rows:
        try:
            colourway = _read_row(row, *layout)
        except FileFormatError as error:
            if faults is None:
                raise
            faults.append(error)
            continue
        found = True
        yield colourway
    if not found and not faults:
        raise FileFormatError("colourways", "at least one", words="none", source=table_name(table))


def read_colourways(path: Table) -> list[Colourway]:
    """Return the colourways of a CSV file; see :func:`stream_colourways`.

    >>> from tempfile import TemporaryDirectory
    >>> aprons = [Colourway("white", ["navy"], name="Quay")]
    >>> with TemporaryDirectory() as folder:
    ...     read_colourways(write_colourways(aprons, Path(folder, "aprons.csv"))) == aprons
    True
    """
    return [plain.colourway() for plain in stream_colourways(path)]


def colourway_faults(path: Table, most: int = 100) -> list[str]:
    """Return every fault of a CSV of colourways, up to ``most``, to mend them in one go.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder, "supplier.csv")
    ...     size = path.write_text("name,ground,stripe 1\\nQuay,white,nvy\\n", "utf-8")
    ...     [fault[:44] for fault in colourway_faults(path)]
    ['supplier.csv, line 2: stripe 1 must be a CSS']
    """
    limit = as_whole(most, "most", 1, 1_000_000)
    faults: list[FileFormatError] = []
    try:
        for _ in stream_colourways(path, faults):
            if len(faults) >= limit:
                break
    except FileFormatError as error:  # the file itself, not one of its rows
        faults.append(error)
    return [str(fault) for fault in faults[:limit]]


def count_lines(path: str | PathLike[str]) -> int:
    """Count the line ends of a file, for progress; 1 GB takes about a second."""
    total = 0
    with as_path(path).open("rb") as stream:
        while block := stream.read(1 << 20):
            total += block.count(b"\n")
    return total


def write_colourways(
    colourways: Iterable[Colourway], path: str | PathLike[str], *, overwrite: bool = False
) -> Path:
    """Write colourways as CSV, whole or not at all; reading gives them back.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    """
    members = [
        PlainColourway.of(member) for member in as_tuple(colourways, "colourways", Colourway)
    ]
    widest = max((len(member.stripes) for member in members), default=1)
    wefts = max((len(member.weft_stripes) for member in members), default=0)
    stocks = ["stock"] if any(member.stock.text for member in members) else []
    rows = (
        [
            member.name,
            *_padded(member.texts[: len(member.stripes) + 1], widest + 1),
            *_padded(member.texts[len(member.stripes) + 1 :], wefts),
            member.strength, member.mixing, member.warp_share, member.yule_nielsen,
            *([member.stock.text] if stocks else []),
        ]
        for member in members
    )  # fmt: skip
    stripes = [f"stripe {number}" for number in range(1, widest + 1)]
    stripes += [f"weft {number}" for number in range(1, wefts + 1)]
    header = ["name", "ground", *stripes, "strength", "mixing", "warp share", "yule-nielsen"]
    header += stocks
    return write_whole(as_path(path), csv_text(header, rows).encode("utf-8"), overwrite=overwrite)


def _padded(texts: tuple[str, ...], size: int) -> tuple[str, ...]:
    return (*texts, *[""] * (size - len(texts)))
