// Colour fields: a name or a code is typed, or a swatch pressed, which goes to the field last touched.

import { make, say, setAttribute } from "../shared/dom.js";
import { hexOf } from "./colours.js";

/** @import { ColourBook } from "./colours.js" */
/** @import { Rgb } from "./types.js" */
/** @typedef {{key: string, label: string, name: string, rgb: Rgb}} Field */

/** @type {Record<string, number>} */
const STEPS = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 };
const FEW = 14; // more go on one line of a projector only if smaller
let made = 0;

export class ColourFields {
  /** @type {Map<string, {node: HTMLElement, block: HTMLElement, input: HTMLInputElement}>} */
  #boxes = new Map();

  /**
   * @param {Field[]} fields
   * @param {ColourBook} book
   * @param {(key: string, name: string, rgb: Rgb) => void} onpick
   */
  constructor(fields, book, onpick) {
    this.fields = fields;
    this.book = book;
    this.onpick = onpick;
    this.here = fields[0].key;
    this.wrong = make("p", { class: "cl-wrong", role: "alert", id: `cl-wrong-${++made}` });
    this.lead = make("span", { class: "cl-lead" });
    this.buttons = book.swatches.map(([name, rgb]) => this.#swatch(name, rgb));
    this.swatches = make("div", { class: "cl-swatches", role: "radiogroup",
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event) }, ...this.buttons);
    this.root = make("div", { class: "cl-colours" },
      make("div", { class: "cl-fields" }, ...fields.map((field) => this.#box(field))),
      make("div", { class: "cl-offer", "data-many": book.swatches.length > FEW }, this.lead, this.swatches), this.wrong);
    this.#mark();
  }

  /** @param {Field} field */
  #box(field) {
    const block = make("i", { "aria-hidden": "true" });
    const input = make("input", { class: "cl-input", type: "text", value: field.name, spellcheck: "false",
      autocomplete: "off", maxlength: 60, "aria-describedby": this.wrong.id,
      onfocus: () => this.#touch(field.key), onchange: () => this.#typed(field) });
    block.style.background = hexOf(field.rgb);
    const node = make("label", { class: "cl-field" }, make("span", { text: field.label }), make("span", {}, block, input));
    this.#boxes.set(field.key, { node, block, input });
    return node;
  }

  /**
   * @param {string} name
   * @param {Rgb} rgb
   */
  #swatch(name, rgb) {
    const node = make("button", { type: "button", role: "radio", "aria-label": name, title: name,
      onclick: () => this.put(this.here, name, rgb) });
    node.style.background = hexOf(rgb);
    return node;
  }

  /** @param {string} key */
  #touch(key) {
    this.here = key;
    this.#mark();
  }

  /** @param {Field} field */
  #typed(field) {
    const { input } = this.#box_(field.key);
    const found = this.book.read(input.value);
    if (found) {
      this.put(field.key, found.name, found.rgb);
      return;
    }
    say(this.wrong, this.book.complaint(input.value));
    setAttribute(input, "aria-invalid", "true");
  }

  /** @param {string} key */
  #box_(key) {
    return /** @type {{node: HTMLElement, block: HTMLElement, input: HTMLInputElement}} */ (this.#boxes.get(key));
  }

  /**
   * @param {string} key
   * @param {string} name
   * @param {Rgb} rgb
   */
  put(key, name, rgb) {
    const field = /** @type {Field} */ (this.fields.find((one) => one.key === key));
    Object.assign(field, { name, rgb });
    const { block, input } = this.#box_(key);
    block.style.background = hexOf(rgb);
    input.value = name;
    input.removeAttribute("aria-invalid");
    say(this.wrong, "");
    this.#mark();
    this.onpick(key, name, rgb);
  }

  /** Which field the swatches fill, and which swatch it has. */
  #mark() {
    const now = /** @type {Field} */ (this.fields.find(({ key }) => key === this.here));
    for (const [key, { node }] of this.#boxes) node.classList.toggle("cl-here", key === this.here);
    say(this.lead, `${now.label}:`);
    setAttribute(this.swatches, "aria-label", `Swatches for ${now.label}`);
    const chosen = this.book.swatches.findIndex(([name]) => name.toLowerCase() === now.name.toLowerCase());
    this.buttons.forEach((node, at) => {
      setAttribute(node, "aria-checked", String(at === chosen));
      node.tabIndex = at === Math.max(chosen, 0) ? 0 : -1;
    });
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const step = event.altKey || event.ctrlKey || event.metaKey ? 0 : STEPS[event.key] ?? 0;
    if (!step) return;
    event.preventDefault();
    event.stopPropagation();
    const at = this.buttons.findIndex((node) => node === event.target);
    const next = this.buttons[(at + step + this.buttons.length) % this.buttons.length];
    next.click();
    next.focus();
  }
}
