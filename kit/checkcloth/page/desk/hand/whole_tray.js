// The tray while no part is chosen: a note, cautions in one quiet line, and what else to do with it.

import { button, make, say, setAttribute, setOptions } from "../../shared/dom.js";
import { counted } from "../../shared/words.js";
import { MakeMore } from "../make_more.js";
import { figuresTable, remarkItems, tonesTable } from "./about.js";
import { textField } from "./text_field.js";
import { VisionViews } from "./vision_views.js";

/** @import { Details } from "../types.js" */
/** @import { HandState } from "./hand.js" */

let lists = 0;
const LONGEST = 46; // characters of a caution in the folded line

export class WholeTray {
  #key = "";

  /**
   * @param {HandState} hand
   * @param {boolean} large in the enlarged view
   */
  constructor(hand, large) {
    this.hand = hand;
    const { desk } = hand;
    this.note = textField("Note",
      { known: () => hand.known("note"), leave: () => hand.leave(), change: (text) => desk.act("note", hand.number, { text }) },
      { placeholder: "a note, for the sheets", maxlength: 2000, "aria-keyshortcuts": "T" });
    this.family = textField("Family", { known: () => this.#family, leave: () => hand.leave(),
      change: (text) => desk.act("family", this.#card?.number, { family: text }) }, { placeholder: "family: by itself" });
    this.families = make("datalist", { id: `cc-families-${(lists += 1)}` });
    this.family.setAttribute("list", this.families.id);
    this.familyBox = make("label", { class: "cc-field cc-family-field", hidden: true },
      make("span", { text: "Family" }), this.family, this.families);
    this.line = { count: make("span", {}), which: make("span", {}) };
    this.remarks = make("ul", { class: "cc-remarks" });
    this.views = new VisionViews(large ? 92 : 64);
    this.tones = make("div", { class: "cc-tones", tabindex: "0", role: "group", "aria-label": "Tones with names and hex" });
    this.figures = make("div", { class: "cc-figures" });
    const act = (/** @type {string} */ what) => () => hand.number !== undefined && desk.act(what, hand.number);
    const link = (/** @type {string} */ text, /** @type {() => unknown} */ go, /** @type {string | undefined} */ keys = undefined) =>
      button(text, go, { keys, kind: "cc-plain" });
    this.copy = link("Copy", () => this.#card && desk.act("copy", this.#card.number));
    this.copy.title = "Keep a copy of this one beside it";
    this.putAway = link("Put away", () => this.#putAway());
    this.putAway.title = "Take this one, made by hand, off the wall";
    this.compare = link("Lay beside", act("compare"), "C");
    this.empty = make("select", { class: "cc-select cc-empty-cloth", "aria-label": "Begin an empty cloth, of so many stripes",
      title: "An empty cloth, to be made by hand", onchange: () => this.#begin(Number(this.empty.value)) });
    this.eyes = this.#opening("Other eyes", "As other eyes see it, and in grey", this.views.root);
    this.more = this.#opening("Tones", "Tones with their codes, and scores",
      make("div", { class: "cc-more-tones" }, this.figures, this.tones));
    this.makeMore = new MakeMore(desk);
    this.again = this.#opening("Make more", "Make more of this one: the same again, but ...", this.makeMore.root);
    this.hint = make("p", { class: "cc-quiet", text: "Press a stripe, on the cloth or under it, to change its colour." });
    this.root = make("section", { class: "cc-tray cc-whole-tray", "aria-label": "About this colourway" },
      this.note, this.familyBox, make("details", {},
        make("summary", { class: "cc-quiet cc-caution-line" }, this.line.count, this.line.which), this.remarks),
      make("div", { class: "cc-tray-acts" }, link("More like this", act("more"), "M"), this.copy, this.putAway, this.compare,
        large ? null : link("Enlarge", () => desk.enlarge(), "Enter"), this.again.opener, this.eyes.opener, this.more.opener, this.empty),
      this.hint, this.again.body, this.eyes.body, this.more.body);
  }

  /** The kept card that is looked at, or that what is looked at on the wall stands for. */
  get #card() {
    const { data, desk } = this.hand;
    return data?.kept ? desk.model.get("kept").find((card) => card.number === data.kept) : undefined;
  }

  get #family() {
    return this.#card?.family ?? "";
  }

  /** Whether it was made by hand and is on the wall. */
  get #byHand() {
    const { data, desk } = this.hand;
    return data !== undefined && Boolean(desk.model.get("facts").own?.includes(data.number));
  }

  /** An empty cloth in hand, its first stripe chosen. @param {number} stripes */
  async #begin(stripes) {
    const { desk } = this.hand;
    this.empty.value = "";
    if (!stripes) return;
    const answer = await desk.request("empty", { stripes }).catch(() => undefined);
    if (answer?.number === undefined) return;
    await desk.lookAt(answer.number);
    this.hand.choose(1);
  }

  async #putAway() {
    const { desk, number } = this.hand;
    if (number === undefined || !this.#byHand) return;
    await desk.act("put_away", number);
    if (!this.#byHand) desk.backToWall();
  }

  /** Of a kept one more can be made; what is asked for is seen once it is opened. */
  #fillMore() {
    const card = this.#card;
    this.again.opener.hidden = !card;
    if (!card) {
      this.again.body.hidden = true;
      setAttribute(this.again.opener, "aria-expanded", "false");
    } else if (!this.again.body.hidden) this.makeMore.show(card);
  }

  /** A kept one may belong to a family, and be copied. */
  #fillFamily() {
    const families = this.hand.desk.model.get("facts").families;
    this.copy.hidden = !this.#card;
    this.familyBox.hidden = !this.#card || !families;
    if (document.activeElement !== this.family) this.family.value = this.#family;
    this.families.replaceChildren(...(families ?? []).map((value) => make("option", { value })));
  }

  /**
   * @param {string} text
   * @param {string} label
   * @param {HTMLElement} body
   */
  #opening(text, label, body) {
    body.hidden = true;
    const opener = button(text, () => {
      body.hidden = !body.hidden;
      setAttribute(opener, "aria-expanded", String(!body.hidden));
      this.hand.drawViews();
      this.#fillMore();
      if (!this.again.body.hidden && body === this.again.body) body.scrollIntoView({ block: "nearest" });
    }, { label, kind: "cc-plain" });
    setAttribute(opener, "aria-expanded", "false");
    return { opener, body };
  }

  fill() {
    const { data, desk } = this.hand;
    if (!data) return;
    if (document.activeElement !== this.note) this.note.value = data.note;
    setAttribute(this.compare, "aria-pressed", String(data.compared));
    this.hint.hidden = Boolean(desk.model.get("facts").undo);
    this.putAway.hidden = !this.#byHand;
    const [least, most] = desk.model.get("choices").stripes;
    setOptions(this.empty, [["", "Empty cloth…"], ...Array.from({ length: most - least + 1 }, (_, at) => {
      const many = least + at;
      return /** @type {[string, string]} */ ([String(many), `of ${counted(many, "stripe")}`]);
    })], "");
    this.#fillMore();
    this.#fillFamily();
    const key = JSON.stringify([data.number, data.remarks, data.tones, data.figures, data.title]);
    if (key === this.#key) return;
    this.#key = key;
    const { count, which } = cautionLine(data.remarks);
    say(this.line.count, count);
    say(this.line.which, which);
    this.remarks.replaceChildren(...remarkItems(data));
    this.tones.replaceChildren(tonesTable(data));
    this.figures.replaceChildren(...figuresTable(data));
    this.views.label(data);
  }
}

/**
 * How many cautions, and in short which: those are said while the list of them is folded.
 * @param {Details["remarks"]} remarks kind, text and, where the kernel gives it, a short form
 */
export function cautionLine(remarks) {
  const cautions = remarks.filter(([kind]) => kind === "caution");
  if (!cautions.length) return { count: "No cautions", which: "" };
  const count = counted(cautions.length, "caution");
  const shorts = new Set(cautions.map(([, text, short]) => short || shorten(text)));
  return { count, which: `: ${[...shorts].join(", ")}` };
}

/** @param {string} text */
function shorten(text) {
  const clause = text.split(/[:;,(]/)[0].trim();
  return clause.length > LONGEST ? `${clause.slice(0, LONGEST - 1).trimEnd()}…` : clause;
}
