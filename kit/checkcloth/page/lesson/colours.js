// Colours by name or code, and what is said of words that are neither. No DOM here.

/** @import { Rgb, LessonData, StepData } from "./types.js" */

/**
 * The nearest 8-bit step, halves up, as the kit has it.
 * @param {number} channel 0 to 1
 */
export function byteOf(channel) {
  return Math.min(255, Math.max(0, Math.floor(channel * 255 + 0.5)));
}

/**
 * "#rrggbb" of encoded sRGB.
 * @param {ArrayLike<number>} rgb
 */
export function hexOf(rgb) {
  return `#${[0, 1, 2].map((c) => byteOf(rgb[c]).toString(16).padStart(2, "0")).join("")}`;
}

/**
 * @param {string} code with or without #, three or six digits
 * @returns {Rgb | null}
 */
export function readCode(code) {
  const found = /^#?([0-9a-f]{3}|[0-9a-f]{6})$/i.exec(code.trim());
  if (!found) return null;
  const digits = found[1].length === 3 ? [...found[1]].map((digit) => digit + digit).join("") : found[1];
  const [red, green, blue] = [0, 2, 4].map((at) => parseInt(digits.slice(at, at + 2), 16) / 255);
  return [red, green, blue];
}

/**
 * Changes of one letter that turn one word into the other.
 * @param {string} first
 * @param {string} second
 */
export function changes(first, second) {
  let row = Array.from({ length: second.length + 1 }, (_, at) => at);
  for (let i = 1; i <= first.length; i++) {
    const next = [i];
    for (let j = 1; j <= second.length; j++) {
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (first[i - 1] === second[j - 1] ? 0 : 1)));
    }
    row = next;
  }
  return row[second.length];
}

/** Names and codes that one step knows: its own colours first, then the swatches, then CSS. */
export class ColourBook {
  /** @type {Map<string, {name: string, rgb: Rgb}>} */
  #known = new Map();

  /**
   * @param {Pick<LessonData, "names" | "swatches">} data
   * @param {Pick<StepData, "named">} step
   */
  constructor(data, step) {
    const css = Object.entries(data.names).map(([name, code]) => /** @type {[string, Rgb]} */ ([name, readCode(code)]));
    for (const [name, rgb] of [...css, ...data.swatches, ...step.named]) {
      this.#known.set(name.trim().toLowerCase(), { name, rgb });
    }
    this.swatches = data.swatches;
  }

  /**
   * The colour of a name or code, or null.
   * @param {string} text
   * @returns {{name: string, rgb: Rgb} | null}
   */
  read(text) {
    const known = this.#known.get(text.trim().toLowerCase());
    if (known) return known;
    const rgb = readCode(text);
    return rgb && { name: hexOf(rgb), rgb };
  }

  /**
   * What is wrong with a word that is no colour, and what to try: the nearest name.
   * @param {string} text
   */
  complaint(text) {
    const word = text.trim().toLowerCase();
    const near = [...this.#known.keys()]
      .map((key) => ({ key, far: changes(word.slice(0, 40), key) }))
      .sort((a, b) => a.far - b.far)[0];
    const known = this.#known.get(near.key)?.name ?? "teal";
    const trial = near.far <= Math.max(2, word.length / 3) ? known : "teal";
    return `“${text.trim().slice(0, 40)}” is no colour we know. Try ${trial}, or a code such as #8fc7c1.`;
  }
}
