// Cloth from tones: image[y, x] = tones[warp[x], weft[y]], in whole device pixels.

const LITTLE = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1;
const CSS_PER_INCH = 96;
const SCREEN_KEY = "checkcloth: CSS pixels per inch";

/** CSS pixels per inch of this screen: as measured with a card, or as CSS supposes. */
function screenPixels() {
  const kept = Number(globalThis.localStorage?.getItem(SCREEN_KEY));
  return kept > 20 && kept < 1000 ? kept : CSS_PER_INCH;
}

function setScreenPixels(perInch) {
  try { globalThis.localStorage?.setItem(SCREEN_KEY, String(perInch)); } catch { /* private */ }
}

/** Device pixels a check at a scale of the real size; the kernel rounds the same way. */
function checkPixels(inches, scale, ratio = globalThis.devicePixelRatio || 1) {
  return Math.max(1, roundEven(inches * screenPixels() * ratio * scale));
}

/** The tones of one colourway as 32-bit pixels, [warp * side + weft]. */
function inksOf(bytes, offset, stripes) {
  const count = (stripes + 1) ** 2;
  const inks = new Uint32Array(count);
  for (let i = 0, at = offset; i < count; i++, at += 3) {
    inks[i] = LITTLE
      ? (0xff000000 | (bytes[at + 2] << 16) | (bytes[at + 1] << 8) | bytes[at]) >>> 0
      : ((bytes[at] << 24) | (bytes[at + 1] << 16) | (bytes[at + 2] << 8) | 0xff) >>> 0;
  }
  return inks;
}

/** How many checks wide the repeat is. */
function checksIn(bands) {
  return bands.reduce((sum, band) => sum + band[1], 0);
}

/** The stripe number at each of `length` pixels from `start`; bands are [stripe, checks]. */
function planOf(bands, pixels, length, start = 0) {
  const around = checksIn(bands) * pixels;
  const once = new Uint8Array(around);
  let at = 0;
  for (const [stripe, checks] of bands) once.fill(stripe, at, (at += checks * pixels));
  const plan = new Uint8Array(length);
  for (let i = 0, from = ((start % around) + around) % around; i < length; i++, from++) {
    if (from === around) from = 0;
    plan[i] = once[from];
  }
  return plan;
}

/** Fill `pixels` (Uint32, width × height) with cloth: one row a weft stripe, then copies. */
function weave(pixels, width, height, inks, side, warp, weft) {
  const rows = new Map();
  for (let y = 0; y < height; y++) {
    const from = rows.get(weft[y]);
    const start = y * width;
    if (from === undefined) {
      const across = weft[y];
      for (let x = 0; x < width; x++) pixels[start + x] = inks[warp[x] * side + across];
      rows.set(across, start);
    } else pixels.copyWithin(start, from, from + width);
  }
}

/** Draws swatches of one size; keeps the picture it draws into. */
class Loom {
  size(width, height) {
    if (this.image?.width !== width || this.image?.height !== height) {
      this.image = new ImageData(width, height);
      this.pixels = new Uint32Array(this.image.data.buffer);
    }
    return this;
  }

  draw(context, x, y, bytes, offset, stripes, warp, weft = warp) {
    const { width, height } = this.image;
    weave(this.pixels, width, height, inksOf(bytes, offset, stripes), stripes + 1, warp, weft);
    context.putImageData(this.image, x, y);
  }
}

/** A canvas of cloth, `width` × `height` CSS pixels, that can be drawn again at any scale. */
class Swatch {
  constructor(width, height, label) {
    this.canvas = make("canvas", { class: "cc-cloth", role: "img", "aria-label": label });
    this.loom = new Loom();
    this.startX = 0;
    this.startY = 0;
    this.resize(width, height);
  }

  resize(width, height) {
    const ratio = globalThis.devicePixelRatio || 1;
    this.canvas.width = Math.max(1, Math.round(width * ratio));
    this.canvas.height = Math.max(1, Math.round(height * ratio));
    this.canvas.style.width = `${this.canvas.width / ratio}px`;
    this.canvas.style.height = `${this.canvas.height / ratio}px`;
    this.loom.size(this.canvas.width, this.canvas.height);
  }

  draw(bytes, offset, stripes, bands, pixels) {
    const { width, height } = this.canvas;
    const warp = planOf(bands, pixels, width, this.startX);
    const weft = planOf(bands, pixels, height, this.startY);
    const context = this.canvas.getContext("2d", { willReadFrequently: true });
    this.loom.draw(context, 0, 0, bytes, offset, stripes, warp, weft);
    this.canvas.dataset.pixels = pixels;
  }
}
