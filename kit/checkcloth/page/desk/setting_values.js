// What the settings say and how their values are read; no DOM here.

/** @import { Choices } from "./types.js" */

/** @typedef {Choices["sizes"]} Sizes */

export const EACH = "each its own";

/**
 * Where a check size stands among those offered; -1 where it does not.
 * @param {Sizes} sizes
 * @param {string} text
 */
export function sizeIndex(sizes, text) {
  return sizes.findIndex(([one]) => one === text);
}

/**
 * Inches of a check size, or undefined where it is not offered.
 * @param {Sizes} sizes
 * @param {string} text
 */
export function inchesOf(sizes, text) {
  return sizes[sizeIndex(sizes, text)]?.[1];
}

/**
 * Per cent of a slider, for what the wall is mixed at.
 * @param {number | null} strength
 * @param {number} own the mean of the colourways' own strengths, where the wall has none
 */
export function strengthPerCent(strength, own) {
  return Math.round((strength ?? own) * 100);
}

/** @param {number | null} strength */
export function strengthText(strength) {
  return strength === null ? EACH : `${Number((strength * 100).toFixed(2))} %`;
}

/**
 * Mixings to choose from; "as each came" only while that is so.
 * @param {Choices["mixings"]} mixings
 * @param {string} mixing
 * @returns {[string, string][]}
 */
export function mixingOptions(mixings, mixing) {
  /** @type {[string, string][]} */
  const options = mixings.map(([name, words]) => [name, words]);
  return mixing === "" ? [["", "as each came"], ...options] : options;
}

/**
 * What a mixing stands for.
 * @param {Choices["mixings"]} mixings
 * @param {string} mixing
 */
export function meaningOf(mixings, mixing) {
  return mixings.find(([name]) => name === mixing)?.[2] ?? "";
}

/**
 * Whether a mixing asks what is printed on.
 * @param {Choices["mixings"]} mixings
 * @param {string} mixing
 */
export function prints(mixings, mixing) {
  return mixings.some(([name, , , recipe]) => name === mixing && recipe?.[5] !== undefined);
}

/**
 * What may be printed on, by its numbers; what is known of no name only while it is so.
 * @param {Choices["stocks"]} stocks
 * @param {readonly number[]} numbers
 * @param {string} words of these numbers
 * @returns {[string, string][]}
 */
export function stockOptions(stocks, numbers, words) {
  const options = (stocks ?? []).map(([, one, of]) => /** @type {[string, string]} */ ([of.join(" "), one]));
  return options.some(([key]) => key === numbers.join(" ")) ? options : [...options, [numbers.join(" "), words]];
}

/** Of the option that asks for a press of one's own: no text of a stock. */
export const MEASURED = "\t";
/** Where each is printed on its own stock: no text of one either. */
export const EACH_STOCK = "\n";

/**
 * What the wall may be printed on: where each has its own, that too; last, a press of one's own.
 * @param {Choices["stocks"]} stocks
 * @param {string | null | undefined} stock the one that it is printed on
 * @returns {[string, string][]}
 */
export function stockChoices(stocks, stock) {
  const options = (stocks ?? []).map(([text, words]) => /** @type {[string, string]} */ ([text, words]));
  if (stock === null) options.unshift([EACH_STOCK, EACH]);
  return [...options, [MEASURED, "a press that was measured …"]];
}

/**
 * Whether a stock is a press of one's own: its text is its numbers.
 * @param {string | null | undefined} stock
 */
export function isOwnPress(stock) {
  return /^tvi=/.test(stock ?? "");
}

/**
 * @typedef {{increase: string, density: string, n: string}} PressNumbers as they are typed, the
 *   increase in per cent
 */

/**
 * The numbers of a stock; those of none that is named where it is unknown.
 * @param {Choices["stocks"]} stocks
 * @param {string | null | undefined} stock
 * @returns {PressNumbers}
 */
export function pressNumbers(stocks, stock) {
  const [increase, density, n] = (stocks?.find(([text]) => text === stock) ?? stocks?.[0])?.[2] ?? [0.17, 2.4, 2];
  return { increase: String(Number((increase * 100).toFixed(4))), density: String(density), n: String(n) };
}

/**
 * How many at most; a number between those offered is offered too.
 * @param {number[]} counts
 * @param {number} count
 * @returns {[string, string][]}
 */
export function countOptions(counts, count) {
  const numbers = [...new Set([...counts, count])].sort((a, b) => a - b);
  return numbers.map((number) => [String(number), `${number} at most`]);
}

/**
 * The repeat in the unit that the check size was given in, and in the other one.
 * @param {number} inches
 * @param {string} size text of the check size, which ends with its unit
 */
export function repeatWords(inches, size) {
  const short = (/** @type {number} */ number) => String(Number(number.toFixed(3)));
  const inInches = `${short(inches)} in`;
  const millimetres = `${short(inches * 25.4)} mm`;
  if (!size.endsWith("m")) return `${inInches} (${millimetres})`;
  return size.endsWith("cm") ? `${short(inches * 2.54)} cm (${inInches})` : `${millimetres} (${inInches})`;
}

/**
 * How many colours of its own the weft may get in draws.
 * @param {number} most
 * @returns {[string, string][]}
 */
export function weftOptions(most) {
  return [["0", "as the warp"], ...Array.from({ length: most }, (_, at) => /** @type {[string, string]} */ (
    [String(at + 1), `${at + 1} of its own`]))];
}
