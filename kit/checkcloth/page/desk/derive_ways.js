// The ways in which one colourway may come again, and what is said of each. No DOM here.

/** @import { SentRecipe } from "../shared/mixing.js" */

/**
 * @typedef {object} Derived the kernel's answer about one way
 * @property {string[][]} colourways names of the ground and the stripes of each
 * @property {number[]} counts stripes of each
 * @property {number[]} [wefts] stripes of the weft's own of each, or 0
 * @property {number[]} strengths
 * @property {SentRecipe[]} recipes
 * @property {number[]} recipe_of
 * @property {boolean[]} kept which of them are kept already
 * @property {ArrayBufferView[]} [buffers] their colours, encoded
 *
 * @typedef {object} Way
 * @property {string} key
 * @property {string} title
 * @property {object} fields of `derive` and `keep_derived`
 */

/**
 * What may be asked for of a colourway with so many stripes.
 * @param {number} stripes
 * @param {number} percent of the other strength
 * @returns {Way[]}
 */
export function waysFor(stripes, percent) {
  const fewer = [3, 2].filter((count) => count < stripes).map((count) => (
    { key: `stripes ${count}`, title: `With ${count} stripes`, fields: { stripes: count } }));
  const order = { key: "order", title: "In another order", fields: { order: true } };
  return [...fewer,
    { key: "strength", title: "At another strength", fields: { strength: percent / 100 } },
    { key: "grounds", title: "On each ground", fields: { grounds: true } },
    ...(stripes > 1 ? [order] : [])];
}

/**
 * A strength as it is typed, in percent from 0 to 100, "%" or not; null for anything else.
 * @param {string} text
 */
export function percentOf(text) {
  const match = /^\s*(\d{1,3}(?:[.,]\d+)?)\s*%?\s*$/.exec(text);
  const percent = match ? Number(match[1].replace(",", ".")) : NaN;
  return percent >= 0 && percent <= 100 ? percent : null;
}

/**
 * The strength that all have, in percent; null where they differ.
 * @param {{strength: number}[]} cards
 */
export function commonPercent(cards) {
  const all = new Set(cards.map(({ strength }) => Number((strength * 100).toFixed(1))));
  return all.size === 1 ? [...all][0] : null;
}

/**
 * How many would come, and what the button says.
 * @param {boolean[]} kept which of them are kept already
 */
export function countWords(kept) {
  const there = kept.filter(Boolean).length;
  const more = kept.length - there;
  const keep = more > 1 ? `Keep these ${more}` : more ? "Keep this one" : "Kept";
  const many = more ? `${more} more${there ? `, ${there} kept already` : ""}`
    : there > 1 ? `all ${there} kept already` : "kept already";
  return { more, keep, many };
}

/**
 * What sets these apart, by name, as far as names say it.
 * @param {Way} way
 * @param {Derived} derived
 */
export function wayWords({ key }, { colourways }) {
  const names = (/** @type {string[][]} */ lists) => [...new Set(lists.flat())].join(", ");
  if (key === "grounds") return names(colourways.map(([ground]) => [ground]));
  if (key.startsWith("stripes")) return names(colourways.map(([, ...stripes]) => stripes));
  return key === "order" ? "those that read best first" : "";
}

const LEAST = 4; // CSS pixels of the smallest check that is shown beside others

/**
 * Device pixels of a check of each size, true to each other as far as whole pixels go.
 * @param {number[]} inches
 * @param {number} ratio device pixels of a CSS pixel
 */
export function sizePixels(inches, ratio) {
  const unit = Math.max(1, Math.round(LEAST * ratio));
  const least = Math.min(...inches);
  return inches.map((size) => Math.max(1, Math.round(unit * size / least)));
}
