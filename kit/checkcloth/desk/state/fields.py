"""Fields of a request, which is plain data as the page sends it, read one by one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checkcloth.desk.state.state import DeskState
from checkcloth.errors import ArgumentError

Request = Mapping[str, Any]
Step = tuple[DeskState, str]


def whole(request: Request, name: str) -> int:
    """Return a field that must be a whole number."""
    value = request.get(name)
    if isinstance(value, bool) or not isinstance(value, int):
        raise ArgumentError(name, "a whole number", value)
    return value


def text(request: Request, name: str) -> str:
    """Return a field that must be text."""
    value = request.get(name)
    if not isinstance(value, str):
        raise ArgumentError(name, "text", value)
    return value


def flag(request: Request, name: str) -> bool:
    """Return a field that must be true or false."""
    value = request.get(name)
    if not isinstance(value, bool):
        raise ArgumentError(name, "true or false", value)
    return value


def given(request: Request, name: str) -> bool:
    """Whether a field that may be left out is there."""
    return request.get(name) is not None
