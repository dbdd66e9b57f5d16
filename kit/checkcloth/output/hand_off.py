"""The hand-off: everything for a printer, a mill or a shop, in one folder, with a manifest."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from html import escape
from os import PathLike
from pathlib import Path
from typing import BinaryIO

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.errors import ArgumentError, shown
from checkcloth.output.manifest import MANIFEST, Written, check_ours, manifest_json
from checkcloth.output.members import Colourways, as_set, label_of
from checkcloth.output.names import file_stems
from checkcloth.output.raster import describe, tile_png, tile_size
from checkcloth.output.saved import set_json
from checkcloth.output.sheet import contact_sheet
from checkcloth.output.staging import Staging, of_bytes
from checkcloth.output.tables import scores_csv, tones_csv
from checkcloth.output.vector import tile_svg

__all__ = ["HandOff", "hand_off"]

# Colourways on one contact sheet, so that memory does not grow with the set.
_A_SHEET = 120

Progress = Callable[[int, int, str], None]


@dataclass(frozen=True)
class Item:
    """One file to write: where, what it shows, and how; nothing is drawn until it is filled."""

    file: str
    shows: str
    fill: Callable[[BinaryIO], None]


@dataclass(frozen=True, repr=False)
class HandOff:
    """What was written.

    Attributes
    ----------
    folder : Path
    files : tuple of Written
        All but the manifest itself.
    """

    folder: Path
    files: tuple[Written, ...]

    @property
    def size(self) -> int:
        """Bytes in all."""
        return sum(one.size for one in self.files)

    def __str__(self) -> str:
        return f"hand-off {self.folder.name}: {len(self.files)} files, {_amount(self.size)}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        rows = "".join(
            f"<tr><td style='text-align:left'>{escape(one.file)}</td>"
            f"<td>{_amount(one.size)}</td>"
            f"<td style='text-align:left'>{escape(one.shows)}</td></tr>"
            for one in self.files
        )
        return (
            f"<p>{escape(str(self))}</p><table><thead><tr><th>file</th><th>size</th>"
            f"<th>shows</th></tr></thead><tbody>{rows}</tbody></table>"
        )


def _amount(size: int) -> str:
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{size / 1e3:.1f} kB"


def _resolutions(
    dpi: Fraction | float | Sequence[Fraction | float],
) -> tuple[Fraction | float, ...]:
    several = tuple(dpi) if isinstance(dpi, Sequence) else (dpi,)
    if not several:
        raise ArgumentError("dpi must be one resolution or several, found none")
    return tuple(dict.fromkeys(several))


def _tiles(
    stem: str, colourway: Colourway, check: Check, resolutions: Iterable[Fraction | float]
) -> Iterator[Item]:
    about = describe(colourway, check)
    lead = f"colourways/{stem}/{stem}"
    yield Item(
        f"{lead}-tile.svg",
        f"One repeat at real size, {check.repeat}. {about}",
        of_bytes(lambda: tile_svg(colourway, check)),
    )
    for dpi in resolutions:
        _, side, exact = tile_size(check, dpi)
        yield Item(
            f"{lead}-tile-{float(dpi):g}dpi.png",
            f"One repeat: {side} × {side} pixels at {float(exact):.6g} dpi. {about}",
            of_bytes(partial(tile_png, colourway, check, dpi)),
        )


def _sheet_png(part: ChosenSet) -> bytes:
    return contact_sheet(part).png


def _whole_set(chosen: ChosenSet) -> Iterator[Item]:
    yield Item("set.json", "The set; opens again in checkcloth", of_bytes(lambda: set_json(chosen)))
    yield Item(
        "tones.csv",
        "Every tone: name, hex, sRGB, Lab (D65, 2°), share of area",
        of_bytes(lambda: tones_csv(chosen)),
    )
    yield Item(
        "scores.csv",
        "Scores: CIEDE2000, ΔL*, contrast ratio, lightness order",
        of_bytes(lambda: scores_csv(chosen)),
    )
    for number, start in enumerate(range(0, len(chosen), _A_SHEET), start=1):
        part = ChosenSet(chosen.check, chosen.chosen[start : start + _A_SHEET], chosen.name)
        several = len(chosen) > _A_SHEET
        yield Item(
            f"contact-sheet-{number}.png" if several else "contact-sheet.png",
            f"Colourways {start + 1} to {start + len(part)} side by side, at one scale",
            of_bytes(partial(_sheet_png, part)),
        )


def hand_off(
    colourways: Colourways,
    check: Check | None,
    folder: str | PathLike[str],
    *,
    dpi: Fraction | float | Sequence[Fraction | float] = 300,
    overwrite: bool = False,
    progress: Progress | None = None,
) -> HandOff:
    """Write a set as a folder of open files, whole or not at all.

    For each colourway the tile at real size as SVG and PNG; for the set the JSON that
    opens again, tables of tones and scores, a contact sheet, and a manifest with the size
    and SHA-256 of every file. The same set gives the same bytes.

    Parameters
    ----------
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check or None
        None takes the check of a chosen set.
    folder : path
        Of the folder to make, in one that exists. It is written beside its place and
        moved there in one step.
    dpi : number or several
        Resolutions of the tiles.
    overwrite : bool
        Whether an earlier hand-off there may be replaced; other folders never are.
    progress : callable, optional
        Called with (files done, files in all, what comes next). What it raises stops the
        work, with nothing changed.

    Returns
    -------
    HandOff

    Raises
    ------
    ArgumentError
        For no colourways, values out of range, or a folder that cannot be made.
    ExistsError
        If something is there and may not be replaced.
    """
    chosen = as_set(colourways, check)
    resolutions = _resolutions(dpi)
    if progress is not None and not callable(progress):
        raise ArgumentError(f"progress must be a function, found {shown(progress)}")
    stems = file_stems(label_of(colourway, place) for place, colourway in enumerate(chosen))
    items = list(_whole_set(chosen))
    for stem, colourway in zip(stems, chosen, strict=True):
        items += _tiles(stem, colourway, chosen.check_for(colourway), resolutions)
    about = {"set": chosen.name, "check": str(chosen.check.size), "colourways": len(chosen)}
    return write_items(items, Path(folder), about, overwrite=overwrite, progress=progress)


def write_items(
    items: Sequence[Item],
    folder: Path,
    about: dict[str, object],
    *,
    overwrite: bool,
    progress: Progress | None,
) -> HandOff:
    """Write items one after another into a new folder, then the manifest, then move it."""
    report = progress or (lambda done, total, label: None)
    written: list[Written] = []
    with Staging(folder, overwrite=overwrite, may_replace=check_ours) as staging:
        for place, item in enumerate(items):
            report(place, len(items), item.file)
            hashed = staging.write(item.file, item.fill)
            written.append(Written(item.file, hashed.size, hashed.sha256, item.shows))
        staging.write(MANIFEST, of_bytes(manifest_json(written, about)))
    report(len(items), len(items), "done")
    return HandOff(staging.place, tuple(written))
