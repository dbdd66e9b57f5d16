// What is said about colours that were read. No DOM here.

import { counted } from "../shared/words.js";

/** @typedef {[line: number, text: string, why: string]} LeftOut */

/**
 * @param {number} read how many
 * @param {LeftOut[]} leftOut
 */
export function leftOutWords(read, leftOut) {
  const words = `${counted(read, "colour")} read.`;
  if (!leftOut.length) return words;
  const [line, text, why] = leftOut[0];
  const first = `Line ${line} left out: “${text}” ${why}`;
  const more = leftOut.length - 1;
  return `${words} ${first.replace(/\.$/, "")}${more ? `, and ${more} more` : ""}.`;
}

/**
 * How often a colour is used in what is kept.
 * @param {number | undefined} used
 * @param {number} kept
 */
export function usedWords(used, kept) {
  return used ? `${used} of ${kept}` : "–";
}

/**
 * A colour by name and code; of one that no screen shows, how far off it is shown, and whether it is measured.
 * @param {string} name
 * @param {string} hex
 * @param {string} [moved] in words
 */
export function namedWords(name, hex, moved = "") {
  return moved ? `${name} ${hex}, ${moved}` : `${name} ${hex}`;
}

/** How many colours a photograph may give: the kernel's least and most, and steps between. */
const COUNTS = [6, 8, 10, 12, 16, 20, 24];

/**
 * One step fewer or more; null where there is none.
 * @param {number} count
 * @param {-1 | 1} step
 */
export function nextCount(count, step) {
  return (step < 0 ? COUNTS.findLast((one) => one < count) : COUNTS.find((one) => one > count)) ?? null;
}

/**
 * A colour as it was read, as a row that a palette is saved from: with role, note and measured
 * reflectance where they came.
 * @param {[name: string, hex: string, text?: string, role?: string, note?: string, moved?: string, reflectance?: number[]]} read
 */
export function rowToSave([name, hex, text = hex, role = "", note = "", , reflectance]) {
  return reflectance ? [name, text, role, note, reflectance] : [name, text, role, note];
}

/**
 * The name that a palette from a file may have: the file's, without its ending.
 * @param {string} file
 */
export function nameOfFile(file) {
  return file.replace(/(?<=.)\.[^.]*$/, "");
}
