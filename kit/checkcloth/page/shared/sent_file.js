// A file from the reader's own machine, as it is sent. The notebook's connection drops messages of
// about 10 MB without a word, so a larger picture is made smaller, and no other file is sent.

const MOST = 5_000_000; // bytes of a picture sent as it is, with colour profile and EXIF data
const LIMIT = 9_000_000; // bytes of anything else
const SIDE = 1200; // pixels of the longer side otherwise; the kit looks at 400

/**
 * What is to be done with a file before it is sent.
 * @param {number} bytes
 * @param {boolean} picture
 * @returns {"as it is" | "smaller" | "too large"}
 */
export function sentHow(bytes, picture) {
  if (picture) return bytes > MOST ? "smaller" : "as it is";
  return bytes > LIMIT ? "too large" : "as it is";
}

/**
 * The size of a picture whose longer side is SIDE at most.
 * @param {number} width
 * @param {number} height
 */
export function smallerSize(width, height) {
  const scale = Math.min(1, SIDE / Math.max(width, height));
  return [width, height].map((side) => Math.max(1, Math.round(side * scale)));
}

/**
 * The bytes of a file as they are sent; rejects for what is too large or no picture.
 * @param {File} file
 * @param {boolean} picture
 * @returns {Promise<{bytes: ArrayBuffer, smaller: boolean}>}
 */
export async function bytesToSend(file, picture) {
  const how = sentHow(file.size, picture);
  if (how === "too large") throw new Error("too large to be sent");
  const smaller = how === "smaller";
  return { bytes: await (smaller ? await redrawn(file) : file).arrayBuffer(), smaller };
}

/**
 * @param {File} file
 * @returns {Promise<Blob>}
 */
async function redrawn(file) {
  const picture = await createImageBitmap(file); // upright, and in sRGB once it is drawn
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = smallerSize(picture.width, picture.height);
  const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  context.imageSmoothingEnabled = false; // colours of the picture, not mixtures of neighbours
  context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((done, fail) =>
    canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error("no picture"))), "image/png"));
}

/** @param {number} bytes */
export function sizeWords(bytes) {
  return bytes < 1e5 ? `${(bytes / 1e3).toFixed(1)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
