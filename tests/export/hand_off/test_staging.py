"""A hand-off cut short at any point leaves the old state or the new one, never a mix."""

from __future__ import annotations

import errno
import os
import shutil
import signal
import subprocess
import sys
import threading
import warnings
from pathlib import Path

import pytest

from checkcloth import (
    Check,
    ChosenSet,
    Colourway,
    Palette,
    range_page,
    save_set,
    write_palette,
)
from checkcloth.errors import ArgumentError, ExistsError, FileFormatError
from checkcloth.export.hand_off import manifest, staging
from checkcloth.export.hand_off.hand_off import hand_off
from checkcloth.export.hand_off.manifest import verify
from checkcloth.export.picture.piece import Piece, save_cloth
from checkcloth.files import whole

CHECK = Check("5 mm", 1)
OLD, NEW = Colourway("white", ["navy"], name="Old"), Colourway("ivory", ["red"], name="New")
# Everything that touches the file system and that Python tells audit hooks about.
WATCHED = {"open", "os.mkdir", "os.rename", "os.remove", "os.rmdir", "shutil.rmtree", "fcntl.flock"}


def _files(folder: Path) -> dict[str, bytes] | None:
    if not folder.is_dir():
        return None
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def _write(folder: Path, colourway: Colourway) -> object:
    return hand_off(colourway, CHECK, folder, paper=None, thumbnails=None, dpi=72, overwrite=True)


class _Killer:
    """Counts every step on the file system, and dies at one of them."""

    def __init__(self, root: Path, fatal: int) -> None:
        self._root, self._fatal, self.count = str(root), fatal, 0

    def step(self) -> None:
        if self.count == self._fatal:
            os.kill(os.getpid(), signal.SIGKILL)
        self.count += 1

    def watch(self) -> None:
        write, exchange = staging.HashedFile.write, staging.exchange

        def counted_write(this, data):
            self.step()
            return write(this, data)

        def counted_exchange(first, second):
            self.step()
            done = exchange(first, second)
            self.step()
            return done

        staging.HashedFile.write, staging.exchange = counted_write, counted_exchange
        sys.addaudithook(self._hook)

    def _hook(self, event: str, args: tuple[object, ...]) -> None:
        if event == "fcntl.flock" or (event in WATCHED and self._root in str(args[0])):
            self.step()


def _run_and_die(work, root: Path, fatal: int) -> tuple[bool, int]:
    """Run in a child that is killed at a step; say whether it was, and how many it took."""
    reading, writing = os.pipe()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # threads of numpy's are idle
        child = os.fork()
    if child == 0:
        code = 1
        try:
            killer = _Killer(root, fatal)
            killer.watch()
            work()
            os.write(writing, str(killer.count).encode())
            code = 0
        finally:
            os._exit(code)
    os.close(writing)
    _, status = os.waitpid(child, 0)
    steps = os.read(reading, 20)
    os.close(reading)
    killed = os.WIFSIGNALED(status)
    assert killed or os.WEXITSTATUS(status) == 0
    return killed, int(steps or 0)


fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")


@fork
@pytest.mark.parametrize("one_step", [True, False], ids=["exchange", "two-renames"])
def test_killed_at_every_step(tmp_path, monkeypatch, one_step):
    folder = tmp_path / "out"
    _write(tmp_path / "new", NEW)
    new = _files(tmp_path / "new")
    shutil.rmtree(tmp_path / "new")
    _write(folder, OLD)
    old = _files(folder)
    assert old != new
    if not one_step:
        monkeypatch.setattr(staging, "exchange", lambda one, two: False)
    elif not sys.platform.startswith("linux"):
        pytest.skip("no exchange in one step here")

    _, steps = _run_and_die(lambda: _write(folder, NEW), tmp_path, -1)
    assert steps > 40
    _write(folder, OLD)
    seen = set()
    gaps = 0
    for fatal in range(steps):
        killed, _ = _run_and_die(lambda: _write(folder, NEW), tmp_path, fatal)
        assert killed
        state = _files(folder)
        if state is None:
            # Only where the system cannot exchange: one moment between two renames.
            assert not one_step
            gaps += 1
        else:
            assert state in (old, new)
            seen.add("old" if state == old else "new")
        # The next run finds what is left, puts things right, and leaves nothing behind.
        _write(folder, OLD)
        assert _files(folder) == old
        assert [path.name for path in tmp_path.iterdir()] == ["out"]
    assert seen == {"old", "new"}
    assert gaps == (0 if one_step else 1)


@fork
def test_left_overs_are_told_and_an_old_folder_is_put_back(tmp_path, monkeypatch):
    folder = tmp_path / "out"
    _write(folder, OLD)
    old = _files(folder)
    monkeypatch.setattr(staging, "exchange", lambda one, two: False)
    for fatal in range(400):
        _run_and_die(lambda: _write(folder, NEW), tmp_path, fatal)
        if not folder.exists():
            break
        _write(folder, OLD)
    else:
        pytest.fail("never caught between the two renames")
    with pytest.raises(ExistsError):  # without being told, the old folder is put back and kept
        hand_off(NEW, CHECK, folder, paper=None)
    assert _files(folder) == old
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def _one_file(kind: str, path: Path, colourway: Colourway) -> None:
    """Write one of the files that are no folder over whatever is there."""
    chosen = ChosenSet(CHECK, [colourway], "x")
    if kind == "cloth":
        save_cloth(colourway, Piece(CHECK, "3 cm", "3 cm", 72), path, overwrite=True)
    elif kind == "set":
        save_set(chosen, path, overwrite=True)
    elif kind == "palette":
        write_palette(Palette("p", [colourway.ground, *colourway.stripes]), path, overwrite=True)
    else:
        range_page(chosen, None, path, overwrite=True)


@fork
@pytest.mark.parametrize("kind", ["cloth", "set", "palette", "page"])
def test_one_file_is_whole_or_not_there_at_every_step(tmp_path, kind):
    path = tmp_path / "file"
    _one_file(kind, path, OLD)
    old = path.read_bytes()
    _one_file(kind, path, NEW)
    new = path.read_bytes()
    assert old != new

    def work():
        _one_file(kind, path, NEW)

    _, steps = _run_and_die(work, tmp_path, -1)
    assert steps > 4
    for fatal in range(steps):
        path.write_bytes(old)
        assert _run_and_die(work, tmp_path, fatal)[0]
        assert path.read_bytes() in (old, new)
    _one_file(kind, path, OLD)
    assert [one.name for one in tmp_path.iterdir()] == ["file"]


def test_a_disk_that_fills_up_changes_nothing(tmp_path, monkeypatch):
    folder = tmp_path / "out"
    _write(folder, OLD)
    old = _files(folder)
    write = staging.HashedFile.write
    done, failing = 0, -1

    def full(this, data):
        nonlocal done
        done += 1
        if done - 1 == failing:
            raise OSError(errno.ENOSPC, "No space left on device")
        return write(this, data)

    monkeypatch.setattr(staging.HashedFile, "write", full)
    _write(folder, OLD)  # counts the writes that there are
    writes = done
    assert writes > 5
    for number in range(writes):
        done, failing = 0, number
        with pytest.raises(OSError, match="No space left"):
            _write(folder, NEW)
        assert _files(folder) == old
        assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_real_full_disk_changes_nothing(tmp_path):
    small = tmp_path / "small"
    small.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(small)]
    try:
        mounted = subprocess.run(mount, capture_output=True, check=False).returncode == 0
    except OSError:
        mounted = False
    if not mounted:
        pytest.skip("may not mount a small disk here")
    try:
        folder = small / "out"
        _write(folder, OLD)
        old = _files(folder)
        filler = small / "filler"
        filler.write_bytes(bytes(shutil.disk_usage(small).free - 40_000))
        with pytest.raises(OSError, match="space"):
            hand_off(NEW, CHECK, folder, dpi=(72, 600, 1200), overwrite=True)
        filler.unlink()
        assert _files(folder) == old
        assert [path.name for path in small.iterdir()] == ["out"]
        _write(folder, NEW)
        assert verify(folder)
    finally:
        subprocess.run(["umount", str(small)], check=False, capture_output=True)


def test_two_runs_at_once_do_not_meet(tmp_path):
    folder = tmp_path / "out"

    def second(done, total, label):
        if done == 3:
            with pytest.raises(ExistsError) as caught:
                _write(folder, OLD)
            assert caught.value.argument == "folder"

    hand_off(NEW, CHECK, folder, paper=None, progress=second)
    assert verify(folder)


def test_a_folder_replaced_while_it_is_verified_is_verified_anew(tmp_path, monkeypatch):
    folder = tmp_path / "out"
    _write(folder, OLD)
    read, looks = manifest.read_manifest, []

    def replaced_after_reading(path):
        listed = read(path)
        looks.append(path)
        if len(looks) == 1:
            monkeypatch.setattr(manifest, "read_manifest", read)
            _write(folder, NEW)
            monkeypatch.setattr(manifest, "read_manifest", replaced_after_reading)
        return listed

    monkeypatch.setattr(manifest, "read_manifest", replaced_after_reading)
    assert verify(folder)
    assert len(looks) == 2


def test_between_two_renames_verify_waits(tmp_path):
    folder = tmp_path / "out"
    _write(folder, NEW)
    aside = whole.beside(folder, "old")
    folder.rename(aside)
    timer = threading.Timer(0.1, aside.rename, [folder])
    timer.start()
    assert verify(folder)
    timer.join()
    folder.rename(aside)  # killed there, and nobody comes
    with pytest.raises(FileFormatError):
        verify(folder)


def test_names_that_begin_alike_keep_apart(tmp_path):
    long = "x" * 120
    for name in (long + "1", long + "2"):
        _write(tmp_path / name, OLD)
    stray = tmp_path / f".{'x' * 40}.0123456789.abcd.part"
    stray.mkdir()
    _write(tmp_path / (long + "1"), NEW)
    assert stray.is_dir()  # not ours: its hash is of another name
    assert verify(tmp_path / (long + "2"))


@pytest.mark.parametrize("at", [1, 2])
def test_a_folder_that_will_not_move_stays_and_is_said(tmp_path, monkeypatch, at):
    """As on Windows, where a file of the folder is open in another program."""
    _write(tmp_path / "set", OLD)
    before = _files(tmp_path / "set")
    monkeypatch.setattr(staging, "exchange", lambda first, second: False)
    rename, moved = Path.rename, []

    def refusing(self, target):
        moved.append(self)
        if len(moved) == at:
            raise PermissionError(errno.EACCES, "The process cannot access the file")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", refusing)
    with pytest.raises(ArgumentError) as caught:
        _write(tmp_path / "set", NEW)
    assert caught.value.argument == "folder"
    assert "cannot access" in str(caught.value)
    assert _files(tmp_path / "set") == before
    assert [path.name for path in tmp_path.iterdir()] == ["set"]
