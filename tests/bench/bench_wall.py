"""The wall under the hand: key press to painted cloth, first wall, memory. A script, not a test.

    python tests/bench/bench_wall.py [moves]

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
desk = open_desk({palettes!r}, palette="harvest-stall", stripes=6, count=500)
desk"""
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
LISTEN = """attribute => {
    window.benchWait = new Promise(done => {
        const wall = document.querySelector('.cc-wall');
        let pressed = 0, frames = 0;
        const count = () => { frames += 1; requestAnimationFrame(count); };
        addEventListener('keydown', event => {
            pressed = event.timeStamp;
            requestAnimationFrame(count);
        }, {capture: true, once: true});
        const watch = new MutationObserver(() => {
            if (!pressed) return; // a paint that was due before the key press
            watch.disconnect();
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


def presses(page: Any, slider: str, attribute: str, moves: int) -> list[list[float]]:
    """Press arrow keys on a slider, there and back; return milliseconds and frames of each."""
    page.get_by_role("slider", name=slider, exact=True).focus()
    found = []
    for move in range(moves):
        page.evaluate(LISTEN, attribute)
        page.keyboard.press("ArrowRight" if move // 10 % 2 == 0 else "ArrowLeft")
        found.append(page.evaluate("() => window.benchWait"))
        page.wait_for_timeout(30)
    return found


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
        cell = new_code_cell(CELL.format(palettes=str(ROOT / "palettes")))
        kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3"}}
        book = new_notebook(cells=[cell], metadata=kernel)
        nbformat.write(book, folder / "notebooks" / "wall.ipynb")
        server = LabServer(Path(root), Path(home), ROOT)
        server.start()
        try:
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(
                    executable_path=find_chromium(), args=list(CHROMIUM_FLAGS)
                )
                context = browser.new_context(viewport={"width": 1400, "height": 1000})
                measure(LabPage(context.new_page(), server, folder), moves)
                browser.close()
        finally:
            server.stop()


def measure(lab: LabPage, moves: int) -> None:
    lab.open_notebook("wall.ipynb")
    lab.dismiss_dialogs()
    page = lab.page
    print(f"{platform.processor() or platform.machine()}, {os.cpu_count()} cores, "
          f"load {os.getloadavg()[0]:.1f}, Python {platform.python_version()}, "
          f"Chromium {page.context.browser.version}")  # fmt: skip
    print(f"first wall of 500, from running the cell: {page.evaluate(FIRST) / 1000:.2f} s")
    page.wait_for_timeout(3000)
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable")
    print(f"{'500 colourways of six stripes, ' + str(moves) + ' moves':<44} "
          f"{'median':>10} {'95 %':>10}")  # fmt: skip
    presses(page, "Overlay strength", "data-stamp", 10)
    row("overlay strength, key press to painted", presses(
        page, "Overlay strength", "data-stamp", moves))  # fmt: skip
    page.wait_for_timeout(1500)
    row("check size, key press to painted", presses(page, "Check size", "data-paints", moves))
    page.wait_for_timeout(1500)
    before = memory(lab, session)
    presses(page, "Overlay strength", "data-stamp", 10 * moves)
    page.wait_for_timeout(1500)
    after = memory(lab, session)
    for what, one, two in zip(("kernel", "page"), before, after, strict=True):
        print(f"memory of the {what} over {10 * moves} more moves: {one:.1f} → {two:.1f} MiB")
    print("problems on the page:", lab.problems or "none")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 50)
