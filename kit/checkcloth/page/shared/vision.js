// How colours look under colour-vision deficiency and in grey: checkcloth/colour/vision.py at
// severity 1, where models and sources are named. All act on linear light.

import {
  DEUTAN,
  LUMINANCE,
  PROTAN,
  TRITAN_ONE,
  TRITAN_SEPARATOR,
  TRITAN_TWO,
} from "./colour_data.js";
import { dot, linearToSrgb, srgbToLinear } from "./spaces.js";

const GREY = Float64Array.of(...LUMINANCE, ...LUMINANCE, ...LUMINANCE);

const MATRICES = new Map(
  Object.entries({ protan: PROTAN, deutan: DEUTAN, tritan: TRITAN_ONE, grey: GREY }),
);

export const VISIONS = ["normal", ...MATRICES.keys()];

/**
 * See linear light with the named vision, in place; what the models send outside 0 to 1 is held.
 * @param {Float64Array} light three values a colour
 * @param {number} count number of colours
 * @param {string} vision one of VISIONS
 */
export function seeLinear(light, count, vision) {
  if (vision === "normal") return;
  const matrix = MATRICES.get(vision);
  if (!matrix) throw new Error(`vision must be one of ${VISIONS.join(", ")}, found "${vision}"`);
  for (let at = 0; at < 3 * count; at += 3) {
    const red = light[at];
    const green = light[at + 1];
    const blue = light[at + 2];
    // Greys lie on the separating plane of tritan; like Python, all go with the first matrix.
    const second =
      matrix === TRITAN_ONE && dot(TRITAN_SEPARATOR, 0, red, green, blue) < -1e-12;
    const chosen = second ? TRITAN_TWO : matrix;
    for (let row = 0; row < 3; row++) {
      light[at + row] = Math.min(Math.max(dot(chosen, row, red, green, blue), 0), 1);
    }
  }
}

/**
 * Encoded sRGB colours as they look with the named vision.
 * @param {ArrayLike<number>} rgb three values a colour, 0 to 1
 * @param {string} vision one of VISIONS
 * @returns {Float64Array} as many values, encoded sRGB in 0 to 1
 */
export function seeAs(rgb, vision) {
  if (vision === "normal") return Float64Array.from(rgb);
  const light = Float64Array.from(rgb, srgbToLinear);
  seeLinear(light, light.length / 3, vision);
  return light.map(linearToSrgb);
}
