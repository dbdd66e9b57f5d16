// The search as a source of the wall: what is best of all that the palette holds. It runs in the
// kernel; here it is asked for, watched, stopped, and told what to ask for where nothing holds.

import { button, choice, make, say, setAttribute, textInput, tick } from "../shared/dom.js";
import { errorWords, spoken } from "../shared/words.js";
import { conditionWords, goalWords, strengthsOf, subjectOf } from "./find_words.js";

/** @import { Grid } from "./grid.js" */
/** @import { Desk, FindOffer, FindState } from "./types.js" */

const MANY = [48, 100, 200, 500, 1000, 2000, 5000];
/** @type {Required<FindState>} */
const IDLE = { running: false, share: 0, words: "", wrong: false, offers: [] };
const STILL = 300; // milliseconds without typing after which the count is asked for

export class Find {
  #subject = "";
  #total = /** @type {number | null} */ (null);
  #turn = 0;
  #running = false;
  #goal = "clear";
  #offered = "";
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #soon;

  /**
   * @param {Desk} desk
   * @param {Grid} grid
   */
  constructor(desk, grid) {
    this.desk = desk;
    this.grid = grid;
    const offered = desk.model.get("choices").find;
    /** @type {[key: string, words: string, node: HTMLButtonElement][]} */
    this.goals = offered.goals.map(([key, words]) => [key, words, button(goalWords(words, null), () => this.#start(key))]);
    /** @type {[name: string, node: HTMLInputElement, words: string, plain: string][]} */
    this.conditions = offered.conditions.map(([name, words, most, plain, nothing]) => [name, this.#number(words, Math.min(0, nothing), most, plain), words, plain]);
    this.nothing = Object.fromEntries(offered.conditions.map(([name, , , , nothing]) => [name, nothing]));
    /** @type {[name: string, tick: {input: HTMLInputElement, box: HTMLElement}][]} */
    this.visions = offered.visions.map(([name, words]) => [name, tick(words, () => this.#changed())]);
    this.strengths = textInput("Overlay strengths, %: one or several", { maxlength: 40, inputmode: "decimal",
      placeholder: "the wall's", oninput: () => this.#changed(), enter: () => this.#start(this.#goal) });
    this.many = choice("At most", MANY.map((many) => [String(many), many.toLocaleString("en")]), "500", () => {});
    this.title = make("summary", { text: "Conditions" });
    this.fold = make("details", { class: "cc-fold" }, this.title, this.#fields(offered.note));
    this.bar = make("progress", { max: 1, value: 0, "aria-label": "Search" });
    this.words = make("span", { class: "cc-find-words", role: "status" });
    this.stop = button("Stop", () => this.#stop(), { label: "Stop the search", kind: "cc-small" });
    this.going = make("div", { class: "cc-row cc-find-going", hidden: true }, this.bar, this.words, this.stop);
    this.offers = make("ul", { class: "cc-find-offers", "aria-label": "What would hold" });
    this.panel = make("div", { class: "cc-find", role: "group", "aria-label": "Find on the wall", hidden: true },
      make("div", { class: "cc-row cc-find-goals" }, ...this.goals.map(([, , node]) => node), this.many.box),
      this.going, this.offers, this.fold);
    this.opener = button("Find", () => this.#open(this.panel.hidden), { label: "Find the best that the palette holds" });
    this.opener.setAttribute("aria-expanded", "false");
  }

  /**
   * @param {string} words
   * @param {number} least
   * @param {number} most
   * @param {string} plain what it is about
   */
  #number(words, least, most, plain) {
    return textInput(spoken(words), { type: "number", class: "cc-number", min: least, max: most, step: "any", placeholder: "–",
      "aria-description": spoken(plain), title: plain, oninput: () => this.#changed(), enter: () => this.#start(this.#goal) });
  }

  /** @param {string} note */
  #fields(note) {
    const line = (/** @type {string} */ words, /** @type {HTMLElement} */ node, plain = "") =>
      make("label", { class: "cc-find-line" }, make("span", { text: words },
        ...(plain ? [make("small", { class: "cc-quiet cc-find-plain", text: plain })] : [])), node);
    return make("div", { class: "cc-find-fields" },
      make("div", {}, make("p", { class: "cc-find-head", text: "At least" }),
        ...this.conditions.map(([, node, words, plain]) => line(words.replace(/ at least$/, ""), node, plain))),
      make("div", {}, line("Overlay strengths, %", this.strengths),
        make("div", { role: "group", "aria-label": "All of it must hold as well" },
          make("p", { class: "cc-find-head", text: "All of it must hold as well" }), ...this.visions.map(([, { box }]) => box))),
      make("p", { class: "cc-quiet cc-find-note", text: note }));
  }

  /** @param {boolean} open */
  #open(open) {
    this.panel.hidden = !open;
    this.opener.setAttribute("aria-expanded", String(open));
    this.fill();
    this.grid.lay();
  }

  // -- what is asked for ----------------------------------------------------------------------

  get #atLeast() {
    const filled = this.conditions.filter(([, node]) => node.value.trim() !== "");
    return Object.fromEntries(filled.map(([name, node]) => [name, Number(node.value) || 0]));
  }

  get #asked() {
    const visions = this.visions.filter(([, { input }]) => input.checked).map(([name]) => name);
    return { at_least: this.#atLeast, visions, strengths: strengthsOf(this.strengths.value) ?? [] };
  }

  #changed() {
    const { at_least: atLeast, visions } = this.#asked;
    say(this.title, conditionWords(atLeast, visions, this.nothing));
    setAttribute(this.strengths, "aria-invalid", String(strengthsOf(this.strengths.value) === null));
    clearTimeout(this.#soon);
    this.#soon = setTimeout(() => this.#count(), STILL);
  }

  /** Ask how many there are, once nothing is typed; where it cannot be searched, say why. */
  async #count() {
    const turn = (this.#turn += 1);
    let total = null;
    let wrong = "";
    try {
      total = (await this.desk.request("find_estimate", this.#asked))?.total ?? null;
    } catch (error) {
      wrong = errorWords(error);
    }
    if (turn !== this.#turn) return;
    this.#total = total;
    this.desk.guard.after("find count", () => {
      for (const [, words, node] of this.goals) say(node, goalWords(words, this.#total));
      if (!this.#running && (wrong || this.words.classList.contains("cc-wrong"))) this.#tell(wrong, wrong !== "");
    });
  }

  /** @param {string} goal */
  async #start(goal) {
    if (this.#running) return;
    this.#goal = goal;
    if (strengthsOf(this.strengths.value) === null) {
      this.#tell("Overlay strengths are per cents from 0 to 100, such as 30, 50.", true);
      this.strengths.focus();
      return;
    }
    this.#show([]);
    try {
      await this.desk.request("find", { goal, count: Number(this.many.select.value), ...this.#asked });
    } catch (error) {
      this.#tell(errorWords(error), true);
    }
  }

  #stop() {
    this.desk.act("stop_find");
  }

  /** Ask for what does hold instead. @param {FindOffer} offer */
  #take({ at_least: atLeast }) {
    for (const [name, node] of this.conditions) {
      if (name in atLeast) node.value = String(atLeast[name]);
    }
    this.#changed();
    this.goals.find(([key]) => key === this.#goal)?.[2].focus({ preventScroll: true });
    this.#start(this.#goal);
  }

  // -- what is shown --------------------------------------------------------------------------

  fill() {
    const { model } = this.desk;
    const state = model.get("find");
    const landed = this.#running && !state.running && !state.words;
    this.#showWork(state);
    if (landed) this.grid.go(this.grid.list[0], { focus: false });
    const subject = subjectOf((trait) => model.get(trait), model.get("facts"));
    if (this.panel.hidden || subject === this.#subject) return;
    this.#subject = subject;
    this.#count();
  }

  /** @param {FindState} state */
  #showWork(state) {
    const { running, share, words, wrong, offers } = { ...IDLE, ...state };
    this.#running = running;
    for (const [, , node] of this.goals) setAttribute(node, "aria-disabled", String(running));
    if (running && this.panel.hidden) this.#open(true);
    this.bar.value = share;
    this.bar.hidden = !running;
    const focused = this.stop === document.activeElement;
    this.stop.hidden = !running;
    if (focused && !running) this.goals[0][2].focus({ preventScroll: true });
    this.#tell(words, wrong);
    this.#show(offers);
  }

  /**
   * @param {string} words
   * @param {boolean} wrong
   */
  #tell(words, wrong) {
    this.words.classList.toggle("cc-wrong", wrong);
    // How far it is, ten times a second, is not read out; how it ended is.
    setAttribute(this.words, "aria-live", this.#running ? "off" : "polite");
    say(this.words, words);
    this.going.hidden = !words && !this.#running;
  }

  /** @param {FindOffer[]} offers */
  #show(offers) {
    const key = JSON.stringify(offers);
    if (key === this.#offered) return;
    this.#offered = key;
    this.offers.hidden = !offers.length;
    this.offers.replaceChildren(...offers.map((offer) => make("li", { class: "cc-row" },
      make("span", { text: offer.words }),
      button(offer.button, () => this.#take(offer), { label: `${offer.button}: ${offer.words}`, kind: "cc-small" }))));
  }

  close() {
    clearTimeout(this.#soon);
  }
}
