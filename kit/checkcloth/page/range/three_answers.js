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
      onclick: () => this.#pick(say) }));
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

  /** @param {Say} say */
  #pick(say) {
    this.show(say === this.value ? "" : say);
    this.onpick(this.value);
  }
}
