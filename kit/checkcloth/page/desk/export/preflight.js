// Pre-flight: what a printer or a mill would send back, and the limits that it is judged by.

import { make, say } from "../../shared/dom.js";
import { capital } from "../../shared/words.js";
import { Field } from "./field.js";
import { preflightWords, whoseWords } from "./words.js";

/** @import { Desk } from "../types.js" */
/** @import { Looked } from "./words.js" */

/** @typedef {{ words: string, rows: Looked[] }} PreflightOutcome */

const LIMITS = ["least_dpi", "most_dpi", "colour_space", "megabytes", "side", "cloth_width", "screens", "stretch", "strike_off", "threads", "difference"];

export class Preflight {
  #key = "";

  /** @param {Desk} desk */
  constructor(desk) {
    this.words = make("p", { class: "cc-quiet" });
    this.notes = make("ul", { class: "cc-looked", "aria-label": "Notes of the pre-flight" });
    this.passes = make("ul", { class: "cc-looked", "aria-label": "What passes" });
    this.passed = make("details", { class: "cc-fold", hidden: true }, make("summary"), this.passes);
    this.fields = LIMITS.map((name) => new Field(desk, name));
    this.limits = make("details", { class: "cc-fold" }, make("summary", { text: "What the printer takes" }),
      make("p", { class: "cc-quiet", text: "As it stands it is common practice, with no source: ask the printer or the mill for its own." }),
      make("div", { class: "cc-export-fields" }, ...this.fields.map((field) => field.root)));
    this.root = make("div", { class: "cc-preflight", role: "group", "aria-label": "Pre-flight" },
      this.words, this.notes, this.passed, this.limits);
  }

  /** @param {Record<string, string>} faults by field */
  fill(faults) {
    this.fields.forEach((field) => field.fill(faults));
    if (this.fields.some((field) => field.wrong)) this.limits.open = true;
  }

  /** @param {PreflightOutcome} outcome */
  tell({ words, rows }) {
    const key = JSON.stringify([words, rows]);
    if (key === this.#key) return;
    this.#key = key;
    say(this.words, words && `${capital(words)}.`);
    const [notes, passes] = [rows.filter((row) => !row[1]), rows.filter((row) => row[1])];
    this.notes.replaceChildren(...notes.map(looked));
    this.passes.replaceChildren(...passes.map(looked));
    this.notes.hidden = !notes.length;
    this.passed.hidden = !passes.length;
    const summary = this.passed.querySelector("summary");
    if (summary) say(summary, `What passes, ${passes.length}`);
  }
}

/** @param {Looked} row */
function looked(row) {
  return make("li", {}, make("span", {}, make("strong", { text: row[1] ? "pass" : "note" }), ` ${preflightWords(row)}`),
    make("span", { class: "cc-quiet", text: whoseWords(row) }));
}
