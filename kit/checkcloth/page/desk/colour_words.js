// What is said about colours that were read. No DOM here.

/** @typedef {[line: number, text: string, why: string]} LeftOut */

/**
 * @param {number} read how many
 * @param {LeftOut[]} leftOut
 */
export function leftOutWords(read, leftOut) {
  const words = `${read} ${read === 1 ? "colour" : "colours"} read.`;
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
