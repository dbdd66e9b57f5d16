"""The wall under the hand: key press to painted cloth, first wall, memory. A script, not a test.

    python tests/bench/bench_wall.py [moves]

Walls of 48, 500 and 5,000: a new deal, overlay strength, a stripe moved, a colour nudged, all
scores sorted after the last move.

Starts its own JupyterLab and Chromium (as the browser tests do) and prints a table. Times run
from the browser's own time stamp of the key press to the frame after the one that painted.
"""

from __future__ import annotations

import os
import platform
import statistics
import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "browser"), str(ROOT / "kit")]

import nbformat  # noqa: E402
from lab_driver import CHROMIUM_FLAGS, LabServer, find_chromium  # noqa: E402
from lab_page import LabPage  # noqa: E402
from nbformat.v4 import new_code_cell, new_notebook  # noqa: E402

CELL = """from checkcloth.desk import open_desk
desk = open_desk({palettes!r}, palette="harvest-stall", stripes=6, count={count}, name="{count}")
desk"""
COUNTS = (48, 500, 5000)
FIRST = """async () => {
    const begun = performance.now();
    window.jupyterapp.commands.execute('notebook:run-all-cells');
    while (!document.querySelector('.cc-wall[data-stamp] .cc-option')) {
        if (performance.now() - begun > 60000) throw new Error('no wall');
        await new Promise(done => requestAnimationFrame(done));
    }
    await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)));
    return performance.now() - begun;
}"""
# Resolves with [milliseconds, frames] once the wall has painted after the next key press.
LISTEN = """([attribute, name]) => {
    window.benchWait = new Promise(done => {
        const wall = document.querySelector('.cc-wall');
        let pressed = 0, frames = 0, painted = false;
        const count = () => {
            frames += 1;
            if (!painted) requestAnimationFrame(count); // or every move would leave one more behind
        };
        addEventListener(name, event => {
            pressed = event.timeStamp;
            requestAnimationFrame(count);
        }, {capture: true, once: true});
        const watch = new MutationObserver(() => {
            if (!pressed) return; // a paint that was due before the key press
            watch.disconnect();
            painted = true;
            const seen = frames;
            requestAnimationFrame(() => {
                const channel = new MessageChannel();
                channel.port1.onmessage = () => done([performance.now() - pressed, seen + 1]);
                channel.port2.postMessage(0);
            });
        });
        watch.observe(wall, {attributes: true, attributeFilter: [attribute]});
    });
}"""
# Resolves with seconds once the figures of another score pass have come after a key press.
SORTED = """() => {
    window.benchSorted = new Promise(done => {
        let pressed = 0;
        const press = event => { pressed = event.timeStamp; };
        addEventListener('keydown', press, {once: true, capture: true});
        const options = [...document.querySelectorAll('.cc-option')];
        const words = () => options.map(one => one.getAttribute('aria-description')).join();
        const before = words();
        const look = () => {
            if (pressed && words() !== before) done((performance.now() - pressed) / 1000);
            else if (pressed && performance.now() - pressed > 60000) done(NaN);
            else requestAnimationFrame(look);
        };
        look();
    });
}"""


def presses(page: Any, node: Any, attribute: str, moves: int, key: str = "") -> list[list[float]]:
    """Press arrow keys on a control, there and back; return milliseconds and frames of each."""
    node.focus()
    found = []
    for move in range(moves):
        page.evaluate(LISTEN, [attribute, "keydown"])
        page.keyboard.press(f"{key}{'ArrowRight' if move // 3 % 2 == 0 else 'ArrowLeft'}")
        found.append(page.evaluate("() => window.benchWait"))
        page.wait_for_timeout(250)  # what the kernel says of it is painted too, and is not counted
    return found


def deals(page: Any, moves: int) -> list[list[float]]:
    """Press New draw again and again; the wall is painted once the kernel has dealt."""
    found = []
    for _ in range(moves):
        page.wait_for_timeout(2500)  # the scores of the deal before
        page.evaluate(LISTEN, ["data-stamp", "click"])
        page.get_by_role("button", name="New draw from the palette").click()
        found.append(page.evaluate("() => window.benchWait"))
    return found


def sorting(lab: LabPage) -> float:
    """Seconds from a move of strength to the wall sorted by a score at that strength."""
    page = lab.page
    page.get_by_role("button", name="More settings").click()
    page.get_by_role("combobox", name="Sort by", exact=True).select_option("least_edge")
    page.wait_for_timeout(4000)
    page.get_by_role("slider", name="Overlay strength", exact=True).focus()
    page.evaluate(SORTED)
    page.keyboard.press("PageUp")
    return float(page.evaluate("() => window.benchSorted"))


def memory(lab: LabPage, session: Any) -> tuple[float, float]:
    """Return MiB of the kernel (resident) and of the page's JavaScript after collecting."""
    lab.wait_for_idle()
    kernel = lab.ask(
        "[__import__('gc').collect(), [int(l.split()[1]) for l in open('/proc/self/status') "
        "if l.startswith('VmRSS')][0]][1]"
    )
    for _ in range(3):
        session.send("HeapProfiler.collectGarbage")
    metrics = session.send("Performance.getMetrics")["metrics"]
    heap = next(one["value"] for one in metrics if one["name"] == "JSHeapUsedSize")
    return int(kernel) / 1024, heap / 2**20


def percentile(values: list[float], share: float) -> float:
    return sorted(values)[min(len(values) - 1, round(share * (len(values) - 1)))]


def row(what: str, found: list[list[float]]) -> None:
    times, frames = [one[0] for one in found], [one[1] for one in found]
    print(
        f"{what:<44} {statistics.median(times):7.1f} ms {percentile(times, 0.95):7.1f} ms"
        f"   {statistics.median(frames):.0f} / {percentile(frames, 0.95):.0f} frames"
    )


def main(moves: int) -> None:
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as root, tempfile.TemporaryDirectory() as home:
        folder = Path(root) / "bench"
        (folder / "notebooks").mkdir(parents=True)
        kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3"}}
        for count in COUNTS:
            cell = new_code_cell(CELL.format(palettes=str(ROOT / "palettes"), count=count))
            book = new_notebook(cells=[cell], metadata=kernel)
            nbformat.write(book, folder / "notebooks" / f"wall-{count}.ipynb")
        server = LabServer(Path(root), Path(home), ROOT)
        server.start()
        try:
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(
                    executable_path=find_chromium(whole=True), args=list(CHROMIUM_FLAGS)
                )
                machine = platform.processor() or platform.machine()
                python = f"Python {platform.python_version()}"
                print(f"{machine}, {os.cpu_count()} cores, {python}, Chromium {browser.version}")
                for count in COUNTS:
                    context = browser.new_context(viewport={"width": 1400, "height": 1000})
                    measure(LabPage(context.new_page(), server, folder), count, moves)
                    context.close()
                    server.end_kernels()
                browser.close()
        finally:
            server.stop()


def measure(lab: LabPage, count: int, moves: int) -> None:
    lab.open_notebook(f"wall-{count}.ipynb")
    lab.dismiss_dialogs()
    page = lab.page
    print(f"\n{count} colourways of six stripes, {moves} moves, load {os.getloadavg()[0]:.1f}")
    print(f"first wall, from running the cell: {page.evaluate(FIRST) / 1000:.2f} s")
    page.wait_for_timeout(3000)
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable")
    print(f"{'':<44} {'median':>10} {'95 %':>10}")
    row("a new deal, press to painted", deals(page, max(3, moves // 10)))
    page.wait_for_timeout(3000)
    slider = page.get_by_role("slider", name="Overlay strength", exact=True)
    presses(page, slider, "data-stamp", 10)
    row("overlay strength, key press to painted", presses(page, slider, "data-stamp", moves))
    page.locator(".cc-option").first.click()
    thread = page.locator(".cc-thread").nth(1)
    thread.click()
    page.wait_for_timeout(1000)
    nudge = page.get_by_role("slider", name="Lightness", exact=True)
    row("colour nudged, key press to painted", presses(page, nudge, "data-paints", moves))
    page.wait_for_timeout(1500)
    chosen = page.locator('.cc-thread[aria-selected="true"]')
    row("stripe moved, key press to painted", presses(page, chosen, "data-paints", moves, "Alt+"))
    page.wait_for_timeout(1500)
    if count == 500:
        size = page.get_by_role("slider", name="Check size", exact=True)
        row("check size, key press to painted", presses(page, size, "data-paints", moves))
        page.wait_for_timeout(1500)
    before = memory(lab, session)
    presses(page, slider, "data-stamp", 2 * moves)
    page.wait_for_timeout(1500)
    after = memory(lab, session)
    for what, one, two in zip(("kernel", "page"), before, after, strict=True):
        print(f"memory of the {what} over {2 * moves} more moves: {one:.1f} → {two:.1f} MiB")
    print(f"sorted by a score after the last move: {sorting(lab):.2f} s")
    print("problems on the page:", lab.problems or "none")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 50)
