// The tray for a colour: what it is, where its stripe goes, what else it could be.

import { button, choice, make, say, setAttribute, setOptions, textInput, tick } from "../../shared/dom.js";
import { addStripe, colourOf, letStay, partWords, putColour, rowOf, swapStripes } from "../../shared/edits.js";
import { Complaint } from "./complaint.js";
import { NudgeSliders } from "./nudge_sliders.js";
import { Swatches } from "./swatches.js";

/** @import { Cloth } from "../../shared/edits.js" */
/** @import { HandState } from "./hand.js" */
/** @import { PaletteColour } from "./palettes.js" */

/** @param {string} text @param {() => unknown} act @param {string} label @param {string} [keys] */
function plain(text, act, label, keys) {
  return button(text, act, { label, keys, kind: "cc-plain" });
}

export class ColourTray {
  part = 0;
  /** The palette that swatches are from, "" for the desk's. */
  #palette = "";

  /** @param {HandState} hand */
  constructor(hand) {
    this.hand = hand;
    this.chip = make("span", { class: "cc-chip", "aria-hidden": "true" });
    this.title = make("span", {});
    this.code = make("span", { class: "cc-quiet cc-code" });
    this.earlier = plain("Earlier", () => this.#move(-1), "Move this stripe earlier", "Alt+ArrowLeft");
    this.later = plain("Later", () => this.#move(1), "Move this stripe later", "Alt+ArrowRight");
    this.copy = plain("Copy", () => this.#copy(), "Copy this stripe, once more");
    this.remove = plain("Remove", () => this.hand.stripOf(this.part).remove(this.number), "Remove this stripe", "Delete");
    this.swap = make("select", { class: "cc-select", "aria-label": "Swap this stripe with",
      onchange: () => this.#swap(this.way * Number(this.swap.value)) });
    this.stays = tick("Stays", (stays) => this.hand.act("stays", { part: this.part, stays }, { edit: (cloth) => letStay(cloth, this.part, stays) }),
      "New draws leave this colour alone");
    const acts = make("div", { class: "cc-tray-acts" }, this.earlier, this.later, this.copy, this.remove, this.swap,
      make("span", { class: "cc-spring" }), this.stays.box);
    this.swatches = new Swatches({
      attempt: (colour) => this.hand.try(colour && ((cloth) => putColour(cloth, this.part, colour))),
      take: (colour) => this.#take(colour, this.part),
    }, {
      over: (stripe, colour) => this.hand.try(colour && ((cloth) => putColour(cloth, stripe, colour))),
      drop: (stripe, colour) => this.#take(colour, stripe),
    });
    this.field = this.#layField();
    this.said = new Complaint((name) => this.#typed(name));
    this.from = choice("Swatches from", [], "", (name) => {
      this.#palette = name;
      this.fill();
    });
    this.nudges = new NudgeSliders((nudge, steps, colour) => this.hand.act("nudge",
      { part: this.part, axis: nudge.axis, steps }, { edit: this.#putting(colour) }));
    this.root = make("section", { class: "cc-tray", "aria-label": "Colour" },
      make("div", { class: "cc-tray-head" }, make("h3", {}, this.chip, this.title), this.code,
        make("span", { class: "cc-spring" }),
        plain("Done", () => this.hand.done(), "Done with this colour", "Escape")),
      acts, this.swatches.root,
      make("div", { class: "cc-two" }, this.field.box, this.from.box), this.said.root, this.nudges.root);
  }

  #layField() {
    const input = textInput("Code or name", { placeholder: "#c09fd4 or plum", spellcheck: "false",
      oninput: () => this.#typing(), onblur: () => this.hand.try(null), enter: () => this.#typed(), escape: () => this.#clear() });
    const use = plain("Use", () => this.#typed(), "Use this code or name");
    use.hidden = true;
    const box = make("div", { class: "cc-field" }, make("span", { "aria-hidden": "true", text: "Code or name" }),
      make("span", { class: "cc-typed" }, input, use));
    return { input, use, box };
  }

  /** Which stripe of its way. */
  get number() {
    return Math.abs(this.part);
  }

  /** 1 in the warp, −1 in the weft. */
  get way() {
    return this.part < 0 ? -1 : 1;
  }

  /** @param {number} step */
  #move(step) {
    this.hand.stripOf(this.part).move(this.number, this.number + step);
  }

  /** @param {number} part 0 the ground, a stripe, or −n of the weft */
  show(part) {
    if (part !== this.part) {
      this.field.input.value = "";
      this.field.use.hidden = true;
      this.complain("");
    }
    this.part = part;
    this.fill();
  }

  focus() {
    if (!this.swatches.focus()) this.field.input.focus({ preventScroll: true });
  }

  fill() {
    const { cloth } = this.hand;
    const colour = cloth && colourOf(cloth, this.part);
    if (!cloth || !colour) return;
    this.chip.style.background = colour.hex;
    const words = partWords(this.part);
    say(this.title, `${words}: ${colour.name}`);
    say(this.code, colour.name === colour.hex ? "" : colour.hex);
    setAttribute(this.root, "aria-label", `Colour of ${words.toLowerCase()}`);
    this.stays.input.checked = colour.stays;
    this.#fillActs(cloth);
    this.#fillSwatches(cloth, colour.hex);
    this.nudges.fill(colour);
    this.hand.prepare(this.nudges.hexes);
  }

  /** @param {Cloth} cloth */
  #fillActs(cloth) {
    const row = rowOf(cloth, this.part);
    const many = row.length;
    const { part, number } = this;
    this.stays.box.hidden = part < 0; // draws have no weft that stays
    for (const node of [this.earlier, this.later, this.swap]) node.hidden = !part || many === 1;
    for (const node of [this.copy, this.remove]) node.hidden = !part;
    switchOff(this.earlier, number === 1);
    switchOff(this.later, number === many);
    switchOff(this.remove, many === 1, "The only stripe: a check has one at least");
    setOptions(this.swap, [["", "Swap…"], ...row.map(({ name }, at) => [String(at + 1), `${at + 1} ${name}`])
      .filter((_, at) => at + 1 !== number)], "");
  }

  /**
   * @param {Cloth} cloth
   * @param {string} hex
   */
  #fillSwatches(cloth, hex) {
    const palettes = this.hand.palettes;
    const name = palettes.includes(this.#palette) ? this.#palette : this.hand.palette;
    setOptions(this.from.select, (palettes.includes(name) ? palettes : [name, ...palettes]).map((one) => [one, one]), name);
    const fits = (/** @type {PaletteColour} */ { role }) => role === (this.part ? "stripe" : "ground") ? 0 : 1;
    const colours = this.hand.coloursOf(name).toSorted((one, other) => fits(one) - fits(other));
    this.swatches.fill(name, colours, cloth, hex, this.part < 0);
    this.hand.prepare(colours.map((colour) => colour.hex));
  }

  /**
   * @param {PaletteColour} colour
   * @param {number} part
   */
  #take(colour, part) {
    this.hand.act("colour", { part, palette: this.from.select.value, index: colour.index },
      { edit: this.#putting(colour, part) });
  }

  /**
   * @param {{name: string, hex: string}} colour
   * @param {number} [part]
   * @returns {(cloth: Cloth) => Cloth}
   */
  #putting({ name, hex }, part = this.part) {
    return (cloth) => putColour(cloth, part, { name, hex });
  }

  #copy() {
    const { part, number } = this;
    const at = part + this.way;
    this.hand.act("copy_stripe", { stripe: part }, { part: at,
      edit: (cloth) => addStripe(cloth, at, rowOf(cloth, part)[number - 1]) });
  }

  /** @param {number} to */
  #swap(to) {
    const { part } = this;
    if (!to) return;
    this.hand.act("swap", { first: part, second: to }, { part: to,
      edit: (cloth) => swapStripes(cloth, part, to) });
  }

  // -- a typed colour ----------------------------------------------------------------------------

  /** @param {string} text @returns {{name: string, hex: string} | null} what the page makes of it */
  #read(text) {
    const wanted = text.trim().toLowerCase();
    const named = this.hand.coloursOf(this.from.select.value).find(({ name }) => name.toLowerCase() === wanted);
    if (named) return named;
    const hex = cssHex(wanted);
    return hex ? { name: text.trim(), hex } : null;
  }

  #typing() {
    const text = this.field.input.value;
    const colour = this.#read(text);
    this.field.use.hidden = !text.trim();
    this.complain("");
    this.hand.try(colour && this.#putting(colour));
  }

  /** @param {string} [name] one that may have been meant */
  #typed(name) {
    const { input } = this.field;
    if (name) input.value = name;
    const text = input.value.trim();
    if (!text) return;
    const colour = this.#read(text);
    this.hand.act("colour", { part: this.part, text }, { edit: colour ? this.#putting(colour) : undefined,
      complain: (words, near) => this.complain(words, text, near),
      done: () => {
        if (name) input.focus({ preventScroll: true });
        this.complain("");
        if (input.value.trim() !== text) return;
        input.value = "";
        this.field.use.hidden = true;
      } });
  }

  /** An empty field leaves Escape to the tray. */
  #clear() {
    const { input } = this.field;
    if (!input.value) return false;
    input.value = "";
    this.#typing();
    return true;
  }

  /**
   * Say the kernel's words beside the field.
   * @param {string} words
   * @param {string} [text] that was typed and is to be mended
   * @param {string[]} [near] names that may have been meant
   */
  complain(words, text = "", near = []) {
    this.said.say(words, near);
    setAttribute(this.field.input, "aria-invalid", String(text !== ""));
    if (text && !this.field.input.value) this.field.input.value = text;
  }
}

/**
 * Off, with the reason; it keeps the focus and its name.
 * @param {HTMLElement} node
 * @param {boolean} off
 * @param {string} [why]
 */
function switchOff(node, off, why = "") {
  node.dataset.title ??= node.title;
  setAttribute(node, "aria-disabled", String(off));
  setAttribute(node, "title", off && why ? why : node.dataset.title);
}

/**
 * The code of an opaque CSS colour, as far as this browser knows it.
 * @param {string} text
 */
function cssHex(text) {
  const context = document.createElement("canvas").getContext("2d");
  const bare = /^[0-9a-f]{6}$/i.test(text) ? `#${text}` : text;
  if (!context || !CSS.supports("color", bare)) return "";
  context.fillStyle = bare;
  const found = String(context.fillStyle);
  return /^#[0-9a-f]{6}$/.test(found) ? found : "";
}
