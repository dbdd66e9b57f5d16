// A picture of a step on the page: cloth on a canvas, one pixel a check and enlarged without blur,
// or areas and curves in SVG; words on it are text. Sharp at any zoom.

import { make, say, setAttribute } from "../shared/dom.js";
import { spoken } from "../shared/words.js";
import { hexOf } from "./colours.js";

/** @import { Picture, Tag } from "./types.js" */

const SVG = "http://www.w3.org/2000/svg";

/**
 * @param {string} tag
 * @param {Record<string, any>} attributes
 */
function svg(tag, attributes) {
  const node = document.createElementNS(SVG, tag);
  for (const [key, value] of Object.entries(attributes)) {
    node.setAttribute(key, Array.isArray(value) ? hexOf(value) : String(value));
  }
  return node;
}

/** @param {Tag} tag */
function tagNode({ text, x, y, bare, start, end }) {
  const side = start ? " cl-start" : end ? " cl-end" : "";
  const node = make("span", { class: `cl-tag${bare ? " cl-bare" : ""}${side}`, text });
  // By the style object: a strict policy forbids style attributes.
  node.style.left = `${x}%`;
  node.style.top = `${y}%`;
  return node;
}

/** One picture, filled anew as often as the slider moves. */
export class PictureView {
  canvas = make("canvas", { "aria-hidden": "true" });
  frame = make("span", { class: "cl-frame", "aria-hidden": "true" });
  tags = make("span", { class: "cl-tags", "aria-hidden": "true" }); // with anything else in it, a picture is not read out
  caption = make("p", { class: "cl-caption" });
  box = make("div", { class: "cl-picture", role: "img" }, this.canvas, this.frame, this.tags);
  root = make("div", {}, this.box, this.caption); // no figure: named by its caption, it would say that twice
  /** @type {Element | null} */
  drawing = null;

  /** @param {Picture} picture */
  fill(picture) {
    setAttribute(this.box, "aria-label", spoken(picture.label));
    setAttribute(this.box, "class", `cl-picture ${picture.shape ?? ""}`);
    say(this.caption, picture.caption);
    this.#fillImage(picture);
    this.#fillDrawing(picture);
    this.tags.replaceChildren(...(picture.tags ?? []).map(tagNode));
    this.frame.hidden = !picture.frame;
    const [left, top, width, height] = picture.frame ?? [0, 0, 0, 0];
    Object.assign(this.frame.style, { left: `${left}%`, top: `${top}%`, width: `${width}%`, height: `${height}%` });
  }

  /** @param {Picture} picture */
  #fillImage({ image }) {
    this.canvas.hidden = !image;
    if (!image) return;
    const { width, height, data, smooth } = image;
    if (this.canvas.width !== width) this.canvas.width = width;
    if (this.canvas.height !== height) this.canvas.height = height;
    this.canvas.classList.toggle("cl-smooth", Boolean(smooth));
    const pixels = new ImageData(width, height);
    pixels.data.set(data);
    this.canvas.getContext("2d", { willReadFrequently: true })?.putImageData(pixels, 0, 0);
  }

  /** @param {Picture} picture */
  #fillDrawing({ drawing }) {
    this.drawing?.remove();
    this.drawing = null;
    if (!drawing) return;
    const { width, height, shapes } = drawing;
    const node = svg("svg", { viewBox: `0 0 ${width} ${height}`, preserveAspectRatio: "none", "aria-hidden": "true" });
    node.append(...shapes.map(([tag, attributes]) => svg(tag, attributes)));
    this.canvas.after(node);
    this.drawing = node;
  }
}
