"""Blocks: pieces of a search that need nothing of one another, so they can run anywhere.

A search is cut into parts, always the same ones for the same search. How many of them make a
block follows the rate that is measured on the way: about a second's work, so that a stop, a kill
or a bar that moves never waits for longer. A block is a few numbers; whoever runs it works the
tables out for itself (some milliseconds a setting). What comes back is small: counts, and the
best few of each setting.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import repeat
from math import comb
from time import perf_counter
from typing import NamedTuple

from checkcloth.cloth.colourway import Colourway
from checkcloth.search.bands.joint import joint_tables
from checkcloth.search.bands.walk import count_beginning, walk_of
from checkcloth.search.best import best_of_setting
from checkcloth.search.bounds.floors import Best, Stop, check_going, never
from checkcloth.search.counts import Counts, count_setting, held_size, sample_setting
from checkcloth.search.tables import tables_of
from checkcloth.search.wanted import Setting, Wanted

# A part holds about so many colourways at most: some hundredths of a second's work. Of a search
# that has more of them than anybody waits for, parts are so many at the most.
_WEIGHT = 1 << 22
_MOST_PARTS = 1 << 17
# A block is closed once it holds the work of so many seconds, or so many parts.
_SECONDS = 0.7
_PARTS = 256
# Once blocks took so many seconds, they say what the others will take.
_ENOUGH = 0.5
# Work in the first block, before anything is measured.
_FIRST = 1 << 22
# A setting's tables and bounding cost about as much as counting so many colourways.
_SETTING_WEIGHT = 1 << 18
# Draws in one part of a sample.
_DRAWS = 1 << 17


class Hit(NamedTuple):
    """A colourway that was found: its measure, its setting, its stripes.

    ``setting`` is the index that :meth:`Wanted.setting` takes; ``members`` are indices into
    the candidates: ascending, or stripe by stripe in bands where the order counts. A weft's own
    come after the warp's.
    """

    value: float
    setting: int
    members: tuple[int, ...]

    def colourway(self, wanted: Wanted) -> Colourway:
        """Return the colourway, its stripes as ``members`` has them."""
        setting = wanted.setting(self.setting)
        colours = [wanted.candidates[index] for index in self.members]
        stripes, wefts = colours[: wanted.stripes], colours[wanted.stripes :] or None
        options = (wanted.warp_share, wanted.yule_nielsen, wanted.stock, wefts)
        return Colourway(setting.ground, stripes, setting.strength, setting.mixing, "", *options)

    def choice(self, wanted: Wanted) -> tuple[tuple[int, ...], ...]:
        """Return its colours in no order, the warp's and the weft's own."""
        ways = self.members[: wanted.stripes], self.members[wanted.stripes :]
        return tuple(tuple(sorted(way)) for way in ways)


@dataclass(frozen=True)
class Part:
    """A piece of one setting.

    Its colourways have ``above`` as their greatest free colours, and the next greatest lies in
    low … high-1. In bands they begin with ``above``, and the next stripe has a colour of
    low … high-1 (numbers among the colours that fit). Of a sample, ``count`` is how many to
    draw, and low numbers the pieces that a setting's draws are cut into, each with a seed of
    its own. ``best`` says that this part also finds the setting's best.
    """

    setting: int
    low: int
    high: int
    count: int
    best: bool
    above: tuple[int, ...] = ()


@dataclass(frozen=True)
class Block:
    """Parts that follow one another and are run together; ``number`` is the first one's."""

    number: int
    parts: tuple[Part, ...]

    @property
    def count(self) -> int:
        """Colourways looked at, ruled out or drawn."""
        return sum(part.count for part in self.parts)


@dataclass(frozen=True)
class Job:
    """What every block of one search has in common.

    ``most`` is the best of each setting; with ``one_order`` each choice of colours comes once.
    """

    wanted: Wanted
    how: str
    most: int
    seed: int = 1
    draws: int = 0
    one_order: bool = False


@dataclass
class Done:
    """What came of a block: of so many ``parts`` from number ``number`` on."""

    number: int
    counts: Counts | None
    hits: list[Hit] = field(default_factory=list)
    all_found: bool = True
    parts: int = 1
    seconds: float = 0.0
    nodes: int = 0


def parts_of(job: Job) -> list[Part]:
    """Cut a search into parts; always the same ones for the same search."""
    total = job.wanted.count
    most = max(_WEIGHT, total // _MOST_PARTS)
    out: list[Part] = []
    drawn = passed = 0
    for number in range(job.wanted.setting_count):
        setting = job.wanted.setting(number)
        if setting.count == 0:
            continue
        if job.how == "best":
            out.append(Part(number, 0, 0, setting.count * job.wanted.orders, True))
        elif job.how == "sample":
            # Draws go to settings by size; rounding is carried on, so they add up exactly.
            passed += setting.count * job.wanted.orders
            share = job.draws * passed // total - drawn
            drawn += share
            for piece, start in enumerate(range(0, share, _DRAWS)):
                out.append(Part(number, piece, piece, min(_DRAWS, share - start), True))
        elif job.wanted.bands is not None:
            out += _first(_arranged(job.wanted, setting, most))
        else:
            out += _first(_chosen(setting, most))
    return out


def _first(parts: Iterator[Part]) -> Iterator[Part]:
    """Yield parts of which the first finds the best."""
    for place, part in enumerate(parts):
        yield replace(part, best=True) if place == 0 else part


def _chosen(setting: Setting, most: int) -> Iterator[Part]:
    """Cut the choices of a setting, by their greatest colours."""
    free, choose = len(setting.free), setting.choose
    if choose == 0:
        yield Part(setting.number, 0, 1, 1, False)
        return
    depth = choose - held_size(free, choose)

    def cut(above: tuple[int, ...], below: int) -> Iterator[Part]:
        left = choose - len(above)
        low, count = 0, 0
        for top in range(below):
            each = comb(top, left - 1)
            if each > most and len(above) + 1 < depth:
                if count:
                    yield Part(setting.number, low, top, count, False, above)
                yield from cut((*above, top), top)
                low, count = top + 1, 0
                continue
            count += each
            if count and (count >= most or top == below - 1):
                yield Part(setting.number, low, top + 1, count, False, above)
                low, count = top + 1, 0
        if count:
            yield Part(setting.number, low, below, count, False, above)

    yield from cut((), free)


def _arranged(wanted: Wanted, setting: Setting, most: int) -> Iterator[Part]:
    """Cut the arrangements of a setting, by the colours of their first stripes."""
    tables = joint_tables(wanted, setting.number)
    fits = tables.fits

    def cut(above: tuple[int, ...]) -> Iterator[Part]:
        low, count = 0, 0
        given = tuple(fits[index] for index in above)
        for next_ in range(len(fits)):
            each = count_beginning(tables, (*given, fits[next_]))
            if each > most and len(above) + 1 < wanted.slots:
                if count:
                    yield Part(setting.number, low, next_, count, False, above)
                yield from cut((*above, next_))
                low, count = next_ + 1, 0
                continue
            count += each
            if count >= most:
                yield Part(setting.number, low, next_ + 1, count, False, above)
                low, count = next_ + 1, 0
        if count:
            yield Part(setting.number, low, len(fits), count, False, above)

    yield from cut(())


class Queue:
    """The parts of a search that are still to be run, handed out as blocks.

    ``parts`` are all of the search, ``done`` is what is finished already.
    """

    def __init__(self, job: Job, parts: list[Part], done: Iterable[Done] = ()) -> None:
        self._job, self._how, self._parts = job, job.how, parts
        finished = {n for one in done for n in range(one.number, one.number + one.parts)}
        self._todo = [n for n in range(len(parts)) if n not in finished][::-1]
        self._again: list[Block] = []
        self._rate: float | None = None  # work a second
        self._worked, self._spent = 0, 0.0

    def __bool__(self) -> bool:
        return bool(self._todo or self._again)

    def __len__(self) -> int:
        return len(self._todo) + len(self._again)

    def _work(self, part: Part) -> int:
        """The work of a part: colourways, and a setting's tables and bounding as so many more."""
        if self._how == "best":
            return _SETTING_WEIGHT
        return part.count * (32 if self._how == "sample" else 1) + _SETTING_WEIGHT

    def take(self) -> Block:
        """Return the next block: what was put back first, then about a second's work."""
        if self._again:
            return self._again.pop()
        limit = _FIRST if self._rate is None else self._rate * _SECONDS
        if self._how == "best" and self._rate is None:
            limit = 0
        number = self._todo[-1]
        parts: list[Part] = []
        work = 0
        while self._todo and self._todo[-1] == number + len(parts):
            part = self._parts[self._todo[-1]]
            work += self._work(part)
            if parts and work > limit:
                break
            parts.append(part)
            self._todo.pop()
            if len(parts) == _PARTS:
                break
        return Block(number, tuple(parts))

    def put_aside(self) -> Queue | None:
        """Return a queue of one block that was put back, alone; None where there is none."""
        if not self._again:
            return None
        alone = Queue(self._job, [])
        alone._again = [self._again.pop()]
        return alone

    def put_back(self, block: Block) -> None:
        """Take a block that was not finished, to be handed out again."""
        self._again.append(block)

    def measured(self, block: Block, done: Done) -> None:
        """Note how long a block took; the next ones are cut by it."""
        work = sum(map(self._work, block.parts))
        self._worked += work
        self._spent += done.seconds
        rate = work / max(done.seconds, 1e-3)
        # Not by one lucky block: at most four times as fast as was thought.
        self._rate = rate if self._rate is None else min(rate, 4 * self._rate)

    @property
    def seconds_left(self) -> float:
        """What is left would take one process so long; 0 while too little is done to say."""
        if self._spent < _ENOUGH:
            return 0.0
        work = sum(self._work(self._parts[number]) for number in self._todo)
        return work * self._spent / self._worked


def run_block(job: Job, block: Block, stopped: Stop = never) -> Done:
    """Run one block: the same answer in this process, another, or on another machine.

    Only here can it be stopped in the middle: :class:`SearchStoppedError`.
    """
    started = perf_counter()
    done = Done(block.number, None, parts=len(block.parts))
    for part in block.parts:
        check_going(stopped)
        counts, best = _run_part(job, part, stopped)
        if counts is not None:
            done.counts = done.counts or Counts()
            done.counts.add(counts)
        if best is not None:
            done.all_found &= best.all_found
            done.nodes += best.nodes
            rows = map(tuple, best.members.tolist())
            done.hits += map(Hit, best.values.tolist(), repeat(part.setting), rows)
    done.seconds = perf_counter() - started
    return done


def _run_part(job: Job, part: Part, stopped: Stop) -> tuple[Counts | None, Best | None]:
    wanted = job.wanted
    if job.how == "sample":
        seed = (job.seed, part.setting, part.low)
        if wanted.bands is not None:
            walk = walk_of(wanted, part.setting)
            drawn = walk.sample(part.count, seed, job.most, job.one_order, stopped)
        else:
            tables = tables_of(wanted, part.setting)
            drawn = sample_setting(tables, wanted, part.count, seed, job.most, stopped)
        return drawn[0], Best(drawn[1], drawn[2], False)
    counted: Counts | None = None
    if job.how == "every" and wanted.bands is not None:
        walk = walk_of(wanted, part.setting)
        counted = walk.count(part.low, part.high, part.above, stopped)
    elif job.how == "every":
        reach = (part.low, part.high, part.above)
        counted = count_setting(wanted, part.setting, *reach, stopped)
    if not part.best:
        return counted, None
    tables = tables_of(wanted, part.setting)
    best = best_of_setting(tables, wanted, job.most, one_order=job.one_order, stopped=stopped)
    return counted, best
