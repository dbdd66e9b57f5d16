// The tones of a check, mixed on the page: the arithmetic of checkcloth/cloth/mixing.py on colours
// that the kernel has encoded. Python is the authority; tests/page/test_page_mixing.py holds this
// file to it, within 1/255 for every mixing.

import {
  BAND_WEIGHTS, LINEAR_TO_P3, LINEAR_TO_REC2020, MARGIN, P3_TO_LINEAR, REC2020_TO_LINEAR,
} from "./colour_data.js";
import { dot, intoSrgb, linearToByte, linearToSrgb, srgbToLinear, srgbToLinearInPlace } from "./spaces.js";
import { seeLinear } from "./vision.js";

/**
 * What inks are printed on, as numbers.
 * @typedef {[increase: number, limitingDensity: number, n: number]} Stock
 */

/**
 * How a colourway is mixed. What is done hangs on `layout` and `decode` alone, so that a mixing
 * which Python makes of known ones needs nothing here; `mixing` is for people.
 * @typedef {object} Recipe
 * @property {string} mixing name
 * @property {string} layout "layered", "woven", "multiply" or "demichel"
 * @property {string} decode "as-is", "light", "display-p3" or "absorption"; of colours outside sRGB,
 *   or measured as spectra, one of the spaces without bounds, "srgb-unbounded", "rec2020", "reflectance"
 * @property {number} warpShare the warp's share of the surface, for "woven"
 * @property {number} yuleNielsen the exponent n, for "light", "rec2020" and "reflectance"
 * @property {Stock} [stock] for "demichel"
 */

/**
 * A recipe as Python sends it.
 * @typedef {[mixing: string, layout: string, decode: string, warpShare: number,
 *   yuleNielsen: number, stock?: Stock]} SentRecipe
 */

/**
 * @param {SentRecipe} sent
 * @returns {Recipe}
 */
export function recipeOf([mixing, layout, decode, warpShare, yuleNielsen, stock]) {
  const recipe = { mixing, layout, decode, warpShare, yuleNielsen };
  return stock ? { ...recipe, stock } : recipe;
}

const BANDS = BAND_WEIGHTS.length / 3;

/*
 * A layout fills `base`, `gain` and `weft` so that, channel by channel,
 *
 *     tone[i, j] = base[i] + gain[i] · weft[j]        (i the warp stripe, j the weft; 0 the ground)
 *
 * which every mixing of the kit can be written as. Work that the formula of a tone would repeat in
 * each of (N+1)² tones is so done N+1 times.
 */
let base = new Float64Array(0);
let gain = new Float64Array(0);
let weft = new Float64Array(0);
// The share of the paper that each ink covers.
let areas = new Float64Array(0);
// Decoded tones, three values each.
let tones = new Float64Array(0);

/**
 * Fills entry `at` of the arrays: one channel of one stripe.
 * @typedef {(ground: number, stripe: number, strength: number, share: number, at: number) => void}
 *   Layout
 */

/** @type {Map<string, Layout>} */
const LAYOUTS = new Map(Object.entries({
  // Warp over weft over ground: α warp + (1−α)(α weft + (1−α) ground).
  layered(ground, stripe, strength, _share, at) {
    base[at] = strength * stripe;
    gain[at] = 1 - strength;
    weft[at] = strength * stripe + (1 - strength) * ground;
  },
  // Side by side: ground + αw (warp − ground) + α(1−w)(weft − ground).
  woven(ground, stripe, strength, share, at) {
    base[at] = strength * share * (stripe - ground);
    gain[at] = 1;
    weft[at] = ground + strength * (1 - share) * (stripe - ground);
  },
  // Filters: ground · (1−α+α weft) · (1−α+α warp).
  multiply(ground, stripe, strength, _share, at) {
    base[at] = 0;
    gain[at] = 1 - strength + strength * stripe;
    weft[at] = ground * gain[at];
  },
}));

// As in checkcloth/colour/ink.py, which says why.
const LEAST_RATIO = 1e-6;
const LEAST_READING = 1e-3;
const MOST_GAIN = 0.25;
/** @type {Stock} */
const STOCK_NOT_NAMED = [0.17, 2.4, 2];

/**
 * @param {number} value
 * @param {number} low
 * @param {number} high
 */
function held(value, low, high) {
  return Math.min(Math.max(value, low), high);
}

/**
 * The physical part of the tone value increase at 50 % of an ink that lets so much of the paper's
 * light through where it lets through least.
 * @param {number} least
 * @param {Stock} stock
 */
function gainOf(least, [increase, , n]) {
  const reading = held(least, LEAST_READING, 1 - 1e-9);
  const half = 1 - (0.5 + increase) * (1 - reading);
  return held((1 - half ** (1 / n)) / (1 - reading ** (1 / n)) - 0.5, -MOST_GAIN, MOST_GAIN);
}

/**
 * Inks on the ground as paper: fills `base` with n-th roots of the inks' ratios to it, `gain` with
 * the density that each leaves free, `weft` with the roots of their tints; areas go into `areas`.
 * @param {number} channels three of light, or a band for each wavelength
 * @param {ArrayLike<number>} colours
 * @param {number} offset
 * @param {number} side the inks, and the paper
 * @param {number} strength
 * @param {Stock} stock
 */
function layInks(channels, colours, offset, side, strength, stock) {
  const [, limit, n] = stock;
  if (areas.length < side) areas = new Float64Array(side);
  for (let i = 1; i < side; i++) {
    let least = 1;
    const first = channels * i;
    for (let c = 0; c < channels; c++) {
      const paper = colours[offset + c];
      const ratio = paper > LEAST_RATIO ? held(colours[offset + first + c] / paper, LEAST_RATIO, 1) : 1;
      least = Math.min(least, ratio);
      base[first + c] = n === 2 ? Math.sqrt(ratio) : ratio ** (1 / n);
      gain[first + c] = 1 - Math.min(-Math.log10(ratio), limit) / limit;
    }
    const area = strength + 4 * gainOf(least, stock) * strength * (1 - strength);
    areas[i] = area;
    for (let at = first; at < first + channels; at++) weft[at] = 1 - area + area * base[at];
  }
  for (let c = 0; c < channels; c++) base[c] = gain[c] = weft[c] = 1;
  areas[0] = 0;
}

/**
 * Whether two entries are one ink, which has one plate: two stripes may have one colour.
 * @param {number} channels
 * @param {ArrayLike<number>} colours
 * @param {number} one where its first channel stands
 * @param {number} two
 */
function oneInk(channels, colours, one, two) {
  for (let c = 0; c < channels; c++) if (colours[one + c] !== colours[two + c]) return false;
  return true;
}

/**
 * The n-th root of two inks' overprint, relative to the paper.
 * @param {number} one where the channel of the one stands in `base` and `gain`
 * @param {number} two
 * @param {Stock} stock
 */
function overprint(one, two, [, limit, n]) {
  const both = Math.exp((limit * Math.LN10 / n) * (gain[one] * gain[two] - 1));
  return Math.min(both, base[one], base[two]);
}

/**
 * What the overprint of two inks has more than the product of both, as n-th roots.
 * @param {number} one where the channel of the one stands in `base` and `gain`
 * @param {number} two
 * @param {boolean | number} same whether both are one ink
 * @param {Stock} stock
 */
function bound(one, two, same, stock) {
  return (same ? base[one] : overprint(one, two, stock)) - base[one] * base[two];
}

/**
 * The tones of halftone inks, linear light of the colours' own space, into `tones`; by wavelength, what
 * light that comes to in sRGB.
 * @param {number} channels
 * @param {Recipe} recipe
 * @param {number} strength
 * @param {ArrayLike<number>} colours
 * @param {number} offset
 * @param {number} side W+1
 * @param {number} across F+1
 * @param {number} skip entries between the ground and the weft's first stripe
 */
function printInks(channels, recipe, strength, colours, offset, side, across, skip) {
  const stock = recipe.stock ?? STOCK_NOT_NAMED;
  const print = channels === BANDS ? printSpectrum : printChannels;
  layInks(channels, colours, offset, skip ? side + across - 1 : side, strength, stock);
  for (let i = 0, to = 0; i < side; i++) {
    for (let j = 0; j < across; j++, to += 3) {
      const other = j ? j + skip : 0;
      const [first, second] = [channels * i, channels * other];
      const same = i === other || oneInk(channels, colours, offset + first, offset + second);
      for (let c = 0; c < channels; c++) {
        const bonus = areas[i] * areas[other] * bound(first + c, second + c, same, stock);
        roots[c] = weft[first + c] * weft[second + c] + bonus;
      }
      print(colours, offset, stock[2], to);
    }
  }
}

/** The n-th roots of one tone, relative to the paper. */
const roots = new Float64Array(BANDS);

/**
 * Light of a channel or band.
 * @param {number} paper
 * @param {number} root
 * @param {number} n
 */
function printed(paper, root, n) {
  return paper * (n === 2 ? root * root : Math.max(root, 0) ** n);
}

/**
 * One tone of three channels, from `roots`.
 * @param {ArrayLike<number>} papers
 * @param {number} offset where the paper's first channel stands
 * @param {number} n
 * @param {number} to where the tone stands in `tones`
 */
function printChannels(papers, offset, n, to) {
  for (let c = 0; c < 3; c++) tones[to + c] = printed(papers[offset + c], roots[c], n);
}

/**
 * One tone of a reflectance, from `roots`: linear light in gamut.
 * @param {ArrayLike<number>} papers
 * @param {number} offset
 * @param {number} n
 * @param {number} to
 */
function printSpectrum(papers, offset, n, to) {
  tones.fill(-OFFSET, to, to + 3);
  for (let band = 0; band < BANDS; band++) {
    const light = printed(papers[offset + band], roots[band], n);
    for (let c = 0; c < 3; c++) tones[to + c] += WEIGHTS[c * BANDS + band] * light;
  }
  intoSrgb(tones, to);
}

/** Layouts that are no such sum; they write `tones` themselves. */
const PRINTED = new Map(Object.entries({ demichel: printInks }));

/**
 * The tones of a space with three channels, as they are, into `tones`.
 * @param {number} warps W+1
 * @param {number} wefts F+1
 * @param {number} skip entries between the ground and the weft's first stripe
 */
function joinChannels(warps, wefts, skip) {
  for (let i = 0, to = 0; i < warps; i++) {
    for (let j = 0; j < wefts; j++) {
      const across = j ? j + skip : 0;
      for (let c = 0; c < 3; c++) {
        tones[to++] = base[3 * i + c] + gain[3 * i + c] * weft[3 * across + c];
      }
    }
  }
}

// Python takes the margin off the light, (W·ρ − margin) / (1 − 2 margin); here the division is in
// the weights, so that a tone pays a subtraction a channel.
const WEIGHTS = BAND_WEIGHTS.map((weight) => weight / (1 - 2 * MARGIN));
const OFFSET = MARGIN / (1 - 2 * MARGIN);

/**
 * Linear light in gamut of tones of 36 channels, into `tones`: K/S, or with `n` its n-th roots of
 * reflectance.
 *
 * Reflectance is 1/(1 + k + √(k² + 2k)) in Python. With m = 1 + k it is m − √(m² − 1): no division,
 * and one multiplication fewer. What subtracting costs is a rounding of m, under 3e-9 of the
 * light for any k below 10⁷, and for larger k less than the reflectance, 1/2k, itself; a byte is
 * 3e-4 wide where it is narrowest. The absolute value only keeps a k that rounding has put below 0
 * from becoming NaN. The three sums run beside it, so no spectrum is stored.
 * @param {number} warps W+1
 * @param {number} wefts F+1
 * @param {number} skip entries between the ground and the weft's first stripe
 * @param {number} n 0 where the channels are K/S
 */
function joinBands(warps, wefts, skip, n) {
  // Locals: the engine would look for a new array behind a module's variable in every band.
  const [bases, gains, across, lights] = [base, gain, weft, tones];
  for (let i = 0, to = 0; i < warps; i++) {
    for (let j = 0; j < wefts; j++, to += 3) {
      let red = -OFFSET;
      let green = -OFFSET;
      let blue = -OFFSET;
      for (let band = 0, warpAt = i * BANDS, weftAt = (j ? j + skip : 0) * BANDS; band < BANDS; band++, warpAt++, weftAt++) {
        const value = bases[warpAt] + gains[warpAt] * across[weftAt];
        const m = 1 + value;
        const reflectance = n === 0 ? m - Math.sqrt(Math.abs(m * m - 1)) : n === 1 ? value : Math.max(value, 0) ** n;
        red += WEIGHTS[band] * reflectance;
        green += WEIGHTS[BANDS + band] * reflectance;
        blue += WEIGHTS[2 * BANDS + band] * reflectance;
      }
      lights[to] = red;
      lights[to + 1] = green;
      lights[to + 2] = blue;
      intoSrgb(lights, to);
    }
  }
}

/**
 * A decoding: `join` puts the tones into `tones`, `toLight` turns those into linear light.
 * @typedef {object} Decoding
 * @property {number} channels
 * @property {(warps: number, wefts: number, skip: number, n: number) => void} join
 * @property {(count: number, n: number) => void} toLight
 * @property {boolean} [encoded] whether `join` leaves encoded sRGB
 * @property {(rgb: ArrayLike<number>, n: number) => [number, number, number]} [encode] encoded sRGB
 *   to the space; missing where only the kernel can
 */

/**
 * @param {ArrayLike<number>} rgb
 * @param {(value: number) => number} act
 * @returns {[number, number, number]}
 */
function eachChannel(rgb, act) {
  return [act(rgb[0]), act(rgb[1]), act(rgb[2])];
}

/**
 * A 3 × 3 matrix times three values, in place.
 * @template {Float64Array | [number, number, number]} Values
 * @param {Float64Array} matrix
 * @param {Values} values
 * @param {number} at
 * @returns {Values}
 */
function turn(matrix, values, at) {
  const [x, y, z] = [values[at], values[at + 1], values[at + 2]];
  for (let row = 0; row < 3; row++) values[at + row] = dot(matrix, row, x, y, z);
  return values;
}

/**
 * A power that is mirrored below 0.
 * @param {number} value
 * @param {number} exponent
 */
function signedPower(value, exponent) {
  return exponent === 1 ? value : Math.sign(value) * Math.abs(value) ** exponent;
}

/** @type {Map<string, Decoding>} */
const DECODINGS = new Map(Object.entries({
  "as-is": {
    channels: 3,
    join: joinChannels,
    toLight: (count) => srgbToLinearInPlace(tones, count),
    encoded: true,
    encode: (rgb) => [rgb[0], rgb[1], rgb[2]],
  },
  light: {
    channels: 3,
    join: joinChannels,
    toLight(count, n) {
      if (n === 1) return;
      for (let k = 0; k < count; k++) tones[k] = Math.max(tones[k], 0) ** n;
    },
    encode: (rgb, n) => eachChannel(rgb, (value) => srgbToLinear(value) ** (1 / n)),
  },
  "display-p3": {
    channels: 3,
    join: joinChannels,
    toLight(count) {
      for (let at = 0; at < count; at += 3) {
        turn(P3_TO_LINEAR, tones, at);
        intoSrgb(tones, at);
      }
    },
    encode: (rgb) => turn(LINEAR_TO_P3, eachChannel(rgb, srgbToLinear), 0),
  },
  absorption: { channels: BANDS, join: (warps, wefts, skip) => joinBands(warps, wefts, skip, 0), toLight: () => undefined },
  // Without bounds, for colours outside sRGB: checkcloth/colour/wide.py.
  "srgb-unbounded": {
    channels: 3,
    join: joinChannels,
    toLight(count) {
      for (let k = 0; k < count; k++) tones[k] = Math.sign(tones[k]) * srgbToLinear(Math.abs(tones[k]));
      for (let at = 0; at < count; at += 3) intoSrgb(tones, at);
    },
    encode: (rgb) => [rgb[0], rgb[1], rgb[2]],
  },
  rec2020: {
    channels: 3,
    join: joinChannels,
    toLight(count, n) {
      for (let k = 0; k < count; k++) tones[k] = signedPower(tones[k], n);
      for (let at = 0; at < count; at += 3) {
        turn(REC2020_TO_LINEAR, tones, at);
        intoSrgb(tones, at);
      }
    },
    encode: (rgb, n) => eachChannel(
      turn(LINEAR_TO_REC2020, eachChannel(rgb, srgbToLinear), 0), (value) => signedPower(value, 1 / n)),
  },
  reflectance: { channels: BANDS, join: joinBands, toLight: () => undefined },
}));

/**
 * @template T
 * @param {Pick<Recipe, "mixing">} recipe
 * @param {string} field
 * @param {string} name
 * @param {Map<string, T>} known
 * @returns {T}
 */
function find({ mixing }, field, name, known) {
  const found = known.get(name);
  if (found !== undefined) return found;
  const also = field === "layout" ? [...PRINTED.keys()] : [];
  const allowed = [...known.keys(), ...also].join(", ");
  throw new Error(`this page cannot mix "${mixing}": ${field} must be one of ${allowed}, ` +
    `found "${name}"`);
}

/**
 * @param {Pick<Recipe, "mixing" | "decode">} recipe
 * @returns {Decoding}
 */
function decodingOf(recipe) {
  return find(recipe, "decode", recipe.decode, DECODINGS);
}

/**
 * Numbers that a colour takes, encoded for a mixing.
 * @param {Pick<Recipe, "mixing" | "decode">} recipe
 * @returns {number} 36 for spectra, else 3
 */
export function channelsOf(recipe) {
  return decodingOf(recipe).channels;
}

/**
 * Whether `encodeColour` can encode for a mixing.
 * @param {Pick<Recipe, "mixing" | "decode">} recipe
 */
export function canEncode(recipe) {
  return decodingOf(recipe).encode !== undefined;
}

/**
 * A colour encoded for a mixing of three channels.
 * @param {Omit<Recipe, "layout" | "warpShare">} recipe
 * @param {ArrayLike<number>} rgb encoded sRGB, three values in 0 to 1
 * @returns {[number, number, number]}
 */
export function encodeColour(recipe, rgb) {
  const { encode } = decodingOf(recipe);
  if (!encode) {
    throw new Error(`"${recipe.mixing}" mixes spectra, and only the kernel recovers a spectrum ` +
      "from a colour: ask it");
  }
  return encode(rgb, recipe.yuleNielsen);
}

/**
 * Make the module's arrays long enough.
 * @param {number} terms
 * @param {number} values
 */
function reserve(terms, values) {
  if (base.length < terms) {
    base = new Float64Array(terms);
    gain = new Float64Array(terms);
    weft = new Float64Array(terms);
  }
  if (tones.length < values) tones = new Float64Array(values);
}

/**
 * Lay the shares of one colourway: fill `base`, `gain` and `weft`.
 * @param {Layout} lay
 * @param {Recipe} recipe
 * @param {number} strength
 * @param {ArrayLike<number>} colours
 * @param {number} offset
 * @param {number} terms (N+1) times the channels
 * @param {number} channels
 */
function layShares(lay, recipe, strength, colours, offset, terms, channels) {
  for (let c = 0; c < channels; c++) {
    base[c] = 0;
    gain[c] = 1;
    weft[c] = colours[offset + c];
  }
  for (let at = channels, c = 0; at < terms; at++) {
    lay(weft[c], colours[offset + at], strength, recipe.warpShare, at);
    if (++c === channels) c = 0;
  }
}

/**
 * The tones of one colourway in the space of its decoding, into `tones`.
 * @param {Decoding} decoding
 * @param {Recipe} recipe
 * @param {number} strength
 * @param {ArrayLike<number>} colours
 * @param {number} offset
 * @param {number} side W+1
 * @param {number} across F+1
 * @param {number} skip entries between the ground and the weft's first stripe
 */
function fillTones({ channels, join }, recipe, strength, colours, offset, side, across, skip) {
  const print = PRINTED.get(recipe.layout);
  if (print) return print(channels, recipe, strength, colours, offset, side, across, skip);
  const lay = find(recipe, "layout", recipe.layout, LAYOUTS);
  const terms = (skip ? side + across - 1 : side) * channels;
  layShares(lay, recipe, strength, colours, offset, terms, channels);
  join(side, across, skip, recipe.yuleNielsen);
}

/**
 * Typed arrays answer undefined past their end and swallow what is written there.
 * @param {string} what
 * @param {number} terms
 * @param {number} values there are
 * @param {number} count
 * @param {number} room there is
 */
function requireRoom(what, terms, values, count, room) {
  if (terms <= values && count <= room) return;
  throw new RangeError(`${what} take ${terms} values and ${count} bytes, found ${values} and ${room}`);
}

/**
 * Write the tones of one colourway as sRGB bytes: tones[0, 0], tones[0, 1], ... with the warp on
 * the first axis, three bytes each. Allocates nothing once it has met the largest colourway.
 * @param {Recipe} recipe
 * @param {number} strength 0 to 1
 * @param {ArrayLike<number>} colours encoded for the mixing: ground, each stripe, and where there are
 *   `wefts` each of those
 * @param {number} offset index of the ground's first value in `colours`
 * @param {number} stripes N
 * @param {Uint8Array} out
 * @param {number} outOffset where (N+1)² × 3 bytes go
 * @param {string} [vision] one of VISIONS
 * @param {number} [wefts] how many colours of its own the weft has; none, it has the warp's
 */
export function mixTones(
  recipe,
  strength,
  colours,
  offset,
  stripes,
  out,
  outOffset,
  vision = "normal",
  wefts = 0,
) {
  const decoding = decodingOf(recipe);
  const side = stripes + 1;
  const across = (wefts || stripes) + 1;
  const terms = (side + wefts) * decoding.channels;
  const count = side * across * 3;
  requireRoom(`${stripes + wefts} stripes of ${recipe.mixing}`, terms, colours.length - offset,
    count, out.length - outOffset);
  reserve(terms, count);
  fillTones(decoding, recipe, strength, colours, offset, side, across, wefts && stripes);
  if (decoding.encoded && vision === "normal") {
    for (let k = 0; k < count; k++) out[outOffset + k] = tones[k] * 255 + 0.5;
    return;
  }
  decoding.toLight(count, recipe.yuleNielsen);
  seeLinear(tones, count / 3, vision);
  for (let k = 0; k < count; k++) out[outOffset + k] = linearToByte(tones[k]);
}

/**
 * The tones of one colourway, not rounded: encoded sRGB in 0 to 1, in the order of `mixTones`.
 * @param {Recipe} recipe
 * @param {number} strength 0 to 1
 * @param {ArrayLike<number>} colours encoded for the mixing: ground, then each stripe
 * @param {number} stripes N
 * @returns {Float64Array}
 */
export function tonesUnrounded(recipe, strength, colours, stripes) {
  const decoding = decodingOf(recipe);
  const side = stripes + 1;
  const count = side * side * 3;
  reserve(side * decoding.channels, count);
  fillTones(decoding, recipe, strength, colours, 0, side, side, 0);
  if (decoding.encoded) return tones.slice(0, count);
  decoding.toLight(count, recipe.yuleNielsen);
  return tones.slice(0, count).map((light) => Math.min(Math.max(linearToSrgb(light), 0), 1));
}
