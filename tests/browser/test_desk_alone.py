"""What a designer does on a whole desk, over the real kernel's code: a brief made by hand, a range
changed in one go, colours that are refused in plain words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from desk_alone import LiveDesk, open_live, settle
from playwright.sync_api import expect
from tea_rooms import MAIL, ORDER

from checkcloth import Length
from checkcloth.export.hand_off.hand_off import open_hand_off

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

pytestmark = pytest.mark.browser


def opened(page: Page, live: LiveDesk) -> Locator:
    live.problems = open_live(page, live)
    return page.locator(".cc")


def keep(live: LiveDesk, *numbers: int) -> None:
    for number in numbers:
        live.do(lambda number=number: live.desk.keep(number))


def tab(page: Page, name: str) -> None:
    page.get_by_role("tab", name=re.compile(f"^{name}")).click()
    settle(page)


# -- a colour that is none -----------------------------------------------------------------------


def test_a_colour_that_is_none_is_said_in_words_and_what_was_meant_is_a_press(page, live):
    opened(page, live)
    page.locator('.cc-thread[data-stripe="1"]').click()
    settle(page)
    tray = page.get_by_role("region", name="Colour of stripe 1")
    name = live.desk.palette.colours[3].name
    field = tray.get_by_label("Code or name", exact=True)
    field.fill(f"{name}x")
    page.keyboard.press("Enter")
    settle(page)
    alert = tray.get_by_role("alert")
    expect(alert).to_contain_text(f"“{name}x” is no colour that is known here; try {name}")
    expect(field).to_have_attribute("aria-invalid", "true")
    tray.get_by_role("button", name=f"Take {name}").click()
    settle(page)
    expect(alert).to_be_hidden()
    assert live.desk.state.by_hand[0].colourway.stripes[0].name == name
    expect(field).to_be_focused()


# -- one colour in all that hold it --------------------------------------------------------------


def used_in(live: LiveDesk, hexed: str) -> int:
    return sum(
        hexed in {colour.hex for colour in (one.ground, *one.stripes)} for one in live.desk.kept
    )


def test_one_colour_is_changed_across_the_range_in_three_presses(page, live):
    keep(live, 1, 2, 3, 4)
    opened(page, live)
    palette = live.desk.palette
    old = max(palette, key=lambda colour: used_in(live, colour.hex))
    new = next(colour for colour in palette if used_in(live, colour.hex) < 3 and colour != old)
    many = used_in(live, old.hex)
    tab(page, "Colours")  # 1
    page.get_by_role("button", name=f"{old.name}, used in {many} of 4 kept").click()  # 2
    settle(page)
    change = page.get_by_role("region", name=f"{old.name} in all {many} kept that hold it becomes")
    swatch = change.get_by_role("button", name=f"{new.name} {new.hex}")
    expect(change.locator(".cc-colour").first).to_be_focused()
    swatch.click()  # 3
    settle(page)
    assert used_in(live, old.hex) == 0
    assert used_in(live, new.hex) >= many
    expect(change).to_be_hidden()
    # One step back brings all of them back; a colour that is typed wrong is said beside its field.
    live.do(lambda: live.desk.undo())
    page.get_by_role("tab", name=re.compile("^Range")).click()
    tab(page, "Colours")
    page.get_by_role("button", name=f"{old.name}, used in {many} of 4 kept").click()
    settle(page)
    change.get_by_label("Its new code or name").fill("navvy")
    page.keyboard.press("Enter")
    settle(page)
    change.get_by_role("button", name="Take navy").click()
    settle(page)
    assert used_in(live, "#000080") == many


def test_kept_ones_follow_a_palette_when_they_are_told(page, live):
    keep(live, 1, 2, 3)
    opened(page, live)
    palette = live.desk.palette
    index, old = max(enumerate(palette), key=lambda pair: used_in(live, pair[1].hex))
    many = used_in(live, old.hex)
    tab(page, "Colours")
    page.get_by_label(f"Code of {old.name}").fill("#123456")
    page.keyboard.press("Enter")
    settle(page)
    assert live.desk.palette.colours[index].hex == "#123456"
    assert used_in(live, old.hex) == many, "they hold their own"
    words = re.compile(f"{many} kept ha(s|ve) the old {old.hex}")
    expect(page.get_by_role("status").filter(has_text=words)).to_be_visible()
    page.get_by_role("button", name=re.compile("^Change (it|them) too")).click()
    settle(page)
    assert (used_in(live, old.hex), used_in(live, "#123456")) == (0, many)
    # Typed for all kept, a code leaves the name; the palette is told of, and follows by a press.
    names = [one.name for cloth in live.desk.kept for one in cloth.colours if one.hex == "#123456"]
    assert names == [old.name] * many
    page.get_by_role("button", name=f"{old.name}, used in {many} of 3 kept").click()
    settle(page)
    page.get_by_label("Its new code or name").fill("#205060")
    page.keyboard.press("Enter")
    settle(page)
    names = [one.name for cloth in live.desk.kept for one in cloth.colours if one.hex == "#205060"]
    assert names == [old.name] * many
    still = f"{live.desk.palette.name} has {old.name} #123456 still."
    expect(page.get_by_role("status").filter(has_text=still)).to_be_visible()
    page.get_by_role("button", name="Change it there too").click()
    settle(page)
    assert str(live.desk.palette.colours[index]) == f"{old.name} #205060"
    # Or it gets the name that is typed with it.
    page.get_by_role("button", name=f"{old.name}, used in {many} of 3 kept").click()
    settle(page)
    page.get_by_label("Its new code or name").fill("#306070")
    page.get_by_label("What it is called then").fill("Slate Roof")
    page.keyboard.press("Enter")
    settle(page)
    names = [one.name for cloth in live.desk.kept for one in cloth.colours if one.hex == "#306070"]
    assert names == ["Slate Roof"] * many


def test_one_colour_more_is_named_and_in_every_list_at_once(page, live):
    opened(page, live)
    page.locator('.cc-thread[data-stripe="1"]').click()
    tab(page, "Colours")
    name, code = page.get_by_label("Name of a colour to add"), page.get_by_label("Code of a colour")
    palette = live.desk.palette
    name.fill(palette.colours[0].name)
    code.fill("#2f6f62")
    page.keyboard.press("Enter")
    settle(page)
    alert = page.locator("tfoot").get_by_role("alert")
    expect(alert).to_contain_text("no other colour of the palette has")
    expect(name).to_have_attribute("aria-invalid", "true")
    name.fill("Signal Lamp")
    page.get_by_role("button", name="Add this colour to the palette").click()
    settle(page)
    assert [str(one) for one in live.desk.palette][-1] == "Signal Lamp #2f6f62"
    expect(alert).to_be_hidden()
    expect(name).to_be_focused()
    expect(page.get_by_label("Code of Signal Lamp")).to_have_value("#2f6f62")
    # The tray under the hand has it, and the grounds above the wall; undo takes it out of both.
    swatch = page.get_by_role("radio", name="Signal Lamp #2f6f62")
    expect(swatch).to_be_visible()
    assert any(one == "Signal Lamp" for one, _ in live.desk.widget.choices["grounds"])
    page.locator(".cc-head").get_by_role("button", name=re.compile("^Undo")).click()
    settle(page)
    assert live.desk.palette == palette
    expect(swatch).to_be_hidden()
    expect(page.get_by_label("Code of Signal Lamp")).to_have_count(0)


def test_of_a_kept_one_the_wall_offers_what_the_range_does_and_shows_its_name(page, live):
    opened(page, live)
    card = page.locator(".cc-option").nth(2)
    card.click()
    settle(page)
    hand, before = page.locator(".cc-main .cc-hand"), card.get_attribute("aria-label")
    for name in ("Copy", "Make more of this one"):
        expect(hand.get_by_role("button", name=name, exact=True)).to_be_hidden()
    hand.get_by_role("textbox", name=re.compile("^Name of")).fill("Signal Box")
    page.keyboard.press("Enter")
    settle(page)
    assert [one.name for one in live.desk.kept] == ["Signal Box"]
    expect(card.locator(".cc-caption")).to_have_text("Signal Box")
    expect(card).to_have_accessible_name(f"Signal Box: {before}")
    hand.get_by_label("Family", exact=True).fill("Halt")
    page.keyboard.press("Enter")
    settle(page)
    assert [one.family for one in live.desk.state.kept] == ["Halt"]
    hand.get_by_role("button", name="Make more of this one").click()
    settle(page)
    panel = hand.get_by_role("group", name="The same again, but")
    panel.get_by_role("button", name="Keep this one: with 2 stripes").click()
    settle(page)
    assert {one.family for one in live.desk.state.kept} == {"Halt"}
    many = len(live.desk.kept)
    hand.get_by_role("button", name="Copy", exact=True).click()
    settle(page)
    assert len(live.desk.kept) == many + 1
    # At another strength the cloth on the wall is another.
    live.do(lambda: setattr(live.desk.widget, "strength", 0.9))
    page.evaluate("() => window.model.send({do: 'ping', id: 'p'})")
    settle(page)
    expect(card).to_have_accessible_name(before)


# -- more of one ---------------------------------------------------------------------------------


def test_more_is_made_of_the_member_of_a_family_that_is_chosen(page, live):
    keep(live, 1, 2)
    for number in [card.number for card in live.desk.state.kept]:
        live.do(lambda n=number: live.desk.answer({"do": "family", "number": n, "family": "Bar"}))
    opened(page, live)
    tab(page, "Range")
    page.get_by_role("button", name="Make more of Bar").click()
    settle(page)
    more = page.get_by_role("group", name="The same again, but").locator("visible=true")
    second = live.desk.state.kept[1]
    more.get_by_label("Make more of").select_option(str(second.number))
    settle(page)
    more.get_by_role("button", name="Keep this one: with 2 stripes").click()
    settle(page)
    made = live.desk.kept.colourways[-1]
    assert {stripe.hex for stripe in made.stripes} < {
        stripe.hex for stripe in second.colourway.stripes
    }
    assert [card.family for card in live.desk.state.kept] == ["Bar"] * 3


def test_other_check_sizes_are_seen_at_one_scale_and_exported_too(page, live, tmp_path):
    keep(live, 1)
    opened(page, live)
    tab(page, "Range")
    page.get_by_role("button", name=re.compile("^Make more of")).first.click()
    settle(page)
    more = page.get_by_role("group", name="The same again, but").locator("visible=true")
    cloths = more.get_by_role("img", name=re.compile("on a check of"))
    pixels = cloths.evaluate_all("all => all.map(one => Number(one.dataset.pixels))")
    assert pixels == [4, 8, 16], "1/4, 1/2 and 1 in, rising"
    field = more.get_by_label("Other check sizes")
    field.fill("3/4")
    page.keyboard.press("Enter")
    settle(page)
    expect(more.get_by_role("alert").filter(has_text="unit is missing")).to_be_visible()
    field.fill("3/4 in, 2 cm")
    page.keyboard.press("Enter")
    settle(page)
    more.get_by_role("button", name="Export at these too: the range at these check sizes").click()
    settle(page)
    assert live.desk.hand_off.fields.values["sizes"] == "3/4 in, 2 cm"
    tab(page, "Export")
    expect(page.get_by_label("The same at other check sizes")).to_have_value("3/4 in, 2 cm")
    page.get_by_role("button", name=re.compile(r"^Export \d")).click()
    settle(page)
    folders = sorted(path.name for path in (tmp_path / "out/explore/coordinates").iterdir())
    assert [one for one in folders if "." not in one] == ["2-cm", "3-4-in"]
    assert open_hand_off(tmp_path / "out/explore/coordinates/2-cm").check.size == Length("2 cm")


# -- a light to look under -----------------------------------------------------------------------

_WALL = """canvas => {
    const {data} = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    return data.reduce((sum, value, at) => (sum * 31 + value * (at % 7 + 1)) % 1000000007, 0);
}"""


def test_the_wall_is_looked_at_in_a_shops_light_and_again_by_day(page, live):
    opened(page, live)
    page.get_by_role("button", name="More settings").click()
    settle(page)
    light = page.get_by_label("Light", exact=True)
    wall = page.locator(".cc-wall-canvas")
    day = wall.evaluate(_WALL)
    light.focus()
    light.select_option(label="shop light (F11)")
    settle(page)
    assert wall.evaluate(_WALL) != day
    assert live.desk.widget.light == "F11"
    expect(light).to_have_value("F11")
    status = page.locator(".cc-status")
    expect(status).to_contain_text("Seen in shop light (F11): a guess")
    light.select_option("D65")
    settle(page)
    assert wall.evaluate(_WALL) == day
    expect(status).to_contain_text("daylight again")


# -- a brief, made by hand -----------------------------------------------------------------------


class Presses:
    """Counts what a hand does: a press, a drag, a choice of two presses, a key."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.count = 0

    def press(self, target: Locator, **more: Any) -> None:
        target.click(**more)
        self.count += 1
        settle(self.page)

    def pick(self, target: Locator, value: str) -> None:
        target.select_option(value)
        self.count += 2  # it opens, and one is chosen
        settle(self.page)

    def drag(self, source: Locator, target: Locator) -> None:
        start, end = source.bounding_box(), target.bounding_box()
        assert start is not None
        assert end is not None
        mouse = self.page.mouse
        mouse.move(start["x"] + start["width"] / 2, start["y"] + start["height"] / 2)
        mouse.down()
        self.page.wait_for_timeout(80)
        mouse.move(end["x"] + end["width"] / 2, end["y"] + 8, steps=6)
        self.page.wait_for_timeout(80)
        mouse.up()
        self.count += 1
        settle(self.page)


def make_the_brief(page: Page, live: LiveDesk) -> Presses:
    """Six pastel stripes in a given order from eight pasted codes, on cream, at 20 %."""
    hand = page.get_by_role("region", name="The cloth under the hand", exact=True)
    hands = Presses(page)
    hands.press(page.get_by_role("tab", name=re.compile("^Colours")))
    hands.press(page.get_by_label("Colours to add"))
    page.keyboard.insert_text(MAIL)  # the one paste
    settle(page)
    expect(page.get_by_text("8 colours read.")).to_be_visible()
    hands.press(page.get_by_label("Name of the palette"))
    page.keyboard.type("counter")
    hands.press(page.get_by_role("button", name="Save as a palette"))
    hands.press(page.get_by_role("button", name="Draw from it: the wall from this palette"))
    hands.pick(hand.get_by_label("Begin an empty cloth, of so many stripes"), "6")
    for stripe, name in enumerate(ORDER, 1):
        swatch = hand.get_by_role("radio", name=re.compile(f"^{name} #"))
        hands.drag(swatch, hand.locator(f'.cc-thread[data-stripe="{stripe}"]'))
    hands.press(hand.get_by_role("button", name=re.compile("^Ground: ")))
    hands.press(hand.get_by_role("radio", name=re.compile("^Cream #")))
    hands.press(hand.get_by_role("button", name=re.compile("^Strength ")))
    slider = hand.get_by_role("slider", name="Strength of this one")
    box = slider.bounding_box()
    assert box is not None
    thumb = 16  # what Chromium's slider leaves at both ends together
    at = thumb / 2 + 0.2 * (box["width"] - thumb)
    hands.press(slider, position={"x": at, "y": box["height"] / 2})
    return hands


def test_the_brief_by_hand_its_family_and_the_same_bytes_tomorrow(page, live, tmp_path, new_page):
    opened(page, live)
    hands = make_the_brief(page, live)
    made = live.desk.state.by_hand[0].colourway
    assert [stripe.name for stripe in made.stripes] == list(ORDER)
    assert (made.ground.name, round(made.strength, 2)) == ("Cream", 0.2)
    hands.press(page.get_by_role("button", name=re.compile("^Keep")).first)
    assert live.desk.kept.colourways == (made,)
    assert hands.count <= 20, hands.count

    # Its two- and three-colour family.
    family = Presses(page)
    family.press(page.get_by_role("tab", name=re.compile("^Range")))
    family.press(page.get_by_role("button", name=re.compile("^Make more of")).first)
    more = page.get_by_role("group", name="The same again, but").locator("visible=true")
    family.press(more.get_by_role("button", name="Keep this one: with 3 stripes"))
    family.press(more.get_by_role("button", name="Keep this one: with 2 stripes"))
    assert sorted(len(one.stripes) for one in live.desk.kept) == [2, 3, 6]
    assert len({card.family for card in live.desk.state.kept}) == 1
    assert {(one.ground.name, round(one.strength, 2)) for one in live.desk.kept} == {("Cream", 0.2)}
    assert family.count <= 4

    # One stripe changed across the range.
    stripe = next(s for s in made.stripes if used_in(live, s.hex) == 3)
    across = Presses(page)
    across.press(page.get_by_role("tab", name=re.compile("^Colours")))
    across.press(page.get_by_role("button", name=f"{stripe.name}, used in 3 of 3 kept"))
    across.press(page.get_by_role("button", name="Slate #55606e", exact=True))
    assert (used_in(live, stripe.hex), used_in(live, "#55606e")) == (0, 3)
    assert across.count <= 3

    # Exported; opened again, and exported again to the same place: the same bytes.
    tab(page, "Export")
    page.get_by_role("button", name=re.compile(r"^Export \d")).click()
    settle(page)
    before = {path: path.read_bytes() for path in (tmp_path / "out").rglob("*") if path.is_file()}
    assert len(before) > 15
    again = LiveDesk(tmp_path, stripes=2)
    other = new_page()
    try:
        again.problems = open_live(other, again)
        other.get_by_role("button", name=re.compile("^Open explore")).click()
        settle(other)
        tab(other, "Export")
        other.get_by_role("radio", name="In its place: none is lost").check()
        settle(other)
        other.get_by_role("button", name=re.compile(r"^Export \d")).click()
        settle(other)
        expect(other.get_by_text("3 colourways exported to out/explore:")).to_be_visible()
        after = {
            path: path.read_bytes() for path in (tmp_path / "out").rglob("*") if path.is_file()
        }
        assert after == before
        assert again.problems == []
    finally:
        other.close()
        again.close()


# -- other eyes, other hands ---------------------------------------------------------------------


def test_in_forced_colours_cloth_and_swatches_keep_theirs(page, live):
    """Windows' contrast themes: what is a colour of the work stays, what says a state is drawn."""
    keep(live, 1, 2)
    page.emulate_media(forced_colors="active")
    opened(page, live)
    page.locator('.cc-thread[data-stripe="1"]').click()
    settle(page)
    colour_of = "one => getComputedStyle(one).backgroundColor"
    hand = page.get_by_role("region", name="The cloth under the hand", exact=True)
    first = live.desk.palette.colours[0]
    wanted = "rgb({}, {}, {})".format(*(round(channel * 255) for channel in first.rgb))
    swatch = hand.get_by_role("radio", name=f"{first.name} {first.hex}")
    assert swatch.evaluate(colour_of) == wanted
    tab(page, "Colours")
    row = page.get_by_role("button", name=f"Put {first.name} {first.hex} into")
    assert row.evaluate(colour_of) == wanted
    page.get_by_label("Colours to add").fill(first.hex)
    settle(page)
    read = page.get_by_role("list", name="Colours read").get_by_role("listitem").first
    assert read.evaluate(colour_of) == wanted
    # What is chosen is not said by a background alone, which a contrast theme takes away.
    chosen = hand.locator('.cc-thread[aria-selected="true"]')
    other = hand.locator('.cc-thread[data-stripe="2"]')
    style = "one => { const s = getComputedStyle(one), n = getComputedStyle(one, '::after');"
    style += " return [s.outlineStyle, s.borderBottomWidth, s.fontWeight, n.borderTopStyle,"
    style += " n.height, one.innerText, ...[...one.children].map(c => getComputedStyle(c)"
    style += ".fontWeight + getComputedStyle(c).borderBottomWidth)].join(); }"
    assert chosen.evaluate(style).replace("1", "") != other.evaluate(style).replace("2", "")
    # A line that is transparent elsewhere would be drawn under every part of the desk.
    unmarked = """one => getComputedStyle(one).borderBottomColor
        === getComputedStyle(one.closest('.cc')).backgroundColor"""
    marks = page.get_by_role("tab").evaluate_all(f"all => all.map({unmarked})")
    assert marks == [True, True, False, True]
    tab(page, "Export")
    export = page.get_by_role("button", name=re.compile(r"^Export \d"))
    assert export.evaluate("one => getComputedStyle(one).borderTopStyle") == "solid"
    assert page.get_by_role("checkbox", name="For the client").is_checked()


def test_by_touch_on_a_phone_a_stripe_is_changed_kept_and_exported(chromium, live, tmp_path):
    context = chromium.new_context(
        viewport={"width": 360, "height": 740}, has_touch=True, device_scale_factor=2
    )
    page = context.new_page()
    page.set_default_timeout(10_000)
    try:
        opened(page, live)
        assert page.evaluate("() => document.documentElement.scrollWidth") <= 360
        hand = page.get_by_role("region", name="The cloth under the hand", exact=True)
        hand.locator('.cc-thread[data-stripe="2"]').tap()
        settle(page)
        tray = hand.get_by_role("region", name="Colour of stripe 2")
        swatch = tray.locator('[role="radio"][aria-checked="false"]').locator("visible=true").first
        name = (swatch.get_attribute("aria-label") or "").split(" #")[0]
        swatch.tap()
        settle(page)
        assert live.desk.state.by_hand[0].colourway.stripes[1].name == name
        tray.get_by_role("button", name="Done").tap()
        settle(page)
        hand.get_by_role("button", name=re.compile("^Keep")).tap()
        settle(page)
        assert len(live.desk.kept) == 1
        page.get_by_role("tab", name="Export").tap()
        settle(page)
        page.get_by_role("checkbox", name="For the web shop").tap()
        settle(page)
        page.get_by_role("button", name=re.compile(r"^Export \d")).tap()
        settle(page)
        expect(page.get_by_text("1 colourway exported to out/explore:")).to_be_visible()
        (made,) = open_hand_off(tmp_path / "out" / "explore")
        assert made.stripes[1].name == name
        assert not list((tmp_path / "out").rglob("*thumbnail*"))
        assert page.evaluate("() => document.documentElement.scrollWidth") <= 360
    finally:
        context.close()
