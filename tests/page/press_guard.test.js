// A press that has begun is not pulled away from under the pointer; nothing waits for ever.

import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";

import { PressGuard } from "../../kit/checkcloth/page/shared/press_guard.js";

beforeEach(() => mock.timers.enable({ apis: ["setTimeout"] }));
afterEach(() => mock.timers.reset());

/** Something on a page; `closest` finds it by one of the names it is given. */
class Thing extends EventTarget {
  constructor(...names) {
    super();
    this.names = names;
  }

  closest(selector) {
    return selector.split(", ").some((name) => this.names.includes(name)) ? this : null;
  }
}

function guardOver(...names) {
  const [root, page] = [new Thing(...names), new EventTarget()];
  const guard = new PressGuard(root, page);
  const done = [];
  return { guard, done, fill: (part, words = part) => guard.after(part, () => done.push(words)),
    press: () => root.dispatchEvent(new Event("pointerdown")),
    end: (name) => page.dispatchEvent(new Event(name)) };
}

test("without a press everything is done at once", () => {
  const { done, fill } = guardOver("button");
  fill("shelf");
  assert.deepEqual(done, ["shelf"]);
});

for (const name of ["pointerup", "pointercancel", "dragend", "blur"]) {
  test(`what comes during a press waits for its end (${name}), each part once, with its newest`, () => {
    const { done, fill, press, end } = guardOver("button");
    press();
    fill("shelf", "old");
    fill("tools");
    fill("shelf", "new");
    assert.deepEqual(done, []);
    end(name);
    assert.deepEqual(done, [], "the click comes after the end of the press, in the same turn");
    mock.timers.tick(0);
    assert.deepEqual(done, ["new", "tools"]);
    fill("later");
    assert.deepEqual(done, ["new", "tools", "later"]);
  });
}

test("a field that loses the focus ends no press", () => {
  const { done, guard, fill, press } = guardOver("button");
  press();
  fill("shelf");
  const heard = Object.defineProperty(new Event("blur"), "target", { value: new EventTarget() });
  guard.page.dispatchEvent(heard); // window hears it on the way down
  mock.timers.tick(10);
  assert.deepEqual(done, []);
});

test("who holds on for three seconds does not mean a click", () => {
  const { done, fill, press } = guardOver("button");
  press();
  fill("shelf");
  mock.timers.tick(2999);
  assert.deepEqual(done, []);
  mock.timers.tick(1);
  assert.deepEqual(done, ["shelf"]);
});

test("a pointer on cloth, or on a slider, holds nothing up", () => {
  for (const names of [[], ["label", 'input[type="range"]']]) {
    const { done, fill, press } = guardOver(...names);
    press();
    fill("shelf");
    assert.deepEqual(done, ["shelf"]);
  }
});

test("closed while something waits, it does nothing any more", () => {
  const { guard, done, fill, press, end } = guardOver("button");
  press();
  fill("shelf");
  guard.close();
  end("pointerup");
  mock.timers.tick(5000);
  assert.deepEqual(done, []);
});
