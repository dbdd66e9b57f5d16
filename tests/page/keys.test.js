// Each key does one thing, where it is the desk's to do.

import assert from "node:assert/strict";
import { test } from "node:test";

import { actionOf } from "../../kit/checkcloth/page/desk/keys.js";

const WALL = { typing: false, onControl: false, dialog: false, enlarged: false };

function press(words, where = {}) {
  const parts = words.split("+");
  const key = parts.pop();
  return actionOf({ key, ctrlKey: parts.includes("Ctrl"), metaKey: parts.includes("Meta"),
    altKey: parts.includes("Alt"), shiftKey: parts.includes("Shift") }, { ...WALL, ...where });
}

test("each key's act, in either case", () => {
  const acts = { k: "toggle", " ": "toggle", Enter: "enlarge", n: "name", t: "note", c: "compare",
    m: "more", d: "different", u: "undo", r: "redo", "?": "keys",
    1: "part", 2: "part", 3: "part", 4: "part" };
  for (const [key, act] of Object.entries(acts)) {
    assert.equal(press(key), act);
    if (/^[a-z]$/.test(key)) assert.equal(press(key.toUpperCase()), act);
  }
  assert.equal(press("Shift+Enter"), null, "runs the cell");
  assert.equal(press("2", { enlarged: true }), null, "under the enlarged view nothing turns");
  assert.equal(press("2", { typing: true }), null);
  for (const key of ["5", "0", "a", "z", "Tab", "ArrowLeft", "Escape", "constructor"]) {
    assert.equal(press(key), null, key);
  }
});

test("undo and redo by the keys of every editor", () => {
  const acts = { "Ctrl+z": "undo", "Meta+z": "undo", "Ctrl+Shift+Z": "redo", "Ctrl+y": "redo",
    "Ctrl+k": null, "Ctrl+c": null, "Meta+d": null, "Alt+k": null, "Ctrl+Alt+z": null };
  for (const [keys, act] of Object.entries(acts)) assert.equal(press(keys), act, keys);
});

test("fields that are typed into keep their keys, undo among them", () => {
  for (const keys of ["k", "Enter", " ", "?", "Ctrl+z"]) assert.equal(press(keys, { typing: true }), null);
});

test("buttons and sliders keep Space and Enter, and no others", () => {
  const where = { onControl: true };
  assert.deepEqual([" ", "Enter", "k", "Ctrl+z"].map((keys) => press(keys, where)),
    [null, null, "toggle", "undo"]);
});

test("enlarged, the same keys work, and Enter enlarges no further", () => {
  const where = { enlarged: true };
  assert.deepEqual(["k", "n", "Enter"].map((keys) => press(keys, where)), ["toggle", "name", null]);
});

test("under another dialog nothing but undo and redo is heard", () => {
  const where = { dialog: true };
  assert.deepEqual(["k", "?", "Enter", "Ctrl+z"].map((keys) => press(keys, where)),
    [null, null, null, "undo"]);
});

test("V walks along the views of the cloth, B along the boards", () => {
  const where = { typing: false, onControl: true, dialog: false, enlarged: true };
  const press = (key, more = {}) => ({ key, ctrlKey: false, metaKey: false, altKey: false, shiftKey: false, ...more });
  assert.equal(actionOf(press("v"), where), "view");
  assert.equal(actionOf(press("V", { shiftKey: true }), where), "view");
  assert.equal(actionOf(press("b"), where), "board");
  assert.equal(actionOf(press("v", { ctrlKey: true }), where), null);
  assert.equal(actionOf(press("v"), { ...where, typing: true }), null);
});
