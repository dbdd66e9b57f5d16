// Step 2: one crossing under every way of mixing.

import { srgbToLab } from "../../shared/difference.js";
import { hexOf } from "../colours.js";
import { fixed } from "../numbers.js";
import { checks, tonesOf } from "../ways.js";

/** @import { Setting, StepCode } from "../types.js" */

const ASKED = 0.8;

/**
 * @param {Setting} setting
 * @param {number} strength
 */
function crossings({ rgb, mixings }, strength) {
  return mixings.map((way) => {
    const tones = tonesOf(way, strength, [rgb.ground, rgb.warp, rgb.weft]);
    return { way, tones, code: hexOf(tones(1, 2)), tone: tones(1, 2), green: srgbToLab(tones(1, 2))[1] };
  });
}

/**
 * @param {number} percent
 * @param {number[]} green
 */
function sentence(percent, green) {
  if (percent === 0) return "At 0 % there are no stripes: all five show the ground.";
  const range = `The five crossings run from a* ${fixed(Math.min(...green))} to ${fixed(Math.max(...green))}.`;
  if (percent < 100) return range;
  return `${range} At 100 % an upper stripe that is laid over hides the lower one; multiply and woven still show it.`;
}

/** @type {StepCode} */
export const kinds = {
  choices: ({ mixings }) => mixings.map((way) => way.label),
  work(setting) {
    const { at } = setting;
    const all = crossings(setting, at.strength / 100);
    return {
      layout: "cl-five",
      pictures: all.map(({ way, tones, code }) => ({
        label: `${way.label}: the crossing is ${code}`,
        caption: way.label,
        shape: "cl-ribbon",
        image: checks(tones, [0, 1, 0], [0, 2, 0, 2, 0, 2, 0]),
      })),
      sums: {
        caption: "The crossing under each way of mixing",
        heads: ["Way of mixing", "Crossing", "a*"],
        rows: all.map(({ way, tone, code, green }) => ({
          name: way.label.includes("estimate") ? way.label : `${way.label}, ${way.hint}`,
          chip: tone,
          cells: [code, fixed(green)],
        })),
      },
      said: sentence(at.strength, all.map(({ green }) => green)),
    };
  },
  answer(setting) {
    const [first, second] = crossings(setting, ASKED).sort((one, other) => one.green - other.green);
    return `${first.way.label}: ${first.code}, a* ${fixed(first.green)}. Next comes ${second.way.label}, ${fixed(second.green)}.`;
  },
};
