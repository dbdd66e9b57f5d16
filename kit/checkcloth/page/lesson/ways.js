// Tones and pictures of cloth for the steps: the kit's arithmetic on colours that stand on the page.

import { evenBands, planOf } from "../shared/cloth.js";
import { absorptionOf } from "../shared/recovery.js";
import { canEncode, encodeColour, tonesUnrounded } from "../shared/mixing.js";
import { byteOf } from "./colours.js";

/** @import { Rgb, Setting, Way } from "./types.js" */
/** @typedef {(warp: number, weft: number) => Rgb} Tones */

/**
 * The tones of a ground and stripes, mixed one way: a function of warp and weft, 0 the ground.
 * @param {Way} way
 * @param {number} strength 0 to 1
 * @param {Rgb[]} colours ground, then each stripe
 * @param {number} [yuleNielsen] in place of the way's own
 * @returns {Tones}
 */
export function tonesOf(way, strength, colours, yuleNielsen = way.yuleNielsen) {
  const recipe = { ...way, yuleNielsen };
  const encoded = colours.flatMap((rgb) => canEncode(recipe) ? encodeColour(recipe, rgb) : [...absorptionOf(rgb)]);
  const flat = tonesUnrounded(recipe, strength, encoded, colours.length - 1);
  return (warp, weft) => {
    const at = 3 * (warp * colours.length + weft);
    return [flat[at], flat[at + 1], flat[at + 2]];
  };
}

/**
 * A way of mixing by its name.
 * @param {Pick<Setting, "mixings">} setting
 * @param {string} name
 */
export function wayOf({ mixings }, name) {
  const found = mixings.find((way) => way.mixing === name);
  if (!found) throw new Error(`the lesson has no mixing "${name}"`);
  return found;
}

/**
 * Ground and stripes of a whole cloth, in order.
 * @param {Setting} setting
 */
export function clothColours({ rgb, called }) {
  const keys = Object.keys(rgb).filter((key) => key !== "ground");
  return {
    colours: [rgb.ground, ...keys.map((key) => rgb[key])],
    names: [called.ground, ...keys.map((key) => called[key])],
    stripes: keys.length,
  };
}

/**
 * A picture whose pixels are asked for one by one.
 * @param {number} width
 * @param {number} height
 * @param {(x: number, y: number) => ArrayLike<number>} colour
 */
export function image(width, height, colour) {
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0, at = 0; y < height; y++) {
    for (let x = 0; x < width; x++, at += 4) {
      const rgb = colour(x, y);
      for (let c = 0; c < 3; c++) data[at + c] = byteOf(rgb[c]);
      data[at + 3] = 255;
    }
  }
  return { width, height, data };
}

/**
 * Bands of the given stripes each way, one pixel a check.
 * @param {Tones} tones
 * @param {number[]} warp stripe numbers from left to right
 * @param {number[]} [weft] from top to bottom
 */
export function checks(tones, warp, weft = warp) {
  return image(warp.length, weft.length, (x, y) => tones(warp[x], weft[y]));
}

/**
 * An even check, so many checks each way, one pixel a check.
 * @param {Tones} tones
 * @param {number} stripes
 * @param {number} wide
 * @param {number} [high]
 */
export function cloth(tones, stripes, wide, high = wide) {
  const bands = evenBands(stripes);
  return checks(tones, [...planOf(bands, 1, wide)], [...planOf(bands, 1, high)]);
}

/**
 * Two colours mixed as light, weighed by a share of the first.
 * @param {Way} light the way named source-over-linear
 * @param {number} share
 * @param {Rgb} first
 * @param {Rgb} second
 */
export function asLight(light, share, first, second) {
  return tonesOf(light, share, [second, first])(1, 0);
}
