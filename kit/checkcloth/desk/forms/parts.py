"""What the forms are built of: their style sheet, a field for a file, a fold, a titled part."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import anywidget
import ipywidgets
import traitlets

from checkcloth.files.shipped import page_text


def form_style() -> Any:
    """Return the style sheet of the forms as a widget without a place of its own."""
    return ipywidgets.HTML(f"<style>{page_text('forms/form.css')}</style>")


class Fold:
    """A heading that opens and closes what lies under it; closed at first.

    The accordion of ipywidgets cannot be reached with the keyboard; a button can.

    Parameters
    ----------
    title : str
    inside : Widget
        What it opens.

    Attributes
    ----------
    box : Widget
        The heading with what lies under it.
    """

    def __init__(self, title: str, inside: Any) -> None:
        self._title = title
        self._inside = inside
        self.head = ipywidgets.ToggleButton(layout=ipywidgets.Layout(width="auto"))
        self.head.add_class("cc-fold-head")
        inside.add_class("cc-fold-inside")
        self.head.observe(lambda _: self._show(), "value")
        self.box = ipywidgets.VBox([self.head, inside])
        self._show()

    @property
    def open(self) -> bool:
        """Whether it is open."""
        return bool(self.head.value)

    @open.setter
    def open(self, value: bool) -> None:
        self.head.value = value

    def _show(self) -> None:
        self._inside.layout.display = "" if self.open else "none"
        sign = "▾" if self.open else "▸"
        self.head.description = f"{sign} {self._title}"
        self.head.tooltip = "Close" if self.open else "Open"


def field(kind: Any, words: str, **more: Any) -> Any:
    """Return a field with its words above it, as wide as its column."""
    wide = {"description_width": "initial"}
    layout = ipywidgets.Layout(width="auto", min_width="0")
    return kind(description=words, style=wide, layout=layout, **more)


def titled(title: str, *widgets: Any, note: str = "") -> Any:
    """Return fields in a column under a title, with a note under that."""
    head = [ipywidgets.HTML(f"<b>{title}</b>")]
    if note:
        head.append(ipywidgets.HTML(f"<p>{note}</p>"))
        head[1].add_class("cc-note")
    return classed(ipywidgets.VBox([*head, *widgets]), "cc-part")


def classed(widget: Any, *names: str) -> Any:
    """Return a widget with classes of the style sheet."""
    for name in names:
        widget.add_class(name)
    return widget


class FileField(anywidget.AnyWidget):
    """Hands on a file that was chosen or dropped.

    What is over about 10 MB never reaches the kernel, and nobody is told: a large picture is
    made smaller in the browser first, any other large file is refused there in words.

    Parameters
    ----------
    words : str
        On the page, above the field.
    taken : callable
        Called with the file's name and its bytes.
    kinds : str
        What may be chosen, as HTML's ``accept`` has it: MIME types or endings.
    """

    words = traitlets.Unicode("").tag(sync=True)
    kinds = traitlets.Unicode("").tag(sync=True)

    def __init__(
        self, words: str, taken: Callable[[str, bytes], None], kinds: str = "image/*"
    ) -> None:
        self._esm = page_text("bundles/file_field.js")
        super().__init__(words=words, kinds=kinds)

        def hear(_: object, content: Any, buffers: Any) -> None:
            name = content.get("name") if isinstance(content, dict) else None
            if isinstance(name, str) and buffers:
                taken(name, bytes(buffers[0]))

        self.on_msg(hear)
