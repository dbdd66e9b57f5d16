"""The live lesson in a notebook: one widget, and beside it the still pictures that are saved.

The still pictures are an output of their own: a saved notebook and its export as HTML keep them,
whatever becomes of the widget. A style sheet beside them shows one of the two: the live step, or
where there is none (no kernel, or no widgets at all) the still.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import anywidget
import traitlets

from checkcloth.lesson.one_file import bundle
from checkcloth.lesson.page_data import page_data

if TYPE_CHECKING:
    from checkcloth.lesson.step import Step

_VIEW = "application/vnd.jupyter.widget-view+json"
_ONE_OF_TWO = """<style>
.jp-OutputArea-child:has(.cl-saved):has(+ .jp-OutputArea-child .cl),
.jp-OutputArea-child:has(.cl-saved) + .jp-OutputArea-child:not(:has(.cl)) { display: none }
</style>"""


class LessonWidget(anywidget.AnyWidget):
    """Steps of the lesson; everything is drawn and worked out on the page.

    Parameters
    ----------
    steps : sequence of Step
        One, or several, which get a frame round them.
    """

    data = traitlets.Dict().tag(sync=True)

    def __init__(self, steps: Sequence[Step]) -> None:
        self._esm = bundle("lesson.js")
        self._css = bundle("lesson.css")
        super().__init__(data=page_data(steps))


def outputs(steps: Sequence[Step], still: str, text: str) -> list[dict[str, Any]]:
    """Return a cell's outputs as MIME bundles: ready HTML of the still pictures, and the live view.

    The live view brings nothing to stand in for it: whoever cannot show it has the still.
    """
    found = LessonWidget(steps)._repr_mimebundle_()
    data = found[0] if isinstance(found, tuple) else found
    html = f'{_ONE_OF_TWO}<div class="cl-saved">{still}</div>'
    return [{"text/html": html, "text/plain": text}, {_VIEW: data[_VIEW], "text/html": ""}]


def show(steps: Sequence[Step], still: str, text: str) -> None:
    """Show steps in a cell; see :func:`outputs`."""
    from IPython.display import display

    for bundle_ in outputs(steps, still, text):
        display(bundle_, raw=True)  # type: ignore[no-untyped-call]
