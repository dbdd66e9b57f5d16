// Step 7: odd and even counts of threads in plain weave.

import { exact, fixed } from "../numbers.js";
import { asLight, image, wayOf } from "../ways.js";

/** @import { Rgb, Setting, StepCode } from "../types.js" */

const WITHIN = 0.01; // of one half

/**
 * Crossings of threads on which the warp lies on top, of n² in a cell: checkcloth/cloth/threads.py.
 * @param {number} ends
 */
export function warpUp(ends) {
  const whole = ends * ends;
  const more = Math.ceil(whole / 2);
  return { whole, crossing: more, single: whole - more };
}

/**
 * @param {Setting} setting
 */
function drawnWeave({ rgb, at: { ends } }) {
  const own = (/** @type {Rgb} */ stripe, /** @type {number} */ thread) => (Math.floor(thread / ends) === 1 ? stripe : rgb.ground);
  // Begun so that the corner of the crossing shows warp, as the kit counts.
  return image(3 * ends, 3 * ends, (x, y) => ((x + y) % 2 === 0 ? own(rgb.warp, x) : own(rgb.weft, y)));
}

/** @param {Setting} setting */
function fused(setting) {
  const { rgb, at: { ends } } = setting;
  const { whole, crossing, single } = warpUp(ends);
  const light = wayOf(setting, "source-over-linear");
  return image(3, 3, (x, y) => {
    const share = (x === 1) === (y === 1) ? crossing / whole : single / whole;
    return asLight(light, share, x === 1 ? rgb.warp : rgb.ground, y === 1 ? rgb.weft : rgb.ground);
  });
}

/**
 * @param {number} part
 * @param {number} whole
 */
function share(part, whole) {
  return `${fixed((100 * part) / whole, 2)} %`;
}

/** @param {number} ends */
function sentence(ends) {
  const { whole, crossing, single } = warpUp(ends);
  if (ends % 2 === 0) return `${ends} × ${ends} threads: every cell shows the warp on ${crossing} of ${whole}, exactly half.`;
  return `${ends} × ${ends} threads: each crossing shows the warp on ${crossing} of ${whole}, each single on ${single}. So the ` +
    `warp stripe has ${share(single, whole)} of its single, the weft stripe ${share(whole - single, whole)} of its own.`;
}

/** @type {StepCode} */
export const threads = {
  work(setting) {
    const { at: { ends }, called } = setting;
    const { whole, crossing, single } = warpUp(ends);
    const row = (/** @type {string} */ name, /** @type {number} */ part) =>
      ({ name, cells: [`${part} of ${whole}`, share(part, whole)] });
    return {
      pictures: [
        {
          label: `Plain weave of ${ends} ends and ${ends} picks a band: warp stripe ${called.warp}, weft stripe ${called.weft}, on ${called.ground}`,
          caption: "Thread by thread.",
          image: drawnWeave(setting),
        },
        {
          label: "The same from farther off, each cell mixed as light",
          caption: "Farther off, as light; the warp’s share.",
          image: fused(setting),
          tags: [
            { text: exact(crossing / whole), x: 16.6, y: 6 }, { text: exact(single / whole), x: 50, y: 6 },
            { text: exact(single / whole), x: 16.6, y: 39.5 }, { text: exact(crossing / whole), x: 50, y: 39.5 },
          ],
        },
      ],
      sums: {
        caption: "How often the stripe’s own thread is on top",
        heads: ["", "Threads", "Share"],
        rows: [
          row("Warp stripe in its single", single),
          row("Weft stripe in its single", whole - single),
          row("Warp in the crossing", crossing),
        ],
      },
      said: sentence(ends),
    };
  },
  answer() {
    const off = (/** @type {number} */ ends) => Math.abs(warpUp(ends).crossing / warpUp(ends).whole - 0.5);
    let found = 1;
    while (off(found) > WITHIN) found += 2;
    const [now, before] = [warpUp(found), warpUp(found - 2)];
    return `${found} ends: a crossing shows the warp on ${now.crossing} of ${now.whole}, ${share(now.crossing, now.whole)}, a ` +
      `single on ${now.single}, ${share(now.single, now.whole)}. With ${found - 2} it is ${share(before.crossing, before.whole)} ` +
      `and ${share(before.single, before.whole)}. Any even count shows exactly half.`;
  },
};
