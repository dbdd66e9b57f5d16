// One view of the desk: puts the parts together, hears the model, asks the kernel.

class DeskView {
  constructor(model, root) {
    this.model = model;
    this.root = root;
    root.classList.add("cc");
    root.setAttribute("data-lm-suppress-shortcuts", "true"); // D D must never delete a cell
    root.setAttribute("role", "region");
    root.setAttribute("aria-label", "Desk of colourways");
    this.link = new Link(model, (quiet) => this.notices.showQuiet(quiet));
    this.notices = new Notices(this);
    this.hand = new Hand(root);
    this.inches = model.get("inches");
    this.grid = new Grid(this);
    this.tools = new Tools(this);
    this.look = new Look(this);
    this.enlarged = new Enlarged(this);
    this.shelf = new Shelf(this);
    this.beside = new Beside(this);
    this.aside = new Aside();
    root.append(this.notices.banner, this.notices.offer, this.tools.root,
      make("div", { class: "cc-main" }, this.grid.scroll, this.look.root),
      this.notices.status, this.beside.root, this.shelf.root, this.enlarged.root, this.aside.root);
    root.addEventListener("keydown", (event) => answerKey(this, event));
    this.hear();
    this.sliders = new Sliders(this);
    this.shelf.fill();
    this.beside.fill();
    this.notices.fill();
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
    const inches = this.inches * checksIn(this.bands(stripes));
    const short = (number) => String(Number(number.toFixed(3)));
    const inInches = `${short(inches)} in`;
    const { unit } = this.model.get("facts"); // as the check size was given
    if (unit === "in") return `${inInches} (${short(inches * 25.4)} mm)`;
    const metric = unit === "cm" ? `${short(inches * 2.54)} cm` : `${short(inches * 25.4)} mm`;
    return `${metric} (${inInches})`;
  }

  titleOf(number) {
    const kept = this.model.get("kept").find((one) => one.number === number);
    return kept?.title ?? this.model.get("names")[this.model.get("numbers").indexOf(number)] ?? "";
  }

  letterOf(number) {
    return LETTERS[(this.model.get("facts").compared || []).indexOf(number)] || "";
  }

  // -- hearing the model ---------------------------------------------------------------------

  hear() {
    const { model } = this;
    this.heard = [];
    const on = (event, act) => { model.on(event, act); this.heard.push([event, act]); };
    const fill = (...parts) => parts.forEach((part) => this.fill(part));
    on("change:stamp", () => {
      this.link.heard();
      const dealt = this.dealt !== model.get("dealt");
      this.dealt = model.get("dealt");
      if (dealt) this.grid.hold(() => this.grid.deal());
      else this.grid.paint(true);
      this.follow();
    });
    on("change:order", () => this.grid.hold(() => this.grid.arrange()));
    on("change:hidden", () => { this.grid.hold(() => this.grid.arrange()); fill("tools"); });
    on("change:figures", () => { this.grid.paint(); this.lookAgain(); });
    on("change:marks", () => this.grid.paint());
    on("change:kept", () => { fill("shelf"); this.lookAgain(); });
    on("change:facts", () => {
      fill("tools", "shelf", "notices");
      this.grid.paint();
      this.lookAgain();
    });
    on("change:inches", () => this.takeInches());
    this.dealt = model.get("dealt");
  }

  /** Lay a part of the page anew, when no press is under way and nothing else was looked at. */
  fill(part, data) {
    this.hand.after(part, () => {
      if (!this.closed && (!data || data.number === this.look.number)) this[part].fill(data);
    });
  }

  /** Take the kernel's check size, unless the slider here is already further on. */
  takeInches() {
    const inches = this.model.get("inches");
    const here = this.sliders.inches;
    if (here === undefined || here === inches) this.setInches(inches);
  }

  setInches(inches) {
    if (inches === this.inches) return;
    this.inches = inches;
    this.redraw ??= perFrame(() => this.drawAll(true));
    this.redraw();
  }

  /** Draw all cloth again; on the wall, unless the scale of the screen changed, only cloth. */
  drawAll(clothOnly) {
    this.grid.paint(clothOnly);
    this.look.draw();
    this.enlarged.draw();
    this.beside.draw();
  }

  follow() {
    const place = this.model.get("numbers").indexOf(this.look.number);
    if (place < 0) return;
    const bytes = bytesOf(this.model.get("tones"));
    for (const look of this.enlarged.open ? [this.look, this.enlarged.look] : [this.look]) {
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
      this.notices.complain(error.message);
      if (what === "name" || what === "note") this.fill("shelf");
    }
  }

  async lookAt(number) {
    this.look.expect(number);
    this.enlarged.look.expect(number);
    let data;
    try {
      data = await this.link.ask("look", { number });
    } catch (error) {
      if (!this.closed && this.look.number === number) this.notices.complain(error.message);
      return;
    }
    if (this.closed || this.look.number !== number) return; // another was asked for meanwhile
    this.fill("look", data);
    if (this.enlarged.open) this.fill("enlarged", data);
  }

  /** What keys act on: what is looked at, unless it has left the desk with the last step. */
  get number() {
    const { number } = this.look;
    const there = this.model.get("numbers").includes(number)
      || this.model.get("kept").some((one) => one.number === number);
    if (there) return number;
    return this.grid.list.length ? this.grid.number : undefined;
  }

  lookAgain() {
    clearTimeout(this.again);
    this.again = setTimeout(() => {
      if (this.closed) return;
      if (this.number !== undefined) this.lookAt(this.number);
      this.fill("beside");
    }, 30);
  }

  // -- what keys and buttons do on the page alone ----------------------------------------------

  enlarge() {
    this.enlarged.show();
    this.lookAt(this.number);
  }

  backToWall() {
    if (this.enlarged.open) this.enlarged.look.frame.focus();
    else this.grid.focus();
  }

  typeInto(which) {
    const { input } = (this.enlarged.open ? this.enlarged.look : this.look)[which];
    input.focus();
    input.select();
  }

  showKeys() {
    this.aside.show("Keys", listOfKeys());
  }

  measure() {
    this.aside.show("Set true size", cardBody((perInch) => {
      setScreenPixels(perInch);
      this.aside.close();
      this.drawAll(false);
    }));
  }

  close() {
    this.closed = true;
    clearTimeout(this.again);
    for (const [event, act] of this.heard) this.model.off(event, act);
    this.link.close();
    this.hand.close();
    this.sliders.close();
    this.grid.close();
    this.look.close();
    this.enlarged.look.close();
    this.redraw?.stop();
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
