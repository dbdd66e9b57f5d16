"""The live lesson in a notebook: one widget, and beside it the still pictures that are saved.

The still pictures are an output of their own: a saved notebook and its export as HTML keep them,
whatever becomes of the widget. While the widget is live it hides them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import anywidget
import traitlets

from checkcloth.lesson.one_file import bundle
from checkcloth.lesson.page_data import page_data

if TYPE_CHECKING:
    from checkcloth.lesson.step import Step


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
    """Show steps live, and before them ready HTML of their still pictures, an output of its own."""
    from IPython.display import display

    name = " ".join(step.key for step in steps)
    marked = f'<div data-cl-still="{name}">{still}</div>'
    display({"text/html": marked, "text/plain": text}, raw=True)  # type: ignore[no-untyped-call]
    display(LessonWidget(steps, name))  # type: ignore[no-untyped-call]
