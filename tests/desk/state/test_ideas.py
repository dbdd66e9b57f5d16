"""New ideas: draws that leave alone what stays, more like one, something different."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth.desk.state import choices, ideas
from checkcloth.ideas.variants import ring


def cloths(state):
    return {(c.colourway.ground.rgb, ring(c.colourway.stripes)) for c in state.shown}


@pytest.mark.parametrize("idea", ["draw", "more", "different"])
def test_new_ideas_leave_alone_what_stays_and_repeat_nothing(state, palette, idea):
    source = state.shown[0]
    state = choices.let_stay(state, 0, source.colourway.ground)
    state = choices.let_stay(state, 2, source.colourway.stripes[1]).with_(seed=5)
    after = {
        "draw": lambda: ideas.draw(state),
        "more": lambda: ideas.more_like(state, source.number),
        "different": lambda: ideas.different(state),
    }[idea]()
    assert len(after.shown) > 5
    assert len(cloths(after)) == len(after.shown)
    for card in after.shown:
        assert card.colourway.ground.rgb == source.colourway.ground.rgb
        assert card.colourway.stripes[1].rgb == source.colourway.stripes[1].rgb


def test_what_was_let_stay_is_let_go_of_without_a_trace(state):
    colour = state.shown[0].colourway.stripes[2]
    staying = choices.let_stay(state, 3, colour)
    assert staying.staying_stripes == (None, None, colour)
    assert choices.let_stay(staying, 3, None) == state


def changes(one, other):
    """Count changed stripes and ground; two stripes changing places count as one change."""
    moved = [a.rgb != b.rgb for a, b in zip(one.stripes, other.stripes, strict=True)]
    same_colours = {s.rgb for s in one.stripes} == {s.rgb for s in other.stripes}
    stripes = 1 if same_colours and sum(moved) == 2 else sum(moved)
    return stripes + (one.ground.rgb != other.ground.rgb)


def test_more_like_begins_with_its_source_then_one_change_away(state, palette):
    source = state.shown[7]
    after = ideas.more_like(state, source.number)
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
    like = ideas.more_like(state, state.shown[0].number)
    there = oklab_ground_spread(like)

    def least(after):
        steps = oklab_ground_spread(after)[:, None] - there[None]
        return np.sqrt((steps**2).sum(-1)).min(axis=1).mean()

    fresh = ideas.different(like)
    plain = np.mean([least(ideas.draw(like.with_(seed=s))) for s in range(20, 30)])
    assert least(fresh) > plain


def test_most_stripes_counts_ground_and_what_stays(state, palette):
    assert ideas.most_stripes(state) == 8
    assert ideas.most_stripes(state.with_(ground="Soot")) == 7
    staying = state.with_(staying_stripes=(palette["Flour"],))
    assert ideas.most_stripes(staying) == 9
