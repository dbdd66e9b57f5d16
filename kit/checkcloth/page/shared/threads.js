// The threads under a cloth: its colours as they run, each below its own stripe. No DOM here.

/** @import { Bands } from "./cloth.js" */

/** Narrower than this many CSS pixels a thread is not easily met. */
export const LEAST_THREAD = 24;
/** From this many stripes on the threads lie in two rows. */
const TWO_ROWS = 13;

/**
 * A band as it lies in the first repeat, in pixels.
 * @typedef {{stripe: number, left: number, width: number}} Segment
 *
 * A thread: the first band of a stripe. `span` reaches to where the next thread of its row begins;
 * the last one may reach beyond the repeat.
 * @typedef {Segment & {span: number, row: number}} Thread
 */

/**
 * Every band of the first repeat, in order; the ground's too.
 * @param {Bands} bands
 * @param {number} pixels of one check
 * @returns {Segment[]}
 */
export function segmentsOf(bands, pixels) {
  let left = 0;
  return bands.map(([stripe, checks]) => {
    const segment = { stripe, left, width: checks * pixels };
    left += segment.width;
    return segment;
  });
}

/**
 * Bands of one stripe in the first repeat: what is marked on the cloth.
 * @param {Bands} bands
 * @param {number} pixels of one check
 * @param {number} stripe
 */
export function segmentsOfStripe(bands, pixels, stripe) {
  return segmentsOf(bands, pixels).filter((segment) => segment.stripe === stripe);
}

/**
 * The threads from left to right, in one row, or in two which they take by turns where they are
 * many or narrow. A left edge is always that of the stripe above.
 * @param {Bands} bands
 * @param {number} pixels of one check
 * @param {number} [least] pixels that a thread should span
 * @returns {Thread[]}
 */
export function threadsOf(bands, pixels, least = LEAST_THREAD) {
  const segments = segmentsOf(bands, pixels);
  const firsts = segments.filter(({ stripe }, at) =>
    stripe > 0 && segments.findIndex((other) => other.stripe === stripe) === at);
  const last = segments[segments.length - 1];
  const lay = (/** @type {number} */ rows) => firsts.map((segment, at) => ({
    ...segment,
    row: at % rows,
    span: (firsts[at + rows]?.left ?? Math.max(last.left + last.width, segment.left + least)) - segment.left,
  }));
  const one = lay(1);
  return one.length >= TWO_ROWS || one.slice(0, -1).some(({ span }) => span < least) ? lay(2) : one;
}

/**
 * The order, from left to right, that a thread dragged to `x` makes, and the number it then has:
 * it passes another where it crosses the middle of it.
 * @param {Thread[]} threads
 * @param {number} stripe the one dragged
 * @param {number} x pixels from the left of the strip to the middle of what is dragged
 */
export function landing(threads, stripe, x) {
  const others = threads.filter((thread) => thread.stripe !== stripe);
  const before = others.filter(({ left, width }) => left + width / 2 < x).length;
  const order = others.map((thread) => thread.stripe);
  order.splice(before, 0, stripe);
  return { to: threads[before].stripe, order };
}
