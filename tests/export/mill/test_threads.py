"""Thread plans, against the trade's arithmetic and against counting threads one by one.

Ends a band at 64 an inch (4, 8, 16, 32, 64 for 1/16 to 1 in) and the even rounding of 6.25
at 50 an inch: by arithmetic on common practice. 8 double ends of selvedge a side: "Gingham
(common)", old handbook text at weavinglibrary.org. Take-up and waste: stand-ins, no source.
"""

from __future__ import annotations

import csv
import io
import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from checkcloth import Check, Colourway, Length
from checkcloth.cloth.threads import Allowances, Sett, ends_per_band, thread_order
from checkcloth.errors import ArgumentError, CheckclothError, LengthError
from checkcloth.export.mill.draft import draft, face
from checkcloth.export.mill.thread_plan import thread_plan

QUAY = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0", "#4f9070"], 1.0, "woven", name="Quay")


def _plan(colourway=QUAY, size="1/4 in", **more):
    wanted = {"width": "44 in", "length": "60 in", "sett": "64 per in"} | more
    return thread_plan(colourway, Check(size, len(colourway.stripes)), **wanted)


def test_how_far_off_the_yarns_are_is_of_what_is_woven():
    """A stripe that is not laid is no tone of the cloth."""
    cloth = Colourway("#fbf8f1", ["#e8e0d0", "#101020"], 0.8)
    alone = Colourway("#fbf8f1", ["#e8e0d0"], 0.8)
    check = Check("1/4 in", 2, warp="1 A, 1 ground")
    more = {"width": "44 in", "length": "60 in", "sett": "64 per in"}
    plan = thread_plan(cloth, check, **more)
    assert plan.shift == pytest.approx(_plan(alone).shift)
    assert dict(plan.facts())["viewing distance"] == dict(_plan(alone).facts())["viewing distance"]


@pytest.mark.parametrize(
    ("size", "sett", "ends"),
    [("1/16 in", "64 per in", 4), ("1/8 in", "64/in", 8), ("1/4 in", "64 per inch", 16),
     ("1/2 in", "64 ends per in", 32), ("1 in", "64 per in", 64), ("1/8 in", "50 per in", 6),
     ("1 cm", "24 per cm", 24), ("0.1 mm", "10 per cm", 2)],
)  # fmt: skip
def test_ends_a_band(size, sett, ends):
    assert ends_per_band(size, sett) == ends


@given(st.integers(1, 5), st.integers(20, 90), st.integers(200, 1500), st.booleans(),
       st.integers(0, 20))  # fmt: skip
@settings(max_examples=80, deadline=None)
def test_orders_fill_the_width_and_both_edges_match(stripes, per_in, width, balanced, selvedge):
    check = Check("1/4 in", stripes)
    sett, extent = Sett(f"{per_in} per in"), Length.of_mm(width)
    order = thread_order(check, sett, extent, balanced=balanced, selvedge=selvedge)
    assert order.threads % 2 == 0
    assert abs(order.threads - float(sett.over(extent))) <= 1
    assert order.each % 2 == 0
    parts = [run.part for run in order.runs]
    runs = [run for run in order.runs if run.part not in ("selvedge", "plain edge")]
    assert all(run.threads == order.each for run in runs)
    assert len(runs) == order.repeats * 2 * stripes + balanced
    if balanced:
        assert runs[0].stripe == runs[-1].stripe == 1
    else:
        assert [run.stripe for run in runs] == check.plan().tolist() * order.repeats
    # What is left over lies half on each side: the check stands centred.
    edges = [run.threads for run in order.runs if run.part in ("plain edge", "selvedge")]
    assert edges == edges[::-1]
    assert parts.count("selvedge") == (2 if selvedge else 0)
    assert sum(order.per_stripe(stripes)) == order.threads


def test_selvedges_are_eight_double_ends():
    runs = _plan().warp.runs
    assert runs[0] == runs[-1] == ("selvedge", 0, 16)
    assert all(run.part != "selvedge" for run in _plan().weft.runs)


def test_the_plan_says_how_far_the_check_then_is():
    plan = _plan(size="1/8 in", sett="50 per in")
    assert plan.warp.each == 6
    real = plan.real_size(plan.ends, plan.warp)
    assert real == Length("0.12 in")
    facts = dict(plan.facts())
    assert facts["warp check"].startswith("0.12 in (3.048 mm): -0.127 mm (-4.00%)")
    assert facts["warp band"] == "6 ends, rounded to even"
    assert "take-up warp 8.0%, weft 6.0%" in facts["allowances"]


def test_metres_by_hand():
    # 1 stripe of 10 mm at 10 ends per cm: 10 ends a band. 10 cm wide and 20 cm long,
    # balanced, no selvedge: 100 ends = 4 repeats of 20 + 10 of balance + 10 plain.
    plan = thread_plan(
        Colourway("white", ["navy"], 1.0), Check("10 mm", 1), width="10 cm", length="20 cm",
        sett="10 per cm", selvedge=0, allowances=Allowances(0.1, 0.2, 0.05),
    )  # fmt: skip
    assert plan.warp.per_stripe(1) == [50, 50]
    assert plan.weft.per_stripe(1) == [100, 100]
    # An end is 20 cm × 1.1 × 1.05, a pick 10 cm × 1.2 × 1.05.
    assert plan.metres[1] == pytest.approx((50 * 0.231, 100 * 0.126))
    assert plan.metres[0] == pytest.approx((50 * 0.231, 100 * 0.126))


def test_tables_add_up():
    plan = _plan(picks="20 per cm")
    for way, order in (("warp", plan.warp), ("weft", plan.weft)):
        rows = list(csv.DictReader(io.StringIO(plan.order_csv(way), newline="")))
        what = "ends" if way == "warp" else "picks"
        assert sum(int(row[what]) for row in rows) == order.threads == int(rows[-1]["last"])
        for one, two in itertools.pairwise(rows):
            assert int(two["first"]) == int(one["last"]) + 1
    yarns = list(csv.DictReader(io.StringIO(plan.yarn_csv(), newline="")))
    assert yarns[0]["yarn"] == "#fbf8f1"
    assert sum(int(row["ends"]) for row in yarns) == plan.warp.threads
    assert sum(int(row["picks"]) for row in yarns) == plan.weft.threads
    for row in yarns:
        together = float(row["warp m"]) + float(row["weft m"])
        assert float(row["together m"]) == pytest.approx(together, abs=0.11)


@given(st.floats(0, 1))
@settings(max_examples=20, deadline=None)
def test_yarns_weave_the_tones_of_the_woven_mixing(strength):
    assert _plan(QUAY.with_(strength=strength)).shift < 1e-4


def test_other_mixings_say_that_threads_cannot():
    plan = _plan(QUAY.with_(mixing="source-over", strength=0.5))
    assert plan.shift > 5
    assert "not what threads do" in dict(plan.facts())["difference"]


def test_the_face_shows_half_of_each_where_two_yarns_cross():
    cloth = face(_plan())
    each = _plan().warp.each
    yarns = np.floor(_plan().yarns * 255 + 0.5)
    cell = cloth[:each, 2 * each : 3 * each]  # warp stripe 2 over weft stripe 1
    warp = (cell == yarns[2]).all(axis=-1).mean()
    weft = (cell == yarns[1]).all(axis=-1).mean()
    assert (warp, weft) == (0.5, 0.5)


def test_the_draft_is_a_picture_of_one_repeat_and_a_band():
    plan = _plan()
    drawn = draft(plan)
    image = np.asarray(Image.open(io.BytesIO(drawn.png)).convert("RGB"))
    seen = {tuple(pixel) for pixel in image.reshape(-1, 3)}
    for yarn in np.floor(plan.yarns * 255 + 0.5).astype(int):
        assert tuple(yarn.tolist()) in seen
    assert "112 of 2816 ends" in drawn.alt
    assert draft(plan).png == drawn.png
    wide = Colourway("white", [f"hsl({n * 15} 50% 50%)" for n in range(24)])
    assert draft(_plan(wide, size="1/2 in")).width > 0  # cut at 400 threads, not refused


@pytest.mark.parametrize(
    "wrong",
    [{"sett": "64"}, {"sett": "0 per in"}, {"sett": "9999 per in"}, {"sett": None},
     {"width": "1 in"}, {"length": "1 mm"}, {"selvedge": -1}, {"selvedge": 2.5},
     {"picks": "many"}, {"width": "90000 cm", "sett": "400 per in"}],
)  # fmt: skip
def test_nonsense_is_refused(wrong):
    with pytest.raises(CheckclothError):
        _plan(**wrong)


def test_the_draft_follows_uneven_bands():
    check = Check("1/4 in", 1, warp="2 A, 1 ground")
    cloth = Colourway("white", ["navy"], 1.0, "woven")
    plan = thread_plan(cloth, check, width="44 in", length="60 in", sett="64 per in")
    cloth = face(plan)
    assert cloth.shape[:2] == (5 * plan.warp.each,) * 2  # a repeat of three checks, and two more
    colours = np.floor(plan.yarns * 255 + 0.5)
    wanted = np.repeat([1, 1, 0, 1, 1], plan.warp.each)
    up = np.add.outer(np.arange(len(wanted)), np.arange(len(wanted))) % 2 == 0
    np.testing.assert_array_equal(
        cloth, np.where(up[..., None], colours[wanted][None], colours[wanted][:, None])
    )


def test_errors_name_the_argument():
    for kind, argument, call in (
        (LengthError, "width", lambda: _plan(width="1 in")),
        (LengthError, "length", lambda: _plan(length="1 in")),
        (ArgumentError, "sett", lambda: Sett("64")),
        (ArgumentError, "waste", lambda: Allowances(waste=float("nan"))),
    ):
        with pytest.raises(kind) as caught:
            call()
        assert caught.value.argument == argument
