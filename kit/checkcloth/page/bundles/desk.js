// Made from page/ by `npm run build` in .ci/page; not to be edited.

// shared/cloth.js
function toneBytes(stripes) {
  return 3 * (stripes + 1) ** 2;
}
function pixelsOfTones(bytes, offset, stripes) {
  const pixels = new Uint32Array((stripes + 1) ** 2);
  for (let i = 0, at = offset; i < pixels.length; i++, at += 3) {
    pixels[i] = (4278190080 | bytes[at + 2] << 16 | bytes[at + 1] << 8 | bytes[at]) >>> 0;
  }
  return pixels;
}
function checksIn(bands) {
  return bands.reduce((sum, band) => sum + band[1], 0);
}
function planOf(bands, pixels, length, start = 0) {
  const repeat = checksIn(bands) * pixels;
  const once = new Uint8Array(repeat);
  let at = 0;
  for (const [stripe, checks] of bands) once.fill(stripe, at, at += checks * pixels);
  const plan = new Uint8Array(length);
  for (let i = 0, from = (start % repeat + repeat) % repeat; i < length; i++, from++) {
    if (from === repeat) from = 0;
    plan[i] = once[from];
  }
  return plan;
}
function weave(pixels, width, height, tones2, side, warp, weft2) {
  const rows = /* @__PURE__ */ new Map();
  for (let y = 0; y < height; y++) {
    const from = rows.get(weft2[y]);
    const start = y * width;
    if (from === void 0) {
      const across = weft2[y];
      for (let x = 0; x < width; x++) pixels[start + x] = tones2[warp[x] * side + across];
      rows.set(across, start);
    } else pixels.copyWithin(start, from, from + width);
  }
}
function pixelsForRepeat(bands, side) {
  return Math.max(1, Math.floor(side / checksIn(bands)));
}
function pixelsAtScale(inches, scale, perInch) {
  return Math.max(1, roundEven(inches * perInch * scale));
}
function roundEven(number) {
  const near = Math.round(number);
  return Math.abs(number % 1) === 0.5 && near % 2 !== 0 ? near - 1 : near;
}

// shared/dom.js
function make(tag2, attributes = {}, ...children) {
  const node = document.createElement(tag2);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === null || value === void 0 || value === false) continue;
    if (key === "text") node.textContent = value;
    else if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key === "value") Object.assign(node, { value });
    else node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...children.filter((child) => child !== null && child !== void 0));
  return node;
}
function button(text, onclick, { keys, label, pressed, kind = "" } = {}) {
  return make("button", {
    type: "button",
    class: `cc-button ${kind}`,
    text,
    title: keys ? `${label ?? text} (${keys})` : label,
    "aria-label": label,
    "aria-keyshortcuts": keys,
    "aria-pressed": pressed === void 0 ? null : String(pressed),
    onclick
  });
}
function choice(label, options, value, onpick) {
  const select = make("select", {
    class: "cc-select",
    "aria-label": label,
    onchange: () => onpick(select.value)
  });
  setOptions(select, options);
  select.value = value;
  const box = make("label", { class: "cc-field" }, make("span", { text: label }), select);
  return { box, select };
}
function setOptions(select, options) {
  const offered = [...select.options].map((option) => [option.value, option.text]);
  if (JSON.stringify(offered) === JSON.stringify(options)) return;
  select.replaceChildren(...options.map(([value, text]) => make("option", { value, text })));
}
function refill(box, nodes, fallback = null) {
  const focused = [...box.children].findIndex((node) => node.contains(document.activeElement));
  box.replaceChildren(...nodes);
  if (focused < 0) return;
  const next = nodes[Math.min(focused, nodes.length - 1)];
  const target = next?.matches("button") ? next : next?.querySelector("button") ?? fallback;
  target?.focus({ preventScroll: true });
}
function say(node, text) {
  if (node.textContent !== text) node.textContent = text;
}
function setAttribute(node, name, value) {
  if (node.getAttribute(name) !== value) node.setAttribute(name, value);
}
function perFrame(act) {
  let frame = 0;
  const request = () => {
    frame ||= requestAnimationFrame(() => {
      frame = 0;
      act();
    });
  };
  return Object.assign(request, { stop: () => cancelAnimationFrame(frame) });
}
function within(event, selector) {
  return event.target instanceof Element ? event.target.closest(selector) : null;
}

// shared/press_guard.js
var LONGEST = 3e3;
var PRESSED = "button, summary, label, input, .cc-kept-one";
var ENDS = ["pointerup", "pointercancel", "dragend", "blur"];
var PressGuard = class {
  down = false;
  /** @type {Map<string, () => void>} */
  #waiting = /* @__PURE__ */ new Map();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #limit;
  /**
   * @param {EventTarget} root what is guarded
   * @param {EventTarget} [page] where a press ends
   */
  constructor(root, page = globalThis) {
    this.page = page;
    root.addEventListener("pointerdown", this.#begin, { capture: true });
    for (const name of ENDS) page.addEventListener(name, this.#end, { capture: true });
  }
  /** @param {Event} event */
  #begin = (event) => {
    const target = (
      /** @type {Element} */
      event.target
    );
    if (!target.closest(PRESSED) || target.closest('input[type="range"]')) return;
    clearTimeout(this.#limit);
    this.down = true;
    this.#limit = setTimeout(() => this.#release(), LONGEST);
  };
  // The click comes after pointerup, in the same turn. Fields that lose the focus are heard too.
  /** @param {Event} event */
  #end = (event) => {
    if (!this.down || event.type === "blur" && event.target !== this.page) return;
    setTimeout(() => this.#release(), 0);
  };
  /**
   * Fill a part of the page now, or once the pointer is up; a part waits once, with its newest.
   * @param {string} part
   * @param {() => void} fill
   */
  after(part, fill) {
    if (this.down) this.#waiting.set(part, fill);
    else fill();
  }
  #release() {
    this.down = false;
    clearTimeout(this.#limit);
    const fills = [...this.#waiting.values()];
    this.#waiting.clear();
    fills.forEach((fill) => fill());
  }
  close() {
    clearTimeout(this.#limit);
    this.#waiting.clear();
    for (const name of ENDS) this.page.removeEventListener(name, this.#end, { capture: true });
  }
};

// shared/swatch.js
var CSS_PER_INCH = 96;
var SCREEN_KEY = "checkcloth: CSS pixels per inch";
function deviceRatio() {
  return globalThis.devicePixelRatio || 1;
}
function screenPixels() {
  const stored = Number(globalThis.localStorage?.getItem(SCREEN_KEY));
  return stored > 20 && stored < 1e3 ? stored : CSS_PER_INCH;
}
function setScreenPixels(perInch) {
  try {
    globalThis.localStorage?.setItem(SCREEN_KEY, String(perInch));
  } catch {
  }
}
function checkPixels(inches, scale) {
  return pixelsAtScale(inches, scale, screenPixels() * deviceRatio());
}
function contextOf(canvas) {
  return (
    /** @type {CanvasRenderingContext2D} */
    canvas.getContext("2d", { willReadFrequently: true })
  );
}
var Loom = class {
  image = new ImageData(1, 1);
  pixels = new Uint32Array(this.image.data.buffer);
  /**
   * @param {number} width device pixels
   * @param {number} height
   */
  size(width, height) {
    if (this.image.width === width && this.image.height === height) return;
    this.image = new ImageData(width, height);
    this.pixels = new Uint32Array(this.image.data.buffer);
  }
  /**
   * @param {CanvasRenderingContext2D} context
   * @param {number} x
   * @param {number} y
   * @param {Uint8Array} bytes tones
   * @param {number} offset where this colourway's tones begin
   * @param {number} stripes
   * @param {Uint8Array} warp
   * @param {Uint8Array} [weft]
   */
  draw(context, x, y, bytes, offset, stripes, warp, weft2 = warp) {
    const { width, height } = this.image;
    const tones2 = pixelsOfTones(bytes, offset, stripes);
    weave(this.pixels, width, height, tones2, stripes + 1, warp, weft2);
    context.putImageData(this.image, x, y);
  }
};
var Swatch = class {
  startX = 0;
  startY = 0;
  loom = new Loom();
  /**
   * @param {number} width CSS pixels
   * @param {number} height
   * @param {string} label what it shows, or "" where what is around it says so
   */
  constructor(width, height, label) {
    this.canvas = make("canvas", label ? { class: "cc-cloth", role: "img", "aria-label": label } : { class: "cc-cloth", "aria-hidden": "true" });
    this.resize(width, height);
  }
  /**
   * @param {number} width CSS pixels
   * @param {number} height
   */
  resize(width, height) {
    const ratio = deviceRatio();
    const { canvas } = this;
    const [wide, high] = [width, height].map((side) => Math.max(1, Math.round(side * ratio)));
    if (canvas.width !== wide) canvas.width = wide;
    if (canvas.height !== high) canvas.height = high;
    canvas.style.width = `${wide / ratio}px`;
    canvas.style.height = `${high / ratio}px`;
    this.loom.size(wide, high);
  }
  /**
   * @param {Uint8Array} bytes tones
   * @param {number} offset
   * @param {number} stripes
   * @param {Bands} bands
   * @param {number} pixels device pixels of one check
   */
  draw(bytes, offset, stripes, bands, pixels) {
    const { width, height } = this.canvas;
    const warp = planOf(bands, pixels, width, this.startX);
    const weft2 = planOf(bands, pixels, height, this.startY);
    this.loom.draw(contextOf(this.canvas), 0, 0, bytes, offset, stripes, warp, weft2);
    this.canvas.dataset.pixels = String(pixels);
  }
};

// shared/binary.js
function bytesOf(value) {
  if (!value) return new Uint8Array(0);
  if (ArrayBuffer.isView(value)) {
    return new Uint8Array(value.buffer, value.byteOffset, value.byteLength);
  }
  return new Uint8Array(value);
}
function floatsOf(value) {
  const bytes = bytesOf(value).slice();
  return new Float32Array(bytes.buffer, 0, bytes.byteLength >> 2);
}

// shared/colour_data.js
var BAND_WEIGHTS = Float64Array.of(
  5469500360521254e-20,
  1844287399835157e-19,
  9340153332405093e-19,
  0.0030912181398249235,
  0.00949177895634051,
  0.017320461581278913,
  0.02202783442289525,
  0.016304766385629464,
  0.0019619093829096844,
  -0.016200394958885776,
  -0.03393207937970617,
  -0.04614505422810606,
  -0.06378685274710012,
  -0.08386257183263397,
  -0.09176908058857078,
  -0.08251054226016578,
  -0.05288373275525482,
  -0.01267027831430209,
  0.037453438632762286,
  0.09172244475580664,
  0.14796464095465034,
  0.1815247239706146,
  0.21065218368146374,
  0.21002024799456462,
  0.1812766069600429,
  0.13203770798086928,
  0.09370409010236311,
  0.0571470778193945,
  0.033462448880912994,
  0.018231519672319993,
  0.009296738337631876,
  0.004022812704394061,
  0.00206819285598591,
  0.0010946019876303774,
  4541326268932763e-19,
  25586920071705613e-20,
  -46580439915386804e-21,
  -15797999202192146e-20,
  -8073724112835378e-19,
  -0.0027089137332331516,
  -0.008482213248355026,
  -0.016067023935632405,
  -0.0220176100071493,
  -0.020039315256317736,
  -0.01114572664918776,
  0.00378339540564378,
  0.02214480037125572,
  0.03897739423757261,
  0.06338085295486662,
  0.09600964261850597,
  0.12631494659888712,
  0.14861320799340688,
  0.14907815742133854,
  0.14242593908733883,
  0.12210092580801851,
  0.09545108501657593,
  0.0674128888286192,
  0.035671962652704246,
  0.013105466078106778,
  -0.002414924309899087,
  -0.009436687099244672,
  -0.00990926124423493,
  -0.008394140859563214,
  -0.00561516080034839,
  -0.0034499659430794094,
  -0.0019239380364096915,
  -996812699991794e-18,
  -4359634430277687e-19,
  -22486705736702697e-20,
  -1190120320793224e-19,
  -49376172062722844e-21,
  -2781970243643462e-20,
  3258922473678978e-19,
  0.001107750542595233,
  0.005676639464309107,
  0.019181649631810137,
  0.060969649248503635,
  0.1213303885275812,
  0.1848485984235826,
  0.2087742323648419,
  0.1972905450825078,
  0.14721390282788388,
  0.09180821465326156,
  0.04648239571164472,
  0.022984931165699864,
  0.0066580101761660355,
  -0.005803505620597293,
  -0.012434219023468689,
  -0.015506934377380398,
  -0.016695173074946106,
  -0.015684315782167044,
  -0.013633152400347638,
  -0.011305098363957877,
  -0.008067632340454527,
  -0.005855656241023767,
  -0.003937968969503055,
  -0.0024866500373182244,
  -0.0014384793090744957,
  -8513690436226067e-19,
  -45806125054592906e-20,
  -2479017691875908e-19,
  -1295135896409652e-19,
  -6406799920961626e-20,
  -27142371211913657e-21,
  -13862636577659433e-21,
  -7336879258106166e-21,
  -3043951243883511e-21,
  -17150370182046983e-22
);
var LINEAR_TO_LMS = Float64Array.of(
  0.41222146947076305,
  0.5363325372617348,
  0.0514459932675022,
  0.21190349581782522,
  0.6806995506452344,
  0.10739695353694055,
  0.08830245919005643,
  0.2817188391361215,
  0.6299787016738222
);
var LMS_TO_LINEAR = Float64Array.of(
  4.076741636075957,
  -3.3077115392580616,
  0.2309699031821044,
  -1.2684379732850317,
  2.6097573492876887,
  -0.34131937600265727,
  -0.004196076138675568,
  -0.7034186179359362,
  1.7076146940746117
);
var LMS_TO_OKLAB = Float64Array.of(
  0.210454268309314,
  0.7936177747023054,
  -0.0040720430116193,
  1.9779985324311684,
  -2.42859224204858,
  0.450593709617411,
  0.0259040424655478,
  0.7827717124575296,
  -0.8086757549230774
);
var OKLAB_TO_LMS = Float64Array.of(
  1.0000000000000002,
  0.39633777737617504,
  0.21580375730991364,
  0.9999999999999998,
  -0.10556134581565853,
  -0.06385417282581334,
  0.9999999999999998,
  -0.0894841775298118,
  -1.2914855480194094
);
var PROTAN = Float64Array.of(
  0.11238,
  0.88762,
  0,
  0.11238,
  0.88762,
  0,
  401e-5,
  -401e-5,
  1
);
var DEUTAN = Float64Array.of(
  0.29275,
  0.70725,
  0,
  0.29275,
  0.70725,
  0,
  -0.02234,
  0.02234,
  1
);
var TRITAN_ONE = Float64Array.of(
  1.01277,
  0.13548,
  -0.14826,
  -0.01243,
  0.86812,
  0.14431,
  0.07589,
  0.805,
  0.11911
);
var TRITAN_TWO = Float64Array.of(
  0.93678,
  0.18979,
  -0.12657,
  0.06154,
  0.81526,
  0.1232,
  -0.37562,
  1.12767,
  0.24796
);
var TRITAN_SEPARATOR = Float64Array.of(
  0.03901,
  -0.02788,
  -0.01113
);
var LUMINANCE = Float64Array.of(
  0.21263900587151036,
  0.7151686787677559,
  0.07219231536073371
);
var MARGIN = 1e-5;

// shared/spaces.js
function srgbToLinear(value) {
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
}
function linearToSrgb(light) {
  const size = Math.abs(light);
  return size <= 31308e-7 ? light * 12.92 : Math.sign(light) * (1.055 * size ** (1 / 2.4) - 0.055);
}
var EDGES = 4096;
var THRESHOLDS = Float64Array.from(
  { length: 257 },
  (_, byte) => byte === 256 ? Infinity : srgbToLinear((byte - 0.5) / 255)
);
var COARSE = Uint8Array.from(
  { length: EDGES },
  (_, edge) => Math.floor(linearToSrgb(edge / EDGES) * 255 + 0.5)
);
function linearToByte(light) {
  if (!(light > 0)) return 0;
  if (light >= 1) return 255;
  let byte = COARSE[light * EDGES | 0];
  while (light >= THRESHOLDS[byte + 1]) byte++;
  return byte;
}
var POINTS = 4096;
var CURVE = Float64Array.from({ length: POINTS + 2 }, (_, point) => srgbToLinear(point / POINTS));
function srgbToLinearInPlace(values, count) {
  for (let k = 0; k < count; k++) {
    const at = values[k] * POINTS;
    const point = at | 0;
    values[k] = CURVE[point] + (at - point) * (CURVE[point + 1] - CURVE[point]);
  }
}
function dot(matrix, row, x, y, z) {
  return matrix[3 * row] * x + matrix[3 * row + 1] * y + matrix[3 * row + 2] * z;
}
function cube(x) {
  return x * x * x;
}
var oklab = new Float64Array(3);
var triple = new Float64Array(3);
function toOklab(red, green, blue) {
  const l = Math.cbrt(dot(LINEAR_TO_LMS, 0, red, green, blue));
  const m = Math.cbrt(dot(LINEAR_TO_LMS, 1, red, green, blue));
  const s = Math.cbrt(dot(LINEAR_TO_LMS, 2, red, green, blue));
  for (let row = 0; row < 3; row++) oklab[row] = dot(LMS_TO_OKLAB, row, l, m, s);
}
function fromOklab(lightness, a, b, out, at) {
  const l = cube(dot(OKLAB_TO_LMS, 0, lightness, a, b));
  const m = cube(dot(OKLAB_TO_LMS, 1, lightness, a, b));
  const s = cube(dot(OKLAB_TO_LMS, 2, lightness, a, b));
  for (let row = 0; row < 3; row++) out[at + row] = dot(LMS_TO_LINEAR, row, l, m, s);
}
var HALVINGS = 24;
var SLACK = 1e-9;
function fits(light, at, slack) {
  for (let k = at; k < at + 3; k++) if (light[k] < -slack || light[k] > 1 + slack) return false;
  return true;
}
function intoSrgb(light, at) {
  if (!fits(light, at, SLACK)) {
    toOklab(light[at], light[at + 1], light[at + 2]);
    const lightness = Math.min(Math.max(oklab[0], 0), 1);
    const a = oklab[1];
    const b = oklab[2];
    let share = 0;
    for (let step = 0.5, halving = 0; halving < HALVINGS; halving++, step /= 2) {
      fromOklab(lightness, (share + step) * a, (share + step) * b, triple, 0);
      if (fits(triple, 0, 0)) share += step;
    }
    fromOklab(lightness, share * a, share * b, light, at);
  }
  for (let k = at; k < at + 3; k++) light[k] = Math.min(Math.max(light[k], 0), 1);
}

// shared/vision.js
var GREY = Float64Array.of(...LUMINANCE, ...LUMINANCE, ...LUMINANCE);
var MATRICES = new Map(
  Object.entries({ protan: PROTAN, deutan: DEUTAN, tritan: TRITAN_ONE, grey: GREY })
);
var VISIONS = ["normal", ...MATRICES.keys()];
function seeLinear(light, count, vision) {
  if (vision === "normal") return;
  const matrix = MATRICES.get(vision);
  if (!matrix) throw new Error(`vision must be one of ${VISIONS.join(", ")}, found "${vision}"`);
  for (let at = 0; at < 3 * count; at += 3) {
    const red = light[at];
    const green = light[at + 1];
    const blue = light[at + 2];
    const second = matrix === TRITAN_ONE && dot(TRITAN_SEPARATOR, 0, red, green, blue) < -1e-12;
    const chosen = second ? TRITAN_TWO : matrix;
    for (let row = 0; row < 3; row++) {
      light[at + row] = Math.min(Math.max(dot(chosen, row, red, green, blue), 0), 1);
    }
  }
}

// desk/cloth_frame.js
var SCALES = [["1", "true size"], ["0.5", "half size"], ["repeat", "one whole repeat"]];
var HEIGHT = 220;
var ClothFrame = class {
  scale = "1";
  /** @type {() => void} */
  #redraw = () => {
  };
  /**
   * @param {Desk} desk
   * @param {boolean} large as large as the window allows, and to be moved under its edge
   */
  constructor(desk, large) {
    this.desk = desk;
    this.large = large;
    this.swatch = new Swatch(40, 40, "cloth");
    this.mark = make("div", { class: "cc-repeat", "aria-hidden": "true" });
    this.words = make("p", { class: "cc-quiet" });
    this.frame = make(
      "div",
      large ? {
        class: "cc-frame",
        tabindex: "0",
        role: "group",
        "aria-label": "Cloth; arrow keys go to the neighbours on the wall"
      } : { class: "cc-frame" },
      this.swatch.canvas,
      this.mark
    );
    this.scales = choice("Shown at", SCALES, this.scale, (scale) => {
      this.scale = scale;
      this.swatch.startX = this.swatch.startY = 0;
      this.#redraw();
    });
    this.root = make(
      "div",
      { class: "cc-look-cloth" },
      this.frame,
      this.words,
      make(
        "div",
        { class: "cc-row" },
        this.scales.box,
        button("Set true size…", () => desk.measure(), { label: "Set true size with a bank card" })
      )
    );
    if (large) this.#listen();
  }
  /** The enlarged cloth moves under the pointer. */
  #listen() {
    const { canvas } = this.swatch;
    canvas.addEventListener("pointerdown", (event) => canvas.setPointerCapture(event.pointerId));
    canvas.addEventListener("pointermove", (event) => {
      if (!canvas.hasPointerCapture(event.pointerId)) return;
      this.panBy(event.movementX, event.movementY);
      this.#redraw();
    });
  }
  /**
   * @param {number} x CSS pixels
   * @param {number} y
   */
  panBy(x, y) {
    const { swatch } = this;
    const moved = (start, by) => Math.max(0, start - Math.round(by * deviceRatio()));
    swatch.startX = moved(swatch.startX, x);
    swatch.startY = moved(swatch.startY, y);
  }
  /**
   * @param {Uint8Array} bytes
   * @param {Details} data
   * @returns {boolean} whether there is room for it
   */
  draw(bytes, data) {
    this.#redraw = () => this.draw(bytes, data);
    const width = Math.floor(this.root.clientWidth) - 2;
    if (width < 40) return false;
    const height = this.large ? Math.round(Math.min(globalThis.innerHeight * 0.52, width * 0.6)) : HEIGHT;
    this.swatch.resize(width, height);
    const bands = this.desk.bands(data.count);
    const pixels = this.scale === "repeat" ? pixelsForRepeat(bands, Math.min(width, height) * deviceRatio()) : checkPixels(this.desk.inches, Number(this.scale));
    this.swatch.draw(bytes, 0, data.count, bands, pixels);
    this.#markRepeat(checksIn(bands) * pixels / deviceRatio(), width, height, data);
    return true;
  }
  /**
   * @param {number} side of the repeat, CSS pixels
   * @param {number} width
   * @param {number} height
   * @param {Details} data
   */
  #markRepeat(side, width, height, data) {
    const { swatch } = this;
    const start = (device) => `${-(device / deviceRatio())}px`;
    Object.assign(this.mark.style, {
      width: `${side}px`,
      height: `${side}px`,
      left: start(swatch.startX),
      top: start(swatch.startY)
    });
    const repeat = this.desk.repeatWords(data.count);
    const larger = side > height || side > width ? "; it is larger than the piece shown" : "";
    const move = this.large && side > height ? " Drag, or use Shift with the arrow keys, to move the cloth." : "";
    say(this.words, `Repeat ${repeat}, dashed${larger}.${move}`);
    swatch.canvas.setAttribute("aria-label", `Cloth of ${data.title}, ${data.words}, repeat ${repeat}`);
  }
};
var VisionViews = class {
  /** @param {number} side CSS pixels */
  constructor(side) {
    this.side = side;
    this.swatches = VISIONS.slice(1).map((vision) => new Swatch(side, side, vision));
    this.root = make("div", { class: "cc-views" }, ...this.swatches.map(({ canvas }, i) => make("figure", {}, canvas, make("figcaption", { text: VISIONS[i + 1] }))));
  }
  /** @param {Details} data */
  label(data) {
    this.swatches.forEach(({ canvas }, i) => canvas.setAttribute(
      "aria-label",
      `${data.title} ${data.view_words[VISIONS[i + 1]]}`
    ));
  }
  /**
   * @param {Uint8Array} bytes the tones of all VISIONS in turn
   * @param {number} stripes
   * @param {Bands} bands
   */
  draw(bytes, stripes, bands) {
    this.swatches.forEach((swatch, i) => {
      swatch.resize(this.side, this.side);
      swatch.draw(
        bytes,
        (i + 1) * toneBytes(stripes),
        stripes,
        bands,
        pixelsForRepeat(bands, swatch.canvas.width)
      );
    });
  }
};

// desk/detail_parts.js
var SIGNS = { caution: "!", comfort: "✓", fact: "·" };
var FIGURES = ["", "ΔE00 least", "mean", "ΔL* least", "ratio least"];
function remarkItems(data) {
  return data.remarks.map(([kind, text]) => make(
    "li",
    { class: `cc-${kind}` },
    make("span", { class: "cc-sign", "aria-hidden": "true", text: SIGNS[kind] }),
    make("span", { text })
  ));
}
function lockButtons(data, act) {
  const lock = (part, colour, what, fields) => {
    const [name, hex, locked] = colour;
    const text = `${part}: ${name}`;
    return make(
      "button",
      {
        type: "button",
        class: "cc-lock",
        "aria-pressed": String(locked),
        title: `${locked ? "Unlock" : "Lock"} ${text}: new ideas ${locked ? "may change it" : "leave it alone"}`,
        onclick: () => act(what, fields)
      },
      chip(hex),
      make("span", { text }),
      make("span", { class: "cc-lock-state", text: locked ? "locked" : "free" })
    );
  };
  return [lock("ground", data.ground, "lock_ground", {}), ...data.stripes.map((stripe, i) => lock(`stripe ${i + 1}`, stripe, "lock_stripe", { place: i + 1 }))];
}
function tonesTable(data) {
  return make(
    "table",
    {},
    make("caption", { class: "cc-unseen", text: `Tones of ${data.title}` }),
    make("tbody", {}, ...data.tones.map(([name, hex]) => make(
      "tr",
      {},
      make("td", {}, chip(hex)),
      make("th", { scope: "row", text: name }),
      make("td", { class: "cc-hex", text: hex })
    )))
  );
}
function figuresTable(data) {
  return [
    make(
      "table",
      {},
      make("thead", {}, make("tr", {}, ...FIGURES.map((text) => make("th", { scope: "col", text })))),
      make("tbody", {}, ...data.figures.map(([label, ...numbers]) => make(
        "tr",
        {},
        make("th", { scope: "row", text: label }),
        ...numbers.map((text) => make("td", { text }))
      )))
    ),
    make("p", { class: "cc-quiet", text: data.yardstick })
  ];
}
function chip(hex) {
  const node = make("span", { class: "cc-chip", "aria-hidden": "true" });
  node.style.background = hex;
  return node;
}

// desk/detail.js
var Detail = class {
  /** @type {number | undefined} the colourway asked for; `data` may still be of the one before */
  number;
  /** @type {Details | undefined} */
  data;
  /** Its tones, as each of VISIONS sees them in turn. */
  bytes = new Uint8Array(0);
  /**
   * @param {Desk} desk
   * @param {boolean} [large] the enlarged view; the other stands beside the wall
   */
  constructor(desk, large = false) {
    this.desk = desk;
    this.large = large;
    this.title = make("h3", { class: "cc-title" });
    this.words = make("p", { class: "cc-quiet" });
    this.actions = make("div", { class: "cc-row" });
    this.name = this.#field("Name", 500, "name", "N");
    this.note = this.#field("Note", 2e3, "note", "T");
    this.cloth = new ClothFrame(desk, large);
    this.views = new VisionViews(large ? 92 : 64);
    this.remarks = make("ul", { class: "cc-remarks" });
    this.locks = make("div", { class: "cc-locks" });
    this.tones = make("div", {
      class: "cc-tones",
      tabindex: "0",
      role: "group",
      "aria-label": "Tones with names and hex"
    });
    this.figures = make("div", { class: "cc-figures" });
    this.empty = make("p", { class: "cc-quiet", text: "Point at a colourway to look at it closely." });
    this.body = this.#layBody();
    this.root = make(
      "section",
      {
        class: large ? "cc-look cc-large" : "cc-look",
        "aria-label": large ? "Enlarged" : "Close look"
      },
      make("header", { class: "cc-look-head" }, this.title, this.words),
      this.empty,
      this.body
    );
    this.watch = new ResizeObserver(perFrame(() => this.draw()));
    this.watch.observe(this.cloth.root);
  }
  #layBody() {
    const part = (title, body) => make("div", { class: "cc-part" }, make("h4", { text: title }), body);
    const folded = (title, body) => make("details", { class: "cc-fold", open: this.large }, make("summary", { text: title }), body);
    return make(
      "div",
      { class: "cc-look-body", hidden: true },
      this.cloth.root,
      make(
        "div",
        { class: "cc-look-words" },
        this.actions,
        this.name.box,
        this.note.box,
        part("In plain words", this.remarks),
        part("As others see it", this.views.root)
      ),
      make(
        "div",
        { class: "cc-look-more" },
        part("Lock for new ideas", this.locks),
        folded("Scores", this.figures),
        folded("Tones", this.tones)
      )
    );
  }
  /**
   * @param {string} label
   * @param {number} longest
   * @param {"name" | "note"} what
   * @param {string} keys
   */
  #field(label, longest, what, keys) {
    const input = make("input", {
      type: "text",
      maxlength: longest,
      class: "cc-input",
      "aria-label": label,
      "aria-keyshortcuts": keys,
      autocomplete: "off",
      onkeydown: (event) => {
        if (event.key !== "Enter" && event.key !== "Escape") return;
        event.preventDefault();
        if (event.key === "Enter") input.blur();
        else {
          event.stopPropagation();
          input.value = this.#known(what);
        }
        this.desk.backToWall();
      },
      onchange: () => {
        const text = input.value;
        if (text !== this.#known(what)) this.desk.act(what, this.number, { text });
      }
    });
    const box = make("label", { class: "cc-field cc-wide" }, make("span", { text: label }), input);
    return { box, input };
  }
  /**
   * Another colourway is asked for: what is typed from now on is for that one.
   * @param {number} number
   */
  expect(number) {
    if (number === this.number) return;
    this.number = number;
    this.name.input.value = this.note.input.value = "";
    say(this.title, this.desk.titleOf(number));
    this.root.setAttribute("aria-busy", "true");
  }
  /**
   * Ask for a change of what is looked at; not while another is still shown.
   * @param {string} what
   * @param {object} [fields]
   */
  #act(what, fields) {
    if (this.data?.number === this.number) this.desk.act(what, this.number, fields);
  }
  /**
   * The name or note of the colourway looked at, as far as it is known here.
   * @param {"name" | "note"} what
   */
  #known(what) {
    return this.data?.number === this.number ? this.data?.[what] ?? "" : "";
  }
  /**
   * Show what the kernel says about a colourway.
   * @param {Details} data
   */
  fill(data) {
    const other = this.data?.number !== data.number;
    this.data = data;
    this.number = data.number;
    this.bytes = bytesOf(data.buffers?.[0]).slice();
    this.root.removeAttribute("aria-busy");
    this.empty.hidden = true;
    this.body.hidden = false;
    say(this.title, data.title);
    say(this.words, data.words);
    this.#fillActions(data);
    for (
      const what of
      /** @type {const} */
      ["name", "note"]
    ) {
      const { input } = this[what];
      const typing = document.activeElement === input && (!other || input.value);
      if (!typing) input.value = data[what];
    }
    this.remarks.replaceChildren(...remarkItems(data));
    refill(this.locks, lockButtons(data, (what, fields) => this.#act(what, fields)));
    this.tones.replaceChildren(tonesTable(data));
    this.figures.replaceChildren(...figuresTable(data));
    this.views.label(data);
    this.draw();
  }
  /** @param {Details} data */
  #fillActions(data) {
    const kept = data.kept !== 0;
    const buttons = [
      button(
        kept ? "Drop" : "Keep",
        () => this.#act(kept ? "drop" : "keep"),
        { keys: "K", kind: kept ? "" : "cc-strong" }
      ),
      button("Lay beside", () => this.#act("compare"), { keys: "C", pressed: data.compared }),
      button("More like this", () => this.#act("more"), { keys: "M" })
    ];
    if (!this.large) buttons.push(button("Enlarge", () => this.desk.enlarge(), { keys: "Enter" }));
    refill(this.actions, buttons);
  }
  /**
   * While a slider moves: the cloth at once, the words when the kernel has said them.
   * @param {number} index of what is looked at, on the wall
   */
  follow(index) {
    const { tones: tones2 } = this.desk;
    const stripes = tones2.stripes(index);
    if (!stripes || this.data?.number !== this.number || this.data?.count !== stripes) return;
    const size = toneBytes(stripes);
    VISIONS.forEach((vision, i) => tones2.mix(index, vision, this.bytes, i * size));
    this.draw();
  }
  draw() {
    const { data } = this;
    if (!data || !this.root.isConnected || !this.bytes.length) return;
    if (!this.cloth.draw(this.bytes, data)) return;
    this.views.draw(this.bytes, data.count, this.desk.bands(data.count));
  }
  /** The cloth of the large view moves under the pointer. @param {number} x @param {number} y */
  panBy(x, y) {
    this.cloth.panBy(x, y);
    this.draw();
  }
  close() {
    this.watch.disconnect();
  }
};

// desk/dialog.js
var CARD_MM = [85.6, 53.98];
var Dialog = class {
  constructor() {
    this.root = make("dialog", { class: "cc-dialog" });
  }
  get open() {
    return this.root.open;
  }
  /**
   * @param {string} title
   * @param {HTMLElement} body
   */
  show(title, body) {
    this.root.setAttribute("aria-label", title);
    this.root.replaceChildren(make(
      "div",
      { class: "cc-row cc-dialog-head" },
      make("h3", { class: "cc-title", text: title }),
      make("span", { class: "cc-spring" }),
      button("Close", () => this.close(), { keys: "Escape" })
    ), body);
    this.root.showModal();
  }
  close() {
    this.root.close();
  }
};
function bankCard(settle) {
  const card = make("div", {
    class: "cc-card",
    role: "img",
    "aria-label": "Rectangle to match with a bank card"
  });
  const words = make("p", { class: "cc-quiet", role: "status" });
  const slide = make("input", {
    type: "range",
    min: 50,
    max: 300,
    step: 0.25,
    value: screenPixels(),
    class: "cc-range",
    "aria-label": "Size of the rectangle"
  });
  const show = () => {
    [card.style.width, card.style.height] = CARD_MM.map((mm) => `${mm / 25.4 * Number(slide.value)}px`);
    const text = `${Number(slide.value).toFixed(1)} CSS pixels an inch`;
    slide.setAttribute("aria-valuetext", text);
    say(words, text);
  };
  slide.addEventListener("input", show);
  show();
  return make(
    "div",
    {},
    make("p", { text: "Hold a bank card (85.60 × 53.98 mm, ISO/IEC 7810 ID-1) against the screen, and move the slider until the rectangle is as large. Browser zoom undoes it." }),
    card,
    slide,
    words,
    make(
      "div",
      { class: "cc-row" },
      button("Use this size", () => settle(Number(slide.value)), { kind: "cc-strong" }),
      button("Back to 96 an inch", () => settle(CSS_PER_INCH))
    )
  );
}

// desk/enlarged.js
var NEIGHBOUR = 36;
var ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
var Enlarged = class {
  /** @type {number | undefined} the index walked to, if any */
  #walked;
  /**
   * @param {Desk} desk
   * @param {Grid} grid
   */
  constructor(desk, grid) {
    this.desk = desk;
    this.grid = grid;
    this.detail = new Detail(desk, true);
    const neighbour = (step) => make("button", {
      type: "button",
      class: "cc-neighbour",
      hidden: true,
      onclick: () => this.#walk(step)
    });
    this.before = neighbour(-1);
    this.after = neighbour(1);
    this.root = make(
      "dialog",
      {
        class: "cc-dialog cc-enlarged",
        tabindex: "-1",
        "aria-label": "Enlarged colourway",
        onclose: () => this.#closed(),
        onkeydown: (event) => this.#key(event)
      },
      make(
        "div",
        { class: "cc-row cc-dialog-head" },
        this.before,
        make("span", { class: "cc-spring" }),
        this.after,
        button("Close", () => this.root.close(), { keys: "Escape" })
      ),
      this.detail.root
    );
  }
  get open() {
    return this.root.open;
  }
  show() {
    if (!this.open) this.root.showModal();
    this.root.focus();
  }
  /** @param {Details} data */
  fill(data) {
    this.detail.fill(data);
    const { list, rank, number, current } = this.grid;
    const at = rank.get(current) ?? -1;
    const onWall = at >= 0 && number === data.number;
    this.#fillNeighbour(this.before, onWall ? list[at - 1] : void 0, "← ");
    this.#fillNeighbour(this.after, onWall ? list[at + 1] : void 0, "→ ");
    const focused = document.activeElement;
    const lost = !(focused instanceof HTMLElement) || !this.root.contains(focused) || focused === this.root || focused.hidden;
    if (lost) this.focusCloth();
  }
  focusCloth() {
    this.detail.cloth.frame.focus();
  }
  /**
   * @param {HTMLElement} node
   * @param {number | undefined} index
   * @param {string} arrow
   */
  #fillNeighbour(node, index, arrow) {
    const { tones: tones2, model } = this.desk;
    const stripes = index === void 0 ? 0 : tones2.stripes(index);
    node.hidden = stripes === 0;
    if (index === void 0 || !stripes) return;
    const bands = this.desk.bands(stripes);
    const swatch = new Swatch(NEIGHBOUR, NEIGHBOUR, "");
    swatch.draw(tones2.of(index), 0, stripes, bands, pixelsForRepeat(bands, swatch.canvas.width));
    node.replaceChildren(swatch.canvas, make("span", { text: arrow + model.get("names")[index] }));
  }
  draw() {
    if (this.open) this.detail.draw();
  }
  /** @param {number} steps along the wall */
  #walk(steps) {
    this.grid.by(steps, { focus: false });
    this.#walked = this.grid.current;
  }
  /** The browser gives the focus back to where it was; whoever walked on goes on from there. */
  #closed() {
    if (this.#walked !== void 0) this.grid.go(this.#walked);
    else this.grid.focus();
    this.#walked = void 0;
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    const arrow = ARROWS[event.key];
    if (!arrow || within(event, "input, select")) return;
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    const [x, y] = arrow;
    if (event.shiftKey) this.detail.panBy(-24 * x, -24 * y);
    else this.#walk(x || y * (this.grid.layout?.across ?? 1));
  }
};

// desk/grid_layout.js
var GAP = 14;
var NEAR = 100;
var CAPTION = 22;
function layOut(room, ratio, count) {
  const width = Math.floor(room * ratio);
  if (width < 20) return null;
  const gap = Math.round(GAP * ratio);
  const across = Math.max(1, Math.floor((width + gap) / ((NEAR + GAP) * ratio)));
  const side = Math.floor((width - gap * (across - 1)) / across);
  return {
    ratio,
    across,
    side,
    gap,
    rows: Math.ceil(count / across),
    step: side + Math.round((CAPTION + GAP) * ratio),
    width: across * (side + gap) - gap
  };
}
function positionOf(layout, rank) {
  return {
    x: rank % layout.across * (layout.side + layout.gap),
    y: Math.floor(rank / layout.across) * layout.step
  };
}
function rowsInSight(layout, scrollTop, height) {
  const top = scrollTop * layout.ratio;
  const first = Math.max(0, Math.floor(top / layout.step) - 1);
  const last = Math.ceil((top + height * layout.ratio) / layout.step) + 1;
  return [Math.min(first, layout.rows), Math.min(layout.rows, last)];
}
function scrollFor(layout, rank, scrollTop, height) {
  const top = positionOf(layout, rank).y / layout.ratio;
  const bottom = top + layout.step / layout.ratio;
  if (top < scrollTop) return top;
  return bottom > scrollTop + height ? bottom - height : scrollTop;
}
function rankAfterKey(layout, key, rank, count, height) {
  const page = layout.across * Math.max(1, Math.floor(height * layout.ratio / layout.step));
  const steps = (/* @__PURE__ */ new Map([
    ["ArrowRight", 1],
    ["ArrowLeft", -1],
    ["ArrowDown", layout.across],
    ["ArrowUp", -layout.across],
    ["PageDown", page],
    ["PageUp", -page],
    ["Home", -count],
    ["End", count]
  ])).get(key);
  if (steps === void 0) return void 0;
  const next = rank + steps;
  const column = key === "ArrowUp" || key === "ArrowDown";
  if (column && (next < 0 || next >= count)) return null;
  return Math.min(Math.max(next, 0), count - 1);
}

// desk/options.js
var MARKS = { 0: ["", "not kept"], 1: ["◦", "kept at another strength or mixing"], 2: ["✓", "kept"] };
var Options = class {
  /** @type {Map<number, Option>} */
  #options = /* @__PURE__ */ new Map();
  /**
   * @param {Desk} desk
   * @param {Wall} wall
   */
  constructor(desk, wall) {
    this.desk = desk;
    this.wall = wall;
  }
  /**
   * Put the options of these colourways into the document, and take the others out.
   * @param {number[]} indices
   */
  show(indices) {
    const { wall } = this;
    const wanted = new Set(indices);
    if (wall.rank.has(wall.current)) wanted.add(wall.current);
    for (const [index, { node }] of this.#options) {
      if (wanted.has(index)) continue;
      const focused = node.contains(document.activeElement);
      node.remove();
      this.#options.delete(index);
      if (focused) wall.scroll.focus({ preventScroll: true });
    }
    for (const index of wanted) {
      const option = this.#options.get(index) ?? this.#add(index);
      this.#place(option.node, index);
      this.#describe(option, index);
    }
  }
  /** @param {number} index */
  #add(index) {
    const tick = make("span", { class: "cc-tick", "aria-hidden": "true" });
    const caption = make("span", { class: "cc-caption", "aria-hidden": "true" });
    const node = make("div", { class: "cc-option", role: "option", "data-index": index }, tick, caption);
    this.#options.set(index, { node, tick, caption });
    this.wall.sheet.append(node);
    return { node, tick, caption };
  }
  /**
   * @param {HTMLElement} node
   * @param {number} index
   */
  #place(node, index) {
    const { layout } = this.wall;
    if (!layout) return;
    const { x, y } = positionOf(layout, this.#rank(index));
    const px = (device) => `${device / layout.ratio}px`;
    Object.assign(node.style, {
      left: px(x),
      top: px(y),
      width: px(layout.side),
      height: px(layout.side + Math.round(CAPTION * layout.ratio))
    });
    node.style.setProperty("--side", px(layout.side));
  }
  /** @param {number} index */
  #rank(index) {
    return this.wall.rank.get(index) ?? 0;
  }
  /**
   * @param {Option} option
   * @param {number} index
   */
  #describe({ node, tick, caption }, index) {
    const { desk, wall } = this;
    const { model } = desk;
    const rank = this.#rank(index) + 1;
    const number = model.get("numbers")[index];
    const name = model.get("names")[index];
    const mark = model.get("marks")[number] ?? 0;
    const [sign, markWords] = MARKS[mark];
    const letter = desk.letterOf(number);
    const figure = model.get("figures")[index];
    const why = wall.hidden.get(index) ?? "";
    node.dataset.number = String(number);
    node.dataset.mark = String(mark);
    node.classList.toggle("cc-current", index === wall.current);
    node.classList.toggle("cc-hidden", Boolean(why));
    node.tabIndex = index === wall.current ? 0 : -1;
    setAttribute(node, "aria-selected", String(mark === 2));
    setAttribute(node, "aria-setsize", String(wall.list.length));
    setAttribute(node, "aria-posinset", String(rank));
    setAttribute(node, "aria-label", name);
    setAttribute(node, "aria-description", [
      markWords,
      letter && `side by side as ${letter}`,
      figure && `${model.get("figure_words")} ${figure}`,
      why && `hidden: ${why}`
    ].filter(Boolean).join("; "));
    setAttribute(node, "title", why ? `Hidden: ${why}` : name);
    say(tick, sign);
    say(caption, why ? shortReason(why) : [letter, String(rank), figure].filter(Boolean).join(" · "));
  }
  /**
   * Whether an element is the option of a colourway, or within it.
   * @param {number} index
   * @param {Element | null} element
   */
  has(index, element) {
    return this.#options.get(index)?.node.contains(element) ?? false;
  }
  /** @param {number} index */
  focus(index) {
    this.#options.get(index)?.node.focus({ preventScroll: true });
  }
};
function shortReason(why) {
  return why.replace(/(^|; )[^;]* is ([^;,]+, under )/g, "$1$2");
}

// desk/grid.js
var SCALES2 = [
  ["repeat", "one whole repeat"],
  ["0.25", "a quarter of its size"],
  ["0.5", "half its size"],
  ["1", "its true size"]
];
var Grid = class {
  scale = "0.25";
  showHidden = false;
  current = 0;
  // index in the order of the deal
  paints = 0;
  /** @type {number[]} indices in the order shown */
  list = [];
  /** @type {Map<number, number>} position in `list` of each index */
  rank = /* @__PURE__ */ new Map();
  /** @type {Map<number, string>} why an index is hidden */
  hidden = /* @__PURE__ */ new Map();
  /** @type {Layout | null} */
  layout = null;
  #drawn = "";
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.options = new Options(desk, this);
    this.loom = new Loom();
    this.canvas = make("canvas", { class: "cc-wall-canvas", "aria-hidden": "true" });
    this.sheet = make("div", {
      class: "cc-sheet",
      role: "listbox",
      "aria-multiselectable": "true",
      "aria-label": "Wall of colourways",
      onkeydown: (event) => this.#key(event),
      onclick: (event) => this.#click(event),
      ondblclick: (event) => {
        if (indexAt(event) !== null) desk.enlarge();
      },
      onfocusin: (event) => {
        const index = indexAt(event);
        if (index !== null) this.go(index, { focus: false, reveal: false });
      }
    }, this.canvas);
    this.scroll = make("div", { class: "cc-wall", tabindex: "-1" }, this.sheet);
    this.onscroll = perFrame(() => this.paint(true));
    this.scroll.addEventListener("scroll", this.onscroll, { passive: true });
    this.watch = new ResizeObserver(() => this.lay());
    this.watch.observe(this.scroll);
    this.arrange();
  }
  /** The number of the colourway that is current. */
  get number() {
    return this.desk.model.get("numbers")[this.current];
  }
  /** Take in another deal or order, and what is hidden of it. */
  arrange() {
    const { model } = this.desk;
    this.hidden = new Map(model.get("hidden"));
    const order = model.get("order");
    const count = model.get("numbers").length;
    this.list = (this.showHidden ? [...order, ...this.hidden.keys()] : order).filter((index) => index < count);
    this.rank = new Map(this.list.map((index, rank) => [index, rank]));
    if (!this.rank.has(this.current)) this.current = this.list[0] ?? 0;
    this.lay();
  }
  /** Work out columns and rows for the room there is. */
  lay() {
    const layout = layOut(this.sheet.clientWidth, deviceRatio(), this.list.length);
    if (!layout) return;
    this.layout = layout;
    this.sheet.style.height = `${layout.rows * layout.step / layout.ratio}px`;
    this.#drawn = "";
    this.paint();
  }
  /** Draw the cloth that shows, and unless only its tones changed, what stands around it. */
  paint(clothOnly = false) {
    const { layout } = this;
    if (!layout || !this.sheet.isConnected) return;
    const [first, last] = rowsInSight(layout, this.scroll.scrollTop, this.scroll.clientHeight);
    const from = first * layout.across;
    const to = Math.min(this.list.length, last * layout.across);
    this.#drawCloth(layout, first, last, this.list.slice(from, to));
    const drawn = `${from} ${to}`;
    if (!clothOnly || this.#drawn !== drawn) this.options.show(this.list.slice(from, to));
    this.#drawn = drawn;
    this.scroll.dataset.stamp = String(this.desk.model.get("stamp"));
    this.scroll.dataset.paints = String(this.paints += 1);
  }
  /**
   * @param {Layout} layout
   * @param {number} first row
   * @param {number} last one past the last row
   * @param {number[]} shown indices
   */
  #drawCloth(layout, first, last, shown) {
    const { tones: tones2 } = this.desk;
    const context = this.#place(layout, first, last);
    const top = first * layout.step;
    this.loom.size(layout.side, layout.side);
    const plans = /* @__PURE__ */ new Map();
    shown.forEach((index, i) => {
      const stripes = tones2.stripes(index);
      if (!stripes) return;
      const plan = plans.get(stripes) ?? this.#plan(stripes, layout.side);
      plans.set(stripes, plan);
      const { x, y } = positionOf(layout, first * layout.across + i);
      this.loom.draw(context, x, y - top, tones2.of(index), 0, stripes, plan);
    });
  }
  /** Lay the canvas over the rows that are drawn, empty. */
  #place(layout, first, last) {
    const { canvas } = this;
    const { width, ratio } = layout;
    const height = Math.max(1, (last - first) * layout.step);
    if (canvas.width !== width || canvas.height !== height) {
      Object.assign(canvas, { width, height });
      canvas.style.width = `${width / ratio}px`;
      canvas.style.height = `${height / ratio}px`;
    }
    canvas.style.top = `${first * layout.step / ratio}px`;
    const context = contextOf(canvas);
    context.clearRect(0, 0, width, height);
    return context;
  }
  /**
   * @param {number} stripes
   * @param {number} side device pixels
   */
  #plan(stripes, side) {
    const bands = this.desk.bands(stripes);
    const pixels = this.scale === "repeat" ? pixelsForRepeat(bands, side) : checkPixels(this.desk.inches, Number(this.scale));
    this.scroll.dataset.pixels = String(pixels);
    return planOf(bands, pixels, side);
  }
  /** @param {MouseEvent} event */
  #click(event) {
    const index = indexAt(event);
    if (index === null) return;
    const ticked = within(event, ".cc-tick");
    this.go(index);
    if (ticked || event.ctrlKey || event.metaKey) this.desk.act("toggle", this.number);
  }
  /**
   * Make a colourway the current one, and bring it into sight.
   * @param {number} index
   * @param {{focus?: boolean, reveal?: boolean}} [options]
   */
  go(index, { focus = true, reveal = true } = {}) {
    const rank = this.rank.get(index);
    if (rank === void 0) return;
    const moved = index !== this.current;
    this.current = index;
    if (reveal && this.layout) {
      const { scroll } = this;
      scroll.scrollTop = scrollFor(this.layout, rank, scroll.scrollTop, scroll.clientHeight);
    }
    this.paint();
    if (focus) this.focus();
    if (moved) this.desk.lookAt(this.number);
    else this.desk.pointAt(this.number);
  }
  /**
   * Move by so many along the wall; stays within it.
   * @param {number} steps
   * @param {{focus?: boolean, reveal?: boolean}} [options]
   */
  by(steps, options) {
    const rank = (this.rank.get(this.current) ?? 0) + steps;
    this.go(this.list[Math.min(Math.max(rank, 0), this.list.length - 1)], options);
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || indexAt(event) === null) return;
    if (!this.layout) return;
    const rank = this.rank.get(this.current) ?? 0;
    const next = rankAfterKey(this.layout, event.key, rank, this.list.length, this.scroll.clientHeight);
    if (next === void 0) return;
    event.preventDefault();
    if (next !== null) this.go(this.list[next]);
  }
  /**
   * Keep the focus on the colourway that is current when the order changes under it.
   * @param {() => void} act
   */
  keepFocus(act) {
    const focused = this.options.has(this.current, document.activeElement);
    act();
    if (focused) this.focus();
  }
  focus() {
    this.options.focus(this.current);
  }
  close() {
    this.watch.disconnect();
    this.onscroll.stop();
  }
};
function indexAt(event) {
  const option = within(event, ".cc-option");
  return option ? Number(option.dataset.index) : null;
}

// desk/keys.js
var KEYS = [
  ["Arrow keys, Home, End, Page Up, Page Down", "move along the wall"],
  ["K or Space", "keep, or drop what is kept"],
  ["Enter", "enlarge"],
  ["Escape", "back to the wall"],
  ["N", "name it"],
  ["T", "write a note to it"],
  ["C", "lay it beside others"],
  ["M", "more like this"],
  ["D", "something different"],
  ["U or Ctrl+Z", "undo"],
  ["R or Ctrl+Shift+Z", "redo"],
  ["Shift + ← →", "on a kept colourway: move it; enlarged: move the cloth"],
  ["Delete", "on a kept colourway: drop it"],
  ["?", "this list"]
];
var ACTIONS = /* @__PURE__ */ new Map([
  ["k", "toggle"],
  [" ", "toggle"],
  ["Enter", "enlarge"],
  ["n", "name"],
  ["t", "note"],
  ["c", "compare"],
  ["m", "more"],
  ["d", "different"],
  ["u", "undo"],
  ["r", "redo"],
  ["?", "keys"]
]);
function actionOf(event, where) {
  if (where.typing || event.altKey) return null;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (event.ctrlKey || event.metaKey) return stepOf(key, event.shiftKey);
  return where.dialog || isHeld(key, where) ? null : ACTIONS.get(key) ?? null;
}
function isHeld(key, { onControl, enlarged }) {
  if (key === "Enter" && enlarged) return true;
  return onControl && (key === " " || key === "Enter");
}
function stepOf(key, shift) {
  if (key === "y" || key === "z" && shift) return "redo";
  return key === "z" ? "undo" : null;
}
function listOfKeys() {
  return make(
    "dl",
    { class: "cc-keys" },
    ...KEYS.flatMap(([keys, words]) => [make("dt", { text: keys }), make("dd", { text: words })])
  );
}

// desk/link.js
var PATIENCE = 4e3;
var AGAIN = 5e3;
var DOUBT = 1200;
var links = 0;
var Link = class {
  quiet = false;
  #next = 0;
  /** @type {Map<string, Request>} */
  #waiting = /* @__PURE__ */ new Map();
  /** @type {Set<string>} */
  #pings = /* @__PURE__ */ new Set();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #doubt;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #again;
  /**
   * @param {Model} model
   * @param {(quiet: boolean) => void} onquiet whether the kernel has not answered for a while
   */
  constructor(model, onquiet) {
    this.model = model;
    this.onquiet = onquiet;
    this.view = `${Date.now().toString(36)}-${links += 1}`;
    model.on("msg:custom", this.#answer);
  }
  /**
   * Ask the kernel; resolves with {…, buffers}, rejects with the kernel's own words.
   * @param {string} what
   * @param {object} [fields]
   * @returns {Promise<any>}
   */
  ask(what, fields = {}) {
    const id = `${this.view}/${this.#next += 1}`;
    if (what === "ping") this.#pings.add(id);
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => this.#setQuiet(true), PATIENCE);
      this.#waiting.set(id, { resolve, reject, timer });
      try {
        this.model.send({ ...fields, do: what, id });
      } catch {
        this.#setQuiet(true);
      }
    });
  }
  /**
   * @param {{id?: string, error?: string} | null} message
   * @param {ArrayBufferView[]} [buffers]
   */
  #answer = (message, buffers) => {
    const id = message?.id ?? "";
    const request = this.#waiting.get(id);
    if (!request) return;
    clearTimeout(request.timer);
    this.#waiting.delete(id);
    this.#pings.delete(id);
    this.#setQuiet(false);
    if (message?.error) request.reject(new Error(message.error));
    else request.resolve({ ...message, buffers });
  };
  /** The kernel should be doing something: find out, unless an answer is due anyway. */
  expect() {
    clearTimeout(this.#doubt);
    this.#doubt = setTimeout(() => {
      if (!this.#waiting.size) this.#ping();
    }, DOUBT);
  }
  /** The kernel did do something. */
  heard() {
    clearTimeout(this.#doubt);
    this.#setQuiet(false);
  }
  /** @param {boolean} quiet */
  #setQuiet(quiet) {
    if (quiet !== this.quiet) {
      this.quiet = quiet;
      this.onquiet(quiet);
    }
    clearTimeout(this.#again);
    if (quiet) this.#again = setTimeout(() => this.#retry(), AGAIN);
  }
  #ping() {
    this.ask("ping").catch(() => {
    });
  }
  /** While it is quiet ask now and then, one question at a time. */
  #retry() {
    if (!this.#pings.size) this.#ping();
    clearTimeout(this.#again);
    this.#again = setTimeout(() => this.#retry(), AGAIN);
  }
  close() {
    this.model.off("msg:custom", this.#answer);
    clearTimeout(this.#doubt);
    clearTimeout(this.#again);
    for (const { timer } of this.#waiting.values()) clearTimeout(timer);
    this.#waiting.clear();
  }
};

// desk/notices.js
var MOST_OFFERED = 5;
var Notices = class {
  /**
   * @param {Desk} desk
   * @param {HTMLElement} root of the desk
   */
  constructor(desk, root) {
    this.desk = desk;
    this.root = root;
    this.banner = make("div", { class: "cc-banner", role: "alert", hidden: true });
    this.offer = make("div", { class: "cc-offer" });
    this.status = make("p", { class: "cc-status", role: "status", "aria-live": "polite" });
  }
  fill() {
    this.#showOffer();
    this.#showMessage();
  }
  /** @param {boolean} quiet */
  showQuiet(quiet) {
    const { saved } = this.desk.model.get("facts");
    this.root.classList.toggle("cc-quieted", quiet);
    this.banner.hidden = !quiet;
    if (!quiet) return;
    say(this.banner, `The kernel is not answering: it may be busy, stopped or restarted. ${saved ? `What you kept is safe (${saved}). ` : ""}Changes made from now on wait for it; if it was restarted, run the notebook again.`);
  }
  #showMessage() {
    const { message, retired } = this.desk.model.get("facts");
    if (retired) {
      this.root.classList.add("cc-retired");
      this.root.inert = true;
      this.banner.hidden = false;
      say(this.banner, "This desk was closed, because it was opened again elsewhere. Everything on it is there.");
    }
    this.status.classList.toggle("cc-wrong", message.startsWith("Not done"));
    say(this.status, message);
  }
  /** @param {string} text */
  complain(text) {
    this.status.classList.add("cc-wrong");
    say(this.status, `Not done: ${text}`);
  }
  #showOffer() {
    const { offer } = this.desk.model.get("facts");
    this.offer.hidden = !offer.length;
    this.offer.replaceChildren(
      make("p", { text: "Kept in an earlier session, and left as it is:" }),
      ...offer.slice(0, MOST_OFFERED).map(({ file, words, fault }) => make(
        "div",
        { class: "cc-row" },
        make("span", { text: words }),
        fault ? null : button(
          "Take onto this desk",
          () => this.desk.act("take", 0, { file }),
          { label: `Take ${words} onto this desk`, kind: "cc-small" }
        )
      )),
      button("Not now", () => this.desk.act("dismiss"), { kind: "cc-small" })
    );
  }
};

// desk/setting_values.js
var EACH = "each its own";
function sizeIndex(sizes, text) {
  return sizes.findIndex(([one]) => one === text);
}
function inchesOf(sizes, text) {
  return sizes[sizeIndex(sizes, text)]?.[1];
}
function strengthPerCent(strength, own) {
  return Math.round((strength ?? own) * 100);
}
function strengthText(strength) {
  return strength === null ? EACH : `${Number((strength * 100).toFixed(2))} %`;
}
function mixingOptions(mixings, mixing) {
  const options = mixings.map(([name, words]) => [name, words]);
  return mixing === "" ? [["", "as each came"], ...options] : options;
}
function meaningOf(mixings, mixing) {
  return mixings.find(([name]) => name === mixing)?.[2] ?? "";
}
function countOptions(counts, count) {
  const numbers = [.../* @__PURE__ */ new Set([...counts, count])].sort((a, b) => a - b);
  return numbers.map((number) => [String(number), `${number} at most`]);
}
function repeatWords(inches, size) {
  const short = (number) => String(Number(number.toFixed(3)));
  const inInches = `${short(inches)} in`;
  const millimetres = `${short(inches * 25.4)} mm`;
  if (!size.endsWith("m")) return `${inInches} (${millimetres})`;
  return size.endsWith("cm") ? `${short(inches * 2.54)} cm (${inInches})` : `${millimetres} (${inInches})`;
}

// desk/settings.js
var Settings = class {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    const change = desk.change.bind(desk);
    this.size = slider("Check size", (index) => change("size", this.choices.sizes[index][0]));
    this.stripes = slider("Stripes", (stripes) => change("stripes", stripes));
    this.strength = slider("Overlay strength", (perCent) => change("strength", perCent / 100));
    this.strength.input.max = "100";
    this.palette = choice("Palette", [], "", (name) => change("palette", name));
    this.ground = choice("Ground", [], "", (name) => change("ground", name));
    this.mixing = choice("Mixing", [], "", (name) => change("mixing", name));
    this.count = choice("How many", [], "", (text) => change("count", Number(text)));
    this.typed = this.#typedSize();
    this.sliders = [this.size.box, this.stripes.box, this.strength.box];
    this.fields = [this.ground.box, this.mixing.box, this.count.box, this.typed.box];
    this.fill();
  }
  get choices() {
    return this.desk.model.get("choices");
  }
  /** A check size as text: the kernel reads it, and says beside the field what it could not read. */
  #typedSize() {
    const said = make("span", { class: "cc-field-said", role: "status" });
    const input = make("input", {
      type: "text",
      class: "cc-input",
      maxlength: 40,
      placeholder: "7 mm, 3/16 in",
      "aria-label": "Check size, typed",
      autocomplete: "off",
      onchange: async () => {
        const text = input.value.trim();
        const wrong = text ? await this.#send(text) : "";
        if (!wrong && input.value.trim() === text) input.value = "";
        setAttribute(input, "aria-invalid", String(Boolean(wrong)));
        say(said, wrong);
      }
    });
    const box = make(
      "label",
      { class: "cc-field" },
      make("span", { text: "Check size, typed" }),
      input,
      said
    );
    return { box, input };
  }
  /**
   * @param {string} text
   * @returns {Promise<string>} why it was refused, or ""
   */
  async #send(text) {
    try {
      await this.desk.request("size", { text });
    } catch (error) {
      return error instanceof Error ? error.message : String(error);
    }
    return "";
  }
  /** Show what the kernel or the page set. */
  fill() {
    const { model } = this.desk;
    const { sizes, stripes, palettes, grounds, mixings, counts } = this.choices;
    const [size, mixing, strength] = [model.get("size"), model.get("mixing"), model.get("strength")];
    this.size.input.max = String(sizes.length - 1);
    this.size.show(Math.max(0, sizeIndex(sizes, size)), size);
    [this.stripes.input.min, this.stripes.input.max] = stripes.map(String);
    this.stripes.show(model.get("stripes"), String(model.get("stripes")));
    this.strength.show(
      strengthPerCent(strength, this.desk.tones.meanStrength),
      strengthText(strength)
    );
    pick(this.palette, palettes.map((name) => [name, name]), model.get("palette"));
    pick(this.ground, grounds, model.get("ground"));
    pick(this.mixing, mixingOptions(mixings, mixing), mixing);
    this.mixing.select.title = meaningOf(mixings, mixing);
    pick(this.count, countOptions(counts, model.get("count")), String(model.get("count")));
  }
};
function pick({ select }, options, value) {
  setOptions(select, options);
  if (select.value !== value) select.value = value;
}
function slider(label, onmove) {
  const readout = make("span", { class: "cc-slider-value", "aria-hidden": "true" });
  const input = make("input", {
    type: "range",
    class: "cc-range",
    min: 0,
    step: 1,
    "aria-label": label,
    oninput: () => onmove(Number(input.value))
  });
  const box = make("label", { class: "cc-slider" }, make("span", { text: label }), readout, input);
  const show = (value, words) => {
    if (input.value !== String(value)) input.value = String(value);
    setAttribute(input, "aria-valuetext", words);
    say(readout, words);
  };
  return { box, input, show };
}

// shared/mixing.js
var BANDS = BAND_WEIGHTS.length / 3;
var base = new Float64Array(0);
var gain = new Float64Array(0);
var weft = new Float64Array(0);
var tones = new Float64Array(0);
var LAYOUTS = new Map(Object.entries({
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
  }
}));
function joinChannels(side) {
  for (let i = 0, to = 0; i < side; i++) {
    for (let j = 0; j < side; j++) {
      for (let c = 0; c < 3; c++) {
        tones[to++] = base[3 * i + c] + gain[3 * i + c] * weft[3 * j + c];
      }
    }
  }
}
var WEIGHTS = BAND_WEIGHTS.map((weight) => weight / (1 - 2 * MARGIN));
var OFFSET = MARGIN / (1 - 2 * MARGIN);
function joinSpectra(side) {
  const [bases, gains, wefts, lights] = [base, gain, weft, tones];
  for (let i = 0, to = 0; i < side; i++) {
    for (let j = 0; j < side; j++, to += 3) {
      let red = -OFFSET;
      let green = -OFFSET;
      let blue = -OFFSET;
      for (let band = 0, warpAt = i * BANDS, weftAt = j * BANDS; band < BANDS; band++) {
        const m = 1 + bases[warpAt + band] + gains[warpAt + band] * wefts[weftAt + band];
        const reflectance = m - Math.sqrt(Math.abs(m * m - 1));
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
var DECODINGS = new Map(Object.entries({
  "as-is": {
    channels: 3,
    join: joinChannels,
    toLight: (count) => srgbToLinearInPlace(tones, count),
    encoded: true,
    encode: (value) => value
  },
  light: {
    channels: 3,
    join: joinChannels,
    toLight(count, n) {
      if (n === 1) return;
      for (let k = 0; k < count; k++) tones[k] = Math.max(tones[k], 0) ** n;
    },
    encode: (value, n) => srgbToLinear(value) ** (1 / n)
  },
  absorption: { channels: BANDS, join: joinSpectra, toLight: () => void 0 }
}));
function find({ mixing }, field, name, known) {
  const found = known.get(name);
  if (found !== void 0) return found;
  const allowed = [...known.keys()].join(", ");
  throw new Error(`this page cannot mix "${mixing}": ${field} must be one of ${allowed}, found "${name}"`);
}
function decodingOf(recipe) {
  return find(recipe, "decode", recipe.decode, DECODINGS);
}
function channelsOf(recipe) {
  return decodingOf(recipe).channels;
}
function reserve(terms, values) {
  if (base.length < terms) {
    base = new Float64Array(terms);
    gain = new Float64Array(terms);
    weft = new Float64Array(terms);
  }
  if (tones.length < values) tones = new Float64Array(values);
}
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
function mixTones(recipe, strength, colours, offset, stripes, out, outOffset, vision = "normal") {
  const decoding = decodingOf(recipe);
  const lay = find(recipe, "layout", recipe.layout, LAYOUTS);
  const side = stripes + 1;
  const terms = side * decoding.channels;
  const count = side * side * 3;
  if (offset + terms > colours.length || outOffset + count > out.length) {
    throw new RangeError(
      `${stripes} stripes of ${recipe.mixing} take ${terms} values and ${count} bytes, found ${colours.length - offset} and ${out.length - outOffset}`
    );
  }
  reserve(terms, count);
  layShares(lay, recipe, strength, colours, offset, terms, decoding.channels);
  decoding.join(side);
  if (decoding.encoded && vision === "normal") {
    for (let k = 0; k < count; k++) out[outOffset + k] = tones[k] * 255 + 0.5;
    return;
  }
  decoding.toLight(count, recipe.yuleNielsen);
  seeLinear(tones, count / 3, vision);
  for (let k = 0; k < count; k++) out[outOffset + k] = linearToByte(tones[k]);
}

// desk/tones.js
function colourOffsets(colourways) {
  const offsets = [0];
  for (const { recipe, stripes } of colourways) {
    offsets.push(offsets[offsets.length - 1] + (stripes + 1) * channelsOf(recipe));
  }
  return offsets;
}
function recipeOf([mixing, layout, decode, warpShare, yuleNielsen]) {
  return { mixing, layout, decode, warpShare, yuleNielsen };
}
var WallTones = class {
  /** @type {Entry[]} */
  #entries = [];
  #colours = new Float32Array(0);
  #version = 0;
  /** @type {Map<number, {version: number, bytes: Uint8Array}>} */
  #mixed = /* @__PURE__ */ new Map();
  /** @param {Model} model */
  constructor(model) {
    this.model = model;
    this.take();
  }
  /** Take in what the kernel sent: after a deal, or other colours, mixings or strengths. */
  take() {
    const { model } = this;
    const recipes = model.get("recipes").map(recipeOf);
    const recipe = bytesOf(model.get("recipe_of"));
    const strengths = floatsOf(model.get("strengths"));
    const colourways = [...bytesOf(model.get("counts"))].map((stripes, index) => ({ recipe: recipes[recipe[index]], strength: strengths[index], stripes }));
    this.#colours = floatsOf(model.get("colours"));
    const offsets = colourways.every((one) => one.recipe) ? colourOffsets(colourways) : [];
    const whole = this.#colours.length === offsets[colourways.length];
    this.#entries = whole ? colourways.map((one, index) => ({ ...one, offset: offsets[index] })) : [];
    this.#mixed.clear();
    this.invalidate();
  }
  /** Strength or vision changed: mix anew what is asked for from now on. */
  invalidate() {
    this.#version += 1;
  }
  /** Mean of the colourways' own strengths. */
  get meanStrength() {
    const sum = this.#entries.reduce((total, { strength }) => total + strength, 0);
    return this.#entries.length ? sum / this.#entries.length : 0.5;
  }
  /**
   * How many stripes a colourway has; 0 where it is not on the wall.
   * @param {number} index in the order of the deal
   */
  stripes(index) {
    return this.#entries[index]?.stripes ?? 0;
  }
  /**
   * The tones of a colourway as the wall shows them now.
   * @param {number} index in the order of the deal
   */
  of(index) {
    let mixed = this.#mixed.get(index);
    if (!mixed) {
      mixed = { version: 0, bytes: new Uint8Array(toneBytes(this.stripes(index))) };
      this.#mixed.set(index, mixed);
    }
    if (mixed.version !== this.#version) {
      this.mix(index, this.model.get("vision"), mixed.bytes);
      mixed.version = this.#version;
    }
    return mixed.bytes;
  }
  /**
   * Mix a colourway at the wall's strength, as a vision sees it.
   * @param {number} index
   * @param {string} vision
   * @param {Uint8Array} out
   * @param {number} [outOffset]
   */
  mix(index, vision, out, outOffset = 0) {
    const { recipe, strength, offset, stripes } = this.#entries[index];
    mixTones(
      recipe,
      this.model.get("strength") ?? strength,
      this.#colours,
      offset,
      stripes,
      out,
      outOffset,
      vision
    );
  }
};
function keptTones(kept, colours) {
  const cards = kept.map((card) => ({ strength: card.strength, stripes: card.count, recipe: recipeOf(card.recipe) }));
  const offsets = colourOffsets(cards);
  return cards.map(({ recipe, strength, stripes }, index) => {
    const bytes = new Uint8Array(toneBytes(stripes));
    if (offsets[cards.length] === colours.length) {
      mixTones(recipe, strength, colours, offsets[index], stripes, bytes, 0, "normal");
    }
    return bytes;
  });
}

// desk/shelf.js
var SIDE = 96;
var Shelf = class {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.count = make("h3", { class: "cc-title" });
    this.list = make("ol", { class: "cc-kept" });
    this.saved = make("p", { class: "cc-quiet" });
    this.empty = make("p", {
      class: "cc-quiet",
      text: "Nothing kept yet. Tick a colourway, or press K on it."
    });
    this.root = make(
      "section",
      { class: "cc-shelf", "aria-label": "Kept colourways" },
      make("header", { class: "cc-shelf-head" }, this.count, this.saved),
      this.empty,
      this.list
    );
  }
  fill() {
    const { model } = this.desk;
    const kept = model.get("kept");
    const tones2 = keptTones(kept, floatsOf(model.get("kept_colours")));
    say(this.count, `Kept: ${kept.length}`);
    say(this.saved, model.get("facts").saved || "");
    this.empty.hidden = kept.length > 0;
    this.#keepFocus(() => this.list.replaceChildren(...kept.map((card, index) => this.#card(card, index, kept.length, tones2[index]))));
  }
  /**
   * Lay the cards anew; the focus stays on the same part of the same card, with what is typed.
   * @param {() => void} lay
   */
  #keepFocus(lay) {
    const focused = (
      /** @type {HTMLElement | null} */
      this.list.querySelector(":focus")
    );
    const number = focused?.closest(".cc-kept-one")?.getAttribute("data-number");
    lay();
    if (!focused) return;
    const same = this.list.querySelector(
      `[data-number="${number}"] [data-part="${focused.dataset.part}"]`
    );
    const next = same ?? this.list.querySelector("[data-part]");
    if (same instanceof HTMLInputElement && focused instanceof HTMLInputElement) {
      same.value = focused.value;
    }
    if (next instanceof HTMLElement) next.focus({ preventScroll: true });
  }
  /**
   * @param {KeptCard} card
   * @param {number} index
   * @param {number} total
   * @param {Uint8Array} tones
   */
  #card(card, index, total, tones2) {
    const { desk } = this;
    const words = (text, kind) => make("p", { class: `cc-kept-words ${kind}`, text, title: text });
    return make(
      "li",
      {
        class: "cc-kept-one",
        "data-number": card.number,
        draggable: "true",
        ondragstart: (event) => event.dataTransfer?.setData("text/plain", String(card.number)),
        ondragover: (event) => event.preventDefault(),
        ondrop: (event) => this.#drop(event, index)
      },
      this.#cloth(card, index, tones2),
      this.#name(card),
      words(card.words, ""),
      card.note ? words(card.note, "cc-kept-note") : null,
      make(
        "div",
        { class: "cc-row cc-tight" },
        small("←", `Move ${card.title} earlier`, () => this.#move(card.number, index - 1), index === 0),
        small("→", `Move ${card.title} later`, () => this.#move(card.number, index + 1), index === total - 1),
        small("Beside", `Lay ${card.title} beside others`, () => desk.act("compare", card.number)),
        small("Drop", `Drop ${card.title}`, () => desk.act("drop", card.number))
      )
    );
  }
  /**
   * @param {KeptCard} card
   * @param {number} index
   * @param {Uint8Array} tones
   */
  #cloth(card, index, tones2) {
    const { desk } = this;
    const bands = desk.bands(card.count);
    const swatch = new Swatch(SIDE, SIDE, "");
    swatch.draw(tones2, 0, card.count, bands, pixelsForRepeat(bands, swatch.canvas.width));
    const letter = desk.letterOf(card.number);
    return make("button", {
      type: "button",
      class: "cc-kept-cloth",
      "data-part": "cloth",
      "aria-label": `Look at ${card.title}`,
      "aria-description": card.words,
      title: card.words,
      onclick: () => desk.lookAt(card.number),
      onkeydown: (event) => {
        const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
        if (step && event.shiftKey) {
          event.preventDefault();
          this.#move(card.number, index + step);
        } else if (event.key === "Delete") desk.act("drop", card.number);
      }
    }, swatch.canvas, letter ? make("span", { class: "cc-letter", text: letter }) : null);
  }
  /** @param {KeptCard} card */
  #name(card) {
    const input = make("input", {
      type: "text",
      class: "cc-input",
      maxlength: 500,
      placeholder: "name",
      value: card.name,
      "aria-label": `Name of ${card.title}`,
      "data-part": "name",
      autocomplete: "off",
      onkeydown: (event) => {
        if (event.key === "Escape") input.value = card.name;
        else if (event.key !== "Enter") return;
        event.preventDefault();
        input.blur();
      },
      onchange: () => {
        if (input.value !== card.name) this.desk.act("name", card.number, { text: input.value });
      }
    });
    return input;
  }
  /**
   * @param {number} number
   * @param {number} index
   */
  #move(number, index) {
    this.desk.act("move", number, { place: index });
  }
  /**
   * @param {DragEvent} event
   * @param {number} index
   */
  #drop(event, index) {
    event.preventDefault();
    const number = Number(event.dataTransfer?.getData("text/plain"));
    if (this.desk.model.get("kept").some((card) => card.number === number)) this.#move(number, index);
  }
};
function small(text, label, act, off = false) {
  const node = button(text, act, { label, kind: "cc-small" });
  node.disabled = off;
  node.dataset.part = text;
  return node;
}

// desk/side_by_side.js
var LETTERS = ["A", "B", "C", "D"];
var HEIGHT2 = 200;
var SideBySide = class {
  /** @type {{data: Details, swatch: Swatch, column: HTMLElement}[]} */
  #columns = [];
  #turn = 0;
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.row = make("div", { class: "cc-beside-row" });
    this.root = make(
      "section",
      { class: "cc-beside", "aria-label": "Side by side" },
      make("h3", { class: "cc-title", text: "Side by side, at half their true size" }),
      this.row
    );
  }
  async fill() {
    const numbers = this.desk.model.get("facts").compared;
    this.root.hidden = numbers.length === 0;
    const turn = this.#turn += 1;
    const answers = await Promise.all(numbers.map((number) => this.desk.ask(number).catch(() => null)));
    if (turn === this.#turn) this.#lay(answers.filter((data) => data !== null));
  }
  /** @param {Details[]} all */
  #lay(all) {
    const focused = this.row.contains(document.activeElement);
    this.#columns = all.map((data, i) => this.#column(data, LETTERS[i]));
    this.row.style.setProperty("--many", String(Math.max(2, all.length)));
    this.row.replaceChildren(...this.#columns.map(({ column }) => column));
    if (all.length === 1) {
      this.row.append(make("p", {
        class: "cc-quiet",
        text: "Lay one to three more beside it: press C on a colourway."
      }));
    }
    this.draw();
    if (focused) this.row.querySelector("button")?.focus({ preventScroll: true });
  }
  /**
   * @param {Details} data
   * @param {string} letter
   */
  #column(data, letter) {
    const swatch = new Swatch(40, 40, `Cloth of ${data.title}, ${data.words}`);
    const caution = data.remarks.find(([kind]) => kind === "caution");
    const column = make(
      "article",
      { class: "cc-beside-one" },
      swatch.canvas,
      make("h4", { text: `${letter} · ${data.title}` }),
      make("p", { class: "cc-quiet", text: data.words }),
      make("p", { text: data.figures.slice(0, 2).map(([label, least, , step, ratio]) => `${label}: ΔE00 ${least}, ΔL* ${step}, ${ratio}`).join("; ") }),
      make("p", {
        class: caution ? "cc-caution" : "cc-comfort",
        text: caution ? `! ${caution[1]}` : "✓ no cautions"
      }),
      button(
        "Take away",
        () => this.desk.act("compare", data.number),
        { label: `Take ${data.title} away`, kind: "cc-small" }
      )
    );
    return { data, swatch, column };
  }
  draw() {
    for (const { data, swatch, column } of this.#columns) {
      swatch.resize(Math.max(60, column.clientWidth - 2), HEIGHT2);
      swatch.draw(
        bytesOf(data.buffers?.[0]),
        0,
        data.count,
        this.desk.bands(data.count),
        checkPixels(this.desk.inches, 0.5)
      );
    }
  }
};

// desk/tools.js
var Tools = class {
  /**
   * @param {Desk} desk
   * @param {Grid} grid
   * @param {Settings} settings
   */
  constructor(desk, grid, settings) {
    this.desk = desk;
    const { model } = desk;
    const columns = model.get("columns");
    const act = (what) => () => desk.act(what);
    this.undo = button("Undo", act("undo"), { keys: "U" });
    this.redo = button("Redo", act("redo"), { keys: "R" });
    this.draw = button("New draw", act("draw"), { label: "New draw from the palette" });
    this.scale = choice("Wall shows", SCALES2, grid.scale, (scale) => {
      grid.scale = scale;
      grid.paint();
    });
    this.vision = choice(
      "Seen",
      model.get("visions"),
      "normal",
      (vision) => desk.act("vision", 0, { vision })
    );
    this.sort = choice("Sort by", [["", "as drawn"], ...columns], "", () => this.#sendSort());
    this.direction = choice("from", [["", "greatest"], ["-", "least"]], "", () => this.#sendSort());
    this.column = choice("Hide where", columns, "least_edge", () => {
    });
    this.least = make("input", {
      type: "number",
      class: "cc-input cc-number",
      step: "any",
      value: 3,
      "aria-label": "is under",
      onkeydown: (event) => event.key === "Enter" && this.#sendLimit()
    });
    this.limits = make("div", { class: "cc-chips", role: "list", "aria-label": "Hidden and locked" });
    this.showHidden = make("input", { type: "checkbox", onchange: () => {
      grid.showHidden = this.showHidden.checked;
      grid.keepFocus(() => grid.arrange());
    } });
    this.showHiddenBox = make(
      "label",
      { class: "cc-check" },
      this.showHidden,
      make("span", { text: "show what is hidden, and why" })
    );
    this.words = make("p", { class: "cc-dealt" });
    this.root = this.#lay(settings);
    this.fill();
  }
  /** @param {Settings} settings */
  #lay(settings) {
    const more = make(
      "div",
      { class: "cc-more", hidden: true },
      make(
        "div",
        { class: "cc-row" },
        ...settings.fields,
        this.scale.box,
        this.vision.box,
        this.sort.box,
        this.direction.box
      ),
      make(
        "details",
        { class: "cc-fold" },
        make("summary", { text: "Hide what scores too low" }),
        make(
          "div",
          { class: "cc-row" },
          this.column.box,
          make("label", { class: "cc-field" }, make("span", { text: "is under" }), this.least),
          button("Hide", () => this.#sendLimit(), { label: "Hide these from the wall" })
        )
      )
    );
    const opener = button("More", () => {
      more.hidden = !more.hidden;
      opener.setAttribute("aria-expanded", String(!more.hidden));
    }, { label: "More settings" });
    opener.setAttribute("aria-expanded", "false");
    return make(
      "div",
      { class: "cc-tools" },
      make(
        "div",
        { class: "cc-settings", role: "group", "aria-label": "The draw" },
        ...settings.sliders,
        opener
      ),
      more,
      make(
        "div",
        { class: "cc-row cc-bar-row" },
        settings.palette.box,
        this.draw,
        button("Something different", () => this.desk.act("different"), { keys: "D" }),
        make("span", { class: "cc-spring" }),
        this.undo,
        this.redo
      ),
      make(
        "div",
        { class: "cc-row cc-dealt-row" },
        this.words,
        this.showHiddenBox,
        make("span", { class: "cc-spring" }),
        button("Keys", () => this.desk.showKeys(), { keys: "?" })
      ),
      this.limits
    );
  }
  #sendSort() {
    const sort = this.sort.select.value;
    this.desk.act("sort", 0, { sort: sort ? this.direction.select.value + sort : "" });
  }
  #sendLimit() {
    this.desk.act("limit", 0, { column: this.column.select.value, least: Number(this.least.value) });
  }
  fill() {
    const { model } = this.desk;
    const facts = model.get("facts");
    const hidden = model.get("hidden").length;
    const shown = model.get("numbers").length - hidden;
    say(this.words, `${shown} ${shown === 1 ? "colourway" : "colourways"}${hidden ? `, ${hidden} hidden` : ""}: ${facts.dealt}`);
    showStep(this.undo, facts.undo, "Undo");
    showStep(this.redo, facts.redo, "Redo");
    this.vision.select.value = model.get("vision");
    this.sort.select.value = facts.sort.replace(/^-/, "");
    this.direction.select.value = facts.sort.startsWith("-") ? "-" : "";
    this.direction.box.hidden = !facts.sort;
    this.showHiddenBox.hidden = !hidden;
    this.#fillLimits();
  }
  #fillLimits() {
    const { desk } = this;
    const { limits, locks } = desk.model.get("facts");
    this.limits.hidden = !limits.length && !locks.length;
    refill(this.limits, [
      ...limits.map(({ column, words }) => tag(
        words,
        `Stop hiding: ${words}`,
        () => desk.act("unlimit", 0, { column })
      )),
      ...locks.map(({ words, place }) => tag(
        `locked: ${words}`,
        `Unlock ${words}`,
        () => desk.act("unlock", 0, { place })
      ))
    ], this.draw);
  }
};
function showStep(node, words, verb) {
  node.setAttribute("aria-disabled", String(!words));
  node.classList.toggle("cc-off", !words);
  node.title = words ? `${verb}: ${words}` : `Nothing to ${verb.toLowerCase()}`;
}
function tag(text, label, act) {
  return make(
    "span",
    { class: "cc-tag", role: "listitem" },
    make("span", { text }),
    button("×", act, { label, kind: "cc-small" })
  );
}

// desk/view.js
var seen = /* @__PURE__ */ new Set();
var SETTINGS = ["size", "strength", "stripes", "palette", "ground", "mixing", "count", "choices"];
var DeskView = class {
  /** @type {[event: string, act: () => void][]} */
  #heard = [];
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #again;
  closed = false;
  /**
   * @param {Model} model
   * @param {HTMLElement} root
   */
  constructor(model, root) {
    this.model = model;
    this.root = root;
    root.classList.add("cc");
    root.setAttribute("data-lm-suppress-shortcuts", "true");
    root.setAttribute("role", "region");
    root.setAttribute("aria-label", "Desk of colourways");
    this.link = new Link(model, (quiet) => this.notices.showQuiet(quiet));
    this.guard = new PressGuard(root);
    this.inches = inchesOf(model.get("choices").sizes, model.get("size")) ?? 0.5;
    this.dealt = model.get("dealt");
    this.tones = new WallTones(model);
    this.notices = new Notices(this, root);
    this.grid = new Grid(this);
    this.settings = new Settings(this);
    this.tools = new Tools(this, this.grid, this.settings);
    this.detail = new Detail(this);
    this.enlarged = new Enlarged(this, this.grid);
    this.shelf = new Shelf(this);
    this.sideBySide = new SideBySide(this);
    this.dialog = new Dialog();
    root.append(
      this.notices.banner,
      this.notices.offer,
      this.tools.root,
      make("div", { class: "cc-main" }, this.grid.scroll, this.detail.root),
      this.notices.status,
      this.sideBySide.root,
      this.shelf.root,
      this.enlarged.root,
      this.dialog.root
    );
    root.addEventListener("keydown", (event) => this.#key(event));
    this.recolour = perFrame(() => this.#recolour());
    this.rescale = perFrame(() => this.#drawAll(true));
    this.#hear();
    this.shelf.fill();
    this.sideBySide.fill();
    this.notices.fill();
    requestAnimationFrame(() => this.grid.lay());
    if (this.grid.list.length) this.lookAt(this.grid.number);
    this.#comeIntoSight();
  }
  /** Running all cells scrolls past the desk; a desk just opened comes back into sight, once. */
  #comeIntoSight() {
    const born = this.model.get("born");
    if (seen.has(born) || Math.abs(Date.now() / 1e3 - born) > 20) return;
    seen.add(born);
    let touched = false;
    const touch = () => {
      touched = true;
    };
    const events = ["wheel", "pointerdown", "keydown", "touchstart"];
    events.forEach((name) => addEventListener(name, touch, { capture: true, passive: true }));
    const until = Date.now() + 2500;
    const look = () => {
      const box = this.root.closest(".widget-vbox") ?? this.root;
      const { top, bottom } = box.getBoundingClientRect();
      const away = bottom < 200 || top > innerHeight - 200;
      if (!touched && away && this.root.isConnected) box.scrollIntoView({ block: "start" });
      if (!this.closed && !touched && Date.now() < until) setTimeout(look, 250);
      else events.forEach((name) => removeEventListener(name, touch, { capture: true }));
    };
    setTimeout(look, 250);
  }
  // -- what the parts ask for ----------------------------------------------------------------
  /** @param {number} stripes */
  bands(stripes) {
    return this.model.get("bands")[String(stripes)];
  }
  /** @param {number} stripes */
  repeatWords(stripes) {
    return repeatWords(this.inches * checksIn(this.bands(stripes)), this.model.get("size"));
  }
  /** @param {number} number */
  titleOf(number) {
    const kept = this.model.get("kept").find((card) => card.number === number);
    return kept?.title ?? this.model.get("names")[this.#indexOf(number)] ?? "";
  }
  /** @param {number} number */
  letterOf(number) {
    return LETTERS[this.model.get("facts").compared.indexOf(number)] ?? "";
  }
  /**
   * Index of a colourway in the order of the deal; -1 where it is not on the wall.
   * @param {number | undefined} number
   */
  #indexOf(number) {
    return number === void 0 ? -1 : this.model.get("numbers").indexOf(number);
  }
  /**
   * What keys act on: what is looked at, unless it has left the desk with the last step.
   * @returns {number | undefined}
   */
  get number() {
    const { number } = this.detail;
    const there = this.#indexOf(number) >= 0 || this.model.get("kept").some((card) => card.number === number);
    if (there) return number;
    return this.grid.list.length ? this.grid.number : void 0;
  }
  // -- hearing the model ---------------------------------------------------------------------
  #hear() {
    this.#on("change:stamp", () => this.#takeWall());
    this.#on("change:order", () => this.grid.keepFocus(() => this.grid.arrange()));
    this.#on("change:hidden", () => {
      this.grid.keepFocus(() => this.grid.arrange());
      this.#fill("tools");
    });
    this.#on("change:figures", () => this.#describe());
    this.#on("change:marks", () => this.grid.paint());
    this.#on("change:kept", () => {
      this.#fill("shelf");
      this.#lookAgain();
    });
    this.#on("change:facts", () => {
      this.link.heard();
      ["tools", "shelf", "notices"].forEach((part) => this.#fill(part));
      this.#describe();
    });
    this.#on("change:strength", () => this.recolour());
    this.#on("change:vision", () => {
      this.recolour();
      this.#fill("tools");
    });
    for (const trait of ["size", "choices"]) this.#on(`change:${trait}`, () => this.#takeSize());
    for (const trait of SETTINGS) this.#on(`change:${trait}`, () => this.#fill("settings"));
  }
  /**
   * @param {string} event
   * @param {() => void} act
   */
  #on(event, act) {
    this.model.on(event, act);
    this.#heard.push([event, act]);
  }
  /** Lay a part of the page anew, when no press is under way. @param {string} part */
  #fill(part) {
    const parts = {
      tools: this.tools,
      shelf: this.shelf,
      notices: this.notices,
      settings: this.settings,
      sideBySide: this.sideBySide
    };
    this.guard.after(part, () => {
      if (!this.closed) parts[part].fill();
    });
  }
  /** Another deal, or other colours or recipes of the same. */
  #takeWall() {
    this.link.heard();
    this.tones.take();
    const dealt = this.dealt !== this.model.get("dealt");
    this.dealt = this.model.get("dealt");
    if (dealt) this.grid.keepFocus(() => this.grid.arrange());
    this.#fill("settings");
    this.recolour();
  }
  /** Strength, vision or colours changed: everything on the wall that shows is mixed anew. */
  #recolour() {
    if (this.closed) return;
    this.tones.invalidate();
    this.grid.paint(true);
    const index = this.#indexOf(this.detail.number);
    this.detail.follow(index);
    if (this.enlarged.open) this.enlarged.detail.follow(index);
  }
  #takeSize() {
    const inches = inchesOf(this.model.get("choices").sizes, this.model.get("size"));
    if (inches === void 0 || inches === this.inches) return;
    this.inches = inches;
    this.rescale();
  }
  /**
   * Draw all cloth again.
   * @param {boolean} clothOnly on the wall nothing but cloth: the options stay where they are
   */
  #drawAll(clothOnly) {
    if (this.closed) return;
    this.grid.paint(clothOnly);
    this.detail.draw();
    this.enlarged.draw();
    this.sideBySide.draw();
  }
  #describe() {
    this.grid.paint();
    this.#lookAgain();
  }
  // -- asking the kernel ---------------------------------------------------------------------
  /**
   * Set what the kernel follows; the page has it at once.
   * @template {keyof Traits} K
   * @param {K} trait
   * @param {Traits[K]} value
   */
  change(trait, value) {
    if (this.model.get("facts").retired || this.model.get(trait) === value) return;
    this.model.set(trait, value);
    try {
      this.model.save_changes();
    } catch {
    }
    this.link.expect();
  }
  /**
   * @param {string} what
   * @param {object} fields
   */
  async request(what, fields) {
    if (!this.model.get("facts").retired) await this.link.ask(what, fields);
  }
  /**
   * Ask for a change; say so on the page if it was refused.
   * @param {string} what
   * @param {number} [number]
   * @param {object} [fields]
   */
  async act(what, number = 0, fields = {}) {
    try {
      await this.request(what, { number, ...fields });
    } catch (error) {
      this.#complain(error);
      if (what === "name" || what === "note") this.#fill("shelf");
    }
  }
  /** @param {unknown} error */
  #complain(error) {
    if (!this.closed) this.notices.complain(error instanceof Error ? error.message : String(error));
  }
  /**
   * @param {number} number
   * @returns {Promise<Details>}
   */
  ask(number) {
    return this.link.ask("look", { number });
  }
  /** @param {number} number */
  async lookAt(number) {
    this.detail.expect(number);
    this.enlarged.detail.expect(number);
    let data;
    try {
      data = await this.ask(number);
    } catch (error) {
      if (this.detail.number === number) this.#complain(error);
      return;
    }
    this.#show("detail", data);
    if (this.enlarged.open) this.#show("enlarged", data);
  }
  /**
   * Fill a close look, when no press is under way and unless another was asked for meanwhile.
   * @param {"detail" | "enlarged"} part
   * @param {Details} data
   */
  #show(part, data) {
    this.guard.after(part, () => {
      if (!this.closed && data.number === this.detail.number) this[part].fill(data);
    });
  }
  /** @param {number | undefined} number */
  pointAt(number) {
    if (number !== void 0 && this.detail?.number !== number) this.lookAt(number);
  }
  #lookAgain() {
    clearTimeout(this.#again);
    this.#again = setTimeout(() => {
      if (this.closed) return;
      if (this.number !== void 0) this.lookAt(this.number);
      this.#fill("sideBySide");
    }, 30);
  }
  // -- what keys and buttons do on the page alone ----------------------------------------------
  /** @param {KeyboardEvent} event */
  #key(event) {
    const action = actionOf(event, {
      typing: within(event, 'input:not([type="range"], [type="checkbox"]), select, textarea') !== null,
      onControl: within(event, "button, summary, input") !== null,
      dialog: this.dialog.open,
      enlarged: this.enlarged.open
    });
    if (!action) return;
    event.preventDefault();
    event.stopPropagation();
    const { number } = this;
    const acts = {
      toggle: () => this.act("toggle", number),
      compare: () => this.act("compare", number),
      more: () => this.act("more", number),
      different: () => this.act("different"),
      undo: () => this.act("undo"),
      redo: () => this.act("redo"),
      name: () => this.typeInto("name"),
      note: () => this.typeInto("note"),
      enlarge: () => this.enlarge(),
      keys: () => this.showKeys()
    };
    acts[action]();
  }
  enlarge() {
    this.enlarged.show();
    if (this.number !== void 0) this.lookAt(this.number);
  }
  backToWall() {
    if (this.enlarged.open) this.enlarged.focusCloth();
    else this.grid.focus();
  }
  /** @param {"name" | "note"} which */
  typeInto(which) {
    const { input } = (this.enlarged.open ? this.enlarged.detail : this.detail)[which];
    input.focus();
    input.select();
  }
  showKeys() {
    this.dialog.show("Keys", listOfKeys());
  }
  measure() {
    this.dialog.show("Set true size", bankCard((perInch) => {
      setScreenPixels(perInch);
      this.dialog.close();
      this.#drawAll(false);
    }));
  }
  close() {
    this.closed = true;
    clearTimeout(this.#again);
    for (const [event, act] of this.#heard) this.model.off(event, act);
    this.link.close();
    this.guard.close();
    this.grid.close();
    this.detail.close();
    this.enlarged.detail.close();
    this.recolour.stop();
    this.rescale.stop();
  }
};
var view_default = {
  /** @param {{model: Model, el: HTMLElement}} host */
  render({ model, el }) {
    const root = document.createElement("div");
    el.append(root);
    const view = new DeskView(model, root);
    return () => view.close();
  }
};
export {
  view_default as default
};
