// Orders of bands: presets, as text, and one band made wider. No DOM here.
// As in checkcloth/cloth/bands.py, so that the page lays what is tried before the kernel has answered.

import { evenBands } from "../../shared/cloth.js";
import { counted } from "../../shared/words.js";

/** @import { Bands, SentLaid } from "../../shared/cloth.js" */

/** Checks that a band may be wide; a pull goes by half checks and stops at half a one. */
export const NARROWEST_PULLED = 0.5;
export const WIDEST = 16;
/** A check has at most so many parts. */
const MOST_PARTS = 960;

/** @type {[kind: string, words: string][]} */
export const KINDS = [["even", "even"], ["graduated", "graduated"], ["double", "double"],
  ["windowpane", "windowpane"]];

/** @type {Record<string, (stripe: number) => Bands>} */
const OF_EACH = {
  graduated: (stripe) => [[stripe, (stripe + 1) / 2], [0, 1]],
  double: (stripe) => [[stripe, 0.5], [0, 0.5], [stripe, 0.5], [0, 1]],
  windowpane: (stripe) => [[stripe, 0.25], [0, 2]],
};

/**
 * @param {string} kind
 * @param {number} stripes
 * @returns {Bands}
 */
export function presetBands(kind, stripes) {
  if (!(kind in OF_EACH)) return evenBands(stripes);
  return Array.from({ length: stripes }, (_, at) => OF_EACH[kind](at + 1)).flat();
}

/**
 * The weft that runs as a warp: in its bands, or of another number of stripes in those of its preset.
 * @param {Bands} warp
 * @param {number} stripes
 * @param {number} wefts
 */
export function weftAsWarp(warp, stripes, wefts) {
  if (wefts === stripes) return warp;
  const preset = KINDS.find(([kind]) => orderText(presetBands(kind, stripes)) === orderText(warp));
  return presetBands(preset?.[0] ?? "even", wefts);
}

/** @param {string} text of a setting */
export function isPreset(text) {
  return KINDS.some(([kind]) => kind === text);
}

/** @param {number} stripe 0 is the ground */
export function letterOf(stripe) {
  return stripe ? String.fromCharCode(64 + stripe) : "ground";
}

/**
 * A width as whole checks and a part: 1.5 is [1, 1, 2].
 * @param {number} checks
 * @returns {[whole: number, top: number, under: number]}
 */
function mixedOf(checks) {
  for (let under = 1; under <= MOST_PARTS; under++) {
    const top = Math.round(checks * under);
    if (Math.abs(checks * under - top) < 1e-9 * under) return [Math.floor(top / under), top % under, under];
  }
  return [Math.round(checks), 0, 1];
}

/**
 * A colour order in letters, which the kernel reads back exactly: "2 A, 1 1/2 ground".
 * @param {Bands} bands
 */
export function orderText(bands) {
  return bands.map(([stripe, checks]) => {
    const [whole, top, under] = mixedOf(checks);
    return [whole || "", top ? `${top}/${under}` : "", letterOf(stripe)].filter(Boolean).join(" ");
  }).join(", ");
}

/** @type {Record<string, string>} */
const SIGNS = { "1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞" };

/**
 * A width in words: "1 check", "1½ checks".
 * @param {number} checks
 */
export function checksWords(checks) {
  const [whole, top, under] = mixedOf(checks);
  const part = top ? SIGNS[`${top}/${under}`] ?? `${whole ? " " : ""}${top}/${under}` : "";
  return `${whole || ""}${part} ${checks > 1 ? "checks" : "check"}`;
}

/** @param {number} stripe 0 is the ground @param {number} checks */
export function bandWords(stripe, checks) {
  return `${stripe ? `Stripe ${stripe}` : "Ground"}, ${checksWords(checks)}`;
}

/**
 * The next half check up or down; a band narrower than half a check gets no narrower.
 * @param {number} checks
 * @param {number} by 1 or -1, or several
 */
export function stepped(checks, by) {
  if (by < 0 && checks <= NARROWEST_PULLED) return checks;
  const halves = by > 0 ? Math.floor(checks * 2 + 1e-9) + by : Math.ceil(checks * 2 - 1e-9) + by;
  return Math.min(WIDEST, Math.max(NARROWEST_PULLED, halves / 2));
}

/**
 * The width that an edge pulled to `checks` makes: the nearest half check.
 * @param {number} checks
 */
export function pulledTo(checks) {
  return Math.min(WIDEST, Math.max(NARROWEST_PULLED, Math.round(checks * 2) / 2));
}

/**
 * The bands with one of another width.
 * @param {Bands} bands
 * @param {number} at
 * @param {number} checks
 * @returns {Bands}
 */
export function withWidth(bands, at, checks) {
  return bands.with(at, [bands[at][0], checks]);
}

/**
 * Pixels of a check in the strip: the repeat fills the room, unless a band would be too narrow to take hold of.
 * @param {Bands} bands
 * @param {number} room CSS pixels
 * @param {number} least CSS pixels of the narrowest band
 */
export function stripScale(bands, room, least) {
  const widths = bands.map(([, checks]) => checks);
  const total = widths.reduce((sum, checks) => sum + checks, 0);
  return Math.max(room / total, least / Math.min(...widths));
}

/**
 * @param {number} warp stripes
 * @param {number} weft
 */
export function countsWords(warp, weft) {
  return warp === weft ? counted(warp, "stripe") : `${warp} × ${weft} stripes`;
}

/**
 * That a colourway is even because the bands are of other numbers of stripes; "" where they fit it.
 * @param {SentLaid | undefined} laid as the kernel sends it: of an even check nothing
 * @param {string} bands the setting
 * @param {number} stripes
 * @param {number} [wefts] stripes of the weft's own, or 0
 */
export function evenWords(laid, bands, stripes, wefts) {
  if (!laid?.warp || !laid.stripes || !laid.wefts) return "";
  if (laid.stripes === stripes && laid.wefts === (wefts || stripes)) return "";
  return `even: the range's ${kindOf(bands)}bands are of ${countsWords(laid.stripes, laid.wefts)}`;
}

/** @param {string} bands the setting; where the warp is even, the weft is not */
function kindOf(bands) {
  return isPreset(bands) && bands !== "even" ? `${bands} ` : "";
}
