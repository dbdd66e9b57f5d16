"""``gold("sharma2005")`` gives the rows of tests/gold/sharma2005.csv."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

# A property that takes long on a busy machine is not thereby wrong.
settings.register_profile("checkcloth", deadline=None)
settings.load_profile("checkcloth")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Say which tests stay in one process when they run in several (pytest-xdist).

    A notebook's cells share a kernel, the tests of a file their fixtures, and what drives a
    browser takes turns: two JupyterLabs beside each other are slow enough to time out.
    """
    for item in items:
        browser = item.get_closest_marker("browser") is not None
        item.add_marker(pytest.mark.xdist_group("browser" if browser else str(item.path)))


GOLD = Path(__file__).parent / "gold"


def _value(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


@pytest.fixture(scope="session")
def gold() -> Callable[..., list[dict[str, float | str]]]:
    """Return a function from a table's name to its rows; numbers are floats."""

    def load(name: str, delimiter: str = ",") -> list[dict[str, float | str]]:
        with (GOLD / f"{name}.csv").open(encoding="utf-8", newline="") as stream:
            rows = list(csv.DictReader(stream, delimiter=delimiter))
        assert rows, f"{name} is empty"
        return [{key: _value(text) for key, text in row.items()} for row in rows]

    return load
