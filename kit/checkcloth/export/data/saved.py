"""A chosen set as one JSON file, which opens again to the very same set."""

from __future__ import annotations

import json
from os import PathLike
from pathlib import Path
from typing import Any

from checkcloth.arguments import as_path, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import Chosen, ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.css import parse_css
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.files.json_reader import JsonReader, parse_json
from checkcloth.files.whole import read_text, write_whole

# Version 2 has families, or what a desk notes about the range; version 3 what a client said,
# bands that are not even, colours of the weft's own, or a stock for inks; version 4 colours outside
# sRGB, or measured as spectra. A set is written as the earliest version that has what it holds, so
# that an earlier kit opens it.
FORMAT, VERSION = "checkcloth set", 4
MOST_BYTES = 32 << 20


def _colour_out(colour: NamedColour) -> dict[str, Any]:
    out: dict[str, Any] = {"name": colour.name, "rgb": list(colour.rgb), "text": colour.text}
    if colour.role:
        out["role"] = colour.role
    if colour.note:
        out["note"] = colour.note
    if colour.reflectance is not None:
        out["reflectance"] = list(colour.reflectance)
    elif colour.xyz is not None:
        out["xyz"] = list(colour.xyz)
    return out


def _member_out(member: Chosen) -> dict[str, Any]:
    colourway = member.colourway
    return {
        "name": colourway.name,
        "ground": _colour_out(colourway.ground),
        "stripes": [_colour_out(stripe) for stripe in colourway.stripes],
        "strength": colourway.strength,
        "mixing": colourway.mixing,
        "warp_share": colourway.warp_share,
        "yule_nielsen": colourway.yule_nielsen,
        **({"stock": colourway.stock.text} if colourway.stock.text else {}),
        "note": member.note,
        "origin": dict(member.origin),
        **({"family": member.family} if member.family else {}),
        **({"weft_stripes": [_colour_out(stripe) for stripe in colourway.weft_stripes]}
           if colourway.weft_stripes else {}),
        **({"answer": member.answer} if member.answer else {}),
        **({"remark": member.remark} if member.remark else {}),
    }  # fmt: skip


def _check_out(check: Check) -> dict[str, Any]:
    out: dict[str, Any] = {"size": check.size.text, "stripes": check.stripes}
    if check.weft_stripes != check.stripes:
        out["weft_stripes"] = check.weft_stripes
    if not check.is_even:
        out |= {"warp": check.warp_order, "weft": check.weft_order}
    return out


def _version(chosen_set: ChosenSet) -> int:
    """The earliest version that holds all of a set."""
    check, members = chosen_set.check, chosen_set.chosen
    cloths = [member.colourway for member in members]
    if any(any(cloth.known) for cloth in cloths):
        return VERSION
    if not check.is_even or check.weft_stripes != check.stripes:
        return 3
    if any(cloth.weft_stripes or cloth.stock.text for cloth in cloths):
        return 3
    if any(member.answer or member.remark for member in members):
        return 3
    return 2 if chosen_set.settings or any(member.family for member in members) else 1


def set_json(chosen_set: ChosenSet) -> str:
    """Return the text of a set file.

    The colours are written as the exact numbers (``rgb``, encoded sRGB in 0–1) and as the
    CSS text they were typed as; reading trusts the numbers. Beside them stands ``xyz`` (D65) of
    colours outside sRGB, or the measured ``reflectance``, 380 to 730 nm by 10 nm.
    """
    require_type(chosen_set, "chosen_set", ChosenSet)
    content: dict[str, Any] = {
        "format": FORMAT,
        "version": _version(chosen_set),
        "name": chosen_set.name,
        "check": _check_out(chosen_set.check),
        "colourways": [_member_out(member) for member in chosen_set.chosen],
    }
    if chosen_set.settings:
        content["desk"] = dict(chosen_set.settings)
    return json.dumps(content, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _colour_in(fields: JsonReader) -> NamedColour:
    rgb = fields.numbers("rgb", 3)
    text = fields.text("text")
    parse_css(text)
    xyz, reflectance = fields.numbers("xyz", 3, None), fields.numbers("reflectance", 36, None)
    made = NamedColour(
        fields.text("name"),
        (rgb[0], rgb[1], rgb[2]),
        fields.text("role", ""),
        fields.text("note", ""),
        text,
        None if xyz is None else (xyz[0], xyz[1], xyz[2]),
        None if reflectance is None else tuple(reflectance),
    )
    fields.done()
    return made


def _member_in(fields: JsonReader) -> Chosen:
    colourway = Colourway(
        fields.read("ground", _colour_in),
        fields.read_each("stripes", _colour_in),
        strength=fields.number("strength"),
        mixing=fields.text("mixing"),
        name=fields.text("name"),
        warp_share=fields.number("warp_share"),
        yule_nielsen=fields.number("yule_nielsen"),
        weft_stripes=fields.read_each("weft_stripes", _colour_in, []) or None,
        stock=fields.text("stock", ""),
    )
    made = Chosen(
        colourway,
        fields.text("note"),
        fields.plain("origin"),
        fields.text("family", ""),
        fields.text("answer", ""),
        fields.text("remark", ""),
    )
    fields.done()
    return made


def _check_in(fields: JsonReader) -> Check:
    made = Check(
        fields.text("size"),
        fields.whole("stripes"),
        warp=fields.text("warp", "") or None,
        weft=fields.text("weft", "") or None,
        weft_stripes=fields.take("weft_stripes", "a whole number", None),
    )
    fields.done()
    return made


def parse_set(text: str, source: str = "set") -> ChosenSet:
    """Read the text of a set file.

    Raises
    ------
    FileFormatError
        For what is no set file, a newer version, or is damaged: naming ``source``, the
        path of the field, what was found and what is allowed.
    """
    fields = parse_json(text, source)
    fields.check_kind(FORMAT, VERSION)
    check = fields.read("check", _check_in)
    members = fields.read_each("colourways", _member_in)
    name, noted = fields.text("name"), fields.plain("desk")
    fields.done()
    try:
        return ChosenSet(check, members, name, noted)
    except CheckclothError as error:
        raise error.at(source) from None


def save_set(chosen_set: ChosenSet, path: str | PathLike[str], *, overwrite: bool = False) -> Path:
    """Write a chosen set as a JSON file, whole or not at all; return its path.

    Parameters
    ----------
    chosen_set : ChosenSet
    path : path
        Of the file to write, in a folder that exists.
    overwrite : bool
        Whether a file there may be replaced.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    ArgumentError
        If it would be larger than a set file may be (32 MiB), or its folder is missing or
        cannot be written to; nothing is left behind.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> aprons = ChosenSet(Check("0.5 in", 1), [Colourway("white", ["navy"])], "aprons")
    >>> with TemporaryDirectory() as folder:
    ...     save_set(aprons, Path(folder) / "aprons.json").name
    'aprons.json'
    """
    data = set_json(chosen_set).encode("utf-8")
    if len(data) > MOST_BYTES:
        raise ArgumentError(
            "chosen_set",
            f"at most {MOST_BYTES} bytes as a file",
            len(data),
            hint="; save it as several sets",
        )
    return write_whole(as_path(path), data, overwrite=overwrite)


def open_set(path: str | PathLike[str]) -> ChosenSet:
    """Open a set file: a set equal to the one that was saved.

    Parameters
    ----------
    path : path
        At most 32 MiB.

    Returns
    -------
    ChosenSet

    Raises
    ------
    FileFormatError
        See :func:`parse_set`; also for a larger file, or text that is not UTF-8.
    FileNotFoundError, PermissionError
        As the system says.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> aprons = ChosenSet(Check("0.5 in", 1), [Colourway("white", ["navy"])], "aprons")
    >>> with TemporaryDirectory() as folder:
    ...     open_set(save_set(aprons, Path(folder) / "aprons.json")) == aprons
    True
    """
    file = as_path(path)
    return parse_set(read_text(file, MOST_BYTES), file.name)
