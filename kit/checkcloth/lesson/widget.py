"""The live lesson in a notebook: one widget, and beside it the still pictures that are saved.

The still pictures are an output of their own: a saved notebook and its export as HTML keep them,
whatever becomes of the widget. A style sheet beside them shows one of the two: the live step, or
where there is none (no kernel, or no widgets at all) the still.
"""

from __future__ import annotations

from typing import Any

import anywidget
import traitlets

from checkcloth.export.page.one_file import bundle

_VIEW = "application/vnd.jupyter.widget-view+json"
_ONE_OF_TWO = """<style>
.jp-OutputArea-child:has(.cl-saved):has(+ .jp-OutputArea-child .cl),
.jp-OutputArea-child:has(.cl-saved) + .jp-OutputArea-child:not(:has(.cl)) { display: none }
</style>"""


class LessonWidget(anywidget.AnyWidget):
    """Steps of the lesson; everything is drawn and worked out on the page.

    Parameters
    ----------
    data : dict
        :func:`page_data` of one step, or of several, which get a frame round them.
    """

    data = traitlets.Dict().tag(sync=True)

    def __init__(self, data: dict[str, Any]) -> None:
        self._esm = bundle("lesson.js")
        self._css = bundle("lesson.css")
        super().__init__(data=data)


def outputs(data: dict[str, Any], still: str, text: str) -> list[dict[str, Any]]:
    """Return a cell's outputs as MIME bundles: ready HTML of the still pictures, and the live view.

    The live view brings nothing to stand in for it: whoever cannot show it has the still.
    """
    found = LessonWidget(data)._repr_mimebundle_()
    live: dict[str, Any] = found[0] if isinstance(found, tuple) else found or {}
    html = f'{_ONE_OF_TWO}<div class="cl-saved">{still}</div>'
    return [{"text/html": html, "text/plain": text}, {_VIEW: live[_VIEW], "text/html": ""}]


def show(data: dict[str, Any], still: str, text: str) -> None:
    """Show steps in a cell; see :func:`outputs`."""
    from IPython.display import display

    for bundle_ in outputs(data, still, text):
        display(bundle_, raw=True)  # type: ignore[no-untyped-call]
