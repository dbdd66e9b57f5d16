// One view of the desk: puts the parts together, hears the model, asks the kernel.

import { checksIn, laidFor } from "../shared/cloth.js";
import { make, perFrame, within } from "../shared/dom.js";
import { putColour } from "../shared/edits.js";
import { isForControls, keepKeys } from "../shared/own_keys.js";
import { PressGuard } from "../shared/press_guard.js";
import { setScreenPixels } from "../shared/swatch.js";
import { errorWords } from "../shared/words.js";
import { bankCard, Dialog } from "./dialog.js";
import { ColoursTab } from "./colours_tab.js";
import { Enlarged } from "./enlarged.js";
import { ExportTab } from "./export/export_tab.js";
import { Grid } from "./grid.js";
import { Board } from "./hand/board.js";
import { Hand } from "./hand/hand.js";
import { Head } from "./head.js";
import { actionOf, listOfKeys } from "./keys.js";
import { Link } from "./link.js";
import { Notices } from "./notices.js";
import { RangeTab } from "./range_tab.js";
import { inchesOf, repeatWords } from "./setting_values.js";
import { Settings } from "./settings.js";
import { Shelf } from "./shelf.js";
import { LETTERS, SideBySide } from "./side_by_side.js";
import { Tabs } from "./tabs.js";
import { WallTones } from "./tones.js";
import { Tools } from "./tools.js";

/** @import { Bands, Laid, SentLaid } from "../shared/cloth.js" */
/** @import { Cloth } from "../shared/edits.js" */
/** @import { Desk, Details, Gone, Model, Traits } from "./types.js" */

/** Desks that have come into sight once, by when they were opened. */
const seen = new Set();

const SETTINGS = ["size", "strength", "stripes", "palette", "ground", "mixing", "count", "choices", "stock", "bands", "weft", "weft_colours", "laid"];

/** @implements {Desk} */
class DeskView {
  /** @type {[event: string, act: () => void][]} */
  #heard = [];
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #again;
  #palettes = 0; // how often palettes had been changed when colours of theirs were last asked for
  /** @type {SentLaid | null} bands that are tried; null where the kernel's are laid */
  #tried = null;
  closed = false;

  /**
   * @param {Model} model
   * @param {HTMLElement} root
   */
  constructor(model, root) {
    this.model = model;
    this.root = root;
    root.classList.add("cc");
    root.setAttribute("role", "region");
    root.setAttribute("aria-label", "Desk of colourways");
    this.link = new Link(model, (quiet) => this.notices.showQuiet(quiet));
    // The whole document: what grows here moves the form below, and a press there would be lost.
    this.guard = new PressGuard(root.ownerDocument);
    this.inches = inchesOf(model.get("choices").sizes, model.get("size")) ?? 0.5;
    this.dealt = model.get("dealt");
    this.stamp = model.get("stamp");
    this.tones = new WallTones(model);
    this.notices = new Notices(this, root);
    this.grid = new Grid(this);
    this.settings = new Settings(this);
    this.tools = new Tools(this, this.grid, this.settings);
    this.board = new Board(root);
    /** @type {Hand} */
    this.detail = new Hand(this);
    this.enlarged = new Enlarged(this, this.grid);
    this.shelf = new Shelf(this);
    this.sideBySide = new SideBySide(this);
    this.dialog = new Dialog();
    this.range = new RangeTab(this);
    this.colours = new ColoursTab(this);
    this.exportTab = new ExportTab(this);
    this.wall = make("div", { class: "cc-panel cc-wall-panel" }, this.tools.bar, this.tools.find.panel, this.tools.tags, this.grid.scroll);
    this.main = make("div", { class: "cc-main" }, this.tools.settings,
      make("div", { class: "cc-left" }, this.wall, this.range.root, this.colours.root, this.shelf.root), this.detail.root);
    this.tabs = this.#makeTabs();
    this.head = new Head(this, this.tabs);
    this.#layOut();
    root.addEventListener("keydown", (event) => this.#key(event));
    this.giveKeysBack = keepKeys(root);
    this.recolour = perFrame(() => this.#recolour());
    this.repaint = perFrame(() => !this.closed && this.grid.paint(true));
    this.rescale = perFrame(() => this.#drawAll(true));
    this.#hear();
    this.shelf.fill();
    this.head.fill();
    this.tabs.fill();
    this.sideBySide.fill();
    this.notices.fill();
    requestAnimationFrame(() => this.grid.lay());
    if (this.grid.list.length) this.lookAt(this.grid.number);
    this.#comeIntoSight();
  }

  #makeTabs() {
    const { model } = this;
    return new Tabs("Parts of the desk", [
      { key: "wall", text: "Wall", panel: this.wall, count: () => model.get("numbers").length - model.get("hidden").length },
      { key: "range", text: "Range", panel: this.range.root, count: () => model.get("kept").length },
      { key: "colours", text: "Colours", panel: this.colours.root },
      { key: "export", text: "Export", panel: this.exportTab.root },
    ], (key) => this.#turnTo(key));
  }

  #layOut() {
    const { root } = this;
    this.shelf.head.append(this.notices.line);
    root.append(this.notices.aloud, this.notices.banner, this.head.root, this.head.panel.root, this.notices.offer, this.main,
      this.exportTab.root, this.sideBySide.root, this.enlarged.root, this.dialog.root);
    this.#turnTo("wall");
  }

  /** Show another part of the desk; the cloth under the hand stays beside all but Export. @param {string} key */
  #turnTo(key) {
    this.root.dataset.shows = key;
    this.root.closest(".widget-vbox")?.classList.toggle("cc-shows-export", key === "export"); // links under the desk
    this.tools.settings.hidden = key !== "wall";
    this.main.hidden = key === "export";
    const bar = { wall: this.tools.bar, range: this.range.bar, colours: this.colours.bar }[key];
    bar?.append(this.board.root);
    this.range.fill();
    this.colours.fill();
    this.exportTab.fill();
    if (key === "wall") this.grid.lay();
    // Palettes may have come into the folder, or been changed there.
    if (key === "colours") this.request("refresh", {}).catch((error) => this.#complain(error));
  }

  /** Running all cells scrolls past the desk; a desk just opened comes back into sight, once. */
  #comeIntoSight() {
    const born = this.model.get("born");
    if (seen.has(born) || Math.abs(Date.now() / 1000 - born) > 20) return;
    seen.add(born);
    let touched = false;
    const touch = () => { touched = true; };
    const events = ["wheel", "pointerdown", "keydown", "touchstart"];
    events.forEach((name) => addEventListener(name, touch, { capture: true, passive: true }));
    const until = Date.now() + 2500;
    const look = () => {
      const box = this.root.closest(".widget-vbox") ?? this.root;
      const { top, bottom } = box.getBoundingClientRect();
      const away = bottom < 200 || top > innerHeight - 200;
      if (!touched && away && this.root.isConnected) box.scrollIntoView({ block: "start" });
      if (!this.closed && !touched && Date.now() < until) setTimeout(look, 250);
      else events.forEach((name) => removeEventListener(name, touch, { capture: true }));
    };
    setTimeout(look, 250);
  }

  // -- what the parts ask for ----------------------------------------------------------------

  /**
   * How colourways of so many stripes are laid.
   * @param {number} stripes
   * @param {number} [wefts] stripes of the weft's own, or 0
   */
  laid(stripes, wefts) {
    return laidFor(this.#tried ?? this.model.get("laid"), stripes, wefts);
  }

  /** @param {SentLaid | null} laid */
  tryBands(laid) {
    if (this.#tried === laid) return;
    this.#tried = laid;
    this.#relay();
  }

  /** Wall and cloth are laid in other bands: a check takes other room then. */
  #relay() {
    if (this.closed) return;
    this.grid.lay();
    this.rescale();
  }

  /** The cloth that is looked at. */
  get clothInHand() {
    return this.detail?.cloth ?? null;
  }

  /** @param {Laid} laid */
  repeatWords({ warp, weft }) {
    const words = (/** @type {Bands} */ bands) => repeatWords(this.inches * checksIn(bands), this.model.get("size"));
    return checksIn(warp) === checksIn(weft) ? words(warp) : `${words(warp)} × ${words(weft)}`;
  }

  /**
   * @param {number} number
   * @param {Uint8Array} bytes
   */
  mirror(number, bytes) {
    if (this.tones.put(this.#indexOf(number), bytes)) this.repaint();
  }

  /** @param {number} number */
  titleOf(number) {
    const kept = this.model.get("kept").find((card) => card.number === number);
    return kept?.title ?? this.model.get("facts").kept_names?.[number] ?? this.model.get("names")[this.#indexOf(number)] ?? "";
  }

  /** @param {number} number */
  letterOf(number) {
    return LETTERS[this.model.get("facts").compared.indexOf(number)] ?? "";
  }

  /**
   * Index of a colourway in the order of the deal; -1 where it is not on the wall.
   * @param {number | undefined} number
   */
  #indexOf(number) {
    return number === undefined ? -1 : this.model.get("numbers").indexOf(number);
  }

  /**
   * What keys act on: what is looked at, unless it has left the desk with the last step.
   * @returns {number | undefined}
   */
  get number() {
    const { number } = this.detail;
    const there = this.#indexOf(number) >= 0
      || this.model.get("kept").some((card) => card.number === number);
    if (there) return number;
    return this.grid.list.length ? this.grid.number : undefined;
  }

  // -- hearing the model ---------------------------------------------------------------------

  #hear() {
    this.#on("change:stamp", () => {});
    this.#on("change:order", () => this.grid.keepFocus(() => this.grid.arrange()));
    this.#on("change:hidden", () => {
      this.grid.keepFocus(() => this.grid.arrange());
      ["tools", "tabs"].forEach((part) => this.#fill(part));
    });
    this.#on("change:figures", () => this.#describe());
    this.#on("change:marks", () => this.grid.paint());
    this.#on("change:kept", () => {
      ["shelf", "tabs", "range", "colours", "exportTab"].forEach((part) => this.#fill(part));
      this.#lookAgain();
    });
    this.#on("change:facts", () => {
      this.link.heard();
      this.#followPalettes();
      ["head", "tabs", "tools", "find", "shelf", "range", "colours", "notices"].forEach((part) => this.#fill(part));
      this.#describe();
    });
    this.#on("change:find", () => this.#fill("find"));
    this.#on("change:strength", () => this.recolour());
    this.#on("change:vision", () => {
      this.recolour();
      this.#fill("tools");
    });
    this.#on("change:light", () => {
      this.#lookAgain();
      this.#fill("tools");
    });
    for (const trait of ["size", "choices"]) this.#on(`change:${trait}`, () => this.#takeSize());
    this.#on("change:choices", () => this.#fill("colours"));
    this.#on("change:laid", () => {
      this.#tried = null;
      this.#relay();
      ["shelf", "range"].forEach((part) => this.#fill(part));
      this.#lookAgain();
    });
    for (const trait of ["export", "exporting", "size"]) this.#on(`change:${trait}`, () => this.#fill("exportTab"));
    for (const trait of SETTINGS) this.#on(`change:${trait}`, () => this.#fill("settings"));
  }

  /**
   * Everything of one message is in the model before the first event of it is told, so whichever
   * comes first finds another wall: it is taken in before anything is drawn.
   * @param {string} event
   * @param {() => void} act
   */
  #on(event, act) {
    const heard = () => {
      this.#takeWall();
      act();
    };
    this.model.on(event, heard);
    this.#heard.push([event, heard]);
  }

  /** Lay a part of the page anew, when no press is under way. @param {string} part */
  #fill(part) {
    /** @type {Record<string, {fill: () => unknown}>} */
    const parts = { tools: this.tools, find: this.tools.find, shelf: this.shelf, notices: this.notices, head: this.head, tabs: this.tabs,
      settings: this.settings, sideBySide: this.sideBySide, range: this.range, colours: this.colours, exportTab: this.exportTab };
    this.guard.after(part, () => {
      if (!this.closed) parts[part].fill();
    });
  }

  /** Take in another deal, or other colours or recipes of the same, where there are such. */
  #takeWall() {
    if (this.stamp === this.model.get("stamp")) return;
    this.stamp = this.model.get("stamp");
    this.link.heard();
    this.tones.take();
    const dealt = this.dealt !== this.model.get("dealt");
    this.dealt = this.model.get("dealt");
    if (dealt) {
      this.grid.keepFocus(() => this.grid.arrange());
      this.#lookAgain();
    }
    ["settings", "tabs"].forEach((part) => this.#fill(part));
    this.recolour();
  }

  /** Strength, vision or colours changed: everything on the wall that shows is mixed anew. */
  #recolour() {
    if (this.closed) return;
    this.tones.invalidate();
    this.grid.paint(true);
    const index = this.#indexOf(this.detail.number);
    this.detail.follow(index);
    if (this.enlarged.open) this.enlarged.detail.follow(index);
  }

  #followPalettes() {
    const changes = this.model.get("facts").palette_changes ?? 0;
    if (changes === this.#palettes) return;
    this.#palettes = changes;
    for (const { detail } of [this, this.enlarged]) detail.forgetPalettes();
  }

  #takeSize() {
    const inches = inchesOf(this.model.get("choices").sizes, this.model.get("size"));
    if (inches === undefined || inches === this.inches) return;
    this.inches = inches;
    this.rescale();
  }

  /**
   * Draw all cloth again.
   * @param {boolean} clothOnly on the wall nothing but cloth: the options stay where they are
   */
  #drawAll(clothOnly) {
    if (this.closed) return;
    this.grid.paint(clothOnly);
    this.grid.onlay();
    this.detail.draw();
    this.enlarged.draw();
    this.sideBySide.draw();
  }

  #describe() {
    this.grid.paint();
    this.#lookAgain();
  }

  // -- asking the kernel ---------------------------------------------------------------------

  /**
   * Set what the kernel follows; the page has it at once.
   * @template {keyof Traits} K
   * @param {K} trait
   * @param {Traits[K]} value
   */
  change(trait, value) {
    if (this.model.get("facts").retired || this.model.get(trait) === value) return;
    this.model.set(trait, value);
    try {
      this.model.save_changes();
    } catch {
      // a kernel known to be dead refuses; `expect` finds that out and says it
    }
    this.link.expect();
  }

  /**
   * @param {string} what
   * @param {object} fields
   * @param {ArrayBuffer[]} [files] bytes that go with it
   */
  async request(what, fields, files) {
    return this.model.get("facts").retired ? undefined : this.link.ask(what, fields, files);
  }

  /**
   * Ask for a change; say so on the page if it was refused.
   * @param {string} what
   * @param {number} [number]
   * @param {object} [fields]
   */
  async act(what, number = 0, fields = {}) {
    try {
      const answer = await this.request(what, { number, ...fields });
      // A copy is made to be changed: what the hand does next is for it.
      if (what === "copy" && answer?.number !== undefined) await this.lookAt(answer.number);
    } catch (error) {
      this.#complain(error);
      if (what === "name" || what === "name_family") this.#fill("range");
      if (what === "name_range") this.#fill("head");
    }
  }

  /** @param {unknown} error */
  #complain(error) {
    if (!this.closed) this.notices.complain(errorWords(error));
  }

  /**
   * @param {number} number
   * @returns {Promise<Details | Gone>}
   */
  ask(number) {
    return this.link.ask("look", { number });
  }

  /** @param {number} number */
  async lookAt(number) {
    this.detail.expect(number);
    this.enlarged.detail.expect(number);
    this.shelf.mark();
    this.range.mark();
    let data;
    try {
      data = await this.ask(number);
    } catch (error) {
      if (this.detail.number === number) this.#complain(error);
      return;
    }
    if ("gone" in data) this.#lookElsewhere(number);
    else {
      this.#show("detail", data);
      if (this.enlarged.open) this.#show("enlarged", data);
    }
  }

  /**
   * What was asked for has left the desk. Where the model has heard of that already, look at what
   * is current; else the news is on its way, and the wall that it brings is looked at.
   * @param {number} gone
   */
  #lookElsewhere(gone) {
    if (this.detail.number === gone && this.number !== gone) this.#lookAgain();
  }

  /**
   * Fill a close look, when no press is under way and unless another was asked for meanwhile.
   * @param {"detail" | "enlarged"} part
   * @param {Details} data
   */
  #show(part, data) {
    this.guard.after(part, () => {
      if (!this.closed && data.number === this.detail.number) this[part].fill(data);
      if (part === "detail") this.settings.bands.paint();
    });
  }

  /** @param {number | undefined} number */
  pointAt(number) {
    if (number !== undefined && this.detail?.number !== number) this.lookAt(number);
  }

  #lookAgain() {
    clearTimeout(this.#again);
    this.#again = setTimeout(() => {
      if (this.closed) return;
      if (this.number !== undefined) this.lookAt(this.number);
      this.#fill("sideBySide");
    }, 30);
  }

  // -- what keys and buttons do on the page alone ----------------------------------------------

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (isForControls(event)) event.stopPropagation();
    const action = actionOf(event, {
      typing: within(event, 'input:not([type="range"], [type="checkbox"]), select, textarea') !== null,
      onControl: within(event, "button, summary, input") !== null,
      dialog: this.dialog.open,
      enlarged: this.enlarged.open,
    });
    if (!action) return;
    event.preventDefault();
    event.stopPropagation(); // Ctrl+Z is no step of the notebook's
    const onCard = (/** @type {string} */ what) => {
      if (this.number !== undefined) this.act(what, this.number);
    };
    const acts = {
      toggle: () => onCard("toggle"), compare: () => onCard("compare"), more: () => onCard("more"),
      different: () => this.act("different"),
      undo: () => this.act("undo"), redo: () => this.act("redo"),
      name: () => this.typeInto("name"), note: () => this.typeInto("note"),
      enlarge: () => this.enlarge(), keys: () => this.showKeys(),
      view: () => (this.enlarged.open ? this.enlarged.detail : this.detail).stepView(event.shiftKey ? -1 : 1),
      board: () => this.board.next(),
      part: () => this.tabs.pickAt(Number(event.key) - 1),
    };
    acts[action]();
  }

  /**
   * What is chosen of the cloth under the hand: 0 for the ground, a stripe, or null.
   * @returns {number | null}
   */
  get partInHand() {
    return this.detail.numbered;
  }

  /**
   * Put a colour of a palette into what is chosen.
   * @param {string} palette
   * @param {number} index
   * @param {{name: string, hex: string}} colour
   */
  putInHand(palette, index, colour) {
    const part = this.partInHand;
    if (part === null) return;
    this.detail.act("colour", { part, palette, index }, { edit: (/** @type {Cloth} */ cloth) => putColour(cloth, part, colour) });
  }

  sayPart() {
    this.colours.sayHint();
  }

  /** @param {string} key of a part of the desk */
  showPart(key) {
    this.tabs.pick(key);
    this.tabs.focus();
  }

  /** Turn to where a kept one is named. @param {number} number */
  nameInRange(number) {
    this.showPart("range");
    requestAnimationFrame(() => this.range.typeName(number));
  }

  showSideBySide() {
    requestAnimationFrame(() => this.sideBySide.root.scrollIntoView({ block: "nearest" }));
  }

  enlarge() {
    this.enlarged.show();
    if (this.number !== undefined) this.lookAt(this.number);
  }

  backToWall() {
    if (this.enlarged.open) this.enlarged.focusCloth();
    else if (this.tabs.value === "wall") this.grid.focus();
  }

  /** @param {"name" | "note"} which */
  typeInto(which) {
    (this.enlarged.open ? this.enlarged.detail : this.detail).typeInto(which);
  }

  showKeys() {
    this.dialog.show("Keys", listOfKeys());
  }

  measure() {
    this.dialog.show("Set true size", bankCard((perInch) => {
      setScreenPixels(perInch);
      this.dialog.close();
      this.#drawAll(false);
    }));
  }

  close() {
    this.closed = true;
    clearTimeout(this.#again);
    for (const [event, act] of this.#heard) this.model.off(event, act);
    this.giveKeysBack();
    this.link.close();
    this.guard.close();
    this.range.close();
    this.colours.close();
    this.exportTab.close();
    this.grid.close();
    this.tools.find.close();
    this.detail.close();
    this.enlarged.detail.close();
    this.recolour.stop();
    this.rescale.stop();
    this.repaint.stop();
  }
}

export default {
  /** @param {{model: Model, el: HTMLElement}} host */
  render({ model, el }) {
    const root = document.createElement("div");
    el.append(root);
    const view = new DeskView(model, root);
    return () => view.close();
  },
};
