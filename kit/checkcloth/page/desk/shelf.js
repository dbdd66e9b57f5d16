// The kept colourways, in the designer's order.

import { floatsOf } from "../shared/binary.js";
import { pixelsForRepeat } from "../shared/cloth.js";
import { button, make, say } from "../shared/dom.js";
import { Swatch } from "../shared/swatch.js";
import { keptTones } from "./tones.js";

/** @import { Desk, KeptCard } from "./types.js" */

const SIDE = 96; // CSS pixels of a piece of cloth

export class Shelf {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.count = make("h3", { class: "cc-title" });
    this.list = make("ol", { class: "cc-kept" });
    this.saved = make("p", { class: "cc-quiet" });
    this.empty = make("p", { class: "cc-quiet",
      text: "Nothing kept yet. Tick a colourway, or press K on it." });
    this.root = make("section", { class: "cc-shelf", "aria-label": "Kept colourways" },
      make("header", { class: "cc-shelf-head" }, this.count, this.saved), this.empty, this.list);
  }

  fill() {
    const { model } = this.desk;
    const kept = model.get("kept");
    const tones = keptTones(kept, floatsOf(model.get("kept_colours")));
    say(this.count, `Kept: ${kept.length}`);
    say(this.saved, model.get("facts").saved || "");
    this.empty.hidden = kept.length > 0;
    this.#keepFocus(() => this.list.replaceChildren(...kept.map((card, index) =>
      this.#card(card, index, kept.length, tones[index]))));
  }

  /**
   * Lay the cards anew; the focus stays on the same part of the same card, with what is typed.
   * @param {() => void} lay
   */
  #keepFocus(lay) {
    const focused = /** @type {HTMLElement | null} */ (this.list.querySelector(":focus"));
    const number = focused?.closest(".cc-kept-one")?.getAttribute("data-number");
    lay();
    if (!focused) return;
    const same = this.list.querySelector(
      `[data-number="${number}"] [data-part="${focused.dataset.part}"]`);
    const next = same ?? this.list.querySelector("[data-part]");
    if (same instanceof HTMLInputElement && focused instanceof HTMLInputElement) {
      same.value = focused.value;
    }
    if (next instanceof HTMLElement) next.focus({ preventScroll: true });
  }

  /**
   * @param {KeptCard} card
   * @param {number} index
   * @param {number} total
   * @param {Uint8Array} tones
   */
  #card(card, index, total, tones) {
    const { desk } = this;
    const words = (/** @type {string} */ text, /** @type {string} */ kind) =>
      make("p", { class: `cc-kept-words ${kind}`, text, title: text });
    return make("li", { class: "cc-kept-one", "data-number": card.number, draggable: "true",
      ondragstart: (/** @type {DragEvent} */ event) =>
        event.dataTransfer?.setData("text/plain", String(card.number)),
      ondragover: (/** @type {DragEvent} */ event) => event.preventDefault(),
      ondrop: (/** @type {DragEvent} */ event) => this.#drop(event, index) },
    this.#cloth(card, index, tones), this.#name(card), words(card.words, ""),
    card.note ? words(card.note, "cc-kept-note") : null,
    make("div", { class: "cc-row cc-tight" },
      small("←", `Move ${card.title} earlier`, () => this.#move(card.number, index - 1), index === 0),
      small("→", `Move ${card.title} later`, () => this.#move(card.number, index + 1), index === total - 1),
      small("Beside", `Lay ${card.title} beside others`, () => desk.act("compare", card.number)),
      small("Drop", `Drop ${card.title}`, () => desk.act("drop", card.number))));
  }

  /**
   * @param {KeptCard} card
   * @param {number} index
   * @param {Uint8Array} tones
   */
  #cloth(card, index, tones) {
    const { desk } = this;
    const bands = desk.bands(card.count);
    const swatch = new Swatch(SIDE, SIDE, "");
    swatch.draw(tones, 0, card.count, bands, pixelsForRepeat(bands, swatch.canvas.width));
    const letter = desk.letterOf(card.number);
    return make("button", { type: "button", class: "cc-kept-cloth", "data-part": "cloth",
      "aria-label": `Look at ${card.title}`, "aria-description": card.words, title: card.words,
      onclick: () => desk.lookAt(card.number),
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
        if (step && event.shiftKey) {
          event.preventDefault();
          this.#move(card.number, index + step);
        } else if (event.key === "Delete") desk.act("drop", card.number);
      } }, swatch.canvas, letter ? make("span", { class: "cc-letter", text: letter }) : null);
  }

  /** @param {KeptCard} card */
  #name(card) {
    const input = make("input", { type: "text", class: "cc-input", maxlength: 500,
      placeholder: "name", value: card.name, "aria-label": `Name of ${card.title}`,
      "data-part": "name", autocomplete: "off",
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        if (event.key === "Escape") input.value = card.name;
        else if (event.key !== "Enter") return;
        event.preventDefault();
        input.blur();
      },
      onchange: () => {
        if (input.value !== card.name) this.desk.act("name", card.number, { text: input.value });
      } });
    return input;
  }

  /**
   * @param {number} number
   * @param {number} index
   */
  #move(number, index) {
    this.desk.act("move", number, { place: index });
  }

  /**
   * @param {DragEvent} event
   * @param {number} index
   */
  #drop(event, index) {
    event.preventDefault();
    const number = Number(event.dataTransfer?.getData("text/plain"));
    if (this.desk.model.get("kept").some((card) => card.number === number)) this.#move(number, index);
  }
}

/**
 * @param {string} text
 * @param {string} label
 * @param {() => unknown} act
 * @param {boolean} [off]
 */
function small(text, label, act, off = false) {
  const node = button(text, act, { label, kind: "cc-small" });
  node.disabled = off;
  node.dataset.part = text;
  return node;
}
