"""Desks for tests: a small palette of our own, a state, and a desk without any browser."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth import Length, Palette
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.desk.state import ideas
from checkcloth.desk.state.state import DeskState

COLOURS = {
    "Slip Coach": "#1f3a5f", "Lamp Oil": "#c98b1b", "Weir": "#2d7d74", "Heather": "#7a4f8a",
    "Brick": "#a03b2a", "Soot": "#26262a", "Hedge": "#4e6b2f", "Rose Hip": "#c2344a",
}  # fmt: skip


@pytest.fixture
def palette():
    grounds = [NamedColour.of("#f6f1e4", "Flour"), NamedColour.of("#1b2430", "Night")]
    grounds = [NamedColour(g.name, g.rgb, "ground") for g in grounds]
    stripes = [NamedColour.of(text, name) for name, text in COLOURS.items()]
    return Palette("halt", [*grounds, *stripes])


@pytest.fixture
def state(palette):
    return ideas.draw(DeskState(Length("1/2 in"), (palette,), "halt", count=24))


@pytest.fixture
def desk(palette, tmp_path):
    from checkcloth.desk import open_desk

    made = open_desk(palette, count=24, folder=tmp_path)
    yield made
    made.retire()
    made.close()


class Page:
    """Stands for the page: sends requests to the desk and takes its answers."""

    def __init__(self, desk):
        self.desk, self.buffers = desk, []

    def ask(self, what, **fields):
        answer, self.buffers = self.desk.answer({"do": what, "id": "1", **fields})
        return answer

    def floats(self, index=0):
        return np.frombuffer(self.buffers[index], "<f4")


@pytest.fixture
def page(desk):
    return Page(desk)
