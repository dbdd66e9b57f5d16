// What a reader of the page answers: text, file, memory, and how the range is looked at.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Answers } from "../../kit/checkcloth/page/range/answers.js";
import { layout } from "../../kit/checkcloth/page/range/beside.js";
import { Looking, cardPixels, lengthWords, paperPart, pieceReduction } from "../../kit/checkcloth/page/range/looking.js";
import { countWords, familiesIn, readRange, tonesOf } from "../../kit/checkcloth/page/range/range_data.js";

/** Two colourways of one stripe, as Python sends them: black on white, and its own twin without a name. */
function range(changes = {}) {
  const one = { name: "Quay: no. 2", words: "black on white", family: "Pier", note: "", recipe: 0, estimate: false,
    strength: 0.5, ground: ["white", "#ffffff"], stripes: [["black", "#000000"]], wefts: [], warp: [[1, 1], [0, 1]], weft: [[1, 1], [0, 3]] };
  const floats = Float32Array.of(1, 1, 1, 0, 0, 0, 1, 1, 1, 0, 0, 0);
  return readRange(JSON.stringify({ title: "Towels", stem: "Towels", note: "", reference: "QH 1", date: "1 May 2026",
    sizes: [["1/4 in", 0.25], ["1/2 in", 0.5]], size: 1, metric: false, strengths: [0.3, 0.5], codes: true,
    recipes: [["source-over", "layered", "as-is", 0.5, 1]], colours: Buffer.from(floats.buffer).toString("base64"),
    colourways: [one, { ...one, name: "", family: "" }], ...changes }));
}

function store() {
  /** @type {Map<string, string>} */
  const held = new Map();
  return { getItem: (/** @type {string} */ key) => held.get(key) ?? null,
    setItem: (/** @type {string} */ key, /** @type {string} */ value) => held.set(key, value), held };
}

test("tones follow the strength; W3C Compositing Level 1, source-over: 0.5 of black over white is 127.5", () => {
  const { colourways } = range();
  assert.deepEqual([...tonesOf(range(), colourways[1], 0.5)].filter((_, at) => at % 3 === 0), [255, 128, 128, 64]);
  assert.deepEqual([...tonesOf(range(), colourways[1], 0)], Array(12).fill(255));
});

test("a weft of its own colours: white over black at 0.5, source-over", () => {
  const floats = Float32Array.of(0, 0, 0, 0, 0, 0, 1, 1, 1);
  const made = range({ colours: Buffer.from(floats.buffer).toString("base64") });
  const one = { ...made.colourways[0], wefts: /** @type {[string, string][]} */ ([["white", "#ffffff"]]) };
  assert.deepEqual([...tonesOf(made, one, 0.5)].filter((_, at) => at % 3 === 0), [0, 128, 0, 64]);
});

test("families and numbers", () => {
  const made = range();
  assert.deepEqual(familiesIn(made).map(([family, members]) => [family, members.length]), [["Pier", 1], ["", 1]]);
  assert.deepEqual(made.colourways.map(({ number, title }) => [number, title]), [[1, "Quay: no. 2"], [2, "Number 2"]]);
  assert.equal(countWords(made), "2\u00a0colourways");
});

test("the text names every colourway, with no colon in its name, and each remark on one line", () => {
  const answers = new Answers(range(), null);
  answers.from = "A. Client";
  answers.set(1, { say: "maybe", remark: " a little\n weaker? " });
  answers.remark = "thanks";
  assert.equal(answers.text("check 1/4 in"), ["Towels: answers", "Reference QH 1, page of 1 May 2026", "From: A. Client",
    "Seen last at: check 1/4 in", "", "1 Quay, no. 2: maybe. a little weaker?", "2 black on white: no answer", "",
    "To all: thanks"].join("\n"));
  assert.deepEqual(JSON.parse(answers.file("")).answers[0],
    { number: 1, name: "Quay: no. 2", answer: "maybe", remark: "a little weaker?" });
  assert.deepEqual(answers.count(), { done: 1, words: "1 maybe" });
});

test("answers are kept under the reference, and another edition begins anew", () => {
  const kept = store();
  const first = new Answers(range(), kept);
  first.from = "A";
  first.set(2, { say: "no" });
  assert.deepEqual(new Answers(range(), kept).of(2), { say: "no", remark: "" });
  assert.equal(new Answers(range(), kept).from, "A");
  assert.deepEqual(new Answers(range({ reference: "QH 2" }), kept).of(2), { say: "", remark: "" });
});

test("what is stored damaged, or cannot be, costs nothing", () => {
  const kept = store();
  kept.setItem("checkcloth range page: QH 1", "{\"given\": 3");
  assert.deepEqual(new Answers(range(), kept).count(), { done: 0, words: "" });
  kept.setItem("checkcloth range page: QH 1", "{\"given\": [[1, {\"say\": \"perhaps\"}]]}");
  assert.equal(new Answers(range(), kept).of(1).say, "");
  const forbids = { getItem: () => null, setItem: () => { throw new Error("quota"); } };
  const answers = new Answers(range(), forbids);
  answers.set(1, { say: "yes" });
  assert.equal(answers.of(1).say, "yes");
});

test("what was moved is said, and put back", () => {
  const looking = new Looking(range());
  assert.equal(looking.seen(), "");
  looking.size = 0;
  looking.strength = 0.3;
  assert.equal(looking.seen(), "check 1/4 in, strength 30 %");
  assert.equal(looking.strengthOf(looking.range.colourways[0]), 0.3);
  looking.asDrawn();
  assert.equal(looking.seen(), "");
  assert.equal(looking.strengthOf(looking.range.colourways[0]), 0.5);
});

test("a fifth is refused beside four", () => {
  const looking = new Looking(range());
  const many = Array.from({ length: 5 }, (_, at) => ({ ...looking.range.colourways[0], number: at + 1 }));
  assert.deepEqual(many.map((one) => looking.lay(one, true)), [true, true, true, true, false]);
  assert.ok(looking.lay(many[0], false));
  assert.equal(looking.beside.length, 3);
});

test("scales: even pixels on cards, whole reductions of pieces, plain fractions on paper", () => {
  assert.equal(cardPixels(1216, 3, 20, 13), 30); // three of 390 px
  assert.equal(cardPixels(343, 1, 0, 13), 26);
  assert.equal(pieceReduction([60, 60], 1216, 585, 96), 10);
  assert.equal(paperPart(0.5, 13, 54), 4); // 17 checks of 3.175 mm
  assert.deepEqual([layout(4, 900), layout(3, 1280), layout(3, 375)],
    [{ columns: 2, rows: 2 }, { columns: 3, rows: 1 }, { columns: 1, rows: 3 }]);
  assert.equal(lengthWords(0.75, false), "3/4 in");
  assert.equal(lengthWords(60 / 2.54, true), "60 cm");
});
