// A colourway at other check sizes: all at one scale, so that they are true to each other; and the
// range exported at those sizes too.

import { floatsOf } from "../shared/binary.js";
import { checksIn } from "../shared/cloth.js";
import { button, choice, make, say, setAttribute, textInput } from "../shared/dom.js";
import { reductionWords } from "../shared/scale.js";
import { deviceRatio, screenPixels, Swatch } from "../shared/swatch.js";
import { sizePixels } from "./derive_ways.js";
import { refusalOf } from "./link.js";
import { keptTones } from "./tones.js";

/** @import { Desk, KeptCard } from "./types.js" */

const LEAST_SIDE = 52; // CSS pixels of a piece of cloth
const MOST_SIDE = 168;

/** The sizes that cloth is sold in (common practice, no standard). @type {[sizes: string, words: string][]} */
const USUAL = [["1/16 in, 1/8 in, 1/4 in, 1/2 in, 1 in, 2 in", "usual, in inches"],
  ["2 mm, 3 mm, 6 mm, 12 mm, 25 mm, 50 mm", "usual, in mm"]];

export class CheckSizes {
  /** @type {KeptCard | undefined} */
  #card;
  /** @type {[text: string, inches: number][]} */
  #sizes = [];
  #turn = 0;

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    const read = () => this.#read();
    this.field = textInput("Other check sizes", { value: "1/4 in, 1 in", "data-part": "more sizes", onchange: read, enter: read });
    this.usual = choice("Check sizes", [["", "as typed"], ...USUAL], "", (sizes) => {
      if (sizes) this.field.value = sizes;
      this.#read();
    });
    this.error = make("p", { class: "cc-field-said", role: "alert" });
    this.cloths = make("ul", { class: "cc-way-cloths cc-size-cloths" });
    this.scale = make("p", { class: "cc-quiet" });
    this.export = button("Export at these too", () => this.#export(), { label: "Export at these too: the range at these check sizes", kind: "cc-small" });
    this.root = make("li", { class: "cc-way" },
      make("div", { class: "cc-way-title" }, make("strong", { text: "At other check sizes" }), this.usual.select, this.field, this.error, this.scale),
      this.cloths, make("div", { class: "cc-way-keep" }, this.export));
  }

  /** @param {KeptCard} card */
  show(card) {
    this.#card = card;
    if (this.#sizes.length) this.#draw();
    else this.#read();
  }

  async #read() {
    const turn = (this.#turn += 1);
    this.usual.select.value = USUAL.some(([sizes]) => sizes === this.field.value.trim()) ? this.field.value.trim() : "";
    say(this.error, "");
    setAttribute(this.field, "aria-invalid", "false");
    try {
      const { sizes = [] } = await this.desk.request("check_sizes", { text: this.field.value }) ?? {};
      if (turn !== this.#turn) return;
      this.#sizes = sizes;
      this.desk.guard.after("check sizes", () => this.#draw());
    } catch (error) {
      if (turn !== this.#turn) return;
      say(this.error, refusalOf(error).words);
      setAttribute(this.field, "aria-invalid", "true");
    }
  }

  /** Sizes other than the desk's own. @returns {[text: string, inches: number][]} */
  get #others() {
    const { inches } = this.desk;
    return this.#sizes.filter(([, other]) => Math.abs(other / inches - 1) > 1e-9);
  }

  /** The desk's own size among the others, rising. @returns {[text: string, inches: number][]} */
  get #shown() {
    const { model, inches } = this.desk;
    /** @type {[string, number][]} */
    const all = [[model.get("size"), inches], ...this.#others];
    return all.sort(([, one], [, other]) => one - other);
  }

  #draw() {
    const card = this.#card;
    const { model } = this.desk;
    const kept = model.get("kept");
    const at = kept.findIndex(({ number }) => number === card?.number);
    if (!card || at < 0) return;
    const tones = keptTones(kept, floatsOf(model.get("kept_colours")))[at];
    const sizes = this.#shown;
    const laid = this.desk.laid(card.count, card.wefts);
    const checks = Math.max(checksIn(laid.warp), checksIn(laid.weft));
    const pixels = sizePixels(sizes.map(([, inches]) => inches), deviceRatio(), checks, MOST_SIDE);
    const repeat = (Math.max(...pixels) * checks) / deviceRatio();
    const side = Math.min(MOST_SIDE, Math.max(LEAST_SIDE, repeat));
    this.cloths.replaceChildren(...sizes.map(([text, inches], index) => {
      const swatch = new Swatch(side, side, `${card.title} on a check of ${text}`);
      swatch.draw(tones, 0, card.count, laid, pixels[index], card.wefts);
      return make("li", {}, swatch.canvas, make("span", { class: "cc-quiet", text: inches === this.desk.inches ? `${text}, the desk's` : text }));
    }));
    const part = pixels[0] / (sizes[0][1] * screenPixels() * deviceRatio());
    const whole = repeat <= MOST_SIDE ? "" : ", of the largest a part of a repeat";
    say(this.scale, `all ${reductionWords(part)}${whole}`);
    this.#sayExport();
  }

  #sayExport() {
    const others = this.#others;
    const there = this.#exported;
    const news = others.filter(([text]) => !there.includes(text));
    const text = others.length && !news.length ? "Exported at these too" : "Export at these too";
    say(this.export, text);
    setAttribute(this.export, "aria-label", `${text}: the range at these check sizes`);
    setAttribute(this.export, "aria-disabled", String(!news.length));
  }

  get #exported() {
    return String(this.desk.model.get("export").sizes ?? "").split(/[,;]/).map((text) => text.trim()).filter(Boolean);
  }

  async #export() {
    if (this.export.getAttribute("aria-disabled") === "true") return;
    const texts = this.#others.map(([text]) => text);
    const sizes = [...new Set([...this.#exported, ...texts])].join(", ");
    try {
      await this.desk.request("set_export", { fields: { sizes } });
      this.#sayExport();
    } catch (error) {
      say(this.error, refusalOf(error).words);
    }
  }
}
