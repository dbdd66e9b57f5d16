// Strength and mixing of this one alone.

import { button, choice, make, say, setAttribute, setOptions } from "../../shared/dom.js";
import { remix } from "../../shared/edits.js";
import { stockOptions } from "../setting_values.js";
import { Complaint } from "./complaint.js";
import { recipeOf } from "../../shared/mixing.js";

/** @import { Cloth } from "../../shared/edits.js" */
/** @import { HandState } from "./hand.js" */

export class OwnTray {
  /** @param {HandState} hand */
  constructor(hand) {
    this.hand = hand;
    this.output = make("output", { "aria-hidden": "true" });
    this.slider = make("input", { type: "range", min: 0, max: 100, step: 1, class: "cc-range",
      "aria-label": "Strength of this one", oninput: () => this.#move(),
      onchange: () => this.hand.act("own", { strength: this.#strength },
        { edit: this.#edit(), complain: (words) => this.said.say(words) }) });
    this.mixing = choice("Mixing", [], "", (name) => this.#mix(name));
    this.stock = choice("Printed on", [], "", (numbers) => this.#print(numbers));
    this.meaning = make("p", { class: "cc-quiet" });
    this.said = new Complaint();
    this.note = make("p", { class: "cc-quiet" });
    this.root = make("section", { class: "cc-tray", "aria-label": "Strength and mixing of this one" },
      make("div", { class: "cc-tray-head" }, make("h3", { text: "Strength and mixing of this one" }),
        make("span", { class: "cc-spring" }), button("Done", () => this.hand.done(),
          { label: "Done with strength and mixing", keys: "Escape", kind: "cc-plain" })),
      make("label", { class: "cc-slider" }, make("span", { text: "Strength" }), this.output, this.slider),
      this.mixing.box, this.meaning, this.stock.box, this.said.root, this.note);
  }

  get #strength() {
    return Number(this.slider.value) / 100;
  }

  /** @returns {(cloth: Cloth) => Cloth} */
  #edit() {
    const strength = this.#strength;
    return (cloth) => ({ ...cloth, strength });
  }

  #say() {
    const text = `${Number(this.slider.value)} %`;
    say(this.output, text);
    setAttribute(this.slider, "aria-valuetext", text);
  }

  #move() {
    this.#say();
    this.said.say("");
    this.hand.try(this.#edit());
  }

  /** @param {string} name */
  #mix(name) {
    const list = this.hand.mixings.find(([one]) => one === name)?.[3];
    this.hand.act("own", { mixing: name }, {
      edit: list && ((cloth) => remix(cloth, recipeOf(list))),
      complain: (words) => this.said.say(words) });
  }

  /** @param {string} numbers of the stock */
  #print(numbers) {
    const found = this.hand.stocks?.find(([, , of]) => of.join(" ") === numbers);
    if (!found) return;
    const [text, , stock] = found;
    this.hand.act("own", { stock: text }, {
      edit: (cloth) => ({ ...cloth, recipe: { ...cloth.recipe, stock } }),
      complain: (words) => this.said.say(words) });
  }

  fill() {
    const { cloth, data, mixings, stocks } = this.hand;
    if (!cloth) return;
    this.slider.value = String(Math.round(cloth.strength * 100));
    this.#say();
    const { mixing } = cloth.recipe;
    const options = mixings.map(([name, words]) => [name, words]);
    setOptions(this.mixing.select, options.some(([name]) => name === mixing) ? options : [[mixing, mixing], ...options], mixing);
    say(this.meaning, mixings.find(([name]) => name === mixing)?.[2] ?? "");
    const { stock } = cloth.recipe;
    this.stock.box.hidden = !stock;
    if (stock) {
      setOptions(this.stock.select, stockOptions(stocks, stock, data?.stock ?? ""), stock.join(" "));
    }
    say(this.note, data?.own ? "This one keeps its own: the sliders above the wall leave it alone."
      : "Changed here, it keeps its own: the sliders above the wall then leave it alone.");
  }
}
