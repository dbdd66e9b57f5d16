// What each key does, and the list of them.

import { make } from "../shared/dom.js";
import { isForControls } from "../shared/own_keys.js";

/** @type {[keys: string, words: string][]} */
const KEYS = [
  ["Arrow keys, Home, End, Page Up, Page Down", "move along the wall"],
  ["K or Space", "keep, or drop what is kept"], ["Enter", "enlarge"], ["Escape", "back to the wall"],
  ["1, 2, 3, 4", "Wall, Range, Colours, Export"], ["N", "name it"], ["T", "write a note to it"], ["C", "lay it beside others"],
  ["M", "more like this"], ["D", "something different"],
  ["U or Ctrl+Z", "undo"], ["R or Ctrl+Shift+Z", "redo"],
  ["Shift + ← →", "on a kept colourway: move it; enlarged: move the cloth"],
  ["Delete", "on a kept colourway: drop it; on a stripe: remove it"],
  ["Alt + ← →", "on a stripe: move it"], ["↓", "on a stripe: to its colours"], ["V, Shift+V", "another view of the cloth, and back"],
  ["B", "another board behind the cloth"], ["?", "this list"],
];

/**
 * @typedef {"toggle" | "enlarge" | "name" | "note" | "compare" | "more" | "different" | "undo"
 *   | "redo" | "keys" | "view" | "board" | "part"} KeyAction
 * @type {Map<string, KeyAction>}
 */
const ACTIONS = new Map([
  ["k", "toggle"], [" ", "toggle"], ["Enter", "enlarge"], ["n", "name"], ["t", "note"],
  ["c", "compare"], ["m", "more"], ["d", "different"], ["u", "undo"], ["r", "redo"], ["?", "keys"],
  ["v", "view"], ["b", "board"], ["1", "part"], ["2", "part"], ["3", "part"], ["4", "part"],
]);

/**
 * @typedef {Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "altKey" | "shiftKey">} KeyPress
 * @typedef {object} Where
 * @property {boolean} typing in a field that is typed into: it keeps its keys
 * @property {boolean} onControl on a button or slider: it keeps Space and Enter
 * @property {boolean} dialog a dialog that is not the enlarged view is open
 * @property {boolean} enlarged the enlarged view is open
 */

/**
 * What a key asks for, or null.
 * @param {KeyPress} event
 * @param {Where} where
 */
export function actionOf(event, where) {
  if (where.typing || event.altKey) return null;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (event.ctrlKey || event.metaKey) return stepOf(key, event.shiftKey);
  if (!isForControls(event)) return null;
  return where.dialog || isHeld(key, where) ? null : ACTIONS.get(key) ?? null;
}

/**
 * Whether a key is not the desk's where the focus is.
 * @param {string} key
 * @param {Where} where
 */
function isHeld(key, { onControl, enlarged }) {
  if (enlarged && (key === "Enter" || ACTIONS.get(key) === "part")) return true;
  return onControl && (key === " " || key === "Enter");
}

/**
 * @param {string} key with Ctrl or Command
 * @param {boolean} shift
 * @returns {KeyAction | null}
 */
function stepOf(key, shift) {
  if (key === "y" || (key === "z" && shift)) return "redo";
  return key === "z" ? "undo" : null;
}

export function listOfKeys() {
  return make("dl", { class: "cc-keys" },
    ...KEYS.flatMap(([keys, words]) => [make("dt", { text: keys }), make("dd", { text: words })]));
}
