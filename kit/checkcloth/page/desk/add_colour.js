// One colour more for the palette that is shown: a name and a code, in a row under its colours.

import { button, make, setAttribute, textInput } from "../shared/dom.js";
import { Complaint } from "./hand/complaint.js";
import { refusalOf } from "./link.js";

/** @import { Desk } from "./types.js" */

export class AddColour {
  /**
   * @param {Desk} desk
   * @param {() => {palette: string, count: number}} shown the palette, and how many colours it has
   * @param {() => void} onadd
   */
  constructor(desk, shown, onadd) {
    this.desk = desk;
    this.shown = shown;
    this.onadd = onadd;
    const field = (/** @type {string} */ label, /** @type {string} */ placeholder) => textInput(label,
      { placeholder, spellcheck: "false", oninput: () => this.#complain("", "", []), enter: () => this.#add() });
    this.name = field("Name of a colour to add", "one more, its name");
    this.code = field("Code of a colour to add", "#c09fd4");
    this.said = new Complaint((name) => {
      this.code.value = name;
      this.#add();
    });
    const cell = (/** @type {Node[]} */ ...inside) => make("td", {}, ...inside);
    this.root = make("tfoot", {},
      make("tr", {}, cell(), cell(this.name), cell(this.code), cell(), cell(),
        cell(button("Add", () => this.#add(), { label: "Add this colour to the palette", kind: "cc-plain" }))),
      make("tr", {}, make("td", { colspan: 6 }, this.said.root)));
  }

  async #add() {
    const [name, text] = [this.name.value.trim(), this.code.value.trim()];
    if (!text) {
      this.code.focus();
      return;
    }
    const { palette, count } = this.shown();
    try {
      await this.desk.request("edit_palette", { palette, index: count - 1, field: "add", text, name });
    } catch (error) {
      const { words, near, field } = refusalOf(error);
      this.#complain(words, field, near);
      return;
    }
    this.name.value = this.code.value = "";
    this.#complain("", "", []);
    this.name.focus({ preventScroll: true });
    this.onadd();
  }

  /**
   * @param {string} words "" where nothing is wrong
   * @param {string} field which of the two, by the kernel's name for it
   * @param {string[]} near names that may have been meant
   */
  #complain(words, field, near) {
    this.said.say(words, near);
    setAttribute(this.name, "aria-invalid", String(field === "name"));
    setAttribute(this.code, "aria-invalid", String(words !== "" && field !== "name"));
  }
}
