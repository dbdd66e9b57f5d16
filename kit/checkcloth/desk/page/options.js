// What stands on the wall's canvas for keys, pointers and screen readers: an option a colourway.

class Options {
  constructor(grid) {
    this.grid = grid;
    this.nodes = new Map();
  }

  /** Put the options at these places into the document, and take the others out. */
  show(places) {
    const { grid } = this;
    const wanted = new Set(places);
    if (grid.rank.has(grid.current)) wanted.add(grid.current); // the way in for the tab key
    for (const [place, node] of this.nodes) {
      if (!wanted.has(place)) {
        const held = node.contains(document.activeElement);
        node.remove();
        this.nodes.delete(place);
        if (held) grid.scroll.focus({ preventScroll: true });
      }
    }
    const before = [...wanted].sort((a, b) => grid.rank.get(a) - grid.rank.get(b));
    for (const place of before) {
      let node = this.nodes.get(place);
      if (!node) {
        node = make("div", { class: "cc-option", role: "option" },
          make("span", { class: "cc-tick", "aria-hidden": "true" }),
          make("span", { class: "cc-caption", "aria-hidden": "true" }));
        node.place = place;
        this.nodes.set(place, node);
        grid.sheet.append(node);
      }
      this.put(node, place);
      this.tell(node, place);
    }
  }

  put(node, place) {
    const { grid } = this;
    const rank = grid.rank.get(place);
    const px = (device) => `${device / grid.ratio}px`;
    node.style.left = px((rank % grid.across) * (grid.side + grid.gap));
    node.style.top = px(Math.floor(rank / grid.across) * grid.step);
    node.style.width = px(grid.side);
    node.style.height = px(grid.side + Math.round(CAPTION * grid.ratio));
    node.style.setProperty("--side", px(grid.side));
  }

  tell(node, place) {
    const { grid } = this;
    const { desk } = grid;
    const { model } = desk;
    const rank = grid.rank.get(place);
    const number = model.get("numbers")[place];
    const mark = model.get("marks")[number] || 0;
    const letter = desk.letterOf(number);
    const figure = model.get("figures")[place] || "";
    const why = grid.hidden.get(place);
    node.dataset.number = number;
    node.dataset.mark = mark;
    node.classList.toggle("cc-current", place === grid.current);
    node.classList.toggle("cc-hidden", why !== undefined);
    node.tabIndex = place === grid.current ? 0 : -1;
    const set = (key, value) => node.getAttribute(key) !== value && node.setAttribute(key, value);
    set("aria-selected", String(mark === 2));
    set("aria-setsize", String(grid.list.length));
    set("aria-posinset", String(rank + 1));
    set("aria-label", model.get("names")[place] || "");
    set("aria-description", [
      mark === 2 ? "kept" : mark === 1 ? "kept at another strength or mixing" : "not kept",
      letter && `side by side as ${letter}`, figure && `${model.get("figure_words")} ${figure}`,
      why && `hidden: ${why}`,
    ].filter(Boolean).join("; "));
    set("title", why ? `Hidden: ${why}` : model.get("names")[place] || "");
    say(node.firstChild, mark === 2 ? "✓" : mark === 1 ? "◦" : "");
    // A caption is as narrow as its swatch: the figures alone; the title names the column.
    const brief = why?.replace(/(^|; )[^;]* is ([^;,]+, under )/g, "$1$2");
    say(node.lastChild, brief ?? [letter, String(rank + 1), figure].filter(Boolean).join(" · "));
  }
}
