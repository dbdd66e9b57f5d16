// Bands of the desk's check: presets, an order in letters, and strips to pull; the weft's apart.

import { evenBands } from "../../shared/cloth.js";
import { bytesOf } from "../../shared/binary.js";
import { button, choice, make, perFrame, say, setAttribute, textInput, tick } from "../../shared/dom.js";
import { refusalOf } from "../link.js";
import { BandStrip } from "./band_strip.js";
import { countsWords, isPreset, KINDS, orderText, presetBands, weftAsWarp } from "./orders.js";

/** @import { Bands, SentLaid } from "../../shared/cloth.js" */
/** @import { Desk } from "../types.js" */

/** @typedef {"bands" | "weft"} Setting */

const OWN = "of my own";
const GREYS = ["#fff", "#c8c8c8", "#a0a0a0", "#787878"];

/** One way of the cloth: its preset, its order as text, its strip. */
class Way {
  /**
   * @param {Setting} setting
   * @param {string} label
   * @param {(value: string | Bands) => Promise<string>} set answers why it was refused, or ""
   * @param {(bands: Bands) => void} onTry
   */
  constructor(setting, label, set, onTry) {
    this.setting = setting;
    this.preset = choice(label, [...KINDS, [OWN, OWN]], "even", (kind) => {
      if (kind === OWN) this.order.focus();
      else this.#set(kind);
    });
    this.said = make("span", { class: "cc-field-said", role: "status" });
    const called = `${label}, in order`;
    this.order = textInput(called, { class: "cc-order", maxlength: 2000, spellcheck: "false", placeholder: "2 A, 1/2 ground, 4 B",
      onchange: () => this.#set(this.order.value.trim()) });
    const field = make("label", { class: "cc-field cc-order-field" }, make("span", { text: called }), this.order, this.said);
    this.strip = new BandStrip(`${label}, one repeat`, { onTry, onSet: (bands) => this.#set(bands) });
    this.root = make("div", { class: "cc-bands-way" }, this.preset.box, field, this.strip.root);
    this.set = set;
  }

  /** @param {string | Bands} value */
  async #set(value) {
    const wrong = await this.set(value);
    setAttribute(this.order, "aria-invalid", String(Boolean(wrong)));
    say(this.said, wrong);
  }

  /**
   * @param {string} text the setting
   * @param {Bands} bands
   * @param {string[]} colours
   */
  fill(text, bands, colours) {
    this.preset.select.value = isPreset(text) ? text : OWN;
    const order = orderText(bands);
    const typing = document.activeElement === this.order && this.order.value !== this.#shown;
    if (!typing && this.order.getAttribute("aria-invalid") !== "true") this.order.value = order;
    this.#shown = order;
    this.strip.fill(bands, colours);
  }

  #shown = "";

  /** What was wrong is wrong no longer: another order is laid. */
  forget() {
    setAttribute(this.order, "aria-invalid", "false");
    say(this.said, "");
  }
}

export class BandsField {
  #turn = 0;
  #laid = "";

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    const way = (/** @type {Setting} */ setting, /** @type {string} */ label) => new Way(setting, label,
      (value) => this.#set(setting, value), (bands) => this.#try(setting, bands));
    this.warp = way("bands", "Bands");
    this.weft = way("weft", "Weft");
    this.tick = tick("another order in the weft", (on) => this.#set("weft", on ? this.#text("bands") : ""));
    this.others = make("p", { class: "cc-quiet", hidden: true });
    this.inHandWords = make("span", {});
    this.inHand = make("p", { class: "cc-quiet cc-row", hidden: true }, this.inHandWords,
      button("Lay bands for it", () => this.#layForCloth(), { label: "Lay bands for it: the cloth in hand", kind: "cc-small" }));
    this.root = make("div", { class: "cc-bands", role: "group", "aria-label": "Bands of the check" },
      this.warp.root, this.tick.box, this.weft.root, this.others, this.inHand);
    // Also when "More" is opened: until then there is no room to lay a strip in.
    new ResizeObserver(perFrame(() => this.paint())).observe(this.root);
  }

  /** @param {Setting} setting */
  #text(setting) {
    return this.desk.model.get(setting) || (setting === "bands" ? "even" : "");
  }

  /** What is laid now, of an even check too. @returns {Required<SentLaid>} */
  #now() {
    const { model } = this.desk;
    const laid = model.get("laid");
    const stripes = model.get("stripes");
    if (laid?.warp && laid.weft && laid.stripes && laid.wefts) return /** @type {Required<SentLaid>} */ (laid);
    const wefts = laid?.wefts ?? stripes;
    return { stripes, wefts, warp: evenBands(stripes), weft: evenBands(wefts) };
  }

  /**
   * @param {Setting} setting
   * @param {Bands} bands
   */
  #laidWith(setting, bands) {
    const now = this.#now();
    if (setting === "weft") return { ...now, weft: bands };
    const follows = this.#text("weft") === "";
    return { ...now, warp: bands, weft: follows ? weftAsWarp(bands, now.stripes, now.wefts) : now.weft };
  }

  /**
   * @param {Setting} setting
   * @param {Bands} bands
   */
  #try(setting, bands) {
    this.desk.tryBands(this.#laidWith(setting, bands));
  }

  /**
   * @param {Setting} setting
   * @param {string | Bands} value text, or bands that were pulled
   */
  async #set(setting, value) {
    const turn = (this.#turn += 1);
    const now = this.#now();
    const text = typeof value === "string" ? value : orderText(value);
    if (typeof value !== "string") this.#try(setting, value);
    else if (isPreset(value)) this.#try(setting, presetBands(value, setting === "weft" ? now.wefts : now.stripes));
    let wrong = "";
    try {
      await this.desk.request(setting, { text });
    } catch (error) {
      wrong = refusalOf(error).words;
    }
    if (turn !== this.#turn) return wrong;
    this.desk.tryBands(null);
    this.paint();
    return wrong;
  }

  /** Show what the kernel or the page set. */
  fill() {
    const { model } = this.desk;
    const laid = JSON.stringify([model.get("bands"), model.get("weft"), model.get("laid")]);
    if (laid !== this.#laid) for (const way of [this.warp, this.weft]) way.forget();
    this.#laid = laid;
    this.tick.input.checked = this.#text("weft") !== "";
    this.weft.root.hidden = !this.tick.input.checked;
    const others = this.#others();
    this.others.hidden = !others;
    say(this.others, others === 1 ? "One on the wall has other numbers of stripes: it is even."
      : `${others} on the wall have other numbers of stripes: they are even.`);
    this.paint();
  }

  /** Bands for as many stripes as the cloth under the hand has. */
  #layForCloth() {
    const { number } = this.desk;
    if (number !== undefined) this.desk.act("bands_for", number);
  }

  /** Say where the cloth under the hand has other numbers of stripes than the bands. */
  #sayInHand() {
    const cloth = this.desk.clothInHand;
    const { stripes, wefts } = this.#now();
    const [warp, weft] = [cloth?.stripes.length ?? stripes, cloth?.wefts?.length || (cloth?.stripes.length ?? wefts)];
    this.inHand.hidden = warp === stripes && weft === wefts;
    say(this.inHandWords, `These bands are of ${countsWords(stripes, wefts)}; the cloth in hand has ${countsWords(warp, weft)}.`);
  }

  /** How many of the wall the bands are not of. */
  #others() {
    const { model } = this.desk;
    const laid = model.get("laid");
    if (!laid?.warp) return 0;
    const wefts = bytesOf(model.get("weft_counts"));
    return bytesOf(model.get("counts")).filter((count, at) => (
      count !== laid.stripes || (wefts[at] || count) !== laid.wefts)).length;
  }

  /** Lay the strips in the colours of the cloth under the hand, where it has as many stripes. */
  paint() {
    this.#sayInHand();
    const { warp, weft, stripes, wefts } = this.#now();
    const cloth = this.desk.clothInHand;
    const hexes = (/** @type {{hex: string}[] | undefined} */ colours, /** @type {number} */ count) => (
      cloth && colours?.length === count ? [cloth.ground.hex, ...colours.map(({ hex }) => hex)]
        : [GREYS[0], ...Array.from({ length: count }, (_, at) => GREYS[1 + (at % 3)])]);
    this.warp.fill(this.#text("bands"), warp, hexes(cloth?.stripes, stripes));
    const own = cloth?.wefts?.length ? cloth.wefts : cloth?.stripes;
    if (!this.weft.root.hidden) this.weft.fill(this.#text("weft"), weft, hexes(own, wefts));
  }
}
