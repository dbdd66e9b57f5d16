// Where on the wall each colourway stands, in whole device pixels, so that no edge is ever blurred.

const GAP = 14; // CSS pixels
const NEAR = 100; // CSS pixels that a piece of cloth is at least wide
export const CAPTION = 22; // CSS pixels under the cloth

/**
 * @typedef {object} Layout all lengths in device pixels
 * @property {number} ratio device pixels of one CSS pixel
 * @property {number} across columns
 * @property {number} rows
 * @property {number} side of one piece of cloth
 * @property {number} gap
 * @property {number} step from row to row
 * @property {number} width of all columns
 */

/**
 * @param {number} room CSS pixels across
 * @param {number} ratio
 * @param {number} count colourways
 * @returns {Layout | null} null where there is no room at all
 */
export function layOut(room, ratio, count) {
  const width = Math.floor(room * ratio);
  if (width < 20) return null;
  const gap = Math.round(GAP * ratio);
  const across = Math.max(1, Math.floor((width + gap) / ((NEAR + GAP) * ratio)));
  const side = Math.floor((width - gap * (across - 1)) / across);
  return {
    ratio, across, side, gap,
    rows: Math.ceil(count / across),
    step: side + Math.round((CAPTION + GAP) * ratio),
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
