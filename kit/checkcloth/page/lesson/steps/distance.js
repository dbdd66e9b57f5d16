// Step 8: the cloth from across the street.

import { checksIn, evenBands } from "../../shared/cloth.js";
import { linearToByte, linearToSrgb, srgbToLinear } from "../../shared/spaces.js";
import { hexOf } from "../colours.js";
import { fixed } from "../numbers.js";
import { cloth, clothColours, image, tonesOf } from "../ways.js";

/** @import { Rgb, Setting, StepCode } from "../types.js" */
/** @import { Tones } from "../ways.js" */

const MINUTE = Math.PI / 180 / 60;
const SPOT = 2; // minutes of arc, width at half height
const REPEATS = 2;
const PIXELS = 20; // a check, in the blurred picture

/**
 * Minutes of arc that a length covers from so far.
 * @param {number} millimetres
 * @param {number} metres
 */
export function minutesOf(millimetres, metres) {
  return (2 * Math.atan(millimetres / 1000 / metres / 2)) / MINUTE;
}

/**
 * Metres from which a length covers one minute of arc.
 * @param {number} millimetres
 */
export function fusesBeyond(millimetres) {
  return millimetres / 1000 / (2 * Math.tan(MINUTE / 2));
}

/**
 * The normal distribution's share below x (Abramowitz and Stegun 7.1.26, to 1e-7).
 * @param {number} x
 */
function below(x) {
  const z = Math.abs(x) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * z);
  const tail = ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t * Math.exp(-z * z) / 2;
  return x < 0 ? tail : 1 - tail;
}

/**
 * How much of each stripe a round spot sees at every pixel of one repeat, [pixel][stripe].
 * @param {number} stripes
 * @param {number} deviation in checks
 */
export function seenShares(stripes, deviation) {
  const bands = evenBands(stripes);
  const repeat = checksIn(bands);
  const reach = Math.ceil((5 * deviation) / repeat);
  return Array.from({ length: repeat * PIXELS }, (_, pixel) => {
    const shares = new Float64Array(stripes + 1);
    const x = (pixel + 0.5) / PIXELS;
    for (let turn = -reach; turn <= reach; turn++) {
      let edge = turn * repeat;
      for (const [stripe, checks] of bands) {
        shares[stripe] += below((edge + checks - x) / deviation) - below((edge - x) / deviation);
        edge += checks;
      }
    }
    return shares;
  });
}

/**
 * @param {Tones} tones
 * @param {number} stripes
 * @returns {Float64Array[][]} [warp][weft], linear light
 */
function lights(tones, stripes) {
  const side = Array.from({ length: stripes + 1 }, (_, at) => at);
  return side.map((i) => side.map((j) => Float64Array.from(tones(i, j), srgbToLinear)));
}

/**
 * Light weighed by shares of its rows.
 * @param {ArrayLike<number>} shares
 * @param {(at: number) => ArrayLike<number>} light
 */
function weigh(shares, light) {
  const sum = new Float64Array(3);
  for (let at = 0; at < shares.length; at++) {
    const part = light(at);
    for (let c = 0; c < 3; c++) sum[c] += shares[at] * part[c];
  }
  return sum;
}

/**
 * One repeat laid twice each way.
 * @param {Uint8ClampedArray} once
 * @param {number} side pixels
 */
function repeated(once, side) {
  const size = REPEATS * side;
  const data = new Uint8ClampedArray(size * size * 4);
  for (let y = 0; y < size; y++) {
    const row = once.subarray((y % side) * side * 4, ((y % side) + 1) * side * 4);
    for (let turn = 0; turn < REPEATS; turn++) data.set(row, (y * size + turn * side) * 4);
  }
  return { width: size, height: size, data, smooth: true };
}

/**
 * The cloth as a good eye sees it from where a check covers so many minutes.
 * @param {Tones} tones
 * @param {number} stripes
 * @param {number} minutes
 */
export function blurred(tones, stripes, minutes) {
  const light = lights(tones, stripes);
  const shares = seenShares(stripes, SPOT / minutes / (2 * Math.sqrt(2 * Math.log(2))));
  const once = shares.length;
  // Across first: one sum for every pixel and weft stripe, then one for every pixel of the repeat.
  const columns = shares.map((across) => light[0].map((_, weft) => weigh(across, (warp) => light[warp][weft])));
  const data = new Uint8ClampedArray(once * once * 4);
  for (let y = 0, at = 0; y < once; y++) {
    for (let x = 0; x < once; x++, at += 4) {
      const sum = weigh(shares[y], (weft) => columns[x][weft]);
      for (let c = 0; c < 3; c++) data[at + c] = linearToByte(sum[c]);
      data[at + 3] = 255;
    }
  }
  return repeated(data, once);
}

/**
 * The mean of all tones as light, by area.
 * @param {Tones} tones
 * @param {number} stripes
 * @returns {Rgb}
 */
export function farColour(tones, stripes) {
  const area = Float64Array.from({ length: stripes + 1 }, (_, at) => (at ? 1 : stripes) / (2 * stripes));
  const light = lights(tones, stripes);
  const [red, green, blue] = weigh(area, (warp) => weigh(area, (weft) => light[warp][weft]));
  return [linearToSrgb(red), linearToSrgb(green), linearToSrgb(blue)];
}

/** @param {Setting} setting */
function facts(setting) {
  const { at, options } = setting;
  const millimetres = options.mm[at.size];
  return { minutes: minutesOf(millimetres, at.distance), limit: fusesBeyond(millimetres) };
}

/** @type {StepCode} */
export const distance = {
  work(setting) {
    const { at, options } = setting;
    const { colours, names, stripes } = clothColours(setting);
    const tones = tonesOf(options.recipe, options.strength, colours);
    const { minutes, limit } = facts(setting);
    const flat = farColour(tones, stripes);
    const from = `${fixed(at.distance, at.distance % 1 ? 1 : 0)} m`;
    return {
      layout: "cl-three",
      pictures: [
        { label: `${names.slice(1).join(", ")} on ${names[0]}`, caption: "Close by.", image: cloth(tones, stripes, REPEATS * 2 * stripes) },
        { label: `The same from ${from}`, caption: `From ${from}.`, image: blurred(tones, stripes, minutes) },
        { label: `Far off it is ${hexOf(flat)}`, caption: "Far off.", image: image(1, 1, () => flat) },
      ],
      sums: {
        caption: "What a check covers",
        heads: [],
        rows: [
          { name: "A check covers", cells: [`${fixed(minutes, 2)} minutes of arc`] },
          { name: "Such checks fuse beyond", cells: [`${fixed(limit)} m`] },
          { name: "Far off, the cloth is", chip: flat, cells: [hexOf(flat)] },
        ],
      },
      said: `From ${from} a check covers ${fixed(minutes, 2)} minutes of arc: ${minutes > 1 ? "still seen" : "fused"}.`,
    };
  },
  answer({ options }) {
    const near = options.mm[options.size];
    return `${fixed(fusesBeyond(2 * near))} m, twice the ${fixed(fusesBeyond(near))} m of ${options.size_words}: the angle ` +
      "is size over distance. A rule of thumb, for good eyes, good light and strong contrast.";
  },
};
