// What stands above the wall: the settings, undo, new ideas, how the wall is sorted and thinned.

import { button, choice, make, refill, say } from "../shared/dom.js";
import { SCALES } from "./grid.js";

/** @import { Desk } from "./types.js" */
/** @import { Grid } from "./grid.js" */
/** @import { Settings } from "./settings.js" */

export class Tools {
  /**
   * @param {Desk} desk
   * @param {Grid} grid
   * @param {Settings} settings
   */
  constructor(desk, grid, settings) {
    this.desk = desk;
    const { model } = desk;
    const columns = model.get("columns");
    const act = (/** @type {string} */ what) => () => desk.act(what);
    this.undo = button("Undo", act("undo"), { keys: "U" });
    this.redo = button("Redo", act("redo"), { keys: "R" });
    this.draw = button("New draw", act("draw"), { label: "New draw from the palette" });
    this.scale = choice("Wall shows", SCALES, grid.scale, (scale) => {
      grid.scale = scale;
      grid.paint();
    });
    this.vision = choice("Seen", model.get("visions"), "normal",
      (vision) => desk.act("vision", 0, { vision }));
    this.sort = choice("Sort by", [["", "as drawn"], ...columns], "", () => this.#sendSort());
    this.direction = choice("from", [["", "greatest"], ["-", "least"]], "", () => this.#sendSort());
    this.column = choice("Hide where", columns, "least_edge", () => {});
    this.least = make("input", { type: "number", class: "cc-input cc-number", step: "any", value: 3,
      "aria-label": "is under",
      onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === "Enter" && this.#sendLimit() });
    this.limits = make("div", { class: "cc-chips", role: "list", "aria-label": "Hidden and locked" });
    this.showHidden = make("input", { type: "checkbox", onchange: () => {
      grid.showHidden = this.showHidden.checked;
      grid.keepFocus(() => grid.arrange());
    } });
    this.showHiddenBox = make("label", { class: "cc-check" }, this.showHidden,
      make("span", { text: "show what is hidden, and why" }));
    this.words = make("p", { class: "cc-dealt" });
    this.root = this.#lay(settings);
    this.fill();
  }

  /** @param {Settings} settings */
  #lay(settings) {
    const more = make("div", { class: "cc-more", hidden: true },
      make("div", { class: "cc-row" }, ...settings.fields, this.scale.box, this.vision.box,
        this.sort.box, this.direction.box),
      make("details", { class: "cc-fold" }, make("summary", { text: "Hide what scores too low" }),
        make("div", { class: "cc-row" }, this.column.box,
          make("label", { class: "cc-field" }, make("span", { text: "is under" }), this.least),
          button("Hide", () => this.#sendLimit(), { label: "Hide these from the wall" }))));
    const opener = button("More", () => {
      more.hidden = !more.hidden;
      opener.setAttribute("aria-expanded", String(!more.hidden));
    }, { label: "More settings" });
    opener.setAttribute("aria-expanded", "false");
    return make("div", { class: "cc-tools" },
      make("div", { class: "cc-settings", role: "group", "aria-label": "The draw" },
        ...settings.sliders, opener),
      more,
      make("div", { class: "cc-row cc-bar-row" }, settings.palette.box, this.draw,
        button("Something different", () => this.desk.act("different"), { keys: "D" }),
        make("span", { class: "cc-spring" }), this.undo, this.redo),
      make("div", { class: "cc-row cc-dealt-row" }, this.words, this.showHiddenBox,
        make("span", { class: "cc-spring" }), button("Keys", () => this.desk.showKeys(), { keys: "?" })),
      this.limits);
  }

  #sendSort() {
    const sort = this.sort.select.value;
    this.desk.act("sort", 0, { sort: sort ? this.direction.select.value + sort : "" });
  }

  #sendLimit() {
    this.desk.act("limit", 0, { column: this.column.select.value, least: Number(this.least.value) });
  }

  fill() {
    const { model } = this.desk;
    const facts = model.get("facts");
    const hidden = model.get("hidden").length;
    const shown = model.get("numbers").length - hidden;
    say(this.words, `${shown} ${shown === 1 ? "colourway" : "colourways"}`
      + `${hidden ? `, ${hidden} hidden` : ""}: ${facts.dealt}`);
    showStep(this.undo, facts.undo, "Undo");
    showStep(this.redo, facts.redo, "Redo");
    this.vision.select.value = model.get("vision");
    this.sort.select.value = facts.sort.replace(/^-/, "");
    this.direction.select.value = facts.sort.startsWith("-") ? "-" : "";
    this.direction.box.hidden = !facts.sort;
    this.showHiddenBox.hidden = !hidden;
    this.#fillLimits();
  }

  #fillLimits() {
    const { desk } = this;
    const { limits, locks } = desk.model.get("facts");
    this.limits.hidden = !limits.length && !locks.length;
    refill(this.limits, [
      ...limits.map(({ column, words }) => tag(words, `Stop hiding: ${words}`,
        () => desk.act("unlimit", 0, { column }))),
      ...locks.map(({ words, place }) => tag(`locked: ${words}`, `Unlock ${words}`,
        () => desk.act("unlock", 0, { place }))),
    ], this.draw);
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
}

/**
 * Something in force that can be taken away.
 * @param {string} text
 * @param {string} label
 * @param {() => unknown} act
 */
function tag(text, label, act) {
  return make("span", { class: "cc-tag", role: "listitem" },
    make("span", { text }), button("×", act, { label, kind: "cc-small" }));
}
