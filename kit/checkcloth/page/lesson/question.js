// A question: the pupil's own answer comes first, then ours is offered.

import { make, say } from "../shared/dom.js";
import { capital } from "../shared/words.js";
import { readNumber, together } from "./numbers.js";

/** @import { BoxData, StepData } from "./types.js" */

const OPEN = "?"; // what stands for "Don't know"

/**
 * What a pupil wrote, in one line: "70 % laid over, 90 % woven"; "" where nothing was.
 * @param {BoxData[]} boxes
 * @param {string[]} said
 */
export function saidWords(boxes, said) {
  if (said[0] === OPEN) return "don’t know";
  if (!said.some((text) => text.trim())) return "";
  return boxes.map(({ label, unit }, at) => {
    const named = boxes.length > 1 ? ` (${label.toLowerCase()})` : "";
    const spaced = unit && Number.isFinite(readNumber(said[at] ?? "")) ? ` ${unit}` : "";
    return `${(said[at] ?? "").trim() || "nothing"}${spaced}${named}`;
  }).join(", ");
}

/**
 * @typedef {object} Asking
 * @property {StepData} step
 * @property {{said: string[], shown: boolean}} kept
 * @property {() => string} answer
 * @property {(slider: string, value: number) => string} trial sets a slider, or says what is wrong
 * @property {string[]} choices
 * @property {() => void} onchange
 */

export class Question {
  /** @param {Asking} asking */
  constructor(asking) {
    this.asking = asking;
    const { step, kept } = asking;
    this.inputs = step.boxes.map((box, at) => this.#box(box, at));
    this.last = this.inputs[0];
    this.show = make("button", { type: "button", class: "cl-button cl-strong", text: "Show the answer", onclick: () => this.open() });
    this.trial = step.boxes.some(({ slider }) => slider)
      ? make("button", { type: "button", class: "cl-button", text: "Try mine", "aria-label": "Try mine: set the slider to my answer", onclick: () => this.#try() })
      : null;
    this.pass = make("button", { type: "button", class: "cl-plain", text: "Don’t know", onclick: () => this.#pass() });
    this.wrong = make("p", { class: "cl-wrong", role: "alert" });
    this.answer = make("p");
    this.own = make("p", { class: "cl-quiet" });
    this.shown = make("div", { class: "cl-shown", "aria-live": "polite" });
    this.root = make("div", { class: "cl-ask" }, make("p", {}, make("b", { text: "Question. " }), together(step.question)),
      make("div", { class: "cl-line" }, ...step.boxes.flatMap((box, at) => this.#labelled(box, at)),
        make("div", { class: "cl-line" }, this.trial, this.show, this.pass)), this.wrong, this.shown);
    this.#ready();
    if (kept.shown) this.#reveal();
  }

  /**
   * @param {BoxData} box
   * @param {number} at
   */
  #labelled(box, at) {
    return [make("label", { class: "cl-line" }, make("span", { text: `${box.label}:` }), this.inputs[at],
      box.unit ? make("span", { text: box.unit }) : null)];
  }

  /**
   * @param {BoxData} box
   * @param {number} at
   * @returns {HTMLInputElement | HTMLSelectElement}
   */
  #box(box, at) {
    const { kept, choices } = this.asking;
    const value = kept.said[at] === OPEN ? "" : kept.said[at] ?? "";
    /** @type {HTMLInputElement | HTMLSelectElement} */
    const node = box.choice
      ? make("select", { class: "cl-input" }, make("option", { value: "", text: "choose" }),
        ...choices.map((text) => make("option", { value: text, text })))
      : make("input", { class: "cl-input cl-number", type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 40 });
    node.value = value;
    node.addEventListener(box.choice ? "change" : "input", () => {
      this.last = node;
      kept.said = this.inputs.map((input) => input.value);
      this.#ready();
      this.asking.onchange();
    });
    return node;
  }

  /** New names of colours make a new list; what was chosen stays if it is still there. */
  refresh() {
    const { choices, step, kept } = this.asking;
    step.boxes.forEach((box, at) => {
      const input = this.inputs[at];
      if (!box.choice || !(input instanceof HTMLSelectElement)) return;
      if ([...input.options].slice(1).map(({ text }) => text).join("\n") === choices.join("\n")) return;
      const { value } = input;
      input.replaceChildren(make("option", { value: "", text: "choose" }), ...choices.map((text) => make("option", { value: text, text })));
      input.value = choices.includes(value) ? value : "";
      if (!kept.shown) kept.said = this.inputs.map((one) => one.value);
    });
    this.#ready();
    if (kept.shown) say(this.answer.lastChild ?? this.answer, this.#ours());
  }

  #ours() {
    return together(capital(this.asking.answer()));
  }

  #ready() {
    const written = this.inputs.every((input) => input.value.trim());
    this.show.disabled = !written;
    if (this.trial) this.trial.disabled = !this.inputs.some((input) => Number.isFinite(readNumber(input.value)));
    say(this.wrong, "");
  }

  #try() {
    const usable = (/** @type {HTMLInputElement | HTMLSelectElement} */ input) => Number.isFinite(readNumber(input.value));
    const input = usable(this.last) ? this.last : /** @type {HTMLInputElement} */ (this.inputs.find(usable));
    const { slider } = this.asking.step.boxes[this.inputs.indexOf(input)];
    say(this.wrong, this.asking.trial(slider, readNumber(input.value)));
  }

  #pass() {
    const { kept } = this.asking;
    kept.said = kept.said.some((text) => text.trim()) ? kept.said : this.inputs.map(() => OPEN);
    this.open();
  }

  open() {
    this.asking.kept.shown = true;
    this.#reveal();
    this.asking.onchange();
  }

  #reveal() {
    const { step, kept } = this.asking;
    const own = saidWords(step.boxes, kept.said);
    this.answer.replaceChildren(make("b", { text: "Answer. " }), document.createTextNode(this.#ours()));
    say(this.own, kept.said[0] === OPEN ? "You left it open. Move the slider and see whether it is so."
      : together(`You answered ${own || "nothing"}. It stays in what you hand in.`));
    this.shown.replaceChildren(this.answer, this.own);
    [this.show, this.pass].forEach(retire);
    for (const input of this.inputs) {
      if (input instanceof HTMLSelectElement) input.disabled = true;
      else input.readOnly = true;
    }
  }
}

/**
 * Take a button away: at once, or where it has the focus, once that moves on. The answer is read out
 * where it stands; with the focus put there, it would be read twice.
 * @param {HTMLButtonElement} node
 */
function retire(node) {
  if (node === document.activeElement) {
    node.classList.add("cl-unseen");
    node.addEventListener("blur", () => { node.hidden = true; }, { once: true });
  } else node.hidden = true;
}
