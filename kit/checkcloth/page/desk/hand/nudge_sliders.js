// A little lighter, duller, along the hue: three sliders of patches with the colour in the middle.

import { make, setAttribute } from "../../shared/dom.js";
import { NUDGES, nudged, nudgedName, patchesOf, rgbOf } from "../../shared/nudge.js";
import { srgbToOklch } from "../../shared/spaces.js";
import { arrowStep } from "./radios.js";

/** @import { Colour } from "../../shared/edits.js" */
/** @import { Axis, Nudge } from "../../shared/nudge.js" */

/** @typedef {(nudge: Nudge, steps: number, colour: Colour) => void} Nudging */

const FAR = 3; // patches to either side

/** The ends of each axis and its unit, as CSS Color 4 has them for oklch(). @type {Record<Axis, [most: number, full: number, unit: string]>} */
const ENDS = { lightness: [1, 100, " %"], chroma: [0.4, 100, " %"], hue: [360, 360, "°"] };

export class NudgeSliders {
  /** @param {Nudging} onnudge */
  constructor(onnudge) {
    this.sliders = NUDGES.map((nudge) => new NudgeSlider(nudge, onnudge));
    this.root = make("div", { class: "cc-nudges" }, ...this.sliders.flatMap(({ nudge, track }) => [
      make("span", { text: nudge.back, "aria-hidden": "true" }), track,
      make("span", { text: nudge.onward, "aria-hidden": "true" })]));
  }

  /** @param {Colour} colour */
  fill(colour) {
    for (const slider of this.sliders) slider.fill(colour);
  }

  /** Codes of all patches. @returns {string[]} */
  get hexes() {
    return this.sliders.flatMap(({ patches }) => patches.map(({ hex }) => hex));
  }
}

class NudgeSlider {
  /** @type {Colour | undefined} */
  #colour;
  /** @type {{steps: number, hex: string}[]} */
  patches = [];

  /**
   * @param {Nudge} nudge
   * @param {Nudging} onnudge
   */
  constructor(nudge, onnudge) {
    this.nudge = nudge;
    this.onnudge = onnudge;
    this.track = make("div", { class: "cc-nudge", role: "slider", tabindex: "0", "aria-label": nudge.name,
      "aria-valuemin": 0, "aria-valuemax": ENDS[nudge.axis][1], "aria-valuenow": 0,
      onclick: (/** @type {MouseEvent} */ event) => this.#press(event),
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event) });
  }

  /** @param {Colour} colour */
  fill(colour) {
    const same = this.#colour?.hex === colour.hex;
    this.#colour = colour;
    if (same) return;
    const [most, full, unit] = ENDS[this.nudge.axis];
    const value = String(Math.round((full * srgbToOklch(rgbOf(colour.hex))[this.nudge.channel]) / most));
    // What it is called is said by the desk; a value that stays the same would not be said at all.
    setAttribute(this.track, "aria-valuenow", value);
    setAttribute(this.track, "aria-valuetext", `${value}${unit}, ${colour.hex}`);
    this.patches = patchesOf(colour.hex, this.nudge);
    this.track.replaceChildren(...this.patches.map(({ steps, hex }) => {
      const node = make("i", { "data-steps": steps, title: steps ? nudgedName(colour.name, this.nudge, steps) : null });
      node.style.background = hex;
      node.style.gridColumn = String(steps + FAR + 1);
      return node;
    }));
  }

  /** @param {MouseEvent} event */
  #press(event) {
    const patch = event.target instanceof HTMLElement ? Number(event.target.dataset.steps ?? 0) : 0;
    if (patch) this.#go(patch);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const step = arrowStep(event);
    const key = event.key === "Enter" || event.key === " ";
    if (!step && !key) return;
    event.preventDefault();
    event.stopPropagation(); // Space and Enter mean nothing on a slider, and not "keep" either
    if (step) this.#go(this.#next(["ArrowUp", "ArrowDown"].includes(event.key) ? -step : step, event.shiftKey));
  }

  /**
   * Steps to the nearest patch that looks different, or three.
   * @param {number} step
   * @param {boolean} far
   */
  #next(step, far) {
    const ways = this.patches.map(({ steps }) => steps * step).filter((steps) => steps > 0);
    if (!ways.length) return 0;
    return step * (far ? Math.max(...ways) : Math.min(...ways));
  }

  /** @param {number} steps */
  #go(steps) {
    if (!steps || !this.#colour) return;
    const { name, hex, stays } = this.#colour;
    this.onnudge(this.nudge, steps, { name: nudgedName(name, this.nudge, steps),
      hex: nudged(hex, this.nudge, steps), stays });
  }
}
