// The range as the file carries it, and its tones at any strength. No DOM here.

import { toneBytes } from "../shared/cloth.js";
import { channelsOf, mixTones, recipeOf } from "../shared/mixing.js";

/** @import { Bands } from "../shared/cloth.js" */
/** @import { Recipe, SentRecipe } from "../shared/mixing.js" */

/**
 * @typedef {[name: string, hex: string]} Colour
 *
 * @typedef {object} SentColourway
 * @property {string} name "" where it has none
 * @property {string} words names of its colours
 * @property {string} family "" by itself
 * @property {string} note
 * @property {number} recipe index
 * @property {boolean} estimate whether its mixing is an estimate
 * @property {number} strength
 * @property {Colour} ground
 * @property {Colour[]} stripes
 * @property {Colour[]} wefts colours of the weft's own; none, it has the warp's
 * @property {Bands} warp
 * @property {Bands} weft
 *
 * @typedef {object} SentRange
 * @property {string} title
 * @property {string} stem for names of files
 * @property {string} note
 * @property {string} reference
 * @property {string} date
 * @property {[text: string, inches: number][]} sizes rising
 * @property {number} size index of the one that the range is drawn at
 * @property {boolean} metric
 * @property {number[]} strengths that may be chosen
 * @property {boolean} codes whether codes may be shown
 * @property {SentRecipe[]} recipes
 * @property {string} colours base64 of float32: of each colourway its ground, its stripes and
 *   its wefts, encoded for its recipe
 * @property {SentColourway[]} colourways
 *
 * @typedef {SentColourway & {number: number, title: string, offset: number, mixing: Recipe}} Colourway
 *
 * @typedef {Omit<SentRange, "colourways" | "recipes" | "colours">
 *   & {colourways: Colourway[], encoded: Float32Array}} Range
 */

/**
 * @param {string} text JSON
 * @returns {Range}
 */
export function readRange(text) {
  const { recipes, colours, colourways, ...head } = /** @type {SentRange} */ (JSON.parse(text));
  const mixings = recipes.map(recipeOf);
  let offset = 0;
  const made = colourways.map((one, index) => {
    const mixing = mixings[one.recipe];
    const placed = { ...one, mixing, offset, number: index + 1, title: one.name || `Number ${index + 1}` };
    offset += channelsOf(mixing) * (one.stripes.length + one.wefts.length + 1);
    return placed;
  });
  return { ...head, colourways: made, encoded: floatsOfBase64(colours) };
}

/** @param {string} text */
function floatsOfBase64(text) {
  const bytes = Uint8Array.from(atob(text), (char) => char.charCodeAt(0));
  return new Float32Array(bytes.buffer, 0, bytes.byteLength >> 2);
}

/**
 * The tones of a colourway as sRGB bytes, the warp on the first axis.
 * @param {Range} range
 * @param {Colourway} colourway
 * @param {number} strength
 */
export function tonesOf(range, colourway, strength) {
  const count = colourway.stripes.length;
  const wefts = colourway.wefts.length;
  const bytes = new Uint8Array(toneBytes(count, wefts || count));
  mixTones(colourway.mixing, strength, range.encoded, colourway.offset, count, bytes, 0, "normal", wefts);
  return bytes;
}

/**
 * Families in the order in which their members are numbered; by itself under an empty name.
 * @param {Range} range
 * @returns {[family: string, members: Colourway[]][]}
 */
export function familiesIn({ colourways }) {
  /** @type {Map<string, Colourway[]>} */
  const families = new Map();
  for (const one of colourways) families.set(one.family, [...(families.get(one.family) ?? []), one]);
  return [...families];
}

/**
 * How many colourways in how many families, in words.
 * @param {Range} range
 */
export function countWords(range) {
  const families = familiesIn(range).filter(([family]) => family).length;
  const many = range.colourways.length;
  const colourways = many === 1 ? "One colourway" : `${many}\u00a0colourways`;
  return families > 1 ? `${colourways} in ${families} families` : colourways;
}
