// A slider with its name and value.

import { make, say, setAttribute } from "../shared/dom.js";
import { fixed } from "./numbers.js";

/** @import { SliderData } from "./types.js" */

/**
 * @param {SliderData} data
 * @param {number} value
 */
export function valueWords({ labels, low, step, unit }, value) {
  return labels.length ? labels[value - low] : `${fixed(value, step < 1 && value % 1 ? 1 : 0)}${unit}`;
}

export class SliderView {
  /**
   * @param {SliderData} data
   * @param {number} value
   * @param {(value: number) => void} onmove
   */
  constructor(data, value, onmove) {
    this.data = data;
    this.value = value;
    this.onmove = onmove;
    // No output element: a label names the first control within it, and an output is one.
    this.words = make("b", { "aria-hidden": "true" });
    this.input = make("input", { type: "range", min: data.low, max: data.high, step: data.step,
      oninput: () => this.#moved(Number(this.input.value)) });
    this.root = make("label", { class: "cl-slider" }, make("span", { text: data.name }), this.words, this.input);
    this.set(value);
  }

  /** @param {number} value */
  #moved(value) {
    this.set(value);
    this.onmove(this.value);
  }

  /**
   * Show a value, held to the ends and the steps of the slider.
   * @param {number} value
   */
  set(value) {
    this.input.value = String(value);
    this.value = Number(this.input.value);
    const words = valueWords(this.data, this.value);
    say(this.words, words);
    setAttribute(this.input, "aria-valuetext", words.replace("%", "per cent"));
  }

  /** @param {number} value */
  goTo(value) {
    this.#moved(value);
  }
}
