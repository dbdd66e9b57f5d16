// The same again, but: which ways there are, and what is said of each.

import assert from "node:assert/strict";
import { test } from "node:test";

import { commonPercent, countWords, percentOf, sizePixels, wayWords, waysFor } from "../../kit/checkcloth/page/desk/derive_ways.js";

test("only what a colourway is not already is offered", () => {
  const keys = (stripes) => waysFor(stripes, 20).map(({ key }) => key);
  assert.deepEqual(keys(6), ["stripes 3", "stripes 2", "strength", "grounds", "order"]);
  assert.deepEqual(keys(3), ["stripes 2", "strength", "grounds", "order"]);
  assert.deepEqual(keys(2), ["strength", "grounds", "order"]);
  assert.deepEqual(keys(1), ["strength", "grounds"]);
  assert.deepEqual(waysFor(1, 20)[0].fields, { strength: 0.2 });
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
  assert.deepEqual(countWords([true]), { more: 0, keep: "Kept", many: "kept already" });
});

test("a way says by name what sets it apart", () => {
  const derived = { colourways: [["Icing", "Rose", "Teal"], ["Doily", "Rose", "Teal"]] };
  const words = (key) => wayWords({ key, title: "", fields: {} }, derived);
  assert.equal(words("grounds"), "Icing, Doily");
  assert.equal(words("stripes 2"), "Rose, Teal");
  assert.equal(words("strength"), "");
});

test("check sizes beside each other are true to each other", () => {
  assert.deepEqual(sizePixels([0.5, 0.25, 1], 1), [8, 4, 16]);
  assert.deepEqual(sizePixels([0.5, 0.25, 1], 2), [16, 8, 32]);
  assert.deepEqual(sizePixels([0.5], 1.5), [6]);
  assert.deepEqual(sizePixels([0.25, 0.375], 1), [4, 6]);
});
