// The range: its name, where it is saved, and the ranges saved beside it.

import { bytesOfCodes, laidFor } from "../shared/cloth.js";
import { button, labelled, make, say, setAttribute, textInput } from "../shared/dom.js";
import { counted } from "../shared/words.js";
import { clothsOf } from "./shelf.js";

/** @import { SentLaid } from "../shared/cloth.js" */
/** @import { Desk } from "./types.js" */

/**
 * @typedef {object} SavedRange
 * @property {string} path
 * @property {string} name
 * @property {number} kept how many
 * @property {string} when
 * @property {string} fault why it cannot be read, or ""
 * @property {number[]} [counts] stripes of its first cloths
 * @property {number[]} [wefts] stripes of the weft's own of each, or 0
 * @property {SentLaid} [laid] their check
 * @property {string[][]} [tones] their tones as hex codes, row after row
 * @property {boolean} [here] whether it is the one on the desk
 */

const SIDE = 52; // CSS pixels of a piece of cloth at most

export class RangePanel {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.opener = make("button", { type: "button", class: "cc-range-opener", "aria-expanded": "false",
      onclick: () => this.#toggle(this.root.hidden) });
    this.saved = make("span", { class: "cc-quiet cc-saved" });
    this.name = textInput("Name of the range", { placeholder: "no name yet", enter: () => this.name.blur(),
      onchange: () => {
        if (this.name.value !== this.#facts.name) desk.act("name_range", 0, { name: this.name.value });
      } });
    this.file = make("p", { class: "cc-quiet" });
    this.list = make("ul", { class: "cc-ranges", "aria-label": "Saved ranges" });
    this.none = make("p", { class: "cc-quiet", hidden: true, text: "No other range is saved here." });
    this.root = make("section", { class: "cc-range-panel", "aria-label": "The range", hidden: true,
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        this.#toggle(false);
        this.opener.focus();
      } },
    make("div", { class: "cc-row" },
      labelled("Name of the range", this.name),
      button("Start a new range", () => this.#go("new_range")),
      button("Copy this one", () => this.#go("copy_range"), { label: "Copy this one, the range" })),
    this.file, this.none, this.list);
  }

  get #facts() {
    return this.desk.model.get("facts").range ?? { name: "", file: "" };
  }

  fill() {
    const { name, file } = this.#facts;
    const { range, saved } = this.desk.model.get("facts");
    say(this.opener, name || "Range without a name");
    this.opener.classList.toggle("cc-nameless", !name);
    this.opener.hidden = !range;
    say(this.saved, saved);
    setAttribute(this.saved, "title", saved);
    if (document.activeElement !== this.name) this.name.value = name;
    say(this.file, file ? `Saved in ${file}` : "Saved once something is kept");
  }

  /** @param {boolean} open */
  #toggle(open) {
    this.root.hidden = !open;
    setAttribute(this.opener, "aria-expanded", String(open));
    if (open) this.#listSaved();
  }

  /**
   * @param {"new_range" | "copy_range" | "open_range"} what
   * @param {object} [fields]
   */
  async #go(what, fields = {}) {
    await this.desk.act(what, 0, fields);
    this.#toggle(false);
    this.opener.focus();
  }

  async #listSaved() {
    /** @type {SavedRange[]} */
    let ranges = [];
    try {
      ranges = (await this.desk.request("ranges", {}))?.ranges ?? [];
    } catch {
      // the list stays empty; the name can be changed all the same
    }
    const pieces = ranges.map(({ counts = [], wefts = [], tones = [], laid }) => counts.map((count, at) => (
      { bytes: bytesOfCodes(tones[at]), count, wefts: wefts[at], laid: laidFor(laid, count, wefts[at]) })));
    const cloths = clothsOf(pieces.flat(), SIDE);
    this.list.replaceChildren(...ranges.map((range, at) => this.#range(range, cloths.splice(0, pieces[at].length))));
    this.none.hidden = ranges.length > 0;
  }

  /**
   * A range that is saved: its first cloths, all ranges at one scale, and what it is called.
   * @param {SavedRange} range
   * @param {HTMLCanvasElement[]} cloths
   */
  #range({ path, name, kept, when, fault, here }, cloths) {
    const words = fault || `${counted(kept, "colourway")}, ${when}`;
    return make("li", { class: "cc-saved-range" },
      make("div", { class: "cc-saved-cloths" }, ...cloths),
      make("div", { class: "cc-saved-words" }, make("strong", { text: name }), make("span", { class: "cc-quiet", text: words })),
      fault ? null : here ? make("span", { class: "cc-quiet", text: "on the desk" })
        : button("Open", () => this.#go("open_range", { path }), { label: `Open ${name}, ${words}`, kind: "cc-small" }));
  }
}
