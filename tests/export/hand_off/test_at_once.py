"""Several processes that write one folder, or one file, at the same time.

Set ``CHECKCLOTH_STRESS_SECONDS`` for a longer run than the few seconds of the suite.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import time
import zipfile
from collections import Counter
from pathlib import Path

import pytest

import checkcloth
from checkcloth import Check, ChosenSet, Colourway, save_set
from checkcloth.export.data.saved import open_set
from checkcloth.export.hand_off import staging
from checkcloth.export.hand_off.hand_off import hand_off, open_hand_off
from checkcloth.export.hand_off.manifest import verify
from checkcloth.export.picture.piece import Piece, save_cloth

SECONDS = float(os.environ.get("CHECKCLOTH_STRESS_SECONDS", "3"))
CHECK = Check("5 mm", 1)
SETS = [ChosenSet(CHECK, [Colourway("white", [red])], red) for red in ("navy", "red", "teal")]


def write(kind: str, path: Path, number: int) -> None:
    """Write one of three things that differ, over whatever is there."""
    chosen = SETS[number]
    if kind == "renames":  # as where the system cannot exchange two folders in one step
        staging.exchange = lambda first, second: False
    if kind in ("folder", "renames"):
        hand_off(chosen, None, path, paper=None, dpi=72, zipped=True, overwrite=True)
    elif kind == "set":
        save_set(chosen, path, overwrite=True)
    else:
        save_cloth(chosen.colourways[0], Piece(CHECK, "9 cm", "9 cm", 72), path, overwrite=True)


def look(kind: str, path: Path) -> object:
    """Return what identifies the thing that is there; fail if it is not whole."""
    if kind == "renames":
        return bool(verify(path))
    if kind == "folder":
        verdict = verify(path)
        assert verdict.ok, verdict
        with zipfile.ZipFile(path.with_name("out.zip")) as packed:
            assert packed.testzip() is None
            assert {"out/manifest.json", "out/set.json"} <= set(packed.namelist())
        return open_hand_off(path).name
    if kind == "set":
        return open_set(path).name
    return hashlib.sha256(path.read_bytes()).hexdigest()


WORKER = """
import sys, time
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from test_at_once import write
from checkcloth import CheckclothError
kind, path, number, seconds = sys.argv[2], Path(sys.argv[3]), int(sys.argv[4]), float(sys.argv[5])
end = time.monotonic() + seconds
written = refused = 0
while time.monotonic() < end:
    try:
        write(kind, path, number)
        written += 1
    except CheckclothError:
        refused += 1
print(written, refused)
"""


def _start(kind: str, path: Path, number: int, seconds: float) -> subprocess.Popen[str]:
    here, kit = Path(__file__).parent, Path(checkcloth.__file__).parents[1]
    return subprocess.Popen(
        [sys.executable, "-c", WORKER, str(here), kind, str(path), str(number), str(seconds)],
        env=os.environ | {"PYTHONPATH": str(kit)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


@pytest.mark.parametrize(
    ("kind", "name"),
    [("folder", "out"), ("renames", "out"), ("set", "s.json"), ("file", "c.png")],
)
def test_three_writers_leave_it_whole_at_every_look(tmp_path, monkeypatch, kind, name):
    monkeypatch.setattr(staging, "exchange", staging.exchange)  # to be put back
    path = tmp_path / "here" / name
    path.parent.mkdir()
    wholes = set()
    for number in range(3):
        write(kind, path, number)
        wholes.add(look(kind, path))
    assert wholes == {True} if kind == "renames" else len(wholes) == 3
    started, outcomes = [], []
    try:
        seen = _loop(kind, path, started)
    finally:
        for worker in started:
            worker.terminate()
            outcomes.append((*worker.communicate(timeout=60), worker.returncode))
    faults = [fault for _, fault, _ in outcomes if "Traceback" in fault]
    assert not faults, faults[0]
    counts = [[int(count) for count in out.split()] for out, _, code in outcomes if code == 0]
    assert len(counts) == 3
    print(f"{kind}: {seen.total()} looks, {len(started) - 3} killed, written and refused {counts}")
    assert sum(written for written, _ in counts) > 0
    assert set(seen) <= wholes
    write(kind, path, 0)  # clears what the killed ones left
    assert sorted(one.name for one in path.parent.iterdir()) == (
        ["out", "out.zip"] if name == "out" else [name]
    )


def _loop(kind: str, path: Path, started: list[subprocess.Popen[str]]) -> Counter[object]:
    """Look while three write; now and then one is killed, and another begins."""
    end = time.monotonic() + SECONDS
    workers = [_start(kind, path, number, SECONDS) for number in range(3)]
    started += workers
    next_kill = time.monotonic() + SECONDS / 2
    seen: Counter[object] = Counter()
    while any(worker.poll() is None for worker in workers):
        seen[look(kind, path)] += 1
        if next_kill < time.monotonic() < end:
            victim = len(started) % 3
            workers[victim].kill()
            workers[victim] = _start(kind, path, victim, max(0, end - time.monotonic()))
            started.append(workers[victim])
            next_kill += 5
    return seen
