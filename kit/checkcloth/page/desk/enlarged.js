// One colourway over the whole view, with its neighbours on the wall to walk on to.

import { longerWay, pixelsForRepeat } from "../shared/cloth.js";
import { button, make, within } from "../shared/dom.js";
import { Swatch } from "../shared/swatch.js";
import { Hand } from "./hand/hand.js";

/** @import { Desk, Details } from "./types.js" */
/** @import { Grid } from "./grid.js" */

const NEIGHBOUR = 36; // CSS pixels
/** @type {Record<string, [x: number, y: number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class Enlarged {
  /** @type {number | undefined} the index walked to, if any */
  #walked;

  /**
   * @param {Desk} desk
   * @param {Grid} grid
   */
  constructor(desk, grid) {
    this.desk = desk;
    this.grid = grid;
    this.detail = new Hand(desk, true);
    const neighbour = (/** @type {number} */ step) => make("button", { type: "button",
      class: "cc-neighbour", hidden: true, onclick: () => this.#walk(step) });
    this.before = neighbour(-1);
    this.after = neighbour(1);
    /** @type {HTMLDialogElement} */
    this.root = make("dialog", { class: "cc-dialog cc-enlarged", tabindex: "-1",
      "aria-label": "Enlarged colourway", onclose: () => this.#closed(),
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event) },
    make("div", { class: "cc-row cc-dialog-head" }, this.before, make("span", { class: "cc-spring" }),
      this.after, button("Close", () => this.root.close(), { keys: "Escape" })), this.detail.root);
  }

  get open() {
    return this.root.open;
  }

  show() {
    if (!this.open) this.root.showModal();
    this.root.focus(); // its keys work at once; the cloth takes the focus when it is there
  }

  /** @param {Details} data */
  fill(data) {
    this.detail.fill(data);
    const { list, rank, number, current } = this.grid;
    const at = rank.get(current) ?? -1;
    const onWall = at >= 0 && number === data.number;
    this.#fillNeighbour(this.before, onWall ? list[at - 1] : undefined, "← ");
    this.#fillNeighbour(this.after, onWall ? list[at + 1] : undefined, "→ ");
    const focused = document.activeElement;
    const lost = !(focused instanceof HTMLElement) || !this.root.contains(focused)
      || focused === this.root || focused.hidden;
    if (lost) this.focusCloth();
  }

  focusCloth() {
    this.detail.focusCloth();
  }

  /**
   * @param {HTMLElement} node
   * @param {number | undefined} index
   * @param {string} arrow
   */
  #fillNeighbour(node, index, arrow) {
    const { tones, model } = this.desk;
    const stripes = index === undefined ? 0 : tones.stripes(index);
    node.hidden = stripes === 0;
    if (index === undefined || !stripes) return;
    const wefts = tones.wefts(index);
    const laid = this.desk.laid(stripes, wefts);
    const swatch = new Swatch(NEIGHBOUR, NEIGHBOUR, "");
    swatch.draw(tones.of(index), 0, stripes, laid, pixelsForRepeat(longerWay(laid), swatch.canvas.width), wefts);
    node.replaceChildren(swatch.canvas, make("span", { text: arrow + model.get("names")[index] }));
  }

  draw() {
    if (this.open) this.detail.draw();
  }

  /** @param {number} steps along the wall */
  #walk(steps) {
    this.grid.by(steps, { focus: false });
    this.#walked = this.grid.current;
  }

  /** The browser gives the focus back to where it was; whoever walked on goes on from there. */
  #closed() {
    if (this.#walked !== undefined) this.grid.go(this.#walked);
    else this.grid.focus();
    this.#walked = undefined;
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const arrow = ARROWS[event.key];
    if (!arrow || within(event, "input, select")) return;
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    const [x, y] = arrow;
    if (event.shiftKey) this.detail.panBy(-24 * x, -24 * y);
    else this.#walk(x || y * (this.grid.layout?.across ?? 1));
  }
}
