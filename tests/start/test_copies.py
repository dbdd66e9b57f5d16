"""Copies of notebooks and palettes: all of them, whole, and never over what somebody changed."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.files import shipped as shipped_module
from checkcloth.files.shipped import shipped, shipped_files
from checkcloth.start.copies import RECORD, lay_copies

ROOT = Path(__file__).resolve().parents[2]
EXPLORE, HARVEST = "notebooks/explore.ipynb", "palettes/harvest-stall.csv"


def contents(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


@pytest.fixture
def later_kit(tmp_path, monkeypatch):
    """Return a function that lets another kit's files ship: name within the folder to bytes."""
    folder = tmp_path / "later"
    for kind in ("notebooks", "palettes"):
        for path in shipped_files(kind):
            target = folder / "shipped" / kind / path
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(shipped(kind) / path, target)

    def ship(**files: bytes) -> None:
        for name, raw in files.items():
            (folder / "shipped" / name).write_bytes(raw)
        monkeypatch.setattr(shipped_module, "_PACKAGE", folder)

    return ship


def test_all_that_notebooks_need_is_laid(tmp_path):
    laid = lay_copies(tmp_path / "new" / "folder")
    found = contents(laid.folder)
    assert json.loads(found.pop(RECORD))["files"].keys() == found.keys() == set(laid.new)
    assert not laid.renewed
    assert not laid.same
    assert not laid.left
    for name, raw in found.items():
        assert raw == (ROOT / name).read_bytes()
    palettes = {path.name for path in (ROOT / "palettes").glob("*.csv")}
    assert palettes == {Path(name).name for name in found if name.startswith("palettes/")}
    for notebook in (ROOT / "notebooks").glob("*.ipynb"):
        source = notebook.read_text("utf-8")
        for name in ("data/supplier-shades.csv", "pictures/halt-at-dusk.jpg"):
            assert name not in source or f"notebooks/{name}" in found
    assert not [name for name in found if name.endswith((".py", ".kept.json")) or "/out/" in name]


def test_again_changes_nothing(tmp_path):
    lay_copies(tmp_path)
    times = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")}
    again = lay_copies(tmp_path)
    assert not again.new
    assert not again.renewed
    assert not again.left
    assert {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*") if path.is_file()} == {
        path: time for path, time in times.items() if path.is_file()
    }


def test_what_somebody_changed_is_left_and_said_and_what_is_gone_comes_back(tmp_path):
    lay_copies(tmp_path)
    (tmp_path / EXPLORE).write_text("mine")
    (tmp_path / HARVEST).unlink()
    again = lay_copies(tmp_path)
    assert (again.left, again.new) == ((EXPLORE,), (HARVEST,))
    assert (tmp_path / EXPLORE).read_text() == "mine"
    assert EXPLORE in str(again)


def test_files_that_were_there_before_are_left(tmp_path):
    (tmp_path / "notebooks").mkdir()
    (tmp_path / EXPLORE).write_text("somebody's own")
    (tmp_path / "palettes").mkdir()
    (tmp_path / HARVEST).symlink_to(tmp_path / "elsewhere.csv")
    laid = lay_copies(tmp_path)
    assert laid.left == (EXPLORE, HARVEST)
    assert (tmp_path / EXPLORE).read_text() == "somebody's own"
    assert (tmp_path / HARVEST).is_symlink()


def test_a_later_kit_renews_what_nobody_changed(tmp_path, later_kit):
    lay_copies(tmp_path)
    (tmp_path / HARVEST).write_text("name,colour\nMine,teal\n")
    later_kit(**{EXPLORE: b"{}", HARVEST: b"name,colour\nTheirs,navy\n"})
    again = lay_copies(tmp_path)
    assert (again.renewed, again.left) == ((EXPLORE,), (HARVEST,))
    assert (tmp_path / EXPLORE).read_bytes() == b"{}"
    assert (tmp_path / HARVEST).read_text() == "name,colour\nMine,teal\n"


@pytest.mark.parametrize("damage", ["", "{", "[1]", '{"format": "checkcloth start"}', "[" * 99999])
def test_without_a_readable_record_what_differs_is_somebodys(tmp_path, later_kit, damage):
    lay_copies(tmp_path)
    (tmp_path / RECORD).write_text(damage)
    later_kit(**{EXPLORE: b"{}"})
    assert lay_copies(tmp_path).left == (EXPLORE,)
    assert (tmp_path / EXPLORE).read_bytes() == (ROOT / EXPLORE).read_bytes()


def test_several_at_once_lay_each_file_once(tmp_path):
    folder = tmp_path / "one"
    code = (
        "from checkcloth.start.copies import lay_copies;"
        f"laid = lay_copies({str(folder)!r}); print(len(laid.new), len(laid.same))"
    )
    starts = [
        subprocess.Popen(
            [sys.executable, "-c", code],
            env=os.environ | {"PYTHONPATH": str(ROOT / "kit")},
            stdout=subprocess.PIPE,
            text=True,
        )
        for _ in range(3)
    ]
    outcomes = sorted(
        tuple(map(int, start.communicate(timeout=120)[0].split())) for start in starts
    )
    whole = outcomes[-1][0]
    assert whole
    assert outcomes == [(0, whole), (0, whole), (whole, 0)]
    assert not [name for name in contents(folder) if name.endswith((".part", ".lock"))]


def test_one_killed_on_the_way_is_finished_by_the_next(tmp_path, monkeypatch):
    from checkcloth.start import copies

    def killed(path, raw, **more):
        if path.name == "search.ipynb":
            path.with_name(".half.part").write_bytes(raw[:9])
            raise KeyboardInterrupt
        return write(path, raw, **more)

    write = copies.write_whole
    monkeypatch.setattr(copies, "write_whole", killed)
    with pytest.raises(KeyboardInterrupt):
        lay_copies(tmp_path)
    assert not (tmp_path / "notebooks" / "search.ipynb").exists()
    monkeypatch.undo()
    again = lay_copies(tmp_path)
    assert again.new
    assert again.same
    assert not again.left


def test_the_checkout_is_no_copy_of_itself():
    laid = lay_copies(ROOT)
    assert not laid.new
    assert not laid.left
    assert EXPLORE in laid.same
    assert not (ROOT / RECORD).exists()


def test_a_folder_that_cannot_be_is_refused(tmp_path):
    file = tmp_path / "file"
    file.write_text("")
    for folder in (file, file / "below", "", 3, "a\0b"):
        with pytest.raises(ArgumentError) as caught:
            lay_copies(folder)
        assert caught.value.argument == "folder"
    assert os.listdir(tmp_path) == ["file"]


def test_an_installation_without_the_files_says_so(tmp_path, monkeypatch):
    monkeypatch.setattr(shipped_module, "_PACKAGE", tmp_path / "a" / "b")
    with pytest.raises(CheckclothError, match="installed with the kit"):
        lay_copies(tmp_path / "new")
