// What each key does, and the list of them.

import { make } from "../shared/dom.js";

/** @type {[keys: string, words: string][]} */
const KEYS = [
  ["Arrow keys, Home, End, Page Up, Page Down", "move along the wall"],
  ["K or Space", "keep, or drop what is kept"], ["Enter", "enlarge"], ["Escape", "back to the wall"],
  ["N", "name it"], ["T", "write a note to it"], ["C", "lay it beside others"],
  ["M", "more like this"], ["D", "something different"],
  ["U or Ctrl+Z", "undo"], ["R or Ctrl+Shift+Z", "redo"],
  ["Shift + ← →", "on a kept colourway: move it; enlarged: move the cloth"],
  ["Delete", "on a kept colourway: drop it"], ["?", "this list"],
];

/**
 * @typedef {"toggle" | "enlarge" | "name" | "note" | "compare" | "more" | "different" | "undo"
 *   | "redo" | "keys"} KeyAction
 * @type {Record<string, KeyAction>}
 */
const ACTIONS = {
  k: "toggle", " ": "toggle", Enter: "enlarge", n: "name", t: "note", c: "compare", m: "more",
  d: "different", u: "undo", r: "redo", "?": "keys",
};

/**
 * What a key asks for, or null. Fields that are typed into keep their keys, buttons and sliders
 * keep Space and Enter.
 * @param {{key: string, ctrlKey: boolean, metaKey: boolean, altKey: boolean, shiftKey: boolean}} event
 * @param {{typing?: boolean, onControl?: boolean, dialog?: boolean, enlarged?: boolean}} where
 * @returns {KeyAction | null}
 */
export function actionOf(event, { typing = false, onControl = false, dialog = false, enlarged = false }) {
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (typing || event.altKey) return null;
  if (event.ctrlKey || event.metaKey) {
    if (key === "z") return event.shiftKey ? "redo" : "undo";
    return key === "y" ? "redo" : null;
  }
  if (dialog) return null;
  if (onControl && (key === " " || key === "Enter")) return null;
  return key === "Enter" && enlarged ? null : ACTIONS[key] ?? null;
}

export function listOfKeys() {
  return make("dl", { class: "cc-keys" },
    ...KEYS.flatMap(([keys, words]) => [make("dt", { text: keys }), make("dd", { text: words })]));
}
