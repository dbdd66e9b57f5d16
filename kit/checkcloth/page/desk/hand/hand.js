// The cloth under the hand: one colourway of the wall or of what is kept, seen as cloth and changed
// by hand. Every act is painted here at once and then asked for; a refusal puts back what was.

import { bytesOf, floatsOf } from "../../shared/binary.js";
import { button, make, perFrame, say, setAttribute } from "../../shared/dom.js";
import { addStripe, rowOf, tonesOf, withOwnWeft, wordsOf } from "../../shared/edits.js";
import { canEncode, channelsOf, recipeOf } from "../../shared/mixing.js";
import { checksToShow, commonPixels } from "../../shared/scale.js";
import { deviceRatio } from "../../shared/swatch.js";
import { LEAST_THREAD, threadsOf } from "../../shared/threads.js";
import { VISIONS } from "../../shared/vision.js";
import { capital } from "../../shared/words.js";
import { refusalOf } from "../link.js";
import { evenWords } from "../bands/orders.js";
import { ClothView, VIEWS } from "./cloth_view.js";
import { ColourTray } from "./colour_tray.js";
import { Complaint } from "./complaint.js";
import { Encoder } from "./encoder.js";
import { OwnTray } from "./own_tray.js";
import { Palettes } from "./palettes.js";
import { PartsRow } from "./parts_row.js";
import { Radios } from "./radios.js";
import { WholeTray } from "./whole_tray.js";
import { textField } from "./text_field.js";
import { ThreadStrip } from "./thread_strip.js";

/** @import { Bands, Laid } from "../../shared/cloth.js" */
/** @import { Cloth } from "../../shared/edits.js" */
/** @import { Choices, Desk, Details } from "../types.js" */
/** @import { PaletteColour } from "./palettes.js" */

/**
 * @typedef {(cloth: Cloth) => Cloth} Edit
 * @typedef {null | number | "own"} Chosen nothing, the ground (0), a stripe (−n of the weft), or strength and mixing
 *
 * @typedef {object} Acting
 * @property {Edit} [edit] how the act is painted at once; without it the kernel is waited for
 * @property {Chosen} [part] what is chosen afterwards
 * @property {(words: string, near: string[]) => void} [complain] says the kernel's refusal beside its field
 * @property {() => void} [done] after the kernel has agreed
 *
 * @typedef {object} HandState what the parts of the hand share
 * @property {Desk} desk
 * @property {number | undefined} number
 * @property {Cloth | null} cloth as it stands, acts that are under way included
 * @property {Details | undefined} data
 * @property {Chosen} part
 * @property {string[]} palettes
 * @property {string} palette of the draw
 * @property {Choices["mixings"]} mixings
 * @property {Choices["stocks"]} stocks
 * @property {(palette: string) => PaletteColour[]} coloursOf empty until they have come
 * @property {(hexes: string[]) => void} prepare for these to be tried without waiting
 * @property {(edit: Edit | null) => void} try show the cloth so, or as it is; never a request
 * @property {(what: string, fields: object, acting?: Acting) => Promise<void>} act
 * @property {(part: Chosen) => void} choose
 * @property {(part: number) => void} toColours choose a part and go to its colours
 * @property {(part: number) => ThreadStrip} stripOf the threads that a part is of
 * @property {() => void} done
 * @property {(which: "name" | "note") => string} known
 * @property {() => void} leave a field: to the wall, or to the threads of what is not on it
 * @property {() => void} drawViews
 */

/** @implements {HandState} */
export class Hand {
  /** @type {number | undefined} the colourway asked for; `data` may still be of the one before */
  number;
  /** @type {Details | undefined} */
  data;
  /** @type {Cloth | null} */
  cloth = null;
  /** @type {Chosen} */
  part = null;
  /** @type {Edit | null} */
  #trial = null;
  /** @type {Chosen | undefined} to be chosen when the kernel's answer is here */
  #wanted;
  /** Whether the weft is apart from the warp, though it still has the same colours. */
  #apart = false;
  #underWay = 0;
  #turn = 0;
  #stale = false;
  /** @type {Palettes} */
  #palettes;

  /**
   * @param {Desk} desk
   * @param {boolean} [large] the enlarged view; the other stands beside the wall
   */
  constructor(desk, large = false) {
    this.desk = desk;
    this.large = large;
    this.#palettes = new Palettes(desk, () => desk.guard.after("tray", () => this.#fillTray()));
    this.encoder = new Encoder((fields) => desk.request("encode", fields));
    this.name = textField("Name",
      { known: () => this.known("name"), leave: () => this.leave(), change: (text) => desk.act("name", this.number, { text }) },
      { class: "cc-bare cc-hand-title", placeholder: "no name yet", maxlength: 500, "aria-keyshortcuts": "N" });
    this.words = make("p", { class: "cc-quiet cc-clip" });
    this.keep = button("Keep", () => this.#toggleKept(), { keys: "K" });
    this.as = new Radios("Shown as", VIEWS, "repeat", () => this.#turnView(), "cc-as");
    this.view = new ClothView(desk, large, (part) => this.choose(part));
    this.strip = new ThreadStrip(this);
    this.weftStrip = new ThreadStrip(this, "weft");
    this.weft = make("div", { class: "cc-weft", hidden: true },
      make("p", { class: "cc-quiet", text: "Weft, from the top down" }), this.weftStrip.root);
    this.evenWords = make("span");
    this.even = make("p", { class: "cc-quiet cc-row cc-even", hidden: true }, this.evenWords,
      button("Lay bands for it", () => desk.act("bands_for", this.number), { kind: "cc-plain" }));
    this.colours = new ColourTray(this);
    this.own = new OwnTray(this);
    this.whole = new WholeTray(this, large);
    this.note = this.whole.note;
    this.said = new Complaint();
    this.parts = new PartsRow((part) => this.choose(this.part === part ? null : part), (way) => this.#add(way),
      (own) => this.#setWeft(own));
    this.tray = make("div", { class: "cc-tray-room" });
    this.empty = make("p", { class: "cc-quiet", text: "Point at a colourway to take it in hand." });
    this.body = make("div", { class: "cc-hand-body", hidden: true },
      make("header", { class: "cc-hand-head" },
        make("div", { class: "cc-hand-words" }, this.name, this.words), this.keep),
      this.as.root, make("div", { class: "cc-cloth-room" }, this.view.frame), this.strip.root, this.weft, this.view.under,
      this.even, this.parts.root, this.said.root, this.tray);
    this.root = make("section", { class: large ? "cc-hand cc-large" : "cc-hand",
      "aria-label": large ? "Enlarged" : "The cloth under the hand",
      onkeydown: (/** @type {KeyboardEvent} */ event) => this.#key(event) }, this.empty, this.body);
    this.watch = new ResizeObserver(perFrame(() => this.draw()));
    this.watch.observe(this.root);
  }

  // -- what the desk asks for --------------------------------------------------------------------

  /**
   * Another colourway is asked for: what is typed from now on is for that one.
   * @param {number} number
   */
  expect(number) {
    if (number === this.number) return;
    this.number = number;
    this.#apart = false;
    this.#turn += 1; // what is under way is of another
    this.#underWay = 0;
    this.name.value = this.note.value = "";
    this.root.setAttribute("aria-busy", "true"); // dims, if the kernel takes its time
  }

  /**
   * Show what the kernel says about a colourway.
   * @param {Details} data
   */
  fill(data) {
    const other = this.data?.number !== data.number;
    this.data = data;
    this.number = data.number;
    this.root.removeAttribute("aria-busy");
    this.empty.hidden = true;
    this.body.hidden = false;
    if (other) {
      this.part = this.#trial = null;
      this.said.say("");
    }
    if (this.#underWay) this.#stale = true; // of before an act that is under way
    else this.#take(data);
    this.#lay();
  }

  /** @param {Details} data */
  #take(data) {
    this.cloth = this.#apart ? withOwnWeft(clothOf(data)) : clothOf(data);
    if (this.#wanted !== undefined) this.part = this.#wanted;
    this.#wanted = undefined;
    this.#dropPart(this.cloth);
  }

  /** What is chosen may have gone. @param {Cloth} cloth */
  #dropPart({ stripes, wefts = [] }) {
    const part = this.numbered;
    if (part !== null && (part > stripes.length || -part > wefts.length)) this.part = this.#trial = null;
  }

  /**
   * While a slider above the wall moves: the cloth at once.
   * @param {number} index of what is looked at, on the wall; -1 where it is not there
   */
  follow(index) {
    const strength = this.desk.model.get("strength");
    if (index < 0 || strength === null || !this.cloth || this.data?.own) return;
    if (this.data?.number !== this.number || this.#underWay) return;
    this.cloth = { ...this.cloth, strength };
    this.#lay();
  }

  /** Check size, device ratio or width changed. */
  draw() {
    if (this.cloth && this.root.isConnected) this.#lay();
  }

  /** @param {number} steps along the views */
  stepView(steps) {
    this.as.step(steps);
  }

  #turnView() {
    this.view.panTo(0, 0);
    this.draw();
  }

  /** The cloth at its true size moves under its edge. @param {number} x CSS pixels @param {number} y */
  panBy(x, y) {
    this.view.panBy(x, y);
    this.draw();
  }

  focusCloth() {
    this.view.frame.focus();
  }

  /** @param {"name" | "note"} which */
  typeInto(which) {
    if (which === "note" && this.part !== null) this.choose(null);
    this[which].focus();
    this[which].select();
  }

  close() {
    this.watch.disconnect();
  }

  // -- what the parts of the hand share ------------------------------------------------------------

  get palettes() {
    return this.desk.model.get("choices").palettes;
  }

  get palette() {
    return this.desk.model.get("palette");
  }

  get mixings() {
    return this.desk.model.get("choices").mixings;
  }

  get stocks() {
    return this.desk.model.get("choices").stocks;
  }

  /** @param {string} palette */
  coloursOf(palette) {
    return this.#palettes.of(palette);
  }

  /** Palettes were changed: swatches that show are asked for again, others when they are wanted. */
  forgetPalettes() {
    this.#palettes.refresh();
    if (this.numbered !== null) this.desk.guard.after("tray", () => this.#fillTray());
  }

  /** @param {string[]} hexes */
  prepare(hexes) {
    if (!this.cloth || canEncode(this.cloth.recipe)) return;
    this.encoder.learn(this.cloth.recipe, hexes).catch(() => {}); // tried without: the kernel is waited for
  }

  /** The ground (0) or a stripe (−n of the weft), where that is what is chosen. */
  get numbered() {
    return typeof this.part === "number" ? this.part : null;
  }

  /** @param {"name" | "note"} which */
  known(which) {
    return this.data?.number === this.number ? this.data?.[which] ?? "" : "";
  }

  /** @param {Edit | null} edit */
  try(edit) {
    if (!edit && !this.#trial) return;
    this.#trial = edit;
    this.#paint();
  }

  /** @param {Chosen} part */
  choose(part) {
    this.part = part;
    this.#trial = null;
    this.said.say("");
    if (part !== null) this.#palettes.refresh();
    this.#lay();
  }

  /** @param {number} part */
  toColours(part) {
    this.choose(part);
    this.colours.focus();
  }

  /** @param {number} part */
  stripOf(part) {
    return part < 0 ? this.weftStrip : this.strip;
  }

  leave() {
    const onWall = this.number !== undefined && this.desk.model.get("numbers").includes(this.number);
    if (onWall) this.desk.backToWall();
    else this.strip.focus(); // looking at the wall would look at another
  }

  /** Close the tray; the focus goes to what it was opened by. */
  done() {
    const { part } = this;
    const inside = this.tray.contains(document.activeElement);
    this.choose(null);
    if (!inside) return;
    if (typeof part === "number" && part) this.stripOf(part).focus(Math.abs(part));
    else this.parts.focus(part);
  }

  /**
   * Paint an act, and ask for it.
   * @param {string} what
   * @param {object} fields
   * @param {Acting} [acting]
   */
  async act(what, fields, acting = {}) {
    const { number, cloth, part } = this;
    if (!cloth || number === undefined || this.data?.number !== number) return; // another is asked for already
    this.#trial = null;
    this.#apply(acting);
    const turn = (this.#turn += 1);
    this.#underWay += 1;
    this.said.say("");
    const own = cloth.wefts?.length ? { own_weft: true } : {};
    await this.desk.request(what, { number, ...own, ...fields }).then(
      (answer) => this.#agreed(answer, number, acting),
      (error) => this.#refused(error, number, turn === this.#turn ? { cloth, part } : null, acting));
    this.#settle(number);
  }

  /** @param {Acting} acting */
  #apply({ edit, part }) {
    const edited = edit && this.cloth ? edit(this.cloth) : null;
    if (edited) {
      this.cloth = edited;
      this.#mirror();
      if (part !== undefined) this.part = part;
    } else this.#wanted = part;
    this.#lay();
  }

  /** The wall shows the cloth as it is under the hand. */
  #mirror() {
    if (!this.cloth || this.number === undefined) return;
    const bytes = tonesOf(this.encoder.encode(this.cloth), this.desk.model.get("vision"));
    if (bytes) this.desk.mirror(this.number, bytes);
  }

  /**
   * @param {{number?: number} | undefined} answer
   * @param {number} number
   * @param {Acting} acting
   */
  #agreed(answer, number, { done }) {
    done?.();
    const became = answer?.number ?? number;
    if (this.number === number && became !== number) this.desk.lookAt(became);
  }

  /**
   * @param {unknown} error
   * @param {number} number
   * @param {{cloth: Cloth, part: Chosen} | null} before what was, unless another act has followed
   * @param {Acting} acting
   */
  #refused(error, number, before, { complain = (words, near) => this.said.say(words, near) }) {
    if (this.number !== number) return;
    this.#stale = true;
    this.#wanted = undefined;
    if (before) {
      Object.assign(this, before);
      this.#mirror();
    }
    this.#lay();
    const { words, near } = refusalOf(error);
    complain(words, near);
  }

  /** The last of the acts under way has its answer: ask again what came of them. @param {number} number */
  #settle(number) {
    if (this.number !== number) return;
    this.#underWay = Math.max(0, this.#underWay - 1);
    if (this.#underWay || !this.#stale) return;
    this.#stale = false;
    this.desk.lookAt(number);
  }

  // -- laying it out -----------------------------------------------------------------------------

  #lay() {
    const { cloth, data } = this;
    if (!cloth || !data) return;
    const words = wordsOf(cloth);
    say(this.words, words);
    setAttribute(this.words, "title", words);
    this.weft.hidden = !cloth.wefts?.length;
    if (document.activeElement !== this.name) this.name.value = this.known("name");
    setAttribute(this.name, "aria-label", `Name of ${words}`);
    say(this.keep, data.kept ? "Drop" : "Keep");
    setAttribute(this.keep, "title", data.kept ? "Drop (K)" : "Keep (K)");
    this.keep.classList.toggle("cc-strong", !data.kept);
    this.#paint();
    this.#fillStrip();
    const mixing = this.mixings.find(([name]) => name === cloth.recipe.mixing)?.[1];
    this.parts.fill(cloth, this.part, mixing ?? cloth.recipe.mixing);
    this.#fillTray();
    this.#sayEven(cloth);
    this.desk.sayPart();
  }

  /** That the bands are not of its stripes. @param {Cloth} cloth */
  #sayEven({ stripes, wefts }) {
    const { model } = this.desk;
    const words = evenWords(model.get("laid"), model.get("bands"), stripes.length, wefts?.length);
    this.even.hidden = !words;
    say(this.evenWords, words && `${capital(words)}.`);
  }

  /** Checks that share the width: the same for every cloth of the wall and of the range. */
  get #checks() {
    const { model } = this.desk;
    const counts = new Set([...bytesOf(model.get("counts")), ...model.get("kept").map(({ count }) => count),
      this.cloth?.stripes.length ?? 1]);
    const all = [...counts].map((count) => this.desk.laid(count));
    if (this.cloth) all.push(this.#laidOf(this.cloth));
    return checksToShow(all.flatMap(({ warp, weft }) => [warp, weft]));
  }

  /** @param {Cloth} cloth */
  #laidOf({ stripes, wefts }) {
    return this.desk.laid(stripes.length, wefts?.length);
  }

  /** Mix and draw the cloth, as it stands or as it is tried. */
  #paint() {
    if (!this.cloth) return;
    const shown = this.encoder.encode(this.#trial ? this.#trial(this.cloth) : this.cloth);
    const laid = this.#laidOf(shown);
    const bytes = tonesOf(shown);
    if (!bytes) {
      this.#learn(shown);
      return;
    }
    this.view.draw({ as: this.as.value, cloth: shown, bytes, laid, checks: this.#checks, part: this.numbered });
    this.#drawViews(shown, laid);
  }

  /** Only the kernel knows how some of these are encoded: paint when it has said so. @param {Cloth} shown */
  async #learn({ recipe, ground, stripes, wefts = [] }) {
    const unknown = [ground, ...stripes, ...wefts].filter((colour) => !this.encoder.of(recipe, colour));
    try {
      await this.encoder.learn(recipe, unknown.map(({ hex }) => hex));
      if (unknown.every((colour) => this.encoder.of(recipe, colour))) this.#paint();
    } catch {
      // what it refuses it says to the act itself
    }
  }

  drawViews() {
    if (!this.cloth) return;
    this.#drawViews(this.encoder.encode(this.cloth), this.#laidOf(this.cloth));
  }

  /**
   * @param {Cloth} cloth
   * @param {Laid} laid
   */
  #drawViews(cloth, laid) {
    const { views } = this.whole;
    if (views.root.hidden || !views.root.isConnected) return;
    const all = VISIONS.map((vision) => tonesOf(cloth, vision));
    const bytes = new Uint8Array(all.reduce((sum, tones) => sum + (tones?.length ?? 0), 0));
    let at = 0;
    for (const tones of all) {
      if (!tones) return;
      bytes.set(tones, at);
      at += tones.length;
    }
    views.draw(bytes, cloth.stripes.length, laid, cloth.wefts?.length ?? 0);
  }

  #fillStrip() {
    const { cloth } = this;
    const width = this.view.frame.parentElement?.clientWidth;
    if (!cloth || !width) return;
    const laid = this.#laidOf(cloth);
    const fill = (/** @type {ThreadStrip} */ strip, /** @type {Bands} */ bands) => {
      const pixels = this.#stripPixels(bands, width);
      const wide = this.as.value === "repeat" ? (pixels * this.#checks) / deviceRatio() : width;
      strip.fill(cloth, this.numbered, bands, pixels, wide);
    };
    fill(this.strip, laid.warp);
    if (cloth.wefts?.length) fill(this.weftStrip, laid.weft);
  }

  /**
   * Device pixels of a check of the threads: those of the cloth above, where a whole repeat of it
   * shows; else as a repeat would lie.
   * @param {Bands} bands
   * @param {number} width CSS pixels
   */
  #stripPixels(bands, width) {
    const ratio = deviceRatio();
    const { pixels } = this.view;
    const threads = threadsOf(bands, pixels / ratio);
    const last = threads.at(-1);
    const whole = last !== undefined && !this.view.panned && last.left + last.span <= width && threads.every(({ span }) => span >= LEAST_THREAD);
    return whole ? pixels : commonPixels(Math.round(width * ratio), this.#checks);
  }

  #fillTray() {
    const { cloth, part } = this;
    if (!cloth) return;
    this.coloursOf(this.palette); // at hand when they are needed
    const tray = part === null ? this.whole : part === "own" ? this.own : this.colours;
    if (this.tray.firstChild !== tray.root) this.tray.replaceChildren(tray.root);
    if (tray === this.colours) this.colours.show(/** @type {number} */ (part));
    else tray.fill();
  }

  // -- acts of the head and the parts --------------------------------------------------------------

  #toggleKept() {
    if (this.data?.number === this.number) this.desk.act(this.data?.kept ? "drop" : "keep", this.number);
  }

  /**
   * Let the weft have colours of its own, or those of the warp. They may stay the same until one
   * is changed, so the first is a matter of the page alone.
   * @param {boolean} own
   */
  #setWeft(own) {
    const { cloth } = this;
    if (!cloth) return;
    this.#apart = own;
    if (own) {
      this.cloth = withOwnWeft(cloth);
      this.choose(this.part);
    } else this.#joinWeft(cloth);
  }

  /** @param {Cloth} cloth */
  #joinWeft(cloth) {
    const part = (this.numbered ?? 0) < 0 ? null : this.part;
    const edit = (/** @type {Cloth} */ now) => ({ ...now, wefts: [] });
    if (this.data?.weft?.length || this.#underWay) this.act("weft_as_warp", { own_weft: false }, { edit, part });
    else {
      this.cloth = edit(cloth);
      this.choose(part);
    }
  }

  /** Add the first colour of the palette that is not in the warp, or in the weft. @param {1 | -1} way */
  #add(way) {
    const { cloth } = this;
    if (!cloth) return;
    const row = rowOf(cloth, way);
    const at = way * (row.length + 1);
    const where = way < 0 ? { at } : {}; // last in the warp, unless it is said where
    const used = new Set(row.map(({ hex }) => hex));
    const colours = this.coloursOf(this.palette).filter(({ role }) => role !== "ground");
    const colour = colours.find(({ hex }) => !used.has(hex)) ?? colours[0];
    if (!colour) {
      this.act("add_stripe", where, { part: at });
      return;
    }
    const { name, hex, index } = colour;
    this.act("add_stripe", { ...where, palette: this.palette, index },
      { edit: (now) => addStripe(now, at, { name, hex, stays: false }), part: at });
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key !== "Escape" || (this.large && this.part === null)) return; // its dialog closes
    event.preventDefault();
    event.stopPropagation();
    if (this.part === null) this.desk.backToWall();
    else this.done();
  }
}

/**
 * The cloth that the kernel tells of.
 * @param {Details} data
 * @returns {Cloth}
 */
function clothOf({ recipe: list, strength, ground, stripes, weft = [], buffers }) {
  const recipe = recipeOf(list);
  const channels = channelsOf(recipe);
  const values = floatsOf(buffers?.[1]);
  const whole = values.length === (stripes.length + weft.length + 1) * channels;
  const colour = (/** @type {[string, string, boolean]} */ [name, hex, stays], /** @type {number} */ at) => ({
    name, hex, stays, encoded: whole ? values.slice(at * channels, (at + 1) * channels) : undefined });
  return { recipe, strength, ground: colour(ground, 0), stripes: stripes.map((stripe, at) => colour(stripe, at + 1)),
    wefts: weft.map(([name, hex], at) => colour([name, hex, false], stripes.length + 1 + at)) };
}
