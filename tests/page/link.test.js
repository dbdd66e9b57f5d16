// Every request is answered, or it is said that the kernel is quiet.

import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";

import { Link } from "../../kit/checkcloth/page/desk/link.js";

class Model {
  sent = [];
  listeners = new Set();
  dead = false;

  on(event, act) {
    assert.equal(event, "msg:custom");
    this.listeners.add(act);
  }

  off(_, act) {
    this.listeners.delete(act);
  }

  send(content) {
    if (this.dead) throw new Error("no kernel");
    this.sent.push(content);
  }

  answer(content, buffers) {
    for (const act of this.listeners) act(content, buffers);
  }
}

let model, link, told;
beforeEach(() => {
  mock.timers.enable({ apis: ["setTimeout"] });
  [model, told] = [new Model(), []];
  link = new Link(model, (quiet) => told.push(quiet));
});
afterEach(() => {
  link.close();
  mock.timers.reset();
});

/** Let time pass in small steps: a timer set by a timer counts from when that one fired. */
function pass(milliseconds) {
  for (let left = milliseconds; left > 0; left -= 100) mock.timers.tick(100);
}

test("an answer goes to who asked, with its buffers", async () => {
  const [first, second] = [link.ask("look", { number: 3 }), link.ask("look", { number: 4 })];
  const [{ id, ...sent }, { id: other }] = model.sent;
  assert.deepEqual(sent, { do: "look", number: 3 });
  model.answer({ id: other, title: "four" }, ["b"]);
  model.answer({ id, title: "three" }, ["a"]);
  assert.deepEqual(await first, { id, title: "three", buffers: ["a"] });
  assert.deepEqual(await second, { id: other, title: "four", buffers: ["b"] });
  assert.deepEqual(told, []);
});

test("a refusal comes in the kernel's own words", async () => {
  const asked = link.ask("name");
  model.answer({ id: model.sent[0].id, error: "too long" });
  await assert.rejects(asked, /^Error: too long$/);
});

test("answers for another view, or for nobody, are left alone", async () => {
  const other = new Link(model, () => {});
  const asked = link.ask("look");
  model.answer({ id: "another/1" });
  model.answer(null);
  model.answer({ id: model.sent[0].id, words: "mine" });
  assert.equal((await asked).words, "mine");
  other.close();
});

test("after four seconds without an answer the kernel is called quiet, until it answers", async () => {
  const asked = link.ask("draw");
  mock.timers.tick(3999);
  assert.deepEqual(told, []);
  mock.timers.tick(1);
  assert.deepEqual(told, [true]);
  model.answer({ id: model.sent[0].id });
  await asked;
  assert.deepEqual(told, [true, false]);
});

test("a quiet kernel is asked now and then, one question at a time", () => {
  link.ask("draw");
  pass(60_000);
  assert.deepEqual(model.sent.map((content) => content.do), ["draw", "ping"]);
  model.answer({ id: model.sent[1].id });
  assert.deepEqual(told, [true, false]);
});

test("a kernel known to be dead is quiet at once", () => {
  model.dead = true;
  link.ask("draw");
  assert.deepEqual(told, [true]);
});

test("what the kernel should follow by itself is looked into when it does not", async () => {
  link.expect();
  mock.timers.tick(1199);
  assert.deepEqual(model.sent, []);
  mock.timers.tick(1);
  assert.equal(model.sent[0].do, "ping");
});

test("nothing is asked where the kernel was heard, or an answer is due anyway", () => {
  link.expect();
  link.heard();
  mock.timers.tick(2000);
  assert.deepEqual(model.sent, []);
  link.ask("look");
  link.expect();
  mock.timers.tick(1300);
  assert.deepEqual(model.sent.map((content) => content.do), ["look"]);
});

test("closed, it hears and says nothing any more", () => {
  link.ask("draw");
  link.close();
  pass(60_000);
  assert.deepEqual(told, []);
  assert.equal(model.listeners.size, 0);
});
