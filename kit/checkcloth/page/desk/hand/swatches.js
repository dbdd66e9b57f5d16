// The colours of a palette to choose from: pointing or an arrow key tries one on the cloth,
// leaving or Escape puts back what was, a press, Enter or Space takes it.

import { make, say, setAttribute } from "../../shared/dom.js";
import { arrowStep } from "./radios.js";
import { SwatchDrag } from "./swatch_drag.js";

/** @import { Cloth, Colour } from "../../shared/edits.js" */
/** @import { PaletteColour } from "./palettes.js" */
/** @import { Dropping } from "./swatch_drag.js" */

const MANY = 60; // colours from which on a name can be looked for

/**
 * @typedef {object} Trying
 * @property {(colour: PaletteColour | null) => void} attempt show it on the cloth, or put back what was
 * @property {(colour: PaletteColour) => void} take
 */

export class Swatches {
  /** @type {PaletteColour[]} */
  #colours = [];
  /** @type {HTMLButtonElement[]} */
  #nodes = [];
  #palette = "";
  #current = "";
  #inWeft = false;
  #tried = false;

  /**
   * @param {Trying} trying
   * @param {Dropping} dropping
   */
  constructor(trying, dropping) {
    this.trying = trying;
    this.drag = new SwatchDrag(dropping);
    this.find = make("input", { type: "search", class: "cc-input", "aria-label": "Find a colour by its name",
      placeholder: "find a colour", hidden: true, oninput: () => this.#filter(),
      onkeydown: (/** @type {KeyboardEvent} */ event) => event.key !== "Escape" && event.stopPropagation() });
    this.group = make("div", { class: "cc-swatches", role: "radiogroup",
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event),
      onfocusout: (/** @type {FocusEvent} */ event) => {
        if (!this.#nodes.some((node) => node === event.relatedTarget)) this.#attempt(null);
      },
      onpointerleave: () => this.#attempt(null) });
    this.root = make("div", { class: "cc-swatch-box" }, this.find, this.group, this.drag.ghost);
  }

  /**
   * @param {string} palette name
   * @param {PaletteColour[]} colours in the order they are shown in
   * @param {Cloth} cloth
   * @param {string} current hex code of the part that is chosen
   * @param {boolean} [inWeft] whether that is a stripe of the weft
   */
  fill(palette, colours, cloth, current, inWeft = false) {
    this.#inWeft = inWeft;
    const key = JSON.stringify([palette, colours]);
    if (key !== this.#palette) {
      this.#palette = key;
      this.#colours = colours;
      setAttribute(this.group, "aria-label", `Colours of ${palette}`);
      this.#nodes = colours.map((colour) => this.#make(colour));
      this.group.replaceChildren(...this.#nodes);
      this.find.hidden = colours.length <= MANY;
    }
    this.#current = current;
    const at = colours.findIndex(({ hex }) => hex === current);
    colours.forEach((colour, index) => this.#show(this.#nodes[index], colour, cloth, index === at));
    const focused = this.#nodes.findIndex((node) => node === document.activeElement);
    this.#stop(focused < 0 ? at : focused);
  }

  /** @param {PaletteColour | null} colour */
  #attempt(colour) {
    if (!colour && !this.#tried) return;
    this.#tried = colour !== null;
    this.trying.attempt(colour);
  }

  /** @param {PaletteColour} colour */
  #make(colour) {
    const node = make("button", { type: "button", role: "radio", class: "cc-swatch",
      onclick: () => this.#take(colour),
      onfocus: () => this.#stop(this.#nodes.indexOf(node)),
      onpointerenter: (/** @type {PointerEvent} */ event) => {
        if (event.pointerType !== "touch" && !event.buttons) this.#attempt(colour);
      } }, make("span", { "aria-hidden": "true" }));
    node.style.background = colour.hex;
    this.drag.listen(node, colour);
    return node;
  }

  /**
   * @param {HTMLButtonElement} node
   * @param {PaletteColour} colour
   * @param {Cloth} cloth
   * @param {boolean} checked
   */
  #show(node, { name, hex }, cloth, checked) {
    const numbers = (/** @type {Colour[] | undefined} */ row) => (row ?? []).flatMap((stripe, at) => stripe.hex === hex ? [at + 1] : []);
    const [warp, weft] = [numbers(cloth.stripes), numbers(cloth.wefts)];
    const words = (/** @type {number[]} */ all, /** @type {string} */ way) =>
      all.length ? [`${way}${all.length === 1 ? "stripe" : "stripes"} ${all.join(", ")}`] : [];
    const now = [...words(warp, ""), ...words(weft, "weft ")];
    const where = now.length ? `, now ${now.join(" and ")}` : cloth.ground.hex === hex ? ", now the ground" : "";
    const stripes = this.#inWeft ? weft : warp; // seen are those of the way in hand
    setAttribute(node, "aria-checked", String(checked));
    setAttribute(node, "aria-label", `${name} ${hex}${where}`);
    setAttribute(node, "title", `${name} ${hex}${where}`);
    const number = /** @type {HTMLElement} */ (node.firstElementChild);
    say(number, stripes.length > 2 ? `${stripes[0]}…` : stripes.join(" "));
    number.hidden = !stripes.length;
  }

  /** The one stop of the tab key. @param {number} at */
  #stop(at) {
    this.#nodes.forEach((node, index) => { node.tabIndex = index === Math.max(0, at) ? 0 : -1; });
  }

  /** Give the focus to the colour that is chosen; false while there are none. */
  focus() {
    const node = this.#nodes.find(({ tabIndex }) => tabIndex === 0);
    node?.focus({ preventScroll: true });
    return node !== undefined;
  }

  /** @param {PaletteColour} colour */
  #take(colour) {
    this.#attempt(null);
    if (!this.drag.dragged && colour.hex !== this.#current) this.trying.take(colour);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const at = this.#nodes.findIndex((node) => node === document.activeElement);
    const step = arrowStep(event);
    const shown = this.#nodes.map((_, index) => index).filter((index) => !this.#nodes[index].hidden);
    if (step && at >= 0 && !event.shiftKey) {
      const next = shown[(shown.indexOf(at) + step + shown.length) % shown.length];
      this.#nodes[next].focus();
      this.#attempt(this.#colours[next]);
    } else if (event.key === "Escape" && this.#tried) {
      this.#attempt(null);
      this.#nodes[this.#colours.findIndex(({ hex }) => hex === this.#current)]?.focus();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  #filter() {
    const text = this.find.value.trim().toLowerCase();
    this.#nodes.forEach((node, at) => { node.hidden = !this.#colours[at].name.toLowerCase().includes(text); });
  }
}
