// The parts of the desk, of which one shows: tabs with one stop of the tab key.

import { make, say, setAttribute } from "../shared/dom.js";

/** @typedef {{key: string, text: string, panel: HTMLElement, count?: () => number | null}} Part */

let tabLists = 0;

export class Tabs {
  /** @type {Map<string, {tab: HTMLButtonElement, number: HTMLElement, part: Part}>} */
  #parts = new Map();
  value = "";

  /**
   * @param {string} label
   * @param {Part[]} parts
   * @param {(key: string) => void} onpick
   */
  constructor(label, parts, onpick) {
    this.onpick = onpick;
    const list = (tabLists += 1);
    this.root = make("div", { class: "cc-tabs", role: "tablist", "aria-label": label,
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event) });
    for (const part of parts) {
      const number = make("span", { class: "cc-tab-count" });
      const id = `cc-${list}-${part.key}`;
      const tab = make("button", { type: "button", role: "tab", class: "cc-tab", id: `${id}-tab`,
        "aria-controls": id, onclick: () => this.pick(part.key) }, make("span", { text: part.text }), number);
      for (const [name, value] of [["role", "tabpanel"], ["id", id], ["aria-labelledby", tab.id]]) {
        part.panel.setAttribute(name, value);
      }
      this.#parts.set(part.key, { tab, number, part });
      this.root.append(tab);
    }
    this.#show(parts[0].key);
  }

  /** Say how many are in each. */
  fill() {
    for (const { tab, number, part } of this.#parts.values()) {
      const count = part.count?.() ?? null;
      if (count === null) continue;
      say(number, ` ${count.toLocaleString("en")}`);
      setAttribute(tab, "aria-label", `${part.text} ${count.toLocaleString("en")} ${count === 1 ? "colourway" : "colourways"}`);
    }
  }

  /** @param {string} key */
  pick(key) {
    if (key === this.value) return;
    this.#show(key);
    this.onpick(key);
  }

  /** Turn to a part by its place, from 0. @param {number} at */
  pickAt(at) {
    this.pick([...this.#parts.keys()][at]);
    this.focus();
  }

  focus() {
    this.#parts.get(this.value)?.tab.focus();
  }

  /** @param {string} key */
  #show(key) {
    this.value = key;
    for (const [name, { tab, part }] of this.#parts) {
      setAttribute(tab, "aria-selected", String(name === key));
      tab.tabIndex = name === key ? 0 : -1;
      part.panel.hidden = name !== key;
    }
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const keys = [...this.#parts.keys()];
    const at = keys.indexOf(this.value);
    const next = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: keys.length - 1 }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    this.pick(keys[(next + keys.length) % keys.length]);
    this.focus();
  }
}
