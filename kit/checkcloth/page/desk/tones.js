// The tones of the wall and of what is kept, mixed here as they are asked for.

import { toneBytes } from "../shared/cloth.js";
import { channelsOf, mixTones, recipeOf } from "../shared/mixing.js";
import { bytesOf, floatsOf } from "../shared/binary.js";

/** @import { Recipe } from "../shared/mixing.js" */
/** @import { KeptCard, Model } from "./types.js" */

/**
 * One colourway's encoded colours: where they begin, and how they are mixed.
 * @typedef {{recipe: Recipe, strength: number, offset: number, stripes: number, wefts: number}} Entry
 */

/**
 * Where each colourway's colours begin: (N+1) × channels values each, ground first, and the weft's
 * own after them.
 * @param {{recipe: Recipe, stripes: number, wefts?: number}[]} colourways
 * @returns {number[]} offsets, and at the end the total
 */
export function colourOffsets(colourways) {
  const offsets = [0];
  for (const { recipe, stripes, wefts = 0 } of colourways) {
    offsets.push(offsets[offsets.length - 1] + (stripes + wefts + 1) * channelsOf(recipe));
  }
  return offsets;
}

/** The wall's tones. Only what is asked for is mixed, and again only when something changed. */
export class WallTones {
  /** @type {Entry[]} */
  #entries = [];
  #colours = new Float32Array(0);
  #version = 0;
  /** @type {Map<number, {version: number, bytes: Uint8Array}>} */
  #mixed = new Map();

  /** @param {Model} model */
  constructor(model) {
    this.model = model;
    this.take();
  }

  /** Take in what the kernel sent: after a deal, or other colours, mixings or strengths. */
  take() {
    const { model } = this;
    const recipes = model.get("recipes").map(recipeOf);
    const recipe = bytesOf(model.get("recipe_of"));
    const strengths = floatsOf(model.get("strengths"));
    const wefts = bytesOf(model.get("weft_counts"));
    const colourways = [...bytesOf(model.get("counts"))].map((stripes, index) => (
      { recipe: recipes[recipe[index]], strength: strengths[index], stripes, wefts: wefts[index] ?? 0 }));
    this.#colours = floatsOf(model.get("colours"));
    const offsets = colourways.every((one) => one.recipe) ? colourOffsets(colourways) : [];
    // Half a message is no wall: nothing is drawn until all of it has come.
    const whole = this.#colours.length === offsets[colourways.length];
    this.#entries = whole ? colourways.map((one, index) => ({ ...one, offset: offsets[index] })) : [];
    this.#mixed.clear();
    this.invalidate();
  }

  /** Strength or vision changed: mix anew what is asked for from now on. */
  invalidate() {
    this.#version += 1;
  }

  /** Mean of the colourways' own strengths. */
  get meanStrength() {
    const sum = this.#entries.reduce((total, { strength }) => total + strength, 0);
    return this.#entries.length ? sum / this.#entries.length : 0.5;
  }

  /**
   * How many stripes a colourway has; 0 where it is not on the wall.
   * @param {number} index in the order of the deal
   */
  stripes(index) {
    return this.#entries[index]?.stripes ?? 0;
  }

  /**
   * How many stripes of its own its weft has, or 0.
   * @param {number} index in the order of the deal
   */
  wefts(index) {
    return this.#entries[index]?.wefts ?? 0;
  }

  /** @param {number} index in the order of the deal */
  #toneBytes(index) {
    const stripes = this.stripes(index);
    return toneBytes(stripes, this.wefts(index) || stripes);
  }

  /**
   * The tones of a colourway as the wall shows them now.
   * @param {number} index in the order of the deal
   */
  of(index) {
    let mixed = this.#mixed.get(index);
    if (!mixed) {
      mixed = { version: 0, bytes: new Uint8Array(this.#toneBytes(index)) };
      this.#mixed.set(index, mixed);
    }
    if (mixed.version !== this.#version) {
      this.mix(index, this.model.get("vision"), mixed.bytes);
      mixed.version = this.#version;
    }
    return mixed.bytes;
  }

  /**
   * Show a colourway so until the kernel tells of it; false where it is not on the wall, or laid
   * another way.
   * @param {number} index in the order of the deal
   * @param {Uint8Array} bytes its tones, as the wall's vision sees them
   */
  put(index, bytes) {
    if (!this.stripes(index) || bytes.length !== this.#toneBytes(index)) return false;
    this.#mixed.set(index, { version: this.#version, bytes });
    return true;
  }

  /**
   * Mix a colourway at the wall's strength, or at its own where it is by hand, as a vision sees it.
   * @param {number} index
   * @param {string} vision
   * @param {Uint8Array} out
   * @param {number} [outOffset]
   */
  mix(index, vision, out, outOffset = 0) {
    const { recipe, strength, offset, stripes, wefts } = this.#entries[index];
    const { model } = this;
    const own = model.get("facts").own?.includes(model.get("numbers")[index]);
    const shared = own ? null : model.get("strength");
    mixTones(recipe, shared ?? strength, this.#colours, offset, stripes,
      out, outOffset, vision, wefts);
  }
}

/**
 * The tones of what is kept, each at its own strength and mixing, in their order.
 * @param {Pick<KeptCard, "strength" | "count" | "wefts" | "recipe">[]} kept
 * @param {Float32Array} colours
 * @returns {Uint8Array[]}
 */
export function keptTones(kept, colours) {
  const cards = kept.map((card) => (
    { strength: card.strength, stripes: card.count, wefts: card.wefts ?? 0, recipe: recipeOf(card.recipe) }));
  const offsets = colourOffsets(cards);
  return cards.map(({ recipe, strength, stripes, wefts }, index) => {
    const bytes = new Uint8Array(toneBytes(stripes, wefts || stripes));
    if (offsets[cards.length] === colours.length) {
      mixTones(recipe, strength, colours, offsets[index], stripes, bytes, 0, "normal", wefts);
    }
    return bytes;
  });
}
