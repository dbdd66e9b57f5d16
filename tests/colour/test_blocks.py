"""Work in blocks and on threads gives the numbers of one pass, and its errors."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth.colour import blocks
from checkcloth.colour.blocks import over_blocks, over_pairs, run_blocks
from checkcloth.colour.ciede2000 import (
    ciede2000_as_written,
    ciede2000_columns,
    ciede2000_or_nan,
    delta_e_2000,
)
from checkcloth.colour.vision import see_as


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


def _pairs(kind: str) -> tuple[np.ndarray, np.ndarray]:
    rng = np.random.default_rng(5)
    one, two = rng.uniform([[0], [-100], [-100]], [[100], [100], [100]], (2, 3, 20_000))
    if kind == "close":
        two = one + rng.normal(0, 1, one.shape)
    elif kind == "opposite":
        two[1:] = -one[1:] * rng.uniform(0.3, 1, 20_000) + rng.normal(0, 0.3, (2, 20_000))
    elif kind == "nearly grey":
        two[1:] *= 10.0 ** -rng.integers(10, 320, 20_000)
        one[1:, ::2] *= 10.0 ** -rng.integers(10, 320, 10_000)
    return one, two


@pytest.mark.parametrize("kind", ["far", "close", "opposite", "nearly grey"])
def test_the_fast_form_of_ciede2000_is_the_paper(kind):
    one, two = _pairs(kind)
    plain = ciede2000_as_written(one, two)
    # The paper's own form loses digits where hues are all but opposite, and in hues that are
    # nearly alike (a difference of two angles of up to 360).
    np.testing.assert_allclose(ciede2000_columns(one, two), plain, rtol=1e-10, atol=1e-9)


def test_greys_and_opposites_are_left_to_the_paper():
    one = np.array([[50.0, 50, 50, 60], [0, 20, 30, 3], [0, 10, 0, 4]])
    two = np.array([[55.0, 40, 50, 61], [20, -20, 0, 4], [10, -10, 0, 3]])
    assert np.isnan(ciede2000_or_nan(one, two)).tolist() == [True, True, True, False]
    found = ciede2000_columns(one, two)
    assert np.array_equal(found[:3], ciede2000_as_written(one, two)[:3])
    assert np.array_equal(found, delta_e_2000(one.T, two.T))
