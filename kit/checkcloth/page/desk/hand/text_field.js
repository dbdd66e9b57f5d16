// A field for a name or a note: Enter writes it, Escape leaves it as it was.

import { make } from "../../shared/dom.js";

/**
 * @param {object} what
 * @param {string} what.label
 * @param {string} what.placeholder
 * @param {number} what.longest
 * @param {string} [what.keys]
 * @param {string} [what.kind] classes
 * @param {() => string} what.known the text as the kernel has it
 * @param {(text: string) => void} what.change
 * @param {() => void} what.leave
 */
export function textField({ label, placeholder, longest, keys, kind = "", known, change, leave }) {
  const input = make("input", { type: "text", class: `cc-input ${kind}`, maxlength: longest, placeholder,
    "aria-label": label, "aria-keyshortcuts": keys, autocomplete: "off",
    onkeydown: (/** @type {KeyboardEvent} */ event) => {
      if (event.key !== "Enter" && event.key !== "Escape") return;
      event.preventDefault();
      event.stopPropagation(); // a dialog around it stays open
      if (event.key === "Escape") input.value = known();
      input.blur();
      leave();
    },
    onchange: () => {
      if (input.value !== known()) change(input.value);
    } });
  return input;
}
