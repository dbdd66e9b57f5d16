"""What a cell shows: something live, and beside it a still that stays in the saved notebook.

A live view needs its kernel. JupyterLab prefers it to all else in an output, and once the kernel
is gone says only "model not found"; so the still is an output of its own, and its style sheet
shows one of the two: the live view, or where there is none (no kernel, or no widgets at all) the
still. Hosts that strip style sheets (notebooks that are not trusted, pages that show notebooks)
render no live views either: there the still shows.
"""

from __future__ import annotations

import os
from typing import Any

# What the live views are made of: the boxes of the desk and its forms, a step of the lesson.
_LIVE = ":is(.widget-vbox, .cl)"
_STYLE = f"""<style>
.jp-OutputArea-child:has(.checkcloth-still):has(+ .jp-OutputArea-child {_LIVE}),
.jp-OutputArea-child:has(.checkcloth-still) + .jp-OutputArea-child:not(:has({_LIVE})) {{
  display: none
}}
</style>"""


def in_notebook() -> bool:
    """Whether cells can be run and files opened; voilà shows a notebook without either."""
    return not os.environ.get("SERVER_SOFTWARE", "").lower().startswith("voila")


def outputs(live: dict[str, Any], still: str, words: str) -> list[dict[str, Any]]:
    """Return the outputs of a cell as MIME bundles: the still, where it may be needed; the live.

    ``live`` is a widget's own bundle, ``still`` HTML for whoever has no kernel, ``words`` text for
    whoever has no page.
    """
    live = {key: value for key, value in live.items() if not key.startswith("text/")}
    if not in_notebook():
        return [live | {"text/plain": words}]
    html = f'{_STYLE}<div class="checkcloth-still">{still}</div>'
    # Nothing beside the live view: whoever cannot show it has the still.
    return [{"text/html": html, "text/plain": words}, live | {"text/html": ""}]


def show_live(live: dict[str, Any], still: str, words: str) -> None:
    """Show something live in a cell; see :func:`outputs`."""
    from IPython.display import display

    for bundle in outputs(live, still, words):
        display(bundle, raw=True)  # type: ignore[no-untyped-call]
