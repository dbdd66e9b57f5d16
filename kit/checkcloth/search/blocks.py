"""Blocks: pieces of a search that need nothing of one another, so they can run anywhere.

A block is a few numbers; whoever runs it works the tables out for itself (some
milliseconds a setting). What comes back is small: counts, and the best few of each setting.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import repeat
from math import comb
from typing import NamedTuple

from checkcloth.cloth.colourway import Colourway
from checkcloth.search.best import Stop, best_of_setting, never
from checkcloth.search.counts import Counts, count_setting, sample_setting
from checkcloth.search.tables import tables_of
from checkcloth.search.wanted import Setting, Wanted

# A block is closed once it holds so many colourways or parts: about a second of work.
_WEIGHT = 1 << 24
_PARTS = 16
# A setting's tables and bounding cost about as much as counting so many colourways.
_SETTING_WEIGHT = 1 << 18
# Draws in one part of a sample.
_DRAWS = 1 << 17


class Hit(NamedTuple):
    """A colourway that was found: its measure, its setting, its stripes.

    ``setting`` is the index that :meth:`Wanted.setting` takes; ``members`` are indices into
    the candidates, ascending.
    """

    value: float
    setting: int
    members: tuple[int, ...]

    def colourway(self, wanted: Wanted) -> Colourway:
        """Return the colourway, its stripes in palette order."""
        setting = wanted.setting(self.setting)
        stripes = [wanted.candidates[index] for index in self.members]
        options = (wanted.warp_share, wanted.yule_nielsen, wanted.stock)
        return Colourway(setting.ground, stripes, setting.strength, setting.mixing, "", *options)


@dataclass(frozen=True)
class Part:
    """A piece of one setting: the colourways whose greatest free colour lies in low … high-1.

    Of a sample, ``count`` is how many to draw, and low numbers the pieces that a setting's
    draws are cut into, each with a seed of its own. ``best`` says that this part also finds
    the setting's best.
    """

    setting: int
    low: int
    high: int
    count: int
    best: bool


@dataclass(frozen=True)
class Block:
    """Parts that are run together."""

    number: int
    parts: tuple[Part, ...]

    @property
    def count(self) -> int:
        """Colourways looked at, ruled out or drawn."""
        return sum(part.count for part in self.parts)


@dataclass(frozen=True)
class Job:
    """What every block of one search has in common; ``most`` is the best of each setting."""

    wanted: Wanted
    how: str
    most: int
    seed: int = 1
    draws: int = 0


@dataclass
class Done:
    """What came of a block."""

    number: int
    counts: Counts | None
    hits: list[Hit] = field(default_factory=list)
    all_found: bool = True


def _parts(job: Job) -> Iterator[tuple[Part, int]]:
    """Yield parts in order, each with the work it stands for."""
    total = job.wanted.count
    drawn = passed = 0
    for number in range(job.wanted.setting_count):
        setting = job.wanted.setting(number)
        if setting.count == 0:
            continue
        if job.how == "best":
            yield Part(number, 0, 0, setting.count, True), _SETTING_WEIGHT * 4
        elif job.how == "sample":
            # Draws go to settings by size; rounding is carried on, so they add up exactly.
            passed += setting.count
            share = job.draws * passed // total - drawn
            drawn += share
            for piece, start in enumerate(range(0, share, _DRAWS)):
                draws = min(_DRAWS, share - start)
                yield Part(number, piece, piece, draws, True), draws * 32
        else:
            yield from _every(setting)


def _every(setting: Setting) -> Iterator[tuple[Part, int]]:
    low, count, first = 0, 0, True
    for top in range(len(setting.free)) if setting.choose else (0,):
        count += comb(top, setting.choose - 1) if setting.choose else 1
        last = setting.choose == 0 or top == len(setting.free) - 1
        if count and (last or count >= _WEIGHT):
            yield Part(setting.number, low, top + 1, count, first), count + _SETTING_WEIGHT
            low, count, first = top + 1, 0, False


def blocks_of(job: Job) -> list[Block]:
    """Cut a search into blocks; always the same ones for the same search."""
    out: list[Block] = []
    parts: list[Part] = []
    weight = 0
    for part, work in _parts(job):
        parts.append(part)
        weight += work
        if weight >= _WEIGHT or len(parts) == _PARTS:
            out.append(Block(len(out), tuple(parts)))
            parts, weight = [], 0
    if parts:
        out.append(Block(len(out), tuple(parts)))
    return out


def run_block(job: Job, block: Block, stopped: Stop = never) -> Done:
    """Run one block: the same answer in this process, another, or on another machine.

    Only here can it be stopped in the middle of its best; see :func:`best_of_setting`.
    """
    wanted = job.wanted
    done = Done(block.number, None)
    for part in block.parts:
        tables = tables_of(wanted, part.setting)
        counts: Counts | None = None
        if job.how == "sample":
            seed = (job.seed, part.setting, part.low)
            counts, values, members = sample_setting(tables, wanted, part.count, seed, job.most)
            done.all_found = False
        else:
            if job.how == "every":
                counts = count_setting(tables, wanted, part.low, part.high)
            if part.best:
                values, members, all_found = best_of_setting(
                    tables, wanted, job.most, stopped=stopped
                )
                done.all_found &= all_found
        if counts is not None:
            done.counts = done.counts or Counts()
            done.counts.add(counts)
        if part.best:
            rows = map(tuple, members.tolist())
            done.hits += map(Hit, values.tolist(), repeat(part.setting), rows)
    return done
