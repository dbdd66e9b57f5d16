// The same again, but: which ways there are, and what is said of each.

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  clothWords, commonPercent, countWords, gampColours, percentOf, sizePixels, wayWords, waysFor,
} from "../../kit/checkcloth/page/desk/derive_ways.js";

test("only what a colourway is not already is offered", () => {
  const keys = (stripes) => waysFor(stripes, 20).map(({ key }) => key);
  assert.deepEqual(keys(7).slice(0, 3), ["stripes 6", "stripes 3", "stripes 2"]);
  assert.deepEqual(keys(6), ["stripes 3", "stripes 2", "family", "wefts", "strength", "grounds", "order"]);
  assert.deepEqual(keys(3), ["stripes 2", "family", "wefts", "strength", "grounds", "order"]);
  assert.deepEqual(keys(2), ["family", "wefts", "strength", "grounds", "order"]);
  assert.deepEqual(keys(1), ["family", "wefts", "strength", "grounds"]);
  assert.deepEqual(waysFor(1, 20)[2].fields, { strength: 0.2 });
});

test("a strength is typed with its sign or without", () => {
  assert.deepEqual(["20", " 20 % ", "12,5%", "12.5", "0", "100"].map(percentOf), [20, 20, 12.5, 12.5, 0, 100]);
  assert.deepEqual(["", "101", "-3", "pale", "1e2", "20 % %"].map(percentOf), Array(6).fill(null));
});

test("a family has one strength or none in common", () => {
  assert.equal(commonPercent([{ strength: 0.2 }, { strength: 0.2000000001 }]), 20);
  assert.equal(commonPercent([{ strength: 0.2 }, { strength: 0.5 }]), null);
  assert.equal(commonPercent([]), null);
});

test("the button counts what is not kept yet", () => {
  assert.deepEqual(countWords([false, false, false]), { more: 3, keep: "Keep these 3", many: "3 more" });
  assert.deepEqual(countWords([true, false, true]), { more: 1, keep: "Keep this one", many: "1 more, 2 kept already" });
  assert.deepEqual(countWords([true, true]), { more: 0, keep: "Kept", many: "all 2 kept already" });
  assert.deepEqual(countWords([true]), { more: 0, keep: "Kept", many: "" });
});

test("a way says by name what sets it apart", () => {
  const derived = { colourways: [["Icing", "Rose", "Teal"], ["Doily", "Rose", "Teal"]] };
  const words = (key) => wayWords({ key, title: "", fields: {} }, derived);
  assert.equal(words("grounds"), "Icing, Doily");
  assert.equal(words("stripes 2"), "Rose, Teal");
  assert.equal(words("strength"), "");
  const wefts = { ...derived, weft_names: [["Gold", "Gold"], ["Plum", "Plum"]], names: ["", ""], kept: [true, false] };
  assert.equal(wayWords({ key: "wefts", title: "", fields: {} }, wefts), "Gold, Plum");
  assert.equal(clothWords(wefts, 0), "Rose, Teal on Icing, weft Gold, kept already");
  const family = { ...derived, weft_names: [[], []], names: ["Quay, low, 3 stripes", "Quay, low, plain white"], kept: [false, false] };
  assert.equal(wayWords({ key: "family", title: "", fields: {} }, family), "3 stripes, plain white");
  assert.equal(clothWords(family, 1), "Quay, low, plain white: Rose, Teal on Doily");
});

test("a gamp takes ground and warp once, and one thread of each weft", () => {
  const one = (weft) => [0, 0, 1, 1, 2, 2, weft, weft, weft, weft]; // ground, two of the warp, two of the weft
  const colours = Float32Array.from([...one(7), ...one(8), ...one(9)]);
  assert.deepEqual([...gampColours(2, [2, 2, 2], colours, 2)], [0, 0, 1, 1, 2, 2, 7, 7, 8, 8, 9, 9]);
});

test("check sizes beside each other are true to each other", () => {
  assert.deepEqual(sizePixels([0.5, 0.25, 1], 1), [8, 4, 16]);
  assert.deepEqual(sizePixels([0.5, 0.25, 1], 2), [16, 8, 32]);
  assert.deepEqual(sizePixels([0.5], 1.5), [6]);
  assert.deepEqual(sizePixels([0.25, 0.375], 1), [4, 6]);
  assert.deepEqual(sizePixels([1 / 16, 1], 1, 6, 200), [2, 32]); // a repeat of 192 is seen whole
  assert.deepEqual(sizePixels([1 / 16, 2], 1, 12, 200), [1, 32]); // it cannot be
});
