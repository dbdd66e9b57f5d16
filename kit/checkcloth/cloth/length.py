"""Exact lengths: a fraction of millimetres under every unit a designer writes."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from fractions import Fraction
from functools import total_ordering
from typing import overload

from checkcloth.errors import LengthError

# 1 in = 25.4 mm exactly (international inch, 1959).
_MM = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction(254, 10)}
_UNITS = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm",
    "m": "m", "metre": "m", "metres": "m",
    "in": "in", "inch": "in", "inches": "in", '"': "in", "″": "in",
}  # fmt: skip
_TEXT = re.compile(
    r"""\s*(?: (?P<whole>\d{1,9})\s+(?P<num>\d{1,9})\s*/\s*(?P<den>\d{1,9})   # 1 1/2
        | (?P<top>\d{1,40})\s*/\s*(?P<bottom>\d{1,40})                       # 3/16
        | (?P<decimal>\d{1,9}(?:\.\d{0,12})?|\.\d{1,12}) )                   # 0.5
        \s*(?P<unit>[a-z]+|"|″)\s*""",
    re.VERBOSE | re.IGNORECASE,
)
_ALLOWED = 'a length with its unit, such as 0.5 in, 1/2 in, 1/2", 7 mm, 1.5 cm or 10 m'


def _parse(text: str) -> tuple[Fraction, str]:
    match = _TEXT.fullmatch(text) if len(text) <= 100 else None
    unit = _UNITS.get(match["unit"].lower()) if match else None
    if match is None or unit is None:
        hint = ""
        if re.fullmatch(r"\s*[\d./\s]+\s*", text) and any(c.isdigit() for c in text):
            hint = " (the unit is missing)"
        elif re.search(r"\d,\d", text):
            hint = " (write the decimal with a point)"
        elif text.strip().startswith(("-", "−")):
            hint = " (a length is not negative)"
        raise LengthError("length", _ALLOWED, text, hint=hint)
    try:
        if match["decimal"] is not None:
            number = Fraction(match["decimal"])
        elif match["top"] is not None:
            number = Fraction(int(match["top"]), int(match["bottom"]))
        else:
            number = int(match["whole"]) + Fraction(int(match["num"]), int(match["den"]))
    except ZeroDivisionError:
        raise LengthError("length", _ALLOWED, text) from None
    return number * _MM[unit], unit


@total_ordering
@dataclass(frozen=True, init=False, eq=False, repr=False)
class Length:
    """A length, kept exactly as a fraction of millimetres.

    Parameters
    ----------
    text : str or Length
        A number with its unit: ``"0.5 in"``, ``'1/2"'``, ``"1 1/2 in"``, ``"7 mm"``,
        ``"1.5 cm"``, and ``"10 m"`` for cloth by the metre.

    Attributes
    ----------
    exact : Fraction
        Millimetres, exactly.
    inches, mm, cm : float
        The nearest floating-point number in that unit.
    unit : str
        ``"in"``, ``"mm"``, ``"cm"`` or ``"m"``: the unit it was given in, kept for showing only.

    Raises
    ------
    LengthError
        For text without a unit, that is no number, or is negative.

    Examples
    --------
    >>> Length("0.5 in") * 6 == Length("3 in")
    True
    >>> print(Length("3/16 in"))
    3/16 in (4.7625 mm)
    >>> Length("1.5 m") == Length("150 cm") == Length("1500 mm")
    True
    """

    exact: Fraction
    unit: str = field(default="mm")

    def __init__(self, text: str | Length) -> None:
        if isinstance(text, Length):
            exact, unit = text.exact, text.unit
        elif isinstance(text, str):
            exact, unit = _parse(text)
        else:
            raise LengthError("length", _ALLOWED, text)
        object.__setattr__(self, "exact", exact)
        object.__setattr__(self, "unit", unit)

    @classmethod
    def of_mm(cls, millimetres: Fraction | float, unit: str = "mm") -> Length:
        """Return the length of so many millimetres, to be shown in ``unit``.

        Raises
        ------
        LengthError
            For a negative or non-finite number, or an unknown unit.

        >>> Length.of_mm(25.4, "in") == Length("1 in")
        True
        """
        if isinstance(millimetres, float):
            if not math.isfinite(millimetres):
                raise LengthError("millimetres", "finite", words=str(millimetres))
            # A float stands for the decimal it prints as: 25.4, not 25.39999999999999858.
            millimetres = Fraction(repr(millimetres))
        if unit not in _MM:
            raise LengthError("unit", "in, mm, cm or m", unit)
        exact = Fraction(millimetres)
        if exact < 0:
            raise LengthError("length", "0 or more", words=f"{float(exact):g} mm")
        made = cls.__new__(cls)
        object.__setattr__(made, "exact", exact)
        object.__setattr__(made, "unit", unit)
        return made

    @property
    def mm(self) -> float:
        """Millimetres."""
        return float(self.exact)

    @property
    def cm(self) -> float:
        """Centimetres."""
        return float(self.exact / 10)

    @property
    def inches(self) -> float:
        """Inches of 25.4 mm."""
        return float(self.exact / _MM["in"])

    @property
    def text(self) -> str:
        """The length as text that reads back exactly, in the unit it was given in."""
        number = self.exact / _MM[self.unit]
        return f"{number} {self.unit}"

    def shown_in(self, unit: str) -> str:
        """Return it for people, in ``unit``: inches as the trade's fractions where they fit.

        >>> Length("38.1 mm").shown_in("in")
        '1 1/2 in'
        """
        if unit not in _MM:
            raise LengthError("unit", "in, mm, cm or m", unit)
        number = self.exact / _MM[unit]
        if unit == "in" and number.denominator in (2, 4, 8, 16, 32, 64):
            whole, rest = divmod(number.numerator, number.denominator)
            part = f"{rest}/{number.denominator}"
            return f"{whole} {part} in" if whole else f"{part} in"
        return f"{float(number):.4f}".rstrip("0").rstrip(".") + f" {unit}"

    def __str__(self) -> str:
        other = "mm" if self.unit == "in" else "in"
        return f"{self.shown_in(self.unit)} ({self.shown_in(other)})"

    def __repr__(self) -> str:
        return f"Length({self.text!r})"

    def __hash__(self) -> int:
        return hash(self.exact)

    def __eq__(self, other: object) -> bool:
        return self.exact == other.exact if isinstance(other, Length) else NotImplemented

    def __lt__(self, other: Length) -> bool:
        return self.exact < other.exact if isinstance(other, Length) else NotImplemented

    def __bool__(self) -> bool:
        return self.exact != 0

    def __add__(self, other: Length) -> Length:
        if not isinstance(other, Length):
            return NotImplemented
        return Length.of_mm(self.exact + other.exact, self.unit)

    def __sub__(self, other: Length) -> Length:
        if not isinstance(other, Length):
            return NotImplemented
        return Length.of_mm(self.exact - other.exact, self.unit)

    def __mul__(self, factor: Fraction | float) -> Length:
        if not isinstance(factor, int | float | Fraction) or isinstance(factor, bool):
            return NotImplemented
        if isinstance(factor, float):
            if not math.isfinite(factor):
                raise LengthError("factor", "a finite number", factor)
            factor = Fraction(repr(factor))
        return Length.of_mm(self.exact * factor, self.unit)

    __rmul__ = __mul__

    @overload
    def __truediv__(self, other: Length) -> Fraction: ...
    @overload
    def __truediv__(self, other: Fraction | float) -> Length: ...
    def __truediv__(self, other: Length | Fraction | float) -> Fraction | Length:
        divisor = other.exact if isinstance(other, Length) else other
        if not isinstance(divisor, int | float | Fraction) or isinstance(divisor, bool):
            return NotImplemented
        if divisor == 0:
            raise LengthError("divisor", "other than 0", other)
        if isinstance(other, Length):
            return self.exact / other.exact
        return self * (1 / (Fraction(repr(other)) if isinstance(other, float) else Fraction(other)))
