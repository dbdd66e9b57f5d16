"""What a reader sends back: read from mails as they arrive, matched, never guessed."""

from __future__ import annotations

import json
import textwrap

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import Check, Chosen, ChosenSet, Colourway
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.export.data.answers import Answer, Answers, match_answers, read_answers

TEXT = """Tea rooms, spring: answers
Reference QH 26-04, page of 27 November 2026
From: A. Client
Seen last at: check 1 in, strength 40 %

1 Violet six: yes
2 Violet three: no answer
3 Violet two: no answer. I have not seen it in daylight, so please ask me again next week.
4 Duck egg six: maybe. Could the almond be a little weaker? In the small room we counted only
5 tables, and 12 chairs: no more than that.
5 Duck egg two: no

To all: thank you, we will have them all on the long table on Friday, and in the light of the day.
"""
FILE = {
    "format": "checkcloth answers",
    "version": 1,
    "title": "Tea rooms, spring",
    "reference": "QH 26-04",
    "date": "",
    "from": "A",
    "seen": "",
    "remark": "",
    "answers": [{"number": 1, "name": "Violet six", "answer": "yes", "remark": "for\nnapkins"}],
}


def facts(found: Answers) -> list[tuple[int, str, str]]:
    return [(one.number, one.answer, one.remark) for one in found.answers]


def mailed(text: str, width: int, quote: str = "") -> str:
    """Break and quote the lines as a mail program does (RFC 3676 calls it format=flowed)."""
    lines = (line for long in text.splitlines() for line in textwrap.wrap(long, width) or [""])
    return "\r\n".join(f"{quote}{line}" for line in lines)


def test_the_text_as_it_left():
    found = read_answers(TEXT)
    assert (found.reference, found.date, found.sender) == (
        "QH 26-04", "27 November 2026", "A. Client",
    )  # fmt: skip
    assert found.seen == "check 1 in, strength 40 %"
    assert found.remark.startswith("thank you, we will")
    assert [one[:2] for one in facts(found)] == [
        (1, "yes"), (2, ""), (3, ""), (4, "maybe"), (5, "no"),
    ]  # fmt: skip
    # A line of a remark that begins with a number is no answer to that number.
    assert found.answers[3].remark.endswith("only 5 tables, and 12 chairs: no more than that.")
    assert found.unread == ()


@pytest.mark.parametrize("width", [40, 60, 72, 78])
@pytest.mark.parametrize("quote", ["", "> ", ">> ", "> > "])
def test_a_mail_breaks_lines_and_quotes_them(width, quote):
    """Seen failing: a remark ended where the mail program had broken its line."""
    head = "On Friday somebody wrote:\r\n\r\n"
    found = read_answers(head + mailed(TEXT, width, quote) + "\r\n\r\n-- \r\nA. Client")
    straight = read_answers(TEXT)
    assert facts(found) == facts(straight)
    assert (found.sender, found.seen, found.remark) == (
        straight.sender, straight.seen, straight.remark,
    )  # fmt: skip
    assert found.unread == ("On Friday somebody wrote:", "-- A. Client")


def test_what_cannot_be_read_is_shown():
    found = read_answers(TEXT + "\n6 Almond six: perhaps\n\nsee you\n")
    assert found.unread == ("6 Almond six: perhaps", "see you")


def test_what_was_written_under_an_answer_does_not_take_it_away():
    """Seen failing: the answer was lost with the line under it."""
    found = read_answers("Reference X\n1 Quay: yes\nthat is the one\n2 Mole: no\n12 boxes came\n")
    assert facts(found) == [(1, "yes", ""), (2, "no", "")]
    assert found.unread == ("that is the one", "12 boxes came")


def test_a_name_that_looks_like_an_answer():
    found = read_answers("Reference X\n1 Plan, no. 5: yes: maybe. fine\n2 No: no: no\n")
    assert [(one.name, one.answer) for one in found.answers] == [
        ("Plan, no. 5: yes", "maybe"), ("No: no", "no"),
    ]  # fmt: skip


def test_the_file(tmp_path):
    path = tmp_path / "answers.json"
    path.write_text(json.dumps(FILE), "utf-8")
    found = read_answers(path)
    assert found == read_answers(json.dumps(FILE)), "the text of the file is read alike"
    assert facts(found) == [(1, "yes", "for napkins")], "a remark is one paragraph"


@pytest.mark.parametrize(
    ("change", "argument"),
    [
        ({"format": "checkcloth set"}, "format"),
        ({"version": 2}, "version"),
        ({"answers": [{"number": 1, "name": "x", "answer": "perhaps"}]}, "answers[0].answer"),
        ({"answers": [{"number": "1", "name": "x", "answer": "yes"}]}, "answers[0].number"),
        ({"answers": "none"}, "answers"),
        ({"reference": 3}, "reference"),
        ({"more": 1}, "more"),
        ({"answers": FILE["answers"] * 1001}, "answers"),
    ],
)
def test_a_damaged_or_foreign_file(change, argument):
    with pytest.raises(FileFormatError) as caught:
        read_answers(json.dumps(FILE | change))
    assert caught.value.argument == argument


@pytest.mark.parametrize(
    "text", ["", "   \n", "hello", "Reference QH 1\n", "1 Quay: yes", '{"a": ', "{}", "\0"]
)
def test_what_is_no_answer_is_refused(text):
    with pytest.raises(FileFormatError):
        read_answers(text)


def test_a_file_that_is_no_text(tmp_path):
    path = tmp_path / "answers.json"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(FileFormatError):
        read_answers(path)
    with pytest.raises(FileNotFoundError):
        read_answers(tmp_path / "none.txt")


@given(st.text(alphabet=st.sampled_from("1 2:yes.no\n>Rference QH{}\"'"), max_size=300))
def test_nothing_but_the_kits_own_error(text):
    try:
        found = read_answers(text)
    except FileFormatError:
        return
    assert found.reference is not None
    assert all(one.answer in ("", "yes", "maybe", "no") for one in found.answers)


def test_a_hostile_text_takes_no_time():
    """Each line would begin an answer, or go on with one, and be joined again and again."""
    text = "Reference X\n1 a: no\n" + "2 b\n" * 200_000 + "3 c: yes. " + ": no" * 100_000
    assert len(read_answers(text).answers) == 2


# -- whose they are ------------------------------------------------------------------------------


def members(*names: str) -> ChosenSet:
    stripes = ("navy", "teal", "maroon", "gold", "olive")
    made = [Colourway("white", [s], name=n) for s, n in zip(stripes, names, strict=False)]
    return ChosenSet(Check("1 in", 1), made)


def found(chosen: ChosenSet, *said: Answer) -> tuple[list[tuple[int, str]], list[int]]:
    matched = match_answers(Answers("X", said), chosen)
    return [(i, one.answer) for i, one in matched.found], [one.number for one in matched.gone]


def test_by_number_where_the_name_agrees_else_by_name():
    chosen = members("Quay", "Mole", "Pier")
    assert found(chosen, Answer(1, "Quay", "yes"), Answer(2, "Pier", "no")) == (
        [(0, "yes"), (2, "no")], [],
    )  # fmt: skip
    # A mail program has changed signs and spaces.
    assert found(chosen, Answer(2, "  mole’", "no")) == ([(1, "no")], [])


def test_what_is_gone_is_said_and_not_guessed():
    assert found(members("Quay"), Answer(1, "Mole", "yes")) == ([], [1])
    assert found(members("Quay"), Answer(9, "Mole", "")) == ([], []), "nothing was said of it"


def test_two_of_one_name_are_told_apart_by_number_alone():
    twins = members("Quay", "Quay")
    assert found(twins, Answer(2, "Quay", "yes"), Answer(1, "Quay", "no")) == (
        [(0, "no"), (1, "yes")], [],
    )  # fmt: skip
    assert found(twins, Answer(7, "Quay", "yes")) == ([], [7])


def test_without_a_name_by_its_colours():
    assert found(members("", ""), Answer(1, "teal on white", "maybe")) == ([(1, "maybe")], [])


def test_numbers_follow_the_families():
    quay, mole = (Colourway("white", [s], name=n) for s, n in (("navy", "Quay"), ("teal", "Mole")))
    chosen = ChosenSet(Check("1 in", 1), [quay, Chosen(mole, family="Harbour")])
    assert found(chosen, Answer(1, "Mole", "yes")) == ([(1, "yes")], [])


def test_only_answers_are_matched():
    with pytest.raises(ArgumentError):
        match_answers(TEXT, members("Quay"))
