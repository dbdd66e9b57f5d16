"""Small pieces of HTML for showing things in a notebook: escaped, with alternative text."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Sequence
from html import escape

__all__ = ["figure", "image", "table"]


def image(png: bytes, alt: str, *, width: int, height: int) -> str:
    """Return an ``<img>`` that carries its picture and says what it shows.

    >>> image(b"PNG", "navy on white", width=2, height=1)[:48]
    '<img alt="navy on white" width="2" height="1" st'
    """
    data = base64.b64encode(png).decode("ascii")
    return (
        f'<img alt="{escape(alt)}" width="{width}" height="{height}" '
        f'style="image-rendering:pixelated" src="data:image/png;base64,{data}">'
    )


def figure(picture: str, caption: str) -> str:
    """Return a figure of ready-made HTML with a plain-text caption, which is escaped.

    >>> figure("<b>cloth</b>", "navy & white").endswith("navy &amp; white</figcaption></figure>")
    True
    """
    return (
        f'<figure style="margin:0">{picture}'
        f'<figcaption style="margin-top:4px">{escape(caption)}</figcaption></figure>'
    )


def table(caption: Sequence[str], heads: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """Return a table of plain text, all of it escaped and set to the left.

    Parameters
    ----------
    caption : sequence of str
        One line each.
    heads : iterable of str
        None of them makes a table without a head.
    rows : iterable of rows of str

    Examples
    --------
    >>> table(["Yarn"], ["name"], [["navy & white"]]).count("navy &amp; white")
    1
    """
    left = 'style="text-align:left"'
    lines = "".join(
        "<tr>" + "".join(f"<td {left}>{escape(cell)}</td>" for cell in row) + "</tr>"
        for row in rows
    )
    head = "".join(f'<th scope="col" {left}>{escape(word)}</th>' for word in heads)
    return (
        f"<table><caption {left}>{'<br>'.join(map(escape, caption))}</caption>"
        + (f"<thead><tr>{head}</tr></thead>" if head else "")
        + f"<tbody>{lines}</tbody></table>"
    )
