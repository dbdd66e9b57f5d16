"""Answers about finding: a search begun, stopped, estimated; what is found lands on the wall."""

from __future__ import annotations

from functools import partial
from typing import Any

from checkcloth.desk.answers.host import Answer, Host
from checkcloth.desk.finder import Found
from checkcloth.desk.state.fields import Request
from checkcloth.desk.state.finding import Finding, deal_found, finding
from checkcloth.search import estimate


def _find(desk: Host, request: Request) -> dict[str, Any]:
    """Begin to look for the best that the palette holds; what is found lands on the wall."""
    sought = finding(desk.state, request)
    desk.finder.begin(sought, partial(_land, desk, sought))
    return {}


def _stop_find(desk: Host, _: Request) -> dict[str, Any]:
    desk.finder.stop()
    return {}


def _find_estimate(desk: Host, request: Request) -> dict[str, Any]:
    """Say how many colourways a search would look at, and in how long at the most."""
    expected = estimate(finding(desk.state, request).wanted)
    return {"total": expected.colourways, "seconds": expected.seconds}


def _land(desk: Host, sought: Finding, found: Found) -> None:
    if desk.retired:
        return
    after = deal_found(desk.state, sought, found.colourways, found.origin)
    desk.message = f"{len(found.colourways):,} {sought.words}."
    desk.commit(after, sought.words)


ANSWERS: dict[str, Answer] = {
    "find": _find,
    "stop_find": _stop_find,
    "find_estimate": _find_estimate,
}
