// The cloth of what is under the hand: a repeat, true size, three checks, or a whole cloth laid flat.

import { checksIn, planOf, weave } from "../../shared/cloth.js";
import { colourOf, partWords, toneName, wordsOf } from "../../shared/edits.js";
import { button, make, say, textInput } from "../../shared/dom.js";
import { coverColours, coverPixels, fitPiece, PIECES, readPieceSize } from "../../shared/piece.js";
import { commonPixels, inchWords, reductionWords, rulerOf, THREE_SIZES, threeSizes } from "../../shared/scale.js";
import { checkPixels, contextOf, deviceRatio, screenPixels, Swatch } from "../../shared/swatch.js";
import { store, stored } from "../../shared/stored.js";
import { segmentsOfStripe } from "../../shared/threads.js";
import { hexOf } from "../../shared/nudge.js";
import { counted } from "../../shared/words.js";

/** @import { Bands, Laid } from "../../shared/cloth.js" */
/** @import { Cloth } from "../../shared/edits.js" */
/** @import { Desk } from "../types.js" */

/** @type {[key: string, text: string][]} */
export const VIEWS = [["repeat", "Repeat"], ["true", "True size"], ["sizes", "3 checks"],
  ["tablecloth", "Tablecloth"], ["towel", "Tea towel"], ["napkin", "Napkin"]];

const SIZE_KEY = "checkcloth: size of a ";
const DRAG_AFTER = 4; // CSS pixels
const MARGIN = 8; // CSS pixels around a whole cloth

/**
 * @typedef {object} Shown
 * @property {string} as one of VIEWS
 * @property {Cloth} cloth
 * @property {Uint8Array} bytes its tones
 * @property {Laid} laid
 * @property {number} checks how many share the width of a repeat view
 * @property {number | null} part chosen: 0 the ground, a stripe, or −n of the weft
 */

export class ClothView {
  /** @type {Shown | undefined} */
  #shown;
  /** Device pixels of a check where pressing chooses; 0 in other views. */
  pixels = 0;
  #warp = new Uint8Array(0);
  #weft = new Uint8Array(0);

  /** Whether the press that is under way moves the cloth: the click after it chooses nothing. */
  #dragged = false;

  /**
   * @param {Desk} desk
   * @param {boolean} large as large as the window allows
   * @param {(part: number) => void} onpress a part of the cloth
   */
  constructor(desk, large, onpress) {
    this.desk = desk;
    this.large = large;
    this.onpress = onpress;
    this.swatch = new Swatch(40, 40, "Cloth");
    this.rows = THREE_SIZES.map(() => new Swatch(40, 40, "Cloth"));
    this.piece = new Swatch(40, 40, "Cloth");
    this.marks = make("div", { class: "cc-marks", "aria-hidden": "true" });
    this.frame = make("div", large ? { class: "cc-frame", tabindex: "0", role: "application", // its keys are the desk's
      "aria-label": "Cloth; arrow keys go to the neighbours on the wall" } : { class: "cc-frame" });
    this.ruler = make("span", { class: "cc-scalebar", "aria-hidden": "true" });
    this.words = make("span", { class: "cc-clip" });
    this.measure = button("Set true size…", () => desk.measure(),
      { label: "Set true size with a bank card", kind: "cc-plain" });
    const typed = () => this.#typed();
    this.size = textInput("Size", { class: "cc-piece-size", onchange: typed, enter: typed, escape: () => this.#leaveSize() });
    this.under = make("div", { class: "cc-under" }, this.ruler, this.size, this.words, this.measure);
    this.#listen();
  }

  #listen() {
    const { canvas } = this.swatch;
    canvas.classList.add("cc-pressed-cloth");
    canvas.addEventListener("click", (event) => {
      if (!this.#dragged) this.#press(...this.#partsAt(event));
    });
    canvas.addEventListener("pointerdown", (event) => this.#hold(event));
    canvas.addEventListener("pointermove", (event) => {
      if (event.pointerType !== "touch") this.#point(...this.#partsAt(event));
    });
    canvas.addEventListener("pointerleave", () => this.#sayRest());
  }

  /**
   * At its true size cloth may be larger than the piece that shows: it is moved by dragging.
   * @param {PointerEvent} down
   */
  #hold(down) {
    const { canvas, startX, startY } = this.swatch;
    this.#dragged = false;
    if (this.#shown?.as !== "true" || down.button !== 0 || down.pointerType === "touch") return;
    const drag = new AbortController();
    const move = (/** @type {PointerEvent} */ event) => {
      const [x, y] = [event.clientX - down.clientX, event.clientY - down.clientY];
      if (!this.#dragged && Math.hypot(x, y) <= DRAG_AFTER) return;
      this.#dragged = true;
      this.panTo(startX - x * deviceRatio(), startY - y * deviceRatio());
      if (this.#shown) this.draw(this.#shown);
    };
    canvas.setPointerCapture(down.pointerId);
    canvas.addEventListener("pointermove", move, drag);
    for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => drag.abort(), drag);
  }

  /**
   * @param {number} x device pixels of the cloth that lie before the left edge
   * @param {number} y
   */
  panTo(x, y) {
    this.swatch.startX = Math.max(0, Math.round(x));
    this.swatch.startY = Math.max(0, Math.round(y));
  }

  /**
   * @param {number} x CSS pixels to the right
   * @param {number} y
   */
  panBy(x, y) {
    const { swatch } = this;
    if (this.#shown?.as === "true") this.panTo(swatch.startX - x * deviceRatio(), swatch.startY - y * deviceRatio());
  }

  get panned() {
    return this.swatch.startX > 0 || this.swatch.startY > 0;
  }

  /**
   * @param {MouseEvent} event
   * @returns {[warp: number, weft: number]}
   */
  #partsAt(event) {
    const box = this.swatch.canvas.getBoundingClientRect();
    const at = (/** @type {number} */ css, /** @type {Uint8Array} */ plan) =>
      plan[Math.min(plan.length - 1, Math.max(0, Math.floor(css * deviceRatio())))];
    return [at(event.clientX - box.left, this.#warp), at(event.clientY - box.top, this.#weft)];
  }

  /**
   * Say the tone that is pointed at.
   * @param {number} warp
   * @param {number} weft
   */
  #point(warp, weft) {
    if (!this.#shown) return;
    const { cloth, bytes } = this.#shown;
    const own = cloth.wefts?.length;
    const at = 3 * (warp * ((own || cloth.stripes.length) + 1) + weft);
    const hex = hexOf(Array.from(bytes.slice(at, at + 3), (byte) => byte / 255));
    const single = warp && weft ? 0 : warp || (own ? -weft : weft);
    const words = single ? `${partWords(single)}, ${colourOf(cloth, single)?.name}` : toneName(cloth, warp, weft);
    this.#showUnder({ words: `${words}: ${hex}` });
  }

  /**
   * What stands under the cloth; what is not named is hidden.
   * @param {{words: string, perInch?: number, size?: string, measure?: boolean}} what
   */
  #showUnder({ words, perInch, size, measure = false }) {
    this.ruler.hidden = perInch === undefined;
    if (perInch !== undefined) {
      const { width, inside } = rulerOf(perInch);
      this.ruler.style.width = `${width}px`;
      say(this.ruler, inside ? "1 in" : "");
      if (!inside) words = `1 in, ${words}`;
    }
    this.size.hidden = size === undefined;
    if (size !== undefined && document.activeElement !== this.size) this.size.value = size;
    this.measure.hidden = !measure;
    say(this.words, words);
    this.words.title = words;
  }

  #sayRest() {
    if (!this.#shown) return;
    const { as, laid } = this.#shown;
    if (as === "sizes") {
      this.#showUnder({ words: "all three at 1/4 of true size", measure: true });
    } else if (PIECES[as]) this.#sayPiece(as, laid);
    else {
      const perInch = this.pixels / deviceRatio() / this.desk.inches;
      const repeat = this.desk.repeatWords(laid);
      this.#showUnder({ perInch, measure: as === "true",
        words: `${reductionWords(perInch / screenPixels())}, repeat ${repeat}` });
    }
  }

  /**
   * Choose what was pressed: of a crossing the warp's stripe, pressed again the weft's.
   * @param {number} warp
   * @param {number} weft
   */
  #press(warp, weft) {
    if (!this.#shown) return;
    const { cloth, part } = this.#shown;
    const across = cloth.wefts?.length ? -weft : weft;
    const again = warp && across && warp === part;
    this.onpress(again ? across : warp || across);
  }

  /** @param {Shown} shown */
  draw(shown) {
    this.#shown = shown;
    const width = Math.floor(this.frame.parentElement?.clientWidth ?? 0);
    const height = this.large ? Math.round(Math.min(globalThis.innerHeight * 0.56, width * 0.75))
      : Number.parseFloat(getComputedStyle(this.frame).getPropertyValue("--hand-high")) || 320;
    if (width < 60) return;
    this.pixels = 0;
    if (shown.as === "sizes") this.#drawSizes(shown, width, height);
    else if (PIECES[shown.as]) this.#drawPiece(shown, width, height);
    else this.#drawRepeat(shown, width, height);
    this.#sayRest();
  }

  /**
   * Put these into the frame, unless they are there.
   * @param {string} kind class that lays them
   * @param {number} height CSS pixels
   * @param {Node[]} nodes
   */
  #place(kind, height, nodes) {
    this.frame.className = `cc-frame ${kind}`;
    this.frame.style.height = `${height}px`;
    const there = [...this.frame.childNodes];
    if (there.length !== nodes.length || there.some((node, at) => node !== nodes[at])) {
      this.frame.replaceChildren(...nodes);
    }
  }

  /**
   * @param {Shown} shown
   * @param {number} width CSS pixels there are
   * @param {number} height
   */
  #drawRepeat({ as, cloth, bytes, laid, checks, part }, width, height) {
    const ratio = deviceRatio();
    const { swatch } = this;
    this.pixels = as === "true" ? checkPixels(this.desk.inches, 1)
      : commonPixels(Math.round(width * ratio), checks);
    const whole = this.pixels / ratio;
    const wide = as === "true" ? width : whole * checks;
    const high = as === "true" ? height : Math.max(1, Math.floor(height / whole)) * whole;
    swatch.resize(wide, high);
    this.#place("", high, [swatch.canvas, this.marks]);
    swatch.draw(bytes, 0, cloth.stripes.length, laid, this.pixels, cloth.wefts?.length);
    swatch.canvas.setAttribute("aria-label", `Cloth of ${wordsOf(cloth)}`);
    this.#warp = planOf(laid.warp, this.pixels, swatch.canvas.width, swatch.startX);
    this.#weft = planOf(laid.weft, this.pixels, swatch.canvas.height, swatch.startY);
    const marked = (/** @type {Bands} */ bands, /** @type {number} */ stripe) =>
      (stripe > 0 ? segmentsOfStripe(bands, whole, stripe) : []);
    const chosen = part ?? 0;
    this.#mark(marked(laid.warp, chosen), marked(laid.weft, cloth.wefts?.length ? -chosen : chosen), wide, high);
    this.marks.style.translate = `${-swatch.startX / ratio}px ${-swatch.startY / ratio}px`;
  }

  /**
   * Dashes around a stripe, both ways, in the first repeat.
   * @param {{left: number, width: number}[]} warp CSS pixels
   * @param {{left: number, width: number}[]} weft
   * @param {number} wide
   * @param {number} high
   */
  #mark(warp, weft, wide, high) {
    const mark = (/** @type {number[]} */ [left, top, width, height]) => {
      const node = make("span", { class: "cc-band" });
      Object.assign(node.style, { left: `${left}px`, top: `${top}px`, width: `${width}px`, height: `${height}px` });
      return node;
    };
    const [x, y] = [this.swatch.startX, this.swatch.startY].map((start) => start / deviceRatio());
    this.marks.replaceChildren(
      ...warp.filter(({ left }) => left < wide + x)
        .map(({ left, width }) => mark([left, y, Math.min(width, wide + x - left), high])),
      ...weft.filter(({ left }) => left < high + y)
        .map(({ left, width }) => mark([x, left, wide, Math.min(width, high + y - left)])));
  }

  /**
   * @param {Shown} shown
   * @param {number} width
   * @param {number} height
   */
  #drawSizes({ cloth, bytes, laid }, width, height) {
    const pixels = threeSizes(screenPixels() * deviceRatio());
    const high = Math.floor((height - 3 * 20 - 2 * 8) / 3);
    const sides = [...new Set([checksIn(laid.warp), checksIn(laid.weft)])];
    const lines = this.rows.map((row, at) => {
      const size = inchWords(THREE_SIZES[at]);
      const words = `${size} check, repeat ${sides.map((checks) => inchWords(checks * THREE_SIZES[at])).join(" × ")}`;
      row.resize(width, high);
      row.draw(bytes, 0, cloth.stripes.length, laid, pixels[at], cloth.wefts?.length);
      row.canvas.setAttribute("aria-label", `Cloth of ${wordsOf(cloth)}, ${size} check`);
      return { row, words };
    });
    if (this.frame.querySelectorAll("p").length === lines.length) {
      this.frame.querySelectorAll("p").forEach((node, at) => say(node, lines[at].words));
      this.frame.style.height = `${height}px`;
      return;
    }
    this.#place("cc-rows", height, lines.map(({ row, words }) =>
      make("div", {}, row.canvas, make("p", { text: words }))));
  }

  /**
   * @param {Shown} shown
   * @param {number} width
   * @param {number} height
   */
  #drawPiece({ as, cloth, bytes, laid }, width, height) {
    const { piece } = this;
    const { fit } = this.#fitOf(as, width, height);
    const ratio = deviceRatio();
    piece.resize(fit.width / ratio, fit.height / ratio);
    const warp = coverPixels(laid.warp, fit.pixels, fit.width);
    const weft = coverPixels(laid.weft, fit.pixels, fit.height);
    const colours = coverColours(bytes, cloth.wefts?.length || cloth.stripes.length, warp.covers, weft.covers);
    weave(piece.loom.pixels, fit.width, fit.height, colours, weft.covers.length, warp.plan, weft.plan);
    const context = contextOf(piece.canvas);
    context.putImageData(piece.loom.image, 0, 0);
    sew(context, fit);
    piece.canvas.setAttribute("aria-label", `${PIECES[as].name} of ${wordsOf(cloth)}`);
    this.#place("cc-flat", height, [piece.canvas]);
  }

  /**
   * @param {string} as
   * @param {number} [width] CSS pixels there are
   * @param {number} [height]
   */
  #fitOf(as, width = this.frame.clientWidth, height = this.frame.clientHeight) {
    const text = stored(SIZE_KEY + as) || PIECES[as].size;
    const size = readPieceSize(text) ?? [60, 60];
    const room = (/** @type {number} */ side) => Math.floor((side - 2 * MARGIN) * deviceRatio());
    return { text, size, fit: fitPiece(size, this.desk.inches, room(width), room(height)) };
  }

  /**
   * @param {string} as
   * @param {Laid} laid
   */
  #sayPiece(as, { warp }) {
    const { text, size, fit } = this.#fitOf(as);
    const repeats = Number((size[0] / (checksIn(warp) * this.desk.inches)).toFixed(1));
    this.size.setAttribute("aria-label", `Size of the ${PIECES[as].name.toLowerCase()}`);
    const scale = reductionWords(fit.perInch / (screenPixels() * deviceRatio()));
    this.#showUnder({ size: text,
      words: `${scale}, ${counted(repeats, "repeat")} across` });
  }

  #typed() {
    const shown = this.#shown;
    if (!shown) return;
    const text = this.size.value.trim();
    const read = text === "" || readPieceSize(text) !== null;
    this.size.setAttribute("aria-invalid", String(!read));
    if (!read) {
      say(this.words, `“${text}” is no size that is read here: type it like ${PIECES[shown.as].size}, or in cm`);
      return;
    }
    store(SIZE_KEY + shown.as, text);
    this.size.blur();
    this.draw(shown);
  }

  #leaveSize() {
    this.size.setAttribute("aria-invalid", "false");
    this.size.blur();
    this.#sayRest();
  }
}

/**
 * The seam of the hem: dashes, dark and light by turns so that they show on any cloth.
 * @param {CanvasRenderingContext2D} context
 * @param {{width: number, height: number, hem: number}} fit
 */
function sew(context, { width, height, hem }) {
  const dash = Math.max(2, Math.round(2 * deviceRatio()));
  const inset = hem + 0.5;
  context.setLineDash([dash, dash]);
  for (const [at, colour] of ["rgb(0 0 0 / 36%)", "rgb(255 255 255 / 36%)"].entries()) {
    context.strokeStyle = colour;
    context.lineDashOffset = at * dash;
    context.strokeRect(inset, inset, width - 2 * inset, height - 2 * inset);
  }
}
