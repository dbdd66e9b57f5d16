// The kernel's words where it has refused something; no element at all while there is nothing.

import { button, make, say } from "../../shared/dom.js";

export class Complaint {
  /** @param {(name: string) => void} [take] takes a name that may have been meant */
  constructor(take = () => {}) {
    this.take = take;
    this.words = make("p", { class: "cc-said", role: "alert" });
    this.near = make("div", { class: "cc-near", role: "group", "aria-label": "Did you mean" });
    this.root = make("div", { hidden: true }, this.words, this.near);
  }

  /**
   * @param {string} words "" takes them away
   * @param {string[]} [near] names that may have been meant
   */
  say(words, near = []) {
    this.root.hidden = words === "";
    this.near.hidden = !near.length;
    this.near.replaceChildren(...near.map((name) => button(name, () => this.take(name), { label: `Take ${name}`, kind: "cc-plain" })));
    say(this.words, words);
  }
}
