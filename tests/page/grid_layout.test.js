// The wall's arithmetic: whole device pixels, nothing past the edge, keys that stay on the wall.

import assert from "node:assert/strict";
import { test } from "node:test";

import { CAPTIONS, layOut, positionOf, rankAfterKey, rowsInSight, scrollFor }
  from "../../kit/checkcloth/page/desk/grid_layout.js";

const RATIOS = [1, 1.25, 1.5, 2, 3];
const lengths = (layout) => [layout.side, layout.gap, layout.step, layout.width];

test("every column ends within the room, at every width and pixel ratio", () => {
  for (const ratio of RATIOS) {
    for (let room = 40; room < 1400; room += 7) {
      const layout = layOut(room, ratio, 48);
      assert.ok(lengths(layout).every(Number.isInteger), `${room} at ${ratio}`);
      assert.ok(layout.width <= room * ratio, `${room} at ${ratio}`);
      const { x } = positionOf(layout, layout.across - 1);
      assert.equal(x + layout.side, layout.width);
      assert.ok(layout.rows * layout.across >= 48 && (layout.rows - 1) * layout.across < 48);
    }
  }
});

test("cloth is whole checks at one scale, and no smaller than it has to be", () => {
  for (const ratio of RATIOS) {
    for (const checks of [13, 17, 25, 49]) {
      for (let room = 200; room < 1400; room += 31) {
        const { side, pixels, across, gap } = layOut(room, ratio, 48, checks);
        assert.equal(side, pixels * checks, `${room} at ${ratio}`);
        const least = Math.round(8 * ratio);
        assert.ok(gap >= least);
        // One pixel a check more, and the columns would not fit.
        assert.ok(across * (side + checks) + (across - 1) * least > Math.floor(room * ratio));
      }
    }
  }
});

test("columns are as in the mock-up, and two on a phone", () => {
  assert.deepEqual([762, 564, 268, 328, 210].map((room) => layOut(room, 1, 48).across), [5, 4, 2, 2, 1]);
  assert.deepEqual([762, 564, 268].map((room) => layOut(room, 1, 48).side), [143, 130, 130]);
});

test("what stands under the cloth decides how far apart the rows are", () => {
  const steps = Object.values(CAPTIONS).map((height) => layOut(600, 2, 48, 13, height).step);
  assert.deepEqual(steps.map((step) => step - steps[2]), Object.values(CAPTIONS).map((height) => 2 * height));
});

test("without room there is no layout", () => {
  assert.equal(layOut(0, 1, 48), null);
  assert.equal(layOut(-14, 2, 48), null);
});

test("rows in sight cover all that shows, and one more either side at most", () => {
  for (const ratio of RATIOS) {
    const layout = layOut(600, ratio, 500);
    for (let top = 0; top < 9000; top += 37) {
      const [first, last] = rowsInSight(layout, top, 500);
      const shownFrom = Math.min(Math.floor((top * ratio) / layout.step), layout.rows);
      const shownTo = Math.min(Math.ceil(((top + 500) * ratio) / layout.step), layout.rows);
      assert.ok(first <= shownFrom && last >= shownTo, `${top} at ${ratio}`);
      assert.ok(first >= shownFrom - 1 && last <= shownTo + 1);
      assert.ok(first <= last && first >= 0 && last <= layout.rows);
    }
  }
});

test("of 5,000 only what shows is in sight", () => {
  const layout = layOut(800, 1, 5000);
  const [first, last] = rowsInSight(layout, 40_000, 600);
  assert.ok((last - first) * layout.across < 80);
});

test("going to a colourway scrolls no further than needed", () => {
  const layout = layOut(600, 2, 500);
  for (const rank of [0, 3, 77, 499]) {
    for (const top of [0, 500, 5000]) {
      const scrolled = scrollFor(layout, rank, top, 500);
      const y = positionOf(layout, rank).y / layout.ratio;
      const bottom = y + layout.step / layout.ratio;
      assert.ok(scrolled <= y && scrolled + 500 >= bottom - 1e-9);
      if (top <= y && top + 500 >= bottom) assert.equal(scrolled, top);
    }
  }
});

test("keys move along the wall and stay on it", () => {
  const layout = layOut(564, 1, 10); // four columns: 0–3, 4–7, 8–9
  assert.equal(layout.across, 3 + 1);
  const after = (key, rank) => rankAfterKey(layout, key, rank, 10, 2 * layout.step);
  assert.deepEqual(["ArrowRight", "ArrowLeft", "ArrowDown", "ArrowUp"].map((key) => after(key, 5)),
    [6, 4, 9, 1]);
  assert.deepEqual(["Home", "End", "PageUp", "PageDown"].map((key) => after(key, 5)), [0, 9, 0, 9]);
  assert.equal(after("ArrowLeft", 0), 0);
  assert.equal(after("ArrowRight", 9), 9);
  // Up and down keep to their column: where it ends they lead nowhere.
  assert.equal(after("ArrowUp", 2), null);
  assert.equal(after("ArrowDown", 6), null);
  assert.equal(after("k", 5), undefined);
});
