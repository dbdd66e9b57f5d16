// Keys that are typed on a live output are its own, whatever its host does with keys.

/** The attribute of an element at which JupyterLab and Notebook look for no shortcut. */
const NO_SHORTCUTS = "data-lm-suppress-shortcuts";

/**
 * Whether a key is for what has the focus, and so none of the notebook's business: there X cuts
 * the cell, 0 0 restarts the kernel and an arrow moves on to the next heading. Keys with Ctrl,
 * Alt or Command, and Shift+Enter, which runs the cell, stay the notebook's.
 * @param {Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "altKey" | "shiftKey">} event
 */
export function isForControls(event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  return !(event.shiftKey && event.key === "Enter");
}

/**
 * Keep keys from the host, for an element and all that its widget's boxes hold, such as a form
 * under it. Notebook listens in the document's capture phase, before any of us could stop an
 * event that still has to arrive; but the window comes before the document, and marks what has
 * the focus, for each key anew (a mark further up is too late: shortcuts ask for ":focus").
 * @param {HTMLElement} root
 * @returns {() => void} ends it
 */
export function keepKeys(root) {
  const view = root.ownerDocument.defaultView;
  /** @param {KeyboardEvent} event */
  const mark = (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    if (outermostBox(root).contains(target)) target.toggleAttribute(NO_SHORTCUTS, isForControls(event));
  };
  view?.addEventListener("keydown", mark, true);
  return () => view?.removeEventListener("keydown", mark, true);
}

/** @param {HTMLElement} root */
function outermostBox(root) {
  let box = root;
  for (let next = box.closest(".widget-vbox"); next; next = box.parentElement?.closest(".widget-vbox") ?? null) {
    box = /** @type {HTMLElement} */ (next);
  }
  return box;
}
