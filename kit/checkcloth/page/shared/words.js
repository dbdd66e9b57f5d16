// Words that every page makes in one way. No DOM here.

/** With a capital letter. @param {string} text */
export function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** What is said of something that was thrown. @param {unknown} error */
export function errorWords(error) {
  return error instanceof Error ? error.message : String(error);
}
