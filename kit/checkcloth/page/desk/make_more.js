// The same again, but: what can be made of one colourway, seen before it is kept. Each way is a row
// with its cloths, all rows at one scale, and one press keeps all of a row.

import { floatsOf } from "../shared/binary.js";
import { toneBytes } from "../shared/cloth.js";
import { button, make, say, setAttribute, textInput } from "../shared/dom.js";
import { channelsOf, mixTones, recipeOf } from "../shared/mixing.js";
import { deviceRatio, Swatch } from "../shared/swatch.js";
import { errorWords } from "../shared/words.js";
import { CheckSizes } from "./check_sizes.js";
import { clothWords, countWords, gampColours, percentOf, wayWords, waysFor } from "./derive_ways.js";
import { clothsOf } from "./shelf.js";
import { keptTones } from "./tones.js";

/** @import { Derived, Way } from "./derive_ways.js" */
/** @import { Desk, KeptCard } from "./types.js" */

const SIDE = 52; // CSS pixels of a piece of cloth at most
const GAMP_SIDE = 14; // CSS pixels of a crossing in a colour gamp

/**
 * @typedef {object} Row
 * @property {Way} way
 * @property {Derived | null} derived
 * @property {HTMLElement} root
 * @property {HTMLElement} words
 * @property {HTMLElement} cloths
 * @property {HTMLElement} many
 * @property {HTMLElement} gamp every stripe of the warp across each weft
 * @property {HTMLButtonElement} keep
 */

export class MakeMore {
  /** @type {Map<string, Row>} */
  #rows = new Map();
  /** @type {KeptCard | undefined} */
  #card;
  #key = "";
  #turn = 0;
  #percent = 20;

  /**
   * @param {Desk} desk
   * @param {HTMLElement | null} [head] stands above the rows
   */
  constructor(desk, head = null) {
    this.desk = desk;
    const take = () => this.#takePercent();
    this.strength = textInput("The other strength, in percent", { class: "cc-percent", value: "20 %", maxlength: 8,
      inputmode: "decimal", "data-part": "more percent", onchange: take, enter: take });
    this.sizes = new CheckSizes(desk);
    this.list = make("ul", { class: "cc-ways" });
    this.root = make("div", { class: "cc-make-more", role: "group", "aria-label": "The same again, but" },
      head ?? make("h4", { text: "The same again, but" }), this.list,
      make("ul", { class: "cc-ways cc-size-ways" }, this.sizes.root));
  }

  /** Ask anew when it is shown next. */
  forget() {
    this.#key = "";
  }

  /**
   * Show what can be made of a kept colourway; nothing is asked anew while nothing has changed.
   * @param {KeptCard | undefined} card
   */
  show(card) {
    this.#card = card;
    if (!card) return;
    const { model } = this.desk;
    this.sizes.show(card);
    const key = JSON.stringify([card.number, this.#percent, model.get("palette"),
      model.get("kept").map(({ number, strength, recipe, stripes, ground, weft }) => [number, strength, recipe, stripes, ground, weft])]);
    if (key === this.#key) return;
    this.#key = key;
    this.#ask(card);
  }

  #takePercent() {
    const percent = percentOf(this.strength.value);
    setAttribute(this.strength, "aria-invalid", String(percent === null));
    if (percent === null) return;
    this.#percent = percent;
    this.strength.value = `${percent} %`;
    this.show(this.#card);
  }

  /** @param {KeptCard} card */
  async #ask(card) {
    const turn = (this.#turn += 1);
    const rows = waysFor(card.count, this.#percent).map((way) => this.#row(way));
    if (rows.length !== this.list.children.length || rows.some(({ root }, at) => this.list.children[at] !== root)) {
      this.list.replaceChildren(...rows.map(({ root }) => root));
    }
    setAttribute(this.root, "aria-busy", "true");
    const answers = await Promise.all(rows.map(({ way }) =>
      this.desk.request("derive", { number: card.number, ...way.fields }).catch((error) => (
        { error: errorWords(error) }))));
    if (turn !== this.#turn) return; // asked again meanwhile
    this.root.removeAttribute("aria-busy");
    this.desk.guard.after(`more ${card.number}`, () => {
      if (turn === this.#turn) this.#fill(rows, answers);
    });
  }

  /** @param {Way} way */
  #row(way) {
    const known = this.#rows.get(way.key);
    if (known) {
      known.way = way;
      return known;
    }
    const words = make("span", { class: "cc-quiet cc-way-words" });
    const cloths = make("span", { class: "cc-way-cloths" });
    const many = make("span", { class: "cc-quiet cc-way-many" });
    const keep = button("Keep", () => this.#keep(row), { kind: "cc-small" });
    keep.dataset.part = `more ${way.key}`;
    const gamp = make("figure", { class: "cc-gamp", hidden: true });
    const root = make("li", { class: "cc-way" },
      make("div", { class: "cc-way-title" }, make("strong", { text: way.title }),
        way.key === "strength" ? this.strength : null, words), cloths,
      make("div", { class: "cc-way-keep" }, many, keep), gamp);
    /** @type {Row} */
    const row = { way, derived: null, root, words, cloths, many, keep, gamp };
    this.#rows.set(way.key, row);
    return row;
  }

  /**
   * @param {Row[]} rows
   * @param {(Derived & {error?: string} | {error: string} | undefined)[]} answers
   */
  #fill(rows, answers) {
    const found = answers.map((answer) => (answer && "counts" in answer ? answer : null));
    const pieces = found.map((derived) => (derived ? piecesOf(derived, this.desk) : []));
    const cloths = clothsOf(pieces.flat(), SIDE);
    rows.forEach((row, at) => {
      const derived = (row.derived = found[at]);
      row.cloths.replaceChildren(...cloths.splice(0, pieces[at].length));
      row.root.classList.toggle("cc-none", !derived);
      if (row.way.key === "wefts") showGamp(row.gamp, derived);
      if (derived) this.#sayFound(row, derived);
      else {
        say(row.words, answers[at]?.error ?? "");
        setAttribute(row.words, "title", answers[at]?.error ?? "");
        say(row.many, "");
        this.#sayKeep(row, "Keep", 0);
      }
    });
  }

  /**
   * @param {Row} row
   * @param {Derived} derived
   */
  #sayFound(row, derived) {
    const { more, keep, many } = countWords(derived.kept);
    say(row.words, wayWords(row.way, derived));
    setAttribute(row.words, "title", row.words.textContent ?? "");
    say(row.many, many);
    this.#sayKeep(row, keep, more);
    [...row.cloths.children].forEach((cloth, at) => {
      cloth.setAttribute("title", clothWords(derived, at));
      cloth.classList.toggle("cc-there", derived.kept[at]);
    });
  }

  /**
   * The button stays where it is, and keeps the focus, when there is nothing left to keep.
   * @param {Row} row
   * @param {string} text
   * @param {number} more
   */
  #sayKeep({ keep, way }, text, more) {
    say(keep, text);
    setAttribute(keep, "aria-label", `${text}: ${way.title.toLowerCase()}`);
    setAttribute(keep, "aria-disabled", String(!more));
    keep.title = "";
  }

  /** @param {Row} row */
  #keep({ way, derived }) {
    if (!this.#card || !derived || derived.kept.every(Boolean)) return;
    this.desk.act("keep_derived", this.#card.number, way.fields);
  }
}

/**
 * A colour gamp: every stripe of the warp across each weft, as they are mixed.
 * @param {HTMLElement} figure
 * @param {Derived | null} derived with each weft
 */
function showGamp(figure, derived) {
  figure.hidden = !derived;
  if (!derived) return;
  const { counts: [stripes], wefts: each = [], strengths: [strength], weft_names: names = [], colourways: [[, ...warp]] } = derived;
  const recipe = recipeOf(derived.recipes[derived.recipe_of[0]]);
  const colours = gampColours(stripes, each, floatsOf(derived.buffers?.[0]), channelsOf(recipe));
  const bytes = new Uint8Array(toneBytes(stripes, each.length));
  mixTones(recipe, strength, colours, 0, stripes, bytes, 0, "normal", each.length);
  const bands = (/** @type {number} */ many) => Array.from({ length: many }, (_, at) => /** @type {[number, number]} */ ([at + 1, 1]));
  const words = `Colour gamp: ${warp.join(", ")} across ${names.map(([name = warp[0]]) => name).join(", ")}, from the top`;
  const swatch = new Swatch(stripes * GAMP_SIDE, each.length * GAMP_SIDE, words);
  swatch.draw(bytes, 0, stripes, { warp: bands(stripes), weft: bands(each.length) },
    Math.max(1, Math.round(GAMP_SIDE * deviceRatio())), each.length);
  figure.replaceChildren(swatch.canvas, make("figcaption", { class: "cc-quiet", text: words }));
}

/**
 * @param {Derived} derived
 * @param {Desk} desk
 */
function piecesOf({ counts, wefts, strengths, recipes, recipe_of: recipeOf, buffers }, desk) {
  const cards = counts.map((count, at) => ({ count, wefts: wefts?.[at], strength: strengths[at], recipe: recipes[recipeOf[at]] }));
  const tones = keptTones(cards, floatsOf(buffers?.[0]));
  return counts.map((count, at) => (
    { bytes: tones[at], count, wefts: wefts?.[at], laid: desk.laid(count, wefts?.[at]) }));
}
