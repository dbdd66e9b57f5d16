// The export: whom files are made for, what to know before, and the button that makes them.

import { make, say } from "../../shared/dom.js";
import { errorWords } from "../../shared/words.js";
import { Before } from "./before.js";
import { Field } from "./field.js";
import { Preflight } from "./preflight.js";
import { PressProfile } from "./press_profile.js";
import { Progress } from "./progress.js";
import { TASKS, TaskSection } from "./task_section.js";
import { WallChart } from "./wall_chart.js";
import { aboutWords, exportWords } from "./words.js";

/** @import { Desk } from "../types.js" */
/** @import { Part } from "./words.js" */
/** @import { Earlier, Warning } from "./before.js" */
/** @import { PreflightOutcome } from "./preflight.js" */

/**
 * What the kernel says an export would make.
 * @typedef {Earlier & {
 *   tasks: [files: number, what: string, bytes: number, task: string, missing: string, parts: Part[]][],
 *   warnings: Warning[], faults: Record<string, string>, preflight: PreflightOutcome}} Foretold
 */

const REST = 200; // milliseconds without a change before it is asked what would be made

export class ExportTab {
  /** @type {Foretold | null} */
  #foretold = null;
  #turn = 0;
  #asked = "";
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.profile = new PressProfile(desk, () => this.#which());
    this.preflight = new Preflight(desk);
    this.sections = TASKS.map((kind) => kind.key === "printer"
      ? new TaskSection(desk, kind, [this.profile.root], [new WallChart(desk), this.preflight]) : new TaskSection(desk, kind));
    this.rangeWords = make("p", { class: "cc-quiet" });
    this.nothing = make("p", { class: "cc-export-nothing", hidden: true });
    this.before = new Before(desk, (field) => this.#mend(field));
    this.set = ["name", "folder", "zipped"].map((name) => new Field(desk, name));
    this.progress = new Progress(desk, () => this.#begin());
    this.about = make("p", { class: "cc-quiet" });
    this.progress.start.after(this.about);
    this.root = make("div", { class: "cc-panel cc-export" },
      make("div", { class: "cc-tasks" }, ...this.sections.map((section) => section.root), this.rangeWords),
      make("aside", { class: "cc-export-side", "aria-label": "Before you export" },
        make("h3", { class: "cc-title", text: "Before you export" }), this.nothing, this.before.root,
        make("div", { class: "cc-export-fields" }, ...this.set.map((field) => field.root)), this.progress.root));
  }

  /** The colourways that are meant: what is kept, or the one under the hand while nothing is. */
  #which() {
    const { number, model } = this.desk;
    return model.get("kept").length || number === undefined ? {} : { number };
  }

  fill() {
    if (this.root.hidden) return;
    const faults = { ...this.#foretold?.faults, ...this.desk.model.get("exporting").faults };
    [...this.sections, ...this.set].forEach((part) => part.fill(faults));
    this.before.fill();
    this.progress.fill();
    this.#askSoon();
  }

  /** What would be made, once nothing was changed for a moment. */
  #askSoon() {
    const { model, number } = this.desk;
    const { running, made } = model.get("exporting");
    const now = JSON.stringify([model.get("export"), model.get("size"), model.get("kept"), model.get("kept").length ? 0 : number, made, running]);
    if (now === this.#asked || running) return;
    this.#asked = now;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#ask(), REST);
  }

  async #ask() {
    const turn = (this.#turn += 1);
    /** @type {Foretold | undefined} */
    let foretold;
    try {
      foretold = await this.desk.request("foretell", { ...this.#which(), fields: {} });
    } catch (error) {
      this.#asked = "";
      if (turn === this.#turn) say(this.about, errorWords(error));
      return;
    }
    if (foretold && turn === this.#turn) {
      this.#foretold = foretold;
      this.desk.guard.after("foretold", () => this.#tell());
    }
  }

  #tell() {
    const foretold = /** @type {Foretold} */ (this.#foretold);
    const held = this.desk.model.get("export");
    const faults = { ...foretold.faults };
    [...this.sections, ...this.set].forEach((part) => part.fill(faults));
    for (const section of this.sections) {
      const row = foretold.tasks.find(([, , , task]) => task === section.kind.key);
      if (row || !Object.keys(faults).length) section.tell(row?.[5] ?? [], row?.[4] ?? "");
    }
    if (!Object.keys(faults).length) this.preflight.tell(foretold.preflight);
    const range = foretold.tasks.find(([, , , task]) => task === "range");
    say(this.rangeWords, range ? `And for the range itself: ${range[1]}; with them all opens again here.` : "");
    this.before.tell(foretold.warnings, foretold, String(held.folder), Object.keys(faults).length > 0);
    this.#offer(foretold);
  }

  /** @param {Foretold} foretold */
  #offer(foretold) {
    const { model, number } = this.desk;
    const held = model.get("export");
    const nothing = !model.get("kept").length;
    this.nothing.hidden = !nothing;
    say(this.nothing, number === undefined ? "Nothing is kept, and nothing is on the wall."
      : `Nothing is kept yet: what is exported is the one under the hand, ${this.desk.titleOf(number)}.`);
    const files = foretold.tasks.reduce((sum, [many]) => sum + many, 0);
    const bytes = foretold.tasks.reduce((sum, [, , size]) => sum + size, 0);
    const blocked = foretold.warnings.find(([, , , , blocks]) => blocks);
    const wrong = Object.keys(foretold.faults).length;
    const elsewhere = foretold.beside && !held.replace ? foretold.beside : "";
    this.progress.offer(wrong ? "Export" : exportWords(files, elsewhere), blocked?.[0] ?? "");
    say(this.about, wrong ? "Something above is to be put right first: see “!”."
      : `And their list; about ${aboutWords(bytes) || "nothing"}. These choices are kept with the range.`);
  }

  async #begin() {
    const { start } = this.progress;
    if (start.getAttribute("aria-disabled") === "true") {
      this.#mend("folder");
      return;
    }
    const held = this.desk.model.get("export");
    await this.desk.act("export", undefined, { number: undefined, ...this.#which(), beside: !held.replace });
  }

  /**
   * Go to where something is mended.
   * @param {string} field
   */
  #mend(field) {
    if (field === "colourways") {
      const kept = this.desk.model.get("kept");
      const nameless = kept.find(({ name }) => !name);
      if (nameless) this.desk.nameInRange(nameless.number);
      else this.desk.showPart(kept.length ? "range" : "wall");
      if (!kept.length) this.desk.typeInto("name");
      return;
    }
    if (field === "press") {
      const section = this.sections.find(({ kind }) => kind.key === "printer");
      if (section) section.more.open = true;
      this.profile.proof();
    }
    const input = this.root.querySelector(`[data-part^="${field}"]`);
    if (input instanceof HTMLElement) input.focus();
  }

  close() {
    clearTimeout(this.#timer);
  }
}
