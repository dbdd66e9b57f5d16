"""Blocks: pieces of a search that need nothing of one another, so they can run anywhere.

A block is a few numbers; whoever runs it works the tables out for itself (some
milliseconds a case). What comes back is small: counts, and the best few of each case.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import comb

from checkcloth.cloth.colourway import Colourway
from checkcloth.search.best import best_of_case
from checkcloth.search.counts import Tally, tally_case
from checkcloth.search.sample import sample_case
from checkcloth.search.setting import Case
from checkcloth.search.tables import tables_of
from checkcloth.search.wanted import Wanted

__all__ = ["Block", "Done", "Found", "Job", "Part", "blocks_of", "colourway_of", "run_block"]

# A block is closed once it holds so many colourways or parts: about a second of work.
_WEIGHT = 1 << 24
_PARTS = 16
# A case's tables and bounding cost about as much as folding so many colourways.
_CASE_WEIGHT = 1 << 18
# Draws in one part of a sample.
_DRAWS = 1 << 17

Found = tuple[float, int, tuple[int, ...]]
"""A colourway that was found: its measure, case number, and places among the candidates."""


def colourway_of(wanted: Wanted, found: Found) -> Colourway:
    """Return the colourway that was found, its stripes in palette order.

    >>> from checkcloth import Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal"]), 2, grounds=["white"])
    >>> print(colourway_of(wanted, (12.5, 0, (1, 2))))
    navy, teal on white, 50 %, source-over
    """
    case = wanted.case(found[1])
    return Colourway(
        case.ground,
        [wanted.candidates[place] for place in found[2]],
        case.strength,
        case.mixing,
        "",
        wanted.warp_share,
        wanted.yule_nielsen,
    )


@dataclass(frozen=True)
class Part:
    """A piece of one case: the colourways whose greatest free colour lies in low … high-1.

    ``draws`` is for samples: how many to draw, instead of looking at all; low then numbers
    the pieces that a case's draws are cut into, each with a seed of its own. ``best`` says
    that this part also finds the case's best.

    >>> Part(0, 0, 3, 5, best=True).count
    5
    """

    case: int
    low: int
    high: int
    count: int
    best: bool
    draws: int = 0


@dataclass(frozen=True)
class Block:
    """Parts that are run together; ``count`` is how many colourways that settles.

    >>> Block(0, (Part(0, 0, 3, 5, best=True),)).count
    5
    """

    number: int
    parts: tuple[Part, ...]

    @property
    def count(self) -> int:
        """Colourways looked at, ruled out or drawn."""
        return sum(part.count for part in self.parts)


@dataclass(frozen=True)
class Job:
    """What every block of one search has in common.

    Attributes
    ----------
    wanted : Wanted
    how : str
        ``"every"``, ``"best"`` or ``"sample"``.
    most : int
        Best to bring back from each case.
    seed, draws : int
        Of the sample.

    Examples
    --------
    >>> from checkcloth import Palette
    >>> Job(Wanted(Palette("coast", ["white", "navy", "teal"]), 2), "every", 5).how
    'every'
    """

    wanted: Wanted
    how: str
    most: int
    seed: int = 1
    draws: int = 0


@dataclass
class Done:
    """What came of a block.

    >>> Done(3, None, [(12.5, 0, (0, 2))]).found[0][0]
    12.5
    """

    number: int
    tally: Tally | None
    found: list[Found] = field(default_factory=list)
    all_found: bool = True


def _parts(job: Job) -> Iterator[tuple[Part, int]]:
    """Yield parts in order, each with the work it stands for."""
    total = job.wanted.count
    drawn = passed = 0
    for number in range(job.wanted.case_count):
        case = job.wanted.case(number)
        if case.count == 0:
            continue
        if job.how == "best":
            yield Part(number, 0, 0, case.count, True), _CASE_WEIGHT * 4
        elif job.how == "sample":
            # Draws go to cases by size; rounding is carried on, so they add up exactly.
            passed += case.count
            share = job.draws * passed // total - drawn
            drawn += share
            for piece, start in enumerate(range(0, share, _DRAWS)):
                draws = min(_DRAWS, share - start)
                # low is the piece's number here: it seeds the piece's own draws
                yield Part(number, piece, piece, draws, True, draws), draws * 32
        else:
            yield from _every(case)


def _every(case: Case) -> Iterator[tuple[Part, int]]:
    low, count, first = 0, 0, True
    for top in range(len(case.free)) if case.choose else (0,):
        count += comb(top, case.choose - 1) if case.choose else 1
        last = case.choose == 0 or top == len(case.free) - 1
        if count and (last or count >= _WEIGHT):
            yield Part(case.number, low, top + 1, count, first), count + _CASE_WEIGHT
            low, count, first = top + 1, 0, False


def blocks_of(job: Job) -> list[Block]:
    """Cut a search into blocks; always the same ones for the same search.

    >>> from checkcloth import Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2, grounds=["white"])
    >>> [block.count for block in blocks_of(Job(wanted, "every", 5))]
    [3]
    """
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


def run_block(job: Job, block: Block) -> Done:
    """Run one block: the same answer in this process, another, or on another machine.

    >>> from checkcloth import Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2, grounds=["white"])
    >>> job = Job(wanted, "every", 5)
    >>> run_block(job, blocks_of(job)[0]).tally.total
    3
    """
    wanted = job.wanted
    done = Done(block.number, None)
    for part in block.parts:
        tables = tables_of(wanted, part.case)
        tally: Tally | None = None
        if job.how == "sample":
            seed = (job.seed, part.case, part.low)
            tally, values, members = sample_case(tables, wanted, part.draws, seed, job.most)
            done.all_found = False
        else:
            if job.how == "every":
                tally = tally_case(tables, wanted, part.low, part.high)
            if part.best:
                values, members, all_found = best_of_case(tables, wanted, job.most)
                done.all_found &= all_found
        if tally is not None:
            if done.tally is None:
                done.tally = Tally()
            done.tally.add(tally)
        if part.best:
            rows = zip(values.tolist(), members.tolist(), strict=True)
            done.found += [(value, part.case, tuple(row)) for value, row in rows]
    return done
