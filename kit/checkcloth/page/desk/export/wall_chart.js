// The chart of a press that was read for the wall, offered for the plates too.

import { button, make, say } from "../../shared/dom.js";

/** @import { Desk } from "../types.js" */

export class WallChart {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.take = button("", () => this.#take());
    this.root = make("div", { class: "cc-press-profile", hidden: true }, make("div", { class: "cc-row" }, this.take));
  }

  get #chart() {
    return this.desk.model.get("facts").press_chart ?? "";
  }

  fill() {
    const { plates, condition } = this.desk.model.get("export");
    this.root.hidden = !this.#chart || (condition === this.#chart && plates === "colours");
    say(this.take, `Plates by ${this.#chart}, as the wall`);
  }

  async #take() {
    await this.desk.act("set_export", undefined, { fields: { plates: "colours", condition: this.#chart } });
    const plates = this.root.parentElement?.querySelector('[data-part^="plates"]');
    if (plates instanceof HTMLElement) plates.focus();
  }
}
