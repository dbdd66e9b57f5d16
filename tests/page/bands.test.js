// Orders of bands on the page: the arithmetic of the strip, and text that the kernel reads back.

import assert from "node:assert/strict";
import test from "node:test";
import { checksIn, laidFor } from "../../kit/checkcloth/page/shared/cloth.js";
import * as orders from "../../kit/checkcloth/page/desk/bands/orders.js";
import { keptTones } from "../../kit/checkcloth/page/desk/tones.js";
import { toneName, wordsOf } from "../../kit/checkcloth/page/shared/edits.js";
import { threadsOf } from "../../kit/checkcloth/page/shared/threads.js";

test("an order as text", () => {
  assert.equal(orders.orderText([[1, 2], [0, 0.5], [2, 1.5], [12, 16]]), "2 A, 1/2 ground, 1 1/2 B, 16 L");
  assert.equal(orders.orderText([[1, 1 / 3], [0, 1 / 8], [2, 7 / 960]]), "1/3 A, 1/8 ground, 7/960 B");
});

test("bands in words", () => {
  assert.equal(orders.bandWords(2, 1.5), "Stripe 2, 1½ checks");
  assert.equal(orders.bandWords(0, 1), "Ground, 1 check");
  assert.equal(orders.bandWords(1, 0.25), "Stripe 1, ¼ check");
  assert.equal(orders.checksWords(4 / 3), "1 1/3 checks");
  assert.equal(orders.checksWords(1 / 3), "1/3 check");
});

test("arrow keys go by half checks, to the next half from between", () => {
  assert.deepEqual([1, 1.25, 16, 0.5, 0.25].map((checks) => orders.stepped(checks, 1)), [1.5, 1.5, 16, 1, 0.5]);
  assert.deepEqual([1, 1.25, 16, 0.5, 0.25].map((checks) => orders.stepped(checks, -1)), [0.5, 1, 15.5, 0.5, 0.25]);
  assert.equal(orders.stepped(2, 4), 4);
});

test("a pull makes half checks within what a band may be", () => {
  assert.deepEqual([1.2, 1.3, -4, 0.1, 40].map(orders.pulledTo), [1, 1.5, 0.5, 0.5, 16]);
  /** @type {[number, number][]} */
  const bands = [[1, 1], [0, 1]];
  assert.deepEqual(orders.withWidth(bands, 1, 2.5), [[1, 1], [0, 2.5]]);
  assert.deepEqual(bands, [[1, 1], [0, 1]], "nothing is changed in place");
});

test("every band of a strip can be taken hold of, and what fits fills the room", () => {
  for (const [kind] of orders.KINDS) {
    for (let stripes = 1; stripes <= 12; stripes++) {
      const bands = orders.presetBands(kind, stripes);
      const scale = orders.stripScale(bands, 400, 24);
      for (const [, checks] of bands) assert.ok(checks * scale >= 24 - 1e-9);
      assert.ok(checksIn(bands) * scale >= 400 - 1e-9);
    }
  }
  assert.equal(orders.stripScale([[1, 1], [0, 1]], 400, 24), 200);
});

test("colourways of other numbers of stripes than the bands are even", () => {
  const graduated = { stripes: 3, wefts: 3, warp: orders.presetBands("graduated", 3), weft: orders.presetBands("graduated", 3) };
  assert.equal(orders.evenWords(graduated, "graduated", 2), "even: the range's graduated bands are of 3 stripes");
  assert.equal(orders.evenWords({ ...graduated, wefts: 1 }, "2 A, 1 B, 1 C", 3), "even: the range's bands are of 3 × 1 stripes");
  assert.equal(orders.evenWords(graduated, "graduated", 3), "");
  assert.equal(orders.evenWords({}, "even", 2), "");
  const sent = { stripes: 1, wefts: 2, warp: [[1, 2], [0, 1]], weft: [[2, 1], [1, 3]] };
  assert.deepEqual(laidFor(/** @type {any} */ (sent), 1, 2), { warp: sent.warp, weft: sent.weft });
  for (const other of [laidFor(/** @type {any} */ (sent), 1), laidFor({}, 1), laidFor(undefined, 1, 0)]) {
    assert.deepEqual(other, { warp: [[1, 1], [0, 1]], weft: [[1, 1], [0, 1]] });
  }
});

test("a weft's own colours take their bytes among the others, and are mixed across the warp", () => {
  const recipe = ["source-over", "layered", "as-is", 0.5, 1];
  const cards = [{ strength: 1, count: 1, wefts: 2, recipe }, { strength: 1, count: 1, recipe }];
  // ground, stripe, two of the weft; then ground and stripe of the second
  const colours = Float32Array.from([[1, 1, 1], [1, 0, 0], [0, 1, 0], [0, 0, 1], [1, 1, 1], [0, 0, 0]].flat());
  const [first, second] = keptTones(/** @type {any} */ (cards), colours);
  const rows = Array.from({ length: 6 }, (_, at) => [...first.slice(3 * at, 3 * at + 3)]);
  assert.equal(first.length, 2 * 3 * 3);
  assert.deepEqual(rows.slice(0, 4), [[255, 255, 255], [0, 255, 0], [0, 0, 255], [255, 0, 0]]);
  assert.deepEqual([...second.slice(0, 3)], [255, 255, 255]);
  assert.equal(second.length, 2 * 2 * 3);
});

test("what is pointed at is called by the weft's own colour", () => {
  const named = (/** @type {string} */ name) => ({ name, hex: "#000000", stays: false });
  const cloth = { recipe: { layout: "layered" }, strength: 1, ground: named("white"), stripes: [named("navy")],
    wefts: [named("gold"), named("plum")] };
  const name = (/** @type {number} */ warp, /** @type {number} */ weft) => toneName(/** @type {any} */ (cloth), warp, weft);
  assert.deepEqual([name(0, 0), name(1, 0), name(0, 2), name(1, 2)],
    ["Ground, white", "navy over white", "plum over white", "navy over plum"]);
  assert.equal(wordsOf(/** @type {any} */ (cloth)), "navy on white, weft gold, plum");
});

test("a warp that lays no stripe has no threads to press", () => {
  assert.deepEqual(threadsOf([[0, 2]], 10), []);
});

test("a weft that runs as the warp has the same bands, or the same preset of its own number", () => {
  const graduated = orders.presetBands("graduated", 3);
  assert.equal(orders.weftAsWarp(graduated, 3, 3), graduated);
  assert.deepEqual(orders.weftAsWarp(graduated, 3, 2), [[1, 1], [0, 1], [2, 1.5], [0, 1]]);
  assert.deepEqual(orders.weftAsWarp([[1, 3], [0, 1], [2, 1]], 2, 1), [[1, 1], [0, 1]]);
});
