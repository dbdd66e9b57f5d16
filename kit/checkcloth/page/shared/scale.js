// At what scale cloth is shown: one size of check in pixels for all cloths of a view. No DOM here.

import { checksIn } from "./cloth.js";

/** @import { Bands } from "./cloth.js" */

/** Six even stripes whole and the first once more, so that the repeat is seen to close. */
const FEWEST_CHECKS = 13;
/** From this many CSS pixels on, the words of a ruler go inside it. */
const WORDS_INSIDE = 34;
/** A reduction within this share of a plain fraction is called by it without "about". */
const EXACT = 0.005;

/**
 * How many checks a side of a view has to show, so that the longest repeat is whole in it and its
 * first band is seen again.
 * @param {Bands[]} plans bands of every cloth in the view
 */
export function checksToShow(plans) {
  return plans.reduce((most, bands) => Math.max(most, checksIn(bands) + bands[0][1]), FEWEST_CHECKS);
}

/**
 * Device pixels of one check where `checks` of them share a side: whole, and one at least.
 * @param {number} side device pixels
 * @param {number} checks
 */
export function commonPixels(side, checks) {
  return Math.max(1, Math.floor(side / checks));
}

/**
 * A scale in words: "1/4 of true size", "about 2/3 of true size", "true size", "2 times true size".
 * @param {number} part of the true size, above 0
 */
export function reductionWords(part) {
  const [share, words] = part > 1 ? enlargement(part) : nearestFraction(part);
  return Math.abs(share / part - 1) < EXACT ? words : `about ${words}`;
}

/**
 * @param {number} part
 * @returns {[share: number, words: string]}
 */
function enlargement(part) {
  const times = Number(part.toFixed(1));
  return [times, times === 1 ? "true size" : `${times} times true size`];
}

/**
 * Whichever of 1/n, 2/3 and 3/4 is nearest by ratio.
 * @param {number} part
 * @returns {[share: number, words: string]}
 */
function nearestFraction(part) {
  const n = Math.max(1, Math.floor(1 / part));
  /** @type {[number, number][]} */
  const fractions = [[1, n], [1, n + 1], [2, 3], [3, 4]];
  const distance = (/** @type {[number, number]} */ [top, under]) => Math.abs(Math.log(top / under / part));
  const [top, under] = fractions.sort((a, b) => distance(a) - distance(b))[0];
  return [top / under, under === 1 ? "true size" : `${top}/${under} of true size`];
}

/**
 * The bar that is one inch long at a scale.
 * @param {number} perInch CSS pixels an inch of cloth takes
 */
export function rulerOf(perInch) {
  const width = Math.max(1, Math.round(perInch));
  return { width, inside: width >= WORDS_INSIDE };
}

/** Check sizes that are compared, in inches; each is twice the one before. */
export const THREE_SIZES = [0.25, 0.5, 1];

/**
 * Device pixels of a check of each of THREE_SIZES at a quarter of their true size. The smallest is
 * rounded and the others are worked out from it: relative to each other all are exact.
 * @param {number} perInch device pixels of this screen
 */
export function threeSizes(perInch) {
  const unit = Math.max(1, Math.round((THREE_SIZES[0] * perInch) / 4));
  return THREE_SIZES.map((inches) => unit * (inches / THREE_SIZES[0]));
}

/** @param {number} inches */
export function inchWords(inches) {
  const whole = Math.floor(inches);
  const sixteenths = (inches - whole) * 16;
  if (sixteenths === 0 || !Number.isInteger(sixteenths)) return `${Number(inches.toFixed(3))} in`;
  let [top, under] = [sixteenths, 16];
  while (top % 2 === 0) [top, under] = [top / 2, under / 2];
  return `${whole || ""}${whole ? " " : ""}${top}/${under} in`;
}
