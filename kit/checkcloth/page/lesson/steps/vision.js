// Step 10: the cloth as people with other colour vision see it, and in grey.

import { deltaE2000, srgbToLab } from "../../shared/difference.js";
import { seeAtSeverity } from "../../shared/severity.js";
import { VISIONS } from "../../shared/vision.js";
import { fixed } from "../numbers.js";
import { cloth, clothColours, tonesOf } from "../ways.js";

/** @import { Rgb, Setting, StepCode } from "../types.js" */
/** @import { Tones } from "../ways.js" */

const CLEAR = 3;

/**
 * Tones as a vision sees them.
 * @param {Tones} tones
 * @param {string} vision
 * @param {number} severity
 * @returns {Tones}
 */
function seen(tones, vision, severity) {
  return (i, j) => /** @type {Rgb} */ ([...seeAtSeverity(tones(i, j), vision, severity)]);
}

/**
 * ΔE00 of the faintest edge: where a single meets the ground, and a crossing a single.
 * @param {Tones} tones
 * @param {number} stripes
 */
export function faintest(tones, stripes) {
  const lab = Array.from({ length: stripes + 1 }, (_, i) => Array.from({ length: stripes + 1 }, (__, j) => srgbToLab(tones(i, j))));
  let least = Infinity;
  const meet = (/** @type {number[]} */ one, /** @type {number[]} */ other) => { least = Math.min(least, deltaE2000(one, other)); };
  for (let i = 1; i <= stripes; i++) {
    meet(lab[0][0], lab[i][0]);
    meet(lab[0][0], lab[0][i]);
    for (let j = 1; j <= stripes; j++) {
      meet(lab[i][0], lab[i][j]);
      meet(lab[0][j], lab[i][j]);
    }
  }
  return least;
}

/** @param {string} vision */
function nameOf(vision) {
  return vision === "normal" ? "as it is" : vision;
}

/** @param {Setting} setting */
function estimated({ options }) {
  return options.recipe.label.includes("estimate") ? " (estimate)" : "";
}

/** @type {StepCode} */
export const vision = {
  work(setting) {
    const { at, options } = setting;
    const { colours, stripes } = clothColours(setting);
    const tones = tonesOf(options.recipe, at.strength / 100, colours);
    const views = VISIONS.map((name) => {
      const looks = seen(tones, name, at.severity / 100);
      return { name: nameOf(name), looks, far: faintest(looks, stripes) };
    });
    const worst = views.reduce((one, other) => (other.far < one.far - 1e-9 ? other : one));
    const least = worst === views[0] ? "and no fainter for anyone" : `and least for ${worst.name}: ${fixed(worst.far)}`;
    return {
      layout: "cl-five",
      pictures: views.map(({ name, looks, far }) => ({
        label: `The cloth ${name === "as it is" ? name : `for ${name}`}: faintest edge ΔE00 ${fixed(far)}`,
        caption: name,
        shape: "cl-ribbon",
        image: cloth(looks, stripes, 2 * stripes, Math.round((14 * stripes) / 3)),
      })),
      sums: {
        caption: `The faintest edge of the cloth${estimated(setting)}`,
        heads: ["", "Faintest edge, ΔE00"],
        rows: views.map(({ name, far }) => ({ name, cells: [fixed(far)] })),
      },
      said: `The faintest edge of this cloth${estimated(setting)} is ΔE00 ${fixed(views[0].far)} as it is, ${least}.`,
    };
  },
  answer(setting) {
    const { options } = setting;
    const { colours, stripes } = clothColours(setting);
    const rows = Array.from({ length: 101 }, (_, at) => {
      const tones = tonesOf(options.recipe, at / 100, colours);
      return VISIONS.map((name) => faintest(seen(tones, name, 1), stripes));
    });
    const everyone = rows.map((row) => Math.min(...row));
    const best = everyone.indexOf(Math.max(...everyone));
    const of = VISIONS[rows[best].indexOf(everyone[best])];
    const enough = everyone.flatMap((value, at) => (value >= CLEAR ? [at] : []));
    if (!enough.length) {
      return `At none. The best is ${best} %, where the faintest edge is still only ΔE00 ${fixed(everyone[best])}, for ${of} vision.`;
    }
    const last = enough[enough.length - 1];
    const gaps = last - enough[0] < enough.length ? "" : ", with gaps";
    return `From ${enough[0]} to ${last} %${gaps}; best at ${best} %, where the faintest edge is ΔE00 ${fixed(everyone[best])}, for ${of} vision.`;
  },
};
