// The palettes: colours read and saved, and the colours of each palette to change or to use.

import { button, choice, make, say, setAttribute, setOptions } from "../shared/dom.js";
import { namedWords, usedWords } from "./colour_words.js";
import { partWords } from "../shared/edits.js";
import { counted } from "../shared/words.js";
import { AddColour } from "./add_colour.js";
import { Complaint } from "./hand/complaint.js";
import { textField } from "./hand/text_field.js";
import { findPart, keepFocus } from "./keep_focus.js";
import { refusalOf } from "./link.js";
import { Recolour } from "./recolour.js";
import { PastedColours } from "./pasted_colours.js";

/** @import { Desk } from "./types.js" */

/**
 * @typedef {[name: string, hex: string, role: string, used?: number, note?: string, text?: string,
 *   kept?: number[], moved?: string]} Colour
 */

/** @type {[role: string, words: string][]} */
const ROLES = [["ground", "ground"], ["stripe", "stripe"], ["", "either"]];

export class ColoursTab {
  palette = "";
  #saved = ""; // a palette that the kernel has saved, and is about to list
  #turn = 0;
  /** @type {Colour[]} of the palette that is shown */
  #colours = [];
  #focusNext = "";

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.words = make("p", { class: "cc-count" });
    this.hint = make("p", { class: "cc-quiet" });
    this.bar = make("div", { class: "cc-bar" }, this.words, this.hint, make("span", { class: "cc-spring" }));
    this.pasted = new PastedColours(desk, (palette) => {
      this.palette = this.#saved = palette;
      this.fill();
    });
    this.shown = choice("Palette shown", [], "", (palette) => {
      this.palette = palette;
      this.pasted.forget();
      this.#ask();
    });
    this.use = button("Draw from it", () => desk.change("palette", this.palette),
      { label: "Draw from it: the wall from this palette", kind: "cc-plain" });
    this.count = make("span", { class: "cc-quiet" });
    /** @type {(name: string) => void} */
    this.retry = () => {};
    this.said = new Complaint((name) => this.retry(name));
    this.recolour = new Recolour(desk, () => this.#change(""), (hex, text, name) => this.#offerPalette(hex, text, name));
    /** What kept ones hold of a colour that was changed here, or the palette of one changed in them: does it follow? */
    this.follow = make("p", { class: "cc-row cc-follow", role: "status", hidden: true });
    this.faults = make("ul", { class: "cc-faults" });
    this.body = make("tbody");
    this.one = new AddColour(desk, () => ({ palette: this.palette, count: this.#colours.length }), () => this.#ask());
    this.table = make("table", { class: "cc-colours", "aria-label": "Colours of the palette" },
      make("thead", {}, make("tr", {}, ...["Colour", "Name", "Code", "For", "Used", "Remove"].map((text) =>
        make("th", { scope: "col" }, make("span", { class: /Colour|Remove/.test(text) ? "cc-unseen" : "", text }))))),
      this.body, this.one.root);
    this.scroll = make("div", { class: "cc-panel-scroll", tabindex: "-1" }, this.pasted.root,
      make("div", { class: "cc-bar cc-palette-bar" }, this.shown.box, this.count,
        make("span", { class: "cc-spring" }), this.use), this.said.root, this.follow, this.table, this.faults);
    this.root = make("div", { class: "cc-panel cc-colours-tab" }, this.bar, this.scroll);
  }

  fill() {
    if (this.root.hidden) return;
    const { model } = this.desk;
    const facts = model.get("facts");
    const names = facts.palettes?.map(([name]) => name) ?? [...model.get("choices").palettes];
    if (this.#saved && !names.includes(this.#saved)) names.push(this.#saved);
    else this.#saved = "";
    if (!names.includes(this.palette)) this.palette = model.get("palette");
    say(this.words, counted(names.length, "palette"));
    setOptions(this.shown.select, names.map((name) => [name, name]), this.palette);
    this.faults.replaceChildren(...(facts.faults ?? []).map(([file, why]) =>
      make("li", { class: "cc-quiet", text: `${file}: left out, ${why}` })));
    this.sayHint();
    this.pasted.fill();
    this.#ask();
  }

  /** Where a colour that is pressed goes. */
  sayHint() {
    const part = this.desk.partInHand;
    say(this.hint, part === null ? "Press a stripe, then a colour"
      : `A colour pressed goes into ${part ? partWords(part).toLowerCase() : "the ground"}`);
  }

  async #ask() {
    const { palette } = this;
    const turn = (this.#turn += 1);
    /** @type {Colour[]} */
    let colours = [];
    try {
      colours = (await this.desk.request("palette", { palette }))?.colours ?? [];
    } catch (error) {
      if (turn === this.#turn) this.#complain(error);
    }
    if (turn !== this.#turn || this.root.hidden) return;
    const kept = this.desk.model.get("kept").length;
    this.#colours = colours;
    say(this.count, counted(colours.length, "colour"));
    this.desk.guard.after("palette table", () => this.#lay(() =>
      this.body.replaceChildren(...colours.flatMap((colour, index) => this.#rows(colour, index, kept, colours)))));
  }

  /** Open the change of a colour in all that hold it, or "" close it. @param {string} hex */
  #change(hex) {
    const was = this.recolour.hex;
    this.recolour.hex = hex;
    this.recolour.said.say("");
    this.#focusNext = hex ? "recolour" : `used ${was}`;
    this.#ask();
  }

  /** @param {string} part of the table, or "recolour" */
  #moveFocus(part) {
    const { recolour } = this;
    const node = part === "recolour" ? recolour.swatches.querySelector("button") ?? recolour.field : findPart(this.body, part);
    (node ?? this.shown.select).focus({ preventScroll: true });
  }

  /**
   * @param {Colour} colour
   * @param {number} index
   * @param {number} kept
   * @param {Colour[]} colours
   */
  #rows(colour, index, kept, colours) {
    const row = this.#row(colour, index, kept);
    if (!this.recolour.hex || colour[1] !== this.recolour.hex || !colour[3]) return [row];
    this.recolour.fill(this.palette, colours);
    return [row, make("tr", { class: "cc-recolour-row" }, make("td", { colspan: 6 }, this.recolour.root))];
  }

  /** @param {() => void} lay */
  #lay(lay) {
    const next = this.#focusNext;
    this.#focusNext = "";
    if (next) {
      lay();
      this.#moveFocus(next);
    } else keepFocus(this.body, lay, () => this.body.querySelector("tr:last-child [data-part]") ?? this.shown.select);
  }

  /**
   * @param {Colour} colour
   * @param {number} index
   * @param {number} kept
   */
  #row([name, hex, role, used, , , , moved = ""], index, kept) {
    const named = namedWords(name, hex, moved);
    const swatch = make("button", { type: "button", class: "cc-colour", "data-part": `swatch ${index}`,
      "aria-label": `Put ${named} into the chosen part`, title: named,
      onclick: () => this.desk.putInHand(this.palette, index, { name, hex }) });
    swatch.style.background = hex;
    const { select } = choice(`Use of ${name}`, ROLES, ROLES.some(([key]) => key === role) ? role : "",
      (text) => this.#edit(index, "role", text));
    select.dataset.part = `role ${index}`;
    const remove = button("Remove", () => this.#edit(index, "remove", ""),
      { label: `Remove ${name}`, kind: "cc-plain" });
    remove.dataset.part = `remove ${index}`;
    const cell = (/** @type {Node | string} */ inside) => make("td", {}, inside);
    return make("tr", {}, cell(swatch), cell(this.#field(`Name of ${name}`, name, index, "name")),
      this.#code(name, hex, index, moved), cell(select),
      cell(used ? this.#usedButton(name, hex, used, kept) : usedWords(used, kept)), cell(remove));
  }

  /**
   * The code of a colour; of one that no screen shows, also how far off it is shown.
   * @param {string} name
   * @param {string} hex
   * @param {number} index
   * @param {string} moved
   */
  #code(name, hex, index, moved) {
    const field = this.#field(`Code of ${name}`, hex, index, "colour");
    return make("td", {}, field, ...moved ? [make("p", { class: "cc-quiet", text: moved })] : []);
  }

  /**
   * @param {string} name
   * @param {string} hex
   * @param {number} used
   * @param {number} kept
   */
  #usedButton(name, hex, used, kept) {
    const open = this.recolour.hex === hex;
    const node = button(usedWords(used, kept), () => this.#change(open ? "" : hex),
      { label: `${name}, used in ${usedWords(used, kept)} kept: change it in all`, kind: "cc-plain" });
    setAttribute(node, "aria-expanded", String(open));
    node.dataset.part = `used ${hex}`;
    return node;
  }

  /**
   * @param {string} label
   * @param {string} value
   * @param {number} index
   * @param {"name" | "colour"} field
   */
  #field(label, value, index, field) {
    return textField(label, { known: () => value, change: (text) => this.#edit(index, field, text) },
      { value, "data-part": `${field} ${index}` });
  }

  /**
   * @param {number} index
   * @param {"name" | "colour" | "role" | "remove"} field
   * @param {string} text
   */
  async #edit(index, field, text) {
    this.said.say("");
    this.retry = (name) => this.#edit(index, field, name);
    this.follow.hidden = true;
    try {
      const { old = "", kept = [] } = await this.desk.request("edit_palette", { palette: this.palette, index, field, text }) ?? {};
      if (field === "colour" && kept.length) this.#offerFollow(old, index, kept.length);
    } catch (error) {
      this.#complain(error);
    }
    this.#ask();
  }

  /**
   * Kept ones hold their own colours: they follow a palette when they are told.
   * @param {string} old
   * @param {number} index
   * @param {number} many
   */
  #offerFollow(old, index, many) {
    const { palette } = this;
    this.#offer(`${many} kept ${many === 1 ? "has" : "have"} the old ${old}.`, many === 1 ? "Change it too" : "Change them too",
      () => this.desk.act("recolour", 0, { from: old, palette, index }));
  }

  /**
   * A colour was changed in what is kept; the palette that it came from follows when it is told.
   * @param {string} hex
   * @param {string} text
   * @param {string} name
   */
  #offerPalette(hex, text, name) {
    const { palette } = this;
    const index = this.#colours.findIndex(([, code]) => code === hex);
    const other = this.#colours.some(([one]) => one.toLowerCase() === text.toLowerCase()); // is in it already
    if (index < 0 || other) return;
    this.#offer(`${palette} has ${this.#colours[index][0]} ${hex} still.`, "Change it there too", async () => {
      await this.#edit(index, "colour", text);
      if (name) await this.#edit(index, "name", name);
    });
  }

  /**
   * @param {string} words
   * @param {string} text of the button
   * @param {() => Promise<void>} follow
   */
  #offer(words, text, follow) {
    this.follow.replaceChildren(make("span", { text: words }), button(text, async () => {
      await follow();
      this.follow.hidden = true;
    }, { kind: "cc-small" }));
    this.follow.hidden = false;
  }

  /** @param {unknown} error */
  #complain(error) {
    const { words, near } = refusalOf(error);
    this.said.say(words, near);
  }

  close() {
    this.pasted.close();
  }
}
