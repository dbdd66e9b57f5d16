// Two to four cloths beside each other, at one scale.

import { button, make } from "../shared/dom.js";
import { reductionWords } from "../shared/scale.js";
import { screenPixels } from "../shared/swatch.js";
import { scaleBar } from "./card.js";
import { clothCanvas, paint } from "./cloth_canvas.js";
import { Sliders } from "./settings_bar.js";

/** @import { Page } from "./card.js" */
/** @import { Colourway } from "./range_data.js" */

const LETTERS = "ABCD";
const NARROW = 640;
const HEAD = 40; // CSS pixels under each cloth
const AROUND = 176; // of the window that is no cloth: head, foot, gaps

export class Beside {
  /**
   * @param {Page} page
   * @param {{onmove: () => void, onclose: () => void}} parent
   */
  constructor(page, { onmove, onclose }) {
    this.page = page;
    this.box = make("div", { class: "besides" });
    this.line = make("p", { class: "quiet told" });
    this.closer = button("Close", () => this.root.close(), { label: "Close, back to the range" });
    this.title = make("h2", { id: "beside-title", text: "Beside each other" });
    this.sliders = new Sliders(page.looking, () => {
      onmove();
      this.show();
    });
    /** @type {HTMLDialogElement} */
    this.root = make("dialog", { class: "many", "aria-labelledby": "beside-title", onclose },
      make("div", { class: "dialog-head" }, this.title, make("span", { class: "spring" }), this.closer),
      this.box, make("div", { class: "dialog-foot" }, this.line, ...this.sliders.roots));
  }

  open() {
    if (!this.root.open) this.root.showModal();
    this.closer.focus();
    this.show();
  }

  show() {
    if (!this.root.open) return;
    this.sliders.fill();
    const { looking } = this.page;
    const { beside } = looking;
    const { columns, rows } = layout(beside.length, innerWidth);
    this.box.style.gridTemplateColumns = `repeat(${columns}, minmax(0, 1fr))`;
    const width = Math.floor((this.box.clientWidth - 16 * (columns - 1)) / columns);
    const height = Math.max(104, Math.floor((innerHeight - AROUND) / rows) - HEAD - 16);
    const side = columns === 1 ? width : Math.min(width, height);
    const pixels = Math.max(2, 2 * Math.floor(side / looking.checks / 2));
    this.box.replaceChildren(...beside.map((one, at) => this.#piece(one, at, {
      width: Math.floor(width / pixels) * pixels, height: Math.floor(height / pixels) * pixels,
      pixels: (pixels * looking.inches) / looking.drawnInches })));
    const perInch = pixels / looking.drawnInches;
    this.line.replaceChildren(...scaleBar(perInch, looking.range.metric,
      `All at ${reductionWords(perInch / screenPixels())}.`));
  }

  /**
   * @param {Colourway} colourway
   * @param {number} at
   * @param {{width: number, height: number, pixels: number}} size
   */
  #piece(colourway, at, size) {
    const { number, title, words } = colourway;
    const letter = LETTERS[at];
    const canvas = clothCanvas(`${letter}, cloth of ${number}, ${title}, ${words}`);
    paint(canvas, this.page.looking, colourway, size);
    const away = button("Take away", () => {
      this.page.looking.lay(colourway, false);
      this.page.answered();
      if (this.page.looking.beside.length < 2) this.root.close();
      else {
        this.show();
        this.closer.focus();
      }
    }, { label: `Take away ${number}, ${title}`, kind: "plain" });
    const root = make("article", { "aria-label": `${letter}: ${number}, ${title}` }, canvas,
      make("div", { class: "card-head" }, make("h3", {}, make("span", { text: `${letter} ` }),
        make("span", { class: "number", text: title })), away));
    root.style.maxWidth = `${size.width}px`;
    return root;
  }
}

/**
 * @param {number} many
 * @param {number} width of the window
 */
export function layout(many, width) {
  const columns = width <= NARROW ? 1 : many === 4 && width < 1000 ? 2 : Math.max(1, many);
  return { columns, rows: Math.ceil(many / columns) };
}
