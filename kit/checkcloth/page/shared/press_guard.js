// While a pointer is down on something to press, nothing is laid anew under it.

const LONGEST = 3000; // milliseconds; whoever holds it down longer does not mean a click
const PRESSED = 'button, summary, label, input, .cc-kept-one, .cc-range-card, [role="slider"]';
const ENDS = ["pointerup", "pointercancel", "dragend", "blur"];

/**
 * A click needs its two halves on one element. Its first half takes the focus from a field, the
 * field sends its text, and the kernel's answer may be here before the second half: what fills
 * the page goes through `after`, which waits until the pointer is up. A drag of a slider is no
 * press: it holds its pointer wherever it is laid.
 */
export class PressGuard {
  down = false;
  /** @type {Map<string, () => void>} */
  #waiting = new Map();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #limit;

  /**
   * @param {EventTarget} root what is guarded
   * @param {EventTarget} [page] where a press ends
   */
  constructor(root, page = globalThis) {
    this.root = root;
    this.page = page;
    root.addEventListener("pointerdown", this.#begin, { capture: true });
    for (const name of ENDS) page.addEventListener(name, this.#end, { capture: true });
  }

  /** @param {Event} event */
  #begin = (event) => {
    const target = /** @type {Element} */ (event.target);
    if (!target.closest(PRESSED) || target.closest('input[type="range"]')) return;
    clearTimeout(this.#limit);
    this.down = true;
    this.#limit = setTimeout(() => this.#release(), LONGEST);
  };

  // The click comes after pointerup, in the same turn. Fields that lose the focus are heard too.
  /** @param {Event} event */
  #end = (event) => {
    if (!this.down || (event.type === "blur" && event.target !== this.page)) return;
    setTimeout(() => this.#release(), 0);
  };

  /**
   * Fill a part of the page now, or once the pointer is up; a part waits once, with its newest.
   * @param {string} part
   * @param {() => void} fill
   */
  after(part, fill) {
    if (this.down) this.#waiting.set(part, fill);
    else fill();
  }

  #release() {
    this.down = false;
    clearTimeout(this.#limit);
    const fills = [...this.#waiting.values()];
    this.#waiting.clear();
    fills.forEach((fill) => fill());
  }

  close() {
    clearTimeout(this.#limit);
    this.#waiting.clear();
    this.root.removeEventListener("pointerdown", this.#begin, { capture: true });
    for (const name of ENDS) this.page.removeEventListener(name, this.#end, { capture: true });
  }
}
