"""What a hand-off would make, for whom, how large, and what stands in its way; writes nothing."""

from __future__ import annotations

import math
import os
import shutil
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from os import PathLike
from pathlib import Path
from typing import Any, BinaryIO, cast

import numpy as np

from checkcloth.arguments import as_path
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.export.hand_off.contents import TASKS, Item
from checkcloth.export.hand_off.hand_off import Order, amount
from checkcloth.export.hand_off.replacing import Replacement, replacement
from checkcloth.export.members import Colourways, label_of, names_in
from checkcloth.export.picture.lettering import lacking
from checkcloth.export.picture.raster import tile_size
from checkcloth.export.print.inked import without_curves
from checkcloth.export.print.preflight import Preflight
from checkcloth.export.print.proof import soft_proof
from checkcloth.files.html import OneLine

# Colourways that are drawn to learn about how large files become.
_SAMPLE = 3
# Above this many pixels a side, many programs no longer open a picture (our own judgement).
_LARGE_SIDE = 20_000
_MOST_PROOFED = 24


@dataclass(frozen=True)
class Part:
    """Files of one kind."""

    kind: str  #: what they are, for people: "tile, PNG at 300 dpi"
    files: int
    pixels: tuple[int, int] | None = None  #: how far across the least picture is, and the largest
    dpi: tuple[Fraction, ...] = ()  #: at which their sizes are exact
    size: int = 0  #: bytes, about


@dataclass(frozen=True)
class Task:
    """What is made for one of those who get files."""

    task: str  #: one of ``TASKS``
    files: int
    what: str  #: which files, for people
    pixels: tuple[int, int] | None = None  #: across and down, of the largest picture at real size
    dpi: Fraction | None = None  #: at which that picture's size is exact
    size: int = 0  #: bytes, about: measured on a few colourways
    missing: str = ""  #: what is to be given before all of it can be made
    parts: tuple[Part, ...] = ()  #: the same files by kind


@dataclass(frozen=True)
class Caution:
    """Something to know before it is written."""

    words: str
    remedy: str
    #: Of ``hand_off``, which the remedy changes; "colourways" for what is done on the desk.
    argument: str = ""
    value: Any = None  #: what the argument would be then
    blocks: bool = False  #: whether nothing can be written before it is mended
    instead_of: Any = None  #: of several values of the argument, the one that the remedy changes


@dataclass(frozen=True, repr=False)
class Foretold(OneLine):
    """What a hand-off would make.

    Examples
    --------
    >>> from checkcloth import Check, Colourway
    >>> aprons = Colourway("white", ["navy"], name="Quay")
    >>> made = foretell(aprons, Check("1/8 in", 1), "no-such-folder", dpi=150, paper=None)
    >>> [(task.task, task.files) for task in made.tasks]
    [('client', 2), ('printer', 5), ('mill', 0), ('shop', 3), ('range', 2)]
    >>> made.tasks[1].pixels, made.tasks[1].dpi, made.tasks[2].missing
    ((38, 38), Fraction(152, 1), 'a sett, and width and length of the cloth')
    >>> [(caution.argument, caution.value) for caution in made.cautions]
    [('dpi', 152)]
    """

    tasks: tuple[Task, ...]
    cautions: tuple[Caution, ...]
    replaces: Replacement  #: what becomes of what lies in the folder
    #: What the printer or the mill would send back; None where no files are for the printer.
    preflight: Preflight | None = None

    @property
    def files(self) -> int:
        """Files in all, without the manifest and what is kept of earlier ones."""
        return sum(task.files for task in self.tasks)

    @property
    def size(self) -> int:
        """Bytes in all, about."""
        return sum(task.size for task in self.tasks)

    def __str__(self) -> str:
        return f"{self.files} files, about {amount(self.size)}"


def foretell(
    colourways: Colourways,
    check: Check | None,
    folder: str | PathLike[str],
    *,
    keep_other_sizes: bool = False,
    measure: bool = True,
    **options: Any,
) -> Foretold:
    """Say what :func:`hand_off` would make of the same arguments, without writing anything.

    Parameters
    ----------
    colourways, check, folder :
        See :func:`hand_off`.
    keep_other_sizes : bool
    measure : bool
        Whether to draw a few colourways to learn how large files become; bytes are 0 otherwise.
    options :
        The others of :func:`hand_off` that say what is made.

    Returns
    -------
    Foretold

    Raises
    ------
    ArgumentError, LengthError
        For what :func:`hand_off` would refuse as well.
    """
    order = Order(colourways, check, **options)
    items = list(order.items())
    path = Path(os.path.abspath(as_path(folder, "folder")))
    files = [item.file for item in items]
    faults: list[Caution] = []
    try:
        before = replacement(path, files, order.sizes, keep_other_sizes=keep_other_sizes)
    except OSError as error:
        before = Replacement()
        faults.append(_unwritable(path, error.strerror or str(error)))
    sizes = _measured(order, items, options) if measure else _Sizes()
    tasks = tuple(_task(name, order, items, sizes) for name in TASKS)
    about = sum(sizes.values())
    faults += [*_of_folder(path, about), *_of_earlier(path, before)]
    faults += [*_of_names(order.chosen), *_of_sizes(order), *_of_pictures(order, items)]
    faults += _of_condition(order)
    looked_at = order.preflight() if "printer" in order.tasks else None
    return Foretold(tasks, tuple(faults), before, looked_at)


def _task(name: str, order: Order, items: Sequence[Item], sizes: _Sizes) -> Task:
    mine = [item for item in items if item.task == name]
    parts = tuple(
        _part(kind, [item for item in mine if item.kind == kind], sizes[name, kind])
        for kind in dict.fromkeys(item.kind for item in mine)
    )
    what = ", ".join(
        part.kind if part.files == 1 else f"{part.files} × {part.kind}" for part in parts
    )
    pictures = [item for item in mine if item.pixels is not None]
    largest = max(pictures, key=lambda item: np.prod(item.pixels or 0), default=None)
    return Task(
        name,
        len(mine),
        what,
        largest.pixels if largest else None,
        largest.dpi if largest else None,
        sum(part.size for part in parts),
        _missing(name, order) if name in order.tasks else "",
        parts,
    )


def _part(kind: str, items: Sequence[Item], size: int) -> Part:
    across = [item.pixels[0] for item in items if item.pixels is not None]
    dpi = tuple(dict.fromkeys(item.dpi for item in items if item.dpi is not None))
    return Part(kind, len(items), (min(across), max(across)) if across else None, dpi, size)


def _missing(name: str, order: Order) -> str:
    if name == "mill" and order.sett is None:
        return "a sett" if order.cloth else "a sett, and width and length of the cloth"
    if name == "printer" and order.press is None:
        return "an ICC profile of the press, for tiles in CMYK and a proof"
    return ""


# -- how large, about ------------------------------------------------------------------------------


# Bytes by task and kind of file.
_Sizes = Counter[tuple[str, str]]


class _Counting:
    """A file that only counts what is written to it."""

    def __init__(self) -> None:
        self.size = 0

    def write(self, data: bytes) -> int:
        self.size += len(data)
        return len(data)


def _drawn(item: Item) -> float:
    """Bytes of a file, or of its gauge as many times as that goes into it."""
    stream = _Counting()
    fill, times = item.gauge or (item.fill, 1.0)
    fill(cast(BinaryIO, stream))
    return stream.size * times


def _measured(order: Order, items: Sequence[Item], options: dict[str, Any]) -> _Sizes:
    """Bytes: of what each colourway has, the mean of a few; of the rest, how it grows."""
    chosen = order.chosen
    count = len(chosen)
    picks = sorted({round(index) for index in np.linspace(0, count - 1, min(count, _SAMPLE))})
    few = _bytes_of(chosen, picks, options)
    sizes = _Sizes()
    kinds = Counter((item.task, item.kind) for item in items if item.each)
    for key, number in kinds.items():
        drawn = [size for item, size in few if item.each and (item.task, item.kind) == key]
        sizes[key] += round(number * float(np.mean(drawn))) if drawn else 0
    shared = _of_shared(few)
    lone = _of_shared(_bytes_of(chosen, picks[:1], options)) if count > len(picks) else shared
    for key, size in shared.items():
        growth = (size - lone[key]) / max(1, len(picks) - 1)
        sizes[key] += round(size + max(0.0, growth) * (count - len(picks)))
    return sizes


def _bytes_of(
    chosen: ChosenSet, picks: Sequence[int], options: dict[str, Any]
) -> list[tuple[Item, float]]:
    few = ChosenSet(chosen.check, [chosen.chosen[index] for index in picks], chosen.name)
    return [(item, _drawn(item)) for item in Order(few, None, **options).items()]


def _of_shared(drawn: Sequence[tuple[Item, float]]) -> _Sizes:
    sizes = _Sizes()
    for item, size in drawn:
        if not item.each:
            sizes[item.task, item.kind] += round(size)
    return sizes


# -- what to know before ---------------------------------------------------------------------------


def _unwritable(path: Path, why: str) -> Caution:
    words = f"Nothing can be written to {path.name}: {why}"
    return Caution(words, "Choose another folder", "folder", blocks=True)


def _of_folder(path: Path, about: int) -> Iterator[Caution]:
    parent = path.parent
    while not parent.exists() and parent != parent.parent:
        parent = parent.parent
    if not parent.is_dir():
        yield _unwritable(path, f"{parent.name} is no folder")
    elif not os.access(parent, os.W_OK | os.X_OK):
        yield _unwritable(path, "permission denied")
    else:
        free = shutil.disk_usage(parent).free
        if free < about:
            words = f"About {amount(about)} are to be written, and {amount(free)} are free"
            yield Caution(words, "Make room, or choose another folder", "folder", blocks=True)


def _of_earlier(path: Path, before: Replacement) -> Iterator[Caution]:
    if before.foreign:
        words = f"{path.name} holds what is of no hand-off: {_some(before.foreign)}"
        yield Caution(words, "Choose another folder, or move it out first", "folder", blocks=True)
    elif before.goes or before.again or before.kept:
        yield Caution(replaced_words(path.name, before), "Replace it", "overwrite", True)


def replaced_words(folder: str, before: Replacement) -> str:
    """Say what would become of an earlier hand-off in a folder."""
    size = f" at {before.earlier_size}" if before.earlier_size else ""
    parts = [f"{len(before.again)} of its files are written anew"]
    if before.goes:
        parts.append(f"{len(before.goes)} go: {_some(before.goes)}")
    if before.kept:
        parts.append(f"{len(before.kept)} of other check sizes stay")
    return f"An earlier export{size} is in {folder}: {'; '.join(parts)}"


def _some(names: Sequence[str], most: int = 3) -> str:
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return f"{', '.join(names[:most])}{more}"


def _of_names(chosen: ChosenSet) -> Iterator[Caution]:
    unnamed = sum(not colourway.name for colourway in chosen)
    if unnamed:
        words = f"{unnamed} of {len(chosen)} without a name"
        words += ": their files are called Colourway and a number"
        yield Caution(words, "Name them", "colourways")
    names = Counter(colourway.name for colourway in chosen if colourway.name)
    twice = [name for name, count in names.items() if count > 1]
    if twice:
        words = f"Several are called {_some(twice)}: their files get numbers"
        yield Caution(words, "Name them apart", "colourways")
    lack = lacking(chosen.name, *(name for colourway in chosen for name in names_in(colourway)))
    if lack:
        words = f"The typeface of the sheets lacks {lack[:20]}: a box stands for each there"
        yield Caution(words, "Use other letters; tables and set keep the names whole", "colourways")


def _of_sizes(order: Order) -> Iterator[Caution]:
    checks = {order.chosen.check_for(colourway) for colourway in order.chosen}
    checks |= {check.with_size(size) for check in checks for size in order.sizes[1:]}
    for dpi in order.dpi if "printer" in order.tasks else ():
        for size, check in {
            check.repeat_words: check for check in sorted(checks, key=_length)
        }.items():
            tile = tile_size(check, dpi)
            if float(tile.dpi) != float(dpi):
                words = (
                    f"The repeat of {size} is no whole number of pixels at {float(dpi):g} dpi: "
                    f"its tile is made at {float(tile.dpi):.6g} dpi"
                )
                exact = _exact_dpi(check, dpi, tile.dpi)
                yield Caution(words, f"Ask for {exact:.6g} dpi", "dpi", exact, instead_of=dpi)
    yield from _of_press(order)


def _exact_dpi(check: Check, dpi: Fraction | float, next_one: Fraction) -> int | float:
    """A resolution at which the repeat is whole pixels: a whole number where one is near."""
    most = math.ceil(1.1 * dpi)
    whole = (each for each in range(math.ceil(dpi), most + 1) if tile_size(check, each).dpi == each)
    return next(whole, float(next_one))


def _of_pictures(order: Order, items: Sequence[Item]) -> Iterator[Caution]:
    """Tiles are held to 20,000 pixels a side anyway; pieces of cloth are not."""
    side = max((max(item.pixels) for item in items if item.pixels), default=0)
    if side > _LARGE_SIDE:
        dpi = float(order.dpi[0])
        lower = int(dpi * _LARGE_SIDE / side)
        words = f"A picture of {side:,} pixels a side at {dpi:g} dpi: few programs open it"
        remedy = f"Ask for {lower} dpi or less, or a smaller piece"
        yield Caution(words, remedy, "dpi", lower, instead_of=order.dpi[0])


def _of_condition(order: Order) -> Iterator[Caution]:
    if order.condition is None or "printer" not in order.tasks:
        return
    without = [
        label_of(colourway, index)
        for index, colourway in enumerate(order.chosen)
        if without_curves(colourway, order.condition)
    ]
    if without:
        words = f"Not every stripe of {_some(without)} is an ink of {order.condition.called}"
        words += ": their plates go without its curves"
        remedy = "Call each stripe as the ink it is printed with, or give no condition"
        yield Caution(words, remedy, "condition")


def _length(check: Check) -> tuple[Fraction, int]:
    return check.size.exact, check.stripes


def _of_press(order: Order) -> Iterator[Caution]:
    if order.press is None:
        return
    outside = [
        colourway.name or str(colourway)
        for colourway in order.chosen.colourways[:_MOST_PROOFED]
        if soft_proof(colourway, order.press).named_outside
    ]
    if outside:
        words = f"{order.press.name} cannot print every tone of {_some(outside)}"
        yield Caution(words, "See the proof; agree a strike-off", "press")
