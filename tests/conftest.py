"""``gold("sharma2005")`` gives the rows of tests/gold/sharma2005.csv."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

# A property that takes long on a busy machine is not thereby wrong.
settings.register_profile("checkcloth", deadline=None)
settings.load_profile("checkcloth")


HERE = Path(__file__).parent
# Files that drive JupyterLab. What shows the page alone, in a browser without one, is light enough
# to run beside them.
LAB_FILES = sorted(
    path.name for path in HERE.glob("browser/test_*.py") if not path.stem.endswith("_alone")
)
# Others that take ten seconds of a processor or more.
LONG_FILES = (
    "notebooks/contrast.ipynb",
    "tests/desk/forms/test_hand_off.py",
    "tests/desk/test_palette_files.py",
    "tests/export/hand_off/test_at_once.py",
    "tests/export/hand_off/test_staging.py",
    "tests/quality/test_diagnosis.py",
    "tests/search/test_exact.py",
    "tests/search/test_run.py",
    "tests/test_developers.py",
)


def _turn(nodeid: str) -> int:
    """Say when a test has its turn: what takes long first, so that no process waits at the end."""
    path = nodeid.split("::")[0]
    if path.startswith("tests/browser/"):
        return 0 if Path(path).name in LAB_FILES else 1
    return 2 if path in LONG_FILES else 3


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: _turn(item.nodeid))


def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Say which tests stay in one process when they run in several.

    A notebook's cells share a kernel, and the tests of a file their fixtures. Files that drive
    JupyterLab take turns, in as many rows as half the processes: each row has a server, kernels
    and a browser of its own to feed, and too many beside each other are slow enough to time out.
    (Marks for groups would do, but pytest-xdist 3.8 loses them under pytest 9.2.)
    """
    from xdist.scheduler import LoadScopeScheduling

    class ByFile(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            path = nodeid.split("::")[0]
            if _turn(nodeid):
                return path
            rows = max(1, self.numnodes // 2)  # not of those left: a name stays as it is
            return f"lab {LAB_FILES.index(Path(path).name) % rows}"

    return ByFile(config, log)


GOLD = HERE / "gold"


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
