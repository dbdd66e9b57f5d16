// The kernel's words where it has refused something; no element at all while there is nothing.

import { make, say } from "../../shared/dom.js";

export class Complaint {
  constructor() {
    this.root = make("p", { class: "cc-said", role: "alert", hidden: true });
  }

  /** @param {string} words "" takes them away */
  say(words) {
    this.root.hidden = words === "";
    say(this.root, words);
  }
}
