"""An export from the desk: what is asked for, written beside the page, and what was written.

What the fields say is read in ``hand_off_order``; the page shows them, nothing here draws.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from html import escape
from itertools import chain
from pathlib import Path
from typing import Any
from urllib.parse import quote

import ipywidgets

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.desk.background import StoppedError, Work
from checkcloth.desk.forms.export_foretold import free_folder
from checkcloth.desk.forms.hand_off_order import (
    CHOICES,
    DEFAULTS,
    beside,
    field_of,
    read_field,
    read_order,
)
from checkcloth.errors import ArgumentError
from checkcloth.export.hand_off.contents import TASKS
from checkcloth.export.hand_off.hand_off import HandOff, amount, hand_off
from checkcloth.export.hand_off.manifest import Written
from checkcloth.export.members import label_of, names_in
from checkcloth.export.picture.lettering import lacking
from checkcloth.export.print.proof import soft_proof
from checkcloth.files.live_output import in_notebook

_TASK_WORDS = {
    "client": "For the client",
    "printer": "For the printer",
    "mill": "For the mill",
    "shop": "For the web shop",
    "range": "The range itself",
}
# What people open first, by the start of the name or the end of it.
_FIRST = {
    "client-page": "Client page",
    "client-sheet.pdf": "Client sheet",
    "contact-sheet": "Contact sheet",
    "specification": "Specification sheet",
    "coordinates/coordinates": "Sheet of all sizes",
    "preflight": "Pre-flight",
    "tones.csv": "Tones",
    "colours.css": "CSS colours",
    "colours.tokens.json": "Design tokens",
    "set.json": "Set",
    "scores.csv": "Scores",
}
_MOST_PROOFS, _MOST_NAMES, _MOST_LINKS = 6, 5, 12
NOTHING_KEPT = "Nothing is kept yet: keep a colourway of the wall first."


class ExportFields:
    """What is asked for, field by field, as people typed it.

    Parameters
    ----------
    changed : callable
        Called after fields were changed.
    at_first : mapping
        What fields hold at first, where not ``DEFAULTS``.
    """

    def __init__(
        self, changed: Callable[[], object], at_first: Mapping[str, Any] | None = None
    ) -> None:
        self._changed: Callable[[], object] = lambda: None
        self._values = dict(DEFAULTS)
        self._taken: dict[str, tuple[str, bytes]] = {}
        self.show(at_first or {})
        self._changed = changed

    @property
    def values(self) -> dict[str, Any]:
        """What stands in the fields; of a profile or a chart that was chosen, its bytes."""
        found = dict(self._values)
        for field, (name, content) in self._taken.items():
            if found[field] == name:
                found[field] = content
        return found

    @property
    def shown(self) -> dict[str, Any]:
        """What stands in the fields, as the page shows it."""
        return dict(self._values)

    def show(self, values: Mapping[str, Any]) -> None:
        """Fill fields; a sett asks for the mill's files, unless it is said that they are not.

        Raises
        ------
        ArgumentError
            For what is no field, or cannot stand in it; then none is filled.
        """
        for name, value in values.items():
            _check_value(name, value)
        filled = dict(values)
        if str(values.get("ends", "")).strip() and "mill" not in values:
            filled["mill"] = True
        if any(self._values[name] != value for name, value in filled.items()):
            self._values |= filled
            self._changed()

    def take_press(self, name: str, content: bytes) -> None:
        """Take a press profile that was chosen: its name stands in the field."""
        self._taken["press"] = (name.strip() or "profile", content)
        self._values["press"] = self._taken["press"][0]
        self._changed()

    def take_chart(self, name: str, content: bytes) -> None:
        """Hold the chart of a measured press; plates go by it once its name is in the field."""
        self._taken["condition"] = (name, content)
        if self._values["condition"] == name:
            self._changed()

    @property
    def chosen_chart(self) -> str:
        """Name of the chart that was chosen, or ""."""
        return self._taken.get("condition", ("", b""))[0]

    @property
    def chart(self) -> tuple[str, str | bytes]:
        """Name and bytes of the chart that was chosen; else the path that plates go by, or ""."""
        path = self._values["condition"].strip()
        return self._taken.get("condition", (Path(path).name, path))


def _check_value(name: str, value: object) -> None:
    if name not in DEFAULTS:
        raise ArgumentError("fields", f"of {', '.join(DEFAULTS)}", name)
    if type(value) is not type(DEFAULTS[name]):
        raise ArgumentError(name, f"a {type(DEFAULTS[name]).__name__}", value)
    if name in CHOICES and value not in CHOICES[name]:
        raise ArgumentError(name, f"one of {', '.join(map(repr, CHOICES[name]))}", value)


class HandOffJob:
    """An export, from its fields to its files.

    Parameters
    ----------
    chosen : ChosenSet
        What is handed off; whoever owns the job sets it anew as it changes.
    troubles : list of str
        Takes the tracebacks of faults of the kit itself.
    at_first : mapping
        What fields hold at first, by name.

    Attributes
    ----------
    on_change : callable
        Called after a field was changed; whoever owns the job saves what stands in it.
    fields : ExportFields
    work : Work
        Whether it is under way, how far it is, and what is said of it.
    faults : dict of str
        By field, what was wrong when it was last begun.
    made : HandOff or None
        What was written last.
    links : Output
        Links to the files written; only an output of the notebook opens them in its own tabs.
    """

    def __init__(
        self,
        chosen: ChosenSet,
        troubles: list[str],
        at_first: Mapping[str, Any] | None = None,
    ) -> None:
        self.chosen = chosen
        self.made: HandOff | None = None
        self.written: dict[str, Any] | None = None
        self.faults: dict[str, str] = {}
        self.on_change: Callable[[], object] = lambda: None
        self.fields = ExportFields(self._changed, at_first)
        self.work = Work(
            "files written", troubles,
            failed="Not exported, nothing changed: ",
            stopping="Stopping when the file under way is done …",
            stopped="Stopped: nothing was written, and what was there before is as it was.",
            mark=self._mark,
        )  # fmt: skip
        self.links = ipywidgets.Output()
        self.links.add_class("cc-export-links")

    def run(self, chosen: ChosenSet | None = None) -> HandOff | None:
        """Write what the fields ask for, and wait for it; None where that was refused."""
        work = self._work(chosen, beside_it=False)
        return self.made if work and self.work.run(work, self._finish) else None

    def begin(self, chosen: ChosenSet | None = None, *, beside_it: bool = False) -> None:
        """Write it in the background.

        Parameters
        ----------
        chosen : ChosenSet, optional
            In place of what is kept.
        beside_it : bool
            Write to a free folder beside the one that is named, where that is taken.
        """
        if self.work.running:
            return
        work = None
        with self.work.saying_faults():
            work = self._work(chosen, beside_it=beside_it)
        if work is not None:
            self.work.begin(work, self._finish)

    def _changed(self) -> None:
        """What was wrong before is judged anew."""
        self.faults = {}
        if self.work.alert:
            self.work.say("")
        self.on_change()

    def facts(self) -> dict[str, Any]:
        """Return what the page shows of the work and of what it wrote."""
        return self.work.facts() | {"faults": self.faults, "made": self.written}

    # -- from the fields to the files ------------------------------------------------------------

    def _work(
        self, chosen: ChosenSet | None, *, beside_it: bool
    ) -> Callable[[], tuple[ChosenSet, HandOff]] | None:
        """Return what is to be done, or say at each field what is wrong."""
        chosen = self.chosen if chosen is None else chosen
        self.written, self.links.outputs = None, ()
        if not len(chosen):
            self.work.say(NOTHING_KEPT, alert=True)
            return None
        order, self.faults = read_order(self.fields.values, chosen)
        if self.faults:
            self._refuse()
            return None
        folder = Path(order.pop("folder"))
        if beside_it and os.path.lexists(folder):
            folder = Path(free_folder(str(folder)))
        named = ChosenSet(chosen.check, chosen.chosen, order.pop("name") or chosen.name)
        return partial(self._write, named, folder, order)

    def _write(
        self, chosen: ChosenSet, folder: Path, order: Mapping[str, Any]
    ) -> tuple[ChosenSet, HandOff]:
        with _parents(folder):
            return chosen, hand_off(chosen, chosen.check, folder, progress=self._progress, **order)

    def _progress(self, done: int, total: int, following: str) -> None:
        self.work.progress(done, total, following)
        if self.work.stop_asked.is_set():
            raise StoppedError

    def _finish(self, written: tuple[ChosenSet, HandOff]) -> None:
        chosen, self.made = written
        self.written = made_fields(chosen, self.made)
        self.links.outputs = links_to(self.made)
        self.work.say(self.written["words"])

    def _mark(self, error: Exception) -> bool:
        """Say an error at the field that it is about, if it is about one."""
        name = field_of(error)
        if name:
            self.faults = {name: beside(error)}
            self._refuse()
        return bool(name)

    def _refuse(self) -> None:
        many = len(self.faults)
        what = "the field marked" if many == 1 else f"the {many} fields marked"
        self.work.say(f"Not exported: see {what} “!”. Nothing was changed.", alert=True)


@contextlib.contextmanager
def _parents(folder: Path) -> Iterator[None]:
    """Make the folders that a folder is to lie in; take them away again if nothing comes."""
    missing = [parent for parent in folder.absolute().parents if not parent.exists()]
    try:
        try:
            folder.absolute().parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            allowed, hint = "where folders can be made", f": {error.strerror}"
            raise ArgumentError("folder", allowed, str(folder), hint=hint) from None
        yield
    except BaseException:
        for parent in missing:
            with contextlib.suppress(OSError):  # not made, or no longer empty
                parent.rmdir()
        raise


# -- what was written ------------------------------------------------------------------------------


def made_fields(chosen: ChosenSet, made: HandOff) -> dict[str, Any]:
    """Return how many files were written, how large, where, and for whom.

    Returns
    -------
    dict
        ``words``: one line. ``notes``: what else to know. ``folder``: its whole path.
        ``tasks``: rows of task, words, files, bytes as text, names of what is opened first.
    """
    noun = "colourway" if len(chosen) == 1 else "colourways"
    return {
        "words": f"{len(chosen)} {noun} exported to {_short(made.folder)}: {len(made.files)} "
        f"files and their manifest, {amount(made.size)}.",
        "notes": list(_notes(chosen, made)),
        "folder": str(made.folder),
        "tasks": [
            [task, _TASK_WORDS[task], len(files), amount(sum(one.size for one in files)),
             [path for _, path in _opened_first(files)]]
            for task, files in _by_task(made).items()
        ],
    }  # fmt: skip


def _notes(chosen: ChosenSet, made: HandOff) -> Iterator[str]:
    nameless = sum(not colourway.name for colourway in chosen)
    if nameless:
        yield f"{nameless} without a name: found as Colourway and a number."
    archive = made.folder.with_name(f"{made.folder.name}.zip")
    if made.zipped is not None:
        size = amount(made.zipped.stat().st_size)
        yield f"The same as one file: {made.zipped.name}, {size}."
    elif archive.exists():
        yield f"{archive.name} beside it is of an earlier export, left as it was."
    if made.went:
        names, more = ", ".join(made.went[:_MOST_NAMES]), len(made.went) - _MOST_NAMES
        yield (f"{len(made.went)} files of the earlier export are gone: {names}"
               + (f" and {more} more." if more > 0 else "."))  # fmt: skip
    if made.kept:
        yield f"{len(made.kept)} files of other check sizes are still there."
    lack = lacking(chosen.name, *chain.from_iterable(map(names_in, chosen)))
    if lack:
        yield (f"The typeface of the sheets lacks {lack[:20]}: a box stands for "
               "each there; the names are whole in set.json and the tables.")  # fmt: skip
    if made.left_overs:
        yield "An earlier export was cut short; what it had left is cleared away."


def _short(path: Path) -> str:
    """Return a path from here on, where it lies under here."""
    here = Path.cwd()
    return path.relative_to(here).as_posix() if path.is_relative_to(here) else str(path)


def _by_task(made: HandOff) -> dict[str, list[Written]]:
    """The files by whom they are for, without what stayed of earlier exports."""
    found: dict[str, list[Written]] = {task: [] for task in TASKS}
    for file in made.files:
        if file.file not in made.kept:
            found[file.task].append(file)
    return {task: files for task, files in found.items() if files}


def _opened_first(files: list[Written]) -> list[tuple[str, str]]:
    return [
        (words, file.file)
        for start, words in _FIRST.items()
        for file in files
        if file.file.startswith(start)
    ]


def links_to(made: HandOff) -> tuple[dict[str, Any], ...]:
    """Return one notebook output with links that JupyterLab opens in tabs of its own.

    Links start from the notebook's folder; for what lies elsewhere there are none, as only
    what lies under JupyterLab's own folder can be opened. voilà opens none.
    """
    if not in_notebook():
        return ()
    # Set by the server: the notebook's path. Without it the kernel's folder is the best guess.
    name = Path(os.environ.get("JPY_SESSION_NAME", ""))
    home = name.parent if name.is_absolute() and name.parent.is_dir() else Path.cwd()
    if not made.folder.is_relative_to(home.resolve()):
        return ()
    there = made.folder.relative_to(home.resolve()).as_posix()

    def link(words: str, path: str, more: str = "") -> str:
        return f'<a href="{quote(path)}"{more}>{escape(words)}</a>'

    lines, paths = [], []
    for task, files in _by_task(made).items():
        first = _opened_first(files)[:_MOST_LINKS]
        first = first or [(one.file.split("/")[-1], one.file) for one in files[:2]]
        if task == "range":
            first = [*first, ("Manifest", "manifest.json")]
        paths += [f"{there}/{file}" for _, file in first]
        links = " · ".join(link(words, f"{there}/{file}") for words, file in first)
        lines.append(f"{escape(_TASK_WORDS[task])}: {links}")
    if made.zipped is not None:
        lines.append(link(f"Download {made.zipped.name}", f"{there}.zip", " download"))
    html = "".join(f"<p>{line}</p>" for line in lines)
    data = {"text/html": html, "text/plain": ", ".join(paths)}
    return ({"output_type": "display_data", "data": data, "metadata": {}},)


def proof_rows(chosen: ChosenSet, values: Mapping[str, Any]) -> tuple[dict[str, Any], list[bytes]]:
    """Return the first colourways as designed and as printed, with what moves.

    Parameters
    ----------
    chosen : ChosenSet
    values : mapping
        The fields of the export.

    Returns
    -------
    fields : dict
        ``words``; ``rows`` of name and words, one for each picture.
    pictures : list of bytes
        PNG: as designed on the left, as proofed on the right.

    Raises
    ------
    ArgumentError, OSError
        For no profile, or none that can be read.
    """
    press = read_field("press", values)
    if press is None:
        raise ArgumentError("press", "given first; ask the printer for the profile", words="none")
    if not len(chosen):
        raise ArgumentError("kept", "at least one colourway", words="none")
    rows, pictures = [], []
    for index, colourway in enumerate(chosen.colourways[:_MOST_PROOFS]):
        proof = soft_proof(colourway, press)
        names = proof.named_outside
        words = f"greatest shift ΔE00 {proof.shift.max():.1f}; "
        if names:
            more = f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
            words += f"out of the press's gamut: {', '.join(names[:_MOST_NAMES])}{more}"
        else:
            words += "every tone is in the press's gamut"
        rows.append([label_of(colourway, index), words])
        pictures.append(proof.picture(240).png)
    left = len(chosen) - _MOST_PROOFS
    words = f"As designed, left, and as proofed, right, for {press}. "
    words += "No screen is a proof: agree a strike-off."
    if left > 0:
        words += f" And {left} more: the export has a proof and a table of each."
    return {"words": words, "rows": rows}, pictures
