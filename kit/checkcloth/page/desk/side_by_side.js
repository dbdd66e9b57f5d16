// Two to four colourways side by side, at one scale.

import { bytesOf } from "../shared/binary.js";
import { button, make } from "../shared/dom.js";
import { checkPixels, Swatch } from "../shared/swatch.js";

/** @import { Desk, Details } from "./types.js" */

export const LETTERS = ["A", "B", "C", "D"];
const HEIGHT = 200; // CSS pixels

export class SideBySide {
  /** @type {{data: Details, swatch: Swatch, column: HTMLElement}[]} */
  #columns = [];
  #turn = 0;

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.row = make("div", { class: "cc-beside-row" });
    this.root = make("section", { class: "cc-beside", "aria-label": "Side by side" },
      make("h3", { class: "cc-title", text: "Side by side, at half their true size" }), this.row);
  }

  async fill() {
    const numbers = this.desk.model.get("facts").compared;
    this.root.hidden = numbers.length === 0;
    const turn = (this.#turn += 1);
    const answers = await Promise.all(numbers.map((number) => this.desk.ask(number).catch(() => null)));
    if (turn !== this.#turn) return; // asked again meanwhile
    this.#lay(answers.flatMap((data) => (data && !("gone" in data) ? [data] : [])));
  }

  /** @param {Details[]} all */
  #lay(all) {
    const focused = this.row.contains(document.activeElement);
    this.#columns = all.map((data, i) => this.#column(data, LETTERS[i]));
    this.row.style.setProperty("--many", String(Math.max(2, all.length)));
    this.row.replaceChildren(...this.#columns.map(({ column }) => column));
    if (all.length === 1) {
      this.row.append(make("p", { class: "cc-quiet",
        text: "Lay one to three more beside it: press C on a colourway." }));
    }
    this.draw();
    if (focused) this.row.querySelector("button")?.focus({ preventScroll: true });
  }

  /**
   * @param {Details} data
   * @param {string} letter
   */
  #column(data, letter) {
    const swatch = new Swatch(40, 40, `Cloth of ${data.title}, ${data.words}`);
    const caution = data.remarks.find(([kind]) => kind === "caution");
    const column = make("article", { class: "cc-beside-one" }, swatch.canvas,
      make("h4", { text: `${letter} · ${data.title}` }),
      make("p", { class: "cc-quiet", text: data.words }),
      make("p", { text: data.figures.slice(0, 2).map(([label, least, , step, ratio]) =>
        `${label}: ΔE00 ${least}, ΔL* ${step}, ${ratio}`).join("; ") }),
      make("p", { class: caution ? "cc-caution" : "cc-comfort",
        text: caution ? `! ${caution[1]}` : "✓ no cautions" }),
      button("Take away", () => this.desk.act("compare", data.number),
        { label: `Take away ${data.title}`, kind: "cc-small" }));
    return { data, swatch, column };
  }

  draw() {
    for (const { data, swatch, column } of this.#columns) {
      swatch.resize(Math.max(60, column.clientWidth - 2), HEIGHT);
      swatch.draw(bytesOf(data.buffers?.[0]), 0, data.count, this.desk.laid(data.count, data.wefts),
        checkPixels(this.desk.inches, 0.5), data.wefts);
    }
  }
}
