// Nudges in OKLCh. That the arithmetic of OKLCh is CSS Color 4's is held by test_page_mixing.py.

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  hexOf, NUDGES, nudged, nudgedName, patchesOf, rgbOf,
} from "../../kit/checkcloth/page/shared/nudge.js";
import { srgbToOklch } from "../../kit/checkcloth/page/shared/spaces.js";

const [LIGHTNESS, CHROMA, HUE] = NUDGES;
const steps = (patches) => patches.map((patch) => patch.steps);

test("hex codes there and back", () => {
  for (const hex of ["#000000", "#ffffff", "#f2b084", "#00007f"]) assert.equal(hexOf(rgbOf(hex)), hex);
});

test("a step is as long as it says, along its axis alone", () => {
  const from = srgbToOklch(rgbOf("#9eaae4"));
  for (const nudge of NUDGES) {
    const to = srgbToOklch(rgbOf(nudged("#9eaae4", nudge, 1)));
    from.forEach((value, channel) => {
      const moved = to[channel] - value - (channel === nudge.channel ? nudge.step : 0);
      assert.ok(Math.abs(moved) < (channel === 2 ? 1.2 : 0.003), `${nudge.axis}: channel ${channel} off by ${moved}`);
    });
  }
});

test("Peach Skin, lighter, as the kit's Python has it", () => {
  assert.equal(nudged("#f2b084", LIGHTNESS, 1), "#fbb88c"); // the example of checkcloth.ideas.by_hand.nudge
  assert.equal(nudgedName("Peach Skin", LIGHTNESS, 1), "Peach Skin, lighter");
  assert.equal(nudgedName("Peach Skin, lighter", LIGHTNESS, -1), "Peach Skin, darker");
  assert.equal(nudgedName("Peach Skin, lighter", HUE, 2), "Peach Skin, lighter, hue on");
});

test("a patch that does not change is left out, the colour itself never", () => {
  assert.deepEqual(steps(patchesOf("#9eaae4", LIGHTNESS)), [-3, -2, -1, 0, 1, 2, 3]);
  assert.deepEqual(steps(patchesOf("#ffffff", LIGHTNESS)), [-3, -2, -1, 0]);
  assert.deepEqual(steps(patchesOf("#000000", LIGHTNESS)), [0, 3]); // one step, and two, are still black
  assert.deepEqual(steps(patchesOf("#808080", HUE)), [0]); // a grey has no hue to turn
  assert.equal(steps(patchesOf("#ff0000", CHROMA)).at(-1), 0); // as bright as a screen can
  assert.ok(patchesOf("#9eaae4", CHROMA).every(({ hex }) => /^#[0-9a-f]{6}$/.test(hex)));
});
