"""A range goes to a client as a page and comes back with answers, all by hand."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from checkcloth.export.data.saved import open_set

pytestmark = pytest.mark.browser


def test_there_and_back(alone, chromium, tmp_path):
    desk = alone.open_desk()
    for place in (0, 1):
        desk.keep(place)
    tab = desk.turn_to("Range")
    tab.get_by_role("button", name="A page for the client").click()
    panel = tab.get_by_role("region", name="For the client")
    expect(panel.get_by_label("Reference")).to_be_focused()
    panel.get_by_label("Reference").fill("QH 31")
    panel.get_by_label("Note to the client").fill("For the halt.")
    alone.press(panel.get_by_role("button", name="Write the page"))
    expect(panel.get_by_text(re.compile("Written: explore-for-the-client.html"))).to_be_visible()
    (file,) = alone.folder.rglob("explore-for-the-client.html")

    # The client, elsewhere: no kernel, no network.
    context = chromium.new_context()
    context.set_offline(True)
    client = context.new_page()
    client.goto(file.as_uri())
    expect(client.get_by_text("For the halt.")).to_be_visible()
    client.locator("#card-1 input[value=maybe]").check()
    client.locator("#card-1").get_by_role("button", name="Add a remark").click()
    client.keyboard.type("<b>paler</b>?")
    client.get_by_label("A remark on all of them").fill("by Friday, please")
    text = client.get_by_label("What goes back").input_value()
    with client.expect_download() as download:
        client.get_by_role("button", name="Save as a file").click()
    download.value.save_as(tmp_path / "sent.json")
    context.close()

    # Pasted from a mail, quoted and broken.
    panel.get_by_label("What the client sent back").fill(
        "\n".join(f"> {line}" for line in text.splitlines())
    )
    alone.press(panel.get_by_role("button", name="Read the answers"))
    desk.until(
        "[[one.answer, one.remark] for one in desk.kept.chosen]",
        [["maybe", "<b>paler</b>?"], ["", ""]],
    )
    expect(tab.locator(".cc-range-card .cc-said")).to_have_text("Client: maybe. <b>paler</b>?")
    expect(panel.get_by_text("“by Friday, please”")).to_be_visible()
    saved = open_set(next(alone.folder.rglob("explore.kept.json")))
    assert saved.chosen[0].answer == "maybe"

    # Undone, and read again from the file.
    alone.press(desk.root.locator(".cc-head").get_by_role("button", name=re.compile("^Undo")))
    expect(tab.locator(".cc-range-card .cc-said")).to_have_count(0)
    panel.locator("input[type=file]").set_input_files(tmp_path / "sent.json")
    expect(tab.locator(".cc-range-card .cc-said")).to_have_count(1)

    # Another range's answers are refused, until they are wanted all the same.
    panel.get_by_label("What the client sent back").fill(text.replace("QH 31", "QH 99"))
    alone.press(panel.get_by_role("button", name="Read the answers"))
    expect(panel.get_by_text(re.compile("reference must be .*QH 31.*QH 99"))).to_be_visible()
    alone.press(panel.get_by_role("button", name="Read it all the same"))
    expect(panel.get_by_text(re.compile("1 answer to QH 99"))).to_be_visible()
    panel.get_by_label("What the client sent back").fill("hello")
    alone.press(panel.get_by_role("button", name="Read the answers"))
    expect(panel.get_by_text(re.compile("answers must be"))).to_be_visible()
    assert not alone.problems
