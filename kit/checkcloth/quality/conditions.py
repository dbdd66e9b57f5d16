"""Whether readings and specification can be compared at all, and how it is said."""

from __future__ import annotations

from checkcloth.errors import ArgumentError
from checkcloth.quality.readings import Readings

__all__ = ["conditions"]

_TEN_DEGREES = (
    "Readings for the 10° observer cannot be turned into 2° without spectra: neutrals agree "
    "within about a unit, vivid colours may differ by several."
)


def conditions(
    readings: Readings, standard: Readings | None, accept_10_degree: bool
) -> tuple[str, list[str]]:
    """Say how the two sides can be compared, and what to beware of.

    Raises
    ------
    ArgumentError
        For a standard measured otherwise, and for 10° readings without a standard.

    Examples
    --------
    >>> from checkcloth.quality.readings import Reading
    >>> made = Readings("a.csv", "D65", 2, (Reading("white", (100.0, 0.0, 0.0), 2),))
    >>> conditions(made, None, False)[1]
    []
    """
    if standard is not None:
        if standard.conditions != readings.conditions:
            raise ArgumentError(
                "standard",
                f"measured as the strike-off was ({readings.conditions})",
                words=str(standard.conditions),
            )
        return (
            f"Standard and strike-off were both measured under {readings.conditions}; nothing "
            "was adapted.",
            [],
        )
    cautions = []
    if readings.observer == 10:
        if not accept_10_degree:
            raise ArgumentError(
                "observer",
                "2",
                words=f"10. {_TEN_DEGREES} Measure again for 2°, give readings of the approved standard taken the same way (standard=…), or accept the error with accept_10_degree=True",
            )
        cautions.append(f"{_TEN_DEGREES} They were compared as if they were 2°, as was asked.")
    if readings.illuminant == "D50":
        return (
            "Readings under D50 were adapted to D65 by the Bradford transform; the "
            "specification is D65, 2°, from the colourway's sRGB. Adaptation estimates what "
            "D65 would show; it cannot see metamerism.",
            cautions,
        )
    return (
        f"Readings under {readings.conditions} were compared as they are; the specification "
        "is D65, 2°, from the colourway's sRGB.",
        cautions,
    )
