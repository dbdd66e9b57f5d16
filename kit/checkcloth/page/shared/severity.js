// How colours look at partial severity of a colour-vision deficiency: checkcloth/colour/vision.py,
// where models and sources are named.

import { MACHADO_DEUTAN, MACHADO_PROTAN, MACHADO_TRITAN } from "./eye_data.js";
import { linearToSrgb, srgbToLinear } from "./spaces.js";
import { seeAs } from "./vision.js";

const STEPS = 10;
const TABLES = new Map(Object.entries({ protan: MACHADO_PROTAN, deutan: MACHADO_DEUTAN, tritan: MACHADO_TRITAN }));

/**
 * Encoded sRGB colours as they look with the named vision; a severity of 1, and grey, which has
 * none, are `seeAs`.
 * @param {ArrayLike<number>} rgb three values a colour, 0 to 1
 * @param {string} vision one of VISIONS
 * @param {number} severity 0 to 1
 * @returns {Float64Array}
 */
export function seeAtSeverity(rgb, vision, severity) {
  const table = TABLES.get(vision);
  if (!table || severity >= 1) return seeAs(rgb, vision);
  if (severity <= 0) return Float64Array.from(rgb);
  const step = Math.min(Math.floor(severity * STEPS), STEPS - 1);
  const share = severity * STEPS - step;
  const entry = (/** @type {number} */ at) => (1 - share) * table[9 * step + at] + share * table[9 * step + 9 + at];
  const light = Float64Array.from(rgb, srgbToLinear);
  const seen = new Float64Array(light.length);
  for (let at = 0; at < light.length; at += 3) {
    for (let row = 0; row < 3; row++) {
      const value = entry(3 * row) * light[at] + entry(3 * row + 1) * light[at + 1] + entry(3 * row + 2) * light[at + 2];
      seen[at + row] = linearToSrgb(Math.min(Math.max(value, 0), 1));
    }
  }
  return seen;
}
