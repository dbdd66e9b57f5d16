"""The search: every colourway that a palette holds, and the best of them that differ.

From a brief (:class:`Wanted`) to an answer (:class:`SearchResult`):

- ``wanted`` — the brief, its conditions, one ground at one strength in one mixing
- ``tables`` — what each pair of colours brings, and crossings among themselves
- ``reducer``, ``counts`` — every choice looked at and counted, or a seeded draw
- ``best`` — the exact best by bounding; what to give up where nothing passes
- ``blocks``, ``executors``, ``checkpoint`` — pieces, where they run, stop and resume
- ``run`` — what it will cost, and the search itself
- ``result``, ``shortlist`` — the answer; good and different, and why
"""

from __future__ import annotations

from checkcloth.ideas.variants import ORDERS, best_order, best_orders, ring_scores
from checkcloth.search.best import Relaxed, common_share, relaxations
from checkcloth.search.bounds.floors import SearchStoppedError
from checkcloth.search.in_bands import BandSearch, search_in_bands
from checkcloth.search.result import SearchResult
from checkcloth.search.run import HOW, Estimate, estimate, search
from checkcloth.search.shortlist import Shortlist, Shortlisted, farthest_points, tone_positions
from checkcloth.search.wanted import CONDITIONS, MEASURES, Constraint, Wanted, join_palettes

__all__ = [
    "CONDITIONS",
    "HOW",
    "MEASURES",
    "ORDERS",
    "BandSearch",
    "Constraint",
    "Estimate",
    "Relaxed",
    "SearchResult",
    "SearchStoppedError",
    "Shortlist",
    "Shortlisted",
    "Wanted",
    "best_order",
    "best_orders",
    "common_share",
    "estimate",
    "farthest_points",
    "join_palettes",
    "relaxations",
    "ring_scores",
    "search",
    "search_in_bands",
    "tone_positions",
]
