// The wall: one canvas under a listbox. Only what shows is drawn, and only it is in the document.

const GAP = 14;
const CAPTION = 22;
const NEAR = 100; // CSS pixels a swatch is at least wide
const SCALES = [
  ["repeat", "one whole repeat"], ["0.25", "a quarter of its size"],
  ["0.5", "half its size"], ["1", "its true size"],
];

class Grid {
  constructor(desk) {
    this.desk = desk;
    this.scale = "0.25";
    this.showHidden = false;
    this.current = 0; // a place on the wall
    this.options = new Options(this);
    this.loom = new Loom();
    this.canvas = make("canvas", { class: "cc-wall-canvas", "aria-hidden": "true" });
    this.sheet = make("div", {
      class: "cc-sheet", role: "listbox", "aria-multiselectable": "true",
      "aria-label": "Wall of colourways",
      onkeydown: (event) => this.key(event),
      onclick: (event) => this.click(event),
      ondblclick: (event) => this.place(event) !== null && desk.enlarge(),
      onfocusin: (event) => {
        const place = this.place(event);
        if (place !== null) this.go(place, { focus: false, reveal: false });
      },
    }, this.canvas);
    this.scroll = make("div", { class: "cc-wall", tabindex: "-1" }, this.sheet);
    this.onscroll = perFrame(() => this.paint(true));
    this.scroll.addEventListener("scroll", this.onscroll, { passive: true });
    this.watch = new ResizeObserver(() => this.lay());
    this.watch.observe(this.scroll);
    this.deal();
  }

  /** Take in another wall: who is on it, in which order. */
  deal() {
    const { model } = this.desk;
    this.counts = bytesOf(model.get("counts"));
    this.offsets = new Uint32Array(this.counts.length + 1);
    this.counts.forEach((stripes, place) => {
      this.offsets[place + 1] = this.offsets[place] + 3 * (stripes + 1) ** 2;
    });
    this.arrange();
  }

  arrange() {
    const { model } = this.desk;
    this.hidden = new Map(model.get("hidden"));
    const order = model.get("order");
    this.list = this.showHidden ? [...order, ...this.hidden.keys()] : order;
    this.list = this.list.filter((place) => place < this.counts.length);
    this.rank = new Map(this.list.map((place, rank) => [place, rank]));
    if (!this.rank.has(this.current)) this.current = this.list[0] ?? 0;
    this.lay();
  }

  /** Work out columns and rows in whole device pixels, so that no edge is ever blurred. */
  lay() {
    const ratio = globalThis.devicePixelRatio || 1;
    const width = Math.floor((this.scroll.clientWidth - 2) * ratio);
    if (width < 20) return;
    this.ratio = ratio;
    this.gap = Math.round(GAP * ratio);
    this.across = Math.max(1, Math.floor((width + this.gap) / ((NEAR + GAP) * ratio)));
    this.side = Math.floor((width - this.gap * (this.across - 1)) / this.across);
    this.step = this.side + Math.round((CAPTION + GAP) * ratio);
    this.rows = Math.ceil(this.list.length / this.across);
    this.sheet.style.height = `${(this.rows * this.step) / ratio}px`;
    this.drawn = null;
    this.paint();
  }

  checkPixelsOf(stripes) {
    if (this.scale === "repeat") {
      return Math.max(1, Math.floor(this.side / checksIn(this.desk.bands(stripes))));
    }
    return checkPixels(this.desk.inches, Number(this.scale), this.ratio);
  }

  /** The rows that show now, and one more on either side. */
  span() {
    const top = this.scroll.scrollTop * this.ratio;
    const tall = this.scroll.clientHeight * this.ratio;
    const first = Math.max(0, Math.floor(top / this.step) - 1);
    return [first, Math.min(this.rows, Math.ceil((top + tall) / this.step) + 1)];
  }

  /** Draw the cloth that shows, and unless only its tones changed, what stands around it. */
  paint(clothOnly = false) {
    if (!this.step || !this.sheet.isConnected) return;
    const [first, last] = this.span();
    const { canvas, ratio } = this;
    const width = this.across * (this.side + this.gap) - this.gap;
    const height = Math.max(1, (last - first) * this.step);
    if (canvas.width !== width || canvas.height !== height) {
      canvas.width = width;
      canvas.height = height;
      canvas.style.width = `${width / ratio}px`;
      canvas.style.height = `${height / ratio}px`;
    }
    canvas.style.top = `${(first * this.step) / ratio}px`;
    const context = canvas.getContext("2d", { willReadFrequently: true });
    context.clearRect(0, 0, width, height);
    this.loom.size(this.side, this.side);
    const bytes = bytesOf(this.desk.model.get("tones"));
    const whole = bytes.length === this.offsets[this.counts.length];
    const plans = new Map();
    const from = first * this.across;
    const to = Math.min(this.list.length, last * this.across);
    for (let rank = from; whole && rank < to; rank++) {
      const place = this.list[rank];
      const stripes = this.counts[place];
      if (!plans.has(stripes)) {
        const pixels = this.checkPixelsOf(stripes);
        plans.set(stripes, planOf(this.desk.bands(stripes), pixels, this.side));
        this.scroll.dataset.pixels = pixels;
      }
      const x = (rank % this.across) * (this.side + this.gap);
      const y = (Math.floor(rank / this.across) - first) * this.step;
      this.loom.draw(context, x, y, bytes, this.offsets[place], stripes, plans.get(stripes));
    }
    if (!clothOnly || this.drawn !== `${from} ${to}`) this.options.show(this.list.slice(from, to));
    this.drawn = `${from} ${to}`;
    this.scroll.dataset.stamp = this.desk.model.get("stamp");
    this.scroll.dataset.paints = (this.paints = (this.paints || 0) + 1);
  }

  place(event) {
    return event.target.closest?.(".cc-option")?.place ?? null;
  }

  click(event) {
    const place = this.place(event);
    if (place === null) return;
    const ticked = event.target.closest(".cc-tick");
    this.go(place);
    if (ticked || event.ctrlKey || event.metaKey) this.desk.act("toggle", this.number);
  }

  get number() {
    return this.desk.model.get("numbers")[this.current];
  }

  /** Make a place the current one, and bring it into sight. */
  go(place, { focus = true, reveal = true } = {}) {
    if (!this.rank.has(place)) return;
    const moved = place !== this.current;
    this.current = place;
    if (reveal) {
      const top = (Math.floor(this.rank.get(place) / this.across) * this.step) / this.ratio;
      const bottom = top + this.step / this.ratio;
      const { scrollTop, clientHeight } = this.scroll;
      if (top < scrollTop) this.scroll.scrollTop = top;
      else if (bottom > scrollTop + clientHeight) this.scroll.scrollTop = bottom - clientHeight;
    }
    this.paint();
    if (focus) this.focus();
    if (moved || this.desk.look?.number !== this.number) this.desk.lookAt(this.number);
  }

  /** Move by so many along the wall; stays within it. */
  by(steps, options) {
    const rank = this.rank.get(this.current) ?? 0;
    this.go(this.list[Math.min(Math.max(rank + steps, 0), this.list.length - 1)], options);
  }

  key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || this.place(event) === null) return;
    const page = this.across * Math.max(1, Math.floor(this.scroll.clientHeight * this.ratio / this.step));
    const steps = {
      ArrowRight: 1, ArrowLeft: -1, ArrowDown: this.across, ArrowUp: -this.across,
      PageDown: page, PageUp: -page, Home: -this.list.length, End: this.list.length,
    }[event.key];
    if (steps !== undefined) {
      event.preventDefault();
      const rank = this.rank.get(this.current) + steps;
      // Up and down stay in their column rather than slide along the edge row.
      if (Math.abs(steps) === this.across && (rank < 0 || rank >= this.list.length)) return;
      this.by(steps);
    }
  }

  /** Keep the same colourway current when the order changes under it. */
  hold(act) {
    const held = this.options.nodes.get(this.current)?.contains(document.activeElement);
    act();
    if (held) this.focus();
  }

  focus() {
    this.options.nodes.get(this.current)?.focus({ preventScroll: true });
  }

  close() {
    this.watch.disconnect();
    this.onscroll.stop();
  }
}
