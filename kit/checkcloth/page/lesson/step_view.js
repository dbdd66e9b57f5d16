// One step on the page: pictures, sliders and colours on the left; words, sums and question on the right.

import { columnHead, make, perFrame, say } from "../shared/dom.js";
import { spoken } from "../shared/words.js";
import { ColourBook, hexOf } from "./colours.js";
import { ColourFields } from "./colour_fields.js";
import { fixed, together } from "./numbers.js";
import { PictureView } from "./picture_view.js";
import { Question, saidWords } from "./question.js";
import { SliderView, valueWords } from "./slider_view.js";
import { STEPS } from "./steps/all.js";

/** @import { KeptStep } from "./keep.js" */
/** @import { LessonData, Rgb, Row, Setting, StepData, Work } from "./types.js" */

const QUIET = 300; // milliseconds after the last move before a change is said aloud
const HEARD = 3000; // milliseconds after which that is taken away: whoever reads on meets it once

/**
 * Words with what stands in braces set bold, as it is explained there.
 * @param {string} words
 */
function defined(words) {
  return together(words).split(/[{}]/).map((part, at) => (at % 2 ? make("b", { text: part }) : document.createTextNode(part)));
}

/** @param {Row} row */
function sumRow({ name, chip, cells }) {
  const square = chip ? make("i", { class: "cl-chip", "aria-hidden": "true" }) : null;
  if (square && chip) square.style.background = hexOf(chip);
  return make("tr", {}, make("th", { scope: "row" }, square, name),
    ...cells.map((text, at) => make("td", { text, class: at === cells.length - 1 ? "cl-total" : "" })));
}

/** @param {string[]} heads */
function headRow(heads) {
  return heads.length
    ? make("thead", {}, make("tr", {}, ...heads.map((text) => (text ? columnHead(text) : make("td")))))
    : null;
}

/** @param {NonNullable<Work["goals"]>[0]} goal */
function goalNode({ met, words, value, wanted, most }) {
  const fill = make("i");
  const mark = make("u");
  fill.style.width = `${Math.min(100, (100 * value) / most)}%`;
  mark.style.left = `${(100 * wanted) / most}%`;
  return make("div", { class: "cl-goal" }, make("b", { text: met ? "✓" : "·", "aria-hidden": "true" }),
    make("p", {}, make("b", { text: met ? "Met. " : "Not yet. " }), words),
    make("p", { class: "cl-have", text: `${fixed(value)}, wanted ${wanted}` }),
    make("div", { class: "cl-gauge", "aria-hidden": "true" }, fill, mark));
}

export class StepView {
  /** @type {PictureView[]} */
  #views = [];
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #quiet;
  /** @type {string | null} what came of the last move that was said aloud, or of none yet */
  #told;

  /**
   * @param {LessonData} data
   * @param {StepData} step
   * @param {KeptStep} kept
   * @param {() => void} onchange
   */
  constructor(data, step, kept, onchange) {
    this.data = data;
    this.step = step;
    this.kept = kept;
    this.onchange = onchange;
    this.code = STEPS[step.key];
    this.book = new ColourBook(data, step);
    this.request = perFrame(() => this.draw());
    this.sliders = new Map(step.sliders.map((slider) => [slider.key, this.#slider(slider)]));
    this.fields = new ColourFields(this.#startColours(), this.book, (key, name) => this.#coloured(key, name));
    this.pictures = make("div", { class: "cl-pictures" });
    this.sums = make("table", { class: "cl-sums" });
    this.said = make("p", { class: "cl-said" });
    this.aloud = make("p", { class: "cl-unseen", "aria-live": "polite" });
    this.goals = make("div", { class: "cl-goals" });
    this.question = step.boxes.length ? this.#question() : null;
    this.root = this.#section();
    this.draw();
    this.#told = this.said.textContent;
  }

  /** @param {StepData["sliders"][0]} slider */
  #slider(slider) {
    const start = this.kept.at[slider.key] ?? slider.value;
    return new SliderView(slider, start, (value) => {
      this.kept.at[slider.key] = value;
      this.#changed();
    });
  }

  #startColours() {
    return this.step.fields.map(([key, label, name]) => {
      const found = this.book.read(this.kept.colours[key] ?? "") ?? this.book.read(name);
      return { key, label, ...(found ?? { name, rgb: /** @type {Rgb} */ ([1, 1, 1]) }) };
    });
  }

  /**
   * @param {string} key
   * @param {string} name
   */
  #coloured(key, name) {
    this.kept.colours[key] = name;
    this.#changed();
  }

  #changed() {
    this.request();
    this.#sayAloud();
    this.onchange();
  }

  /** @returns {Setting} */
  setting() {
    const { fields } = this.fields;
    return {
      rgb: Object.fromEntries(fields.map(({ key, rgb }) => [key, rgb])),
      called: Object.fromEntries(fields.map(({ key, name }) => [key, name])),
      at: Object.fromEntries([...this.sliders].map(([key, slider]) => [key, slider.value])),
      options: this.step.options,
      mixings: this.data.mixings,
    };
  }

  #question() {
    return new Question({
      step: this.step,
      kept: this.kept,
      choices: this.code.choices?.(this.setting()) ?? [],
      answer: () => this.code.answer(this.setting()),
      trial: (key, value) => this.#trial(key, value),
      onchange: this.onchange,
    });
  }

  /**
   * @param {string} key
   * @param {number} value
   */
  #trial(key, value) {
    const slider = /** @type {SliderView} */ (this.sliders.get(key));
    const { low, high, unit } = slider.data;
    if (value < low || value > high) return `“${fixed(value, value % 1 ? 1 : 0)}” is beyond the slider. Try ${low} to ${high}${unit}.`;
    slider.goTo(value);
    return "";
  }

  #section() {
    const { step } = this;
    const mark = step.number ? String(step.number) : "Last";
    const left = make("div", { class: "cl-left" }, this.pictures,
      make("div", { class: "cl-controls" },
        make("div", { class: "cl-sliders" }, ...[...this.sliders.values()].map(({ root }) => root)), this.fields.root));
    const right = make("div", { class: "cl-text" },
      step.key === "task" ? this.goals : this.sums, step.key === "task" ? null : this.said, this.question?.root, this.aloud);
    this.right = right;
    this.title = make("h2", { tabindex: "-1" }, make("span", { text: mark }), " ", step.title);
    return make("section", { class: "cl-step", "data-step": step.key }, this.title,
      // In the order they are read: what it is about, what can be moved, what comes of it.
      make("div", { class: "cl-halves" }, make("p", { class: "cl-words" }, ...defined(step.words)), left, right));
  }

  draw() {
    const work = this.code.work(this.setting());
    this.work = work;
    this.pictures.className = `cl-pictures ${work.layout ?? ""}`;
    work.pictures.forEach((picture, at) => {
      if (!this.#views[at]) this.pictures.append((this.#views[at] = new PictureView()).root);
      this.#views[at].fill(picture);
    });
    this.#sum(work);
    say(this.said, together(work.said));
    this.goals.replaceChildren(...(work.goals ?? []).map(goalNode));
    if (this.question) {
      this.question.asking.choices = this.code.choices?.(this.setting()) ?? [];
      this.question.refresh();
    }
  }

  /** Say what came of the last move, once nothing moves. */
  #sayAloud() {
    clearTimeout(this.#quiet);
    this.#quiet = setTimeout(() => {
      if (this.#told === this.said.textContent) return;
      this.#told = this.said.textContent;
      say(this.aloud, spoken(this.work?.said ?? ""));
      this.#quiet = setTimeout(() => say(this.aloud, ""), HEARD);
    }, QUIET);
  }

  /** @param {Work} work */
  #sum({ sums }) {
    this.sums.replaceChildren(...[make("caption", { class: "cl-unseen", text: sums.caption }), headRow(sums.heads),
      make("tbody", {}, ...sums.rows.map(sumRow))].filter((node) => node !== null));
  }

  /** Where colours and sliders stand, in one line. */
  settingWords() {
    const colours = this.fields.fields.map(({ label, name }) => `${label}: ${name}`);
    const sliders = [...this.sliders.values()].map(({ data, value }) => `${data.name}: ${valueWords(data, value)}`);
    return [...colours, ...sliders].join(", ");
  }

  saidWords() {
    return saidWords(this.step.boxes, this.kept.said);
  }

  canvas() {
    return this.#views[0].canvas;
  }

  close() {
    clearTimeout(this.#quiet);
    this.request.stop();
  }
}
