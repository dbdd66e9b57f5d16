"""From the desk to a client and back: a page goes out, answers stand on what is kept."""

from __future__ import annotations

import json

import pytest
from asking import ask

from checkcloth.desk.answers.client import pages_noted
from checkcloth.export.data.saved import open_set


def page_of(path):
    html = path.read_text("utf-8")
    start = html.index('id="range-data">') + len('id="range-data">')
    return json.loads(html[start : html.index("</script>", start)])


def sent(page, *says, sender="A. Client", remark=""):
    """What the page would send back, written as it does."""
    answers = [
        {"number": number, "name": one["name"] or one["words"], "answer": say, "remark": text}
        for number, (one, (say, text)) in enumerate(zip(page["colourways"], says, strict=False), 1)
    ]
    return json.dumps(
        {"format": "checkcloth answers", "version": 1, "title": page["title"], "date": "",
         "reference": page["reference"], "from": sender, "seen": "", "remark": remark,
         "answers": answers}
    )  # fmt: skip


@pytest.fixture
def ranged(desk):
    for number in (1, 2, 3):
        desk.keep(number)
    first, second = (card.number for card in desk.state.kept[:2])
    ask(desk, "name", number=first, text="Quay")
    ask(desk, "name", number=second, text="Mole")
    return desk


def said(desk):
    return [(one.answer, one.remark) for one in desk.kept.chosen]


def test_there_and_back(ranged, tmp_path):
    made = ask(ranged, "range_page", reference="QH 1", note="for the halt")
    assert made["file"] == "explore-for-the-client.html"
    page = page_of(tmp_path / made["file"])
    assert (page["reference"], page["note"], len(page["sizes"])) == ("QH 1", "for the halt", 3)
    text = sent(page, ("yes", "lovely"), ("", ""), ("no", ""), remark="soon, please")
    heard = ask(ranged, "sent_back", text=text)
    assert heard["words"] == "2 answers to QH 1 from A. Client: 1 yes, 1 no."
    assert said(ranged) == [("yes", "lovely"), ("", ""), ("no", "")]
    kept = ranged.widget.kept
    assert (kept[0]["answer"], kept[0]["remark"]) == ("yes", "lovely")
    assert "soon, please" in ranged.widget.facts["client"]
    # Saved with the range, and undone as one step.
    file = open_set(ranged.keep_file.path)
    assert [(one.answer, one.remark) for one in file.chosen] == said(ranged)
    assert "soon, please" in file.settings["client"]
    ask(ranged, "undo")
    assert said(ranged) == [("", "")] * 3
    assert ranged.widget.facts["client"] == ""
    ask(ranged, "redo")
    assert said(ranged)[0] == ("yes", "lovely")
    ask(ranged, "sent_back", text=sent(page, ("yes", ""), ("", ""), ("", "")))
    assert ranged.widget.facts["client"] == "", "nothing was said of the whole"


def test_opened_again_they_stand(ranged, tmp_path):
    page = page_of(tmp_path / ask(ranged, "range_page")["file"])
    ask(ranged, "sent_back", text=sent(page, ("maybe", "paler?"), remark="x"))
    path = ranged.keep_file.path.name
    ask(ranged, "new_range", name="other")
    assert ranged.widget.facts["client"] == ""
    ask(ranged, "open_range", path=path)
    assert said(ranged)[0] == ("maybe", "paler?")
    assert "“x”" in ranged.widget.facts["client"]
    assert len(pages_noted(ranged.noted)) == 1, "the references are still known"


def test_renamed_moved_and_gone_since(ranged, tmp_path):
    """The cloth is the same: a new name or another place does not lose what was said of it."""
    page = page_of(tmp_path / ask(ranged, "range_page")["file"])
    quay, mole, third = (card.number for card in ranged.state.kept)
    ask(ranged, "name", number=quay, text="North quay")
    ask(ranged, "move", number=third, index=0)
    ask(ranged, "drop", number=mole)
    heard = ask(ranged, "sent_back", text=sent(page, ("yes", "a"), ("no", "b"), ("maybe", "c")))
    assert said(ranged) == [("maybe", "c"), ("yes", "a")]
    assert heard["gone"] == ["2 Mole: no. b"]


def test_another_ranges_answers_are_refused_and_may_be_read_all_the_same(ranged, tmp_path):
    page = page_of(tmp_path / ask(ranged, "range_page", reference="QH 1")["file"])
    text = sent(page | {"reference": "QH 7"}, ("yes", ""))
    before = ranged.state
    refused = ask(ranged, "sent_back", text=text)["refused"]
    assert "QH 1" in refused
    assert "QH 7" in refused
    assert ranged.state is before
    assert "refused" not in ask(ranged, "sent_back", text=text, anyway=True)
    assert said(ranged)[0] == ("yes", "")


def test_a_page_of_the_hand_off_is_known_by_its_usual_reference(ranged, tmp_path):
    folder = tmp_path / "out"
    ranged.export(folder, dpi=20, thumbnails=None, paper=None)
    page = page_of(folder / "client-page.html")
    assert "words" in ask(ranged, "sent_back", text=sent(page, ("yes", "")))
    assert said(ranged)[0] == ("yes", "")


def test_a_page_of_an_export_is_known_by_the_reference_that_was_typed(ranged, tmp_path):
    folder = str(tmp_path / "out")
    fields = {"folder": folder, "reference": " QH 31 ", "resolutions": "20", "paper": ""}
    ask(ranged, "set_export", fields=fields)
    assert ranged.hand_off.run(ranged.kept) is not None
    page = page_of(tmp_path / "out" / "client-page.html")
    assert page["reference"] == "QH 31"
    ask(ranged, "set_export", fields={"reference": "QH 32"})
    assert "refused" in ask(ranged, "sent_back", text=sent(page, ("yes", "")))
    ask(ranged, "set_export", fields={"reference": "QH 31"})
    assert "words" in ask(ranged, "sent_back", text=sent(page, ("yes", "")))
    assert said(ranged)[0] == ("yes", "")


def test_a_damaged_file_changes_nothing_and_says_why(ranged):
    before = ranged.state
    for raw in (b"hello", b"\xff\xfe", b"{", b'{"format": "checkcloth set", "version": 1}'):
        answer = ranged.answer({"do": "sent_back", "id": "1", "name": "a.json"}, [raw])[0]
        assert answer["error"].startswith("a.json"), raw
    assert ranged.state is before


def test_a_file_may_come_as_bytes(ranged, tmp_path):
    page = page_of(tmp_path / ask(ranged, "range_page")["file"])
    raw = sent(page, ("no", "é")).encode("utf-8")
    heard = ranged.answer({"do": "sent_back", "id": "1", "name": "a.json"}, [raw])[0]
    assert "error" not in heard
    assert said(ranged)[0] == ("no", "é")


def test_editions_do_not_write_over_each_other(ranged, tmp_path):
    names = [ask(ranged, "range_page")["file"] for _ in range(2)]
    assert names == ["explore-for-the-client.html", "explore-for-the-client-2.html"]
    fixed = ask(ranged, "range_page", sizes=False, strengths=False, codes=False)
    page = page_of(tmp_path / fixed["file"])
    assert (len(page["sizes"]), page["strengths"], page["codes"]) == (1, [], False)


def test_nothing_kept_no_page(desk, tmp_path):
    answer = ask(desk, "range_page")
    assert answer["field"] == "kept"
    assert not list(tmp_path.glob("*.html"))


def test_a_copy_was_never_seen_by_the_client(ranged, tmp_path):
    page = page_of(tmp_path / ask(ranged, "range_page")["file"])
    ask(ranged, "sent_back", text=sent(page, ("yes", "mine")))
    ask(ranged, "copy", number=ranged.state.kept[0].number)
    assert said(ranged)[:2] == [("yes", "mine"), ("", "")]
