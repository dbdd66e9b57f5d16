// What the reader answers: kept in this browser, and written as text or as a file. No DOM here.

/** @import { Range } from "./range_data.js" */

/**
 * @typedef {"" | "yes" | "maybe" | "no"} Say
 * @typedef {{say: Say, remark: string}} Answer
 * @typedef {Pick<Storage, "getItem" | "setItem">} Store
 */

/** @type {[say: Say, text: string][]} */
export const SAYS = [["yes", "Yes"], ["maybe", "Maybe"], ["no", "No"]];
const KEY = "checkcloth range page: ";
const MOST = 2000; // characters of a remark that the kit takes

/** One paragraph, as a line of a mail holds it. @param {string} text */
const oneLine = (text) => text.replace(/\s+/g, " ").trim().slice(0, MOST);

export class Answers {
  from = "";
  remark = "";
  /** @type {Map<number, Answer>} */
  #given = new Map();

  /**
   * @param {Range} range
   * @param {Store | null} store
   */
  constructor(range, store) {
    this.range = range;
    this.store = store;
    this.#recall();
  }

  /** @param {number} number @returns {Answer} */
  of(number) {
    return this.#given.get(number) ?? { say: "", remark: "" };
  }

  /**
   * @param {number} number
   * @param {Partial<Answer>} change
   */
  set(number, change) {
    this.#given.set(number, { ...this.of(number), ...change });
    this.keep();
  }

  /** How many answered, and in words: "3 yes, 1 maybe". */
  count() {
    const says = this.range.colourways.map(({ number }) => this.of(number).say);
    const each = SAYS.map(([say]) => /** @type {const} */ ([say, says.filter((one) => one === say).length]));
    const words = each.filter(([, many]) => many).map(([say, many]) => `${many} ${say}`);
    return { done: says.filter(Boolean).length, words: words.join(", ") };
  }

  /**
   * The text for a mail; the kit reads it by reference and number.
   * @param {string} seen what was moved, or ""
   */
  text(seen) {
    const { title, reference, date, colourways } = this.range;
    const lines = [`${title}: answers`, `Reference ${reference}${date ? `, page of ${date}` : ""}`,
      `From: ${oneLine(this.from) || "(no name)"}`];
    if (seen) lines.push(`Seen last at: ${seen}`);
    lines.push("", ...colourways.map(({ number, name, words }) => {
      const { say, remark } = this.of(number);
      const said = oneLine(remark);
      // A colon parts name and answer, so none stands in the name.
      return `${number} ${oneLine(name || words).replaceAll(":", ",")}: ${say || "no answer"}${said ? `. ${said}` : ""}`;
    }));
    if (oneLine(this.remark)) lines.push("", `To all: ${oneLine(this.remark)}`);
    return lines.join("\n");
  }

  /**
   * The same as a small file.
   * @param {string} seen
   */
  file(seen) {
    const { title, reference, date, colourways } = this.range;
    return JSON.stringify({
      format: "checkcloth answers",
      version: 1,
      title,
      reference,
      date,
      from: oneLine(this.from),
      seen,
      remark: oneLine(this.remark),
      answers: colourways.map(({ number, name, words }) => {
        const { say, remark } = this.of(number);
        return { number, name: name || words, answer: say, remark: oneLine(remark) };
      }),
    }, null, 1);
  }

  /** Remember in this browser; where it forbids that, only a reload forgets. */
  keep() {
    const { from, remark } = this;
    try {
      this.store?.setItem(KEY + this.range.reference, JSON.stringify({ from, remark, given: [...this.#given] }));
    } catch {
      // a private window stores nothing
    }
  }

  #recall() {
    try {
      const kept = JSON.parse(this.store?.getItem(KEY + this.range.reference) ?? "{}");
      this.from = String(kept.from ?? "");
      this.remark = String(kept.remark ?? "");
      for (const [number, { say, remark }] of kept.given ?? []) {
        const known = SAYS.some(([one]) => one === say) ? say : "";
        this.#given.set(Number(number), { say: known, remark: String(remark ?? "") });
      }
    } catch {
      // what was stored is damaged: the page begins anew
    }
  }
}
