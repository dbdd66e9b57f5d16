// What was chosen on Export stays while the kernel has not answered; then what the kernel holds stands.

import assert from "node:assert/strict";
import { test } from "node:test";

import { Changes } from "../../kit/checkcloth/page/desk/export/changes.js";

function over() {
  const seen = /** @type {string[]} */ ([]);
  const answers = /** @type {{ resolve: () => void, reject: (error: Error) => void }[]} */ ([]);
  const desk = { request: () => {
    const answer = new Promise((resolve, reject) => answers.push({ resolve, reject }));
    return answer;
  } };
  return { seen, answers, changes: new Changes(desk, () => seen.push("held"), (error) => seen.push(error.message)) };
}

test("an older state does not come back while changes are on their way", async () => {
  const { seen, answers, changes } = over();
  const sent = [changes.send({ mill: true }), changes.send({ mill: false })];
  changes.show();
  assert.deepEqual([changes.unanswered, seen], [true, []]);
  answers[0].resolve();
  await sent[0];
  changes.show();
  assert.deepEqual([changes.unanswered, seen], [true, []], "the second is still on its way");
  answers[1].resolve();
  await sent[1];
  assert.deepEqual([changes.unanswered, seen], [false, ["held"]]);
});

test("one that is refused says so once it counts as answered", async () => {
  const { seen, answers, changes } = over();
  const sent = changes.send({ mill: true });
  answers[0].reject(new Error("no"));
  await sent;
  assert.deepEqual([changes.unanswered, seen], [false, ["no"]]);
});
