// The range: what is kept, in families, all at one scale.

import { button, choice, make, perFrame, say, setAttribute, setOptions } from "../shared/dom.js";
import { capital, counted } from "../shared/words.js";
import { evenWords } from "./bands/orders.js";
import { CardDrag } from "./card_drag.js";
import { ClientPanel, saidWords } from "./client_panel.js";
import { commonPercent, percentOf } from "./derive_ways.js";
import { BY_ITSELF, familiesOf, newFamily } from "./families.js";
import { textField } from "./hand/text_field.js";
import { findPart, keepFocus } from "./keep_focus.js";
import { MakeMore } from "./make_more.js";
import { keptCloths, numberOf } from "./shelf.js";

/** @import { Desk, KeptCard } from "./types.js" */

const SIDE = 169; // CSS pixels of a piece of cloth at most
const BESIDE = 4; // laid side by side at most
const NEW = "\n"; // no family is called so

export class RangeTab {
  #laid = 0; // CSS pixels of a side, as it was laid last
  /** @type {{family: string, number: number} | null} the family that more is made of, and from which */
  #more = null;

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.words = make("p", { class: "cc-count" });
    this.client = new ClientPanel(desk);
    this.bar = make("div", { class: "cc-bar" }, this.words, make("span", { class: "cc-spring" }), this.client.opener);
    this.list = make("div", { class: "cc-families" });
    this.source = choice("from", [], "", (number) => {
      if (this.#more) this.#more.number = Number(number);
      this.fill();
    });
    setAttribute(this.source.select, "aria-label", "Make more of");
    this.source.select.dataset.part = "more of";
    this.makeMore = new MakeMore(desk, make("header", { class: "cc-row" },
      make("h4", { text: "The same again, but" }), this.source.box, make("span", { class: "cc-spring" }),
      button("Close", () => this.#toggleMore(this.#more?.family ?? ""), { label: "Close what more can be made", kind: "cc-plain" })));
    this.empty = make("p", { class: "cc-quiet",
      text: "Nothing kept yet. Press Keep on a colourway of the wall; what is kept is put into families here." });
    this.scroll = make("div", { class: "cc-panel-scroll", tabindex: "-1" }, this.client.root, this.empty, this.list);
    this.root = make("div", { class: "cc-panel cc-range-tab" }, this.bar, this.scroll);
    this.watch = new ResizeObserver(perFrame(() => {
      if (this.#side() !== this.#laid) this.fill();
    }));
    this.watch.observe(this.list);
    new CardDrag(this.list, ".cc-range-card", ".cc-range-card, .cc-family",
      (card, target) => this.#drop(card, target));
  }

  fill() {
    if (this.root.hidden) return;
    const { model } = this.desk;
    const kept = model.get("kept");
    const source = kept.find(({ number }) => number === this.#more?.number);
    if (this.#more && source) this.#more.family = source.family ?? ""; // with what is kept of it, it joins a family
    const groups = familiesOf(kept, model.get("facts").families);
    const named = groups.filter(({ family }) => family).length;
    say(this.words, counted(kept.length, "colourway") + (named ? ` in ${counted(named, "family", "families")}` : ""));
    this.empty.hidden = kept.length > 0;
    this.client.fill();
    this.#laid = this.#side();
    const cloths = keptCloths(this.desk, this.#laid);
    keepFocus(this.list, () => this.list.replaceChildren(...(kept.length ? groups.map((group) => this.#family(group, cloths)) : [])),
      () => this.list.querySelector("[data-part]"));
    this.mark();
  }

  /** Two at least beside each other, with their gap and the room for a ring around them. */
  #side() {
    const { clientWidth } = this.list;
    return Math.min(SIDE, clientWidth ? Math.floor((clientWidth - 12 - 10) / 2) : SIDE);
  }

  mark() {
    for (const card of this.list.querySelectorAll(".cc-range-card")) {
      card.classList.toggle("cc-current", numberOf(card) === this.desk.number);
    }
  }

  close() {
    this.watch.disconnect();
  }

  /** Go to the name of a card. @param {number} number */
  typeName(number) {
    findPart(this.list, `name ${number}`)?.focus();
  }

  /**
   * @param {{family: string, cards: {card: KeptCard, index: number}[]}} group
   * @param {HTMLCanvasElement[]} cloths
   */
  #family({ family, cards }, cloths) {
    const many = counted(cards.length, "colourway");
    const name = family ? this.#familyName(family) : make("h3", { class: "cc-title", text: BY_ITSELF });
    const called = family || BY_ITSELF;
    const more = button("Make more", () => this.#toggleMore(family), { label: `Make more of ${called}`, kind: "cc-plain" });
    more.dataset.part = `make more ${family}`;
    const open = this.#more?.family === family && cards.length > 0;
    more.hidden = !cards.length;
    setAttribute(more, "aria-expanded", String(open));
    const beside = button("Lay beside", () => this.#layBeside(cards.map(({ card }) => card.number)),
      { label: `Lay beside one another: ${called}`, kind: "cc-plain" });
    beside.hidden = cards.length < 2;
    return make("section", { class: "cc-family", "data-family": family,
      "aria-label": family ? `Family ${family}` : BY_ITSELF },
    make("header", { class: "cc-family-head" }, name,
      make("span", { class: "cc-quiet", text: many }), make("span", { class: "cc-spring" }),
      cards.length ? this.#strengthOf(family, cards.map(({ card }) => card)) : null, more, beside),
    open ? this.#layMore(cards.map(({ card }) => card)) : null,
    make("ol", { class: "cc-range-cards" },
      ...cards.map(({ card, index }) => this.#card(card, index, cloths[index]))));
  }

  /**
   * The strength that all of a family have; typed anew, all of them get it.
   * @param {string} family
   * @param {KeptCard[]} cards
   */
  #strengthOf(family, cards) {
    const common = commonPercent(cards);
    const value = common === null ? "" : `${common} %`;
    const change = (/** @type {string} */ text) => {
      const percent = percentOf(text);
      setAttribute(input, "aria-invalid", String(percent === null && text.trim() !== ""));
      if (percent !== null) this.desk.act("all_of", 0, { family, strength: percent / 100 });
      else if (!text.trim()) input.value = value;
    };
    const input = textField(`Strength of all of ${family || BY_ITSELF}, in percent`, { known: () => value, change },
      { class: "cc-percent", placeholder: "mixed", inputmode: "decimal", maxlength: 8, value, "data-part": `strength of ${family}` });
    return make("label", { class: "cc-all-of cc-quiet" }, make("span", { text: cards.length > 1 ? "all at" : "at" }), input);
  }

  /** @param {string} family */
  #toggleMore(family) {
    const was = this.#more;
    this.makeMore.forget();
    const cards = this.desk.model.get("kept").filter((card) => (card.family ?? "") === family);
    const first = cards.find(({ number }) => number === this.desk.number) ?? cards[0];
    this.#more = (was?.family === family || !first) ? null : { family, number: first.number };
    this.fill();
    findPart(this.list, `make more ${(this.#more ?? was)?.family ?? ""}`)?.focus({ preventScroll: true });
  }

  /** @param {KeptCard[]} cards */
  #layMore(cards) {
    const more = /** @type {{family: string, number: number}} */ (this.#more);
    const card = cards.find(({ number }) => number === more.number) ?? cards[0];
    more.number = card.number;
    setOptions(this.source.select, cards.map(({ number, title }) => [String(number), title]), String(card.number));
    this.makeMore.show(card);
    return this.makeMore.root;
  }

  /** @param {string} family */
  #familyName(family) {
    const input = this.#field(`Name of family ${family}`, family, `family ${family}`,
      (text) => this.desk.act("name_family", 0, { family, name: text }));
    input.classList.add("cc-family-name");
    return input;
  }

  /**
   * @param {string} label
   * @param {string} value
   * @param {string} part
   * @param {(text: string) => void} change
   */
  #field(label, value, part, change) {
    return textField(label, { known: () => value, change }, { class: "cc-bare", maxlength: 500, placeholder: "no name yet", value, "data-part": part });
  }

  /**
   * @param {KeptCard} card
   * @param {number} index
   * @param {HTMLCanvasElement} cloth
   */
  #card(card, index, cloth) {
    const { desk } = this;
    const { number, title } = card;
    const letter = desk.letterOf(number);
    const even = evenWords(desk.model.get("laid"), desk.model.get("bands"), card.count, card.wefts);
    const act = (/** @type {string} */ text, /** @type {string} */ label, /** @type {string} */ what) => {
      const node = button(text, () => desk.act(what, number), { label, kind: "cc-plain" });
      node.dataset.part = `${what} ${number}`;
      return node;
    };
    return make("li", { class: "cc-range-card", "data-number": number, "data-index": index },
      make("button", { type: "button", class: "cc-kept-cloth", "data-part": `cloth ${number}`,
        "aria-label": `Look at ${title}`, title: card.words,
        "aria-description": `${card.words}; Shift with an arrow key moves it`,
        onclick: () => desk.lookAt(number),
        onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event, card, index) },
      cloth, letter ? make("span", { class: "cc-letter", text: letter }) : null),
      this.#field(`Name of ${title}`, card.name, `name ${number}`,
        (text) => desk.act("name", number, { text })),
      make("p", { class: "cc-quiet cc-clip", text: card.note ? `${card.words}; ${card.note}` : card.words,
        title: card.words }),
      make("div", { class: "cc-card-acts" }, this.#familyChoice(card),
        this.#mover(card, index, -1), this.#mover(card, index, 1), act("Copy", `Copy ${title}`, "copy"), act("Beside", `Lay ${title} beside others`, "compare"),
        act("Drop", `Drop ${title}`, "drop")),
      even ? make("p", { class: "cc-even", text: capital(even) }) : null,
      card.answer || card.remark ? make("p", { class: "cc-said", title: saidWords(card), text: saidWords(card) }) : null);
  }

  /**
   * One position earlier or later in the range: what a drag does, by a press.
   * @param {KeptCard} card
   * @param {number} index
   * @param {-1 | 1} step
   */
  #mover({ number, title }, index, step) {
    const node = button(step < 0 ? "←" : "→", () => this.desk.act("move", number, { index: index + step }),
      { label: `Move ${title} ${step < 0 ? "earlier" : "later"}`, kind: "cc-plain" });
    node.dataset.part = `${step} ${number}`;
    node.disabled = index + step < 0 || index + step >= this.desk.model.get("kept").length;
    return node;
  }

  /** @param {KeptCard} card */
  #familyChoice(card) {
    const known = this.#names();
    /** @type {[string, string][]} */
    const options = [["", BY_ITSELF], ...known.map((family) => /** @type {[string, string]} */ ([family, family])),
      [NEW, "new family"]];
    const { select } = choice(`Family of ${card.title}`, options, card.family ?? "", (family) =>
      this.desk.act("family", card.number, { family: family === NEW ? newFamily(known) : family }));
    select.classList.add("cc-family-choice");
    select.dataset.part = `of ${card.number}`;
    return select;
  }

  #names() {
    const { model } = this.desk;
    return familiesOf(model.get("kept"), model.get("facts").families)
      .map(({ family }) => family).filter(Boolean);
  }

  /**
   * @param {KeyboardEvent} event
   * @param {KeptCard} card
   * @param {number} index
   */
  #key(event, card, index) {
    const step = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
    if (step && event.shiftKey) {
      event.preventDefault();
      const neighbour = index + step;
      if (neighbour >= 0 && neighbour < this.desk.model.get("kept").length) {
        this.desk.act("move", card.number, { index: neighbour });
      }
    } else if (event.key === "Delete") this.desk.act("drop", card.number);
  }

  /**
   * Dropped on a card it takes that card's position, and joins its family.
   * @param {HTMLElement} card
   * @param {HTMLElement} target
   */
  async #drop(card, target) {
    const number = numberOf(card);
    const family = /** @type {HTMLElement} */ (target.closest(".cc-family")).dataset.family ?? "";
    const own = /** @type {HTMLElement} */ (card.closest(".cc-family")).dataset.family ?? "";
    const { index } = target.dataset;
    if (family !== own) await this.desk.act("family", number, { family });
    else if (index !== undefined) await this.desk.act("move", number, { index: Number(index) });
  }

  /** Lay these side by side, as many as there is room for, and nothing else. @param {number[]} numbers */
  async #layBeside(numbers) {
    const wanted = numbers.slice(0, BESIDE);
    const { compared } = this.desk.model.get("facts");
    const changed = [...compared.filter((number) => !wanted.includes(number)),
      ...wanted.filter((number) => !compared.includes(number))];
    for (const number of changed) await this.desk.act("compare", number);
    this.desk.showSideBySide();
  }
}
