// The range in families, and what is said of colours that were read.

import assert from "node:assert/strict";
import { test } from "node:test";

import { leftOutWords, nameOfFile, namedWords, nextCount, rowToSave, usedWords } from "../../kit/checkcloth/page/desk/colour_words.js";
import { familiesOf, newFamily } from "../../kit/checkcloth/page/desk/families.js";

const card = (number, family) => ({ number, family });

test("families come in the order of their first, those by themselves last", () => {
  const groups = familiesOf([card(1, ""), card(2, "Dusk"), card(3, "Dawn"), card(4, "Dusk"), card(5, undefined)]);
  assert.deepEqual(groups.map(({ family, cards }) => [family, cards.map(({ index }) => index)]),
    [["Dusk", [1, 3]], ["Dawn", [2]], ["", [0, 4]]]);
});

test("a family without a colourway is there to be dropped on", () => {
  assert.deepEqual(familiesOf([card(1, "Dusk")], ["Dawn", "Dusk"]).map(({ family }) => family), ["Dawn", "Dusk"]);
  assert.deepEqual(familiesOf([]).map(({ family }) => family), [""]);
});

test("a new family has a name that none has", () => {
  assert.equal(newFamily([]), "Family 1");
  assert.equal(newFamily(["Dusk", "Family 3"]), "Family 4");
});

test("what was not read is said, the first in full", () => {
  assert.equal(leftOutWords(1, []), "1 colour read.");
  assert.equal(leftOutWords(6, [[5, "peachy", "is no colour that is known here."]]),
    "6 colours read. Line 5 left out: “peachy” is no colour that is known here.");
  assert.equal(leftOutWords(0, [[1, "a", "is none"], [2, "b", "is none"]]),
    "0 colours read. Line 1 left out: “a” is none, and 1 more.");
  assert.equal(namedWords("Reef", "#00957f"), "Reef #00957f");
  assert.equal(namedWords("Reef", "#00957f", "shown ΔE00 4.8 off"), "Reef #00957f, shown ΔE00 4.8 off");
  assert.equal(usedWords(0, 9), "–");
  assert.equal(usedWords(4, 9), "4 of 9");
});

test("a photograph gives six colours at least and 24 at most", () => {
  const walk = (count, step) => (count === null ? [] : [count, ...walk(nextCount(count, step), step)]);
  assert.deepEqual(walk(12, 1), [12, 16, 20, 24]);
  assert.deepEqual(walk(12, -1), [12, 10, 8, 6]);
  assert.equal(nextCount(13, -1), 12);
});

test("what was read of a colour is saved with it: exact text, role and note", () => {
  assert.deepEqual(rowToSave(["Icing", "#fffaf0", "lab(98.4 0.1 5)", "ground", "matt"]), ["Icing", "lab(98.4 0.1 5)", "ground", "matt"]);
  assert.deepEqual(rowToSave(["Icing", "#fffaf0"]), ["Icing", "#fffaf0", "", ""]);
});

test("a palette may be called as its file is", () => {
  assert.deepEqual(["tea.room.csv", "photo", ".csv"].map(nameOfFile), ["tea.room", "photo", ".csv"]);
});
