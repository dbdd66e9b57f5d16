"""A field for a file from the reader's own machine: a picture of any size, a press profile."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

import anywidget
import traitlets

__all__ = ["FileField"]


@lru_cache(maxsize=1)
def _script() -> str:
    return (Path(__file__).parents[2] / "page" / "forms" / "file_field.js").read_text("utf-8")


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
        self._esm = _script()
        super().__init__(words=words, kinds=kinds)

        def hear(_: object, content: Any, buffers: Any) -> None:
            name = content.get("name") if isinstance(content, dict) else None
            if isinstance(name, str) and buffers:
                taken(name, bytes(buffers[0]))

        self.on_msg(hear)
