// The threads under a cloth: press one to change its colour, drag it to move it. There is one strip
// of the warp, and one of the weft where that has colours of its own.

import { hinted, make, say, setAttribute } from "../../shared/dom.js";
import { moveStripe, partAfterMove, partWords, removeStripe, rowOf } from "../../shared/edits.js";
import { deviceRatio } from "../../shared/swatch.js";
import { landing, LEAST_THREAD, segmentsOf, threadsOf } from "../../shared/threads.js";

/** @import { Bands } from "../../shared/cloth.js" */
/** @import { Cloth } from "../../shared/edits.js" */
/** @import { Segment, Thread } from "../../shared/threads.js" */
/** @import { HandState } from "./hand.js" */

const DRAG_AFTER = 4; // CSS pixels that a pointer moves before what it holds is lifted
const HOLD = 350; // milliseconds that a finger rests before it lifts; sooner it scrolls
const ROOM_FOR_STAYS = 56; // CSS pixels that "12 stays" takes

/**
 * @typedef {object} Held a thread that a pointer is down on
 * @property {HTMLButtonElement} node
 * @property {number} stripe
 * @property {number} pointer
 * @property {number} x where it went down
 * @property {boolean} lifted
 * @property {number} to the number it would have
 * @property {ReturnType<typeof setTimeout>} [timer]
 */

export class ThreadStrip {
  /** @type {HTMLButtonElement[]} by stripe, from 0 */
  #nodes = [];
  /** @type {Thread[]} in CSS pixels */
  #threads = [];
  /** @type {Held | null} */
  #held = null;
  /** @type {(() => void) | null} */
  #waiting = null;
  #dragged = false;

  /**
   * @param {HandState} hand
   * @param {"warp" | "weft"} [way]
   */
  constructor(hand, way = "warp") {
    this.hand = hand;
    this.sign = way === "weft" ? -1 : 1;
    this.list = make("div", { class: "cc-threads", role: "listbox", "aria-orientation": "horizontal",
      "aria-label": `${this.sign < 0 ? "Stripes of the weft" : "Stripes"} in order; Down goes to its colours, Alt with an arrow key moves it` });
    this.again = make("span", { class: "cc-again", "aria-hidden": "true" });
    this.root = make("div", { class: "cc-strip" }, this.list, this.again);
    this.root.addEventListener("pointermove", (event) => this.#move(event));
    this.root.addEventListener("pointerup", (event) => this.#drop(event));
    this.root.addEventListener("pointercancel", () => this.#put());
    this.root.addEventListener("contextmenu", (event) => this.#held && event.preventDefault());
    // A finger that has lifted a thread does not scroll the page with it.
    this.root.addEventListener("touchmove", (event) => {
      if (this.#held?.lifted) event.preventDefault();
    }, { passive: false });
  }

  /** The colours of its way. @param {Cloth} cloth */
  #row(cloth) {
    return rowOf(cloth, this.sign);
  }

  /**
   * @param {Cloth} cloth
   * @param {number | null} part chosen
   * @param {Bands} bands
   * @param {number} pixels device pixels of a check of the cloth above
   * @param {number} width CSS pixels there are
   */
  fill(cloth, part, bands, pixels, width) {
    if (this.#held?.lifted) { // what is dragged stays where it is
      this.#waiting = () => this.fill(cloth, part, bands, pixels, width);
      return;
    }
    const check = pixels / deviceRatio();
    this.#threads = threadsOf(bands, check, LEAST_THREAD);
    const segments = segmentsOf(bands, check);
    const count = this.#row(cloth).length;
    const focused = this.#nodes.findIndex((node) => node === document.activeElement);
    while (this.#nodes.length > count) this.#nodes.pop()?.remove();
    while (this.#nodes.length < count) this.#add();
    for (const thread of this.#threads) this.#lay(thread, cloth, part, segments);
    if (focused >= count) this.#nodes[count - 1].focus({ preventScroll: true });
    setAttribute(this.root, "data-rows", this.#threads.some(({ row }) => row) ? "2" : "1");
    this.#layAgain(cloth, segments, width);
  }

  #add() {
    const stripe = this.#nodes.length + 1;
    const node = hinted(make("button", { type: "button", class: "cc-thread", role: "option",
      "data-stripe": this.sign * stripe,
      onclick: () => this.#press(stripe),
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event, stripe),
      onpointerdown: (/** @type {PointerEvent} */ event) => this.#hold(event, stripe) },
    make("i", { "aria-hidden": "true" }), make("b", { "aria-hidden": "true" })));
    this.#nodes.push(node);
    this.list.append(node);
  }

  /**
   * @param {Thread} thread
   * @param {Cloth} cloth
   * @param {number | null} part
   * @param {Segment[]} segments
   */
  #lay({ stripe, left, width, span, row: line }, cloth, part, segments) {
    const node = this.#nodes[stripe - 1];
    const row = this.#row(cloth);
    const { name, hex, stays } = row[stripe - 1];
    const mine = segments.filter((segment) => segment.left < left + span && segment.left + segment.width > left);
    const stops = mine.map((segment) => `${segment.stripe === stripe ? hex : cloth.ground.hex} `
      + `${segment.left - left}px ${segment.left + segment.width - left}px`);
    stops.push(`transparent ${Math.max(...mine.map((segment) => segment.left + segment.width)) - left}px`);
    const [band, number] = /** @type {HTMLElement[]} */ ([...node.children]);
    Object.assign(node.style, { left: `${left}px`, width: `${span}px`, top: `calc(${line} * var(--thread))` });
    node.style.setProperty("--px", `${width}px`);
    band.style.background = `linear-gradient(90deg, ${stops.join(", ")})`;
    say(number, stays ? `${stripe}${span >= ROOM_FOR_STAYS ? " stays" : " •"}` : String(stripe));
    const chosen = part === this.sign * stripe;
    node.tabIndex = chosen || (stripe === 1 && !((part ?? 0) * this.sign > 0)) ? 0 : -1;
    setAttribute(node, "aria-selected", String(chosen));
    setAttribute(node, "aria-posinset", String(stripe));
    setAttribute(node, "aria-setsize", String(row.length));
    setAttribute(node, "aria-label", `${partWords(this.sign * stripe)} of ${row.length}: ${name} ${hex}`
      + `${stays ? ", stays in new draws" : ""}`);
    node.dataset.hint = `${name} ${hex}: press to change it, drag to move it`;
  }

  /**
   * The repeats after the first one, as short ends.
   * @param {Cloth} cloth
   * @param {Segment[]} segments
   * @param {number} width
   */
  #layAgain(cloth, segments, width) {
    const row = this.#row(cloth);
    const last = segments[segments.length - 1];
    const repeat = last.left + last.width;
    this.again.hidden = width - repeat < 8;
    Object.assign(this.again.style, { left: `${repeat}px`, width: `${Math.max(0, width - repeat)}px`,
      background: `repeating-linear-gradient(90deg, ${segments.map(({ stripe, left, width: wide }) =>
        `${(stripe ? row[stripe - 1] : cloth.ground).hex} ${left}px ${left + wide}px`).join(", ")})` });
  }

  /**
   * Give a thread the focus, or the first one that can have it.
   * @param {number} [stripe]
   */
  focus(stripe = 0) {
    (this.#nodes[stripe - 1] ?? this.#nodes.find((node) => node.tabIndex === 0))?.focus();
  }

  /** @param {number} stripe */
  #press(stripe) {
    const part = this.sign * stripe;
    if (!this.#dragged) this.hand.choose(this.hand.part === part ? null : part);
    this.#dragged = false;
  }

  /**
   * @param {KeyboardEvent} event
   * @param {number} stripe
   */
  #key(event, stripe) {
    if (event.key === "Escape" && this.#held?.lifted) {
      this.#put();
      this.#dragged = true; // the press that goes on ends in no click of its own
    } else if (!this.#walk(event, stripe)) return;
    event.preventDefault();
    event.stopPropagation();
  }

  /**
   * What a key does on a thread; false where it does nothing there.
   * @param {KeyboardEvent} event
   * @param {number} stripe
   */
  #walk(event, stripe) {
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key] ?? 0;
    if (event.ctrlKey || event.metaKey || event.shiftKey) return false;
    if (event.key === "Delete") this.remove(stripe);
    else if (step && event.altKey) this.move(stripe, stripe + step);
    else return !event.altKey && this.#walkTo(event.key, stripe + step, step);
    return true;
  }

  /**
   * @param {string} key
   * @param {number} beside where an arrow leads; without a step the stripe itself
   * @param {number} step
   */
  #walkTo(key, beside, step) {
    const count = this.#nodes.length;
    if (step) this.#goTo(Math.min(count, Math.max(1, beside)));
    else if (key === "ArrowDown") this.hand.toColours(this.sign * beside);
    else if (key === "Home") this.#goTo(1);
    else if (key === "End") this.#goTo(count);
    else return false;
    return true;
  }

  /** @param {number} stripe */
  #goTo(stripe) {
    this.hand.choose(this.sign * stripe);
    this.focus(stripe);
  }

  /**
   * @param {number} stripe
   * @param {number} to
   */
  move(stripe, to) {
    if (to < 1 || to > this.#nodes.length || to === stripe) return;
    const { part } = this.hand;
    const focused = this.list.contains(document.activeElement);
    const [from, at] = [this.sign * stripe, this.sign * to];
    this.hand.act("order", { stripe: from, to: at }, { edit: (cloth) => moveStripe(cloth, from, at),
      part: part === null || part === "own" ? part : partAfterMove(part, from, at) });
    if (focused) this.focus(to);
  }

  /** @param {number} stripe */
  remove(stripe) {
    const count = this.#nodes.length;
    const { part } = this.hand;
    if (count === 1) return;
    const gone = this.sign * stripe;
    const number = typeof part === "number" ? part * this.sign : 0; // of what is chosen, if that is of this way
    this.hand.act("remove_stripe", { stripe: gone }, { edit: (cloth) => removeStripe(cloth, gone),
      part: number >= stripe
        ? this.sign * Math.max(1, Math.min(number === stripe ? number : number - 1, count - 1)) : part });
  }

  // -- dragging ------------------------------------------------------------------------------

  /**
   * @param {PointerEvent} event
   * @param {number} stripe
   */
  #hold(event, stripe) {
    this.#dragged = false;
    if (event.button !== 0 || this.#held || this.#nodes.length < 2) return;
    const held = { node: this.#nodes[stripe - 1], stripe, pointer: event.pointerId, x: event.clientX,
      lifted: false, to: stripe };
    this.#held = held;
    if (event.pointerType === "touch") this.#held.timer = setTimeout(() => this.#lift(held), HOLD);
  }

  /** @param {PointerEvent} event */
  #move(event) {
    const held = this.#held;
    if (!held || event.pointerId !== held.pointer) return;
    const moved = event.clientX - held.x;
    if (!held.lifted && Math.abs(moved) > DRAG_AFTER) {
      if (event.pointerType === "touch") this.#put(); // it scrolls
      else this.#lift(held);
    }
    if (!held.lifted) return;
    const at = this.#threads.findIndex(({ stripe }) => stripe === held.stripe);
    const { left, width } = this.#threads[at];
    held.node.style.transform = `translateX(${moved}px)`;
    const { to, order } = landing(this.#threads, held.stripe, left + width / 2 + moved);
    if (to !== held.to) this.#open(held, to, order);
  }

  /** @param {Held} held */
  #lift(held) {
    if (this.#held !== held) return;
    held.lifted = true;
    held.node.classList.add("cc-lifted");
    this.root.classList.add("cc-dragging");
    try {
      held.node.setPointerCapture(held.pointer);
    } catch {
      // the pointer has gone meanwhile; its end is heard all the same
    }
  }

  /**
   * Open a gap where what is dragged would land, and show the cloth so.
   * @param {Held} held
   * @param {number} to
   * @param {number[]} order stripes from left to right
   */
  #open(held, to, order) {
    held.to = to;
    order.forEach((stripe, at) => {
      const thread = this.#threads.find((one) => one.stripe === stripe);
      if (stripe === held.stripe || !thread) return;
      const { left, row } = this.#threads[at];
      this.#nodes[stripe - 1].style.transform =
        `translate(${left - thread.left}px, calc(${row - thread.row} * var(--thread)))`;
    });
    this.hand.try((cloth) => moveStripe(cloth, this.sign * held.stripe, this.sign * to));
  }

  /** @param {PointerEvent} event */
  #drop(event) {
    const held = this.#held;
    if (!held || event.pointerId !== held.pointer) return;
    this.#dragged = held.lifted;
    if (!held.lifted) {
      this.#put();
      return;
    }
    this.#put(held.to !== held.stripe);
    this.move(held.stripe, held.to);
    setTimeout(() => { this.#dragged = false; }); // the click that follows a drag is not a press
  }

  /**
   * Let go of what is held.
   * @param {boolean} [taken] the cloth stays as it is shown, since an act follows
   */
  #put(taken = false) {
    const held = this.#held;
    if (!held) return;
    this.#held = null;
    clearTimeout(held.timer);
    held.node.classList.remove("cc-lifted");
    this.root.classList.remove("cc-dragging");
    for (const node of this.#nodes) node.style.transform = "";
    if (held.lifted && !taken) this.hand.try(null);
    this.#waiting?.();
    this.#waiting = null;
  }
}
