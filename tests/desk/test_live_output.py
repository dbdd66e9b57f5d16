"""What a cell shows: the still and the live view as outputs of their own."""

from __future__ import annotations

import pytest
from IPython.core.interactiveshell import InteractiveShell

from checkcloth import Colourway
from checkcloth.desk import explore_strength, open_desk, search_form
from checkcloth.files.live_output import in_notebook, outputs
from checkcloth.lesson import lesson

VIEW = "application/vnd.jupyter.widget-view+json"


@pytest.fixture
def shown(monkeypatch):
    """Return a function from something to the MIME bundles that a cell shows of it."""
    shell = InteractiveShell.instance()
    bundles = []
    publish = lambda data, **_: bundles.append(data)  # noqa: E731
    monkeypatch.setattr(shell.display_pub, "publish", publish)

    def of(thing):
        bundles.clear()
        assert shell.display_formatter.format(thing) == ({}, {})
        return list(bundles)

    yield of
    InteractiveShell.clear_instance()


def test_the_still_is_an_output_of_its_own_before_the_live(shown, palette, tmp_path):
    desk = open_desk(palette, count=3, folder=tmp_path)
    colourway = Colourway("white", ["navy"])
    for thing in (desk, search_form(palette), explore_strength(colourway)):
        still, live = shown(thing)
        assert VIEW not in still
        assert live.keys() == {VIEW, "text/html"}
        assert not live["text/html"]
        assert 'class="checkcloth-still"' in still["text/html"]
        assert "Run the cell for" in still["text/html"]
        assert still["text/plain"]
    assert shown(desk)[0]["text/html"].count('<img alt="gingham') == 3


def test_the_lesson_is_shown_by_the_same_rule(shown, palette, tmp_path):
    still, live = shown(lesson.crossing())
    assert live.keys() == {VIEW, "text/html"}
    rule = still["text/html"].partition("</style>")[0]
    assert shown(open_desk(palette, count=1, folder=tmp_path))[0]["text/html"].startswith(rule)
    assert 'class="checkcloth-still"' in still["text/html"]
    assert still["text/html"].count("<img alt=") == 1


def test_in_voila_there_is_the_live_alone(shown, palette, tmp_path, monkeypatch):
    assert in_notebook()
    monkeypatch.setenv("SERVER_SOFTWARE", "voila/0.5.13")
    assert not in_notebook()
    (live,) = shown(open_desk(palette, count=3, folder=tmp_path))
    assert VIEW in live


def test_text_of_the_live_view_gives_way_to_the_still():
    still, live = outputs({VIEW: {}, "text/plain": "VBox()"}, "<p>still</p>", "words")
    assert still["text/plain"] == "words"
    assert "text/plain" not in live
