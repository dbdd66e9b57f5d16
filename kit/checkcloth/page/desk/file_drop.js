// A file from the reader's own machine: chosen, or dropped on a part of the page.

import { make } from "../shared/dom.js";

/**
 * An unseen field for a file; a button presses it.
 * @param {string} accept
 * @param {(file: File) => unknown} take
 */
export function fileInput(accept, take) {
  const input = make("input", { type: "file", class: "cc-unseen", tabindex: "-1", "aria-hidden": "true", accept,
    onchange: () => {
      const file = input.files?.[0];
      input.value = ""; // the same one can be chosen again
      if (file) take(file);
    } });
  return input;
}

/**
 * Let a file be dropped on a part of the page.
 * @template {HTMLElement} Part
 * @param {Part} root
 * @param {(file: File) => unknown} take
 */
export function takeDrops(root, take) {
  root.addEventListener("dragover", (event) => {
    event.preventDefault();
    root.classList.add("cc-aimed");
  });
  root.addEventListener("dragleave", (event) => {
    if (!(event.relatedTarget instanceof Node) || !root.contains(event.relatedTarget)) root.classList.remove("cc-aimed");
  });
  root.addEventListener("drop", (event) => {
    root.classList.remove("cc-aimed");
    const file = event.dataTransfer?.files[0];
    if (!file) return;
    event.preventDefault();
    event.stopPropagation();
    take(file);
  });
  return root;
}
