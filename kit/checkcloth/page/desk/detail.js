// A close look at one colourway: cloth at true size, what its scores mean, its tones by name.

import { bytesOf } from "../shared/binary.js";
import { toneBytes } from "../shared/cloth.js";
import { button, make, perFrame, refill, say } from "../shared/dom.js";
import { ClothFrame, VisionViews } from "./cloth_frame.js";
import { figuresTable, lockButtons, remarkItems, tonesTable } from "./detail_parts.js";
import { VISIONS } from "../shared/vision.js";

/** @import { Desk, Details } from "./types.js" */

export class Detail {
  /** @type {number | undefined} the colourway asked for; `data` may still be of the one before */
  number;
  /** @type {Details | undefined} */
  data;
  /** Its tones, as each of VISIONS sees them in turn. */
  bytes = new Uint8Array(0);

  /**
   * @param {Desk} desk
   * @param {boolean} [large] the enlarged view; the other stands beside the wall
   */
  constructor(desk, large = false) {
    this.desk = desk;
    this.large = large;
    this.title = make("h3", { class: "cc-title" });
    this.words = make("p", { class: "cc-quiet" });
    this.actions = make("div", { class: "cc-row" });
    this.name = this.#field("Name", 500, "name", "N");
    this.note = this.#field("Note", 2000, "note", "T");
    this.cloth = new ClothFrame(desk, large);
    this.views = new VisionViews(large ? 92 : 64);
    this.remarks = make("ul", { class: "cc-remarks" });
    this.locks = make("div", { class: "cc-locks" });
    this.tones = make("div", { class: "cc-tones", tabindex: "0", role: "group",
      "aria-label": "Tones with names and hex" });
    this.figures = make("div", { class: "cc-figures" });
    this.empty = make("p", { class: "cc-quiet", text: "Point at a colourway to look at it closely." });
    this.body = this.#layBody();
    this.root = make("section", { class: large ? "cc-look cc-large" : "cc-look",
      "aria-label": large ? "Enlarged" : "Close look" },
    make("header", { class: "cc-look-head" }, this.title, this.words), this.empty, this.body);
    this.watch = new ResizeObserver(perFrame(() => this.draw()));
    this.watch.observe(this.cloth.root);
  }

  #layBody() {
    const part = (/** @type {string} */ title, /** @type {HTMLElement} */ body) =>
      make("div", { class: "cc-part" }, make("h4", { text: title }), body);
    const folded = (/** @type {string} */ title, /** @type {HTMLElement} */ body) =>
      make("details", { class: "cc-fold", open: this.large }, make("summary", { text: title }), body);
    return make("div", { class: "cc-look-body", hidden: true }, this.cloth.root,
      make("div", { class: "cc-look-words" }, this.actions, this.name.box, this.note.box,
        part("In plain words", this.remarks), part("As others see it", this.views.root)),
      make("div", { class: "cc-look-more" }, part("Lock for new ideas", this.locks),
        folded("Scores", this.figures), folded("Tones", this.tones)));
  }

  /**
   * @param {string} label
   * @param {number} longest
   * @param {"name" | "note"} what
   * @param {string} keys
   */
  #field(label, longest, what, keys) {
    const input = make("input", { type: "text", maxlength: longest, class: "cc-input",
      "aria-label": label, "aria-keyshortcuts": keys, autocomplete: "off",
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        if (event.key !== "Enter" && event.key !== "Escape") return;
        event.preventDefault();
        if (event.key === "Enter") input.blur();
        else {
          event.stopPropagation(); // the dialog of the enlarged view stays open
          input.value = this.#known(what);
        }
        this.desk.backToWall();
      },
      onchange: () => {
        const text = input.value;
        if (text !== this.#known(what)) this.desk.act(what, this.number, { text });
      } });
    const box = make("label", { class: "cc-field cc-wide" }, make("span", { text: label }), input);
    return { box, input };
  }

  /**
   * Another colourway is asked for: what is typed from now on is for that one.
   * @param {number} number
   */
  expect(number) {
    if (number === this.number) return;
    this.number = number;
    this.name.input.value = this.note.input.value = "";
    say(this.title, this.desk.titleOf(number));
    this.root.setAttribute("aria-busy", "true"); // dims, if the kernel takes its time
  }

  /**
   * Ask for a change of what is looked at; not while another is still shown.
   * @param {string} what
   * @param {object} [fields]
   */
  #act(what, fields) {
    if (this.data?.number === this.number) this.desk.act(what, this.number, fields);
  }

  /**
   * The name or note of the colourway looked at, as far as it is known here.
   * @param {"name" | "note"} what
   */
  #known(what) {
    return this.data?.number === this.number ? this.data?.[what] ?? "" : "";
  }

  /**
   * Show what the kernel says about a colourway.
   * @param {Details} data
   */
  fill(data) {
    const other = this.data?.number !== data.number;
    this.data = data;
    this.number = data.number;
    this.bytes = bytesOf(data.buffers?.[0]).slice();
    this.root.removeAttribute("aria-busy");
    this.empty.hidden = true;
    this.body.hidden = false;
    say(this.title, data.title);
    say(this.words, data.words);
    this.#fillActions(data);
    for (const what of /** @type {const} */ (["name", "note"])) {
      const { input } = this[what];
      const typing = document.activeElement === input && (!other || input.value);
      if (!typing) input.value = data[what];
    }
    this.remarks.replaceChildren(...remarkItems(data));
    refill(this.locks, lockButtons(data, (what, fields) => this.#act(what, fields)));
    this.tones.replaceChildren(tonesTable(data));
    this.figures.replaceChildren(...figuresTable(data));
    this.views.label(data);
    this.draw();
  }

  /** @param {Details} data */
  #fillActions(data) {
    const kept = data.kept !== 0;
    const buttons = [
      button(kept ? "Drop" : "Keep", () => this.#act(kept ? "drop" : "keep"),
        { keys: "K", kind: kept ? "" : "cc-strong" }),
      button("Lay beside", () => this.#act("compare"), { keys: "C", pressed: data.compared }),
      button("More like this", () => this.#act("more"), { keys: "M" }),
    ];
    if (!this.large) buttons.push(button("Enlarge", () => this.desk.enlarge(), { keys: "Enter" }));
    refill(this.actions, buttons);
  }

  /**
   * While a slider moves: the cloth at once, the words when the kernel has said them.
   * @param {number} index of what is looked at, on the wall
   */
  follow(index) {
    const { tones } = this.desk;
    const stripes = tones.stripes(index);
    if (!stripes || this.data?.number !== this.number || this.data?.count !== stripes) return;
    const size = toneBytes(stripes);
    VISIONS.forEach((vision, i) => tones.mix(index, vision, this.bytes, i * size));
    this.draw();
  }

  draw() {
    const { data } = this;
    if (!data || !this.root.isConnected || !this.bytes.length) return;
    if (!this.cloth.draw(this.bytes, data)) return;
    this.views.draw(this.bytes, data.count, this.desk.bands(data.count));
  }

  /** The cloth of the large view moves under the pointer. @param {number} x @param {number} y */
  panBy(x, y) {
    this.cloth.panBy(x, y);
    this.draw();
  }

  /** @param {"name" | "note"} which */
  typeInto(which) {
    this[which].input.focus();
    this[which].input.select();
  }

  close() {
    this.watch.disconnect();
  }
}
