// Colours encoded for a mixing: here where the page can, by the kernel where only that can, once.

import { floatsOf } from "../../shared/binary.js";
import { canEncode, channelsOf, encodeColour } from "../../shared/mixing.js";
import { rgbOf } from "../../shared/nudge.js";

/** @import { Cloth, Colour } from "../../shared/edits.js" */
/** @import { Recipe, SentRecipe } from "../../shared/mixing.js" */

/**
 * @param {Recipe} recipe
 * @returns {SentRecipe}
 */
function listOf({ mixing, layout, decode, warpShare, yuleNielsen, stock }) {
  /** @type {SentRecipe} */
  const list = [mixing, layout, decode, warpShare, yuleNielsen];
  if (stock) list.push(stock);
  return list;
}

/** How a colour is encoded hangs on these alone. @param {Recipe} recipe */
function spaceOf({ decode, yuleNielsen }) {
  return `${decode}/${yuleNielsen}`;
}

export class Encoder {
  /** @type {Map<string, Map<string, Float32Array>>} by space and hex code */
  #known = new Map();
  /** @type {Map<string, Promise<void>>} */
  #asked = new Map();

  /** @param {(fields: object) => Promise<{buffers?: ArrayBufferView[]}>} ask the kernel to encode */
  constructor(ask) {
    this.ask = ask;
  }

  /**
   * A colour's encoding, undefined while only the kernel knows it.
   * @param {Recipe} recipe
   * @param {Pick<Colour, "hex" | "encoded">} colour
   */
  of(recipe, { hex, encoded }) {
    if (encoded) return encoded;
    return canEncode(recipe) ? Float32Array.from(encodeColour(recipe, rgbOf(hex)))
      : this.#known.get(spaceOf(recipe))?.get(hex);
  }

  /**
   * The cloth with every encoding that is known put into its colours.
   * @param {Cloth} cloth
   * @returns {Cloth}
   */
  encode(cloth) {
    const put = (/** @type {Colour} */ colour) => ({ ...colour, encoded: this.of(cloth.recipe, colour) });
    return { ...cloth, ground: put(cloth.ground), stripes: cloth.stripes.map(put),
      wefts: cloth.wefts?.map(put) };
  }

  /**
   * Find out how these colours are encoded; at once where the page can work it out.
   * @param {Recipe} recipe
   * @param {string[]} hexes
   */
  async learn(recipe, hexes) {
    const missing = [...new Set(hexes)].filter((hex) => !this.of(recipe, { hex }));
    if (!missing.length) return;
    const key = `${spaceOf(recipe)} ${missing.join(" ")}`;
    let asked = this.#asked.get(key);
    if (!asked) {
      asked = this.#encoded(recipe, missing).finally(() => this.#asked.delete(key));
      this.#asked.set(key, asked);
    }
    await asked;
  }

  /**
   * @param {Recipe} recipe
   * @param {string[]} hexes
   */
  async #encoded(recipe, hexes) {
    const { buffers } = await this.ask({ recipe: listOf(recipe), colours: hexes });
    const values = floatsOf(buffers?.[0]);
    const channels = channelsOf(recipe);
    const space = spaceOf(recipe);
    const known = this.#known.get(space) ?? new Map();
    this.#known.set(space, known);
    if (values.length !== hexes.length * channels) return;
    hexes.forEach((hex, at) => known.set(hex, values.slice(at * channels, (at + 1) * channels)));
  }
}
