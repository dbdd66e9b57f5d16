"""The client's sheet: a range on paper at one stated scale, family by family, without any score."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property, partial
from itertools import cycle
from math import ceil
from os import PathLike
from pathlib import Path
from typing import BinaryIO

from checkcloth.arguments import as_path
from checkcloth.cloth.bands import Bands
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import Chosen, ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError
from checkcloth.export.for_client import ForClient
from checkcloth.export.members import Colourways, as_set, counted, number_order, stripes_on_ground
from checkcloth.export.paper.page import INK, QUIET, Page, document, page_size
from checkcloth.export.paper.picture_page import PicturePage
from checkcloth.export.paper.sheet_plan import Row, SheetPlan, leaves_of, plan_sheets, rows_of
from checkcloth.export.picture.lettering import in_lines
from checkcloth.export.picture.picture import Picture
from checkcloth.files.html import OneLine
from checkcloth.files.whole import write_several, write_whole
from checkcloth.version import PROGRAM

# Millimetres: margins at the sides, top and foot; the line at the foot; the strip of sizes; from a
# family's name to its cloths; under a cloth to its name; between colours, lines of a note, rows.
_SIDE, _TOP, _BOTTOM, _FOOT, _SIZES = 15.0, 13.0, 10.0, 8.0, 15.5
_FAMILY, _NAME, _COLOURS, _COLOUR, _NOTE, _GAP = 6.2, 5.2, 0.8, 3.5, 3.6, 3.2
_STRIP, _LEAST_STRIP, _BEFORE_NOTE = 9.0, 5.0, 1.5
_GO_ON = 9.0
_NOTE_LINES, _HEAD_LINES = 2, 4
_MOST_SIZES = 3
_CAUTION = "A print is not a proof: ask for a strike-off."

_Listed = tuple[str, NamedColour]  # "weft " before a colour of the weft's own, or ""


# What is drawn on: a page of a PDF, or a picture of one.
_Sheet = Page | PicturePage


@dataclass(frozen=True, repr=False)
class ClientSheet(OneLine):
    """A range laid out on sheets of paper; made by :func:`client_sheet`.

    Examples
    --------
    >>> from checkcloth import Check, Colourway
    >>> aprons = [Colourway("white", [stripe]) for stripe in ("navy", "teal")]
    >>> print(client_sheet(aprons, Check("1/2 in", 1)))
    client's sheet: 2 colourways on 1 sheet of A4, at true size
    """

    chosen: ChosenSet
    title: str
    note: str
    reference: str
    date: str
    sizes: tuple[Length, ...]  #: check sizes that are offered, the set's own among them
    codes: bool
    paper: str

    @property
    def plan(self) -> SheetPlan:
        """The scale, and how many stand side by side."""
        return self._drawing.plan

    @cached_property
    def _drawing(self) -> _Drawing:
        return _Drawing(self)

    def __len__(self) -> int:
        return len(self._drawing.leaves)

    def __str__(self) -> str:
        whole, sheets = counted(len(self.chosen), "colourway"), counted(len(self), "sheet")
        return f"client's sheet: {whole} on {sheets} of {self.paper}, at {self.plan.words}"

    def _repr_html_(self) -> str:
        return "".join(picture._repr_html_() for picture in self.pictures)

    @property
    def pictures(self) -> tuple[Picture, ...]:
        """Every sheet as a PNG of 150 dpi, the same bytes for the same set."""
        return tuple(self.picture(number) for number in range(1, len(self) + 1))

    def picture(self, number: int) -> Picture:
        """Return one sheet as a picture, counted from 1."""
        drawing = self._drawing
        page = PicturePage(self.paper)
        indices = drawing.draw(page, number - 1)
        of = f", sheet {number} of {len(drawing.leaves)}" if len(drawing.leaves) > 1 else ""
        names = "; ".join(_called(self.chosen.colourways[index]) for index in indices)
        alt = f"{self.title}{of}, at {self.plan.words}: {names}"
        png = page.png([("Title", self.title), ("Description", alt), ("Software", PROGRAM)])
        return Picture(png, f"{self.title}{of}", alt, *page.size_on_page)

    def write_pdf(self, stream: BinaryIO) -> None:
        """Write all sheets as one PDF, the same bytes for the same set."""
        drawing = self._drawing
        with document(stream, self.paper, self.title, str(self.chosen)) as canvas:
            for number in range(len(drawing.leaves)):
                page = Page(canvas, self.paper)
                canvas.bookmarkPage(f"sheet-{number}")
                indices = drawing.draw(page, number)
                canvas.addOutlineEntry(drawing.span(indices), f"sheet-{number}")
                page.end()

    def save(self, path: str | PathLike[str], *, overwrite: bool = False) -> tuple[Path, ...]:
        """Write the sheets: as one PDF, or as a PNG each; return the paths.

        Parameters
        ----------
        path : path
            Ends in ``.pdf`` or ``.png``; of several PNGs the names end in ``-1``, ``-2`` ...
        overwrite : bool

        Raises
        ------
        ArgumentError
            For another ending, or a folder that cannot be written to.
        ExistsError
            If a file is there and ``overwrite`` is not set.
        """
        file = as_path(path)
        if file.suffix.lower() == ".pdf":
            return (write_whole(file, self.write_pdf, overwrite=overwrite),)
        if file.suffix.lower() != ".png":
            raise ArgumentError("path", "a name that ends in .pdf or .png", file.name)
        pictures = self.pictures
        files = [
            file if len(pictures) == 1 else file.with_stem(f"{file.stem}-{number}")
            for number in range(1, len(pictures) + 1)
        ]
        pngs = [picture.png for picture in pictures]
        return write_several([*zip(files, pngs, strict=True)], overwrite=overwrite)


def client_sheet(
    colourways: Colourways,
    check: Check | None = None,
    *,
    title: str = "",
    note: str = "",
    reference: str = "",
    date: str = "",
    sizes: Iterable[Length | str] = (),
    codes: bool = True,
    paper: str = "A4",
) -> ClientSheet:
    """Lay a range out for a client: whole repeats at one stated scale, names, chips, notes.

    Family by family, two by two for up to four colourways, otherwise three by three; what does not
    fit on a sheet goes on with the next. There are no scores; the analyst's sheet is
    :func:`~checkcloth.export.picture.sheet.contact_sheet`.

    Parameters
    ----------
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check, optional
        May be left out where a chosen set brings its own.
    title : str
        Otherwise the name of the set.
    note : str
        A few sentences to the client, at the head.
    reference, date : str
        At the foot of every sheet; see :func:`~checkcloth.export.page.range_page.range_page`.
    sizes : iterable of Length or str
        At most 40 that are offered beside the set's own; the last sheet shows the first
        colourway at up to three.
    codes : bool
        Whether the colours' codes stand beside their chips, or their names.
    paper : str
        ``"A4"`` or ``"Letter"``.

    Returns
    -------
    ClientSheet

    Raises
    ------
    ArgumentError, LengthError
        For no colourways, no check, or values out of range.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway
    >>> sheet = client_sheet(Colourway("white", ["navy"], name="Quay"), Check("1/2 in", 1))
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in sheet.save(Path(folder, "quay.png"))]
    ['quay.png']
    """
    asked = ForClient(title, note, reference, date, sizes, codes=codes)
    return sheet_for(asked, as_set(colourways, check), paper)


def sheet_for(asked: ForClient, chosen: ChosenSet, paper: str) -> ClientSheet:
    """Return what :func:`client_sheet` does, with what the client is told as one object."""
    page_size(paper)
    title = asked.title or chosen.name or "Colourways"
    sizes = tuple(sorted({chosen.check.size, *map(Length, asked.sizes)}))
    return ClientSheet(
        chosen, title, asked.note, asked.reference, asked.date, sizes, asked.codes, paper
    )


def _estimated(colourway: Colourway) -> str:
    """The mixing, and the stock where it is named, of tones that are an estimate."""
    mixing, stock = find_mixing(colourway.mixing), colourway.stock.name
    if not mixing.estimate:
        return ""
    return f"{mixing.name} on {stock}" if mixing.uses_stock and stock else mixing.name


def _called(colourway: Colourway) -> str:
    return colourway.name or stripes_on_ground(colourway)


# -- drawing ---------------------------------------------------------------------------------------


class _Drawing:
    """Draws the sheets of a range, each on whatever is handed in."""

    def __init__(self, sheet: ClientSheet) -> None:
        self.sheet, self.chosen, self.plan = sheet, sheet.chosen, plan_sheets(sheet.chosen)
        width, self.height = page_size(sheet.paper)
        self.room = width - 2 * _SIDE
        gaps = max(1, self.plan.columns - 1)
        self.column = (self.room - self.plan.columns * self.plan.wide) / gaps + self.plan.wide
        self.numbers = {index: n for n, index in enumerate(number_order(self.chosen), 1)}
        grounds = {colourway.ground for colourway in self.chosen}
        self.one_ground = self.chosen.colourways[0].ground.name if len(grounds) == 1 else ""
        self.ruler = PicturePage(sheet.paper)  # for measuring alone
        self.rows = list(rows_of(self.chosen, self.plan.columns))
        self.head_lines = self._head_lines()
        self.head = 5.6 + 4.1 * max(2, len(self.head_lines))
        room = self.height - _TOP - _BOTTOM - _FOOT
        self._lay(room)
        used = sum(self.heights[index] for index in self.leaves[-1])
        left = room - used - (self.head if len(self.leaves) == 1 else _GO_ON)
        self.strip = min(_STRIP, _STRIP - _SIZES + left)
        # Where there is no room for a picture of the sizes, the head says them.
        self.sizes = self._shown_sizes() if self.strip >= _LEAST_STRIP else ()

    def _lay(self, room: float) -> None:
        """Lay rows on sheets, a row more on each where that saves a sheet."""
        self.heights = [self._height(row) for row in self.rows]
        usual, more = self.plan.most_rows
        rooms = room - self.head, room - _GO_ON
        if usual < len(self.rows) <= more:
            self._lower(rooms[0])
        ways = [leaves_of(self.heights, *rooms, most) for most in (usual, more)]
        self.leaves = min(ways, key=len)

    def _lower(self, room: float) -> None:
        """Let cloth give way by whole checks, down to a repeat and its first band, for one sheet.

        With a picture of the sizes, or else without.
        """
        strip = _SIZES - _STRIP + _LEAST_STRIP if self._shown_sizes() else 0.0
        for more in (strip, 0.0):
            over = (sum(self.heights) + more - room) / len(self.rows)
            down = self.plan.down - max(0, ceil(over / self.plan.check - 1e-9))
            if down >= self.plan.least:
                self.plan = replace(self.plan, down=down)
                self.heights = [self._height(row) for row in self.rows]
                return

    def _shown_sizes(self) -> tuple[Length, ...]:
        sizes = self.sheet.sizes
        if len(sizes) < 2:
            return ()
        own = sizes.index(self.chosen.check.size)
        start = min(max(0, own - 1), max(0, len(sizes) - _MOST_SIZES))
        return sizes[start : start + _MOST_SIZES]

    def draw(self, page: _Sheet, number: int) -> list[int]:
        """Draw one sheet; return the indices of what is on it."""
        rows = [self.rows[index] for index in self.leaves[number]]
        indices = [index for row in rows for index in row.indices]
        y = self._title(page) if number == 0 else self._go_on(page, indices)
        for at, (row, index) in enumerate(zip(rows, self.leaves[number], strict=True)):
            self._row(page, row, y, named=row.begins or at == 0)
            y += self.heights[index]
        if self.sizes and number == len(self.leaves) - 1:
            self._sizes(page)
        self._foot(page, number)
        return indices

    # The head.

    def _head_lines(self) -> list[tuple[str, float]]:
        """The note and what is the same for all, as lines with their grey."""
        room = self.room - self.column
        note, about = (self._lines(text, 8.5, room) for text in (self.sheet.note, self._about()))
        return [(line, INK) for line in note[:_HEAD_LINES]] + [(line, QUIET) for line in about]

    def _lines(self, text: str, size: float, room: float) -> list[str]:
        return in_lines(text, partial(self.ruler.measure, size=size), room)

    def _about(self) -> str:
        unit = self.chosen.check.size.unit
        repeats = sorted(
            {
                self.chosen.check.size * sum(band.checks for band in bands)
                for check in map(self.chosen.check_for, self.chosen)
                for bands in (check.warp_bands, check.weft_bands)
            }
        )
        more = [size for size in self.sheet.sizes if size != self.chosen.check.size]
        parts = [
            f"Check {self.chosen.check.size.shown_in(unit)}, "
            f"{'repeat' if len(repeats) == 1 else 'repeats'} "
            f"{_listed([repeat.shown_in(unit) for repeat in repeats])}"
        ]
        if more:
            parts[0] += f"; also at {_listed([size.shown_in(unit) for size in more])}"
        if self.one_ground:
            parts.insert(0, f"All on {self.one_ground}")
        estimated = sorted({_estimated(colourway) for colourway in self.chosen} - {""})
        if estimated:
            parts.append(f"Tones of {_listed(estimated)} are an estimate")
        return ". ".join(parts) + "."

    def _title(self, page: _Sheet) -> float:
        size = _fitting(page, self.sheet.title, 15, 9, self.column - 4, bold=True)
        page.text(
            _SIDE, _TOP + 5, self.sheet.title, size, bold=True, room=self.column - 4, kind="H1"
        )
        families = len({row.family for row in self.rows if row.family})
        words = counted(len(self.chosen), "colourway")
        words += f" in {families} families" if families > 1 else ""
        page.text(_SIDE, _TOP + 10, words, 8.5, grey=QUIET)
        y = _TOP + 4.2
        for line, grey in self.head_lines:
            page.text(_SIDE + self.column, y, line, 8.5, grey=grey)
            y += 4.1
        return _TOP + self.head

    def _go_on(self, page: _Sheet, indices: Sequence[int]) -> float:
        room = self.room * 0.7
        page.text(_SIDE, _TOP + 2, self.sheet.title, 8.5, grey=QUIET, room=room, kind="")
        words = self.span(indices)
        page.text(_SIDE + self.room, _TOP + 2, words, 8.5, grey=QUIET, align="right", kind="")
        return _TOP + _GO_ON

    def span(self, indices: Sequence[int]) -> str:
        """The numbers of what is on one sheet."""
        first, last = (self.numbers[indices[end]] for end in (0, -1))
        return f"{first} to {last}" if first != last else str(first)

    # A row.

    def _height(self, row: Row) -> float:
        members = [self.chosen.chosen[index] for index in row.indices]
        lines = max(len(_in_columns(self._colours(one.colourway))[0]) for one in members)
        notes = max(len(self._note(one)) for one in members)
        named = _FAMILY if self._has_families else 0.0
        under = _NAME + _COLOURS + lines * _COLOUR + (_BEFORE_NOTE + notes * _NOTE if notes else 0)
        return named + self.plan.high + under + _GAP

    @property
    def _has_families(self) -> bool:
        return any(row.family for row in self.rows)

    def _note(self, member: Chosen) -> list[str]:
        """Two lines at most; of a longer note its first sentence."""
        lines = self._lines(member.note, 8, self.plan.wide)
        if len(lines) > _NOTE_LINES:
            first = member.note.split(". ")[0].rstrip(".") + "."
            lines = self._lines(first, 8, self.plan.wide)
        if len(lines) > _NOTE_LINES:
            lines = [*lines[: _NOTE_LINES - 1], " ".join(lines[_NOTE_LINES - 1 :])]
        return lines

    def _colours(self, colourway: Colourway) -> list[_Listed]:
        own_ground = [] if self.one_ground else [colourway.ground]
        ways = ("", colourway.stripes), ("weft ", colourway.weft_stripes), ("", own_ground)
        return [(way, colour) for way, colours in ways for colour in colours]

    def _row(self, page: _Sheet, row: Row, y: float, *, named: bool) -> None:
        if self._has_families:
            if named:
                name = row.family or "By itself"
                page.text(_SIDE, y + 3.8, name, 10.5, bold=True, room=self.room - 24, kind="H2")
            if named and not row.begins:
                after = _SIDE + 1.6 + page.measure(row.family or "By itself", 10.5, bold=True)
                page.text(min(after, _SIDE + self.room - 22), y + 3.8, "continued", 8.5, grey=QUIET)
            y += _FAMILY
        for column, index in enumerate(row.indices):
            self._card(page, index, _SIDE + column * self.column, y)

    def _card(self, page: _Sheet, index: int, x: float, y: float) -> None:
        member, plan = self.chosen.chosen[index], self.plan
        colourway = member.colourway
        check = self.chosen.check_for(colourway)
        with page.tagged("Figure", f"Cloth: {stripes_on_ground(colourway)}"):
            draw_cloth(page, colourway, check, (x, y, plan.wide, plan.high), plan.check)
        y += plan.high + _NAME
        number = str(self.numbers[index])
        page.text(x, y, number, 9, grey=QUIET)
        after = page.measure(number, 9) + 1.6
        name = colourway.name or "(no name)"
        size = _fitting(page, name, 9, 7, plan.wide - after, bold=True)
        page.text(x + after, y, name, size, bold=True, room=plan.wide - after)
        y += _COLOURS
        columns = _in_columns(self._colours(colourway))
        wide = plan.wide / len(columns)
        for at, colours in enumerate(columns):
            for line, colour in enumerate(colours, 1):
                self._chip(page, colour, x + at * wide, y + line * _COLOUR, wide)
        # Rows stay level whatever each has: notes begin under the longest list of the row.
        row = next(row for row in self.rows if index in row.indices)
        lists = (_in_columns(self._colours(self.chosen.colourways[i])) for i in row.indices)
        y += max(len(lines[0]) for lines in lists) * _COLOUR + _BEFORE_NOTE
        for line, text in enumerate(self._note(member), 1):
            page.text(x, y + line * _NOTE - 0.6, text, 8, room=plan.wide)

    def _chip(self, page: _Sheet, listed: _Listed, x: float, y: float, wide: float) -> None:
        way, colour = listed
        page.box(x, y - 2.2, 2.6, 2.6, colour.rgb)
        page.frame(x, y - 2.2, 2.6, 2.6)
        text = way + (colour.hex if self.sheet.codes else colour.name)
        text += f", shown ΔE00 {colour.shift:.1f} off" if colour.shift_words else ""
        room = wide - 4.0 - 1.0
        page.text(x + 4.0, y, text, _fitting(page, text, 7.5, 5, room), room=room)

    # The foot.

    def _sizes(self, page: _Sheet) -> None:
        """The first colourway at the sizes offered, all at the one scale."""
        top = self.height - _BOTTOM - _FOOT - (_SIZES - _STRIP + self.strip) + 2.5
        page.lines([(_SIDE, top - 2.5, _SIDE + self.room, top - 2.5)])
        first = self.chosen.colourways[number_order(self.chosen)[0]]
        check = self.chosen.check_for(first)
        step = self.column if len(self.sizes) == self.plan.columns else self.room / len(self.sizes)
        wide = min(self.plan.wide, step - 4)
        for at, size in enumerate(self.sizes):
            x = _SIDE + at * step
            each = float(size.mm) / self.plan.part
            about = f"Cloth at a check of {size}: {stripes_on_ground(first)}"
            with page.tagged("Figure", about):
                draw_cloth(page, first, check, (x, top, wide, self.strip), each)
            repeat = size * sum(band.checks for band in check.warp_bands)
            unit = size.unit
            words = f"{size.shown_in(unit)} check, repeat {repeat.shown_in(unit)}"
            if at == 0:
                named = f"{_called(first)} at a {words}"
                fits = page.measure(named, 7.5) <= step - 1
                words = named if fits else f"1 at a {words}"
            page.text(x, top + self.strip + 3.2, words, 7.5, grey=QUIET, room=step - 1)

    def _foot(self, page: _Sheet, number: int) -> None:
        y = self.height - _BOTTOM
        kind = "" if number else "P"  # what only repeats is not read out again
        metric = self.chosen.check.size.unit != "in"
        length, words = (20.0, "2 cm") if metric else (25.4, "1 in")
        wide = length / self.plan.part
        ticks = [(x, y - 1.8, x, y) for x in (_SIDE, _SIDE + wide)]
        page.lines([(_SIDE, y, _SIDE + wide, y), *ticks], grey=QUIET)
        scale = f"{words}, {self.plan.words} if printed at 100 %"
        page.text(_SIDE + wide + 1.6, y, scale, 7.5, grey=QUIET, kind=kind)
        after = _SIDE + wide + 1.6 + page.measure(scale, 7.5)
        parts = [part for part in (self.sheet.reference, self.sheet.date) if part]
        if len(self.leaves) > 1:
            parts.append(f"{number + 1} of {len(self.leaves)}")
        right = ", ".join(parts)
        end = _SIDE + self.room
        room = end - after - 4
        page.text(end, y, right, 7.5, grey=QUIET, align="right", room=room, kind="")
        left = end - min(page.measure(right, 7.5), end - after - 4)
        if page.measure(_CAUTION, 7.5) < left - after - 4:
            middle = (after + left) / 2
            page.text(middle, y, _CAUTION, 7.5, grey=QUIET, align="centre", kind=kind)
        else:  # a long reference has its place: the caution stands over it
            page.text(_SIDE, y - 4, _CAUTION, 7.5, grey=QUIET, kind=kind)


def draw_cloth(
    page: _Sheet,
    colourway: Colourway,
    check: Check,
    place: tuple[float, float, float, float],
    each: float,
) -> None:
    """Draw cloth from the corner of a repeat: x, y, width and height, ``each`` mm a check."""
    x, y, wide, high = place
    tones = colourway.tones
    warp, weft = (_runs(bands, each, side) for bands, side in
                  ((check.warp_bands, wide), (check.weft_bands, high)))  # fmt: skip
    page.box(x, y, wide, high, tones[0, 0])
    cells: dict[tuple[int, int], list[tuple[float, float, float, float]]] = {}
    for i, left, across in warp:
        for j, top, down in weft:
            if i or j:
                cells.setdefault((i, j), []).append((x + left, y + top, across, down))
    for tone, boxes in cells.items():
        page.boxes(boxes, tones[tone])
    page.frame(x, y, wide, high)


def _runs(bands: Bands, each: float, side: float) -> list[tuple[int, float, float]]:
    """Bands over a length: stripe, where each begins, how wide; the last is cut."""
    runs: list[tuple[int, float, float]] = []
    begins = Fraction(0)
    for stripe, checks in cycle(bands):
        start = float(begins) * each
        if start > side - each * 1e-6:
            return runs
        begins += checks
        runs.append((stripe, start, min(float(begins) * each, side) - start))
    return runs


def _in_columns(colours: Sequence[_Listed]) -> list[list[_Listed]]:
    """Two columns, three from nine on; each is filled before the next begins."""
    count = 3 if len(colours) > 8 else 2
    lines = -(-len(colours) // count)
    return [list(colours[at * lines : (at + 1) * lines]) for at in range(count)]


def _listed(words: Sequence[str]) -> str:
    """Words as a list in a sentence.

    >>> _listed(["2 in", "3 in", "6 in"])
    '2 in, 3 in and 6 in'
    """
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _fitting(
    page: _Sheet, text: str, size: float, least: float, room: float, *, bold: bool = False
) -> float:
    """Return the largest size down to ``least``, in half points, at which a text fits."""
    while size > least and page.measure(text, size, bold=bold) > room:
        size -= 0.5
    return size
