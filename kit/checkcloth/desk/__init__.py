"""The widgets: the only room that imports ipywidgets and anywidget."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from checkcloth.desk.desk import Desk
    from checkcloth.desk.opening import open_desk

__all__ = ["Desk", "open_desk"]


def __getattr__(name: str) -> Any:
    """Load the widgets when they are first asked for: the plain half of the room needs none."""
    if name == "open_desk":
        from checkcloth.desk.opening import open_desk

        return open_desk
    if name == "Desk":
        from checkcloth.desk.desk import Desk

        return Desk
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
