// Step 6: how a pale and a deep stripe stand out from the ground as strength grows.

import { apart } from "../../shared/difference.js";
import { hexOf } from "../colours.js";
import { exact, fixed } from "../numbers.js";
import { image, tonesOf, wayOf } from "../ways.js";

/** @import { Picture, Setting, StepCode } from "../types.js" */

const STEPS = 101;
const PLAIN = 10;
const HIGH = 29; // height of the chart where its width is 100

/**
 * The single of one stripe at every whole per cent, and how far it stands from the ground.
 * @param {Setting} setting
 * @param {string} key
 */
function singles(setting, key) {
  const { rgb } = setting;
  const way = wayOf(setting, "source-over");
  const tones = Array.from({ length: STEPS }, (_, at) => tonesOf(way, at / 100, [rgb.ground, rgb[key]])(1, 0));
  return { tones, far: tones.map((tone) => apart(tone, rgb.ground)) };
}

/**
 * @param {ReturnType<typeof singles>} pale
 * @param {ReturnType<typeof singles>} deep
 * @param {number} at
 * @returns {Picture}
 */
function chart(pale, deep, at) {
  const top = Math.max(PLAIN, ...pale.far, ...deep.far) * 1.1;
  const y = (/** @type {number} */ far) => HIGH * (1 - far / top);
  const line = (/** @type {number[]} */ far) => far.map((value, x) => `${x},${y(value).toFixed(2)}`).join(" ");
  return {
    label: `ΔE00 from the ground over strength; at ${at} % the pastel has ${fixed(pale.far[at])}, the deep one ${fixed(deep.far[at])}`,
    caption: "ΔE00 from the ground over strength, 0 to 100 %; the level line is 10.",
    shape: "cl-chart",
    drawing: {
      width: 100,
      height: HIGH,
      shapes: [
        ["rect", { x: 0, y: 0, width: 100, height: HIGH, class: "cl-wash" }],
        ["path", { d: `M0 ${y(PLAIN)}H100`, class: "cl-level" }],
        ["path", { d: `M${at} 0V${HIGH}`, class: "cl-level" }],
        ["polyline", { points: line(deep.far), class: "cl-curve" }],
        ["polyline", { points: line(pale.far), class: "cl-curve cl-dashed" }],
        // A dot is a line of no length with round ends: it stays round however the chart is stretched.
        ["path", { d: `M${at} ${y(deep.far[at])}h0.001M${at} ${y(pale.far[at])}h0.001`, class: "cl-dot" }],
      ],
    },
    tags: [
      { text: "deep", x: 97, y: Math.max(8, 100 * (1 - deep.far[90] / top) + 9), end: true },
      { text: "pastel", x: 97, y: Math.max(8, 100 * (1 - pale.far[90] / top) + 9), end: true },
      { text: "10", x: 1, y: 100 * (1 - PLAIN / top) - 6, bare: true, start: true },
    ],
  };
}

/** @type {StepCode} */
export const pastel = {
  work(setting) {
    const { at, called } = setting;
    const [pale, deep] = [singles(setting, "pale"), singles(setting, "deep")];
    const now = at.strength;
    return {
      layout: "cl-stack",
      pictures: [
        {
          label: `Two stripes on ${called.ground}, each from 0 to 100 %: above ${called.deep}, below ${called.pale}`,
          caption: "Each stripe on the ground, from 0 to 100 %; the mark is where you are.",
          shape: "cl-strips",
          image: image(STEPS, 2, (x, y) => (y ? pale : deep).tones[x]),
          frame: [(100 * now) / STEPS, 0, 100 / STEPS, 100],
        },
        chart(pale, deep, now),
      ],
      sums: {
        caption: "The two stripes on the ground",
        heads: ["", `At ${exact(now / 100)}`, "ΔE00"],
        rows: [{ name: "Pastel", ...pale }, { name: "Deep", ...deep }].map(({ name, tones, far }) => ({
          name, chip: tones[now], cells: [hexOf(tones[now]), fixed(far[now])],
        })),
      },
      said: `At ${exact(now / 100)} the pastel stripe stands ΔE00 ${fixed(pale.far[now])} from the ground, the deep one ` +
        `${fixed(deep.far[now])}.`,
    };
  },
  answer(setting) {
    const said = [["pastel", "pale"], ["deep", "deep"]].map(([name, key]) => {
      const { far } = singles(setting, key);
      const found = far.findIndex((value) => value >= PLAIN);
      return found < 0 ? `${name} never: it ends at ΔE00 ${fixed(far[100])}`
        : `${name} from ${found} %, where it stands ΔE00 ${fixed(far[found])} from it`;
    });
    return `${said.join("; ")}.`;
  },
};
