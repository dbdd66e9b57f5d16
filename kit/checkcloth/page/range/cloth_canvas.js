// A colourway on a canvas, at any scale: whole pixels a check where they can be, else each pixel the
// mean of what it covers.

import { pixelsOfTones, planOf, weave } from "../shared/cloth.js";
import { make } from "../shared/dom.js";
import { coverColours, coverPixels } from "../shared/piece.js";
import { contextOf, deviceRatio } from "../shared/swatch.js";

/** @import { Looking } from "./looking.js" */
/** @import { Colourway } from "./range_data.js" */

const WHOLE = 1e-6;

/**
 * @param {string} label what it shows, or "" where what is around it says so
 */
export function clothCanvas(label) {
  return make("canvas", label ? { class: "cloth", role: "img", "aria-label": label }
    : { class: "cloth", "aria-hidden": "true" });
}

/**
 * @typedef {object} Size in CSS pixels
 * @property {number} width
 * @property {number} height
 * @property {number} pixels of one check
 * @property {number} [ratio] device pixels of a CSS pixel
 */

/**
 * @param {HTMLCanvasElement} canvas
 * @param {Looking} looking
 * @param {Colourway} colourway
 * @param {Size} size
 */
export function paint(canvas, looking, colourway, { width, height, pixels, ratio = deviceRatio() }) {
  canvas.width = Math.max(1, Math.round(width * ratio));
  canvas.height = Math.max(1, Math.round(height * ratio));
  canvas.style.width = `${canvas.width / ratio}px`;
  canvas.style.height = `${canvas.height / ratio}px`;
  const image = new ImageData(canvas.width, canvas.height);
  fill(new Uint32Array(image.data.buffer), canvas, looking.tones(colourway), colourway, pixels * ratio);
  contextOf(canvas).putImageData(image, 0, 0);
  canvas.dataset.pixels = String(pixels * ratio);
}

/**
 * @param {Uint32Array} out
 * @param {{width: number, height: number}} size device pixels
 * @param {Uint8Array} tones
 * @param {Colourway} colourway
 * @param {number} check device pixels of one
 */
function fill(out, { width, height }, tones, { stripes, wefts, warp, weft }, check) {
  const across = wefts.length || stripes.length;
  const whole = Math.round(check);
  const isWhole = (/** @type {number} */ length) => Math.abs(length - Math.round(length)) < WHOLE;
  if (whole > 0 && isWhole(check) && [...warp, ...weft].every(([, checks]) => isWhole(checks * whole))) {
    weave(out, width, height, pixelsOfTones(tones, 0, stripes.length, across), across + 1,
      planOf(warp, whole, width), planOf(weft, whole, height));
    return;
  }
  const warpCover = coverPixels(warp, check, width);
  const weftCover = coverPixels(weft, check, height);
  const colours = coverColours(tones, across, warpCover.covers, weftCover.covers);
  weave(out, width, height, colours, weftCover.covers.length, warpCover.plan, weftCover.plan);
}
