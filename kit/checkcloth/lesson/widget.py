"""The live lesson in a notebook, as one widget; ``live_output`` shows it, or a still."""

from __future__ import annotations

from typing import Any

import anywidget
import traitlets

from checkcloth.files.live_output import show_live
from checkcloth.files.shipped import page_text


class LessonWidget(anywidget.AnyWidget):
    """Steps of the lesson; everything is drawn and worked out on the page.

    Made of :func:`~checkcloth.lesson.step.page_data` of one step, or of several, which get a frame
    round them.
    """

    data = traitlets.Dict().tag(sync=True)

    def __init__(self, data: dict[str, Any]) -> None:
        self._esm = page_text("bundles/lesson.js")
        self._css = page_text("lesson/lesson.css")
        super().__init__(data=data)


def show(data: dict[str, Any], still: str, text: str) -> None:
    """Show steps in a cell: live, and as ready HTML of the still pictures; see ``live_output``."""
    found = LessonWidget(data)._repr_mimebundle_()
    show_live((found[0] if isinstance(found, tuple) else found) or {}, still, text)
