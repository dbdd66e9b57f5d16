"""Everything on the wall by mouse; the range by keyboard; and what a screen reader is told."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from checkcloth.export.data.saved import open_set

pytestmark = pytest.mark.browser

NASTY = '<img src=x onerror="window.caught = 1">'


@pytest.fixture
def desk(alone):
    return alone.open_desk()


def button(place, name):
    return place.get_by_role("button", name=name, exact=True)


def undo(desk, verb="Undo"):
    """Return the button in the head; beside the last step there is another to undo it."""
    return desk.root.locator(".cc-head").get_by_role("button", name=re.compile(f"^{verb}"))


def test_by_mouse(alone, desk):
    page, root = alone.page, desk.root
    hand = desk.hand
    status = root.locator(".cc-status")

    # Point at one: true size, repeat, tones with names and hex, words, other eyes.
    desk.option(4).click()
    colours = desk.ask("desk.widget.names[4]")
    expect(desk.words).to_have_text(colours)
    expect(desk.name_field).to_have_value("")
    hand.get_by_role("radio", name="True size").click()
    expect(hand).to_contain_text("true size, repeat 3 in (76.2 mm)")
    assert hand.locator(".cc-pressed-cloth").get_attribute("data-pixels") == "48", "0.5 in of 96"
    hand.get_by_role("radio", name="Repeat").click()
    hand.locator("summary").click()
    assert hand.locator(".cc-remarks li").count() >= 2
    assert hand.locator(".cc-remarks li").first.is_visible()
    button(hand, "As other eyes see it, and in grey").click()
    assert hand.get_by_role("img", name=re.compile("deutan")).is_visible()
    assert hand.get_by_role("img", name=re.compile("in grey")).is_visible()
    button(hand, "Tones with their codes, and scores").click()
    tones = desk.ask("[[n, t] for n, t in __import__('checkcloth.desk.payloads', fromlist=['x'])"
                     ".look(desk.state, desk.state.shown[4].number)[0]['tones']]")  # fmt: skip
    assert len(tones) >= 13
    for name, hex_text in tones:
        row = hand.get_by_role("row").filter(
            has=page.get_by_role("rowheader", name=name, exact=True)
        )
        expect(row.first).to_contain_text(hex_text)

    # Keep, name, note.
    button(hand, "Keep").click()
    desk.until("len(desk.kept)", 1)
    desk.name_field.fill(NASTY)
    desk.name_field.press("Enter")
    desk.until("desk.kept.colourways[0].name", NASTY)
    hand.get_by_role("textbox", name="Note").fill("for the long tables")
    hand.get_by_role("textbox", name="Note").press("Enter")
    desk.until("desk.kept.chosen[0].note", "for the long tables")
    expect(desk.name_field).to_have_value(NASTY)

    # Reorder by buttons in the range, and by dragging on the shelf.
    names = desk.ask("list(desk.widget.names)")
    for place in (1, 2):
        desk.option(place).click()
        expect(desk.words).to_have_text(names[place])
        button(hand, "Keep").click()
        desk.until("len(desk.kept)", place + 1)
    first = desk.ask("[card.number for card in desk.state.kept]")
    desk.turn_to("Range")
    expect(desk.kept_card(first[0]).get_by_role("textbox")).to_have_value(NASTY)
    desk.kept_card(first[0]).get_by_role("button", name=re.compile("later$")).click()
    desk.until("[card.number for card in desk.state.kept]", [first[1], first[0], first[2]])
    desk.turn_to("Wall")
    desk.on_shelf(first[2]).drag_to(desk.on_shelf(first[1]))
    desk.until("[card.number for card in desk.state.kept]", [first[2], first[1], first[0]])

    # Two to four side by side, and no fifth.
    for place in range(5):
        desk.option(place).click()
        expect(desk.name_field).to_have_value(NASTY if place == 4 else "")
        expect(desk.words).to_have_text(colours if place == 4 else names[place])
        button(hand, "Lay beside").click()
        desk.until("len(desk.state.compared)", min(place + 1, 4))
    expect(status).to_contain_text("side by side must be at most 4")
    beside = root.get_by_role("region", name="Side by side")
    assert beside.get_by_role("article").count() == 4
    expect(beside.get_by_role("heading", level=4).nth(3)).to_contain_text("D · ")
    desk.until("len(desk.kept)", 3)
    assert page.evaluate("() => window.caught") is None, "a name must show as text"

    # Undo and redo by button: the button says what it takes back.
    assert "lay beside" in undo(desk).get_attribute("title")
    undo(desk).click()
    desk.until("len(desk.state.compared)", 3)
    undo(desk, "Redo").click()
    desk.until("len(desk.state.compared)", 4)

    # Two colours stay; then more like this and something different leave them alone.
    desk.option(0).click()
    ground = desk.ask("desk.state.shown[0].colourway.ground.name")
    stripe = desk.ask("desk.state.shown[0].colourway.stripes[1].name")
    for part in (0, 2):
        tray = desk.choose_part(part)
        tray.get_by_role("checkbox", name="Stays").check()
        desk.until("(desk.state.staying_ground is not None) + len(desk.state.staying_stripes)",
                   3 if part else 1)  # fmt: skip
        expect(tray.get_by_role("checkbox", name="Stays")).to_be_checked()
    expect(root.locator(".cc-chips")).to_contain_text(f"stays: stripe 2, {stripe}")
    expect(desk.thread(2)).to_have_accessible_name(re.compile("stays in new draws$"))
    button(hand, "Done with this colour").click()
    both = "{(c.colourway.ground.name, c.colourway.stripes[1].name) for c in desk.state.shown}"
    button(hand, "More like this").click()
    desk.until(both, {(ground, stripe)})
    desk.open_more()
    expect(root.locator(".cc-dealt")).to_contain_text("more like")
    button(root, "Something different").click()
    desk.until(f"desk.state.dealt.startswith('unlike') and {both}", {(ground, stripe)})
    staying = "len(desk.widget.facts['staying'])"
    button(root, "Let all that stays change").click()
    desk.until(staying, 0)
    undo(desk).click()
    desk.until(f"({staying}, desk.state.dealt.startswith('unlike'))", (2, True))
    root.get_by_role("button", name=re.compile("^Let ground")).click()
    desk.until("desk.state.staying_ground is None", True)

    # Sort, hide, and see why.
    root.get_by_label("Sort by").select_option("least_edge")
    desk.until("desk.state.sort", "least_edge")
    page.wait_for_function("() => { const f = [...document.querySelectorAll('.cc-option')]"
        ".sort((a, b) => a.ariaPosInSet - b.ariaPosInSet).slice(0, 8)"
        ".map(o => parseFloat(o.ariaDescription.split('least colour difference ')[1]));"
        " return f.every((v, i) => v >= 0 && (!i || v <= f[i - 1])); }")  # fmt: skip
    root.get_by_label("is under").fill("8")
    button(root, "Hide these from the wall").click()
    desk.until("len(desk.state.limits)", 1)
    show = root.get_by_role("checkbox", name="show what is hidden, and why")
    show.check()
    hidden = desk.ask("len(desk.widget.hidden)")
    assert 0 < hidden < 48
    last = desk.ask("len(desk.widget.order)")
    desk.wall.evaluate("wall => { wall.scrollTop = wall.scrollHeight; }")
    expect(desk.option(last)).to_have_accessible_description(
        re.compile(r"hidden: every edge: least colour difference is [\d.]+, under 8")
    )
    assert alone.problems == []


def test_kept_by_keyboard(alone, desk):
    page = alone.page
    for place in range(3):
        desk.keep(place)
    first = desk.ask("[card.number for card in desk.state.kept]")
    desk.on_shelf(first[0]).focus()
    # The second press comes before the first is answered.
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    desk.until("[card.number for card in desk.state.kept]", [first[1], first[2], first[0]])
    page.keyboard.press("Delete")
    desk.until("[card.number for card in desk.state.kept]", [first[1], first[2]])
    path = alone.folder / "notebooks" / desk.ask("desk.keep_file.path.name")
    assert len(open_set(path)) == 2


def test_what_a_screen_reader_is_told(alone, desk):
    page = alone.page
    wall = desk.root.get_by_role("listbox", name="Wall of colourways")
    expect(wall).to_have_count(1)
    expect(desk.option(0)).to_have_accessible_name(desk.ask("desk.widget.names[0]"))
    page.wait_for_function(
        "() => /difference/.test(document.querySelector('.cc-option').ariaDescription)"
    )
    # No signs: a voice spells "ΔE00" out.
    expect(desk.option(0)).to_have_accessible_description(
        re.compile(r"^not kept; every edge: least colour difference [\d.]+$")
    )
    # A selection would be read out beside it, and draws a screen reader to what is selected.
    assert desk.option(0).get_attribute("aria-selected") is None
    expect(desk.root.get_by_role("tab", name="Wall 48 colourways", exact=True)).to_have_count(1)
    assert desk.option(0).get_attribute("aria-setsize") == "48"
    for name, value in [("Check size", "1/2 in"), ("Stripes", "3"),
                        ("Overlay strength", "50 %")]:  # fmt: skip
        assert desk.slider(name).get_attribute("aria-valuetext") == value
    desk.open_more()
    for label in ("Palette", "Ground", "Mixing", "How many", "Check size, typed",
                  "Under each cloth", "Wall shows", "Seen", "Light", "Sort by", "is under",
                  "Name of the set, on its sheets",
                  "Folder, beside this notebook", "Resolution, dpi"):  # fmt: skip
        expect(desk.root.get_by_label(label, exact=True)).to_have_count(1)
    desk.option(0).focus()
    page.keyboard.press("k")
    expect(desk.option(0)).to_have_accessible_description(re.compile("^kept;"))
    expect(desk.root.locator(".cc-status")).to_contain_text("Keep ")
    # Behind a dialog nothing is heard: what is done in it is told in it.
    page.keyboard.press("Enter")
    page.keyboard.press("k")
    heard = desk.root.locator("dialog[open] [aria-live=polite].cc-unseen")
    expect(heard).to_contain_text("Drop ")
    expect(heard).to_have_text("")  # whoever reads on meets it once
    page.keyboard.press("Escape")
    # A title that says more than the name is read out after it; keys are said in its stead.
    doubled = desk.root.evaluate("""root =>
        [...root.querySelectorAll('button, [role=option], [role=slider]')]
            .filter(node => node.checkVisibility() && !node.ariaDescription && node.ariaLabel
                && node.title && node.title !== node.ariaLabel
                && node.title.includes(node.ariaLabel.split(':')[0]))
            .map(node => [node.ariaLabel, node.title])""")
    assert doubled == []
    # In Chromium's own accessibility tree nothing that can be focused is without a name.
    session = page.context.new_cdp_session(page)
    tree = session.send("Accessibility.getFullAXTree")["nodes"]
    roles = {"button", "option", "slider", "textbox", "combobox", "checkbox", "spinbutton", "img"}
    nameless = []
    for node in tree:
        if node.get("ignored") or node.get("role", {}).get("value") not in roles:
            continue
        if not node.get("name", {}).get("value"):
            remote = session.send("DOM.resolveNode", {"backendNodeId": node["backendDOMNodeId"]})
            found = session.send("Runtime.callFunctionOn", {
                "objectId": remote["object"]["objectId"], "returnByValue": True,
                "functionDeclaration": "function () { return this.closest?.('.cc') ?"
                " this.outerHTML.slice(0, 200) : ''; }"})  # fmt: skip
            if found["result"]["value"]:
                nameless.append(found["result"]["value"])
    assert nameless == []
