// The kept colourways in the designer's order, and two to four of them side by side.

const SHELF = 96;

class Shelf {
  constructor(desk) {
    this.desk = desk;
    this.count = make("h3", { class: "cc-title" });
    this.list = make("ol", { class: "cc-kept" });
    this.saved = make("p", { class: "cc-quiet" });
    this.empty = make("p", { class: "cc-quiet",
      text: "Nothing kept yet. Tick a colourway, or press K on it." });
    this.root = make("section", { class: "cc-shelf", "aria-label": "Kept colourways" },
      make("header", { class: "cc-shelf-head" }, this.count, this.saved), this.empty, this.list);
  }

  fill() {
    const kept = this.desk.model.get("kept");
    const bytes = bytesOf(this.desk.model.get("kept_tones"));
    const held = document.activeElement?.closest?.(".cc-kept-one")?.dataset.number;
    const part = document.activeElement?.dataset?.part;
    const typed = document.activeElement?.value;
    say(this.count, `Kept: ${kept.length}`);
    say(this.saved, this.desk.model.get("facts").saved || "");
    this.empty.hidden = kept.length > 0;
    let offset = 0;
    this.list.replaceChildren(...kept.map((one, place) => {
      const node = this.one(one, place, kept.length, bytes, offset);
      offset += 3 * (one.count + 1) ** 2;
      return node;
    }));
    if (held) {
      const parts = [...this.list.querySelectorAll("[data-part]")];
      const again = parts.find((node) => node.dataset.part === part
        && node.closest(".cc-kept-one").dataset.number === held) || parts[0];
      if (again?.tagName === "INPUT" && typed !== undefined) again.value = typed;
      again?.focus({ preventScroll: true });
    }
  }

  one(one, place, total, bytes, offset) {
    const { desk } = this;
    const bands = desk.bands(one.count);
    const checks = checksIn(bands);
    const swatch = new Swatch(SHELF, SHELF, "");
    swatch.canvas.setAttribute("aria-hidden", "true");
    const ratio = globalThis.devicePixelRatio || 1;
    swatch.draw(bytes, offset, one.count, bands, Math.max(1, Math.floor(SHELF * ratio / checks)));
    const letter = desk.letterOf(one.number);
    const name = make("input", { type: "text", class: "cc-input", maxlength: 500,
      placeholder: "name", value: one.name, "aria-label": `Name of ${one.title}`,
      "data-part": "name", autocomplete: "off",
      onkeydown: (event) => {
        if (event.key === "Enter") { event.preventDefault(); name.blur(); }
        if (event.key === "Escape") { name.value = one.name; name.blur(); }
      },
      onchange: () => name.value !== one.name && desk.act("name", one.number, { text: name.value }) });
    const small = (text, label, act, off = false) => {
      const node = button(text, act, { label, kind: "cc-small" });
      node.disabled = off;
      node.dataset.part = text;
      return node;
    };
    return make("li", { class: "cc-kept-one", "data-number": one.number, draggable: "true",
      ondragstart: (event) => event.dataTransfer.setData("text/plain", String(one.number)),
      ondragover: (event) => event.preventDefault(),
      ondrop: (event) => {
        event.preventDefault();
        const number = Number(event.dataTransfer.getData("text/plain"));
        if (desk.model.get("kept").some((other) => other.number === number)) {
          desk.act("move", number, { place });
        }
      } },
    make("button", { type: "button", class: "cc-kept-cloth", "data-part": "cloth",
      "aria-label": `Look at ${one.title}`, "aria-description": one.words, title: one.words,
      onclick: () => desk.lookAt(one.number),
      onkeydown: (event) => {
        const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
        if (step && event.shiftKey) {
          event.preventDefault();
          desk.act("move", one.number, { place: place + step });
        } else if (event.key === "Delete") desk.act("drop", one.number);
      } }, swatch.canvas, letter ? make("span", { class: "cc-letter", text: letter }) : null),
    name,
    make("p", { class: "cc-kept-words", text: one.words, title: one.words }),
    one.note ? make("p", { class: "cc-kept-words cc-kept-note", text: one.note, title: one.note }) : null,
    make("div", { class: "cc-row cc-tight" },
      small("←", `Move ${one.title} earlier`, () => desk.act("move", one.number, { place: place - 1 }), place === 0),
      small("→", `Move ${one.title} later`, () => desk.act("move", one.number, { place: place + 1 }), place === total - 1),
      small("Beside", `Lay ${one.title} beside others`, () => desk.act("compare", one.number)),
      small("Drop", `Drop ${one.title}`, () => desk.act("drop", one.number))));
  }
}

const LETTERS = ["A", "B", "C", "D"];

class Beside {
  constructor(desk) {
    this.desk = desk;
    this.row = make("div", { class: "cc-beside-row" });
    this.root = make("section", { class: "cc-beside", "aria-label": "Side by side" },
      make("h3", { class: "cc-title", text: "Side by side, at half their true size" }), this.row);
    this.looks = [];
  }

  async fill() {
    const numbers = this.desk.model.get("facts").compared || [];
    this.root.hidden = numbers.length === 0;
    const turn = (this.turn = (this.turn || 0) + 1);
    const looks = await Promise.all(numbers.map((number) =>
      this.desk.link.ask("look", { number }).catch(() => null)));
    if (turn !== this.turn) return; // asked again meanwhile
    this.looks = looks.filter(Boolean);
    this.draw();
  }

  draw() {
    this.row.style.setProperty("--many", Math.max(2, this.looks.length));
    const held = this.row.contains(document.activeElement);
    this.row.replaceChildren(...this.looks.map((data, i) => {
      const column = make("article", { class: "cc-beside-one" });
      const swatch = new Swatch(40, 40, `Cloth of ${data.title}, ${data.words}`);
      const cautions = data.remarks.filter(([kind]) => kind === "caution");
      column.append(swatch.canvas,
        make("h4", { text: `${LETTERS[i]} · ${data.title}` }),
        make("p", { class: "cc-quiet", text: data.words }),
        make("p", { text: data.figures.slice(0, 2).map(([label, least, , step, ratio]) =>
          `${label}: ΔE00 ${least}, ΔL* ${step}, ${ratio}`).join("; ") }),
        make("p", { class: cautions.length ? "cc-caution" : "cc-comfort",
          text: cautions.length ? `! ${cautions[0][1]}` : "✓ no cautions" }),
        button("Take away", () => this.desk.act("compare", data.number),
          { label: `Take ${data.title} away`, kind: "cc-small" }));
      column.swatch = swatch;
      column.data = data;
      return column;
    }), this.looks.length === 1 ? make("p", { class: "cc-quiet",
      text: "Lay one to three more beside it: press C on a colourway." }) : "");
    for (const column of this.row.children) {
      if (!column.swatch) continue;
      const { swatch, data } = column;
      swatch.resize(Math.max(60, column.clientWidth - 2), 200);
      swatch.draw(bytesOf(data.buffers[0]), 0, data.count, this.desk.bands(data.count),
        checkPixels(this.desk.inches, 0.5));
    }
    if (held) this.row.querySelector("button")?.focus({ preventScroll: true });
  }
}
