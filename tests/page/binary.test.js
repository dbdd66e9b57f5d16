// Buffers come as whatever view the notebook makes of them, at any offset.

import assert from "node:assert/strict";
import { test } from "node:test";

import { bytesOf, floatsOf } from "../../kit/checkcloth/page/shared/binary.js";

const FLOATS = Float32Array.of(0.5, -1.25, 3e10);

test("nothing is no bytes and no floats", () => {
  for (const nothing of [null, undefined]) {
    assert.equal(bytesOf(nothing).length, 0);
    assert.equal(floatsOf(nothing).length, 0);
  }
});

test("bytes are those of the view alone", () => {
  const { buffer } = Uint8Array.from([1, 2, 3, 4, 5]);
  assert.deepEqual([...bytesOf(new DataView(buffer, 1, 3))], [2, 3, 4]);
  assert.deepEqual([...bytesOf(buffer)], [1, 2, 3, 4, 5]);
});

test("floats are read at offsets that no typed array may begin at", () => {
  for (const offset of [0, 1, 2, 3, 4]) {
    const bytes = new Uint8Array(12 + offset);
    FLOATS.forEach((value, i) => new DataView(bytes.buffer).setFloat32(offset + 4 * i, value, true));
    assert.deepEqual(floatsOf(new DataView(bytes.buffer, offset)), FLOATS);
  }
});
