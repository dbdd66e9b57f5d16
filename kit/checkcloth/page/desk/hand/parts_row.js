// Under the cloth: its ground, its strength, one stripe more, and a weft in colours of its own.

import { make, say, setAttribute, tick } from "../../shared/dom.js";

/** @import { Cloth } from "../../shared/edits.js" */
/** @import { Chosen } from "./hand.js" */

export class PartsRow {
  /**
   * @param {(part: Chosen) => void} onchoose
   * @param {(way: 1 | -1) => void} onadd a stripe of the warp, or of the weft
   * @param {(own: boolean) => void} onweft
   */
  constructor(onchoose, onadd, onweft) {
    const part = (/** @type {Chosen} */ which, /** @type {string} */ title, /** @type {Node[]} */ ...children) =>
      make("button", { type: "button", class: "cc-part-button", "aria-expanded": "false", title,
        onclick: () => onchoose(which) }, ...children);
    this.chip = make("span", { class: "cc-chip", "aria-hidden": "true" });
    this.groundWords = make("span", { text: "Ground" });
    this.ground = part(0, "Change the ground", this.chip, this.groundWords);
    this.strength = part("own", "");
    this.add = make("button", { type: "button", class: "cc-part-button", text: "Add a stripe",
      title: "Add the first colour of the palette that is not in it", onclick: () => onadd(1) });
    this.addWeft = make("button", { type: "button", class: "cc-part-button", text: "Add to the weft",
      title: "Add the first colour of the palette that is not in the weft", onclick: () => onadd(-1) });
    this.weft = tick("Own weft", onweft, "Let the weft have colours of its own");
    setAttribute(this.weft.input, "aria-description", "The weft has colours of its own; its stripes stand after those of the warp");
    this.root = make("div", { class: "cc-parts", role: "group", "aria-label": "Parts of the cloth" },
      this.ground, this.strength, this.add, this.weft.box, this.addWeft);
  }

  /**
   * @param {Cloth} cloth
   * @param {Chosen} part
   * @param {string} mixing words of its mixing
   */
  fill({ ground, strength, wefts }, part, mixing) {
    this.weft.input.checked = Boolean(wefts?.length);
    this.addWeft.hidden = !wefts?.length;
    this.chip.style.background = ground.hex;
    say(this.groundWords, ground.stays ? "Ground stays" : "Ground");
    setAttribute(this.ground, "aria-label", `Ground: ${ground.name} ${ground.hex}`
      + `${ground.stays ? ", stays in new draws" : ""}`);
    const percent = `${Number((strength * 100).toFixed(2))} %`;
    say(this.strength, percent);
    for (const name of ["aria-label", "title"]) setAttribute(this.strength, name, `Strength ${percent}, ${mixing}: of this one alone`);
    setAttribute(this.ground, "aria-expanded", String(part === 0));
    setAttribute(this.strength, "aria-expanded", String(part === "own"));
  }

  /** @param {Chosen} part the ground or "own" */
  focus(part) {
    (part === "own" ? this.strength : this.ground).focus();
  }
}
