// The lesson in mixing: one step, or all of them with a frame round them. The same code in a
// notebook (as a widget) and in a file of its own.

import { make, perFrame, say, setAttribute } from "../shared/dom.js";
import { download } from "../shared/download.js";
import { keepKeys } from "../shared/own_keys.js";
import { fixed } from "./numbers.js";
import { fileName, handInHtml } from "./hand_in.js";
import { load, nothingKept, save } from "./keep.js";
import { StepView } from "./step_view.js";

/** @import { LessonData, StepData } from "./types.js" */

/** @type {Record<string, number>} */
const TURNS = { PageDown: 1, ArrowRight: 1, PageUp: -1, ArrowLeft: -1 };
// A whole step has its natural size in so many CSS pixels; a projector shows it larger.
const WIDTH = 1180;
const HEIGHT = 720;
const LARGEST = 2.6;
const NARROW = 640;
const READ = 0.4; // of the window's height

class Lesson {
  /** @type {StepView[]} */
  views = [];
  now = 0;
  mode = "";
  handedIn = false;
  nameless = false; // whether saving without a name was warned of

  /**
   * @param {HTMLElement} root
   * @param {LessonData} data
   */
  constructor(root, data) {
    this.root = root;
    this.data = data;
    this.single = data.steps.length === 1;
    this.kept = load(data.alone);
    root.className = `cl${data.alone ? " cl-alone" : ""}`;
    this.giveKeysBack = data.alone ? () => undefined : keepKeys(root);
    this.stop = new AbortController();
    this.fill();
    const listening = { signal: this.stop.signal };
    (data.alone ? globalThis : root).addEventListener("keydown", (event) => this.#key(/** @type {KeyboardEvent} */ (event)), listening);
    globalThis.addEventListener("resize", () => this.#measure(), listening);
    if (data.alone) globalThis.addEventListener("scroll", perFrame(() => this.#read()), { ...listening, passive: true });
    this.observer = new ResizeObserver(() => this.#measure());
    this.observer.observe(root);
  }

  fill() {
    this.views.forEach((view) => view.close());
    this.views = this.data.steps.map((step) => new StepView(this.data, step, this.#keptStep(step), () => this.#keep()));
    const sections = this.views.map(({ root }) => root);
    if (this.single) {
      this.root.replaceChildren(...sections);
      this.#setMode("single");
      return;
    }
    this.steps = make("div", { class: "cl-steps" });
    this.links = this.data.steps.map((step, at) => this.#link(step, at));
    this.steps.append(...this.links);
    this.where = make("span", { class: "cl-where cl-quiet" });
    this.before = make("button", { type: "button", class: "cl-button", text: "Previous", onclick: () => this.go(this.now - 1) });
    this.after = make("button", { type: "button", class: "cl-button", text: "Next", onclick: () => this.go(this.now + 1) });
    const last = this.views[this.views.length - 1];
    if (last.step.key === "task") last.right?.append(this.#handIn());
    this.root.replaceChildren(this.#top(),
      make(this.data.alone ? "main" : "div", { class: "cl-main" }, this.#introduction(), ...sections),
      make("nav", { class: "cl-nav", "aria-label": "Steps" }, this.before, this.steps, this.where, this.after));
    this.#setMode(this.mode || (this.data.alone ? "scroll" : "screen"));
    this.#showNow();
  }

  /** @param {StepData} step */
  #keptStep(step) {
    const kept = (this.kept.steps[step.key] ??= { said: [], shown: false, colours: {}, at: {} });
    kept.said = step.boxes.map((_, at) => kept.said[at] ?? "");
    return kept;
  }

  #keep() {
    if (this.data.alone && !this.handedIn) save(this.kept);
    this.#marks();
  }

  #top() {
    this.modes = [["screen", "Step by step"], ["scroll", "All steps"]].map(([mode, text]) =>
      make("button", { type: "button", "data-mode": mode, text, onclick: () => this.#switchTo(mode) }));
    return make(this.data.alone ? "header" : "div", { class: "cl-top" }, make("h1", { text: "A lesson in mixing" }),
      make("div", { class: "cl-mode", role: "group", "aria-label": "How the lesson is shown" }, ...this.modes));
  }

  #introduction() {
    const again = make("button", { type: "button", class: "cl-plain", text: "Begin again",
      "aria-label": "Begin again: forget all answers and colours", onclick: () => this.#beginAgain() });
    return make("div", { class: "cl-introduction" }, make("p", { text: this.data.introduction }),
      make("p", { class: "cl-quiet", text: this.data.caution }),
      this.data.alone ? make("p", { class: "cl-quiet" }, "Your answers stay in this browser until you hand them in. ", again) : null);
  }

  #beginAgain() {
    this.kept = nothingKept();
    this.handedIn = this.nameless = false;
    save(null);
    this.now = 0;
    this.fill();
    this.views[0].title?.focus({ preventScroll: true });
  }

  #handIn() {
    this.sent = make("p", { role: "status", class: "cl-quiet" });
    const field = (/** @type {"name" | "group"} */ key, /** @type {string} */ label, /** @type {string} */ fill) =>
      make("label", {}, label, make("input", { class: "cl-input", type: "text", maxlength: 80, autocomplete: fill, value: this.kept[key],
        oninput: (/** @type {Event} */ event) => {
          this.kept[key] = /** @type {HTMLInputElement} */ (event.target).value;
          this.#keep();
        } }));
    return make("div", { class: "cl-ask" },
      make("p", {}, make("b", { text: "Hand in. " }), "Your name, your answers and your cloth go into one file. Nothing is sent."),
      make("div", { class: "cl-hand" }, field("name", "Name", "name"), field("group", "Class", "off"),
        make("button", { type: "button", class: "cl-button cl-strong", text: "Save my work as a file", onclick: () => this.#save() }), this.sent));
  }

  #save() {
    const task = this.views[this.views.length - 1];
    const { name, group } = this.kept;
    const sent = /** @type {HTMLElement} */ (this.sent);
    if (!name.trim() && !this.nameless) {
      this.nameless = true;
      say(sent, "There is no name yet, and the file is named after you. Write it, or press again to save without.");
      return;
    }
    const file = fileName(name);
    download(file, handInHtml({
      name: name.trim(),
      group: group.trim(),
      steps: this.views.filter(({ step }) => step.number).map((view) => ({
        number: view.step.number, title: view.step.title, question: view.step.question,
        said: view.saidWords(), shown: view.kept.shown, setting: view.settingWords(),
      })),
      cloth: {
        words: task.settingWords(),
        goals: (task.work?.goals ?? []).map(({ met, words, value }) => ({ met, words, value: `(${fixed(value)})` })),
        picture: enlarged(task.canvas()),
      },
    }), "text/html;charset=utf-8");
    this.handedIn = true;
    if (this.data.alone) save(null);
    say(sent, `Saved as ${file}, in your downloads. Give it to your teacher. This browser now forgets your answers; only this page still shows them.`);
  }

  /**
   * @param {StepData} step
   * @param {number} at
   */
  #link(step, at) {
    return make("a", { href: `#${step.key}`, text: step.number ? String(step.number) : "Last",
      onclick: (/** @type {Event} */ event) => {
        event.preventDefault();
        this.go(at);
      } });
  }

  /** Numbers: which is here, which are done. */
  #marks() {
    this.links?.forEach((link, at) => {
      const { step, kept, work } = this.views[at];
      const done = step.boxes.length ? kept.shown : Boolean(work?.goals?.every(({ met }) => met));
      link.toggleAttribute("data-done", done);
      if (at === this.now) setAttribute(link, "aria-current", "step");
      else link.removeAttribute("aria-current");
      const words = `${step.number ? `Step ${step.number}` : "Last task"}: ${step.title}${done ? ", done" : ""}`;
      for (const name of ["aria-label", "title"]) setAttribute(link, name, words);
    });
  }

  /** @param {number} at */
  go(at) {
    if (at < 0 || at >= this.views.length) return;
    this.now = at;
    this.#showNow();
    const { root, title } = this.views[at];
    title?.focus({ preventScroll: true });
    if (this.mode === "scroll") root.scrollIntoView();
    else if (this.data.alone) scrollTo(0, 0);
  }

  #showNow() {
    this.views.forEach(({ root }, at) => root.toggleAttribute("data-now", at === this.now));
    this.#marks();
    const { step } = this.views[this.now];
    const [before, after, where] = /** @type {[HTMLButtonElement, HTMLButtonElement, HTMLElement]} */ ([this.before, this.after, this.where]);
    say(where, step.number ? `Step ${step.number} of ${this.data.steps.filter(({ number }) => number).length}` : "Last task");
    this.#turn(before, "Previous", this.now - 1);
    this.#turn(after, "Next", this.now + 1);
  }

  /** Among all steps the one that is being read is where the reader is. */
  #read() {
    if (this.mode !== "scroll") return;
    const line = globalThis.innerHeight * READ;
    const at = this.views.findLastIndex(({ root }) => root.getBoundingClientRect().top < line);
    if (at < 0 || at === this.now) return;
    this.now = at;
    this.#showNow();
  }

  /**
   * @param {HTMLButtonElement} node
   * @param {string} word
   * @param {number} to
   */
  #turn(node, word, to) {
    const title = this.data.steps[to]?.title;
    node.disabled = title === undefined;
    setAttribute(node, "aria-label", title ? `${word}: ${title}` : word);
  }

  /** @param {string} mode */
  #switchTo(mode) {
    this.#setMode(mode);
    if (mode === "scroll" && this.now) this.views[this.now].root.scrollIntoView();
  }

  /** @param {string} mode */
  #setMode(mode) {
    this.mode = this.root.dataset.mode = mode;
    this.modes?.forEach((node) => setAttribute(node, "aria-pressed", String(node.dataset.mode === mode)));
    this.#measure();
  }

  /** One number, --u, scales a whole step: 1 at a desk, larger on a projector. */
  #measure() {
    const wide = this.root.clientWidth;
    const fits = Math.min(wide / WIDTH, globalThis.innerHeight / HEIGHT, LARGEST);
    const unit = this.mode === "screen" && this.data.alone && wide > NARROW ? Math.max(1, fits) : 1;
    this.root.style.setProperty("--u", unit.toFixed(3));
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const turn = event.altKey || event.ctrlKey || event.metaKey ? 0 : TURNS[event.key] ?? 0;
    const target = /** @type {Element} */ (event.target);
    if (!turn || this.mode !== "screen" || target.closest?.("input, select, textarea, [role=radiogroup]")) return;
    event.preventDefault();
    this.go(this.now + turn);
  }

  close() {
    this.stop.abort();
    this.giveKeysBack();
    this.observer.disconnect();
    this.views.forEach((view) => view.close());
  }
}

/**
 * A canvas of one pixel a check, large enough to be looked at anywhere.
 * @param {HTMLCanvasElement} canvas
 */
function enlarged(canvas) {
  const times = 20;
  const large = make("canvas", { width: canvas.width * times, height: canvas.height * times });
  const context = /** @type {CanvasRenderingContext2D} */ (large.getContext("2d"));
  context.imageSmoothingEnabled = false;
  context.drawImage(canvas, 0, 0, large.width, large.height);
  return large.toDataURL("image/png");
}

/** @param {{model: {get: (name: string) => any}, el: HTMLElement}} context */
function render({ model, el }) {
  const root = make("div");
  el.append(root);
  const lesson = new Lesson(root, model.get("data"));
  return () => lesson.close();
}

const own = globalThis.document?.getElementById("lesson-data");
if (own) {
  const root = make("div");
  document.body.append(root);
  new Lesson(root, JSON.parse(own.textContent ?? ""));
}

export default { render };
