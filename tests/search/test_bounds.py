"""What bounding rules out: against a clique solver, against tables, and against plain growth."""

from __future__ import annotations

import networkx as nx
import numpy as np
import pytest

from checkcloth import NamedColour, Palette
from checkcloth.errors import ArgumentError
from checkcloth.search import Wanted, best, estimate, search
from checkcloth.search.bounds.cliques import Cliques
from checkcloth.search.tables import SettingTables


def spread(count, seed=1):
    rgb = np.random.default_rng(seed).random((count, 3)).round(3)
    return Palette("spread", [NamedColour(f"c{i}", tuple(row)) for i, row in enumerate(rgb)])


@pytest.fixture(params=["growth", "colourings"])
def way(request, monkeypatch):
    """Either way to the best, whatever a search would take by itself."""
    monkeypatch.setattr(best, "_MOST_FORMED", -1 if request.param == "colourings" else 1 << 40)
    monkeypatch.setattr(best, "_FEWEST_BY_CLASS", 1)


def graph_of(wanted, floor):
    """The colours as a graph: joined where they meet every condition and reach the floor."""
    setting = wanted.setting(0)
    tables = SettingTables(wanted, setting)
    good = tables.measure >= floor
    for constraint in wanted.constraints:
        good = good & tables.meets(constraint)
    graph = nx.Graph()
    graph.add_nodes_from(c for c in setting.free if good[c, c])
    graph.add_edges_from((i, j) for i in graph for j in graph if i < j and good[i, j])
    return graph


def graph_value(wanted, members):
    table = SettingTables(wanted, wanted.setting(0)).measure
    return [table[i, j] for i in members for j in members if i < j]


def greatest_clique(graph):
    return max((len(clique) for clique in nx.find_cliques(graph)), default=0)


CASES = [
    (30, 5, "least_edge", {}), (40, 6, "single_single", {}), (60, 4, "single_single", {}),
    (40, 7, "least_edge", {"stripes_apart": 14}), (25, 8, "single_single", {"ground_apart": 9}),
    (50, 5, "least_edge_dl", {"crossings_apart": 6}),
]  # fmt: skip


@pytest.mark.parametrize(("count", "stripes", "measure", "asked"), CASES)
def test_a_clique_solver_agrees(way, count, stripes, measure, asked):
    """networkx finds a clique of that size at the best value, and none just above it."""
    wanted = Wanted(spread(count, count), stripes, ["white"], measure=measure, **asked)
    result = search(wanted, 1, how="best", pool=0)
    (value, _, members) = result.found[0]
    graph = graph_of(wanted, value)
    assert all(graph.has_edge(i, j) for i in members for j in members if i < j)
    assert greatest_clique(graph) >= stripes
    assert greatest_clique(graph_of(wanted, np.nextafter(value, np.inf))) < stripes
    assert result.nodes > 0
    assert result.report().count("proof: ") == 1
    assert f"{result.nodes:,} choices" in result.proof


@pytest.mark.parametrize("k", [1, 20, 400])
@pytest.mark.parametrize("asked", [
    {}, {"must": ["c3", "c8"]}, {"stripes_apart": 11, "visions": ["deutan"], "measured": "worst"},
    {"lightness_order": True}, {"strengths": [0.0, 0.6]},
])  # fmt: skip
def test_both_ways_find_the_same(monkeypatch, asked, k):
    wanted = Wanted(spread(22, 5), 5, ["white", "#223"], **asked)
    monkeypatch.setattr(best, "_FEWEST_BY_CLASS", 1)
    monkeypatch.setattr(best, "_MOST_FORMED", 1 << 40)
    plain = search(wanted, k, how="best", pool=0)
    monkeypatch.setattr(best, "_MOST_FORMED", -1)
    coloured = search(wanted, k, how="best", pool=0)
    assert coloured.found == plain.found
    assert coloured.all_found == plain.all_found
    assert plain.found == search(wanted, k, how="every", pool=0).found


def test_every_clique_comes_once():
    rng = np.random.default_rng(4)
    for size in range(1, 6):
        joined = np.triu(rng.random((18, 18)) < 0.6, 1)
        joined |= joined.T
        table = rng.random((18, 18))
        table = np.minimum(table, table.T)
        found = [tuple(sorted(row)) for _, row in
                 Cliques(table, joined).runs(size, [0.2], lambda: False)]  # fmt: skip
        graph = nx.Graph([(i, j) for i in range(18) for j in range(i)
                          if joined[i, j] and table[i, j] >= 0.2])  # fmt: skip
        graph.add_nodes_from(range(18))
        every = {tuple(sorted(row)) for row in nx.enumerate_all_cliques(graph) if len(row) == size}
        assert len(found) == len(every)
        assert {*found} == every


# -- crossings that may not look alike -----------------------------------------------------------


@pytest.mark.parametrize("mixing", ["source-over", "woven"])
@pytest.mark.parametrize(("stripes", "asked"), [
    (1, {}), (2, {}), (3, {"visions": ["deutan"]}), (4, {}), (5, {"must": ["c2", "c9"]}),
    (5, {"ground_apart": 8, "measure": "single_single"}), (6, {}),
])  # fmt: skip
def test_crossings_of_many_colours_are_those_of_the_table(monkeypatch, mixing, stripes, asked):
    measure = asked.pop("measure", "least_edge")
    wanted = Wanted(spread(13, 8), stripes, ["white", "#224"], 0.6, mixing, crossings_unlike=3.5,
                    measure=measure, **asked)  # fmt: skip
    for k in (3, 2000):
        table = search(wanted, k, how="best", pool=0)
        with monkeypatch.context() as patch:
            patch.setattr(best, "MOST_IN_TABLE", 0)
            assert search(wanted, k, how="best", pool=0).found == table.found
    assert len(table.found) > 0


def test_crossings_of_many_colours_are_bounded_only():
    wanted = Wanted(spread(60), 4, ["white"], crossings_unlike=4, ground_apart=20)
    assert "how='best'" in str(estimate(wanted))
    for how in (None, "every", "sample"):
        with pytest.raises(ArgumentError) as caught:
            search(wanted, how=how)
        assert caught.value.argument == "how"
    assert search(wanted, 5, how="best").values[0] > 0
    with pytest.raises(ArgumentError, match="at most 200 stripe colours where crossings_unlike"):
        Wanted(spread(201), 4, ["white"], crossings_unlike=4)


def test_a_thousand_colours():
    """Twelve of 1,000, conditions and all; what is found holds, and nothing greater is there."""
    wanted = Wanted(spread(1000), 12, ["white"], ground_apart=10, crossings_apart=5,
                    stripes_apart=14)  # fmt: skip
    result = search(wanted, 1, how="best", pool=0)
    value, _, members = result.found[0]
    graph = graph_of(wanted, value)
    assert all(graph.has_edge(i, j) for i in members for j in members if i < j)
    # Each two together are a colourway of two stripes: none of them scores less than all do.
    assert min(graph_value(wanted, members)) == value
    assert f"{result.nodes:,} choices, whole or begun, were formed" in result.proof
