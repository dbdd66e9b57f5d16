"""Files that ship with the kit: the page's, notebooks, palettes; installed, or in the checkout."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from checkcloth.errors import FileFormatError

_PACKAGE = Path(__file__).parents[1]
# What ships, and where the checkout has it; the wheel is built with them under "shipped".
FOLDERS = {"notebooks": "notebooks", "palettes": "palettes", "lab_settings": ".jupyter"}
# Of the checkout's folders: what makes and shows things for its own pages, and does not ship.
_OURS = frozenset(
    {"make.py", "draw_halt.py", "take_desk.py", "take_lesson.py", "take_steps.py"}
    | {"desk.png", "lesson.png", "sheet.png", "steps.png"}
)


@lru_cache(maxsize=16)
def page_text(path: str) -> str:
    """Return code or a style sheet of the page, by its path in ``page/``: "bundles/desk.js".

    As text, for anywidget never lets go of a path.
    """
    return (_PACKAGE / "page" / path).read_text("utf-8")


def shipped(name: str) -> Path:
    """Return a folder of files that ship: one of ``FOLDERS``.

    Raises
    ------
    FileFormatError
        If the kit was installed without them.
    """
    for folder in (_PACKAGE / "shipped" / name, _PACKAGE.parents[1] / FOLDERS[name]):
        if folder.is_dir():
            return folder
    raise FileFormatError(name, "installed with the kit", words="none", source="checkcloth")


def shipped_files(name: str) -> list[Path]:
    """Return the files of such a folder as paths within it, in order; none of what running made."""
    folder = shipped(name)
    found = (path.relative_to(folder) for path in folder.rglob("*") if path.is_file())
    return sorted(path for path in found if not _is_ours(path))


def _is_ours(path: Path) -> bool:
    hidden = any(part.startswith((".", "__")) for part in path.parts)
    return (
        hidden or path.name in _OURS or path.parts[0] == "out" or path.name.endswith(".kept.json")
    )
