"""Small pieces of HTML for showing things in a notebook: escaped, with alternative text."""

from __future__ import annotations

import base64
from html import escape

__all__ = ["figure", "image"]


def image(png: bytes, alt: str, *, width: int, height: int) -> str:
    """Return an ``<img>`` that carries its picture and says what it shows."""
    data = base64.b64encode(png).decode("ascii")
    return (
        f'<img alt="{escape(alt)}" width="{width}" height="{height}" '
        f'style="image-rendering:pixelated" src="data:image/png;base64,{data}">'
    )


def figure(picture: str, caption: str) -> str:
    """Return a figure of ready-made HTML with a plain-text caption, which is escaped."""
    return (
        f'<figure style="margin:0">{picture}'
        f'<figcaption style="margin-top:4px">{escape(caption)}</figcaption></figure>'
    )
