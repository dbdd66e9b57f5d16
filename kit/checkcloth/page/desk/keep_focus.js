// The focus while a part of the page is laid anew: it goes by the names of parts, in `data-part`.

/**
 * @param {HTMLElement} root
 * @param {string | undefined} part
 */
export function findPart(root, part) {
  const nodes = /** @type {NodeListOf<HTMLElement>} */ (root.querySelectorAll("[data-part]"));
  return [...nodes].find((node) => node.dataset.part === part);
}

/**
 * Lay anew; the focus stays on the part of its name, with what was typed there.
 * @param {HTMLElement} root
 * @param {() => void} lay
 * @param {() => Element | null} [instead] gets the focus where there is no such part any more
 */
export function keepFocus(root, lay, instead = () => null) {
  const focused = document.activeElement;
  const part = focused instanceof HTMLElement && root.contains(focused) ? focused.dataset.part : "";
  const typed = focused instanceof HTMLInputElement ? focused.value : null;
  lay();
  if (!part) return;
  const same = findPart(root, part);
  if (same instanceof HTMLInputElement && typed !== null) same.value = typed;
  const next = same ?? instead();
  if (next instanceof HTMLElement) next.focus({ preventScroll: true });
}
