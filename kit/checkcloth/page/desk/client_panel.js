// The client: a page of the range goes out as one file, and what comes back is read.

import { button, labelled, make, say, setAttribute, textInput, tick } from "../shared/dom.js";
import { bytesToSend, sizeWords } from "../shared/sent_file.js";
import { errorWords } from "../shared/words.js";
import { fileInput, takeDrops } from "./file_drop.js";

/** @import { Desk, KeptCard } from "./types.js" */

/** @type {Record<string, string>} */
const SAID = { yes: "Client: yes", maybe: "Client: maybe", no: "Client: no" };

/**
 * What the client said of a colourway.
 * @param {Pick<KeptCard, "answer" | "remark">} card
 */
export function saidWords({ answer = "", remark = "" }) {
  const said = SAID[answer] ?? "Client";
  return remark ? `${said}${answer ? "." : ":"} ${remark}` : said;
}

export class ClientPanel {
  /** @type {{fields: object, bytes?: ArrayBuffer} | null} what was refused, and may be read anyway */
  #refused = null;

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.opener = button("For the client", () => this.#toggle(), { label: "A page for the client, and what came back" });
    setAttribute(this.opener, "aria-expanded", "false");
    this.reference = textInput("Reference", { placeholder: "made from the range", maxlength: 60 });
    this.note = textInput("Note to the client", { placeholder: "none", maxlength: 2000 });
    this.sizes = tick("Check size");
    this.strengths = tick("Strength");
    this.codes = tick("Colour codes");
    for (const { input } of [this.sizes, this.strengths, this.codes]) input.checked = true;
    this.written = make("p", { class: "cc-quiet", role: "status" });
    this.text = make("textarea", { class: "cc-input cc-paste", rows: 3, spellcheck: "false",
      "aria-label": "What the client sent back", placeholder: "the text of the mail" });
    this.file = fileInput(".json,.txt,.eml,text/*", (file) => this.#takeFile(file));
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.lines = make("ul", { class: "cc-quiet cc-said-lines" });
    this.anyway = button("Read it all the same", () => this.#readAnyway(), { label: "Read it all the same, by number and name", kind: "cc-small" });
    this.whole = make("p", { class: "cc-said" });
    this.root = make("section", { class: "cc-client", "aria-label": "For the client", hidden: true,
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        this.#toggle();
      } }, this.#layPage(), this.#layBack());
    this.anyway.hidden = true;
  }

  #layPage() {
    return make("div", { class: "cc-add" }, make("h3", { class: "cc-title", text: "Page for the client" }),
      make("p", { class: "cc-quiet", text: "One file that opens in any browser, without a network, headed with the name of the range. Nothing of scores or search goes with it." }),
      make("div", { class: "cc-row" }, labelled("Reference", this.reference), labelled("Note to the client", this.note)),
      make("fieldset", { class: "cc-row cc-may" }, make("legend", { class: "cc-quiet", text: "The client may see or move" }),
        this.sizes.box, this.strengths.box, this.codes.box),
      make("div", { class: "cc-row" }, button("Write the page", () => this.#write(), { kind: "cc-strong" })), this.written);
  }

  #layBack() {
    const root = make("div", { class: "cc-add" }, make("h3", { class: "cc-title", text: "Sent back" }),
      make("p", { class: "cc-quiet", text: "Paste the text of the mail, or drop the file." }), this.text,
      make("div", { class: "cc-row" }, button("Read the answers", () => this.#read({ text: this.text.value })),
        button("Choose a file", () => this.file.click(), { label: "Choose the file that came back" }), this.anyway, this.file),
      this.said, this.lines, this.whole);
    return takeDrops(root, (file) => this.#takeFile(file));
  }

  fill() {
    const words = this.desk.model.get("facts").client ?? "";
    this.whole.hidden = !words;
    say(this.whole, words);
  }

  #toggle() {
    this.root.hidden = !this.root.hidden;
    setAttribute(this.opener, "aria-expanded", String(!this.root.hidden));
    if (this.root.hidden) this.opener.focus();
    else this.reference.focus();
  }

  async #write() {
    const fields = { reference: this.reference.value, note: this.note.value,
      sizes: this.sizes.input.checked, strengths: this.strengths.input.checked, codes: this.codes.input.checked };
    try {
      const { file, reference } = await this.desk.request("range_page", fields) ?? {};
      if (file) say(this.written, `Written: ${file}, reference ${reference}. Send that file to the client.`);
    } catch (error) {
      say(this.written, errorWords(error));
    }
  }

  /** @param {File} file */
  async #takeFile(file) {
    try {
      const { bytes } = await bytesToSend(file, false);
      await this.#read({ name: file.name }, bytes);
    } catch {
      this.#show(`${file.name} (${sizeWords(file.size)}) is too large to be sent.`, []);
    }
  }

  /**
   * @param {object} fields
   * @param {ArrayBuffer} [bytes]
   */
  async #read(fields, bytes) {
    this.#refused = null;
    try {
      const { refused, words = "", gone = [], unread = [] } = await this.desk.request("sent_back", fields, bytes && [bytes]) ?? {};
      if (refused) {
        this.#refused = { fields, bytes };
        this.#show(refused, []);
        return;
      }
      this.text.value = "";
      this.#show(words, [...gone.map((/** @type {string} */ line) => `Not in the range any more: ${line}`),
        ...unread.map((/** @type {string} */ line) => `Not read: ${line}`)]);
    } catch (error) {
      this.#show(errorWords(error), []);
    }
  }

  #readAnyway() {
    const refused = this.#refused;
    if (refused) this.#read({ ...refused.fields, anyway: true }, refused.bytes);
  }

  /**
   * @param {string} words
   * @param {string[]} lines
   */
  #show(words, lines) {
    say(this.said, words);
    this.lines.replaceChildren(...lines.map((text) => make("li", { text })));
    this.anyway.hidden = !this.#refused;
  }
}
