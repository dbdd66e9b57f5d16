// A field for a name or a note: Enter writes it, Escape leaves it as it was.

import { textInput } from "../../shared/dom.js";

/** @import { Attributes } from "../../shared/dom.js" */

/**
 * @param {string} label
 * @param {object} what
 * @param {() => string} what.known the text as the kernel has it
 * @param {(text: string) => void} what.change
 * @param {() => void} [what.leave]
 * @param {Attributes} [attributes]
 */
export function textField(label, { known, change, leave = () => {} }, attributes = {}) {
  const done = () => {
    input.blur();
    leave();
  };
  const input = textInput(label, { ...attributes, enter: done,
    escape: () => {
      input.value = known();
      done();
    },
    onchange: () => {
      if (input.value !== known()) change(input.value);
    } });
  return input;
}
