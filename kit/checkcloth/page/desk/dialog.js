// A small dialog over the desk, and one thing it is for: true size with a bank card.

import { button, make, say } from "../shared/dom.js";
import { CSS_PER_INCH, screenPixels } from "../shared/swatch.js";

// ISO/IEC 7810 ID-1, the size of a bank card.
const CARD_MM = [85.6, 53.98];

export class Dialog {
  constructor() {
    this.root = make("dialog", { class: "cc-dialog" });
  }

  get open() {
    return this.root.open;
  }

  /**
   * @param {string} title
   * @param {HTMLElement} body
   */
  show(title, body) {
    this.root.setAttribute("aria-label", title);
    this.root.replaceChildren(make("div", { class: "cc-row cc-dialog-head" },
      make("h3", { class: "cc-title", text: title }), make("span", { class: "cc-spring" }),
      button("Close", () => this.close(), { keys: "Escape" })), body);
    this.root.showModal();
  }

  close() {
    this.root.close();
  }
}

/**
 * Match a bank card to learn how large this screen's pixels are.
 * @param {(perInch: number) => void} settle gets CSS pixels an inch
 */
export function bankCard(settle) {
  const card = make("div", { class: "cc-card", role: "img",
    "aria-label": "Rectangle to match with a bank card" });
  const words = make("p", { class: "cc-quiet", role: "status" });
  const slide = make("input", { type: "range", min: 50, max: 300, step: 0.25,
    value: screenPixels(), class: "cc-range", "aria-label": "Size of the rectangle" });
  const show = () => {
    [card.style.width, card.style.height] = CARD_MM.map((mm) => `${(mm / 25.4) * Number(slide.value)}px`);
    const text = `${Number(slide.value).toFixed(1)} CSS pixels an inch`;
    slide.setAttribute("aria-valuetext", text);
    say(words, text);
  };
  slide.addEventListener("input", show);
  show();
  return make("div", {},
    make("p", { text: "Hold a bank card (85.60 × 53.98 mm, ISO/IEC 7810 ID-1) against the screen, "
      + "and move the slider until the rectangle is as large. Browser zoom undoes it." }),
    card, slide, words, make("div", { class: "cc-row" },
      button("Use this size", () => settle(Number(slide.value)), { kind: "cc-strong" }),
      button("Back to 96 an inch", () => settle(CSS_PER_INCH))));
}
