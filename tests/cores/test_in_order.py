"""Parts done elsewhere come back in order, whatever becomes of those who do them."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from concurrent.futures import BrokenExecutor, Executor, Future, ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

import checkcloth
from checkcloth import CheckclothError, Colourway
from checkcloth.cores.in_order import in_order, new_pool
from checkcloth.quality import score_table, write_score_table


def slow_first(number: int) -> int:
    time.sleep(0.05 if number == 0 else 0)
    return number * number


def test_order_is_kept_and_parts_are_read_as_workers_become_free():
    read = []

    def parts():
        for number in range(20):
            read.append(number)
            yield number

    with ThreadPoolExecutor(3) as pool:
        stream = in_order(slow_first, parts(), pool, 3)
        assert next(stream) == 0
        assert len(read) <= 6
        assert list(stream) == [number * number for number in range(1, 20)]


class _Breaks(Executor):
    """Does two parts, then breaks: when asked for more, or while at it."""

    def __init__(self, when: str) -> None:
        self.when, self.left = when, 2

    def submit(self, fn, /, *args, **kwargs):
        self.left -= 1
        future: Future = Future()
        if self.left >= 0:
            future.set_result(fn(*args))
        elif self.when == "asked":
            raise BrokenExecutor
        else:
            future.set_exception(BrokenExecutor())
        return future


@pytest.mark.parametrize("when", ["asked", "at it"])
def test_a_broken_pool_costs_no_part(when):
    with pytest.warns(RuntimeWarning, match="processes broke"):
        assert list(in_order(abs, range(-9, 0), _Breaks(when), 2)) == list(range(9, 0, -1))


def test_an_error_of_the_work_is_raised_and_not_tried_again():
    with ThreadPoolExecutor(1) as pool, pytest.raises(ZeroDivisionError):
        list(in_order(lambda part: 1 / part, [1, 0, 2], pool, 1))


@pytest.fixture(scope="module")
def cloths() -> list[Colourway]:
    codes = np.random.default_rng(3).integers(0, 1 << 24, (2500, 3)).tolist()
    return [Colourway(*(f"#{c:06x}" for c in row[:1]), [f"#{c:06x}" for c in row[1:]], name=f"c{n}")
            for n, row in enumerate(codes)]  # fmt: skip


def test_processes_write_the_same_table(cloths, tmp_path):
    here, there = tmp_path / "here.csv", tmp_path / "there.csv"
    write_score_table(cloths, here, visions="normal", progress=False)
    count = write_score_table(
        cloths, there, visions="normal", progress=False, executor="processes", workers=2
    )
    assert count == len(cloths)
    assert there.read_bytes() == here.read_bytes()
    with ThreadPoolExecutor(2) as pool:
        table = score_table(cloths, visions="normal", executor=pool)
    assert table.to_csv(tmp_path / "held.csv").read_bytes() == here.read_bytes()


def test_an_interrupt_leaves_nothing(cloths, tmp_path):
    def members():
        yield from cloths[:2100]
        raise KeyboardInterrupt

    path = tmp_path / "scores.csv"
    with ThreadPoolExecutor(2) as pool, pytest.raises(KeyboardInterrupt):
        write_score_table(members(), path, visions="normal", progress=False, executor=pool)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("given", "argument"), [({"executor": "threads"}, "executor"), ({"workers": 0}, "workers")]
)
def test_what_is_no_executor_is_refused(given, argument, tmp_path):
    cloth = Colourway("white", ["navy"])
    with pytest.raises(CheckclothError) as caught:
        write_score_table([cloth], tmp_path / "scores.csv", progress=False, **given)
    assert caught.value.argument == argument
    assert list(tmp_path.iterdir()) == []


KILLED = """
import os, signal
from itertools import count
from checkcloth.cores.in_order import in_order, new_pool

def pid(part):
    return os.getpid()

if __name__ == "__main__":
    for number, worker in enumerate(in_order(pid, count(), "processes", 1)):
        if not number:
            print(worker, flush=True)
            os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.skipif(os.name != "posix", reason="kills as posix systems do")
def test_a_worker_does_not_outlive_a_killed_parent(tmp_path):
    script = tmp_path / "killed.py"
    script.write_text(KILLED)
    environment = os.environ | {"PYTHONPATH": str(Path(checkcloth.__file__).parents[1])}
    done = subprocess.run([sys.executable, script], capture_output=True, text=True, env=environment)
    worker = int(done.stdout)
    for _ in range(200):
        try:
            os.kill(worker, 0)
        except ProcessLookupError:
            return
        time.sleep(0.05)
    pytest.fail(f"process {worker} is still there")


def test_windows_gets_no_more_processes_than_it_takes(monkeypatch):
    """``ProcessPoolExecutor`` refuses more than 61 there (Python's documentation of it)."""
    monkeypatch.setattr(sys, "platform", "win32")
    new_pool(256).shutdown()
