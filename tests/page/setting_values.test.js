// What the settings say, and how their values are read.

import assert from "node:assert/strict";
import { test } from "node:test";

import * as values from "../../kit/checkcloth/page/desk/setting_values.js";

const SIZES = [["1/4 in", 0.25], ["7 mm", 7 / 25.4], ["1/2 in", 0.5]];
const MIXINGS = [["woven", "woven, fine threads", "mixed as light"], ["pigment", "pigment", "an estimate"]];

test("a check size is found by its text, and only by that", () => {
  assert.equal(values.sizeIndex(SIZES, "7 mm"), 1);
  assert.equal(values.inchesOf(SIZES, "1/2 in"), 0.5);
  assert.equal(values.sizeIndex(SIZES, "0.5 in"), -1);
  assert.equal(values.inchesOf(SIZES, "0.5 in"), undefined);
});

test("strength in per cent; where each has its own the slider stands at their mean", () => {
  assert.equal(values.strengthText(0.2), "20 %");
  assert.equal(values.strengthText(0.29), "29 %"); // 28.999… in binary
  assert.equal(values.strengthText(1 / 3), "33.33 %");
  assert.equal(values.strengthText(null), "each its own");
  assert.equal(values.strengthPerCent(0.29, 0.5), 29);
  assert.equal(values.strengthPerCent(null, 0.42), 42);
  assert.equal(values.strengthPerCent(0, 0.42), 0);
});

test("“as each came” is offered only while that is so", () => {
  assert.deepEqual(values.mixingOptions(MIXINGS, "woven").map(([name]) => name), ["woven", "pigment"]);
  assert.deepEqual(values.mixingOptions(MIXINGS, "")[0], ["", "as each came"]);
  assert.equal(values.meaningOf(MIXINGS, "pigment"), "an estimate");
  assert.equal(values.meaningOf(MIXINGS, ""), "");
});

test("a number between those offered is offered too, in its order", () => {
  assert.deepEqual(values.countOptions([24, 48], 30).map(([number]) => number), ["24", "30", "48"]);
  assert.deepEqual(values.countOptions([24, 48], 48),
    [["24", "24 at most"], ["48", "48 at most"]]);
});

test("the repeat comes in the unit of the check size first, and in the other one", () => {
  assert.equal(values.repeatWords(3, "1/2 in"), "3 in (76.2 mm)");
  assert.equal(values.repeatWords(3, '0.5"'), "3 in (76.2 mm)");
  assert.equal(values.repeatWords(42 / 25.4, "7 mm"), "42 mm (1.654 in)");
  assert.equal(values.repeatWords(6 / 2.54, "1 cm"), "6 cm (2.362 in)");
});

test("the weft has the warp's colours, or so many of its own", () => {
  assert.deepEqual(values.weftOptions(2), [["0", "as the warp"], ["1", "1 of its own"], ["2", "2 of its own"]]);
});

const STOCKS = [["", "stock not named (tone value increase 17 %)", [0.17, 2.4, 2]], ["coated", "coated (…)", [0.16, 2.6, 2]]];
const PRESS = ["tvi=0.1453 density=2.1 n=2.0 halt press", "halt press (…)", [0.1453, 2.1, 2]];

test("a press of one's own can be asked for, last of all; “each its own” only while that is so", () => {
  assert.deepEqual(values.stockChoices([...STOCKS, PRESS], "coated").map(([text]) => text),
    ["", "coated", PRESS[0], values.MEASURED]);
  assert.deepEqual(values.stockChoices(STOCKS, null).map(([text]) => text), [values.EACH_STOCK, "", "coated", values.MEASURED]);
  assert.deepEqual(values.stockChoices(undefined, "").map(([text]) => text), [values.MEASURED]);
  assert.deepEqual(["", "coated", null, undefined, PRESS[0]].map(values.isOwnPress), [false, false, false, false, true]);
});

test("the numbers of a press stand as they are typed", () => {
  assert.deepEqual(values.pressNumbers([...STOCKS, PRESS], PRESS[0]), { increase: "14.53", density: "2.1", n: "2" });
  assert.deepEqual(values.pressNumbers(STOCKS, "coated"), { increase: "16", density: "2.6", n: "2" });
  assert.equal(values.pressNumbers(STOCKS, null).increase, "17");
  assert.equal(values.pressNumbers(undefined, "").increase, "17");
});
