// Whole cloths at a reduction: what fits, and pixels that cover several checks.

import assert from "node:assert/strict";
import { test } from "node:test";

import { planOf } from "../../kit/checkcloth/page/shared/cloth.js";
import {
  coverColours, coverPixels, fitPiece, PIECES, readPieceSize,
} from "../../kit/checkcloth/page/shared/piece.js";

const TWO = [[1, 1], [0, 1], [2, 1], [0, 1]];
const UNEVEN = [[2, 3], [0, 1], [1, 2], [0, 4]];

test("sizes as people type them", () => {
  assert.deepEqual(readPieceSize("60 × 60 in"), [60, 60]);
  assert.deepEqual(readPieceSize("20x28"), [20, 28]);
  assert.deepEqual(readPieceSize("18 in"), [18, 18]);
  assert.deepEqual(readPieceSize("127 by 254 cm").map((side) => Number(side.toFixed(6))), [50, 100]);
  assert.deepEqual(readPieceSize("1,27 x 2.54 m").map((side) => Number(side.toFixed(6))), [50, 100]);
  for (const { size } of Object.values(PIECES)) assert.ok(readPieceSize(size));
  for (const text of ["", "large", "0 × 5 in", "60 × 60 furlongs", "5 constructor", "-3 in", "9999 m"]) {
    assert.equal(readPieceSize(text), null, text);
  }
});

test("the largest reduction that fits, in whole pixels a check where that costs little", () => {
  const fit = fitPiece([60, 60], 0.5, 520, 440);
  assert.equal(fit.pixels, 3); // 440 / 60 · 0.5 = 3.67
  assert.deepEqual([fit.width, fit.height], [360, 360]);
  assert.equal(fit.hem, Math.round(0.75 * 6));
  const fine = fitPiece([60, 60], 0.125, 520, 440); // under one pixel a check: not whole
  assert.ok(fine.pixels < 1);
  assert.deepEqual([fine.width, fine.height], [440, 440]);
  const towel = fitPiece([20, 28], 0.5, 380, 320);
  assert.ok(towel.width <= 380 && towel.height <= 320 && towel.width < towel.height);
});

test("with whole pixels a check the covers are the plan", () => {
  for (const bands of [TWO, UNEVEN]) {
    const { covers, plan } = coverPixels(bands, 3, 200);
    const exact = planOf(bands, 3, 200);
    plan.forEach((at, x) => assert.deepEqual(covers[at].map(([stripe]) => stripe), [exact[x]]));
  }
});

test("shares sum to one, and over the whole length to the bands' widths", () => {
  for (const [bands, pixels] of [[TWO, 0.37], [TWO, 1.4], [UNEVEN, 0.8], [UNEVEN, 0.05]]) {
    const checks = bands.reduce((sum, [, wide]) => sum + wide, 0);
    const length = Math.round(checks * pixels * 100);
    const { covers, plan } = coverPixels(bands, pixels, length);
    const total = new Map();
    for (const at of plan) {
      assert.ok(Math.abs(covers[at].reduce((sum, [, share]) => sum + share, 0) - 1) < 1e-6);
      for (const [stripe, share] of covers[at]) total.set(stripe, (total.get(stripe) ?? 0) + share);
    }
    for (const stripe of new Set(bands.map(([one]) => one))) {
      const wide = bands.reduce((sum, [one, checksWide]) => sum + (one === stripe ? checksWide : 0), 0);
      assert.ok(Math.abs(total.get(stripe) / length - wide / checks) < 0.01, `${stripe} of ${bands}`);
    }
  }
});

test("a pixel that covers several checks is their mean in linear light", () => {
  // Half black and half white: light 0.5, which IEC 61966-2-1 encodes as 0.7354, byte 188.
  const tones = Uint8Array.of(0, 0, 0, 0, 0, 0, 255, 255, 255, 255, 255, 255);
  const half = [[[0, 0.5], [1, 0.5]]];
  assert.deepEqual([...coverColours(tones, 1, half, [[[0, 1]]])], [0xffbcbcbc]);
  assert.deepEqual([...coverColours(tones, 1, [[[0, 1]], [[1, 1]]], [[[1, 1]]])], [0xff000000, 0xffffffff]);
});
