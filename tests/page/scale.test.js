// One scale for all cloths of a view, and how it is said.

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  checksToShow, commonPixels, inchWords, reductionWords, rulerOf, threeSizes,
} from "../../kit/checkcloth/page/shared/scale.js";

/** An even check: each stripe one check wide, the ground between. */
const even = (stripes) => Array.from({ length: stripes }, (_, at) => [[at + 1, 1], [0, 1]]).flat();

test("from one to six stripes the scale does not jump", () => {
  for (let most = 1; most <= 6; most++) assert.equal(checksToShow([even(1), even(most)]), 13);
  assert.equal(commonPixels(380, 13), 29); // the widths that were drawn first: 29 and 15 px
  assert.equal(commonPixels(380, checksToShow([even(6), even(12)])), 15);
});

test("the longest repeat is whole, and its first band is seen again, uneven or not", () => {
  const uneven = [[2, 5], [0, 3], [1, 7], [0, 2]];
  assert.equal(checksToShow([uneven]), 17 + 5);
  assert.ok(checksToShow([uneven]) * commonPixels(500, checksToShow([uneven])) <= 500);
  assert.equal(commonPixels(3, 13), 1);
});

test("a reduction is the nearest plain fraction, with about unless it is exact", () => {
  assert.equal(reductionWords(1), "true size");
  assert.equal(reductionWords(0.25), "1/4 of true size");
  assert.equal(reductionWords(29 / 48), "about 2/3 of true size");
  assert.equal(reductionWords(0.74), "about 3/4 of true size");
  assert.equal(reductionWords(1 / 15.9), "about 1/16 of true size");
  assert.equal(reductionWords(1 / 240), "1/240 of true size");
  assert.equal(reductionWords(0.97), "about true size");
  assert.equal(reductionWords(2), "2 times true size");
  assert.equal(reductionWords(1.03), "about true size");
});

test("no fraction of those offered is nearer than the one that is said", () => {
  for (let part = 0.01; part < 1; part += 0.0037) {
    const words = reductionWords(part).replace("about ", "");
    const [top, under] = words === "true size" ? [1, 1] : words.match(/\d+/g).map(Number);
    const gap = Math.abs(Math.log(top / under / part));
    for (const [over, below] of [[2, 3], [3, 4], ...Array.from({ length: 120 }, (_, n) => [1, n + 1])]) {
      assert.ok(gap <= Math.abs(Math.log(over / below / part)) + 1e-12, `${part}: ${words}`);
    }
  }
});

test("the bar of one inch holds its words where there is room", () => {
  assert.deepEqual(rulerOf(58.2), { width: 58, inside: true });
  assert.deepEqual(rulerOf(20), { width: 20, inside: false });
});

test("three check sizes keep their proportion on any screen", () => {
  assert.deepEqual(threeSizes(96), [6, 12, 24]);
  for (const perInch of [72.3, 96 * 1.25, 110.4, 192]) {
    const [quarter, half, whole] = threeSizes(perInch);
    assert.deepEqual([half, whole], [2 * quarter, 4 * quarter]);
    assert.ok(Math.abs(quarter - perInch / 16) <= 0.5);
  }
});

test("inches are written as people write them", () => {
  assert.deepEqual([0.25, 0.5, 1, 1.5, 0.1875, 6, 0.2756].map(inchWords),
    ["1/4 in", "1/2 in", "1 in", "1 1/2 in", "3/16 in", "6 in", "0.276 in"]);
});
