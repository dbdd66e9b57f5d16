"""Keeping finished blocks in a file, so that a search that was stopped or killed goes on.

The file is JSON lines: a first line that says which search it belongs to, then a line for
each finished block. A line is on the disk before the block counts as done, and a line torn
by a crash is passed over and its block run again.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import os
import warnings
from dataclasses import asdict
from math import isnan
from pathlib import Path
from types import TracebackType
from typing import Any

from checkcloth.errors import FileFormatError, shown
from checkcloth.search.blocks import Done, Job
from checkcloth.search.counts import BINS, Tally

__all__ = ["Kept", "fingerprint"]

_FORMAT = "checkcloth search blocks"
_VERSION = 2  # 2: each line has a digest
_MOST_BYTES = 1 << 30


def fingerprint(job: Job) -> str:
    """Return a digest of all that decides the answer of a search.

    >>> from checkcloth import Palette
    >>> from checkcloth.search.wanted import Wanted
    >>> job = Job(Wanted(Palette("coast", ["white", "navy", "teal"]), 2), "every", 5)
    >>> len(fingerprint(job))
    64
    """
    wanted = job.wanted
    plain: dict[str, Any] = {
        name: getattr(wanted, name)
        for name in wanted.__dataclass_fields__
        if name not in ("palette", "grounds", "must", "must_not")
    }
    for name in ("candidates", "grounds", "must", "must_not"):
        plain[name] = [(colour.name, colour.rgb) for colour in getattr(wanted, name)]
    plain |= {"how": job.how, "most": job.most, "seed": job.seed, "draws": job.draws}
    text = json.dumps(plain, sort_keys=True, ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def _line(done: Done) -> bytes:
    plain: dict[str, Any] = {
        "block": done.number,
        "all_found": done.all_found,
        # floats as JSON writes them read back to the very same floats
        "found": [[value, case, list(row)] for value, case, row in done.found],
        "tally": None if done.tally is None else asdict(done.tally),
    }
    return json.dumps(plain | {"check": _check(plain)}).encode("ascii") + b"\n"


def _check(plain: dict[str, Any]) -> str:
    """A digest that goes with a line, so that a changed digit is not taken for an answer."""
    return hashlib.sha256(json.dumps(plain).encode("ascii")).hexdigest()[:16]


def _read(line: bytes, job: Job) -> Done | None:
    """Read one finished block; None for a line that was torn, or changed, or cannot be."""
    try:
        plain = json.loads(line)
        if plain.pop("check") != _check(plain):
            return None
        tally = None if plain["tally"] is None else Tally(**plain["tally"])
        found = [(float(v), int(c), tuple(map(int, row))) for v, c, row in plain["found"]]
        done = Done(int(plain["block"]), tally, found, bool(plain["all_found"]))
        return done if _can_be(done, job) else None
    except (ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError):
        return None


def _can_be(done: Done, job: Job) -> bool:
    """Whether a block's counts and colourways are such as this search can have."""
    wanted, tally = job.wanted, done.tally
    many = len(wanted.candidates)
    for value, case, row in done.found:
        places = set(row)
        if isnan(value) or not (0 <= case < wanted.case_count):
            return False
        if len(row) != wanted.stripes or len(places) != len(row) or not places <= set(range(many)):
            return False
    if tally is None:
        return True
    needs = len(wanted.needs)
    lists = ((tally.met, needs), (tally.only, needs), (tally.spread, BINS))
    if not all(isinstance(counts, list) and len(counts) == most for counts, most in lists):
        return False
    counts = [tally.total, tally.met_all, *tally.met, *tally.only, *tally.spread]
    return all(type(count) is int and count >= 0 for count in counts)


class Kept:
    """The file of finished blocks of one search; without a path it keeps nothing.

    Parameters
    ----------
    path : Path or None
    job : Job

    Raises
    ------
    FileFormatError
        For a file that is none of ours, or belongs to another search. It is left alone.
    OSError
        If nothing can be written there, before any work is done.
    """

    def __init__(self, path: Path | None, job: Job) -> None:
        self.path = path
        self.done: dict[int, Done] = {}
        self.note = ""
        self._stream: io.FileIO | None = None
        self._good = 0
        if path is None:
            return
        head = {"format": _FORMAT, "version": _VERSION, "search": fingerprint(job)}
        start = json.dumps(head).encode("ascii") + b"\n"
        good = self._open_again(path, start, job) if path.exists() and path.stat().st_size else 0
        # Unbuffered: nothing waits in memory that a later close would have to write.
        self._stream = path.open("r+b" if path.exists() else "xb", buffering=0)
        self._good = good
        self._cut()
        if not good:
            try:
                self._write(start)
            except OSError:
                self.close()
                raise

    def _open_again(self, path: Path, start: bytes, job: Job) -> int:
        if not path.is_file():
            return 0
        if path.stat().st_size > _MOST_BYTES:
            raise FileFormatError(f"{path.name}: must be at most 1 GiB, found more")
        good = 0
        with path.open("rb") as stream:
            for number, line in enumerate(stream):
                if number == 0:
                    if start.startswith(line) and not line.endswith(b"\n"):
                        return 0  # torn in its first line: nothing was done yet
                    self._check_head(path, line, start)
                    good = len(line)
                    continue
                done = _read(line, job) if line.endswith(b"\n") else None
                if done is None:
                    break
                self.done[done.number] = done
                good += len(line)
        return good

    @staticmethod
    def _check_head(path: Path, line: bytes, start: bytes) -> None:
        if line == start:
            return
        try:
            ours = json.loads(line).get("format") == _FORMAT
        except (ValueError, AttributeError, RecursionError):
            ours = False
        if ours:
            raise FileFormatError(
                f"keep must name the file of this very search, found {path.name!r} of another "
                f"brief, seed or version; give another name or delete it"
            )
        raise FileFormatError(
            f"keep must name a file of finished blocks or a free name, found {path.name!r} "
            f"that begins {shown(line[:40])}"
        )

    def _cut(self) -> None:
        """Cut off what a crash or a full disk has torn, so that the next line starts a line."""
        if self._stream is not None and self.path is not None and self.path.is_file():
            self._stream.truncate(self._good)
            self._stream.seek(self._good)

    def _write(self, data: bytes) -> None:
        assert self._stream is not None
        rest = memoryview(data)
        while rest:
            rest = rest[self._stream.write(rest) :]
        if self.path is not None and self.path.is_file():
            os.fsync(self._stream.fileno())
        self._good += len(data)

    def add(self, done: Done) -> None:
        """Keep a finished block. If the disk is full the search goes on, and says so."""
        self.done[done.number] = done
        if self._stream is None:
            return
        try:
            self._write(_line(done))
        except OSError as error:
            self.note = f"finished blocks could not be kept any longer: {error.strerror}"
            warnings.warn(f"{self.note}; the search goes on without", RuntimeWarning, stacklevel=2)
            with contextlib.suppress(OSError):
                self._cut()
            self.close()

    def close(self) -> None:
        """Close the file; what is in it stays."""
        stream, self._stream = self._stream, None
        if stream is not None:
            stream.close()

    def __enter__(self) -> Kept:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
