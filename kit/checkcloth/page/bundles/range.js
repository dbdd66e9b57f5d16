// Made from page/ by `npm run build` in .ci/page; not to be edited.

// shared/cloth.js
function toneBytes(stripes, wefts = stripes) {
  return 3 * (stripes + 1) * (wefts + 1);
}
function pixelsOfTones(bytes, offset, stripes, wefts = stripes) {
  const pixels = new Uint32Array((stripes + 1) * (wefts + 1));
  for (let i = 0, at = offset; i < pixels.length; i++, at += 3) {
    pixels[i] = (4278190080 | bytes[at + 2] << 16 | bytes[at + 1] << 8 | bytes[at]) >>> 0;
  }
  return pixels;
}
function checksIn(bands) {
  return bands.reduce((sum, band) => sum + band[1], 0);
}
function planOf(bands, pixels, length, start = 0) {
  const repeat = Math.max(1, nearest(checksIn(bands) * pixels));
  const once = new Uint8Array(repeat);
  let checksBefore = 0;
  for (const [stripe, checks] of bands) {
    const from = nearest(checksBefore * pixels);
    checksBefore += checks;
    once.fill(stripe, from, nearest(checksBefore * pixels));
  }
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
function nearest(number) {
  return Math.floor(number + 0.5 + 1e-9);
}

// shared/words.js
function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

// shared/dom.js
function make(tag, attributes = {}, ...children) {
  const node = document.createElement(tag);
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
    "aria-description": keys && `key ${keys}`,
    // or the title were read out as well
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
  setOptions(select, options, value);
  return { box: labelled(label, select), select };
}
function labelled(words, ...field) {
  return make("label", { class: "cc-field" }, make("span", { text: words }), ...field);
}
function setOptions(select, options, value) {
  const offered = [...select.options].map((option) => [option.value, option.text]);
  if (JSON.stringify(offered) !== JSON.stringify(options)) {
    select.replaceChildren(...options.map(([key, text]) => make("option", { value: key, text })));
  }
  if (select.value !== value) select.value = value;
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

// shared/scale.js
var FEWEST_CHECKS = 13;
var EXACT = 5e-3;
function checksToShow(plans) {
  return plans.reduce((most, bands) => Math.max(most, checksIn(bands) + bands[0][1]), FEWEST_CHECKS);
}
function reductionWords(part) {
  const [share, words] = part > 1 ? enlargement(part) : nearestFraction(part);
  return Math.abs(share / part - 1) < EXACT ? words : `about ${words}`;
}
function enlargement(part) {
  const times = Number(part.toFixed(1));
  return [times, times === 1 ? "true size" : `${times} times true size`];
}
function nearestFraction(part) {
  const n = Math.max(1, Math.floor(1 / part));
  const fractions = [[1, n], [1, n + 1], [2, 3], [3, 4]];
  const distance = ([top2, under2]) => Math.abs(Math.log(top2 / under2 / part));
  const [top, under] = fractions.sort((a, b) => distance(a) - distance(b))[0];
  return [top / under, under === 1 ? "true size" : `${top}/${under} of true size`];
}
function inchWords(inches) {
  const whole = Math.floor(inches);
  const sixteenths = (inches - whole) * 16;
  if (sixteenths === 0 || !Number.isInteger(sixteenths)) return `${Number(inches.toFixed(3))} in`;
  let [top, under] = [sixteenths, 16];
  while (top % 2 === 0) [top, under] = [top / 2, under / 2];
  return `${whole || ""}${whole ? " " : ""}${top}/${under} in`;
}

// shared/stored.js
function stored(key) {
  try {
    return globalThis.localStorage?.getItem(key) ?? "";
  } catch {
    return "";
  }
}
function store(key, text) {
  try {
    if (text) globalThis.localStorage?.setItem(key, text);
    else globalThis.localStorage?.removeItem(key);
  } catch {
  }
}

// shared/swatch.js
var CSS_PER_INCH = 96;
var SCREEN_KEY = "checkcloth: CSS pixels per inch";
function deviceRatio() {
  return globalThis.devicePixelRatio || 1;
}
function screenPixels() {
  const perInch = Number(stored(SCREEN_KEY));
  return perInch > 20 && perInch < 1e3 ? perInch : CSS_PER_INCH;
}
function setScreenPixels(perInch) {
  store(SCREEN_KEY, String(perInch));
}
function contextOf(canvas) {
  return (
    /** @type {CanvasRenderingContext2D} */
    canvas.getContext("2d", { willReadFrequently: true })
  );
}

// range/answers.js
var SAYS = [["yes", "Yes"], ["maybe", "Maybe"], ["no", "No"]];
var KEY = "checkcloth range page: ";
var MOST = 2e3;
var oneLine = (text) => text.replace(/\s+/g, " ").trim().slice(0, MOST);
var Answers = class {
  from = "";
  remark = "";
  /** @type {Map<number, Answer>} */
  #given = /* @__PURE__ */ new Map();
  /**
   * @param {Range} range
   * @param {Store | null} store
   */
  constructor(range, store2) {
    this.range = range;
    this.store = store2;
    this.#recall();
  }
  /** @param {number} number @returns {Answer} */
  of(number) {
    return this.#given.get(number) ?? { say: "", remark: "" };
  }
  /**
   * @param {number} number
   * @param {Partial<Answer>} change
   */
  set(number, change) {
    this.#given.set(number, { ...this.of(number), ...change });
    this.keep();
  }
  /** How many answered, and in words: "3 yes, 1 maybe". */
  count() {
    const says = this.range.colourways.map(({ number }) => this.of(number).say);
    const each = SAYS.map(([say2]) => (
      /** @type {const} */
      [say2, says.filter((one) => one === say2).length]
    ));
    const words = each.filter(([, many]) => many).map(([say2, many]) => `${many} ${say2}`);
    return { done: says.filter(Boolean).length, words: words.join(", ") };
  }
  /**
   * The text for a mail; the kit reads it by reference and number.
   * @param {string} seen what was moved, or ""
   */
  text(seen) {
    const { title, reference, date, colourways } = this.range;
    const lines = [
      `${title}: answers`,
      `Reference ${reference}${date ? `, page of ${date}` : ""}`,
      `From: ${oneLine(this.from) || "(no name)"}`
    ];
    if (seen) lines.push(`Seen last at: ${seen}`);
    lines.push("", ...colourways.map(({ number, name, words }) => {
      const { say: say2, remark } = this.of(number);
      const said = oneLine(remark);
      return `${number} ${oneLine(name || words).replaceAll(":", ",")}: ${say2 || "no answer"}${said ? `. ${said}` : ""}`;
    }));
    if (oneLine(this.remark)) lines.push("", `To all: ${oneLine(this.remark)}`);
    return lines.join("\n");
  }
  /**
   * The same as a small file.
   * @param {string} seen
   */
  file(seen) {
    const { title, reference, date, colourways } = this.range;
    return JSON.stringify({
      format: "checkcloth answers",
      version: 1,
      title,
      reference,
      date,
      from: oneLine(this.from),
      seen,
      remark: oneLine(this.remark),
      answers: colourways.map(({ number, name, words }) => {
        const { say: say2, remark } = this.of(number);
        return { number, name: name || words, answer: say2, remark: oneLine(remark) };
      })
    }, null, 1);
  }
  /** Remember in this browser; where it forbids that, only a reload forgets. */
  keep() {
    const { from, remark } = this;
    try {
      this.store?.setItem(KEY + this.range.reference, JSON.stringify({ from, remark, given: [...this.#given] }));
    } catch {
    }
  }
  #recall() {
    try {
      const kept = JSON.parse(this.store?.getItem(KEY + this.range.reference) ?? "{}");
      this.from = String(kept.from ?? "");
      this.remark = String(kept.remark ?? "");
      for (const [number, { say: say2, remark }] of kept.given ?? []) {
        const known = SAYS.some(([one]) => one === say2) ? say2 : "";
        this.#given.set(Number(number), { say: known, remark: String(remark ?? "") });
      }
    } catch {
    }
  }
};

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
var LINEAR_TO_P3 = Float64Array.of(
  0.8224619687143626,
  0.17753803128563775,
  8754353419849959e-32,
  0.03319419885096163,
  0.9668058011490381,
  2004768399397469e-32,
  0.017082630721120068,
  0.07239744066396345,
  0.9105199286149165
);
var P3_TO_LINEAR = Float64Array.of(
  1.2249401762805594,
  -0.2249401762805599,
  -11282132264581908e-32,
  -0.04205695470968816,
  1.0420569547096883,
  -189002058472344e-31,
  -0.01963755459033447,
  -0.07863604555063186,
  1.0982736001409663
);
var LINEAR_TO_REC2020 = Float64Array.of(
  0.6274038959346991,
  0.32928303837788375,
  0.043313065687417246,
  0.06909728935823202,
  0.9195403950754586,
  0.01136231556630917,
  0.016391438875150252,
  0.0880133078772258,
  0.8955952532476239
);
var REC2020_TO_LINEAR = Float64Array.of(
  1.660491002108434,
  -0.5876411387885495,
  -0.07284986331988486,
  -0.12455047452159071,
  1.1328998971259603,
  -0.00834942260436948,
  -0.018150763354905255,
  -0.10057889800800746,
  1.1187296613629127
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
var SLACK = 1e-6;
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

// shared/piece.js
var HEM = 0.75;
var MOST2 = 400;
var PIECES = {
  tablecloth: { name: "Tablecloth", size: "60 × 60 in" },
  towel: { name: "Tea towel", size: "20 × 28 in" },
  napkin: { name: "Napkin", size: "18 × 18 in" }
};
var UNITS = { in: 1, inch: 1, inches: 1, '"': 1, ft: 12, mm: 1 / 25.4, cm: 1 / 2.54, m: 1 / 0.0254 };
function readPieceSize(text) {
  const found = /^\s*([\d.,]+)\s*(?:(?:[×x*]|by)\s*([\d.,]+))?\s*([a-z"]*)\s*$/i.exec(text);
  if (!found) return null;
  const unit = UNITS[found[3].toLowerCase() || "in"];
  const [wide, long] = [found[1], found[2] ?? found[1]].map((number) => Number(number.replace(",", ".")) * unit);
  const allowed = (side) => side >= 2 * HEM + 0.5 && side <= MOST2;
  return allowed(wide) && allowed(long) ? [wide, long] : null;
}
function coverPixels(bands, pixels, length) {
  const ends = [];
  let checks = 0;
  for (const [stripe, wide] of bands) ends.push([stripe, (checks += wide) * pixels]);
  const repeat = checksIn(bands) * pixels;
  const covers = [];
  const known = /* @__PURE__ */ new Map();
  const plan = new Uint16Array(length);
  for (let x = 0; x < length; x++) {
    const cover = coverOf(ends, repeat, x);
    const key = cover.map(([stripe, share]) => `${stripe}:${Math.round(share * 1e5)}`).join();
    if (!known.has(key)) known.set(key, covers.push(cover) - 1);
    plan[x] = known.get(key);
  }
  return { covers, plan };
}
var ROUNDING = 1e-7;
var SLIVER = 1e-5;
function coverOf(ends, repeat, x) {
  const shares = /* @__PURE__ */ new Map();
  let [at, left] = [(x % repeat + ROUNDING) % repeat, 1];
  while (left > SLIVER) {
    for (const [stripe, end] of ends) {
      const share = Math.min(end - at, left);
      if (share <= SLIVER) continue;
      shares.set(stripe, (shares.get(stripe) ?? 0) + share);
      at += share;
      left -= share;
    }
    at = 0;
  }
  return [...shares].sort(([one], [other]) => one - other);
}
function coverColours(bytes, stripes, warps, wefts) {
  const side = stripes + 1;
  const light = Float64Array.from(bytes, (byte) => srgbToLinear(byte / 255));
  const colours = new Uint32Array(warps.length * wefts.length);
  const sum = new Float64Array(3);
  for (const [i, warp] of warps.entries()) {
    for (const [j, weft2] of wefts.entries()) {
      sum.fill(0);
      for (const [across, share] of warp) {
        for (const [along, other] of weft2) {
          const at = 3 * (across * side + along);
          for (let c = 0; c < 3; c++) sum[c] += share * other * light[at + c];
        }
      }
      const [red, green, blue] = sum;
      colours[i * wefts.length + j] = (4278190080 | linearToByte(blue) << 16 | linearToByte(green) << 8 | linearToByte(red)) >>> 0;
    }
  }
  return colours;
}

// range/cloth_canvas.js
var WHOLE = 1e-6;
function clothCanvas(label) {
  return make("canvas", label ? { class: "cloth", role: "img", "aria-label": label } : { class: "cloth", "aria-hidden": "true" });
}
function paint(canvas, looking, colourway, { width, height, pixels, ratio = deviceRatio() }) {
  canvas.width = Math.max(1, Math.round(width * ratio));
  canvas.height = Math.max(1, Math.round(height * ratio));
  canvas.style.width = `${canvas.width / ratio}px`;
  canvas.style.height = `${canvas.height / ratio}px`;
  const image = new ImageData(canvas.width, canvas.height);
  fill(new Uint32Array(image.data.buffer), canvas, looking.tones(colourway), colourway, pixels * ratio);
  contextOf(canvas).putImageData(image, 0, 0);
  canvas.dataset.pixels = String(pixels * ratio);
}
function fill(out, { width, height }, tones2, { stripes, wefts, warp, weft: weft2 }, check) {
  const across = wefts.length || stripes.length;
  const whole = Math.round(check);
  const isWhole = (length) => Math.abs(length - Math.round(length)) < WHOLE;
  if (whole > 0 && isWhole(check) && [...warp, ...weft2].every(([, checks]) => isWhole(checks * whole))) {
    weave(
      out,
      width,
      height,
      pixelsOfTones(tones2, 0, stripes.length, across),
      across + 1,
      planOf(warp, whole, width),
      planOf(weft2, whole, height)
    );
    return;
  }
  const warpCover = coverPixels(warp, check, width);
  const weftCover = coverPixels(weft2, check, height);
  const colours = coverColours(tones2, across, warpCover.covers, weftCover.covers);
  weave(out, width, height, colours, weftCover.covers.length, warpCover.plan, weftCover.plan);
}

// range/colour_list.js
function chip(hex) {
  const node = make("span", { class: "chip", "aria-hidden": "true" });
  node.style.background = hex;
  return node;
}
function fillColours(box, { ground, stripes, wefts, words, estimate }, codes) {
  const weft2 = wefts.map(([name, hex]) => (
    /** @type {Colour} */
    [`weft ${name}`, hex]
  ));
  box.replaceChildren(
    ...codes ? [listOf([...stripes, ...weft2, ground])] : [
      chipsOf(stripes, weft2, ground),
      make("p", { class: "quiet", text: words })
    ],
    ...estimate ? [make("p", { class: "quiet", text: "Tones where stripes lie on the ground or cross are an estimate." })] : []
  );
}
function chipsOf(stripes, weft2, ground) {
  return make("div", { class: "chips" }, ...[stripes, weft2, [ground]].filter((part) => part.length).map((part) => make("span", {}, ...part.map(([, hex]) => chip(hex)))));
}
function listOf(colours) {
  return make("ul", { class: "colour-list" }, ...colours.map(([name, hex]) => make(
    "li",
    {},
    chip(hex),
    make("span", { text: name }),
    make("code", { text: hex })
  )));
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

// shared/mixing.js
function recipeOf([mixing, layout2, decode, warpShare, yuleNielsen, stock]) {
  const recipe = { mixing, layout: layout2, decode, warpShare, yuleNielsen };
  return stock ? { ...recipe, stock } : recipe;
}
var BANDS = BAND_WEIGHTS.length / 3;
var base = new Float64Array(0);
var gain = new Float64Array(0);
var weft = new Float64Array(0);
var areas = new Float64Array(0);
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
var LEAST_RATIO = 1e-6;
var LEAST_READING = 1e-3;
var MOST_GAIN = 0.25;
var STOCK_NOT_NAMED = [0.17, 2.4, 2];
function held(value, low, high) {
  return Math.min(Math.max(value, low), high);
}
function gainOf(least, [increase, , n]) {
  const reading = held(least, LEAST_READING, 1 - 1e-9);
  const half = 1 - (0.5 + increase) * (1 - reading);
  return held((1 - half ** (1 / n)) / (1 - reading ** (1 / n)) - 0.5, -MOST_GAIN, MOST_GAIN);
}
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
function oneInk(channels, colours, one, two) {
  for (let c = 0; c < channels; c++) if (colours[one + c] !== colours[two + c]) return false;
  return true;
}
function overprint(one, two, [, limit, n]) {
  const both = Math.exp(limit * Math.LN10 / n * (gain[one] * gain[two] - 1));
  return Math.min(both, base[one], base[two]);
}
function bound(one, two, same, stock) {
  return (same ? base[one] : overprint(one, two, stock)) - base[one] * base[two];
}
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
var roots = new Float64Array(BANDS);
function printed(paper, root, n) {
  return paper * (n === 2 ? root * root : Math.max(root, 0) ** n);
}
function printChannels(papers, offset, n, to) {
  for (let c = 0; c < 3; c++) tones[to + c] = printed(papers[offset + c], roots[c], n);
}
function printSpectrum(papers, offset, n, to) {
  tones.fill(-OFFSET, to, to + 3);
  for (let band = 0; band < BANDS; band++) {
    const light = printed(papers[offset + band], roots[band], n);
    for (let c = 0; c < 3; c++) tones[to + c] += WEIGHTS[c * BANDS + band] * light;
  }
  intoSrgb(tones, to);
}
var PRINTED = new Map(Object.entries({ demichel: printInks }));
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
var WEIGHTS = BAND_WEIGHTS.map((weight) => weight / (1 - 2 * MARGIN));
var OFFSET = MARGIN / (1 - 2 * MARGIN);
function joinBands(warps, wefts, skip, n) {
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
function eachChannel(rgb, act) {
  return [act(rgb[0]), act(rgb[1]), act(rgb[2])];
}
function turn(matrix, values, at) {
  const [x, y, z] = [values[at], values[at + 1], values[at + 2]];
  for (let row = 0; row < 3; row++) values[at + row] = dot(matrix, row, x, y, z);
  return values;
}
function signedPower(value, exponent) {
  return exponent === 1 ? value : Math.sign(value) * Math.abs(value) ** exponent;
}
var DECODINGS = new Map(Object.entries({
  "as-is": {
    channels: 3,
    join: joinChannels,
    toLight: (count) => srgbToLinearInPlace(tones, count),
    encoded: true,
    encode: (rgb) => [rgb[0], rgb[1], rgb[2]]
  },
  light: {
    channels: 3,
    join: joinChannels,
    toLight(count, n) {
      if (n === 1) return;
      for (let k = 0; k < count; k++) tones[k] = Math.max(tones[k], 0) ** n;
    },
    encode: (rgb, n) => eachChannel(rgb, (value) => srgbToLinear(value) ** (1 / n))
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
    encode: (rgb) => turn(LINEAR_TO_P3, eachChannel(rgb, srgbToLinear), 0)
  },
  absorption: { channels: BANDS, join: (warps, wefts, skip) => joinBands(warps, wefts, skip, 0), toLight: () => void 0 },
  // Without bounds, for colours outside sRGB: checkcloth/colour/wide.py.
  "srgb-unbounded": {
    channels: 3,
    join: joinChannels,
    toLight(count) {
      for (let k = 0; k < count; k++) tones[k] = Math.sign(tones[k]) * srgbToLinear(Math.abs(tones[k]));
      for (let at = 0; at < count; at += 3) intoSrgb(tones, at);
    },
    encode: (rgb) => [rgb[0], rgb[1], rgb[2]]
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
      turn(LINEAR_TO_REC2020, eachChannel(rgb, srgbToLinear), 0),
      (value) => signedPower(value, 1 / n)
    )
  },
  reflectance: { channels: BANDS, join: joinBands, toLight: () => void 0 }
}));
function find({ mixing }, field, name, known) {
  const found = known.get(name);
  if (found !== void 0) return found;
  const also = field === "layout" ? [...PRINTED.keys()] : [];
  const allowed = [...known.keys(), ...also].join(", ");
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
function fillTones({ channels, join }, recipe, strength, colours, offset, side, across, skip) {
  const print = PRINTED.get(recipe.layout);
  if (print) return print(channels, recipe, strength, colours, offset, side, across, skip);
  const lay = find(recipe, "layout", recipe.layout, LAYOUTS);
  const terms = (skip ? side + across - 1 : side) * channels;
  layShares(lay, recipe, strength, colours, offset, terms, channels);
  join(side, across, skip, recipe.yuleNielsen);
}
function requireRoom(what, terms, values, count, room) {
  if (terms <= values && count <= room) return;
  throw new RangeError(`${what} take ${terms} values and ${count} bytes, found ${values} and ${room}`);
}
function mixTones(recipe, strength, colours, offset, stripes, out, outOffset, vision = "normal", wefts = 0) {
  const decoding = decodingOf(recipe);
  const side = stripes + 1;
  const across = (wefts || stripes) + 1;
  const terms = (side + wefts) * decoding.channels;
  const count = side * across * 3;
  requireRoom(
    `${stripes + wefts} stripes of ${recipe.mixing}`,
    terms,
    colours.length - offset,
    count,
    out.length - outOffset
  );
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

// range/range_data.js
function readRange(text) {
  const { recipes, colours, colourways, ...head } = (
    /** @type {SentRange} */
    JSON.parse(text)
  );
  const mixings = recipes.map(recipeOf);
  let offset = 0;
  const made = colourways.map((one, index) => {
    const mixing = mixings[one.recipe];
    const placed = { ...one, mixing, offset, number: index + 1, title: one.name || `Number ${index + 1}` };
    offset += channelsOf(mixing) * (one.stripes.length + one.wefts.length + 1);
    return placed;
  });
  return { ...head, colourways: made, encoded: floatsOfBase64(colours) };
}
function floatsOfBase64(text) {
  const bytes = Uint8Array.from(atob(text), (char) => char.charCodeAt(0));
  return new Float32Array(bytes.buffer, 0, bytes.byteLength >> 2);
}
function tonesOf(range, colourway, strength) {
  const count = colourway.stripes.length;
  const wefts = colourway.wefts.length;
  const bytes = new Uint8Array(toneBytes(count, wefts || count));
  mixTones(colourway.mixing, strength, range.encoded, colourway.offset, count, bytes, 0, "normal", wefts);
  return bytes;
}
function familiesIn({ colourways }) {
  const families = /* @__PURE__ */ new Map();
  for (const one of colourways) families.set(one.family, [...families.get(one.family) ?? [], one]);
  return [...families];
}
function countWords(range) {
  const families = familiesIn(range).filter(([family]) => family).length;
  const many = range.colourways.length;
  const colourways = many === 1 ? "One colourway" : `${many} colourways`;
  return families > 1 ? `${colourways} in ${families} families` : colourways;
}

// range/looking.js
var MOST_BESIDE = 4;
var Looking = class {
  /** @type {number | null} null where each has its own */
  strength = null;
  codes = false;
  /** @type {Colourway[]} */
  beside = [];
  /** @param {Range} range */
  constructor(range) {
    this.range = range;
    this.size = range.size;
    this.checks = checksToShow(range.colourways.flatMap(({ warp, weft: weft2 }) => [warp, weft2]));
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
};
function percent(share) {
  return `${Number((100 * share).toFixed(1))} %`;
}
function lengthWords(inches, metric) {
  if (!metric) return inchWords(inches);
  const mm = inches * 25.4;
  return mm >= 100 ? `${Number((mm / 10).toFixed(2))} cm` : `${Number(mm.toFixed(2))} mm`;
}
function barOf(metric) {
  return metric ? { inches: 2 / 2.54, words: "2 cm" } : { inches: 1, words: "1 in" };
}
function cardPixels(width, columns, least, checks) {
  const side = (width - (columns - 1) * least) / columns;
  return Math.max(2, 2 * Math.floor(side / checks / 2));
}
var PAPER_PARTS = [2, 3, 4, 6, 8, 12, 16, 24, 32];
function paperPart(inches, checks, millimetres) {
  return PAPER_PARTS.find((part) => inches * checks * 25.4 / part <= millimetres + 0.01) ?? 48;
}
function pieceReduction([wide, long], width, height, perInch) {
  return Math.max(1, Math.ceil(Math.max(wide * perInch / width, long * perInch / height) - 1e-9));
}

// range/three_answers.js
var groups = 0;
var ThreeAnswers = class {
  /**
   * @param {Colourway} colourway
   * @param {Say} value
   * @param {(say: Say) => void} onpick
   */
  constructor({ number, title }, value, onpick) {
    this.value = value;
    this.onpick = onpick;
    const name = `answer-${groups += 1}`;
    this.inputs = SAYS.map(([say2]) => make("input", {
      type: "radio",
      name,
      value: say2,
      onclick: () => this.#pick(say2),
      onkeydown: (event) => this.#key(event, say2)
    }));
    this.root = make(
      "div",
      { class: "three", role: "radiogroup", "aria-label": `Your answer to ${number}, ${title}` },
      ...SAYS.map(([, text], at) => make("label", {}, this.inputs[at], make("span", { text })))
    );
    this.show(value);
  }
  /** @param {Say} value */
  show(value) {
    this.value = value;
    SAYS.forEach(([say2], at) => {
      this.inputs[at].checked = say2 === value;
    });
  }
  /**
   * The space bar on the one that is chosen is no click, in every browser.
   * @param {KeyboardEvent} event
   * @param {Say} say
   */
  #key(event, say2) {
    const back = ["Delete", "Backspace"].includes(event.key) || event.key === " " && say2 === this.value;
    if (!back || !this.value) return;
    event.preventDefault();
    this.#pick(this.value);
  }
  /** @param {Say} say */
  #pick(say2) {
    this.show(say2 === this.value ? "" : say2);
    this.onpick(this.value);
  }
};

// range/card.js
var LONGEST = 2e3;
var LATER = 150;
var Card = class {
  /**
   * @param {Page} page
   * @param {Colourway} colourway
   */
  constructor(page, colourway) {
    this.page = page;
    this.colourway = colourway;
    const { number, title, words, note, name } = colourway;
    const { answers, looking } = page;
    this.cloth = clothCanvas("");
    this.colours = make("div", { class: "colours" });
    this.three = new ThreeAnswers(colourway, answers.of(number).say, (say2) => {
      answers.set(number, { say: say2 });
      page.answered();
    });
    this.beside = make("input", {
      type: "checkbox",
      "aria-label": `Lay beside others: ${number}, ${title}`,
      onchange: () => page.lay(colourway, this.beside)
    });
    this.area = make("textarea", {
      class: "area",
      rows: 2,
      maxlength: LONGEST,
      "aria-label": `Remark on ${number}, ${title}`,
      value: answers.of(number).remark,
      hidden: !answers.of(number).remark,
      oninput: () => {
        this.inPrint.textContent = this.area.value;
        answers.set(number, { remark: this.area.value });
        page.answered();
      }
    });
    this.add = button("Add a remark", () => {
      this.area.hidden = false;
      this.area.focus();
      setTimeout(() => {
        this.add.hidden = true;
      }, LATER);
    }, { label: `Add a remark on ${number}, ${title}`, kind: "plain" });
    this.add.hidden = !this.area.hidden;
    this.inPrint = make("p", { class: "only-print", text: this.area.value });
    this.root = make(
      "article",
      { class: "card", id: `card-${number}`, tabindex: "-1", "aria-label": `${number}, ${title}` },
      make("button", {
        type: "button",
        class: "see",
        "aria-label": `See ${number}, ${title} large: ${words}`,
        onclick: () => page.see(colourway)
      }, this.cloth),
      make(
        "div",
        { class: "card-head" },
        make("h3", {}, name ? make("span", { class: "number", text: `${number} ` }) : null, title),
        looking.range.colourways.length > 1 ? make("label", { class: "beside-tick" }, this.beside, make("span", { text: "Lay beside" })) : null
      ),
      this.colours,
      make("p", { class: "card-note", text: note }),
      make(
        "div",
        { class: "answer" },
        make("div", { class: "answer-row" }, this.three.root, this.add),
        this.area,
        this.inPrint
      )
    );
    this.list();
  }
  list() {
    fillColours(this.colours, this.colourway, this.page.looking.codes);
  }
  follow() {
    const { number } = this.colourway;
    this.three.show(this.page.answers.of(number).say);
    this.beside.checked = this.page.looking.beside.includes(this.colourway);
  }
  /** @param {number} pixels CSS pixels of a check at the size that the range is drawn at */
  draw(pixels) {
    const { looking } = this.page;
    const side = looking.checks * pixels;
    paint(
      this.cloth,
      looking,
      this.colourway,
      { width: side, height: side, pixels: pixels * looking.inches / looking.drawnInches }
    );
  }
  /**
   * For paper: sizes in millimetres, and enough pixels to stay sharp.
   * @param {{width: number, height: number, check: number}} mm
   */
  print({ width, height, check }) {
    const { looking } = this.page;
    const pixels = 24;
    paint(
      this.cloth,
      looking,
      this.colourway,
      { width: width / check * pixels, height: height / check * pixels, pixels, ratio: 1 }
    );
    this.cloth.style.width = `${width}mm`;
    this.cloth.style.height = `${height}mm`;
  }
};
function fillScale(root, perInch, metric, words) {
  for (const node of root.querySelectorAll("[data-scale]")) {
    node.replaceChildren(...scaleBar(perInch, metric, words));
  }
}
function scaleBar(perInch, metric, words) {
  const { inches, words: length } = barOf(metric);
  const bar = make("span", { class: "scalebar", "aria-hidden": "true" });
  bar.style.width = `${inches * perInch}px`;
  return [bar, `${length}. ${words}`];
}

// range/settings_bar.js
var BOARDS = [["white", "White"], ["grey", "Grey"], ["black", "Black"]];
function slider(label, stops, read, onmove) {
  const output = make("output", { "aria-hidden": "true" });
  const input = make("input", {
    type: "range",
    min: 0,
    max: stops - 1,
    step: 1,
    "aria-label": label,
    oninput: () => onmove(Number(input.value))
  });
  const root = make("label", { class: "slider" }, make("span", { text: label }), output, input);
  const fill2 = () => {
    const { at, words } = read();
    input.value = String(at);
    say(output, words);
    setAttribute(input, "aria-valuetext", words);
  };
  fill2();
  return { root, fill: fill2, input };
}
var Sliders = class {
  /**
   * @param {Looking} looking
   * @param {() => void} onmove
   */
  constructor(looking, onmove) {
    const { sizes, strengths } = looking.range;
    this.all = [];
    if (sizes.length > 1) {
      this.all.push(slider(
        "Check size",
        sizes.length,
        () => ({ at: looking.size, words: looking.sizeWords }),
        (at) => {
          looking.size = at;
          onmove();
        }
      ));
    }
    if (strengths.length > 1) {
      this.all.push(slider("Strength", strengths.length, () => strengthStop(looking), (at) => {
        looking.strength = strengths[at];
        onmove();
      }));
    }
    this.roots = this.all.map(({ root }) => root);
  }
  fill() {
    for (const one of this.all) one.fill();
  }
};
function strengthStop({ strength, range: { strengths, colourways } }) {
  const own = new Set(colourways.map((one) => one.strength));
  const shown = strength ?? colourways[0].strength;
  const distances = strengths.map((stop) => Math.abs(stop - shown));
  const at = distances.indexOf(Math.min(...distances));
  return { at, words: strength === null && own.size > 1 ? "each its own" : percent(shown) };
}
var SettingsBar = class {
  /**
   * @param {Looking} looking
   * @param {{onmove: () => void, oncodes: () => void, tell: (words: string) => void}} parent
   */
  constructor(looking, { onmove, oncodes, tell }) {
    this.looking = looking;
    const { range } = looking;
    this.sliders = new Sliders(looking, onmove);
    this.drawn = button("As drawn", () => {
      looking.asDrawn();
      onmove();
      tell("As drawn.");
      this.sliders.all[0].input.focus();
    }, { label: "As drawn: check size and strength as the designer drew them", kind: "plain" });
    const codes = make("input", { type: "checkbox", onchange: () => {
      looking.codes = codes.checked;
      oncodes();
    } });
    this.codes = make("label", { class: "tick", hidden: !range.codes }, codes, make("span", { text: "Show colour codes" }));
    this.board = choice("Board", BOARDS, "white", (key) => {
      document.documentElement.dataset.board = key;
    });
    this.scale = make("p", { class: "quiet scale", "data-scale": true });
    this.fold = make("button", {
      type: "button",
      class: "cc-button plain fold",
      "aria-expanded": "false",
      text: foldWords(this.sliders.all.map(({ input }) => input.getAttribute("aria-label") ?? ""), range.codes),
      onclick: () => {
        const open = this.root.classList.toggle("open");
        setAttribute(this.fold, "aria-expanded", String(open));
      }
    });
    this.root = make(
      "section",
      { class: "settings", "aria-label": "How the cloths are shown" },
      this.fold,
      ...this.sliders.roots,
      this.drawn,
      this.codes,
      this.board.box,
      this.scale
    );
    this.fill();
  }
  fill() {
    this.sliders.fill();
    this.drawn.hidden = !this.looking.moved;
  }
};
function foldWords(sliders, codes) {
  return capital([...sliders, ...codes ? ["colour codes"] : [], "board"].join(", ").toLowerCase());
}

// range/beside.js
var LETTERS = "ABCD";
var NARROW = 640;
var HEAD = 40;
var AROUND = 176;
var Beside = class {
  /**
   * @param {Page} page
   * @param {{onmove: () => void, onclose: () => void}} parent
   */
  constructor(page, { onmove, onclose }) {
    this.page = page;
    this.box = make("div", { class: "besides" });
    this.line = make("p", { class: "quiet told" });
    this.closer = button("Close", () => this.root.close(), { label: "Close, back to the range" });
    this.title = make("h2", { id: "beside-title", text: "Beside each other" });
    this.sliders = new Sliders(page.looking, () => {
      onmove();
      this.show();
    });
    this.root = make(
      "dialog",
      { class: "many", "aria-labelledby": "beside-title", onclose },
      make("div", { class: "dialog-head" }, this.title, make("span", { class: "spring" }), this.closer),
      this.box,
      make("div", { class: "dialog-foot" }, this.line, ...this.sliders.roots)
    );
  }
  open() {
    if (!this.root.open) this.root.showModal();
    this.closer.focus();
    this.show();
  }
  show() {
    if (!this.root.open) return;
    this.sliders.fill();
    const { looking } = this.page;
    const { beside } = looking;
    const { columns, rows } = layout(beside.length, innerWidth);
    this.box.style.gridTemplateColumns = `repeat(${columns}, minmax(0, 1fr))`;
    const width = Math.floor((this.box.clientWidth - 16 * (columns - 1)) / columns);
    const height = Math.max(104, Math.floor((innerHeight - AROUND) / rows) - HEAD - 16);
    const side = columns === 1 ? width : Math.min(width, height);
    const pixels = Math.max(2, 2 * Math.floor(side / looking.checks / 2));
    this.box.replaceChildren(...beside.map((one, at) => this.#piece(one, at, {
      width: Math.floor(width / pixels) * pixels,
      height: Math.floor(height / pixels) * pixels,
      pixels: pixels * looking.inches / looking.drawnInches
    })));
    const perInch = pixels / looking.drawnInches;
    this.line.replaceChildren(...scaleBar(
      perInch,
      looking.range.metric,
      `All at ${reductionWords(perInch / screenPixels())}.`
    ));
  }
  /**
   * @param {Colourway} colourway
   * @param {number} at
   * @param {{width: number, height: number, pixels: number}} size
   */
  #piece(colourway, at, size) {
    const { number, title, words } = colourway;
    const letter = LETTERS[at];
    const canvas = clothCanvas(`${letter}, cloth of ${number}, ${title}, ${words}`);
    paint(canvas, this.page.looking, colourway, size);
    const away = button("Take away", () => {
      this.page.looking.lay(colourway, false);
      this.page.answered();
      if (this.page.looking.beside.length < 2) this.root.close();
      else {
        this.show();
        this.closer.focus();
      }
    }, { label: `Take away ${number}, ${title}`, kind: "plain" });
    const root = make(
      "article",
      { "aria-label": `${letter}: ${number}, ${title}` },
      canvas,
      make("div", { class: "card-head" }, make(
        "h3",
        {},
        make("span", { text: `${letter} ` }),
        make("span", { class: "number", text: title })
      ), away)
    );
    root.style.maxWidth = `${size.width}px`;
    return root;
  }
};
function layout(many, width) {
  const columns = width <= NARROW ? 1 : many === 4 && width < 1e3 ? 2 : Math.max(1, many);
  return { columns, rows: Math.ceil(many / columns) };
}

// range/large.js
var VIEWS = [
  ["repeat", "Repeat"],
  ["true", "True size"],
  ...Object.entries(PIECES).map(([key, { name }]) => (
    /** @type {[string, string]} */
    [key, name]
  ))
];
var BRACKET = 36;
var Large = class {
  #view = "repeat";
  /** @type {Colourway | undefined} */
  #colourway;
  /** @type {ThreeAnswers | undefined} */
  #three;
  /**
   * @param {Page} page
   * @param {{onmove: () => void, onscreen: () => void, onclose: (colourway: Colourway) => void}} parent
   */
  constructor(page, { onmove, onscreen, onclose }) {
    this.page = page;
    this.onscreen = onscreen;
    this.title = make("h2", { id: "large-title" });
    this.walkTo = make("p", { class: "unseen", "aria-live": "polite" });
    this.stage = make("div", { class: "stage" });
    this.line = make("p", { class: "quiet told", role: "status" });
    this.ruler = this.#rulerButtons();
    this.sliders = new Sliders(page.looking, () => {
      onmove();
      this.show();
    });
    this.answer = make("div", {});
    this.views = this.#viewRadios();
    this.closer = button("Close", () => this.root.close(), { label: "Close, back to the range" });
    this.root = make(
      "dialog",
      { "aria-labelledby": "large-title", onclose: () => {
        if (this.#colourway) onclose(this.#colourway);
      } },
      make(
        "div",
        { class: "dialog-head" },
        this.title,
        make("span", { class: "spring" }),
        this.#walker("Previous", "←", -1),
        this.#walker("Next", "→", 1),
        this.closer
      ),
      this.views,
      this.stage,
      make("div", { class: "dialog-foot" }, make("div", { class: "told" }, this.line, this.ruler), ...this.sliders.roots, this.answer, this.walkTo)
    );
  }
  get open() {
    return this.root.open;
  }
  /** @param {Colourway} colourway */
  see(colourway) {
    this.#put(colourway);
    if (!this.root.open) this.root.showModal();
    this.closer.focus();
    this.show();
  }
  /** @param {Colourway} colourway */
  #put(colourway) {
    const { number, title, name } = colourway;
    this.#colourway = colourway;
    this.title.replaceChildren(...name ? [make("span", { class: "number", text: `${number} ` })] : [], title);
    this.#three = new ThreeAnswers(colourway, this.page.answers.of(number).say, (said) => {
      this.page.answers.set(number, { say: said });
      this.page.answered();
    });
    this.answer.replaceChildren(this.#three.root);
  }
  /**
   * @param {string} text
   * @param {string} arrow
   * @param {-1 | 1} step
   */
  #walker(text, arrow, step) {
    const node = button("", () => {
      const { colourways } = this.page.looking.range;
      const at = colourways.indexOf(
        /** @type {Colourway} */
        this.#colourway
      );
      const next = colourways[(at + step + colourways.length) % colourways.length];
      this.#put(next);
      this.show();
      say(this.walkTo, `${next.number}, ${next.title}: ${next.words}`);
    }, { label: `${text} cloth` });
    node.append(make("span", { class: "arrow", text: arrow, "aria-hidden": "true" }), make("span", { class: "walk", text }));
    node.hidden = this.page.looking.range.colourways.length < 2;
    return node;
  }
  #viewRadios() {
    return make(
      "div",
      { class: "views", role: "radiogroup", "aria-label": "How it is shown" },
      ...VIEWS.map(([key, text]) => {
        const input = make("input", { type: "radio", name: "view", value: key, onchange: () => {
          this.#view = key;
          this.show();
        } });
        input.checked = key === this.#view;
        return make("label", {}, input, make("span", { text }));
      })
    );
  }
  #rulerButtons() {
    const move = (step) => {
      const { inches } = barOf(this.page.looking.range.metric);
      setScreenPixels(screenPixels() + step / inches);
      this.onscreen();
      this.show();
    };
    return make(
      "span",
      { class: "ruler" },
      button("Shorter", () => move(-2), { label: "The line is too long: make it shorter", kind: "plain" }),
      button("Longer", () => move(2), { label: "The line is too short: make it longer", kind: "plain" })
    );
  }
  show() {
    const colourway = this.#colourway;
    if (!colourway || !this.root.open) return;
    this.sliders.fill();
    const [width, height] = [this.stage.clientWidth, this.stage.clientHeight];
    this.stage.classList.toggle("fill", this.#view === "true");
    this.ruler.hidden = this.#view !== "true";
    if (this.#view === "true") this.#showTrue(colourway, width, height);
    else if (this.#view === "repeat") this.#showRepeat(colourway, width, height - BRACKET);
    else this.#showPiece(colourway, PIECES[this.#view], width - 8, height - 8);
  }
  /** @param {Colourway} colourway */
  #canvas(colourway) {
    const { looking } = this.page;
    return clothCanvas(`Cloth of ${colourway.title}, ${colourway.words}, check ${looking.sizeWords}, strength ${percent(looking.strengthOf(colourway))}`);
  }
  /**
   * @param {Colourway} colourway
   * @param {number} width
   * @param {number} height
   */
  #showTrue(colourway, width, height) {
    const { looking } = this.page;
    const canvas = this.#canvas(colourway);
    paint(canvas, looking, colourway, { width, height, pixels: screenPixels() * looking.inches });
    this.stage.replaceChildren(canvas);
    const { metric } = looking.range;
    this.line.replaceChildren(...scaleBar(screenPixels(), metric, "Lay a ruler on this line and set it to that length."));
  }
  /**
   * @param {Colourway} colourway
   * @param {number} width
   * @param {number} height
   */
  #showRepeat(colourway, width, height) {
    const { looking } = this.page;
    const { warp, weft: weft2 } = colourway;
    const wanted = Math.max(looking.checks, checksIn(warp) + warp[0][1], checksIn(weft2) + weft2[0][1]);
    const pixels = Math.max(2, Math.floor(Math.min(width, height) / wanted));
    const canvas = this.#canvas(colourway);
    paint(canvas, looking, colourway, {
      pixels,
      width: Math.min(Math.floor(width / pixels) * pixels, wanted * 2 * pixels),
      height: Math.max(pixels, Math.floor(height / pixels) * pixels)
    });
    const span = make("div", { class: "span" }, make("span", { text: this.#repeatWords(colourway) }));
    span.style.width = `${checksIn(warp) * pixels}px`;
    this.stage.replaceChildren(make("div", { class: "repeat" }, span, canvas));
    say(this.line, `${capital(reductionWords(pixels / (screenPixels() * looking.inches)))}.`);
  }
  /** @param {Colourway} colourway */
  #repeatWords({ warp, weft: weft2 }) {
    const { inches, range: { metric } } = this.page.looking;
    const [across, down] = [warp, weft2].map((bands) => lengthWords(checksIn(bands) * inches, metric));
    return across === down ? `one repeat, ${across}` : `one repeat, ${across} across and ${down} down`;
  }
  /**
   * @param {Colourway} colourway
   * @param {{name: string, size: string}} piece
   * @param {number} width
   * @param {number} height
   */
  #showPiece(colourway, { name, size }, width, height) {
    const { looking } = this.page;
    const { metric } = looking.range;
    const sides = (
      /** @type {[number, number]} */
      readPieceSize(size)
    );
    const reduction = pieceReduction(sides, width, height, screenPixels());
    const perInch = screenPixels() / reduction;
    const canvas = this.#canvas(colourway);
    paint(canvas, looking, colourway, { width: sides[0] * perInch, height: sides[1] * perInch, pixels: looking.inches * perInch });
    stitchHem(canvas, HEM * perInch * deviceRatio());
    this.stage.replaceChildren(canvas);
    const words = metric ? sides.map((side) => Number((side * 2.54).toFixed(1))).join(" × ").concat(" cm") : size;
    say(this.line, `${name} ${words}, flat, with a ${lengthWords(HEM, metric)} hem. ${reduction === 1 ? "True size" : `1/${reduction} of true size`}.`);
  }
};
function stitchHem(canvas, wide) {
  const context = contextOf(canvas);
  const ratio = deviceRatio();
  const edge = Math.max(3 * ratio, wide);
  context.setLineDash([3 * ratio, 2 * ratio]);
  context.strokeStyle = "rgba(28, 28, 28, 0.42)";
  context.lineWidth = ratio;
  context.strokeRect(edge, edge, canvas.width - 2 * edge, canvas.height - 2 * edge);
}

// shared/download.js
function download(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  make("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 5e3);
}

// range/send_back.js
var SMALL = 44;
var SendBack = class {
  /** @param {Page} page */
  constructor(page) {
    this.page = page;
    const { answers } = page;
    this.counted = make("span", { class: "quiet" });
    this.rows = page.looking.range.colourways.map((colourway) => this.#row(colourway));
    this.preview = make("textarea", { class: "area mono", readonly: true, rows: 12, spellcheck: "false", "aria-label": "What goes back" });
    this.said = make("p", { class: "quiet", role: "status" });
    const change = () => {
      answers.from = name.value;
      answers.remark = remark.value;
      answers.keep();
      this.#fillText();
    };
    const name = make("input", { class: "input", type: "text", value: answers.from, autocomplete: "name", maxlength: 200, oninput: change });
    const remark = make("textarea", { class: "area", rows: 2, value: answers.remark, maxlength: 2e3, oninput: change });
    this.root = make(
      "section",
      { class: "foot", id: "answers", tabindex: "-1", "aria-labelledby": "answers-title" },
      make("h2", { id: "answers-title" }, "Your answers ", this.counted),
      make("ol", { class: "rows" }, ...this.rows.map(({ item }) => item)),
      make(
        "div",
        { class: "send" },
        make("label", {}, "Your name", name),
        make("label", {}, "A remark on all of them", remark),
        make("div", {}, make("p", { class: "label", text: "What goes back", "aria-hidden": "true" }), this.preview),
        make(
          "div",
          { class: "two" },
          button("Copy for a mail", () => this.#copy(), { kind: "strong" }),
          button("Save as a file", () => this.#save()),
          button("Print", () => globalThis.print())
        ),
        this.said,
        make("p", { class: "quiet", text: "This page sends nothing by itself. A screen is not a proof: ask for a strike-off (a printed or woven trial piece) before you order." })
      )
    );
  }
  /** @param {Colourway} colourway */
  #row(colourway) {
    const { number, title, name } = colourway;
    const cloth = clothCanvas("");
    const said = make("b", {});
    const remark = make("span", { class: "quiet" });
    const item = make("li", {}, cloth, make(
      "a",
      { href: `#card-${number}` },
      name ? make("span", { class: "number", text: `${number} ` }) : null,
      title
    ), said, remark);
    return { colourway, item, cloth, said, remark };
  }
  fill() {
    const { answers, looking } = this.page;
    const { done, words } = answers.count();
    say(this.counted, done ? `${done} of ${this.rows.length}: ${words}` : "none yet; they gather here as you answer");
    for (const { colourway: { number }, said, remark } of this.rows) {
      const mine = answers.of(number);
      say(said, capital(mine.say) || "–");
      said.classList.toggle("none", !mine.say);
      said.title = mine.say ? "" : "no answer yet";
      say(remark, mine.remark);
    }
    this.#fillText();
    if (looking.moved) say(this.said, "");
  }
  draw() {
    const { looking } = this.page;
    for (const { colourway, cloth } of this.rows) {
      paint(cloth, looking, colourway, { width: SMALL, height: SMALL, pixels: SMALL / looking.checks });
    }
  }
  #fillText() {
    const { answers, looking } = this.page;
    const text = answers.text(looking.seen());
    if (this.preview.value !== text) this.preview.value = text;
  }
  async #copy() {
    const text = this.preview.value;
    let copied = true;
    try {
      await navigator.clipboard.writeText(text);
    } catch {
      this.preview.select();
      copied = document.execCommand("copy");
    }
    say(this.said, copied ? "Copied. Paste it into a mail to your designer." : "This browser does not copy: the text is marked, copy it by hand.");
  }
  #save() {
    const { answers, looking } = this.page;
    const name = `${looking.range.stem}-answers.json`;
    download(name, answers.file(looking.seen()), "application/json");
    say(this.said, `Saved as ${name}. Send it with a mail to your designer.`);
  }
};

// range/range.js
var FOLDED_FROM = 25;
var PAPER = { side: 54, high: 13 };
var FULL = "Four at most: take one away first.";
var RangePage = class {
  #atFoot = false;
  /** @param {Range} range */
  constructor(range) {
    this.range = range;
    this.looking = new Looking(range);
    this.answers = new Answers(range, storage());
    this.status = make("p", { class: "unseen", "aria-live": "polite" });
    const move = () => this.moved();
    this.settings = new SettingsBar(this.looking, {
      onmove: move,
      tell: (words) => say(this.status, words),
      oncodes: () => this.cards.forEach((card) => card.list())
    });
    this.cards = range.colourways.map((colourway) => new Card(this, colourway));
    this.foot = new SendBack(this);
    this.large = new Large(this, {
      onmove: move,
      onscreen: () => this.draw(),
      onclose: ({ number }) => this.#backTo(number)
    });
    this.beside = new Beside(this, { onmove: move, onclose: () => this.answered() });
    this.count = make("span", { class: "quiet" });
    this.hint = make("span", { class: "quiet bar-hint", text: "Press a cloth to see it large." });
    this.warned = make("span", { class: "quiet", role: "alert" });
    this.laid = button("", () => this.beside.open());
    this.bar = make("div", { class: "bar", role: "region", "aria-label": "Your progress" }, make(
      "div",
      {},
      this.hint,
      this.count,
      this.warned,
      make("span", { class: "spring" }),
      this.laid,
      make("a", { class: "cc-button strong", href: "#answers", text: "Send back" })
    ));
    this.root = make(
      "main",
      { class: "page" },
      this.#head(),
      this.settings.root,
      ...this.#families(),
      this.bar,
      this.foot.root,
      this.status
    );
  }
  #head() {
    const { title, reference, date, note } = this.range;
    const about = [`Reference ${reference}`, ...date ? [date] : []].join(", ");
    return make(
      "header",
      { class: "head" },
      make(
        "div",
        {},
        make("h1", { text: title }),
        make("p", { class: "quiet", text: `${about}. ${countWords(this.range)}.` }),
        make("p", { class: "quiet scale-line", "data-scale": true })
      ),
      make(
        "div",
        {},
        note ? make("p", { text: note }) : null,
        make("p", { class: "quiet hint", text: "Press a cloth to see it large. Answer yes, maybe or no under each. At the foot stand all your answers, ready to send back." })
      )
    );
  }
  #families() {
    const families = familiesIn(this.range);
    const fold = this.range.colourways.length >= FOLDED_FROM && families.length > 1;
    return families.map(([family, members], at) => {
      const name = family || (families.length > 1 ? "By itself" : "");
      const cards = make("div", { class: "cards" }, ...members.map(({ number }) => this.cards[number - 1].root));
      if (!name) return make("section", { class: "family", "aria-label": "Colourways" }, make("h2", { class: "unseen", text: "Colourways" }), cards);
      if (!fold) return make("section", { class: "family", "aria-label": `Family ${name}` }, make("h2", { text: name }), cards);
      return make(
        "details",
        { class: "family", open: at === 0 },
        make("summary", {}, make("h2", {}, name, make("span", { class: "quiet", text: ` ${members.length} colourways` }))),
        cards
      );
    });
  }
  /** @param {Colourway} colourway */
  see(colourway) {
    this.large.see(colourway);
  }
  /**
   * @param {Colourway} colourway
   * @param {HTMLInputElement} box
   */
  lay(colourway, box) {
    const done = this.looking.lay(colourway, box.checked);
    box.checked = done && box.checked;
    this.#fillBar();
    say(this.warned, done ? "" : FULL);
    const many = this.looking.beside.length;
    if (done) say(this.status, many < 2 ? "Tick one more." : `${many} to see beside each other, by a button after the last cloth.`);
  }
  answered() {
    for (const card of this.cards) card.follow();
    this.foot.fill();
    this.#fillBar();
  }
  moved() {
    this.settings.fill();
    this.draw();
    this.foot.fill();
  }
  /** The foot says as much, but has no other button for what is laid beside. */
  #showBar() {
    this.bar.hidden = this.#atFoot && this.looking.beside.length < 2;
  }
  #fillBar() {
    const { done } = this.answers.count();
    const many = this.looking.beside.length;
    say(this.count, `${done || "None"} of ${this.cards.length} answered`);
    this.hint.hidden = done > 0;
    say(this.warned, "");
    this.#showBar();
    this.laid.hidden = many === 0;
    this.laid.disabled = many < 2;
    say(this.laid, many < 2 ? "Tick one more" : `See ${many} beside`);
  }
  /** @param {number} number */
  #backTo(number) {
    this.answered();
    const card = this.cards[number - 1];
    const folded = card.root.closest("details");
    if (folded) folded.open = true;
    card.root.querySelector("button")?.focus();
  }
  draw() {
    const { looking, range, root } = this;
    const width = root.clientWidth - 2 * parseFloat(getComputedStyle(root).paddingLeft);
    const columns = innerWidth > 640 ? 3 : 1;
    const least = columns === 1 ? 0 : innerWidth > 1e3 ? 20 : 14;
    const pixels = cardPixels(width, columns, least, looking.checks);
    root.style.setProperty("--side", `${pixels * looking.checks}px`);
    for (const card of this.cards) card.draw(pixels);
    this.foot.draw();
    const perInch = pixels / looking.drawnInches;
    fillScale(root, perInch, range.metric, `All at ${reductionWords(perInch / screenPixels())}.`);
  }
  /** At a true reduction, which the page states. */
  print() {
    const { looking, range, root } = this;
    const across = Math.max(...range.colourways.map(({ warp }) => checksIn(warp) + warp[0][1]));
    const part = paperPart(looking.inches, across, PAPER.side);
    const check = looking.inches * 25.4 / part;
    const high = Math.min(PAPER.high, Math.floor(PAPER.side / check)) * check;
    const width = Math.floor(PAPER.side / check + 1e-3) * check;
    root.style.removeProperty("--side");
    for (const folded of root.querySelectorAll("details")) folded.open = true;
    for (const card of this.cards) card.print({ width, height: high, check });
    fillScale(root, 96 / part, range.metric, `All at 1/${part} of true size, printed at 100 %.`);
  }
  open() {
    document.body.append(this.root, this.large.root, this.beside.root);
    this.draw();
    this.answered();
    addEventListener("beforeprint", () => this.print());
    addEventListener("afterprint", () => this.draw());
    addEventListener("resize", perFrame(() => {
      this.draw();
      this.large.show();
      this.beside.show();
    }));
    new IntersectionObserver(([{ isIntersecting }]) => {
      this.#atFoot = isIntersecting;
      this.#showBar();
    }, { rootMargin: "0px 0px -40% 0px" }).observe(this.foot.root);
  }
};
function storage() {
  try {
    return globalThis.localStorage;
  } catch {
    return null;
  }
}
var data = document.getElementById("range-data");
if (data) {
  document.documentElement.dataset.board = "white";
  new RangePage(readRange(data.textContent ?? "")).open();
}
