// Colours from a pasted text or a text file: read as it is typed, saved as a palette on request.

import { button, make, say, setAttribute } from "../shared/dom.js";
import { leftOutWords } from "./colour_words.js";

/** @import { Desk } from "./types.js" */

/** @typedef {[name: string, hex: string, text?: string, role?: string, note?: string]} ReadColour */

const REST = 200; // milliseconds without a key before the text is read
const LARGEST = 1_000_000; // bytes of a file that is read as text

export class PastedColours {
  /** @type {ReadColour[]} */
  #colours = [];
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  #turn = 0;

  /**
   * @param {Desk} desk
   * @param {(palette: string) => void} onsave
   */
  constructor(desk, onsave) {
    this.desk = desk;
    this.onsave = onsave;
    this.text = make("textarea", { class: "cc-input cc-paste", rows: 4, spellcheck: "false",
      "aria-label": "Colours to add", placeholder: "#f6c9c6\nrose dust #d9a5b3\nteal",
      oninput: () => this.#soon() });
    this.file = make("input", { type: "file", class: "cc-unseen", tabindex: "-1", "aria-hidden": "true",
      accept: ".csv,.json,.txt,.css,.gpl,text/*", onchange: () => this.#readFile(this.file.files?.[0]) });
    this.strip = make("ul", { class: "cc-read", "aria-label": "Colours read" });
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.name = make("input", { type: "text", class: "cc-input", maxlength: 100, autocomplete: "off",
      "aria-label": "Name of the palette", placeholder: "name of the palette",
      onkeydown: (/** @type {KeyboardEvent} */ event) => event.key === "Enter" && this.#save(),
      oninput: () => this.#show() });
    this.save = button("Save as a palette", () => this.#save(), { kind: "cc-strong" });
    this.root = make("section", { class: "cc-add", "aria-label": "Add colours",
      ondragover: (/** @type {DragEvent} */ event) => event.preventDefault(),
      ondrop: (/** @type {DragEvent} */ event) => {
        const file = event.dataTransfer?.files[0];
        if (!file) return;
        event.preventDefault();
        this.#readFile(file);
      } },
    make("header", { class: "cc-row" }, make("h3", { class: "cc-title", text: "Add colours" }),
      make("span", { class: "cc-quiet", text: "paste codes, or drop a table" }),
      make("span", { class: "cc-spring" }),
      button("Choose a file", () => this.file.click()), this.file),
    this.text, this.strip, this.said,
    this.saving = make("div", { class: "cc-row", hidden: true }, this.name, this.save));
    this.#show();
  }

  /** @param {File | undefined} file */
  async #readFile(file) {
    if (!file) return;
    if (file.size > LARGEST) {
      say(this.said, `${file.name} is too large to be a table of colours.`);
      return;
    }
    this.text.value = await file.text();
    if (!this.name.value) this.name.value = file.name.replace(/\.[^.]*$/, "");
    this.file.value = "";
    this.#read();
  }

  #soon() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#read(), REST);
  }

  async #read() {
    const text = this.text.value;
    const turn = (this.#turn += 1);
    if (!text.trim()) {
      this.#take([], "");
      return;
    }
    try {
      const { colours = [], left_out: leftOut = [] } = await this.desk.request("read_colours", { text }) ?? {};
      if (turn === this.#turn) this.#take(colours, leftOutWords(colours.length, leftOut));
    } catch (error) {
      if (turn === this.#turn) this.#take([], error instanceof Error ? error.message : String(error));
    }
  }

  /**
   * @param {ReadColour[]} colours
   * @param {string} words
   */
  #take(colours, words) {
    this.#colours = colours;
    this.strip.replaceChildren(...colours.map(([name, hex]) => {
      const item = make("li", { title: `${name} ${hex}` }, make("span", { class: "cc-unseen", text: `${name} ${hex}` }));
      item.style.background = hex;
      return item;
    }));
    say(this.said, words);
    this.#show();
  }

  #show() {
    this.strip.hidden = this.#colours.length === 0;
    this.saving.hidden = this.#colours.length === 0;
    setAttribute(this.save, "aria-disabled", String(!this.name.value.trim()));
    this.save.title = this.name.value.trim() ? "" : "Give the palette a name first";
  }

  async #save() {
    const name = this.name.value.trim();
    if (!this.#colours.length) return;
    if (!name) {
      this.name.focus();
      return;
    }
    const colours = this.#colours.map(([called, hex, text = hex, role = "", note = ""]) => [called, text, role, note]);
    try {
      const answer = await this.desk.request("save_palette", { name, colours });
      this.text.value = this.name.value = "";
      this.#take([], `Palette ${answer?.palette ?? name} saved.`);
      this.onsave(answer?.palette ?? name);
    } catch (error) {
      say(this.said, error instanceof Error ? error.message : String(error));
    }
  }

  close() {
    clearTimeout(this.#timer);
  }
}
