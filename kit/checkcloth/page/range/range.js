// The page that travels: a range in one file, without a kernel and without a network.

import { checksIn } from "../shared/cloth.js";
import { button, make, perFrame, say } from "../shared/dom.js";
import { reductionWords } from "../shared/scale.js";
import { screenPixels } from "../shared/swatch.js";
import { Answers } from "./answers.js";
import { Beside } from "./beside.js";
import { Card, fillScale } from "./card.js";
import { Large } from "./large.js";
import { Looking, cardPixels, paperPart } from "./looking.js";
import { countWords, familiesIn, readRange } from "./range_data.js";
import { SendBack } from "./send_back.js";
import { SettingsBar } from "./settings_bar.js";

/** @import { Colourway, Range } from "./range_data.js" */

const FOLDED_FROM = 25; // colourways: families fold, the first one is open
const PAPER = { side: 54, high: 13 }; // millimetres of a cloth on paper, and checks down at most
const FULL = "Four at most: take one away first.";

class RangePage {
  #atFoot = false;

  /** @param {Range} range */
  constructor(range) {
    this.range = range;
    this.looking = new Looking(range);
    this.answers = new Answers(range, storage());
    this.status = make("p", { class: "unseen", "aria-live": "polite" });
    const move = () => this.moved();
    this.settings = new SettingsBar(this.looking, { onmove: move, tell: (words) => say(this.status, words),
      oncodes: () => this.cards.forEach((card) => card.list()) });
    this.cards = range.colourways.map((colourway) => new Card(this, colourway));
    this.foot = new SendBack(this);
    this.large = new Large(this, { onmove: move, onscreen: () => this.draw(),
      onclose: ({ number }) => this.#backTo(number) });
    this.beside = new Beside(this, { onmove: move, onclose: () => this.answered() });
    this.count = make("span", { class: "quiet" });
    this.hint = make("span", { class: "quiet bar-hint", text: "Press a cloth to see it large." });
    this.warned = make("span", { class: "quiet", role: "alert" });
    this.laid = button("", () => this.beside.open());
    this.bar = make("div", { class: "bar", role: "region", "aria-label": "Your progress" }, make("div", {}, this.hint, this.count, this.warned, make("span", { class: "spring" }), this.laid,
      make("a", { class: "cc-button strong", href: "#answers", text: "Send back" })));
    this.root = make("main", { class: "page" }, this.#head(), this.settings.root, ...this.#families(),
      this.bar, this.foot.root, this.status); // keys come to the bar after the last cloth
  }

  #head() {
    const { title, reference, date, note } = this.range;
    const about = [`Reference ${reference}`, ...(date ? [date] : [])].join(", ");
    return make("header", { class: "head" },
      make("div", {}, make("h1", { text: title }), make("p", { class: "quiet", text: `${about}. ${countWords(this.range)}.` }),
        make("p", { class: "quiet scale-line", "data-scale": true })),
      make("div", {}, note ? make("p", { text: note }) : null,
        make("p", { class: "quiet hint", text: "Press a cloth to see it large. Answer yes, maybe or no under each. "
          + "At the foot stand all your answers, ready to send back." })));
  }

  #families() {
    const families = familiesIn(this.range);
    const fold = this.range.colourways.length >= FOLDED_FROM && families.length > 1;
    return families.map(([family, members], at) => {
      const name = family || (families.length > 1 ? "By itself" : "");
      const cards = make("div", { class: "cards" }, ...members.map(({ number }) => this.cards[number - 1].root));
      if (!name) return make("section", { class: "family", "aria-label": "Colourways" }, make("h2", { class: "unseen", text: "Colourways" }), cards);
      if (!fold) return make("section", { class: "family", "aria-label": `Family ${name}` }, make("h2", { text: name }), cards);
      return make("details", { class: "family", open: at === 0 },
        make("summary", {}, make("h2", {}, name, make("span", { class: "quiet", text: ` ${members.length} colourways` }))), cards);
    });
  }

  /** @param {Colourway} colourway */
  see(colourway) {
    this.large.see(colourway);
  }

  /**
   * @param {Colourway} colourway
   * @param {HTMLInputElement} box
   */
  lay(colourway, box) {
    const done = this.looking.lay(colourway, box.checked);
    box.checked = done && box.checked;
    this.#fillBar();
    say(this.warned, done ? "" : FULL);
    const many = this.looking.beside.length;
    if (done) say(this.status, many < 2 ? "Tick one more." : `${many} to see beside each other, by a button after the last cloth.`);
  }

  answered() {
    for (const card of this.cards) card.follow();
    this.foot.fill();
    this.#fillBar();
  }

  moved() {
    this.settings.fill();
    this.draw();
    this.foot.fill();
  }

  /** The foot says as much, but has no other button for what is laid beside. */
  #showBar() {
    this.bar.hidden = this.#atFoot && this.looking.beside.length < 2;
  }

  #fillBar() {
    const { done } = this.answers.count();
    const many = this.looking.beside.length;
    say(this.count, `${done || "None"} of ${this.cards.length} answered`);
    this.hint.hidden = done > 0;
    say(this.warned, "");
    this.#showBar();
    this.laid.hidden = many === 0;
    this.laid.disabled = many < 2;
    say(this.laid, many < 2 ? "Tick one more" : `See ${many} beside`);
  }

  /** @param {number} number */
  #backTo(number) {
    this.answered();
    const card = this.cards[number - 1];
    const folded = card.root.closest("details");
    if (folded) folded.open = true;
    card.root.querySelector("button")?.focus();
  }

  draw() {
    const { looking, range, root } = this;
    const width = root.clientWidth - 2 * parseFloat(getComputedStyle(root).paddingLeft);
    const columns = innerWidth > 640 ? 3 : 1;
    const least = columns === 1 ? 0 : innerWidth > 1000 ? 20 : 14;
    const pixels = cardPixels(width, columns, least, looking.checks);
    root.style.setProperty("--side", `${pixels * looking.checks}px`);
    for (const card of this.cards) card.draw(pixels);
    this.foot.draw();
    const perInch = pixels / looking.drawnInches;
    fillScale(root, perInch, range.metric, `All at ${reductionWords(perInch / screenPixels())}.`);
  }

  /** At a true reduction, which the page states. */
  print() {
    const { looking, range, root } = this;
    const across = Math.max(...range.colourways.map(({ warp }) => checksIn(warp) + warp[0][1]));
    const part = paperPart(looking.inches, across, PAPER.side);
    const check = (looking.inches * 25.4) / part;
    const high = Math.min(PAPER.high, Math.floor(PAPER.side / check)) * check;
    const width = Math.floor(PAPER.side / check + 0.001) * check;
    root.style.removeProperty("--side");
    for (const folded of root.querySelectorAll("details")) folded.open = true;
    for (const card of this.cards) card.print({ width, height: high, check });
    fillScale(root, 96 / part, range.metric, `All at 1/${part} of true size, printed at 100 %.`);
  }

  open() {
    document.body.append(this.root, this.large.root, this.beside.root);
    this.draw();
    this.answered();
    addEventListener("beforeprint", () => this.print());
    addEventListener("afterprint", () => this.draw());
    addEventListener("resize", perFrame(() => {
      this.draw();
      this.large.show();
      this.beside.show();
    }));
    new IntersectionObserver(([{ isIntersecting }]) => {
      this.#atFoot = isIntersecting;
      this.#showBar();
    }, { rootMargin: "0px 0px -40% 0px" }).observe(this.foot.root);
  }
}

/** The browser's store, where it has one to give. */
function storage() {
  try {
    return globalThis.localStorage;
  } catch {
    return null;
  }
}

const data = document.getElementById("range-data");
if (data) {
  document.documentElement.dataset.board = "white";
  new RangePage(readRange(data.textContent ?? "")).open();
}
