// Cloth from tones: image[y, x] = tones[warp[x], weft[y]], in whole device pixels. No DOM here.

/**
 * The bands of one repeat: [stripe number, checks wide], the ground being 0. A width may be a
 * part of a check.
 * @typedef {[number, number][]} Bands
 *
 * The bands both ways.
 * @typedef {{warp: Bands, weft: Bands}} Laid
 *
 * Bands of a check that is not even, and of how many stripes they are; of an even one nothing.
 * @typedef {Partial<Laid & {stripes: number, wefts: number}>} SentLaid
 */

/**
 * Number of tone bytes of a colourway: (W+1)(F+1) tones of three bytes.
 * @param {number} stripes of the warp
 * @param {number} [wefts] stripes of the weft, where it has colours of its own
 */
export function toneBytes(stripes, wefts = stripes) {
  return 3 * (stripes + 1) * (wefts + 1);
}

/**
 * The tones of one colourway as 32-bit pixels, [warp * (F+1) + weft]. The pixels are RGBA in
 * memory, so the red byte is the lowest: browsers run on little-endian machines only.
 * @param {Uint8Array} bytes
 * @param {number} offset
 * @param {number} stripes of the warp
 * @param {number} [wefts] stripes of the weft, where it has colours of its own
 */
export function pixelsOfTones(bytes, offset, stripes, wefts = stripes) {
  const pixels = new Uint32Array((stripes + 1) * (wefts + 1));
  for (let i = 0, at = offset; i < pixels.length; i++, at += 3) {
    pixels[i] = (0xff000000 | (bytes[at + 2] << 16) | (bytes[at + 1] << 8) | bytes[at]) >>> 0;
  }
  return pixels;
}

/**
 * The bands of an even check: stripe 1, ground, stripe 2 ..., each one check wide.
 * @param {number} stripes
 * @returns {Bands}
 */
export function evenBands(stripes) {
  return Array.from({ length: 2 * stripes }, (_, at) => [at % 2 ? 0 : at / 2 + 1, 1]);
}

/**
 * How a colourway is laid: in the bands that are sent, where they are of as many stripes, else even.
 * @param {SentLaid | undefined} sent
 * @param {number} stripes
 * @param {number} [wefts] stripes of the weft's own, or 0
 * @returns {Laid}
 */
export function laidFor(sent, stripes, wefts = 0) {
  const across = wefts || stripes;
  if (sent?.warp && sent.weft && sent.stripes === stripes && sent.wefts === across) {
    return { warp: sent.warp, weft: sent.weft };
  }
  return { warp: evenBands(stripes), weft: evenBands(across) };
}

/**
 * Whichever way repeats after more checks.
 * @param {Laid} laid
 */
export function longerWay({ warp, weft }) {
  return checksIn(weft) > checksIn(warp) ? weft : warp;
}

/**
 * Tones from their hex codes, row after row.
 * @param {string[]} codes
 */
export function bytesOfCodes(codes) {
  return Uint8Array.from(codes.flatMap((code) => [1, 3, 5].map((at) => parseInt(code.slice(at, at + 2), 16))));
}

/**
 * How many checks wide the repeat is.
 * @param {Bands} bands
 */
export function checksIn(bands) {
  return bands.reduce((sum, band) => sum + band[1], 0);
}

/**
 * The stripe number at each of `length` pixels, counted from `start` pixels into the repeat.
 * Each edge is the nearest pixel to where it belongs, as in the kernel, so no error adds up.
 * @param {Bands} bands
 * @param {number} pixels device pixels of one check
 * @param {number} length
 * @param {number} [start]
 */
export function planOf(bands, pixels, length, start = 0) {
  const repeat = Math.max(1, nearest(checksIn(bands) * pixels));
  const once = new Uint8Array(repeat);
  let checksBefore = 0;
  for (const [stripe, checks] of bands) {
    const from = nearest(checksBefore * pixels);
    checksBefore += checks;
    once.fill(stripe, from, nearest(checksBefore * pixels));
  }
  const plan = new Uint8Array(length);
  for (let i = 0, from = ((start % repeat) + repeat) % repeat; i < length; i++, from++) {
    if (from === repeat) from = 0;
    plan[i] = once[from];
  }
  return plan;
}

/**
 * Fill `pixels` (width × height) with cloth: one row for each weft stripe, then copies of it.
 * @param {Uint32Array} pixels
 * @param {number} width
 * @param {number} height
 * @param {Uint32Array} tones from `pixelsOfTones`
 * @param {number} side stripes of the weft + 1
 * @param {Uint8Array | Uint16Array} warp stripe at each x
 * @param {Uint8Array | Uint16Array} weft stripe at each y
 */
export function weave(pixels, width, height, tones, side, warp, weft) {
  const rows = new Map();
  for (let y = 0; y < height; y++) {
    const from = rows.get(weft[y]);
    const start = y * width;
    if (from === undefined) {
      const across = weft[y];
      for (let x = 0; x < width; x++) pixels[start + x] = tones[warp[x] * side + across];
      rows.set(across, start);
    } else pixels.copyWithin(start, from, from + width);
  }
}

/**
 * Device pixels of one check where a whole repeat is to be seen in `side` device pixels.
 * @param {Bands} bands
 * @param {number} side
 */
export function pixelsForRepeat(bands, side) {
  return Math.max(1, Math.floor(side / checksIn(bands)));
}

/**
 * Device pixels of one check at a share of its real size; halves are rounded to the even
 * number, as the kernel's arithmetic does.
 * @param {number} inches size of one check
 * @param {number} scale 1 is the true size
 * @param {number} perInch device pixels of this screen
 */
export function pixelsAtScale(inches, scale, perInch) {
  return Math.max(1, roundEven(inches * perInch * scale));
}

/**
 * The nearest whole number, half going up: what rounding has left of a half counts as one.
 * @param {number} number
 */
function nearest(number) {
  return Math.floor(number + 0.5 + 1e-9);
}

/** @param {number} number */
function roundEven(number) {
  const near = Math.round(number);
  return Math.abs(number % 1) === 0.5 && near % 2 !== 0 ? near - 1 : near;
}
