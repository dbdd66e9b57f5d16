// Threads lie exactly under their stripes, and a dragged one lands where the hand means it to.

import assert from "node:assert/strict";
import { test } from "node:test";

import { planOf } from "../../kit/checkcloth/page/shared/cloth.js";
import { landing, segmentsOfStripe, threadsOf } from "../../kit/checkcloth/page/shared/threads.js";

const even = (stripes) => Array.from({ length: stripes }, (_, at) => [[at + 1, 1], [0, 1]]).flat();
/** Not even, not in the order of the numbers, and stripe 1 comes twice. */
const UNEVEN = [[2, 3], [0, 1], [1, 2], [0, 4], [3, 1], [1, 5], [0, 2]];

test("left edges are those of the cloth's stripes", () => {
  for (const bands of [even(1), even(6), even(12), even(24), UNEVEN]) {
    for (const pixels of [7, 15, 29]) {
      const plan = planOf(bands, pixels, 2000);
      for (const { stripe, left, width } of threadsOf(bands, pixels)) {
        assert.equal(plan.indexOf(stripe), left);
        assert.ok(plan.slice(left, left + width).every((at) => at === stripe));
        assert.notEqual(plan[left + width], stripe);
      }
    }
  }
});

test("every stripe has one thread, and the marks on the cloth all its bands", () => {
  assert.deepEqual(threadsOf(UNEVEN, 10).map(({ stripe }) => stripe), [2, 1, 3]);
  assert.deepEqual(segmentsOfStripe(UNEVEN, 10, 1).map(({ left, width }) => [left, width]), [[40, 20], [110, 50]]);
});

test("threads of a row follow each other without gap or overlap", () => {
  for (const bands of [even(6), even(13), even(24), UNEVEN]) {
    const threads = threadsOf(bands, 20);
    for (const row of [0, 1]) {
      const mine = threads.filter((thread) => thread.row === row);
      mine.slice(1).forEach(({ left }, at) => assert.equal(mine[at].left + mine[at].span, left));
    }
  }
});

test("from thirteen stripes, or where they are narrow, threads take two rows by turns", () => {
  const rows = (bands, pixels) => new Set(threadsOf(bands, pixels).map(({ row }) => row)).size;
  assert.equal(rows(even(12), 15), 1);
  assert.equal(rows(even(13), 15), 2);
  assert.equal(rows(even(12), 11), 2);
  assert.ok(threadsOf(even(24), 7).every(({ span }) => span >= 24));
});

test("a dragged thread lands where it has passed the middle of another", () => {
  const threads = threadsOf(even(4), 10); // middles at 5, 25, 45, 65
  assert.deepEqual(landing(threads, 1, 24), { to: 1, order: [1, 2, 3, 4] });
  assert.deepEqual(landing(threads, 1, 26), { to: 2, order: [2, 1, 3, 4] });
  assert.deepEqual(landing(threads, 1, 400), { to: 4, order: [2, 3, 4, 1] });
  assert.deepEqual(landing(threads, 4, -50), { to: 1, order: [4, 1, 2, 3] });
  assert.deepEqual(landing(threads, 3, 45), { to: 3, order: [1, 2, 3, 4] });
});
