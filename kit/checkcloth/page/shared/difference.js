// L*a*b* and CIEDE2000: the arithmetic of checkcloth/colour, which is the authority; the equations
// are written as Sharma, Wu and Dalal (2005) number them, for here they are few.

import { LINEAR_TO_RATIO } from "./eye_data.js";
import { dot, srgbToLinear } from "./spaces.js";

/** @typedef {ArrayLike<number>} Colour three values */

const EPSILON = 216 / 24389;
const KAPPA = 24389 / 27;

/** @param {number} ratio */
function labOf(ratio) {
  return ratio > EPSILON ? Math.cbrt(ratio) : (KAPPA * ratio + 16) / 116;
}

/**
 * L*a*b* (D65, 2°) of encoded sRGB.
 * @param {Colour} rgb
 * @returns {[number, number, number]}
 */
export function srgbToLab(rgb) {
  const [red, green, blue] = [srgbToLinear(rgb[0]), srgbToLinear(rgb[1]), srgbToLinear(rgb[2])];
  const [x, y, z] = [0, 1, 2].map((row) => labOf(dot(LINEAR_TO_RATIO, row, red, green, blue)));
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/**
 * Y of encoded sRGB: the share of light that is reflected, 0 to 1.
 * @param {Colour} rgb
 */
export function luminance(rgb) {
  return dot(LINEAR_TO_RATIO, 1, srgbToLinear(rgb[0]), srgbToLinear(rgb[1]), srgbToLinear(rgb[2]));
}

const RADIANS = Math.PI / 180;
const cosine = (/** @type {number} */ degrees) => Math.cos(degrees * RADIANS);

/** @param {number} chroma */
function seventhShare(chroma) {
  return Math.sqrt(chroma ** 7 / (chroma ** 7 + 25 ** 7));
}

/**
 * Hue in degrees, 0 to 360; 0 for a grey. (7)
 * @param {number} a
 * @param {number} b
 */
function hueOf(a, b) {
  return a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / RADIANS + 360) % 360;
}

/**
 * Difference (10) and mean (14) of two hues; a grey has none of its own.
 * @param {number} h1
 * @param {number} h2
 * @param {boolean} grey whether one of the colours is grey
 */
function hues(h1, h2, grey) {
  if (grey) return { step: 0, mean: h1 + h2 };
  const apart = h2 - h1;
  const sum = h1 + h2;
  if (Math.abs(apart) <= 180) return { step: apart, mean: sum / 2 };
  return { step: apart > 180 ? apart - 360 : apart + 360, mean: sum < 360 ? sum / 2 + 180 : sum / 2 - 180 };
}

/**
 * CIEDE2000 of two colours in L*a*b*.
 * @param {Colour} first
 * @param {Colour} second
 */
export function deltaE2000(first, second) {
  const g = 1.5 - 0.5 * seventhShare((Math.hypot(first[1], first[2]) + Math.hypot(second[1], second[2])) / 2); // (2–4)
  const [a1, a2] = [first[1] * g, second[1] * g]; // (5)
  const [c1, c2] = [Math.hypot(a1, first[2]), Math.hypot(a2, second[2])]; // (6)
  const { step, mean: h } = hues(hueOf(a1, first[2]), hueOf(a2, second[2]), c1 * c2 === 0);
  const hue = 2 * Math.sqrt(c1 * c2) * Math.sin((step / 2) * RADIANS); // (11)
  const c = (c1 + c2) / 2; // (13)
  const t = 1 - 0.17 * cosine(h - 30) + 0.24 * cosine(2 * h) + 0.32 * cosine(3 * h + 6) - 0.2 * cosine(4 * h - 63); // (15)
  const turn = 30 * Math.exp(-(((h - 275) / 25) ** 2)); // (16)
  const middle = ((first[0] + second[0]) / 2 - 50) ** 2; // (12)
  const l = (second[0] - first[0]) / (1 + (0.015 * middle) / Math.sqrt(20 + middle)); // (8, 18)
  const k = (c2 - c1) / (1 + 0.045 * c); // (9, 19)
  const m = hue / (1 + 0.015 * c * t); // (20)
  const r = -2 * seventhShare(c) * Math.sin(2 * turn * RADIANS); // (17, 21)
  return Math.sqrt(Math.max(0, l * l + k * k + m * m + r * k * m)); // (22)
}

/**
 * CIEDE2000 of two colours in encoded sRGB.
 * @param {Colour} first
 * @param {Colour} second
 */
export function apart(first, second) {
  return deltaE2000(srgbToLab(first), srgbToLab(second));
}
