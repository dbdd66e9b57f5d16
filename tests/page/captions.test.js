// Captions tell the colourways of a wall apart, in as few words as do.

import assert from "node:assert/strict";
import { test } from "node:test";

import { coloursOf, wordingOf } from "../../kit/checkcloth/page/desk/captions.js";
import { spoken } from "../../kit/checkcloth/page/shared/words.js";
import { figureWords } from "../../kit/checkcloth/page/desk/options.js";

const captions = (names, stripes) => wordingOf(names, names.map(() => stripes)).captions;
const texts = (names, stripes) => captions(names, stripes).map(({ words, clue }) => [words, clue].filter(Boolean).join("; "));

test("what all of the wall share is left out", () => {
  assert.deepEqual(texts(["Rose, Lilac on Icing", "Rose, Fern on Icing", "Rose, Sand on Icing"], 2),
    ["Lilac", "Fern", "Sand"]);
});

test("what a colourway has not is said where that is shorter", () => {
  const all = ["Rose", "Lilac", "Fern", "Sand", "Slate"];
  const names = all.map((left) => `${all.filter((name) => name !== left).join(", ")} on Icing`);
  assert.deepEqual(texts(names, 4), all.map((left) => `without ${left}`));
});

test("grounds are said where they differ, and only there", () => {
  assert.deepEqual(texts(["Rose on Icing", "Rose on Doily"], 1), ["on Icing", "on Doily"]);
  assert.deepEqual(texts(["Rose on Icing", "Fern on Icing"], 1), ["Rose", "Fern"]);
});

test("the same colours in another order: what comes first, as far as it takes", () => {
  assert.deepEqual(texts(["Rose, Fern, Sand on Icing", "Fern, Rose, Sand on Icing", "Fern, Sand, Rose on Icing"], 3),
    ["Rose first", "Fern, Rose first", "Fern, Sand first"]);
});

test("a name of its own stays, whatever it looks like", () => {
  assert.equal(coloursOf("Toast on Tuesday", 3), null);
  assert.deepEqual(texts(["Toast on Tuesday", "Rose, Fern, Sand on Icing", "Rose, Fern, Slate on Icing"], 3),
    ["Toast on Tuesday", "Sand", "Slate"]);
});

test("the only one on the wall has words too", () => {
  assert.deepEqual(texts(["Rose, Fern on Icing"], 2), ["Rose, Fern on Icing"]);
  assert.deepEqual(texts([], 2), []);
});

test("whatever is dealt, different colourways have different captions", () => {
  const colours = ["Rose", "Lilac", "Fern", "Sand", "Slate", "Sea Holly Mist", "Peach Skin"];
  let seed = 7;
  const random = (below) => (seed = (seed * 16807) % 2147483647) % below; // minimal standard generator
  for (let run = 0; run < 300; run++) {
    const stripes = 1 + random(6);
    const deal = new Set();
    for (let i = 0; i < 40; i++) {
      const left = [...colours];
      const drawn = Array.from({ length: stripes }, () => left.splice(random(left.length), 1)[0]);
      deal.add(`${drawn.join(", ")} on ${random(2) ? "Icing" : "Doily"}`);
    }
    const made = texts([...deal], stripes);
    assert.equal(new Set(made).size, deal.size);
  }
});

test("each of 5,000 has its caption", () => {
  const names = Array.from({ length: 5000 }, (_, i) =>
    `${[0, 1, 2, 3, 4, 5].map((k) => `Colour ${(i * 7 + k * (1 + (i % 5))) % 24}`).join(", ")} on Icing`);
  const made = captions(names, 6);
  assert.equal(made.length, 5000);
  assert.ok(made.every(({ words, clue }) => words || clue));
});

test("one that is edited is worded among the others as they were", () => {
  const { captions, of } = wordingOf(["A, B on C", "A, D on C"], [2, 2]);
  assert.deepEqual(captions.map(({ words }) => words), ["B", "D"]);
  assert.equal(of("A, E on C", 2), "E");
  assert.equal(of("A, B, D on C", 3), wordingOf(["A, B on C", "A, D on C", "A, B, D on C"], [2, 2, 3]).captions[2].words);
  assert.equal(of("Aunt’s apron", 2), "Aunt’s apron");
});

test("a score is read out with its unit once, and in words", () => {
  assert.equal(spoken("every edge: least ΔE00 7.3; ΔL* 2, ΔEOK 0.1"),
    "every edge: least colour difference 7.3; difference in lightness 2, difference in Oklab 0.1");
  assert.equal(figureWords("every edge: least ΔE00", "ΔE 7.3"), "every edge: least ΔE00 7.3");
  assert.equal(figureWords("every edge: least contrast ratio", "1.45:1"), "every edge: least contrast ratio 1.45:1");
});
