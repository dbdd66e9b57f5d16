"""Work in blocks and on threads gives the numbers of one pass, and its errors."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.vision import see_as
from checkcloth.cores import blocks
from checkcloth.cores.blocks import over_blocks, over_pairs, run_blocks


@pytest.mark.parametrize("threads", [1, 2, 3])
def test_every_block_is_run_once(threads, monkeypatch):
    monkeypatch.setattr(blocks, "_cores", lambda: threads)
    seen = np.zeros(1003, dtype=int)

    def work(part: slice) -> None:
        seen[part] += 1

    run_blocks(work, len(seen), 10)
    assert (seen == 1).all()


def test_threads_change_no_number(monkeypatch):
    rng = np.random.default_rng(1)
    colours = rng.random((200_001, 3))
    one, two = rng.uniform(-90, 90, (2, 100_001, 3))
    monkeypatch.setattr(blocks, "_cores", lambda: 1)
    alone = see_as(colours, "protan", 0.7), delta_e_2000(one, two)
    monkeypatch.setattr(blocks, "_cores", lambda: 4)
    assert np.array_equal(see_as(colours, "protan", 0.7), alone[0])
    assert np.array_equal(delta_e_2000(one, two), alone[1])


def test_an_error_in_a_thread_is_raised(monkeypatch):
    monkeypatch.setattr(blocks, "_cores", lambda: 2)

    def kernel(block):
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        over_blocks(kernel, np.zeros((400_000, 3)))


def test_pairs_left_nan_go_to_the_slower_form():
    one = np.array([[1.0, 0, 0], [2, 0, 0], [3, 0, 0]])

    def half(first, second):
        return np.where(first[0] == 2, np.nan, first[0])

    assert over_pairs(half, one, one, rest=lambda a, b: 10 * a[0]).tolist() == [1, 20, 3]
