// Whole cloths drawn flat: a tablecloth, a tea towel, a napkin, at the largest reduction that fits.
// No DOM here.

import { checksIn } from "./cloth.js";
import { linearToByte, srgbToLinear } from "./spaces.js";

/** @import { Bands } from "./cloth.js" */

/** Width of the hem in inches; only its seam shows. */
export const HEM = 0.75;
/** Whole pixels a check are worth this share of the largest size. */
const WHOLE_SHARE = 0.75;
/** A piece may be this large, in inches. */
const MOST = 400;

/**
 * @typedef {[wide: number, long: number]} PieceSize inches
 * @type {Record<string, {name: string, size: string}>}
 */
export const PIECES = {
  tablecloth: { name: "Tablecloth", size: "60 × 60 in" },
  towel: { name: "Tea towel", size: "20 × 28 in" },
  napkin: { name: "Napkin", size: "18 × 18 in" },
};

/** @type {Record<string, number>} inches of a unit */
const UNITS = { in: 1, inch: 1, inches: 1, '"': 1, ft: 12, mm: 1 / 25.4, cm: 1 / 2.54, m: 1 / 0.0254 };

/**
 * The size of a piece as typed: "60 × 60 in", "150 x 220 cm", "18 in"; null where it is not one.
 * @param {string} text
 * @returns {PieceSize | null}
 */
export function readPieceSize(text) {
  const found = /^\s*([\d.,]+)\s*(?:(?:[×x*]|by)\s*([\d.,]+))?\s*([a-z"]*)\s*$/i.exec(text);
  if (!found) return null;
  const unit = UNITS[found[3].toLowerCase() || "in"];
  const [wide, long] = [found[1], found[2] ?? found[1]].map((number) => Number(number.replace(",", ".")) * unit);
  const allowed = (/** @type {number} */ side) => side >= 2 * HEM + 0.5 && side <= MOST;
  return allowed(wide) && allowed(long) ? [wide, long] : null;
}

/**
 * A scale at which a piece fits into a room.
 * @typedef {object} Fit
 * @property {number} perInch device pixels an inch of the piece takes
 * @property {number} width device pixels
 * @property {number} height
 * @property {number} pixels of one check; not always whole
 * @property {number} hem device pixels
 */

/**
 * The largest that fits; a little less where a check is then a whole number of pixels.
 * @param {PieceSize} size
 * @param {number} inches of a check
 * @param {number} width device pixels there are
 * @param {number} height
 * @returns {Fit}
 */
export function fitPiece([wide, long], inches, width, height) {
  const largest = Math.min(width / wide, height / long);
  const whole = Math.floor(largest * inches) / inches;
  const perInch = whole >= WHOLE_SHARE * largest ? whole : largest;
  return {
    perInch,
    width: Math.max(1, Math.round(wide * perInch)),
    height: Math.max(1, Math.round(long * perInch)),
    pixels: inches * perInch,
    hem: Math.max(2, Math.round(HEM * perInch)),
  };
}

/**
 * What a pixel covers of one direction: shares of stripes, which sum to 1.
 * @typedef {[stripe: number, share: number][]} Cover
 *
 * The covers that occur, and which of them each pixel has.
 * @typedef {{covers: Cover[], plan: Uint16Array}} Covering
 */

/**
 * What each of `length` pixels covers, with a check of any number of pixels.
 * @param {Bands} bands
 * @param {number} pixels of one check
 * @param {number} length
 * @returns {Covering}
 */
export function coverPixels(bands, pixels, length) {
  /** @type {[stripe: number, end: number][]} ends in pixels within the repeat */
  const ends = [];
  let checks = 0;
  for (const [stripe, wide] of bands) ends.push([stripe, (checks += wide) * pixels]);
  const repeat = checksIn(bands) * pixels;
  /** @type {Cover[]} */
  const covers = [];
  const known = new Map();
  const plan = new Uint16Array(length);
  for (let x = 0; x < length; x++) {
    const cover = coverOf(ends, repeat, x);
    const key = cover.map(([stripe, share]) => `${stripe}:${Math.round(share * 1e5)}`).join();
    if (!known.has(key)) known.set(key, covers.push(cover) - 1);
    plan[x] = known.get(key);
  }
  return { covers, plan };
}

// Of a pixel: what rounding may leave at an edge, and what is too little to be seen.
const ROUNDING = 1e-7;
const SLIVER = 1e-5;

/**
 * @param {[stripe: number, end: number][]} ends
 * @param {number} repeat pixels
 * @param {number} x
 * @returns {Cover}
 */
function coverOf(ends, repeat, x) {
  /** @type {Map<number, number>} */
  const shares = new Map();
  let [at, left] = [((x % repeat) + ROUNDING) % repeat, 1];
  while (left > SLIVER) {
    for (const [stripe, end] of ends) {
      const share = Math.min(end - at, left);
      if (share <= SLIVER) continue;
      shares.set(stripe, (shares.get(stripe) ?? 0) + share);
      at += share;
      left -= share;
    }
    at = 0;
  }
  return [...shares].sort(([one], [other]) => one - other);
}

/**
 * The colour of every pair of covers as 32-bit pixels, [warp * many + weft]: the mean of the tones,
 * averaged in linear light, since that is what an eye too far away to tell them apart receives.
 * @param {Uint8Array} bytes tones
 * @param {number} stripes
 * @param {Cover[]} warps
 * @param {Cover[]} wefts
 * @returns {Uint32Array} of warps.length × wefts.length
 */
export function coverColours(bytes, stripes, warps, wefts) {
  const side = stripes + 1;
  const light = Float64Array.from(bytes, (byte) => srgbToLinear(byte / 255));
  const colours = new Uint32Array(warps.length * wefts.length);
  const sum = new Float64Array(3);
  for (const [i, warp] of warps.entries()) {
    for (const [j, weft] of wefts.entries()) {
      sum.fill(0);
      for (const [across, share] of warp) {
        for (const [along, other] of weft) {
          const at = 3 * (across * side + along);
          for (let c = 0; c < 3; c++) sum[c] += share * other * light[at + c];
        }
      }
      const [red, green, blue] = sum;
      colours[i * wefts.length + j] = (0xff000000 | (linearToByte(blue) << 16)
        | (linearToByte(green) << 8) | linearToByte(red)) >>> 0;
    }
  }
  return colours;
}
