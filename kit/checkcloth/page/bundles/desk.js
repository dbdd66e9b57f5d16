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
function evenBands(stripes) {
  return Array.from({ length: 2 * stripes }, (_, at) => [at % 2 ? 0 : at / 2 + 1, 1]);
}
function laidFor(sent, stripes, wefts = 0) {
  const across = wefts || stripes;
  if (sent?.warp && sent.weft && sent.stripes === stripes && sent.wefts === across) {
    return { warp: sent.warp, weft: sent.weft };
  }
  return { warp: evenBands(stripes), weft: evenBands(across) };
}
function longerWay({ warp, weft: weft2 }) {
  return checksIn(weft2) > checksIn(warp) ? weft2 : warp;
}
function bytesOfCodes(codes) {
  return Uint8Array.from(codes.flatMap((code) => [1, 3, 5].map((at) => parseInt(code.slice(at, at + 2), 16))));
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
function pixelsForRepeat(bands, side) {
  return Math.max(1, Math.floor(side / checksIn(bands)));
}
function pixelsAtScale(inches, scale, perInch) {
  return Math.max(1, roundEven(inches * perInch * scale));
}
function nearest(number) {
  return Math.floor(number + 0.5 + 1e-9);
}
function roundEven(number) {
  const near = Math.round(number);
  return Math.abs(number % 1) === 0.5 && near % 2 !== 0 ? near - 1 : near;
}

// shared/words.js
function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
function counted(many, noun, plural = `${noun}s`) {
  return `${many.toLocaleString("en")} ${many === 1 ? noun : plural}`;
}
function errorWords(error) {
  return error instanceof Error ? error.message : String(error);
}
var SIGNS = [["ΔE00", "colour difference"], ["ΔEOK", "difference in Oklab"], ["ΔL*", "difference in lightness"]];
function spoken(text) {
  return SIGNS.reduce((words, [sign, name]) => words.replaceAll(sign, name), text);
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
    "aria-description": keys && `key ${keys}`,
    // or the title were read out as well
    "aria-pressed": pressed === void 0 ? null : String(pressed),
    onclick
  });
}
function columnHead(text) {
  const words = spoken(text);
  return make("th", { scope: "col", text, "aria-label": words === text ? null : words });
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
function textInput(label, { enter, escape, class: kind = "", ...more } = {}) {
  const acts = /* @__PURE__ */ new Map([["Enter", enter], ["Escape", escape]]);
  return make("input", {
    type: "text",
    autocomplete: "off",
    maxlength: 200,
    ...more,
    class: `cc-input ${kind}`,
    "aria-label": label,
    onkeydown: (event) => {
      const act = acts.get(event.key);
      if (!act || act() === false) return;
      event.preventDefault();
      event.stopPropagation();
    }
  });
}
function labelled(words, ...field) {
  return make("label", { class: "cc-field" }, make("span", { text: words }), ...field);
}
function tick(words, onpick = () => {
}, title = void 0) {
  const input = make("input", { type: "checkbox", onchange: () => onpick(input.checked) });
  const box = make("label", { class: "cc-check", title }, input, make("span", { text: words }));
  return { input, box };
}
function setOptions(select, options, value) {
  const offered = [...select.options].map((option) => [option.value, option.text]);
  if (JSON.stringify(offered) !== JSON.stringify(options)) {
    select.replaceChildren(...options.map(([key, text]) => make("option", { value: key, text })));
  }
  if (select.value !== value) select.value = value;
}
function refill(box, nodes, fallback = null) {
  const focused = [...box.children].findIndex((node) => node.contains(document.activeElement));
  box.replaceChildren(...nodes);
  if (focused < 0) return;
  const buttons = nodes.map((node) => node.matches("button") ? node : node.querySelector("button"));
  const target = buttons.slice(0, focused + 1).findLast(Boolean) ?? buttons.find(Boolean) ?? fallback;
  target?.focus({ preventScroll: true });
}
function say(node, text) {
  if (node.textContent !== text) node.textContent = text;
}
function setAttribute(node, name, value) {
  if (node.getAttribute(name) !== value) node.setAttribute(name, value);
}
function hinted(node) {
  node.addEventListener("pointerenter", () => {
    node.title = node.dataset.hint ?? "";
  });
  node.addEventListener("pointerleave", () => node.removeAttribute("title"));
  return node;
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
var NO_CHROMA = 1e-6;
function srgbToOklch(rgb) {
  toOklab(srgbToLinear(rgb[0]), srgbToLinear(rgb[1]), srgbToLinear(rgb[2]));
  const [lightness, a, b] = oklab;
  const chroma = Math.hypot(a, b);
  if (chroma < NO_CHROMA) return [lightness, 0, 0];
  const hue = Math.atan2(b, a) * 180 / Math.PI;
  return [lightness, chroma, hue < 0 ? hue + 360 : hue];
}
function oklchToSrgb(oklch) {
  const hue = oklch[2] * Math.PI / 180;
  const shown = new Float64Array(3);
  fromOklab(oklch[0], oklch[1] * Math.cos(hue), oklch[1] * Math.sin(hue), shown, 0);
  intoSrgb(shown, 0);
  return [linearToSrgb(shown[0]), linearToSrgb(shown[1]), linearToSrgb(shown[2])];
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
function recipeOf([mixing, layout, decode, warpShare, yuleNielsen, stock]) {
  const recipe = { mixing, layout, decode, warpShare, yuleNielsen };
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
function canEncode(recipe) {
  return decodingOf(recipe).encode !== void 0;
}
function encodeColour(recipe, rgb) {
  const { encode } = decodingOf(recipe);
  if (!encode) {
    throw new Error(`"${recipe.mixing}" mixes spectra, and only the kernel recovers a spectrum from a colour: ask it`);
  }
  return encode(rgb, recipe.yuleNielsen);
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

// shared/edits.js
function partWords(part) {
  if (part < 0) return `Weft stripe ${-part}`;
  return part ? `Stripe ${part}` : "Ground";
}
function rowOf(cloth, part) {
  return part < 0 ? weftsOf(cloth) ?? cloth.stripes : cloth.stripes;
}
function withRow(cloth, part, row) {
  return part < 0 ? { ...cloth, wefts: row } : { ...cloth, stripes: row };
}
function withOwnWeft(cloth) {
  return weftsOf(cloth) ? cloth : { ...cloth, wefts: cloth.stripes.map((stripe) => ({ ...stripe, stays: false })) };
}
function colourOf(cloth, part) {
  return part === 0 ? cloth.ground : rowOf(cloth, part)[Math.abs(part) - 1];
}
function putColour(cloth, part, colour) {
  const put = { ...colour, stays: colourOf(cloth, part)?.stays ?? false };
  if (part === 0) return { ...cloth, ground: put };
  return withRow(cloth, part, rowOf(cloth, part).with(Math.abs(part) - 1, put));
}
function moveStripe(cloth, stripe, to) {
  const row = rowOf(cloth, stripe);
  const [from, at] = [Math.abs(stripe) - 1, Math.abs(to) - 1];
  return withRow(cloth, stripe, row.toSpliced(from, 1).toSpliced(at, 0, row[from]));
}
function partAfterMove(part, stripe, to) {
  if (stripe < 0 && part < 0) return -partAfterMove(-part, -stripe, -to);
  if (stripe < 0 || part <= 0) return part;
  if (part === stripe) return to;
  if (stripe < part && part <= to) return part - 1;
  return to <= part && part < stripe ? part + 1 : part;
}
function swapStripes(cloth, first, second) {
  const row = rowOf(cloth, first);
  const [here, there] = [Math.abs(first) - 1, Math.abs(second) - 1];
  return withRow(cloth, first, row.with(here, row[there]).with(there, row[here]));
}
function addStripe(cloth, at, colour) {
  return withRow(cloth, at, rowOf(cloth, at).toSpliced(Math.abs(at) - 1, 0, colour));
}
function removeStripe(cloth, stripe) {
  return withRow(cloth, stripe, rowOf(cloth, stripe).toSpliced(Math.abs(stripe) - 1, 1));
}
function letStay(cloth, part, stays) {
  const colour = colourOf(cloth, part);
  if (!colour) return cloth;
  const put = { ...colour, stays };
  return part === 0 ? { ...cloth, ground: put } : { ...cloth, stripes: cloth.stripes.with(part - 1, put) };
}
function remix(cloth, recipe) {
  const bare = ({ name, hex, stays }) => ({ name, hex, stays });
  return {
    ...cloth,
    recipe,
    ground: bare(cloth.ground),
    stripes: cloth.stripes.map(bare),
    wefts: cloth.wefts?.map(bare)
  };
}
function wordsOf(cloth) {
  const names = (colours) => colours.map(({ name }) => name).join(", ");
  return `${names(cloth.stripes)} on ${cloth.ground.name}${cloth.wefts?.length ? `, weft ${names(cloth.wefts)}` : ""}`;
}
function tonesOf(cloth, vision = "normal") {
  const { recipe, strength, ground, stripes, wefts = [] } = cloth;
  const channels = channelsOf(recipe);
  const all = [ground, ...stripes, ...wefts];
  const colours = new Float32Array(all.length * channels);
  for (const [at, { encoded }] of all.entries()) {
    if (!encoded) return null;
    colours.set(encoded, at * channels);
  }
  const bytes = new Uint8Array(toneBytes(stripes.length, wefts.length || stripes.length));
  mixTones(recipe, strength, colours, 0, stripes.length, bytes, 0, vision, wefts.length);
  return bytes;
}
function toneName(cloth, warp, weft2) {
  const ground = cloth.ground.name;
  const own = weftsOf(cloth);
  const across = nameOf(cloth.stripes, warp);
  const along = nameOf(own ?? cloth.stripes, weft2);
  if (!warp && !weft2) return `Ground, ${ground}`;
  if (!warp || !weft2) return `${warp ? across : along} over ${ground}`;
  const over = cloth.recipe.layout === "layered" || warp === weft2 && !own;
  return `${across} ${over ? "over" : "with"} ${along}`;
}
function nameOf(stripes, part) {
  return stripes[part - 1]?.name ?? "";
}
function weftsOf({ wefts }) {
  return wefts?.length ? wefts : void 0;
}

// shared/own_keys.js
var NO_SHORTCUTS = "data-lm-suppress-shortcuts";
function isForControls(event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  return !(event.shiftKey && event.key === "Enter");
}
function keepKeys(root) {
  const view = root.ownerDocument.defaultView;
  const mark = (event) => {
    const target = (
      /** @type {HTMLElement} */
      event.target
    );
    if (outermostBox(root).contains(target)) target.toggleAttribute(NO_SHORTCUTS, isForControls(event));
  };
  view?.addEventListener("keydown", mark, true);
  return () => view?.removeEventListener("keydown", mark, true);
}
function outermostBox(root) {
  let box = root;
  for (let next = box.closest(".widget-vbox"); next; next = box.parentElement?.closest(".widget-vbox") ?? null) {
    box = /** @type {HTMLElement} */
    next;
  }
  return box;
}

// shared/press_guard.js
var LONGEST = 3e3;
var PRESSED = 'button, summary, label, input, .cc-kept-one, .cc-range-card, [role="slider"]';
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
    this.root = root;
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
    this.root.removeEventListener("pointerdown", this.#begin, { capture: true });
    for (const name of ENDS) this.page.removeEventListener(name, this.#end, { capture: true });
  }
};

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
   * @param {number} [wefts] stripes of the weft's own, or 0
   */
  draw(context, x, y, bytes, offset, stripes, warp, weft2 = warp, wefts = 0) {
    const { width, height } = this.image;
    const across = wefts || stripes;
    const tones2 = pixelsOfTones(bytes, offset, stripes, across);
    weave(this.pixels, width, height, tones2, across + 1, warp, weft2);
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
   * @param {Laid} laid
   * @param {number} pixels device pixels of one check
   * @param {number} [wefts] stripes of the weft's own, or 0
   */
  draw(bytes, offset, stripes, laid, pixels, wefts = 0) {
    const { width, height } = this.canvas;
    const warp = planOf(laid.warp, pixels, width, this.startX);
    const weft2 = planOf(laid.weft, pixels, height, this.startY);
    this.loom.draw(contextOf(this.canvas), 0, 0, bytes, offset, stripes, warp, weft2, wefts);
    this.canvas.dataset.pixels = String(pixels);
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

// desk/colour_words.js
function leftOutWords(read, leftOut) {
  const words = `${counted(read, "colour")} read.`;
  if (!leftOut.length) return words;
  const [line, text, why] = leftOut[0];
  const first = `Line ${line} left out: “${text}” ${why}`;
  const more = leftOut.length - 1;
  return `${words} ${first.replace(/\.$/, "")}${more ? `, and ${more} more` : ""}.`;
}
function usedWords(used, kept) {
  return used ? `${used} of ${kept}` : "–";
}
function namedWords(name, hex, moved = "") {
  return moved ? `${name} ${hex}, ${moved}` : `${name} ${hex}`;
}
var COUNTS = [6, 8, 10, 12, 16, 20, 24];
function nextCount(count, step) {
  return (step < 0 ? COUNTS.findLast((one) => one < count) : COUNTS.find((one) => one > count)) ?? null;
}
function rowToSave([name, hex, text = hex, role = "", note = "", , reflectance]) {
  return reflectance ? [name, text, role, note, reflectance] : [name, text, role, note];
}
function nameOfFile(file) {
  return file.replace(/(?<=.)\.[^.]*$/, "");
}

// desk/hand/complaint.js
var Complaint = class {
  /** @param {(name: string) => void} [take] takes a name that may have been meant */
  constructor(take = () => {
  }) {
    this.take = take;
    this.words = make("p", { class: "cc-said", role: "alert" });
    this.near = make("div", { class: "cc-near", role: "group", "aria-label": "Did you mean" });
    this.root = make("div", { hidden: true }, this.words, this.near);
  }
  /**
   * @param {string} words "" takes them away
   * @param {string[]} [near] names that may have been meant
   */
  say(words, near = []) {
    this.root.hidden = words === "";
    this.near.hidden = !near.length;
    this.near.replaceChildren(...near.map((name) => button(name, () => this.take(name), { label: `Take ${name}`, kind: "cc-plain" })));
    say(this.words, words);
  }
};

// desk/link.js
var PATIENCE = 4e3;
var AGAIN = 5e3;
var DOUBT = 1200;
var links = 0;
function refusalOf(error) {
  if (!(error instanceof Error)) return { words: String(error), near: [], field: "" };
  const near = "near" in error && Array.isArray(error.near) ? error.near : [];
  return { words: error.message, near, field: "field" in error ? String(error.field) : "" };
}
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
   * @param {ArrayBuffer[]} [files] bytes that go with it
   * @returns {Promise<any>}
   */
  ask(what, fields2 = {}, files = void 0) {
    const id = `${this.view}/${this.#next += 1}`;
    if (what === "ping") this.#pings.add(id);
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => this.#setQuiet(true), PATIENCE);
      this.#waiting.set(id, { resolve, reject, timer });
      try {
        this.model.send({ ...fields2, do: what, id }, void 0, files);
      } catch {
        this.#setQuiet(true);
      }
    });
  }
  /**
   * @param {{id?: string, error?: string, near?: string[], field?: string} | null} message
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
    if (message?.error) {
      const { error, near = [], field = "" } = message;
      request.reject(Object.assign(new Error(error), { near, field }));
    } else request.resolve({ ...message, buffers });
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

// desk/add_colour.js
var AddColour = class {
  /**
   * @param {Desk} desk
   * @param {() => {palette: string, count: number}} shown the palette, and how many colours it has
   * @param {() => void} onadd
   */
  constructor(desk, shown, onadd) {
    this.desk = desk;
    this.shown = shown;
    this.onadd = onadd;
    const field = (label, placeholder) => textInput(
      label,
      { placeholder, spellcheck: "false", oninput: () => this.#complain("", "", []), enter: () => this.#add() }
    );
    this.name = field("Name of a colour to add", "one more, its name");
    this.code = field("Code of a colour to add", "#c09fd4");
    this.said = new Complaint((name) => {
      this.code.value = name;
      this.#add();
    });
    const cell = (...inside) => make("td", {}, ...inside);
    this.root = make(
      "tfoot",
      {},
      make(
        "tr",
        {},
        cell(),
        cell(this.name),
        cell(this.code),
        cell(),
        cell(),
        cell(button("Add", () => this.#add(), { label: "Add this colour to the palette", kind: "cc-plain" }))
      ),
      make("tr", {}, make("td", { colspan: 6 }, this.said.root))
    );
  }
  async #add() {
    const [name, text] = [this.name.value.trim(), this.code.value.trim()];
    if (!text) {
      this.code.focus();
      return;
    }
    const { palette, count } = this.shown();
    try {
      await this.desk.request("edit_palette", { palette, index: count - 1, field: "add", text, name });
    } catch (error) {
      const { words, near, field } = refusalOf(error);
      this.#complain(words, field, near);
      return;
    }
    this.name.value = this.code.value = "";
    this.#complain("", "", []);
    this.name.focus({ preventScroll: true });
    this.onadd();
  }
  /**
   * @param {string} words "" where nothing is wrong
   * @param {string} field which of the two, by the kernel's name for it
   * @param {string[]} near names that may have been meant
   */
  #complain(words, field, near) {
    this.said.say(words, near);
    setAttribute(this.name, "aria-invalid", String(field === "name"));
    setAttribute(this.code, "aria-invalid", String(words !== "" && field !== "name"));
  }
};

// desk/hand/text_field.js
function textField(label, { known, change, leave = () => {
} }, attributes = {}) {
  const done = () => {
    input.blur();
    leave();
  };
  const input = textInput(label, {
    ...attributes,
    enter: done,
    escape: () => {
      input.value = known();
      done();
    },
    onchange: () => {
      if (input.value !== known()) change(input.value);
    }
  });
  return input;
}

// desk/keep_focus.js
function findPart(root, part) {
  const nodes = (
    /** @type {NodeListOf<HTMLElement>} */
    root.querySelectorAll("[data-part]")
  );
  return [...nodes].find((node) => node.dataset.part === part);
}
function keepFocus(root, lay, instead = () => null) {
  const focused = document.activeElement;
  const part = focused instanceof HTMLElement && root.contains(focused) ? focused.dataset.part : "";
  const typed = focused instanceof HTMLInputElement ? focused.value : null;
  lay();
  if (!part) return;
  const same = findPart(root, part);
  if (same instanceof HTMLInputElement && typed !== null) same.value = typed;
  const next = same ?? instead();
  if (next instanceof HTMLElement) next.focus({ preventScroll: true });
}

// desk/recolour.js
var Recolour = class {
  /** The colour that is changed, by its code, or "". */
  hex = "";
  /**
   * @param {Desk} desk
   * @param {() => void} onclose
   * @param {(hex: string, text: string, name: string) => void} ontyped a colour was changed to what was typed
   */
  constructor(desk, onclose, ontyped) {
    this.desk = desk;
    this.onclose = onclose;
    this.ontyped = ontyped;
    this.title = make("h4", { id: "" });
    this.swatches = make("div", { class: "cc-recolour-swatches", role: "group", "aria-label": "Colours of the palette" });
    const typed = () => this.#change({ text: this.field.value });
    const keys = { spellcheck: "false", enter: typed, escape: () => this.onclose() };
    this.field = textInput("Its new code or name", { ...keys, placeholder: "#c09fd4 or plum", "data-part": "recolour field" });
    this.called = textInput("What it is called then", { ...keys, "data-part": "recolour name" });
    this.said = new Complaint((name) => this.#change({ text: name }));
    this.root = make(
      "section",
      { class: "cc-recolour" },
      make(
        "div",
        { class: "cc-row" },
        this.title,
        make("span", { class: "cc-spring" }),
        button("Close", () => this.onclose(), { label: "Close the change of a colour", kind: "cc-plain" })
      ),
      this.swatches,
      make(
        "div",
        { class: "cc-row" },
        this.field,
        this.called,
        button("Change it", typed, { label: "Change it to this code or name", kind: "cc-small" })
      ),
      this.said.root
    );
  }
  /**
   * @param {string} palette
   * @param {[name: string, hex: string, ...unknown[]][]} colours
   */
  fill(palette, colours) {
    const colour = colours.find(([, hex2]) => hex2 === this.hex);
    if (!colour) return;
    const [name, hex, , used = 0] = colour;
    const words = `${name} in ${used === 1 ? "the one kept that holds it" : `all ${used} kept that hold it`} becomes`;
    say(this.title, words);
    this.called.placeholder = `keeps ${name}`;
    this.called.title = `Another name for it; without one, a code keeps the name ${name}`;
    this.root.setAttribute("aria-label", words);
    this.swatches.replaceChildren(...colours.flatMap(([other, code], index) => {
      if (code === hex) return [];
      const node = make("button", {
        type: "button",
        class: "cc-colour",
        title: `${other} ${code}`,
        "aria-label": `${other} ${code}`,
        "data-part": `recolour ${index}`,
        onclick: () => this.#change({ palette, index })
      });
      node.style.background = code;
      return [node];
    }));
  }
  /** @param {{palette: string, index: number} | {text: string}} to */
  async #change(to) {
    if ("text" in to && !to.text.trim()) return;
    this.said.say("");
    const { hex } = this;
    const name = "text" in to ? this.called.value.trim() : "";
    try {
      await this.desk.request("recolour", { from: hex, ...to, ...name ? { name } : {} });
    } catch (error) {
      const { words, near } = refusalOf(error);
      this.said.say(words, near);
      return;
    }
    this.field.value = this.called.value = "";
    this.onclose();
    if ("text" in to) this.ontyped(hex, to.text.trim(), name);
  }
};

// shared/sent_file.js
var MOST = 5e6;
var LIMIT = 9e6;
var SIDE = 1200;
function sentHow(bytes, picture) {
  if (picture) return bytes > MOST ? "smaller" : "as it is";
  return bytes > LIMIT ? "too large" : "as it is";
}
function smallerSize(width, height) {
  const scale = Math.min(1, SIDE / Math.max(width, height));
  return [width, height].map((side) => Math.max(1, Math.round(side * scale)));
}
async function bytesToSend(file, picture) {
  const how = sentHow(file.size, picture);
  if (how === "too large") throw new Error("too large to be sent");
  const smaller = how === "smaller";
  return { bytes: await (smaller ? await redrawn(file) : file).arrayBuffer(), smaller };
}
async function redrawn(file) {
  const picture = await createImageBitmap(file);
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = smallerSize(picture.width, picture.height);
  const context = (
    /** @type {CanvasRenderingContext2D} */
    canvas.getContext("2d")
  );
  context.imageSmoothingEnabled = false;
  context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((done, fail) => canvas.toBlob((blob) => blob ? done(blob) : fail(new Error("no picture")), "image/png"));
}
function sizeWords(bytes) {
  return bytes < 1e5 ? `${(bytes / 1e3).toFixed(1)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

// desk/file_drop.js
function fileInput(accept, take) {
  const input = make("input", {
    type: "file",
    class: "cc-unseen",
    tabindex: "-1",
    "aria-hidden": "true",
    accept,
    onchange: () => {
      const file = input.files?.[0];
      input.value = "";
      if (file) take(file);
    }
  });
  return input;
}
function takeDrops(root, take) {
  root.addEventListener("dragover", (event) => {
    event.preventDefault();
    root.classList.add("cc-aimed");
  });
  root.addEventListener("dragleave", (event) => {
    if (!(event.relatedTarget instanceof Node) || !root.contains(event.relatedTarget)) root.classList.remove("cc-aimed");
  });
  root.addEventListener("drop", (event) => {
    root.classList.remove("cc-aimed");
    const file = event.dataTransfer?.files[0];
    if (!file) return;
    event.preventDefault();
    event.stopPropagation();
    take(file);
  });
  return root;
}

// desk/pasted_colours.js
var REST = 200;
var USUAL = 12;
var KINDS = "image/*,.csv,.json,.txt,.css,text/*";
var PastedColours = class {
  /** @type {ReadColour[]} */
  #colours = [];
  /** @type {Source | null} */
  #source = null;
  #count = USUAL;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  #turn = 0;
  /**
   * @param {Desk} desk
   * @param {(palette: string) => void} onsave
   */
  constructor(desk, onsave) {
    this.desk = desk;
    this.onsave = onsave;
    this.text = make("textarea", {
      class: "cc-input cc-paste",
      rows: 4,
      spellcheck: "false",
      "aria-label": "Colours to add",
      placeholder: "#f6c9c6\nrose dust #d9a5b3\nteal",
      oninput: () => this.#soon()
    });
    this.file = fileInput(KINDS, (file) => this.#takeFile(file));
    this.chooser = button("Choose a file", () => this.file.click(), { label: "Choose a file: a photograph or colours" });
    this.hand = button(
      "From the cloth in hand",
      () => this.#takeHand(),
      { label: "From the cloth in hand: take its colours" }
    );
    this.from = make("span", { class: "cc-quiet cc-from" });
    this.fewer = button("Fewer", () => this.#step(-1), { label: "Fewer colours", kind: "cc-small" });
    this.more = button("More", () => this.#step(1), { label: "More colours", kind: "cc-small" });
    this.counts = make(
      "span",
      { class: "cc-row cc-tight", role: "group", "aria-label": "How many colours of the photograph" },
      this.fewer,
      this.more
    );
    this.clear = button("Clear", () => this.#clear(), { label: "Clear what was read", kind: "cc-small" });
    this.sourceRow = make("div", { class: "cc-row", hidden: true }, this.from, this.counts, this.clear);
    this.strip = make("ul", { class: "cc-read", "aria-label": "Colours read" });
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.name = textInput("Name of the palette", {
      maxlength: 100,
      placeholder: "name of the palette",
      enter: () => this.#save(),
      oninput: () => this.#show()
    });
    this.save = button("Save as a palette", () => this.#save(), { kind: "cc-strong" });
    this.saving = make("div", { class: "cc-row", hidden: true }, this.name, this.save);
    this.root = this.#lay();
    this.#show();
  }
  #lay() {
    const root = make(
      "section",
      { class: "cc-add", "aria-label": "Add colours" },
      make(
        "header",
        { class: "cc-row" },
        make("h3", { class: "cc-title", text: "Add colours" }),
        make("span", { class: "cc-quiet", text: "paste codes, or drop a photograph, a table or tokens" }),
        make("span", { class: "cc-spring" }),
        this.chooser,
        this.hand,
        this.file
      ),
      this.text,
      this.sourceRow,
      this.strip,
      this.said,
      this.saving
    );
    return takeDrops(root, (file) => this.#takeFile(file));
  }
  /** Whether there is a cloth in hand to take colours of. */
  fill() {
    this.hand.hidden = this.desk.number === void 0;
  }
  /** @param {File} file */
  async #takeFile(file) {
    const turn2 = this.#turn += 1;
    say(this.said, `Reading ${file.name} …`);
    try {
      const picture = file.type.startsWith("image/");
      const { bytes, smaller } = await bytesToSend(file, picture);
      if (turn2 !== this.#turn) return;
      this.#count = USUAL;
      this.#take({
        fields: { name: file.name },
        bytes,
        picture,
        words: `${file.name}, ${sizeWords(file.size)}${smaller ? ", sent smaller" : ""}`
      }, nameOfFile(file.name));
    } catch {
      if (turn2 !== this.#turn) return;
      this.#put([], `${file.name} (${sizeWords(file.size)}) could not be read here: it is no picture that this browser knows, or is too large to be sent.`);
    }
  }
  #takeHand() {
    const { number } = this.desk;
    if (number === void 0) return;
    const title = this.desk.titleOf(number);
    this.#take({ fields: { number }, words: `Colours of ${title}` }, this.desk.model.get("kept").find((card) => card.number === number)?.name ?? "");
  }
  /**
   * @param {Source} source
   * @param {string} name that the palette may have
   */
  #take(source, name) {
    clearTimeout(this.#timer);
    this.text.value = "";
    this.#source = source;
    if (!this.name.value) this.name.value = name;
    this.#read();
  }
  #soon() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      const text = this.text.value;
      this.#source = text.trim() ? { fields: { text }, words: "" } : null;
      this.#read();
    }, REST);
  }
  /** A photograph again, in fewer or more colours. @param {-1 | 1} step */
  #step(step) {
    const next = nextCount(this.#count, step);
    if (next === null) return;
    this.#count = next;
    this.#read();
  }
  #clear() {
    this.text.value = this.name.value = "";
    this.#source = null;
    this.#read();
    this.text.focus();
  }
  async #read() {
    const source = this.#source;
    const turn2 = this.#turn += 1;
    if (!source) {
      this.#put([], "");
      return;
    }
    const fields2 = source.picture ? { ...source.fields, count: this.#count } : source.fields;
    try {
      const { colours = [], left_out: leftOut = [] } = await this.desk.request(
        "read_colours",
        fields2,
        source.bytes && [source.bytes]
      ) ?? {};
      if (turn2 === this.#turn) this.#put(colours, leftOutWords(colours.length, leftOut));
    } catch (error) {
      if (turn2 === this.#turn) this.#put([], errorWords(error));
    }
  }
  /**
   * @param {ReadColour[]} colours
   * @param {string} words
   */
  #put(colours, words) {
    this.#colours = colours;
    this.strip.replaceChildren(...colours.map(([name, hex, , , , moved]) => {
      const text = namedWords(name, hex, moved);
      const item = make("li", { title: text }, make("span", { class: "cc-unseen", text }));
      item.style.background = hex;
      return item;
    }));
    say(this.said, words);
    this.#show();
  }
  #show() {
    const source = this.#source;
    this.sourceRow.hidden = !source?.words;
    say(this.from, source?.words ?? "");
    this.counts.hidden = !source?.picture;
    setAttribute(this.fewer, "aria-disabled", String(nextCount(this.#count, -1) === null));
    setAttribute(this.more, "aria-disabled", String(nextCount(this.#count, 1) === null));
    this.strip.hidden = this.#colours.length === 0;
    this.saving.hidden = this.#colours.length === 0;
    setAttribute(this.save, "aria-disabled", String(!this.name.value.trim()));
    this.save.title = this.name.value.trim() ? "" : "Give the palette a name first";
  }
  async #save() {
    const name = this.name.value.trim();
    if (!this.#colours.length) return;
    if (!name) {
      this.name.focus();
      return;
    }
    try {
      const answer = await this.desk.request("save_palette", { name, colours: this.#colours.map(rowToSave) });
      this.text.value = this.name.value = "";
      this.#source = null;
      this.#put([], answer?.words ?? `Palette ${answer?.palette ?? name} saved.`);
      this.onsave(answer?.palette ?? name);
    } catch (error) {
      say(this.said, errorWords(error));
    }
  }
  /** Another palette is looked at: what was said of the last that was saved has passed. */
  forget() {
    if (!this.#source) say(this.said, "");
  }
  close() {
    clearTimeout(this.#timer);
  }
};

// desk/colours_tab.js
var ROLES = [["ground", "ground"], ["stripe", "stripe"], ["", "either"]];
var ColoursTab = class {
  palette = "";
  #saved = "";
  // a palette that the kernel has saved, and is about to list
  #turn = 0;
  /** @type {Colour[]} of the palette that is shown */
  #colours = [];
  #focusNext = "";
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.words = make("p", { class: "cc-count" });
    this.hint = make("p", { class: "cc-quiet" });
    this.bar = make("div", { class: "cc-bar" }, this.words, this.hint, make("span", { class: "cc-spring" }));
    this.pasted = new PastedColours(desk, (palette) => {
      this.palette = this.#saved = palette;
      this.fill();
    });
    this.shown = choice("Palette shown", [], "", (palette) => {
      this.palette = palette;
      this.pasted.forget();
      this.#ask();
    });
    this.use = button(
      "Draw from it",
      () => desk.change("palette", this.palette),
      { label: "Draw from it: the wall from this palette", kind: "cc-plain" }
    );
    this.count = make("span", { class: "cc-quiet" });
    this.retry = () => {
    };
    this.said = new Complaint((name) => this.retry(name));
    this.recolour = new Recolour(desk, () => this.#change(""), (hex, text, name) => this.#offerPalette(hex, text, name));
    this.follow = make("p", { class: "cc-row cc-follow", role: "status", hidden: true });
    this.faults = make("ul", { class: "cc-faults" });
    this.body = make("tbody");
    this.one = new AddColour(desk, () => ({ palette: this.palette, count: this.#colours.length }), () => this.#ask());
    this.table = make(
      "table",
      { class: "cc-colours", "aria-label": "Colours of the palette" },
      make("thead", {}, make("tr", {}, ...["Colour", "Name", "Code", "For", "Used", "Remove"].map((text) => make("th", { scope: "col" }, make("span", { class: /Colour|Remove/.test(text) ? "cc-unseen" : "", text }))))),
      this.body,
      this.one.root
    );
    this.scroll = make(
      "div",
      { class: "cc-panel-scroll", tabindex: "-1" },
      this.pasted.root,
      make(
        "div",
        { class: "cc-bar cc-palette-bar" },
        this.shown.box,
        this.count,
        make("span", { class: "cc-spring" }),
        this.use
      ),
      this.said.root,
      this.follow,
      this.table,
      this.faults
    );
    this.root = make("div", { class: "cc-panel cc-colours-tab" }, this.bar, this.scroll);
  }
  fill() {
    if (this.root.hidden) return;
    const { model } = this.desk;
    const facts = model.get("facts");
    const names = facts.palettes?.map(([name]) => name) ?? [...model.get("choices").palettes];
    if (this.#saved && !names.includes(this.#saved)) names.push(this.#saved);
    else this.#saved = "";
    if (!names.includes(this.palette)) this.palette = model.get("palette");
    say(this.words, counted(names.length, "palette"));
    setOptions(this.shown.select, names.map((name) => [name, name]), this.palette);
    this.faults.replaceChildren(...(facts.faults ?? []).map(([file, why]) => make("li", { class: "cc-quiet", text: `${file}: left out, ${why}` })));
    this.sayHint();
    this.pasted.fill();
    this.#ask();
  }
  /** Where a colour that is pressed goes. */
  sayHint() {
    const part = this.desk.partInHand;
    say(this.hint, part === null ? "Press a stripe, then a colour" : `A colour pressed goes into ${part ? partWords(part).toLowerCase() : "the ground"}`);
  }
  async #ask() {
    const { palette } = this;
    const turn2 = this.#turn += 1;
    let colours = [];
    try {
      colours = (await this.desk.request("palette", { palette }))?.colours ?? [];
    } catch (error) {
      if (turn2 === this.#turn) this.#complain(error);
    }
    if (turn2 !== this.#turn || this.root.hidden) return;
    const kept = this.desk.model.get("kept").length;
    this.#colours = colours;
    say(this.count, counted(colours.length, "colour"));
    this.desk.guard.after("palette table", () => this.#lay(() => this.body.replaceChildren(...colours.flatMap((colour, index) => this.#rows(colour, index, kept, colours)))));
  }
  /** Open the change of a colour in all that hold it, or "" close it. @param {string} hex */
  #change(hex) {
    const was = this.recolour.hex;
    this.recolour.hex = hex;
    this.recolour.said.say("");
    this.#focusNext = hex ? "recolour" : `used ${was}`;
    this.#ask();
  }
  /** @param {string} part of the table, or "recolour" */
  #moveFocus(part) {
    const { recolour } = this;
    const node = part === "recolour" ? recolour.swatches.querySelector("button") ?? recolour.field : findPart(this.body, part);
    (node ?? this.shown.select).focus({ preventScroll: true });
  }
  /**
   * @param {Colour} colour
   * @param {number} index
   * @param {number} kept
   * @param {Colour[]} colours
   */
  #rows(colour, index, kept, colours) {
    const row = this.#row(colour, index, kept);
    if (!this.recolour.hex || colour[1] !== this.recolour.hex || !colour[3]) return [row];
    this.recolour.fill(this.palette, colours);
    return [row, make("tr", { class: "cc-recolour-row" }, make("td", { colspan: 6 }, this.recolour.root))];
  }
  /** @param {() => void} lay */
  #lay(lay) {
    const next = this.#focusNext;
    this.#focusNext = "";
    if (next) {
      lay();
      this.#moveFocus(next);
    } else keepFocus(this.body, lay, () => this.body.querySelector("tr:last-child [data-part]") ?? this.shown.select);
  }
  /**
   * @param {Colour} colour
   * @param {number} index
   * @param {number} kept
   */
  #row([name, hex, role, used, , , , moved = ""], index, kept) {
    const named = namedWords(name, hex, moved);
    const swatch = make("button", {
      type: "button",
      class: "cc-colour",
      "data-part": `swatch ${index}`,
      "aria-label": `Put ${named} into the chosen part`,
      title: named,
      onclick: () => this.desk.putInHand(this.palette, index, { name, hex })
    });
    swatch.style.background = hex;
    const { select } = choice(
      `Use of ${name}`,
      ROLES,
      ROLES.some(([key]) => key === role) ? role : "",
      (text) => this.#edit(index, "role", text)
    );
    select.dataset.part = `role ${index}`;
    const remove = button(
      "Remove",
      () => this.#edit(index, "remove", ""),
      { label: `Remove ${name}`, kind: "cc-plain" }
    );
    remove.dataset.part = `remove ${index}`;
    const cell = (inside) => make("td", {}, inside);
    return make(
      "tr",
      {},
      cell(swatch),
      cell(this.#field(`Name of ${name}`, name, index, "name")),
      this.#code(name, hex, index, moved),
      cell(select),
      cell(used ? this.#usedButton(name, hex, used, kept) : usedWords(used, kept)),
      cell(remove)
    );
  }
  /**
   * The code of a colour; of one that no screen shows, also how far off it is shown.
   * @param {string} name
   * @param {string} hex
   * @param {number} index
   * @param {string} moved
   */
  #code(name, hex, index, moved) {
    const field = this.#field(`Code of ${name}`, hex, index, "colour");
    return make("td", {}, field, ...moved ? [make("p", { class: "cc-quiet", text: moved })] : []);
  }
  /**
   * @param {string} name
   * @param {string} hex
   * @param {number} used
   * @param {number} kept
   */
  #usedButton(name, hex, used, kept) {
    const open = this.recolour.hex === hex;
    const node = button(
      usedWords(used, kept),
      () => this.#change(open ? "" : hex),
      { label: `${name}, used in ${usedWords(used, kept)} kept: change it in all`, kind: "cc-plain" }
    );
    setAttribute(node, "aria-expanded", String(open));
    node.dataset.part = `used ${hex}`;
    return node;
  }
  /**
   * @param {string} label
   * @param {string} value
   * @param {number} index
   * @param {"name" | "colour"} field
   */
  #field(label, value, index, field) {
    return textField(
      label,
      { known: () => value, change: (text) => this.#edit(index, field, text) },
      { value, "data-part": `${field} ${index}` }
    );
  }
  /**
   * @param {number} index
   * @param {"name" | "colour" | "role" | "remove"} field
   * @param {string} text
   */
  async #edit(index, field, text) {
    this.said.say("");
    this.retry = (name) => this.#edit(index, field, name);
    this.follow.hidden = true;
    try {
      const { old = "", kept = [] } = await this.desk.request("edit_palette", { palette: this.palette, index, field, text }) ?? {};
      if (field === "colour" && kept.length) this.#offerFollow(old, index, kept.length);
    } catch (error) {
      this.#complain(error);
    }
    this.#ask();
  }
  /**
   * Kept ones hold their own colours: they follow a palette when they are told.
   * @param {string} old
   * @param {number} index
   * @param {number} many
   */
  #offerFollow(old, index, many) {
    const { palette } = this;
    this.#offer(
      `${many} kept ${many === 1 ? "has" : "have"} the old ${old}.`,
      many === 1 ? "Change it too" : "Change them too",
      () => this.desk.act("recolour", 0, { from: old, palette, index })
    );
  }
  /**
   * A colour was changed in what is kept; the palette that it came from follows when it is told.
   * @param {string} hex
   * @param {string} text
   * @param {string} name
   */
  #offerPalette(hex, text, name) {
    const { palette } = this;
    const index = this.#colours.findIndex(([, code]) => code === hex);
    const other = this.#colours.some(([one]) => one.toLowerCase() === text.toLowerCase());
    if (index < 0 || other) return;
    this.#offer(`${palette} has ${this.#colours[index][0]} ${hex} still.`, "Change it there too", async () => {
      await this.#edit(index, "colour", text);
      if (name) await this.#edit(index, "name", name);
    });
  }
  /**
   * @param {string} words
   * @param {string} text of the button
   * @param {() => Promise<void>} follow
   */
  #offer(words, text, follow) {
    this.follow.replaceChildren(make("span", { text: words }), button(text, async () => {
      await follow();
      this.follow.hidden = true;
    }, { kind: "cc-small" }));
    this.follow.hidden = false;
  }
  /** @param {unknown} error */
  #complain(error) {
    const { words, near } = refusalOf(error);
    this.said.say(words, near);
  }
  close() {
    this.pasted.close();
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

// shared/scale.js
var FEWEST_CHECKS = 13;
var WORDS_INSIDE = 34;
var EXACT = 5e-3;
function checksToShow(plans) {
  return plans.reduce((most, bands) => Math.max(most, checksIn(bands) + bands[0][1]), FEWEST_CHECKS);
}
function commonPixels(side, checks) {
  return Math.max(1, Math.floor(side / checks));
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
function rulerOf(perInch) {
  const width = Math.max(1, Math.round(perInch));
  return { width, inside: width >= WORDS_INSIDE };
}
var THREE_SIZES = [0.25, 0.5, 1];
function threeSizes(perInch) {
  const unit = Math.max(1, Math.round(THREE_SIZES[0] * perInch / 4));
  return THREE_SIZES.map((inches) => unit * (inches / THREE_SIZES[0]));
}
function inchWords(inches) {
  const whole = Math.floor(inches);
  const sixteenths = (inches - whole) * 16;
  if (sixteenths === 0 || !Number.isInteger(sixteenths)) return `${Number(inches.toFixed(3))} in`;
  let [top, under] = [sixteenths, 16];
  while (top % 2 === 0) [top, under] = [top / 2, under / 2];
  return `${whole || ""}${whole ? " " : ""}${top}/${under} in`;
}

// shared/threads.js
var LEAST_THREAD = 24;
var TWO_ROWS = 13;
function segmentsOf(bands, pixels) {
  let left = 0;
  return bands.map(([stripe, checks]) => {
    const segment = { stripe, left, width: checks * pixels };
    left += segment.width;
    return segment;
  });
}
function segmentsOfStripe(bands, pixels, stripe) {
  return segmentsOf(bands, pixels).filter((segment) => segment.stripe === stripe);
}
function threadsOf(bands, pixels, least = LEAST_THREAD) {
  const segments = segmentsOf(bands, pixels);
  const firsts = segments.filter(({ stripe }, at) => stripe > 0 && segments.findIndex((other) => other.stripe === stripe) === at);
  const last = segments[segments.length - 1];
  const lay = (rows) => firsts.map((segment, at) => ({
    ...segment,
    row: at % rows,
    span: (firsts[at + rows]?.left ?? Math.max(last.left + last.width, segment.left + least)) - segment.left
  }));
  const one = lay(1);
  return one.length >= TWO_ROWS || one.slice(0, -1).some(({ span }) => span < least) ? lay(2) : one;
}
function landing(threads, stripe, x) {
  const others = threads.filter((thread) => thread.stripe !== stripe);
  const before = others.filter(({ left, width }) => left + width / 2 < x).length;
  const order = others.map((thread) => thread.stripe);
  order.splice(before, 0, stripe);
  return { to: threads[before].stripe, order };
}

// desk/bands/orders.js
var NARROWEST_PULLED = 0.5;
var WIDEST = 16;
var MOST_PARTS = 960;
var KINDS2 = [
  ["even", "even"],
  ["graduated", "graduated"],
  ["double", "double"],
  ["windowpane", "windowpane"]
];
var OF_EACH = {
  graduated: (stripe) => [[stripe, (stripe + 1) / 2], [0, 1]],
  double: (stripe) => [[stripe, 0.5], [0, 0.5], [stripe, 0.5], [0, 1]],
  windowpane: (stripe) => [[stripe, 0.25], [0, 2]]
};
function presetBands(kind, stripes) {
  if (!(kind in OF_EACH)) return evenBands(stripes);
  return Array.from({ length: stripes }, (_, at) => OF_EACH[kind](at + 1)).flat();
}
function weftAsWarp(warp, stripes, wefts) {
  if (wefts === stripes) return warp;
  const preset = KINDS2.find(([kind]) => orderText(presetBands(kind, stripes)) === orderText(warp));
  return presetBands(preset?.[0] ?? "even", wefts);
}
function isPreset(text) {
  return KINDS2.some(([kind]) => kind === text);
}
function letterOf(stripe) {
  return stripe ? String.fromCharCode(64 + stripe) : "ground";
}
function mixedOf(checks) {
  for (let under = 1; under <= MOST_PARTS; under++) {
    const top = Math.round(checks * under);
    if (Math.abs(checks * under - top) < 1e-9 * under) return [Math.floor(top / under), top % under, under];
  }
  return [Math.round(checks), 0, 1];
}
function orderText(bands) {
  return bands.map(([stripe, checks]) => {
    const [whole, top, under] = mixedOf(checks);
    return [whole || "", top ? `${top}/${under}` : "", letterOf(stripe)].filter(Boolean).join(" ");
  }).join(", ");
}
var SIGNS2 = { "1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞" };
function checksWords(checks) {
  const [whole, top, under] = mixedOf(checks);
  const part = top ? SIGNS2[`${top}/${under}`] ?? `${whole ? " " : ""}${top}/${under}` : "";
  return `${whole || ""}${part} ${checks > 1 ? "checks" : "check"}`;
}
function bandWords(stripe, checks) {
  return `${stripe ? `Stripe ${stripe}` : "Ground"}, ${checksWords(checks)}`;
}
function stepped(checks, by) {
  if (by < 0 && checks <= NARROWEST_PULLED) return checks;
  const halves = by > 0 ? Math.floor(checks * 2 + 1e-9) + by : Math.ceil(checks * 2 - 1e-9) + by;
  return Math.min(WIDEST, Math.max(NARROWEST_PULLED, halves / 2));
}
function pulledTo(checks) {
  return Math.min(WIDEST, Math.max(NARROWEST_PULLED, Math.round(checks * 2) / 2));
}
function withWidth(bands, at, checks) {
  return bands.with(at, [bands[at][0], checks]);
}
function stripScale(bands, room, least) {
  const widths = bands.map(([, checks]) => checks);
  const total = widths.reduce((sum, checks) => sum + checks, 0);
  return Math.max(room / total, least / Math.min(...widths));
}
function countsWords(warp, weft2) {
  return warp === weft2 ? counted(warp, "stripe") : `${warp} × ${weft2} stripes`;
}
function evenWords(laid, bands, stripes, wefts) {
  if (!laid?.warp || !laid.stripes || !laid.wefts) return "";
  if (laid.stripes === stripes && laid.wefts === (wefts || stripes)) return "";
  return `even: the range's ${kindOf(bands)}bands are of ${countsWords(laid.stripes, laid.wefts)}`;
}
function kindOf(bands) {
  return isPreset(bands) && bands !== "even" ? `${bands} ` : "";
}

// shared/piece.js
var HEM = 0.75;
var WHOLE_SHARE = 0.75;
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
function fitPiece([wide, long], inches, width, height) {
  const largest = Math.min(width / wide, height / long);
  const whole = Math.floor(largest * inches) / inches;
  const perInch = whole >= WHOLE_SHARE * largest ? whole : largest;
  return {
    perInch,
    width: Math.max(1, Math.round(wide * perInch)),
    height: Math.max(1, Math.round(long * perInch)),
    pixels: inches * perInch,
    hem: Math.max(2, Math.round(HEM * perInch))
  };
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

// shared/nudge.js
var NUDGES = [
  { axis: "lightness", name: "Lightness", back: "darker", onward: "lighter", channel: 0, step: 0.025 },
  { axis: "chroma", name: "Brightness of the colour", back: "duller", onward: "brighter", channel: 1, step: 0.012 },
  { axis: "hue", name: "Hue", back: "hue back", onward: "hue on", channel: 2, step: 7.5 }
];
var STEPS = [-3, -2, -1, 0, 1, 2, 3];
function rgbOf(hex) {
  const value = Number.parseInt(hex.slice(1), 16);
  return [(value >> 16) / 255, (value >> 8 & 255) / 255, (value & 255) / 255];
}
function hexOf(rgb) {
  return `#${Array.from(rgb, (value) => Math.round(value * 255).toString(16).padStart(2, "0")).join("")}`;
}
function nudged(hex, { channel, step }, steps) {
  if (steps === 0) return hex;
  const lch = srgbToOklch(rgbOf(hex));
  lch[channel] += step * steps;
  lch[0] = Math.min(Math.max(lch[0], 0), 1);
  lch[1] = Math.max(lch[1], 0);
  return hexOf(oklchToSrgb(lch));
}
function nudgedName(name, { back, onward }, steps) {
  if (steps === 0) return name;
  let plain2 = name;
  for (const way of [back, onward]) {
    if (plain2.endsWith(`, ${way}`)) plain2 = plain2.slice(0, -way.length - 2);
  }
  return `${plain2}, ${steps > 0 ? onward : back}`;
}
function patchesOf(hex, nudge) {
  const all = STEPS.map((steps) => ({ steps, hex: nudged(hex, nudge, steps) }));
  return all.filter(({ steps }, at) => steps === 0 || all[at].hex !== all[at - Math.sign(steps)].hex);
}

// desk/hand/cloth_view.js
var VIEWS = [
  ["repeat", "Repeat"],
  ["true", "True size"],
  ["sizes", "3 checks"],
  ["tablecloth", "Tablecloth"],
  ["towel", "Tea towel"],
  ["napkin", "Napkin"]
];
var SIZE_KEY = "checkcloth: size of a ";
var DRAG_AFTER = 4;
var MARGIN2 = 8;
var ClothView = class {
  /** @type {Shown | undefined} */
  #shown;
  /** Device pixels of a check where pressing chooses; 0 in other views. */
  pixels = 0;
  #warp = new Uint8Array(0);
  #weft = new Uint8Array(0);
  /** Whether the press that is under way moves the cloth: the click after it chooses nothing. */
  #dragged = false;
  /**
   * @param {Desk} desk
   * @param {boolean} large as large as the window allows
   * @param {(part: number) => void} onpress a part of the cloth
   */
  constructor(desk, large, onpress) {
    this.desk = desk;
    this.large = large;
    this.onpress = onpress;
    this.swatch = new Swatch(40, 40, "Cloth");
    this.rows = THREE_SIZES.map(() => new Swatch(40, 40, "Cloth"));
    this.piece = new Swatch(40, 40, "Cloth");
    this.marks = make("div", { class: "cc-marks", "aria-hidden": "true" });
    this.frame = make("div", large ? {
      class: "cc-frame",
      tabindex: "0",
      role: "application",
      // its keys are the desk's
      "aria-label": "Cloth; arrow keys go to the neighbours on the wall"
    } : { class: "cc-frame" });
    this.ruler = make("span", { class: "cc-scalebar", "aria-hidden": "true" });
    this.words = make("span", { class: "cc-clip" });
    this.measure = button(
      "Set true size…",
      () => desk.measure(),
      { label: "Set true size with a bank card", kind: "cc-plain" }
    );
    const typed = () => this.#typed();
    this.size = textInput("Size", { class: "cc-piece-size", onchange: typed, enter: typed, escape: () => this.#leaveSize() });
    this.under = make("div", { class: "cc-under" }, this.ruler, this.size, this.words, this.measure);
    this.#listen();
  }
  #listen() {
    const { canvas } = this.swatch;
    canvas.classList.add("cc-pressed-cloth");
    canvas.addEventListener("click", (event) => {
      if (!this.#dragged) this.#press(...this.#partsAt(event));
    });
    canvas.addEventListener("pointerdown", (event) => this.#hold(event));
    canvas.addEventListener("pointermove", (event) => {
      if (event.pointerType !== "touch") this.#point(...this.#partsAt(event));
    });
    canvas.addEventListener("pointerleave", () => this.#sayRest());
  }
  /**
   * At its true size cloth may be larger than the piece that shows: it is moved by dragging.
   * @param {PointerEvent} down
   */
  #hold(down) {
    const { canvas, startX, startY } = this.swatch;
    this.#dragged = false;
    if (this.#shown?.as !== "true" || down.button !== 0 || down.pointerType === "touch") return;
    const drag = new AbortController();
    const move = (event) => {
      const [x, y] = [event.clientX - down.clientX, event.clientY - down.clientY];
      if (!this.#dragged && Math.hypot(x, y) <= DRAG_AFTER) return;
      this.#dragged = true;
      this.panTo(startX - x * deviceRatio(), startY - y * deviceRatio());
      if (this.#shown) this.draw(this.#shown);
    };
    canvas.setPointerCapture(down.pointerId);
    canvas.addEventListener("pointermove", move, drag);
    for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => drag.abort(), drag);
  }
  /**
   * @param {number} x device pixels of the cloth that lie before the left edge
   * @param {number} y
   */
  panTo(x, y) {
    this.swatch.startX = Math.max(0, Math.round(x));
    this.swatch.startY = Math.max(0, Math.round(y));
  }
  /**
   * @param {number} x CSS pixels to the right
   * @param {number} y
   */
  panBy(x, y) {
    const { swatch } = this;
    if (this.#shown?.as === "true") this.panTo(swatch.startX - x * deviceRatio(), swatch.startY - y * deviceRatio());
  }
  get panned() {
    return this.swatch.startX > 0 || this.swatch.startY > 0;
  }
  /**
   * @param {MouseEvent} event
   * @returns {[warp: number, weft: number]}
   */
  #partsAt(event) {
    const box = this.swatch.canvas.getBoundingClientRect();
    const at = (css, plan) => plan[Math.min(plan.length - 1, Math.max(0, Math.floor(css * deviceRatio())))];
    return [at(event.clientX - box.left, this.#warp), at(event.clientY - box.top, this.#weft)];
  }
  /**
   * Say the tone that is pointed at.
   * @param {number} warp
   * @param {number} weft
   */
  #point(warp, weft2) {
    if (!this.#shown) return;
    const { cloth, bytes } = this.#shown;
    const own = cloth.wefts?.length;
    const at = 3 * (warp * ((own || cloth.stripes.length) + 1) + weft2);
    const hex = hexOf(Array.from(bytes.slice(at, at + 3), (byte) => byte / 255));
    const single = warp && weft2 ? 0 : warp || (own ? -weft2 : weft2);
    const words = single ? `${partWords(single)}, ${colourOf(cloth, single)?.name}` : toneName(cloth, warp, weft2);
    this.#showUnder({ words: `${words}: ${hex}` });
  }
  /**
   * What stands under the cloth; what is not named is hidden.
   * @param {{words: string, perInch?: number, size?: string, measure?: boolean}} what
   */
  #showUnder({ words, perInch, size, measure = false }) {
    this.ruler.hidden = perInch === void 0;
    if (perInch !== void 0) {
      const { width, inside } = rulerOf(perInch);
      this.ruler.style.width = `${width}px`;
      say(this.ruler, inside ? "1 in" : "");
      if (!inside) words = `1 in, ${words}`;
    }
    this.size.hidden = size === void 0;
    if (size !== void 0 && document.activeElement !== this.size) this.size.value = size;
    this.measure.hidden = !measure;
    say(this.words, words);
    this.words.title = words;
  }
  #sayRest() {
    if (!this.#shown) return;
    const { as, laid } = this.#shown;
    if (as === "sizes") {
      this.#showUnder({ words: "all three at 1/4 of true size", measure: true });
    } else if (PIECES[as]) this.#sayPiece(as, laid);
    else {
      const perInch = this.pixels / deviceRatio() / this.desk.inches;
      const repeat = this.desk.repeatWords(laid);
      this.#showUnder({
        perInch,
        measure: as === "true",
        words: `${reductionWords(perInch / screenPixels())}, repeat ${repeat}`
      });
    }
  }
  /**
   * Choose what was pressed: of a crossing the warp's stripe, pressed again the weft's.
   * @param {number} warp
   * @param {number} weft
   */
  #press(warp, weft2) {
    if (!this.#shown) return;
    const { cloth, part } = this.#shown;
    const across = cloth.wefts?.length ? -weft2 : weft2;
    const again = warp && across && warp === part;
    this.onpress(again ? across : warp || across);
  }
  /** @param {Shown} shown */
  draw(shown) {
    this.#shown = shown;
    const width = Math.floor(this.frame.parentElement?.clientWidth ?? 0);
    const height = this.large ? Math.round(Math.min(globalThis.innerHeight * 0.56, width * 0.75)) : Number.parseFloat(getComputedStyle(this.frame).getPropertyValue("--hand-high")) || 320;
    if (width < 60) return;
    this.pixels = 0;
    if (shown.as === "sizes") this.#drawSizes(shown, width, height);
    else if (PIECES[shown.as]) this.#drawPiece(shown, width, height);
    else this.#drawRepeat(shown, width, height);
    this.#sayRest();
  }
  /**
   * Put these into the frame, unless they are there.
   * @param {string} kind class that lays them
   * @param {number} height CSS pixels
   * @param {Node[]} nodes
   */
  #place(kind, height, nodes) {
    this.frame.className = `cc-frame ${kind}`;
    this.frame.style.height = `${height}px`;
    const there = [...this.frame.childNodes];
    if (there.length !== nodes.length || there.some((node, at) => node !== nodes[at])) {
      this.frame.replaceChildren(...nodes);
    }
  }
  /**
   * @param {Shown} shown
   * @param {number} width CSS pixels there are
   * @param {number} height
   */
  #drawRepeat({ as, cloth, bytes, laid, checks, part }, width, height) {
    const ratio = deviceRatio();
    const { swatch } = this;
    this.pixels = as === "true" ? checkPixels(this.desk.inches, 1) : commonPixels(Math.round(width * ratio), checks);
    const whole = this.pixels / ratio;
    const wide = as === "true" ? width : whole * checks;
    const high = as === "true" ? height : Math.max(1, Math.floor(height / whole)) * whole;
    swatch.resize(wide, high);
    this.#place("", high, [swatch.canvas, this.marks]);
    swatch.draw(bytes, 0, cloth.stripes.length, laid, this.pixels, cloth.wefts?.length);
    swatch.canvas.setAttribute("aria-label", `Cloth of ${wordsOf(cloth)}`);
    this.#warp = planOf(laid.warp, this.pixels, swatch.canvas.width, swatch.startX);
    this.#weft = planOf(laid.weft, this.pixels, swatch.canvas.height, swatch.startY);
    const marked = (bands, stripe) => stripe > 0 ? segmentsOfStripe(bands, whole, stripe) : [];
    const chosen = part ?? 0;
    this.#mark(marked(laid.warp, chosen), marked(laid.weft, cloth.wefts?.length ? -chosen : chosen), wide, high);
    this.marks.style.translate = `${-swatch.startX / ratio}px ${-swatch.startY / ratio}px`;
  }
  /**
   * Dashes around a stripe, both ways, in the first repeat.
   * @param {{left: number, width: number}[]} warp CSS pixels
   * @param {{left: number, width: number}[]} weft
   * @param {number} wide
   * @param {number} high
   */
  #mark(warp, weft2, wide, high) {
    const mark = ([left, top, width, height]) => {
      const node = make("span", { class: "cc-band" });
      Object.assign(node.style, { left: `${left}px`, top: `${top}px`, width: `${width}px`, height: `${height}px` });
      return node;
    };
    const [x, y] = [this.swatch.startX, this.swatch.startY].map((start) => start / deviceRatio());
    this.marks.replaceChildren(
      ...warp.filter(({ left }) => left < wide + x).map(({ left, width }) => mark([left, y, Math.min(width, wide + x - left), high])),
      ...weft2.filter(({ left }) => left < high + y).map(({ left, width }) => mark([x, left, wide, Math.min(width, high + y - left)]))
    );
  }
  /**
   * @param {Shown} shown
   * @param {number} width
   * @param {number} height
   */
  #drawSizes({ cloth, bytes, laid }, width, height) {
    const pixels = threeSizes(screenPixels() * deviceRatio());
    const high = Math.floor((height - 3 * 20 - 2 * 8) / 3);
    const sides = [.../* @__PURE__ */ new Set([checksIn(laid.warp), checksIn(laid.weft)])];
    const lines = this.rows.map((row, at) => {
      const size = inchWords(THREE_SIZES[at]);
      const words = `${size} check, repeat ${sides.map((checks) => inchWords(checks * THREE_SIZES[at])).join(" × ")}`;
      row.resize(width, high);
      row.draw(bytes, 0, cloth.stripes.length, laid, pixels[at], cloth.wefts?.length);
      row.canvas.setAttribute("aria-label", `Cloth of ${wordsOf(cloth)}, ${size} check`);
      return { row, words };
    });
    if (this.frame.querySelectorAll("p").length === lines.length) {
      this.frame.querySelectorAll("p").forEach((node, at) => say(node, lines[at].words));
      this.frame.style.height = `${height}px`;
      return;
    }
    this.#place("cc-rows", height, lines.map(({ row, words }) => make("div", {}, row.canvas, make("p", { text: words }))));
  }
  /**
   * @param {Shown} shown
   * @param {number} width
   * @param {number} height
   */
  #drawPiece({ as, cloth, bytes, laid }, width, height) {
    const { piece } = this;
    const { fit } = this.#fitOf(as, width, height);
    const ratio = deviceRatio();
    piece.resize(fit.width / ratio, fit.height / ratio);
    const warp = coverPixels(laid.warp, fit.pixels, fit.width);
    const weft2 = coverPixels(laid.weft, fit.pixels, fit.height);
    const colours = coverColours(bytes, cloth.wefts?.length || cloth.stripes.length, warp.covers, weft2.covers);
    weave(piece.loom.pixels, fit.width, fit.height, colours, weft2.covers.length, warp.plan, weft2.plan);
    const context = contextOf(piece.canvas);
    context.putImageData(piece.loom.image, 0, 0);
    sew(context, fit);
    piece.canvas.setAttribute("aria-label", `${PIECES[as].name} of ${wordsOf(cloth)}`);
    this.#place("cc-flat", height, [piece.canvas]);
  }
  /**
   * @param {string} as
   * @param {number} [width] CSS pixels there are
   * @param {number} [height]
   */
  #fitOf(as, width = this.frame.clientWidth, height = this.frame.clientHeight) {
    const text = stored(SIZE_KEY + as) || PIECES[as].size;
    const size = readPieceSize(text) ?? [60, 60];
    const room = (side) => Math.floor((side - 2 * MARGIN2) * deviceRatio());
    return { text, size, fit: fitPiece(size, this.desk.inches, room(width), room(height)) };
  }
  /**
   * @param {string} as
   * @param {Laid} laid
   */
  #sayPiece(as, { warp }) {
    const { text, size, fit } = this.#fitOf(as);
    const repeats = Number((size[0] / (checksIn(warp) * this.desk.inches)).toFixed(1));
    this.size.setAttribute("aria-label", `Size of the ${PIECES[as].name.toLowerCase()}`);
    const scale = reductionWords(fit.perInch / (screenPixels() * deviceRatio()));
    this.#showUnder({
      size: text,
      words: `${scale}, ${counted(repeats, "repeat")} across`
    });
  }
  #typed() {
    const shown = this.#shown;
    if (!shown) return;
    const text = this.size.value.trim();
    const read = text === "" || readPieceSize(text) !== null;
    this.size.setAttribute("aria-invalid", String(!read));
    if (!read) {
      say(this.words, `“${text}” is no size that is read here: type it like ${PIECES[shown.as].size}, or in cm`);
      return;
    }
    store(SIZE_KEY + shown.as, text);
    this.size.blur();
    this.draw(shown);
  }
  #leaveSize() {
    this.size.setAttribute("aria-invalid", "false");
    this.size.blur();
    this.#sayRest();
  }
};
function sew(context, { width, height, hem }) {
  const dash = Math.max(2, Math.round(2 * deviceRatio()));
  const inset = hem + 0.5;
  context.setLineDash([dash, dash]);
  for (const [at, colour] of ["rgb(0 0 0 / 36%)", "rgb(255 255 255 / 36%)"].entries()) {
    context.strokeStyle = colour;
    context.lineDashOffset = at * dash;
    context.strokeRect(inset, inset, width - 2 * inset, height - 2 * inset);
  }
}

// desk/hand/radios.js
var STEPS2 = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 };
function arrowStep(event) {
  return event.altKey || event.ctrlKey || event.metaKey ? 0 : STEPS2[event.key] ?? 0;
}
var Radios = class {
  /** @type {Map<string, HTMLButtonElement>} */
  #buttons = /* @__PURE__ */ new Map();
  /**
   * @param {string} label of the group
   * @param {readonly (readonly [key: string, text: string])[]} options
   * @param {string} value
   * @param {(key: string) => void} onpick
   * @param {string} [kind] classes
   */
  constructor(label, options, value, onpick, kind = "") {
    this.value = value;
    this.onpick = onpick;
    this.root = make("div", {
      class: kind,
      role: "radiogroup",
      "aria-label": label,
      onkeydown: (event) => this.#key(event)
    });
    for (const [key, text] of options) {
      const button2 = make("button", { type: "button", role: "radio", text, onclick: () => this.pick(key) });
      this.#buttons.set(key, button2);
      this.root.append(button2);
    }
    this.show(value);
  }
  /** @param {string} value */
  show(value) {
    this.value = value;
    for (const [key, button2] of this.#buttons) {
      setAttribute(button2, "aria-checked", String(key === value));
      button2.tabIndex = key === value ? 0 : -1;
    }
  }
  /** @param {string} key */
  pick(key) {
    this.show(key);
    this.onpick(key);
  }
  /**
   * Choose the one that many further on, round and round.
   * @param {number} steps
   */
  step(steps) {
    const keys = [...this.#buttons.keys()];
    this.pick(keys[(keys.indexOf(this.value) + steps + keys.length) % keys.length]);
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    const steps = arrowStep(event);
    if (!steps || event.shiftKey) return;
    event.preventDefault();
    event.stopPropagation();
    this.step(steps);
    this.#buttons.get(this.value)?.focus();
  }
};

// desk/hand/nudge_sliders.js
var FAR = 3;
var ENDS2 = { lightness: [1, 100, " %"], chroma: [0.4, 100, " %"], hue: [360, 360, "°"] };
var NudgeSliders = class {
  /** @param {Nudging} onnudge */
  constructor(onnudge) {
    this.sliders = NUDGES.map((nudge) => new NudgeSlider(nudge, onnudge));
    this.root = make("div", { class: "cc-nudges" }, ...this.sliders.flatMap(({ nudge, track }) => [
      make("span", { text: nudge.back, "aria-hidden": "true" }),
      track,
      make("span", { text: nudge.onward, "aria-hidden": "true" })
    ]));
  }
  /** @param {Colour} colour */
  fill(colour) {
    for (const slider2 of this.sliders) slider2.fill(colour);
  }
  /** Codes of all patches. @returns {string[]} */
  get hexes() {
    return this.sliders.flatMap(({ patches }) => patches.map(({ hex }) => hex));
  }
};
var NudgeSlider = class {
  /** @type {Colour | undefined} */
  #colour;
  /** @type {{steps: number, hex: string}[]} */
  patches = [];
  /**
   * @param {Nudge} nudge
   * @param {Nudging} onnudge
   */
  constructor(nudge, onnudge) {
    this.nudge = nudge;
    this.onnudge = onnudge;
    this.track = make("div", {
      class: "cc-nudge",
      role: "slider",
      tabindex: "0",
      "aria-label": nudge.name,
      "aria-valuemin": 0,
      "aria-valuemax": ENDS2[nudge.axis][1],
      "aria-valuenow": 0,
      onclick: (event) => this.#press(event),
      onkeydown: (event) => this.#key(event)
    });
  }
  /** @param {Colour} colour */
  fill(colour) {
    const same = this.#colour?.hex === colour.hex;
    this.#colour = colour;
    if (same) return;
    const [most, full, unit] = ENDS2[this.nudge.axis];
    const value = String(Math.round(full * srgbToOklch(rgbOf(colour.hex))[this.nudge.channel] / most));
    setAttribute(this.track, "aria-valuenow", value);
    setAttribute(this.track, "aria-valuetext", `${value}${unit}, ${colour.hex}`);
    this.patches = patchesOf(colour.hex, this.nudge);
    this.track.replaceChildren(...this.patches.map(({ steps, hex }) => {
      const node = make("i", { "data-steps": steps, title: steps ? nudgedName(colour.name, this.nudge, steps) : null });
      node.style.background = hex;
      node.style.gridColumn = String(steps + FAR + 1);
      return node;
    }));
  }
  /** @param {MouseEvent} event */
  #press(event) {
    const patch = event.target instanceof HTMLElement ? Number(event.target.dataset.steps ?? 0) : 0;
    if (patch) this.#go(patch);
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    const step = arrowStep(event);
    const key = event.key === "Enter" || event.key === " ";
    if (!step && !key) return;
    event.preventDefault();
    event.stopPropagation();
    if (step) this.#go(this.#next(["ArrowUp", "ArrowDown"].includes(event.key) ? -step : step, event.shiftKey));
  }
  /**
   * Steps to the nearest patch that looks different, or three.
   * @param {number} step
   * @param {boolean} far
   */
  #next(step, far) {
    const ways = this.patches.map(({ steps }) => steps * step).filter((steps) => steps > 0);
    if (!ways.length) return 0;
    return step * (far ? Math.max(...ways) : Math.min(...ways));
  }
  /** @param {number} steps */
  #go(steps) {
    if (!steps || !this.#colour) return;
    const { name, hex, stays } = this.#colour;
    this.onnudge(this.nudge, steps, {
      name: nudgedName(name, this.nudge, steps),
      hex: nudged(hex, this.nudge, steps),
      stays
    });
  }
};

// desk/hand/swatch_drag.js
var DRAG_AFTER2 = 4;
var SwatchDrag = class {
  /** @type {{node: HTMLElement, colour: PaletteColour, pointer: number, x: number, y: number} | null} */
  #held = null;
  #stripe = 0;
  /** Whether the press that is under way has become a drag: the click after it is no press. */
  dragged = false;
  /** @param {Dropping} dropping */
  constructor(dropping) {
    this.dropping = dropping;
    this.ghost = make("div", { class: "cc-ghost", "aria-hidden": "true", hidden: true });
  }
  /**
   * @param {HTMLElement} node
   * @param {PaletteColour} colour
   */
  listen(node, colour) {
    node.addEventListener("pointerdown", (event) => {
      this.dragged = false;
      if (event.pointerType === "touch" || event.button !== 0) return;
      this.#held = { node, colour, pointer: event.pointerId, x: event.clientX, y: event.clientY };
      node.setPointerCapture(event.pointerId);
    });
    node.addEventListener("pointermove", (event) => this.#move(event));
    node.addEventListener("pointerup", () => this.#end(true));
    node.addEventListener("pointercancel", () => this.#end(false));
    node.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || !this.#held || !this.dragged) return;
      event.stopPropagation();
      this.#end(false);
    });
  }
  /** @param {PointerEvent} event */
  #move(event) {
    const held2 = this.#held;
    if (!held2 || event.pointerId !== held2.pointer) return;
    const { clientX: x, clientY: y } = event;
    if (!this.dragged && Math.hypot(x - held2.x, y - held2.y) <= DRAG_AFTER2) return;
    this.dragged = true;
    this.ghost.hidden = false;
    this.ghost.style.background = held2.colour.hex;
    this.ghost.style.translate = `${x}px ${y}px`;
    const under = document.elementFromPoint(x, y)?.closest(".cc-thread");
    const stripe = under instanceof HTMLElement ? Number(under.dataset.stripe) : 0;
    if (stripe === this.#stripe) return;
    this.#stripe = stripe;
    this.dropping.over(stripe, stripe ? held2.colour : null);
  }
  /** @param {boolean} dropped */
  #end(dropped) {
    const held2 = this.#held;
    this.#held = null;
    this.ghost.hidden = true;
    if (!held2 || !this.dragged) return;
    const stripe = this.#stripe;
    this.#stripe = 0;
    this.dropping.over(stripe, null);
    if (dropped && stripe) this.dropping.drop(stripe, held2.colour);
    setTimeout(() => {
      this.dragged = false;
    });
  }
};

// desk/hand/swatches.js
var MANY = 60;
var Swatches = class {
  /** @type {PaletteColour[]} */
  #colours = [];
  /** @type {HTMLButtonElement[]} */
  #nodes = [];
  #palette = "";
  #current = "";
  #inWeft = false;
  #tried = false;
  /**
   * @param {Trying} trying
   * @param {Dropping} dropping
   */
  constructor(trying, dropping) {
    this.trying = trying;
    this.drag = new SwatchDrag(dropping);
    this.find = make("input", {
      type: "search",
      class: "cc-input",
      "aria-label": "Find a colour by its name",
      placeholder: "find a colour",
      hidden: true,
      oninput: () => this.#filter(),
      onkeydown: (event) => event.key !== "Escape" && event.stopPropagation()
    });
    this.group = make("div", {
      class: "cc-swatches",
      role: "radiogroup",
      onkeydown: (event) => this.#key(event),
      onfocusout: (event) => {
        if (!this.#nodes.some((node) => node === event.relatedTarget)) this.#attempt(null);
      },
      onpointerleave: () => this.#attempt(null)
    });
    this.root = make("div", { class: "cc-swatch-box" }, this.find, this.group, this.drag.ghost);
  }
  /**
   * @param {string} palette name
   * @param {PaletteColour[]} colours in the order they are shown in
   * @param {Cloth} cloth
   * @param {string} current hex code of the part that is chosen
   * @param {boolean} [inWeft] whether that is a stripe of the weft
   */
  fill(palette, colours, cloth, current, inWeft = false) {
    this.#inWeft = inWeft;
    const key = JSON.stringify([palette, colours]);
    if (key !== this.#palette) {
      this.#palette = key;
      this.#colours = colours;
      setAttribute(this.group, "aria-label", `Colours of ${palette}`);
      this.#nodes = colours.map((colour) => this.#make(colour));
      this.group.replaceChildren(...this.#nodes);
      this.find.hidden = colours.length <= MANY;
    }
    this.#current = current;
    const at = colours.findIndex(({ hex }) => hex === current);
    colours.forEach((colour, index) => this.#show(this.#nodes[index], colour, cloth, index === at));
    const focused = this.#nodes.findIndex((node) => node === document.activeElement);
    this.#stop(focused < 0 ? at : focused);
  }
  /** @param {PaletteColour | null} colour */
  #attempt(colour) {
    if (!colour && !this.#tried) return;
    this.#tried = colour !== null;
    this.trying.attempt(colour);
  }
  /** @param {PaletteColour} colour */
  #make(colour) {
    const node = make("button", {
      type: "button",
      role: "radio",
      class: "cc-swatch",
      onclick: () => this.#take(colour),
      onfocus: () => this.#stop(this.#nodes.indexOf(node)),
      onpointerenter: (event) => {
        if (event.pointerType !== "touch" && !event.buttons) this.#attempt(colour);
      }
    }, make("span", { "aria-hidden": "true" }));
    node.style.background = colour.hex;
    this.drag.listen(node, colour);
    return node;
  }
  /**
   * @param {HTMLButtonElement} node
   * @param {PaletteColour} colour
   * @param {Cloth} cloth
   * @param {boolean} checked
   */
  #show(node, { name, hex }, cloth, checked) {
    const numbers = (row) => (row ?? []).flatMap((stripe, at) => stripe.hex === hex ? [at + 1] : []);
    const [warp, weft2] = [numbers(cloth.stripes), numbers(cloth.wefts)];
    const words = (all, way) => all.length ? [`${way}${all.length === 1 ? "stripe" : "stripes"} ${all.join(", ")}`] : [];
    const now = [...words(warp, ""), ...words(weft2, "weft ")];
    const where = now.length ? `, now ${now.join(" and ")}` : cloth.ground.hex === hex ? ", now the ground" : "";
    const stripes = this.#inWeft ? weft2 : warp;
    setAttribute(node, "aria-checked", String(checked));
    setAttribute(node, "aria-label", `${name} ${hex}${where}`);
    setAttribute(node, "title", `${name} ${hex}${where}`);
    const number = (
      /** @type {HTMLElement} */
      node.firstElementChild
    );
    say(number, stripes.length > 2 ? `${stripes[0]}…` : stripes.join(" "));
    number.hidden = !stripes.length;
  }
  /** The one stop of the tab key. @param {number} at */
  #stop(at) {
    this.#nodes.forEach((node, index) => {
      node.tabIndex = index === Math.max(0, at) ? 0 : -1;
    });
  }
  /** Give the focus to the colour that is chosen; false while there are none. */
  focus() {
    const node = this.#nodes.find(({ tabIndex }) => tabIndex === 0);
    node?.focus({ preventScroll: true });
    return node !== void 0;
  }
  /** @param {PaletteColour} colour */
  #take(colour) {
    this.#attempt(null);
    if (!this.drag.dragged && colour.hex !== this.#current) this.trying.take(colour);
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    const at = this.#nodes.findIndex((node) => node === document.activeElement);
    const step = arrowStep(event);
    const shown = this.#nodes.map((_, index) => index).filter((index) => !this.#nodes[index].hidden);
    if (step && at >= 0 && !event.shiftKey) {
      const next = shown[(shown.indexOf(at) + step + shown.length) % shown.length];
      this.#nodes[next].focus();
      this.#attempt(this.#colours[next]);
    } else if (event.key === "Escape" && this.#tried) {
      this.#attempt(null);
      this.#nodes[this.#colours.findIndex(({ hex }) => hex === this.#current)]?.focus();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }
  #filter() {
    const text = this.find.value.trim().toLowerCase();
    this.#nodes.forEach((node, at) => {
      node.hidden = !this.#colours[at].name.toLowerCase().includes(text);
    });
  }
};

// desk/hand/colour_tray.js
function plain(text, act, label, keys) {
  return button(text, act, { label, keys, kind: "cc-plain" });
}
var ColourTray = class {
  part = 0;
  /** The palette that swatches are from, "" for the desk's. */
  #palette = "";
  /** @param {HandState} hand */
  constructor(hand) {
    this.hand = hand;
    this.chip = make("span", { class: "cc-chip", "aria-hidden": "true" });
    this.title = make("span", {});
    this.code = make("span", { class: "cc-quiet cc-code" });
    this.earlier = plain("Earlier", () => this.#move(-1), "Move this stripe earlier", "Alt+ArrowLeft");
    this.later = plain("Later", () => this.#move(1), "Move this stripe later", "Alt+ArrowRight");
    this.copy = plain("Copy", () => this.#copy(), "Copy this stripe, once more");
    this.remove = plain("Remove", () => this.hand.stripOf(this.part).remove(this.number), "Remove this stripe", "Delete");
    this.swap = make("select", {
      class: "cc-select",
      "aria-label": "Swap this stripe with",
      onchange: () => this.#swap(this.way * Number(this.swap.value))
    });
    this.stays = tick(
      "Stays",
      (stays) => this.hand.act("stays", { part: this.part, stays }, { edit: (cloth) => letStay(cloth, this.part, stays) }),
      "New draws leave this colour alone"
    );
    const acts = make(
      "div",
      { class: "cc-tray-acts" },
      this.earlier,
      this.later,
      this.copy,
      this.remove,
      this.swap,
      make("span", { class: "cc-spring" }),
      this.stays.box
    );
    this.swatches = new Swatches({
      attempt: (colour) => this.hand.try(colour && ((cloth) => putColour(cloth, this.part, colour))),
      take: (colour) => this.#take(colour, this.part)
    }, {
      over: (stripe, colour) => this.hand.try(colour && ((cloth) => putColour(cloth, stripe, colour))),
      drop: (stripe, colour) => this.#take(colour, stripe)
    });
    this.field = this.#layField();
    this.said = new Complaint((name) => this.#typed(name));
    this.from = choice("Swatches from", [], "", (name) => {
      this.#palette = name;
      this.fill();
    });
    this.nudges = new NudgeSliders((nudge, steps, colour) => this.hand.act(
      "nudge",
      { part: this.part, axis: nudge.axis, steps },
      { edit: this.#putting(colour) }
    ));
    this.root = make(
      "section",
      { class: "cc-tray", "aria-label": "Colour" },
      make(
        "div",
        { class: "cc-tray-head" },
        make("h3", {}, this.chip, this.title),
        this.code,
        make("span", { class: "cc-spring" }),
        plain("Done", () => this.hand.done(), "Done with this colour", "Escape")
      ),
      acts,
      this.swatches.root,
      make("div", { class: "cc-two" }, this.field.box, this.from.box),
      this.said.root,
      this.nudges.root
    );
  }
  #layField() {
    const input = textInput("Code or name", {
      placeholder: "#c09fd4 or plum",
      spellcheck: "false",
      oninput: () => this.#typing(),
      onblur: () => this.hand.try(null),
      enter: () => this.#typed(),
      escape: () => this.#clear()
    });
    const use = plain("Use", () => this.#typed(), "Use this code or name");
    use.hidden = true;
    const box = make(
      "div",
      { class: "cc-field" },
      make("span", { "aria-hidden": "true", text: "Code or name" }),
      make("span", { class: "cc-typed" }, input, use)
    );
    return { input, use, box };
  }
  /** Which stripe of its way. */
  get number() {
    return Math.abs(this.part);
  }
  /** 1 in the warp, −1 in the weft. */
  get way() {
    return this.part < 0 ? -1 : 1;
  }
  /** @param {number} step */
  #move(step) {
    this.hand.stripOf(this.part).move(this.number, this.number + step);
  }
  /** @param {number} part 0 the ground, a stripe, or −n of the weft */
  show(part) {
    if (part !== this.part) {
      this.field.input.value = "";
      this.field.use.hidden = true;
      this.complain("");
    }
    this.part = part;
    this.fill();
  }
  focus() {
    if (!this.swatches.focus()) this.field.input.focus({ preventScroll: true });
  }
  fill() {
    const { cloth } = this.hand;
    const colour = cloth && colourOf(cloth, this.part);
    if (!cloth || !colour) return;
    this.chip.style.background = colour.hex;
    const words = partWords(this.part);
    say(this.title, `${words}: ${colour.name}`);
    say(this.code, colour.name === colour.hex ? "" : colour.hex);
    setAttribute(this.root, "aria-label", `Colour of ${words.toLowerCase()}`);
    this.stays.input.checked = colour.stays;
    this.#fillActs(cloth);
    this.#fillSwatches(cloth, colour.hex);
    this.nudges.fill(colour);
    this.hand.prepare(this.nudges.hexes);
  }
  /** @param {Cloth} cloth */
  #fillActs(cloth) {
    const row = rowOf(cloth, this.part);
    const many = row.length;
    const { part, number } = this;
    this.stays.box.hidden = part < 0;
    for (const node of [this.earlier, this.later, this.swap]) node.hidden = !part || many === 1;
    for (const node of [this.copy, this.remove]) node.hidden = !part;
    switchOff(this.earlier, number === 1);
    switchOff(this.later, number === many);
    switchOff(this.remove, many === 1, "The only stripe: a check has one at least");
    setOptions(this.swap, [["", "Swap…"], ...row.map(({ name }, at) => [String(at + 1), `${at + 1} ${name}`]).filter((_, at) => at + 1 !== number)], "");
  }
  /**
   * @param {Cloth} cloth
   * @param {string} hex
   */
  #fillSwatches(cloth, hex) {
    const palettes = this.hand.palettes;
    const name = palettes.includes(this.#palette) ? this.#palette : this.hand.palette;
    setOptions(this.from.select, (palettes.includes(name) ? palettes : [name, ...palettes]).map((one) => [one, one]), name);
    const fits2 = ({ role }) => role === (this.part ? "stripe" : "ground") ? 0 : 1;
    const colours = this.hand.coloursOf(name).toSorted((one, other) => fits2(one) - fits2(other));
    this.swatches.fill(name, colours, cloth, hex, this.part < 0);
    this.hand.prepare(colours.map((colour) => colour.hex));
  }
  /**
   * @param {PaletteColour} colour
   * @param {number} part
   */
  #take(colour, part) {
    this.hand.act(
      "colour",
      { part, palette: this.from.select.value, index: colour.index },
      { edit: this.#putting(colour, part) }
    );
  }
  /**
   * @param {{name: string, hex: string}} colour
   * @param {number} [part]
   * @returns {(cloth: Cloth) => Cloth}
   */
  #putting({ name, hex }, part = this.part) {
    return (cloth) => putColour(cloth, part, { name, hex });
  }
  #copy() {
    const { part, number } = this;
    const at = part + this.way;
    this.hand.act("copy_stripe", { stripe: part }, {
      part: at,
      edit: (cloth) => addStripe(cloth, at, rowOf(cloth, part)[number - 1])
    });
  }
  /** @param {number} to */
  #swap(to) {
    const { part } = this;
    if (!to) return;
    this.hand.act("swap", { first: part, second: to }, {
      part: to,
      edit: (cloth) => swapStripes(cloth, part, to)
    });
  }
  // -- a typed colour ----------------------------------------------------------------------------
  /** @param {string} text @returns {{name: string, hex: string} | null} what the page makes of it */
  #read(text) {
    const wanted = text.trim().toLowerCase();
    const named = this.hand.coloursOf(this.from.select.value).find(({ name }) => name.toLowerCase() === wanted);
    if (named) return named;
    const hex = cssHex(wanted);
    return hex ? { name: text.trim(), hex } : null;
  }
  #typing() {
    const text = this.field.input.value;
    const colour = this.#read(text);
    this.field.use.hidden = !text.trim();
    this.complain("");
    this.hand.try(colour && this.#putting(colour));
  }
  /** @param {string} [name] one that may have been meant */
  #typed(name) {
    const { input } = this.field;
    if (name) input.value = name;
    const text = input.value.trim();
    if (!text) return;
    const colour = this.#read(text);
    this.hand.act("colour", { part: this.part, text }, {
      edit: colour ? this.#putting(colour) : void 0,
      complain: (words, near) => this.complain(words, text, near),
      done: () => {
        if (name) input.focus({ preventScroll: true });
        this.complain("");
        if (input.value.trim() !== text) return;
        input.value = "";
        this.field.use.hidden = true;
      }
    });
  }
  /** An empty field leaves Escape to the tray. */
  #clear() {
    const { input } = this.field;
    if (!input.value) return false;
    input.value = "";
    this.#typing();
    return true;
  }
  /**
   * Say the kernel's words beside the field.
   * @param {string} words
   * @param {string} [text] that was typed and is to be mended
   * @param {string[]} [near] names that may have been meant
   */
  complain(words, text = "", near = []) {
    this.said.say(words, near);
    setAttribute(this.field.input, "aria-invalid", String(text !== ""));
    if (text && !this.field.input.value) this.field.input.value = text;
  }
};
function switchOff(node, off, why = "") {
  node.dataset.title ??= node.title;
  setAttribute(node, "aria-disabled", String(off));
  setAttribute(node, "title", off && why ? why : node.dataset.title);
}
function cssHex(text) {
  const context = document.createElement("canvas").getContext("2d");
  const bare = /^[0-9a-f]{6}$/i.test(text) ? `#${text}` : text;
  if (!context || !CSS.supports("color", bare)) return "";
  context.fillStyle = bare;
  const found = String(context.fillStyle);
  return /^#[0-9a-f]{6}$/.test(found) ? found : "";
}

// desk/hand/encoder.js
function listOf({ mixing, layout, decode, warpShare, yuleNielsen, stock }) {
  const list = [mixing, layout, decode, warpShare, yuleNielsen];
  if (stock) list.push(stock);
  return list;
}
function spaceOf({ decode, yuleNielsen }) {
  return `${decode}/${yuleNielsen}`;
}
var Encoder = class {
  /** @type {Map<string, Map<string, Float32Array>>} by space and hex code */
  #known = /* @__PURE__ */ new Map();
  /** @type {Map<string, Promise<void>>} */
  #asked = /* @__PURE__ */ new Map();
  /** @param {(fields: object) => Promise<{buffers?: ArrayBufferView[]}>} ask the kernel to encode */
  constructor(ask) {
    this.ask = ask;
  }
  /**
   * A colour's encoding, undefined while only the kernel knows it.
   * @param {Recipe} recipe
   * @param {Pick<Colour, "hex" | "encoded">} colour
   */
  of(recipe, { hex, encoded }) {
    if (encoded) return encoded;
    return canEncode(recipe) ? Float32Array.from(encodeColour(recipe, rgbOf(hex))) : this.#known.get(spaceOf(recipe))?.get(hex);
  }
  /**
   * The cloth with every encoding that is known put into its colours.
   * @param {Cloth} cloth
   * @returns {Cloth}
   */
  encode(cloth) {
    const put = (colour) => ({ ...colour, encoded: this.of(cloth.recipe, colour) });
    return {
      ...cloth,
      ground: put(cloth.ground),
      stripes: cloth.stripes.map(put),
      wefts: cloth.wefts?.map(put)
    };
  }
  /**
   * Find out how these colours are encoded; at once where the page can work it out.
   * @param {Recipe} recipe
   * @param {string[]} hexes
   */
  async learn(recipe, hexes) {
    const missing = [...new Set(hexes)].filter((hex) => !this.of(recipe, { hex }));
    if (!missing.length) return;
    const key = `${spaceOf(recipe)} ${missing.join(" ")}`;
    let asked = this.#asked.get(key);
    if (!asked) {
      asked = this.#encoded(recipe, missing).finally(() => this.#asked.delete(key));
      this.#asked.set(key, asked);
    }
    await asked;
  }
  /**
   * @param {Recipe} recipe
   * @param {string[]} hexes
   */
  async #encoded(recipe, hexes) {
    const { buffers } = await this.ask({ recipe: listOf(recipe), colours: hexes });
    const values = floatsOf(buffers?.[0]);
    const channels = channelsOf(recipe);
    const space = spaceOf(recipe);
    const known = this.#known.get(space) ?? /* @__PURE__ */ new Map();
    this.#known.set(space, known);
    if (values.length !== hexes.length * channels) return;
    hexes.forEach((hex, at) => known.set(hex, values.slice(at * channels, (at + 1) * channels)));
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
function prints(mixings, mixing) {
  return mixings.some(([name, , , recipe]) => name === mixing && recipe?.[5] !== void 0);
}
function stockOptions(stocks, numbers, words) {
  const options = (stocks ?? []).map(([, one, of]) => (
    /** @type {[string, string]} */
    [of.join(" "), one]
  ));
  return options.some(([key]) => key === numbers.join(" ")) ? options : [...options, [numbers.join(" "), words]];
}
var MEASURED = "	";
var EACH_STOCK = "\n";
function stockChoices(stocks, stock) {
  const options = (stocks ?? []).map(([text, words]) => (
    /** @type {[string, string]} */
    [text, words]
  ));
  if (stock === null) options.unshift([EACH_STOCK, EACH]);
  return [...options, [MEASURED, "a press that was measured …"]];
}
function isOwnPress(stock) {
  return /^tvi=/.test(stock ?? "");
}
function pressNumbers(stocks, stock) {
  const [increase, density, n] = (stocks?.find(([text]) => text === stock) ?? stocks?.[0])?.[2] ?? [0.17, 2.4, 2];
  return { increase: String(Number((increase * 100).toFixed(4))), density: String(density), n: String(n) };
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
function weftOptions(most) {
  return [["0", "as the warp"], ...Array.from({ length: most }, (_, at) => (
    /** @type {[string, string]} */
    [String(at + 1), `${at + 1} of its own`]
  ))];
}

// desk/hand/own_tray.js
var OwnTray = class {
  /** @param {HandState} hand */
  constructor(hand) {
    this.hand = hand;
    this.output = make("output", { "aria-hidden": "true" });
    this.slider = make("input", {
      type: "range",
      min: 0,
      max: 100,
      step: 1,
      class: "cc-range",
      "aria-label": "Strength of this one",
      oninput: () => this.#move(),
      onchange: () => this.hand.act(
        "own",
        { strength: this.#strength },
        { edit: this.#edit(), complain: (words) => this.said.say(words) }
      )
    });
    this.mixing = choice("Mixing", [], "", (name) => this.#mix(name));
    this.stock = choice("Printed on", [], "", (numbers) => this.#print(numbers));
    this.meaning = make("p", { class: "cc-quiet" });
    this.said = new Complaint();
    this.note = make("p", { class: "cc-quiet" });
    this.root = make(
      "section",
      { class: "cc-tray", "aria-label": "Strength and mixing of this one" },
      make(
        "div",
        { class: "cc-tray-head" },
        make("h3", { text: "Strength and mixing of this one" }),
        make("span", { class: "cc-spring" }),
        button(
          "Done",
          () => this.hand.done(),
          { label: "Done with strength and mixing", keys: "Escape", kind: "cc-plain" }
        )
      ),
      make("label", { class: "cc-slider" }, make("span", { text: "Strength" }), this.output, this.slider),
      this.mixing.box,
      this.meaning,
      this.stock.box,
      this.said.root,
      this.note
    );
  }
  get #strength() {
    return Number(this.slider.value) / 100;
  }
  /** @returns {(cloth: Cloth) => Cloth} */
  #edit() {
    const strength = this.#strength;
    return (cloth) => ({ ...cloth, strength });
  }
  #say() {
    const text = `${Number(this.slider.value)} %`;
    say(this.output, text);
    setAttribute(this.slider, "aria-valuetext", text);
  }
  #move() {
    this.#say();
    this.said.say("");
    this.hand.try(this.#edit());
  }
  /** @param {string} name */
  #mix(name) {
    const list = this.hand.mixings.find(([one]) => one === name)?.[3];
    this.hand.act("own", { mixing: name }, {
      edit: list && ((cloth) => remix(cloth, recipeOf(list))),
      complain: (words) => this.said.say(words)
    });
  }
  /** @param {string} numbers of the stock */
  #print(numbers) {
    const found = this.hand.stocks?.find(([, , of]) => of.join(" ") === numbers);
    if (!found) return;
    const [text, , stock] = found;
    this.hand.act("own", { stock: text }, {
      edit: (cloth) => ({ ...cloth, recipe: { ...cloth.recipe, stock } }),
      complain: (words) => this.said.say(words)
    });
  }
  fill() {
    const { cloth, data, mixings, stocks } = this.hand;
    if (!cloth) return;
    this.slider.value = String(Math.round(cloth.strength * 100));
    this.#say();
    const { mixing } = cloth.recipe;
    const options = mixings.map(([name, words]) => [name, words]);
    setOptions(this.mixing.select, options.some(([name]) => name === mixing) ? options : [[mixing, mixing], ...options], mixing);
    say(this.meaning, mixings.find(([name]) => name === mixing)?.[2] ?? "");
    const { stock } = cloth.recipe;
    this.stock.box.hidden = !stock;
    if (stock) {
      setOptions(this.stock.select, stockOptions(stocks, stock, data?.stock ?? ""), stock.join(" "));
    }
    say(this.note, data?.own ? "This one keeps its own: the sliders above the wall leave it alone." : "Changed here, it keeps its own: the sliders above the wall then leave it alone.");
  }
};

// desk/hand/palettes.js
var Palettes = class {
  /** @type {Map<string, PaletteColour[]>} */
  #colours = /* @__PURE__ */ new Map();
  /** @type {Set<string>} */
  #asked = /* @__PURE__ */ new Set();
  /**
   * @param {Desk} desk
   * @param {() => void} oncome colours that were asked for have come
   */
  constructor(desk, oncome) {
    this.desk = desk;
    this.oncome = oncome;
  }
  /**
   * The colours of a palette; none until they have come.
   * @param {string} palette
   */
  of(palette) {
    if (palette && !this.#asked.has(palette)) this.#ask(palette);
    return this.#colours.get(palette) ?? [];
  }
  /** Palettes may have been edited: ask again for those that are wanted from now on. */
  refresh() {
    this.#asked.clear();
  }
  /** @param {string} palette */
  async #ask(palette) {
    this.#asked.add(palette);
    try {
      const answer = await this.desk.request("palette", { palette });
      const colours = (
        /** @type {[string, string, string][]} */
        answer?.colours ?? []
      );
      this.#colours.set(palette, colours.map(([name, hex, role], index) => ({ index, name, hex, role })));
      this.oncome();
    } catch {
    }
  }
};

// desk/hand/parts_row.js
var PartsRow = class {
  /**
   * @param {(part: Chosen) => void} onchoose
   * @param {(way: 1 | -1) => void} onadd a stripe of the warp, or of the weft
   * @param {(own: boolean) => void} onweft
   */
  constructor(onchoose, onadd, onweft) {
    const part = (which, title, ...children) => make("button", {
      type: "button",
      class: "cc-part-button",
      "aria-expanded": "false",
      title,
      onclick: () => onchoose(which)
    }, ...children);
    this.chip = make("span", { class: "cc-chip", "aria-hidden": "true" });
    this.groundWords = make("span", { text: "Ground" });
    this.ground = part(0, "Change the ground", this.chip, this.groundWords);
    this.strength = part("own", "");
    this.add = make("button", {
      type: "button",
      class: "cc-part-button",
      text: "Add a stripe",
      title: "Add the first colour of the palette that is not in it",
      onclick: () => onadd(1)
    });
    this.addWeft = make("button", {
      type: "button",
      class: "cc-part-button",
      text: "Add to the weft",
      title: "Add the first colour of the palette that is not in the weft",
      onclick: () => onadd(-1)
    });
    this.weft = tick("Own weft", onweft, "Let the weft have colours of its own");
    setAttribute(this.weft.input, "aria-description", "The weft has colours of its own; its stripes stand after those of the warp");
    this.root = make(
      "div",
      { class: "cc-parts", role: "group", "aria-label": "Parts of the cloth" },
      this.ground,
      this.strength,
      this.add,
      this.weft.box,
      this.addWeft
    );
  }
  /**
   * @param {Cloth} cloth
   * @param {Chosen} part
   * @param {string} mixing words of its mixing
   */
  fill({ ground, strength, wefts }, part, mixing) {
    this.weft.input.checked = Boolean(wefts?.length);
    this.addWeft.hidden = !wefts?.length;
    this.chip.style.background = ground.hex;
    say(this.groundWords, ground.stays ? "Ground stays" : "Ground");
    setAttribute(this.ground, "aria-label", `Ground: ${ground.name} ${ground.hex}${ground.stays ? ", stays in new draws" : ""}`);
    const percent = `${Number((strength * 100).toFixed(2))} %`;
    say(this.strength, percent);
    for (const name of ["aria-label", "title"]) setAttribute(this.strength, name, `Strength ${percent}, ${mixing}: of this one alone`);
    setAttribute(this.ground, "aria-expanded", String(part === 0));
    setAttribute(this.strength, "aria-expanded", String(part === "own"));
  }
  /** @param {Chosen} part the ground or "own" */
  focus(part) {
    (part === "own" ? this.strength : this.ground).focus();
  }
};

// desk/derive_ways.js
function waysFor(stripes, percent) {
  const fewer = [6, 3, 2].filter((count) => count < stripes).map((count) => ({ key: `stripes ${count}`, title: `With ${count} stripes`, fields: { stripes: count } }));
  const order = { key: "order", title: "In another order", fields: { order: true } };
  return [
    ...fewer,
    { key: "family", title: "As coordinates", fields: { family: true } },
    { key: "wefts", title: "With each weft", fields: { wefts: true } },
    { key: "strength", title: "At another strength", fields: { strength: percent / 100 } },
    { key: "grounds", title: "On each ground", fields: { grounds: true } },
    ...stripes > 1 ? [order] : []
  ];
}
function percentOf(text) {
  const match = /^\s*(\d{1,3}(?:[.,]\d+)?)\s*%?\s*$/.exec(text);
  const percent = match ? Number(match[1].replace(",", ".")) : NaN;
  return percent >= 0 && percent <= 100 ? percent : null;
}
function commonPercent(cards) {
  const all = new Set(cards.map(({ strength }) => Number((strength * 100).toFixed(1))));
  return all.size === 1 ? [...all][0] : null;
}
function countWords(kept) {
  const there = kept.filter(Boolean).length;
  const more = kept.length - there;
  const keep = more > 1 ? `Keep these ${more}` : more ? "Keep this one" : "Kept";
  const many = more ? `${more} more${there ? `, ${there} kept already` : ""}` : there > 1 ? `all ${there} kept already` : "";
  return { more, keep, many };
}
function wayWords({ key }, { colourways, weft_names: wefts = [], names: called = [] }) {
  const names = (lists3) => [...new Set(lists3.flat())].join(", ");
  if (key === "wefts") return names(wefts);
  if (key === "family") return called.map(kindOf2).join(", ");
  if (key === "grounds") return names(colourways.map(([ground]) => [ground]));
  if (key.startsWith("stripes")) return names(colourways.map(([, ...stripes]) => stripes));
  return key === "order" ? "those that read best first" : "";
}
function kindOf2(name) {
  return name.slice(name.lastIndexOf(", ") + 2);
}
function clothWords({ colourways, weft_names: wefts = [], names = [], kept }, at) {
  const [ground, ...stripes] = colourways[at];
  const weft2 = wefts[at]?.length ? `, weft ${[...new Set(wefts[at])].join(", ")}` : "";
  const name = names[at] ? `${names[at]}: ` : "";
  return `${name}${stripes.join(", ")} on ${ground}${weft2}${kept[at] ? ", kept already" : ""}`;
}
function gampColours(stripes, wefts, colours, channels) {
  const head = (stripes + 1) * channels;
  const out = new Float32Array(head + wefts.length * channels);
  out.set(colours.subarray(0, head));
  let from = 0;
  wefts.forEach((count, at) => {
    const weft2 = from + (count ? head : channels);
    out.set(colours.subarray(weft2, weft2 + channels), head + at * channels);
    from += head + count * channels;
  });
  return out;
}
var LEAST = 4;
function sizePixels(inches, ratio, checks = 0, room = 0) {
  const least = Math.min(...inches);
  const fits2 = checks ? Math.floor(room * ratio * least / (checks * Math.max(...inches))) : Infinity;
  const unit = Math.max(1, Math.min(Math.round(LEAST * ratio), fits2));
  return inches.map((size) => Math.max(1, Math.round(unit * size / least)));
}

// desk/tones.js
function colourOffsets(colourways) {
  const offsets = [0];
  for (const { recipe, stripes, wefts = 0 } of colourways) {
    offsets.push(offsets[offsets.length - 1] + (stripes + wefts + 1) * channelsOf(recipe));
  }
  return offsets;
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
    const wefts = bytesOf(model.get("weft_counts"));
    const colourways = [...bytesOf(model.get("counts"))].map((stripes, index) => ({ recipe: recipes[recipe[index]], strength: strengths[index], stripes, wefts: wefts[index] ?? 0 }));
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
   * How many stripes of its own its weft has, or 0.
   * @param {number} index in the order of the deal
   */
  wefts(index) {
    return this.#entries[index]?.wefts ?? 0;
  }
  /** @param {number} index in the order of the deal */
  #toneBytes(index) {
    const stripes = this.stripes(index);
    return toneBytes(stripes, this.wefts(index) || stripes);
  }
  /**
   * The tones of a colourway as the wall shows them now.
   * @param {number} index in the order of the deal
   */
  of(index) {
    let mixed = this.#mixed.get(index);
    if (!mixed) {
      mixed = { version: 0, bytes: new Uint8Array(this.#toneBytes(index)) };
      this.#mixed.set(index, mixed);
    }
    if (mixed.version !== this.#version) {
      this.mix(index, this.model.get("vision"), mixed.bytes);
      mixed.version = this.#version;
    }
    return mixed.bytes;
  }
  /**
   * Show a colourway so until the kernel tells of it; false where it is not on the wall, or laid
   * another way.
   * @param {number} index in the order of the deal
   * @param {Uint8Array} bytes its tones, as the wall's vision sees them
   */
  put(index, bytes) {
    if (!this.stripes(index) || bytes.length !== this.#toneBytes(index)) return false;
    this.#mixed.set(index, { version: this.#version, bytes });
    return true;
  }
  /**
   * Mix a colourway at the wall's strength, or at its own where it is by hand, as a vision sees it.
   * @param {number} index
   * @param {string} vision
   * @param {Uint8Array} out
   * @param {number} [outOffset]
   */
  mix(index, vision, out, outOffset = 0) {
    const { recipe, strength, offset, stripes, wefts } = this.#entries[index];
    const { model } = this;
    const own = model.get("facts").own?.includes(model.get("numbers")[index]);
    const shared = own ? null : model.get("strength");
    mixTones(
      recipe,
      shared ?? strength,
      this.#colours,
      offset,
      stripes,
      out,
      outOffset,
      vision,
      wefts
    );
  }
};
function keptTones(kept, colours) {
  const cards = kept.map((card) => ({ strength: card.strength, stripes: card.count, wefts: card.wefts ?? 0, recipe: recipeOf(card.recipe) }));
  const offsets = colourOffsets(cards);
  return cards.map(({ recipe, strength, stripes, wefts }, index) => {
    const bytes = new Uint8Array(toneBytes(stripes, wefts || stripes));
    if (offsets[cards.length] === colours.length) {
      mixTones(recipe, strength, colours, offsets[index], stripes, bytes, 0, "normal", wefts);
    }
    return bytes;
  });
}

// desk/check_sizes.js
var LEAST_SIDE = 52;
var MOST_SIDE = 168;
var USUAL2 = [
  ["1/16 in, 1/8 in, 1/4 in, 1/2 in, 1 in, 2 in", "usual, in inches"],
  ["2 mm, 3 mm, 6 mm, 12 mm, 25 mm, 50 mm", "usual, in mm"]
];
var CheckSizes = class {
  /** @type {KeptCard | undefined} */
  #card;
  /** @type {[text: string, inches: number][]} */
  #sizes = [];
  #turn = 0;
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    const read = () => this.#read();
    this.field = textInput("Other check sizes", { value: "1/4 in, 1 in", "data-part": "more sizes", onchange: read, enter: read });
    this.usual = choice("Check sizes", [["", "as typed"], ...USUAL2], "", (sizes) => {
      if (sizes) this.field.value = sizes;
      this.#read();
    });
    this.error = make("p", { class: "cc-field-said", role: "alert" });
    this.cloths = make("ul", { class: "cc-way-cloths cc-size-cloths" });
    this.scale = make("p", { class: "cc-quiet" });
    this.export = button("Export at these too", () => this.#export(), { label: "Export at these too: the range at these check sizes", kind: "cc-small" });
    this.root = make(
      "li",
      { class: "cc-way" },
      make("div", { class: "cc-way-title" }, make("strong", { text: "At other check sizes" }), this.usual.select, this.field, this.error, this.scale),
      this.cloths,
      make("div", { class: "cc-way-keep" }, this.export)
    );
  }
  /** @param {KeptCard} card */
  show(card) {
    this.#card = card;
    if (this.#sizes.length) this.#draw();
    else this.#read();
  }
  async #read() {
    const turn2 = this.#turn += 1;
    this.usual.select.value = USUAL2.some(([sizes]) => sizes === this.field.value.trim()) ? this.field.value.trim() : "";
    say(this.error, "");
    setAttribute(this.field, "aria-invalid", "false");
    try {
      const { sizes = [] } = await this.desk.request("check_sizes", { text: this.field.value }) ?? {};
      if (turn2 !== this.#turn) return;
      this.#sizes = sizes;
      this.desk.guard.after("check sizes", () => this.#draw());
    } catch (error) {
      if (turn2 !== this.#turn) return;
      say(this.error, refusalOf(error).words);
      setAttribute(this.field, "aria-invalid", "true");
    }
  }
  /** Sizes other than the desk's own. @returns {[text: string, inches: number][]} */
  get #others() {
    const { inches } = this.desk;
    return this.#sizes.filter(([, other]) => Math.abs(other / inches - 1) > 1e-9);
  }
  /** The desk's own size among the others, rising. @returns {[text: string, inches: number][]} */
  get #shown() {
    const { model, inches } = this.desk;
    const all = [[model.get("size"), inches], ...this.#others];
    return all.sort(([, one], [, other]) => one - other);
  }
  #draw() {
    const card = this.#card;
    const { model } = this.desk;
    const kept = model.get("kept");
    const at = kept.findIndex(({ number }) => number === card?.number);
    if (!card || at < 0) return;
    const tones2 = keptTones(kept, floatsOf(model.get("kept_colours")))[at];
    const sizes = this.#shown;
    const laid = this.desk.laid(card.count, card.wefts);
    const checks = Math.max(checksIn(laid.warp), checksIn(laid.weft));
    const pixels = sizePixels(sizes.map(([, inches]) => inches), deviceRatio(), checks, MOST_SIDE);
    const repeat = Math.max(...pixels) * checks / deviceRatio();
    const side = Math.min(MOST_SIDE, Math.max(LEAST_SIDE, repeat));
    this.cloths.replaceChildren(...sizes.map(([text, inches], index) => {
      const swatch = new Swatch(side, side, `${card.title} on a check of ${text}`);
      swatch.draw(tones2, 0, card.count, laid, pixels[index], card.wefts);
      return make("li", {}, swatch.canvas, make("span", { class: "cc-quiet", text: inches === this.desk.inches ? `${text}, the desk's` : text }));
    }));
    const part = pixels[0] / (sizes[0][1] * screenPixels() * deviceRatio());
    const whole = repeat <= MOST_SIDE ? "" : ", of the largest a part of a repeat";
    say(this.scale, `all ${reductionWords(part)}${whole}`);
    this.#sayExport();
  }
  #sayExport() {
    const others = this.#others;
    const there = this.#exported;
    const news = others.filter(([text2]) => !there.includes(text2));
    const text = others.length && !news.length ? "Exported at these too" : "Export at these too";
    say(this.export, text);
    setAttribute(this.export, "aria-label", `${text}: the range at these check sizes`);
    setAttribute(this.export, "aria-disabled", String(!news.length));
  }
  get #exported() {
    return String(this.desk.model.get("export").sizes ?? "").split(/[,;]/).map((text) => text.trim()).filter(Boolean);
  }
  async #export() {
    if (this.export.getAttribute("aria-disabled") === "true") return;
    const texts = this.#others.map(([text]) => text);
    const sizes = [.../* @__PURE__ */ new Set([...this.#exported, ...texts])].join(", ");
    try {
      await this.desk.request("set_export", { fields: { sizes } });
      this.#sayExport();
    } catch (error) {
      say(this.error, refusalOf(error).words);
    }
  }
};

// desk/card_drag.js
var DRAG_AFTER3 = 4;
var HOLD = 350;
var CardDrag = class {
  /** @type {Held | null} */
  #held = null;
  #lifted = false;
  /** @type {HTMLElement | null} */
  #target = null;
  /**
   * @param {HTMLElement} root of the cards
   * @param {string} card selector of what is dragged
   * @param {string} target selector of what it may be dropped on
   * @param {(card: HTMLElement, target: HTMLElement) => void} ondrop
   */
  constructor(root, card, target, ondrop) {
    this.root = root;
    this.card = card;
    this.target = target;
    this.ondrop = ondrop;
    root.addEventListener("pointerdown", (event) => this.#take(event));
    root.addEventListener("pointermove", (event) => this.#move(event));
    root.addEventListener("pointerup", (event) => this.#end(event.pointerId, true));
    root.addEventListener("pointercancel", (event) => this.#end(event.pointerId, false));
    root.addEventListener("keydown", (event) => {
      if (event.key !== "Escape" || !this.#held) return;
      event.stopPropagation();
      this.#end(this.#held.pointer, false);
    });
    root.addEventListener("touchmove", (event) => {
      if (this.#lifted) event.preventDefault();
    }, { passive: false });
    root.addEventListener("dragstart", (event) => event.preventDefault());
    root.addEventListener("click", (event) => {
      if (!this.#dropped) return;
      this.#dropped = false;
      event.preventDefault();
      event.stopPropagation();
    }, { capture: true });
  }
  /** The click after a drag is no press. */
  #dropped = false;
  /** @param {PointerEvent} event */
  #take(event) {
    this.#dropped = false;
    const element = (
      /** @type {Element} */
      event.target
    );
    const node = (
      /** @type {HTMLElement | null} */
      element.closest(this.card)
    );
    if (!node || event.button !== 0 || element.closest("input, select, .cc-button")) return;
    const held2 = { node, pointer: event.pointerId, x: event.clientX, y: event.clientY };
    const timer = event.pointerType === "touch" ? setTimeout(() => this.#lift(), HOLD) : void 0;
    this.#held = { ...held2, timer };
  }
  #lift() {
    const held2 = this.#held;
    if (!held2) return;
    this.#lifted = true;
    held2.node.classList.add("cc-lifted");
    this.root.setPointerCapture(held2.pointer);
  }
  /** @param {PointerEvent} event */
  #move(event) {
    const held2 = this.#held;
    if (!held2 || event.pointerId !== held2.pointer) return;
    const { clientX, clientY } = event;
    if (!this.#lifted) {
      if (Math.hypot(clientX - held2.x, clientY - held2.y) <= DRAG_AFTER3) return;
      if (event.pointerType === "touch") {
        this.#end(held2.pointer, false);
        return;
      }
      this.#lift();
    }
    held2.node.style.translate = `${clientX - held2.x}px ${clientY - held2.y}px`;
    this.#aim(document.elementsFromPoint(clientX, clientY));
  }
  /** @param {Element[]} under the pointer */
  #aim(under) {
    const node = this.#held?.node;
    const targets = under.map((element) => element.closest(this.target)).filter((element) => element && element !== node && this.root.contains(element));
    const target = (
      /** @type {HTMLElement | null} */
      targets[0] ?? null
    );
    if (target === this.#target) return;
    this.#target?.classList.remove("cc-aimed");
    target?.classList.add("cc-aimed");
    this.#target = target;
  }
  /**
   * @param {number} pointer
   * @param {boolean} dropped
   */
  #end(pointer, dropped) {
    const held2 = this.#held;
    if (!held2 || held2.pointer !== pointer) return;
    clearTimeout(held2.timer);
    const target = this.#target;
    const lifted = this.#lifted;
    this.#held = this.#target = null;
    this.#lifted = false;
    held2.node.classList.remove("cc-lifted");
    held2.node.style.translate = "";
    target?.classList.remove("cc-aimed");
    this.#dropped = lifted;
    if (lifted && dropped && target) this.ondrop(held2.node, target);
    setTimeout(() => {
      this.#dropped = false;
    });
  }
};

// desk/shelf.js
var SIDE2 = 56;
function clothsOf(pieces, room) {
  const checks = checksToShow(pieces.flatMap(({ laid }) => [laid.warp, laid.weft]));
  const most = Math.floor(room * deviceRatio());
  const pixels = commonPixels(most, checks);
  const side = Math.min(most, pixels * checks) / deviceRatio();
  return pieces.map(({ bytes, count, wefts, laid }) => {
    const swatch = new Swatch(side, side, "");
    swatch.draw(bytes, 0, count, laid, pixels, wefts);
    return swatch.canvas;
  });
}
function keptCloths(desk, room) {
  const kept = desk.model.get("kept");
  const tones2 = keptTones(kept, floatsOf(desk.model.get("kept_colours")));
  return clothsOf(kept.map(({ count, wefts }, index) => ({ bytes: tones2[index], count, wefts, laid: desk.laid(count, wefts) })), room);
}
var Shelf = class {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.count = make("h3", { class: "cc-title" });
    this.list = make("ol", { class: "cc-kept" });
    this.moved = null;
    this.empty = make("p", {
      class: "cc-quiet",
      text: "Nothing kept yet. Press Keep on a colourway, or K."
    });
    this.head = make("header", { class: "cc-shelf-head" }, this.count);
    this.root = make(
      "section",
      { class: "cc-shelf", "aria-label": "Kept colourways" },
      this.head,
      this.empty,
      this.list
    );
    new CardDrag(
      this.list,
      ".cc-kept-one",
      ".cc-kept-one",
      (card, target) => this.#move(numberOf(card), [...this.list.children].indexOf(target))
    );
  }
  fill() {
    const kept = this.desk.model.get("kept");
    this.moved = null;
    say(this.count, `Kept ${kept.length}`);
    this.empty.hidden = kept.length > 0;
    this.#keepFocus(() => {
      const cloths = keptCloths(this.desk, SIDE2);
      this.list.replaceChildren(...kept.map((card, index) => this.#card(card, index, cloths[index])));
      this.mark();
    });
  }
  /** Ring what is looked at. */
  mark() {
    for (const item of this.list.children) {
      const current = numberOf(item) === this.desk.number;
      item.classList.toggle("cc-current", current);
    }
  }
  /**
   * Lay the cards anew; the focus stays on the same card, or on the one that took its position.
   * @param {() => void} lay
   */
  #keepFocus(lay) {
    const focused = document.activeElement?.closest(".cc-kept-one");
    const at = focused ? [...this.list.children].indexOf(focused) : -1;
    lay();
    if (!focused || at < 0) return;
    const same = this.list.querySelector(`[data-number="${numberOf(focused)}"]`) ?? this.list.children[Math.min(at, this.list.children.length - 1)];
    same?.querySelector("button")?.focus({ preventScroll: true });
  }
  /**
   * @param {KeptCard} card
   * @param {number} index
   * @param {HTMLCanvasElement} cloth
   */
  #card(card, index, cloth) {
    const { desk } = this;
    const letter = desk.letterOf(card.number);
    const before = desk.model.get("kept")[index - 1];
    const even = evenWords(desk.model.get("laid"), desk.model.get("bands"), card.count, card.wefts);
    const apart = before !== void 0 && (before.family ?? "") !== (card.family ?? "");
    return make(
      "li",
      { class: `cc-kept-one${apart ? " cc-apart" : ""}`, "data-number": card.number },
      make(
        "button",
        {
          type: "button",
          class: "cc-kept-cloth",
          "data-part": "cloth",
          "aria-label": `Look at ${card.title}`,
          title: [card.title, card.note, even].filter(Boolean).join("\n"),
          "aria-description": [
            card.family && `family ${card.family}`,
            card.words.replace(`${card.title}; `, ""),
            even,
            card.note,
            "Shift with an arrow key moves it, Delete drops it"
          ].filter(Boolean).join("; "),
          onclick: () => desk.lookAt(card.number),
          onkeydown: (event) => this.#key(event, card.number, index)
        },
        cloth,
        letter ? make("span", { class: "cc-letter", text: letter }) : null
      )
    );
  }
  /**
   * @param {KeyboardEvent} event
   * @param {number} number
   * @param {number} index
   */
  #key(event, number, index) {
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (step && event.shiftKey) {
      event.preventDefault();
      this.#move(number, (this.moved?.number === number ? this.moved.index : index) + step);
    } else if (event.key === "Delete") this.desk.act("drop", number);
  }
  /**
   * @param {number} number
   * @param {number} index
   */
  #move(number, index) {
    if (index >= 0 && index < this.list.children.length) {
      this.moved = { number, index };
      this.desk.act("move", number, { index });
    }
  }
};
function numberOf(card) {
  return Number(card.getAttribute("data-number"));
}

// desk/make_more.js
var SIDE3 = 52;
var GAMP_SIDE = 14;
var MakeMore = class {
  /** @type {Map<string, Row>} */
  #rows = /* @__PURE__ */ new Map();
  /** @type {KeptCard | undefined} */
  #card;
  #key = "";
  #turn = 0;
  #percent = 20;
  /**
   * @param {Desk} desk
   * @param {HTMLElement | null} [head] stands above the rows
   */
  constructor(desk, head = null) {
    this.desk = desk;
    const take = () => this.#takePercent();
    this.strength = textInput("The other strength, in percent", {
      class: "cc-percent",
      value: "20 %",
      maxlength: 8,
      inputmode: "decimal",
      "data-part": "more percent",
      onchange: take,
      enter: take
    });
    this.sizes = new CheckSizes(desk);
    this.list = make("ul", { class: "cc-ways" });
    this.root = make(
      "div",
      { class: "cc-make-more", role: "group", "aria-label": "The same again, but" },
      head ?? make("h4", { text: "The same again, but" }),
      this.list,
      make("ul", { class: "cc-ways cc-size-ways" }, this.sizes.root)
    );
  }
  /** Ask anew when it is shown next. */
  forget() {
    this.#key = "";
  }
  /**
   * Show what can be made of a kept colourway; nothing is asked anew while nothing has changed.
   * @param {KeptCard | undefined} card
   */
  show(card) {
    this.#card = card;
    if (!card) return;
    const { model } = this.desk;
    this.sizes.show(card);
    const key = JSON.stringify([
      card.number,
      this.#percent,
      model.get("palette"),
      model.get("kept").map(({ number, strength, recipe, stripes, ground, weft: weft2 }) => [number, strength, recipe, stripes, ground, weft2])
    ]);
    if (key === this.#key) return;
    this.#key = key;
    this.#ask(card);
  }
  #takePercent() {
    const percent = percentOf(this.strength.value);
    setAttribute(this.strength, "aria-invalid", String(percent === null));
    if (percent === null) return;
    this.#percent = percent;
    this.strength.value = `${percent} %`;
    this.show(this.#card);
  }
  /** @param {KeptCard} card */
  async #ask(card) {
    const turn2 = this.#turn += 1;
    const rows = waysFor(card.count, this.#percent).map((way) => this.#row(way));
    if (rows.length !== this.list.children.length || rows.some(({ root }, at) => this.list.children[at] !== root)) {
      this.list.replaceChildren(...rows.map(({ root }) => root));
    }
    setAttribute(this.root, "aria-busy", "true");
    const answers = await Promise.all(rows.map(({ way }) => this.desk.request("derive", { number: card.number, ...way.fields }).catch((error) => ({ error: errorWords(error) }))));
    if (turn2 !== this.#turn) return;
    this.root.removeAttribute("aria-busy");
    this.desk.guard.after(`more ${card.number}`, () => {
      if (turn2 === this.#turn) this.#fill(rows, answers);
    });
  }
  /** @param {Way} way */
  #row(way) {
    const known = this.#rows.get(way.key);
    if (known) {
      known.way = way;
      return known;
    }
    const words = make("span", { class: "cc-quiet cc-way-words" });
    const cloths = make("span", { class: "cc-way-cloths" });
    const many = make("span", { class: "cc-quiet cc-way-many" });
    const keep = button("Keep", () => this.#keep(row), { kind: "cc-small" });
    keep.dataset.part = `more ${way.key}`;
    const gamp = make("figure", { class: "cc-gamp", hidden: true });
    const root = make(
      "li",
      { class: "cc-way" },
      make(
        "div",
        { class: "cc-way-title" },
        make("strong", { text: way.title }),
        way.key === "strength" ? this.strength : null,
        words
      ),
      cloths,
      make("div", { class: "cc-way-keep" }, many, keep),
      gamp
    );
    const row = { way, derived: null, root, words, cloths, many, keep, gamp };
    this.#rows.set(way.key, row);
    return row;
  }
  /**
   * @param {Row[]} rows
   * @param {(Derived & {error?: string} | {error: string} | undefined)[]} answers
   */
  #fill(rows, answers) {
    const found = answers.map((answer) => answer && "counts" in answer ? answer : null);
    const pieces = found.map((derived) => derived ? piecesOf(derived, this.desk) : []);
    const cloths = clothsOf(pieces.flat(), SIDE3);
    rows.forEach((row, at) => {
      const derived = row.derived = found[at];
      row.cloths.replaceChildren(...cloths.splice(0, pieces[at].length));
      row.root.classList.toggle("cc-none", !derived);
      if (row.way.key === "wefts") showGamp(row.gamp, derived);
      if (derived) this.#sayFound(row, derived);
      else {
        say(row.words, answers[at]?.error ?? "");
        setAttribute(row.words, "title", answers[at]?.error ?? "");
        say(row.many, "");
        this.#sayKeep(row, "Keep", 0);
      }
    });
  }
  /**
   * @param {Row} row
   * @param {Derived} derived
   */
  #sayFound(row, derived) {
    const { more, keep, many } = countWords(derived.kept);
    say(row.words, wayWords(row.way, derived));
    setAttribute(row.words, "title", row.words.textContent ?? "");
    say(row.many, many);
    this.#sayKeep(row, keep, more);
    [...row.cloths.children].forEach((cloth, at) => {
      cloth.setAttribute("title", clothWords(derived, at));
      cloth.classList.toggle("cc-there", derived.kept[at]);
    });
  }
  /**
   * The button stays where it is, and keeps the focus, when there is nothing left to keep.
   * @param {Row} row
   * @param {string} text
   * @param {number} more
   */
  #sayKeep({ keep, way }, text, more) {
    say(keep, text);
    setAttribute(keep, "aria-label", `${text}: ${way.title.toLowerCase()}`);
    setAttribute(keep, "aria-disabled", String(!more));
    keep.title = "";
  }
  /** @param {Row} row */
  #keep({ way, derived }) {
    if (!this.#card || !derived || derived.kept.every(Boolean)) return;
    this.desk.act("keep_derived", this.#card.number, way.fields);
  }
};
function showGamp(figure, derived) {
  figure.hidden = !derived;
  if (!derived) return;
  const { counts: [stripes], wefts: each = [], strengths: [strength], weft_names: names = [], colourways: [[, ...warp]] } = derived;
  const recipe = recipeOf(derived.recipes[derived.recipe_of[0]]);
  const colours = gampColours(stripes, each, floatsOf(derived.buffers?.[0]), channelsOf(recipe));
  const bytes = new Uint8Array(toneBytes(stripes, each.length));
  mixTones(recipe, strength, colours, 0, stripes, bytes, 0, "normal", each.length);
  const bands = (many) => Array.from({ length: many }, (_, at) => (
    /** @type {[number, number]} */
    [at + 1, 1]
  ));
  const words = `Colour gamp: ${warp.join(", ")} across ${names.map(([name = warp[0]]) => name).join(", ")}, from the top`;
  const swatch = new Swatch(stripes * GAMP_SIDE, each.length * GAMP_SIDE, words);
  swatch.draw(
    bytes,
    0,
    stripes,
    { warp: bands(stripes), weft: bands(each.length) },
    Math.max(1, Math.round(GAMP_SIDE * deviceRatio())),
    each.length
  );
  figure.replaceChildren(swatch.canvas, make("figcaption", { class: "cc-quiet", text: words }));
}
function piecesOf({ counts, wefts, strengths, recipes, recipe_of: recipeOf2, buffers }, desk) {
  const cards = counts.map((count, at) => ({ count, wefts: wefts?.[at], strength: strengths[at], recipe: recipes[recipeOf2[at]] }));
  const tones2 = keptTones(cards, floatsOf(buffers?.[0]));
  return counts.map((count, at) => ({ bytes: tones2[at], count, wefts: wefts?.[at], laid: desk.laid(count, wefts?.[at]) }));
}

// desk/hand/about.js
var SIGNS3 = { caution: "!", comfort: "✓", fact: "·" };
var FIGURES = ["pair", "ΔE00 least", "mean", "ΔL* least", "ratio least"];
function remarkItems(data) {
  return data.remarks.map(([kind, text]) => make(
    "li",
    { class: `cc-${kind}` },
    make("span", { class: "cc-sign", "aria-hidden": "true", text: SIGNS3[kind] }),
    make("span", { text })
  ));
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
      make("thead", {}, make("tr", {}, ...FIGURES.map(columnHead))),
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

// desk/hand/vision_views.js
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
   * @param {Laid} laid
   * @param {number} wefts stripes of the weft's own, or 0
   */
  draw(bytes, stripes, laid, wefts) {
    this.swatches.forEach((swatch, i) => {
      swatch.resize(this.side, this.side);
      swatch.draw(
        bytes,
        (i + 1) * toneBytes(stripes, wefts || stripes),
        stripes,
        laid,
        pixelsForRepeat(longerWay(laid), swatch.canvas.width),
        wefts
      );
    });
  }
};

// desk/hand/whole_tray.js
var lists = 0;
var LONGEST2 = 46;
var WholeTray = class {
  #key = "";
  /**
   * @param {HandState} hand
   * @param {boolean} large in the enlarged view
   */
  constructor(hand, large) {
    this.hand = hand;
    const { desk } = hand;
    this.note = textField(
      "Note",
      { known: () => hand.known("note"), leave: () => hand.leave(), change: (text) => desk.act("note", hand.number, { text }) },
      { placeholder: "a note, for the sheets", maxlength: 2e3, "aria-keyshortcuts": "T" }
    );
    this.family = textField("Family", {
      known: () => this.#family,
      leave: () => hand.leave(),
      change: (text) => desk.act("family", this.#card?.number, { family: text })
    }, { placeholder: "family: by itself" });
    this.families = make("datalist", { id: `cc-families-${lists += 1}` });
    this.family.setAttribute("list", this.families.id);
    this.familyBox = make(
      "label",
      { class: "cc-field cc-family-field", hidden: true },
      make("span", { text: "Family" }),
      this.family,
      this.families
    );
    this.line = { count: make("span", {}), which: make("span", {}) };
    this.remarks = make("ul", { class: "cc-remarks" });
    this.views = new VisionViews(large ? 92 : 64);
    this.tones = make("div", { class: "cc-tones", tabindex: "0", role: "group", "aria-label": "Tones with names and hex" });
    this.figures = make("div", { class: "cc-figures" });
    const act = (what) => () => hand.number !== void 0 && desk.act(what, hand.number);
    const link = (text, go, keys = void 0) => button(text, go, { keys, kind: "cc-plain" });
    this.copy = link("Copy", () => this.#card && desk.act("copy", this.#card.number));
    this.copy.title = "Keep a copy of this one beside it";
    this.putAway = link("Put away", () => this.#putAway());
    this.putAway.title = "Take this one, made by hand, off the wall";
    this.compare = link("Lay beside", act("compare"), "C");
    this.empty = make("select", {
      class: "cc-select cc-empty-cloth",
      "aria-label": "Begin an empty cloth, of so many stripes",
      title: "An empty cloth, to be made by hand",
      onchange: () => this.#begin(Number(this.empty.value))
    });
    this.eyes = this.#opening("Other eyes", "As other eyes see it, and in grey", this.views.root);
    this.more = this.#opening(
      "Tones",
      "Tones with their codes, and scores",
      make("div", { class: "cc-more-tones" }, this.figures, this.tones)
    );
    this.makeMore = new MakeMore(desk);
    this.again = this.#opening("Make more", "Make more of this one: the same again, but ...", this.makeMore.root);
    this.hint = make("p", { class: "cc-quiet", text: "Press a stripe, on the cloth or under it, to change its colour." });
    this.root = make(
      "section",
      { class: "cc-tray cc-whole-tray", "aria-label": "About this colourway" },
      this.note,
      this.familyBox,
      make(
        "details",
        {},
        make("summary", { class: "cc-quiet cc-caution-line" }, this.line.count, this.line.which),
        this.remarks
      ),
      make(
        "div",
        { class: "cc-tray-acts" },
        link("More like this", act("more"), "M"),
        this.copy,
        this.putAway,
        this.compare,
        large ? null : link("Enlarge", () => desk.enlarge(), "Enter"),
        this.again.opener,
        this.eyes.opener,
        this.more.opener,
        this.empty
      ),
      this.hint,
      this.again.body,
      this.eyes.body,
      this.more.body
    );
  }
  /** The kept card that is looked at, or that what is looked at on the wall stands for. */
  get #card() {
    const { data, desk } = this.hand;
    return data?.kept ? desk.model.get("kept").find((card) => card.number === data.kept) : void 0;
  }
  get #family() {
    return this.#card?.family ?? "";
  }
  /** Whether it was made by hand and is on the wall. */
  get #byHand() {
    const { data, desk } = this.hand;
    return data !== void 0 && Boolean(desk.model.get("facts").own?.includes(data.number));
  }
  /** An empty cloth in hand, its first stripe chosen. @param {number} stripes */
  async #begin(stripes) {
    const { desk } = this.hand;
    this.empty.value = "";
    if (!stripes) return;
    const answer = await desk.request("empty", { stripes }).catch(() => void 0);
    if (answer?.number === void 0) return;
    await desk.lookAt(answer.number);
    this.hand.choose(1);
  }
  async #putAway() {
    const { desk, number } = this.hand;
    if (number === void 0 || !this.#byHand) return;
    await desk.act("put_away", number);
    if (!this.#byHand) desk.backToWall();
  }
  /** Of a kept one more can be made; what is asked for is seen once it is opened. */
  #fillMore() {
    const card = this.#card;
    this.again.opener.hidden = !card;
    if (!card) {
      this.again.body.hidden = true;
      setAttribute(this.again.opener, "aria-expanded", "false");
    } else if (!this.again.body.hidden) this.makeMore.show(card);
  }
  /** A kept one may belong to a family, and be copied. */
  #fillFamily() {
    const families = this.hand.desk.model.get("facts").families;
    this.copy.hidden = !this.#card;
    this.familyBox.hidden = !this.#card || !families;
    if (document.activeElement !== this.family) this.family.value = this.#family;
    this.families.replaceChildren(...(families ?? []).map((value) => make("option", { value })));
  }
  /**
   * @param {string} text
   * @param {string} label
   * @param {HTMLElement} body
   */
  #opening(text, label, body) {
    body.hidden = true;
    const opener = button(text, () => {
      body.hidden = !body.hidden;
      setAttribute(opener, "aria-expanded", String(!body.hidden));
      this.hand.drawViews();
      this.#fillMore();
      if (!this.again.body.hidden && body === this.again.body) body.scrollIntoView({ block: "nearest" });
    }, { label, kind: "cc-plain" });
    setAttribute(opener, "aria-expanded", "false");
    return { opener, body };
  }
  fill() {
    const { data, desk } = this.hand;
    if (!data) return;
    if (document.activeElement !== this.note) this.note.value = data.note;
    setAttribute(this.compare, "aria-pressed", String(data.compared));
    this.hint.hidden = Boolean(desk.model.get("facts").undo);
    this.putAway.hidden = !this.#byHand;
    const [least, most] = desk.model.get("choices").stripes;
    setOptions(this.empty, [["", "Empty cloth…"], ...Array.from({ length: most - least + 1 }, (_, at) => {
      const many = least + at;
      return (
        /** @type {[string, string]} */
        [String(many), `of ${counted(many, "stripe")}`]
      );
    })], "");
    this.#fillMore();
    this.#fillFamily();
    const key = JSON.stringify([data.number, data.remarks, data.tones, data.figures, data.title]);
    if (key === this.#key) return;
    this.#key = key;
    const { count, which } = cautionLine(data.remarks);
    say(this.line.count, count);
    say(this.line.which, which);
    this.remarks.replaceChildren(...remarkItems(data));
    this.tones.replaceChildren(tonesTable(data));
    this.figures.replaceChildren(...figuresTable(data));
    this.views.label(data);
  }
};
function cautionLine(remarks) {
  const cautions = remarks.filter(([kind]) => kind === "caution");
  if (!cautions.length) return { count: "No cautions", which: "" };
  const count = counted(cautions.length, "caution");
  const shorts = new Set(cautions.map(([, text, short]) => short || shorten(text)));
  return { count, which: `: ${[...shorts].join(", ")}` };
}
function shorten(text) {
  const clause = text.split(/[:;,(]/)[0].trim();
  return clause.length > LONGEST2 ? `${clause.slice(0, LONGEST2 - 1).trimEnd()}…` : clause;
}

// desk/hand/thread_strip.js
var DRAG_AFTER4 = 4;
var HOLD2 = 350;
var ROOM_FOR_STAYS = 56;
var ThreadStrip = class {
  /** @type {HTMLButtonElement[]} by stripe, from 0 */
  #nodes = [];
  /** @type {Thread[]} in CSS pixels */
  #threads = [];
  /** @type {Held | null} */
  #held = null;
  /** @type {(() => void) | null} */
  #waiting = null;
  #dragged = false;
  /**
   * @param {HandState} hand
   * @param {"warp" | "weft"} [way]
   */
  constructor(hand, way = "warp") {
    this.hand = hand;
    this.sign = way === "weft" ? -1 : 1;
    this.list = make("div", {
      class: "cc-threads",
      role: "listbox",
      "aria-orientation": "horizontal",
      "aria-label": `${this.sign < 0 ? "Stripes of the weft" : "Stripes"} in order; Down goes to its colours, Alt with an arrow key moves it`
    });
    this.again = make("span", { class: "cc-again", "aria-hidden": "true" });
    this.root = make("div", { class: "cc-strip" }, this.list, this.again);
    this.root.addEventListener("pointermove", (event) => this.#move(event));
    this.root.addEventListener("pointerup", (event) => this.#drop(event));
    this.root.addEventListener("pointercancel", () => this.#put());
    this.root.addEventListener("contextmenu", (event) => this.#held && event.preventDefault());
    this.root.addEventListener("touchmove", (event) => {
      if (this.#held?.lifted) event.preventDefault();
    }, { passive: false });
  }
  /** The colours of its way. @param {Cloth} cloth */
  #row(cloth) {
    return rowOf(cloth, this.sign);
  }
  /**
   * @param {Cloth} cloth
   * @param {number | null} part chosen
   * @param {Bands} bands
   * @param {number} pixels device pixels of a check of the cloth above
   * @param {number} width CSS pixels there are
   */
  fill(cloth, part, bands, pixels, width) {
    if (this.#held?.lifted) {
      this.#waiting = () => this.fill(cloth, part, bands, pixels, width);
      return;
    }
    const check = pixels / deviceRatio();
    this.#threads = threadsOf(bands, check, LEAST_THREAD);
    const segments = segmentsOf(bands, check);
    const count = this.#row(cloth).length;
    const focused = this.#nodes.findIndex((node) => node === document.activeElement);
    while (this.#nodes.length > count) this.#nodes.pop()?.remove();
    while (this.#nodes.length < count) this.#add();
    for (const thread of this.#threads) this.#lay(thread, cloth, part, segments);
    if (focused >= count) this.#nodes[count - 1].focus({ preventScroll: true });
    setAttribute(this.root, "data-rows", this.#threads.some(({ row }) => row) ? "2" : "1");
    this.#layAgain(cloth, segments, width);
  }
  #add() {
    const stripe = this.#nodes.length + 1;
    const node = hinted(make(
      "button",
      {
        type: "button",
        class: "cc-thread",
        role: "option",
        "data-stripe": this.sign * stripe,
        onclick: () => this.#press(stripe),
        onkeydown: (event) => this.#key(event, stripe),
        onpointerdown: (event) => this.#hold(event, stripe)
      },
      make("i", { "aria-hidden": "true" }),
      make("b", { "aria-hidden": "true" })
    ));
    this.#nodes.push(node);
    this.list.append(node);
  }
  /**
   * @param {Thread} thread
   * @param {Cloth} cloth
   * @param {number | null} part
   * @param {Segment[]} segments
   */
  #lay({ stripe, left, width, span, row: line }, cloth, part, segments) {
    const node = this.#nodes[stripe - 1];
    const row = this.#row(cloth);
    const { name, hex, stays } = row[stripe - 1];
    const mine = segments.filter((segment) => segment.left < left + span && segment.left + segment.width > left);
    const stops = mine.map((segment) => `${segment.stripe === stripe ? hex : cloth.ground.hex} ${segment.left - left}px ${segment.left + segment.width - left}px`);
    stops.push(`transparent ${Math.max(...mine.map((segment) => segment.left + segment.width)) - left}px`);
    const [band, number] = (
      /** @type {HTMLElement[]} */
      [...node.children]
    );
    Object.assign(node.style, { left: `${left}px`, width: `${span}px`, top: `calc(${line} * var(--thread))` });
    node.style.setProperty("--px", `${width}px`);
    band.style.background = `linear-gradient(90deg, ${stops.join(", ")})`;
    say(number, stays ? `${stripe}${span >= ROOM_FOR_STAYS ? " stays" : " •"}` : String(stripe));
    const chosen = part === this.sign * stripe;
    node.tabIndex = chosen || stripe === 1 && !((part ?? 0) * this.sign > 0) ? 0 : -1;
    setAttribute(node, "aria-selected", String(chosen));
    setAttribute(node, "aria-posinset", String(stripe));
    setAttribute(node, "aria-setsize", String(row.length));
    setAttribute(node, "aria-label", `${partWords(this.sign * stripe)} of ${row.length}: ${name} ${hex}${stays ? ", stays in new draws" : ""}`);
    node.dataset.hint = `${name} ${hex}: press to change it, drag to move it`;
  }
  /**
   * The repeats after the first one, as short ends.
   * @param {Cloth} cloth
   * @param {Segment[]} segments
   * @param {number} width
   */
  #layAgain(cloth, segments, width) {
    const row = this.#row(cloth);
    const last = segments[segments.length - 1];
    const repeat = last.left + last.width;
    this.again.hidden = width - repeat < 8;
    Object.assign(this.again.style, {
      left: `${repeat}px`,
      width: `${Math.max(0, width - repeat)}px`,
      background: `repeating-linear-gradient(90deg, ${segments.map(({ stripe, left, width: wide }) => `${(stripe ? row[stripe - 1] : cloth.ground).hex} ${left}px ${left + wide}px`).join(", ")})`
    });
  }
  /**
   * Give a thread the focus, or the first one that can have it.
   * @param {number} [stripe]
   */
  focus(stripe = 0) {
    (this.#nodes[stripe - 1] ?? this.#nodes.find((node) => node.tabIndex === 0))?.focus();
  }
  /** @param {number} stripe */
  #press(stripe) {
    const part = this.sign * stripe;
    if (!this.#dragged) this.hand.choose(this.hand.part === part ? null : part);
    this.#dragged = false;
  }
  /**
   * @param {KeyboardEvent} event
   * @param {number} stripe
   */
  #key(event, stripe) {
    if (event.key === "Escape" && this.#held?.lifted) {
      this.#put();
      this.#dragged = true;
    } else if (!this.#walk(event, stripe)) return;
    event.preventDefault();
    event.stopPropagation();
  }
  /**
   * What a key does on a thread; false where it does nothing there.
   * @param {KeyboardEvent} event
   * @param {number} stripe
   */
  #walk(event, stripe) {
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key] ?? 0;
    if (event.ctrlKey || event.metaKey || event.shiftKey) return false;
    if (event.key === "Delete") this.remove(stripe);
    else if (step && event.altKey) this.move(stripe, stripe + step);
    else return !event.altKey && this.#walkTo(event.key, stripe + step, step);
    return true;
  }
  /**
   * @param {string} key
   * @param {number} beside where an arrow leads; without a step the stripe itself
   * @param {number} step
   */
  #walkTo(key, beside, step) {
    const count = this.#nodes.length;
    if (step) this.#goTo(Math.min(count, Math.max(1, beside)));
    else if (key === "ArrowDown") this.hand.toColours(this.sign * beside);
    else if (key === "Home") this.#goTo(1);
    else if (key === "End") this.#goTo(count);
    else return false;
    return true;
  }
  /** @param {number} stripe */
  #goTo(stripe) {
    this.hand.choose(this.sign * stripe);
    this.focus(stripe);
  }
  /**
   * @param {number} stripe
   * @param {number} to
   */
  move(stripe, to) {
    if (to < 1 || to > this.#nodes.length || to === stripe) return;
    const { part } = this.hand;
    const focused = this.list.contains(document.activeElement);
    const [from, at] = [this.sign * stripe, this.sign * to];
    this.hand.act("order", { stripe: from, to: at }, {
      edit: (cloth) => moveStripe(cloth, from, at),
      part: part === null || part === "own" ? part : partAfterMove(part, from, at)
    });
    if (focused) this.focus(to);
  }
  /** @param {number} stripe */
  remove(stripe) {
    const count = this.#nodes.length;
    const { part } = this.hand;
    if (count === 1) return;
    const gone = this.sign * stripe;
    const number = typeof part === "number" ? part * this.sign : 0;
    this.hand.act("remove_stripe", { stripe: gone }, {
      edit: (cloth) => removeStripe(cloth, gone),
      part: number >= stripe ? this.sign * Math.max(1, Math.min(number === stripe ? number : number - 1, count - 1)) : part
    });
  }
  // -- dragging ------------------------------------------------------------------------------
  /**
   * @param {PointerEvent} event
   * @param {number} stripe
   */
  #hold(event, stripe) {
    this.#dragged = false;
    if (event.button !== 0 || this.#held || this.#nodes.length < 2) return;
    const held2 = {
      node: this.#nodes[stripe - 1],
      stripe,
      pointer: event.pointerId,
      x: event.clientX,
      lifted: false,
      to: stripe
    };
    this.#held = held2;
    if (event.pointerType === "touch") this.#held.timer = setTimeout(() => this.#lift(held2), HOLD2);
  }
  /** @param {PointerEvent} event */
  #move(event) {
    const held2 = this.#held;
    if (!held2 || event.pointerId !== held2.pointer) return;
    const moved = event.clientX - held2.x;
    if (!held2.lifted && Math.abs(moved) > DRAG_AFTER4) {
      if (event.pointerType === "touch") this.#put();
      else this.#lift(held2);
    }
    if (!held2.lifted) return;
    const at = this.#threads.findIndex(({ stripe }) => stripe === held2.stripe);
    const { left, width } = this.#threads[at];
    held2.node.style.transform = `translateX(${moved}px)`;
    const { to, order } = landing(this.#threads, held2.stripe, left + width / 2 + moved);
    if (to !== held2.to) this.#open(held2, to, order);
  }
  /** @param {Held} held */
  #lift(held2) {
    if (this.#held !== held2) return;
    held2.lifted = true;
    held2.node.classList.add("cc-lifted");
    this.root.classList.add("cc-dragging");
    try {
      held2.node.setPointerCapture(held2.pointer);
    } catch {
    }
  }
  /**
   * Open a gap where what is dragged would land, and show the cloth so.
   * @param {Held} held
   * @param {number} to
   * @param {number[]} order stripes from left to right
   */
  #open(held2, to, order) {
    held2.to = to;
    order.forEach((stripe, at) => {
      const thread = this.#threads.find((one) => one.stripe === stripe);
      if (stripe === held2.stripe || !thread) return;
      const { left, row } = this.#threads[at];
      this.#nodes[stripe - 1].style.transform = `translate(${left - thread.left}px, calc(${row - thread.row} * var(--thread)))`;
    });
    this.hand.try((cloth) => moveStripe(cloth, this.sign * held2.stripe, this.sign * to));
  }
  /** @param {PointerEvent} event */
  #drop(event) {
    const held2 = this.#held;
    if (!held2 || event.pointerId !== held2.pointer) return;
    this.#dragged = held2.lifted;
    if (!held2.lifted) {
      this.#put();
      return;
    }
    this.#put(held2.to !== held2.stripe);
    this.move(held2.stripe, held2.to);
    setTimeout(() => {
      this.#dragged = false;
    });
  }
  /**
   * Let go of what is held.
   * @param {boolean} [taken] the cloth stays as it is shown, since an act follows
   */
  #put(taken = false) {
    const held2 = this.#held;
    if (!held2) return;
    this.#held = null;
    clearTimeout(held2.timer);
    held2.node.classList.remove("cc-lifted");
    this.root.classList.remove("cc-dragging");
    for (const node of this.#nodes) node.style.transform = "";
    if (held2.lifted && !taken) this.hand.try(null);
    this.#waiting?.();
    this.#waiting = null;
  }
};

// desk/hand/hand.js
var Hand = class {
  /** @type {number | undefined} the colourway asked for; `data` may still be of the one before */
  number;
  /** @type {Details | undefined} */
  data;
  /** @type {Cloth | null} */
  cloth = null;
  /** @type {Chosen} */
  part = null;
  /** @type {Edit | null} */
  #trial = null;
  /** @type {Chosen | undefined} to be chosen when the kernel's answer is here */
  #wanted;
  /** Whether the weft is apart from the warp, though it still has the same colours. */
  #apart = false;
  #underWay = 0;
  #turn = 0;
  #stale = false;
  /** @type {Palettes} */
  #palettes;
  /**
   * @param {Desk} desk
   * @param {boolean} [large] the enlarged view; the other stands beside the wall
   */
  constructor(desk, large = false) {
    this.desk = desk;
    this.large = large;
    this.#palettes = new Palettes(desk, () => desk.guard.after("tray", () => this.#fillTray()));
    this.encoder = new Encoder((fields2) => desk.request("encode", fields2));
    this.name = textField(
      "Name",
      { known: () => this.known("name"), leave: () => this.leave(), change: (text) => desk.act("name", this.number, { text }) },
      { class: "cc-bare cc-hand-title", placeholder: "no name yet", maxlength: 500, "aria-keyshortcuts": "N" }
    );
    this.words = make("p", { class: "cc-quiet cc-clip" });
    this.keep = button("Keep", () => this.#toggleKept(), { keys: "K" });
    this.as = new Radios("Shown as", VIEWS, "repeat", () => this.#turnView(), "cc-as");
    this.view = new ClothView(desk, large, (part) => this.choose(part));
    this.strip = new ThreadStrip(this);
    this.weftStrip = new ThreadStrip(this, "weft");
    this.weft = make(
      "div",
      { class: "cc-weft", hidden: true },
      make("p", { class: "cc-quiet", text: "Weft, from the top down" }),
      this.weftStrip.root
    );
    this.evenWords = make("span");
    this.even = make(
      "p",
      { class: "cc-quiet cc-row cc-even", hidden: true },
      this.evenWords,
      button("Lay bands for it", () => desk.act("bands_for", this.number), { kind: "cc-plain" })
    );
    this.colours = new ColourTray(this);
    this.own = new OwnTray(this);
    this.whole = new WholeTray(this, large);
    this.note = this.whole.note;
    this.said = new Complaint();
    this.parts = new PartsRow(
      (part) => this.choose(this.part === part ? null : part),
      (way) => this.#add(way),
      (own) => this.#setWeft(own)
    );
    this.tray = make("div", { class: "cc-tray-room" });
    this.empty = make("p", { class: "cc-quiet", text: "Point at a colourway to take it in hand." });
    this.body = make(
      "div",
      { class: "cc-hand-body", hidden: true },
      make(
        "header",
        { class: "cc-hand-head" },
        make("div", { class: "cc-hand-words" }, this.name, this.words),
        this.keep
      ),
      this.as.root,
      make("div", { class: "cc-cloth-room" }, this.view.frame),
      this.strip.root,
      this.weft,
      this.view.under,
      this.even,
      this.parts.root,
      this.said.root,
      this.tray
    );
    this.root = make("section", {
      class: large ? "cc-hand cc-large" : "cc-hand",
      "aria-label": large ? "Enlarged" : "The cloth under the hand",
      onkeydown: (event) => this.#key(event)
    }, this.empty, this.body);
    this.watch = new ResizeObserver(perFrame(() => this.draw()));
    this.watch.observe(this.root);
  }
  // -- what the desk asks for --------------------------------------------------------------------
  /**
   * Another colourway is asked for: what is typed from now on is for that one.
   * @param {number} number
   */
  expect(number) {
    if (number === this.number) return;
    this.number = number;
    this.#apart = false;
    this.#turn += 1;
    this.#underWay = 0;
    this.name.value = this.note.value = "";
    this.root.setAttribute("aria-busy", "true");
  }
  /**
   * Show what the kernel says about a colourway.
   * @param {Details} data
   */
  fill(data) {
    const other = this.data?.number !== data.number;
    this.data = data;
    this.number = data.number;
    this.root.removeAttribute("aria-busy");
    this.empty.hidden = true;
    this.body.hidden = false;
    if (other) {
      this.part = this.#trial = null;
      this.said.say("");
    }
    if (this.#underWay) this.#stale = true;
    else this.#take(data);
    this.#lay();
  }
  /** @param {Details} data */
  #take(data) {
    this.cloth = this.#apart ? withOwnWeft(clothOf(data)) : clothOf(data);
    if (this.#wanted !== void 0) this.part = this.#wanted;
    this.#wanted = void 0;
    this.#dropPart(this.cloth);
  }
  /** What is chosen may have gone. @param {Cloth} cloth */
  #dropPart({ stripes, wefts = [] }) {
    const part = this.numbered;
    if (part !== null && (part > stripes.length || -part > wefts.length)) this.part = this.#trial = null;
  }
  /**
   * While a slider above the wall moves: the cloth at once.
   * @param {number} index of what is looked at, on the wall; -1 where it is not there
   */
  follow(index) {
    const strength = this.desk.model.get("strength");
    if (index < 0 || strength === null || !this.cloth || this.data?.own) return;
    if (this.data?.number !== this.number || this.#underWay) return;
    this.cloth = { ...this.cloth, strength };
    this.#lay();
  }
  /** Check size, device ratio or width changed. */
  draw() {
    if (this.cloth && this.root.isConnected) this.#lay();
  }
  /** @param {number} steps along the views */
  stepView(steps) {
    this.as.step(steps);
  }
  #turnView() {
    this.view.panTo(0, 0);
    this.draw();
  }
  /** The cloth at its true size moves under its edge. @param {number} x CSS pixels @param {number} y */
  panBy(x, y) {
    this.view.panBy(x, y);
    this.draw();
  }
  focusCloth() {
    this.view.frame.focus();
  }
  /** @param {"name" | "note"} which */
  typeInto(which) {
    if (which === "note" && this.part !== null) this.choose(null);
    this[which].focus();
    this[which].select();
  }
  close() {
    this.watch.disconnect();
  }
  // -- what the parts of the hand share ------------------------------------------------------------
  get palettes() {
    return this.desk.model.get("choices").palettes;
  }
  get palette() {
    return this.desk.model.get("palette");
  }
  get mixings() {
    return this.desk.model.get("choices").mixings;
  }
  get stocks() {
    return this.desk.model.get("choices").stocks;
  }
  /** @param {string} palette */
  coloursOf(palette) {
    return this.#palettes.of(palette);
  }
  /** Palettes were changed: swatches that show are asked for again, others when they are wanted. */
  forgetPalettes() {
    this.#palettes.refresh();
    if (this.numbered !== null) this.desk.guard.after("tray", () => this.#fillTray());
  }
  /** @param {string[]} hexes */
  prepare(hexes) {
    if (!this.cloth || canEncode(this.cloth.recipe)) return;
    this.encoder.learn(this.cloth.recipe, hexes).catch(() => {
    });
  }
  /** The ground (0) or a stripe (−n of the weft), where that is what is chosen. */
  get numbered() {
    return typeof this.part === "number" ? this.part : null;
  }
  /** @param {"name" | "note"} which */
  known(which) {
    return this.data?.number === this.number ? this.data?.[which] ?? "" : "";
  }
  /** @param {Edit | null} edit */
  try(edit) {
    if (!edit && !this.#trial) return;
    this.#trial = edit;
    this.#paint();
  }
  /** @param {Chosen} part */
  choose(part) {
    this.part = part;
    this.#trial = null;
    this.said.say("");
    if (part !== null) this.#palettes.refresh();
    this.#lay();
  }
  /** @param {number} part */
  toColours(part) {
    this.choose(part);
    this.colours.focus();
  }
  /** @param {number} part */
  stripOf(part) {
    return part < 0 ? this.weftStrip : this.strip;
  }
  leave() {
    const onWall = this.number !== void 0 && this.desk.model.get("numbers").includes(this.number);
    if (onWall) this.desk.backToWall();
    else this.strip.focus();
  }
  /** Close the tray; the focus goes to what it was opened by. */
  done() {
    const { part } = this;
    const inside = this.tray.contains(document.activeElement);
    this.choose(null);
    if (!inside) return;
    if (typeof part === "number" && part) this.stripOf(part).focus(Math.abs(part));
    else this.parts.focus(part);
  }
  /**
   * Paint an act, and ask for it.
   * @param {string} what
   * @param {object} fields
   * @param {Acting} [acting]
   */
  async act(what, fields2, acting = {}) {
    const { number, cloth, part } = this;
    if (!cloth || number === void 0 || this.data?.number !== number) return;
    this.#trial = null;
    this.#apply(acting);
    const turn2 = this.#turn += 1;
    this.#underWay += 1;
    this.said.say("");
    const own = cloth.wefts?.length ? { own_weft: true } : {};
    await this.desk.request(what, { number, ...own, ...fields2 }).then(
      (answer) => this.#agreed(answer, number, acting),
      (error) => this.#refused(error, number, turn2 === this.#turn ? { cloth, part } : null, acting)
    );
    this.#settle(number);
  }
  /** @param {Acting} acting */
  #apply({ edit, part }) {
    const edited = edit && this.cloth ? edit(this.cloth) : null;
    if (edited) {
      this.cloth = edited;
      this.#mirror();
      if (part !== void 0) this.part = part;
    } else this.#wanted = part;
    this.#lay();
  }
  /** The wall shows the cloth as it is under the hand. */
  #mirror() {
    if (!this.cloth || this.number === void 0) return;
    const bytes = tonesOf(this.encoder.encode(this.cloth), this.desk.model.get("vision"));
    if (bytes) this.desk.mirror(this.number, bytes);
  }
  /**
   * @param {{number?: number} | undefined} answer
   * @param {number} number
   * @param {Acting} acting
   */
  #agreed(answer, number, { done }) {
    done?.();
    const became = answer?.number ?? number;
    if (this.number === number && became !== number) this.desk.lookAt(became);
  }
  /**
   * @param {unknown} error
   * @param {number} number
   * @param {{cloth: Cloth, part: Chosen} | null} before what was, unless another act has followed
   * @param {Acting} acting
   */
  #refused(error, number, before, { complain = (words, near) => this.said.say(words, near) }) {
    if (this.number !== number) return;
    this.#stale = true;
    this.#wanted = void 0;
    if (before) {
      Object.assign(this, before);
      this.#mirror();
    }
    this.#lay();
    const { words, near } = refusalOf(error);
    complain(words, near);
  }
  /** The last of the acts under way has its answer: ask again what came of them. @param {number} number */
  #settle(number) {
    if (this.number !== number) return;
    this.#underWay = Math.max(0, this.#underWay - 1);
    if (this.#underWay || !this.#stale) return;
    this.#stale = false;
    this.desk.lookAt(number);
  }
  // -- laying it out -----------------------------------------------------------------------------
  #lay() {
    const { cloth, data } = this;
    if (!cloth || !data) return;
    const words = wordsOf(cloth);
    say(this.words, words);
    setAttribute(this.words, "title", words);
    this.weft.hidden = !cloth.wefts?.length;
    if (document.activeElement !== this.name) this.name.value = this.known("name");
    setAttribute(this.name, "aria-label", `Name of ${words}`);
    say(this.keep, data.kept ? "Drop" : "Keep");
    setAttribute(this.keep, "title", data.kept ? "Drop (K)" : "Keep (K)");
    this.keep.classList.toggle("cc-strong", !data.kept);
    this.#paint();
    this.#fillStrip();
    const mixing = this.mixings.find(([name]) => name === cloth.recipe.mixing)?.[1];
    this.parts.fill(cloth, this.part, mixing ?? cloth.recipe.mixing);
    this.#fillTray();
    this.#sayEven(cloth);
    this.desk.sayPart();
  }
  /** That the bands are not of its stripes. @param {Cloth} cloth */
  #sayEven({ stripes, wefts }) {
    const { model } = this.desk;
    const words = evenWords(model.get("laid"), model.get("bands"), stripes.length, wefts?.length);
    this.even.hidden = !words;
    say(this.evenWords, words && `${capital(words)}.`);
  }
  /** Checks that share the width: the same for every cloth of the wall and of the range. */
  get #checks() {
    const { model } = this.desk;
    const counts = /* @__PURE__ */ new Set([
      ...bytesOf(model.get("counts")),
      ...model.get("kept").map(({ count }) => count),
      this.cloth?.stripes.length ?? 1
    ]);
    const all = [...counts].map((count) => this.desk.laid(count));
    if (this.cloth) all.push(this.#laidOf(this.cloth));
    return checksToShow(all.flatMap(({ warp, weft: weft2 }) => [warp, weft2]));
  }
  /** @param {Cloth} cloth */
  #laidOf({ stripes, wefts }) {
    return this.desk.laid(stripes.length, wefts?.length);
  }
  /** Mix and draw the cloth, as it stands or as it is tried. */
  #paint() {
    if (!this.cloth) return;
    const shown = this.encoder.encode(this.#trial ? this.#trial(this.cloth) : this.cloth);
    const laid = this.#laidOf(shown);
    const bytes = tonesOf(shown);
    if (!bytes) {
      this.#learn(shown);
      return;
    }
    this.view.draw({ as: this.as.value, cloth: shown, bytes, laid, checks: this.#checks, part: this.numbered });
    this.#drawViews(shown, laid);
  }
  /** Only the kernel knows how some of these are encoded: paint when it has said so. @param {Cloth} shown */
  async #learn({ recipe, ground, stripes, wefts = [] }) {
    const unknown = [ground, ...stripes, ...wefts].filter((colour) => !this.encoder.of(recipe, colour));
    try {
      await this.encoder.learn(recipe, unknown.map(({ hex }) => hex));
      if (unknown.every((colour) => this.encoder.of(recipe, colour))) this.#paint();
    } catch {
    }
  }
  drawViews() {
    if (!this.cloth) return;
    this.#drawViews(this.encoder.encode(this.cloth), this.#laidOf(this.cloth));
  }
  /**
   * @param {Cloth} cloth
   * @param {Laid} laid
   */
  #drawViews(cloth, laid) {
    const { views } = this.whole;
    if (views.root.hidden || !views.root.isConnected) return;
    const all = VISIONS.map((vision) => tonesOf(cloth, vision));
    const bytes = new Uint8Array(all.reduce((sum, tones2) => sum + (tones2?.length ?? 0), 0));
    let at = 0;
    for (const tones2 of all) {
      if (!tones2) return;
      bytes.set(tones2, at);
      at += tones2.length;
    }
    views.draw(bytes, cloth.stripes.length, laid, cloth.wefts?.length ?? 0);
  }
  #fillStrip() {
    const { cloth } = this;
    const width = this.view.frame.parentElement?.clientWidth;
    if (!cloth || !width) return;
    const laid = this.#laidOf(cloth);
    const fill = (strip, bands) => {
      const pixels = this.#stripPixels(bands, width);
      const wide = this.as.value === "repeat" ? pixels * this.#checks / deviceRatio() : width;
      strip.fill(cloth, this.numbered, bands, pixels, wide);
    };
    fill(this.strip, laid.warp);
    if (cloth.wefts?.length) fill(this.weftStrip, laid.weft);
  }
  /**
   * Device pixels of a check of the threads: those of the cloth above, where a whole repeat of it
   * shows; else as a repeat would lie.
   * @param {Bands} bands
   * @param {number} width CSS pixels
   */
  #stripPixels(bands, width) {
    const ratio = deviceRatio();
    const { pixels } = this.view;
    const threads = threadsOf(bands, pixels / ratio);
    const last = threads.at(-1);
    const whole = last !== void 0 && !this.view.panned && last.left + last.span <= width && threads.every(({ span }) => span >= LEAST_THREAD);
    return whole ? pixels : commonPixels(Math.round(width * ratio), this.#checks);
  }
  #fillTray() {
    const { cloth, part } = this;
    if (!cloth) return;
    this.coloursOf(this.palette);
    const tray = part === null ? this.whole : part === "own" ? this.own : this.colours;
    if (this.tray.firstChild !== tray.root) this.tray.replaceChildren(tray.root);
    if (tray === this.colours) this.colours.show(
      /** @type {number} */
      part
    );
    else tray.fill();
  }
  // -- acts of the head and the parts --------------------------------------------------------------
  #toggleKept() {
    if (this.data?.number === this.number) this.desk.act(this.data?.kept ? "drop" : "keep", this.number);
  }
  /**
   * Let the weft have colours of its own, or those of the warp. They may stay the same until one
   * is changed, so the first is a matter of the page alone.
   * @param {boolean} own
   */
  #setWeft(own) {
    const { cloth } = this;
    if (!cloth) return;
    this.#apart = own;
    if (own) {
      this.cloth = withOwnWeft(cloth);
      this.choose(this.part);
    } else this.#joinWeft(cloth);
  }
  /** @param {Cloth} cloth */
  #joinWeft(cloth) {
    const part = (this.numbered ?? 0) < 0 ? null : this.part;
    const edit = (now) => ({ ...now, wefts: [] });
    if (this.data?.weft?.length || this.#underWay) this.act("weft_as_warp", { own_weft: false }, { edit, part });
    else {
      this.cloth = edit(cloth);
      this.choose(part);
    }
  }
  /** Add the first colour of the palette that is not in the warp, or in the weft. @param {1 | -1} way */
  #add(way) {
    const { cloth } = this;
    if (!cloth) return;
    const row = rowOf(cloth, way);
    const at = way * (row.length + 1);
    const where = way < 0 ? { at } : {};
    const used = new Set(row.map(({ hex: hex2 }) => hex2));
    const colours = this.coloursOf(this.palette).filter(({ role }) => role !== "ground");
    const colour = colours.find(({ hex: hex2 }) => !used.has(hex2)) ?? colours[0];
    if (!colour) {
      this.act("add_stripe", where, { part: at });
      return;
    }
    const { name, hex, index } = colour;
    this.act(
      "add_stripe",
      { ...where, palette: this.palette, index },
      { edit: (now) => addStripe(now, at, { name, hex, stays: false }), part: at }
    );
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key !== "Escape" || this.large && this.part === null) return;
    event.preventDefault();
    event.stopPropagation();
    if (this.part === null) this.desk.backToWall();
    else this.done();
  }
};
function clothOf({ recipe: list, strength, ground, stripes, weft: weft2 = [], buffers }) {
  const recipe = recipeOf(list);
  const channels = channelsOf(recipe);
  const values = floatsOf(buffers?.[1]);
  const whole = values.length === (stripes.length + weft2.length + 1) * channels;
  const colour = ([name, hex, stays], at) => ({
    name,
    hex,
    stays,
    encoded: whole ? values.slice(at * channels, (at + 1) * channels) : void 0
  });
  return {
    recipe,
    strength,
    ground: colour(ground, 0),
    stripes: stripes.map((stripe, at) => colour(stripe, at + 1)),
    wefts: weft2.map(([name, hex], at) => colour([name, hex, false], stripes.length + 1 + at))
  };
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
    this.detail = new Hand(desk, true);
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
    this.detail.focusCloth();
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
    const wefts = tones2.wefts(index);
    const laid = this.desk.laid(stripes, wefts);
    const swatch = new Swatch(NEIGHBOUR, NEIGHBOUR, "");
    swatch.draw(tones2.of(index), 0, stripes, laid, pixelsForRepeat(longerWay(laid), swatch.canvas.width), wefts);
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

// desk/export/changes.js
var Changes = class {
  #unanswered = 0;
  /**
   * @param {Pick<Desk, "request">} desk
   * @param {() => void} show shows what the kernel holds
   * @param {(error: unknown) => void} refused says why a change was not taken
   */
  constructor(desk, show, refused) {
    this.desk = desk;
    this.showHeld = show;
    this.refused = refused;
  }
  get unanswered() {
    return this.#unanswered > 0;
  }
  /** Show what the kernel holds, unless a change is on its way to it. */
  show() {
    if (!this.#unanswered) this.showHeld();
  }
  /** @param {Record<string, unknown>} fields */
  async send(fields2) {
    this.#unanswered++;
    let refused;
    try {
      await this.desk.request("set_export", { fields: fields2 });
    } catch (error) {
      refused = () => this.refused(error);
    }
    this.#unanswered--;
    if (refused) refused();
    else this.show();
  }
};

// shared/host.js
function hasCells(page) {
  return page.body?.dataset.voila === void 0;
}

// desk/export/field.js
var FIELDS = {
  name: { label: "Name of the set, on its sheets", hint: "Tea tables, first round" },
  folder: { label: "Folder, beside this notebook", onPage: "Folder, where the desk runs", hint: "out/tea-table" },
  zipped: { label: "as one zip file too", tick: true },
  keep_other_sizes: { label: "but keep its files of other check sizes", tick: true },
  title: { label: "Title, on page and sheet", hint: "the name of the set" },
  note: { label: "Note to the client", hint: "none" },
  reference: { label: "Reference", hint: "made from the range" },
  date: { label: "Date", hint: "27 November 2026" },
  client_sizes: { label: "Check sizes to choose from", hint: "1/4 in, 1 in" },
  client_strengths: { label: "Strengths to choose from, %", hint: "30, 50, 70" },
  codes: { label: "show the colours' codes", tick: true },
  paper: { label: "Specification sheet", choices: [["A4", "A4"], ["Letter", "US Letter"], ["", "none"]] },
  width: { label: "Cloth, width", hint: "60 in, 150 cm" },
  length: { label: "Cloth, length", hint: "10 in, 50 cm" },
  cut: { label: "Cut the cloth", choices: [["", "in whole repeats"], ["cut", "to exactly this size"]] },
  resolutions: { label: "Resolution, dpi", hint: "150, 300" },
  sizes: { label: "The same at other check sizes", hint: "1/4 in, 1 in, 2 cm" },
  plates: { label: "Plates", choices: [["", "none"], ["colours", "one a colour, with tints"], ["tones", "one a tone, solid"]] },
  bias: { label: "and on the bias: turned by 45°, as a square that tiles", tick: true },
  families: { label: "a sheet of each one's family: fewer stripes, a stripe, plains", tick: true },
  least_dpi: { label: "Resolution, at least, dpi", hint: "150" },
  most_dpi: { label: "Resolution, at most, dpi", hint: "600" },
  colour_space: { label: "Colour space", hint: "sRGB" },
  megabytes: { label: "File, at most, MB", hint: "100" },
  side: { label: "Pixels a side, at most", hint: "20000" },
  cloth_width: { label: "Width of its cloth", hint: "the cloth's, or 150 cm" },
  screens: { label: "Rotary screens, round", hint: "64 cm, 82 cm, or none" },
  stretch: { label: "Stretch to fit a screen, %", hint: "0.5" },
  strike_off: { label: "Strike-off, a side", hint: "20 cm" },
  threads: { label: "Threads a band, at least", hint: "2" },
  difference: { label: "Tones apart, ΔE00 at least", hint: "2" },
  press: { label: "ICC profile of the press, its path", hint: "profiles/press.icc" },
  intent: { label: "Rendering intent", choices: ["perceptual", "relative colorimetric", "saturation", "absolute colorimetric"].map((intent) => (
    /** @type {[string, string]} */
    [intent, intent]
  )) },
  black_point: { label: "black-point compensation", tick: true },
  condition: { label: "Print condition (CGATS), its path", hint: "profiles/halt-press.txt" },
  ends: { label: "Ends", hint: "64 per in, 24 per cm" },
  picks: { label: "Picks", hint: "as the ends" },
  warp_take_up: { label: "Warp take-up, %", hint: "8" },
  weft_take_up: { label: "Weft take-up, %", hint: "6" },
  waste: { label: "Waste, %", hint: "5" },
  thumbnails: { label: "Pictures, pixels a side", hint: "none" }
};
var fields = 0;
var Field = class {
  /**
   * @param {Desk} desk
   * @param {string} name
   * @param {string} where whose section it stands in, where it stands in several
   */
  constructor(desk, name, where = "") {
    this.desk = desk;
    this.name = name;
    this.changes = new Changes(desk, () => this.#show(), (error) => this.complain(errorWords(error)));
    const { label, onPage, hint, choices, tick: tick2 } = FIELDS[name];
    const words = onPage && !hasCells(document) ? onPage : label;
    const send = () => this.#send();
    this.error = make("p", { class: "cc-field-said", role: "alert", id: `cc-wrong-${fields += 1}`, hidden: true });
    const common = { "data-part": `${name} ${where}`.trim(), "aria-describedby": this.error.id, onchange: send };
    if (choices) {
      this.input = make("select", { class: "cc-select", ...common }, ...choices.map(([value, text]) => make("option", { value, text })));
    } else if (tick2) this.input = make("input", { type: "checkbox", ...common });
    else {
      this.input = textInput(words, { maxlength: 2e3, placeholder: hint, ...common, enter: send, escape: () => {
        this.input.value = String(this.#held ?? "");
        send();
      } });
    }
    this.root = make(
      "div",
      { class: "cc-export-field" },
      tick2 ? make("label", { class: "cc-check" }, this.input, make("span", { text: words })) : labelled(words, this.input),
      this.error
    );
  }
  get #held() {
    return this.desk.model.get("export")[this.name];
  }
  /** @returns {Value} */
  get value() {
    const { input } = this;
    if (input.type === "checkbox") return (
      /** @type {HTMLInputElement} */
      input.checked
    );
    return this.name === "cut" ? input.value === "cut" : input.value;
  }
  /** @param {Record<string, string>} faults by field */
  fill(faults) {
    this.changes.show();
    this.complain(faults[this.name] ?? "");
  }
  #show() {
    const held2 = this.#held;
    const { input } = this;
    if (input.type === "checkbox") input.checked = Boolean(held2);
    else if (document.activeElement !== input || input.tagName === "SELECT") {
      input.value = typeof held2 === "boolean" ? held2 ? this.name : "" : String(held2 ?? "");
    }
  }
  /** @param {string} words what is wrong with it, "" nothing */
  complain(words) {
    say(this.error, words);
    this.error.hidden = !words;
    setAttribute(this.input, "aria-invalid", String(Boolean(words)));
  }
  get wrong() {
    return !this.error.hidden;
  }
  #send() {
    const { value } = this;
    if (value !== this.#held || this.changes.unanswered) this.changes.send({ [this.name]: value });
  }
};

// desk/export/before.js
var lists2 = 0;
var Before = class {
  #key = "";
  /**
   * @param {Desk} desk
   * @param {(field: string) => void} mend what is done on another part of the desk, or in another field
   */
  constructor(desk, mend) {
    this.desk = desk;
    this.mend = mend;
    this.changes = new Changes(desk, () => this.#show(), () => this.fill());
    const name = `cc-place-${lists2 += 1}`;
    const radio = (replace) => make("input", {
      type: "radio",
      name,
      "data-part": `replace ${replace}`,
      onchange: () => this.changes.send({ replace })
    });
    this.beside = radio(false);
    this.replace = radio(true);
    this.besideWords = make("span");
    this.replaceWords = make("span");
    this.files = make("ul", { class: "cc-goes" });
    this.see = make("details", { class: "cc-fold" }, make("summary"), this.files);
    this.keepSizes = new Field(desk, "keep_other_sizes");
    this.earlier = make("li", { hidden: true }, make(
      "div",
      { class: "cc-earlier", role: "group", "aria-label": "An earlier export is there" },
      make("strong", { text: "An earlier export is there" }),
      make("p", { class: "cc-quiet cc-earlier-words" }),
      make("label", { class: "cc-check" }, this.beside, this.besideWords),
      make("label", { class: "cc-check" }, this.replace, this.replaceWords),
      this.keepSizes.root,
      this.see
    ));
    this.list = make("ul", { class: "cc-before" }, this.earlier);
    this.none = make("p", { class: "cc-quiet", text: "Nothing stands in the way." });
    this.root = make("div", {}, this.none, this.list);
  }
  #show() {
    const held2 = this.desk.model.get("export");
    this.replace.checked = Boolean(held2.replace);
    this.beside.checked = !held2.replace;
  }
  fill() {
    this.changes.show();
    this.keepSizes.fill({});
  }
  /**
   * @param {Warning[]} warnings
   * @param {Earlier} earlier
   * @param {string} folder that is named
   * @param {boolean} wrong whether a field is wrong, so that little is known
   */
  tell(warnings, earlier, folder, wrong) {
    const others = warnings.filter(([, , field]) => field !== "replace");
    this.none.hidden = wrong || warnings.length > 0;
    this.#tellEarlier(earlier, folder);
    const key = JSON.stringify(others);
    if (key === this.#key) return;
    this.#key = key;
    keepFocus(this.list, () => this.list.replaceChildren(...others.map((warning) => this.#warning(warning)), this.earlier));
  }
  /** @param {Warning} warning */
  #warning([words, remedy, field, value, blocks]) {
    const act = value === null || value === void 0 ? () => this.mend(field) : () => this.changes.send({ [field]: typeof value === "boolean" ? value : String(value) });
    const can = ["colourways", "folder", "press"].includes(field) || value !== null && value !== void 0;
    const node = button(remedy, act, { kind: "cc-plain" });
    node.dataset.part = remedy;
    return make(
      "li",
      { class: blocks ? "cc-blocks" : "" },
      make("p", { text: words }),
      can ? node : make("p", { class: "cc-quiet", text: remedy })
    );
  }
  /**
   * @param {Earlier} earlier
   * @param {string} folder
   */
  #tellEarlier({ goes, again, kept, beside }, folder) {
    this.earlier.hidden = !beside;
    if (!beside) return;
    const line = this.earlier.querySelector(".cc-earlier-words");
    if (line) say(line, `In ${folder}: ${counted(goes.length + again.length + kept.length, "file")}.`);
    say(this.besideWords, `Beside it, in ${beside}`);
    say(this.replaceWords, goes.length ? `In its place: ${counted(goes.length, "file")} ${goes.length === 1 ? "goes" : "go"}` : "In its place: none is lost, all are written anew");
    this.keepSizes.root.hidden = !kept.length && this.desk.model.get("export").keep_other_sizes === true;
    this.see.hidden = !goes.length;
    const summary = this.see.querySelector("summary");
    if (summary) say(summary, `See which ${goes.length === 1 ? "one goes" : `${goes.length} go`}`);
    this.files.replaceChildren(...goes.map((file) => make("li", { text: file })));
    setAttribute(this.files, "aria-label", "Files of the earlier export that go");
  }
};

// desk/export/words.js
function dpiWords(dpi) {
  const [over, under] = dpi.split("/").map(Number);
  if (!under || over % under === 0) return `${over / (under || 1)} dpi`;
  const whole = Math.floor(over / under);
  return `${whole ? `${whole} ` : ""}${over % under}/${under} dpi`;
}
function pixelWords(across) {
  if (!across) return "";
  const [least, most] = across.map((pixels) => pixels.toLocaleString("en"));
  return least === most ? `${most} px across` : `${least} to ${most} px across`;
}
function partWords2([kind, files, across, dpi]) {
  const many = files === 1 ? kind : `${files} × ${kind}`;
  const asked = / at ([\d.]+) dpi$/.exec(kind)?.[1];
  const exact = dpi.filter((one) => one !== asked).map(dpiWords);
  return [many, pixelWords(across), exact.length ? `exact at ${exact.join(" and ")}` : ""].filter(Boolean).join(", ");
}
function aboutWords(bytes) {
  return bytes ? sizeWords(bytes) : "";
}
function exportWords(files, folder) {
  const many = `Export ${counted(files, "file")}`;
  return folder ? `${many} to ${folder}` : many;
}
function preflightWords([item, , found, limit, reason]) {
  return `${item}: ${found}; wanted: ${limit}${reason && `. ${capital(reason)}`}`;
}
function whoseWords([, , , , , names, many]) {
  if (!names.length) return many < 3 ? ["", "the one colourway", "both colourways"][many] : `all ${many.toLocaleString("en")} colourways`;
  const more = many - names.length;
  return more ? `${names.join(", ")} and ${more.toLocaleString("en")} more` : names.join(", ");
}

// desk/export/preflight.js
var LIMITS = ["least_dpi", "most_dpi", "colour_space", "megabytes", "side", "cloth_width", "screens", "stretch", "strike_off", "threads", "difference"];
var Preflight = class {
  #key = "";
  /** @param {Desk} desk */
  constructor(desk) {
    this.words = make("p", { class: "cc-quiet" });
    this.notes = make("ul", { class: "cc-looked", "aria-label": "Notes of the pre-flight" });
    this.passes = make("ul", { class: "cc-looked", "aria-label": "What passes" });
    this.passed = make("details", { class: "cc-fold", hidden: true }, make("summary"), this.passes);
    this.fields = LIMITS.map((name) => new Field(desk, name));
    this.limits = make(
      "details",
      { class: "cc-fold" },
      make("summary", { text: "What the printer takes" }),
      make("p", { class: "cc-quiet", text: "As it stands it is common practice, with no source: ask the printer or the mill for its own." }),
      make("div", { class: "cc-export-fields" }, ...this.fields.map((field) => field.root))
    );
    this.root = make(
      "div",
      { class: "cc-preflight", role: "group", "aria-label": "Pre-flight" },
      this.words,
      this.notes,
      this.passed,
      this.limits
    );
  }
  /** @param {Record<string, string>} faults by field */
  fill(faults) {
    this.fields.forEach((field) => field.fill(faults));
    if (this.fields.some((field) => field.wrong)) this.limits.open = true;
  }
  /** @param {PreflightOutcome} outcome */
  tell({ words, rows }) {
    const key = JSON.stringify([words, rows]);
    if (key === this.#key) return;
    this.#key = key;
    say(this.words, words && `${capital(words)}.`);
    const [notes, passes] = [rows.filter((row) => !row[1]), rows.filter((row) => row[1])];
    this.notes.replaceChildren(...notes.map(looked));
    this.passes.replaceChildren(...passes.map(looked));
    this.notes.hidden = !notes.length;
    this.passed.hidden = !passes.length;
    const summary = this.passed.querySelector("summary");
    if (summary) say(summary, `What passes, ${passes.length}`);
  }
};
function looked(row) {
  return make(
    "li",
    {},
    make("span", {}, make("strong", { text: row[1] ? "pass" : "note" }), ` ${preflightWords(row)}`),
    make("span", { class: "cc-quiet", text: whoseWords(row) })
  );
}

// desk/export/press_profile.js
var PressProfile = class {
  /**
   * @param {Desk} desk
   * @param {() => object} which the colourways that are meant, as a request says it
   */
  constructor(desk, which) {
    this.desk = desk;
    this.which = which;
    this.file = fileInput(".icc,.icm", (file) => this.#take(file));
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.error = make("p", { class: "cc-field-said", role: "alert", hidden: true });
    this.proofs = make("ul", { class: "cc-proofs", "aria-label": "Proofs" });
    this.root = takeDrops(make(
      "div",
      { class: "cc-press-profile" },
      make(
        "div",
        { class: "cc-row" },
        button("Choose a profile", () => this.file.click(), { label: "Choose a profile: an ICC file of the press, or drop it here" }),
        button("See it proofed", () => this.proof()),
        this.file
      ),
      this.said,
      this.error,
      this.proofs
    ), (file) => this.#take(file));
  }
  /** @param {File} file */
  async #take(file) {
    this.#complain("");
    say(this.said, `Reading ${file.name} …`);
    try {
      const { bytes } = await bytesToSend(file, false);
      await this.desk.request("press_profile", { name: file.name }, [bytes]);
      say(this.said, `${file.name}, ${sizeWords(file.size)}`);
    } catch {
      say(this.said, "");
      this.#complain(`${file.name} (${sizeWords(file.size)}) could not be read here: lay it beside the notebook and give its path instead.`);
    }
  }
  /** What the press makes of the first colourways, beside what was designed. */
  async proof() {
    this.#complain("");
    this.proofs.replaceChildren();
    try {
      const { words = "", rows = [], buffers = [] } = await this.desk.request("proof", this.which()) ?? {};
      const pictures = await Promise.all(
        /** @type {ArrayBufferView[]} */
        buffers.map((png) => createImageBitmap(new Blob([
          /** @type {any} */
          png
        ], { type: "image/png" })))
      );
      say(this.said, words);
      this.proofs.replaceChildren(.../** @type {[string, string][]} */
      rows.map(([name, figures], at) => make(
        "li",
        {},
        pictureOf(pictures[at], `${name}: as designed, left, and as proofed, right`),
        make("p", { class: "cc-quiet" }, make("strong", { text: name }), `: ${figures}`)
      )));
    } catch (error) {
      this.#complain(errorWords(error));
    }
  }
  /** @param {string} words */
  #complain(words) {
    say(this.error, words);
    this.error.hidden = !words;
  }
};
function pictureOf(bitmap, label) {
  const canvas = make("canvas", { role: "img", "aria-label": label, width: bitmap.width, height: bitmap.height });
  canvas.getContext("2d")?.drawImage(bitmap, 0, 0);
  bitmap.close();
  return canvas;
}

// desk/export/progress.js
var Progress = class {
  /**
   * @param {Desk} desk
   * @param {() => void} begin
   */
  constructor(desk, begin) {
    this.desk = desk;
    this.start = button("Export", begin, { kind: "cc-strong" });
    this.bar = make("progress", { max: 1, value: 0, "aria-label": "Files written" });
    this.stop = button("Stop", () => desk.act("stop_export"), { label: "Stop the export" });
    this.running = make("div", { class: "cc-running", hidden: true }, this.bar, this.stop);
    this.count = make("p", { class: "cc-quiet" });
    this.said = make("p", { role: "status" });
    this.alert = make("p", { class: "cc-wrong", role: "alert", hidden: true });
    this.made = make("ul", { class: "cc-made" });
    this.notes = make("ul", { class: "cc-made-notes" });
    this.root = make("div", { class: "cc-export-go" }, this.start, this.running, this.count, this.alert, this.said, this.notes, this.made);
  }
  fill() {
    const { running, words = "", alert = false, made } = this.#facts;
    this.#showRunning();
    say(this.count, running ? words : "");
    say(this.said, running || alert ? "" : words);
    this.alert.hidden = !alert || running;
    say(this.alert, alert ? words : "");
    this.#showMade(made ?? { words: "", tasks: [], notes: [], folder: "" });
  }
  /** @returns {Exporting} */
  get #facts() {
    return this.desk.model.get("exporting");
  }
  #showRunning() {
    const { running, done = 0, total = 0 } = this.#facts;
    const focused = document.activeElement;
    this.start.hidden = running;
    this.running.hidden = !running;
    if (running && focused === this.start) this.stop.focus();
    if (!running && focused === this.stop) this.start.focus();
    this.bar.value = total ? done / total : 0;
  }
  /** @param {NonNullable<Exporting["made"]>} made */
  #showMade({ tasks, notes, folder }) {
    this.made.replaceChildren(...tasks.map(([, title, files, size, paths]) => make(
      "li",
      {},
      make("strong", { text: title }),
      make("span", { class: "cc-quiet", text: `${counted(files, "file")}, ${size}` }),
      paths.length ? make("span", { class: "cc-quiet cc-paths", text: paths.join(", ") }) : null
    )));
    this.notes.replaceChildren(...[...notes, folder].filter(Boolean).map((text) => make("li", { class: "cc-quiet", text })));
  }
  /**
   * @param {string} words
   * @param {string} why it cannot begin, "" where it can
   */
  offer(words, why) {
    say(this.start, words);
    setAttribute(this.start, "aria-disabled", String(Boolean(why)));
    this.start.title = why;
  }
};

// desk/export/task_section.js
var TASKS = [
  {
    key: "client",
    title: "For the client",
    first: ["paper"],
    more: ["title", "note", "reference", "date", "client_sizes", "client_strengths", "codes", "width", "length", "cut", "families"],
    note: "To look at, open or print: all colourways at one scale, and a page of each with its tones and your notes."
  },
  {
    key: "printer",
    title: "For the printer",
    first: ["resolutions", "sizes", "plates"],
    more: ["bias", "condition", "press", "intent", "black_point"],
    note: "A repeat of each colourway at true size, that tiles without a seam; check, repeat and dpi stand in each file. Agree a strike-off."
  },
  {
    key: "mill",
    title: "For the mill",
    first: ["ends", "width", "length"],
    more: ["picks", "warp_take_up", "weft_take_up", "waste"],
    note: "A thread plan for a piece of cloth: orders, totals, metres of yarn, a draft. Take-up and waste only stand in: ask the mill for its own."
  },
  {
    key: "shop",
    title: "For the web shop",
    first: ["thumbnails"],
    more: [],
    note: "Square pictures, and the colours for a page."
  }
];
var TaskSection = class {
  /**
   * @param {Desk} desk
   * @param {TaskKind} kind
   * @param {Node[]} [extra] what else stands under "More choices"
   * @param {{ root: Node, fill: (faults: Record<string, string>) => void }[]} [below] what stands below them
   */
  constructor(desk, kind, extra = [], below = []) {
    this.desk = desk;
    this.kind = kind;
    this.below = below;
    this.changes = new Changes(desk, () => this.#show(), () => this.fill({}));
    this.tick = tick(kind.title, (on) => this.changes.send({ [kind.key]: on }));
    this.tick.input.dataset.part = kind.key;
    this.error = make("p", { class: "cc-field-said", role: "alert", hidden: true });
    this.parts = make("ul", { class: "cc-made-parts", "aria-label": `What is made ${kind.title[0].toLowerCase()}${kind.title.slice(1)}` });
    this.missing = make("p", { class: "cc-quiet", hidden: true });
    this.fields = [...kind.first, ...kind.more].map((name) => new Field(desk, name, kind.key));
    const boxes = this.fields.map((field) => field.root);
    const many = kind.first.length;
    this.more = make(
      "details",
      { class: "cc-fold" },
      make("summary", { text: "More choices" }),
      make("div", { class: "cc-export-fields" }, ...boxes.slice(many)),
      ...extra
    );
    this.more.hidden = !kind.more.length;
    this.note = make("p", { class: "cc-quiet", text: kind.note });
    this.body = make(
      "div",
      { class: "cc-task-body" },
      this.parts,
      this.missing,
      make("div", { class: "cc-export-fields" }, ...boxes.slice(0, many)),
      this.more,
      ...below.map((part) => part.root)
    );
    this.root = make(
      "section",
      { class: "cc-task", "aria-label": kind.title },
      make(
        "div",
        { class: "cc-task-head" },
        make("h3", { class: "cc-title" }, this.tick.box),
        this.note,
        this.error
      ),
      this.body
    );
  }
  #show() {
    this.tick.input.checked = Boolean(this.desk.model.get("export")[this.kind.key]);
  }
  /** @param {Record<string, string>} faults by field */
  fill(faults) {
    this.changes.show();
    const on = this.tick.input.checked;
    this.body.hidden = this.note.hidden = !on;
    say(this.error, faults[this.kind.key] ?? "");
    this.error.hidden = !faults[this.kind.key];
    [...this.fields, ...this.below].forEach((part) => part.fill(on ? faults : {}));
    if (this.fields.slice(this.kind.first.length).some((field) => field.wrong)) this.more.open = true;
  }
  /**
   * @param {Part[]} parts what is made
   * @param {string} missing what is to be given before all of it can be
   */
  tell(parts, missing) {
    this.parts.replaceChildren(...parts.map((part) => make(
      "li",
      {},
      make("span", { text: partWords2(part) }),
      make("span", { class: "cc-quiet", text: aboutWords(part[4]) })
    )));
    this.parts.hidden = !parts.length;
    this.missing.hidden = !missing;
    say(this.missing, missing && `${parts.length ? "Not given" : "Nothing yet: it needs"}${parts.length ? ":" : ""} ${missing}`);
  }
};

// desk/export/wall_chart.js
var WallChart = class {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.take = button("", () => this.#take());
    this.root = make("div", { class: "cc-press-profile", hidden: true }, make("div", { class: "cc-row" }, this.take));
  }
  get #chart() {
    return this.desk.model.get("facts").press_chart ?? "";
  }
  fill() {
    const { plates, condition } = this.desk.model.get("export");
    this.root.hidden = !this.#chart || condition === this.#chart && plates === "colours";
    say(this.take, `Plates by ${this.#chart}, as the wall`);
  }
  async #take() {
    await this.desk.act("set_export", void 0, { fields: { plates: "colours", condition: this.#chart } });
    const plates = this.root.parentElement?.querySelector('[data-part^="plates"]');
    if (plates instanceof HTMLElement) plates.focus();
  }
};

// desk/export/export_tab.js
var REST2 = 200;
var ExportTab = class {
  /** @type {Foretold | null} */
  #foretold = null;
  #turn = 0;
  #asked = "";
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.profile = new PressProfile(desk, () => this.#which());
    this.preflight = new Preflight(desk);
    this.sections = TASKS.map((kind) => kind.key === "printer" ? new TaskSection(desk, kind, [this.profile.root], [new WallChart(desk), this.preflight]) : new TaskSection(desk, kind));
    this.rangeWords = make("p", { class: "cc-quiet" });
    this.nothing = make("p", { class: "cc-export-nothing", hidden: true });
    this.before = new Before(desk, (field) => this.#mend(field));
    this.set = ["name", "folder", "zipped"].map((name) => new Field(desk, name));
    this.progress = new Progress(desk, () => this.#begin());
    this.about = make("p", { class: "cc-quiet" });
    this.progress.start.after(this.about);
    this.root = make(
      "div",
      { class: "cc-panel cc-export" },
      make("div", { class: "cc-tasks" }, ...this.sections.map((section) => section.root), this.rangeWords),
      make(
        "aside",
        { class: "cc-export-side", "aria-label": "Before you export" },
        make("h3", { class: "cc-title", text: "Before you export" }),
        this.nothing,
        this.before.root,
        make("div", { class: "cc-export-fields" }, ...this.set.map((field) => field.root)),
        this.progress.root
      )
    );
  }
  /** The colourways that are meant: what is kept, or the one under the hand while nothing is. */
  #which() {
    const { number, model } = this.desk;
    return model.get("kept").length || number === void 0 ? {} : { number };
  }
  fill() {
    if (this.root.hidden) return;
    const faults = { ...this.#foretold?.faults, ...this.desk.model.get("exporting").faults };
    [...this.sections, ...this.set].forEach((part) => part.fill(faults));
    this.before.fill();
    this.progress.fill();
    this.#askSoon();
  }
  /** What would be made, once nothing was changed for a moment. */
  #askSoon() {
    const { model, number } = this.desk;
    const { running, made } = model.get("exporting");
    const now = JSON.stringify([model.get("export"), model.get("size"), model.get("kept"), model.get("kept").length ? 0 : number, made, running]);
    if (now === this.#asked || running) return;
    this.#asked = now;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#ask(), REST2);
  }
  async #ask() {
    const turn2 = this.#turn += 1;
    let foretold;
    try {
      foretold = await this.desk.request("foretell", { ...this.#which(), fields: {} });
    } catch (error) {
      this.#asked = "";
      if (turn2 === this.#turn) say(this.about, errorWords(error));
      return;
    }
    if (foretold && turn2 === this.#turn) {
      this.#foretold = foretold;
      this.desk.guard.after("foretold", () => this.#tell());
    }
  }
  #tell() {
    const foretold = (
      /** @type {Foretold} */
      this.#foretold
    );
    const held2 = this.desk.model.get("export");
    const faults = { ...foretold.faults };
    [...this.sections, ...this.set].forEach((part) => part.fill(faults));
    for (const section of this.sections) {
      const row = foretold.tasks.find(([, , , task]) => task === section.kind.key);
      if (row || !Object.keys(faults).length) section.tell(row?.[5] ?? [], row?.[4] ?? "");
    }
    if (!Object.keys(faults).length) this.preflight.tell(foretold.preflight);
    const range = foretold.tasks.find(([, , , task]) => task === "range");
    say(this.rangeWords, range ? `And for the range itself: ${range[1]}; with them all opens again here.` : "");
    this.before.tell(foretold.warnings, foretold, String(held2.folder), Object.keys(faults).length > 0);
    this.#offer(foretold);
  }
  /** @param {Foretold} foretold */
  #offer(foretold) {
    const { model, number } = this.desk;
    const held2 = model.get("export");
    const nothing = !model.get("kept").length;
    this.nothing.hidden = !nothing;
    say(this.nothing, number === void 0 ? "Nothing is kept, and nothing is on the wall." : `Nothing is kept yet: what is exported is the one under the hand, ${this.desk.titleOf(number)}.`);
    const files = foretold.tasks.reduce((sum, [many]) => sum + many, 0);
    const bytes = foretold.tasks.reduce((sum, [, , size]) => sum + size, 0);
    const blocked = foretold.warnings.find(([, , , , blocks]) => blocks);
    const wrong = Object.keys(foretold.faults).length;
    const elsewhere = foretold.beside && !held2.replace ? foretold.beside : "";
    this.progress.offer(wrong ? "Export" : exportWords(files, elsewhere), blocked?.[0] ?? "");
    say(this.about, wrong ? "Something above is to be put right first: see “!”." : `And their list; about ${aboutWords(bytes) || "nothing"}. These choices are kept with the range.`);
  }
  async #begin() {
    const { start } = this.progress;
    if (start.getAttribute("aria-disabled") === "true") {
      this.#mend("folder");
      return;
    }
    const held2 = this.desk.model.get("export");
    await this.desk.act("export", void 0, { number: void 0, ...this.#which(), beside: !held2.replace });
  }
  /**
   * Go to where something is mended.
   * @param {string} field
   */
  #mend(field) {
    if (field === "colourways") {
      const kept = this.desk.model.get("kept");
      const nameless = kept.find(({ name }) => !name);
      if (nameless) this.desk.nameInRange(nameless.number);
      else this.desk.showPart(kept.length ? "range" : "wall");
      if (!kept.length) this.desk.typeInto("name");
      return;
    }
    if (field === "press") {
      const section = this.sections.find(({ kind }) => kind.key === "printer");
      if (section) section.more.open = true;
      this.profile.proof();
    }
    const input = this.root.querySelector(`[data-part^="${field}"]`);
    if (input instanceof HTMLElement) input.focus();
  }
  close() {
    clearTimeout(this.#timer);
  }
};

// desk/captions.js
function coloursOf(name, count) {
  const at = name.lastIndexOf(" on ");
  if (at < 0) return null;
  const stripes = name.slice(0, at).split(", ");
  return stripes.length === count ? { stripes, ground: name.slice(at + 4) } : null;
}
function wordingOf(names, counts) {
  const all = names.map((name, index) => partsOf(name, counts[index]));
  const parts = all.filter((one) => one !== null);
  const seen2 = countsOf(parts);
  const withGround = new Set(parts.map(({ ground }) => ground)).size > 1;
  const words = (one, name) => one ? coloursCaption(one, seen2, parts.length, withGround) : name;
  const captions = all.map((one, index) => words(one, names[index]));
  const clues = orderClues(all, captions);
  return {
    captions: captions.map((caption, index) => {
      const clue = clues.get(index) ?? "";
      return { words: caption || (clue ? "" : names[index]), clue };
    }),
    of: (name, count) => words(partsOf(name, count), name) || name
  };
}
function partsOf(name, count) {
  const parsed = coloursOf(name, count);
  return parsed && { ...parsed, has: new Set(parsed.stripes) };
}
function countsOf(parts) {
  const seen2 = /* @__PURE__ */ new Map();
  for (const { has } of parts) {
    for (const name of has) seen2.set(name, (seen2.get(name) ?? 0) + 1);
  }
  return seen2;
}
function coloursCaption({ has, ground }, seen2, total, withGround) {
  const listing = [...has].filter((name) => seen2.get(name) !== total).join(", ");
  const lacking = [...seen2.keys()].filter((name) => !has.has(name)).join(", ");
  const without = lacking && `without ${lacking}`;
  const words = without && (!listing || without.length < listing.length) ? without : listing;
  return [words, withGround ? `on ${ground}` : ""].filter(Boolean).join(" ");
}
function orderClues(all, captions) {
  const alike = tally(captions);
  const keys = new Map(all.flatMap((one, index) => one && alike.get(captions[index]) !== 1 ? [[index, one.stripes.map((_, at) => [captions[index], ...one.stripes.slice(0, at + 1)].join("\n"))]] : []));
  const seen2 = tally([...keys.values()].flat());
  const clues = /* @__PURE__ */ new Map();
  for (const [index, mine] of keys) {
    const most = mine.findIndex((key) => seen2.get(key) === 1);
    if (most >= 0) clues.set(index, `${all[index]?.stripes.slice(0, most + 1).join(", ")} first`);
  }
  return clues;
}
function tally(texts) {
  const seen2 = /* @__PURE__ */ new Map();
  for (const text of texts) seen2.set(text, (seen2.get(text) ?? 0) + 1);
  return seen2;
}

// desk/grid_layout.js
var GAP = 8;
var ROW_GAP = 12;
var NEAR = 130;
var TWO = 220;
var CAPTIONS = { colours: 36, score: 20, nothing: 0 };
function layOut(room, ratio, count, checks = 13, captionHeight = CAPTIONS.colours) {
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
    ratio,
    across,
    pixels,
    side,
    gap,
    caption,
    rows: Math.ceil(count / across),
    step: side + caption + Math.round(ROW_GAP * ratio),
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
var MARKS = { 0: ["Keep", "not kept"], 1: ["◦ Kept", "kept at another strength or mixing"], 2: ["Kept", "kept"] };
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
    const tick2 = make("span", { class: "cc-tick", "aria-hidden": "true" });
    const [words, clue] = [make("span"), make("span")];
    const caption = make("span", { class: "cc-caption", "aria-hidden": "true" }, words, clue);
    const node = make("div", { class: "cc-option", role: "option", "data-index": index }, tick2, caption);
    const option = { node, tick: tick2, caption, words, clue };
    this.#options.set(index, option);
    this.wall.sheet.append(node);
    return option;
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
      height: px(layout.side + layout.caption)
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
  #describe({ node, tick: tick2, caption, words, clue }, index) {
    const { desk, wall } = this;
    const { model } = desk;
    const number = model.get("numbers")[index];
    const name = [this.#ownName(number), model.get("names")[index]].filter(Boolean).join(": ");
    const mark = model.get("marks")[number] ?? 0;
    const why = wall.hidden.get(index) ?? "";
    node.dataset.number = String(number);
    node.dataset.mark = String(mark);
    node.classList.toggle("cc-current", index === wall.current);
    node.classList.toggle("cc-hidden", why !== "");
    node.tabIndex = index === wall.current ? 0 : -1;
    setAttribute(node, "aria-setsize", String(wall.list.length));
    setAttribute(node, "aria-posinset", String(this.#rank(index) + 1));
    setAttribute(node, "aria-label", name);
    setAttribute(node, "aria-description", spoken(this.#description(index, number, MARKS[mark][1])));
    setAttribute(node, "title", why ? `Hidden: ${why}` : name);
    say(tick2, MARKS[mark][0]);
    caption.hidden = wall.captions === "nothing";
    const shown = this.#caption(index, number);
    caption.classList.toggle("cc-two-lines", shown.clue !== "");
    say(words, shown.words);
    say(clue, shown.clue);
  }
  /**
   * @param {number} index
   * @param {number} number
   * @param {string} mark in words
   */
  #description(index, number, mark) {
    const { desk: { model }, desk, wall } = this;
    const letter = desk.letterOf(number);
    const figure = model.get("figures")[index];
    const why = wall.hidden.get(index);
    return [
      mark,
      model.get("facts").own?.includes(number) && "by hand",
      letter && `side by side as ${letter}`,
      figure && figureWords(model.get("figure_words"), figure),
      why && `hidden: ${why}`
    ].filter(Boolean).join("; ");
  }
  /**
   * @param {number} index
   * @param {number} number
   */
  #caption(index, number) {
    const { desk, wall } = this;
    const why = wall.hidden.get(index);
    const score = () => desk.model.get("figures")[index] || String(this.#rank(index) + 1);
    const own = this.#ownName(number);
    const named = () => own ? { words: own, clue: "" } : wall.captionOf(index);
    const { words, clue } = wall.captions === "score" ? { words: score(), clue: "" } : named();
    const first = [desk.letterOf(number), why ? shortReason(why) : words].filter(Boolean).join(" · ");
    return { words: first, clue: why ? "" : clue };
  }
  /** The name that it is kept under, or "". @param {number} number */
  #ownName(number) {
    return this.desk.model.get("facts").kept_names?.[number] ?? "";
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
function figureWords(column, figure) {
  return `${column} ${/Δ/.test(column) ? figure.replace(/^Δ\S* /, "") : figure}`;
}
function shortReason(why) {
  return why.replace(/(^|; )[^;]* is ([^;,]+, under )/g, "$1$2");
}

// desk/grid.js
var STILL = 400;
var SCALES = [
  ["repeat", "whole repeats"],
  ["0.25", "a quarter of its size"],
  ["0.5", "half its size"],
  ["1", "its true size"]
];
var Grid = class {
  scale = "repeat";
  captions = "colours";
  // what stands under the cloth: a key of CAPTIONS
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
  /** @type {{names: string[], numbers: number[], wording: ReturnType<typeof wordingOf>} | null} */
  #worded = null;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #reword;
  onlay = () => {
  };
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.options = new Options(desk, this);
    this.loom = new Loom();
    this.canvas = make("canvas", { class: "cc-wall-canvas", "aria-hidden": "true" });
    this.sheet = make("div", {
      // That one is kept is said in words: told as a selection, a screen reader goes to what it is told of.
      class: "cc-sheet",
      role: "listbox",
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
    const layout = layOut(
      this.sheet.clientWidth,
      deviceRatio(),
      this.list.length,
      this.#checks,
      CAPTIONS[this.captions]
    );
    if (!layout) return;
    this.layout = layout;
    this.#align(layout.ratio);
    this.sheet.style.height = `${layout.rows * layout.step / layout.ratio}px`;
    this.#drawn = "";
    this.paint();
    this.onlay();
  }
  /**
   * Put wall and sheet on whole device pixels: between them cloth is blurred, canvas or not.
   * @param {number} ratio
   */
  #align(ratio) {
    const { sheet, scroll } = this;
    const up = (at) => Math.ceil((Math.ceil(at * ratio - 0.03) / ratio - at) * 64) / 64;
    const put = (node, x, y) => {
      node.style.setProperty("--right", `${x}px`);
      node.style.setProperty("--down", `${y}px`);
    };
    for (const node of [scroll, sheet]) put(node, 0, 0);
    const outer = scroll.getBoundingClientRect();
    put(scroll, up(outer.left + globalThis.scrollX), up(outer.top + globalThis.scrollY));
    const inner = sheet.getBoundingClientRect();
    put(sheet, up(inner.left + globalThis.scrollX), up(inner.top + scroll.scrollTop + globalThis.scrollY));
  }
  /** Checks that share a side of every cloth, so that the longest repeat of the wall is whole. */
  get #checks() {
    const { model } = this.desk;
    const wefts = bytesOf(model.get("weft_counts"));
    const laid = /* @__PURE__ */ new Map();
    bytesOf(model.get("counts")).forEach((count, at) => {
      const key = `${count}/${wefts[at] ?? 0}`;
      if (!laid.has(key)) laid.set(key, this.desk.laid(count, wefts[at]));
    });
    return checksToShow([...laid.values()].flatMap(({ warp, weft: weft2 }) => [warp, weft2]));
  }
  /** Device pixels of a check, the same for all cloths. */
  get pixels() {
    return this.scale === "repeat" ? this.layout?.pixels ?? 1 : checkPixels(this.desk.inches, Number(this.scale));
  }
  /**
   * What tells a colourway apart by its colours.
   * @param {number} index
   */
  captionOf(index) {
    const { model } = this.desk;
    const [names, numbers] = [model.get("names"), model.get("numbers")];
    const counts = bytesOf(model.get("counts"));
    if (this.#worded?.numbers !== numbers) {
      this.#worded = { names, numbers, wording: wordingOf(names, counts) };
    }
    const { names: before, wording } = this.#worded;
    if (before === names) return wording.captions[index] ?? { words: "", clue: "" };
    clearTimeout(this.#reword);
    this.#reword = setTimeout(() => {
      this.#worded = null;
      this.paint();
    }, STILL);
    return before[index] === names[index] ? wording.captions[index] : { words: wording.of(names[index], counts[index]), clue: "" };
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
      const wefts = tones2.wefts(index);
      const key = `${stripes}/${wefts}`;
      const { warp, weft: weft2 } = plans.get(key) ?? this.#plan(stripes, wefts, layout.side);
      plans.set(key, { warp, weft: weft2 });
      const { x, y } = positionOf(layout, first * layout.across + i);
      this.loom.draw(context, x, y - top, tones2.of(index), 0, stripes, warp, weft2, wefts);
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
   * @param {number} wefts
   * @param {number} side device pixels
   */
  #plan(stripes, wefts, side) {
    const { warp, weft: weft2 } = this.desk.laid(stripes, wefts);
    const { pixels } = this;
    this.scroll.dataset.pixels = String(pixels);
    return { warp: planOf(warp, pixels, side), weft: planOf(weft2, pixels, side) };
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
    clearTimeout(this.#reword);
    this.watch.disconnect();
    this.onscroll.stop();
  }
};
function indexAt(event) {
  const option = within(event, ".cc-option");
  return option ? Number(option.dataset.index) : null;
}

// desk/hand/board.js
var BOARDS = [["page", "Page"], ["white", "White"], ["grey", "Grey"], ["black", "Black"]];
var STORED = "checkcloth: board";
var Board = class {
  /** @param {HTMLElement} desk root of the desk */
  constructor(desk) {
    this.desk = desk;
    const kept = stored(STORED);
    const value = BOARDS.some(([key]) => key === kept) ? kept : "page";
    this.radios = new Radios("Board behind the cloth", BOARDS, value, (key) => this.#set(key), "cc-board");
    this.root = this.radios.root;
    desk.dataset.board = value;
  }
  next() {
    this.radios.step(1);
  }
  /** @param {string} key */
  #set(key) {
    this.desk.dataset.board = key;
    store(STORED, key);
  }
};

// desk/range_panel.js
var SIDE4 = 52;
var RangePanel = class {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.opener = make("button", {
      type: "button",
      class: "cc-range-opener",
      "aria-expanded": "false",
      onclick: () => this.#toggle(this.root.hidden)
    });
    this.saved = make("span", { class: "cc-quiet cc-saved" });
    this.name = textInput("Name of the range", {
      placeholder: "no name yet",
      enter: () => this.name.blur(),
      onchange: () => {
        if (this.name.value !== this.#facts.name) desk.act("name_range", 0, { name: this.name.value });
      }
    });
    this.file = make("p", { class: "cc-quiet" });
    this.list = make("ul", { class: "cc-ranges", "aria-label": "Saved ranges" });
    this.none = make("p", { class: "cc-quiet", hidden: true, text: "No other range is saved here." });
    this.root = make(
      "section",
      {
        class: "cc-range-panel",
        "aria-label": "The range",
        hidden: true,
        onkeydown: (event) => {
          if (event.key !== "Escape") return;
          event.stopPropagation();
          this.#toggle(false);
          this.opener.focus();
        }
      },
      make(
        "div",
        { class: "cc-row" },
        labelled("Name of the range", this.name),
        button("Start a new range", () => this.#go("new_range")),
        button("Copy this one", () => this.#go("copy_range"), { label: "Copy this one, the range" })
      ),
      this.file,
      this.none,
      this.list
    );
  }
  get #facts() {
    return this.desk.model.get("facts").range ?? { name: "", file: "" };
  }
  fill() {
    const { name, file } = this.#facts;
    const { range, saved } = this.desk.model.get("facts");
    say(this.opener, name || "Range without a name");
    this.opener.classList.toggle("cc-nameless", !name);
    this.opener.hidden = !range;
    say(this.saved, saved);
    setAttribute(this.saved, "title", saved);
    if (document.activeElement !== this.name) this.name.value = name;
    say(this.file, file ? `Saved in ${file}` : "Saved once something is kept");
  }
  /** @param {boolean} open */
  #toggle(open) {
    this.root.hidden = !open;
    setAttribute(this.opener, "aria-expanded", String(open));
    if (open) this.#listSaved();
  }
  /**
   * @param {"new_range" | "copy_range" | "open_range"} what
   * @param {object} [fields]
   */
  async #go(what, fields2 = {}) {
    await this.desk.act(what, 0, fields2);
    this.#toggle(false);
    this.opener.focus();
  }
  async #listSaved() {
    let ranges = [];
    try {
      ranges = (await this.desk.request("ranges", {}))?.ranges ?? [];
    } catch {
    }
    const pieces = ranges.map(({ counts = [], wefts = [], tones: tones2 = [], laid }) => counts.map((count, at) => ({ bytes: bytesOfCodes(tones2[at]), count, wefts: wefts[at], laid: laidFor(laid, count, wefts[at]) })));
    const cloths = clothsOf(pieces.flat(), SIDE4);
    this.list.replaceChildren(...ranges.map((range, at) => this.#range(range, cloths.splice(0, pieces[at].length))));
    this.none.hidden = ranges.length > 0;
  }
  /**
   * A range that is saved: its first cloths, all ranges at one scale, and what it is called.
   * @param {SavedRange} range
   * @param {HTMLCanvasElement[]} cloths
   */
  #range({ path, name, kept, when, fault, here }, cloths) {
    const words = fault || `${counted(kept, "colourway")}, ${when}`;
    return make(
      "li",
      { class: "cc-saved-range" },
      make("div", { class: "cc-saved-cloths" }, ...cloths),
      make("div", { class: "cc-saved-words" }, make("strong", { text: name }), make("span", { class: "cc-quiet", text: words })),
      fault ? null : here ? make("span", { class: "cc-quiet", text: "on the desk" }) : button("Open", () => this.#go("open_range", { path }), { label: `Open ${name}, ${words}`, kind: "cc-small" })
    );
  }
};

// desk/head.js
var Head = class {
  /**
   * @param {Desk} desk
   * @param {Tabs} tabs
   */
  constructor(desk, tabs) {
    this.desk = desk;
    this.panel = new RangePanel(desk);
    this.undo = button("Undo", () => desk.act("undo"), { keys: "U", kind: "cc-plain" });
    this.redo = button("Redo", () => desk.act("redo"), { keys: "R", kind: "cc-plain" });
    this.root = make(
      "div",
      { class: "cc-head" },
      make("div", { class: "cc-range-name" }, this.panel.opener, this.panel.saved),
      tabs.root,
      make(
        "div",
        { class: "cc-head-acts" },
        this.undo,
        this.redo,
        button("Keys", () => desk.showKeys(), { keys: "?", kind: "cc-plain" })
      )
    );
  }
  fill() {
    const facts = this.desk.model.get("facts");
    this.panel.fill();
    showStep(this.undo, facts.undo, "Undo");
    showStep(this.redo, facts.redo, "Redo");
  }
};
function showStep(node, words, verb) {
  node.setAttribute("aria-disabled", String(!words));
  node.classList.toggle("cc-off", !words);
  node.title = words ? `${verb}: ${words}` : `Nothing to ${verb.toLowerCase()}`;
  node.setAttribute("aria-label", words ? node.title : verb);
  say(node, verb);
}

// desk/keys.js
var KEYS = [
  ["Arrow keys, Home, End, Page Up, Page Down", "move along the wall"],
  ["K or Space", "keep, or drop what is kept"],
  ["Enter", "enlarge"],
  ["Escape", "back to the wall"],
  ["1, 2, 3, 4", "Wall, Range, Colours, Export"],
  ["N", "name it"],
  ["T", "write a note to it"],
  ["C", "lay it beside others"],
  ["M", "more like this"],
  ["D", "something different"],
  ["U or Ctrl+Z", "undo"],
  ["R or Ctrl+Shift+Z", "redo"],
  ["Shift + ← →", "on a kept colourway: move it; enlarged: move the cloth"],
  ["Delete", "on a kept colourway: drop it; on a stripe: remove it"],
  ["Alt + ← →", "on a stripe: move it"],
  ["↓", "on a stripe: to its colours"],
  ["V, Shift+V", "another view of the cloth, and back"],
  ["B", "another board behind the cloth"],
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
  ["?", "keys"],
  ["v", "view"],
  ["b", "board"],
  ["1", "part"],
  ["2", "part"],
  ["3", "part"],
  ["4", "part"]
]);
function actionOf(event, where) {
  if (where.typing || event.altKey) return null;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (event.ctrlKey || event.metaKey) return stepOf(key, event.shiftKey);
  if (!isForControls(event)) return null;
  return where.dialog || isHeld(key, where) ? null : ACTIONS.get(key) ?? null;
}
function isHeld(key, { onControl, enlarged }) {
  if (enlarged && (key === "Enter" || ACTIONS.get(key) === "part")) return true;
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

// desk/notices.js
var MOST_OFFERED = 5;
var ROOM = 150;
var HEARD = 3e3;
var Notices = class {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #heard;
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
    this.aloud = make("p", { class: "cc-unseen", "aria-live": "polite" });
    this.undo = button("Undo", () => desk.act("undo"), { kind: "cc-plain" });
    this.line = make("div", { class: "cc-last-step" }, this.status, this.undo);
  }
  fill() {
    this.#showOffer();
    this.#showMessage();
  }
  /** @param {boolean} quiet */
  showQuiet(quiet) {
    const { saved, retired } = this.desk.model.get("facts");
    if (retired) return;
    this.root.classList.toggle("cc-quieted", quiet);
    this.banner.hidden = !quiet;
    if (!quiet) return;
    say(this.banner, `The kernel is not answering: it may be busy, stopped or restarted. ${saved ? `What you kept is safe (${saved}). ` : ""}Changes made from now on wait for it; if it was restarted, ` + (hasCells(this.root.ownerDocument) ? "run the notebook again." : "load this page again."));
  }
  #showMessage() {
    const { message, retired } = this.desk.model.get("facts");
    if (retired) {
      this.root.classList.add("cc-retired");
      this.root.classList.remove("cc-quieted");
      this.root.inert = true;
      this.banner.hidden = false;
      say(this.banner, "This desk was closed, because it was opened again elsewhere. Everything on it is there.");
    }
    this.#say(message, message.startsWith("Not done"));
  }
  /**
   * Say the last step, with a way back beside it; or why there was none.
   * @param {string} message
   * @param {boolean} wrong
   * @param {boolean} [anew] read out, though it may be the same as before
   */
  #say(message, wrong, anew = this.status.textContent !== message) {
    const { undo } = this.desk.model.get("facts");
    this.status.classList.toggle("cc-wrong", wrong);
    say(this.status, message);
    setAttribute(this.status, "title", message);
    if (anew && message) this.#sayAloud(message);
    this.undo.hidden = wrong || !message || !undo;
    this.undo.title = `Undo: ${undo}`;
    setAttribute(this.undo, "aria-description", undo);
  }
  /** @param {string} message */
  #sayAloud(message) {
    const dialog = this.root.querySelector("dialog[open]");
    if (!dialog && this.status.checkVisibility()) return;
    const front = dialog ?? this.root;
    const there = this.aloud.parentElement === front;
    if (!there) {
      say(this.aloud, "");
      front.append(this.aloud);
    }
    clearTimeout(this.#heard);
    this.#heard = setTimeout(() => {
      say(this.aloud, message);
      this.#heard = setTimeout(() => say(this.aloud, ""), HEARD);
    }, there ? 0 : ROOM);
  }
  /** @param {string} text */
  complain(text) {
    this.#say(`Not done: ${text}`, true, true);
  }
  #showOffer() {
    const { offer, left_out: leftOut } = this.desk.model.get("facts");
    this.offer.hidden = !offer.length && !leftOut.length;
    this.offer.replaceChildren(
      ...leftOut.map((line) => make("p", { text: `Left out: ${line}` })),
      ...offer.length ? [make("p", { text: "Kept in an earlier session, and left as it is:" })] : [],
      ...offer.slice(0, MOST_OFFERED).map(({ file, words, fault }) => make(
        "div",
        { class: "cc-row" },
        make("span", { text: words }),
        ...fault ? [] : [
          button("Open", () => this.desk.act("open_range", 0, { path: file }), { label: `Open ${words}`, kind: "cc-small" }),
          button(
            "Take onto this desk",
            () => this.desk.act("take", 0, { file }),
            { label: `Take ${words} onto this desk`, kind: "cc-small" }
          )
        ]
      )),
      ...offer.length ? [make("p", {
        class: "cc-quiet",
        text: "Opened, it goes on in its own file; taken onto this desk, in this range's."
      })] : [],
      button("Not now", () => this.desk.act("dismiss"), { kind: "cc-small" })
    );
  }
};

// desk/client_panel.js
var SAID = { yes: "Client: yes", maybe: "Client: maybe", no: "Client: no" };
function saidWords({ answer = "", remark = "" }) {
  const said = SAID[answer] ?? "Client";
  return remark ? `${said}${answer ? "." : ":"} ${remark}` : said;
}
var ClientPanel = class {
  /** @type {{fields: object, bytes?: ArrayBuffer} | null} what was refused, and may be read anyway */
  #refused = null;
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.opener = button("For the client", () => this.#toggle(), { label: "A page for the client, and what came back" });
    setAttribute(this.opener, "aria-expanded", "false");
    this.reference = textInput("Reference", { placeholder: "made from the range", maxlength: 60 });
    this.note = textInput("Note to the client", { placeholder: "none", maxlength: 2e3 });
    this.sizes = tick("Check size");
    this.strengths = tick("Strength");
    this.codes = tick("Colour codes");
    for (const { input } of [this.sizes, this.strengths, this.codes]) input.checked = true;
    this.written = make("p", { class: "cc-quiet", role: "status" });
    this.text = make("textarea", {
      class: "cc-input cc-paste",
      rows: 3,
      spellcheck: "false",
      "aria-label": "What the client sent back",
      placeholder: "the text of the mail"
    });
    this.file = fileInput(".json,.txt,.eml,text/*", (file) => this.#takeFile(file));
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.lines = make("ul", { class: "cc-quiet cc-said-lines" });
    this.anyway = button("Read it all the same", () => this.#readAnyway(), { label: "Read it all the same, by number and name", kind: "cc-small" });
    this.whole = make("p", { class: "cc-said" });
    this.root = make("section", {
      class: "cc-client",
      "aria-label": "For the client",
      hidden: true,
      onkeydown: (event) => {
        if (event.key !== "Escape") return;
        event.stopPropagation();
        this.#toggle();
      }
    }, this.#layPage(), this.#layBack());
    this.anyway.hidden = true;
  }
  #layPage() {
    return make(
      "div",
      { class: "cc-add" },
      make("h3", { class: "cc-title", text: "Page for the client" }),
      make("p", { class: "cc-quiet", text: "One file that opens in any browser, without a network, headed with the name of the range. Nothing of scores or search goes with it." }),
      make("div", { class: "cc-row" }, labelled("Reference", this.reference), labelled("Note to the client", this.note)),
      make(
        "fieldset",
        { class: "cc-row cc-may" },
        make("legend", { class: "cc-quiet", text: "The client may see or move" }),
        this.sizes.box,
        this.strengths.box,
        this.codes.box
      ),
      make("div", { class: "cc-row" }, button("Write the page", () => this.#write(), { kind: "cc-strong" })),
      this.written
    );
  }
  #layBack() {
    const root = make(
      "div",
      { class: "cc-add" },
      make("h3", { class: "cc-title", text: "Sent back" }),
      make("p", { class: "cc-quiet", text: "Paste the text of the mail, or drop the file." }),
      this.text,
      make(
        "div",
        { class: "cc-row" },
        button("Read the answers", () => this.#read({ text: this.text.value })),
        button("Choose a file", () => this.file.click(), { label: "Choose the file that came back" }),
        this.anyway,
        this.file
      ),
      this.said,
      this.lines,
      this.whole
    );
    return takeDrops(root, (file) => this.#takeFile(file));
  }
  fill() {
    const words = this.desk.model.get("facts").client ?? "";
    this.whole.hidden = !words;
    say(this.whole, words);
  }
  #toggle() {
    this.root.hidden = !this.root.hidden;
    setAttribute(this.opener, "aria-expanded", String(!this.root.hidden));
    if (this.root.hidden) this.opener.focus();
    else this.reference.focus();
  }
  async #write() {
    const fields2 = {
      reference: this.reference.value,
      note: this.note.value,
      sizes: this.sizes.input.checked,
      strengths: this.strengths.input.checked,
      codes: this.codes.input.checked
    };
    try {
      const { file, reference } = await this.desk.request("range_page", fields2) ?? {};
      if (file) say(this.written, `Written: ${file}, reference ${reference}. Send that file to the client.`);
    } catch (error) {
      say(this.written, errorWords(error));
    }
  }
  /** @param {File} file */
  async #takeFile(file) {
    try {
      const { bytes } = await bytesToSend(file, false);
      await this.#read({ name: file.name }, bytes);
    } catch {
      this.#show(`${file.name} (${sizeWords(file.size)}) is too large to be sent.`, []);
    }
  }
  /**
   * @param {object} fields
   * @param {ArrayBuffer} [bytes]
   */
  async #read(fields2, bytes) {
    this.#refused = null;
    try {
      const { refused, words = "", gone = [], unread = [] } = await this.desk.request("sent_back", fields2, bytes && [bytes]) ?? {};
      if (refused) {
        this.#refused = { fields: fields2, bytes };
        this.#show(refused, []);
        return;
      }
      this.text.value = "";
      this.#show(words, [
        ...gone.map((line) => `Not in the range any more: ${line}`),
        ...unread.map((line) => `Not read: ${line}`)
      ]);
    } catch (error) {
      this.#show(errorWords(error), []);
    }
  }
  #readAnyway() {
    const refused = this.#refused;
    if (refused) this.#read({ ...refused.fields, anyway: true }, refused.bytes);
  }
  /**
   * @param {string} words
   * @param {string[]} lines
   */
  #show(words, lines) {
    say(this.said, words);
    this.lines.replaceChildren(...lines.map((text) => make("li", { text })));
    this.anyway.hidden = !this.#refused;
  }
};

// desk/families.js
var BY_ITSELF = "By itself";
function familiesOf(kept, known = []) {
  const groups = new Map(known.map((family) => [family, []]));
  kept.forEach((card, index) => {
    const family = card.family ?? "";
    groups.set(family, [...groups.get(family) ?? [], { card, index }]);
  });
  const alone = groups.get("") ?? [];
  groups.delete("");
  const named = [...groups].map(([family, cards]) => ({ family, cards }));
  return alone.length || !named.length ? [...named, { family: "", cards: alone }] : named;
}
function newFamily(known) {
  const taken = new Set(known);
  let number = known.length + 1;
  while (taken.has(`Family ${number}`)) number += 1;
  return `Family ${number}`;
}

// desk/range_tab.js
var SIDE5 = 169;
var BESIDE = 4;
var NEW = "\n";
var RangeTab = class {
  #laid = 0;
  // CSS pixels of a side, as it was laid last
  /** @type {{family: string, number: number} | null} the family that more is made of, and from which */
  #more = null;
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.words = make("p", { class: "cc-count" });
    this.client = new ClientPanel(desk);
    this.bar = make("div", { class: "cc-bar" }, this.words, make("span", { class: "cc-spring" }), this.client.opener);
    this.list = make("div", { class: "cc-families" });
    this.source = choice("from", [], "", (number) => {
      if (this.#more) this.#more.number = Number(number);
      this.fill();
    });
    setAttribute(this.source.select, "aria-label", "Make more of");
    this.source.select.dataset.part = "more of";
    this.makeMore = new MakeMore(desk, make(
      "header",
      { class: "cc-row" },
      make("h4", { text: "The same again, but" }),
      this.source.box,
      make("span", { class: "cc-spring" }),
      button("Close", () => this.#toggleMore(this.#more?.family ?? ""), { label: "Close what more can be made", kind: "cc-plain" })
    ));
    this.empty = make("p", {
      class: "cc-quiet",
      text: "Nothing kept yet. Press Keep on a colourway of the wall; what is kept is put into families here."
    });
    this.scroll = make("div", { class: "cc-panel-scroll", tabindex: "-1" }, this.client.root, this.empty, this.list);
    this.root = make("div", { class: "cc-panel cc-range-tab" }, this.bar, this.scroll);
    this.watch = new ResizeObserver(perFrame(() => {
      if (this.#side() !== this.#laid) this.fill();
    }));
    this.watch.observe(this.list);
    new CardDrag(
      this.list,
      ".cc-range-card",
      ".cc-range-card, .cc-family",
      (card, target) => this.#drop(card, target)
    );
  }
  fill() {
    if (this.root.hidden) return;
    const { model } = this.desk;
    const kept = model.get("kept");
    const source = kept.find(({ number }) => number === this.#more?.number);
    if (this.#more && source) this.#more.family = source.family ?? "";
    const groups = familiesOf(kept, model.get("facts").families);
    const named = groups.filter(({ family }) => family).length;
    say(this.words, counted(kept.length, "colourway") + (named ? ` in ${counted(named, "family", "families")}` : ""));
    this.empty.hidden = kept.length > 0;
    this.client.fill();
    this.#laid = this.#side();
    const cloths = keptCloths(this.desk, this.#laid);
    keepFocus(
      this.list,
      () => this.list.replaceChildren(...kept.length ? groups.map((group) => this.#family(group, cloths)) : []),
      () => this.list.querySelector("[data-part]")
    );
    this.mark();
  }
  /** Two at least beside each other, with their gap and the room for a ring around them. */
  #side() {
    const { clientWidth } = this.list;
    return Math.min(SIDE5, clientWidth ? Math.floor((clientWidth - 12 - 10) / 2) : SIDE5);
  }
  mark() {
    for (const card of this.list.querySelectorAll(".cc-range-card")) {
      card.classList.toggle("cc-current", numberOf(card) === this.desk.number);
    }
  }
  close() {
    this.watch.disconnect();
  }
  /** Go to the name of a card. @param {number} number */
  typeName(number) {
    findPart(this.list, `name ${number}`)?.focus();
  }
  /**
   * @param {{family: string, cards: {card: KeptCard, index: number}[]}} group
   * @param {HTMLCanvasElement[]} cloths
   */
  #family({ family, cards }, cloths) {
    const many = counted(cards.length, "colourway");
    const name = family ? this.#familyName(family) : make("h3", { class: "cc-title", text: BY_ITSELF });
    const called = family || BY_ITSELF;
    const more = button("Make more", () => this.#toggleMore(family), { label: `Make more of ${called}`, kind: "cc-plain" });
    more.dataset.part = `make more ${family}`;
    const open = this.#more?.family === family && cards.length > 0;
    more.hidden = !cards.length;
    setAttribute(more, "aria-expanded", String(open));
    const beside = button(
      "Lay beside",
      () => this.#layBeside(cards.map(({ card }) => card.number)),
      { label: `Lay beside one another: ${called}`, kind: "cc-plain" }
    );
    beside.hidden = cards.length < 2;
    return make(
      "section",
      {
        class: "cc-family",
        "data-family": family,
        "aria-label": family ? `Family ${family}` : BY_ITSELF
      },
      make(
        "header",
        { class: "cc-family-head" },
        name,
        make("span", { class: "cc-quiet", text: many }),
        make("span", { class: "cc-spring" }),
        cards.length ? this.#strengthOf(family, cards.map(({ card }) => card)) : null,
        more,
        beside
      ),
      open ? this.#layMore(cards.map(({ card }) => card)) : null,
      make(
        "ol",
        { class: "cc-range-cards" },
        ...cards.map(({ card, index }) => this.#card(card, index, cloths[index]))
      )
    );
  }
  /**
   * The strength that all of a family have; typed anew, all of them get it.
   * @param {string} family
   * @param {KeptCard[]} cards
   */
  #strengthOf(family, cards) {
    const common = commonPercent(cards);
    const value = common === null ? "" : `${common} %`;
    const change = (text) => {
      const percent = percentOf(text);
      setAttribute(input, "aria-invalid", String(percent === null && text.trim() !== ""));
      if (percent !== null) this.desk.act("all_of", 0, { family, strength: percent / 100 });
      else if (!text.trim()) input.value = value;
    };
    const input = textField(
      `Strength of all of ${family || BY_ITSELF}, in percent`,
      { known: () => value, change },
      { class: "cc-percent", placeholder: "mixed", inputmode: "decimal", maxlength: 8, value, "data-part": `strength of ${family}` }
    );
    return make("label", { class: "cc-all-of cc-quiet" }, make("span", { text: cards.length > 1 ? "all at" : "at" }), input);
  }
  /** @param {string} family */
  #toggleMore(family) {
    const was = this.#more;
    this.makeMore.forget();
    const cards = this.desk.model.get("kept").filter((card) => (card.family ?? "") === family);
    const first = cards.find(({ number }) => number === this.desk.number) ?? cards[0];
    this.#more = was?.family === family || !first ? null : { family, number: first.number };
    this.fill();
    findPart(this.list, `make more ${(this.#more ?? was)?.family ?? ""}`)?.focus({ preventScroll: true });
  }
  /** @param {KeptCard[]} cards */
  #layMore(cards) {
    const more = (
      /** @type {{family: string, number: number}} */
      this.#more
    );
    const card = cards.find(({ number }) => number === more.number) ?? cards[0];
    more.number = card.number;
    setOptions(this.source.select, cards.map(({ number, title }) => [String(number), title]), String(card.number));
    this.makeMore.show(card);
    return this.makeMore.root;
  }
  /** @param {string} family */
  #familyName(family) {
    const input = this.#field(
      `Name of family ${family}`,
      family,
      `family ${family}`,
      (text) => this.desk.act("name_family", 0, { family, name: text })
    );
    input.classList.add("cc-family-name");
    return input;
  }
  /**
   * @param {string} label
   * @param {string} value
   * @param {string} part
   * @param {(text: string) => void} change
   */
  #field(label, value, part, change) {
    return textField(label, { known: () => value, change }, { class: "cc-bare", maxlength: 500, placeholder: "no name yet", value, "data-part": part });
  }
  /**
   * @param {KeptCard} card
   * @param {number} index
   * @param {HTMLCanvasElement} cloth
   */
  #card(card, index, cloth) {
    const { desk } = this;
    const { number, title } = card;
    const letter = desk.letterOf(number);
    const even = evenWords(desk.model.get("laid"), desk.model.get("bands"), card.count, card.wefts);
    const act = (text, label, what) => {
      const node = button(text, () => desk.act(what, number), { label, kind: "cc-plain" });
      node.dataset.part = `${what} ${number}`;
      return node;
    };
    return make(
      "li",
      { class: "cc-range-card", "data-number": number, "data-index": index },
      make(
        "button",
        {
          type: "button",
          class: "cc-kept-cloth",
          "data-part": `cloth ${number}`,
          "aria-label": `Look at ${title}`,
          title: card.words,
          "aria-description": `${card.words}; Shift with an arrow key moves it`,
          onclick: () => desk.lookAt(number),
          onkeydown: (event) => this.#key(event, card, index)
        },
        cloth,
        letter ? make("span", { class: "cc-letter", text: letter }) : null
      ),
      this.#field(
        `Name of ${title}`,
        card.name,
        `name ${number}`,
        (text) => desk.act("name", number, { text })
      ),
      make("p", {
        class: "cc-quiet cc-clip",
        text: card.note ? `${card.words}; ${card.note}` : card.words,
        title: card.words
      }),
      make(
        "div",
        { class: "cc-card-acts" },
        this.#familyChoice(card),
        this.#mover(card, index, -1),
        this.#mover(card, index, 1),
        act("Copy", `Copy ${title}`, "copy"),
        act("Beside", `Lay ${title} beside others`, "compare"),
        act("Drop", `Drop ${title}`, "drop")
      ),
      even ? make("p", { class: "cc-even", text: capital(even) }) : null,
      card.answer || card.remark ? make("p", { class: "cc-said", title: saidWords(card), text: saidWords(card) }) : null
    );
  }
  /**
   * One position earlier or later in the range: what a drag does, by a press.
   * @param {KeptCard} card
   * @param {number} index
   * @param {-1 | 1} step
   */
  #mover({ number, title }, index, step) {
    const node = button(
      step < 0 ? "←" : "→",
      () => this.desk.act("move", number, { index: index + step }),
      { label: `Move ${title} ${step < 0 ? "earlier" : "later"}`, kind: "cc-plain" }
    );
    node.dataset.part = `${step} ${number}`;
    node.disabled = index + step < 0 || index + step >= this.desk.model.get("kept").length;
    return node;
  }
  /** @param {KeptCard} card */
  #familyChoice(card) {
    const known = this.#names();
    const options = [
      ["", BY_ITSELF],
      ...known.map((family) => (
        /** @type {[string, string]} */
        [family, family]
      )),
      [NEW, "new family"]
    ];
    const { select } = choice(`Family of ${card.title}`, options, card.family ?? "", (family) => this.desk.act("family", card.number, { family: family === NEW ? newFamily(known) : family }));
    select.classList.add("cc-family-choice");
    select.dataset.part = `of ${card.number}`;
    return select;
  }
  #names() {
    const { model } = this.desk;
    return familiesOf(model.get("kept"), model.get("facts").families).map(({ family }) => family).filter(Boolean);
  }
  /**
   * @param {KeyboardEvent} event
   * @param {KeptCard} card
   * @param {number} index
   */
  #key(event, card, index) {
    const step = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
    if (step && event.shiftKey) {
      event.preventDefault();
      const neighbour = index + step;
      if (neighbour >= 0 && neighbour < this.desk.model.get("kept").length) {
        this.desk.act("move", card.number, { index: neighbour });
      }
    } else if (event.key === "Delete") this.desk.act("drop", card.number);
  }
  /**
   * Dropped on a card it takes that card's position, and joins its family.
   * @param {HTMLElement} card
   * @param {HTMLElement} target
   */
  async #drop(card, target) {
    const number = numberOf(card);
    const family = (
      /** @type {HTMLElement} */
      target.closest(".cc-family").dataset.family ?? ""
    );
    const own = (
      /** @type {HTMLElement} */
      card.closest(".cc-family").dataset.family ?? ""
    );
    const { index } = target.dataset;
    if (family !== own) await this.desk.act("family", number, { family });
    else if (index !== void 0) await this.desk.act("move", number, { index: Number(index) });
  }
  /** Lay these side by side, as many as there is room for, and nothing else. @param {number[]} numbers */
  async #layBeside(numbers) {
    const wanted = numbers.slice(0, BESIDE);
    const { compared } = this.desk.model.get("facts");
    const changed = [
      ...compared.filter((number) => !wanted.includes(number)),
      ...wanted.filter((number) => !compared.includes(number))
    ];
    for (const number of changed) await this.desk.act("compare", number);
    this.desk.showSideBySide();
  }
};

// desk/bands/band_strip.js
var TARGET = { fine: 24, coarse: 44 };
var STEPS3 = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 4, PageDown: -4 };
var BandStrip = class {
  /** @type {Bands} */
  #bands = [];
  /** @type {string[]} */
  #colours = [];
  #scale = 1;
  #held = false;
  /**
   * @param {string} label
   * @param {Pulling} pulling
   */
  constructor(label, pulling) {
    this.pulling = pulling;
    this.row = make("div", { class: "cc-band-row", role: "group", "aria-label": label });
    this.root = make("div", { class: "cc-band-strip" }, this.row);
  }
  /**
   * @param {Bands} bands
   * @param {string[]} colours CSS colours of the ground and every stripe
   */
  fill(bands, colours) {
    if (this.#held) return;
    this.#bands = bands;
    this.#colours = colours;
    const coarse = globalThis.matchMedia?.("(pointer: coarse)").matches || globalThis.innerWidth < 640;
    this.#scale = stripScale(bands, Math.max(120, this.root.clientWidth - 2), TARGET[coarse ? "coarse" : "fine"]);
    while (this.row.children.length > bands.length) this.row.lastChild?.remove();
    while (this.row.children.length < bands.length) this.row.append(this.#band(this.row.children.length));
    this.#show();
  }
  /** @param {number} at */
  #band(at) {
    const edge = make("span", {
      class: "cc-band-edge",
      "aria-hidden": "true",
      onpointerdown: (event) => this.#hold(event, at)
    });
    return hinted(make(
      "span",
      {
        class: "cc-band-one",
        role: "slider",
        tabindex: "0",
        "aria-valuemax": String(WIDEST),
        onkeydown: (event) => this.#key(event, at)
      },
      make("span", { class: "cc-band-letter", "aria-hidden": "true" }),
      edge
    ));
  }
  #show() {
    this.#bands.forEach(([stripe, checks], at) => {
      const node = (
        /** @type {HTMLElement} */
        this.row.children[at]
      );
      node.style.width = `${checks * this.#scale}px`;
      node.style.setProperty("--band", this.#colours[stripe] ?? "transparent");
      const words = bandWords(stripe, checks);
      setAttribute(node, "aria-label", `Band of ${stripe ? `stripe ${stripe}` : "the ground"}`);
      node.dataset.hint = words;
      setAttribute(node, "aria-valuemin", String(Math.min(checks, NARROWEST_PULLED)));
      setAttribute(node, "aria-valuenow", String(checks));
      setAttribute(node, "aria-valuetext", checksWords(checks));
      if (node.firstElementChild) node.firstElementChild.textContent = stripe ? letterOf(stripe) : "·";
    });
  }
  /** @param {number} at @param {number} checks */
  #lay(at, checks) {
    if (this.#bands[at][1] === checks) return false;
    this.#bands = withWidth(this.#bands, at, checks);
    this.#show();
    return true;
  }
  /** @param {KeyboardEvent} event @param {number} at */
  #key(event, at) {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const ends = { Home: NARROWEST_PULLED, End: WIDEST };
    const by = STEPS3[event.key];
    const to = by ? stepped(this.#bands[at][1], by) : ends[
      /** @type {"Home" | "End"} */
      event.key
    ];
    if (to === void 0) return;
    event.preventDefault();
    event.stopPropagation();
    if (this.#lay(at, to)) this.pulling.onSet(this.#bands);
  }
  /**
   * Pull the edge of a band; one step, however far, and none where it is let go of by Escape.
   * @param {PointerEvent} down
   * @param {number} at
   */
  #hold(down, at) {
    if (down.button !== 0 || this.#held) return;
    down.preventDefault();
    const edge = (
      /** @type {HTMLElement} */
      down.currentTarget
    );
    const before = this.#bands;
    const drag = new AbortController();
    this.#held = true;
    edge.setPointerCapture(down.pointerId);
    edge.parentElement?.focus();
    const end = (keep) => {
      drag.abort();
      this.#held = false;
      if (!keep) this.#lay(at, before[at][1]);
      if (this.#bands[at][1] === before[at][1]) this.pulling.onTry(before);
      else this.pulling.onSet(this.#bands);
    };
    edge.addEventListener("pointermove", (event) => {
      const to = pulledTo(before[at][1] + (event.clientX - down.clientX) / this.#scale);
      if (Math.abs(event.clientX - down.clientX) < 3 && this.#bands === before) return;
      if (this.#lay(at, to)) this.pulling.onTry(this.#bands);
    }, drag);
    edge.addEventListener("pointerup", () => end(true), drag);
    edge.addEventListener("pointercancel", () => end(false), drag);
    addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      event.stopPropagation();
      end(false);
    }, { capture: true, signal: drag.signal });
  }
};

// desk/bands/bands_field.js
var OWN = "of my own";
var GREYS = ["#fff", "#c8c8c8", "#a0a0a0", "#787878"];
var Way = class {
  /**
   * @param {Setting} setting
   * @param {string} label
   * @param {(value: string | Bands) => Promise<string>} set answers why it was refused, or ""
   * @param {(bands: Bands) => void} onTry
   */
  constructor(setting, label, set, onTry) {
    this.setting = setting;
    this.preset = choice(label, [...KINDS2, [OWN, OWN]], "even", (kind) => {
      if (kind === OWN) this.order.focus();
      else this.#set(kind);
    });
    this.said = make("span", { class: "cc-field-said", role: "status" });
    const called = `${label}, in order`;
    this.order = textInput(called, {
      class: "cc-order",
      maxlength: 2e3,
      spellcheck: "false",
      placeholder: "2 A, 1/2 ground, 4 B",
      onchange: () => this.#set(this.order.value.trim())
    });
    const field = make("label", { class: "cc-field cc-order-field" }, make("span", { text: called }), this.order, this.said);
    this.strip = new BandStrip(`${label}, one repeat`, { onTry, onSet: (bands) => this.#set(bands) });
    this.root = make("div", { class: "cc-bands-way" }, this.preset.box, field, this.strip.root);
    this.set = set;
  }
  /** @param {string | Bands} value */
  async #set(value) {
    const wrong = await this.set(value);
    setAttribute(this.order, "aria-invalid", String(Boolean(wrong)));
    say(this.said, wrong);
  }
  /**
   * @param {string} text the setting
   * @param {Bands} bands
   * @param {string[]} colours
   */
  fill(text, bands, colours) {
    this.preset.select.value = isPreset(text) ? text : OWN;
    const order = orderText(bands);
    const typing = document.activeElement === this.order && this.order.value !== this.#shown;
    if (!typing && this.order.getAttribute("aria-invalid") !== "true") this.order.value = order;
    this.#shown = order;
    this.strip.fill(bands, colours);
  }
  #shown = "";
  /** What was wrong is wrong no longer: another order is laid. */
  forget() {
    setAttribute(this.order, "aria-invalid", "false");
    say(this.said, "");
  }
};
var BandsField = class {
  #turn = 0;
  #laid = "";
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    const way = (setting, label) => new Way(
      setting,
      label,
      (value) => this.#set(setting, value),
      (bands) => this.#try(setting, bands)
    );
    this.warp = way("bands", "Bands");
    this.weft = way("weft", "Weft");
    this.tick = tick("another order in the weft", (on) => this.#set("weft", on ? this.#text("bands") : ""));
    this.others = make("p", { class: "cc-quiet", hidden: true });
    this.inHandWords = make("span", {});
    this.inHand = make(
      "p",
      { class: "cc-quiet cc-row", hidden: true },
      this.inHandWords,
      button("Lay bands for it", () => this.#layForCloth(), { label: "Lay bands for it: the cloth in hand", kind: "cc-small" })
    );
    this.root = make(
      "div",
      { class: "cc-bands", role: "group", "aria-label": "Bands of the check" },
      this.warp.root,
      this.tick.box,
      this.weft.root,
      this.others,
      this.inHand
    );
    new ResizeObserver(perFrame(() => this.paint())).observe(this.root);
  }
  /** @param {Setting} setting */
  #text(setting) {
    return this.desk.model.get(setting) || (setting === "bands" ? "even" : "");
  }
  /** What is laid now, of an even check too. @returns {Required<SentLaid>} */
  #now() {
    const { model } = this.desk;
    const laid = model.get("laid");
    const stripes = model.get("stripes");
    if (laid?.warp && laid.weft && laid.stripes && laid.wefts) return (
      /** @type {Required<SentLaid>} */
      laid
    );
    const wefts = laid?.wefts ?? stripes;
    return { stripes, wefts, warp: evenBands(stripes), weft: evenBands(wefts) };
  }
  /**
   * @param {Setting} setting
   * @param {Bands} bands
   */
  #laidWith(setting, bands) {
    const now = this.#now();
    if (setting === "weft") return { ...now, weft: bands };
    const follows = this.#text("weft") === "";
    return { ...now, warp: bands, weft: follows ? weftAsWarp(bands, now.stripes, now.wefts) : now.weft };
  }
  /**
   * @param {Setting} setting
   * @param {Bands} bands
   */
  #try(setting, bands) {
    this.desk.tryBands(this.#laidWith(setting, bands));
  }
  /**
   * @param {Setting} setting
   * @param {string | Bands} value text, or bands that were pulled
   */
  async #set(setting, value) {
    const turn2 = this.#turn += 1;
    const now = this.#now();
    const text = typeof value === "string" ? value : orderText(value);
    if (typeof value !== "string") this.#try(setting, value);
    else if (isPreset(value)) this.#try(setting, presetBands(value, setting === "weft" ? now.wefts : now.stripes));
    let wrong = "";
    try {
      await this.desk.request(setting, { text });
    } catch (error) {
      wrong = refusalOf(error).words;
    }
    if (turn2 !== this.#turn) return wrong;
    this.desk.tryBands(null);
    this.paint();
    return wrong;
  }
  /** Show what the kernel or the page set. */
  fill() {
    const { model } = this.desk;
    const laid = JSON.stringify([model.get("bands"), model.get("weft"), model.get("laid")]);
    if (laid !== this.#laid) for (const way of [this.warp, this.weft]) way.forget();
    this.#laid = laid;
    this.tick.input.checked = this.#text("weft") !== "";
    this.weft.root.hidden = !this.tick.input.checked;
    const others = this.#others();
    this.others.hidden = !others;
    say(this.others, others === 1 ? "One on the wall has other numbers of stripes: it is even." : `${others} on the wall have other numbers of stripes: they are even.`);
    this.paint();
  }
  /** Bands for as many stripes as the cloth under the hand has. */
  #layForCloth() {
    const { number } = this.desk;
    if (number !== void 0) this.desk.act("bands_for", number);
  }
  /** Say where the cloth under the hand has other numbers of stripes than the bands. */
  #sayInHand() {
    const cloth = this.desk.clothInHand;
    const { stripes, wefts } = this.#now();
    const [warp, weft2] = [cloth?.stripes.length ?? stripes, cloth?.wefts?.length || (cloth?.stripes.length ?? wefts)];
    this.inHand.hidden = warp === stripes && weft2 === wefts;
    say(this.inHandWords, `These bands are of ${countsWords(stripes, wefts)}; the cloth in hand has ${countsWords(warp, weft2)}.`);
  }
  /** How many of the wall the bands are not of. */
  #others() {
    const { model } = this.desk;
    const laid = model.get("laid");
    if (!laid?.warp) return 0;
    const wefts = bytesOf(model.get("weft_counts"));
    return bytesOf(model.get("counts")).filter((count, at) => count !== laid.stripes || (wefts[at] || count) !== laid.wefts).length;
  }
  /** Lay the strips in the colours of the cloth under the hand, where it has as many stripes. */
  paint() {
    this.#sayInHand();
    const { warp, weft: weft2, stripes, wefts } = this.#now();
    const cloth = this.desk.clothInHand;
    const hexes = (colours, count) => cloth && colours?.length === count ? [cloth.ground.hex, ...colours.map(({ hex }) => hex)] : [GREYS[0], ...Array.from({ length: count }, (_, at) => GREYS[1 + at % 3])];
    this.warp.fill(this.#text("bands"), warp, hexes(cloth?.stripes, stripes));
    const own = cloth?.wefts?.length ? cloth.wefts : cloth?.stripes;
    if (!this.weft.root.hidden) this.weft.fill(this.#text("weft"), weft2, hexes(own, wefts));
  }
};

// desk/own_press.js
var NUMBERS = [
  ["Tone value increase at 50 %, in %", "increase", "tone value increase"],
  ["Limiting density", "density", "limiting density"],
  ["Yule–Nielsen n", "n", "n"]
];
var ASKS = "Its readings, a CGATS text; or its numbers, as the printer states them.";
var OwnPress = class {
  /** Whether a press of one's own was chosen, and is not known yet. */
  asked = false;
  #shown = "";
  // the numbers that were put into the fields last
  #words = { of: (
    /** @type {string | null | undefined} */
    ""
  ), text: "" };
  // what was said of which stock
  /**
   * @param {Desk} desk
   * @param {() => void} refill shows the settings anew
   * @param {() => void} leave goes back to the choice
   */
  constructor(desk, refill2, leave) {
    this.desk = desk;
    this.refill = refill2;
    this.leave = leave;
    this.choose = button(
      "Choose a chart",
      () => this.file.click(),
      { label: "Choose a chart: readings of a press as CGATS text, or drop it here" }
    );
    this.file = fileInput(".txt,.cgats,.ti3,.it8,text/plain", (file) => this.#take(file));
    this.said = make("p", { class: "cc-quiet", role: "status" });
    this.error = make("p", { class: "cc-field-said", role: "alert", hidden: true });
    const type = () => this.#type();
    this.inputs = NUMBERS.map(([label]) => textInput(
      label,
      { inputmode: "decimal", class: "cc-number", maxlength: 20, onchange: type, enter: type }
    ));
    this.root = takeDrops(make(
      "div",
      {
        class: "cc-own-press",
        role: "group",
        "aria-label": "A press that was measured",
        hidden: true,
        onkeydown: (event) => this.#key(event)
      },
      make("div", { class: "cc-row" }, this.choose, this.file, this.said),
      make("div", { class: "cc-row" }, ...NUMBERS.map(([label], at) => labelled(label, this.inputs[at]))),
      this.error
    ), (file) => this.#take(file));
  }
  /** A press was chosen: the one whose chart is here already, or the next that is given. */
  ask() {
    this.asked = true;
    const { model } = this.desk;
    if (model.get("facts").press_chart || model.get("export")?.condition) this.#request("press_chart", {});
    else {
      this.root.hidden = false;
      this.choose.focus();
      this.refill();
    }
  }
  /** Something else was chosen: nothing is asked any more, and what was wrong is not. */
  forget() {
    this.asked = false;
    this.#complain("");
  }
  /** @param {boolean} prints whether anything is printed */
  fill(prints2) {
    const { model } = this.desk;
    const stock = model.get("stock");
    const own = isOwnPress(stock);
    this.root.hidden = !prints2 || !(own || this.asked || !this.error.hidden);
    const asks = own && !this.asked ? "" : ASKS;
    say(this.said, this.#words.of === stock && own ? this.#words.text : asks);
    const numbers = pressNumbers(model.get("choices").stocks, stock);
    if (JSON.stringify(numbers) === this.#shown) return;
    this.#shown = JSON.stringify(numbers);
    NUMBERS.forEach(([, name], at) => {
      this.inputs[at].value = numbers[name];
    });
  }
  /** @param {File} file */
  async #take(file) {
    say(this.said, `Reading ${file.name} …`);
    const sent = await bytesToSend(file, false).catch(() => null);
    if (sent) await this.#request("press_chart", { name: file.name }, [sent.bytes]);
    else this.#end("", `${file.name} (${sizeWords(file.size)}) is too large to be sent.`);
  }
  #type() {
    this.#request("stock", Object.fromEntries(NUMBERS.map(([, name], at) => [name, this.inputs[at].value])));
  }
  /**
   * @param {string} what
   * @param {object} fields
   * @param {ArrayBuffer[]} [files]
   */
  async #request(what, fields2, files) {
    try {
      const { words = "" } = await this.desk.request(what, fields2, files) ?? {};
      this.#end(words);
    } catch (error) {
      const { words, field } = refusalOf(error);
      this.#end("", words, field);
    }
  }
  /**
   * What was asked for is done, or the setting stays as it was.
   * @param {string} words
   * @param {string} [wrong]
   * @param {string} [argument] what is wrong
   */
  #end(words, wrong = "", argument = "") {
    this.desk.guard.after("press", () => {
      this.asked = false;
      if (!wrong) {
        this.#words = { of: this.desk.model.get("stock"), text: words };
        this.#shown = "";
      }
      this.#complain(wrong, argument);
      this.refill();
    });
  }
  /**
   * @param {string} words
   * @param {string} [argument]
   */
  #complain(words, argument = "") {
    say(this.error, words);
    this.error.hidden = !words;
    NUMBERS.forEach(([, , called], at) => setAttribute(this.inputs[at], "aria-invalid", String(called === argument)));
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    this.forget();
    this.#shown = "";
    this.refill();
    if (this.root.hidden) this.leave();
  }
};

// desk/settings.js
var Settings = class {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    const change = desk.change.bind(desk);
    this.size = slider("Check size", (index) => change("size", this.choices.sizes[index][0]));
    this.stripes = slider("Stripes", (stripes) => change("stripes", stripes));
    this.strength = slider(
      "Overlay strength",
      (perCent) => change("strength", perCent / 100),
      "Strength"
    );
    this.strength.input.max = "100";
    this.palette = choice("Palette", [], "", (name) => change("palette", name));
    this.ground = choice("Ground", [], "", (name) => change("ground", name));
    this.mixing = choice("Mixing", [], "", (name) => change("mixing", name));
    this.press = new OwnPress(desk, () => desk.guard.after("settings", () => this.fill()), () => this.stock.select.focus());
    this.stock = choice("Printed on", [], "", (text) => this.#print(text));
    this.stock.select.classList.add("cc-stock");
    this.count = choice("How many", [], "", (text) => change("count", Number(text)));
    this.wefts = choice("Weft colours", [], "", (count) => change("weft_colours", Number(count)));
    this.typed = this.#typedSize();
    this.sliders = [this.size.box, this.stripes.box, this.strength.box];
    this.fields = [this.ground.box, this.mixing.box, this.stock.box, this.press.root, this.count.box, this.wefts.box, this.typed];
    this.bands = new BandsField(desk);
    this.fill();
  }
  get choices() {
    return this.desk.model.get("choices");
  }
  /** A check size as text: the kernel reads it, and says beside the field what it could not read. */
  #typedSize() {
    const said = make("span", { class: "cc-field-said", role: "status" });
    const input = textInput("Check size, typed", {
      maxlength: 40,
      placeholder: "7 mm, 3/16 in",
      onchange: async () => {
        const text = input.value.trim();
        const wrong = text ? await this.#send(text) : "";
        if (!wrong && input.value.trim() === text) input.value = "";
        setAttribute(input, "aria-invalid", String(Boolean(wrong)));
        say(said, wrong);
      }
    });
    return labelled("Check size, typed", input, said);
  }
  /**
   * @param {string} text
   * @returns {Promise<string>} why it was refused, or ""
   */
  async #send(text) {
    try {
      await this.desk.request("size", { text });
    } catch (error) {
      return errorWords(error);
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
    this.stock.box.hidden = !prints(mixings, mixing);
    this.#fillStock();
    pick(this.count, countOptions(counts, model.get("count")), String(model.get("count")));
    pick(this.wefts, weftOptions(stripes[1]), String(model.get("weft_colours") ?? 0));
    this.bands.fill();
  }
  /** @param {string} text of a stock, or what stands for a press of one's own */
  #print(text) {
    if (text === MEASURED) {
      this.press.ask();
      return;
    }
    this.press.forget();
    if (text !== EACH_STOCK) this.desk.change("stock", text);
    this.#fillStock();
  }
  /** What inks are printed on; where each has its own, that is said until one is chosen. */
  #fillStock() {
    const stock = this.desk.model.get("stock");
    pick(
      this.stock,
      stockChoices(this.choices.stocks, stock),
      this.press.asked ? MEASURED : stock ?? EACH_STOCK
    );
    this.press.fill(!this.stock.box.hidden);
  }
};
function pick({ select }, options, value) {
  setOptions(select, options, value);
}
function slider(label, onmove, text = label) {
  const readout = make("span", { class: "cc-slider-value", "aria-hidden": "true" });
  const input = make("input", {
    type: "range",
    class: "cc-range",
    min: 0,
    step: 1,
    "aria-label": label,
    oninput: () => onmove(Number(input.value))
  });
  const box = make(
    "label",
    { class: "cc-slider" },
    make("span", { text }),
    readout,
    input
  );
  const show = (value, words) => {
    if (input.value !== String(value)) input.value = String(value);
    setAttribute(input, "aria-valuetext", words);
    say(readout, words);
  };
  return { box, input, show };
}

// desk/side_by_side.js
var LETTERS = ["A", "B", "C", "D"];
var HEIGHT = 200;
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
    const turn2 = this.#turn += 1;
    const answers = await Promise.all(numbers.map((number) => this.desk.ask(number).catch(() => null)));
    if (turn2 !== this.#turn) return;
    this.#lay(answers.flatMap((data) => data && !("gone" in data) ? [data] : []));
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
        { label: `Take away ${data.title}`, kind: "cc-small" }
      )
    );
    return { data, swatch, column };
  }
  draw() {
    for (const { data, swatch, column } of this.#columns) {
      swatch.resize(Math.max(60, column.clientWidth - 2), HEIGHT);
      swatch.draw(
        bytesOf(data.buffers?.[0]),
        0,
        data.count,
        this.desk.laid(data.count, data.wefts),
        checkPixels(this.desk.inches, 0.5),
        data.wefts
      );
    }
  }
};

// desk/tabs.js
var tabLists = 0;
var Tabs = class {
  /** @type {Map<string, {tab: HTMLButtonElement, number: HTMLElement, part: Part}>} */
  #parts = /* @__PURE__ */ new Map();
  value = "";
  /**
   * @param {string} label
   * @param {Part[]} parts
   * @param {(key: string) => void} onpick
   */
  constructor(label, parts, onpick) {
    this.onpick = onpick;
    const list = tabLists += 1;
    this.root = make("div", {
      class: "cc-tabs",
      role: "tablist",
      "aria-label": label,
      onkeydown: (event) => this.#key(event)
    });
    for (const part of parts) {
      const number = make("span", { class: "cc-tab-count" });
      const id = `cc-${list}-${part.key}`;
      const tab = make("button", {
        type: "button",
        role: "tab",
        class: "cc-tab",
        id: `${id}-tab`,
        "aria-controls": id,
        onclick: () => this.pick(part.key)
      }, make("span", { text: part.text }), number);
      for (const [name, value] of [["role", "tabpanel"], ["id", id], ["aria-labelledby", tab.id]]) {
        part.panel.setAttribute(name, value);
      }
      this.#parts.set(part.key, { tab, number, part });
      this.root.append(tab);
    }
    this.#show(parts[0].key);
  }
  /** Say how many are in each. */
  fill() {
    for (const { tab, number, part } of this.#parts.values()) {
      const count = part.count?.() ?? null;
      if (count === null) continue;
      say(number, ` ${count.toLocaleString("en")}`);
      setAttribute(tab, "aria-label", `${part.text} ${count.toLocaleString("en")} ${count === 1 ? "colourway" : "colourways"}`);
    }
  }
  /** @param {string} key */
  pick(key) {
    if (key === this.value) return;
    this.#show(key);
    this.onpick(key);
  }
  /** Turn to a part by its place, from 0. @param {number} at */
  pickAt(at) {
    this.pick([...this.#parts.keys()][at]);
    this.focus();
  }
  focus() {
    this.#parts.get(this.value)?.tab.focus();
  }
  /** @param {string} key */
  #show(key) {
    this.value = key;
    for (const [name, { tab, part }] of this.#parts) {
      setAttribute(tab, "aria-selected", String(name === key));
      tab.tabIndex = name === key ? 0 : -1;
      part.panel.hidden = name !== key;
    }
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const keys = [...this.#parts.keys()];
    const at = keys.indexOf(this.value);
    const next = { ArrowLeft: at - 1, ArrowRight: at + 1, Home: 0, End: keys.length - 1 }[event.key];
    if (next === void 0) return;
    event.preventDefault();
    event.stopPropagation();
    this.pick(keys[(next + keys.length) % keys.length]);
    this.focus();
  }
};

// desk/find_words.js
function sourceWords(shown, source) {
  return [shown.toLocaleString("en"), source, "from"].filter(Boolean).join(" ");
}
function goalWords(words, total) {
  return total === null ? words.replace(" {}", "") : words.replace("{}", total.toLocaleString("en"));
}
function strengthsOf(text) {
  const parts = text.split(/[\s,;%]+/).filter(Boolean);
  const numbers = parts.map(Number);
  return numbers.every((number) => number >= 0 && number <= 100) ? numbers.map((number) => number / 100) : null;
}
function conditionWords(atLeast, visions, nothing) {
  const asked = Object.entries(atLeast).filter(([name, number]) => number > nothing[name]);
  const count = asked.length + visions.length;
  return count ? `Conditions (${count})` : "Conditions";
}
function subjectOf(get, { staying, palettes = [] }) {
  const settings = (
    /** @type {const} */
    ["palette", "stripes", "ground", "mixing", "strength", "bands", "weft", "weft_colours"].map(get)
  );
  return JSON.stringify([...settings, staying, palettes]);
}

// desk/find.js
var MANY2 = [48, 100, 200, 500, 1e3, 2e3, 5e3];
var IDLE = { running: false, share: 0, words: "", wrong: false, offers: [] };
var STILL2 = 300;
var Find = class {
  #subject = "";
  #total = (
    /** @type {number | null} */
    null
  );
  #turn = 0;
  #running = false;
  #goal = "clear";
  #offered = "";
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #soon;
  /**
   * @param {Desk} desk
   * @param {Grid} grid
   */
  constructor(desk, grid) {
    this.desk = desk;
    this.grid = grid;
    const offered = desk.model.get("choices").find;
    this.goals = offered.goals.map(([key, words]) => [key, words, button(goalWords(words, null), () => this.#start(key))]);
    this.conditions = offered.conditions.map(([name, words, most, plain2, nothing]) => [name, this.#number(words, Math.min(0, nothing), most, plain2), words, plain2]);
    this.nothing = Object.fromEntries(offered.conditions.map(([name, , , , nothing]) => [name, nothing]));
    this.visions = offered.visions.map(([name, words]) => [name, tick(words, () => this.#changed())]);
    this.strengths = textInput("Overlay strengths, %: one or several", {
      maxlength: 40,
      inputmode: "decimal",
      placeholder: "the wall's",
      oninput: () => this.#changed(),
      enter: () => this.#start(this.#goal)
    });
    this.many = choice("At most", MANY2.map((many) => [String(many), many.toLocaleString("en")]), "500", () => {
    });
    this.title = make("summary", { text: "Conditions" });
    this.fold = make("details", { class: "cc-fold" }, this.title, this.#fields(offered.note));
    this.bar = make("progress", { max: 1, value: 0, "aria-label": "Search" });
    this.words = make("span", { class: "cc-find-words", role: "status" });
    this.stop = button("Stop", () => this.#stop(), { label: "Stop the search", kind: "cc-small" });
    this.going = make("div", { class: "cc-row cc-find-going", hidden: true }, this.bar, this.words, this.stop);
    this.offers = make("ul", { class: "cc-find-offers", "aria-label": "What would hold" });
    this.panel = make(
      "div",
      { class: "cc-find", role: "group", "aria-label": "Find on the wall", hidden: true },
      make("div", { class: "cc-row cc-find-goals" }, ...this.goals.map(([, , node]) => node), this.many.box),
      this.going,
      this.offers,
      this.fold
    );
    this.opener = button("Find", () => this.#open(this.panel.hidden), { label: "Find the best that the palette holds" });
    this.opener.setAttribute("aria-expanded", "false");
  }
  /**
   * @param {string} words
   * @param {number} least
   * @param {number} most
   * @param {string} plain what it is about
   */
  #number(words, least, most, plain2) {
    return textInput(spoken(words), {
      type: "number",
      class: "cc-number",
      min: least,
      max: most,
      step: "any",
      placeholder: "–",
      "aria-description": spoken(plain2),
      title: plain2,
      oninput: () => this.#changed(),
      enter: () => this.#start(this.#goal)
    });
  }
  /** @param {string} note */
  #fields(note) {
    const line = (words, node, plain2 = "") => make("label", { class: "cc-find-line" }, make(
      "span",
      { text: words },
      ...plain2 ? [make("small", { class: "cc-quiet cc-find-plain", text: plain2 })] : []
    ), node);
    return make(
      "div",
      { class: "cc-find-fields" },
      make(
        "div",
        {},
        make("p", { class: "cc-find-head", text: "At least" }),
        ...this.conditions.map(([, node, words, plain2]) => line(words.replace(/ at least$/, ""), node, plain2))
      ),
      make(
        "div",
        {},
        line("Overlay strengths, %", this.strengths),
        make(
          "div",
          { role: "group", "aria-label": "All of it must hold as well" },
          make("p", { class: "cc-find-head", text: "All of it must hold as well" }),
          ...this.visions.map(([, { box }]) => box)
        )
      ),
      make("p", { class: "cc-quiet cc-find-note", text: note })
    );
  }
  /** @param {boolean} open */
  #open(open) {
    this.panel.hidden = !open;
    this.opener.setAttribute("aria-expanded", String(open));
    this.fill();
    this.grid.lay();
  }
  // -- what is asked for ----------------------------------------------------------------------
  get #atLeast() {
    const filled = this.conditions.filter(([, node]) => node.value.trim() !== "");
    return Object.fromEntries(filled.map(([name, node]) => [name, Number(node.value) || 0]));
  }
  get #asked() {
    const visions = this.visions.filter(([, { input }]) => input.checked).map(([name]) => name);
    return { at_least: this.#atLeast, visions, strengths: strengthsOf(this.strengths.value) ?? [] };
  }
  #changed() {
    const { at_least: atLeast, visions } = this.#asked;
    say(this.title, conditionWords(atLeast, visions, this.nothing));
    setAttribute(this.strengths, "aria-invalid", String(strengthsOf(this.strengths.value) === null));
    clearTimeout(this.#soon);
    this.#soon = setTimeout(() => this.#count(), STILL2);
  }
  /** Ask how many there are, once nothing is typed; where it cannot be searched, say why. */
  async #count() {
    const turn2 = this.#turn += 1;
    let total = null;
    let wrong = "";
    try {
      total = (await this.desk.request("find_estimate", this.#asked))?.total ?? null;
    } catch (error) {
      wrong = errorWords(error);
    }
    if (turn2 !== this.#turn) return;
    this.#total = total;
    this.desk.guard.after("find count", () => {
      for (const [, words, node] of this.goals) say(node, goalWords(words, this.#total));
      if (!this.#running && (wrong || this.words.classList.contains("cc-wrong"))) this.#tell(wrong, wrong !== "");
    });
  }
  /** @param {string} goal */
  async #start(goal) {
    if (this.#running) return;
    this.#goal = goal;
    if (strengthsOf(this.strengths.value) === null) {
      this.#tell("Overlay strengths are per cents from 0 to 100, such as 30, 50.", true);
      this.strengths.focus();
      return;
    }
    this.#show([]);
    try {
      await this.desk.request("find", { goal, count: Number(this.many.select.value), ...this.#asked });
    } catch (error) {
      this.#tell(errorWords(error), true);
    }
  }
  #stop() {
    this.desk.act("stop_find");
  }
  /** Ask for what does hold instead. @param {FindOffer} offer */
  #take({ at_least: atLeast }) {
    for (const [name, node] of this.conditions) {
      if (name in atLeast) node.value = String(atLeast[name]);
    }
    this.#changed();
    this.goals.find(([key]) => key === this.#goal)?.[2].focus({ preventScroll: true });
    this.#start(this.#goal);
  }
  // -- what is shown --------------------------------------------------------------------------
  fill() {
    const { model } = this.desk;
    const state = model.get("find");
    const landed = this.#running && !state.running && !state.words;
    this.#showWork(state);
    if (landed) this.grid.go(this.grid.list[0], { focus: false });
    const subject = subjectOf((trait) => model.get(trait), model.get("facts"));
    if (this.panel.hidden || subject === this.#subject) return;
    this.#subject = subject;
    this.#count();
  }
  /** @param {FindState} state */
  #showWork(state) {
    const { running, share, words, wrong, offers } = { ...IDLE, ...state };
    this.#running = running;
    for (const [, , node] of this.goals) setAttribute(node, "aria-disabled", String(running));
    if (running && this.panel.hidden) this.#open(true);
    this.bar.value = share;
    this.bar.hidden = !running;
    const focused = this.stop === document.activeElement;
    this.stop.hidden = !running;
    if (focused && !running) this.goals[0][2].focus({ preventScroll: true });
    this.#tell(words, wrong);
    this.#show(offers);
  }
  /**
   * @param {string} words
   * @param {boolean} wrong
   */
  #tell(words, wrong) {
    this.words.classList.toggle("cc-wrong", wrong);
    setAttribute(this.words, "aria-live", this.#running ? "off" : "polite");
    say(this.words, words);
    this.going.hidden = !words && !this.#running;
  }
  /** @param {FindOffer[]} offers */
  #show(offers) {
    const key = JSON.stringify(offers);
    if (key === this.#offered) return;
    this.#offered = key;
    this.offers.hidden = !offers.length;
    this.offers.replaceChildren(...offers.map((offer) => make(
      "li",
      { class: "cc-row" },
      make("span", { text: offer.words }),
      button(offer.button, () => this.#take(offer), { label: `${offer.button}: ${offer.words}`, kind: "cc-small" })
    )));
  }
  close() {
    clearTimeout(this.#soon);
  }
};

// desk/tools.js
var UNDER = [["colours", "its colours"], ["score", "a score"], ["nothing", "nothing"]];
var Tools = class {
  /**
   * @param {Desk} desk
   * @param {Grid} grid
   * @param {Settings} settings
   */
  constructor(desk, grid, settings) {
    this.desk = desk;
    this.grid = grid;
    const { model } = desk;
    const columns = model.get("columns");
    this.draw = button("New draw", () => desk.act("draw"), { label: "New draw from the palette" });
    this.find = new Find(desk, grid);
    this.scale = choice("Wall shows", SCALES, grid.scale, (scale) => {
      grid.scale = scale;
      grid.lay();
    });
    this.under = choice("Under each cloth", UNDER, grid.captions, (captions) => {
      grid.captions = captions;
      grid.lay();
    });
    this.vision = choice(
      "Seen",
      model.get("visions"),
      "normal",
      (vision) => desk.act("vision", 0, { vision })
    );
    this.light = choice("Light", model.get("lights"), "D65", (light) => desk.act("light", 0, { light }));
    this.sort = choice("Sort by", [["", "as drawn"], ...columns], "", () => this.#sendSort());
    this.direction = choice("from", [["", "greatest"], ["-", "least"]], "", () => this.#sendSort());
    this.column = choice("Hide where", columns, "least_edge", () => {
    });
    this.least = textInput("is under", { type: "number", class: "cc-number", step: "any", value: 3, enter: () => this.#sendLimit() });
    this.tags = make("div", { class: "cc-chips", role: "list", "aria-label": "Hidden and held" });
    this.showHidden = tick("show what is hidden, and why", (on) => {
      grid.showHidden = on;
      grid.keepFocus(() => grid.arrange());
    }).box;
    this.count = make("span", { class: "cc-count" });
    this.words = make("p", { class: "cc-quiet cc-dealt" });
    this.more = this.#layMore(settings);
    this.opener = button("More", () => {
      this.more.hidden = !this.more.hidden;
      this.opener.setAttribute("aria-expanded", String(!this.more.hidden));
    }, { label: "More settings" });
    this.opener.setAttribute("aria-expanded", "false");
    this.settings = make(
      "div",
      { class: "cc-settings", role: "group", "aria-label": "The draw" },
      ...settings.sliders,
      this.opener,
      this.more
    );
    this.ruler = make("span", { class: "cc-ruler" });
    this.rulerWords = make("span", { class: "cc-quiet cc-ruler-words" });
    this.bar = make(
      "div",
      { class: "cc-bar" },
      this.count,
      settings.palette.box,
      this.draw,
      this.find.opener,
      this.ruler,
      this.rulerWords,
      make("span", { class: "cc-spring" })
    );
    grid.onlay = () => this.#fillRuler();
    this.fill();
  }
  /** @param {Settings} settings */
  #layMore(settings) {
    const { desk } = this;
    return make(
      "div",
      { class: "cc-more", hidden: true },
      make(
        "div",
        { class: "cc-row" },
        ...settings.fields,
        this.under.box,
        this.scale.box,
        this.vision.box,
        this.light.box,
        this.sort.box,
        this.direction.box
      ),
      settings.bands.root,
      make(
        "div",
        { class: "cc-row" },
        this.column.box,
        labelled("is under", this.least),
        button("Hide", () => this.#sendLimit(), { label: "Hide these from the wall" }),
        this.showHidden,
        make("span", { class: "cc-spring" }),
        button("Something different", () => desk.act("different"), { keys: "D" })
      ),
      this.words
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
    say(this.count, sourceWords(shown, facts.source ?? ""));
    say(this.words, `${counted(shown, "colourway")}${hidden ? `, ${hidden} hidden` : ""}: ${facts.dealt}`);
    setAttribute(this.count, "title", this.words.textContent ?? "");
    this.words.hidden = !hidden && facts.dealt === `drawn from ${model.get("palette")}`;
    this.vision.select.value = model.get("vision");
    this.light.select.value = model.get("light");
    this.sort.select.value = facts.sort.replace(/^-/, "");
    this.direction.select.value = facts.sort.startsWith("-") ? "-" : "";
    this.direction.box.hidden = !facts.sort;
    this.showHidden.hidden = !hidden;
    this.#fillTags(hidden);
  }
  /** How long an inch is on the wall. */
  #fillRuler() {
    const perInch = this.grid.pixels / deviceRatio() / this.desk.inches;
    const { width, inside } = rulerOf(perInch);
    const words = reductionWords(perInch / screenPixels());
    this.ruler.style.width = `${width}px`;
    say(this.ruler, inside ? "1 in" : "");
    say(this.rulerWords, inside ? words : `1 in, ${words}`);
    setAttribute(this.ruler, "title", `1 in, ${words}`);
  }
  /** What is in force and can be taken away; nothing where there is none. @param {number} hidden */
  #fillTags(hidden) {
    const { desk } = this;
    const { limits, staying, own = [] } = desk.model.get("facts");
    const tags = [
      ...limits.map(({ column, words }, i) => tag(
        i ? words : `${hidden} hidden: ${words}`,
        `Stop hiding: ${words}`,
        () => desk.act("unlimit", 0, { column })
      )),
      ...staying.map(({ words, part }) => tag(
        `stays: ${words}`,
        `Let ${words} change`,
        () => desk.act("stays", 0, { number: null, part, stays: false })
      ))
    ];
    if (staying.length > 1) {
      tags.push(make(
        "span",
        { role: "listitem" },
        button(
          "Let all change",
          () => desk.act("stays", 0, { number: null, stays: false }),
          { label: "Let all that stays change", kind: "cc-small" }
        )
      ));
    }
    tags.push(...[this.vision.select, this.light.select].flatMap((select, at) => select.selectedIndex > 0 ? [tag(
      `${at ? "under" : "seen"} ${select.selectedOptions[0].text}`,
      at ? "Back to daylight" : "See it as it is",
      () => at ? desk.act("light", 0, { light: "D65" }) : desk.act("vision", 0, { vision: "normal" })
    )] : []));
    if (own.length) {
      tags.push(make("span", {
        class: "cc-quiet",
        role: "listitem",
        text: `${own.length} by hand ${own.length === 1 ? "keeps its" : "keep their"} own`
      }));
    }
    this.tags.hidden = !tags.length;
    refill(this.tags, tags, this.draw);
  }
};
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
var SETTINGS = ["size", "strength", "stripes", "palette", "ground", "mixing", "count", "choices", "stock", "bands", "weft", "weft_colours", "laid"];
var DeskView = class {
  /** @type {[event: string, act: () => void][]} */
  #heard = [];
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #again;
  #palettes = 0;
  // how often palettes had been changed when colours of theirs were last asked for
  /** @type {SentLaid | null} bands that are tried; null where the kernel's are laid */
  #tried = null;
  closed = false;
  /**
   * @param {Model} model
   * @param {HTMLElement} root
   */
  constructor(model, root) {
    this.model = model;
    this.root = root;
    root.classList.add("cc");
    root.setAttribute("role", "region");
    root.setAttribute("aria-label", "Desk of colourways");
    this.link = new Link(model, (quiet) => this.notices.showQuiet(quiet));
    this.guard = new PressGuard(root.ownerDocument);
    this.inches = inchesOf(model.get("choices").sizes, model.get("size")) ?? 0.5;
    this.dealt = model.get("dealt");
    this.stamp = model.get("stamp");
    this.tones = new WallTones(model);
    this.notices = new Notices(this, root);
    this.grid = new Grid(this);
    this.settings = new Settings(this);
    this.tools = new Tools(this, this.grid, this.settings);
    this.board = new Board(root);
    this.detail = new Hand(this);
    this.enlarged = new Enlarged(this, this.grid);
    this.shelf = new Shelf(this);
    this.sideBySide = new SideBySide(this);
    this.dialog = new Dialog();
    this.range = new RangeTab(this);
    this.colours = new ColoursTab(this);
    this.exportTab = new ExportTab(this);
    this.wall = make("div", { class: "cc-panel cc-wall-panel" }, this.tools.bar, this.tools.find.panel, this.tools.tags, this.grid.scroll);
    this.main = make(
      "div",
      { class: "cc-main" },
      this.tools.settings,
      make("div", { class: "cc-left" }, this.wall, this.range.root, this.colours.root, this.shelf.root),
      this.detail.root
    );
    this.tabs = this.#makeTabs();
    this.head = new Head(this, this.tabs);
    this.#layOut();
    root.addEventListener("keydown", (event) => this.#key(event));
    this.giveKeysBack = keepKeys(root);
    this.recolour = perFrame(() => this.#recolour());
    this.repaint = perFrame(() => !this.closed && this.grid.paint(true));
    this.rescale = perFrame(() => this.#drawAll(true));
    this.#hear();
    this.shelf.fill();
    this.head.fill();
    this.tabs.fill();
    this.sideBySide.fill();
    this.notices.fill();
    requestAnimationFrame(() => this.grid.lay());
    if (this.grid.list.length) this.lookAt(this.grid.number);
    this.#comeIntoSight();
  }
  #makeTabs() {
    const { model } = this;
    return new Tabs("Parts of the desk", [
      { key: "wall", text: "Wall", panel: this.wall, count: () => model.get("numbers").length - model.get("hidden").length },
      { key: "range", text: "Range", panel: this.range.root, count: () => model.get("kept").length },
      { key: "colours", text: "Colours", panel: this.colours.root },
      { key: "export", text: "Export", panel: this.exportTab.root }
    ], (key) => this.#turnTo(key));
  }
  #layOut() {
    const { root } = this;
    this.shelf.head.append(this.notices.line);
    root.append(
      this.notices.aloud,
      this.notices.banner,
      this.head.root,
      this.head.panel.root,
      this.notices.offer,
      this.main,
      this.exportTab.root,
      this.sideBySide.root,
      this.enlarged.root,
      this.dialog.root
    );
    this.#turnTo("wall");
  }
  /** Show another part of the desk; the cloth under the hand stays beside all but Export. @param {string} key */
  #turnTo(key) {
    this.root.dataset.shows = key;
    this.root.closest(".widget-vbox")?.classList.toggle("cc-shows-export", key === "export");
    this.tools.settings.hidden = key !== "wall";
    this.main.hidden = key === "export";
    const bar = { wall: this.tools.bar, range: this.range.bar, colours: this.colours.bar }[key];
    bar?.append(this.board.root);
    this.range.fill();
    this.colours.fill();
    this.exportTab.fill();
    if (key === "wall") this.grid.lay();
    if (key === "colours") this.request("refresh", {}).catch((error) => this.#complain(error));
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
  /**
   * How colourways of so many stripes are laid.
   * @param {number} stripes
   * @param {number} [wefts] stripes of the weft's own, or 0
   */
  laid(stripes, wefts) {
    return laidFor(this.#tried ?? this.model.get("laid"), stripes, wefts);
  }
  /** @param {SentLaid | null} laid */
  tryBands(laid) {
    if (this.#tried === laid) return;
    this.#tried = laid;
    this.#relay();
  }
  /** Wall and cloth are laid in other bands: a check takes other room then. */
  #relay() {
    if (this.closed) return;
    this.grid.lay();
    this.rescale();
  }
  /** The cloth that is looked at. */
  get clothInHand() {
    return this.detail?.cloth ?? null;
  }
  /** @param {Laid} laid */
  repeatWords({ warp, weft: weft2 }) {
    const words = (bands) => repeatWords(this.inches * checksIn(bands), this.model.get("size"));
    return checksIn(warp) === checksIn(weft2) ? words(warp) : `${words(warp)} × ${words(weft2)}`;
  }
  /**
   * @param {number} number
   * @param {Uint8Array} bytes
   */
  mirror(number, bytes) {
    if (this.tones.put(this.#indexOf(number), bytes)) this.repaint();
  }
  /** @param {number} number */
  titleOf(number) {
    const kept = this.model.get("kept").find((card) => card.number === number);
    return kept?.title ?? this.model.get("facts").kept_names?.[number] ?? this.model.get("names")[this.#indexOf(number)] ?? "";
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
    this.#on("change:stamp", () => {
    });
    this.#on("change:order", () => this.grid.keepFocus(() => this.grid.arrange()));
    this.#on("change:hidden", () => {
      this.grid.keepFocus(() => this.grid.arrange());
      ["tools", "tabs"].forEach((part) => this.#fill(part));
    });
    this.#on("change:figures", () => this.#describe());
    this.#on("change:marks", () => this.grid.paint());
    this.#on("change:kept", () => {
      ["shelf", "tabs", "range", "colours", "exportTab"].forEach((part) => this.#fill(part));
      this.#lookAgain();
    });
    this.#on("change:facts", () => {
      this.link.heard();
      this.#followPalettes();
      ["head", "tabs", "tools", "find", "shelf", "range", "colours", "notices"].forEach((part) => this.#fill(part));
      this.#describe();
    });
    this.#on("change:find", () => this.#fill("find"));
    this.#on("change:strength", () => this.recolour());
    this.#on("change:vision", () => {
      this.recolour();
      this.#fill("tools");
    });
    this.#on("change:light", () => {
      this.#lookAgain();
      this.#fill("tools");
    });
    for (const trait of ["size", "choices"]) this.#on(`change:${trait}`, () => this.#takeSize());
    this.#on("change:choices", () => this.#fill("colours"));
    this.#on("change:laid", () => {
      this.#tried = null;
      this.#relay();
      ["shelf", "range"].forEach((part) => this.#fill(part));
      this.#lookAgain();
    });
    for (const trait of ["export", "exporting", "size"]) this.#on(`change:${trait}`, () => this.#fill("exportTab"));
    for (const trait of SETTINGS) this.#on(`change:${trait}`, () => this.#fill("settings"));
  }
  /**
   * Everything of one message is in the model before the first event of it is told, so whichever
   * comes first finds another wall: it is taken in before anything is drawn.
   * @param {string} event
   * @param {() => void} act
   */
  #on(event, act) {
    const heard = () => {
      this.#takeWall();
      act();
    };
    this.model.on(event, heard);
    this.#heard.push([event, heard]);
  }
  /** Lay a part of the page anew, when no press is under way. @param {string} part */
  #fill(part) {
    const parts = {
      tools: this.tools,
      find: this.tools.find,
      shelf: this.shelf,
      notices: this.notices,
      head: this.head,
      tabs: this.tabs,
      settings: this.settings,
      sideBySide: this.sideBySide,
      range: this.range,
      colours: this.colours,
      exportTab: this.exportTab
    };
    this.guard.after(part, () => {
      if (!this.closed) parts[part].fill();
    });
  }
  /** Take in another deal, or other colours or recipes of the same, where there are such. */
  #takeWall() {
    if (this.stamp === this.model.get("stamp")) return;
    this.stamp = this.model.get("stamp");
    this.link.heard();
    this.tones.take();
    const dealt = this.dealt !== this.model.get("dealt");
    this.dealt = this.model.get("dealt");
    if (dealt) {
      this.grid.keepFocus(() => this.grid.arrange());
      this.#lookAgain();
    }
    ["settings", "tabs"].forEach((part) => this.#fill(part));
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
  #followPalettes() {
    const changes = this.model.get("facts").palette_changes ?? 0;
    if (changes === this.#palettes) return;
    this.#palettes = changes;
    for (const { detail } of [this, this.enlarged]) detail.forgetPalettes();
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
    this.grid.onlay();
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
   * @param {ArrayBuffer[]} [files] bytes that go with it
   */
  async request(what, fields2, files) {
    return this.model.get("facts").retired ? void 0 : this.link.ask(what, fields2, files);
  }
  /**
   * Ask for a change; say so on the page if it was refused.
   * @param {string} what
   * @param {number} [number]
   * @param {object} [fields]
   */
  async act(what, number = 0, fields2 = {}) {
    try {
      const answer = await this.request(what, { number, ...fields2 });
      if (what === "copy" && answer?.number !== void 0) await this.lookAt(answer.number);
    } catch (error) {
      this.#complain(error);
      if (what === "name" || what === "name_family") this.#fill("range");
      if (what === "name_range") this.#fill("head");
    }
  }
  /** @param {unknown} error */
  #complain(error) {
    if (!this.closed) this.notices.complain(errorWords(error));
  }
  /**
   * @param {number} number
   * @returns {Promise<Details | Gone>}
   */
  ask(number) {
    return this.link.ask("look", { number });
  }
  /** @param {number} number */
  async lookAt(number) {
    this.detail.expect(number);
    this.enlarged.detail.expect(number);
    this.shelf.mark();
    this.range.mark();
    let data;
    try {
      data = await this.ask(number);
    } catch (error) {
      if (this.detail.number === number) this.#complain(error);
      return;
    }
    if ("gone" in data) this.#lookElsewhere(number);
    else {
      this.#show("detail", data);
      if (this.enlarged.open) this.#show("enlarged", data);
    }
  }
  /**
   * What was asked for has left the desk. Where the model has heard of that already, look at what
   * is current; else the news is on its way, and the wall that it brings is looked at.
   * @param {number} gone
   */
  #lookElsewhere(gone) {
    if (this.detail.number === gone && this.number !== gone) this.#lookAgain();
  }
  /**
   * Fill a close look, when no press is under way and unless another was asked for meanwhile.
   * @param {"detail" | "enlarged"} part
   * @param {Details} data
   */
  #show(part, data) {
    this.guard.after(part, () => {
      if (!this.closed && data.number === this.detail.number) this[part].fill(data);
      if (part === "detail") this.settings.bands.paint();
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
    if (isForControls(event)) event.stopPropagation();
    const action = actionOf(event, {
      typing: within(event, 'input:not([type="range"], [type="checkbox"]), select, textarea') !== null,
      onControl: within(event, "button, summary, input") !== null,
      dialog: this.dialog.open,
      enlarged: this.enlarged.open
    });
    if (!action) return;
    event.preventDefault();
    event.stopPropagation();
    const onCard = (what) => {
      if (this.number !== void 0) this.act(what, this.number);
    };
    const acts = {
      toggle: () => onCard("toggle"),
      compare: () => onCard("compare"),
      more: () => onCard("more"),
      different: () => this.act("different"),
      undo: () => this.act("undo"),
      redo: () => this.act("redo"),
      name: () => this.typeInto("name"),
      note: () => this.typeInto("note"),
      enlarge: () => this.enlarge(),
      keys: () => this.showKeys(),
      view: () => (this.enlarged.open ? this.enlarged.detail : this.detail).stepView(event.shiftKey ? -1 : 1),
      board: () => this.board.next(),
      part: () => this.tabs.pickAt(Number(event.key) - 1)
    };
    acts[action]();
  }
  /**
   * What is chosen of the cloth under the hand: 0 for the ground, a stripe, or null.
   * @returns {number | null}
   */
  get partInHand() {
    return this.detail.numbered;
  }
  /**
   * Put a colour of a palette into what is chosen.
   * @param {string} palette
   * @param {number} index
   * @param {{name: string, hex: string}} colour
   */
  putInHand(palette, index, colour) {
    const part = this.partInHand;
    if (part === null) return;
    this.detail.act("colour", { part, palette, index }, { edit: (cloth) => putColour(cloth, part, colour) });
  }
  sayPart() {
    this.colours.sayHint();
  }
  /** @param {string} key of a part of the desk */
  showPart(key) {
    this.tabs.pick(key);
    this.tabs.focus();
  }
  /** Turn to where a kept one is named. @param {number} number */
  nameInRange(number) {
    this.showPart("range");
    requestAnimationFrame(() => this.range.typeName(number));
  }
  showSideBySide() {
    requestAnimationFrame(() => this.sideBySide.root.scrollIntoView({ block: "nearest" }));
  }
  enlarge() {
    this.enlarged.show();
    if (this.number !== void 0) this.lookAt(this.number);
  }
  backToWall() {
    if (this.enlarged.open) this.enlarged.focusCloth();
    else if (this.tabs.value === "wall") this.grid.focus();
  }
  /** @param {"name" | "note"} which */
  typeInto(which) {
    (this.enlarged.open ? this.enlarged.detail : this.detail).typeInto(which);
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
    this.giveKeysBack();
    this.link.close();
    this.guard.close();
    this.range.close();
    this.colours.close();
    this.exportTab.close();
    this.grid.close();
    this.tools.find.close();
    this.detail.close();
    this.enlarged.detail.close();
    this.recolour.stop();
    this.rescale.stop();
    this.repaint.stop();
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
