// Helpers that every page uses. Text goes in as text, never as HTML.

import { spoken } from "./words.js";

/**
 * Attributes of an element: those named on… listen, `text` is its text, null and false are left out.
 * @typedef {Record<string, any>} Attributes
 */

/**
 * Make an element.
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Attributes} [attributes]
 * @param {...(Node | string | null | undefined)} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function make(tag, attributes = {}, ...children) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (key === "text") node.textContent = value;
    else if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key === "value") Object.assign(node, { value });
    else node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
}

/**
 * A button that says what it does, and how to do it from the keyboard.
 * @param {string} text
 * @param {() => unknown} onclick
 * @param {{keys?: string, label?: string, pressed?: boolean, kind?: string}} [options]
 */
export function button(text, onclick, { keys, label, pressed, kind = "" } = {}) {
  return make("button", {
    type: "button",
    class: `cc-button ${kind}`,
    text,
    title: keys ? `${label ?? text} (${keys})` : label,
    "aria-label": label,
    "aria-keyshortcuts": keys,
    "aria-description": keys && `key ${keys}`, // or the title were read out as well
    "aria-pressed": pressed === undefined ? null : String(pressed),
    onclick,
  });
}

/**
 * The head of a column; signs in it are heard as words.
 * @param {string} text
 */
export function columnHead(text) {
  const words = spoken(text);
  return make("th", { scope: "col", text, "aria-label": words === text ? null : words });
}

/**
 * A labelled choice.
 * @param {string} label
 * @param {readonly (readonly string[])[]} options [value, text] pairs
 * @param {string} value
 * @param {(value: string) => unknown} onpick
 */
export function choice(label, options, value, onpick) {
  const select = make("select", { class: "cc-select", "aria-label": label,
    onchange: () => onpick(select.value) });
  setOptions(select, options, value);
  return { box: labelled(label, select), select };
}

/**
 * A field for a line of text.
 * @param {string} label
 * @param {Attributes & {enter?: () => unknown, escape?: () => unknown}} [options] attributes, and what
 *   two keys do; one that answers false leaves the key to what is around the field
 */
export function textInput(label, { enter, escape, class: kind = "", ...more } = {}) {
  const acts = new Map([["Enter", enter], ["Escape", escape]]);
  return make("input", { type: "text", autocomplete: "off", maxlength: 200, ...more,
    class: `cc-input ${kind}`, "aria-label": label,
    onkeydown: (/** @type {KeyboardEvent} */ event) => {
      const act = acts.get(event.key);
      if (!act || act() === false) return;
      event.preventDefault();
      event.stopPropagation(); // a dialog around it stays open
    } });
}

/**
 * Words above a field.
 * @param {string} words
 * @param {...Node} field and what belongs to it
 */
export function labelled(words, ...field) {
  return make("label", { class: "cc-field" }, make("span", { text: words }), ...field);
}

/**
 * A tick with its words.
 * @param {string} words
 * @param {(on: boolean) => unknown} [onpick]
 * @param {string} [title]
 */
export function tick(words, onpick = () => {}, title = undefined) {
  const input = make("input", { type: "checkbox", onchange: () => onpick(input.checked) });
  const box = make("label", { class: "cc-check", title }, input, make("span", { text: words }));
  return { input, box };
}

/**
 * Offer these and no others, and choose one; nothing is touched where that is so already.
 * @param {HTMLSelectElement} select
 * @param {readonly (readonly string[])[]} options [value, text] pairs
 * @param {string} value
 */
export function setOptions(select, options, value) {
  const offered = [...select.options].map((option) => [option.value, option.text]);
  if (JSON.stringify(offered) !== JSON.stringify(options)) {
    select.replaceChildren(...options.map(([key, text]) => make("option", { value: key, text })));
  }
  if (select.value !== value) select.value = value;
}

/**
 * Replace the buttons in a box; the focus stays at its position among them, or goes to the one before.
 * @param {HTMLElement} box
 * @param {HTMLElement[]} nodes
 * @param {HTMLElement | null} [fallback] takes the focus where no button is left
 */
export function refill(box, nodes, fallback = null) {
  const focused = [...box.children].findIndex((node) => node.contains(document.activeElement));
  box.replaceChildren(...nodes);
  if (focused < 0) return;
  const buttons = nodes.map((node) => node.matches("button") ? node : node.querySelector("button"));
  const target = buttons.slice(0, focused + 1).findLast(Boolean) ?? buttons.find(Boolean) ?? fallback;
  target?.focus({ preventScroll: true });
}

/**
 * Set text only where it differs: a screen reader then hears changes and nothing else.
 * @param {Node} node
 * @param {string} text
 */
export function say(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/**
 * Set an attribute only where it differs.
 * @param {Element} node
 * @param {string} name
 * @param {string} value
 */
export function setAttribute(node, name, value) {
  if (node.getAttribute(name) !== value) node.setAttribute(name, value);
}

/**
 * Show its `data-hint` to whoever points at it: a title that always stood there would be read out
 * after its name.
 * @template {HTMLElement} Node
 * @param {Node} node
 */
export function hinted(node) {
  node.addEventListener("pointerenter", () => { node.title = node.dataset.hint ?? ""; });
  node.addEventListener("pointerleave", () => node.removeAttribute("title"));
  return node;
}

/**
 * A function that calls `act` in the next frame, once however often it was called; `stop` cancels.
 * @param {() => void} act
 */
export function perFrame(act) {
  let frame = 0;
  const request = () => {
    frame ||= requestAnimationFrame(() => {
      frame = 0;
      act();
    });
  };
  return Object.assign(request, { stop: () => cancelAnimationFrame(frame) });
}

/**
 * The element that an event happened in, if it is within one that matches.
 * @param {Event} event
 * @param {string} selector
 * @returns {HTMLElement | null}
 */
export function within(event, selector) {
  return event.target instanceof Element ? event.target.closest(selector) : null;
}
