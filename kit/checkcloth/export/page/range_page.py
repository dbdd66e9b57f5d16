"""The page that travels: a range as one HTML file, live in any browser, for who installed nothing.

The page mixes for itself, by the modules that the desk's page has too; what it holds of the range
is what its reader may see: names, notes, colours and what may be moved, no scores and no paths.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Sequence
from html import escape
from os import PathLike
from pathlib import Path
from typing import Any

from checkcloth.arguments import as_path
from checkcloth.cloth.bands import Band
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import Chosen, ChosenSet
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError
from checkcloth.export.data.saved import set_json
from checkcloth.export.for_client import ForClient
from checkcloth.export.members import (
    Colourways,
    as_set,
    family_order,
    number_order,
    stripes_on_ground,
)
from checkcloth.export.page.one_file import one_file
from checkcloth.export.page.tone_packing import pack
from checkcloth.export.picture.piece import thumbnail_png
from checkcloth.files.names import safe_stem
from checkcloth.files.whole import write_whole

FORMAT, VERSION = "checkcloth range page", 1
MOST_COLOURWAYS = 500
# Side of the still pictures for a browser that runs no scripts, in pixels.
_STILL_SIDE = 96


def range_page(
    colourways: Colourways,
    check: Check | None,
    path: str | PathLike[str],
    *,
    title: str = "",
    note: str = "",
    reference: str = "",
    date: str = "",
    sizes: Iterable[Length | str] = (),
    strengths: Iterable[float] = (),
    codes: bool = True,
    overwrite: bool = False,
) -> Path:
    """Write a range as one HTML file that opens in any browser; return its path.

    Whoever opens it needs nothing else: no network, no kernel, no installed program. They see the
    range at one true scale, family by family, look at a colourway large, as a whole cloth or beside
    others, answer yes, maybe or no, write remarks, and send their answers back as a text or a small
    file (:func:`~checkcloth.export.data.answers.read_answers`).

    Parameters
    ----------
    colourways : ChosenSet, Colourway or iterable of Colourway
        At most 500.
    check : Check or None
        None takes the check of a chosen set.
    path : path
        Of the file to write, in a folder that exists.
    title : str
        Otherwise the name of the set.
    note : str
        A few sentences to the reader, at the top.
    reference : str
        By which answers are told apart from those to other pages; made from the set where left out,
        so that another edition has another one.
    date : str
        As it is to be read, such as ``"27 November 2026"``.
    sizes : iterable of Length or str
        Check sizes that the reader may choose beside the set's own.
    strengths : iterable of float
        Overlay strengths, 0 to 1, that the reader may choose; without any, each colourway keeps
        its own.
    codes : bool
        Whether the reader can have the codes of the colours shown.
    overwrite : bool

    Raises
    ------
    ArgumentError, LengthError
        For no colourways, no check, or values out of range.
    ExistsError
        If the file is there and ``overwrite`` is not set.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway
    >>> aprons = Colourway("white", ["navy"], name="Quay")
    >>> with TemporaryDirectory() as folder:
    ...     made = range_page(aprons, Check("1/2 in", 1), Path(folder, "aprons.html"))
    ...     made.name, made.read_text("utf-8").startswith("<!doctype html>")
    ('aprons.html', True)
    """
    asked = ForClient(title, note, reference, date, sizes, strengths, codes)
    html = range_page_html(colourways, check, asked)
    return write_whole(as_path(path), html.encode("utf-8"), overwrite=overwrite)


def range_page_html(
    colourways: Colourways, check: Check | None = None, asked: ForClient | None = None
) -> str:
    """Return the text of the file that :func:`range_page` writes, the same for the same set."""
    chosen = as_set(colourways, check)
    if len(chosen) > MOST_COLOURWAYS:
        raise ArgumentError("colourways", f"at most {MOST_COLOURWAYS} on a page", len(chosen))
    asked = asked or ForClient()
    heading = asked.title or chosen.name or "Colourways"
    data = {
        "format": FORMAT,
        "version": VERSION,
        "title": heading,
        "stem": safe_stem(heading, "range"),
        "note": asked.note,
        "reference": asked.reference or usual_reference(chosen),
        "date": asked.date,
        **_sizes(chosen.check, asked.sizes),
        "strengths": [*asked.strengths],
        "codes": asked.codes,
        **_colourways(chosen),
    }
    return _html(heading, data, _still_list(chosen, codes=asked.codes))


def usual_reference(chosen: ChosenSet) -> str:
    """Return the reference of a page that was given none: eight hexadecimal digits of the set.

    >>> from checkcloth import Check, ChosenSet, Colourway
    >>> colourways = (Colourway("white", [stripe]) for stripe in ("navy", "red"))
    >>> one, other = (ChosenSet(Check("1 in", 1), [each]) for each in colourways)
    >>> len(usual_reference(one)), usual_reference(one) == usual_reference(other)
    (9, False)
    """
    # As its reader sees it: without how each came about, and what was answered.
    shown = [Chosen(one.colourway, one.note, family=one.family) for one in chosen.chosen]
    plain = ChosenSet(chosen.check, shown)
    digits = hashlib.sha256(set_json(plain).encode("utf-8")).hexdigest()
    return f"{digits[:4]}-{digits[4:8]}"


def _sizes(check: Check, more: Iterable[Length | str]) -> dict[str, Any]:
    sizes = sorted({check.size, *map(Length, more)})
    unit = check.size.unit
    return {
        "sizes": [[size.shown_in(unit), size.inches] for size in sizes],
        "size": sizes.index(check.size),
        "metric": unit != "in",
    }


def _colourways(chosen: ChosenSet) -> dict[str, Any]:
    order = number_order(chosen)
    members = [chosen.chosen[index] for index in order]
    packed = pack([member.colourway for member in members], wefts=True)
    return {
        "recipes": packed.recipes,
        "colours": base64.b64encode(packed.colours).decode("ascii"),
        "colourways": [
            _colourway(member, chosen, recipe)
            for member, recipe in zip(members, packed.recipe_of, strict=True)
        ],
    }


def _colourway(member: Chosen, chosen: ChosenSet, recipe: int) -> dict[str, Any]:
    colourway = member.colourway
    check = chosen.check_for(colourway)
    return {
        "name": colourway.name,
        "words": stripes_on_ground(colourway),
        "family": member.family,
        "note": member.note,
        "recipe": recipe,
        "estimate": find_mixing(colourway.mixing).estimate,
        "strength": colourway.strength,
        "ground": [colourway.ground.name, colourway.ground.hex],
        "stripes": [[stripe.name, stripe.hex] for stripe in colourway.stripes],
        "wefts": [[stripe.name, stripe.hex] for stripe in colourway.weft_stripes],
        "warp": _bands(check.warp_bands),
        "weft": _bands(check.weft_bands),
    }


def _bands(bands: Iterable[Band]) -> list[list[float]]:
    """Bands as numbers: whole ones stay whole."""
    widths = ((stripe, float(checks)) for stripe, checks in bands)
    return [[stripe, int(wide) if wide.is_integer() else wide] for stripe, wide in widths]


# -- the file --------------------------------------------------------------------------------------


def _still_list(chosen: ChosenSet, *, codes: bool) -> str:
    """The range for a browser that runs no scripts: a still picture, names and codes."""
    number, parts = 0, []
    for family, indices in family_order(chosen):
        items = []
        for index in indices:
            number += 1
            items.append(_still(number, chosen.chosen[index], chosen, codes))
        head = f"<h2>{escape(family)}</h2>" if family else ""
        parts.append(f"{head}<ol>{''.join(items)}</ol>")
    return "".join(parts)


def _still(number: int, member: Chosen, chosen: ChosenSet, codes: bool) -> str:
    colourway = member.colourway
    png = thumbnail_png(colourway, _STILL_SIDE, chosen.check_for(colourway))
    colours = [*colourway.stripes, *colourway.weft_stripes, colourway.ground]
    words = ", ".join(_colour_words(one, codes) for one in colours)
    note = f"<p>{escape(member.note)}</p>" if member.note else ""
    return (
        f'<li value="{number}"><img alt="" width="{_STILL_SIDE}" height="{_STILL_SIDE}" '
        f'src="data:image/png;base64,{base64.b64encode(png).decode("ascii")}">'
        f"<h3>{escape(colourway.name or f'Number {number}')}</h3><p>{escape(words)}</p>{note}</li>"
    )


def _colour_words(colour: NamedColour, codes: bool) -> str:
    words = f"{colour.name} {colour.hex}" if codes else colour.name
    return f"{words} ({colour.shift_words})" if colour.shift_words else words


def _html(heading: str, data: dict[str, Any], stills: str) -> str:
    facts = [f"Reference {data['reference']}", *([data["date"]] if data["date"] else [])]
    note = f"<p>{escape(data['note'])}</p>" if data["note"] else ""
    still = (
        f'<main class="page still"><h1>{escape(heading)}</h1>'
        f'<p class="quiet">{escape(", ".join(facts))}</p>{note}'
        "<p>This browser runs no scripts, so these are small still pictures.</p>"
        f"{stills}</main>"
    )
    return one_file(heading, "range", data, still)


def stops_around(strengths: Sequence[float]) -> list[float]:
    """Return strengths in steps of 0.05, from 0.2 below the least to 0.2 above the greatest.

    >>> stops_around([0.5])
    [0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65, 0.7]
    """
    low, high = max(0.05, min(strengths) - 0.2), min(1.0, max(strengths) + 0.2)
    return [round(n * 0.05, 4) for n in range(round(low / 0.05), round(high / 0.05) + 1)]
