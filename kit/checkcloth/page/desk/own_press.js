// A press of one's own to print on: its chart, once it was measured, or its numbers as they are typed.

import { button, labelled, make, say, setAttribute, textInput } from "../shared/dom.js";
import { bytesToSend, sizeWords } from "../shared/sent_file.js";
import { fileInput, takeDrops } from "./file_drop.js";
import { refusalOf } from "./link.js";
import { isOwnPress, pressNumbers } from "./setting_values.js";

/** @import { Desk } from "./types.js" */
/** @import { PressNumbers } from "./setting_values.js" */

/** Fields of the numbers: label, name, and what an error calls it. @type {[string, keyof PressNumbers, string][]} */
const NUMBERS = [["Tone value increase at 50 %, in %", "increase", "tone value increase"],
  ["Limiting density", "density", "limiting density"], ["Yule–Nielsen n", "n", "n"]];
const ASKS = "Its readings, a CGATS text; or its numbers, as the printer states them.";

export class OwnPress {
  /** Whether a press of one's own was chosen, and is not known yet. */
  asked = false;
  #shown = ""; // the numbers that were put into the fields last
  #words = { of: /** @type {string | null | undefined} */ (""), text: "" }; // what was said of which stock

  /**
   * @param {Desk} desk
   * @param {() => void} refill shows the settings anew
   * @param {() => void} leave goes back to the choice
   */
  constructor(desk, refill, leave) {
    this.desk = desk;
    this.refill = refill;
    this.leave = leave;
    this.choose = button("Choose a chart", () => this.file.click(),
      { label: "Choose a chart: readings of a press as CGATS text, or drop it here" });
    this.file = fileInput(".txt,.cgats,.ti3,.it8,text/plain", (file) => this.#take(file));
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.error = make("p", { class: "cc-field-said", role: "alert", hidden: true });
    const type = () => this.#type();
    this.inputs = NUMBERS.map(([label]) => textInput(label,
      { inputmode: "decimal", class: "cc-number", maxlength: 20, onchange: type, enter: type }));
    this.root = takeDrops(make("div", { class: "cc-own-press", role: "group", "aria-label": "A press that was measured", hidden: true,
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event) },
    make("div", { class: "cc-row" }, this.choose, this.file, this.said),
    make("div", { class: "cc-row" }, ...NUMBERS.map(([label], at) => labelled(label, this.inputs[at]))), this.error), (file) => this.#take(file));
  }

  /** A press was chosen: the one whose chart is here already, or the next that is given. */
  ask() {
    this.asked = true;
    const { model } = this.desk;
    if (model.get("facts").press_chart || model.get("export")?.condition) this.#request("press_chart", {});
    else {
      this.root.hidden = false;
      this.choose.focus();
      this.refill();
    }
  }

  /** Something else was chosen: nothing is asked any more, and what was wrong is not. */
  forget() {
    this.asked = false;
    this.#complain("");
  }

  /** @param {boolean} prints whether anything is printed */
  fill(prints) {
    const { model } = this.desk;
    const stock = model.get("stock");
    const own = isOwnPress(stock);
    this.root.hidden = !prints || !(own || this.asked || !this.error.hidden);
    const asks = own && !this.asked ? "" : ASKS;
    say(this.said, this.#words.of === stock && own ? this.#words.text : asks);
    const numbers = pressNumbers(model.get("choices").stocks, stock);
    if (JSON.stringify(numbers) === this.#shown) return;
    this.#shown = JSON.stringify(numbers);
    NUMBERS.forEach(([, name], at) => { this.inputs[at].value = numbers[name]; });
  }

  /** @param {File} file */
  async #take(file) {
    say(this.said, `Reading ${file.name} …`);
    const sent = await bytesToSend(file, false).catch(() => null);
    if (sent) await this.#request("press_chart", { name: file.name }, [sent.bytes]);
    else this.#end("", `${file.name} (${sizeWords(file.size)}) is too large to be sent.`);
  }

  #type() {
    this.#request("stock", Object.fromEntries(NUMBERS.map(([, name], at) => [name, this.inputs[at].value])));
  }

  /**
   * @param {string} what
   * @param {object} fields
   * @param {ArrayBuffer[]} [files]
   */
  async #request(what, fields, files) {
    try {
      const { words = "" } = await this.desk.request(what, fields, files) ?? {};
      this.#end(words);
    } catch (error) {
      const { words, field } = refusalOf(error);
      this.#end("", words, field);
    }
  }

  /**
   * What was asked for is done, or the setting stays as it was.
   * @param {string} words
   * @param {string} [wrong]
   * @param {string} [argument] what is wrong
   */
  #end(words, wrong = "", argument = "") {
    this.desk.guard.after("press", () => {
      this.asked = false;
      if (!wrong) {
        this.#words = { of: this.desk.model.get("stock"), text: words };
        this.#shown = ""; // a number is shown as it was read
      }
      this.#complain(wrong, argument);
      this.refill();
    });
  }

  /**
   * @param {string} words
   * @param {string} [argument]
   */
  #complain(words, argument = "") {
    say(this.error, words);
    this.error.hidden = !words;
    NUMBERS.forEach(([, , called], at) => setAttribute(this.inputs[at], "aria-invalid", String(called === argument)));
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    this.forget();
    this.#shown = "";
    this.refill();
    if (this.root.hidden) this.leave();
  }
}
