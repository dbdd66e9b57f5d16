"""The wall under load: minutes of making, browsing, finding, exporting. A script, not a test.

    python tests/bench/load_wall.py [minutes [colourways]]

Starts its own JupyterLab and Chromium and works a wall of 5,000 as a restless hand would: keys,
sliders and buttons, by a fixed seed. Every minute it prints how many actions were done; how long
moves took from key press to painted wall (overlay strength, a colour nudged, a stripe moved),
and beside them, since the machine may be busy, what a move took at that time whose whole work is
a fixed loop of the page's own (*empty*); and what memory the kernel and the page hold after
collecting. Before and after all that, and every five minutes, the same moves on a wall just dealt,
with nothing kept, compared or unfolded, in one mixing and order and with a rest after each, say
whether any has become slower: by the clock, and by the processor's time of the page's own thread
for a move and all that follows from it, which other work on the machine does not lengthen. It
asserts nothing.
"""

from __future__ import annotations

import os
import platform
import random
import re
import statistics
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from bench_wall import FIRST, LISTEN, ROOT, memory, percentile  # sets the paths of the drivers

import nbformat  # isort: skip
from lab_driver import CHROMIUM_FLAGS, LabServer, find_chromium  # isort: skip
from lab_page import LabPage  # isort: skip
from nbformat.v4 import new_code_cell, new_notebook  # isort: skip

CELL = """from checkcloth.desk import open_desk
desk = open_desk({palettes!r}, palette="harvest-stall", stripes=6, count={count})
desk"""
STRENGTH, SIZE, STRIPES = "Overlay strength", "Check size", "Stripes"
MIXINGS = ("source-over", "multiply", "woven", "pigment", "source-over-linear")
COLOURS = ("teal", "#f2b084", "rgb(120 90 160)", "lab(70 20 30)")
WAITED = """() => Promise.race([window.benchWait,
    new Promise(done => setTimeout(() => done(null), 10000))])"""
# The wall as it opens, whatever was done to it: what is timed at rest is always the same.
AS_OPENED = """[desk.answer({'do': 'sort', 'number': 0, 'sort': ''}),
desk.answer({'do': 'vision', 'number': 0, 'vision': 'normal'}),
[desk.answer({'do': 'compare', 'number': number}) for number in desk.state.compared],
[desk.answer({'do': 'drop', 'number': card.number}) for card in desk.state.kept],
[setattr(desk.widget, name, value) for name, value in
 dict(mixing='source-over', strength=0.4, size='1/2 in', stripes=6, ground='').items()]][4]"""
FOLD = """() =>
    document.querySelectorAll('.cc button[aria-expanded="true"], .cc details[open] > summary')
    .forEach(one => one.click())"""
# A slider whose whole work is a loop that takes a few milliseconds on a quiet machine.
EMPTY = """() => {
    const slider = Object.assign(document.createElement('input'), {type: 'range', max: 1000});
    slider.setAttribute('aria-label', 'Empty');
    Object.assign(slider.style, {position: 'fixed', right: 0, bottom: 0, width: '60px'});
    const wall = document.querySelector('.cc-wall');
    slider.addEventListener('input', () => {
        let sum = 0;
        for (let k = 1; k < 1e6; k += 1) sum += Math.sqrt(k);
        wall.setAttribute('data-empty', sum);
    });
    document.body.append(slider);
}"""
# Out of a hundred actions, about so many of each; a strength action is ten moves.
SHARES = {
    "strength": 12, "size": 6, "look": 10, "keep": 9, "drop": 6, "undo": 8, "redo": 6,
    "name": 4, "note": 2, "draw": 2, "more": 2, "different": 2, "compare": 3, "scroll": 3,
    "stripes": 1, "sort": 1, "vision": 1, "mixing": 2, "find": 2, "tabs": 2,
    "nudge": 6, "order": 4, "colour": 3, "typed": 2, "weft": 1,
}  # fmt: skip
EXPORT_EACH = 30.0  # seconds
LIMIT = 10_000  # milliseconds that it waits for what it presses
AT_REST_EACH = 5.0  # minutes
MOVES = ("empty", "strength", "nudge", "order")  # those that are timed


class Hand:
    """One who works the desk, and counts."""

    def __init__(self, lab: LabPage, session: Any, seed: int = 7) -> None:
        self.lab, self.page, self.session = lab, lab.page, session
        self.chance = random.Random(seed)
        self.counts: Counter[str] = Counter()
        self.times: dict[str, list[float]] = defaultdict(list)
        self.wrong: Counter[str] = Counter()

    def slider(self, name: str) -> int:
        """Focus a slider; return where it stands."""
        handle = self.page.get_by_role("slider", name=name, exact=True)
        handle.focus()
        return round(float(handle.input_value()))

    def press_on_wall(self, key: str) -> None:
        """Focus some colourway that is in sight, and press a key there."""
        options = self.page.locator(".cc-wall .cc-option")
        options.nth(self.chance.randrange(min(12, options.count()))).focus()
        self.page.keyboard.press(key)

    # -- what it does -----------------------------------------------------------------------

    def moves(
        self, what: str, keys: Sequence[str], attribute: str = "data-paints", rest: int = 0
    ) -> None:
        """Press keys on what has the focus; note how long each took to be painted."""
        for key in keys:
            self.page.wait_for_timeout(rest)
            self.page.evaluate(LISTEN, [attribute, "keydown"])
            self.page.keyboard.press(key)
            took = self.page.evaluate(WAITED)
            if took is None:
                self.wrong[f"{what}: {key} painted nothing"] += 1
            else:
                self.times[what].append(took[0])
            self.counts[f"{what} moves"] += 1

    def strength(self) -> None:
        key = "ArrowRight" if self.slider("Empty") < 500 else "ArrowLeft"
        self.moves("empty", [key] * 3, "data-empty")
        key = "ArrowRight" if self.slider(STRENGTH) < 50 else "ArrowLeft"
        self.moves("strength", [key] * 10)

    def at_rest(self) -> tuple[dict[str, list[float]], dict[str, float]]:
        """The same moves as ever, on a wall as it opens: what each took, and CPU ms a move."""
        busy, self.times = self.times, defaultdict(list)
        spent: dict[str, float] = {}
        self.page.set_default_timeout(60_000)  # what is measured has to come
        self.lab.ask(AS_OPENED)
        self.page.evaluate(FOLD)
        self.draw()
        self.page.wait_for_timeout(4000)
        self.slider("Empty")
        self.spend(spent, "empty", "ArrowRight", "ArrowLeft", "data-empty")
        self.slider(STRENGTH)
        self.spend(spent, "strength", "ArrowRight", "ArrowLeft")
        self.choose_stripe()
        self.page.get_by_role("slider", name="Lightness", exact=True).focus()
        self.spend(spent, "nudge", "ArrowRight", "ArrowLeft")
        self.page.locator('.cc-main .cc-thread[aria-selected="true"]').focus()
        self.spend(spent, "order", "Alt+ArrowRight", "Alt+ArrowLeft")
        self.page.set_default_timeout(LIMIT)
        found, self.times = self.times, busy
        return found, spent

    def spend(
        self, spent: dict[str, float], what: str, there: str, back: str, seen: str = "data-paints"
    ) -> None:
        """Move there and back, with rests; note the page's CPU time of a move."""
        self.page.wait_for_timeout(1500)
        self.lab.wait_for_idle()
        before = metric(self.session, "TaskDuration")
        self.moves(what, [there, back] * 6, seen, rest=500)
        self.page.wait_for_timeout(1500)
        self.lab.wait_for_idle()
        spent[what] = (metric(self.session, "TaskDuration") - before) / 12 * 1000

    def size(self) -> None:
        place = self.slider(SIZE)
        for _ in range(5):
            self.page.keyboard.press("ArrowRight" if place < 16 else "ArrowLeft")
            self.counts["size moves"] += 1

    def stripes(self) -> None:
        place = self.slider(STRIPES)
        self.page.keyboard.press("ArrowRight" if place < 6 else "ArrowLeft")

    def look(self) -> None:
        options = self.page.locator(".cc-wall .cc-option")
        options.nth(self.chance.randrange(min(12, options.count()))).click(force=True)

    def keep(self) -> None:
        if self.page.locator(".cc-kept-one").count() > 12:  # a set of a steady size
            self.drop()
        else:
            self.press_on_wall("k")

    def drop(self) -> None:
        kept = self.page.locator(".cc-kept-one")
        if kept.count() > 3:
            kept.first.click()
            self.page.get_by_role("button", name="Drop", exact=True).first.click()

    def undo(self) -> None:
        self.press_on_wall("u")

    def redo(self) -> None:
        self.press_on_wall("r")

    def name(self) -> None:
        self.press_on_wall("n")
        self.page.keyboard.type(f"Idea {self.chance.randrange(1000)}")
        self.page.keyboard.press("Enter")

    def note(self) -> None:
        self.press_on_wall("t")
        self.page.keyboard.type("for the window seat")
        self.page.keyboard.press("Enter")

    def draw(self) -> None:
        self.page.get_by_role("button", name="New draw from the palette").click()

    def more(self) -> None:
        self.press_on_wall("m")

    def different(self) -> None:
        self.press_on_wall("d")

    def compare(self) -> None:
        self.press_on_wall("c")

    def scroll(self) -> None:
        self.press_on_wall(self.chance.choice(("PageDown", "PageUp", "Home", "End")))

    def open_more(self) -> None:
        opener = self.page.get_by_role("button", name="More settings")
        if opener.get_attribute("aria-expanded") == "false":
            opener.click()

    def choose_stripe(self) -> None:
        """Take one of a few colourways of the wall in hand, and a stripe of it."""
        self.look()
        threads = self.page.locator(".cc-main .cc-threads").first.locator(".cc-thread")
        thread = threads.nth(self.chance.randrange(min(3, threads.count())))
        self.page.locator(".cc-main .cc-hand:not([aria-busy])").wait_for()
        thread.click(force=True)
        if thread.get_attribute("aria-selected") != "true":
            thread.click(force=True)

    def nudge(self) -> None:
        self.choose_stripe()
        axis = self.chance.choice(("Lightness", "Brightness of the colour", "Hue"))
        slider = self.page.get_by_role("slider", name=axis, exact=True)
        slider.focus()
        keys = ["ArrowRight", "ArrowLeft"]
        if not slider.locator('[data-steps="1"], [data-steps="2"], [data-steps="3"]').count():
            keys.reverse()  # at the edge of what a screen shows
        self.moves("nudge", 2 * keys)

    def order(self) -> None:
        self.choose_stripe()
        self.page.locator('.cc-main .cc-thread[aria-selected="true"]').focus()
        self.moves("order", ["Alt+ArrowRight", "Alt+ArrowLeft"])

    def colour(self) -> None:
        self.choose_stripe()
        swatches = self.page.locator(".cc-main .cc-swatch[aria-checked=false]:visible")
        swatches.nth(self.chance.randrange(swatches.count())).click()

    def typed(self) -> None:
        self.choose_stripe()
        self.page.get_by_label("Code or name", exact=True).first.fill(self.chance.choice(COLOURS))
        self.page.keyboard.press("Enter")

    def weft(self) -> None:
        self.look()
        self.page.locator(".cc-main").get_by_label("Own weft").click(force=True)

    def mixing(self) -> None:
        self.open_more()
        field = self.page.get_by_role("combobox", name="Mixing", exact=True)
        field.first.select_option(self.chance.choice(MIXINGS))

    def find(self) -> None:
        opener = self.page.get_by_role("button", name="Find the best that the palette holds")
        if opener.get_attribute("aria-expanded") == "false":
            opener.click()
            self.page.get_by_role("combobox", name="At most").select_option("5000")
        self.page.get_by_role("button", name=re.compile("^The clearest of all ")).click()
        self.page.wait_for_timeout(2000)
        self.draw()  # back to a wall that is drawn

    def tabs(self) -> None:
        for name in ("^Range", "^Colours", "^Wall"):
            self.page.get_by_role("tab", name=re.compile(name)).click()
            self.page.wait_for_timeout(200)

    def sort(self) -> None:
        self.open_more()
        self.page.get_by_label("Sort by").select_option(index=self.chance.randrange(3))

    def vision(self) -> None:
        self.open_more()
        self.page.get_by_label("Seen").select_option(self.chance.choice(("normal", "deutan")))

    def export(self) -> None:
        """Hand the kept off into the same folder again; wait until it is done."""
        if not self.page.locator(".cc-kept-one").count():
            self.press_on_wall("k")
        self.lab.ask("setattr(desk.hand_off.work, 'words', '')")
        self.page.get_by_role("tab", name="Export").click()
        self.page.get_by_role("button", name=re.compile(r"^Export \d")).click()
        end = time.monotonic() + 60
        while "exported to" not in (said := self.lab.ask("desk.hand_off.work.words")):
            if "Not exported" in said or time.monotonic() > end:
                self.wrong[f"export: {said}"] += 1
                break
            self.page.wait_for_timeout(100)
        self.page.get_by_role("tab", name=re.compile("^Wall")).click()

    # -- all of it --------------------------------------------------------------------------

    def act(self) -> None:
        """Do something by chance."""
        what = self.chance.choices(list(SHARES), list(SHARES.values()))[0]
        self.do(what)
        self.page.wait_for_timeout(self.chance.choice((0, 20, 120)))

    def do(self, what: str) -> None:
        try:
            getattr(self, what)()
        except Exception as error:  # go on, and say so
            words = f"{what}: {type(error).__name__} {str(error)[:300]}"
            if not self.wrong[words]:
                print(words, flush=True)
            self.wrong[words] += 1
        self.counts[what] += 1
        said = self.page.locator(".cc-status").first.text_content() or ""
        if said.startswith("Not done"):
            self.wrong[said[:120]] += 1


def load(lab: LabPage, minutes: float) -> None:
    page = lab.page
    lab.open_notebook("wall.ipynb")
    lab.dismiss_dialogs()
    cores, load_now = os.cpu_count(), os.getloadavg()[0]
    print(f"{platform.machine()}, {cores} cores, load {load_now:.1f}, "
          f"Python {platform.python_version()}, "
          f"Chromium {page.context.browser.version}")  # fmt: skip
    page.evaluate(FIRST)
    page.wait_for_timeout(2000)
    page.evaluate(EMPTY)
    page.set_default_timeout(LIMIT)
    lab.ask("desk.hand_off.fields.show({'folder': '../out', 'replace': True})")
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})
    hand = Hand(lab, session)
    report(0, hand, lab, session)
    rested(hand, 0)
    told = 0.0
    begun = exported = last = time.monotonic()
    while (now := time.monotonic()) - begun < 60 * minutes:
        if now - exported > EXPORT_EACH:
            hand.do("export")
            exported = time.monotonic()
        hand.act()
        if time.monotonic() - last >= 60:
            last += 60
            minute = (time.monotonic() - begun) / 60
            report(minute, hand, lab, session)
            if minute - told >= AT_REST_EACH:
                rested(hand, minute)
                told = minute
    rested(hand, minutes)
    print("counts:", dict(sorted(hand.counts.items())))
    print("faults said or met:", dict(hand.wrong) or "none")
    print("faults in desk.troubles:", lab.ask("desk.troubles"))
    print("problems on the page:", lab.problems or "none")


def report(minute: float, hand: Hand, lab: LabPage, session: Any) -> None:
    """Print a line; the times are those since the last, in milliseconds: median and 95 %."""
    hand.page.wait_for_timeout(1000)
    kernel, heap = memory(lab, session)
    nodes = hand.page.evaluate("() => document.querySelectorAll('*').length")
    times, hand.times = hand.times, defaultdict(list)
    delays = "  ".join(f"{what} {delay_words(times[what])}" for what in MOVES)
    done = sum(count for name, count in hand.counts.items() if not name.endswith("moves"))
    steps, kept = lab.ask("len(desk.history.past)"), lab.ask("len(desk.kept)")
    print(f"{minute:5.1f} min {done:5} actions  {delays}  kernel {kernel:6.1f} MiB  "
          f"page {heap:5.1f} MiB  {nodes:5} nodes  {steps:>3} steps  {kept:>3} kept  "
          f"load {os.getloadavg()[0]:.1f}", flush=True)  # fmt: skip


def rested(hand: Hand, minute: float) -> None:
    """Print how long the same moves as ever take at rest."""
    times, spent = hand.at_rest()
    delays = "  ".join(
        f"{what} {delay_words(times[what])} ({spent[what]:.0f} CPU)" for what in MOVES
    )
    print(f"{minute:5.1f} min, at rest      {delays}  load {os.getloadavg()[0]:.1f}", flush=True)


def metric(session: Any, name: str) -> float:
    metrics = session.send("Performance.getMetrics")["metrics"]
    return float(next(one["value"] for one in metrics if one["name"] == name))


def delay_words(times: list[float]) -> str:
    if not times:
        return "  –    – "
    return f"{statistics.median(times):3.0f} {percentile(times, 0.95):4.0f}"


def main(minutes: float, count: int) -> None:
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as root, tempfile.TemporaryDirectory() as home:
        folder = Path(root) / "bench"
        (folder / "notebooks").mkdir(parents=True)
        cell = new_code_cell(CELL.format(palettes=str(ROOT / "palettes"), count=count))
        kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3"}}
        nbformat.write(new_notebook(cells=[cell], metadata=kernel), folder / "notebooks/wall.ipynb")
        server = LabServer(Path(root), Path(home), ROOT)
        server.start()
        try:
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(
                    executable_path=find_chromium(whole=True), args=list(CHROMIUM_FLAGS)
                )
                context = browser.new_context(viewport={"width": 1400, "height": 1000})
                load(LabPage(context.new_page(), server, folder), minutes)
                browser.close()
        finally:
            server.stop()


if __name__ == "__main__":
    given = sys.argv[1:]
    main(float(given[0]) if given else 30, int(given[1]) if given[1:] else 5000)
