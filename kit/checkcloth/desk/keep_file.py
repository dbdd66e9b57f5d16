"""The kept set on disk: written as it changes, whole or not at all; earlier ones are offered.

Each session at a desk has a file of its own, named by the moment it began, so that what an
earlier session kept is never written over.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.errors import CheckclothError, ExistsError
from checkcloth.export.data.saved import open_set, save_set

__all__ = ["ENDING", "Earlier", "KeepFile", "earlier_sets"]

ENDING = ".kept.json"
_MOST_OFFERED = 20


@dataclass(frozen=True)
class Earlier:
    """A kept set of an earlier session.

    Attributes
    ----------
    path : Path
    when : str
        When it was last written.
    kept : int
        How many colourways; 0 where it cannot be opened.
    fault : str
        Why it cannot be opened, or "".

    Examples
    --------
    >>> Earlier(Path("explore-2026-03-01-090000.kept.json"), "01 March 2026, 09:00", 3).kept
    3
    """

    path: Path
    when: str
    kept: int
    fault: str = ""


def earlier_sets(folder: Path, apart_from: Path | None = None) -> list[Earlier]:
    """Return the kept sets of a folder, newest first, empty ones left out.

    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway
    >>> kept = ChosenSet(Check("7 mm", 1), [Colourway("white", ["navy"])])
    >>> with TemporaryDirectory() as folder:
    ...     path = KeepFile(Path(folder), "aprons").save(kept)
    ...     [one.kept for one in earlier_sets(Path(folder))]
    [1]
    """
    found = []
    files = [(path.stat().st_mtime, path) for path in folder.glob(f"*{ENDING}") if path.is_file()]
    for written, path in sorted(files, reverse=True)[:_MOST_OFFERED]:
        if path == apart_from:
            continue
        when = datetime.fromtimestamp(written).strftime("%d %B %Y, %H:%M")
        try:
            kept, fault = len(open_set(path)), ""
        except (CheckclothError, OSError) as error:
            kept, fault = 0, str(error)
        if kept or fault:
            found.append(Earlier(path, when, kept, fault))
    return found


@dataclass
class KeepFile:
    """The file of one session; there from the first colourway that is kept.

    Attributes
    ----------
    folder : Path
    name : str
        Of the desk; the file is called ``name`` and the moment.
    path : Path or None
        None until something was kept.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway
    >>> kept = ChosenSet(Check("7 mm", 1), [Colourway("white", ["navy"])])
    >>> with TemporaryDirectory() as folder:
    ...     KeepFile(Path(folder), "aprons").save(kept).name.startswith("aprons-")
    True
    """

    folder: Path
    name: str = "explore"
    path: Path | None = None
    began: datetime = field(default_factory=datetime.now)

    def save(self, chosen_set: ChosenSet) -> Path | None:
        """Write the set; an empty one only where an earlier state of it was written.

        Raises
        ------
        OSError
            As the system says; the file then still holds what it held.
        """
        if self.path is not None:
            return save_set(chosen_set, self.path, overwrite=True)
        if not len(chosen_set):
            return None
        stem = f"{self.name}-{self.began:%Y-%m-%d-%H%M%S}"
        for attempt in range(1, 1000):
            path = self.folder / f"{stem}{f'-{attempt}' if attempt > 1 else ''}{ENDING}"
            try:
                self.path = save_set(chosen_set, path)
            except ExistsError:
                continue
            return self.path
        raise ExistsError(f"folder must have room for {stem}{ENDING}, found a thousand of them")
