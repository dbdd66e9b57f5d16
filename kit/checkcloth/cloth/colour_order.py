"""A cloth as weavers write it down: colour orders of warp and weft, by the colours' names."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from checkcloth.arguments import as_tuple, require_one_of, require_type
from checkcloth.cloth.bands import names_in_order, read_order, write_order
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.length import Length
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.errors import ArgumentError, ColourError


def colour_order(colourway: Colourway, check: Check, way: str = "warp") -> str:
    """Return one repeat as a colour order, in checks, by the names of the colours.

    Parameters
    ----------
    colourway : Colourway
    check : Check
        Of the same stripe counts.
    way : str
        ``"warp"`` or ``"weft"``.

    Returns
    -------
    str
        That :func:`cloth_of_order` and ``Check`` read back. A name that two colours share, or
        that would be misread, gives way to a letter: A for stripe 1.

    Raises
    ------
    ArgumentError

    Examples
    --------
    >>> quay = Colourway("white", ["navy", "teal"])
    >>> colour_order(quay, Check("1/4 in", 2, warp="2 A, 2 ground, 4 B"))
    '2 navy, 2 white, 4 teal'
    """
    require_one_of(way, "way", ("warp", "weft"))
    fitting(colourway, check)
    stripes = colourway.stripes if way == "warp" else colourway.weft_colours
    names = [colourway.ground.name, *(stripe.name for stripe in stripes)]
    return write_order(check.warp_bands if way == "warp" else check.weft_bands, names)


def cloth_of_order(
    warp: str,
    weft: str | None = None,
    *,
    size: Length | str,
    ground: NamedColour | str,
    palette: Palette | Iterable[NamedColour] = (),
    strength: float = 0.5,
    mixing: str = "source-over",
    name: str = "",
    warp_share: float = 0.5,
    yule_nielsen: float = 1.0,
) -> tuple[Colourway, Check]:
    """Read a cloth from the colour orders of warp and weft.

    Parameters
    ----------
    warp, weft : str
        ``"2 navy, 2 white, 4 teal"``, in checks; see
        :func:`~checkcloth.cloth.bands.read_order`. Colours are names of the palette's, or CSS
        Color 4 text without commas. The weft is the warp where left out. A weft with a colour
        that the warp has not gets colours of its own.
    size : Length or str
        Of one check.
    ground : NamedColour or str
        Which of the colours is the ground; the others are stripes, in the order they come.
    palette : Palette or iterable of NamedColour, optional
    strength, mixing, name, warp_share, yule_nielsen :
        See :class:`Colourway`.

    Returns
    -------
    colourway : Colourway
    check : Check

    Raises
    ------
    ArgumentError, ColourError, LengthError
        Saying which word cannot be read.

    Examples
    --------
    >>> cloth, check = cloth_of_order(
    ...     "2 navy, 2 white, 4 teal", "1 coral, 1 white", size="1/4 in", ground="white"
    ... )
    >>> print(cloth)
    navy, teal on white, weft coral, 50 %, source-over
    >>> check.repeat_words
    '2 in (50.8 mm) × 1/2 in (12.7 mm)'
    """
    require_type(warp, "warp", str)
    given = palette if isinstance(palette, Palette) else as_tuple(palette, "palette", NamedColour)
    known = {colour.name.casefold(): colour for colour in given}

    def colour(name: str) -> NamedColour:
        return known.get(name.casefold()) or _other_colour(name, known)

    base = colour(ground) if isinstance(ground, str) else NamedColour.of(ground)
    typed = ground if isinstance(ground, str) else base.name
    across = _stripes(warp, typed, "warp")
    up = across if weft is None else _stripes(weft, typed, "weft")
    if not across:
        raise ArgumentError("warp", "an order with a colour beside the ground", warp)
    own = not {name.casefold() for name in up} <= {name.casefold() for name in across}
    wefts = up if own else across
    bands = read_order(warp, len(across), "warp", [typed, *across], letters=False)
    other = (
        bands
        if weft is None
        else read_order(weft, len(wefts), "weft", [typed, *wefts], letters=False)
    )
    made = Colourway(
        base,
        [colour(name) for name in across],
        weft_stripes=[colour(name) for name in wefts] if own else None,
        strength=strength,
        mixing=mixing,
        name=name,
        warp_share=warp_share,
        yule_nielsen=yule_nielsen,
    )
    counts = len(made.stripes), len(made.weft_colours)
    return made, Check(size, counts[0], warp=bands, weft=other, weft_stripes=counts[1])


def _other_colour(name: str, known: Mapping[str, NamedColour]) -> NamedColour:
    """A colour that the palette does not have; what is none is held against its names."""
    try:
        return NamedColour.of(name)
    except ColourError as error:
        if not known:
            raise
        names = [colour.name for colour in known.values()]
        near = get_close_matches(name.casefold(), known, 3, 0.6)
        listed = ", ".join([known[each].name for each in near] or names[:3])
        allowed = f"a colour of the palette, such as {listed}, or a CSS Color 4 colour"
        raise ColourError(error.argument, allowed, name) from None


def _stripes(text: str, ground: str, argument: str) -> list[str]:
    """The colours of an order but the ground, in the order they first come."""
    found: dict[str, str] = {}
    for name in names_in_order(text, argument):
        if name.casefold() not in (ground.casefold(), "ground"):
            found.setdefault(name.casefold(), name)
    return [*found.values()]
