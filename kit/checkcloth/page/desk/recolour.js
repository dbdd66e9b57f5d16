// One colour changed in every kept colourway that holds it: to a swatch of the palette, or to what is typed.

import { button, make, say, textInput } from "../shared/dom.js";
import { Complaint } from "./hand/complaint.js";
import { refusalOf } from "./link.js";

/** @import { Desk } from "./types.js" */

export class Recolour {
  /** The colour that is changed, by its code, or "". */
  hex = "";

  /**
   * @param {Desk} desk
   * @param {() => void} onclose
   * @param {(hex: string, text: string, name: string) => void} ontyped a colour was changed to what was typed
   */
  constructor(desk, onclose, ontyped) {
    this.desk = desk;
    this.onclose = onclose;
    this.ontyped = ontyped;
    this.title = make("h4", { id: "" });
    this.swatches = make("div", { class: "cc-recolour-swatches", role: "group", "aria-label": "Colours of the palette" });
    const typed = () => this.#change({ text: this.field.value });
    const keys = { spellcheck: "false", enter: typed, escape: () => this.onclose() };
    this.field = textInput("Its new code or name", { ...keys, placeholder: "#c09fd4 or plum", "data-part": "recolour field" });
    this.called = textInput("What it is called then", { ...keys, "data-part": "recolour name" });
    this.said = new Complaint((name) => this.#change({ text: name }));
    this.root = make("section", { class: "cc-recolour" }, make("div", { class: "cc-row" }, this.title, make("span", { class: "cc-spring" }),
      button("Close", () => this.onclose(), { label: "Close the change of a colour", kind: "cc-plain" })),
    this.swatches, make("div", { class: "cc-row" }, this.field, this.called,
      button("Change it", typed, { label: "Change it to this code or name", kind: "cc-small" })), this.said.root);
  }

  /**
   * @param {string} palette
   * @param {[name: string, hex: string, ...unknown[]][]} colours
   */
  fill(palette, colours) {
    const colour = colours.find(([, hex]) => hex === this.hex);
    if (!colour) return;
    const [name, hex, , used = 0] = colour;
    const words = `${name} in ${used === 1 ? "the one kept that holds it" : `all ${used} kept that hold it`} becomes`;
    say(this.title, words);
    this.called.placeholder = `keeps ${name}`;
    this.called.title = `Another name for it; without one, a code keeps the name ${name}`;
    this.root.setAttribute("aria-label", words);
    this.swatches.replaceChildren(...colours.flatMap(([other, code], index) => {
      if (code === hex) return [];
      const node = make("button", { type: "button", class: "cc-colour", title: `${other} ${code}`, "aria-label": `${other} ${code}`,
        "data-part": `recolour ${index}`, onclick: () => this.#change({ palette, index }) });
      node.style.background = code;
      return [node];
    }));
  }

  /** @param {{palette: string, index: number} | {text: string}} to */
  async #change(to) {
    if ("text" in to && !to.text.trim()) return;
    this.said.say("");
    const { hex } = this;
    const name = "text" in to ? this.called.value.trim() : "";
    try {
      await this.desk.request("recolour", { from: hex, ...to, ...name ? { name } : {} });
    } catch (error) {
      const { words, near } = refusalOf(error);
      this.said.say(words, near);
      return;
    }
    this.field.value = this.called.value = "";
    this.onclose();
    if ("text" in to) this.ontyped(hex, to.text.trim(), name);
  }
}
