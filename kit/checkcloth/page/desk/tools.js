// What stands above the wall: the settings of the draw, where it is from, how it is sorted and thinned.

import { button, choice, labelled, make, refill, say, setAttribute, textInput, tick } from "../shared/dom.js";
import { reductionWords, rulerOf } from "../shared/scale.js";
import { deviceRatio, screenPixels } from "../shared/swatch.js";
import { counted } from "../shared/words.js";
import { Find } from "./find.js";
import { sourceWords } from "./find_words.js";
import { SCALES } from "./grid.js";

/** @import { Desk } from "./types.js" */
/** @import { Grid } from "./grid.js" */
/** @import { Settings } from "./settings.js" */

/** @type {[captions: string, words: string][]} */
const UNDER = [["colours", "its colours"], ["score", "a score"], ["nothing", "nothing"]];

export class Tools {
  /**
   * @param {Desk} desk
   * @param {Grid} grid
   * @param {Settings} settings
   */
  constructor(desk, grid, settings) {
    this.desk = desk;
    this.grid = grid;
    const { model } = desk;
    const columns = model.get("columns");
    this.draw = button("New draw", () => desk.act("draw"), { label: "New draw from the palette" });
    this.find = new Find(desk, grid);
    this.scale = choice("Wall shows", SCALES, grid.scale, (scale) => {
      grid.scale = scale;
      grid.lay();
    });
    this.under = choice("Under each cloth", UNDER, grid.captions, (captions) => {
      grid.captions = captions;
      grid.lay();
    });
    this.vision = choice("Seen", model.get("visions"), "normal",
      (vision) => desk.act("vision", 0, { vision }));
    this.light = choice("Light", model.get("lights"), "D65", (light) => desk.act("light", 0, { light }));
    this.sort = choice("Sort by", [["", "as drawn"], ...columns], "", () => this.#sendSort());
    this.direction = choice("from", [["", "greatest"], ["-", "least"]], "", () => this.#sendSort());
    this.column = choice("Hide where", columns, "least_edge", () => {});
    this.least = textInput("is under", { type: "number", class: "cc-number", step: "any", value: 3, enter: () => this.#sendLimit() });
    this.tags = make("div", { class: "cc-chips", role: "list", "aria-label": "Hidden and held" });
    this.showHidden = tick("show what is hidden, and why", (on) => {
      grid.showHidden = on;
      grid.keepFocus(() => grid.arrange());
    }).box;
    this.count = make("span", { class: "cc-count" });
    this.words = make("p", { class: "cc-quiet cc-dealt" });
    this.more = this.#layMore(settings);
    this.opener = button("More", () => {
      this.more.hidden = !this.more.hidden;
      this.opener.setAttribute("aria-expanded", String(!this.more.hidden));
    }, { label: "More settings" });
    this.opener.setAttribute("aria-expanded", "false");
    this.settings = make("div", { class: "cc-settings", role: "group", "aria-label": "The draw" },
      ...settings.sliders, this.opener, this.more);
    this.ruler = make("span", { class: "cc-ruler" });
    this.rulerWords = make("span", { class: "cc-quiet cc-ruler-words" });
    this.bar = make("div", { class: "cc-bar" }, this.count, settings.palette.box, this.draw, this.find.opener,
      this.ruler, this.rulerWords, make("span", { class: "cc-spring" }));
    grid.onlay = () => this.#fillRuler();
    this.fill();
  }

  /** @param {Settings} settings */
  #layMore(settings) {
    const { desk } = this;
    return make("div", { class: "cc-more", hidden: true },
      make("div", { class: "cc-row" }, ...settings.fields, this.under.box, this.scale.box,
        this.vision.box, this.light.box, this.sort.box, this.direction.box),
      settings.bands.root,
      make("div", { class: "cc-row" }, this.column.box,
        labelled("is under", this.least),
        button("Hide", () => this.#sendLimit(), { label: "Hide these from the wall" }),
        this.showHidden, make("span", { class: "cc-spring" }),
        button("Something different", () => desk.act("different"), { keys: "D" })),
      this.words);
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
    say(this.count, sourceWords(shown, facts.source ?? ""));
    say(this.words, `${counted(shown, "colourway")}${hidden ? `, ${hidden} hidden` : ""}: ${facts.dealt}`);
    setAttribute(this.count, "title", this.words.textContent ?? "");
    // The bar under it says as much of a draw from the palette of which nothing is hidden.
    this.words.hidden = !hidden && facts.dealt === `drawn from ${model.get("palette")}`;
    this.vision.select.value = model.get("vision");
    this.light.select.value = model.get("light");
    this.sort.select.value = facts.sort.replace(/^-/, "");
    this.direction.select.value = facts.sort.startsWith("-") ? "-" : "";
    this.direction.box.hidden = !facts.sort;
    this.showHidden.hidden = !hidden;
    this.#fillTags(hidden);
  }

  /** How long an inch is on the wall. */
  #fillRuler() {
    const perInch = this.grid.pixels / deviceRatio() / this.desk.inches;
    const { width, inside } = rulerOf(perInch);
    const words = reductionWords(perInch / screenPixels());
    this.ruler.style.width = `${width}px`;
    say(this.ruler, inside ? "1 in" : "");
    say(this.rulerWords, inside ? words : `1 in, ${words}`);
    setAttribute(this.ruler, "title", `1 in, ${words}`);
  }

  /** What is in force and can be taken away; nothing where there is none. @param {number} hidden */
  #fillTags(hidden) {
    const { desk } = this;
    const { limits, staying, own = [] } = desk.model.get("facts");
    const tags = [
      ...limits.map(({ column, words }, i) => tag(i ? words : `${hidden} hidden: ${words}`,
        `Stop hiding: ${words}`, () => desk.act("unlimit", 0, { column }))),
      ...staying.map(({ words, part }) => tag(`stays: ${words}`, `Let ${words} change`,
        () => desk.act("stays", 0, { number: null, part, stays: false }))),
    ];
    if (staying.length > 1) {
      tags.push(make("span", { role: "listitem" },
        button("Let all change", () => desk.act("stays", 0, { number: null, stays: false }),
          { label: "Let all that stays change", kind: "cc-small" })));
    }
    tags.push(...[this.vision.select, this.light.select].flatMap((select, at) => (select.selectedIndex > 0
      ? [tag(`${at ? "under" : "seen"} ${select.selectedOptions[0].text}`, at ? "Back to daylight" : "See it as it is",
        () => (at ? desk.act("light", 0, { light: "D65" }) : desk.act("vision", 0, { vision: "normal" })))] : [])));
    if (own.length) {
      tags.push(make("span", { class: "cc-quiet", role: "listitem",
        text: `${own.length} by hand ${own.length === 1 ? "keeps its" : "keep their"} own` }));
    }
    this.tags.hidden = !tags.length;
    refill(this.tags, tags, this.draw);
  }
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
