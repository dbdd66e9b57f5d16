// What stands on the wall's canvas for keys, pointers and screen readers: an option a colourway.

import { make, say, setAttribute } from "../shared/dom.js";
import { spoken } from "../shared/words.js";
import { positionOf } from "./grid_layout.js";

/** @import { Desk } from "./types.js" */
/** @import { Layout } from "./grid_layout.js" */

/**
 * What the options need to know of the wall.
 * @typedef {object} Wall
 * @property {number} current
 * @property {number[]} list
 * @property {Map<number, number>} rank
 * @property {Map<number, string>} hidden
 * @property {Layout | null} layout
 * @property {HTMLElement} sheet
 * @property {HTMLElement} scroll
 * @property {string} captions what stands under the cloth
 * @property {(index: number) => {words: string, clue: string}} captionOf
 *
 * @typedef {{node: HTMLElement, tick: HTMLElement, caption: HTMLElement, words: HTMLElement, clue: HTMLElement}} Option
 */

/** What the tag on the cloth says, and what is read out. @type {Record<number, [tag: string, words: string]>} */
const MARKS = { 0: ["Keep", "not kept"], 1: ["◦ Kept", "kept at another strength or mixing"], 2: ["Kept", "kept"] };

export class Options {
  /** @type {Map<number, Option>} */
  #options = new Map();

  /**
   * @param {Desk} desk
   * @param {Wall} wall
   */
  constructor(desk, wall) {
    this.desk = desk;
    this.wall = wall;
  }

  /**
   * Put the options of these colourways into the document, and take the others out.
   * @param {number[]} indices
   */
  show(indices) {
    const { wall } = this;
    const wanted = new Set(indices);
    if (wall.rank.has(wall.current)) wanted.add(wall.current); // the way in for the tab key
    for (const [index, { node }] of this.#options) {
      if (wanted.has(index)) continue;
      const focused = node.contains(document.activeElement);
      node.remove();
      this.#options.delete(index);
      if (focused) wall.scroll.focus({ preventScroll: true });
    }
    for (const index of wanted) {
      const option = this.#options.get(index) ?? this.#add(index);
      this.#place(option.node, index);
      this.#describe(option, index);
    }
  }

  /** @param {number} index */
  #add(index) {
    const tick = make("span", { class: "cc-tick", "aria-hidden": "true" });
    const [words, clue] = [make("span"), make("span")];
    const caption = make("span", { class: "cc-caption", "aria-hidden": "true" }, words, clue);
    const node = make("div", { class: "cc-option", role: "option", "data-index": index }, tick, caption);
    const option = { node, tick, caption, words, clue };
    this.#options.set(index, option);
    this.wall.sheet.append(node);
    return option;
  }

  /**
   * @param {HTMLElement} node
   * @param {number} index
   */
  #place(node, index) {
    const { layout } = this.wall;
    if (!layout) return;
    const { x, y } = positionOf(layout, this.#rank(index));
    const px = (/** @type {number} */ device) => `${device / layout.ratio}px`;
    Object.assign(node.style, { left: px(x), top: px(y), width: px(layout.side),
      height: px(layout.side + layout.caption) });
    node.style.setProperty("--side", px(layout.side));
  }

  /** @param {number} index */
  #rank(index) {
    return this.wall.rank.get(index) ?? 0;
  }

  /**
   * @param {Option} option
   * @param {number} index
   */
  #describe({ node, tick, caption, words, clue }, index) {
    const { desk, wall } = this;
    const { model } = desk;
    const number = model.get("numbers")[index];
    const name = [this.#ownName(number), model.get("names")[index]].filter(Boolean).join(": ");
    const mark = model.get("marks")[number] ?? 0;
    const why = wall.hidden.get(index) ?? "";
    node.dataset.number = String(number);
    node.dataset.mark = String(mark);
    node.classList.toggle("cc-current", index === wall.current);
    node.classList.toggle("cc-hidden", why !== "");
    node.tabIndex = index === wall.current ? 0 : -1;
    setAttribute(node, "aria-setsize", String(wall.list.length));
    setAttribute(node, "aria-posinset", String(this.#rank(index) + 1));
    setAttribute(node, "aria-label", name);
    setAttribute(node, "aria-description", spoken(this.#description(index, number, MARKS[mark][1])));
    setAttribute(node, "title", why ? `Hidden: ${why}` : name);
    say(tick, MARKS[mark][0]);
    caption.hidden = wall.captions === "nothing";
    const shown = this.#caption(index, number);
    caption.classList.toggle("cc-two-lines", shown.clue !== "");
    say(words, shown.words);
    say(clue, shown.clue);
  }

  /**
   * @param {number} index
   * @param {number} number
   * @param {string} mark in words
   */
  #description(index, number, mark) {
    const { desk: { model }, desk, wall } = this;
    const letter = desk.letterOf(number);
    const figure = model.get("figures")[index];
    const why = wall.hidden.get(index);
    return [mark, model.get("facts").own?.includes(number) && "by hand",
      letter && `side by side as ${letter}`, figure && figureWords(model.get("figure_words"), figure),
      why && `hidden: ${why}`].filter(Boolean).join("; ");
  }

  /**
   * @param {number} index
   * @param {number} number
   */
  #caption(index, number) {
    const { desk, wall } = this;
    const why = wall.hidden.get(index);
    const score = () => desk.model.get("figures")[index] || String(this.#rank(index) + 1);
    const own = this.#ownName(number);
    const named = () => (own ? { words: own, clue: "" } : wall.captionOf(index));
    const { words, clue } = wall.captions === "score" ? { words: score(), clue: "" } : named();
    const first = [desk.letterOf(number), why ? shortReason(why) : words].filter(Boolean).join(" · ");
    return { words: first, clue: why ? "" : clue };
  }

  /** The name that it is kept under, or "". @param {number} number */
  #ownName(number) {
    return this.desk.model.get("facts").kept_names?.[number] ?? "";
  }

  /**
   * Whether an element is the option of a colourway, or within it.
   * @param {number} index
   * @param {Element | null} element
   */
  has(index, element) {
    return this.#options.get(index)?.node.contains(element) ?? false;
  }

  /** @param {number} index */
  focus(index) {
    this.#options.get(index)?.node.focus({ preventScroll: true });
  }
}

/**
 * A score in words: its unit is said once.
 * @param {string} column "every edge: least ΔE00"
 * @param {string} figure "ΔE 7.3"
 */
export function figureWords(column, figure) {
  return `${column} ${/Δ/.test(column) ? figure.replace(/^Δ\S* /, "") : figure}`;
}

/**
 * A caption is as narrow as its cloth: the figures alone; the title names the column.
 * @param {string} why
 */
function shortReason(why) {
  return why.replace(/(^|; )[^;]* is ([^;,]+, under )/g, "$1$2");
}
