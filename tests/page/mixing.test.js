// What mixing.js refuses, and where it writes. The numbers are held to Python's by
// test_page_mixing.py.

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  channelsOf,
  encodeColour,
  mixTones,
} from "../../kit/checkcloth/page/shared/mixing.js";

const OVER = {
  mixing: "source-over", layout: "layered", decode: "as-is", warpShare: 0.5, yuleNielsen: 1,
};
const RED_ON_WHITE = Float32Array.of(9, 9, 1, 1, 1, 1, 0, 0);

/** One stripe of red over white at half strength. */
function mixOne(recipe, out = new Uint8Array(12), outOffset = 0) {
  mixTones(recipe, 0.5, RED_ON_WHITE, 2, 1, out, outOffset);
  return [...out];
}

test("red over white at half strength, worked out by hand", () => {
  const pink = [255, 128, 128];
  assert.deepEqual(mixOne(OVER), [255, 255, 255, ...pink, ...pink, 255, 64, 64]);
});

test("only the colourway's own bytes are written", () => {
  const out = mixOne(OVER, new Uint8Array(16).fill(7), 2);
  assert.deepEqual([...out.slice(0, 2), ...out.slice(14)], [7, 7, 7, 7]);
});

test("a mixing of known layout and decode needs no name", () => {
  const twill = { ...OVER, mixing: "twill", layout: "woven", decode: "light", warpShare: 1 };
  // The warp alone shows at share 1: the weft's tone is the ground's.
  assert.deepEqual(mixOne(twill).slice(0, 6), [255, 255, 255, 255, 255, 255]);
  assert.equal(channelsOf(twill), 3);
  assert.equal(channelsOf({ mixing: "stain", decode: "absorption" }), 36);
});

test("an unknown layout, decode or vision is refused", () => {
  const layouts = /"source-over".*layout.*layered, woven, multiply, demichel, found "felted"/;
  assert.throws(() => mixOne({ ...OVER, layout: "felted" }), layouts);
  assert.throws(() => mixOne({ ...OVER, decode: "inks" }), /decode.*as-is, light, display-p3.*found "inks"/);
  assert.throws(() => mixOne({ mixing: "twill", warpShare: 1, yuleNielsen: 1 }), /"twill"/);
  assert.throws(() => channelsOf({ ...OVER, decode: "constructor" }), /"constructor"/);
  const out = new Uint8Array(12);
  for (const vision of ["red", "constructor"]) {
    assert.throws(() => mixTones(OVER, 0.5, RED_ON_WHITE, 2, 1, out, 0, vision), /vision must be/);
  }
});

test("too few colours or too little room is refused", () => {
  assert.throws(() => mixTones(OVER, 0.5, RED_ON_WHITE, 3, 1, new Uint8Array(12), 0), RangeError);
  assert.throws(() => mixOne(OVER, new Uint8Array(11)), RangeError);
});

test("a pigment's spectrum is the kernel's to recover", () => {
  const pigment = { ...OVER, mixing: "pigment", decode: "absorption" };
  assert.throws(() => encodeColour(pigment, [1, 0, 0]), /"pigment" mixes spectra/);
});
