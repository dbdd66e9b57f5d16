// Step 1: a crossing is three areas.

import { exact, fixed } from "../numbers.js";
import { checks, tonesOf, wayOf } from "../ways.js";

/** @import { Picture, Setting, StepCode, Tag } from "../types.js" */

const SHOWN = 0.05; // narrower parts have no room for their number

/** @param {Setting} setting */
function sharesOf({ at }) {
  const a = at.strength / 100;
  return { a, weft: a * (1 - a), ground: (1 - a) ** 2 };
}

/**
 * @param {Setting} setting
 * @returns {Picture}
 */
function areas(setting) {
  const { rgb } = setting;
  const { a, weft, ground } = sharesOf(setting);
  const side = 100 * a;
  const left = 100 - side;
  /** @type {Tag[]} */
  const tags = [
    { text: exact(a), x: side / 2, y: 50 },
    { text: exact(weft), x: side + left / 2, y: side / 2 },
    { text: exact(ground), x: side + left / 2, y: side + left / 2 },
  ];
  const share = [a, weft, ground];
  return {
    label: `The crossing as a square whose areas are its parts: warp ${exact(a)}, weft ${exact(weft)}, ground ${exact(ground)}`,
    caption: "The crossing, its parts set apart.",
    drawing: {
      width: 100,
      height: 100,
      shapes: [
        ["rect", { x: 0, y: 0, width: 100, height: 100, fill: rgb.ground }],
        ["rect", { x: side, y: 0, width: left, height: side, fill: rgb.weft }],
        ["rect", { x: 0, y: 0, width: side, height: 100, fill: rgb.warp }],
      ],
    },
    tags: tags.filter((tag, k) => share[k] >= SHOWN && tag.x > 12 && tag.x < 88),
  };
}

/**
 * @param {number} percent
 * @param {string} weft
 */
function sentence(percent, weft) {
  if (percent === 0) return "At 0 % there are no stripes: all you see is ground.";
  if (percent === 100) return "At 100 % the warp hides all that is under it.";
  return `The warp covers ${percent} of 100 parts and leaves ${100 - percent}. The weft covers ${percent} % of ` +
    `those ${100 - percent}: ${weft}. What still shows is ground.`;
}

/** @type {StepCode} */
export const crossing = {
  work(setting) {
    const { rgb, at, called } = setting;
    const { a, weft, ground } = sharesOf(setting);
    const tones = tonesOf(wayOf(setting, "source-over"), a, [rgb.ground, rgb.warp, rgb.weft]);
    const [over, left] = [fixed(a, 2), fixed(1 - a, 2)];
    return {
      pictures: [
        {
          label: `One warp stripe, ${called.warp}, crossing one weft stripe, ${called.weft}, on ${called.ground}`,
          caption: "The cloth, very near.",
          image: checks(tones, [0, 1, 0], [0, 2, 0]),
          tags: [
            { text: "ground", x: 16.6, y: 6 }, { text: "warp", x: 50, y: 6 },
            { text: "weft", x: 16.6, y: 39.5 }, { text: "crossing", x: 50, y: 39.5 },
          ],
          frame: [33.33, 33.33, 33.34, 33.34],
        },
        areas(setting),
      ],
      sums: {
        caption: "What the crossing is made of",
        heads: [],
        rows: [
          { name: "Warp, on top", chip: rgb.warp, cells: [over, exact(a)] },
          { name: "Weft, under it", chip: rgb.weft, cells: [`${left} × ${over}`, exact(weft)] },
          { name: "Ground, under both", chip: rgb.ground, cells: [`${left} × ${left}`, exact(ground)] },
        ],
      },
      said: sentence(at.strength, exact(weft).replace(" %", "")),
    };
  },
  answer() {
    const miss = (/** @type {number} */ at) => Math.abs((at / 100) * (1 - at / 100) - (1 - at / 100) ** 2);
    let best = 1;
    for (let at = 1; at < 100; at++) if (miss(at) < miss(best)) best = at;
    const a = best / 100;
    const [over, left] = [fixed(a, 2), fixed(1 - a, 2)];
    return `At ${best} %. There the weft has ${left} × ${over} and the ground ${left} × ${left}: ${exact(a * (1 - a))} each, ` +
      `and the warp ${exact(a)}. (At 100 % both have nothing, and so are equal too.)`;
  },
};
