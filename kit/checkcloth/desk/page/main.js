// One view of the desk: puts the parts together, hears the model, answers keys.

// ISO/IEC 7810 ID-1, the size of a bank card.
const CARD_MM = [85.6, 53.98];
const KEYS = [
  ["Arrow keys, Home, End, Page Up, Page Down", "move along the wall"],
  ["K or Space", "keep, or drop what is kept"], ["Enter", "enlarge"], ["Escape", "back to the wall"],
  ["N", "name it"], ["T", "write a note to it"], ["C", "lay it beside others"],
  ["M", "more like this"], ["D", "something different"],
  ["U or Ctrl+Z", "undo"], ["R or Ctrl+Shift+Z", "redo"],
  ["Shift + ← →", "on a kept colourway: move it; enlarged: move the cloth"],
  ["Delete", "on a kept colourway: drop it"], ["?", "this list"],
];

class DeskView {
  constructor(model, root) {
    this.model = model;
    this.root = root;
    root.classList.add("cc");
    root.setAttribute("data-lm-suppress-shortcuts", "true"); // D D must never delete a cell
    root.setAttribute("role", "region");
    root.setAttribute("aria-label", "Desk of colourways");
    this.link = new Link(model, (quiet) => this.showQuiet(quiet));
    this.banner = make("div", { class: "cc-banner", role: "alert" });
    this.banner.hidden = true;
    this.offer = make("div", { class: "cc-offer" });
    this.status = make("p", { class: "cc-status", role: "status", "aria-live": "polite" });
    this.inches = model.get("inches");
    this.grid = new Grid(this);
    this.tools = new Tools(this);
    this.look = new Look(this);
    this.big = new Look(this, true);
    this.shelf = new Shelf(this);
    this.beside = new Beside(this);
    this.dialog = this.makeEnlarged();
    this.extra = make("dialog", { class: "cc-dialog" });
    root.append(this.banner, this.offer, this.tools.root,
      make("div", { class: "cc-main" }, this.grid.scroll, this.look.root),
      this.status, this.beside.root, this.shelf.root, this.dialog, this.extra);
    root.addEventListener("keydown", (event) => this.key(event));
    this.hear();
    this.shelf.fill();
    this.beside.fill();
    this.showOffer();
    this.showMessage();
    requestAnimationFrame(() => this.grid.lay());
    if (this.grid.list.length) this.lookAt(this.grid.number);
    this.comeIntoSight();
  }

  /** Running all cells scrolls past the desk; a desk just opened comes back into sight, once. */
  comeIntoSight() {
    if (this.model.seen || Math.abs(Date.now() / 1000 - this.model.get("born")) > 20) return;
    this.model.seen = true;
    let touched = false;
    const touch = () => { touched = true; };
    const hands = ["wheel", "pointerdown", "keydown", "touchstart"];
    hands.forEach((name) => addEventListener(name, touch, { capture: true, passive: true }));
    const until = Date.now() + 2500;
    const look = () => {
      const box = this.root.closest(".widget-vbox") || this.root;
      const { top, bottom } = box.getBoundingClientRect();
      const away = bottom < 200 || top > innerHeight - 200;
      if (!touched && away && this.root.isConnected) box.scrollIntoView({ block: "start" });
      if (!this.closed && !touched && Date.now() < until) setTimeout(look, 250);
      else hands.forEach((name) => removeEventListener(name, touch, { capture: true }));
    };
    setTimeout(look, 250);
  }

  bands(stripes) {
    return this.model.get("bands")[String(stripes)];
  }

  repeatWords(stripes) {
    const checks = this.bands(stripes).reduce((sum, band) => sum + band[1], 0);
    const inches = this.inches * checks;
    const short = (number) => String(Number(number.toFixed(3)));
    return `${short(inches)} in (${short(inches * 25.4)} mm)`;
  }

  letterOf(number) {
    return LETTERS[(this.model.get("facts").compared || []).indexOf(number)] || "";
  }

  // -- hearing the model ---------------------------------------------------------------------

  hear() {
    const { model } = this;
    this.heard = [];
    const on = (event, act) => { model.on(event, act); this.heard.push([event, act]); };
    on("change:stamp", () => {
      this.link.heard();
      const dealt = this.dealt !== model.get("dealt");
      this.dealt = model.get("dealt");
      if (dealt) this.grid.hold(() => this.grid.deal());
      else this.grid.paint(true);
      this.follow();
    });
    on("change:order", () => this.grid.hold(() => this.grid.arrange()));
    on("change:hidden", () => { this.grid.hold(() => this.grid.arrange()); this.tools.fill(); });
    on("change:figures", () => { this.grid.paint(); this.lookAgain(); });
    on("change:marks", () => this.grid.paint());
    on("change:kept", () => { this.shelf.fill(); this.lookAgain(); });
    on("change:facts", () => {
      this.tools.fill();
      this.shelf.fill();
      this.grid.paint();
      this.showOffer();
      this.showMessage();
      this.lookAgain();
    });
    on("change:inches", () => this.takeInches());
    this.dealt = model.get("dealt");
    this.hearSliders();
  }

  /** The check size is followed here, without the kernel; of the others we await the effect. */
  async hearSliders() {
    const find = async (key) => {
      const id = this.model.get("controls")[key];
      if (!id) return null;
      try { return await this.model.widget_manager.get_model(id.replace("IPY_MODEL_", "")); }
      catch { return null; }
    };
    const [size, strength] = [await find("size"), await find("strength")];
    if (this.closed) return;
    this.sizeSlider = size;
    const on = (slider, event, act) => {
      if (!slider) return;
      slider.on(event, act);
      this.heard.push([event, act, slider]);
    };
    on(size, "change:index", () => {
      const step = this.model.get("steps")[size.get("index")];
      if (step) this.setInches(step);
      this.link.expect();
    });
    on(strength, "change:value", () => this.link.expect());
    this.nameSliders();
  }

  /** The sliders beside the wall draw their own handles, without names: give them names here. */
  nameSliders(tries = 200) {
    if (this.closed) return;
    const box = this.root.closest(".widget-vbox");
    const sliders = box?.querySelectorAll(".cc-settings .widget-slider") ?? [];
    if (sliders.length < 3 && tries) { // the sliders come to the page after the wall, or before
      requestAnimationFrame(() => this.nameSliders(tries - 1));
      return;
    }
    for (const slider of sliders) {
      const handle = slider.querySelector('[role="slider"]');
      const label = slider.querySelector(".widget-label");
      const readout = slider.querySelector(".widget-readout");
      if (!handle || !label) continue;
      const name = () => {
        const words = readout?.textContent || handle.getAttribute("aria-valuenow");
        if (handle.getAttribute("aria-valuetext") !== words) handle.setAttribute("aria-valuetext", words);
      };
      handle.setAttribute("aria-label", label.textContent);
      name();
      const watch = new MutationObserver(name);
      watch.observe(handle, { attributes: true, attributeFilter: ["aria-valuetext", "aria-valuenow"] });
      if (readout) watch.observe(readout, { childList: true, characterData: true, subtree: true });
      this.watches = [...(this.watches || []), watch];
    }
  }

  /** Take the kernel's check size, unless the slider here is already further on. */
  takeInches() {
    const inches = this.model.get("inches");
    const here = this.model.get("steps")[this.sizeSlider?.get("index")];
    if (here === undefined || here === inches) this.setInches(inches);
  }

  setInches(inches) {
    if (inches === this.inches) return;
    this.inches = inches;
    this.redraw ??= perFrame(() => {
      this.grid.paint(true);
      this.look.draw();
      if (this.dialog.open) this.big.draw();
      this.beside.draw();
    });
    this.redraw();
  }

  follow() {
    const place = this.model.get("numbers").indexOf(this.look.number);
    if (place < 0) return;
    const bytes = bytesOf(this.model.get("tones"));
    for (const look of this.dialog.open ? [this.look, this.big] : [this.look]) {
      look.follow(bytes, this.grid.offsets[place], this.grid.counts[place]);
    }
  }

  // -- asking the kernel ---------------------------------------------------------------------

  /** Ask for a change; say so on the page if it was refused. */
  async act(what, number = 0, fields = {}) {
    if (this.model.get("facts").retired) return;
    try {
      await this.link.ask(what, { number, ...fields });
    } catch (error) {
      this.complain(error.message);
      if (what === "name" || what === "note") this.shelf.fill();
    }
  }

  async lookAt(number) {
    this.look.number = number;
    this.big.number = number;
    let data;
    try {
      data = await this.link.ask("look", { number });
    } catch (error) {
      if (!this.closed && this.look.number === number) this.complain(error.message);
      return;
    }
    if (this.closed || this.look.number !== number) return; // another was asked for meanwhile
    this.look.fill(data);
    if (this.dialog.open) this.fillEnlarged(data);
  }

  lookAgain() {
    clearTimeout(this.again);
    this.again = setTimeout(() => {
      if (this.closed) return;
      const { numbers } = { numbers: this.model.get("numbers") };
      const there = numbers.includes(this.look.number)
        || this.model.get("kept").some((one) => one.number === this.look.number);
      if (there) this.lookAt(this.look.number);
      else if (this.grid.list.length) this.lookAt(this.grid.number);
      this.beside.fill();
    }, 30);
  }

  // -- saying things -------------------------------------------------------------------------

  showQuiet(quiet) {
    const { saved } = this.model.get("facts");
    this.root.classList.toggle("cc-quieted", quiet);
    this.banner.hidden = !quiet;
    if (!quiet) return;
    say(this.banner, "The kernel is not answering: it may be busy, stopped or restarted. "
      + `${saved ? `What you kept is safe (${saved}). ` : ""}`
      + "Changes made from now on wait for it; if it was restarted, run the notebook again.");
  }

  showMessage() {
    const { message, retired } = this.model.get("facts");
    if (retired) {
      this.root.classList.add("cc-retired");
      this.root.inert = true;
      this.banner.hidden = false;
      say(this.banner, "This desk was closed, because it was opened again elsewhere. "
        + "Everything on it is there.");
    }
    this.status.classList.toggle("cc-wrong", message.startsWith("Not done"));
    say(this.status, message);
  }

  complain(text) {
    this.status.classList.add("cc-wrong");
    say(this.status, `Not done: ${text}`);
  }

  showOffer() {
    const { offer } = this.model.get("facts");
    this.offer.hidden = !offer.length;
    this.offer.replaceChildren(...(offer.length ? [
      make("p", { text: "Kept in an earlier session, and left as it is:" }),
      ...offer.slice(0, 5).map((one) => make("div", { class: "cc-row" },
        make("span", { text: one.words }),
        one.fault ? null : button("Take onto this desk", () => this.act("take", 0, { file: one.file }),
          { label: `Take ${one.words} onto this desk`, kind: "cc-small" }))),
      button("Not now", () => this.act("dismiss"), { kind: "cc-small" })] : []));
  }

  // -- the enlarged view, the card, the keys ---------------------------------------------------

  makeEnlarged() {
    this.before = make("button", { type: "button", class: "cc-neighbour", onclick: () => this.walk(-1) });
    this.after = make("button", { type: "button", class: "cc-neighbour", onclick: () => this.walk(1) });
    this.before.hidden = this.after.hidden = true;
    return make("dialog", { class: "cc-dialog cc-enlarged", tabindex: "-1", "aria-label": "Enlarged colourway",
      onclose: () => this.afterEnlarged(),
      onkeydown: (event) => this.enlargedKey(event) },
    make("div", { class: "cc-row cc-dialog-head" }, this.before, make("span", { class: "cc-spring" }),
      this.after, button("Close", () => this.dialog.close(), { keys: "Escape" })), this.big.root);
  }

  enlarge() {
    if (!this.dialog.open) this.dialog.showModal();
    this.dialog.focus(); // its keys work at once; the cloth takes the focus when it is there
    this.lookAt(this.look.number ?? this.grid.number);
  }

  fillEnlarged(data) {
    this.big.fill(data);
    const { list, rank, current } = this.grid;
    const at = rank.get(current);
    const names = this.model.get("names");
    const onWall = this.model.get("numbers")[current] === data.number;
    for (const [node, place, arrow] of [[this.before, list[at - 1], "← "], [this.after, list[at + 1], "→ "]]) {
      node.hidden = place === undefined || !onWall;
      if (node.hidden) continue;
      const stripes = this.grid.counts[place];
      const bands = this.bands(stripes);
      const swatch = new Swatch(36, 36, "");
      swatch.canvas.setAttribute("aria-hidden", "true");
      const checks = bands.reduce((sum, band) => sum + band[1], 0);
      swatch.draw(bytesOf(this.model.get("tones")), this.grid.offsets[place], stripes, bands,
        Math.max(1, Math.floor(swatch.canvas.width / checks)));
      node.replaceChildren(swatch.canvas, make("span", { text: arrow + names[place] }));
    }
    const held = document.activeElement;
    const lost = !this.dialog.contains(held) || held === this.dialog || held.hidden;
    if (lost) this.big.frame.focus();
  }

  walk(step) {
    this.grid.by(step, { focus: false });
    this.walked = this.grid.current;
  }

  /** The browser gives the focus back to where it was; whoever walked on goes on from there. */
  afterEnlarged() {
    if (this.walked !== undefined) this.grid.go(this.walked);
    else this.backToWall();
    this.walked = undefined;
  }

  enlargedKey(event) {
    if (event.target.closest("input, select")) return;
    const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!step || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.shiftKey) this.big.panBy(-24 * step[0], -24 * step[1]);
    else this.walk(step[0] || step[1] * this.grid.across);
  }

  backToWall() {
    if (this.dialog.open) this.big.frame.focus();
    else this.grid.nodes.get(this.grid.current)?.focus({ preventScroll: true });
  }

  key(event) {
    const inField = event.target.closest("input, select, textarea");
    const undoing = (event.ctrlKey || event.metaKey) && !event.altKey && !inField;
    const letter = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    if (undoing && (letter === "z" || letter === "y")) {
      event.preventDefault();
      this.act(letter === "y" || event.shiftKey ? "redo" : "undo");
      return;
    }
    if (inField || event.ctrlKey || event.metaKey || event.altKey || this.extra.open) return;
    const onButton = event.target.closest("button, summary");
    const number = this.look.number ?? this.grid.number;
    const acts = {
      k: () => this.act("toggle", number),
      " ": onButton ? null : () => this.act("toggle", number),
      Enter: onButton || this.dialog.open ? null : () => this.enlarge(),
      n: () => this.nameField("name"), t: () => this.nameField("note"),
      c: () => this.act("compare", number), m: () => this.act("more", number),
      d: () => this.act("different"), u: () => this.act("undo"), r: () => this.act("redo"),
      "?": () => this.showKeys(),
    };
    if (!acts[letter]) return;
    event.preventDefault();
    event.stopPropagation();
    acts[letter]();
  }

  nameField(which) {
    const { input } = (this.dialog.open ? this.big : this.look)[which];
    input.focus();
    input.select();
  }

  showKeys() {
    this.openExtra("Keys", make("dl", { class: "cc-keys" },
      ...KEYS.flatMap(([keys, words]) => [make("dt", { text: keys }), make("dd", { text: words })])));
  }

  /** Match a bank card to learn how large this screen's pixels are. */
  measure() {
    const shape = make("div", { class: "cc-card", role: "img",
      "aria-label": "Rectangle to match with a bank card" });
    const words = make("p", { class: "cc-quiet", role: "status" });
    const slide = make("input", { type: "range", min: 50, max: 300, step: 0.25,
      value: screenPixels(), class: "cc-range", "aria-label": "Size of the rectangle" });
    const show = () => {
      const perMm = Number(slide.value) / 25.4;
      shape.style.width = `${CARD_MM[0] * perMm}px`;
      shape.style.height = `${CARD_MM[1] * perMm}px`;
      say(words, `${Number(slide.value).toFixed(1)} CSS pixels an inch`);
    };
    slide.addEventListener("input", show);
    show();
    const settle = (perInch) => {
      setScreenPixels(perInch);
      this.extra.close();
      this.grid.paint();
      this.look.draw();
      if (this.dialog.open) this.big.draw();
      this.beside.draw();
    };
    this.openExtra("Set true size", make("div", {},
      make("p", { text: "Hold a bank card (85.60 × 53.98 mm, ISO/IEC 7810 ID-1) against the screen, "
        + "and move the slider until the rectangle is as large. Browser zoom undoes it." }),
      shape, slide, words, make("div", { class: "cc-row" },
        button("Use this size", () => settle(Number(slide.value)), { kind: "cc-strong" }),
        button("Back to 96 an inch", () => settle(CSS_PER_INCH)))));
  }

  openExtra(title, body) {
    this.extra.setAttribute("aria-label", title);
    this.extra.replaceChildren(make("div", { class: "cc-row cc-dialog-head" },
      make("h3", { class: "cc-title", text: title }), make("span", { class: "cc-spring" }),
      button("Close", () => this.extra.close(), { keys: "Escape" })), body);
    this.extra.showModal();
  }

  close() {
    this.closed = true;
    clearTimeout(this.again);
    for (const [event, act, who] of this.heard) (who || this.model).off(event, act);
    this.link.close();
    this.grid.close();
    this.look.close();
    this.big.close();
    this.redraw?.stop();
    this.watches?.forEach((watch) => watch.disconnect());
  }
}

export default {
  render({ model, el }) {
    const root = document.createElement("div");
    el.append(root);
    const view = new DeskView(model, root);
    return () => view.close();
  },
};
