// What is done with a file before it is sent: a message of about 10 MB would be lost unsaid.

import assert from "node:assert/strict";
import { test } from "node:test";

import { bytesToSend, sentHow, sizeWords, smallerSize } from "../../kit/checkcloth/page/shared/sent_file.js";

test("a large picture is made smaller, any other large file is not sent", () => {
  assert.equal(sentHow(5_000_000, true), "as it is");
  assert.equal(sentHow(5_000_001, true), "smaller");
  assert.equal(sentHow(80_000_000, true), "smaller");
  assert.equal(sentHow(9_000_000, false), "as it is");
  assert.equal(sentHow(9_000_001, false), "too large");
});

test("a smaller picture keeps its shape, and at least one pixel each way", () => {
  assert.deepEqual(smallerSize(4800, 3600), [1200, 900]);
  assert.deepEqual(smallerSize(300, 6000), [60, 1200]);
  assert.deepEqual(smallerSize(12000, 2), [1200, 1]);
  assert.deepEqual(smallerSize(640, 480), [640, 480]);
});

test("a file is sent byte for byte", async () => {
  const { bytes, smaller } = await bytesToSend(new File([Uint8Array.of(0, 255, 7)], "a.csv"), false);
  assert.deepEqual([...new Uint8Array(bytes)], [0, 255, 7]);
  assert.equal(smaller, false);
  await assert.rejects(bytesToSend({ size: 9_000_001 }, false));
});

test("a size is said in kB or MB", () => {
  assert.equal(sizeWords(1234), "1.2 kB");
  assert.equal(sizeWords(99_999), "100.0 kB");
  assert.equal(sizeWords(7_300_000), "7.3 MB");
});
