// Cloth on canvases, and how large this screen's pixels are.

import { pixelsAtScale, pixelsOfTones, planOf, weave } from "./cloth.js";
import { make } from "./dom.js";
import { store, stored } from "./stored.js";

/** @import { Laid } from "./cloth.js" */

export const CSS_PER_INCH = 96;
const SCREEN_KEY = "checkcloth: CSS pixels per inch";

/** Device pixels of one CSS pixel. */
export function deviceRatio() {
  return globalThis.devicePixelRatio || 1;
}

/** CSS pixels per inch of this screen: as measured with a card, or as CSS supposes. */
export function screenPixels() {
  const perInch = Number(stored(SCREEN_KEY));
  return perInch > 20 && perInch < 1000 ? perInch : CSS_PER_INCH;
}

/** @param {number} perInch */
export function setScreenPixels(perInch) {
  store(SCREEN_KEY, String(perInch));
}

/**
 * Device pixels of one check on this screen at a share of its real size.
 * @param {number} inches
 * @param {number} scale
 */
export function checkPixels(inches, scale) {
  return pixelsAtScale(inches, scale, screenPixels() * deviceRatio());
}

/**
 * The drawing context of a canvas that is filled by `putImageData` and read by tests.
 * @param {HTMLCanvasElement} canvas
 */
export function contextOf(canvas) {
  return /** @type {CanvasRenderingContext2D} */ (
    canvas.getContext("2d", { willReadFrequently: true }));
}

/** Draws pieces of cloth of one size into canvases; keeps the image it draws with. */
export class Loom {
  image = new ImageData(1, 1);
  pixels = new Uint32Array(this.image.data.buffer);

  /**
   * @param {number} width device pixels
   * @param {number} height
   */
  size(width, height) {
    if (this.image.width === width && this.image.height === height) return;
    this.image = new ImageData(width, height);
    this.pixels = new Uint32Array(this.image.data.buffer);
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {number} x
   * @param {number} y
   * @param {Uint8Array} bytes tones
   * @param {number} offset where this colourway's tones begin
   * @param {number} stripes
   * @param {Uint8Array} warp
   * @param {Uint8Array} [weft]
   * @param {number} [wefts] stripes of the weft's own, or 0
   */
  draw(context, x, y, bytes, offset, stripes, warp, weft = warp, wefts = 0) {
    const { width, height } = this.image;
    const across = wefts || stripes;
    const tones = pixelsOfTones(bytes, offset, stripes, across);
    weave(this.pixels, width, height, tones, across + 1, warp, weft);
    context.putImageData(this.image, x, y);
  }
}

/** A canvas of cloth that can be drawn again at any scale and moved under its edge. */
export class Swatch {
  startX = 0;
  startY = 0;
  loom = new Loom();

  /**
   * @param {number} width CSS pixels
   * @param {number} height
   * @param {string} label what it shows, or "" where what is around it says so
   */
  constructor(width, height, label) {
    this.canvas = make("canvas", label
      ? { class: "cc-cloth", role: "img", "aria-label": label }
      : { class: "cc-cloth", "aria-hidden": "true" });
    this.resize(width, height);
  }

  /**
   * @param {number} width CSS pixels
   * @param {number} height
   */
  resize(width, height) {
    const ratio = deviceRatio();
    const { canvas } = this;
    const [wide, high] = [width, height].map((side) => Math.max(1, Math.round(side * ratio)));
    if (canvas.width !== wide) canvas.width = wide;
    if (canvas.height !== high) canvas.height = high;
    canvas.style.width = `${wide / ratio}px`;
    canvas.style.height = `${high / ratio}px`;
    this.loom.size(wide, high);
  }

  /**
   * @param {Uint8Array} bytes tones
   * @param {number} offset
   * @param {number} stripes
   * @param {Laid} laid
   * @param {number} pixels device pixels of one check
   * @param {number} [wefts] stripes of the weft's own, or 0
   */
  draw(bytes, offset, stripes, laid, pixels, wefts = 0) {
    const { width, height } = this.canvas;
    const warp = planOf(laid.warp, pixels, width, this.startX);
    const weft = planOf(laid.weft, pixels, height, this.startY);
    this.loom.draw(contextOf(this.canvas), 0, 0, bytes, offset, stripes, warp, weft, wefts);
    this.canvas.dataset.pixels = String(pixels);
  }
}
