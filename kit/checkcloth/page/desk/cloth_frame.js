// The cloth of a close look with its repeat marked, and the same as other eyes see it.

import { checksIn, pixelsForRepeat, toneBytes } from "../shared/cloth.js";
import { button, choice, make, say } from "../shared/dom.js";
import { checkPixels, deviceRatio, Swatch } from "../shared/swatch.js";
import { VISIONS } from "../shared/vision.js";

/** @import { Bands } from "../shared/cloth.js" */
/** @import { Desk, Details } from "./types.js" */

/** @type {[scale: string, words: string][]} */
const SCALES = [["1", "true size"], ["0.5", "half size"], ["repeat", "one whole repeat"]];
const HEIGHT = 220; // CSS pixels, beside the wall

export class ClothFrame {
  scale = "1";
  /** @type {() => void} */
  #redraw = () => {};

  /**
   * @param {Desk} desk
   * @param {boolean} large as large as the window allows, and to be moved under its edge
   */
  constructor(desk, large) {
    this.desk = desk;
    this.large = large;
    this.swatch = new Swatch(40, 40, "cloth");
    this.mark = make("div", { class: "cc-repeat", "aria-hidden": "true" });
    this.words = make("p", { class: "cc-quiet" });
    this.frame = make("div", large ? { class: "cc-frame", tabindex: "0", role: "group",
      "aria-label": "Cloth; arrow keys go to the neighbours on the wall" } : { class: "cc-frame" },
    this.swatch.canvas, this.mark);
    this.scales = choice("Shown at", SCALES, this.scale, (scale) => {
      this.scale = scale;
      this.swatch.startX = this.swatch.startY = 0;
      this.#redraw();
    });
    this.root = make("div", { class: "cc-look-cloth" }, this.frame, this.words,
      make("div", { class: "cc-row" }, this.scales.box,
        button("Set true size…", () => desk.measure(), { label: "Set true size with a bank card" })));
    if (large) this.#listen();
  }

  /** The enlarged cloth moves under the pointer. */
  #listen() {
    const { canvas } = this.swatch;
    canvas.addEventListener("pointerdown", (event) => canvas.setPointerCapture(event.pointerId));
    canvas.addEventListener("pointermove", (event) => {
      if (!canvas.hasPointerCapture(event.pointerId)) return;
      this.panBy(event.movementX, event.movementY);
      this.#redraw();
    });
  }

  /**
   * @param {number} x CSS pixels
   * @param {number} y
   */
  panBy(x, y) {
    const { swatch } = this;
    const moved = (/** @type {number} */ start, /** @type {number} */ by) =>
      Math.max(0, start - Math.round(by * deviceRatio()));
    swatch.startX = moved(swatch.startX, x);
    swatch.startY = moved(swatch.startY, y);
  }

  /**
   * @param {Uint8Array} bytes
   * @param {Details} data
   * @returns {boolean} whether there is room for it
   */
  draw(bytes, data) {
    this.#redraw = () => this.draw(bytes, data);
    const width = Math.floor(this.root.clientWidth) - 2;
    if (width < 40) return false;
    const height = this.large
      ? Math.round(Math.min(globalThis.innerHeight * 0.52, width * 0.6)) : HEIGHT;
    this.swatch.resize(width, height);
    const bands = this.desk.bands(data.count);
    const pixels = this.scale === "repeat"
      ? pixelsForRepeat(bands, Math.min(width, height) * deviceRatio())
      : checkPixels(this.desk.inches, Number(this.scale));
    this.swatch.draw(bytes, 0, data.count, bands, pixels);
    this.#markRepeat((checksIn(bands) * pixels) / deviceRatio(), width, height, data);
    return true;
  }

  /**
   * @param {number} side of the repeat, CSS pixels
   * @param {number} width
   * @param {number} height
   * @param {Details} data
   */
  #markRepeat(side, width, height, data) {
    const { swatch } = this;
    const start = (/** @type {number} */ device) => `${-(device / deviceRatio())}px`;
    Object.assign(this.mark.style, { width: `${side}px`, height: `${side}px`,
      left: start(swatch.startX), top: start(swatch.startY) });
    const repeat = this.desk.repeatWords(data.count);
    const larger = side > height || side > width ? "; it is larger than the piece shown" : "";
    const move = this.large && side > height
      ? " Drag, or use Shift with the arrow keys, to move the cloth." : "";
    say(this.words, `Repeat ${repeat}, dashed${larger}.${move}`);
    swatch.canvas.setAttribute("aria-label", `Cloth of ${data.title}, ${data.words}, repeat ${repeat}`);
  }
}

/** A whole repeat, as each colour vision but the normal one sees it. */
export class VisionViews {
  /** @param {number} side CSS pixels */
  constructor(side) {
    this.side = side;
    this.swatches = VISIONS.slice(1).map((vision) => new Swatch(side, side, vision));
    this.root = make("div", { class: "cc-views" }, ...this.swatches.map(({ canvas }, i) =>
      make("figure", {}, canvas, make("figcaption", { text: VISIONS[i + 1] }))));
  }

  /** @param {Details} data */
  label(data) {
    this.swatches.forEach(({ canvas }, i) => canvas.setAttribute("aria-label",
      `${data.title} ${data.view_words[VISIONS[i + 1]]}`));
  }

  /**
   * @param {Uint8Array} bytes the tones of all VISIONS in turn
   * @param {number} stripes
   * @param {Bands} bands
   */
  draw(bytes, stripes, bands) {
    this.swatches.forEach((swatch, i) => {
      swatch.resize(this.side, this.side);
      swatch.draw(bytes, (i + 1) * toneBytes(stripes), stripes, bands,
        pixelsForRepeat(bands, swatch.canvas.width));
    });
  }
}
