"""Colour exchange format (CxF3, ISO 17972-1): measured objects out of its XML files.

Read by colour-cxf, whose classes follow the standard's schema. A document type, and with it any
entity, is refused before that: neither may a small file grow large nor a file name another.
"""

from __future__ import annotations

import logging
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import Any
from xml.parsers import expat

from checkcloth.arguments import as_path
from checkcloth.errors import FileFormatError
from checkcloth.files.whole import read_bytes
from checkcloth.needs import need

MOST_BYTES = 16 << 20
_MOST_OBJECTS = 20_000
_MOST_VALUES = 2_000
_XML = b"\xef\xbb\xbf \t\r\n"


@dataclass(frozen=True)
class CxfSpectrum:
    """A reflectance of an object: from ``start`` nm in steps of ``step``, as the file has it."""

    specification: str
    start: float
    step: float
    values: tuple[float, ...]

    @property
    def wavelengths(self) -> list[float]:
        """In nm, one for each value."""
        return [self.start + self.step * k for k in range(len(self.values))]


@dataclass(frozen=True)
class CxfObject:
    """What a file says of one object."""

    name: str  #: its name, or else its id
    line: int  #: of the file, where it begins
    lab: tuple[float, float, float] | None
    illuminant: str  #: what the Lab is for, as the file has it; empty where it is not said
    observer: str
    spectra: tuple[CxfSpectrum, ...]


def is_cxf(path: Path) -> bool:
    """Whether a file is XML, or is called so; a file that is not there is not."""
    if not path.is_file():
        return False
    with path.open("rb") as stream:
        start = stream.read(64)
    return path.suffix.lower() == ".cxf" or start.lstrip(_XML).startswith(b"<")


def read_cxf(path: str | PathLike[str]) -> list[CxfObject]:
    """Read the objects of a CxF3 file of at most 16 MiB.

    Raises
    ------
    FileFormatError
        For what is none or is damaged, has a document type, or holds values that are no numbers.
    MissingPackageError
        Without the package colour-cxf.
    FileNotFoundError, PermissionError
        As the system says.
    """
    need("colour_cxf")
    file = as_path(path)
    raw = read_bytes(file, MOST_BYTES)
    lines = _Outline(file.name).lines_of(raw)
    return list(_Reader(file.name, lines).objects(_parsed(raw, file.name)))


class _Outline:
    """A first walk through the XML: refuses document types, notes where objects begin."""

    def __init__(self, source: str) -> None:
        self.source = source
        self.path: list[str] = []
        self.lines: list[int] = []

    def lines_of(self, raw: bytes) -> list[int]:
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartDoctypeDeclHandler = self._refuse
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        try:
            self.parser.Parse(raw, True)
        except (expat.ExpatError, LookupError, ValueError) as error:
            line = getattr(error, "lineno", None)
            raise FileFormatError(
                "file", "CxF3, well-formed XML", words=str(error), source=self.source, line=line
            ) from None
        return self.lines

    def _refuse(self, *parts: Any) -> None:
        raise FileFormatError(
            "file", "XML without a document type", words="one (entities are not read)",
            source=self.source, line=self.parser.CurrentLineNumber,
        )  # fmt: skip

    def _start(self, name: str, attributes: Any) -> None:
        own = name.rpartition(" ")[2]
        if own == "Object" and self.path[-1:] == ["ObjectCollection"]:
            if len(self.lines) >= _MOST_OBJECTS:
                raise FileFormatError(
                    "objects", f"at most {_MOST_OBJECTS}", words="more", source=self.source
                )
            self.lines.append(self.parser.CurrentLineNumber)
        self.path.append(own)

    def _end(self, name: str) -> None:
        self.path.pop()


def _parsed(raw: bytes, source: str) -> Any:
    """The resources of a document, as colour-cxf has them."""
    from colour_cxf.cxf3 import CxF
    from xsdata.exceptions import ConverterError, ConverterWarning, ParserError
    from xsdata.formats.dataclass.parsers import XmlParser
    from xsdata.formats.dataclass.parsers.config import ParserConfig

    # What the schema does not know is passed over: makers add elements of their own.
    parser = XmlParser(config=ParserConfig(fail_on_unknown_properties=False))
    try:
        with warnings.catch_warnings(), _without_log("xsdata.logger"):
            # A value that cannot be converted stays a text, and is refused where it is used.
            warnings.simplefilter("ignore", ConverterWarning)
            document = parser.from_bytes(raw, CxF)
    except (ParserError, ConverterError, TypeError, ValueError, AttributeError, KeyError) as error:
        words = " ".join(str(error).split())[:200] or type(error).__name__
        raise FileFormatError("file", "CxF3 (ISO 17972)", words=words, source=source) from None
    resources = getattr(document, "resources", None)
    if getattr(resources, "object_collection", None) is None:
        raise FileFormatError(
            "file", "CxF3 (ISO 17972) with a collection of objects", words="none", source=source
        )
    return resources


@contextmanager
def _without_log(name: str) -> Iterator[None]:
    """Keep a library from logging what it passes over."""
    logger = logging.getLogger(name)
    before = logger.level
    logger.setLevel(logging.ERROR)
    try:
        yield
    finally:
        logger.setLevel(before)


class _Reader:
    """Reads objects; says of which what is wrong."""

    def __init__(self, source: str, lines: list[int]) -> None:
        self.source, self.lines = source, lines

    def fault(self, line: int | None, argument: str, allowed: str, words: str) -> FileFormatError:
        return FileFormatError(argument, allowed, words=words, source=self.source, line=line)

    def objects(self, resources: Any) -> Iterator[CxfObject]:
        collection = resources.color_specification_collection
        every = getattr(collection, "color_specification", None) or []
        specifications = {one.id: one for one in every if one.id}
        for number, one in enumerate(resources.object_collection.object_value):
            line = self.lines[number] if number < len(self.lines) else 1
            values = getattr(one.color_values, "choice", None) or []
            named = str(one.name or one.id or "").strip() or str(number + 1)
            lab, conditions = self._lab(values, specifications, line)
            spectra = tuple(self._spectra(values, specifications, line))
            yield CxfObject(named, line, lab, *conditions, spectra)

    def _lab(
        self, values: Any, specifications: dict[str, Any], line: int
    ) -> tuple[tuple[float, float, float] | None, tuple[str, str]]:
        for value in values:
            if type(value).__name__ == "ColorCielab":
                light, a, b = (self._number(getattr(value, axis), axis, line) for axis in "lab")
                stated = specifications.get(value.color_specification)
                return (light, a, b), _conditions(getattr(stated, "tristimulus_spec", None))
        return None, ("", "")

    def _spectra(
        self, values: Any, specifications: dict[str, Any], line: int
    ) -> Iterator[CxfSpectrum]:
        for value in values:
            if type(value).__name__ != "ReflectanceSpectrum":
                continue
            if not isinstance(value.value, list) or len(value.value) > _MOST_VALUES:
                raise self.fault(line, "ReflectanceSpectrum", "a list of numbers", "something else")
            numbers = tuple(self._number(v, "ReflectanceSpectrum", line) for v in value.value)
            stated = specifications.get(value.color_specification)
            grid = getattr(getattr(stated, "measurement_spec", None), "wavelength_range", None)
            start = (
                value.start_wl if value.start_wl is not None else getattr(grid, "start_wl", None)
            )
            step = getattr(grid, "increment", None)
            if not isinstance(start, int) or not isinstance(step, int) or not 1 <= step <= 100:
                raise self.fault(
                    line, "WavelengthRange", "stated as StartWL and Increment, whole nm",
                    f"{start} and {step}",
                )  # fmt: skip
            yield CxfSpectrum(str(value.color_specification), float(start), float(step), numbers)

    def _number(self, value: object, name: str, line: int) -> float:
        if not isinstance(value, float) or not abs(value) < 1e6:
            raise self.fault(line, name, "numbers", repr(value)[:40])
        return value


def _conditions(spec: Any) -> tuple[str, str]:
    """Illuminant and observer of a tristimulus specification, as texts."""
    light = _text(getattr(spec, "illuminant_or_custom_illuminant", None))
    return light, _text(getattr(spec, "observer", None)).removesuffix("_Degree")


def _text(node: Any) -> str:
    """What stands in an element: one of the schema's words, or what was written instead."""
    value = getattr(node, "value", None)
    return str(getattr(value, "value", value) or "").strip()
