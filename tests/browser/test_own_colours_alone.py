"""Colours of one's own on the desk, and names that look like markup."""

from __future__ import annotations

import itertools
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from checkcloth import Colourway, NamedColour

pytestmark = pytest.mark.browser


@pytest.fixture
def desk(alone):
    return alone.open_desk()


# Colours as they are pasted: a name and its code on a line.
PASTED = {
    "Chalk Stoneware": "#f4efe6",
    "Blue Enamel": "#2f5d8c",
    "Copper Urn": "#b5652f",
    "Beetroot Jar": "#7a1f3d",
    "Pickle Green": "#6b7f3a",
    "Lemon Barley": "#e8cf5a",
    "Soot": "#2b2a2c",
    "Plum Skin": "#4a2f57",
}


def test_colours_of_ones_own_in_stripes_of_ones_own_and_all_of_it_undone(alone, desk):
    page, hand = alone.page, desk.hand
    told = (
        "(desk.palette.name, desk.state.stripes, list(desk.widget.names), len(desk.kept),"
        " sorted(desk.palettes))"
    )
    # What was laid into the folder since is there once Colours is turned to.
    home = Path(desk.ask("str(desk.palette_files.home)"))
    (home / "late-post.csv").write_text("name,colour\nPillar Box,#b3202c\n", encoding="utf-8")
    colours = desk.turn_to("Colours")
    desk.until("'late-post' in desk.palettes", True)
    before = desk.ask(told)

    # Paste, save as a palette, draw from it.
    colours.get_by_role("textbox", name="Colours to add").fill(
        "\n".join(f"{name} {code}" for name, code in PASTED.items())
    )
    expect(colours.get_by_role("list", name="Colours read").get_by_role("listitem")).to_have_text(
        [f"{name} {code}" for name, code in PASTED.items()]
    )
    colours.get_by_role("textbox", name="Name of the palette").fill("Luggage Labels")
    colours.get_by_role("button", name="Save as a palette").click()
    desk.until("[(c.name, c.hex) for c in desk.palettes.get('Luggage-Labels', ())]",
               list(PASTED.items()))  # fmt: skip
    saved = desk.ask("[str(p) for p in desk.palette_files.home.glob('*uggage*')]")
    assert len(saved) == 1
    expect(colours.get_by_role("combobox", name="Palette shown")).to_have_value("Luggage-Labels")
    colours.get_by_role("button", name="Draw from it: the wall from this palette").click()
    desk.until("desk.palette.name", "Luggage-Labels")
    desk.turn_to("Wall")
    desk.press_on("Stripes", "ArrowRight")
    desk.until("desk.state.stripes", 4)
    desk.wait_for_painted()

    # Given colours in given stripes and on a given ground, by pressing swatches.
    desk.option(0).click()
    expect(desk.words).to_have_text(desk.ask("desk.widget.names[0]"))
    wanted = ["Chalk Stoneware", "Blue Enamel", "Copper Urn", "Soot", "Lemon Barley"]
    for part, name in enumerate(wanted):
        tray = desk.choose_part(part)
        swatch = tray.get_by_role("radio", name=f"{name} {PASTED[name]}")
        swatch.click()
        expect(swatch).to_have_attribute("aria-checked", "true")
        there = f"stripes[{part - 1}]" if part else "ground"
        desk.until(f"desk.state.shown[0].colourway.{there}.hex", PASTED[name])
    desk.thread(1).focus()
    page.keyboard.press("Alt+ArrowRight")
    expect(desk.thread(2)).to_be_focused()
    expect(desk.words).to_have_text(
        "Copper Urn, Blue Enamel, Soot, Lemon Barley on Chalk Stoneware"
    )

    # Its own strength; the wall keeps the others'.
    hand.get_by_role("button", name=re.compile("^Strength 50 %")).click()
    own = hand.get_by_role("slider", name="Strength of this one")
    own.fill("21")
    own.press("ArrowLeft")
    expect(own).to_have_attribute("aria-valuetext", "20 %")
    desk.until("(desk.state.shown[0].colourway.strength, desk.state.strength)", (0.2, 0.5))
    hand.get_by_role("button", name="Keep", exact=True).click()
    desk.until("len(desk.kept)", 1)
    made = desk.ask("[(one.ground.hex, [s.hex for s in one.stripes], one.strength)"
                    " for one in desk.kept]")  # fmt: skip
    order = [wanted[2], wanted[1], *wanted[3:]]
    assert made == [(PASTED[wanted[0]], [PASTED[name] for name in order], 0.2)]
    # Only by hand: the wall's slider leaves it alone.
    desk.press_on("Overlay strength", "ArrowRight", 5)
    desk.until("desk.state.strength", 0.55)
    assert desk.ask("desk.kept.colourways[0].strength") == 0.2

    # Undo all of it, step by step, with the button in the head.
    undo = desk.root.locator(".cc-head").get_by_role("button", name=re.compile("^Undo"))
    for _ in itertools.takewhile(lambda _: desk.ask("desk.history.undoes"), range(60)):
        step = desk.ask("len(desk.history.past)")
        undo.click()
        desk.until("len(desk.history.past)", step - 1)
    expect(undo).to_have_attribute("aria-disabled", "true")
    assert desk.ask(told) == before
    assert desk.ask(f"__import__('os').path.exists({saved[0]!r})") is False
    assert desk.ask("desk.widget.facts['own']") == []
    desk.wait_for_painted()
    expect(desk.words).to_have_text(before[2][0])
    assert desk.ask("desk.troubles") == []
    assert alone.problems == []


def test_markup_in_names_shows_as_text_everywhere(alone):
    nasty = "<img src=x onerror='window.caught = 1'>"
    others = ((0, 0.5, 0.5), (0.5, 0, 0))
    walls = [
        Colourway(
            NamedColour(nasty, (1, 1, 1)),
            [NamedColour(nasty + n, c) for n, c in zip("ab", ((0, 0, 0.5), other), strict=True)],
        )
        for other in others
    ]
    desk = alone.open_desk(lambda desk: desk.show(walls, nasty), palette="")
    hand = desk.hand
    desk.option(0).click()
    words = f"{nasty}a, {nasty}b on {nasty}"
    expect(hand.get_by_text(words, exact=True)).to_be_visible()
    expect(hand.get_by_role("textbox", name="Name of")).to_have_accessible_name(f"Name of {words}")
    desk.open_more()
    expect(desk.root.locator(".cc-dealt")).to_contain_text(nasty)
    expect(desk.option(0)).to_have_accessible_name(words)
    hand.get_by_role("button", name=f"Ground: {nasty}").click()
    expect(hand.get_by_role("region", name="Colour of ground")).to_contain_text(nasty)
    hand.get_by_role("checkbox", name="Stays").check()
    expect(desk.root.locator(".cc-chips")).to_contain_text(nasty)
    hand.get_by_role("button", name="Done with this colour").click()
    hand.get_by_role("button", name="Tones with their codes, and scores").click()
    expect(hand.get_by_role("group", name="Tones with names and hex")).to_contain_text(nasty)
    desk.keep(0)
    alone.page.keyboard.press("t")
    alone.page.keyboard.type(nasty)
    alone.page.keyboard.press("Enter")
    desk.until("desk.kept.chosen[0].note", nasty)
    kept = desk.root.locator(".cc-kept-one").get_by_role("button", name=f"Look at {words}")
    expect(kept).to_have_accessible_description(re.compile(re.escape(nasty)))
    desk.turn_to("Range")
    card = desk.root.locator(".cc-range-card")
    expect(card.get_by_role("textbox", name=re.compile("^Name of"))).to_have_accessible_name(
        re.compile(re.escape(nasty))
    )
    desk.turn_to("Wall")
    desk.option(0).focus()
    alone.page.keyboard.press("c")
    desk.option(1).focus()
    alone.page.keyboard.press("c")
    expect(desk.root.get_by_role("region", name="Side by side")).to_contain_text(nasty)
    alone.page.keyboard.press("Enter")
    dialog = desk.root.get_by_role("dialog", name="Enlarged colourway")
    expect(dialog.locator(".cc-neighbour:visible")).to_contain_text(nasty)
    expect(desk.root.locator(".cc-status")).to_contain_text(nasty)
    assert alone.page.locator("img[src=x]").count() == 0
    assert alone.page.evaluate("() => window.caught") is None
    assert alone.problems == []
