// The lesson's words and files, without a browser. Its numbers are held to arithmetic done in
// tests/lesson/test_page_numbers.py.

import assert from "node:assert/strict";
import { test } from "node:test";

import { ColourBook, changes, hexOf, readCode } from "../../kit/checkcloth/page/lesson/colours.js";
import { escape, fileName, handInHtml } from "../../kit/checkcloth/page/lesson/hand_in.js";
import { nothingKept, readKept } from "../../kit/checkcloth/page/lesson/keep.js";
import { cut, exact, fixed, percent, readNumber, together } from "../../kit/checkcloth/page/lesson/numbers.js";
import { capital } from "../../kit/checkcloth/page/shared/words.js";
import { saidWords } from "../../kit/checkcloth/page/lesson/question.js";
import { valueWords } from "../../kit/checkcloth/page/lesson/slider_view.js";
import { minutesOf } from "../../kit/checkcloth/page/lesson/steps/distance.js";
import { warpUp } from "../../kit/checkcloth/page/lesson/steps/threads.js";

const BOOK = new ColourBook(
  { names: { teal: "#008080", red: "#ff0000" }, swatches: [["Ink Blue", [0.2, 0.3, 0.5]]] },
  { named: [["Red", [0.75, 0.22, 0.17]]] },
);

test("numbers show what is exact, a true minus, and no sign of a zero", () => {
  assert.equal(exact(0.35 * 0.65), "22.75 %");
  assert.equal(exact(0.21), "21 %");
  assert.equal(fixed(-0.04), "0.0");
  assert.equal(fixed(-6.46), "−6.5");
  assert.equal(percent(0.4344), "43.4 %");
  assert.equal(capital("ink"), "Ink");
  assert.equal(cut("Sugared Almond Blossom", 10), "Sugared A…");
  assert.equal(together("At 30 % it is ΔE00 4.1 from 10 m; n = 2"), "At 30\u00a0% it is ΔE00\u00a04.1 from 10\u00a0m; n =\u00a02");
});

test("what is typed as a number is read with a comma and its unit", () => {
  assert.equal(readNumber(" 43,7 m "), 43.7);
  assert.equal(readNumber("69 %"), 69);
  assert.equal(readNumber(".5"), 0.5);
  for (const text of ["", "none", "4 5", "1e3", "0x10", "5,"]) assert.ok(Number.isNaN(readNumber(text)), text);
});

test("colours by name, whatever its case, and by code; a step's own names come first", () => {
  assert.deepEqual(BOOK.read(" TEAL ")?.name, "teal");
  assert.equal(hexOf(BOOK.read("red")?.rgb ?? []), "#bf382b");
  assert.equal(BOOK.read("abc")?.name, "#aabbcc");
  assert.equal(BOOK.read("#8FC7C1")?.name, "#8fc7c1");
  for (const text of ["teel", "", "#12345", "#ggg", "constructor", "__proto__"]) assert.equal(BOOK.read(text), null, text);
  assert.equal(hexOf(readCode("fff") ?? []), "#ffffff");
  assert.equal(hexOf([0.5, 0, 1]), "#8000ff"); // halves go up, as in the kit
});

test("a word that is no colour gets the nearest name that is one", () => {
  assert.equal(changes("teel", "teal"), 1);
  assert.equal(changes("", "teal"), 4);
  assert.match(BOOK.complaint(" teel "), /^“teel” is no colour we know\. Try teal, or a code such as #8fc7c1\.$/);
  assert.match(BOOK.complaint("ink bleu"), /Try Ink Blue,/);
  assert.match(BOOK.complaint("xyzzyplugh"), /Try teal,/);
  assert.ok(BOOK.complaint("a".repeat(5000)).length < 120);
});

test("what was answered, in words", () => {
  const boxes = [{ label: "Laid over", unit: "%" }, { label: "Woven", unit: "%" }];
  assert.equal(saidWords(boxes, ["70", "90"]), "70 % (laid over), 90 % (woven)");
  assert.equal(saidWords(boxes, ["", ""]), "");
  assert.equal(saidWords(boxes, ["?", "?"]), "don’t know");
  assert.equal(saidWords([{ label: "n", unit: "" }], ["none"]), "none");
  assert.equal(saidWords([{ label: "Your answer", unit: "%" }], ["about half"]), "about half");
});

test("a slider says its label where it has one", () => {
  const slider = { labels: ["1/8 in", "1/4 in"], low: 0, step: 1, unit: "" };
  assert.equal(valueWords(slider, 1), "1/4 in");
  assert.equal(valueWords({ labels: [], low: 1, step: 0.1, unit: " m" }, 10.1), "10.1 m");
  assert.equal(valueWords({ labels: [], low: 0, step: 1, unit: " %" }, 30), "30 %");
});

test("whatever was kept is read as answers or as nothing", () => {
  for (const text of [null, "", "{", "7", "[]", '"x"', "null"]) assert.deepEqual(readKept(text), nothingKept());
  const kept = readKept(JSON.stringify({ name: 3, steps: { a: { said: [1, "40"], shown: "yes", colours: { x: 2 }, at: { n: "1", m: 2 } }, b: 4 } }));
  assert.deepEqual(kept, { name: "", group: "", steps: { a: { said: ["", "40"], shown: false, colours: {}, at: { m: 2 } } } });
});

test("what is handed in is text, whatever people typed", () => {
  const nasty = `<script>alert("1")</script>&'`;
  const html = handInHtml({
    name: nasty, group: nasty,
    steps: [{ number: 1, title: nasty, question: nasty, said: nasty, shown: true, setting: nasty }],
    cloth: { words: nasty, goals: [{ met: false, words: nasty, value: "1" }], picture: "data:image/png;base64,AA==" },
  });
  assert.ok(!html.includes("<script"));
  assert.ok(html.includes(escape(nasty)));
  assert.ok(html.includes("Not yet."));
  assert.match(html, /default-src 'none'/);
  assert.ok(handInHtml({ name: "", group: "", steps: [], cloth: { words: "", goals: [], picture: "" } }).includes("no name"));
});

test("what was left empty is not the answer “none”, and a phone shows each answer under its name", () => {
  // In step 3 “none” is right: a pupil who wrote nothing must not seem to have written it.
  const step = { number: 3, title: "Two greys", question: "At 80 %?", shown: false, setting: "Strength: 30 %" };
  const html = (/** @type {string} */ said) =>
    handInHtml({ name: "Ada", group: "", steps: [{ ...step, said }], cloth: { words: "", goals: [], picture: "" } });
  assert.ok(html("").includes(">nothing written</td>"));
  assert.ok(html("none").includes(">none</td>"));
  assert.ok(html("").includes("At 80\u00a0%?"));
  assert.ok(html("").includes('data-head="Own answer"'));
  assert.ok(html("").includes(">0 of 1 questions answered.<"));
  assert.ok(html("none").includes(">1 of 1 questions answered.<"));
  const boxes = [{ label: "From", unit: "%", slider: "", choice: "" }, { label: "to", unit: "%", slider: "", choice: "" }];
  assert.equal(saidWords(boxes, ["60", ""]), "60 % (from), nothing (to)");
});

test("file names are of letters and digits", () => {
  assert.equal(fileName("Zoë  Ångström"), "mixing-zoe-angstrom.html");
  assert.equal(fileName("../../etc/passwd"), "mixing-etc-passwd.html");
  assert.equal(fileName("李小龍"), "mixing-李小龍.html");
  assert.equal(fileName(" ?? "), "mixing-no-name.html");
});

test("one minute of arc, and threads on top", () => {
  // 1 mm from 3.43775 m (trigonometry).
  assert.ok(Math.abs(minutesOf(1, 3.43775) - 1) < 1e-4);
  assert.deepEqual(warpUp(5), { whole: 25, crossing: 13, single: 12 });
  assert.deepEqual(warpUp(4), { whole: 16, crossing: 8, single: 8 });
});
