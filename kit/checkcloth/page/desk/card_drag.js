// A kept colourway dragged to where another stands, or into a family: by mouse, pen or finger.

const DRAG_AFTER = 4; // CSS pixels
const HOLD = 350; // milliseconds that a finger rests before it lifts a card; sooner it scrolls

/**
 * @typedef {object} Held
 * @property {HTMLElement} node
 * @property {number} pointer
 * @property {number} x
 * @property {number} y
 * @property {ReturnType<typeof setTimeout> | undefined} timer
 */

export class CardDrag {
  /** @type {Held | null} */
  #held = null;
  #lifted = false;
  /** @type {HTMLElement | null} */
  #target = null;

  /**
   * @param {HTMLElement} root of the cards
   * @param {string} card selector of what is dragged
   * @param {string} target selector of what it may be dropped on
   * @param {(card: HTMLElement, target: HTMLElement) => void} ondrop
   */
  constructor(root, card, target, ondrop) {
    this.root = root;
    this.card = card;
    this.target = target;
    this.ondrop = ondrop;
    root.addEventListener("pointerdown", (event) => this.#take(event));
    root.addEventListener("pointermove", (event) => this.#move(event));
    root.addEventListener("pointerup", (event) => this.#end(event.pointerId, true));
    root.addEventListener("pointercancel", (event) => this.#end(event.pointerId, false));
    root.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || !this.#held) return;
      event.stopPropagation();
      this.#end(this.#held.pointer, false);
    });
    root.addEventListener("touchmove", (event) => {
      if (this.#lifted) event.preventDefault(); // the page does not scroll under a lifted card
    }, { passive: false });
    root.addEventListener("dragstart", (event) => event.preventDefault());
    root.addEventListener("click", (event) => {
      if (!this.#dropped) return;
      this.#dropped = false;
      event.preventDefault();
      event.stopPropagation();
    }, { capture: true });
  }

  /** The click after a drag is no press. */
  #dropped = false;

  /** @param {PointerEvent} event */
  #take(event) {
    this.#dropped = false;
    const element = /** @type {Element} */ (event.target);
    const node = /** @type {HTMLElement | null} */ (element.closest(this.card));
    if (!node || event.button !== 0 || element.closest("input, select, .cc-button")) return;
    const held = { node, pointer: event.pointerId, x: event.clientX, y: event.clientY };
    const timer = event.pointerType === "touch"
      ? setTimeout(() => this.#lift(), HOLD) : undefined;
    this.#held = { ...held, timer };
  }

  #lift() {
    const held = this.#held;
    if (!held) return;
    this.#lifted = true;
    held.node.classList.add("cc-lifted");
    this.root.setPointerCapture(held.pointer);
  }

  /** @param {PointerEvent} event */
  #move(event) {
    const held = this.#held;
    if (!held || event.pointerId !== held.pointer) return;
    const { clientX, clientY } = event;
    if (!this.#lifted) {
      if (Math.hypot(clientX - held.x, clientY - held.y) <= DRAG_AFTER) return;
      if (event.pointerType === "touch") {
        this.#end(held.pointer, false); // it scrolls
        return;
      }
      this.#lift();
    }
    held.node.style.translate = `${clientX - held.x}px ${clientY - held.y}px`;
    this.#aim(document.elementsFromPoint(clientX, clientY));
  }

  /** @param {Element[]} under the pointer */
  #aim(under) {
    const node = this.#held?.node;
    const targets = under.map((element) => element.closest(this.target))
      .filter((element) => element && element !== node && this.root.contains(element));
    const target = /** @type {HTMLElement | null} */ (targets[0] ?? null);
    if (target === this.#target) return;
    this.#target?.classList.remove("cc-aimed");
    target?.classList.add("cc-aimed");
    this.#target = target;
  }

  /**
   * @param {number} pointer
   * @param {boolean} dropped
   */
  #end(pointer, dropped) {
    const held = this.#held;
    if (!held || held.pointer !== pointer) return;
    clearTimeout(held.timer);
    const target = this.#target;
    const lifted = this.#lifted;
    this.#held = this.#target = null;
    this.#lifted = false;
    held.node.classList.remove("cc-lifted");
    held.node.style.translate = "";
    target?.classList.remove("cc-aimed");
    this.#dropped = lifted;
    if (lifted && dropped && target) this.ondrop(held.node, target);
    setTimeout(() => { this.#dropped = false; });
  }
}
