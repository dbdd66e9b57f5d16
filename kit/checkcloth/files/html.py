"""Small pieces of HTML for showing things in a notebook: escaped, with alternative text."""

from __future__ import annotations

import base64
import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from html import escape

# JupyterLab sets what stands between two dollars as a formula, except under this class
# (MathJax 3, option ignoreHtmlClass): names that people type are words, whatever they hold.
AS_TYPED = 'class="mathjax_ignore"'

# Nearer together than JupyterLab sets cells, so that wide tables fit beside its file browser.
_CLOSE = "padding:.4em .35em"

# Charts are drawn on nothing, and the page lends them paper: white on a light page, and on
# JupyterLab's dark one a neutral grey that does not glare and still carries dark letters.
# Tones stay as they are. A page that does not know the mixing of colours shows plain white.
_PAPER = "background-color:#fff;background:color-mix(in srgb,var(--jp-layout-color0,#fff) 20%,#fff)"


class OneLine:
    """What prints as one short line, and shows that within a list too."""

    def __repr__(self) -> str:
        return f"<{self}>"


# Never wider than the page, so that a narrow window does not cut it.
FLUID = "max-width:100%;height:auto"
ON_PAPER = f"{FLUID};box-sizing:border-box;border-radius:2px;{_PAPER}"


def image(
    png: bytes, alt: str, *, width: int, height: int, style: str = "image-rendering:pixelated"
) -> str:
    """Return an ``<img>`` that carries its picture and says what it shows."""
    data = base64.b64encode(png).decode("ascii")
    return (
        f'<img alt="{escape(alt)}" width="{width}" height="{height}" '
        f'style="{style}" src="data:image/png;base64,{data}">'
    )


def figure(picture: str, caption: str, *, heading: bool = False) -> str:
    """Return a figure of ready-made HTML with a plain-text caption, which is escaped.

    A ``heading`` stands above the picture and is bold, as what to see in it.
    """
    if heading:
        head = f'<figcaption style="margin:4px 0;font-weight:600">{escape(caption)}</figcaption>'
        return f'<figure {AS_TYPED} style="margin:0">{head}{picture}</figure>'
    return (
        f'<figure {AS_TYPED} style="margin:0">{picture}'
        f'<figcaption style="margin-top:4px">{escape(caption)}</figcaption></figure>'
    )


@dataclass(frozen=True)
class Cell:
    """A cell of a table that is more than its text."""

    text: str
    strong: bool = False
    colour: str = ""  #: a CSS colour, shown as a small square before the text


def table(
    caption: Sequence[str],
    heads: Iterable[str],
    rows: Iterable[Iterable[str | Cell]],
    *,
    right: Collection[int] = (),
    groups: Sequence[tuple[str, int]] = (),
    row_heads: bool = False,
) -> str:
    """Return a table of plain text, all of it escaped; it scrolls sideways where it must.

    Parameters
    ----------
    caption : sequence of str
        One line each.
    heads : iterable of str
        None of them makes a table without a head.
    rows : iterable of rows of str or Cell
        No line breaks between a number and its per-cent sign.
    right : numbers of columns
        Those of figures, set to the right and kept on one line; the others go to the left.
    groups : sequence of (str, int)
        Headings above the headings, each with the number of columns that it spans.
    row_heads : bool
        Whether the first cell of a row is its heading.
    """

    def style(column: int) -> str:
        if column in right:
            return f'style="{_CLOSE};text-align:right;white-space:nowrap"'
        return f'style="{_CLOSE};text-align:left"'

    def written(value: str | Cell) -> str:
        cell = value if isinstance(value, Cell) else Cell(value)
        square = (
            '<span style="display:inline-block;width:1em;height:1em;margin-right:4px;'
            f'vertical-align:-2px;border:1px solid #888;background:{escape(cell.colour)}"></span>'
        )
        text = re.sub(r"(?<=\d) %", "\u00a0%", escape(cell.text))
        if cell.colour and text.startswith("#"):
            text = square + text  # a code may stand under its square
        elif cell.colour:
            first, gap, others = text.partition(" ")
            text = f'<span style="white-space:nowrap">{square}{first}</span>{gap}{others}'
        return f"<b>{text}</b>" if cell.strong else text

    def line(row: Iterable[str | Cell]) -> str:
        cells = []
        for column, cell in enumerate(row):
            tag, scope = ("th", 'scope="row" ') if row_heads and not column else ("td", "")
            cells.append(f"<{tag} {scope}{style(column)}>{written(cell)}</{tag}>")
        return f"<tr>{''.join(cells)}</tr>"

    lines = "".join(map(line, rows))
    said = "<br>".join(map(escape, caption))
    over = "".join(
        f'<th scope="colgroup" colspan="{span}" style="text-align:center'
        f'{";border-bottom:1px solid #888" if word else ""}">{escape(word)}</th>'
        for word, span in groups
    )
    head = "".join(
        f'<th scope="col" style="{_CLOSE};text-align:{"right" if column in right else "left"}">'
        f"{escape(word)}</th>"
        for column, word in enumerate(heads)
    )
    return (
        f'<div {AS_TYPED} style="overflow-x:auto"><table style="margin-left:0">'
        + (f'<caption style="text-align:left">{said}</caption>' if said else "")
        + (f"<thead>{f'<tr>{over}</tr>' if over else ''}<tr>{head}</tr></thead>" if head else "")
        + f"<tbody>{lines}</tbody></table></div>"
    )
