// Lists and tables about a colourway, made from what the kernel says of it.

import { columnHead, make } from "../../shared/dom.js";

/** @import { Details } from "../types.js" */

const SIGNS = { caution: "!", comfort: "✓", fact: "·" };
const FIGURES = ["pair", "ΔE00 least", "mean", "ΔL* least", "ratio least"];

/** @param {Details} data */
export function remarkItems(data) {
  return data.remarks.map(([kind, text]) => make("li", { class: `cc-${kind}` },
    make("span", { class: "cc-sign", "aria-hidden": "true", text: SIGNS[kind] }),
    make("span", { text })));
}

/** @param {Details} data */
export function tonesTable(data) {
  return make("table", {}, make("caption", { class: "cc-unseen", text: `Tones of ${data.title}` }),
    make("tbody", {}, ...data.tones.map(([name, hex]) => make("tr", {}, make("td", {}, chip(hex)),
      make("th", { scope: "row", text: name }), make("td", { class: "cc-hex", text: hex })))));
}

/** @param {Details} data */
export function figuresTable(data) {
  return [make("table", {},
    make("thead", {}, make("tr", {}, ...FIGURES.map(columnHead))),
    make("tbody", {}, ...data.figures.map(([label, ...numbers]) => make("tr", {},
      make("th", { scope: "row", text: label }), ...numbers.map((text) => make("td", { text })))))),
  make("p", { class: "cc-quiet", text: data.yardstick })];
}

/** @param {string} hex */
function chip(hex) {
  const node = make("span", { class: "cc-chip", "aria-hidden": "true" });
  node.style.background = hex;
  return node;
}
