// Fields of an export: each knows what it is called, shows what the kernel holds, and sends what is typed.

import { labelled, make, say, setAttribute, textInput } from "../../shared/dom.js";
import { hasCells } from "../../shared/host.js";
import { errorWords } from "../../shared/words.js";
import { Changes } from "./changes.js";

/** @import { Desk } from "../types.js" */

/** @typedef {string | boolean} Value */

/**
 * What a field is: a text with an example, a choice, or a tick.
 * @typedef {object} Kind
 * @property {string} label
 * @property {string} [onPage] the label where there is no notebook around it
 * @property {string} [hint] an example, in the empty field
 * @property {[value: string, words: string][]} [choices]
 * @property {boolean} [tick]
 */

/** @type {Record<string, Kind>} */
const FIELDS = {
  name: { label: "Name of the set, on its sheets", hint: "Tea tables, first round" },
  folder: { label: "Folder, beside this notebook", onPage: "Folder, where the desk runs", hint: "out/tea-table" },
  zipped: { label: "as one zip file too", tick: true },
  keep_other_sizes: { label: "but keep its files of other check sizes", tick: true },
  title: { label: "Title, on page and sheet", hint: "the name of the set" },
  note: { label: "Note to the client", hint: "none" },
  reference: { label: "Reference", hint: "made from the range" },
  date: { label: "Date", hint: "27 November 2026" },
  client_sizes: { label: "Check sizes to choose from", hint: "1/4 in, 1 in" },
  client_strengths: { label: "Strengths to choose from, %", hint: "30, 50, 70" },
  codes: { label: "show the colours' codes", tick: true },
  paper: { label: "Specification sheet", choices: [["A4", "A4"], ["Letter", "US Letter"], ["", "none"]] },
  width: { label: "Cloth, width", hint: "60 in, 150 cm" },
  length: { label: "Cloth, length", hint: "10 in, 50 cm" },
  cut: { label: "Cut the cloth", choices: [["", "in whole repeats"], ["cut", "to exactly this size"]] },
  resolutions: { label: "Resolution, dpi", hint: "150, 300" },
  sizes: { label: "The same at other check sizes", hint: "1/4 in, 1 in, 2 cm" },
  plates: { label: "Plates", choices: [["", "none"], ["colours", "one a colour, with tints"], ["tones", "one a tone, solid"]] },
  bias: { label: "and on the bias: turned by 45°, as a square that tiles", tick: true },
  families: { label: "a sheet of each one's family: fewer stripes, a stripe, plains", tick: true },
  least_dpi: { label: "Resolution, at least, dpi", hint: "150" },
  most_dpi: { label: "Resolution, at most, dpi", hint: "600" },
  colour_space: { label: "Colour space", hint: "sRGB" },
  megabytes: { label: "File, at most, MB", hint: "100" },
  side: { label: "Pixels a side, at most", hint: "20000" },
  cloth_width: { label: "Width of its cloth", hint: "the cloth's, or 150 cm" },
  screens: { label: "Rotary screens, round", hint: "64 cm, 82 cm, or none" },
  stretch: { label: "Stretch to fit a screen, %", hint: "0.5" },
  strike_off: { label: "Strike-off, a side", hint: "20 cm" },
  threads: { label: "Threads a band, at least", hint: "2" },
  difference: { label: "Tones apart, ΔE00 at least", hint: "2" },
  press: { label: "ICC profile of the press, its path", hint: "profiles/press.icc" },
  intent: { label: "Rendering intent", choices: ["perceptual", "relative colorimetric", "saturation", "absolute colorimetric"]
    .map((intent) => /** @type {[string, string]} */ ([intent, intent])) },
  black_point: { label: "black-point compensation", tick: true },
  condition: { label: "Print condition (CGATS), its path", hint: "profiles/halt-press.txt" },
  ends: { label: "Ends", hint: "64 per in, 24 per cm" },
  picks: { label: "Picks", hint: "as the ends" },
  warp_take_up: { label: "Warp take-up, %", hint: "8" },
  weft_take_up: { label: "Weft take-up, %", hint: "6" },
  waste: { label: "Waste, %", hint: "5" },
  thumbnails: { label: "Pictures, pixels a side", hint: "none" },
};

let fields = 0;

export class Field {
  /**
   * @param {Desk} desk
   * @param {string} name
   * @param {string} where whose section it stands in, where it stands in several
   */
  constructor(desk, name, where = "") {
    this.desk = desk;
    this.name = name;
    this.changes = new Changes(desk, () => this.#show(), (error) => this.complain(errorWords(error)));
    const { label, onPage, hint, choices, tick } = FIELDS[name];
    const words = onPage && !hasCells(document) ? onPage : label;
    const send = () => this.#send();
    this.error = make("p", { class: "cc-field-said", role: "alert", id: `cc-wrong-${(fields += 1)}`, hidden: true });
    const common = { "data-part": `${name} ${where}`.trim(), "aria-describedby": this.error.id, onchange: send };
    if (choices) {
      this.input = make("select", { class: "cc-select", ...common }, ...choices.map(([value, text]) => make("option", { value, text })));
    } else if (tick) this.input = make("input", { type: "checkbox", ...common });
    else {
      this.input = textInput(words, { maxlength: 2000, placeholder: hint, ...common, enter: send, escape: () => {
        this.input.value = String(this.#held ?? "");
        send();
      } });
    }
    this.root = make("div", { class: "cc-export-field" },
      tick ? make("label", { class: "cc-check" }, this.input, make("span", { text: words })) : labelled(words, this.input), this.error);
  }

  get #held() {
    return this.desk.model.get("export")[this.name];
  }

  /** @returns {Value} */
  get value() {
    const { input } = this;
    if (input.type === "checkbox") return /** @type {HTMLInputElement} */ (input).checked;
    return this.name === "cut" ? input.value === "cut" : input.value;
  }

  /** @param {Record<string, string>} faults by field */
  fill(faults) {
    this.changes.show();
    this.complain(faults[this.name] ?? "");
  }

  #show() {
    const held = this.#held;
    const { input } = this;
    if (input.type === "checkbox") /** @type {HTMLInputElement} */ (input).checked = Boolean(held);
    else if (document.activeElement !== input || input.tagName === "SELECT") {
      input.value = typeof held === "boolean" ? (held ? this.name : "") : String(held ?? "");
    }
  }

  /** @param {string} words what is wrong with it, "" nothing */
  complain(words) {
    say(this.error, words);
    this.error.hidden = !words;
    setAttribute(this.input, "aria-invalid", String(Boolean(words)));
  }

  get wrong() {
    return !this.error.hidden;
  }

  #send() {
    const { value } = this;
    if (value !== this.#held || this.changes.unanswered) this.changes.send({ [this.name]: value });
  }
}
