// The last task: a cloth that is told apart on the menus and light from across the street.

import { srgbToLab } from "../../shared/difference.js";
import { fixed } from "../numbers.js";
import { cloth, tonesOf, wayOf } from "../ways.js";
import { farColour } from "./distance.js";

/** @import { Setting, StepCode } from "../types.js" */

const WIDE = 27;
const HIGH = 13;

/** @param {Setting} setting */
function facts(setting) {
  const { rgb, at } = setting;
  const tones = tonesOf(wayOf(setting, "source-over"), at.strength / 100, [rgb.ground, rgb.first, rgb.second]);
  const lightness = (/** @type {ArrayLike<number>} */ tone) => srgbToLab(tone)[0];
  return { tones, apart: Math.abs(lightness(tones(1, 0)) - lightness(tones(2, 0))), light: lightness(farColour(tones, 2)) };
}

/** @type {StepCode} */
export const task = {
  work(setting) {
    const { called, at, options } = setting;
    const { tones, apart, light } = facts(setting);
    const goals = [
      { words: `On the menu the two stripes are told apart: their lightness differs by ${options.apart} or more.`, value: apart, wanted: options.apart, most: 2.5 * options.apart },
      { words: `From across the street the cloth still looks light: lightness ${options.light} or more.`, value: light, wanted: options.light, most: 100 },
    ].map((goal) => ({ ...goal, met: goal.value >= goal.wanted }));
    const met = goals.filter((goal) => goal.met).length;
    return {
      layout: "cl-stack",
      pictures: [{
        label: `Your cloth: ${called.first} and ${called.second} on ${called.ground}, ${at.strength} %`,
        caption: "Your cloth.",
        shape: "cl-wide",
        image: cloth(tones, 2, WIDE, HIGH),
      }],
      sums: { caption: "", heads: [], rows: [] },
      said: met === goals.length ? "Both wishes are met." : `${met} of ${goals.length} wishes met.`,
      goals,
    };
  },
  answer(setting) {
    const { apart, light } = facts(setting);
    return `Lightness ${fixed(apart)} apart, ${fixed(light)} from afar.`;
  },
};
