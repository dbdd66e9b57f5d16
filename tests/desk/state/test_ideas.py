"""New ideas: draws that heed the locks, more like one, something different."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth.desk.state import ideas
from checkcloth.ideas.variants import ring


def cloths(state):
    return {(c.colourway.ground.rgb, ring(c.colourway.stripes)) for c in state.shown}


@pytest.mark.parametrize("idea", ["draw", "more", "different"])
def test_new_ideas_leave_alone_what_is_locked_and_repeat_nothing(state, palette, idea):
    source = state.shown[0]
    state = ideas.lock_ground(state, source.number)
    state = ideas.lock_stripe(state, source.number, 2).with_(seed=5)
    after = {
        "draw": lambda: ideas.draw(state, palette),
        "more": lambda: ideas.more_like(state, source.number, palette),
        "different": lambda: ideas.different(state, palette),
    }[idea]()
    assert len(after.shown) > 5
    assert len(cloths(after)) == len(after.shown)
    for card in after.shown:
        assert card.colourway.ground.rgb == source.colourway.ground.rgb
        assert card.colourway.stripes[1].rgb == source.colourway.stripes[1].rgb


def test_locks_come_off_the_way_they_went_on(state):
    card = state.shown[0]
    locked = ideas.lock_stripe(ideas.lock_ground(state, card.number), card.number, 3)
    assert locked.locked_stripes == (None, None, card.colourway.stripes[2])
    free = ideas.lock_stripe(ideas.lock_ground(locked, card.number), card.number, 3)
    assert free == state


def changes(one, other):
    """Count changed stripes and ground; two stripes changing places count as one change."""
    moved = [a.rgb != b.rgb for a, b in zip(one.stripes, other.stripes, strict=True)]
    same_colours = {s.rgb for s in one.stripes} == {s.rgb for s in other.stripes}
    stripes = 1 if same_colours and sum(moved) == 2 else sum(moved)
    return stripes + (one.ground.rgb != other.ground.rgb)


def test_more_like_begins_with_its_source_then_one_change_away(state, palette):
    source = state.shown[7]
    after = ideas.more_like(state, source.number, palette)
    assert after.shown[0].colourway == source.colourway
    # 3 stripes × 5 free colours + 1 other ground; swaps of 3 stripes are the same cloth
    assert [changes(source.colourway, c.colourway) for c in after.shown[1:17]] == [1] * 16
    assert "more like" in after.dealt
    assert after.shown[5].origin["how"] == "more like"


def oklab_ground_spread(state):
    from checkcloth.colour.spaces import srgb_to_oklab

    means = [
        srgb_to_oklab(np.array([s.rgb for s in c.colourway.stripes])).mean(0) for c in state.shown
    ]
    return np.array(means)


def test_different_lies_further_from_the_wall_than_a_plain_draw(state, palette):
    like = ideas.more_like(state, state.shown[0].number, palette)
    there = oklab_ground_spread(like)

    def least(after):
        steps = oklab_ground_spread(after)[:, None] - there[None]
        return np.sqrt((steps**2).sum(-1)).min(axis=1).mean()

    fresh = ideas.different(like, palette)
    plain = np.mean([least(ideas.draw(like.with_(seed=s), palette)) for s in range(20, 30)])
    assert least(fresh) > plain


def test_most_stripes_counts_ground_and_locks(state, palette):
    assert ideas.most_stripes(state, palette) == 8
    assert ideas.most_stripes(state.with_(ground="Soot"), palette) == 7
    lock = state.with_(locked_stripes=(palette["Flour"],))
    assert ideas.most_stripes(lock, palette) == 9
