"""Pre-flight: what a fabric printer or a mill would send back, found before it is sent.

Nothing here is a standard. The limits are those that the user states; their defaults are
common practice, with no source, and ``Limits`` says each.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from html import escape
from typing import NamedTuple

import numpy as np

from checkcloth.arguments import as_number, as_tuple, as_whole, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.threads import Sett
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.errors import LengthError
from checkcloth.export.members import Colourways, as_set, counted, label_of
from checkcloth.export.picture.raster import TileSize, tile_png, tile_size
from checkcloth.export.print.cmyk_tiff import tile_tiff
from checkcloth.export.print.inked import without_curves
from checkcloth.export.print.press import Press
from checkcloth.files.csv_rows import csv_text
from checkcloth.files.html import AS_TYPED, Cell, OneLine, table
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.pairs import named_pairs

BASIS = (
    "Limits are those that were stated; where none was, common practice with no source. "
    "A pass is no promise: ask the printer or the mill for its own, and agree a strike-off."
)


@dataclass(frozen=True)
class Limits:
    """What the printer or the mill takes; every default is common practice, without a source.

    Attributes
    ----------
    least_dpi, most_dpi : float
        Resolutions that are taken, 150 to 600.
    megabytes : float
        The largest file that is taken, 100.
    side : int
        The most pixels a side, 20,000.
    colour_space : str
        What files must be in; the kit writes ``"sRGB"``.
    cloth_width : Length or str
        Of the cloth to be printed or woven, 150 cm.
    screens : tuple of Length or str
        Circumferences of rotary screens, 64 cm; none, where there are none.
    stretch : float
        How much a repeat may be stretched to go round a screen, as a share: 0.005.
    strike_off : Length or str
        Side of the strike-off that is sent, 20 cm.
    threads : int
        The fewest threads that a band is woven with, 2.
    difference : float
        CIEDE2000 that any two tones with a common edge are to reach, 2.

    Raises
    ------
    ArgumentError, LengthError
        For numbers out of range and lengths that cannot be read.

    Examples
    --------
    >>> Limits(screens=["64 cm", "82 cm"]).screens[1]
    Length('82 cm')
    """

    least_dpi: float = 150
    most_dpi: float = 600
    megabytes: float = 100
    side: int = 20_000
    colour_space: str = "sRGB"
    cloth_width: Length | str = "150 cm"
    screens: tuple[Length | str, ...] = ("64 cm",)
    stretch: float = 0.005
    strike_off: Length | str = "20 cm"
    threads: int = 2
    difference: float = 2.0

    def __post_init__(self) -> None:
        require_type(self.colour_space, "colour_space", str)
        least = as_number(self.least_dpi, "least_dpi", 1, 9600)
        made: dict[str, object] = {
            "least_dpi": least,
            "most_dpi": as_number(self.most_dpi, "most_dpi", least, 9600),
            "megabytes": as_number(self.megabytes, "megabytes", 0, 1e6, low_open=True),
            "side": as_whole(self.side, "side", 1, 10**7),
            "stretch": as_number(self.stretch, "stretch", 0, 0.5),
            "threads": as_whole(self.threads, "threads", 1, 1000),
            "difference": as_number(self.difference, "difference", 0, 100),
            "screens": tuple(_length(s, "screens") for s in as_tuple(self.screens, "screens")),
        }
        for name in ("cloth_width", "strike_off"):
            made[name] = _length(getattr(self, name), name)
        for name, value in made.items():
            object.__setattr__(self, name, value)


def _length(value: Length | str, name: str) -> Length:
    length = Length(value)
    if not length:
        raise LengthError(name, "above 0", str(length))
    return length


class Finding(NamedTuple):
    """One thing looked at: whether it passes, its number, the limit, and why it does not."""

    item: str
    passes: bool
    found: str
    limit: str
    reason: str = ""


def _finding(item: str, passes: bool, found: str, limit: str, why: str) -> Finding:
    return Finding(item, passes, found, limit, "" if passes else why)


@dataclass(frozen=True, repr=False)
class Preflight(OneLine):
    """What was found for each colourway; made by :func:`preflight`.

    Examples
    --------
    >>> print(preflight(Colourway("white", ["navy"], name="Quay"), Check("1/2 in", 1), dpi=100))
    pre-flight of 1 colourway: 3 notes in 8 things looked at
    """

    names: tuple[str, ...]  #: of the colourways
    findings: tuple[tuple[Finding, ...], ...]  #: for each colourway
    limits: Limits

    @property
    def notes(self) -> list[tuple[str, Finding]]:
        """What does not pass, each with the name of its colourway."""
        return [(name, one) for name, one in self._every() if not one.passes]

    def grouped(self) -> list[tuple[Finding, tuple[str, ...]]]:
        """Return each finding once, with the colourways it is of: notes first.

        >>> made = preflight(Colourway("white", ["navy"], name="Quay"), Check("1 cm", 1), dpi=100)
        >>> [(one.item, one.found, names) for one, names in made.grouped()][:1]
        [('resolution', '100.33 dpi', ('Quay',))]
        """
        found: dict[Finding, list[str]] = {}
        for name, one in self._every():
            found.setdefault(one, []).append(name)
        several = [(one, tuple(names)) for one, names in found.items()]
        return sorted(several, key=lambda group: group[0].passes)

    def _every(self) -> Iterator[tuple[str, Finding]]:
        for name, findings in zip(self.names, self.findings, strict=True):
            for one in findings:
                yield name, one

    def csv(self) -> str:
        """Return everything looked at as CSV text."""
        rows = (
            (name, one.item, "pass" if one.passes else "note", one.found, one.limit, one.reason)
            for name, one in self._every()
        )
        return csv_text(("colourway", "item", "verdict", "found", "limit", "reason"), rows)

    def table_html(self) -> str:
        """Return everything looked at as a table: notes first, in bold; what is alike once."""
        return self._table([str(self)])

    def _table(self, caption: list[str]) -> str:
        rows: Iterator[list[str | Cell]] = (
            [one.item, Cell("pass" if one.passes else "note", strong=not one.passes),
             one.found, one.limit, one.reason, self._of_whom(names)]
            for one, names in self.grouped()
        )  # fmt: skip
        heads = ("item", "verdict", "found", "limit", "why", "colourways")
        return table(caption, heads, rows)

    def _of_whom(self, names: tuple[str, ...]) -> str:
        return "all" if len(names) == len(self.names) > 1 else ", ".join(names)

    def page_html(self) -> str:
        """Return the table as a page of its own, which opens in any browser."""
        style = (
            ":root{color-scheme:light dark}body{font:14px/1.4 sans-serif;margin:2em}"
            "h1{font-size:20px;line-height:1.3}table{border-collapse:collapse}"
            "th,td{padding:3px 10px;border-bottom:1px solid #8886;vertical-align:top}"
            "th:first-child,td:first-child{min-width:9em;padding-left:0}"
            "@media (max-width:40em){body{margin:1em}thead{position:absolute;clip-path:inset(50%)}"
            "tr,td{display:block}tr{padding:8px 0;border-bottom:1px solid #8886}"
            "td{border:0;padding:0}td:empty{display:none}td:nth-child(-n+2){display:inline}"
            "td:nth-child(2)::before{content:': '}td:nth-child(4)::before{content:'wanted: '}}"
        )
        return (
            '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
            '<meta name="viewport" content="width=device-width, initial-scale=1">'
            f"<title>Pre-flight</title><style>{style}</style></head>"
            f"<body><h1>{str(self).capitalize()}</h1>{self._table([])}<p>{escape(BASIS)}</p></body></html>\n"
        )

    def __str__(self) -> str:
        whole, notes = counted(len(self.names), "colourway"), counted(len(self.notes), "note")
        looked = sum(map(len, self.findings))
        return f"pre-flight of {whole}: {notes} in {looked} things looked at"

    def _repr_html_(self) -> str:
        return f"{self.table_html()}<p {AS_TYPED}>{escape(BASIS)}</p>"


def preflight(
    colourways: Colourways,
    check: Check | None = None,
    *,
    dpi: Fraction | float | Iterable[Fraction | float] = 300,
    sett: Sett | str | None = None,
    limits: Limits | None = None,
    condition: PrintCondition | None = None,
    press: Press | None = None,
) -> Preflight:
    """Look at what a fabric printer or a mill would send back.

    Parameters
    ----------
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check, optional
        May be left out where a chosen set brings its own.
    dpi : number or several
        At which tiles are sent.
    sett : Sett or str, optional
        Threads an inch or centimetre, where it is woven.
    limits : Limits, optional
    condition : PrintCondition, optional
        By whose curves plates are made.
    press : Press, optional
        Whose profile tiles are sent to as well, where it is one of CMYK.

    Returns
    -------
    Preflight

    Raises
    ------
    ArgumentError, LengthError
    """
    chosen = as_set(colourways, check)
    stated = Limits() if limits is None else require_type(limits, "limits", Limits)
    threads = None if sett is None else Sett(sett)
    resolutions = tuple(dpi) if isinstance(dpi, Iterable) else (dpi,)
    if condition is not None:
        require_type(condition, "condition", PrintCondition)
    if press is not None:
        require_type(press, "press", Press)
    asked = _Asked(resolutions, threads, stated, condition, press)
    findings = tuple(
        tuple(_findings(colourway, chosen.check_for(colourway), asked)) for colourway in chosen
    )
    names = tuple(label_of(colourway, index) for index, colourway in enumerate(chosen))
    return Preflight(names, findings, stated)


class _Asked(NamedTuple):
    """What a set is looked at for."""

    resolutions: tuple[Fraction | float, ...]
    sett: Sett | None
    limits: Limits
    condition: PrintCondition | None
    press: Press | None


def _findings(colourway: Colourway, check: Check, asked: _Asked) -> Iterator[Finding]:
    limits = asked.limits
    press = _one_of(asked.press) if asked.press and asked.press.space == "CMYK" else None
    # Two resolutions may come to the same one, at which the repeat is whole pixels.
    tiles = {tile_size(check, dpi): dpi for dpi in asked.resolutions}
    for tile, dpi in tiles.items():
        yield from _of_file(colourway, check, dpi, tile, limits)
        if press:
            size = _tiff_size(colourway, check, press, dpi)
            yield _of_size("file size, CMYK TIFF", size, tile, limits)
    yield _of_space(press, limits)
    yield from _of_repeat(check, limits)
    if asked.sett is not None:
        yield _of_threads(check, asked.sett, limits)
    yield _of_tones(colourway, check, limits)
    if asked.condition is not None:
        yield _of_condition(colourway, asked.condition)


def _of_space(press: Press | None, limits: Limits) -> Finding:
    found = "sRGB, 8 bits a channel"
    if press:
        found += f"; TIFF in CMYK, by {press.name}"
    made = {"srgb", "cmyk"} if press else {"srgb"}
    same = limits.colour_space.strip().casefold() in made
    why = "convert with the printer's own profile, and proof it"
    return _finding("colour space", same, found, limits.colour_space, why)


def _of_file(
    colourway: Colourway, check: Check, dpi: Fraction | float, tile: TileSize, limits: Limits
) -> Iterator[Finding]:
    (across, down), exact = tile
    found = float(exact)
    passes = limits.least_dpi <= found <= limits.most_dpi
    why = "too coarse for print" if found < limits.least_dpi else "finer than is taken"
    span = f"{limits.least_dpi:g} to {limits.most_dpi:g} dpi"
    yield _finding("resolution", passes, f"{found:.6g} dpi", span, why)
    yield _of_size("file size", _file_size(colourway, check, dpi), tile, limits)
    most, why = f"at most {limits.side:,} a side", "few programs open it; send a lower resolution"
    fits = max(across, down) <= limits.side
    yield _finding("pixels", fits, f"{across} × {down}", most, why)


def _of_size(item: str, size: int, tile: TileSize, limits: Limits) -> Finding:
    passes = size <= limits.megabytes * 1e6
    found = f"{_bytes_words(size)} at {float(tile.dpi):.6g} dpi"
    most = f"at most {limits.megabytes:g} MB"
    return _finding(item, passes, found, most, "send a lower resolution")


def _bytes_words(size: int) -> str:
    """A size in two digits, so that files about as large are said to be alike.

    >>> _bytes_words(367), _bytes_words(1662), _bytes_words(11_640), _bytes_words(2_490_000)
    ('under 1 kB', '1.7 kB', '12 kB', '2.5 MB')
    """
    if size < 1000:
        return "under 1 kB"
    amount = size / 1e6 if size >= 99_500 else size / 1e3
    unit = "MB" if size >= 99_500 else "kB"
    return f"{amount:,.0f} {unit}" if amount >= 9.95 else f"{amount:.2g} {unit}"


@lru_cache(maxsize=2048)
def _file_size(colourway: Colourway, check: Check, dpi: Fraction | float) -> int:
    """Bytes of a tile; the desk asks again after every choice that changes none."""
    return len(tile_png(colourway, check, dpi))


@lru_cache(maxsize=4)
def _one_of(press: Press) -> Press:
    """One object for presses that are alike, so that what is remembered holds each profile once."""
    return press


@lru_cache(maxsize=2048)
def _tiff_size(colourway: Colourway, check: Check, press: Press, dpi: Fraction | float) -> int:
    return len(tile_tiff(colourway, check, press, dpi))


def _of_repeat(check: Check, limits: Limits) -> Iterator[Finding]:
    width, strike_off = Length(limits.cloth_width), Length(limits.strike_off)
    fit = check.across(width)
    yield _finding(
        "repeat across the cloth",
        not fit.left_over,
        f"{fit.repeats} repeats of {check.repeat_width}",
        f"whole repeats in {width.text}",
        f"{fit.left_over.shown_in(width.unit)} left over: cut through a repeat, or plain edges",
    )
    for screen in map(Length, limits.screens):
        yield _of_screen(check, screen, limits.stretch)
    shows = max(check.repeat_width, check.repeat_height) <= strike_off
    repeat = f"repeat of {check.repeat_words}"
    why = "it shows less than a repeat, so not every tone"
    yield _finding("strike-off", shows, repeat, f"within {strike_off.text}", why)


def _of_screen(check: Check, screen: Length, stretch: float) -> Finding:
    """Whether whole repeats go round a rotary screen; up the cloth, as it prints."""
    repeats = max(1, round(screen / check.repeat_height))
    factor = float(screen / (check.repeat_height * repeats))
    passes = abs(factor - 1) <= stretch
    return _finding(
        "repeat round a rotary screen",
        passes,
        f"{repeats} repeats come to {check.repeat_height * repeats}",
        f"{screen.text}, to {stretch * 100:.1f} %",
        f"{repeats} repeats need the check {factor:.4f} times as large",
    )


def _of_threads(check: Check, sett: Sett, limits: Limits) -> Finding:
    narrowest = min(Fraction(band.checks) for band in (*check.warp_bands, *check.weft_bands))
    threads = sett.over(check.size) * narrowest
    return _finding(
        "narrowest band",
        threads >= limits.threads,
        f"{float(threads):.3g} threads at {sett.text}",
        f"at least {limits.threads}",
        "too narrow to weave: a larger check, or a closer sett",
    )


def _of_condition(colourway: Colourway, condition: PrintCondition) -> Finding:
    """Whether the plates go by the curves of the condition."""
    missing = without_curves(colourway, condition)
    found = ", ".join(missing or (ink.name for ink in colourway.inks))
    inks = f"inks of {condition.called}: {', '.join(condition.solids)}"
    why = "no inks of it: the plates go without its curves"
    return _finding("print condition", not missing, found, inks, why)


def _of_tones(colourway: Colourway, check: Check, limits: Limits) -> Finding:
    pairs = named_pairs(colourway, "edges", check)
    limit = f"ΔE00 {limits.difference:g} over every edge"
    if not len(pairs):
        return Finding("tones apart", True, "one tone", limit)
    tones = colourway.tones
    apart = find_measure("de2000").compare(tones[*pairs.one.T], tones[*pairs.two.T])
    least = int(np.argmin(apart))
    under = int((apart < limits.difference).sum())
    why = f"{under} of {len(pairs)} edges under it; the faintest: {pairs.names[least]}"
    return _finding("tones apart", not under, f"least ΔE00 {float(apart[least]):.1f}", limit, why)
