// A file made on the page, handed to the browser to be saved.

import { make } from "./dom.js";

/**
 * @param {string} name of the file
 * @param {string} text
 * @param {string} type its MIME type
 */
export function download(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  make("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 5000);
}
