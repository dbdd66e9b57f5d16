// Colour spaces: sRGB, linear light, Oklab and OKLCh, and the step that brings a colour into
// sRGB's gamut. The arithmetic of checkcloth/colour/spaces.py and gamut.py; Python is the
// authority, and tests/page/test_page_mixing.py holds this file to it.

import { LINEAR_TO_LMS, LMS_TO_LINEAR, LMS_TO_OKLAB, OKLAB_TO_LMS } from "./colour_data.js";

/**
 * Decode one sRGB channel to linear light (IEC 61966-2-1).
 * @param {number} value encoded, 0 to 1
 * @returns {number}
 */
export function srgbToLinear(value) {
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
}

/**
 * Encode one channel of linear light as sRGB; mirrored below 0, nothing is clipped.
 * @param {number} light
 * @returns {number}
 */
export function linearToSrgb(light) {
  const size = Math.abs(light);
  return size <= 0.0031308 ? light * 12.92 : Math.sign(light) * (1.055 * size ** (1 / 2.4) - 0.055);
}

// A byte is the number of thresholds at or below the light, the thresholds being the light of
// 0.5/255, 1.5/255, ...: rounding after the curve and comparing before it are the same, and no
// power is taken. COARSE holds the byte at the lower edge of each 1/4096 of light, from which
// the right one is at most two steps up.
const EDGES = 4096;
const THRESHOLDS = Float64Array.from({ length: 257 }, (_, byte) =>
  byte === 256 ? Infinity : srgbToLinear((byte - 0.5) / 255),
);
const COARSE = Uint8Array.from({ length: EDGES }, (_, edge) =>
  Math.floor(linearToSrgb(edge / EDGES) * 255 + 0.5),
);

/**
 * The sRGB byte nearest to linear light; light outside 0 to 1 is held.
 * @param {number} light
 * @returns {number}
 */
export function linearToByte(light) {
  if (!(light > 0)) return 0;
  if (light >= 1) return 255;
  let byte = COARSE[(light * EDGES) | 0];
  while (light >= THRESHOLDS[byte + 1]) byte++;
  return byte;
}

// Decoding by straight lines between 4096 points of the curve: off by less than h²/8 times the
// second derivative, which is under 3, so 2.3e-8; a byte is never narrower than 3e-4 of light.
const POINTS = 4096;
const CURVE = Float64Array.from({ length: POINTS + 2 }, (_, point) => srgbToLinear(point / POINTS));

/**
 * Decode sRGB to linear light in place, to 2.3e-8.
 * @param {Float64Array} values encoded, 0 to 1
 * @param {number} count how many of them
 */
export function srgbToLinearInPlace(values, count) {
  for (let k = 0; k < count; k++) {
    const at = values[k] * POINTS;
    const point = at | 0;
    values[k] = CURVE[point] + (at - point) * (CURVE[point + 1] - CURVE[point]);
  }
}

/**
 * Row `row` of a 3 × 3 matrix times (x, y, z).
 * @param {Float64Array} matrix
 * @param {number} row
 * @param {number} x
 * @param {number} y
 * @param {number} z
 */
export function dot(matrix, row, x, y, z) {
  return matrix[3 * row] * x + matrix[3 * row + 1] * y + matrix[3 * row + 2] * z;
}

/**
 * The same as x ** 3, which engines work out through a general power, ten times slower.
 * @param {number} x
 */
function cube(x) {
  return x * x * x;
}

const oklab = new Float64Array(3);
const triple = new Float64Array(3);

/**
 * Oklab of linear light, into the module's `oklab`.
 * @param {number} red
 * @param {number} green
 * @param {number} blue
 */
function toOklab(red, green, blue) {
  const l = Math.cbrt(dot(LINEAR_TO_LMS, 0, red, green, blue));
  const m = Math.cbrt(dot(LINEAR_TO_LMS, 1, red, green, blue));
  const s = Math.cbrt(dot(LINEAR_TO_LMS, 2, red, green, blue));
  for (let row = 0; row < 3; row++) oklab[row] = dot(LMS_TO_OKLAB, row, l, m, s);
}

/**
 * Linear light of Oklab.
 * @param {number} lightness
 * @param {number} a
 * @param {number} b
 * @param {Float64Array} out
 * @param {number} at
 */
function fromOklab(lightness, a, b, out, at) {
  const l = cube(dot(OKLAB_TO_LMS, 0, lightness, a, b));
  const m = cube(dot(OKLAB_TO_LMS, 1, lightness, a, b));
  const s = cube(dot(OKLAB_TO_LMS, 2, lightness, a, b));
  for (let row = 0; row < 3; row++) out[at + row] = dot(LMS_TO_LINEAR, row, l, m, s);
}

// Halvings of the chroma: the boundary is met to 6e-8 of the colour's own chroma (Python: 30).
const HALVINGS = 24;
// Rounding, of float32 too, leaves colours of the gamut this far outside; they are held, not mapped.
const SLACK = 1e-6;

/**
 * @param {Float64Array} light
 * @param {number} at
 * @param {number} slack
 */
function fits(light, at, slack) {
  for (let k = at; k < at + 3; k++) if (light[k] < -slack || light[k] > 1 + slack) return false;
  return true;
}

/**
 * Bring one colour of linear light into sRGB, in place: chroma reduced at constant Oklab
 * lightness and hue; lighter than white becomes white, darker than black becomes black.
 * @param {Float64Array} light
 * @param {number} at where its three values begin
 */
export function intoSrgb(light, at) {
  if (!fits(light, at, SLACK)) {
    toOklab(light[at], light[at + 1], light[at + 2]);
    const lightness = Math.min(Math.max(oklab[0], 0), 1);
    const a = oklab[1];
    const b = oklab[2];
    let share = 0;
    for (let step = 0.5, halving = 0; halving < HALVINGS; halving++, step /= 2) {
      fromOklab(lightness, (share + step) * a, (share + step) * b, triple, 0);
      if (fits(triple, 0, 0)) share += step;
    }
    fromOklab(lightness, share * a, share * b, light, at);
  }
  for (let k = at; k < at + 3; k++) light[k] = Math.min(Math.max(light[k], 0), 1);
}

// The chroma that rounding leaves on a grey; its hue means nothing.
const NO_CHROMA = 1e-6;

/**
 * OKLCh of an encoded sRGB colour: lightness 0 to 1, chroma, hue in degrees from 0 up to 360
 * (0 for greys).
 * @param {ArrayLike<number>} rgb three values, 0 to 1
 * @returns {[number, number, number]}
 */
export function srgbToOklch(rgb) {
  toOklab(srgbToLinear(rgb[0]), srgbToLinear(rgb[1]), srgbToLinear(rgb[2]));
  const [lightness, a, b] = oklab;
  const chroma = Math.hypot(a, b);
  if (chroma < NO_CHROMA) return [lightness, 0, 0];
  const hue = (Math.atan2(b, a) * 180) / Math.PI;
  return [lightness, chroma, hue < 0 ? hue + 360 : hue];
}

/**
 * Encoded sRGB of an OKLCh colour; where sRGB cannot show it, chroma is reduced at constant
 * lightness and hue until it can.
 * @param {ArrayLike<number>} oklch lightness 0 to 1, chroma, hue in degrees
 * @returns {[number, number, number]} each in 0 to 1
 */
export function oklchToSrgb(oklch) {
  const hue = (oklch[2] * Math.PI) / 180;
  const shown = new Float64Array(3);
  fromOklab(oklch[0], oklch[1] * Math.cos(hue), oklch[1] * Math.sin(hue), shown, 0);
  intoSrgb(shown, 0);
  return [linearToSrgb(shown[0]), linearToSrgb(shown[1]), linearToSrgb(shown[2])];
}
