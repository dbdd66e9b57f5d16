"""Whatever bytes a file holds, a reader gives the kit's own error or a result."""

from __future__ import annotations

import codecs
import importlib.util
import warnings
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checkcloth.errors import CheckclothError

_spec = importlib.util.spec_from_file_location("readers", Path(__file__).with_name("readers.py"))
_readers = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_readers)
READERS = _readers.READERS

SEEDS = Path(__file__).parent / "found"


@st.composite
def damaged(draw, seeds: list[bytes]) -> bytes:
    """A sound file with some bytes cut, put in, changed or repeated; or any bytes at all."""
    if draw(st.integers(0, 9)) == 0:
        return draw(st.binary(max_size=400))
    data = bytearray(draw(st.sampled_from(seeds)))
    for _ in range(draw(st.integers(1, 6))):
        place = draw(st.integers(0, len(data)))
        what = draw(st.integers(0, 3))
        if what == 0:
            del data[place : place + draw(st.integers(1, 40))]
        elif what == 1:
            data[place:place] = draw(st.binary(min_size=1, max_size=20))
        elif what == 2 and place < len(data):
            data[place] = draw(st.integers(0, 255))
        else:
            data[place:place] = data[place : place + draw(st.integers(1, 60))]
    return bytes(data)


def read(name: str, data: bytes, folder: Path) -> None:
    file_name, reader, _ = READERS[name]
    file = folder / file_name
    file.write_bytes(data)
    before = sorted(folder.iterdir())
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        # The kit's own word that a picture's profile is of no use, with the picture read.
        warnings.filterwarnings("ignore", "a.png: its colour profile", RuntimeWarning)
        try:
            reader(file)
        except CheckclothError as error:
            message = str(error)
            assert message, "an error must say something"
            assert len(message) < 2000
    if name != "manifest":
        assert sorted(folder.iterdir()) == before, "a reader wrote something"


@pytest.mark.parametrize("name", READERS)
def test_sound_files_are_read(name, tmp_path):
    file_name, reader, seeds = READERS[name]
    for seed in seeds:
        (tmp_path / file_name).write_bytes(seed)
        reader(tmp_path / file_name)


# Bytes that are no text, and what is typed, which has no file's marks.
NO_TEXT = {"photo", "press", "blocks"}
TYPED = {"fields", "orders", "colour", "length", "sett"}


def is_latin(raw: bytes) -> bool:
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError:
        return True
    return False


@pytest.mark.parametrize("name", sorted(set(READERS) - NO_TEXT))
def test_line_ends_and_marks_of_any_system_change_nothing(name, tmp_path):
    """CR LF as Windows has it, CR alone as older spreadsheets do, and UTF-8 with its mark."""
    file_name, reader, seeds = READERS[name]
    file = tmp_path / file_name
    for seed in seeds:
        if seed.startswith(b"P6"):
            continue
        plain = seed.removeprefix(codecs.BOM_UTF8)
        file.write_bytes(plain)
        wanted = repr(reader(file))
        ends = [b"\r\n", b"\r"]
        others = [plain.replace(b"\n", end) for end in ends]
        if name not in TYPED and not is_latin(plain):
            others += [codecs.BOM_UTF8 + raw for raw in (plain, *others)]
        for raw in others:
            file.write_bytes(raw)
            assert repr(reader(file)) == wanted, raw[:60]


@pytest.mark.parametrize("name", READERS)
def test_damaged_files_end_in_a_clear_error(name, tmp_path):
    @given(damaged(READERS[name][2]))
    @settings(deadline=None, max_examples=150, suppress_health_check=list(HealthCheck))
    def check(data):
        read(name, data, tmp_path)

    check()


@pytest.mark.parametrize("path", sorted(SEEDS.glob("*")), ids=lambda path: path.name)
def test_what_the_fuzzer_found_stays_mended(path, tmp_path):
    """File names are the reader's, a dash, and the start of the SHA-256 of the bytes."""
    read(path.name.split("-")[0], path.read_bytes(), tmp_path)
