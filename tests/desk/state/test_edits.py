"""Editing by hand against a naive model: plain lists, changed in place, thousands of steps."""

from __future__ import annotations

import copy
import random
from dataclasses import replace

import pytest
from asking import ask_state as ask
from coloraide import Color

from checkcloth import Colourway, Length, NamedColour, Palette
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.desk.state import choices, edits, ideas
from checkcloth.desk.state.requests import handle, held_words, undo_group
from checkcloth.desk.state.state import MOST_SHOWN, DeskState, History, short_name
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.ideas.variants import ring

# CSS Color 4, section 6.1, from memory; checked against coloraide by tests/colour.
CSS = {"navy": "#000080", "Gold": "#ffd700", "c09fd4": "#c09fd4", "#F2B084": "#f2b084"}
NUDGES = {"lightness": ("l", 0.025), "chroma": ("c", 0.012), "hue": ("h", 7.5)}


def look(colourway):
    return [colour.hex for colour in (colourway.ground, *colourway.stripes)]


# -- the model ----------------------------------------------------------------------------------


class RefusedError(Exception):
    """The model does not take a request; its field."""


def need(holds, field):
    if not holds:
        raise RefusedError(field)


class Naive:
    """Cards as dicts of rgb lists (the ground first), changed in place."""

    def __init__(self, state):
        self.palette = [colour.rgb for colour in state.palettes[0]]
        self.names = {colour.name.lower(): colour.rgb for colour in state.palettes[0]}
        self.stripe_colours = [c.rgb for c in state.palettes[0] if c.role != "ground"]
        self.strength, self.mixing = state.strength, state.mixing
        self.held, self.kept, self.after = {}, [], state
        self.next = state.next_number
        self.take_wall(state)

    def take_wall(self, state):
        self.wall = [self.card(card) for card in state.shown]
        self.next = state.next_number

    @staticmethod
    def card(card):
        rgb = [colour.rgb for colour in (card.colourway.ground, *card.colourway.stripes)]
        return {"number": card.number, "rgb": rgb, "strength": card.colourway.strength,
                "mixing": card.colourway.mixing, "own": card.own}  # fmt: skip

    def shown(self, card):
        """How a wall card looks: strength and mixing of the desk, but its own by hand."""
        if card["own"]:
            return card["strength"], card["mixing"]
        strength = card["strength"] if self.strength is None else self.strength
        return strength, self.mixing or card["mixing"]

    def find(self, number):
        for card in (*self.kept, *self.wall):
            if card["number"] == number:
                return card
        raise RefusedError("number")

    def edited(self, number):
        """The card, made its own as it looks now."""
        card = self.find(number)
        if card in self.wall:
            card["strength"], card["mixing"] = self.shown(card)
            card["own"] = True
        return card

    def colour(self, request):
        if "text" in request:
            typed = request["text"]
            rgb = self.names.get(typed.lower())
            if rgb is None:
                need(typed in CSS, "text")
                rgb = tuple(Color(CSS[typed]).coords())
            return rgb
        need(request["palette"] == "halt", "palette")
        need(0 <= request["index"] < len(self.palette), "index")
        return self.palette[request["index"]]

    def stays_of(self, card):
        return [self.held.get(part) == rgb for part, rgb in enumerate(card["rgb"])]

    def change(self, request, edit):
        """Edit a list of (rgb, stays): what stays goes along with its part."""
        before = self.find(request["number"])
        parts = [list(pair) for pair in zip(before["rgb"], self.stays_of(before), strict=True)]
        stayed = [part for part, (_, stays) in enumerate(parts) if stays]
        edit(parts)
        rgb = [colour for colour, _ in parts]
        if rgb == before["rgb"]:
            return
        self.edited(request["number"])["rgb"] = rgb
        for part in stayed:
            del self.held[part]
        self.held |= {part: colour for part, (colour, stays) in enumerate(parts) if stays}

    def do(self, request):
        getattr(self, request["do"])(request)

    def colour_(self, request):
        rgb = self.colour(request)

        def edit(parts):
            need(0 <= request["part"] < len(parts), "part")
            parts[request["part"]][0] = rgb

        self.change(request, edit)

    def nudge(self, request):
        def edit(parts):
            need(0 <= request["part"] < len(parts), "part")
            need(request["axis"] in NUDGES, "axis")
            need(-40 <= request["steps"] <= 40, "steps")
            channel, size = NUDGES[request["axis"]]
            moved = Color("srgb", parts[request["part"]][0]).convert("oklch")
            moved[channel] += size * request["steps"]
            moved["l"], moved["c"] = min(max(moved["l"], 0), 1), max(moved["c"], 0)
            moved.fit("srgb", method="oklch-chroma", jnd=0)
            if request["steps"]:
                cloth = self.after.find(request["number"]).colourway
                exact = (cloth.ground, *cloth.stripes)[request["part"]].rgb
                assert moved.convert("srgb").coords(nans=False) == pytest.approx(exact, abs=1e-6)
                parts[request["part"]][0] = exact  # last digits and all

        self.change(request, edit)

    def order(self, request):
        def edit(parts):
            need(1 <= request["stripe"] < len(parts), "stripe")
            need(1 <= request["to"] < len(parts), "to")
            parts.insert(request["to"], parts.pop(request["stripe"]))

        self.change(request, edit)

    def swap(self, request):
        def edit(parts):
            first, second = request["first"], request["second"]
            need(1 <= first < len(parts), "first")
            need(1 <= second < len(parts), "second")
            parts[first], parts[second] = parts[second], parts[first]

        self.change(request, edit)

    def add_stripe(self, request):
        rgb = self.colour(request) if "text" in request or "palette" in request else None

        def edit(parts):
            need(len(parts) <= 24, "stripes")
            at = request.get("at", len(parts))
            need(1 <= at <= len(parts), "at")
            used = [colour for colour, _ in parts[1:]]
            free = [colour for colour in self.stripe_colours if colour not in used]
            parts.insert(at, [rgb or (free or self.stripe_colours)[0], False])

        self.change(request, edit)

    def copy_stripe(self, request):
        def edit(parts):
            need(1 <= request["stripe"] < len(parts), "stripe")
            need(len(parts) <= 24, "stripes")
            parts.insert(request["stripe"] + 1, list(parts[request["stripe"]]))

        self.change(request, edit)

    def remove_stripe(self, request):
        def edit(parts):
            need(1 <= request["stripe"] < len(parts), "stripe")
            need(len(parts) > 2, "stripe")
            del parts[request["stripe"]]

        self.change(request, edit)

    def own(self, request):
        self.find(request["number"])
        need("strength" in request or "mixing" in request, "strength")
        need(0 <= request.get("strength", 0) <= 1, "strength")
        need(request.get("mixing", "woven") in MIXINGS, "mixing")
        card = self.edited(request["number"])
        card |= {name: request[name] for name in ("strength", "mixing") if name in request}

    def stays(self, request):
        card = self.find(request["number"])
        part = request["part"]
        need(0 <= part < len(card["rgb"]), "part")
        if request["stays"]:
            self.held[part] = card["rgb"][part]
        elif self.stays_of(card)[part]:
            del self.held[part]

    def strength_(self, request):
        self.strength = request["value"]

    def mixing_(self, request):
        self.mixing = request["value"] or None

    def keep(self, request):
        on_wall = [card for card in self.wall if card["number"] == request["number"]]
        need(on_wall, "number")
        card = copy.deepcopy(on_wall[0])
        card["strength"], card["mixing"] = self.shown(on_wall[0])
        if not self.is_kept(on_wall[0]):
            self.kept.append(card | {"number": self.next, "own": False, "family": ""})
            self.next += 1

    def is_kept(self, card):
        return any(self.same(kept, card) for kept in self.kept)

    def same(self, kept, card):
        looks = self.shown(card) if card in self.wall else (card["strength"], card["mixing"])
        return (kept["rgb"], (kept["strength"], kept["mixing"])) == (card["rgb"], looks)

    def copy(self, request):
        index = self.index_kept(request["number"])
        sibling = copy.deepcopy(self.kept[index]) | {"number": self.next}
        self.kept.insert(index + 1, sibling)
        self.next += 1

    def index_kept(self, number):
        for index, card in enumerate(self.kept):
            if card["number"] == number:
                return index
        for wall in self.wall:
            for index, card in enumerate(self.kept):
                if wall["number"] == number and self.same(card, wall):
                    return index
        raise RefusedError("number")

    def family(self, request):
        self.find(request["number"])
        try:
            index = self.index_kept(request["number"])
        except RefusedError:
            self.keep(request)
            index = -1
        self.kept[index]["family"] = request["family"]

    def members(self, family):
        found = [card for card in self.kept if card["family"] == family]
        need(found, "family")
        return found

    def name_family(self, request):
        need(request["family"], "family")
        need(request["name"], "name")
        for card in self.members(request["family"]):
            card["family"] = request["name"]

    def all_of(self, request):
        need(0 <= request["strength"] <= 1, "strength")
        for card in self.members(request["family"]):
            card["strength"] = request["strength"]

    def recolour(self, request):
        old = tuple(Color(request["from"]).coords())
        new = self.colour(request)
        found = [c for c in self.kept if any(self.hex(rgb) == self.hex(old) for rgb in c["rgb"])]
        need(found, "from")
        for card in found:
            card["rgb"] = [new if self.hex(c) == self.hex(old) else c for c in card["rgb"]]

    @staticmethod
    def hex(rgb):
        return "#" + "".join(f"{int(255 * channel + 0.5):02x}" for channel in rgb)

    def empty(self, request):
        need(1 <= request["stripes"] <= 24, "stripes")


SAME = {"colour": "colour_", "strength": "strength_", "mixing": "mixing_"}


def check(model, state):
    """Everything that is shown and kept is as the model has it."""
    for cards, mine in ((state.shown, model.wall), (state.kept, model.kept)):
        assert [card.number for card in cards] == [card["number"] for card in mine]
        for card, plain in zip(cards, mine, strict=True):
            rgb = [c.rgb for c in (card.colourway.ground, *card.colourway.stripes)]
            assert rgb == plain["rgb"]
            assert (card.colourway.strength, card.colourway.mixing) == (
                plain["strength"], plain["mixing"])  # fmt: skip
    assert [card.own for card in state.shown] == [card["own"] for card in model.wall]
    assert [card.family for card in state.kept] == [card["family"] for card in model.kept]
    staying = {part: colour.rgb for part, colour in enumerate(state.staying_stripes, 1) if colour}
    if state.staying_ground is not None:
        staying[0] = state.staying_ground.rgb
    assert staying == model.held
    assert state.next_number == model.next


def random_edit(state, rng):
    """Any request by hand; about one in six asks for what cannot be."""
    cards = [*state.shown[:3], *state.kept, *[card for card in state.shown if card.own]]
    number = rng.choice([*[card.number for card in cards], 10**6])
    many = len(rng.choice(cards).colourway.stripes)
    stripe, other = rng.randrange(0, many + 2), rng.randrange(1, many + 1)
    text = {"text": rng.choice(["Weir", "heather", *CSS, "peachy"])}
    swatch = {"palette": rng.choice(["halt", "halt", "nowhere"]), "index": rng.randrange(-1, 11)}
    colour = rng.choice([text, swatch])
    family = {"family": rng.choice(["", "Violet", "Porch"])}
    strength = {"strength": rng.choice([0, 0.2, 0.5, 1, 1.1])}
    request = rng.choice([
        {"do": "colour", "number": number, "part": stripe, **colour},
        {"do": "colour", "number": number, "part": stripe, **colour},
        {"do": "nudge", "number": number, "part": stripe, "steps": rng.choice([-3, 0, 1, 41]),
         "axis": rng.choice([*NUDGES, "salt"])},
        {"do": "order", "number": number, "stripe": stripe, "to": other},
        {"do": "swap", "number": number, "first": other, "second": stripe},
        {"do": "add_stripe", "number": number, **rng.choice([{}, {"at": stripe}, colour])},
        {"do": "copy_stripe", "number": number, "stripe": stripe},
        {"do": "remove_stripe", "number": number, "stripe": stripe},
        {"do": "remove_stripe", "number": number, "stripe": other},
        {"do": "own", "number": number, **rng.choice([strength, {}, {"mixing": "soup"},
                                                      {"mixing": "woven"}])},
        {"do": "stays", "number": number, "part": stripe, "stays": rng.random() < 0.7},
        {"do": "strength", "value": rng.choice([None, 0.2, 0.9])},
        {"do": "mixing", "value": rng.choice(["", "woven", "pigment"])},
        {"do": "keep", "number": number}, {"do": "copy", "number": number},
        {"do": "family", "number": number, **family},
        {"do": "name_family", "name": rng.choice(["Porch", "Lamp", ""]), **family},
        {"do": "all_of", **family, **strength},
        {"do": "recolour", "from": rng.choice(["#2d7d74", "#7a4f8a", "#123456"]), **colour},
        {"do": "empty", "stripes": rng.choice([0, 1, 6, 25])},
        {"do": "draw"},
    ])  # fmt: skip
    return request


def follow(model, request, before, after):
    """Take the model along; what is dealt is taken in, once it is seen that what is own stays."""
    model.after = after
    if request["do"] == "draw":
        own = [card for card in before.shown if card.own and not before.kept_as(card)]
        assert list(after.shown[: len(own)]) == own
        assert not any(card.own for card in after.shown[len(own) :])
        model.take_wall(after)
    elif request["do"] == "empty":
        model.do(request)
        first, *others = after.shown
        assert others == list(before.shown)
        assert (first.own, len(first.colourway.stripes)) == (True, request["stripes"])
        model.take_wall(after)
    else:
        getattr(model, SAME.get(request["do"], request["do"]))(request)


@pytest.mark.parametrize("seed", range(8))
def test_any_run_of_edits_is_what_a_naive_model_says_undone_and_done_again(state, seed):
    """4,000 steps in all."""
    rng, history, states, refused = random.Random(seed), History(state), [state], 0
    model = Naive(state)
    for _ in range(500):
        before, request = history.now, random_edit(history.now, rng)
        try:
            after, words = handle(before, request)
        except CheckclothError as error:
            refused += 1
            with pytest.raises(RefusedError, match=f"^{error.argument}$"):
                follow(model, request, before, before)
            check(model, before)
            continue
        follow(model, request, before, after)
        assert words
        check(model, after)
        if after != before:
            states.append(after)
        history = history.step(after, words)
    assert len(states) > 150
    assert refused > 50
    for expected in reversed(states[-len(history.past) - 1 :]):
        assert history.now == expected
        history = history.undo()
    assert not history.past
    while history.future:
        history = history.redo()
    assert history.now == states[-1]


# -- words and rules, one by one ----------------------------------------------------------------


def test_steps_are_said_as_a_designer_would(state):
    number = state.shown[0].number
    said = []
    for what, fields in (
        ("colour", {"part": 3, "text": "Weir"}),
        ("order", {"stripe": 3, "to": 1}),
        ("swap", {"first": 3, "second": 2}),
        ("remove_stripe", {"stripe": 1}),
        ("nudge", {"part": 0, "axis": "lightness", "steps": -1}),
        ("own", {"strength": 0.2}),
    ):
        state, words = ask(state, what, number=number, **fields)
        said.append(words)
    ground = state.shown[0].colourway.ground.name.removesuffix(", darker")
    assert said == [
        "Stripe 3 is Weir", "Weir moved to stripe 1", "Stripes 2 and 3 swapped",
        "Stripe 1, Weir, removed", f"Ground is {ground}, darker", "This one at 20 %",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("fields", "argument"),
    [
        ({"do": "colour", "part": 1}, "palette"),
        ({"do": "colour", "part": "1", "text": "red"}, "part"),
        ({"do": "colour", "part": 1, "text": ["red"]}, "text"),
        ({"do": "colour", "part": 1, "text": "r" * 201}, "text"),
        ({"do": "colour", "part": 1, "palette": "halt", "index": 10}, "index"),
        ({"do": "colour", "part": 1, "palette": "halt", "index": True}, "index"),
        ({"do": "nudge", "part": 1, "axis": "hue", "steps": 0.5}, "steps"),
        ({"do": "order", "stripe": 1}, "to"),
        ({"do": "stays", "part": 1, "stays": 1}, "stays"),
        ({"do": "own", "strength": "x"}, "strength"),
        ({"do": "own", "mixing": 3}, "mixing"),
        ({"do": "empty", "stripes": None}, "stripes"),
        ({"do": "family", "family": None}, "family"),
        ({"do": "family", "family": "two\nlines"}, "family"),
        ({"do": "recolour", "text": "red"}, "from"),
        ({"do": "keep_derived"}, "stripes"),
        ({"do": "keep_derived", "stripes": 3}, "stripes"),
        ({"do": "keep_derived", "strength": 0.5}, "strength"),
        ({"do": "keep_derived", "order": True}, "order"),
        ({"do": "keep_derived", "grounds": "all"}, "grounds"),
        ({"do": "put_away"}, "number"),
    ],
)
def test_what_is_wrong_is_named_by_its_field_and_changes_nothing(state, fields, argument):
    before = copy.copy(state)
    with pytest.raises(CheckclothError) as caught:
        handle(state, {"number": state.shown[0].number, **fields})
    assert caught.value.argument == argument
    assert state == before


def test_a_name_is_sought_in_the_palette_of_the_swatches_first(state, palette):
    moor = Palette("moor", [NamedColour.of("#112233", "Weir"), NamedColour.of("#445566", "Fen")])
    state = state.with_(palettes=(palette, moor))
    number = state.shown[0].number

    def put(**fields):
        after, _ = ask(state, "colour", number=number, part=1, **fields)
        return after.find(number).colourway.stripes[0].hex

    assert put(text="weir") == "#2d7d74"
    assert put(text="weir", palette="moor") == "#112233"
    assert put(text=" fen ") == "#445566", "no such name nearer"


def test_a_run_of_nudges_is_one_step_and_another_part_the_next(state):
    number = state.shown[4].number
    history = History(state)

    def nudge(history, part, steps):
        request = {"do": "nudge", "number": number, "part": part, "axis": "hue", "steps": steps}
        after, words = handle(history.now, request)
        return history.step(after, words, undo_group(request))

    for part in (1, 1, 1, 2, 2):
        history = nudge(history, part, 1)
    assert len(history.past) == 2
    assert history.undo().undo().now == state
    drag = {"do": "own", "number": number, "strength": 0.3}
    for strength in (0.3, 0.4):
        after, words = handle(history.now, drag | {"strength": strength})
        history = history.step(after, words, undo_group(drag))
    assert len(history.past) == 3
    assert undo_group(drag | {"mixing": "woven"}) == ""


def test_a_drag_that_ends_where_it_began_leaves_no_step(state):
    history = History(state).step(state.with_(strength=0.9), "strength 90 %", "strength")
    history = history.step(state, "strength 50 %", "strength")
    assert (history.now, history.past, history.undoes) == (state, (), "")


def test_what_is_by_hand_keeps_its_own_when_the_desk_moves(state):
    number = state.shown[2].number
    state, _ = ask(state.with_(strength=0.7, mixing="woven"), "colour", number=number, part=1,
                   text="navy")  # fmt: skip
    request = {"do": "strength", "value": 0.1}
    after, _ = handle(state, request)
    after, _ = ask(after, "mixing", value="pigment")
    strengths = [after.as_shown(card).strength for card in after.shown]
    assert strengths == [0.7 if card.number == number else 0.1 for card in after.shown]
    assert after.find(number).colourway.mixing == "woven"
    assert held_words(state, request, after) == "1 by hand keeps its own."
    assert held_words(after, request, after.with_(shown=after.shown[3:])) == ""


def test_a_new_draw_leaves_what_is_by_hand_first_until_it_is_kept(state):
    number = state.shown[5].number
    state, _ = ask(state, "own", number=number, strength=0.31)
    state, _ = ask(state, "compare", number=number)
    for what in ("draw", "different"):
        state, _ = ask(state, what)
        assert state.shown[0].number == number
        assert state.compared == (number,)
    state, _ = ask(state, "more", number=number)
    assert [card.number for card in state.shown].count(number) == 1
    clothes = [(look(state.as_shown(c)), state.as_shown(c).strength) for c in state.shown]
    assert clothes.count(clothes[0]) == 1, "its like is not dealt beside it"
    state, _ = ask(state, "keep", number=number)
    state, _ = ask(state, "draw")
    assert number not in [card.number for card in state.shown]


def test_what_is_by_hand_is_put_away_when_it_is_no_longer_wanted(state):
    state, _ = ask(state, "empty", stripes=4)
    number = state.shown[0].number
    after, words = ask(state, "put_away", number=number)
    assert number not in [card.number for card in after.shown]
    assert words.endswith("put away")
    with pytest.raises(CheckclothError):
        ask(state, "put_away", number=state.shown[1].number)


def test_a_full_wall_makes_room_for_an_empty_cloth(palette):
    many = [Colourway("white", [f"#{n:06x}"]) for n in range(MOST_SHOWN)]
    full = DeskState(Length("1 in"), (palette,), "halt").deal(many, "shown")
    after, words = ask(full, "empty", stripes=2)
    assert words == "Empty cloth of 2 stripes"
    assert [card.number for card in after.shown] == [
        after.next_number - 1,
        *(card.number for card in full.shown[:-1]),
    ]


def test_an_empty_cloth_lies_on_the_palettes_ground_in_greys(state):
    after, _ = ask(state, "empty", stripes=6)
    cloth = after.shown[0].colourway
    assert cloth.ground.name == "Flour"
    assert len({stripe.hex for stripe in cloth.stripes}) == 6
    assert all(len(set(stripe.rgb)) == 1 for stripe in cloth.stripes)
    night, _ = ask(state.with_(ground="Night"), "empty", stripes=1)
    assert night.shown[0].colourway.ground.name == "Night"


# -- what stays ---------------------------------------------------------------------------------


def stay(state, index=0, parts=(0, 2)):
    for part in parts:
        state, _ = ask(state, "stays", number=state.shown[index].number, part=part, stays=True)
    return state


def test_what_stays_is_left_behind_with_its_palette(state, palette):
    moor = Palette("moor", ["white", "navy", "teal", "gold", "plum"])
    state = stay(state.with_(palettes=(palette, moor)))
    after, _ = ask(state, "palette", value="moor")
    assert (after.staying_ground, after.staying_stripes) == (None, ())
    assert {c.name for card in after.shown for c in card.colourway.stripes} <= {
        colour.name for colour in moor}  # fmt: skip


def test_all_is_let_go_of_at_once_and_the_wall_shows_it(state):
    plain = state
    held, _ = ask(stay(state), "draw")
    assert len({card.colourway.ground.hex for card in held.shown}) == 1
    free, words = ask(held, "stays", stays=False)
    assert words == "Nothing stays"
    assert (free.staying_ground, free.staying_stripes) == (None, ())
    assert len({card.colourway.ground.hex for card in free.shown}) == 2, "drawn anew at once"
    assert ask(free, "stays", stays=False)[0] is free
    # Where nothing was drawn with it, the wall is what it would be, and stays.
    assert ask(stay(plain), "stays", stays=False)[0].shown is plain.shown


def test_one_part_is_let_go_of_by_its_number(state):
    held, _ = ask(stay(state), "draw")
    free, words = ask(held, "stays", part=2, stays=False)
    assert words == "Stripe 2 is free"
    assert free.staying_stripes == ()
    assert free.staying_ground == held.staying_ground
    assert len({card.colourway.stripes[1].hex for card in free.shown}) > 1
    assert len({card.colourway.ground.hex for card in free.shown}) == 1


def test_letting_go_leaves_a_wall_that_was_not_drawn(state):
    state = stay(state)
    near = ideas.more_like(state, state.shown[0].number)
    after, _ = ask(near, "stays", stays=False)
    assert after.shown is near.shown


# -- families, and the same again, but ----------------------------------------------------------


@pytest.fixture
def kept(state):
    cloth = Colourway("#f6f1e4", ["navy", "teal", "gold", "coral", "plum"], name="Quay")
    state = choices.keep(state.deal([cloth], "by hand"), state.next_number)
    return state, state.kept[0]


def test_fewer_stripes_another_strength_grounds_and_orders_are_kept_in_one_family(kept):
    state, source = kept
    ways = [{"stripes": 3}, {"stripes": 2}, {"strength": 0.2}, {"grounds": True}, {"order": True}]
    for fields in ways:
        made, _ = edits.derived(state, {"number": source.number, **fields})
        before = len(state.kept)
        state, words = ask(state, "keep_derived", number=source.number, **fields)
        assert [card.colourway for card in state.kept[before:]] == made
        assert words.startswith(f"Kept {len(made)} ")
        again, words = ask(state, "keep_derived", number=source.number, **fields)
        assert again is state
        assert words.endswith("are kept already")
    assert {card.family for card in state.kept} == {"Quay"}
    assert state.families == ("Quay",)
    three, two, pale, *others = (card.colourway for card in state.kept[1:])
    assert (len(three.stripes), len(two.stripes), pale.strength) == (3, 2, 0.2)
    assert look(pale) == look(source.colourway)
    (night,) = (one for one in others if one.ground.hex != source.colourway.ground.hex)
    assert night.ground.name == "Night"
    rings = [ring(one.stripes) for one in (*others, source.colourway) if one is not night]
    assert len(set(rings)) == len(rings) > 3


def test_kept_three_at_twenty_percent_in_words(state):
    number = state.shown[0].number
    state, words = ask(state, "keep_derived", number=number, grounds=True, strength=0.2)
    assert words == "Kept 2 at 20 %, on other grounds"
    assert len(state.kept) == 3, "the one on the wall is kept first"
    assert {card.family for card in state.kept} == {state.kept[0].colourway.stripes[0].name}


def test_a_family_at_another_strength_and_mixing(kept):
    state, source = kept
    state, _ = ask(state, "copy", number=source.number)
    state, _ = ask(state, "family", number=source.number, family="Porch")
    after, words = ask(state, "all_of", family="Porch", strength=0.2, mixing="woven")
    assert words == "The one of Porch at 20 %, mixed fine threads (woven)"
    assert [card.colourway.strength for card in after.kept] == [0.2, 0.5]
    same, _ = ask(after, "all_of", family="Porch", strength=0.2, mixing="woven")
    assert same is after


def test_one_colour_changes_wherever_it_is_kept(kept):
    state, source = kept
    state, _ = ask(state, "copy", number=source.number)
    state, _ = ask(state, "own", number=source.number, strength=0.9)
    after, words = ask(state, "recolour", **{"from": "#008080", "text": "Heather"})
    assert words == "teal #008080 is Heather in 2 kept"
    assert [card.colourway.stripes[1].name for card in after.kept] == ["Heather"] * 2
    assert [card.colourway.strength for card in after.kept] == [0.9, 0.5]


def test_a_code_typed_for_all_kept_leaves_the_name_or_gives_the_one_that_is_typed(kept):
    state, source = kept
    weir = replace(NamedColour.of("#2d7d74", "Weir"), role="stripe", note="yarn 12")
    card = replace(source, colourway=source.colourway.with_(stripes=[weir, "teal"]))
    state = choices.swap(state, card)
    has = f"; {state.palettes[0].name} has #2d7d74 still"
    after, words = ask(state, "recolour", **{"from": "#2d7d74", "text": "#A9D3CC"})
    assert words == f"Weir #2d7d74 is #A9D3CC in 1 kept and keeps its name{has}"
    made = after.kept[0].colourway.stripes[0]
    assert (str(made), made.role, made.note) == ("Weir #a9d3cc", "stripe", "yarn 12")
    after, words = ask(state, "recolour", **{"from": "#2d7d74", "text": "#A9D3CC", "name": "Mist"})
    assert words == f"Weir #2d7d74 is Mist #a9d3cc in 1 kept{has}"
    assert str(after.kept[0].colourway.stripes[0]) == "Mist #a9d3cc"
    # CSS's word for a colour is no name that another could keep.
    after, _ = ask(state, "recolour", **{"from": "#008080", "text": "#a9d3cc"})
    assert str(after.kept[0].colourway.stripes[1]) == "#a9d3cc"


def test_an_edit_of_a_kept_card_keeps_name_note_and_family(kept):
    state, source = kept
    state, _ = ask(state, "note", number=source.number, text="for the aprons")
    state, _ = ask(state, "family", number=source.number, family="Porch")
    state, _ = ask(state, "remove_stripe", number=source.number, stripe=5)
    card = state.kept[0]
    assert (card.colourway.name, card.note, card.family) == ("Quay", "for the aprons", "Porch")
    assert card.origin["by hand"] is True
    assert short_name(card.colourway) == "Quay"
    assert state.chosen_set().chosen[0].family == "Porch"
    earlier = choices.take(DeskState(Length("1 in"), state.palettes), state.chosen_set())
    assert earlier.kept[0].family == "Porch"


def test_a_colour_beyond_the_screen_says_so_where_it_is_typed(kept):
    state, source = kept
    text = "oklch(70% 0.3 150)"
    off = NamedColour.of(text).shift_words
    _, words = ask(state, "colour", number=source.number, part=1, text=text)
    assert words == f"Stripe 1 is {text}, {off}"
    _, words = ask(state, "recolour", **{"from": "#008080", "text": text})
    assert words == f"teal #008080 is {text}, {off}, in 1 kept"


def test_a_name_given_on_the_wall_keeps_and_says_so(kept):
    state, _ = kept
    state = state.deal([Colourway("white", ["navy", "gold"])], "by hand")
    number = state.shown[-1].number
    named, words = ask(state, "name", number=number, text="Halt Two")
    assert words == "keep it as “Halt Two”"
    assert named.kept[-1].colourway.name == "Halt Two"
    _, words = ask(named, "name", number=named.kept[-1].number, text="Halt Three")
    assert words == "name Halt Two “Halt Three”"
    nameless, _ = ask(state, "keep", number=number)
    _, words = ask(nameless, "name", number=nameless.kept[-1].number, text="Halt Two")
    assert words == "name it “Halt Two”", "it would be all its colours"


def test_a_palette_without_another_ground_is_said(kept):
    state, source = kept
    ground = replace(source.colourway.ground, role="ground")
    stripes = [replace(NamedColour.of(text), role="stripe") for text in ("navy", "teal")]
    one = Palette("bare", [ground, *stripes])
    state = state.with_(palettes=(one,), palette="bare")
    with pytest.raises(ArgumentError, match="none in the palette") as caught:
        edits.derived(state, {"number": source.number, "grounds": True})
    assert caught.value.argument == "grounds"
