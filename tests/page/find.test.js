// What the search of the wall says, and how its fields are read.

import assert from "node:assert/strict";
import { test } from "node:test";
import { conditionWords, goalWords, sourceWords, strengthsOf, subjectOf } from "../../kit/checkcloth/page/desk/find_words.js";

test("the bar says what the wall shows", () => {
  assert.equal(sourceWords(48, ""), "48 from");
  assert.equal(sourceWords(5000, "clearest of 134,596"), "5,000 clearest of 134,596 from");
});

test("a goal says how many there are once that is known", () => {
  assert.equal(goalWords("The clearest of all {}", null), "The clearest of all");
  assert.equal(goalWords("The clearest of all {}", 134596), "The clearest of all 134,596");
  assert.equal(goalWords("Still clear to every eye", 12), "Still clear to every eye");
});

test("strengths are typed as people type them", () => {
  assert.deepEqual(strengthsOf(""), []);
  assert.deepEqual(strengthsOf("30, 50 %"), [0.3, 0.5]);
  assert.deepEqual(strengthsOf("20%;100"), [0.2, 1]);
  for (const wrong of ["half", "120", "-5", "20-40"]) assert.equal(strengthsOf(wrong), null);
});

test("conditions that ask nothing are not counted", () => {
  const nothing = { ground_apart: 0, edge_ratio: 1, edge_harmony: -3 };
  assert.equal(conditionWords({ ground_apart: 0, edge_ratio: 1, edge_harmony: -3 }, [], nothing), "Conditions");
  assert.equal(conditionWords({}, [], nothing), "Conditions");
  assert.equal(conditionWords({ ground_apart: 12, edge_ratio: 1.5, edge_harmony: 0 }, ["deutan"], nothing), "Conditions (4)");
});

test("the count hangs on the draw's settings and on what stays, and on nothing else", () => {
  const get = (/** @type {object} */ over = {}) => (/** @type {string} */ trait) => (
    { palette: "halt", stripes: 3, ground: "", mixing: "woven", strength: 0.5, bands: "even", weft: "", ...over }[trait]);
  const facts = { staying: [], palettes: [["halt", 8]], message: "" };
  const first = subjectOf(get(), facts);
  assert.equal(subjectOf(get(), { ...facts, message: "Kept." }), first);
  assert.notEqual(subjectOf(get({ stripes: 4 }), facts), first);
  assert.notEqual(subjectOf(get({ bands: "double" }), facts), first);
  assert.notEqual(subjectOf(get({ weft: "1 C, 1 A" }), facts), first);
  assert.notEqual(subjectOf(get(), { ...facts, palettes: [["halt", 9]] }), first);
  assert.notEqual(subjectOf(get(), { ...facts, staying: [{ part: 0, words: "ground, Flour" }] }), first);
});
