// The range: its name, where it is saved, and the ranges saved beside it.

import { button, make, say, setAttribute } from "../shared/dom.js";

/** @import { Desk } from "./types.js" */

/** @typedef {{path: string, name: string, kept: number, when: string, fault: string}} SavedRange */

export class RangePanel {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.opener = make("button", { type: "button", class: "cc-range-opener", "aria-expanded": "false",
      onclick: () => this.#toggle(this.root.hidden) });
    this.saved = make("span", { class: "cc-quiet cc-saved" });
    this.name = make("input", { type: "text", class: "cc-input", maxlength: 200, autocomplete: "off",
      "aria-label": "Name of the range", placeholder: "no name yet",
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        if (event.key === "Enter") this.name.blur();
      },
      onchange: () => {
        if (this.name.value !== this.#range.name) desk.act("name_range", 0, { name: this.name.value });
      } });
    this.file = make("p", { class: "cc-quiet" });
    this.list = make("ul", { class: "cc-ranges" });
    this.root = make("section", { class: "cc-range-panel", "aria-label": "The range", hidden: true,
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        this.#toggle(false);
        this.opener.focus();
      } },
    make("div", { class: "cc-row" },
      make("label", { class: "cc-field" }, make("span", { text: "Name of the range" }), this.name),
      button("Start a new range", () => this.#go("new_range")),
      button("Copy this one", () => this.#go("copy_range"), { label: "Copy this range" })),
    this.file, this.list);
  }

  get #range() {
    const { range, saved } = this.desk.model.get("facts");
    return range ?? { name: "", file: "", saved };
  }

  fill() {
    const { name, file, saved } = this.#range;
    const known = this.desk.model.get("facts").range !== undefined;
    say(this.opener, name || "Range without a name");
    this.opener.classList.toggle("cc-nameless", !name);
    this.opener.hidden = !known;
    say(this.saved, saved);
    setAttribute(this.saved, "title", saved);
    if (document.activeElement !== this.name) this.name.value = name;
    say(this.file, file ? `Saved in ${file}` : "Saved once something is kept");
  }

  /** @param {boolean} open */
  #toggle(open) {
    this.root.hidden = !open;
    setAttribute(this.opener, "aria-expanded", String(open));
    if (open) this.#listSaved();
  }

  /**
   * @param {"new_range" | "copy_range" | "open_range"} what
   * @param {object} [fields]
   */
  async #go(what, fields = {}) {
    await this.desk.act(what, 0, fields);
    this.#toggle(false);
    this.opener.focus();
  }

  async #listSaved() {
    /** @type {SavedRange[]} */
    let ranges = [];
    try {
      ranges = (await this.desk.request("ranges", {}))?.ranges ?? [];
    } catch {
      // the list stays empty; the name can be changed all the same
    }
    this.list.replaceChildren(...ranges.map((range) => make("li", { class: "cc-row" },
      make("strong", { text: range.name }),
      make("span", { class: "cc-quiet", text: range.fault || `${range.kept} kept, ${range.when}` }),
      range.fault ? null : button("Open", () => this.#go("open_range", { path: range.path }),
        { label: `Open ${range.name}`, kind: "cc-small" }))));
  }
}
