// Cloth is one indexing, image[y, x] = tones[warp[x], weft[y]], however it is worked out.

import assert from "node:assert/strict";
import { test } from "node:test";

import { bytesOfCodes, checksIn, evenBands, pixelsAtScale, pixelsForRepeat, pixelsOfTones, planOf, toneBytes, weave }
  from "../../kit/checkcloth/page/shared/cloth.js";

const EVEN = [[1, 1], [0, 1], [2, 1], [0, 1]];
const UNEVEN = [[1, 3], [0, 1], [2, 2], [0, 5], [1, 1]];

/** The stripe at a pixel, by walking along the bands. */
function stripeAt(bands, pixels, x) {
  const repeat = bands.reduce((sum, [, checks]) => sum + checks * pixels, 0);
  let left = ((x % repeat) + repeat) % repeat;
  for (const [stripe, checks] of bands) {
    if (left < checks * pixels) return stripe;
    left -= checks * pixels;
  }
  throw new Error("off the repeat");
}

test("a plan says the stripe at each pixel, wherever it begins and however long it is", () => {
  for (const bands of [EVEN, UNEVEN, [[1, 1], [0, 1]]]) {
    for (const pixels of [1, 2, 7]) {
      for (const start of [0, 1, 5, 83, -3, -83]) {
        const expected = Array.from({ length: 100 }, (_, x) => stripeAt(bands, pixels, x + start));
        assert.deepEqual([...planOf(bands, pixels, 100, start)], expected);
      }
    }
  }
});

test("bands of parts of a check end at the pixel nearest to where they belong", () => {
  const parts = [[1, 0.5], [0, 0.25], [2, 1.5], [0, 1 / 3]];
  for (const pixels of [3, 8, 13]) {
    const plan = planOf(parts, pixels, Math.floor((31 / 12) * pixels + 0.5));
    const edges = parts.map((_, at) => parts.slice(0, at + 1).reduce((sum, [, checks]) => sum + checks, 0));
    for (let x = 0; x < plan.length; x++) {
      const exact = edges.findIndex((edge) => x < Math.floor(edge * pixels + 0.5 + 1e-9));
      assert.equal(plan[x], parts[exact][0]);
    }
  }
});

test("a weft of its own has its own side of the table of tones", () => {
  assert.equal(toneBytes(3, 1), 24);
  assert.equal(pixelsOfTones(new Uint8Array(24), 0, 3, 1).length, 8);
});

test("a plan of no length is empty", () => {
  assert.equal(planOf(EVEN, 3, 0).length, 0);
});

test("every pixel of woven cloth is the tone of its warp and its weft", () => {
  const [width, height, side] = [23, 17, 3];
  const tones = Uint32Array.from({ length: side * side }, (_, i) => 1000 + i);
  const warp = planOf(UNEVEN, 2, width);
  const weft = planOf(EVEN, 3, height, 4);
  const pixels = new Uint32Array(width * height);
  weave(pixels, width, height, tones, side, warp, weft);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      assert.equal(pixels[y * width + x], tones[warp[x] * side + weft[y]]);
    }
  }
});

test("pixels hold red, green, blue and full opacity in memory's order", () => {
  const bytes = Uint8Array.from([9, 1, 2, 3, 250, 251, 252, 0, 0, 0, 255, 255, 255]);
  const memory = new Uint8Array(pixelsOfTones(bytes, 1, 1).buffer);
  assert.deepEqual([...memory], [1, 2, 3, 255, 250, 251, 252, 255, 0, 0, 0, 255, 255, 255, 255, 255]);
});

test("a repeat of N stripes is 2 N checks wide, and (N+1)² tones take three bytes each", () => {
  assert.equal(checksIn(EVEN), 4);
  assert.equal(toneBytes(12), 507);
});

test("a whole repeat fits into its side; at least one pixel a check is drawn", () => {
  assert.equal(pixelsForRepeat(EVEN, 103), 25);
  assert.equal(pixelsForRepeat(EVEN, 3), 1);
});

// Half-even rounding as IEEE 754 has it, which Python's round() follows.
test("device pixels of a check are rounded half to even", () => {
  const rounded = [0.5, 1.5, 2.5, 3.5, 2.4, 2.6].map((size) => pixelsAtScale(size, 1, 1));
  assert.deepEqual(rounded, [1, 2, 2, 4, 2, 3]);
  assert.equal(pixelsAtScale(0.5, 1, 96), 48);
  assert.equal(pixelsAtScale(0.5, 0.25, 192), 24);
});

test("an even check lays each stripe once, each followed by the ground", () => {
  assert.deepEqual(evenBands(1), [[1, 1], [0, 1]]);
  assert.deepEqual(evenBands(2), EVEN);
  assert.equal(checksIn(evenBands(12)), 24);
});

test("codes give their bytes in order", () => {
  assert.deepEqual([...bytesOfCodes(["#0080ff", "#A1b2C3"])], [0, 128, 255, 161, 178, 195]);
  assert.equal(bytesOfCodes([]).length, 0);
});
