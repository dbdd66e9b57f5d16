// A reflectance recovered from sRGB, and its K/S: checkcloth/colour/reflectance.py, where the method
// and its source are named. Only pages without a kernel need this; one colour takes about 1 ms.

import { BAND_WEIGHTS, MARGIN } from "./colour_data.js";
import { srgbToLinear } from "./spaces.js";

const BANDS = BAND_WEIGHTS.length / 3;
const SIZE = BANDS + 3;
const ROUNDS = 50;
const LONGEST_STEP = 10;
const ENOUGH = 1e-10;

/** Row `band` of the smoothness term times z: second differences, the ends held once. */
function bending(/** @type {Float64Array} */ z, /** @type {number} */ band) {
  const before = band ? z[band] - z[band - 1] : 0;
  const after = band < BANDS - 1 ? z[band + 1] - z[band] : 0;
  return 2 * (before - after);
}

/**
 * Solve matrix · x = side in place by elimination, the largest pivot first; x is left in `side`.
 * @param {Float64Array[]} matrix rows
 * @param {Float64Array} side
 */
function solve(matrix, side) {
  for (let at = 0; at < SIZE; at++) {
    let pivot = at;
    for (let row = at + 1; row < SIZE; row++) if (Math.abs(matrix[row][at]) > Math.abs(matrix[pivot][at])) pivot = row;
    [matrix[at], matrix[pivot]] = [matrix[pivot], matrix[at]];
    [side[at], side[pivot]] = [side[pivot], side[at]];
    for (let row = at + 1; row < SIZE; row++) {
      const share = matrix[row][at] / matrix[at][at];
      if (!share) continue;
      for (let k = at; k < SIZE; k++) matrix[row][k] -= share * matrix[at][k];
      side[row] -= share * side[at];
    }
  }
  for (let at = SIZE - 1; at >= 0; at--) {
    for (let k = at + 1; k < SIZE; k++) side[at] -= matrix[at][k] * side[k];
    side[at] /= matrix[at][at];
  }
}

/**
 * The equations at z and the three multipliers: their matrix, and what is still missing.
 * @param {Float64Array} z
 * @param {Float64Array} multiplier
 * @param {number[]} light
 */
function equations(z, multiplier, light) {
  const matrix = Array.from({ length: SIZE }, () => new Float64Array(SIZE));
  const missing = new Float64Array(SIZE);
  for (let channel = 0; channel < 3; channel++) missing[BANDS + channel] = -light[channel];
  for (let band = 0; band < BANDS; band++) {
    const tanh = Math.tanh(z[band]);
    const slope = (1 - tanh * tanh) / 2;
    let pull = 0;
    for (let channel = 0; channel < 3; channel++) {
      const weight = BAND_WEIGHTS[channel * BANDS + band];
      pull += multiplier[channel] * weight;
      missing[BANDS + channel] += (weight * (1 + tanh)) / 2;
      matrix[BANDS + channel][band] = matrix[band][BANDS + channel] = weight * slope;
    }
    matrix[band][band] = (band === 0 || band === BANDS - 1 ? 2 : 4) - 2 * tanh * slope * pull;
    if (band) matrix[band][band - 1] = matrix[band - 1][band] = -2;
    missing[band] = bending(z, band) + slope * pull;
  }
  return { matrix, missing };
}

/**
 * The smoothest reflectance, 36 bands each inside 0 to 1, that looks like a colour under D65.
 * @param {ArrayLike<number>} rgb encoded sRGB, three values in 0 to 1
 * @returns {Float64Array}
 */
export function reflectanceOf(rgb) {
  const light = [0, 1, 2].map((c) => MARGIN + (1 - 2 * MARGIN) * srgbToLinear(rgb[c]));
  const z = new Float64Array(BANDS);
  const multiplier = new Float64Array(3);
  for (let round = 0; round < ROUNDS; round++) {
    const { matrix, missing } = equations(z, multiplier, light);
    const left = missing.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    solve(matrix, missing);
    const longest = missing.subarray(0, BANDS).reduce((most, value) => Math.max(most, Math.abs(value)), 1);
    const share = Math.min(1, LONGEST_STEP / longest);
    for (let band = 0; band < BANDS; band++) z[band] -= share * missing[band];
    for (let channel = 0; channel < 3; channel++) multiplier[channel] -= share * missing[BANDS + channel];
    if (left <= ENOUGH) return z.map((value) => (1 + Math.tanh(value)) / 2);
  }
  throw new Error(`no smooth spectrum found for ${[...Array.from(rgb)].join(" ")}`);
}

/** @type {Map<string, Float64Array>} */
const KEPT = new Map();
const MOST_KEPT = 500;

/**
 * K/S in 36 bands of a colour; each colour is worked out once and kept.
 * @param {ArrayLike<number>} rgb encoded sRGB, three values in 0 to 1
 * @returns {Float64Array}
 */
export function absorptionOf(rgb) {
  const key = `${rgb[0]} ${rgb[1]} ${rgb[2]}`;
  const kept = KEPT.get(key);
  if (kept) return kept;
  const made = reflectanceOf(rgb).map((r) => (1 - r) ** 2 / (2 * r));
  if (KEPT.size >= MOST_KEPT) KEPT.clear();
  KEPT.set(key, made);
  return made;
}
