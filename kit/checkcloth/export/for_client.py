"""What a client is told and may move, beyond the range itself."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from checkcloth.arguments import as_number, as_tuple
from checkcloth.cloth.check import Check
from checkcloth.cloth.length import Length
from checkcloth.cloth.named_colour import clean_text
from checkcloth.errors import ArgumentError

_NOTE_LENGTH, _LINE_LENGTH, _MOST_STOPS = 2000, 60, 40


@dataclass(frozen=True)
class ForClient:
    """What stands on the client's page and sheet; nothing where left out.

    Parameters
    ----------
    title : str
        Otherwise the name of the set.
    note : str
        A few sentences to the client, on one line.
    reference : str
        By which answers are told apart; of several pages each but the first adds its number.
        Where left out, each page makes its own from the set, and the sheet has none.
    date : str
        As it is to be read, such as ``"27 November 2026"``.
    sizes : iterable of Length or str
        At most 40 check sizes to choose from, beside the set's own and those of a hand-off.
    strengths : iterable of float
        At most 40 overlay strengths, 0 to 1, to choose from on the page.
    codes : bool
        Whether the codes of the colours are shown.

    Raises
    ------
    ArgumentError, LengthError
        For texts that are none or too long, values out of range.

    Examples
    --------
    >>> asked = ForClient(note="For the tea tables.", strengths=[0.7, 0.3])
    >>> asked.strengths, asked.reference
    ((0.3, 0.7), '')
    """

    title: str = ""
    note: str = ""
    reference: str = ""
    date: str = ""
    sizes: Iterable[Length | str] = ()
    strengths: Iterable[float] = ()
    codes: bool = True

    def __post_init__(self) -> None:
        lengths = {"note": _NOTE_LENGTH, "reference": _LINE_LENGTH, "date": _LINE_LENGTH}
        checked: dict[str, Any] = {
            "title": clean_text(self.title, "title"),
            "codes": bool(self.codes),
        }
        for name, longest in lengths.items():
            checked[name] = clean_text(getattr(self, name), name, longest=longest)
        sizes = as_tuple(self.sizes, "sizes", of="check sizes")
        strengths = as_tuple(self.strengths, "strengths", of="strengths from 0 to 1")
        several: dict[str, set[Any]] = {
            "sizes": {Check(size, 1).size for size in sizes},
            "strengths": {as_number(one, "strengths", 0, 1) for one in strengths},
        }
        for name, values in several.items():
            if len(values) > _MOST_STOPS:
                raise ArgumentError(name, f"at most {_MOST_STOPS}", len(values))
            checked[name] = tuple(sorted(values))
        for name, value in checked.items():
            object.__setattr__(self, name, value)

    def reference_of(self, page: int) -> str:
        """Return the reference of one page of several, counted from 1."""
        return f"{self.reference}-{page}" if self.reference and page > 1 else self.reference
