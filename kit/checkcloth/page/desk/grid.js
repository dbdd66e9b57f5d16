// The wall: one canvas under a listbox. Only what shows is drawn, and only it is in the document.

import { bytesOf } from "../shared/binary.js";
import { planOf } from "../shared/cloth.js";
import { make, perFrame, within } from "../shared/dom.js";
import { checksToShow } from "../shared/scale.js";
import { checkPixels, contextOf, deviceRatio, Loom } from "../shared/swatch.js";
import { wordingOf } from "./captions.js";
import { CAPTIONS, layOut, positionOf, rankAfterKey, rowsInSight, scrollFor } from "./grid_layout.js";
import { Options } from "./options.js";

/** @import { Laid } from "../shared/cloth.js" */
/** @import { Desk } from "./types.js" */
/** @import { Layout } from "./grid_layout.js" */

const STILL = 400; // milliseconds without an edit after which what it did to other captions is said

/** @type {[scale: string, words: string][]} */
export const SCALES = [
  ["repeat", "whole repeats"], ["0.25", "a quarter of its size"],
  ["0.5", "half its size"], ["1", "its true size"],
];

export class Grid {
  scale = "repeat";
  captions = "colours"; // what stands under the cloth: a key of CAPTIONS
  showHidden = false;
  current = 0; // index in the order of the deal
  paints = 0;
  /** @type {number[]} indices in the order shown */
  list = [];
  /** @type {Map<number, number>} position in `list` of each index */
  rank = new Map();
  /** @type {Map<number, string>} why an index is hidden */
  hidden = new Map();
  /** @type {Layout | null} */
  layout = null;
  #drawn = "";
  /** @type {{names: string[], numbers: number[], wording: ReturnType<typeof wordingOf>} | null} */
  #worded = null;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #reword;
  onlay = () => {};

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.options = new Options(desk, this);
    this.loom = new Loom();
    this.canvas = make("canvas", { class: "cc-wall-canvas", "aria-hidden": "true" });
    this.sheet = make("div", {
      // That one is kept is said in words: told as a selection, a screen reader goes to what it is told of.
      class: "cc-sheet", role: "listbox", "aria-label": "Wall of colourways",
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event),
      onclick: (/** @type {MouseEvent} */ event) => this.#click(event),
      ondblclick: (/** @type {MouseEvent} */ event) => {
        if (indexAt(event) !== null) desk.enlarge();
      },
      onfocusin: (/** @type {FocusEvent} */ event) => {
        const index = indexAt(event);
        if (index !== null) this.go(index, { focus: false, reveal: false });
      },
    }, this.canvas);
    this.scroll = make("div", { class: "cc-wall", tabindex: "-1" }, this.sheet);
    this.onscroll = perFrame(() => this.paint(true));
    this.scroll.addEventListener("scroll", this.onscroll, { passive: true });
    this.watch = new ResizeObserver(() => this.lay());
    this.watch.observe(this.scroll);
    this.arrange();
  }

  /** The number of the colourway that is current. */
  get number() {
    return this.desk.model.get("numbers")[this.current];
  }

  /** Take in another deal or order, and what is hidden of it. */
  arrange() {
    const { model } = this.desk;
    this.hidden = new Map(model.get("hidden"));
    const order = model.get("order");
    const count = model.get("numbers").length;
    this.list = (this.showHidden ? [...order, ...this.hidden.keys()] : order)
      .filter((index) => index < count);
    this.rank = new Map(this.list.map((index, rank) => [index, rank]));
    if (!this.rank.has(this.current)) this.current = this.list[0] ?? 0;
    this.lay();
  }

  /** Work out columns and rows for the room there is. */
  lay() {
    const layout = layOut(this.sheet.clientWidth, deviceRatio(), this.list.length, this.#checks,
      CAPTIONS[this.captions]);
    if (!layout) return;
    this.layout = layout;
    this.#align(layout.ratio);
    this.sheet.style.height = `${(layout.rows * layout.step) / layout.ratio}px`;
    this.#drawn = "";
    this.paint();
    this.onlay();
  }

  /**
   * Put wall and sheet on whole device pixels: between them cloth is blurred, canvas or not.
   * @param {number} ratio
   */
  #align(ratio) {
    const { sheet, scroll } = this;
    // In 64ths of a CSS pixel, which browsers lay out in; what is nearer than two is there already.
    const up = (/** @type {number} */ at) => Math.ceil(((Math.ceil(at * ratio - 0.03) / ratio) - at) * 64) / 64;
    const put = (/** @type {HTMLElement} */ node, /** @type {number} */ x, /** @type {number} */ y) => {
      node.style.setProperty("--right", `${x}px`);
      node.style.setProperty("--down", `${y}px`);
    };
    for (const node of [scroll, sheet]) put(node, 0, 0);
    const outer = scroll.getBoundingClientRect();
    put(scroll, up(outer.left + globalThis.scrollX), up(outer.top + globalThis.scrollY));
    const inner = sheet.getBoundingClientRect();
    put(sheet, up(inner.left + globalThis.scrollX), up(inner.top + scroll.scrollTop + globalThis.scrollY));
  }

  /** Checks that share a side of every cloth, so that the longest repeat of the wall is whole. */
  get #checks() {
    const { model } = this.desk;
    const wefts = bytesOf(model.get("weft_counts"));
    /** @type {Map<string, Laid>} */
    const laid = new Map();
    bytesOf(model.get("counts")).forEach((count, at) => {
      const key = `${count}/${wefts[at] ?? 0}`;
      if (!laid.has(key)) laid.set(key, this.desk.laid(count, wefts[at]));
    });
    return checksToShow([...laid.values()].flatMap(({ warp, weft }) => [warp, weft]));
  }

  /** Device pixels of a check, the same for all cloths. */
  get pixels() {
    return this.scale === "repeat" ? this.layout?.pixels ?? 1
      : checkPixels(this.desk.inches, Number(this.scale));
  }

  /**
   * What tells a colourway apart by its colours.
   * @param {number} index
   */
  captionOf(index) {
    const { model } = this.desk;
    const [names, numbers] = [model.get("names"), model.get("numbers")];
    const counts = bytesOf(model.get("counts"));
    if (this.#worded?.numbers !== numbers) {
      this.#worded = { names, numbers, wording: wordingOf(names, counts) };
    }
    const { names: before, wording } = this.#worded;
    if (before === names) return wording.captions[index] ?? { words: "", clue: "" };
    // Edited: to word thousands anew would hold up the hand.
    clearTimeout(this.#reword);
    this.#reword = setTimeout(() => {
      this.#worded = null;
      this.paint();
    }, STILL);
    return before[index] === names[index] ? wording.captions[index]
      : { words: wording.of(names[index], counts[index]), clue: "" };
  }

  /** Draw the cloth that shows, and unless only its tones changed, what stands around it. */
  paint(clothOnly = false) {
    const { layout } = this;
    if (!layout || !this.sheet.isConnected) return;
    const [first, last] = rowsInSight(layout, this.scroll.scrollTop, this.scroll.clientHeight);
    const from = first * layout.across;
    const to = Math.min(this.list.length, last * layout.across);
    this.#drawCloth(layout, first, last, this.list.slice(from, to));
    const drawn = `${from} ${to}`;
    if (!clothOnly || this.#drawn !== drawn) this.options.show(this.list.slice(from, to));
    this.#drawn = drawn;
    this.scroll.dataset.stamp = String(this.desk.model.get("stamp"));
    this.scroll.dataset.paints = String((this.paints += 1));
  }

  /**
   * @param {Layout} layout
   * @param {number} first row
   * @param {number} last one past the last row
   * @param {number[]} shown indices
   */
  #drawCloth(layout, first, last, shown) {
    const { tones } = this.desk;
    const context = this.#place(layout, first, last);
    const top = first * layout.step;
    this.loom.size(layout.side, layout.side);
    /** @type {Map<string, {warp: Uint8Array, weft: Uint8Array}>} */
    const plans = new Map();
    shown.forEach((index, i) => {
      const stripes = tones.stripes(index);
      if (!stripes) return; // the other half of a message is still to come
      const wefts = tones.wefts(index);
      const key = `${stripes}/${wefts}`;
      const { warp, weft } = plans.get(key) ?? this.#plan(stripes, wefts, layout.side);
      plans.set(key, { warp, weft });
      const { x, y } = positionOf(layout, first * layout.across + i);
      this.loom.draw(context, x, y - top, tones.of(index), 0, stripes, warp, weft, wefts);
    });
  }

  /** Lay the canvas over the rows that are drawn, empty. */
  #place(/** @type {Layout} */ layout, /** @type {number} */ first, /** @type {number} */ last) {
    const { canvas } = this;
    const { width, ratio } = layout;
    const height = Math.max(1, (last - first) * layout.step);
    if (canvas.width !== width || canvas.height !== height) {
      Object.assign(canvas, { width, height });
      canvas.style.width = `${width / ratio}px`;
      canvas.style.height = `${height / ratio}px`;
    }
    canvas.style.top = `${(first * layout.step) / ratio}px`;
    const context = contextOf(canvas);
    context.clearRect(0, 0, width, height);
    return context;
  }

  /**
   * @param {number} stripes
   * @param {number} wefts
   * @param {number} side device pixels
   */
  #plan(stripes, wefts, side) {
    const { warp, weft } = this.desk.laid(stripes, wefts);
    const { pixels } = this;
    this.scroll.dataset.pixels = String(pixels);
    return { warp: planOf(warp, pixels, side), weft: planOf(weft, pixels, side) };
  }

  /** @param {MouseEvent} event */
  #click(event) {
    const index = indexAt(event);
    if (index === null) return;
    const ticked = within(event, ".cc-tick");
    this.go(index);
    if (ticked || event.ctrlKey || event.metaKey) this.desk.act("toggle", this.number);
  }

  /**
   * Make a colourway the current one, and bring it into sight.
   * @param {number} index
   * @param {{focus?: boolean, reveal?: boolean}} [options]
   */
  go(index, { focus = true, reveal = true } = {}) {
    const rank = this.rank.get(index);
    if (rank === undefined) return;
    const moved = index !== this.current;
    this.current = index;
    if (reveal && this.layout) {
      const { scroll } = this;
      scroll.scrollTop = scrollFor(this.layout, rank, scroll.scrollTop, scroll.clientHeight);
    }
    this.paint();
    if (focus) this.focus();
    if (moved) this.desk.lookAt(this.number);
    else this.desk.pointAt(this.number);
  }

  /**
   * Move by so many along the wall; stays within it.
   * @param {number} steps
   * @param {{focus?: boolean, reveal?: boolean}} [options]
   */
  by(steps, options) {
    const rank = (this.rank.get(this.current) ?? 0) + steps;
    this.go(this.list[Math.min(Math.max(rank, 0), this.list.length - 1)], options);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || indexAt(event) === null) return;
    if (!this.layout) return;
    const rank = this.rank.get(this.current) ?? 0;
    const next = rankAfterKey(this.layout, event.key, rank, this.list.length, this.scroll.clientHeight);
    if (next === undefined) return;
    event.preventDefault();
    if (next !== null) this.go(this.list[next]);
  }

  /**
   * Keep the focus on the colourway that is current when the order changes under it.
   * @param {() => void} act
   */
  keepFocus(act) {
    const focused = this.options.has(this.current, document.activeElement);
    act();
    if (focused) this.focus();
  }

  focus() {
    this.options.focus(this.current);
  }

  close() {
    clearTimeout(this.#reword);
    this.watch.disconnect();
    this.onscroll.stop();
  }
}

/**
 * The index of the colourway that an event happened on.
 * @param {Event} event
 */
function indexAt(event) {
  const option = within(event, ".cc-option");
  return option ? Number(option.dataset.index) : null;
}
