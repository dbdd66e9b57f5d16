// One cloth over the whole window: its repeat, at true size, or as a whole piece of linen.

import { checksIn } from "../shared/cloth.js";
import { button, make, say } from "../shared/dom.js";
import { HEM, PIECES, readPieceSize } from "../shared/piece.js";
import { reductionWords } from "../shared/scale.js";
import { contextOf, deviceRatio, screenPixels, setScreenPixels } from "../shared/swatch.js";
import { capital } from "../shared/words.js";
import { scaleBar } from "./card.js";
import { clothCanvas, paint } from "./cloth_canvas.js";
import { barOf, lengthWords, percent, pieceReduction } from "./looking.js";
import { Sliders } from "./settings_bar.js";
import { ThreeAnswers } from "./three_answers.js";

/** @import { Page } from "./card.js" */
/** @import { Colourway } from "./range_data.js" */

/** @type {[key: string, text: string][]} */
const VIEWS = [["repeat", "Repeat"], ["true", "True size"],
  ...Object.entries(PIECES).map(([key, { name }]) => /** @type {[string, string]} */ ([key, name]))];
const BRACKET = 36; // CSS pixels that the bracket over a repeat takes

export class Large {
  #view = "repeat";
  /** @type {Colourway | undefined} */
  #colourway;
  /** @type {ThreeAnswers | undefined} */
  #three;

  /**
   * @param {Page} page
   * @param {{onmove: () => void, onscreen: () => void, onclose: (colourway: Colourway) => void}} parent
   */
  constructor(page, { onmove, onscreen, onclose }) {
    this.page = page;
    this.onscreen = onscreen;
    this.title = make("h2", { id: "large-title" });
    this.walkTo = make("p", { class: "unseen", "aria-live": "polite" });
    this.stage = make("div", { class: "stage" });
    this.line = make("p", { class: "quiet told", role: "status" });
    this.ruler = this.#rulerButtons();
    this.sliders = new Sliders(page.looking, () => {
      onmove();
      this.show();
    });
    this.answer = make("div", {});
    this.views = this.#viewRadios();
    this.closer = button("Close", () => this.root.close(), { label: "Close, back to the range" });
    /** @type {HTMLDialogElement} */
    this.root = make("dialog", { "aria-labelledby": "large-title", onclose: () => {
      if (this.#colourway) onclose(this.#colourway);
    } },
    make("div", { class: "dialog-head" }, this.title, make("span", { class: "spring" }),
      this.#walker("Previous", "←", -1), this.#walker("Next", "→", 1), this.closer),
    this.views, this.stage,
    make("div", { class: "dialog-foot" }, make("div", { class: "told" }, this.line, this.ruler), ...this.sliders.roots, this.answer, this.walkTo));
  }

  get open() {
    return this.root.open;
  }

  /** @param {Colourway} colourway */
  see(colourway) {
    this.#put(colourway);
    if (!this.root.open) this.root.showModal();
    this.closer.focus(); // not its first element: a screen reader is there already, and says nothing
    this.show();
  }

  /** @param {Colourway} colourway */
  #put(colourway) {
    const { number, title, name } = colourway;
    this.#colourway = colourway;
    this.title.replaceChildren(...(name ? [make("span", { class: "number", text: `${number} ` })] : []), title);
    this.#three = new ThreeAnswers(colourway, this.page.answers.of(number).say, (said) => {
      this.page.answers.set(number, { say: said });
      this.page.answered();
    });
    this.answer.replaceChildren(this.#three.root);
  }

  /**
   * @param {string} text
   * @param {string} arrow
   * @param {-1 | 1} step
   */
  #walker(text, arrow, step) {
    const node = button("", () => {
      const { colourways } = this.page.looking.range;
      const at = colourways.indexOf(/** @type {Colourway} */ (this.#colourway));
      const next = colourways[(at + step + colourways.length) % colourways.length];
      this.#put(next);
      this.show();
      say(this.walkTo, `${next.number}, ${next.title}: ${next.words}`);
    }, { label: `${text} cloth` });
    node.append(make("span", { class: "arrow", text: arrow, "aria-hidden": "true" }), make("span", { class: "walk", text }));
    node.hidden = this.page.looking.range.colourways.length < 2;
    return node;
  }

  #viewRadios() {
    return make("div", { class: "views", role: "radiogroup", "aria-label": "How it is shown" },
      ...VIEWS.map(([key, text]) => {
        const input = make("input", { type: "radio", name: "view", value: key, onchange: () => {
          this.#view = key;
          this.show();
        } });
        input.checked = key === this.#view;
        return make("label", {}, input, make("span", { text }));
      }));
  }

  #rulerButtons() {
    const move = (/** @type {number} */ step) => {
      const { inches } = barOf(this.page.looking.range.metric);
      setScreenPixels(screenPixels() + step / inches);
      this.onscreen();
      this.show();
    };
    return make("span", { class: "ruler" },
      button("Shorter", () => move(-2), { label: "The line is too long: make it shorter", kind: "plain" }),
      button("Longer", () => move(2), { label: "The line is too short: make it longer", kind: "plain" }));
  }

  show() {
    const colourway = this.#colourway;
    if (!colourway || !this.root.open) return;
    this.sliders.fill();
    const [width, height] = [this.stage.clientWidth, this.stage.clientHeight];
    this.stage.classList.toggle("fill", this.#view === "true");
    this.ruler.hidden = this.#view !== "true";
    if (this.#view === "true") this.#showTrue(colourway, width, height);
    else if (this.#view === "repeat") this.#showRepeat(colourway, width, height - BRACKET);
    else this.#showPiece(colourway, PIECES[this.#view], width - 8, height - 8);
  }

  /** @param {Colourway} colourway */
  #canvas(colourway) {
    const { looking } = this.page;
    return clothCanvas(`Cloth of ${colourway.title}, ${colourway.words}, check ${looking.sizeWords}, `
      + `strength ${percent(looking.strengthOf(colourway))}`);
  }

  /**
   * @param {Colourway} colourway
   * @param {number} width
   * @param {number} height
   */
  #showTrue(colourway, width, height) {
    const { looking } = this.page;
    const canvas = this.#canvas(colourway);
    paint(canvas, looking, colourway, { width, height, pixels: screenPixels() * looking.inches });
    this.stage.replaceChildren(canvas);
    const { metric } = looking.range;
    this.line.replaceChildren(...scaleBar(screenPixels(), metric, "Lay a ruler on this line and set it to that length."));
  }

  /**
   * @param {Colourway} colourway
   * @param {number} width
   * @param {number} height
   */
  #showRepeat(colourway, width, height) {
    const { looking } = this.page;
    const { warp, weft } = colourway;
    const wanted = Math.max(looking.checks, checksIn(warp) + warp[0][1], checksIn(weft) + weft[0][1]);
    const pixels = Math.max(2, Math.floor(Math.min(width, height) / wanted));
    const canvas = this.#canvas(colourway);
    paint(canvas, looking, colourway, { pixels,
      width: Math.min(Math.floor(width / pixels) * pixels, wanted * 2 * pixels), height: Math.max(pixels, Math.floor(height / pixels) * pixels) });
    const span = make("div", { class: "span" }, make("span", { text: this.#repeatWords(colourway) }));
    span.style.width = `${checksIn(warp) * pixels}px`;
    this.stage.replaceChildren(make("div", { class: "repeat" }, span, canvas));
    say(this.line, `${capital(reductionWords(pixels / (screenPixels() * looking.inches)))}.`);
  }

  /** @param {Colourway} colourway */
  #repeatWords({ warp, weft }) {
    const { inches, range: { metric } } = this.page.looking;
    const [across, down] = [warp, weft].map((bands) => lengthWords(checksIn(bands) * inches, metric));
    return across === down ? `one repeat, ${across}` : `one repeat, ${across} across and ${down} down`;
  }

  /**
   * @param {Colourway} colourway
   * @param {{name: string, size: string}} piece
   * @param {number} width
   * @param {number} height
   */
  #showPiece(colourway, { name, size }, width, height) {
    const { looking } = this.page;
    const { metric } = looking.range;
    const sides = /** @type {[number, number]} */ (readPieceSize(size));
    const reduction = pieceReduction(sides, width, height, screenPixels());
    const perInch = screenPixels() / reduction;
    const canvas = this.#canvas(colourway);
    paint(canvas, looking, colourway, { width: sides[0] * perInch, height: sides[1] * perInch, pixels: looking.inches * perInch });
    stitchHem(canvas, HEM * perInch * deviceRatio());
    this.stage.replaceChildren(canvas);
    const words = metric ? sides.map((side) => Number((side * 2.54).toFixed(1))).join(" × ").concat(" cm") : size;
    say(this.line, `${name} ${words}, flat, with a ${lengthWords(HEM, metric)} hem. `
      + `${reduction === 1 ? "True size" : `1/${reduction} of true size`}.`);
  }
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {number} wide device pixels
 */
function stitchHem(canvas, wide) {
  const context = contextOf(canvas);
  const ratio = deviceRatio();
  const edge = Math.max(3 * ratio, wide);
  context.setLineDash([3 * ratio, 2 * ratio]);
  context.strokeStyle = "rgba(28, 28, 28, 0.42)";
  context.lineWidth = ratio;
  context.strokeRect(edge, edge, canvas.width - 2 * edge, canvas.height - 2 * edge);
}
