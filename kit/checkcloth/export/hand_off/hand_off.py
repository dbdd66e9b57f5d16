"""The hand-off: everything for a printer, a mill or a shop, in one folder, with a manifest."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from fractions import Fraction
from os import PathLike
from pathlib import Path
from typing import TypeVar

from checkcloth.arguments import as_path, as_tuple, as_whole, require_one_of, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.threads import Allowances, Sett
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.errors import ArgumentError
from checkcloth.export.data.saved import open_set
from checkcloth.export.for_client import ForClient
from checkcloth.export.hand_off import contents
from checkcloth.export.hand_off.contents import CHOSEN_TASKS, Item, of_bytes
from checkcloth.export.hand_off.coordinates import family
from checkcloth.export.hand_off.manifest import (
    MANIFEST,
    Written,
    check_replaceable,
    manifest_json,
)
from checkcloth.export.hand_off.replacing import OTHER_SIZES, Replacement, copy_of, replacement
from checkcloth.export.hand_off.staging import pack, stage
from checkcloth.export.members import Colourways, as_set, counted, label_of
from checkcloth.export.mill.thread_plan import ThreadPlan, thread_plan
from checkcloth.export.paper.page import page_size
from checkcloth.export.picture.piece import Piece
from checkcloth.export.print.plates import PLATE_KINDS
from checkcloth.export.print.preflight import Limits, Preflight, preflight
from checkcloth.export.print.press import Press
from checkcloth.files.html import OneLine, table
from checkcloth.files.names import file_stems
from checkcloth.files.whole import writing_whole
from checkcloth.needs import need

_T = TypeVar("_T")
# Called with (files done, files in all, what comes next).
Progress = Callable[[int, int, str], None]


@dataclass(frozen=True, repr=False)
class HandOff(OneLine):
    """What was written.

    Attributes
    ----------
    folder : Path
    files : tuple of Written
        All but the manifest itself.
    zipped : Path or None
        The same folder in one file, where that was asked for.
    left_overs : tuple of str
        Names of what an earlier run, cut short, had left beside the folder; now gone.
    went : tuple of str
        Files of the earlier hand-off there that are no more.
    kept : tuple of str
        Files of earlier ones at other check sizes that stayed, by the path they have now.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway, hand_off
    >>> with TemporaryDirectory() as parent:
    ...     made = hand_off(Colourway("white", ["navy"]), Check("1 in", 1), f"{parent}/aprons")
    >>> made.folder.name, sorted(file.file for file in made.files)[:2]
    ('aprons', ['client-page.html', 'client-sheet.pdf'])
    """

    folder: Path
    files: tuple[Written, ...]
    zipped: Path | None = None
    left_overs: tuple[str, ...] = ()
    went: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()

    @property
    def size(self) -> int:
        """Bytes in all."""
        return sum(file.size for file in self.files)

    def __str__(self) -> str:
        files = counted(len(self.files), "file")
        parts = [f"hand-off {self.folder.name}: {files}, {amount(self.size)}"]
        if self.kept:
            parts.append(f"{len(self.kept)} of other sizes kept")
        if self.went:
            parts.append(f"{len(self.went)} of the earlier one gone")
        return "; ".join(parts)

    def _repr_html_(self) -> str:
        rows = [(file.file, amount(file.size), file.shows) for file in self.files]
        rows += [(file, "gone", "of the earlier hand-off, not written again") for file in self.went]
        return table([str(self)], ("file", "size", "shows"), rows, right=(1,))


def amount(size: int) -> str:
    """Return bytes for people.

    >>> amount(12), amount(1234), amount(5_600_000)
    ('12 bytes', '1.2 kB', '5.6 MB')
    """
    if size < 1000:
        return f"{size} bytes"
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{size / 1e3:.1f} kB"


def _several(value: _T | Iterable[_T], name: str) -> tuple[_T, ...]:
    """One or several of something, as a tuple without repeats, not empty."""
    if not isinstance(value, Iterable) or isinstance(value, str | bytes):
        return (value,)
    several = tuple(dict.fromkeys(value))
    if not several:
        raise ArgumentError(name, "one or several", words="none")
    return several


class Order:
    """What is asked of a hand-off, checked; its arguments are those of :func:`hand_off`.

    Raises
    ------
    ArgumentError, LengthError
    """

    def __init__(
        self,
        colourways: Colourways,
        check: Check | None,
        *,
        dpi: Fraction | float | Sequence[Fraction | float] = 300,
        thumbnails: int | Sequence[int] | None = 256,
        cloth: Sequence[Length | str] | None = None,
        cut: bool = False,
        paper: str | None = "A4",
        plates: str | None = None,
        sett: Sett | str | None = None,
        picks: Sett | str | None = None,
        allowances: Allowances | None = None,
        press: Press | None = None,
        condition: PrintCondition | None = None,
        sizes: Sequence[Length | str] = (),
        tasks: str | Sequence[str] | None = None,
        for_client: ForClient | None = None,
        limits: Limits | None = None,
        bias: bool = False,
        families: bool = False,
    ) -> None:
        self.chosen = as_set(colourways, check)
        if plates is not None:
            require_one_of(plates, "plates", PLATE_KINDS)
        if press is not None and not isinstance(press, Press):
            raise ArgumentError("press", "a Press, from open_press", press)
        if condition is not None:
            require_type(condition, "condition", PrintCondition)
            if plates != "colours":
                raise ArgumentError("plates", "'colours' where a print condition is given", plates)
        if paper is not None:
            page_size(paper)
            need("reportlab")
        need("matplotlib")  # its fonts letter every sheet
        if allowances is not None:
            require_type(allowances, "allowances", Allowances)
        if for_client is not None:
            require_type(for_client, "for_client", ForClient)
        self.paper, self.plates, self.press, self.condition = paper, plates, press, condition
        self.allowances, self.for_client = allowances, for_client or ForClient()
        self.cut, self.bias, self.families = bool(cut), bool(bias), bool(families)
        self.cloth = _cloth(cloth)
        others = as_tuple(sizes, "sizes", of="check sizes")
        small = () if thumbnails is None else _several(thumbnails, "thumbnails")
        self.dpi: tuple[Fraction | float, ...] = _several(dpi, "dpi")
        self.thumbnails = tuple(as_whole(side, "thumbnails", 16, 4096) for side in small)
        self.sett = None if sett is None else Sett(sett)
        self.picks = None if picks is None else Sett(picks)
        self.checks = family(self.chosen.check, others) if others else ()
        self.tasks = _tasks(tasks)
        self.limits = _limits(limits, self.cloth)

    def preflight(self) -> Preflight:
        """Return what a printer or a mill would send back."""
        return preflight(
            self.chosen,
            dpi=self.dpi,
            sett=self.sett,
            limits=self.limits,
            condition=self.condition,
            press=self.press,
        )

    def plan(self, colourway: Colourway) -> ThreadPlan | None:
        """Return a colourway's thread plan, None where no sett is given."""
        if self.sett is None:
            return None
        if self.cloth is None:
            raise ArgumentError("cloth", "(width, length) where a sett is given", words="none")
        return thread_plan(
            colourway,
            self.chosen.check_for(colourway),
            width=self.cloth[0],
            length=self.cloth[1],
            sett=self.sett,
            picks=self.picks,
            allowances=self.allowances,
        )

    def items(self) -> Iterator[Item]:
        """Yield every file to write, in order; nothing is drawn by that."""
        wanted = {*self.tasks, "range"}
        return (item for item in self._all_items() if item.task in wanted)

    def _all_items(self) -> Iterator[Item]:
        chosen = self.chosen
        stems = file_stems(label_of(colourway, index) for index, colourway in enumerate(chosen))
        yield from contents.set_items(chosen)
        yield from contents.client_items(chosen, self.sizes, self.paper, self.for_client)
        yield contents.preflight_item(self.preflight)
        if self.paper is not None:
            yield from contents.book_items(chosen, self.paper, self.press, self.condition)
        for stem, colourway in zip(stems, chosen, strict=True):
            check = chosen.check_for(colourway)
            lead = f"colourways/{stem}/{stem}"
            yield from contents.tile_items(lead, colourway, check, self.dpi, self.press)
            if self.bias:
                yield from contents.bias_items(lead, colourway, check, self.dpi)
            if self.families:
                yield contents.family_item(lead, colourway, check)
            yield from contents.thumbnail_items(lead, colourway, check, self.thumbnails)
            if self.cloth is not None:
                piece = Piece(check, *self.cloth, self.dpi[0], self.cut)
                yield contents.cloth_item(lead, colourway, piece)
            if self.plates is not None:
                yield from contents.plate_items(
                    lead, colourway, check, self.plates, self.dpi[0], self.press, self.condition
                )
            plan = self.plan(colourway)
            if plan is not None:
                yield from contents.thread_items(lead, plan)
            if self.press is not None:
                yield from contents.proof_items(lead, colourway, check, self.press)
        if self.checks:
            yield from contents.coordinate_items(chosen, stems, self.checks, self.dpi, self.press)

    @property
    def sizes(self) -> tuple[Length, ...]:
        """The check size of the set, then those of its coordinates."""
        return (self.chosen.check.size, *(check.size for check in self.checks))

    def about(self) -> dict[str, object]:
        """What the manifest says of the whole."""
        out: dict[str, object] = {
            "set": self.chosen.name,
            "check": str(self.chosen.check.size),
            "colourways": len(self.chosen),
            "dpi": [float(dpi) for dpi in self.dpi],
        }
        if self.sett is not None:
            out["sett"] = str(self.sett)
        if self.press is not None:
            out["press"] = str(self.press)
        if self.condition is not None:
            out["condition"] = self.condition.words
        return out


def _cloth(cloth: Sequence[Length | str] | None) -> tuple[Length, Length] | None:
    if cloth is None:
        return None
    if not isinstance(cloth, list | tuple) or len(cloth) != 2:
        raise ArgumentError("cloth", "(width, length)", cloth)
    return Length(cloth[0]), Length(cloth[1])


def hand_off(
    colourways: Colourways,
    check: Check | None,
    folder: str | PathLike[str],
    *,
    dpi: Fraction | float | Sequence[Fraction | float] = 300,
    thumbnails: int | Sequence[int] | None = 256,
    cloth: Sequence[Length | str] | None = None,
    cut: bool = False,
    paper: str | None = "A4",
    plates: str | None = None,
    sett: Sett | str | None = None,
    picks: Sett | str | None = None,
    allowances: Allowances | None = None,
    press: Press | None = None,
    condition: PrintCondition | None = None,
    sizes: Sequence[Length | str] = (),
    tasks: str | Sequence[str] | None = None,
    for_client: ForClient | None = None,
    limits: Limits | None = None,
    bias: bool = False,
    families: bool = False,
    zipped: bool = False,
    overwrite: bool = False,
    keep_other_sizes: bool = False,
    progress: Progress | None = None,
) -> HandOff:
    """Write a set as a folder of open files, whole or not at all.

    For each colourway the tile at real size as SVG and PNG, and a thumbnail; for the set
    the JSON that opens again, tables of tones and scores, design tokens, CSS, a contact
    sheet, a page and a sheet for the client, a specification sheet, and a manifest with the
    size and SHA-256 of every file. The same set gives the same bytes.

    Parameters
    ----------
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check or None
        None takes the check of a chosen set.
    folder : path
        Of the folder to make, in one that exists. It is written beside its path and moved
        there in one step; of several runs at once to one folder, one writes and the others
        are refused.
    dpi : number or several
        Resolutions of the tiles; cloth and plates take the first.
    thumbnails : int or several, optional
        Sides in pixels; None for none.
    cloth : (width, length), optional
        Adds a larger piece of cloth, in whole repeats unless ``cut`` is set.
    cut : bool
        Cut the cloth at exactly its size.
    paper : str, optional
        Of the specification sheet, ``"A4"`` or ``"Letter"``; None for no sheet.
    plates : str, optional
        Adds films for a screen printer, and a PDF with a named ink a plate: ``"colours"`` or
        ``"tones"``, see :func:`~checkcloth.export.print.plates.plates_of`.
    sett, picks : Sett or str, optional
        Adds a thread plan for the cloth, such as ``"64 per in"``; needs ``cloth``.
    allowances : Allowances, optional
        Take-up and waste for the thread plan.
    press : Press, optional
        Adds a soft proof, and of a CMYK profile the tiles as CMYK TIFF; see
        :func:`~checkcloth.export.print.press.open_press`.
    condition : PrintCondition, optional
        A measured one: plates ``"colours"`` go by its curves, and specification, pre-flight and
        manifest name it. A colourway with a stripe that is none of its inks has the usual
        plates, and a note.
    sizes : several Length or str
        Adds the same colourways at other check sizes, each a set of its own.
    tasks : one or several str, optional
        Whom files are made for: ``"client"``, ``"printer"``, ``"mill"``, ``"shop"``; None for all.
        The set itself and its scores are always there.
    for_client : ForClient, optional
        Title, note, reference and date of the client's page and sheet, and what the client may
        choose; see :class:`~checkcloth.export.for_client.ForClient`.
    limits : Limits, optional
        What the printer or the mill takes, for the pre-flight page; without it common practice,
        and the width of ``cloth``.
    bias : bool
        Adds the tile on the bias (45°), as SVG and as PNG at each resolution.
    families : bool
        Adds a sheet a colourway: the check, with fewer stripes, as a stripe and as plains.
    zipped : bool
        Writes the folder as a zip file beside it too, moved there after the folder.
    overwrite : bool
        Whether an earlier hand-off there may be replaced; other folders never are. What went
        is in the result, and :func:`~checkcloth.export.hand_off.foretell.foretell` says it
        before.
    keep_other_sizes : bool
        Whether, of an earlier hand-off that is replaced, the files of other check sizes stay:
        the whole of it in ``other-sizes/SIZE`` where the set now has another size, and its
        coordinates where they are.
    progress : callable, optional
        Called with (files done, files in all, what comes next). What it raises stops the
        work, with nothing changed.

    Returns
    -------
    HandOff

    Raises
    ------
    ArgumentError, LengthError
        For no colourways, values out of range, or a folder that cannot be made; all of it
        is checked before anything is written.
    ExistsError
        If something is there and may not be replaced.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> aprons = Colourway("white", ["navy"], name="Quay")
    >>> with TemporaryDirectory() as parent:
    ...     made = hand_off(aprons, Check("0.5 in", 1), Path(parent) / "aprons", paper=None)
    ...     open_hand_off(made.folder).colourways == (aprons,)
    True
    """
    if progress is not None and not callable(progress):
        raise ArgumentError("progress", "a function", progress)
    order = Order(
        colourways,
        check,
        dpi=dpi,
        thumbnails=thumbnails,
        cloth=cloth,
        cut=cut,
        paper=paper,
        plates=plates,
        sett=sett,
        picks=picks,
        allowances=allowances,
        press=press,
        condition=condition,
        sizes=sizes,
        tasks=tasks,
        for_client=for_client,
        limits=limits,
        bias=bias,
        families=families,
    )
    # Making the list draws nothing, but meets every fault there is in what was asked for.
    items = list(order.items())
    path = Path(os.path.abspath(as_path(folder, "folder")))
    return _write(
        order, items, path, bool(zipped), bool(overwrite), bool(keep_other_sizes), progress
    )


def _limits(limits: Limits | None, cloth: tuple[Length, Length] | None) -> Limits:
    if limits is not None:
        return require_type(limits, "limits", Limits)
    return Limits(cloth_width=cloth[0]) if cloth and cloth[0] else Limits()


def _tasks(tasks: str | Sequence[str] | None) -> tuple[str, ...]:
    if tasks is None:
        return CHOSEN_TASKS
    several: tuple[str, ...] = _several(tasks, "tasks")
    for task in several:
        if task not in CHOSEN_TASKS:
            raise ArgumentError("tasks", f"of {', '.join(CHOSEN_TASKS)}", task)
    return several


def _write(
    order: Order,
    items: Sequence[Item],
    path: Path,
    zipped: bool,
    overwrite: bool,
    keep_other_sizes: bool,
    progress: Progress | None,
) -> HandOff:
    """Write items, what stays of an earlier hand-off, the manifest and the zip; move them."""
    archive = path.with_name(f"{path.name}.zip") if zipped else None
    report = progress or (lambda done, total, following: None)
    with ExitStack() as stack:
        staging = stack.enter_context(stage(path, check_replaceable, overwrite=overwrite))
        # Looked at here, while nobody else may write to the folder.
        new = [item.file for item in items]
        before = replacement(path, new, order.sizes, keep_other_sizes=keep_other_sizes)
        if archive:
            writing = writing_whole(archive, overwrite=overwrite, argument="folder")
            zip_stream = stack.enter_context(writing)
        items = [*items, *_carried(path, before)]
        total = len(items) + zipped
        written: list[Written] = []
        for number, item in enumerate(items):
            report(number, total, item.file)
            file = staging.write(item.file, item.fill)
            written.append(Written(item.file, file.size, file.sha256, item.shows, item.task))
        about = order.about() | _about_carried(before)
        staging.write(MANIFEST, of_bytes(lambda: manifest_json(written, about)))
        if archive:
            report(len(items), total, archive.name)
            files = [MANIFEST, *(file.file for file in written)]
            pack(zip_stream, staging.folder, files, path.name)
        report(total, total, "moving into place")
        staging.commit()
    left_overs, kept = tuple(staging.left_overs), tuple(sorted(before.kept))
    return HandOff(path, tuple(written), archive, left_overs, before.goes, kept)


def _carried(folder: Path, before: Replacement) -> Iterator[Item]:
    """The files of other check sizes, as they are now."""
    size = f"At a check of {before.earlier_size}. " if before.earlier_size else ""
    for path, file in sorted(before.kept.items()):
        shows = file.shows if path == file.file else f"{size}{file.shows}"
        yield Item(path, shows, copy_of(folder / file.file))


def _about_carried(before: Replacement) -> dict[str, object]:
    sizes = {path.split("/")[1] for path in before.kept if path.startswith(f"{OTHER_SIZES}/")}
    return {"other_sizes": sorted(sizes)} if sizes else {}


def open_hand_off(folder: str | PathLike[str]) -> ChosenSet:
    """Open the set that a hand-off folder was made from: the very same colourways.

    Raises
    ------
    FileFormatError
        If the folder holds no set, or a damaged or newer one.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> aprons = Colourway("white", ["navy"], name="Quay")
    >>> with TemporaryDirectory() as parent:
    ...     made = hand_off(aprons, Check("1/2 in", 1), Path(parent, "aprons"), paper=None)
    ...     print(open_hand_off(made.folder))
    set: 1 colourway on a check of 1/2 in (12.7 mm)
    """
    return open_set(as_path(folder, "folder") / "set.json")
