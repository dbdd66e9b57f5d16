"""The search: every colourway that a palette holds, and the best of them that differ.

From a brief (:class:`Wanted`) to an answer (:class:`SearchResult`):

- ``wanted``, ``needs``, ``case`` — the brief, its conditions, one ground at one strength
- ``tables``, ``crossings`` — what each pair of colours brings; crossings among themselves
- ``fold``, ``tally`` — every choice looked at and counted
- ``grow`` — the exact best by bounding; ``sample`` — a seeded draw
- ``blocks``, ``crew``, ``keep``, ``run`` — pieces, who runs them, stop and go on
- ``count`` — what it will cost; ``relax`` — what to give up where nothing passes
- ``shortlist``, ``order``, ``reason`` — good and different, in the best order, and why
"""

from __future__ import annotations

from checkcloth.search.constraint import MEASURES, Need
from checkcloth.search.estimate import Estimate, estimate
from checkcloth.search.order import ORDERS, best_order, ring_scores
from checkcloth.search.relax import Relaxed, relaxations
from checkcloth.search.result import SearchResult
from checkcloth.search.run import HOW, search
from checkcloth.search.setting import join_palettes
from checkcloth.search.shortlist import Shortlist, Shortlisted, farthest_points, tone_places
from checkcloth.search.wanted import Wanted

__all__ = [
    "HOW",
    "MEASURES",
    "ORDERS",
    "Estimate",
    "Need",
    "Relaxed",
    "SearchResult",
    "Shortlist",
    "Shortlisted",
    "Wanted",
    "best_order",
    "estimate",
    "farthest_points",
    "join_palettes",
    "relaxations",
    "ring_scores",
    "search",
    "tone_places",
]
