"""A field for a picture from the reader's own machine, of any size."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

import anywidget
import traitlets

__all__ = ["PictureField"]


@lru_cache(maxsize=1)
def _script() -> str:
    return Path(__file__).with_suffix(".js").read_text("utf-8")


class PictureField(anywidget.AnyWidget):
    """Hands on a picture that was chosen or dropped.

    A large one is made smaller in the browser first: what is over about 10 MB never
    reaches the kernel, and nobody is told.

    Parameters
    ----------
    words : str
        On the page, above the field.
    taken : callable
        Called with the file's name and its bytes.
    """

    words = traitlets.Unicode("").tag(sync=True)

    def __init__(self, words: str, taken: Callable[[str, bytes], None]) -> None:
        self._esm = _script()
        super().__init__(words=words)

        def hear(_: object, content: Any, buffers: Any) -> None:
            name = content.get("name") if isinstance(content, dict) else None
            if isinstance(name, str) and buffers:
                taken(name, bytes(buffers[0]))

        self.on_msg(hear)
