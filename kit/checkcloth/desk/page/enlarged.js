// One colourway over the whole view, with its neighbours on the wall to walk on to.

class Enlarged {
  constructor(desk) {
    this.desk = desk;
    this.look = new Look(desk, true);
    this.before = make("button", { type: "button", class: "cc-neighbour", onclick: () => this.walk(-1) });
    this.after = make("button", { type: "button", class: "cc-neighbour", onclick: () => this.walk(1) });
    this.before.hidden = this.after.hidden = true;
    this.root = make("dialog", { class: "cc-dialog cc-enlarged", tabindex: "-1", "aria-label": "Enlarged colourway",
      onclose: () => this.closed(),
      onkeydown: (event) => this.key(event) },
    make("div", { class: "cc-row cc-dialog-head" }, this.before, make("span", { class: "cc-spring" }),
      this.after, button("Close", () => this.root.close(), { keys: "Escape" })), this.look.root);
  }

  get open() {
    return this.root.open;
  }

  show() {
    if (!this.open) this.root.showModal();
    this.root.focus(); // its keys work at once; the cloth takes the focus when it is there
  }

  fill(data) {
    this.look.fill(data);
    const { grid, model } = this.desk;
    const { list, rank, current } = grid;
    const at = rank.get(current);
    const onWall = model.get("numbers")[current] === data.number;
    for (const [node, place, arrow] of [[this.before, list[at - 1], "← "], [this.after, list[at + 1], "→ "]]) {
      node.hidden = place === undefined || !onWall;
      if (!node.hidden) this.fillNeighbour(node, place, arrow);
    }
    const held = document.activeElement;
    const lost = !this.root.contains(held) || held === this.root || held.hidden;
    if (lost) this.look.frame.focus();
  }

  fillNeighbour(node, place, arrow) {
    const { grid, model } = this.desk;
    const stripes = grid.counts[place];
    const bands = this.desk.bands(stripes);
    const swatch = new Swatch(36, 36, "");
    swatch.canvas.setAttribute("aria-hidden", "true");
    const pixels = Math.max(1, Math.floor(swatch.canvas.width / checksIn(bands)));
    swatch.draw(bytesOf(model.get("tones")), grid.offsets[place], stripes, bands, pixels);
    node.replaceChildren(swatch.canvas, make("span", { text: arrow + model.get("names")[place] }));
  }

  draw() {
    if (this.open) this.look.draw();
  }

  walk(step) {
    this.desk.grid.by(step, { focus: false });
    this.walked = this.desk.grid.current;
  }

  /** The browser gives the focus back to where it was; whoever walked on goes on from there. */
  closed() {
    if (this.walked !== undefined) this.desk.grid.go(this.walked);
    else this.desk.backToWall();
    this.walked = undefined;
  }

  key(event) {
    if (event.target.closest("input, select")) return;
    const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!step || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.shiftKey) this.look.panBy(-24 * step[0], -24 * step[1]);
    else this.walk(step[0] || step[1] * this.desk.grid.across);
  }
}
