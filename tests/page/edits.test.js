// Acts on a cloth under the hand: nothing changes in place, and the tones are mixed at once.

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  addStripe, colourOf, letStay, moveStripe, partAfterMove, partWords, putColour, remix, removeStripe, swapStripes, toneName,
  tonesOf, withOwnWeft, wordsOf,
} from "../../kit/checkcloth/page/shared/edits.js";

const colour = (name, hex, ...rgb) => ({ name, hex, stays: false, encoded: Float32Array.from(rgb) });
const NAVY = colour("navy", "#000080", 0, 0, 128 / 255);
const TEAL = colour("teal", "#008080", 0, 128 / 255, 128 / 255);
const GOLD = colour("gold", "#ffd700", 1, 215 / 255, 0);
const RECIPE = { mixing: "source-over", layout: "layered", decode: "as-is", warpShare: 0.5, yuleNielsen: 1 };
const CLOTH = freeze({ recipe: RECIPE, strength: 0.5, ground: colour("white", "#ffffff", 1, 1, 1), stripes: [NAVY, TEAL, GOLD] });

function freeze(cloth) {
  Object.freeze(cloth.stripes);
  return Object.freeze(cloth);
}

const names = (cloth) => cloth.stripes.map(({ name }) => name);

test("stripes are moved, swapped, added and taken out", () => {
  assert.deepEqual(names(moveStripe(CLOTH, 1, 3)), ["teal", "gold", "navy"]);
  assert.deepEqual(names(moveStripe(CLOTH, 3, 1)), ["gold", "navy", "teal"]);
  assert.deepEqual(names(swapStripes(CLOTH, 3, 1)), ["gold", "teal", "navy"]);
  assert.deepEqual(names(addStripe(CLOTH, 2, GOLD)), ["navy", "gold", "teal", "gold"]);
  assert.deepEqual(names(removeStripe(CLOTH, 2)), ["navy", "gold"]);
  assert.deepEqual(names(CLOTH), ["navy", "teal", "gold"]);
});

test("a part that was chosen is followed through a move", () => {
  for (let stripe = 1; stripe <= 3; stripe++) {
    for (let to = 1; to <= 3; to++) {
      const moved = moveStripe(CLOTH, stripe, to);
      for (let part = 1; part <= 3; part++) {
        assert.equal(colourOf(moved, partAfterMove(part, stripe, to)), colourOf(CLOTH, part));
      }
      assert.equal(partAfterMove(0, stripe, to), 0);
    }
  }
});

test("a colour is put in a part; what stays is the part", () => {
  const stays = letStay(CLOTH, 2, true);
  assert.deepEqual(colourOf(putColour(stays, 2, NAVY), 2), { ...NAVY, stays: true });
  assert.equal(putColour(CLOTH, 0, TEAL).ground.name, "teal");
  assert.equal(letStay(CLOTH, 0, true).ground.stays, true);
  assert.equal(colourOf(CLOTH, 4), undefined);
});

test("many acts and their opposites bring back what was", () => {
  let cloth = CLOTH;
  for (const [from, to] of [[1, 3], [2, 1], [3, 2]]) cloth = moveStripe(cloth, from, to);
  for (const [from, to] of [[2, 3], [1, 2], [3, 1]]) cloth = moveStripe(cloth, from, to);
  assert.deepEqual(cloth, CLOTH);
  assert.deepEqual(removeStripe(addStripe(cloth, 4, NAVY), 4), CLOTH);
  assert.deepEqual(swapStripes(swapStripes(cloth, 1, 2), 2, 1), CLOTH);
});

test("tones are mixed from the colours as they are now", () => {
  const tones = tonesOf(swapStripes(CLOTH, 1, 3));
  assert.deepEqual([...tones.slice(0, 6)], [255, 255, 255, 255, 235, 128]); // half gold over white
  assert.equal(tonesOf(remix(CLOTH, { ...RECIPE, decode: "light" })), null); // encoded anew first
});

test("words", () => {
  assert.equal(wordsOf(CLOTH), "navy, teal, gold on white");
  assert.equal(toneName(CLOTH, 3, 1), "gold over navy");
  assert.equal(toneName(CLOTH, 0, 2), "teal over white");
  assert.equal(toneName(CLOTH, 0, 0), "Ground, white");
  assert.equal(toneName(remix(CLOTH, { ...RECIPE, layout: "woven" }), 1, 2), "navy with teal");
});

test("a weft's stripes are parts below the ground; the first change gives it colours of its own", () => {
  const wefts = (cloth) => cloth.wefts.map(({ name }) => name);
  const first = putColour(CLOTH, -2, GOLD);
  assert.deepEqual([names(first), wefts(first)], [["navy", "teal", "gold"], ["navy", "gold", "gold"]]);
  const own = withOwnWeft(letStay(CLOTH, 1, true));
  assert.equal(colourOf(own, -1).stays, false); // no draw keeps a weft
  assert.equal(withOwnWeft(own), own);
  assert.deepEqual(wefts(moveStripe(own, -1, -3)), ["teal", "gold", "navy"]);
  assert.deepEqual(wefts(swapStripes(own, -3, -1)), ["gold", "teal", "navy"]);
  assert.deepEqual(wefts(addStripe(own, -4, TEAL)), ["navy", "teal", "gold", "teal"]);
  assert.deepEqual(wefts(removeStripe(own, -2)), ["navy", "gold"]);
  for (const edit of [moveStripe(own, -1, -3), removeStripe(own, -1), addStripe(own, -1, GOLD)]) {
    assert.deepEqual(names(edit), names(CLOTH));
  }
  assert.deepEqual(wefts(putColour(own, 1, TEAL)), names(CLOTH)); // and the warp's edits leave the weft
  assert.deepEqual(["Ground", "Stripe 2", "Weft stripe 2"], [0, 2, -2].map(partWords));
});

test("a weft's part that was chosen is followed through a move of its own way only", () => {
  const own = withOwnWeft(CLOTH);
  for (let stripe = 1; stripe <= 3; stripe++) {
    for (let to = 1; to <= 3; to++) {
      const moved = moveStripe(own, -stripe, -to);
      for (const part of [-1, -2, -3, 0, 1, 2, 3]) {
        assert.equal(colourOf(moved, partAfterMove(part, -stripe, -to)), colourOf(own, part));
      }
      assert.equal(partAfterMove(-2, stripe, to), -2);
    }
  }
});

test("a weft apart in the same colours has the same tones", () => {
  assert.deepEqual(tonesOf(withOwnWeft(CLOTH)), tonesOf(CLOTH));
  const fewer = removeStripe(withOwnWeft(CLOTH), -1);
  assert.equal(tonesOf(fewer).length, 3 * 4 * 3);
});
