"""Finding without a browser: the same answers as looking at every colourway, stop, faults, undo."""

from __future__ import annotations

import asyncio
import time
from itertools import combinations, permutations
from threading import Event

import numpy as np
import pytest
from asking import ask

from checkcloth import Colourway, Palette, delta_e_2000, score, see_as, srgb_to_lab
from checkcloth.desk import finder
from checkcloth.desk.finder import Found, find
from checkcloth.desk.state.finding import ASKED, EYES, GOALS, deal_found, finding
from checkcloth.desk.state.requests import handle
from checkcloth.errors import ArgumentError
from checkcloth.ideas.variants import best_order, ring
from checkcloth.scoring.harmony import two_colour_harmony
from checkcloth.scoring.pairs import named_pairs
from checkcloth.scoring.vocabulary import COLUMNS
from checkcloth.search import CONDITIONS, estimate, farthest_points, tone_positions


def look_for(state, **request):
    sought = finding(state, request)
    return sought, find(sought, lambda *_: None, Event())


def every_colourway(state, strengths=(0.5,)):
    """Every choice of stripes on every ground, in the order of the palette: nothing searched."""
    palette = state.chosen_palette
    return [
        Colourway(ground, stripes, strength)
        for ground in palette.grounds
        for strength in strengths
        for stripes in combinations(palette.stripes, state.stripes)
    ]


def clearness(colourway, visions=("normal",)):
    return min(float(score(colourway, vision).least_edge) for vision in visions)


def choice(colourway):
    return (
        colourway.ground.rgb,
        frozenset(stripe.rgb for stripe in colourway.stripes),
        colourway.strength,
    )


@pytest.mark.parametrize(("goal", "visions"), [("clear", ()), ("every_eye", EYES)])
@pytest.mark.parametrize("strengths", [None, [0.3, 0.7]])
def test_the_clearest_are_those_that_looking_at_every_one_finds(state, goal, visions, strengths):
    sought, found = look_for(state, goal=goal, count=20, strengths=strengths)
    every = every_colourway(state, strengths or (0.5,))
    assert sought.wanted.count == len(every) == estimate(sought.wanted).colourways
    seen = ("normal", *visions)
    values = sorted((clearness(one, seen) for one in every), reverse=True)[:20]
    assert [clearness(one, seen) for one in found.colourways] == pytest.approx(values)
    assert len({choice(one) for one in found.colourways}) == 20


@pytest.mark.parametrize("name", ASKED)
def test_what_is_asked_holds_in_all_that_is_found_and_nothing_that_holds_is_missing(state, name):
    kind, by, _ = CONDITIONS[name]
    kinds = ("ground_single", "single_crossing") if kind == "least_edge" else (kind,)

    def least(one):
        if by == "harmony":  # no score of pairs
            pairs, seen = named_pairs(one, "edges"), [one.tones, see_as(one.tones, "deutan")]
            ends = [
                [srgb_to_lab(tones[*end.T]) for end in (pairs.one, pairs.two)] for tones in seen
            ]
            return min(float(two_colour_harmony(*both).min()) for both in ends)
        return min(
            float(getattr(getattr(score(one, vision), part), f"least_{by}"))
            for vision in ("normal", "deutan")
            for part in kinds
        )

    every = every_colourway(state)
    limit = float(np.quantile([least(one) for one in every], 0.7))
    _, found = look_for(state, count=5000, at_least={name: limit}, visions=["deutan"])
    assert {choice(one) for one in found.colourways} == {
        choice(one) for one in every if least(one) >= limit
    }
    assert len(found.colourways) > 5


def test_the_most_unlike_begin_with_the_clearest_and_lie_far_apart(state):
    _, found = look_for(state, goal="unlike", count=8)
    every = sorted(every_colourway(state), key=clearness, reverse=True)
    points = tone_positions(every)
    picks, _ = farthest_points(points, 8)
    assert [choice(one) for one in found.colourways] == [choice(every[i]) for i in picks]


def test_stripes_come_in_the_order_that_reads_best_and_what_stays_stays(state, palette):
    _, found = look_for(state.with_(stripes=5), count=10)
    assert found.colourways == [best_order(one) for one in found.colourways]
    held = state.with_(
        stripes=4, staying_ground=palette["Night"], staying_stripes=(None, palette["Weir"], None)
    )
    sought, found = look_for(held, count=50)
    assert sought.wanted.count == len(found.colourways) == 35  # 7 other colours in 3 stripes
    for one in found.colourways:
        assert one.ground.name == "Night"
        assert one.stripes[1].name == "Weir"
        assert len({stripe.rgb for stripe in one.stripes}) == 4


def test_what_was_found_is_one_step_with_the_settings_it_was_found_by(state, palette):
    sought, found = look_for(state, count=12, strengths=[0.7])
    other = state.with_(sort="evenness", stripes=2, strength=0.2)
    after = deal_found(other, sought, found.colourways, found.origin)
    assert [card.colourway for card in after.shown] == found.colourways
    assert (after.stripes, after.strength, after.sort) == (3, 0.7, "")
    assert after.source == "clearest of 112"
    assert after.dealt == "clearest of 112 from halt"
    origin = after.shown[4].origin
    assert (origin["from"], origin["goal"], origin["place"]) == ("search", "clearest of 112", 5)
    several, found = look_for(state, count=12, strengths=[0.3, 0.7])
    after = deal_found(state, several, found.colourways, found.origin)
    assert after.strength is None
    assert handle(after, {"do": "draw"})[0].source == ""
    # A palette that was taken away meanwhile is not chosen again.
    gone = state.with_(palettes=(Palette("others", ["#fff", "#123", "#a31", "#283"]),), palette="")
    assert deal_found(gone, sought, found.colourways, {}).chosen_palette.name == "others"


def test_where_nothing_holds_each_offer_is_a_value_at_which_something_does(state):
    asked = {"ground_apart": 60.0, "crossings_apart": 3.0}
    _, found = look_for(state, at_least=asked)
    assert found.colourways == []
    assert found.offers
    for offer in found.offers:
        assert offer["words"]
        # Some, and not one alone: two dozen, and what ties with them once rounded down.
        assert 24 <= len(look_for(state, at_least=offer["at_least"])[1].colourways) < 60
    # Two that each are too much: no one of them alone helps, all of them lowered together do.
    _, found = look_for(state, at_least={"ground_apart": 99.0, "crossings_apart": 99.0})
    (together,) = found.offers
    assert set(together["at_least"]) == {"ground_apart", "crossings_apart"}
    assert look_for(state, at_least=together["at_least"])[1].colourways


@pytest.mark.parametrize(
    ("field", "request_"),
    [
        ("goal", {"goal": "loudest"}),
        ("count", {"count": 0}),
        ("count", {"count": 5001}),
        ("at_least", {"at_least": {"brightness": 3}}),
        ("at_least", {"at_least": [3]}),
        ("ground_apart", {"at_least": {"ground_apart": 101}}),
        ("ground_apart", {"at_least": {"ground_apart": "much"}}),
        ("strengths", {"strengths": [1.5]}),
        ("strengths", {"strengths": "all"}),
        ("visions", {"visions": ["owl"]}),
    ],
)
def test_what_cannot_be_looked_for_names_its_field(state, field, request_):
    with pytest.raises(ArgumentError) as caught:
        finding(state, request_)
    assert caught.value.argument == field


# -- on a desk -----------------------------------------------------------------------------------


async def until_still(desk):
    for _ in range(400):
        await asyncio.sleep(0.02)
        if not desk.finder.running:
            return
    raise AssertionError("the search goes on and on")


def test_the_desk_says_how_many_finds_them_and_undoes_that_as_one(desk):
    before = desk.state
    assert ask(desk, "find_estimate")["total"] == 112

    async def search():
        assert ask(desk, "find", goal="clear", count=5000) == {"id": "1"}
        assert desk.widget.find["running"]
        await until_still(desk)

    asyncio.run(search())
    assert not desk.widget.find["running"]
    assert len(desk.state.shown) == 112
    assert desk.widget.facts["source"] == "clearest of 112"
    assert list(desk.widget.order) == list(range(112))
    edges = desk.scores()["least_edge"]
    assert (np.diff(edges) <= 1e-9).all()
    assert desk.undo() == "clearest of 112"
    assert desk.state == before


def test_the_choices_are_worded_once(desk):
    found = desk.widget.choices["find"]
    assert [key for key, _ in found["goals"]] == list(GOALS)
    assert [name for name, *_ in found["conditions"]] == list(ASKED)
    words = dict(entry[:2] for entry in found["conditions"])
    pair = COLUMNS["ground_single_least_de2000"].partition(":")[0]
    assert words["ground_apart"].startswith(pair)


class Slow:
    """Stands for a search that takes a while: it goes on until it is let go or stopped."""

    def __init__(self, monkeypatch, ends):
        self.go, self.begun, self.ends = Event(), Event(), ends
        monkeypatch.setattr(finder, "find", self)

    def __call__(self, sought, progress, stop):
        self.begun.set()
        end = time.monotonic() + 30  # a test that failed meanwhile is not waited for
        while not self.go.is_set() and time.monotonic() < end:
            progress(1, 4, "looked at")
            if stop.wait(0.01):
                raise finder.StoppedError
        if isinstance(self.ends, Exception):
            raise self.ends
        return self.ends


def test_a_stopped_search_leaves_the_wall_as_it_was_and_the_desk_answers_meanwhile(
    desk, monkeypatch
):
    slow = Slow(monkeypatch, Found([], {}, []))
    before = desk.state

    async def search():
        ask(desk, "find")
        while desk.widget.find["share"] != 0.25:
            await asyncio.sleep(0.01)
        assert desk.widget.find["words"].startswith("25 % looked at")
        assert ask(desk, "look", number=desk.state.shown[0].number)["title"]
        assert desk.widget.find["share"] == 0.25, "the search had not ended before the answer"
        assert not slow.go.is_set()
        assert "one search at a time" in ask(desk, "find")["error"]
        ask(desk, "stop_find")
        await until_still(desk)

    asyncio.run(search())
    assert slow.begun.is_set()
    assert desk.state is before
    assert desk.widget.find["words"] == "Stopped; the wall is as it was."


def test_what_was_done_meanwhile_stays_done(desk, monkeypatch):
    slow = Slow(monkeypatch, Found([Colourway("white", ["navy", "teal", "gold"])], {}, []))

    async def search():
        ask(desk, "find")
        await asyncio.sleep(0.05)
        ask(desk, "keep", number=desk.state.shown[3].number)
        slow.go.set()
        await until_still(desk)

    asyncio.run(search())
    assert len(desk.state.kept) == len(desk.state.shown) == 1
    desk.undo()
    assert len(desk.state.kept) == 1


def test_a_fault_is_said_kept_and_costs_nothing(desk, monkeypatch):
    slow = Slow(monkeypatch, ZeroDivisionError("seven"))
    before = desk.state

    async def search():
        ask(desk, "find")
        slow.go.set()
        await until_still(desk)

    asyncio.run(search())
    assert desk.state is before
    assert desk.widget.find["wrong"]
    assert "ZeroDivisionError" in desk.troubles[-1]


def test_a_desk_that_was_closed_takes_nothing_in(desk, monkeypatch):
    slow = Slow(monkeypatch, Found([Colourway("white", ["navy"])], {}, []))

    async def search():
        ask(desk, "find")
        await asyncio.sleep(0.05)
        slow.go.set()
        desk.retire()
        await until_still(desk)

    asyncio.run(search())
    assert len(desk.state.shown) > 1


def test_nothing_found_offers_what_would_be_and_leaves_the_wall(desk):
    before = desk.state
    ask(desk, "find", at_least={"ground_apart": 99})
    told = desk.widget.find
    assert told["words"] == "None of 112 holds all of that."
    assert desk.state is before
    assert "error" not in ask(desk, "find", at_least=told["offers"][0]["at_least"])
    assert desk.state is not before


# -- in bands that are not even ------------------------------------------------------------------


def every_cloth(state, check):
    """Every distinct colourway in the bands of a check, nothing searched."""
    palette, seen = state.chosen_palette, {}
    for ground in palette.grounds:
        for row in permutations(palette.stripes, state.stripes):
            one = Colourway(ground, row, 0.5)
            seen.setdefault((ground.rgb, ring(row, check)), one)
    return [*seen.values()]


def clearness_in(check):
    def clear(one):
        pairs = named_pairs(one, "edges", check)
        return float(delta_e_2000(srgb_to_lab(one.tones[*pairs.one.T]),
                                  srgb_to_lab(one.tones[*pairs.two.T])).min())  # fmt: skip

    return clear


@pytest.mark.parametrize(
    ("bands", "weft"),
    [("2 A, 1 B, 1 ground, 1 A, 1 C", ""), ("graduated", "1 C, 1 B, 2 ground, 1 A")],
)
def test_in_other_bands_the_clearest_are_measured_as_they_lie(state, bands, weft):
    state = state.with_(bands=bands, weft=weft)
    check = state.check
    sought, found = look_for(state, count=15)
    every = every_cloth(state, check)
    assert sought.wanted.count == len(every)
    assert sought.words == f"clearest of {len(every)} in these bands"
    # Each choice of colours once, in its best order.
    best = {}
    for one in every:
        best[choice(one)] = max(best.get(choice(one), 0), clearness_in(check)(one))
    values = sorted(best.values(), reverse=True)[:15]
    assert [clearness_in(check)(one) for one in found.colourways] == pytest.approx(values)
    assert len({choice(one) for one in found.colourways}) == 15
    after = deal_found(state, sought, found.colourways, found.origin)
    assert after.check == check
    assert after.source == sought.words


def test_in_other_bands_what_stays_stands_where_it_stands(state, palette):
    state = state.with_(bands="2 A, 1 B, 1 ground, 1 A, 1 C")
    stripes = (None, palette["Weir"], None)
    held = state.with_(staying_ground=palette["Night"], staying_stripes=stripes)
    sought, found = look_for(held, count=100)
    every = [one for one in every_cloth(held, held.check)
             if one.ground.name == "Night" and one.stripes[1].name == "Weir"]  # fmt: skip
    assert sought.wanted.count == len(every)
    assert {choice(one) for one in found.colourways} == {choice(one) for one in every}
    assert all(one.stripes[1].name == "Weir" for one in found.colourways)
    value = max(map(clearness_in(held.check), every))
    assert clearness_in(held.check)(found.colourways[0]) == pytest.approx(value)


def test_where_the_order_does_not_count_it_is_one_to_look_at(state):
    sought, found = look_for(state.with_(stripes=5, bands="graduated"), count=10)
    assert not sought.laid_as_found
    plain = look_for(state.with_(stripes=5), count=10)[1]
    assert found.colourways == plain.colourways
    unlike = look_for(state.with_(bands="double"), goal="unlike", count=6)[1]
    assert len({choice(one) for one in unlike.colourways}) == 6


def test_what_of_the_bands_is_not_searched_is_said(state):
    loose = state.with_(bands="2 A, 1 ground")
    sought, found = look_for(loose, count=3)
    assert sought.wanted.bands is None
    assert sought.words.endswith(", measured as even checks: a stripe is not laid")
    assert found.colourways == look_for(state, count=3)[1].colourways
    loose = state.with_(bands="graduated", weft="1 A, 1 ground", weft_colours=2, wefts=2)
    sought, _ = look_for(loose, count=3)
    assert sought.words.endswith(
        " with their own wefts, measured as even checks: a stripe is not laid"
    )


# -- with wefts of their own ---------------------------------------------------------------------


def every_with_wefts(state, wefts, check=None):
    """Every distinct cloth whose weft has colours that the warp has not, nothing searched."""
    palette, seen = state.chosen_palette, {}
    written = combinations if check is None else permutations
    for ground in palette.grounds:
        for row in written(palette.stripes, state.stripes):
            for weft in written([one for one in palette.stripes if one not in row], wefts):
                one = Colourway(ground, row, 0.5, weft_stripes=weft)
                seen.setdefault((ground.rgb, ring(row, check, weft) if check else one), one)
    return [*seen.values()]


def both_ways(one):
    wefts = frozenset(stripe.rgb for stripe in one.weft_stripes)
    return (*choice(one), wefts)


@pytest.mark.parametrize("wefts", [1, 2, 3])
def test_wefts_are_dealt_as_draws_have_them_and_measured_as_they_are(state, wefts):
    own = handle(state, {"do": "weft_colours", "value": wefts})[0]
    sought, found = look_for(own, count=20)
    every = every_with_wefts(own, wefts)
    assert sought.wanted.count == len(every)
    assert sought.words == f"clearest of {len(every):,} with their own wefts"
    values = sorted(map(clearness, every), reverse=True)[:20]
    assert [clearness(one) for one in found.colourways] == pytest.approx(values)
    assert len({both_ways(one) for one in found.colourways}) == 20
    assert {len(one.weft_stripes) for one in found.colourways} == {wefts}
    after = deal_found(state, sought, found.colourways, found.origin)
    assert [card.colourway for card in after.shown] == found.colourways
    assert (after.weft_colours, after.check.weft_stripes) == (wefts, wefts)
    # The next draw goes on so; a weft as the warp comes with a search of it.
    assert {
        len(card.colourway.weft_stripes) for card in handle(after, {"do": "draw"})[0].shown
    } == {wefts}
    plain, found = look_for(state, count=20)
    assert "wefts" not in plain.words
    assert deal_found(after, plain, found.colourways, {}).weft_colours == 0


@pytest.mark.parametrize("goal", ["every_eye", "unlike"])
def test_wefts_of_their_own_and_every_goal(state, goal, palette):
    held = state.with_(
        stripes=3, weft_colours=2, staying_ground=palette["Night"],
        staying_stripes=(None, palette["Weir"], None),
    )  # fmt: skip
    sought, found = look_for(held, goal=goal, count=12, at_least={"crossings_apart": 3})
    assert len(found.colourways) == 12
    for one in found.colourways:
        assert one.stripes[1].name == "Weir"
        assert len(one.weft_stripes) == 2
        assert float(score(one).single_crossing.least_de2000) >= 3
    seen = ("normal", *EYES) if goal == "every_eye" else ("normal",)
    every = [one for one in every_with_wefts(held, 2)
             if one.ground.name == "Night" and "Weir" in {s.name for s in one.stripes}]  # fmt: skip
    assert sought.wanted.count == len(every)
    assert clearness(found.colourways[0], seen) == pytest.approx(
        max(clearness(one, seen) for one in every
            if all(score(one, eye).single_crossing.least_de2000 >= 3 for eye in seen))
    )  # fmt: skip


def test_wefts_of_their_own_in_bands_lie_as_they_were_found(state):
    own = state.with_(
        bands="2 A, 1 B, 1 ground, 1 A, 1 C", weft="2 A, 1 B", weft_colours=2, wefts=2
    )
    check = own.check
    sought, found = look_for(own, count=10)
    every = every_with_wefts(own, 2, check)
    assert sought.wanted.count == len(every)
    assert sought.words == f"clearest of {len(every):,} in these bands with their own wefts"
    best = {}
    for one in every:
        best[both_ways(one)] = max(best.get(both_ways(one), 0), clearness_in(check)(one))
    values = sorted(best.values(), reverse=True)[:10]
    assert [clearness_in(check)(one) for one in found.colourways] == pytest.approx(values)
    after = deal_found(own, sought, found.colourways, found.origin)
    assert after.check == check
