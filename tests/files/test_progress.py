"""Progress: one way for all long work, and what an interrupt leaves."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth import Check, Colourway, Palette
from checkcloth.errors import ArgumentError
from checkcloth.files.progress import progress_of
from checkcloth.quality import score_table, score_with_tolerance, table, write_score_table
from checkcloth.search import Wanted, blocks, search, search_in_bands

CLOTH = Colourway("white", ["navy", "crimson"])
COAST = Wanted(Palette("coast", ["white", "navy", "teal", "gold", "coral", "olive"]), 3)
BANDS = Check("1 cm", 3, warp="graduated")


def colourways(count: int) -> list[Colourway]:
    rng = np.random.default_rng(5)
    return [
        Colourway("white", [f"#{code:06x}" for code in row])
        for row in rng.integers(0, 1 << 24, (count, 2)).tolist()
    ]


@pytest.fixture(autouse=True)
def small_pieces(monkeypatch):
    monkeypatch.setattr(table, "_CHUNK", 10)
    monkeypatch.setattr("checkcloth.quality.scatter._BLOCK", 1000)
    monkeypatch.setattr(blocks, "_WEIGHT", 8)
    monkeypatch.setattr(blocks, "_PARTS", 1)


WORK = {
    "score_table": (lambda **to: score_table(colourways(45), visions=["normal"], **to), 45),
    "score_with_tolerance": (lambda **to: score_with_tolerance(CLOTH, draws=700, **to), 700),
    "search_in_bands": (lambda **to: search_in_bands(COAST, BANDS, k=5, **to), None),
    "search": (lambda **to: search(COAST, k=5, **to), None),
}


@pytest.mark.parametrize("name", WORK)
def test_a_function_is_told_how_many_of_how_many(name):
    said: list[tuple[int, int]] = []
    work, total = WORK[name]
    work(progress=lambda done, of: said.append((done, of)))
    done = [each[0] for each in said]
    assert done == sorted(set(done))
    assert {of for _, of in said} == {total or said[-1][1]}
    assert done[-1] == said[-1][1]


@pytest.mark.parametrize("name", WORK)
def test_a_bar_says_how_far_and_how_long(name, capsys):
    WORK[name][0](progress=True)
    err = capsys.readouterr().err
    assert "100%" in err
    assert "<00:00" in err  # what is left


@pytest.mark.parametrize("name", WORK)
@pytest.mark.parametrize("wrong", [3, "yes", []])
def test_what_is_no_progress_is_refused(name, wrong):
    with pytest.raises(ArgumentError) as caught:
        WORK[name][0](progress=wrong)
    assert caught.value.argument == "progress"


def stop_after(count: int):
    def progress(done: int, total: int) -> None:
        if done >= count:
            raise KeyboardInterrupt

    return progress


def test_draws_that_were_made_are_kept_as_if_no_more_had_been_asked_for():
    part = score_with_tolerance(CLOTH, threshold=9, draws=2000, progress=stop_after(500))
    assert part.stopped
    assert 500 <= part.draws < 2000
    same = score_with_tolerance(CLOTH, threshold=9, draws=part.draws)
    assert part.chance_of_all == same.chance_of_all
    np.testing.assert_array_equal(part.hits, same.hits)
    np.testing.assert_array_equal(part.low, same.low)
    assert "stopped" in part.basis
    assert "stopped" not in same.basis


def test_colourways_that_were_scored_are_kept_in_a_table_that_says_so():
    part = score_table(colourways(45), visions=["normal"], progress=stop_after(20))
    whole = score_table(colourways(45), visions=["normal"])
    assert part.stopped
    assert not whole.stopped
    assert "stopped before the end" in str(part)
    assert list(part.rows()) == list(whole[:20].rows())
    assert part[:5].stopped


def test_orders_that_were_weighed_are_kept_and_their_number_is_said():
    whole = search_in_bands(COAST, BANDS, k=5)
    part = search_in_bands(COAST, BANDS, k=5, progress=stop_after(60))
    assert not whole.stopped
    assert part.stopped
    assert 60 <= part.settled < part.total == whole.total
    assert str(part).startswith(f"stopped after {part.settled:,} of {whole.total:,}")
    assert len(part.best) == 5
    assert max(part.values) <= whole.values[0]


def test_a_file_that_is_stopped_is_not_there(tmp_path):
    with pytest.raises(KeyboardInterrupt):
        write_score_table(
            colourways(45), tmp_path / "out.csv", visions=["normal"], progress=stop_after(20)
        )
    assert not [*tmp_path.iterdir()]


def test_nothing_done_is_no_result():
    def at_once(colourway):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        score_table((at_once(c) for c in colourways(3)), visions=["normal"])


def test_what_a_function_raises_ends_the_work():
    def progress(done, total):
        raise RuntimeError("enough")

    for name in WORK:
        with pytest.raises(RuntimeError, match="enough"):
            WORK[name][0](progress=progress)


def test_what_was_done_before_counts():
    said: list[tuple[int, int]] = []
    with progress_of(lambda *each: said.append(each), 10, "things", "doing", before=4) as step:
        step(3)
    assert said == [(7, 10)]
