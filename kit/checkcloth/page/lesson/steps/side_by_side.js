// Step 9: one colourway under every way of mixing.

import { deltaE2000, srgbToLab } from "../../shared/difference.js";
import { hexOf } from "../colours.js";
import { exact, fixed } from "../numbers.js";
import { cloth, clothColours, tonesOf } from "../ways.js";

/** @import { Setting, StepCode } from "../types.js" */

const ASKED = 0.6;

/**
 * Every crossing of the cloth: [warp, weft].
 * @param {number} stripes
 * @returns {[number, number][]}
 */
function crossings(stripes) {
  const side = Array.from({ length: stripes }, (_, at) => at + 1);
  return side.flatMap((i) => side.map((j) => /** @type {[number, number]} */ ([i, j])));
}

/**
 * The cloth under every way, with L*a*b* of its crossings.
 * @param {Setting} setting
 * @param {number} strength
 */
function everyWay({ mixings, options, ...setting }, strength) {
  const { colours, stripes } = clothColours({ mixings, options, ...setting });
  return mixings.map((way) => {
    const own = way.layout === "woven" ? { ...way, warpShare: options.warpShare } : way;
    const tones = tonesOf(own, strength, colours, options.yuleNielsen);
    return { way, tones, labs: crossings(stripes).map(([i, j]) => srgbToLab(tones(i, j))) };
  });
}

/**
 * ΔE00 of each crossing between two ways.
 * @param {{labs: number[][]}} one
 * @param {{labs: number[][]}} other
 */
function differences(one, other) {
  return one.labs.map((lab, k) => deltaE2000(lab, other.labs[k]));
}

/** @param {number[]} values */
function mean(values) {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** @param {ReturnType<typeof everyWay>} all */
function farthest(all) {
  let best = { far: -1, one: "", other: "" };
  all.forEach((one, k) => all.slice(k + 1).forEach((other) => {
    const far = mean(differences(one, other));
    if (far > best.far) best = { far, one: one.way.label, other: other.way.label };
  }));
  return best;
}

/** @param {Setting} setting */
function namesOf(setting) {
  const { names, stripes } = clothColours(setting);
  return crossings(stripes).map(([i, j]) => `${names[i]} over ${names[j]}`);
}

/** @type {StepCode} */
export const sideBySide = {
  choices: namesOf,
  work(setting) {
    const strength = setting.at.strength / 100;
    const { stripes } = clothColours(setting);
    const all = everyWay(setting, strength);
    const best = farthest(all);
    return {
      layout: "cl-five",
      pictures: all.map(({ way, tones }) => ({
        label: `The cloth under ${way.label}`,
        caption: way.label,
        shape: "cl-ribbon",
        image: cloth(tones, stripes, 2 * stripes, Math.round((14 * stripes) / 3)),
      })),
      sums: {
        caption: "How far the crossings lie from those under source-over",
        heads: ["", "Mean ΔE00", "Largest"],
        rows: all.slice(1).map((other) => {
          const far = differences(all[0], other);
          return { name: other.way.label, cells: [fixed(mean(far)), fixed(Math.max(...far))] };
        }),
      },
      said: best.far < 0.05 ? `At ${exact(strength)} every way gives the same cloth.`
        : `At ${exact(strength)} crossings differ most between ${best.one} and ${best.other}: ΔE00 ${fixed(best.far)} on average.`,
    };
  },
  answer(setting) {
    const all = everyWay(setting, ASKED);
    const [over, woven] = ["source-over", "woven"].map((name) => /** @type {typeof all[0]} */ (all.find(({ way }) => way.mixing === name)));
    const far = differences(over, woven);
    const most = far.indexOf(Math.max(...far));
    const [i, j] = crossings(clothColours(setting).stripes)[most];
    return `${namesOf(setting)[most]}: from ${hexOf(over.tones(i, j))} to ${hexOf(woven.tones(i, j))}, ΔE00 ${fixed(far[most])}. ` +
      `The crossing that changes least moves by ${fixed(Math.min(...far))}.`;
  },
};
