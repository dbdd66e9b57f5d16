"""How the desk looks: readable in both themes, whole in a narrow window, still when asked to be."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from desk_driver import DeskPage
from lab_page import LabPage

from checkcloth import contrast_ratio

if TYPE_CHECKING:
    from collections.abc import Iterator

pytestmark = pytest.mark.browser

# Every piece of text in sight with its colour and the first opaque colour behind it. Colours go
# through a canvas, which turns whatever CSS computes into sRGB bytes; see-through ones are laid
# over what is behind them, as the browser does.
_TEXTS = """root => {
    const context = new OffscreenCanvas(1, 1).getContext('2d', {willReadFrequently: true});
    const over = colours => {
        context.clearRect(0, 0, 1, 1);
        for (const colour of colours) {
            context.fillStyle = colour;
            context.fillRect(0, 0, 1, 1);
        }
        return Array.from(context.getImageData(0, 0, 1, 1).data);
    };
    const found = [];
    const boxes = root.querySelectorAll('.cc, .cc-export-links');
    for (const node of [...boxes].flatMap(box => [...box.querySelectorAll('*')])) {
        const text = [...node.childNodes].filter(n => n.nodeType === 3)
            .map(n => n.textContent.trim()).join('') || node.value || node.placeholder || '';
        if (!text || ['SCRIPT', 'STYLE', 'OPTION'].includes(node.tagName)) continue;
        if (!node.checkVisibility({checkOpacity: true, checkVisibilityCSS: true})) continue;
        const behind = [];
        for (let at = node; at; at = at.parentElement) {
            behind.unshift(getComputedStyle(at).backgroundColor);
            if (over(behind)[3] === 255 && over([behind[0]])[3] === 255) break;
        }
        const style = node.placeholder && !node.value
            ? getComputedStyle(node, '::placeholder') : getComputedStyle(node);
        found.push({text: text.slice(0, 60), ink: over([...behind, style.color]),
                    paper: over(behind), size: parseFloat(style.fontSize)});
    }
    return found;
}"""
_WIDER = """root => [...root.querySelectorAll('.cc, .cc *, .cc-export-links *')]
    .filter(n => n.checkVisibility() && !n.closest('.cc-unseen, dialog, .cc-frame, .cc-wall, '
        + '.slider-container')
        && n.getBoundingClientRect().right > root.getBoundingClientRect().right + 1)
    .map(n => n.outerHTML.slice(0, 120))"""


def opened(lab: LabPage) -> DeskPage:
    lab.open_notebook("explore.ipynb", stays=True)
    lab.run_to("open_desk(")
    desk = DeskPage(lab)
    desk.option(0).focus()
    lab.page.keyboard.press("k")
    desk.until("len(desk.kept)", 1)
    lab.page.keyboard.press("c")
    desk.until("len(desk.state.compared)", 1)
    desk.open_more()
    for name in ("As other eyes see it, and in grey", "Tones with their codes, and scores"):
        desk.hand.get_by_role("button", name=name).click()
    return desk


def each_part(desk: DeskPage) -> Iterator[str]:
    """Turn to each part of the desk, and to what can be changed under the hand."""
    for part in ("Wall", "Range", "Colours", "Export"):
        desk.turn_to(part)
        yield part
    desk.turn_to("Wall")
    for opener, tray in (("Ground: ", "Colour of ground"), ("Strength ", "Strength and mixing")):
        desk.hand.get_by_role("button", name=opener).click()
        desk.hand.get_by_role("region", name=tray).wait_for()
        yield tray


@pytest.mark.parametrize("dark", [False, True], ids=["JupyterLab Light", "JupyterLab Dark"])
def test_text_meets_the_contrast_of_wcag_aa(lab, dark):
    """WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text of ordinary size."""
    desk = opened(lab)
    lab.set_theme(dark)
    first = desk.root.evaluate(_TEXTS)
    assert len(first) > 100
    assert (max(first[0]["paper"][:3]) < 80) == dark
    texts = first + [one for _ in each_part(desk) for one in desk.root.evaluate(_TEXTS)]
    faint = []
    for one in texts:
        ink, paper = ([channel / 255 for channel in one[key][:3]] for key in ("ink", "paper"))
        ratio = float(contrast_ratio(ink, paper))
        if ratio < 4.5:
            faint.append((one["text"], one["ink"], one["paper"], round(ratio, 2)))
    assert faint == []
    assert min(one["size"] for one in texts) >= 12


@pytest.mark.parametrize("width", [700, 1400])
def test_nothing_is_cut_off_in_a_narrow_or_a_wide_window(lab, width):
    lab.page.set_viewport_size({"width": width, "height": 1000})
    desk = opened(lab)
    if width < 1000:
        lab.page.evaluate(
            "() => window.jupyterapp.commands.execute('application:toggle-left-area')"
        )
        lab.page.wait_for_function("() => window.jupyterapp.shell.leftCollapsed")
    assert desk.root.evaluate(_WIDER) == []
    for part in each_part(desk):
        assert desk.root.evaluate(_WIDER) == [], part
    hand = desk.hand.bounding_box()
    wall = desk.wall.bounding_box()
    beside = hand["x"] >= wall["x"] + wall["width"] - 10
    assert beside, "the cloth under the hand stands beside the wall"
    lab.page.keyboard.press("Escape")
    desk.option(0).focus()
    lab.page.keyboard.press("Enter")
    dialog = desk.root.get_by_role("dialog", name="Enlarged colourway")
    dialog.locator(".cc-cloth").first.wait_for()
    box = dialog.bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= width


def test_nothing_moves_for_a_reader_who_asks_for_stillness(lab):
    lab.page.emulate_media(reduced_motion="reduce")
    desk = opened(lab)
    moving = """root => [...root.querySelectorAll('.cc, .cc *')].filter(node => {
        const style = getComputedStyle(node);
        return style.transitionDuration.split(', ').some(t => parseFloat(t) > 0)
            || (style.animationName !== 'none' && parseFloat(style.animationDuration) > 0);
    }).length"""
    assert desk.root.evaluate(moving) == 0
    thread = desk.thread(1)  # threads make room for the one that is dragged
    thread.hover()
    box = thread.bounding_box()
    lab.page.mouse.down()
    lab.page.mouse.move(box["x"] + 2 * box["width"], box["y"] + 8, steps=5)
    desk.hand.locator(".cc-lifted").wait_for()
    assert desk.root.evaluate(moving) == 0
    lab.page.emulate_media(reduced_motion="no-preference")
    assert desk.root.evaluate(moving) > 0, "the check can see motion where there is some"
    lab.page.keyboard.press("Escape")
    lab.page.mouse.up()


def test_focus_is_seen_on_every_control(lab):
    """Along the tab key: each control that takes the focus draws a ring of its own."""
    desk = opened(lab)
    desk.slider("Check size").focus()
    without, seen = [], set()
    for _ in range(70):
        lab.page.keyboard.press("Tab")
        found = lab.page.evaluate(
            """() => {
                const node = document.activeElement;
                if (!node.closest('.cc, .cc-export-links')) return null;
                // a colourway of the wall draws its ring around the cloth, without the words
                const drawn = node.matches('.cc-option') ? '::before' : null;
                const style = getComputedStyle(node, drawn);
                return [node.outerHTML.slice(0, 120),
                        style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1];
            }"""
        )
        if found is None:
            break
        seen.add(found[0])
        if not found[1]:
            without.append(found[0])
    assert len(seen) > 25
    assert without == []
