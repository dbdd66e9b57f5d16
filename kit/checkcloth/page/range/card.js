// A colourway in the range: its cloth, name, colours, note, and the reader's answer.

import { button, make } from "../shared/dom.js";
import { clothCanvas, paint } from "./cloth_canvas.js";
import { fillColours } from "./colour_list.js";
import { barOf } from "./looking.js";
import { ThreeAnswers } from "./three_answers.js";

/** @import { Answers } from "./answers.js" */
/** @import { Looking } from "./looking.js" */
/** @import { Colourway } from "./range_data.js" */

const LONGEST = 2000; // characters of a remark
const LATER = 150; // milliseconds: gone with the focus on it, a screen reader would look for what is near instead

/**
 * What the parts of the page share.
 * @typedef {object} Page
 * @property {Looking} looking
 * @property {Answers} answers
 * @property {(colourway: Colourway) => void} see large
 * @property {() => void} answered what stands elsewhere follows
 * @property {(colourway: Colourway, box: HTMLInputElement) => void} lay beside
 */

export class Card {
  /**
   * @param {Page} page
   * @param {Colourway} colourway
   */
  constructor(page, colourway) {
    this.page = page;
    this.colourway = colourway;
    const { number, title, words, note, name } = colourway;
    const { answers, looking } = page;
    this.cloth = clothCanvas("");
    this.colours = make("div", { class: "colours" });
    this.three = new ThreeAnswers(colourway, answers.of(number).say, (say) => {
      answers.set(number, { say });
      page.answered();
    });
    this.beside = make("input", { type: "checkbox", "aria-label": `Lay beside others: ${number}, ${title}`,
      onchange: () => page.lay(colourway, this.beside) });
    this.area = make("textarea", { class: "area", rows: 2, maxlength: LONGEST, "aria-label": `Remark on ${number}, ${title}`,
      value: answers.of(number).remark, hidden: !answers.of(number).remark, oninput: () => {
        this.inPrint.textContent = this.area.value;
        answers.set(number, { remark: this.area.value });
        page.answered();
      } });
    this.add = button("Add a remark", () => {
      this.area.hidden = false;
      this.area.focus();
      setTimeout(() => { this.add.hidden = true; }, LATER);
    }, { label: `Add a remark on ${number}, ${title}`, kind: "plain" });
    this.add.hidden = !this.area.hidden;
    this.inPrint = make("p", { class: "only-print", text: this.area.value });
    this.root = make("article", { class: "card", id: `card-${number}`, tabindex: "-1", "aria-label": `${number}, ${title}` },
      make("button", { type: "button", class: "see", "aria-label": `See ${number}, ${title} large: ${words}`,
        onclick: () => page.see(colourway) }, this.cloth),
      make("div", { class: "card-head" },
        make("h3", {}, name ? make("span", { class: "number", text: `${number} ` }) : null, title),
        looking.range.colourways.length > 1
          ? make("label", { class: "beside-tick" }, this.beside, make("span", { text: "Lay beside" })) : null),
      this.colours, make("p", { class: "card-note", text: note }),
      make("div", { class: "answer" }, make("div", { class: "answer-row" }, this.three.root, this.add),
        this.area, this.inPrint));
    this.list();
  }

  list() {
    fillColours(this.colours, this.colourway, this.page.looking.codes);
  }

  follow() {
    const { number } = this.colourway;
    this.three.show(this.page.answers.of(number).say);
    this.beside.checked = this.page.looking.beside.includes(this.colourway);
  }

  /** @param {number} pixels CSS pixels of a check at the size that the range is drawn at */
  draw(pixels) {
    const { looking } = this.page;
    const side = looking.checks * pixels;
    paint(this.cloth, looking, this.colourway,
      { width: side, height: side, pixels: (pixels * looking.inches) / looking.drawnInches });
  }

  /**
   * For paper: sizes in millimetres, and enough pixels to stay sharp.
   * @param {{width: number, height: number, check: number}} mm
   */
  print({ width, height, check }) {
    const { looking } = this.page;
    const pixels = 24;
    paint(this.cloth, looking, this.colourway,
      { width: (width / check) * pixels, height: (height / check) * pixels, pixels, ratio: 1 });
    this.cloth.style.width = `${width}mm`;
    this.cloth.style.height = `${height}mm`;
  }
}

/**
 * A scale bar and its words, in the places that ask for them.
 * @param {ParentNode} root
 * @param {number} perInch CSS pixels of an inch of cloth
 * @param {boolean} metric
 * @param {string} words
 */
export function fillScale(root, perInch, metric, words) {
  for (const node of root.querySelectorAll("[data-scale]")) {
    node.replaceChildren(...scaleBar(perInch, metric, words));
  }
}

/**
 * @param {number} perInch
 * @param {boolean} metric
 * @param {string} words
 */
export function scaleBar(perInch, metric, words) {
  const { inches, words: length } = barOf(metric);
  const bar = make("span", { class: "scalebar", "aria-hidden": "true" });
  bar.style.width = `${inches * perInch}px`;
  return [bar, `${length}. ${words}`];
}
