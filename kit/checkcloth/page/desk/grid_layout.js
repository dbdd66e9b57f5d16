// Where on the wall each colourway stands, in whole device pixels, so that no edge is ever blurred.

import { commonPixels } from "../shared/scale.js";

const GAP = 8; // CSS pixels between columns, at least
const ROW_GAP = 12; // CSS pixels
const NEAR = 130; // CSS pixels that a piece of cloth is given, or more
const TWO = 220; // CSS pixels of room from which on there are two columns

/** CSS pixels under the cloth, by what stands there. @type {Record<string, number>} */
export const CAPTIONS = { colours: 36, score: 20, nothing: 0 };

/**
 * @typedef {object} Layout all lengths in device pixels
 * @property {number} ratio device pixels of one CSS pixel
 * @property {number} across columns
 * @property {number} rows
 * @property {number} pixels of one check
 * @property {number} side of one piece of cloth: whole checks
 * @property {number} gap between columns
 * @property {number} caption under the cloth
 * @property {number} step from row to row
 * @property {number} width of all columns
 */

/**
 * @param {number} room CSS pixels across
 * @param {number} ratio
 * @param {number} count colourways
 * @param {number} [checks] that a side has to show
 * @param {number} [captionHeight] CSS pixels
 * @returns {Layout | null} null where there is no room at all
 */
export function layOut(room, ratio, count, checks = 13, captionHeight = CAPTIONS.colours) {
  const width = Math.floor(room * ratio);
  if (width < 20) return null;
  const least = Math.round(GAP * ratio);
  const fewest = room < TWO ? 1 : 2;
  const across = Math.max(fewest, Math.floor((width + least) / (Math.floor(NEAR * ratio) + least)));
  const most = Math.floor((width - least * (across - 1)) / across);
  const pixels = commonPixels(most, checks);
  const side = Math.min(most, pixels * checks);
  const gap = across > 1 ? Math.floor((width - across * side) / (across - 1)) : least;
  const caption = Math.round(captionHeight * ratio);
  return {
    ratio, across, pixels, side, gap, caption,
    rows: Math.ceil(count / across),
    step: side + caption + Math.round(ROW_GAP * ratio),
    width: across * (side + gap) - gap,
  };
}

/**
 * @param {Layout} layout
 * @param {number} rank position in the order shown
 */
export function positionOf(layout, rank) {
  return {
    x: (rank % layout.across) * (layout.side + layout.gap),
    y: Math.floor(rank / layout.across) * layout.step,
  };
}

/**
 * The rows in sight, and one more on either side: [first, one past the last].
 * @param {Layout} layout
 * @param {number} scrollTop CSS pixels
 * @param {number} height CSS pixels
 * @returns {[number, number]}
 */
export function rowsInSight(layout, scrollTop, height) {
  const top = scrollTop * layout.ratio;
  const first = Math.max(0, Math.floor(top / layout.step) - 1);
  const last = Math.ceil((top + height * layout.ratio) / layout.step) + 1;
  return [Math.min(first, layout.rows), Math.min(layout.rows, last)];
}

/**
 * How far to scroll so that a row is in sight; as far as now where it is.
 * @param {Layout} layout
 * @param {number} rank
 * @param {number} scrollTop CSS pixels
 * @param {number} height CSS pixels
 */
export function scrollFor(layout, rank, scrollTop, height) {
  const top = positionOf(layout, rank).y / layout.ratio;
  const bottom = top + layout.step / layout.ratio;
  if (top < scrollTop) return top;
  return bottom > scrollTop + height ? bottom - height : scrollTop;
}

/**
 * The rank that a key leads to: undefined for a key that is not the wall's, null where it leads
 * nowhere. Up and down stay in their column rather than slide along the edge row.
 * @param {Layout} layout
 * @param {string} key
 * @param {number} rank
 * @param {number} count colourways
 * @param {number} height CSS pixels in sight
 */
export function rankAfterKey(layout, key, rank, count, height) {
  const page = layout.across * Math.max(1, Math.floor((height * layout.ratio) / layout.step));
  const steps = new Map([
    ["ArrowRight", 1], ["ArrowLeft", -1], ["ArrowDown", layout.across], ["ArrowUp", -layout.across],
    ["PageDown", page], ["PageUp", -page], ["Home", -count], ["End", count],
  ]).get(key);
  if (steps === undefined) return undefined;
  const next = rank + steps;
  const column = key === "ArrowUp" || key === "ArrowDown";
  if (column && (next < 0 || next >= count)) return null;
  return Math.min(Math.max(next, 0), count - 1);
}
