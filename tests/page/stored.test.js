// What the browser keeps for a page, and a browser that forbids it.

import assert from "node:assert/strict";
import { afterEach, test } from "node:test";

import { store, stored } from "../../kit/checkcloth/page/shared/stored.js";

const before = Object.getOwnPropertyDescriptor(globalThis, "localStorage");

/** @param {PropertyDescriptor} how */
function browser(how) {
  Object.defineProperty(globalThis, "localStorage", { configurable: true, ...how });
}

afterEach(() => {
  if (before) Object.defineProperty(globalThis, "localStorage", before);
  else Reflect.deleteProperty(globalThis, "localStorage");
});

test("what is stored is there until it is taken away", () => {
  const kept = new Map();
  browser({ value: { getItem: (key) => kept.get(key) ?? null, setItem: kept.set.bind(kept), removeItem: kept.delete.bind(kept) } });
  assert.equal(stored("board"), "");
  store("board", "grey");
  assert.equal(stored("board"), "grey");
  store("board", "");
  assert.equal(kept.size, 0);
});

test("a browser that throws at the very name of its store keeps nothing, and nothing breaks", () => {
  browser({ get: () => { throw new Error("SecurityError"); } });
  store("board", "grey");
  assert.equal(stored("board"), "");
});
