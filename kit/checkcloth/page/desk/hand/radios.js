// Buttons of which one is chosen: a radio group with one stop of the tab key.

import { make, setAttribute } from "../../shared/dom.js";

/** @type {Record<string, number>} */
const STEPS = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 };

/**
 * How far an arrow key goes, or 0; keys held with it keep their own meaning.
 * @param {KeyboardEvent} event
 */
export function arrowStep(event) {
  return event.altKey || event.ctrlKey || event.metaKey ? 0 : STEPS[event.key] ?? 0;
}

export class Radios {
  /** @type {Map<string, HTMLButtonElement>} */
  #buttons = new Map();

  /**
   * @param {string} label of the group
   * @param {readonly (readonly [key: string, text: string])[]} options
   * @param {string} value
   * @param {(key: string) => void} onpick
   * @param {string} [kind] classes
   */
  constructor(label, options, value, onpick, kind = "") {
    this.value = value;
    this.onpick = onpick;
    this.root = make("div", { class: kind, role: "radiogroup", "aria-label": label,
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event) });
    for (const [key, text] of options) {
      const button = make("button", { type: "button", role: "radio", text, onclick: () => this.pick(key) });
      this.#buttons.set(key, button);
      this.root.append(button);
    }
    this.show(value);
  }

  /** @param {string} value */
  show(value) {
    this.value = value;
    for (const [key, button] of this.#buttons) {
      setAttribute(button, "aria-checked", String(key === value));
      button.tabIndex = key === value ? 0 : -1;
    }
  }

  /** @param {string} key */
  pick(key) {
    this.show(key);
    this.onpick(key);
  }

  /**
   * Choose the one that many further on, round and round.
   * @param {number} steps
   */
  step(steps) {
    const keys = [...this.#buttons.keys()];
    this.pick(keys[(keys.indexOf(this.value) + steps + keys.length) % keys.length]);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const steps = arrowStep(event);
    if (!steps || event.shiftKey) return;
    event.preventDefault();
    event.stopPropagation();
    this.step(steps);
    this.#buttons.get(this.value)?.focus();
  }
}
