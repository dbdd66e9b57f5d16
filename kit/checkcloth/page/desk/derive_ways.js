// The ways in which one colourway may come again, and what is said of each. No DOM here.

/** @import { SentRecipe } from "../shared/mixing.js" */

/**
 * @typedef {object} Derived the kernel's answer about one way
 * @property {string[][]} colourways names of the ground and the stripes of each
 * @property {number[]} counts stripes of each
 * @property {number[]} [wefts] stripes of the weft's own of each, or 0
 * @property {string[][]} [weft_names] their colours' names
 * @property {string[]} [names] what each is called, "" where it has no name
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
  const fewer = [6, 3, 2].filter((count) => count < stripes).map((count) => (
    { key: `stripes ${count}`, title: `With ${count} stripes`, fields: { stripes: count } }));
  const order = { key: "order", title: "In another order", fields: { order: true } };
  return [...fewer,
    { key: "family", title: "As coordinates", fields: { family: true } },
    { key: "wefts", title: "With each weft", fields: { wefts: true } },
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
    : there > 1 ? `all ${there} kept already` : ""; // the button says that it is
  return { more, keep, many };
}

/**
 * What sets these apart, by name, as far as names say it.
 * @param {Way} way
 * @param {Derived} derived
 */
export function wayWords({ key }, { colourways, weft_names: wefts = [], names: called = [] }) {
  const names = (/** @type {string[][]} */ lists) => [...new Set(lists.flat())].join(", ");
  if (key === "wefts") return names(wefts);
  if (key === "family") return called.map(kindOf).join(", ");
  if (key === "grounds") return names(colourways.map(([ground]) => [ground]));
  if (key.startsWith("stripes")) return names(colourways.map(([, ...stripes]) => stripes));
  return key === "order" ? "those that read best first" : "";
}

/**
 * What a coordinate is, of its name: "Quay, 3 stripes".
 * @param {string} name
 */
function kindOf(name) {
  return name.slice(name.lastIndexOf(", ") + 2);
}

/**
 * One of those that would come, in words.
 * @param {Derived} derived
 * @param {number} at
 */
export function clothWords({ colourways, weft_names: wefts = [], names = [], kept }, at) {
  const [ground, ...stripes] = colourways[at];
  const weft = wefts[at]?.length ? `, weft ${[...new Set(wefts[at])].join(", ")}` : "";
  const name = names[at] ? `${names[at]}: ` : "";
  return `${name}${stripes.join(", ")} on ${ground}${weft}${kept[at] ? ", kept already" : ""}`;
}

/**
 * A colour gamp of one warp: its colours across the weft of each, encoded as `mixTones` takes them.
 * @param {number} stripes of the warp
 * @param {number[]} wefts stripes of each one's weft, all of one colour
 * @param {Float32Array} colours ground, warp and weft of each, one after another
 * @param {number} channels
 */
export function gampColours(stripes, wefts, colours, channels) {
  const head = (stripes + 1) * channels;
  const out = new Float32Array(head + wefts.length * channels);
  out.set(colours.subarray(0, head));
  let from = 0;
  wefts.forEach((count, at) => {
    const weft = from + (count ? head : channels); // of none of its own it is the warp's
    out.set(colours.subarray(weft, weft + channels), head + at * channels);
    from += head + count * channels;
  });
  return out;
}

const LEAST = 4; // CSS pixels of the smallest check that is shown beside others

/**
 * Device pixels of a check of each size, true to each other as far as whole pixels go.
 * @param {number[]} inches
 * @param {number} ratio device pixels of a CSS pixel
 * @param {number} [checks] of a repeat, which is to be seen whole where that leaves the smallest a pixel
 * @param {number} [room] CSS pixels that the largest repeat has
 */
export function sizePixels(inches, ratio, checks = 0, room = 0) {
  const least = Math.min(...inches);
  const fits = checks ? Math.floor((room * ratio * least) / (checks * Math.max(...inches))) : Infinity;
  const unit = Math.max(1, Math.min(Math.round(LEAST * ratio), fits));
  return inches.map((size) => Math.max(1, Math.round(unit * size / least)));
}
