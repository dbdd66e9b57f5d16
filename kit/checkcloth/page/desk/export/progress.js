// The button that exports, the bar in its place while files are written, and what was written.

import { button, make, say, setAttribute } from "../../shared/dom.js";
import { counted } from "../../shared/words.js";

/** @import { Desk, Exporting } from "../types.js" */

export class Progress {
  /**
   * @param {Desk} desk
   * @param {() => void} begin
   */
  constructor(desk, begin) {
    this.desk = desk;
    this.start = button("Export", begin, { kind: "cc-strong" });
    this.bar = make("progress", { max: 1, value: 0, "aria-label": "Files written" });
    this.stop = button("Stop", () => desk.act("stop_export"), { label: "Stop the export" });
    this.running = make("div", { class: "cc-running", hidden: true }, this.bar, this.stop);
    this.count = make("p", { class: "cc-quiet" });
    this.said = make("p", { role: "status" });
    this.alert = make("p", { class: "cc-wrong", role: "alert", hidden: true });
    this.made = make("ul", { class: "cc-made" });
    this.notes = make("ul", { class: "cc-made-notes" });
    this.root = make("div", { class: "cc-export-go" }, this.start, this.running, this.count, this.alert, this.said, this.notes, this.made);
  }

  fill() {
    const { running, words = "", alert = false, made } = this.#facts;
    this.#showRunning();
    // What changes ten times a second is not read out; the end of it is.
    say(this.count, running ? words : "");
    say(this.said, running || alert ? "" : words);
    this.alert.hidden = !alert || running;
    say(this.alert, alert ? words : "");
    this.#showMade(made ?? { words: "", tasks: [], notes: [], folder: "" });
  }

  /** @returns {Exporting} */
  get #facts() {
    return this.desk.model.get("exporting");
  }

  #showRunning() {
    const { running, done = 0, total = 0 } = this.#facts;
    const focused = document.activeElement;
    this.start.hidden = running;
    this.running.hidden = !running;
    if (running && focused === this.start) this.stop.focus();
    if (!running && focused === this.stop) this.start.focus();
    this.bar.value = total ? done / total : 0;
  }

  /** @param {NonNullable<Exporting["made"]>} made */
  #showMade({ tasks, notes, folder }) {
    this.made.replaceChildren(...tasks.map(([, title, files, size, paths]) => make("li", {},
      make("strong", { text: title }), make("span", { class: "cc-quiet", text: `${counted(files, "file")}, ${size}` }),
      paths.length ? make("span", { class: "cc-quiet cc-paths", text: paths.join(", ") }) : null)));
    this.notes.replaceChildren(...[...notes, folder].filter(Boolean).map((text) => make("li", { class: "cc-quiet", text })));
  }

  /**
   * @param {string} words
   * @param {string} why it cannot begin, "" where it can
   */
  offer(words, why) {
    say(this.start, words);
    setAttribute(this.start, "aria-disabled", String(Boolean(why)));
    this.start.title = why;
  }
}
