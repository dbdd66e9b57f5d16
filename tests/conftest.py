"""``gold("sharma2005")`` gives the rows of tests/gold/sharma2005.csv."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any
from zlib import crc32

import pytest
from hypothesis import settings

# A property that takes long on a busy machine is not thereby wrong.
settings.register_profile("checkcloth", deadline=None)
settings.load_profile("checkcloth")


def _turn(nodeid: str) -> int:
    """Say when a test has its turn: what takes long first, so that no process waits at the end."""
    path = nodeid.split("::")[0]
    if not path.startswith("tests/browser/"):
        return 2
    # The page alone, in a browser without JupyterLab, is light enough to run beside one.
    return 1 if path.endswith("_alone.py") else 0


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: _turn(item.nodeid))


def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Say which tests stay in one process when they run in several.

    A notebook's cells share a kernel, and the tests of a file their fixtures. Files that drive
    JupyterLab take turns, one of them to two processes: each has a server, kernels and a browser
    of its own to feed, and too many beside each other are slow enough to time out. (Marks for
    groups would do, but pytest-xdist 3.8 loses them under pytest 9.2.)
    """
    from xdist.scheduler import LoadScopeScheduling

    class ByFile(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            path = nodeid.split("::")[0]
            if _turn(nodeid):
                return path
            return f"lab {crc32(path.encode()) % max(1, len(self.nodes) // 2)}"

    return ByFile(config, log)


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
