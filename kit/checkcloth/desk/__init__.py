"""The desk: a wall of colourways to look through, choose from and hand off, as a widget."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from checkcloth.desk.opening import open_desk
    from checkcloth.desk.session import Desk

__all__ = ["Desk", "open_desk"]


def __getattr__(name: str) -> Any:
    """Load the widgets when they are first asked for: the plain half of the room needs none."""
    if name == "open_desk":
        from checkcloth.desk.opening import open_desk

        return open_desk
    if name == "Desk":
        from checkcloth.desk.session import Desk

        return Desk
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
