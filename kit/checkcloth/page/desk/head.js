// The head of the desk: the range and whether it is saved, the parts of the desk, undo and redo.

import { button, make, say } from "../shared/dom.js";
import { RangePanel } from "./range_panel.js";

/** @import { Tabs } from "./tabs.js" */
/** @import { Desk } from "./types.js" */

export class Head {
  /**
   * @param {Desk} desk
   * @param {Tabs} tabs
   */
  constructor(desk, tabs) {
    this.desk = desk;
    this.panel = new RangePanel(desk);
    this.undo = button("Undo", () => desk.act("undo"), { keys: "U", kind: "cc-plain" });
    this.redo = button("Redo", () => desk.act("redo"), { keys: "R", kind: "cc-plain" });
    this.root = make("div", { class: "cc-head" },
      make("div", { class: "cc-range-name" }, this.panel.opener, this.panel.saved), tabs.root,
      make("div", { class: "cc-head-acts" }, this.undo, this.redo,
        button("Keys", () => desk.showKeys(), { keys: "?", kind: "cc-plain" })));
  }

  fill() {
    const facts = this.desk.model.get("facts");
    this.panel.fill();
    showStep(this.undo, facts.undo, "Undo");
    showStep(this.redo, facts.redo, "Redo");
  }
}

/**
 * @param {HTMLButtonElement} node
 * @param {string} words of the step, "" where there is none
 * @param {string} verb
 */
function showStep(node, words, verb) {
  node.setAttribute("aria-disabled", String(!words));
  node.classList.toggle("cc-off", !words);
  node.title = words ? `${verb}: ${words}` : `Nothing to ${verb.toLowerCase()}`;
  node.setAttribute("aria-label", words ? node.title : verb);
  say(node, verb);
}
