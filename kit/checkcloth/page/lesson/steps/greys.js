// Step 3: half dark and half light, added four ways.

import { luminance } from "../../shared/difference.js";
import { linearToSrgb, srgbToLinear } from "../../shared/spaces.js";
import { fixed, percent } from "../numbers.js";
import { image, tonesOf, wayOf } from "../ways.js";

/** @import { Picture, Rgb, Setting, StepCode } from "../types.js" */

const THREADS = 12;
const MOST_N = 10;

/**
 * @param {Setting} setting
 * @param {string} name
 * @param {number} [n]
 */
function half(setting, name, n = 1) {
  return tonesOf(wayOf(setting, name), 0.5, [setting.rgb.light, setting.rgb.dark], n)(1, 0);
}

/**
 * Where the Yule–Nielsen sum goes as n grows: the geometric mean of each channel.
 * @param {Setting} setting
 * @returns {Rgb}
 */
function endless({ rgb: { dark, light } }) {
  const mean = (/** @type {number} */ c) => linearToSrgb(Math.sqrt(srgbToLinear(dark[c]) * srgbToLinear(light[c])));
  return [mean(0), mean(1), mean(2)];
}

/** @param {Setting} setting */
function sums(setting) {
  const { n } = setting.at;
  return [
    { name: "Added as light", tone: half(setting, "source-over-linear") },
    { name: `Yule–Nielsen, n = ${fixed(n)}`, tone: half(setting, "source-over-linear", n) },
    { name: "As n grows without end", tone: endless(setting) },
    { name: "Pigment (estimate)", tone: half(setting, "pigment") },
  ].map((sum) => ({ ...sum, light: luminance(sum.tone) }));
}

/**
 * @param {ReturnType<typeof sums>} all
 * @returns {Picture}
 */
function bars(all) {
  return {
    label: `Bars of the light that each sum reflects: ${all.map(({ name, light }) => `${name} ${percent(light)}`).join(", ")}`,
    caption: "Light that each sum reflects.",
    drawing: {
      width: 100,
      height: 100,
      shapes: all.flatMap(({ tone, light }, k) => /** @type {[string, Record<string, any>][]} */ ([
        ["rect", { x: 0, y: 25 * k, width: 100, height: 24, class: "cl-wash" }],
        ["rect", { x: 0, y: 25 * k, width: 100 * light, height: 24, fill: tone, class: "cl-outlined" }],
      ])),
    },
    tags: all.map(({ light }, k) => ({
      text: `${["light", "n", "n without end", "pigment"][k]} ${percent(light)}`, x: 97, y: 25 * k + 12, end: true,
    })),
  };
}

/**
 * @param {number} n
 */
function sentence(n) {
  if (n === 1) return "At n = 1 the second sum is the first: nothing spreads in the cloth.";
  if (n > 2) return `n = ${fixed(n)} is past full scattering: a number fitted to prints, no more.`;
  return n === 2 ? "At n = 2 light is fully scattered before it leaves." : "The larger n, the darker the mixture.";
}

/** @type {StepCode} */
export const greys = {
  work(setting) {
    const { rgb, at, called } = setting;
    const all = sums(setting);
    return {
      pictures: [
        {
          label: `Threads by turns, ${called.dark} and ${called.light}`,
          caption: "Half and half, thread by thread.",
          image: image(THREADS, 1, (x) => (x % 2 ? rgb.light : rgb.dark)),
          tags: [
            { text: percent(luminance(rgb.dark)), x: 29, y: 6 },
            { text: percent(luminance(rgb.light)), x: 71, y: 6 },
          ],
        },
        bars(all),
      ],
      sums: {
        caption: "Light reflected by the mixture",
        heads: [],
        rows: all.map(({ name, tone, light }) => ({ name, chip: tone, cells: [percent(light)] })),
      },
      said: sentence(at.n),
    };
  },
  answer(setting) {
    const reflected = (/** @type {number} */ n) => luminance(half(setting, "source-over-linear", n));
    const pigment = luminance(half(setting, "pigment"));
    const close = `pigment (estimate) reflects ${percent(pigment)}.`;
    if (pigment < reflected(MOST_N)) {
      return `None up to 10. n = 10 still reflects ${percent(reflected(MOST_N))}, and however large n is, not below ` +
        `${percent(luminance(endless(setting)))}; ${close}`;
    }
    let tenths = 10;
    while (reflected(tenths / 10) > pigment) tenths++;
    return `n = ${fixed(tenths / 10)}, which reflects ${percent(reflected(tenths / 10))}; ${close}`;
  },
};
