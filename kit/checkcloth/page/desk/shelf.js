// The kept colourways in the designer's order: small whole repeats, all at one scale.

import { floatsOf } from "../shared/binary.js";
import { make, say } from "../shared/dom.js";
import { checksToShow, commonPixels } from "../shared/scale.js";
import { deviceRatio, Swatch } from "../shared/swatch.js";
import { evenWords } from "./bands/orders.js";
import { CardDrag } from "./card_drag.js";
import { keptTones } from "./tones.js";

/** @import { Laid } from "../shared/cloth.js" */
/** @import { Desk, KeptCard } from "./types.js" */

const SIDE = 56; // CSS pixels that a piece of cloth has at most

/**
 * One colourway to be shown: its tones, and how they are laid.
 * @typedef {{bytes: Uint8Array, count: number, wefts?: number, laid: Laid}} Piece
 */

/**
 * A piece of cloth of each, all at one scale: the longest repeat is whole.
 * @param {Piece[]} pieces
 * @param {number} room CSS pixels of a side
 * @returns {HTMLCanvasElement[]}
 */
export function clothsOf(pieces, room) {
  const checks = checksToShow(pieces.flatMap(({ laid }) => [laid.warp, laid.weft]));
  const most = Math.floor(room * deviceRatio());
  const pixels = commonPixels(most, checks);
  const side = Math.min(most, pixels * checks) / deviceRatio();
  return pieces.map(({ bytes, count, wefts, laid }) => {
    const swatch = new Swatch(side, side, "");
    swatch.draw(bytes, 0, count, laid, pixels, wefts);
    return swatch.canvas;
  });
}

/**
 * A piece of cloth of each kept colourway.
 * @param {Desk} desk
 * @param {number} room CSS pixels of a side
 */
export function keptCloths(desk, room) {
  const kept = desk.model.get("kept");
  const tones = keptTones(kept, floatsOf(desk.model.get("kept_colours")));
  return clothsOf(kept.map(({ count, wefts }, index) => (
    { bytes: tones[index], count, wefts, laid: desk.laid(count, wefts) })), room);
}

export class Shelf {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.count = make("h3", { class: "cc-title" });
    this.list = make("ol", { class: "cc-kept" });
    /** @type {{ number: number, index: number } | null} where a card was sent that still shows elsewhere */
    this.moved = null;
    this.empty = make("p", { class: "cc-quiet",
      text: "Nothing kept yet. Press Keep on a colourway, or K." });
    this.head = make("header", { class: "cc-shelf-head" }, this.count);
    this.root = make("section", { class: "cc-shelf", "aria-label": "Kept colourways" },
      this.head, this.empty, this.list);
    new CardDrag(this.list, ".cc-kept-one", ".cc-kept-one",
      (card, target) => this.#move(numberOf(card), [...this.list.children].indexOf(target)));
  }

  fill() {
    const kept = this.desk.model.get("kept");
    this.moved = null;
    say(this.count, `Kept ${kept.length}`);
    this.empty.hidden = kept.length > 0;
    this.#keepFocus(() => {
      const cloths = keptCloths(this.desk, SIDE);
      this.list.replaceChildren(...kept.map((card, index) => this.#card(card, index, cloths[index])));
      this.mark();
    });
  }

  /** Ring what is looked at. */
  mark() {
    for (const item of this.list.children) {
      const current = numberOf(item) === this.desk.number;
      item.classList.toggle("cc-current", current);
    }
  }

  /**
   * Lay the cards anew; the focus stays on the same card, or on the one that took its position.
   * @param {() => void} lay
   */
  #keepFocus(lay) {
    const focused = document.activeElement?.closest(".cc-kept-one");
    const at = focused ? [...this.list.children].indexOf(focused) : -1;
    lay();
    if (!focused || at < 0) return;
    const same = this.list.querySelector(`[data-number="${numberOf(focused)}"]`)
      ?? this.list.children[Math.min(at, this.list.children.length - 1)];
    same?.querySelector("button")?.focus({ preventScroll: true });
  }

  /**
   * @param {KeptCard} card
   * @param {number} index
   * @param {HTMLCanvasElement} cloth
   */
  #card(card, index, cloth) {
    const { desk } = this;
    const letter = desk.letterOf(card.number);
    const before = desk.model.get("kept")[index - 1];
    const even = evenWords(desk.model.get("laid"), desk.model.get("bands"), card.count, card.wefts);
    const apart = before !== undefined && (before.family ?? "") !== (card.family ?? "");
    return make("li", { class: `cc-kept-one${apart ? " cc-apart" : ""}`, "data-number": card.number },
      make("button", { type: "button", class: "cc-kept-cloth", "data-part": "cloth",
        "aria-label": `Look at ${card.title}`, title: [card.title, card.note, even].filter(Boolean).join("\n"),
        "aria-description": [card.family && `family ${card.family}`, card.words.replace(`${card.title}; `, ""), even, card.note,
          "Shift with an arrow key moves it, Delete drops it"].filter(Boolean).join("; "),
        onclick: () => desk.lookAt(card.number),
        onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event, card.number, index) },
      cloth, letter ? make("span", { class: "cc-letter", text: letter }) : null));
  }

  /**
   * @param {KeyboardEvent} event
   * @param {number} number
   * @param {number} index
   */
  #key(event, number, index) {
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (step && event.shiftKey) {
      event.preventDefault();
      this.#move(number, (this.moved?.number === number ? this.moved.index : index) + step);
    } else if (event.key === "Delete") this.desk.act("drop", number);
  }

  /**
   * @param {number} number
   * @param {number} index
   */
  #move(number, index) {
    if (index >= 0 && index < this.list.children.length) {
      this.moved = { number, index };
      this.desk.act("move", number, { index });
    }
  }
}

/** @param {Element} card */
export function numberOf(card) {
  return Number(card.getAttribute("data-number"));
}
