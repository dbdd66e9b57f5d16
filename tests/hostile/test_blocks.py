"""A file of finished blocks that was changed gives the same answer: what cannot be is run again."""

from __future__ import annotations

import hashlib
import importlib.util
import json
from pathlib import Path

import pytest

from checkcloth.search import search

_spec = importlib.util.spec_from_file_location("readers", Path(__file__).with_name("readers.py"))
_readers = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_readers)
SEED = _readers.READERS["blocks"][2][0]
HEAD, LINE, _ = SEED.split(b"\n")
GOOD = {key: value for key, value in json.loads(LINE).items() if key != "check"}
TALLY = GOOD["tally"]


def changed(**fields: object) -> bytes:
    """A line with other fields, and the digest that goes with them."""
    plain = GOOD | fields
    check = hashlib.sha256(json.dumps(plain).encode("ascii")).hexdigest()[:16]
    return json.dumps(plain | {"check": check}).encode("ascii")


LINES = {
    "nested too deep": b"[" * 100_000,
    "objects too deep": b'{"block":' * 100_000,
    "a number of 5,000 digits": b'{"block":' + b"9" * 5000 + b"}",
    "an infinite block": b'{"block":1e999,"tally":null,"found":[],"all_found":true}',
    "no object": b"[1]",
    "null": b"null",
    "bytes": b"\xff\xfe\x00",
    "one digit changed": LINE.replace(b'"met_all": 3', b'"met_all": 2'),
    "a value beyond floats": changed(found=[[10**400, 0, [1, 2]]]),
    "no number": changed(found=[[float("nan"), 0, [1, 2]]]),
    "a colour that is not there": changed(found=[[99.0, 0, [1, 99]]]),
    "a colour before the first": changed(found=[[99.0, 0, [-1, 2]]]),
    "too few colours": changed(found=[[99.0, 0, [1]]]),
    "a colour twice": changed(found=[[99.0, 0, [1, 1]]]),
    "a case that is not there": changed(found=[[99.0, 77, [1, 2]]]),
    "a case before the first": changed(found=[[99.0, -1, [1, 2]]]),
    "found is text": changed(found="abc"),
    "another block": changed(block=7),
    "a block before the first": changed(block=-1),
    "counts of text": changed(tally=TALLY | {"total": "x"}),
    "counts below nothing": changed(tally=TALLY | {"total": -3}),
    "too few counts": changed(tally=TALLY | {"met": []}),
    "nested counts": changed(tally=TALLY | {"only": [[1]]}),
    "unknown counts": changed(tally=TALLY | {"more": 1}),
    "counts as a list": changed(tally=[1]),
}


def answer(result) -> tuple:
    return result.total, result.settled, result.found, result.counts, result.all_found


@pytest.mark.parametrize("line", LINES.values(), ids=LINES)
def test_a_changed_line_is_run_again(line, tmp_path):
    file = tmp_path / "a.blocks"
    file.write_bytes(HEAD + b"\n" + line + b"\n")
    assert answer(search(_readers.WANTED, 5, keep=file)) == answer(search(_readers.WANTED, 5))


def test_a_sound_line_is_taken(tmp_path):
    """And not run again: the seed's own line comes back as it was."""
    file = tmp_path / "a.blocks"
    file.write_bytes(HEAD + b"\n" + changed(found=[[99.0, 0, [1, 2]]]) + b"\n")
    assert search(_readers.WANTED, 5, keep=file).found[0][0] == 99.0
