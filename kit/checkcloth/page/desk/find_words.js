// What the search of the wall says, and how its fields are read; no DOM here.

/** @import { Facts } from "./types.js" */

/**
 * What the wall shows, before the name of the palette: "500 clearest of 134,596 from".
 * @param {number} shown
 * @param {string} source "" for a draw
 */
export function sourceWords(shown, source) {
  return [shown.toLocaleString("en"), source, "from"].filter(Boolean).join(" ");
}

/**
 * A goal on its button; how many there are is left out while that is not known.
 * @param {string} words with {} for how many
 * @param {number | null} total
 */
export function goalWords(words, total) {
  return total === null ? words.replace(" {}", "") : words.replace("{}", total.toLocaleString("en"));
}

/**
 * Overlay strengths as they are typed: "30, 50 %" → [0.3, 0.5]; nothing typed asks for none.
 * @param {string} text
 * @returns {number[] | null} null where it is none
 */
export function strengthsOf(text) {
  const parts = text.split(/[\s,;%]+/).filter(Boolean);
  const numbers = parts.map(Number);
  return numbers.every((number) => number >= 0 && number <= 100) ? numbers.map((number) => number / 100) : null;
}

/**
 * How many conditions are asked for, behind the title of the fold.
 * @param {Record<string, number>} atLeast
 * @param {string[]} visions
 * @param {Record<string, number>} nothing what asks nothing, by condition
 */
export function conditionWords(atLeast, visions, nothing) {
  const asked = Object.entries(atLeast).filter(([name, number]) => number > nothing[name]);
  const count = asked.length + visions.length;
  return count ? `Conditions (${count})` : "Conditions";
}

/**
 * All that a search of the wall follows beside its own fields: where it is the same, so is the count.
 * @param {(trait: "palette" | "stripes" | "ground" | "mixing" | "strength" | "bands" | "weft" | "weft_colours") => unknown} get
 * @param {Facts} facts
 */
export function subjectOf(get, { staying, palettes = [] }) {
  const settings = /** @type {const} */ (["palette", "stripes", "ground", "mixing", "strength", "bands", "weft", "weft_colours"]).map(get);
  return JSON.stringify([...settings, staying, palettes]);
}
