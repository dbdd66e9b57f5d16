"""A file of finished blocks, so that a search that was stopped or killed goes on.

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
from typing import Any

from checkcloth.errors import FileFormatError, shown
from checkcloth.search.blocks import Done, Hit, Job
from checkcloth.search.counts import BINS, Counts

_FORMAT = "checkcloth search blocks"
_VERSION = 3  # 2: each line has a digest; 3: parts, of which a block is a few
_MOST_BYTES = 1 << 30


def fingerprint(job: Job) -> str:
    """Return a digest of all that decides the answer of a search."""
    wanted = job.wanted
    plain: dict[str, Any] = {
        name: getattr(wanted, name)
        for name in wanted.__dataclass_fields__
        if name not in ("palette", "grounds", "must", "must_not", "stock", "check", "placed")
    }
    for name, unasked in (("edge_hyab", None), ("weft_stripes", 0)):
        if plain[name] == unasked:  # earlier searches knew none, and go on
            del plain[name]
    if wanted.stock.text:  # earlier searches knew none, and go on
        plain["stock"] = wanted.stock.text
    if wanted.bands is not None:
        plain["bands"] = [[(stripe, str(checks)) for stripe, checks in way] for way in wanted.bands]
        if any(wanted.placed):
            plain["placed"] = [colour and (colour.name, colour.rgb) for colour in wanted.placed]
    if job.one_order:
        plain["one_order"] = True
    for name in ("candidates", "grounds", "must", "must_not"):
        plain[name] = [(colour.name, colour.rgb) for colour in getattr(wanted, name)]
    plain |= {"how": job.how, "most": job.most, "seed": job.seed, "draws": job.draws}
    text = json.dumps(plain, sort_keys=True, ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def _line(done: Done) -> bytes:
    plain: dict[str, Any] = {
        "block": done.number,
        "parts": done.parts,
        "nodes": done.nodes,
        "all_found": done.all_found,
        # floats as JSON writes them read back to the very same floats
        "found": [[hit.value, hit.setting, list(hit.members)] for hit in done.hits],
        "tally": None if done.counts is None else asdict(done.counts),
    }
    return json.dumps(plain | {"check": _digest(plain)}).encode("ascii") + b"\n"


def _digest(plain: dict[str, Any]) -> str:
    """A digest that goes with a line, so that a changed digit is not taken for an answer."""
    return hashlib.sha256(json.dumps(plain).encode("ascii")).hexdigest()[:16]


def _read(line: bytes, job: Job) -> Done | None:
    """Read one finished block; None for a line that was torn, or changed, or cannot be."""
    try:
        plain = json.loads(line)
        if plain.pop("check") != _digest(plain):
            return None
        counts = None if plain["tally"] is None else Counts(**plain["tally"])
        hits = [
            Hit(float(value), int(setting), tuple(map(int, members)))
            for value, setting, members in plain["found"]
        ]
        number, parts = int(plain["block"]), int(plain["parts"])
        done = Done(number, counts, hits, bool(plain["all_found"]), parts)
        done.nodes = int(plain["nodes"])
    except (ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError):
        return None
    possible = all(_is_hit(hit, job) for hit in hits) and _are_counts(counts, job)
    return done if possible else None


def _is_hit(hit: Hit, job: Job) -> bool:
    """Whether this search can have such a colourway."""
    wanted, members = job.wanted, set(hit.members)
    counts = [len({*way}) for way in hit.choice(wanted)]
    return (
        not isnan(hit.value)
        and 0 <= hit.setting < wanted.setting_count
        and counts == [wanted.stripes, wanted.weft_stripes]
        and len(hit.members) == wanted.slots
        and members <= set(range(len(wanted.candidates)))
    )


def _are_counts(counts: Counts | None, job: Job) -> bool:
    """Whether this search can have such counts."""
    if counts is None:
        return True
    conditions = len(job.wanted.constraints)
    lists = ((counts.met, conditions), (counts.only, conditions), (counts.spread, BINS))
    if not all(isinstance(values, list) and len(values) == size for values, size in lists):
        return False
    values = [counts.total, counts.met_all, *counts.met, *counts.only, *counts.spread]
    return all(type(value) is int and value >= 0 for value in values)


def _check_head(path: Path, line: bytes, head: bytes) -> None:
    """Refuse a file that does not belong to this search; it is left alone."""
    if line == head:
        return
    try:
        plain = json.loads(line)
        ours, version = plain.get("format") == _FORMAT, plain.get("version")
    except (ValueError, AttributeError, RecursionError):
        ours, version = False, None
    if ours:
        words = f"{path.name!r} of another search: another brief, k, how, pool or seed"
        hint = "; give another name, or delete it to begin anew"
        if version != _VERSION:
            words = f"{path.name!r} of another version of the kit, format {shown(version)}"
            hint += "; that version can still go on with it"
        raise FileFormatError("keep", "the file of this very search", words=words, hint=hint)
    words = f"{path.name!r} that begins {shown(line[:40])}"
    raise FileFormatError("keep", "a file of finished blocks or a free name", words=words)


def _found_or_made(path: str, flags: int) -> int:
    """Open a file that is there, or make it: in one step, for another search may do so as well."""
    return os.open(path, flags | os.O_CREAT, 0o666)


class Checkpoint:
    """The file of finished blocks of one search; without a path nothing is written.

    A file that is none of ours, or belongs to another search, is left alone:
    ``FileFormatError``. Where nothing can be written, ``OSError``, before any work is done.
    """

    def __init__(self, path: Path | None, job: Job) -> None:
        self.path = path
        self.done: dict[int, Done] = {}
        self.note = ""
        self._stream: io.FileIO | None = None
        self._good = 0  # bytes of whole lines
        if path is None:
            return
        plain = {"format": _FORMAT, "version": _VERSION, "search": fingerprint(job)}
        head = json.dumps(plain).encode("ascii") + b"\n"
        if path.is_file() and path.stat().st_size:
            self._read_lines(path, head, job)
        # Unbuffered: nothing waits in memory that a later close would have to write.
        self._stream = open(path, "r+b", buffering=0, opener=_found_or_made)  # noqa: SIM115
        self._cut()
        if not self._good:
            try:
                self._write(head)
            except OSError:
                self.close()
                raise

    def keep_whole(self, parts: int) -> None:
        """Forget blocks that are not of a search in so many parts, or lie over one another."""
        upto, whole = 0, {}
        for number in sorted(self.done):
            done = self.done[number]
            if upto <= number and done.parts > 0 and number + done.parts <= parts:
                whole[number] = done
                upto = number + done.parts
        self.done = whole

    def _read_lines(self, path: Path, head: bytes, job: Job) -> None:
        if path.stat().st_size > _MOST_BYTES:
            raise FileFormatError("keep", "a file of at most 1 GiB", words="more", source=path.name)
        with path.open("rb") as stream:
            first = stream.readline()
            if head.startswith(first) and not first.endswith(b"\n"):
                return  # torn in its first line: nothing was done yet
            _check_head(path, first, head)
            self._good = len(first)
            for line in stream:
                done = _read(line, job) if line.endswith(b"\n") else None
                if done is None:
                    break
                self.done[done.number] = done
                self._good += len(line)

    def _cut(self) -> None:
        """Cut off what a crash or a full disk has torn, so that the next line starts a line."""
        if self._stream is not None and self.path is not None and self.path.is_file():
            self._stream.truncate(self._good)
            self._stream.seek(self._good)

    def _write(self, data: bytes) -> None:
        assert self._stream is not None
        view = memoryview(data)
        while view:
            view = view[self._stream.write(view) :]
        if self.path is not None and self.path.is_file():
            os.fsync(self._stream.fileno())
        self._good += len(data)

    def add(self, done: Done) -> None:
        """Write a finished block. If the disk is full the search goes on, and says so."""
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
