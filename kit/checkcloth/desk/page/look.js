// A close look at one colourway: cloth at true size, what its scores mean, its tones by name.

const LOOK_SCALES = [["1", "true size"], ["0.5", "half size"], ["repeat", "one whole repeat"]];
const VIEWS = [["protan", "protan"], ["deutan", "deutan"], ["tritan", "tritan"], ["grey", "grey"]];

class Look {
  /** `large` is the enlarged view; the other stands beside the wall. */
  constructor(desk, large = false) {
    this.desk = desk;
    this.large = large;
    this.scale = "1";
    this.title = make("h3", { class: "cc-title" });
    this.under = make("p", { class: "cc-quiet" });
    this.actions = make("div", { class: "cc-row" });
    this.name = this.field("Name", 500, "name", "N");
    this.note = this.field("Note", 2000, "note", "T");
    this.swatch = new Swatch(40, 40, "cloth");
    this.mark = make("div", { class: "cc-repeat", "aria-hidden": "true" });
    this.markWords = make("p", { class: "cc-quiet" });
    this.frame = make("div", large ? { class: "cc-frame", tabindex: "0", role: "group",
      "aria-label": "Cloth; arrow keys go to the neighbours on the wall" } : { class: "cc-frame" },
    this.swatch.canvas, this.mark);
    this.scales = choice("Shown at", LOOK_SCALES, this.scale, (scale) => {
      this.scale = scale;
      this.swatch.startX = this.swatch.startY = 0;
      this.draw();
    });
    this.measure = button("Set true size…", () => desk.measure(), {
      label: "Set true size with a bank card",
    });
    this.remarks = make("ul", { class: "cc-remarks" });
    this.views = make("div", { class: "cc-views" });
    this.locks = make("div", { class: "cc-locks" });
    this.tones = make("div", { class: "cc-tones", tabindex: "0", role: "group",
      "aria-label": "Tones with names and hex" });
    this.figures = make("div", { class: "cc-figures" });
    this.empty = make("p", { class: "cc-quiet", text: "Point at a colourway to look at it closely." });
    this.body = make("div", { class: "cc-look-body" },
      make("div", { class: "cc-look-cloth" }, this.frame, this.markWords,
        make("div", { class: "cc-row" }, this.scales, this.measure)),
      make("div", { class: "cc-look-words" }, this.actions, this.name, this.note,
        part("In plain words", this.remarks), part("As others see it", this.views)),
      make("div", { class: "cc-look-more" }, part("Lock for new ideas", this.locks),
        this.folded("Scores", this.figures), this.folded("Tones", this.tones)));
    this.root = make("section", { class: large ? "cc-look cc-large" : "cc-look",
      "aria-label": large ? "Enlarged" : "Close look" },
      make("header", { class: "cc-look-head" }, this.title, this.under), this.empty, this.body);
    this.body.hidden = true;
    this.watch = new ResizeObserver(perFrame(() => this.draw()));
    this.watch.observe(this.frame.parentNode);
    if (large) this.pan();
  }

  field(label, longest, what, keys) {
    const input = make("input", { type: "text", maxlength: longest, class: "cc-input", "aria-label": label,
      "aria-keyshortcuts": keys, autocomplete: "off",
      onkeydown: (event) => {
        if (event.key === "Enter") { event.preventDefault(); input.blur(); this.desk.backToWall(); }
        if (event.key === "Escape") {
          event.preventDefault();
          event.stopPropagation();
          input.value = this.known(what);
          this.desk.backToWall();
        }
      },
      onchange: () => {
        const { number } = this;
        const text = input.value;
        if (text !== this.known(what)) this.desk.act(what, number, { text });
      } });
    const box = make("label", { class: "cc-field cc-wide" }, make("span", { text: label }), input);
    box.input = input;
    return box;
  }

  folded(title, body) {
    return make("details", { class: "cc-fold", open: this.large },
      make("summary", { text: title }), body);
  }

  /** Another colourway is asked for: what is typed from now on is for that one. */
  expect(number) {
    if (number === this.number) return;
    this.number = number;
    this.name.input.value = this.note.input.value = "";
    say(this.title, this.desk.titleOf(number));
    this.root.setAttribute("aria-busy", "true"); // dims, if the kernel takes its time
  }

  /** Ask for a change of what is looked at; not while another is still shown. */
  act(what, fields) {
    if (this.data.number === this.number) this.desk.act(what, this.number, fields);
  }

  /** The name or note of the colourway looked at, as far as it is known here. */
  known(what) {
    return this.data && this.data.number === this.number ? this.data[what] : "";
  }

  /** Show what the kernel says about a colourway. */
  fill(data) {
    const other = this.data?.number !== data.number;
    this.data = data;
    this.number = data.number;
    this.bytes = bytesOf(data.buffers?.[0]);
    this.root.removeAttribute("aria-busy");
    this.empty.hidden = true;
    this.body.hidden = false;
    say(this.title, data.title);
    say(this.under, data.words);
    const kept = data.kept !== 0;
    refill(this.actions, [
      button(kept ? "Drop" : "Keep", () => this.act(kept ? "drop" : "keep"),
        { keys: "K", kind: kept ? "" : "cc-strong" }),
      button("Lay beside", () => this.act("compare"),
        { keys: "C", pressed: data.compared }),
      button("More like this", () => this.act("more"), { keys: "M" }),
      this.large ? null : button("Enlarge", () => this.desk.enlarge(), { keys: "Enter" }),
    ].filter(Boolean));
    for (const [box, value] of [[this.name, data.name], [this.note, data.note]]) {
      const typing = document.activeElement === box.input && (!other || box.input.value);
      if (!typing) box.input.value = value;
    }
    this.remarks.replaceChildren(...data.remarks.map(([kind, text]) => make("li", {
      class: `cc-${kind}` }, make("span", { class: "cc-sign", "aria-hidden": "true",
        text: { caution: "!", comfort: "✓", fact: "·" }[kind] }), make("span", { text }))));
    this.fillLocks(data);
    this.fillTones(data);
    this.fillFigures(data);
    this.draw();
  }

  fillLocks(data) {
    const lock = (text, colour, on, what, fields) => make("button", { type: "button",
      class: "cc-lock", "aria-pressed": String(on),
      title: `${on ? "Unlock" : "Lock"} ${text}: new ideas ${on ? "may change it" : "leave it alone"}`,
      onclick: () => this.act(what, fields) },
      chip(colour), make("span", { text }), make("span", { class: "cc-lock-state", text: on ? "locked" : "free" }));
    refill(this.locks, [
      lock(`ground: ${data.ground[0]}`, data.ground[1], data.ground[2], "lock_ground", {}),
      ...data.stripes.map(([name, hex, on], i) =>
        lock(`stripe ${i + 1}: ${name}`, hex, on, "lock_stripe", { place: i + 1 }))]);
  }

  fillTones(data) {
    const rows = data.tones.map(([name, hex]) => make("tr", {},
      make("td", {}, chip(hex)), make("th", { scope: "row", text: name }),
      make("td", { class: "cc-hex", text: hex })));
    this.tones.replaceChildren(make("table", {}, make("caption", { class: "cc-unseen",
      text: `Tones of ${data.title}` }), make("tbody", {}, ...rows)));
  }

  fillFigures(data) {
    const head = ["", "ΔE00 least", "mean", "ΔL* least", "ratio least"];
    this.figures.replaceChildren(make("table", {},
      make("thead", {}, make("tr", {}, ...head.map((text) => make("th", { scope: "col", text })))),
      make("tbody", {}, ...data.figures.map(([label, ...numbers]) => make("tr", {},
        make("th", { scope: "row", text: label }),
        ...numbers.map((text) => make("td", { text })))))),
    make("p", { class: "cc-quiet", text: data.yardstick }));
  }

  /** While a slider moves: the cloth at once, the words when the hand rests. */
  follow(bytes, offset, stripes) {
    if (!this.data || stripes !== this.data.count) return;
    this.bytes = bytes.slice(offset, offset + 3 * (stripes + 1) ** 2);
    this.moving = true;
    this.draw();
    this.moving = false;
  }

  draw() {
    if (!this.data || !this.root.isConnected || !this.bytes?.length) return;
    const stripes = this.data.count;
    const bands = this.desk.bands(stripes);
    const ratio = globalThis.devicePixelRatio || 1;
    const width = Math.floor(this.frame.parentNode.clientWidth) - 2;
    if (width < 40) return;
    const height = this.large ? Math.round(Math.min(globalThis.innerHeight * 0.52, width * 0.6)) : 220;
    this.swatch.resize(width, height);
    const checks = checksIn(bands);
    const pixels = this.scale === "repeat"
      ? Math.max(1, Math.floor(Math.min(width, height) * ratio / checks))
      : checkPixels(this.desk.inches, Number(this.scale), ratio);
    this.swatch.draw(this.bytes, 0, stripes, bands, pixels);
    const side = (checks * pixels) / ratio;
    const place = (start) => `${-(start / ratio)}px`;
    Object.assign(this.mark.style, { width: `${side}px`, height: `${side}px`,
      left: place(this.swatch.startX), top: place(this.swatch.startY) });
    const repeat = this.desk.repeatWords(stripes);
    say(this.markWords, `Repeat ${repeat}, dashed${side > height || side > width
      ? "; it is larger than the piece shown" : ""}.${this.large && side > height ? " Drag, or use Shift with the arrow keys, to move the cloth." : ""}`);
    this.swatch.canvas.setAttribute("aria-label",
      `Cloth of ${this.data.title}, ${this.data.words}, repeat ${repeat}`);
    if (!this.moving) this.drawViews(stripes, bands);
  }

  drawViews(stripes, bands) {
    const step = 3 * (stripes + 1) ** 2;
    const size = this.large ? 92 : 64;
    const all = bytesOf(this.data.buffers?.[0]);
    const checks = checksIn(bands);
    const ratio = globalThis.devicePixelRatio || 1;
    this.views.replaceChildren(...VIEWS.map(([view, word], i) => {
      const swatch = new Swatch(size, size, `${this.data.title} ${this.data.view_words[view]}`);
      const pixels = Math.max(1, Math.floor(size * ratio / checks));
      swatch.draw(all, step * (i + 1), stripes, bands, pixels);
      return make("figure", {}, swatch.canvas, make("figcaption", { text: word }));
    }));
  }

  /** The enlarged cloth moves under the pointer, or with Shift and the arrow keys. */
  pan() {
    const { canvas } = this.swatch;
    const move = (x, y) => {
      const ratio = globalThis.devicePixelRatio || 1;
      this.swatch.startX = Math.max(0, this.swatch.startX - Math.round(x * ratio));
      this.swatch.startY = Math.max(0, this.swatch.startY - Math.round(y * ratio));
      this.draw();
    };
    canvas.addEventListener("pointerdown", (event) => canvas.setPointerCapture(event.pointerId));
    canvas.addEventListener("pointermove", (event) => {
      if (canvas.hasPointerCapture(event.pointerId)) move(event.movementX, event.movementY);
    });
    this.panBy = move;
  }

  close() {
    this.watch.disconnect();
  }
}

function part(title, body) {
  return make("div", { class: "cc-part" }, make("h4", { text: title }), body);
}

function chip(hex) {
  const node = make("span", { class: "cc-chip", "aria-hidden": "true" });
  node.style.background = hex;
  return node;
}
