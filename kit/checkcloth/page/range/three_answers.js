// Yes, Maybe, No: real radio buttons, of which a second press takes the answer back.

import { make } from "../shared/dom.js";
import { SAYS } from "./answers.js";

/** @import { Say } from "./answers.js" */
/** @import { Colourway } from "./range_data.js" */

/** Groups of one page that are shown twice have names of their own. */
let groups = 0;

export class ThreeAnswers {
  /**
   * @param {Colourway} colourway
   * @param {Say} value
   * @param {(say: Say) => void} onpick
   */
  constructor({ number, title }, value, onpick) {
    this.value = value;
    this.onpick = onpick;
    const name = `answer-${(groups += 1)}`;
    this.inputs = SAYS.map(([say]) => make("input", { type: "radio", name, value: say,
      onclick: () => this.#pick(say),
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event, say) }));
    this.root = make("div", { class: "three", role: "radiogroup", "aria-label": `Your answer to ${number}, ${title}` },
      ...SAYS.map(([, text], at) => make("label", {}, this.inputs[at], make("span", { text }))));
    this.show(value);
  }

  /** @param {Say} value */
  show(value) {
    this.value = value;
    SAYS.forEach(([say], at) => {
      this.inputs[at].checked = say === value;
    });
  }

  /**
   * The space bar on the one that is chosen is no click, in every browser.
   * @param {KeyboardEvent} event
   * @param {Say} say
   */
  #key(event, say) {
    const back = ["Delete", "Backspace"].includes(event.key) || (event.key === " " && say === this.value);
    if (!back || !this.value) return;
    event.preventDefault();
    this.#pick(this.value);
  }

  /** @param {Say} say */
  #pick(say) {
    this.show(say === this.value ? "" : say);
    this.onpick(this.value);
  }
}
