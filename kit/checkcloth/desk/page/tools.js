// The row above the wall: undo, new ideas, how the wall is shown, sorted and thinned.

class Tools {
  constructor(desk) {
    this.desk = desk;
    const { model } = desk;
    const columns = model.get("columns");
    const act = (what, fields) => () => desk.act(what, 0, fields);
    this.undo = button("Undo", act("undo"), { keys: "U" });
    this.redo = button("Redo", act("redo"), { keys: "R" });
    this.draw = button("New draw", act("draw"), { label: "New draw from the palette" });
    this.different = button("Something different", act("different"), { keys: "D" });
    this.scale = choice("Wall shows", SCALES, desk.grid.scale, (scale) => {
      desk.grid.scale = scale;
      desk.grid.paint();
    });
    this.vision = choice("Seen", model.get("visions"), "normal",
      (vision) => desk.act("vision", 0, { vision }));
    this.sort = choice("Sort by", [["", "as drawn"], ...columns], "",
      () => this.sendSort());
    this.ways = choice("from", [["", "greatest"], ["-", "least"]], "", () => this.sendSort());
    this.column = choice("Hide where", columns, "least_edge", () => {});
    this.least = make("input", { type: "number", class: "cc-input cc-number", step: "any", value: 3,
      "aria-label": "is under", onkeydown: (event) => event.key === "Enter" && this.sendLimit() });
    this.limits = make("div", { class: "cc-chips", role: "list", "aria-label": "Hidden and locked" });
    this.seeHidden = make("input", { type: "checkbox", onchange: () => {
      desk.grid.showHidden = this.seeHidden.checked;
      desk.grid.hold(() => desk.grid.arrange());
    } });
    this.seeWords = make("span", { text: "show what is hidden, and why" });
    this.seeBox = make("label", { class: "cc-check" }, this.seeHidden, this.seeWords);
    this.words = make("p", { class: "cc-dealt" });
    this.root = make("div", { class: "cc-tools" },
      make("div", { class: "cc-row" }, this.words, make("span", { class: "cc-spring" }),
        this.undo, this.redo, this.draw, this.different,
        button("Keys", () => desk.showKeys(), { keys: "?" })),
      make("div", { class: "cc-row" }, this.scale, this.vision, this.sort, this.ways),
      make("details", { class: "cc-fold" },
        make("summary", { text: "Hide what scores too low" }),
        make("div", { class: "cc-row" }, this.column,
          make("label", { class: "cc-field" }, make("span", { text: "is under" }), this.least),
          button("Hide", () => this.sendLimit(), { label: "Hide these from the wall" }), this.seeBox)),
      this.limits);
    this.fill();
  }

  sendSort() {
    const sort = this.sort.select.value;
    this.desk.act("sort", 0, { sort: sort ? this.ways.select.value + sort : "" });
  }

  sendLimit() {
    this.desk.act("limit", 0, { column: this.column.select.value, least: Number(this.least.value) });
  }

  fill() {
    const { desk } = this;
    const facts = desk.model.get("facts");
    const hidden = desk.model.get("hidden").length;
    const total = desk.model.get("numbers").length;
    say(this.words, `${total - hidden} ${total - hidden === 1 ? "colourway" : "colourways"}`
      + `${hidden ? `, ${hidden} hidden` : ""}: ${facts.dealt}`);
    for (const [node, words, verb] of [[this.undo, facts.undo, "Undo"], [this.redo, facts.redo, "Redo"]]) {
      node.setAttribute("aria-disabled", String(!words));
      node.classList.toggle("cc-off", !words);
      node.title = words ? `${verb}: ${words}` : `Nothing to ${verb.toLowerCase()}`;
    }
    this.vision.select.value = facts.vision;
    this.sort.select.value = facts.sort.replace(/^-/, "");
    this.ways.select.value = facts.sort.startsWith("-") ? "-" : "";
    this.ways.hidden = !facts.sort;
    this.seeBox.hidden = !hidden;
    this.limits.hidden = !facts.limits.length && !facts.locks.length;
    const chipFor = (text, label, act) => make("span", { class: "cc-tag", role: "listitem" },
      make("span", { text }), button("×", act, { label, kind: "cc-small" }));
    refill(this.limits, [
      ...facts.limits.map(({ column, words }) => chipFor(words, `Stop hiding: ${words}`,
        () => desk.act("unlimit", 0, { column }))),
      ...facts.locks.map(({ words, place }) => chipFor(`locked: ${words}`, `Unlock ${words}`,
        () => desk.act("unlock", 0, { place })))], this.draw);
  }
}
