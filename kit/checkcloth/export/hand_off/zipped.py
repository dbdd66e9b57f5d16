"""A hand-off folder as one zip file, the same bytes for the same folder."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path
from typing import BinaryIO

from checkcloth.export.hand_off.manifest import MANIFEST, read_manifest
from checkcloth.export.hand_off.staging import write_file

__all__ = ["zip_folder"]

# The earliest date that a zip can hold: no clock, so that bytes do not change.
_DATE = (1980, 1, 1, 0, 0, 0)
_PACKED = {".png"}


def _fill(stream: BinaryIO, folder: Path) -> None:
    names = [MANIFEST, *(one.file for one in read_manifest(folder))]
    with zipfile.ZipFile(stream, "w") as packed:
        for name in names:
            path = folder / name
            info = zipfile.ZipInfo(f"{folder.name}/{name}", _DATE)
            info.create_system = 3  # as on any machine, not as on this one
            info.external_attr = 0o644 << 16
            ready = path.suffix in _PACKED
            info.compress_type = zipfile.ZIP_STORED if ready else zipfile.ZIP_DEFLATED
            info.file_size = path.stat().st_size
            with path.open("rb") as source, packed.open(info, "w") as target:
                shutil.copyfileobj(source, target, 1 << 20)


def zip_folder(folder: Path, path: Path, *, overwrite: bool = False) -> Path:
    """Pack a hand-off folder, whole or not at all; return the path of the zip file.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    FileFormatError
        If the folder is no hand-off.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway, hand_off
    >>> aprons = Colourway("white", ["navy"])
    >>> with TemporaryDirectory() as parent:
    ...     made = hand_off(aprons, Check("1 in", 1), Path(parent, "aprons"), paper=None)
    ...     zip_folder(made.folder, Path(parent, "aprons.zip")).name
    'aprons.zip'
    """
    return write_file(path, lambda stream: _fill(stream, folder), overwrite=overwrite)
