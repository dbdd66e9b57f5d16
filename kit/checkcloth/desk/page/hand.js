// While a button of the mouse is down on something to press, nothing is laid anew under it.

const LONGEST = 3000; // milliseconds; whoever holds it down longer does not mean a click

/**
 * A click needs its two halves on one element. Its first half takes the focus from a field, the
 * field sends its text, and the kernel's answer may be here before the second half: what fills
 * the page goes through `after`, which waits for the hand.
 */
class Hand {
  constructor(root) {
    this.root = root;
    this.waiting = new Map();
    this.begin = (event) => {
      if (!event.target.closest("button, summary, label, input, .cc-kept-one")) return;
      clearTimeout(this.limit);
      this.down = true;
      this.limit = setTimeout(this.end, LONGEST);
    };
    // The click comes after pointerup, in the same turn. Fields that lose the focus are heard too.
    this.end = (event) => {
      if (this.down && !(event?.type === "blur" && event.target !== globalThis.window)) {
        setTimeout(() => this.release());
      }
    };
    root.addEventListener("pointerdown", this.begin, { capture: true });
    for (const name of ENDS) addEventListener(name, this.end, { capture: true });
  }

  /** Fill a part of the page now, or once the hand is up; `part` waits once, with its newest. */
  after(part, fill) {
    if (this.down) this.waiting.set(part, fill);
    else fill();
  }

  release() {
    this.down = false;
    clearTimeout(this.limit);
    const fills = [...this.waiting.values()];
    this.waiting.clear();
    fills.forEach((fill) => fill());
  }

  close() {
    clearTimeout(this.limit);
    this.waiting.clear();
    for (const name of ENDS) removeEventListener(name, this.end, { capture: true });
  }
}

const ENDS = ["pointerup", "pointercancel", "dragend", "blur"];
