"""The set file: written as the kept change, whole or not at all, and earlier ones are safe."""

from __future__ import annotations

import os

import pytest

from checkcloth import ChosenSet, Colourway
from checkcloth.cloth.check import Check
from checkcloth.desk import keep_file
from checkcloth.desk.keep_file import KeepFile, earlier_sets
from checkcloth.errors import FileFormatError
from checkcloth.export.data.saved import open_set, save_set


def kept(*grounds):
    return ChosenSet(Check("1/2 in", 1), [Colourway(g, ["navy"]) for g in grounds], "explore")


def test_nothing_kept_writes_nothing(tmp_path):
    assert KeepFile(tmp_path).save(kept()) is None
    assert list(tmp_path.iterdir()) == []


def test_each_change_is_on_disk_and_emptying_is_too(tmp_path):
    file = KeepFile(tmp_path)
    for members in (kept("white"), kept("white", "ivory"), kept()):
        path = file.save(members)
        assert open_set(path) == members
    assert len(list(tmp_path.iterdir())) == 1


def test_a_range_has_a_file_named_after_it_and_a_second_of_that_name_a_number(tmp_path):
    """Seen failing: every desk had a file of its own, named by the moment it began."""
    one, two = KeepFile(tmp_path, "Tea tables"), KeepFile(tmp_path, "Tea tables")
    one.save(kept("white"))
    two.save(kept("ivory"))
    assert (one.path.name, two.path.name) == ("Tea-tables.kept.json", "Tea-tables-2.kept.json")
    one.save(kept("white", "linen"))
    assert open_set(two.path) == kept("ivory")
    assert open_set(one.path) == kept("white", "linen")


def test_a_file_that_cannot_be_written_keeps_what_it_held(tmp_path, monkeypatch):
    file = KeepFile(tmp_path)
    path = file.save(kept("white"))
    before = path.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        file.save(kept("white", "ivory"))
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_earlier_sets_newest_first_damaged_ones_with_their_fault(tmp_path):
    for age, (name, members) in enumerate({"new": kept("white", "linen"), "old": kept("ivory"),
                                           "empty": kept()}.items()):  # fmt: skip
        path = save_set(members, tmp_path / f"{name}.kept.json")
        os.utime(path, (2_000_000_000 - age, 2_000_000_000 - age))
    damaged = tmp_path / "damaged.kept.json"
    damaged.write_text('{"format": "checkcloth set", "version"')
    os.utime(damaged, (1_000_000_000, 1_000_000_000))
    found = earlier_sets(tmp_path)
    assert [(one.path.name.split(".")[0], one.kept) for one in found] == [
        ("new", 2), ("old", 1), ("damaged", 0)]  # fmt: skip
    assert "damaged.kept.json" in found[-1].fault


@pytest.mark.parametrize("written", [1e12, -1e11, 0.0])
def test_a_clock_far_off_hides_no_range(tmp_path, monkeypatch, written):
    """Seen failing: a file of the year 33658 kept every desk of its folder from opening."""
    path = save_set(kept("white"), tmp_path / "a.kept.json")
    monkeypatch.setattr(keep_file, "_files_in", lambda folder: [(written, path)])
    (found,) = earlier_sets(tmp_path)
    assert found.kept == 1
    assert found.when


def test_a_range_that_the_desk_cannot_hold_is_left_as_it_is(tmp_path):
    """Uneven bands of more stripes than a desk draws: said, and nothing of them lost."""
    made = ChosenSet(Check("1 mm", 13, warp="2 A, 1 ground"), [Colourway("white", ["navy"])])
    path = save_set(made, tmp_path / "own.kept.json")
    before = path.read_bytes()
    with pytest.raises(FileFormatError, match="open_set opens it in code"):
        KeepFile.opened(path)
    assert path.read_bytes() == before
    assert open_set(path) == made
    assert all("on the desk" in one.fault for one in earlier_sets(tmp_path))


def test_other_capitals_are_another_name_but_may_be_the_same_file(tmp_path):
    """As on Windows and macOS, here by a link; seen failing: the range got a number there."""
    file = KeepFile(tmp_path, "Spring")
    os.link(file.save(kept("white")), tmp_path / "spring.kept.json")
    named = ChosenSet(kept("white").check, kept("white").chosen, "spring")
    path = file.rename("spring", named)
    assert (file.name, path.name) == ("spring", "Spring.kept.json")
    assert open_set(path) == named
