"""The desk: a wall of colourways to look through, choose from and hand off; and its forms.

Nothing here is loaded before it is asked for: the plain half of the room needs no widgets.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from checkcloth.needs import need

if TYPE_CHECKING:
    from checkcloth.desk.opening import open_desk, search_form
    from checkcloth.desk.session import Desk
    from checkcloth.desk.strength_explorer import explore_strength

__all__ = ["Desk", "explore_strength", "open_desk", "search_form"]

_HOMES = {
    "Desk": "session",
    "explore_strength": "strength_explorer",
    "open_desk": "opening",
    "search_form": "opening",
}


def __getattr__(name: str) -> Any:
    """Load what is asked for."""
    if name in _HOMES:
        need("ipywidgets", "anywidget")
        return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
