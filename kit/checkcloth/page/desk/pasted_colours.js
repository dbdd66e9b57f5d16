// Colours from what a person has: a pasted text, a photograph or a file, the cloth in hand. They are
// read as they come, and saved as a palette on request.

import { button, make, say, setAttribute, textInput } from "../shared/dom.js";
import { bytesToSend, sizeWords } from "../shared/sent_file.js";
import { errorWords } from "../shared/words.js";
import { leftOutWords, nameOfFile, namedWords, nextCount, rowToSave } from "./colour_words.js";
import { fileInput, takeDrops } from "./file_drop.js";

/** @import { Desk } from "./types.js" */

/** @typedef {[name: string, hex: string, text?: string, role?: string, note?: string, moved?: string, reflectance?: number[]]} ReadColour */

/**
 * Where colours come from: what is asked for, the bytes that go with it, and words for it.
 * @typedef {object} Source
 * @property {object} fields
 * @property {ArrayBuffer} [bytes]
 * @property {string} words "" where the text above says it
 * @property {boolean} [picture] may give fewer or more colours
 */

const REST = 200; // milliseconds without a key before the text is read
const USUAL = 12; // colours of a photograph at first
const KINDS = "image/*,.csv,.json,.txt,.css,text/*";

export class PastedColours {
  /** @type {ReadColour[]} */
  #colours = [];
  /** @type {Source | null} */
  #source = null;
  #count = USUAL;
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
    this.file = fileInput(KINDS, (file) => this.#takeFile(file));
    this.chooser = button("Choose a file", () => this.file.click(), { label: "Choose a file: a photograph or colours" });
    this.hand = button("From the cloth in hand", () => this.#takeHand(),
      { label: "From the cloth in hand: take its colours" });
    this.from = make("span", { class: "cc-quiet cc-from" });
    this.fewer = button("Fewer", () => this.#step(-1), { label: "Fewer colours", kind: "cc-small" });
    this.more = button("More", () => this.#step(1), { label: "More colours", kind: "cc-small" });
    this.counts = make("span", { class: "cc-row cc-tight", role: "group", "aria-label": "How many colours of the photograph" },
      this.fewer, this.more);
    this.clear = button("Clear", () => this.#clear(), { label: "Clear what was read", kind: "cc-small" });
    this.sourceRow = make("div", { class: "cc-row", hidden: true }, this.from, this.counts, this.clear);
    this.strip = make("ul", { class: "cc-read", "aria-label": "Colours read" });
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.name = textInput("Name of the palette", { maxlength: 100, placeholder: "name of the palette",
      enter: () => this.#save(), oninput: () => this.#show() });
    this.save = button("Save as a palette", () => this.#save(), { kind: "cc-strong" });
    this.saving = make("div", { class: "cc-row", hidden: true }, this.name, this.save);
    this.root = this.#lay();
    this.#show();
  }

  #lay() {
    const root = make("section", { class: "cc-add", "aria-label": "Add colours" },
      make("header", { class: "cc-row" }, make("h3", { class: "cc-title", text: "Add colours" }),
        make("span", { class: "cc-quiet", text: "paste codes, or drop a photograph, a table or tokens" }),
        make("span", { class: "cc-spring" }), this.chooser, this.hand, this.file),
      this.text, this.sourceRow, this.strip, this.said, this.saving);
    return takeDrops(root, (file) => this.#takeFile(file));
  }

  /** Whether there is a cloth in hand to take colours of. */
  fill() {
    this.hand.hidden = this.desk.number === undefined;
  }

  /** @param {File} file */
  async #takeFile(file) {
    const turn = (this.#turn += 1);
    say(this.said, `Reading ${file.name} …`);
    try {
      const picture = file.type.startsWith("image/");
      const { bytes, smaller } = await bytesToSend(file, picture);
      if (turn !== this.#turn) return; // another was chosen meanwhile
      this.#count = USUAL;
      this.#take({ fields: { name: file.name }, bytes, picture,
        words: `${file.name}, ${sizeWords(file.size)}${smaller ? ", sent smaller" : ""}` }, nameOfFile(file.name));
    } catch {
      if (turn !== this.#turn) return;
      this.#put([], `${file.name} (${sizeWords(file.size)}) could not be read here: `
        + "it is no picture that this browser knows, or is too large to be sent.");
    }
  }

  #takeHand() {
    const { number } = this.desk;
    if (number === undefined) return;
    const title = this.desk.titleOf(number);
    this.#take({ fields: { number }, words: `Colours of ${title}` }, this.desk.model.get("kept")
      .find((card) => card.number === number)?.name ?? "");
  }

  /**
   * @param {Source} source
   * @param {string} name that the palette may have
   */
  #take(source, name) {
    clearTimeout(this.#timer);
    this.text.value = "";
    this.#source = source;
    if (!this.name.value) this.name.value = name;
    this.#read();
  }

  #soon() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      const text = this.text.value;
      this.#source = text.trim() ? { fields: { text }, words: "" } : null;
      this.#read();
    }, REST);
  }

  /** A photograph again, in fewer or more colours. @param {-1 | 1} step */
  #step(step) {
    const next = nextCount(this.#count, step);
    if (next === null) return;
    this.#count = next;
    this.#read();
  }

  #clear() {
    this.text.value = this.name.value = "";
    this.#source = null;
    this.#read();
    this.text.focus();
  }

  async #read() {
    const source = this.#source;
    const turn = (this.#turn += 1);
    if (!source) {
      this.#put([], "");
      return;
    }
    const fields = source.picture ? { ...source.fields, count: this.#count } : source.fields;
    try {
      const { colours = [], left_out: leftOut = [] } = await this.desk.request("read_colours", fields,
        source.bytes && [source.bytes]) ?? {};
      if (turn === this.#turn) this.#put(colours, leftOutWords(colours.length, leftOut));
    } catch (error) {
      if (turn === this.#turn) this.#put([], errorWords(error));
    }
  }

  /**
   * @param {ReadColour[]} colours
   * @param {string} words
   */
  #put(colours, words) {
    this.#colours = colours;
    this.strip.replaceChildren(...colours.map(([name, hex, , , , moved]) => {
      const text = namedWords(name, hex, moved);
      const item = make("li", { title: text }, make("span", { class: "cc-unseen", text }));
      item.style.background = hex;
      return item;
    }));
    say(this.said, words);
    this.#show();
  }

  #show() {
    const source = this.#source;
    this.sourceRow.hidden = !source?.words;
    say(this.from, source?.words ?? "");
    this.counts.hidden = !source?.picture;
    setAttribute(this.fewer, "aria-disabled", String(nextCount(this.#count, -1) === null));
    setAttribute(this.more, "aria-disabled", String(nextCount(this.#count, 1) === null));
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
    try {
      const answer = await this.desk.request("save_palette", { name, colours: this.#colours.map(rowToSave) });
      this.text.value = this.name.value = "";
      this.#source = null;
      this.#put([], answer?.words ?? `Palette ${answer?.palette ?? name} saved.`);
      this.onsave(answer?.palette ?? name);
    } catch (error) {
      say(this.said, errorWords(error));
    }
  }

  /** Another palette is looked at: what was said of the last that was saved has passed. */
  forget() {
    if (!this.#source) say(this.said, "");
  }

  close() {
    clearTimeout(this.#timer);
  }
}
