// All answers, and the way back to the designer: a text to paste, or a file. Nothing is sent.

import { button, make, say } from "../shared/dom.js";
import { download } from "../shared/download.js";
import { capital } from "../shared/words.js";
import { clothCanvas, paint } from "./cloth_canvas.js";

/** @import { Page } from "./card.js" */
/** @import { Colourway } from "./range_data.js" */

const SMALL = 44; // CSS pixels of a small cloth

export class SendBack {
  /** @param {Page} page */
  constructor(page) {
    this.page = page;
    const { answers } = page;
    this.counted = make("span", { class: "quiet" });
    this.rows = page.looking.range.colourways.map((colourway) => this.#row(colourway));
    this.preview = make("textarea", { class: "area mono", readonly: true, rows: 12, spellcheck: "false", "aria-label": "What goes back" });
    this.said = make("p", { class: "quiet", role: "status" });
    const change = () => {
      answers.from = name.value;
      answers.remark = remark.value;
      answers.keep();
      this.#fillText();
    };
    const name = make("input", { class: "input", type: "text", value: answers.from, autocomplete: "name", maxlength: 200, oninput: change });
    const remark = make("textarea", { class: "area", rows: 2, value: answers.remark, maxlength: 2000, oninput: change });
    this.root = make("section", { class: "foot", id: "answers", tabindex: "-1", "aria-labelledby": "answers-title" },
      make("h2", { id: "answers-title" }, "Your answers ", this.counted),
      make("ol", { class: "rows" }, ...this.rows.map(({ item }) => item)),
      make("div", { class: "send" }, make("label", {}, "Your name", name),
        make("label", {}, "A remark on all of them", remark),
        make("div", {}, make("p", { class: "label", text: "What goes back", "aria-hidden": "true" }), this.preview),
        make("div", { class: "two" }, button("Copy for a mail", () => this.#copy(), { kind: "strong" }),
          button("Save as a file", () => this.#save()), button("Print", () => globalThis.print())),
        this.said, make("p", { class: "quiet", text: "This page sends nothing by itself. A screen is not a proof: ask for a strike-off "
          + "(a printed or woven trial piece) before you order." })));
  }

  /** @param {Colourway} colourway */
  #row(colourway) {
    const { number, title, name } = colourway;
    const cloth = clothCanvas("");
    const said = make("b", {});
    const remark = make("span", { class: "quiet" });
    const item = make("li", {}, cloth, make("a", { href: `#card-${number}` },
      name ? make("span", { class: "number", text: `${number} ` }) : null, title), said, remark);
    return { colourway, item, cloth, said, remark };
  }

  fill() {
    const { answers, looking } = this.page;
    const { done, words } = answers.count();
    say(this.counted, done ? `${done} of ${this.rows.length}: ${words}` : "none yet; they gather here as you answer");
    for (const { colourway: { number }, said, remark } of this.rows) {
      const mine = answers.of(number);
      say(said, capital(mine.say) || "–");
      said.classList.toggle("none", !mine.say);
      said.title = mine.say ? "" : "no answer yet";
      say(remark, mine.remark);
    }
    this.#fillText();
    if (looking.moved) say(this.said, "");
  }

  draw() {
    const { looking } = this.page;
    for (const { colourway, cloth } of this.rows) {
      paint(cloth, looking, colourway, { width: SMALL, height: SMALL, pixels: SMALL / looking.checks });
    }
  }

  #fillText() {
    const { answers, looking } = this.page;
    const text = answers.text(looking.seen());
    if (this.preview.value !== text) this.preview.value = text;
  }

  async #copy() {
    const text = this.preview.value;
    let copied = true;
    try {
      await navigator.clipboard.writeText(text);
    } catch {
      this.preview.select();
      copied = document.execCommand("copy");
    }
    say(this.said, copied ? "Copied. Paste it into a mail to your designer."
      : "This browser does not copy: the text is marked, copy it by hand.");
  }

  #save() {
    const { answers, looking } = this.page;
    const name = `${looking.range.stem}-answers.json`;
    download(name, answers.file(looking.seen()), "application/json");
    say(this.said, `Saved as ${name}. Send it with a mail to your designer.`);
  }
}
