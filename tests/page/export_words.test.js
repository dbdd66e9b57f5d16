import assert from "node:assert/strict";
import { test } from "node:test";

import { aboutWords, dpiWords, exportWords, partWords, pixelWords, preflightWords, whoseWords } from "../../kit/checkcloth/page/desk/export/words.js";

test("a resolution is exact: a whole number, or a mixed one", () => {
  assert.equal(dpiWords("300"), "300 dpi");
  assert.equal(dpiWords("608/2"), "304 dpi");
  assert.equal(dpiWords("2540/17"), "149 7/17 dpi"); // 149.4117...
  assert.equal(dpiWords("1/3"), "1/3 dpi");
});

test("pixels across, of one size or of several", () => {
  assert.equal(pixelWords(null), "");
  assert.equal(pixelWords([450, 450]), "450 px across");
  assert.equal(pixelWords([150, 18000]), "150 to 18,000 px across");
});

test("a kind of file says how many, how large, and at what resolution it is exact", () => {
  assert.equal(partWords(["contact sheet", 1, null, [], 3]), "contact sheet");
  assert.equal(partWords(["tile, PNG at 300 dpi", 3, [300, 900], ["300"], 3]), "3 × tile, PNG at 300 dpi, 300 to 900 px across");
  assert.equal(partWords(["tile, PNG at 150 dpi", 2, [19, 19], ["152"], 3]), "2 × tile, PNG at 150 dpi, 19 px across, exact at 152 dpi");
  assert.equal(partWords(["tile, PNG at 150 dpi", 2, [19, 40], ["152", "2540/17"], 3]),
    "2 × tile, PNG at 150 dpi, 19 to 40 px across, exact at 152 dpi and 149 7/17 dpi");
});

test("the button says how many files, and where they go if elsewhere", () => {
  assert.equal(exportWords(1, ""), "Export 1 file");
  assert.equal(exportWords(1234, "out/tea-2"), "Export 1,234 files to out/tea-2");
  assert.equal(aboutWords(0), "");
  assert.equal(aboutWords(345_000), "0.3 MB");
});

test("what a pre-flight looked at says its number, the limit, why, and of whom", () => {
  const note = ["resolution", false, "100 dpi", "150 to 600 dpi", "too coarse for print", [], 12];
  assert.equal(preflightWords(note), "resolution: 100 dpi; wanted: 150 to 600 dpi. Too coarse for print");
  assert.equal(whoseWords(note), "all 12 colourways");
  const pass = ["pixels", true, "900 × 900", "at most 20,000 a side", "", ["Quay", "Reef"], 5];
  assert.equal(preflightWords(pass), "pixels: 900 × 900; wanted: at most 20,000 a side");
  assert.equal(whoseWords(pass), "Quay, Reef and 3 more");
  assert.equal(whoseWords([...pass.slice(0, 5), ["Quay", "Reef"], 2]), "Quay, Reef");
  assert.equal(whoseWords([...pass.slice(0, 5), [], 1]), "the one colourway");
});
