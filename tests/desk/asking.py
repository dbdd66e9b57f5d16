"""Requests as the page sends them: to a desk, and to its state alone."""

from __future__ import annotations

from checkcloth.desk.state.requests import handle


def ask(desk, do, *files, **fields):
    """Return the desk's answer; bytes go with a request as ``files``."""
    return desk.answer({"do": do, "id": "1", **fields}, files)[0]


def ask_state(state, do, **fields):
    """Return the state that the request leads to, and the words for the step."""
    return handle(state, {"do": do, **fields})
