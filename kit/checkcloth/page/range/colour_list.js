// The colours of a colourway: chips with names, or with codes.

import { make } from "../shared/dom.js";

/** @import { Colour, Colourway } from "./range_data.js" */

/** @param {string} hex */
export function chip(hex) {
  const node = make("span", { class: "chip", "aria-hidden": "true" });
  node.style.background = hex;
  return node;
}

/**
 * @param {HTMLElement} box
 * @param {Colourway} colourway
 * @param {boolean} codes
 */
export function fillColours(box, { ground, stripes, wefts, words, estimate }, codes) {
  const weft = wefts.map(([name, hex]) => /** @type {Colour} */ ([`weft ${name}`, hex]));
  box.replaceChildren(...(codes ? [listOf([...stripes, ...weft, ground])] : [chipsOf(stripes, weft, ground),
    make("p", { class: "quiet", text: words })]),
  ...(estimate ? [make("p", { class: "quiet", text: "Tones where stripes lie on the ground or cross are an estimate." })] : []));
}

/**
 * The warp's chips, the weft's own, the ground's, with a gap between.
 * @param {Colour[]} stripes
 * @param {Colour[]} weft
 * @param {Colour} ground
 */
function chipsOf(stripes, weft, ground) {
  return make("div", { class: "chips" }, ...[stripes, weft, [ground]].filter((part) => part.length)
    .map((part) => make("span", {}, ...part.map(([, hex]) => chip(hex)))));
}

/** @param {Colour[]} colours */
function listOf(colours) {
  return make("ul", { class: "colour-list" }, ...colours.map(([name, hex]) => make("li", {},
    chip(hex), make("span", { text: name }), make("code", { text: hex }))));
}
