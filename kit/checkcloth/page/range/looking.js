// How the range is looked at: check size and strength, what is laid beside, scale. No DOM here.

import { checksToShow, inchWords } from "../shared/scale.js";
import { tonesOf } from "./range_data.js";

/** @import { Colourway, Range } from "./range_data.js" */

const MOST_BESIDE = 4;

export class Looking {
  /** @type {number | null} null where each has its own */
  strength = null;
  codes = false;
  /** @type {Colourway[]} */
  beside = [];

  /** @param {Range} range */
  constructor(range) {
    this.range = range;
    this.size = range.size;
    /** Checks that a side of a card shows at the size that the range is drawn at. */
    this.checks = checksToShow(range.colourways.flatMap(({ warp, weft }) => [warp, weft]));
  }

  get inches() {
    return this.range.sizes[this.size][1];
  }

  /** Inches of a check as the designer drew it; what all scales are worked out from. */
  get drawnInches() {
    return this.range.sizes[this.range.size][1];
  }

  get sizeWords() {
    return this.range.sizes[this.size][0];
  }

  get moved() {
    return this.size !== this.range.size || this.strength !== null;
  }

  asDrawn() {
    this.size = this.range.size;
    this.strength = null;
  }

  /** @param {Colourway} colourway */
  strengthOf(colourway) {
    return this.strength ?? colourway.strength;
  }

  /** @param {Colourway} colourway */
  tones(colourway) {
    return tonesOf(this.range, colourway, this.strengthOf(colourway));
  }

  /** What was moved, for the answers: "check 1 in, strength 40 %", or "". */
  seen() {
    const parts = [];
    if (this.moved) parts.push(`check ${this.sizeWords}`);
    if (this.moved && this.strength !== null) parts.push(`strength ${percent(this.strength)}`);
    return parts.join(", ");
  }

  /**
   * Lay one beside the others, or take it away; false where it would be one too many.
   * @param {Colourway} colourway
   * @param {boolean} on
   */
  lay(colourway, on) {
    if (on && this.beside.length >= MOST_BESIDE) return false;
    const others = this.beside.filter((one) => one !== colourway);
    this.beside = on ? [...others, colourway] : others;
    return true;
  }
}

/** @param {number} share 0 to 1 */
export function percent(share) {
  return `${Number((100 * share).toFixed(1))} %`;
}

/**
 * A length of cloth in words, in the unit of the range.
 * @param {number} inches
 * @param {boolean} metric
 */
export function lengthWords(inches, metric) {
  if (!metric) return inchWords(inches);
  const mm = inches * 25.4;
  return mm >= 100 ? `${Number((mm / 10).toFixed(2))} cm` : `${Number(mm.toFixed(2))} mm`;
}

/** The length of a scale bar: an inch, or two centimetres. @param {boolean} metric */
export function barOf(metric) {
  return metric ? { inches: 2 / 2.54, words: "2 cm" } : { inches: 1, words: "1 in" };
}

/**
 * CSS pixels of a check on a card: even, so that a check of half the size is whole too.
 * @param {number} width CSS pixels there are
 * @param {number} columns
 * @param {number} least CSS pixels between two
 * @param {number} checks
 */
export function cardPixels(width, columns, least, checks) {
  const side = (width - (columns - 1) * least) / columns;
  return Math.max(2, 2 * Math.floor(side / checks / 2));
}

const PAPER_PARTS = [2, 3, 4, 6, 8, 12, 16, 24, 32];

/**
 * The reduction for paper at which so many checks fit a width: 1/4 and the like.
 * @param {number} inches of a check
 * @param {number} checks
 * @param {number} millimetres
 */
export function paperPart(inches, checks, millimetres) {
  return PAPER_PARTS.find((part) => (inches * checks * 25.4) / part <= millimetres + 0.01) ?? 48;
}

/**
 * The whole-number reduction at which a piece fits: its cloth is 1/n of true size.
 * @param {[wide: number, long: number]} size inches
 * @param {number} width CSS pixels there are
 * @param {number} height
 * @param {number} perInch CSS pixels of an inch on this screen
 */
export function pieceReduction([wide, long], width, height, perInch) {
  return Math.max(1, Math.ceil(Math.max((wide * perInch) / width, (long * perInch) / height) - 1e-9));
}
