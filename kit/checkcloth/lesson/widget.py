"""The live lesson in a notebook: one widget, and beside it the still pictures that are saved.

The still pictures are an output of their own: a saved notebook and its export as HTML keep them,
whatever becomes of the widget. While the widget is live it hides them.
"""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import anywidget
import traitlets

from checkcloth.lesson.one_file import bundle
from checkcloth.lesson.page_data import page_data

if TYPE_CHECKING:
    from checkcloth.lesson.step import Step

_VIEW = "application/vnd.jupyter.widget-view+json"


class LessonWidget(anywidget.AnyWidget):
    """Steps of the lesson; everything is drawn and worked out on the page.

    Parameters
    ----------
    steps : sequence of Step
        One, or several, which get a frame round them.
    still : str
        The name of the still pictures that it hides.
    """

    data = traitlets.Dict().tag(sync=True)
    still = traitlets.Unicode("").tag(sync=True)

    def __init__(self, steps: Sequence[Step], still: str = "") -> None:
        self._esm = bundle("lesson.js")
        self._css = bundle("lesson.css")
        super().__init__(data=page_data(steps), still=still)


def show(steps: Sequence[Step], still: str, text: str) -> None:
    """Show steps live, and beside them ready HTML of their still pictures."""
    from IPython.display import publish_display_data

    name = secrets.token_hex(6)
    marked = f'<div data-cl-still="{name}">{still}</div>'
    publish_display_data({"text/html": marked, "text/plain": text})
    view: dict[str, Any] = LessonWidget(steps, name)._repr_mimebundle_()
    publish_display_data({_VIEW: view[_VIEW], "text/plain": text})
