// The settings of the draw: three sliders, and the choices beside them. The page paints check
// size and strength by itself; of the others it waits for what the kernel deals.

import { choice, labelled, make, say, setAttribute, setOptions, textInput } from "../shared/dom.js";
import { errorWords } from "../shared/words.js";
import { BandsField } from "./bands/bands_field.js";
import { OwnPress } from "./own_press.js";
import * as values from "./setting_values.js";

/** @import { Desk } from "./types.js" */

export class Settings {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    const change = desk.change.bind(desk);
    this.size = slider("Check size", (index) => change("size", this.choices.sizes[index][0]));
    this.stripes = slider("Stripes", (stripes) => change("stripes", stripes));
    this.strength = slider("Overlay strength", (perCent) => change("strength", perCent / 100),
      "Strength");
    this.strength.input.max = "100";
    this.palette = choice("Palette", [], "", (name) => change("palette", name));
    this.ground = choice("Ground", [], "", (name) => change("ground", name));
    this.mixing = choice("Mixing", [], "", (name) => change("mixing", name));
    this.press = new OwnPress(desk, () => desk.guard.after("settings", () => this.fill()), () => this.stock.select.focus());
    this.stock = choice("Printed on", [], "", (text) => this.#print(text));
    this.stock.select.classList.add("cc-stock");
    this.count = choice("How many", [], "", (text) => change("count", Number(text)));
    this.wefts = choice("Weft colours", [], "", (count) => change("weft_colours", Number(count)));
    this.typed = this.#typedSize();
    this.sliders = [this.size.box, this.stripes.box, this.strength.box];
    this.fields = [this.ground.box, this.mixing.box, this.stock.box, this.press.root, this.count.box, this.wefts.box, this.typed];
    this.bands = new BandsField(desk);
    this.fill();
  }

  get choices() {
    return this.desk.model.get("choices");
  }

  /** A check size as text: the kernel reads it, and says beside the field what it could not read. */
  #typedSize() {
    const said = make("span", { class: "cc-field-said", role: "status" });
    const input = textInput("Check size, typed", { maxlength: 40, placeholder: "7 mm, 3/16 in",
      onchange: async () => {
        const text = input.value.trim();
        const wrong = text ? await this.#send(text) : "";
        if (!wrong && input.value.trim() === text) input.value = "";
        setAttribute(input, "aria-invalid", String(Boolean(wrong)));
        say(said, wrong);
      } });
    return labelled("Check size, typed", input, said);
  }

  /**
   * @param {string} text
   * @returns {Promise<string>} why it was refused, or ""
   */
  async #send(text) {
    try {
      await this.desk.request("size", { text });
    } catch (error) {
      return errorWords(error);
    }
    return "";
  }

  /** Show what the kernel or the page set. */
  fill() {
    const { model } = this.desk;
    const { sizes, stripes, palettes, grounds, mixings, counts } = this.choices;
    const [size, mixing, strength] = [model.get("size"), model.get("mixing"), model.get("strength")];
    this.size.input.max = String(sizes.length - 1);
    this.size.show(Math.max(0, values.sizeIndex(sizes, size)), size);
    [this.stripes.input.min, this.stripes.input.max] = stripes.map(String);
    this.stripes.show(model.get("stripes"), String(model.get("stripes")));
    this.strength.show(values.strengthPerCent(strength, this.desk.tones.meanStrength),
      values.strengthText(strength));
    pick(this.palette, palettes.map((name) => [name, name]), model.get("palette"));
    pick(this.ground, grounds, model.get("ground"));
    pick(this.mixing, values.mixingOptions(mixings, mixing), mixing);
    this.mixing.select.title = values.meaningOf(mixings, mixing);
    this.stock.box.hidden = !values.prints(mixings, mixing);
    this.#fillStock();
    pick(this.count, values.countOptions(counts, model.get("count")), String(model.get("count")));
    pick(this.wefts, values.weftOptions(stripes[1]), String(model.get("weft_colours") ?? 0));
    this.bands.fill();
  }

  /** @param {string} text of a stock, or what stands for a press of one's own */
  #print(text) {
    if (text === values.MEASURED) {
      this.press.ask();
      return;
    }
    this.press.forget();
    if (text !== values.EACH_STOCK) this.desk.change("stock", text);
    this.#fillStock();
  }

  /** What inks are printed on; where each has its own, that is said until one is chosen. */
  #fillStock() {
    const stock = this.desk.model.get("stock");
    pick(this.stock, values.stockChoices(this.choices.stocks, stock),
      this.press.asked ? values.MEASURED : stock ?? values.EACH_STOCK);
    this.press.fill(!this.stock.box.hidden);
  }
}

/**
 * @param {{select: HTMLSelectElement}} field
 * @param {[string, string][]} options
 * @param {string} value
 */
function pick({ select }, options, value) {
  setOptions(select, options, value);
}

/**
 * A slider with its name before it and its value, in words, after that.
 * @param {string} label
 * @param {(value: number) => void} onmove
 * @param {string} [text] its name as it is seen
 */
function slider(label, onmove, text = label) {
  const readout = make("span", { class: "cc-slider-value", "aria-hidden": "true" });
  const input = make("input", { type: "range", class: "cc-range", min: 0, step: 1,
    "aria-label": label, oninput: () => onmove(Number(input.value)) });
  const box = make("label", { class: "cc-slider" },
    make("span", { text }), readout, input);
  /** @param {number} value @param {string} words */
  const show = (value, words) => {
    if (input.value !== String(value)) input.value = String(value);
    setAttribute(input, "aria-valuetext", words);
    say(readout, words);
  };
  return { box, input, show };
}
