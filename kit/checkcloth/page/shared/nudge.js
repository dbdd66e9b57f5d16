// A colour moved a little along an axis of OKLCh: checkcloth/ideas/by_hand.py, which is the
// authority. No DOM here.

import { oklchToSrgb, srgbToOklch } from "./spaces.js";

/**
 * @typedef {"lightness" | "chroma" | "hue"} Axis
 * @typedef {{axis: Axis, name: string, back: string, onward: string, channel: number, step: number}} Nudge
 */

/** @type {Nudge[]} axes with the size of a step, and what its directions are called */
export const NUDGES = [
  { axis: "lightness", name: "Lightness", back: "darker", onward: "lighter", channel: 0, step: 0.025 },
  { axis: "chroma", name: "Brightness of the colour", back: "duller", onward: "brighter", channel: 1, step: 0.012 },
  { axis: "hue", name: "Hue", back: "hue back", onward: "hue on", channel: 2, step: 7.5 },
];

const STEPS = [-3, -2, -1, 0, 1, 2, 3];

/**
 * Encoded sRGB of a hex code.
 * @param {string} hex "#rrggbb"
 * @returns {[number, number, number]} each in 0 to 1
 */
export function rgbOf(hex) {
  const value = Number.parseInt(hex.slice(1), 16);
  return [(value >> 16) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255];
}

/**
 * @param {ArrayLike<number>} rgb three values in 0 to 1
 */
export function hexOf(rgb) {
  return `#${Array.from(rgb, (value) => Math.round(value * 255).toString(16).padStart(2, "0")).join("")}`;
}

/**
 * A colour moved by whole steps, made duller where sRGB cannot show it.
 * @param {string} hex
 * @param {Nudge} nudge
 * @param {number} steps
 */
export function nudged(hex, { channel, step }, steps) {
  if (steps === 0) return hex;
  const lch = srgbToOklch(rgbOf(hex));
  lch[channel] += step * steps;
  lch[0] = Math.min(Math.max(lch[0], 0), 1);
  lch[1] = Math.max(lch[1], 0);
  return hexOf(oklchToSrgb(lch));
}

/**
 * What a nudged colour is called until it is named.
 * @param {string} name
 * @param {Nudge} nudge
 * @param {number} steps
 */
export function nudgedName(name, { back, onward }, steps) {
  if (steps === 0) return name;
  let plain = name;
  for (const way of [back, onward]) {
    if (plain.endsWith(`, ${way}`)) plain = plain.slice(0, -way.length - 2);
  }
  return `${plain}, ${steps > 0 ? onward : back}`;
}

/**
 * A colour with its neighbours, three to either side; one that looks like the neighbour nearer to
 * the middle is left out.
 * @param {string} hex
 * @param {Nudge} nudge
 */
export function patchesOf(hex, nudge) {
  const all = STEPS.map((steps) => ({ steps, hex: nudged(hex, nudge, steps) }));
  return all.filter(({ steps }, at) => steps === 0 || all[at].hex !== all[at - Math.sign(steps)].hex);
}
