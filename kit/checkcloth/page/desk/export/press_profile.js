// The printer's profile: a file chosen or dropped, and what its press makes of the colourways.

import { button, make, say } from "../../shared/dom.js";
import { bytesToSend, sizeWords } from "../../shared/sent_file.js";
import { errorWords } from "../../shared/words.js";
import { fileInput, takeDrops } from "../file_drop.js";

/** @import { Desk } from "../types.js" */

export class PressProfile {
  /**
   * @param {Desk} desk
   * @param {() => object} which the colourways that are meant, as a request says it
   */
  constructor(desk, which) {
    this.desk = desk;
    this.which = which;
    this.file = fileInput(".icc,.icm", (file) => this.#take(file));
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.error = make("p", { class: "cc-field-said", role: "alert", hidden: true });
    this.proofs = make("ul", { class: "cc-proofs", "aria-label": "Proofs" });
    this.root = takeDrops(make("div", { class: "cc-press-profile" },
      make("div", { class: "cc-row" }, button("Choose a profile", () => this.file.click(), { label: "Choose a profile: an ICC file of the press, or drop it here" }),
        button("See it proofed", () => this.proof()), this.file), this.said, this.error, this.proofs), (file) => this.#take(file));
  }

  /** @param {File} file */
  async #take(file) {
    this.#complain("");
    say(this.said, `Reading ${file.name} …`);
    try {
      const { bytes } = await bytesToSend(file, false);
      await this.desk.request("press_profile", { name: file.name }, [bytes]);
      say(this.said, `${file.name}, ${sizeWords(file.size)}`);
    } catch {
      say(this.said, "");
      this.#complain(`${file.name} (${sizeWords(file.size)}) could not be read here: lay it beside the notebook and give its path instead.`);
    }
  }

  /** What the press makes of the first colourways, beside what was designed. */
  async proof() {
    this.#complain("");
    this.proofs.replaceChildren();
    try {
      const { words = "", rows = [], buffers = [] } = await this.desk.request("proof", this.which()) ?? {};
      const pictures = await Promise.all(/** @type {ArrayBufferView[]} */ (buffers).map((png) =>
        createImageBitmap(new Blob([/** @type {any} */ (png)], { type: "image/png" }))));
      say(this.said, words);
      this.proofs.replaceChildren(.../** @type {[string, string][]} */ (rows).map(([name, figures], at) =>
        make("li", {}, pictureOf(pictures[at], `${name}: as designed, left, and as proofed, right`),
          make("p", { class: "cc-quiet" }, make("strong", { text: name }), `: ${figures}`))));
    } catch (error) {
      this.#complain(errorWords(error));
    }
  }

  /** @param {string} words */
  #complain(words) {
    say(this.error, words);
    this.error.hidden = !words;
  }
}

/**
 * @param {ImageBitmap} bitmap
 * @param {string} label
 */
function pictureOf(bitmap, label) {
  const canvas = make("canvas", { role: "img", "aria-label": label, width: bitmap.width, height: bitmap.height });
  canvas.getContext("2d")?.drawImage(bitmap, 0, 0);
  bitmap.close();
  return canvas;
}
