"""What an export says when it is done: how much, where, what, and ways to open it."""

from __future__ import annotations

import os
from html import escape
from itertools import chain
from pathlib import Path
from typing import Any
from urllib.parse import quote

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.export.hand_off.hand_off import HandOff, amount
from checkcloth.export.members import names_in
from checkcloth.export.picture.lettering import lacking

__all__ = ["links_to", "told"]

_MOST_ROWS = 60
# What people open first, by the start of the name.
_FIRST = {
    "contact-sheet": "Contact sheet",
    "specification": "Specification sheet",
    "coordinates/coordinates": "Sheet of all sizes",
    "manifest": "Manifest",
}


def told(chosen: ChosenSet, made: HandOff) -> str:
    """Return as HTML how many files were written, how large, where, and which.

    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway, hand_off
    >>> chosen = ChosenSet(Check("1 in", 1), [Colourway("white", ["navy"])])
    >>> with TemporaryDirectory() as parent:
    ...     made = hand_off(chosen, None, f"{parent}/a", paper=None)
    >>> "set.json" in told(chosen, made)
    True
    """
    noun = "colourway" if len(chosen) == 1 else "colourways"
    lines = [
        f"<strong>{len(chosen)} {noun} exported to {escape(_short(made.folder))}</strong>: "
        f"{len(made.files)} files and their manifest, {amount(made.size)}."
    ]
    nameless = sum(not colourway.name for colourway in chosen)
    if nameless:
        lines.append(f"{nameless} without a name of its own: found as Colourway and a number.")
    archive = made.folder.with_name(f"{made.folder.name}.zip")
    if made.zipped is not None:
        lines.append(f"The same as one file: {escape(made.zipped.name)}, "
                     f"{amount(made.zipped.stat().st_size)}.")  # fmt: skip
    elif archive.exists():
        lines.append(f"{escape(archive.name)} beside it is of an earlier export, left as it was.")
    lack = lacking(chosen.name, *chain.from_iterable(map(names_in, chosen)))
    if lack:
        lines.append(f"The typeface of the sheets lacks {escape(lack[:20])}: a box stands for "
                     "each there; the names are whole in set.json and the tables.")  # fmt: skip
    if made.left_overs:
        lines.append("An earlier export was cut short; what it had left is cleared away.")
    lines.append(f'<span class="cc-where">{escape(str(made.folder))}</span>')
    rows = "".join(
        f"<tr><td>{escape(one.file)}</td><td>{amount(one.size)}</td>"
        f"<td>{escape(one.shows)}</td></tr>"
        for one in made.files[:_MOST_ROWS]
    )
    more = len(made.files) - _MOST_ROWS
    if more > 0:
        rows += f"<tr><td colspan=3>and {more} more, all listed in manifest.json</td></tr>"
    return (
        f'<p role="status">{" ".join(lines)}</p><details><summary>Each file</summary>'
        "<table><thead><tr><th>file</th><th>size</th><th>what it shows</th></tr></thead>"
        f"<tbody>{rows}</tbody></table></details>"
    )


def _short(path: Path) -> str:
    """Return a path from here on, where it lies under here."""
    here = Path.cwd()
    return path.relative_to(here).as_posix() if path.is_relative_to(here) else str(path)


def links_to(made: HandOff) -> tuple[dict[str, Any], ...]:
    """Return one notebook output with links that JupyterLab opens in tabs of its own.

    Links start from the notebook's folder; for what lies elsewhere there are none, as only
    what lies under JupyterLab's own folder can be opened.

    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway, hand_off
    >>> aprons = Colourway("white", ["navy"])
    >>> with TemporaryDirectory() as parent:
    ...     made = hand_off(aprons, Check("1 in", 1), f"{parent}/a", paper=None)
    >>> links_to(made)  # nothing that lies outside the notebook's folder
    ()
    """
    # Set by the server: the notebook's path. Without it the kernel's folder is the best guess.
    name = Path(os.environ.get("JPY_SESSION_NAME", ""))
    home = name.parent if name.is_absolute() and name.parent.is_dir() else Path.cwd()
    if not made.folder.is_relative_to(home.resolve()):
        return ()
    there = made.folder.relative_to(home.resolve()).as_posix()
    names = [*(one.file for one in made.files), "manifest.json"]
    found = [
        (words, f"{there}/{file}")
        for start, words in _FIRST.items()
        for file in names[:]
        if file.startswith(start)
    ]
    links = [f'<a href="{quote(path)}">{escape(words)}</a>' for words, path in found[:8]]
    if made.zipped is not None:
        path = quote(f"{there}.zip")
        links.append(f'<a href="{path}" download>Download {escape(made.zipped.name)}</a>')
    html = "<p>Open: " + " · ".join(links) + "</p>"
    data = {"text/html": html, "text/plain": ", ".join(path for _, path in found)}
    return ({"output_type": "display_data", "data": data, "metadata": {}},)
