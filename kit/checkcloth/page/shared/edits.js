// A colourway under the hand and what may be done to it: checkcloth/ideas/by_hand.py, so that the
// page paints an act before the kernel has answered. Nothing is changed in place. No DOM here.

import { toneBytes } from "./cloth.js";
import { channelsOf, mixTones } from "./mixing.js";

/** @import { Recipe } from "./mixing.js" */

/**
 * @typedef {object} Colour
 * @property {string} name
 * @property {string} hex
 * @property {boolean} stays whether new draws leave it alone
 * @property {Float32Array} [encoded] for the cloth's recipe, where that is known
 *
 * @typedef {object} Cloth
 * @property {Recipe} recipe
 * @property {number} strength
 * @property {Colour} ground
 * @property {Colour[]} stripes
 * @property {Colour[]} [wefts] colours of the weft's own, where it has such
 */

/** A part of a cloth: 0 for the ground, n for stripe n, −n for stripe n of the weft. @typedef {number} Part */

/**
 * What a part is called.
 * @param {Part} part
 */
export function partWords(part) {
  if (part < 0) return `Weft stripe ${-part}`;
  return part ? `Stripe ${part}` : "Ground";
}

/**
 * The stripes of the way that a part is of.
 * @param {Cloth} cloth
 * @param {Part} part
 * @returns {Colour[]}
 */
export function rowOf(cloth, part) {
  return part < 0 ? weftsOf(cloth) ?? cloth.stripes : cloth.stripes;
}

/**
 * @param {Cloth} cloth
 * @param {Part} part
 * @param {Colour[]} row
 * @returns {Cloth}
 */
function withRow(cloth, part, row) {
  return part < 0 ? { ...cloth, wefts: row } : { ...cloth, stripes: row };
}

/**
 * The cloth with its weft apart: in colours of its own, which are the warp's where it had none.
 * @param {Cloth} cloth
 * @returns {Cloth}
 */
export function withOwnWeft(cloth) {
  return weftsOf(cloth) ? cloth : { ...cloth, wefts: cloth.stripes.map((stripe) => ({ ...stripe, stays: false })) };
}

/**
 * @param {Cloth} cloth
 * @param {Part} part
 * @returns {Colour | undefined}
 */
export function colourOf(cloth, part) {
  return part === 0 ? cloth.ground : rowOf(cloth, part)[Math.abs(part) - 1];
}

/**
 * Put a colour in a part. What stays in new draws is the part, whatever its colour.
 * @param {Cloth} cloth
 * @param {Part} part
 * @param {Pick<Colour, "name" | "hex" | "encoded">} colour
 * @returns {Cloth}
 */
export function putColour(cloth, part, colour) {
  const put = { ...colour, stays: colourOf(cloth, part)?.stays ?? false };
  if (part === 0) return { ...cloth, ground: put };
  return withRow(cloth, part, rowOf(cloth, part).with(Math.abs(part) - 1, put));
}

/**
 * Take a stripe out of the order of its way and put it where it becomes number `to`.
 * @param {Cloth} cloth
 * @param {Part} stripe
 * @param {Part} to
 * @returns {Cloth}
 */
export function moveStripe(cloth, stripe, to) {
  const row = rowOf(cloth, stripe);
  const [from, at] = [Math.abs(stripe) - 1, Math.abs(to) - 1];
  return withRow(cloth, stripe, row.toSpliced(from, 1).toSpliced(at, 0, row[from]));
}

/**
 * The number that a part has after `moveStripe(cloth, stripe, to)`.
 * @param {Part} part
 * @param {Part} stripe
 * @param {Part} to
 * @returns {Part}
 */
export function partAfterMove(part, stripe, to) {
  if (stripe < 0 && part < 0) return -partAfterMove(-part, -stripe, -to);
  if (stripe < 0 || part <= 0) return part;
  if (part === stripe) return to;
  if (stripe < part && part <= to) return part - 1;
  return to <= part && part < stripe ? part + 1 : part;
}

/**
 * @param {Cloth} cloth
 * @param {Part} first
 * @param {Part} second of the same way
 * @returns {Cloth}
 */
export function swapStripes(cloth, first, second) {
  const row = rowOf(cloth, first);
  const [here, there] = [Math.abs(first) - 1, Math.abs(second) - 1];
  return withRow(cloth, first, row.with(here, row[there]).with(there, row[here]));
}

/**
 * Add a stripe that becomes number `at`; later ones move on by one.
 * @param {Cloth} cloth
 * @param {Part} at
 * @param {Colour} colour
 * @returns {Cloth}
 */
export function addStripe(cloth, at, colour) {
  return withRow(cloth, at, rowOf(cloth, at).toSpliced(Math.abs(at) - 1, 0, colour));
}

/**
 * @param {Cloth} cloth
 * @param {Part} stripe
 * @returns {Cloth}
 */
export function removeStripe(cloth, stripe) {
  return withRow(cloth, stripe, rowOf(cloth, stripe).toSpliced(Math.abs(stripe) - 1, 1));
}

/**
 * Say whether new draws leave a part alone.
 * @param {Cloth} cloth
 * @param {Part} part
 * @param {boolean} stays
 * @returns {Cloth}
 */
export function letStay(cloth, part, stays) {
  const colour = colourOf(cloth, part);
  if (!colour) return cloth;
  const put = { ...colour, stays };
  return part === 0 ? { ...cloth, ground: put } : { ...cloth, stripes: cloth.stripes.with(part - 1, put) };
}

/**
 * The same colours mixed in another way: how they are encoded is then to be found anew.
 * @param {Cloth} cloth
 * @param {Recipe} recipe
 * @returns {Cloth}
 */
export function remix(cloth, recipe) {
  const bare = (/** @type {Colour} */ { name, hex, stays }) => ({ name, hex, stays });
  return { ...cloth, recipe, ground: bare(cloth.ground), stripes: cloth.stripes.map(bare),
    wefts: cloth.wefts?.map(bare) };
}

/**
 * What a cloth is called while it has no name: its colours.
 * @param {Cloth} cloth
 */
export function wordsOf(cloth) {
  const names = (/** @type {Colour[]} */ colours) => colours.map(({ name }) => name).join(", ");
  return `${names(cloth.stripes)} on ${cloth.ground.name}${cloth.wefts?.length ? `, weft ${names(cloth.wefts)}` : ""}`;
}

/**
 * The tones of a cloth, as a vision sees them; null where a colour's encoding is not known yet.
 * @param {Cloth} cloth
 * @param {string} [vision]
 * @returns {Uint8Array | null}
 */
export function tonesOf(cloth, vision = "normal") {
  const { recipe, strength, ground, stripes, wefts = [] } = cloth;
  const channels = channelsOf(recipe);
  const all = [ground, ...stripes, ...wefts];
  const colours = new Float32Array(all.length * channels);
  for (const [at, { encoded }] of all.entries()) {
    if (!encoded) return null;
    colours.set(encoded, at * channels);
  }
  const bytes = new Uint8Array(toneBytes(stripes.length, wefts.length || stripes.length));
  mixTones(recipe, strength, colours, 0, stripes.length, bytes, 0, vision, wefts.length);
  return bytes;
}

/**
 * The name of a tone: what lies over what.
 * @param {Cloth} cloth
 * @param {Part} warp
 * @param {Part} weft
 */
export function toneName(cloth, warp, weft) {
  const ground = cloth.ground.name;
  const own = weftsOf(cloth);
  const across = nameOf(cloth.stripes, warp);
  const along = nameOf(own ?? cloth.stripes, weft);
  if (!warp && !weft) return `Ground, ${ground}`;
  if (!warp || !weft) return `${warp ? across : along} over ${ground}`;
  const over = cloth.recipe.layout === "layered" || (warp === weft && !own);
  return `${across} ${over ? "over" : "with"} ${along}`;
}

/** @param {Colour[]} stripes @param {Part} part */
function nameOf(stripes, part) {
  return stripes[part - 1]?.name ?? "";
}

/**
 * Colours of the weft's own; none where it has the warp's.
 * @param {Cloth} cloth
 */
function weftsOf({ wefts }) {
  return wefts?.length ? wefts : undefined;
}
