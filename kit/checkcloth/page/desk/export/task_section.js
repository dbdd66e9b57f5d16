// Whom files are made for: ticked by its head; what is made, how large, and what is missing before it can.

import { make, say, tick } from "../../shared/dom.js";
import { Changes } from "./changes.js";
import { Field } from "./field.js";
import { aboutWords, partWords } from "./words.js";

/** @import { Desk } from "../types.js" */
/** @import { Part } from "./words.js" */

/**
 * @typedef {object} TaskKind
 * @property {string} key
 * @property {string} title
 * @property {string} note
 * @property {string[]} first fields in sight
 * @property {string[]} more fields under "More choices"
 */

/** @type {TaskKind[]} */
export const TASKS = [
  { key: "client", title: "For the client", first: ["paper"], more: ["title", "note", "reference", "date", "client_sizes", "client_strengths", "codes", "width", "length", "cut", "families"],
    note: "To look at, open or print: all colourways at one scale, and a page of each with its tones and your notes." },
  { key: "printer", title: "For the printer", first: ["resolutions", "sizes", "plates"], more: ["bias", "condition", "press", "intent", "black_point"],
    note: "A repeat of each colourway at true size, that tiles without a seam; check, repeat and dpi stand in each file. Agree a strike-off." },
  { key: "mill", title: "For the mill", first: ["ends", "width", "length"], more: ["picks", "warp_take_up", "weft_take_up", "waste"],
    note: "A thread plan for a piece of cloth: orders, totals, metres of yarn, a draft. Take-up and waste only stand in: ask the mill for its own." },
  { key: "shop", title: "For the web shop", first: ["thumbnails"], more: [],
    note: "Square pictures, and the colours for a page." },
];

export class TaskSection {
  /**
   * @param {Desk} desk
   * @param {TaskKind} kind
   * @param {Node[]} [extra] what else stands under "More choices"
   * @param {{ root: Node, fill: (faults: Record<string, string>) => void }[]} [below] what stands below them
   */
  constructor(desk, kind, extra = [], below = []) {
    this.desk = desk;
    this.kind = kind;
    this.below = below;
    this.changes = new Changes(desk, () => this.#show(), () => this.fill({}));
    this.tick = tick(kind.title, (on) => this.changes.send({ [kind.key]: on }));
    this.tick.input.dataset.part = kind.key;
    this.error = make("p", { class: "cc-field-said", role: "alert", hidden: true });
    this.parts = make("ul", { class: "cc-made-parts", "aria-label": `What is made ${kind.title[0].toLowerCase()}${kind.title.slice(1)}` });
    this.missing = make("p", { class: "cc-quiet", hidden: true });
    this.fields = [...kind.first, ...kind.more].map((name) => new Field(desk, name, kind.key));
    const boxes = this.fields.map((field) => field.root);
    const many = kind.first.length;
    this.more = make("details", { class: "cc-fold" }, make("summary", { text: "More choices" }),
      make("div", { class: "cc-export-fields" }, ...boxes.slice(many)), ...extra);
    this.more.hidden = !kind.more.length;
    this.note = make("p", { class: "cc-quiet", text: kind.note });
    this.body = make("div", { class: "cc-task-body" }, this.parts, this.missing,
      make("div", { class: "cc-export-fields" }, ...boxes.slice(0, many)), this.more, ...below.map((part) => part.root));
    this.root = make("section", { class: "cc-task", "aria-label": kind.title },
      make("div", { class: "cc-task-head" },
        make("h3", { class: "cc-title" }, this.tick.box), this.note, this.error),
      this.body);
  }

  #show() {
    this.tick.input.checked = Boolean(this.desk.model.get("export")[this.kind.key]);
  }

  /** @param {Record<string, string>} faults by field */
  fill(faults) {
    this.changes.show();
    const on = this.tick.input.checked;
    this.body.hidden = this.note.hidden = !on;
    say(this.error, faults[this.kind.key] ?? "");
    this.error.hidden = !faults[this.kind.key];
    [...this.fields, ...this.below].forEach((part) => part.fill(on ? faults : {}));
    if (this.fields.slice(this.kind.first.length).some((field) => field.wrong)) this.more.open = true;
  }

  /**
   * @param {Part[]} parts what is made
   * @param {string} missing what is to be given before all of it can be
   */
  tell(parts, missing) {
    this.parts.replaceChildren(...parts.map((part) => make("li", {},
      make("span", { text: partWords(part) }), make("span", { class: "cc-quiet", text: aboutWords(part[4]) }))));
    this.parts.hidden = !parts.length;
    this.missing.hidden = !missing;
    say(this.missing, missing && `${parts.length ? "Not given" : "Nothing yet: it needs"}${parts.length ? ":" : ""} ${missing}`);
  }
}
