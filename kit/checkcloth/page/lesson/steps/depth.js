// Step 5: a stripe crossing itself, laid over and woven.

import { exact, percent } from "../numbers.js";
import { asLight, checks, image, tonesOf, wayOf } from "../ways.js";

/** @import { Setting, StepCode, Tag } from "../types.js" */

const THREADS = 12; // in a band
const ASKED = 0.9;

/** @param {Setting} setting */
function woven(setting) {
  const { rgb, at } = setting;
  const yarn = asLight(wayOf(setting, "source-over-linear"), at.strength / 100, rgb.stripe, rgb.ground);
  const dyed = (/** @type {number} */ thread) => Math.floor(thread / THREADS) === 1;
  return image(3 * THREADS, 3 * THREADS, (x, y) => (dyed((x + y) % 2 ? y : x) ? yarn : rgb.ground));
}

/**
 * @param {string} single
 * @param {string} crossing
 * @returns {Tag[]}
 */
function tags(single, crossing) {
  return [
    { text: single, x: 50, y: 6 }, { text: single, x: 16.6, y: 39.5 }, { text: crossing, x: 50, y: 39.5 },
  ];
}

/** @param {number} strength per cent */
function sentence(strength) {
  if (strength === 0) return "At 0 % there is no stripe.";
  if (strength === 100) return "At 100 % both crossings are all stripe. But the woven single is still only half.";
  const a = strength / 100;
  return `Laid over, the second layer covers ${strength} % of the ${100 - strength} that were left: ${strength} + ` +
    `${exact(a * (1 - a)).replace(" %", "")} = ${exact(1 - (1 - a) ** 2)}. Woven, no thread gets a second layer: ` +
    `the crossing stays as strong as its yarn, ${strength} %.`;
}

/** @type {StepCode} */
export const depth = {
  work(setting) {
    const { rgb, at } = setting;
    const a = at.strength / 100;
    const twice = 1 - (1 - a) ** 2;
    const tones = tonesOf(wayOf(setting, "source-over"), a, [rgb.ground, rgb.stripe]);
    return {
      pictures: [
        {
          label: `Laid over: single ${exact(a)}, crossing ${exact(twice)} stripe`,
          caption: "Laid over, as in print.",
          image: checks(tones, [0, 1, 0]),
          tags: tags(exact(a), exact(twice)),
        },
        {
          label: `Woven: single ${exact(a / 2)}, crossing ${exact(a)} stripe`,
          caption: "Woven, thread by thread.",
          image: woven(setting),
          tags: tags(exact(a / 2), exact(a)),
        },
      ],
      sums: {
        caption: "How much of the stripe’s colour is seen",
        heads: ["", "Single", "Crossing"],
        rows: [
          { name: "Laid over", cells: [exact(a), exact(twice)] },
          { name: "Woven", cells: [exact(a / 2), exact(a)] },
        ],
      },
      said: sentence(at.strength),
    };
  },
  answer() {
    const depthAt = (/** @type {number} */ at) => 1 - (1 - at / 100) ** 2;
    let found = 0;
    while (depthAt(found) < ASKED - 1e-12) found++;
    const left = (1 - found / 100).toFixed(2);
    return `Laid over, ${found} %: then 1 − ${left} × ${left} = ${percent(depthAt(found))}; at ${found - 1} % it is ` +
      `${percent(depthAt(found - 1))}. Woven, ${exact(ASKED)}: the crossing is as strong as its yarn.`;
  },
};
