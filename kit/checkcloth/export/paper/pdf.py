"""What all our PDF files have in common: streams as they are, without a coat of text."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

__all__ = ["binary_streams"]

_ONE_AT_A_TIME = Lock()


@contextmanager
def binary_streams() -> Iterator[None]:
    """Let reportlab write its packed streams as bytes, not as ASCII85, a quarter longer.

    The switch is one for the whole library and is read while a document is put together,
    so it is turned here for that long, by one thread at a time, and put back.
    """
    from reportlab import rl_config

    with _ONE_AT_A_TIME:
        before = rl_config.useA85
        rl_config.useA85 = 0
        try:
            yield
        finally:
            rl_config.useA85 = before
