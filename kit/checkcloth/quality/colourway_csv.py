"""A CSV file of colourways, from a supplier or a spreadsheet, read as it streams by.

Columns: ``ground``, ``stripe 1`` to ``stripe 24`` (as many as the widest check needs), and
optionally ``name``, ``strength``, ``mixing``, ``warp share``, ``yule-nielsen``, ``note``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from os import PathLike
from pathlib import Path

from checkcloth.arguments import as_path
from checkcloth.cloth.check import MOST_STRIPES
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.cloth.named_colour import clean_text
from checkcloth.colour.css import parse_css
from checkcloth.errors import CheckclothError, FileFormatError, shown
from checkcloth.files.csv_rows import Row, as_value, csv_text, read_rows
from checkcloth.files.whole import write_whole

__all__ = [
    "Entry",
    "colourway_faults",
    "count_lines",
    "read_colour",
    "read_colourways",
    "stream_colourways",
    "write_colourways",
]

_PLAIN = ("name", "ground", "strength", "mixing", "warp share", "yule-nielsen", "note")
_STRIPE = re.compile(r"stripe[ _-]?0*([1-9][0-9]?)")
_HEX = re.compile(r"#[0-9a-fA-F]{6}")
_EXPECTED = "a header with ground and stripe 1, and optionally name, stripe 2 …, strength, mixing"

_Rgb = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Entry:
    """One colourway as numbers: what scoring thousands needs, and nothing more.

    Attributes
    ----------
    name : str
    ground : tuple of three floats
        Encoded sRGB in 0–1.
    stripes : tuple of such tuples
    strength : float
    mixing : str
    warp_share, yule_nielsen : float
    texts : tuple of str
        The colours as they were written, ground first.

    >>> Entry.of(Colourway("white", ["navy"], name="Quay")).stripes
    ((0.0, 0.0, 0.5019607843137255),)
    """

    name: str
    ground: _Rgb
    stripes: tuple[_Rgb, ...]
    strength: float = 0.5
    mixing: str = "source-over"
    warp_share: float = 0.5
    yule_nielsen: float = 1.0
    texts: tuple[str, ...] = ()

    @classmethod
    def of(cls, colourway: Colourway) -> Entry:
        """Return what scoring needs of a colourway."""
        members = (colourway.ground, *colourway.stripes)
        return cls(
            colourway.name or str(colourway),
            colourway.ground.rgb,
            tuple(stripe.rgb for stripe in colourway.stripes),
            colourway.strength,
            colourway.mixing,
            colourway.warp_share,
            colourway.yule_nielsen,
            tuple(member.text for member in members),
        )

    def colourway(self) -> Colourway:
        """Return it as a colourway."""
        return Colourway(
            self.texts[0],
            self.texts[1:],
            self.strength,
            self.mixing,
            self.name,
            self.warp_share,
            self.yule_nielsen,
        )


def read_colour(text: str) -> _Rgb:
    """Read a colour; the plain form, which long files hold, without the general parser.

    >>> read_colour("#ff0000"), read_colour("red")
    ((1.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    """
    if _HEX.fullmatch(text):
        red, green, blue = bytes.fromhex(text[1:])
        return red / 255, green / 255, blue / 255
    return parse_css(text)


def _layout(header: Row) -> tuple[dict[str, str], list[str]]:
    """Which column holds what: the plain ones by our name, and the stripes in order."""
    plain: dict[str, str] = {}
    stripes: dict[int, str] = {}
    for column in header.cells:
        match = _STRIPE.fullmatch(column)
        known = column.replace("_", " ").replace("yule nielsen", "yule-nielsen")
        if match:
            number = int(match[1])
            if number > MOST_STRIPES or number in stripes:
                raise header.fault(
                    f"header must name stripe 1 to stripe {MOST_STRIPES}, each once, "
                    f"found {shown(column)}"
                )
            stripes[number] = column
        elif known in _PLAIN and known not in plain:
            plain[known] = column
        else:
            raise header.fault(
                f"header must be of {', '.join(_PLAIN)} and stripe 1 …, found {shown(column)}"
            )
    missing = [name for name in ("ground",) if name not in plain]
    missing += [f"stripe {n}" for n in range(1, max(stripes, default=1) + 1) if n not in stripes]
    if missing:
        raise header.fault(f"must be {_EXPECTED}; missing {', '.join(missing)}")
    return plain, [stripes[number] for number in sorted(stripes)]


def _entry(row: Row, plain: dict[str, str], stripes: list[str]) -> Entry:
    cells = row.cells
    texts = [cells.get(plain["ground"], "")]
    if not texts[0]:
        raise row.fault("ground must be a colour, found nothing")
    gap = ""
    for column in stripes:
        text = cells.get(column, "")
        if text and gap:
            raise row.fault(f"{gap} must be a colour before {column} is, found nothing")
        if text:
            texts.append(text)
        else:
            gap = gap or column
    if len(texts) == 1:
        raise row.fault("stripe 1 must be a colour, found nothing")
    colours = []
    for column, text in zip([plain["ground"], *stripes], texts, strict=False):
        try:
            colours.append(read_colour(text))
        except CheckclothError as error:
            raise row.fault(f"{column}: {error}") from None
    mixing = cells.get(plain.get("mixing", ""), "source-over")
    if mixing not in MIXINGS:
        raise row.fault(f"mixing must be one of {', '.join(MIXINGS)}, found {shown(mixing)}")
    numbers = []
    for known, default, low, high in (
        ("strength", 0.5, 0, 1),
        ("warp share", 0.5, 0, 1),
        ("yule-nielsen", 1.0, 1, 10),
    ):
        column = plain.get(known, "")
        percent = high == 1
        given = column in cells
        numbers.append(as_value(row, column, low, high, percent=percent) if given else default)
    try:
        name = clean_text(cells.get(plain.get("name", ""), f"line {row.line}"), "name")
    except CheckclothError as error:
        raise row.fault(str(error)) from None
    ground, *bands = colours
    strength, share, n = numbers
    return Entry(name, ground, tuple(bands), strength, mixing, share, n, tuple(texts))


def stream_colourways(
    path: str | PathLike[str], faults: list[FileFormatError] | None = None
) -> Iterator[Entry]:
    """Yield the colourways of a CSV file one by one; memory does not grow with the file.

    Parameters
    ----------
    path : path
        UTF-8 CSV; commas, semicolons or tabs; decimal commas where semicolons or tabs
        separate. Colours are CSS Color 4; strength is 0–1 or a percentage with its sign,
        0.5 where none is given; mixing is one of ``MIXINGS``, else ``source-over``.
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
    ...     [entry.name for entry in stream_colourways(path)]
    ['Quay']
    """
    rows = read_rows(as_path(path), empty=_EXPECTED, faults=faults)
    plain, stripes = _layout(next(rows))
    found = False
    for row in rows:
        try:
            entry = _entry(row, plain, stripes)
        except FileFormatError as error:
            if faults is None:
                raise
            faults.append(error)
            continue
        found = True
        yield entry
    if not found and not faults:
        raise FileFormatError(f"{as_path(path).name}: must hold at least one colourway, found none")


def read_colourways(path: str | PathLike[str]) -> list[Colourway]:
    """Return the colourways of a CSV file; see :func:`stream_colourways`.

    >>> from tempfile import TemporaryDirectory
    >>> aprons = [Colourway("white", ["navy"], name="Quay")]
    >>> with TemporaryDirectory() as folder:
    ...     read_colourways(write_colourways(aprons, Path(folder, "aprons.csv"))) == aprons
    True
    """
    return [entry.colourway() for entry in stream_colourways(path)]


def colourway_faults(path: str | PathLike[str], most: int = 100) -> list[str]:
    """Return every fault of a CSV of colourways, up to ``most``, to mend them in one go.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder, "supplier.csv")
    ...     size = path.write_text("name,ground,stripe 1\\nQuay,white,nvy\\n", "utf-8")
    ...     [fault[:35] for fault in colourway_faults(path)]
    ['supplier.csv, line 2: stripe 1: col']
    """
    faults: list[FileFormatError] = []
    try:
        for _ in stream_colourways(path, faults):
            if len(faults) >= most:
                break
    except FileFormatError as error:  # the file itself, not one of its rows
        faults.append(error)
    return [str(fault) for fault in faults[:most]]


def count_lines(path: str | PathLike[str]) -> int:
    """Count the line ends of a file, for progress; 1 GB takes about a second.

    >>> count_lines(__file__) > 100
    True
    """
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
    entries = [Entry.of(colourway) for colourway in colourways]
    widest = max((len(entry.stripes) for entry in entries), default=1)
    stripes = [f"stripe {number}" for number in range(1, widest + 1)]
    plain = ["strength", "mixing", "warp share", "yule-nielsen"]
    rows = (
        [
            entry.name, *entry.texts, *[""] * (widest + 1 - len(entry.texts)),
            entry.strength, entry.mixing, entry.warp_share, entry.yule_nielsen,
        ]
        for entry in entries
    )  # fmt: skip
    text = csv_text(["name", "ground", *stripes, *plain], rows)
    return write_whole(as_path(path), text.encode("utf-8"), overwrite=overwrite)
