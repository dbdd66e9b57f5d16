// Step 4: which stripe is on top.

import { apart } from "../../shared/difference.js";
import { hexOf } from "../colours.js";
import { cut, exact, fixed } from "../numbers.js";
import { checks, tonesOf, wayOf } from "../ways.js";

/** @import { Setting, StepCode } from "../types.js" */

const PLAIN = 10;

/**
 * @param {Setting} setting
 * @param {string} name
 * @param {number} strength
 */
function pair(setting, name, strength) {
  const { rgb } = setting;
  const tones = tonesOf(wayOf(setting, name), strength, [rgb.ground, rgb.first, rgb.second]);
  return { tones, first: tones(1, 2), second: tones(2, 1), far: apart(tones(1, 2), tones(2, 1)) };
}

/** @type {StepCode} */
export const order = {
  work(setting) {
    const { at, called } = setting;
    const strength = at.strength / 100;
    const both = [["Laid over", "source-over"], ["Woven", "woven"]].map(([words, name]) => ({ words, ...pair(setting, name, strength) }));
    const [one, two] = [cut(called.first), cut(called.second)];
    return {
      pictures: both.map(({ words, tones, first, second }, k) => ({
        label: `${words}: ${called.first} over ${called.second} is ${hexOf(first)}, the other way ${hexOf(second)}`,
        caption: k ? "Woven, threads too fine to see." : "Laid over: the warp lies on top.",
        image: checks(tones, [0, 1, 0, 2, 0]),
        tags: [
          { text: k ? "1 as warp" : "1 over 2", x: 30, y: 64 },
          { text: k ? "2 as warp" : "2 over 1", x: 70, y: 24 },
        ],
      })),
      sums: {
        caption: "The two crossings",
        heads: ["", `${one} up`, `${two} up`, "ΔE00"],
        rows: both.map(({ words, first, second, far }) => ({ name: words, cells: [hexOf(first), hexOf(second), fixed(far)] })),
      },
      said: `At ${exact(strength)} the two crossings differ by ΔE00 ${fixed(both[0].far)} laid over, and by ${fixed(both[1].far)} woven.`,
    };
  },
  answer(setting) {
    const far = Array.from({ length: 101 }, (_, at) => pair(setting, "source-over", at / 100).far);
    const found = far.findIndex((value) => value >= PLAIN);
    if (found < 0) return `Never: they end at ΔE00 ${fixed(far[100])}.`;
    return `From ${found} %, where they are ΔE00 ${fixed(far[found])} apart. At 100 % only the upper one is left to ` +
      `see, and it is ${fixed(far[100])}. Woven it stays 0 throughout.`;
  },
};
