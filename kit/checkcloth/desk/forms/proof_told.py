"""Kept colourways as a press prints them, side by side with the design, for the hand-off form."""

from __future__ import annotations

from html import escape

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.export.members import label_of
from checkcloth.export.print.press import Press
from checkcloth.export.print.proof import soft_proof

__all__ = ["proofs_told"]

_MOST, _MOST_NAMES = 6, 5


def proofs_told(chosen: ChosenSet, press: Press | None) -> str:
    """Return as HTML the first colourways as designed and as printed, with what moves.

    Parameters
    ----------
    chosen : ChosenSet
    press : Press or None
        None where no profile is given.

    Examples
    --------
    >>> from checkcloth import Check, ChosenSet
    >>> proofs_told(ChosenSet(Check("1 in", 1), []), None)
    '<p>Nothing is kept yet: tick a colourway on the wall first.</p>'
    """
    if not len(chosen):
        return "<p>Nothing is kept yet: tick a colourway on the wall first.</p>"
    if press is None:
        return "<p>Give the press profile first; ask the printer for it.</p>"
    parts = [
        f"<p>As designed, left, and as proofed, right, for {escape(str(press))}. "
        "No screen is a proof: agree a strike-off.</p>"
    ]
    for place, colourway in enumerate(chosen.colourways[:_MOST]):
        proof = soft_proof(colourway, press)
        names = proof.named_outside
        words = f"greatest shift ΔE00 {proof.shift.max():.1f}; "
        if names:
            more = f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
            words += f"out of the press's gamut: {', '.join(names[:_MOST_NAMES])}{more}"
        else:
            words += "every tone is in the press's gamut"
        caption = f"<b>{escape(label_of(colourway, place))}</b>: {escape(words)}"
        parts.append(f"<div>{proof.picture(240).image_html()}<p>{caption}</p></div>")
    left = len(chosen) - _MOST
    if left > 0:
        parts.append(f"<p>And {left} more: the export has a proof and a table of each.</p>")
    return "".join(parts)
