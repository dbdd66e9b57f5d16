// A swatch dragged onto a thread: the colour is tried on the stripe it is over, and left there.

import { make } from "../../shared/dom.js";

/** @import { PaletteColour } from "./palettes.js" */

const DRAG_AFTER = 4; // CSS pixels, as for a thread

/**
 * @typedef {object} Dropping
 * @property {(stripe: number, colour: PaletteColour | null) => void} over try it on a stripe (−n of the weft), or put back what was
 * @property {(stripe: number, colour: PaletteColour) => void} drop
 */

/** By mouse or pen; a finger presses swatches, and scrolls with what it drags. */
export class SwatchDrag {
  /** @type {{node: HTMLElement, colour: PaletteColour, pointer: number, x: number, y: number} | null} */
  #held = null;
  #stripe = 0;
  /** Whether the press that is under way has become a drag: the click after it is no press. */
  dragged = false;

  /** @param {Dropping} dropping */
  constructor(dropping) {
    this.dropping = dropping;
    this.ghost = make("div", { class: "cc-ghost", "aria-hidden": "true", hidden: true });
  }

  /**
   * @param {HTMLElement} node
   * @param {PaletteColour} colour
   */
  listen(node, colour) {
    node.addEventListener("pointerdown", (event) => {
      this.dragged = false;
      if (event.pointerType === "touch" || event.button !== 0) return;
      this.#held = { node, colour, pointer: event.pointerId, x: event.clientX, y: event.clientY };
      node.setPointerCapture(event.pointerId);
    });
    node.addEventListener("pointermove", (event) => this.#move(event));
    node.addEventListener("pointerup", () => this.#end(true));
    node.addEventListener("pointercancel", () => this.#end(false));
    node.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || !this.#held || !this.dragged) return;
      event.stopPropagation();
      this.#end(false);
    });
  }

  /** @param {PointerEvent} event */
  #move(event) {
    const held = this.#held;
    if (!held || event.pointerId !== held.pointer) return;
    const { clientX: x, clientY: y } = event;
    if (!this.dragged && Math.hypot(x - held.x, y - held.y) <= DRAG_AFTER) return;
    this.dragged = true;
    this.ghost.hidden = false;
    this.ghost.style.background = held.colour.hex;
    this.ghost.style.translate = `${x}px ${y}px`;
    const under = document.elementFromPoint(x, y)?.closest(".cc-thread");
    const stripe = under instanceof HTMLElement ? Number(under.dataset.stripe) : 0;
    if (stripe === this.#stripe) return;
    this.#stripe = stripe;
    this.dropping.over(stripe, stripe ? held.colour : null);
  }

  /** @param {boolean} dropped */
  #end(dropped) {
    const held = this.#held;
    this.#held = null;
    this.ghost.hidden = true;
    if (!held || !this.dragged) return;
    const stripe = this.#stripe;
    this.#stripe = 0;
    this.dropping.over(stripe, null);
    if (dropped && stripe) this.dropping.drop(stripe, held.colour);
    setTimeout(() => { this.dragged = false; });
  }
}
