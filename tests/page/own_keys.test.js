// Keys typed on the desk or its form are marked as its own before the host hears of them.

import assert from "node:assert/strict";
import { test } from "node:test";

import { isForControls, keepKeys } from "../../kit/checkcloth/page/shared/own_keys.js";

/** A tree of elements, as much of it as is asked for. */
class Element {
  attributes = new Set();

  constructor(parent, box = false) {
    Object.assign(this, { parentElement: parent, box, ownerDocument: parent?.ownerDocument });
  }

  closest(selector) {
    assert.equal(selector, ".widget-vbox");
    return this.box ? this : this.parentElement?.closest(selector) ?? null;
  }

  contains(other) {
    return other === this || (other.parentElement ? this.contains(other.parentElement) : false);
  }

  toggleAttribute(name, on) {
    this.attributes[on ? "add" : "delete"](name);
  }
}

const heard = [];
const window = {
  addEventListener: (name, act, capture) => heard.push({ name, act, capture }),
  removeEventListener: (name, act) => heard.splice(heard.findIndex((one) => one.act === act), 1),
};
const cell = new Element(null);
cell.ownerDocument = { defaultView: window };
const box = new Element(cell, true);
const inner = new Element(box, true);
const desk = new Element(inner);
const form = new Element(box);

function press(target, key, held = {}) {
  const event = { target, key, ctrlKey: false, metaKey: false, altKey: false, shiftKey: false, ...held };
  for (const { name, act, capture } of heard) {
    assert.deepEqual([name, capture], ["keydown", true]);
    act(event);
  }
  return [...target.attributes];
}

test("letters on the desk and on the form in its box are marked, a cell's are not", () => {
  const end = keepKeys(desk);
  assert.deepEqual(press(cell, "x"), []);
  assert.deepEqual(press(desk, "x"), ["data-lm-suppress-shortcuts"]);
  assert.deepEqual(press(desk, "s", { ctrlKey: true }), []);
  assert.deepEqual(press(form, "m"), ["data-lm-suppress-shortcuts"]);
  assert.deepEqual(press(form, "Enter", { shiftKey: true }), []);
  assert.deepEqual([...box.attributes, ...inner.attributes], []);
  press(desk, "s", { ctrlKey: true });
  end();
  assert.deepEqual(press(desk, "x"), []);
});

test("without a box it is the element itself", () => {
  const alone = new Element(cell);
  const end = keepKeys(alone);
  press(alone, "m");
  assert.deepEqual([...alone.attributes], ["data-lm-suppress-shortcuts"]);
  end();
});

test("keys without Ctrl, Alt or Command are kept from the notebook, but not Shift+Enter", () => {
  const plain = { ctrlKey: false, metaKey: false, altKey: false, shiftKey: false };
  for (const key of ["x", "0", "ArrowRight", "Enter", "Tab", "Escape"]) {
    assert.equal(isForControls({ ...plain, key }), true, key);
  }
  assert.equal(isForControls({ ...plain, key: "X", shiftKey: true }), true);
  assert.equal(isForControls({ ...plain, key: "Enter", shiftKey: true }), false);
  for (const held of ["ctrlKey", "metaKey", "altKey"]) {
    assert.equal(isForControls({ ...plain, key: "s", [held]: true }), false, held);
  }
});
