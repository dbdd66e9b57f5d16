// Words that every page makes in one way. No DOM here.

/** With a capital letter. @param {string} text */
export function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/**
 * How many of something: "1 stripe", "5,000 colourways".
 * @param {number} many
 * @param {string} noun
 * @param {string} [plural]
 */
export function counted(many, noun, plural = `${noun}s`) {
  return `${many.toLocaleString("en")} ${many === 1 ? noun : plural}`;
}

/** What is said of something that was thrown. @param {unknown} error */
export function errorWords(error) {
  return error instanceof Error ? error.message : String(error);
}

/** Signs, and what they are called where they are heard: a voice spells "ΔE00" out. @type {[sign: string, name: string][]} */
const SIGNS = [["ΔE00", "colour difference"], ["ΔEOK", "difference in Oklab"], ["ΔL*", "difference in lightness"]];

/** What is heard and not seen, without signs. @param {string} text */
export function spoken(text) {
  return SIGNS.reduce((words, [sign, name]) => words.replaceAll(sign, name), text);
}
