// Above the cloths: check size and strength within what the designer allows, codes, board.

import { button, choice, make, say, setAttribute } from "../shared/dom.js";
import { capital } from "../shared/words.js";
import { percent } from "./looking.js";

/** @import { Looking } from "./looking.js" */

/** @type {[key: string, text: string][]} */
const BOARDS = [["white", "White"], ["grey", "Grey"], ["black", "Black"]];

/**
 * A slider over stops.
 * @param {string} label
 * @param {number} stops
 * @param {() => {at: number, words: string}} read
 * @param {(at: number) => void} onmove
 */
function slider(label, stops, read, onmove) {
  const output = make("output", {});
  const input = make("input", { type: "range", min: 0, max: stops - 1, step: 1, "aria-label": label,
    oninput: () => onmove(Number(input.value)) });
  const root = make("label", { class: "slider" }, make("span", { text: label }), output, input);
  const fill = () => {
    const { at, words } = read();
    input.value = String(at);
    say(output, words);
    setAttribute(input, "aria-valuetext", words);
  };
  fill();
  return { root, fill, input };
}

/** The sliders of a view; more views than one show them. */
export class Sliders {
  /**
   * @param {Looking} looking
   * @param {() => void} onmove
   */
  constructor(looking, onmove) {
    const { sizes, strengths } = looking.range;
    this.all = [];
    if (sizes.length > 1) {
      this.all.push(slider("Check size", sizes.length, () => ({ at: looking.size, words: looking.sizeWords }),
        (at) => {
          looking.size = at;
          onmove();
        }));
    }
    if (strengths.length > 1) {
      this.all.push(slider("Strength", strengths.length, () => strengthStop(looking), (at) => {
        looking.strength = strengths[at];
        onmove();
      }));
    }
    this.roots = this.all.map(({ root }) => root);
  }

  fill() {
    for (const one of this.all) one.fill();
  }
}

/**
 * Where the slider stands while each colourway has its own strength: at the nearest to the first.
 * @param {Looking} looking
 */
function strengthStop({ strength, range: { strengths, colourways } }) {
  const own = new Set(colourways.map((one) => one.strength));
  const shown = strength ?? colourways[0].strength;
  const distances = strengths.map((stop) => Math.abs(stop - shown));
  const at = distances.indexOf(Math.min(...distances));
  return { at, words: strength === null && own.size > 1 ? "each its own" : percent(shown) };
}

export class SettingsBar {
  /**
   * @param {Looking} looking
   * @param {{onmove: () => void, oncodes: () => void, tell: (words: string) => void}} parent
   */
  constructor(looking, { onmove, oncodes, tell }) {
    this.looking = looking;
    const { range } = looking;
    this.sliders = new Sliders(looking, onmove);
    this.drawn = button("As drawn", () => {
      looking.asDrawn();
      onmove();
      tell("As drawn.");
      this.sliders.all[0].input.focus();
    }, { label: "As drawn: check size and strength as the designer drew them", kind: "plain" });
    const codes = make("input", { type: "checkbox", onchange: () => {
      looking.codes = codes.checked;
      oncodes();
    } });
    this.codes = make("label", { class: "tick", hidden: !range.codes }, codes, make("span", { text: "Show colour codes" }));
    this.board = choice("Board", BOARDS, "white", (key) => {
      document.documentElement.dataset.board = key;
    });
    this.scale = make("p", { class: "quiet scale", "data-scale": true });
    this.fold = make("button", { type: "button", class: "cc-button plain fold", "aria-expanded": "false",
      text: foldWords(this.sliders.all.map(({ input }) => input.getAttribute("aria-label") ?? ""), range.codes),
      onclick: () => {
        const open = this.root.classList.toggle("open");
        setAttribute(this.fold, "aria-expanded", String(open));
      } });
    this.root = make("section", { class: "settings", "aria-label": "How the cloths are shown" },
      this.fold, ...this.sliders.roots, this.drawn, this.codes, this.board.box, this.scale);
    this.fill();
  }

  fill() {
    this.sliders.fill();
    this.drawn.hidden = !this.looking.moved;
  }
}

/**
 * @param {string[]} sliders
 * @param {boolean} codes
 */
function foldWords(sliders, codes) {
  return capital([...sliders, ...(codes ? ["colour codes"] : []), "board"].join(", ").toLowerCase());
}
