// The bands of one repeat at scale, each a slider: pull its edge, or press the arrow keys.

import { hinted, make, setAttribute } from "../../shared/dom.js";
import { bandWords, checksWords, letterOf, NARROWEST_PULLED, pulledTo, stepped, stripScale, WIDEST, withWidth } from "./orders.js";

/** @import { Bands } from "../../shared/cloth.js" */

const TARGET = { fine: 24, coarse: 44 }; // CSS pixels
/** @type {Record<string, number>} half checks */
const STEPS = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 4, PageDown: -4 };

/**
 * What hears of a pull: bands that are tried while an edge is held, and those that are set.
 * @typedef {{onTry: (bands: Bands) => void, onSet: (bands: Bands) => void}} Pulling
 */

export class BandStrip {
  /** @type {Bands} */
  #bands = [];
  /** @type {string[]} */
  #colours = [];
  #scale = 1;
  #held = false;

  /**
   * @param {string} label
   * @param {Pulling} pulling
   */
  constructor(label, pulling) {
    this.pulling = pulling;
    this.row = make("div", { class: "cc-band-row", role: "group", "aria-label": label });
    this.root = make("div", { class: "cc-band-strip" }, this.row);
  }

  /**
   * @param {Bands} bands
   * @param {string[]} colours CSS colours of the ground and every stripe
   */
  fill(bands, colours) {
    if (this.#held) return;
    this.#bands = bands;
    this.#colours = colours;
    const coarse = globalThis.matchMedia?.("(pointer: coarse)").matches || globalThis.innerWidth < 640;
    this.#scale = stripScale(bands, Math.max(120, this.root.clientWidth - 2), TARGET[coarse ? "coarse" : "fine"]);
    while (this.row.children.length > bands.length) this.row.lastChild?.remove();
    while (this.row.children.length < bands.length) this.row.append(this.#band(this.row.children.length));
    this.#show();
  }

  /** @param {number} at */
  #band(at) {
    const edge = make("span", { class: "cc-band-edge", "aria-hidden": "true",
      onpointerdown: (/** @type {PointerEvent} */ event) => this.#hold(event, at) });
    return hinted(make("span", { class: "cc-band-one", role: "slider", tabindex: "0", "aria-valuemax": String(WIDEST),
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event, at) },
    make("span", { class: "cc-band-letter", "aria-hidden": "true" }), edge));
  }

  #show() {
    this.#bands.forEach(([stripe, checks], at) => {
      const node = /** @type {HTMLElement} */ (this.row.children[at]);
      node.style.width = `${checks * this.#scale}px`;
      node.style.setProperty("--band", this.#colours[stripe] ?? "transparent");
      const words = bandWords(stripe, checks);
      setAttribute(node, "aria-label", `Band of ${stripe ? `stripe ${stripe}` : "the ground"}`); // how wide it is, is its value
      node.dataset.hint = words;
      setAttribute(node, "aria-valuemin", String(Math.min(checks, NARROWEST_PULLED)));
      setAttribute(node, "aria-valuenow", String(checks));
      setAttribute(node, "aria-valuetext", checksWords(checks));
      if (node.firstElementChild) node.firstElementChild.textContent = stripe ? letterOf(stripe) : "·";
    });
  }

  /** @param {number} at @param {number} checks */
  #lay(at, checks) {
    if (this.#bands[at][1] === checks) return false;
    this.#bands = withWidth(this.#bands, at, checks);
    this.#show();
    return true;
  }

  /** @param {KeyboardEvent} event @param {number} at */
  #key(event, at) {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const ends = { Home: NARROWEST_PULLED, End: WIDEST };
    const by = STEPS[event.key];
    const to = by ? stepped(this.#bands[at][1], by) : ends[/** @type {"Home" | "End"} */ (event.key)];
    if (to === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    if (this.#lay(at, to)) this.pulling.onSet(this.#bands);
  }

  /**
   * Pull the edge of a band; one step, however far, and none where it is let go of by Escape.
   * @param {PointerEvent} down
   * @param {number} at
   */
  #hold(down, at) {
    if (down.button !== 0 || this.#held) return;
    down.preventDefault();
    const edge = /** @type {HTMLElement} */ (down.currentTarget);
    const before = this.#bands;
    const drag = new AbortController();
    this.#held = true;
    edge.setPointerCapture(down.pointerId);
    edge.parentElement?.focus();
    const end = (/** @type {boolean} */ keep) => {
      drag.abort();
      this.#held = false;
      if (!keep) this.#lay(at, before[at][1]);
      if (this.#bands[at][1] === before[at][1]) this.pulling.onTry(before);
      else this.pulling.onSet(this.#bands);
    };
    edge.addEventListener("pointermove", (event) => {
      const to = pulledTo(before[at][1] + (event.clientX - down.clientX) / this.#scale);
      if (Math.abs(event.clientX - down.clientX) < 3 && this.#bands === before) return;
      if (this.#lay(at, to)) this.pulling.onTry(this.#bands);
    }, drag);
    edge.addEventListener("pointerup", () => end(true), drag);
    edge.addEventListener("pointercancel", () => end(false), drag);
    addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      event.stopPropagation();
      end(false);
    }, { capture: true, signal: drag.signal });
  }
}
