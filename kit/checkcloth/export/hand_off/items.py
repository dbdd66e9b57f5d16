"""What a hand-off is made of: items that are drawn one after another, as they are written."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from checkcloth.export.hand_off.manifest import MANIFEST, Written, check_ours, manifest_json
from checkcloth.export.hand_off.staging import Staging
from checkcloth.files.html import table

__all__ = ["HandOff", "Item", "Progress", "amount", "of_bytes", "of_lines", "write_items"]

# Called with (files done, files in all, what comes next).
Progress = Callable[[int, int, str], None]


@dataclass(frozen=True)
class Item:
    """One file to write; nothing is drawn until it is filled.

    Attributes
    ----------
    file : str
        Path inside the folder, with ``/`` between parts.
    shows : str
        What it shows, for people; goes into the manifest.
    fill : callable
        Called with the open file.

    Examples
    --------
    >>> Item("note.txt", "a note", of_bytes(lambda: "two metres")).file
    'note.txt'
    """

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
    zipped : Path or None
        The same folder in one file, where that was asked for.
    left_overs : tuple of str
        Names of what an earlier run, cut short, had left beside the folder; now gone.

    Examples
    --------
    >>> from checkcloth.export.hand_off.manifest import Written
    >>> made = HandOff(Path("aprons"), (Written("set.json", 900, "0" * 64, "the set"),))
    >>> made.size, [file.file for file in made.files]
    (900, ['set.json'])
    """

    folder: Path
    files: tuple[Written, ...]
    zipped: Path | None = None
    left_overs: tuple[str, ...] = ()

    @property
    def size(self) -> int:
        """Bytes in all."""
        return sum(one.size for one in self.files)

    def __str__(self) -> str:
        noun = "file" if len(self.files) == 1 else "files"
        return f"hand-off {self.folder.name}: {len(self.files)} {noun}, {amount(self.size)}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        rows = ((one.file, amount(one.size), one.shows) for one in self.files)
        return table([str(self)], ("file", "size", "shows"), rows, right=(1,))


def amount(size: int) -> str:
    """Return bytes for people.

    >>> amount(12), amount(1234), amount(5_600_000)
    ('12 bytes', '1.2 kB', '5.6 MB')
    """
    if size < 1000:
        return f"{size} bytes"
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{size / 1e3:.1f} kB"


def of_bytes(make: Callable[[], bytes | str]) -> Callable[[BinaryIO], None]:
    """Return a function that fills a file with the bytes, or text, that a call returns.

    >>> import io
    >>> out = io.BytesIO()
    >>> of_bytes(lambda: "two metres")(out)
    >>> out.getvalue()
    b'two metres'
    """

    def fill(stream: BinaryIO) -> None:
        made = make()
        stream.write(made.encode("utf-8") if isinstance(made, str) else made)

    return fill


def of_lines(make: Callable[[], Iterator[str]]) -> Callable[[BinaryIO], None]:
    """Return a function that fills a file with pieces of text as they come.

    >>> import io
    >>> out = io.BytesIO()
    >>> of_lines(lambda: iter(["two ", "metres"]))(out)
    >>> out.getvalue()
    b'two metres'
    """

    def fill(stream: BinaryIO) -> None:
        for piece in make():
            stream.write(piece.encode("utf-8"))

    return fill


def write_items(
    items: Iterable[Item],
    folder: Path,
    about: dict[str, object],
    *,
    overwrite: bool,
    progress: Progress | None = None,
    total: int | None = None,
) -> HandOff:
    """Write items one after another into a new folder, then the manifest, then move it.

    >>> from tempfile import TemporaryDirectory
    >>> note = Item("note.txt", "a note", of_bytes(lambda: "two metres"))
    >>> with TemporaryDirectory() as parent:
    ...     print(write_items([note], Path(parent, "aprons"), {}, overwrite=False))
    hand-off aprons: 1 file, 10 bytes
    """
    report = progress or (lambda done, count, label: None)
    if total is None:
        items = list(items)
        total = len(items)
    written: list[Written] = []
    with Staging(folder, overwrite=overwrite, may_replace=check_ours) as staging:
        for place, item in enumerate(items):
            report(place, total, item.file)
            hashed = staging.write(item.file, item.fill)
            written.append(Written(item.file, hashed.size, hashed.sha256, item.shows))
        staging.write(MANIFEST, of_bytes(lambda: manifest_json(written, about)))
        report(len(written), total, "moving into place")
    return HandOff(staging.place, tuple(written), left_overs=tuple(staging.left_overs))


def chunks(count: int, most: int) -> list[slice]:
    """Return slices of at most ``most`` that cover ``count`` things.

    >>> chunks(5, 2)
    [slice(0, 2, None), slice(2, 4, None), slice(4, 5, None)]
    """
    return [slice(start, min(start + most, count)) for start in range(0, count, most)]


def numbered(name: str, ending: str, parts: Sequence[slice], place: int) -> str:
    """Return a file name, with a number only where there are several.

    >>> numbered("sheet", ".png", [slice(0, 2)], 0)
    'sheet.png'
    """
    return f"{name}-{place + 1}{ending}" if len(parts) > 1 else f"{name}{ending}"
