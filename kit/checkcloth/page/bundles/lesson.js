// Made from page/ by `npm run build` in .ci/page; not to be edited.

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
function say(node, text2) {
  if (node.textContent !== text2) node.textContent = text2;
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

// shared/download.js
function download(name, text2, type) {
  const address = URL.createObjectURL(new Blob([text2], { type }));
  make("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 5e3);
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

// lesson/numbers.js
function exact(share2) {
  return `${Math.round(share2 * 1e4) / 100} %`;
}
function fixed(value, digits = 1) {
  const text2 = value.toFixed(digits);
  return Number(text2) === 0 ? text2.replace("-", "") : text2.replace("-", "−");
}
function percent(share2, digits = 1) {
  return `${fixed(share2 * 100, digits)} %`;
}
function readNumber(text2) {
  const clean = text2.trim().replace(",", ".").replace(/\s*(%|m|ends)$/, "");
  return /^[+-]?\d*\.?\d+$/.test(clean) ? Number(clean) : NaN;
}
function cut(text2, longest = 16) {
  return text2.length > longest ? `${text2.slice(0, longest - 1)}…` : text2;
}
function together(text2) {
  return text2.replace(/(\d|ΔE00|=|≥|n =) (?=[%\d]|[cm]?m\b|in\b)/g, "$1 ");
}

// lesson/hand_in.js
var POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";
var STYLE = 'body{font:16px/1.5 system-ui,sans-serif;max-width:48em;margin:24px auto;padding:0 16px;color:#1c1c1c;background:#fff}table{border-collapse:collapse;width:100%}th,td{text-align:left;vertical-align:top;padding:4px 12px 4px 0;border-top:1px solid #ccc}th{font-weight:600}img{image-rendering:pixelated;max-width:100%;border:1px solid #999}h1{font-size:24px}h2{font-size:18px}@media screen and (max-width:640px){thead{display:none}tr,th,td{display:block}tr{border-top:1px solid #ccc;padding:8px 0}th,td{border:0;padding:2px 0}td[data-head]::before{content:attr(data-head) ": ";color:#595959}}@page{size:A4;margin:15mm}@media print{body{font-size:10pt;margin:0}}';
var END = "</";
function escape(text2) {
  return text2.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
var HEADS = ["Step", "Question", "Own answer", "Our answer", "Colours and sliders"];
function written(text2) {
  return together(escape(text2));
}
function fileName(name) {
  const plain = name.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "");
  return `mixing-${plain.slice(0, 40) || "no-name"}.html`;
}
function handInHtml({ name, group, steps, cloth: cloth2 }) {
  const who = [name || "no name", group].filter(Boolean).map(escape).join(", ");
  const rows = steps.map(({ number, title, question, said, shown, setting }) => `<tr><th scope="row">${number}</th><td><b>${escape(title)}</b><br>${written(question)}</td><td data-head="${HEADS[2]}">${written(said || "nothing written")}</td><td data-head="${HEADS[3]}">${shown ? "seen after" : "not seen"}</td><td data-head="${HEADS[4]}">${written(setting)}</td></tr>`).join("");
  const many = steps.filter(({ said }) => said).length;
  const heads = HEADS.map((head) => `<th scope="col">${head}</th>`).join("");
  const goals = cloth2.goals.map(({ met, words, value }) => `<li><b>${met ? "Met." : "Not yet."}</b> ${escape(words)} ${escape(value)}</li>`).join("");
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${POLICY}"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Mixing: ${who}</title><style>${STYLE}${END}style></head><body><main><h1>A lesson in mixing: ${who}</h1><p>${many} of ${steps.length} questions answered.</p><table><thead><tr>${heads}</tr></thead><tbody>${rows}</tbody></table><h2>My cloth</h2><p>${escape(cloth2.words)}</p><ul>${goals}</ul><img alt="${escape(cloth2.words)}" width="540" src="${escape(cloth2.picture)}"></main></body></html>
`;
}

// lesson/keep.js
var KEY = "checkcloth lesson in mixing";
function nothingKept() {
  return { name: "", group: "", steps: {} };
}
function isRecord(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
function onlyOf(record, kind) {
  const kept = isRecord(record) ? Object.fromEntries(Object.entries(record).filter(([, value]) => typeof value === kind)) : {};
  return kept;
}
function text(value) {
  return typeof value === "string" ? value : "";
}
function keptStep(step) {
  const said = Array.isArray(step.said) ? step.said.map(text) : [];
  return { said, shown: step.shown === true, colours: onlyOf(step.colours, "string"), at: onlyOf(step.at, "number") };
}
function readKept(json) {
  let found;
  try {
    found = JSON.parse(json ?? "null");
  } catch {
    found = null;
  }
  if (!isRecord(found)) return nothingKept();
  const steps = isRecord(found.steps) ? Object.entries(found.steps).filter(([, step]) => isRecord(step)) : [];
  return {
    name: text(found.name),
    group: text(found.group),
    steps: Object.fromEntries(steps.map(([key, step]) => [key, keptStep(
      /** @type {Record<string, unknown>} */
      step
    )]))
  };
}
function load(alone) {
  try {
    return readKept(alone ? globalThis.localStorage.getItem(KEY) : null);
  } catch {
    return nothingKept();
  }
}
function save(kept) {
  try {
    if (kept) globalThis.localStorage.setItem(KEY, JSON.stringify(kept));
    else globalThis.localStorage.removeItem(KEY);
  } catch {
  }
}

// lesson/colours.js
function byteOf(channel) {
  return Math.min(255, Math.max(0, Math.floor(channel * 255 + 0.5)));
}
function hexOf(rgb) {
  return `#${[0, 1, 2].map((c) => byteOf(rgb[c]).toString(16).padStart(2, "0")).join("")}`;
}
function readCode(code) {
  const found = /^#?([0-9a-f]{3}|[0-9a-f]{6})$/i.exec(code.trim());
  if (!found) return null;
  const digits = found[1].length === 3 ? [...found[1]].map((digit) => digit + digit).join("") : found[1];
  const [red, green, blue] = [0, 2, 4].map((at) => parseInt(digits.slice(at, at + 2), 16) / 255);
  return [red, green, blue];
}
function changes(first, second) {
  let row = Array.from({ length: second.length + 1 }, (_, at) => at);
  for (let i = 1; i <= first.length; i++) {
    const next = [i];
    for (let j = 1; j <= second.length; j++) {
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (first[i - 1] === second[j - 1] ? 0 : 1)));
    }
    row = next;
  }
  return row[second.length];
}
var ColourBook = class {
  /** @type {Map<string, {name: string, rgb: Rgb}>} */
  #known = /* @__PURE__ */ new Map();
  /**
   * @param {Pick<LessonData, "names" | "swatches">} data
   * @param {Pick<StepData, "named">} step
   */
  constructor(data, step) {
    const css = Object.entries(data.names).map(([name, code]) => (
      /** @type {[string, Rgb]} */
      [name, readCode(code)]
    ));
    for (const [name, rgb] of [...css, ...data.swatches, ...step.named]) {
      this.#known.set(name.trim().toLowerCase(), { name, rgb });
    }
    this.swatches = data.swatches;
  }
  /**
   * The colour of a name or code, or null.
   * @param {string} text
   * @returns {{name: string, rgb: Rgb} | null}
   */
  read(text2) {
    const known = this.#known.get(text2.trim().toLowerCase());
    if (known) return known;
    const rgb = readCode(text2);
    return rgb && { name: hexOf(rgb), rgb };
  }
  /**
   * What is wrong with a word that is no colour, and what to try: the nearest name.
   * @param {string} text
   */
  complaint(text2) {
    const word = text2.trim().toLowerCase();
    const near = [...this.#known.keys()].map((key) => ({ key, far: changes(word.slice(0, 40), key) })).sort((a, b) => a.far - b.far)[0];
    const known = this.#known.get(near.key)?.name ?? "teal";
    const trial = near.far <= Math.max(2, word.length / 3) ? known : "teal";
    return `“${text2.trim().slice(0, 40)}” is no colour we know. Try ${trial}, or a code such as #8fc7c1.`;
  }
};

// lesson/colour_fields.js
var STEPS = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 };
var FEW = 14;
var made = 0;
var ColourFields = class {
  /** @type {Map<string, {node: HTMLElement, block: HTMLElement, input: HTMLInputElement}>} */
  #boxes = /* @__PURE__ */ new Map();
  /**
   * @param {Field[]} fields
   * @param {ColourBook} book
   * @param {(key: string, name: string, rgb: Rgb) => void} onpick
   */
  constructor(fields, book, onpick) {
    this.fields = fields;
    this.book = book;
    this.onpick = onpick;
    this.here = fields[0].key;
    this.wrong = make("p", { class: "cl-wrong", role: "alert", id: `cl-wrong-${++made}` });
    this.lead = make("span", { class: "cl-lead" });
    this.buttons = book.swatches.map(([name, rgb]) => this.#swatch(name, rgb));
    this.swatches = make("div", {
      class: "cl-swatches",
      role: "radiogroup",
      onkeydown: (event) => this.#key(event)
    }, ...this.buttons);
    this.root = make(
      "div",
      { class: "cl-colours" },
      make("div", { class: "cl-fields" }, ...fields.map((field) => this.#box(field))),
      make("div", { class: "cl-offer", "data-many": book.swatches.length > FEW }, this.lead, this.swatches),
      this.wrong
    );
    this.#mark();
  }
  /** @param {Field} field */
  #box(field) {
    const block = make("i", { "aria-hidden": "true" });
    const input = make("input", {
      class: "cl-input",
      type: "text",
      value: field.name,
      spellcheck: "false",
      autocomplete: "off",
      maxlength: 60,
      "aria-describedby": this.wrong.id,
      onfocus: () => this.#touch(field.key),
      onchange: () => this.#typed(field)
    });
    block.style.background = hexOf(field.rgb);
    const node = make("label", { class: "cl-field" }, make("span", { text: field.label }), make("span", {}, block, input));
    this.#boxes.set(field.key, { node, block, input });
    return node;
  }
  /**
   * @param {string} name
   * @param {Rgb} rgb
   */
  #swatch(name, rgb) {
    const node = make("button", {
      type: "button",
      role: "radio",
      "aria-label": name,
      title: name,
      onclick: () => this.put(this.here, name, rgb)
    });
    node.style.background = hexOf(rgb);
    return node;
  }
  /** @param {string} key */
  #touch(key) {
    this.here = key;
    this.#mark();
  }
  /** @param {Field} field */
  #typed(field) {
    const { input } = this.#box_(field.key);
    const found = this.book.read(input.value);
    if (found) {
      this.put(field.key, found.name, found.rgb);
      return;
    }
    say(this.wrong, this.book.complaint(input.value));
    setAttribute(input, "aria-invalid", "true");
  }
  /** @param {string} key */
  #box_(key) {
    return (
      /** @type {{node: HTMLElement, block: HTMLElement, input: HTMLInputElement}} */
      this.#boxes.get(key)
    );
  }
  /**
   * @param {string} key
   * @param {string} name
   * @param {Rgb} rgb
   */
  put(key, name, rgb) {
    const field = (
      /** @type {Field} */
      this.fields.find((one) => one.key === key)
    );
    Object.assign(field, { name, rgb });
    const { block, input } = this.#box_(key);
    block.style.background = hexOf(rgb);
    input.value = name;
    input.removeAttribute("aria-invalid");
    say(this.wrong, "");
    this.#mark();
    this.onpick(key, name, rgb);
  }
  /** Which field the swatches fill, and which swatch it has. */
  #mark() {
    const now = (
      /** @type {Field} */
      this.fields.find(({ key }) => key === this.here)
    );
    for (const [key, { node }] of this.#boxes) node.classList.toggle("cl-here", key === this.here);
    say(this.lead, `${now.label}:`);
    setAttribute(this.swatches, "aria-label", `Swatches for ${now.label}`);
    const chosen = this.book.swatches.findIndex(([name]) => name.toLowerCase() === now.name.toLowerCase());
    this.buttons.forEach((node, at) => {
      setAttribute(node, "aria-checked", String(at === chosen));
      node.tabIndex = at === Math.max(chosen, 0) ? 0 : -1;
    });
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    const step = event.altKey || event.ctrlKey || event.metaKey ? 0 : STEPS[event.key] ?? 0;
    if (!step) return;
    event.preventDefault();
    event.stopPropagation();
    const at = this.buttons.findIndex((node) => node === event.target);
    const next = this.buttons[(at + step + this.buttons.length) % this.buttons.length];
    next.click();
    next.focus();
  }
};

// lesson/picture_view.js
var SVG = "http://www.w3.org/2000/svg";
function svg(tag, attributes) {
  const node = document.createElementNS(SVG, tag);
  for (const [key, value] of Object.entries(attributes)) {
    node.setAttribute(key, Array.isArray(value) ? hexOf(value) : String(value));
  }
  return node;
}
function tagNode({ text: text2, x, y, bare, start, end }) {
  const side = start ? " cl-start" : end ? " cl-end" : "";
  const node = make("span", { class: `cl-tag${bare ? " cl-bare" : ""}${side}`, text: text2, "aria-hidden": "true" });
  node.style.left = `${x}%`;
  node.style.top = `${y}%`;
  return node;
}
var PictureView = class {
  canvas = make("canvas", { "aria-hidden": "true" });
  frame = make("span", { class: "cl-frame", "aria-hidden": "true" });
  tags = make("span", { class: "cl-tags" });
  caption = make("figcaption");
  box = make("div", { class: "cl-picture", role: "img" }, this.canvas, this.frame, this.tags);
  root = make("figure", {}, this.box, this.caption);
  /** @type {Element | null} */
  drawing = null;
  /** @param {Picture} picture */
  fill(picture) {
    setAttribute(this.box, "aria-label", picture.label);
    setAttribute(this.box, "class", `cl-picture ${picture.shape ?? ""}`);
    say(this.caption, picture.caption);
    this.#fillImage(picture);
    this.#fillDrawing(picture);
    this.tags.replaceChildren(...(picture.tags ?? []).map(tagNode));
    this.frame.hidden = !picture.frame;
    const [left, top, width, height] = picture.frame ?? [0, 0, 0, 0];
    Object.assign(this.frame.style, { left: `${left}%`, top: `${top}%`, width: `${width}%`, height: `${height}%` });
  }
  /** @param {Picture} picture */
  #fillImage({ image: image2 }) {
    this.canvas.hidden = !image2;
    if (!image2) return;
    const { width, height, data, smooth } = image2;
    if (this.canvas.width !== width) this.canvas.width = width;
    if (this.canvas.height !== height) this.canvas.height = height;
    this.canvas.classList.toggle("cl-smooth", Boolean(smooth));
    const pixels = new ImageData(width, height);
    pixels.data.set(data);
    this.canvas.getContext("2d", { willReadFrequently: true })?.putImageData(pixels, 0, 0);
  }
  /** @param {Picture} picture */
  #fillDrawing({ drawing }) {
    this.drawing?.remove();
    this.drawing = null;
    if (!drawing) return;
    const { width, height, shapes } = drawing;
    const node = svg("svg", { viewBox: `0 0 ${width} ${height}`, preserveAspectRatio: "none", "aria-hidden": "true" });
    node.append(...shapes.map(([tag, attributes]) => svg(tag, attributes)));
    this.canvas.after(node);
    this.drawing = node;
  }
};

// shared/words.js
function capital(text2) {
  return text2.charAt(0).toUpperCase() + text2.slice(1);
}

// lesson/question.js
var OPEN = "?";
function saidWords(boxes, said) {
  if (said[0] === OPEN) return "don’t know";
  if (!said.some((text2) => text2.trim())) return "";
  return boxes.map(({ label, unit }, at) => {
    const named = boxes.length > 1 ? ` (${label.toLowerCase()})` : "";
    const spaced = unit && Number.isFinite(readNumber(said[at] ?? "")) ? ` ${unit}` : "";
    return `${(said[at] ?? "").trim() || "nothing"}${spaced}${named}`;
  }).join(", ");
}
var Question = class {
  /** @param {Asking} asking */
  constructor(asking) {
    this.asking = asking;
    const { step, kept } = asking;
    this.inputs = step.boxes.map((box, at) => this.#box(box, at));
    this.last = this.inputs[0];
    this.show = make("button", { type: "button", class: "cl-button cl-strong", text: "Show the answer", onclick: () => this.open() });
    this.trial = step.boxes.some(({ slider }) => slider) ? make("button", { type: "button", class: "cl-button", text: "Try mine", "aria-label": "Try mine: set the slider to my answer", onclick: () => this.#try() }) : null;
    this.pass = make("button", { type: "button", class: "cl-plain", text: "Don’t know", onclick: () => this.#pass() });
    this.wrong = make("p", { class: "cl-wrong", role: "alert" });
    this.answer = make("p");
    this.own = make("p", { class: "cl-quiet" });
    this.shown = make("div", { class: "cl-shown", role: "status" });
    this.root = make(
      "div",
      { class: "cl-ask" },
      make("p", {}, make("b", { text: "Question. " }), together(step.question)),
      make(
        "div",
        { class: "cl-line" },
        ...step.boxes.flatMap((box, at) => this.#labelled(box, at)),
        make("div", { class: "cl-line" }, this.trial, this.show, this.pass)
      ),
      this.wrong,
      this.shown
    );
    this.#ready();
    if (kept.shown) this.#reveal();
  }
  /**
   * @param {BoxData} box
   * @param {number} at
   */
  #labelled(box, at) {
    return [make(
      "label",
      { class: "cl-line" },
      make("span", { text: `${box.label}:` }),
      this.inputs[at],
      box.unit ? make("span", { text: box.unit }) : null
    )];
  }
  /**
   * @param {BoxData} box
   * @param {number} at
   * @returns {HTMLInputElement | HTMLSelectElement}
   */
  #box(box, at) {
    const { kept, choices } = this.asking;
    const value = kept.said[at] === OPEN ? "" : kept.said[at] ?? "";
    const node = box.choice ? make(
      "select",
      { class: "cl-input" },
      make("option", { value: "", text: "choose" }),
      ...choices.map((text2) => make("option", { value: text2, text: text2 }))
    ) : make("input", { class: "cl-input cl-number", type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 40 });
    node.value = value;
    node.addEventListener(box.choice ? "change" : "input", () => {
      this.last = node;
      kept.said = this.inputs.map((input) => input.value);
      this.#ready();
      this.asking.onchange();
    });
    return node;
  }
  /** New names of colours make a new list; what was chosen stays if it is still there. */
  refresh() {
    const { choices, step, kept } = this.asking;
    step.boxes.forEach((box, at) => {
      const input = this.inputs[at];
      if (!box.choice || !(input instanceof HTMLSelectElement)) return;
      if ([...input.options].slice(1).map(({ text: text2 }) => text2).join("\n") === choices.join("\n")) return;
      const { value } = input;
      input.replaceChildren(make("option", { value: "", text: "choose" }), ...choices.map((text2) => make("option", { value: text2, text: text2 })));
      input.value = choices.includes(value) ? value : "";
      if (!kept.shown) kept.said = this.inputs.map((one) => one.value);
    });
    this.#ready();
    if (kept.shown) say(this.answer.lastChild ?? this.answer, this.#ours());
  }
  #ours() {
    return together(capital(this.asking.answer()));
  }
  #ready() {
    const written2 = this.inputs.every((input) => input.value.trim());
    this.show.disabled = !written2;
    if (this.trial) this.trial.disabled = !this.inputs.some((input) => Number.isFinite(readNumber(input.value)));
    say(this.wrong, "");
  }
  #try() {
    const usable = (input2) => Number.isFinite(readNumber(input2.value));
    const input = usable(this.last) ? this.last : (
      /** @type {HTMLInputElement} */
      this.inputs.find(usable)
    );
    const { slider } = this.asking.step.boxes[this.inputs.indexOf(input)];
    say(this.wrong, this.asking.trial(slider, readNumber(input.value)));
  }
  #pass() {
    const { kept } = this.asking;
    kept.said = kept.said.some((text2) => text2.trim()) ? kept.said : this.inputs.map(() => OPEN);
    this.open();
  }
  open() {
    this.asking.kept.shown = true;
    this.#reveal();
    this.asking.onchange();
    this.shown.tabIndex = -1;
    this.shown.focus({ preventScroll: true });
  }
  #reveal() {
    const { step, kept } = this.asking;
    const own2 = saidWords(step.boxes, kept.said);
    this.answer.replaceChildren(make("b", { text: "Answer. " }), document.createTextNode(this.#ours()));
    say(this.own, kept.said[0] === OPEN ? "You left it open. Move the slider and see whether it is so." : together(`You answered ${own2 || "nothing"}. It stays in what you hand in.`));
    this.shown.replaceChildren(this.answer, this.own);
    this.show.hidden = this.pass.hidden = true;
    for (const input of this.inputs) {
      if (input instanceof HTMLSelectElement) input.disabled = true;
      else input.readOnly = true;
    }
  }
};

// lesson/slider_view.js
function valueWords({ labels, low, step, unit }, value) {
  return labels.length ? labels[value - low] : `${fixed(value, step < 1 && value % 1 ? 1 : 0)}${unit}`;
}
var SliderView = class {
  /**
   * @param {SliderData} data
   * @param {number} value
   * @param {(value: number) => void} onmove
   */
  constructor(data, value, onmove) {
    this.data = data;
    this.value = value;
    this.onmove = onmove;
    this.words = make("b", { "aria-hidden": "true" });
    this.input = make("input", {
      type: "range",
      min: data.low,
      max: data.high,
      step: data.step,
      oninput: () => this.#moved(Number(this.input.value))
    });
    this.root = make("label", { class: "cl-slider" }, make("span", { text: data.name }), this.words, this.input);
    this.set(value);
  }
  /** @param {number} value */
  #moved(value) {
    this.set(value);
    this.onmove(this.value);
  }
  /**
   * Show a value, held to the ends and the steps of the slider.
   * @param {number} value
   */
  set(value) {
    this.input.value = String(value);
    this.value = Number(this.input.value);
    const words = valueWords(this.data, this.value);
    say(this.words, words);
    setAttribute(this.input, "aria-valuetext", words.replace("%", "per cent"));
  }
  /** @param {number} value */
  goTo(value) {
    this.#moved(value);
  }
};

// shared/cloth.js
function evenBands(stripes) {
  return Array.from({ length: 2 * stripes }, (_, at) => [at % 2 ? 0 : at / 2 + 1, 1]);
}
function checksIn(bands) {
  return bands.reduce((sum, band) => sum + band[1], 0);
}
function planOf(bands, pixels, length, start = 0) {
  const repeat = Math.max(1, nearest(checksIn(bands) * pixels));
  const once = new Uint8Array(repeat);
  let checksBefore = 0;
  for (const [stripe, checks2] of bands) {
    const from = nearest(checksBefore * pixels);
    checksBefore += checks2;
    once.fill(stripe, from, nearest(checksBefore * pixels));
  }
  const plan = new Uint8Array(length);
  for (let i = 0, from = (start % repeat + repeat) % repeat; i < length; i++, from++) {
    if (from === repeat) from = 0;
    plan[i] = once[from];
  }
  return plan;
}
function nearest(number) {
  return Math.floor(number + 0.5 + 1e-9);
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
    let share2 = 0;
    for (let step = 0.5, halving = 0; halving < HALVINGS; halving++, step /= 2) {
      fromOklab(lightness, (share2 + step) * a, (share2 + step) * b, triple, 0);
      if (fits(triple, 0, 0)) share2 += step;
    }
    fromOklab(lightness, share2 * a, share2 * b, light, at);
  }
  for (let k = at; k < at + 3; k++) light[k] = Math.min(Math.max(light[k], 0), 1);
}

// shared/recovery.js
var BANDS = BAND_WEIGHTS.length / 3;
var SIZE = BANDS + 3;
var ROUNDS = 50;
var LONGEST_STEP = 10;
var ENOUGH = 1e-10;
function bending(z, band) {
  const before = band ? z[band] - z[band - 1] : 0;
  const after = band < BANDS - 1 ? z[band + 1] - z[band] : 0;
  return 2 * (before - after);
}
function solve(matrix, side) {
  for (let at = 0; at < SIZE; at++) {
    let pivot = at;
    for (let row = at + 1; row < SIZE; row++) if (Math.abs(matrix[row][at]) > Math.abs(matrix[pivot][at])) pivot = row;
    [matrix[at], matrix[pivot]] = [matrix[pivot], matrix[at]];
    [side[at], side[pivot]] = [side[pivot], side[at]];
    for (let row = at + 1; row < SIZE; row++) {
      const share2 = matrix[row][at] / matrix[at][at];
      if (!share2) continue;
      for (let k = at; k < SIZE; k++) matrix[row][k] -= share2 * matrix[at][k];
      side[row] -= share2 * side[at];
    }
  }
  for (let at = SIZE - 1; at >= 0; at--) {
    for (let k = at + 1; k < SIZE; k++) side[at] -= matrix[at][k] * side[k];
    side[at] /= matrix[at][at];
  }
}
function equations(z, multiplier, light) {
  const matrix = Array.from({ length: SIZE }, () => new Float64Array(SIZE));
  const missing = new Float64Array(SIZE);
  for (let channel = 0; channel < 3; channel++) missing[BANDS + channel] = -light[channel];
  for (let band = 0; band < BANDS; band++) {
    const tanh = Math.tanh(z[band]);
    const slope = (1 - tanh * tanh) / 2;
    let pull = 0;
    for (let channel = 0; channel < 3; channel++) {
      const weight = BAND_WEIGHTS[channel * BANDS + band];
      pull += multiplier[channel] * weight;
      missing[BANDS + channel] += weight * (1 + tanh) / 2;
      matrix[BANDS + channel][band] = matrix[band][BANDS + channel] = weight * slope;
    }
    matrix[band][band] = (band === 0 || band === BANDS - 1 ? 2 : 4) - 2 * tanh * slope * pull;
    if (band) matrix[band][band - 1] = matrix[band - 1][band] = -2;
    missing[band] = bending(z, band) + slope * pull;
  }
  return { matrix, missing };
}
function reflectanceOf(rgb) {
  const light = [0, 1, 2].map((c) => MARGIN + (1 - 2 * MARGIN) * srgbToLinear(rgb[c]));
  const z = new Float64Array(BANDS);
  const multiplier = new Float64Array(3);
  for (let round = 0; round < ROUNDS; round++) {
    const { matrix, missing } = equations(z, multiplier, light);
    const left = missing.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    solve(matrix, missing);
    const longest = missing.subarray(0, BANDS).reduce((most, value) => Math.max(most, Math.abs(value)), 1);
    const share2 = Math.min(1, LONGEST_STEP / longest);
    for (let band = 0; band < BANDS; band++) z[band] -= share2 * missing[band];
    for (let channel = 0; channel < 3; channel++) multiplier[channel] -= share2 * missing[BANDS + channel];
    if (left <= ENOUGH) return z.map((value) => (1 + Math.tanh(value)) / 2);
  }
  throw new Error(`no smooth spectrum found for ${[...Array.from(rgb)].join(" ")}`);
}
var KEPT = /* @__PURE__ */ new Map();
var MOST_KEPT = 500;
function absorptionOf(rgb) {
  const key = `${rgb[0]} ${rgb[1]} ${rgb[2]}`;
  const kept = KEPT.get(key);
  if (kept) return kept;
  const made2 = reflectanceOf(rgb).map((r) => (1 - r) ** 2 / (2 * r));
  if (KEPT.size >= MOST_KEPT) KEPT.clear();
  KEPT.set(key, made2);
  return made2;
}

// shared/vision.js
var GREY = Float64Array.of(...LUMINANCE, ...LUMINANCE, ...LUMINANCE);
var MATRICES = new Map(
  Object.entries({ protan: PROTAN, deutan: DEUTAN, tritan: TRITAN_ONE, grey: GREY })
);
var VISIONS = ["normal", ...MATRICES.keys()];
function seeLinear(light, count, vision2) {
  if (vision2 === "normal") return;
  const matrix = MATRICES.get(vision2);
  if (!matrix) throw new Error(`vision must be one of ${VISIONS.join(", ")}, found "${vision2}"`);
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
function seeAs(rgb, vision2) {
  if (vision2 === "normal") return Float64Array.from(rgb);
  const light = Float64Array.from(rgb, srgbToLinear);
  seeLinear(light, light.length / 3, vision2);
  return light.map(linearToSrgb);
}

// shared/mixing.js
var BANDS2 = BAND_WEIGHTS.length / 3;
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
  woven(ground, stripe, strength, share2, at) {
    base[at] = strength * share2 * (stripe - ground);
    gain[at] = 1;
    weft[at] = ground + strength * (1 - share2) * (stripe - ground);
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
  const half2 = 1 - (0.5 + increase) * (1 - reading);
  return held((1 - half2 ** (1 / n)) / (1 - reading ** (1 / n)) - 0.5, -MOST_GAIN, MOST_GAIN);
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
  const print = channels === BANDS2 ? printSpectrum : printChannels;
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
var roots = new Float64Array(BANDS2);
function printed(paper, root, n) {
  return paper * (n === 2 ? root * root : Math.max(root, 0) ** n);
}
function printChannels(papers, offset, n, to) {
  for (let c = 0; c < 3; c++) tones[to + c] = printed(papers[offset + c], roots[c], n);
}
function printSpectrum(papers, offset, n, to) {
  tones.fill(-OFFSET, to, to + 3);
  for (let band = 0; band < BANDS2; band++) {
    const light = printed(papers[offset + band], roots[band], n);
    for (let c = 0; c < 3; c++) tones[to + c] += WEIGHTS[c * BANDS2 + band] * light;
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
  const [bases, gains, across, lights2] = [base, gain, weft, tones];
  for (let i = 0, to = 0; i < warps; i++) {
    for (let j = 0; j < wefts; j++, to += 3) {
      let red = -OFFSET;
      let green = -OFFSET;
      let blue = -OFFSET;
      for (let band = 0, warpAt = i * BANDS2, weftAt = (j ? j + skip : 0) * BANDS2; band < BANDS2; band++, warpAt++, weftAt++) {
        const value = bases[warpAt] + gains[warpAt] * across[weftAt];
        const m = 1 + value;
        const reflectance = n === 0 ? m - Math.sqrt(Math.abs(m * m - 1)) : n === 1 ? value : Math.max(value, 0) ** n;
        red += WEIGHTS[band] * reflectance;
        green += WEIGHTS[BANDS2 + band] * reflectance;
        blue += WEIGHTS[2 * BANDS2 + band] * reflectance;
      }
      lights2[to] = red;
      lights2[to + 1] = green;
      lights2[to + 2] = blue;
      intoSrgb(lights2, to);
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
  absorption: { channels: BANDS2, join: (warps, wefts, skip) => joinBands(warps, wefts, skip, 0), toLight: () => void 0 },
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
  reflectance: { channels: BANDS2, join: joinBands, toLight: () => void 0 }
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
function tonesUnrounded(recipe, strength, colours, stripes) {
  const decoding = decodingOf(recipe);
  const side = stripes + 1;
  const count = side * side * 3;
  reserve(side * decoding.channels, count);
  fillTones(decoding, recipe, strength, colours, 0, side, side, 0);
  if (decoding.encoded) return tones.slice(0, count);
  decoding.toLight(count, recipe.yuleNielsen);
  return tones.slice(0, count).map((light) => Math.min(Math.max(linearToSrgb(light), 0), 1));
}

// lesson/ways.js
function tonesOf(way, strength, colours, yuleNielsen = way.yuleNielsen) {
  const recipe = { ...way, yuleNielsen };
  const encoded = colours.flatMap((rgb) => canEncode(recipe) ? encodeColour(recipe, rgb) : [...absorptionOf(rgb)]);
  const flat = tonesUnrounded(recipe, strength, encoded, colours.length - 1);
  return (warp, weft2) => {
    const at = 3 * (warp * colours.length + weft2);
    return [flat[at], flat[at + 1], flat[at + 2]];
  };
}
function wayOf({ mixings }, name) {
  const found = mixings.find((way) => way.mixing === name);
  if (!found) throw new Error(`the lesson has no mixing "${name}"`);
  return found;
}
function clothColours({ rgb, called }) {
  const keys = Object.keys(rgb).filter((key) => key !== "ground");
  return {
    colours: [rgb.ground, ...keys.map((key) => rgb[key])],
    names: [called.ground, ...keys.map((key) => called[key])],
    stripes: keys.length
  };
}
function image(width, height, colour) {
  const data = new Uint8ClampedArray(width * height * 4);
  for (let y = 0, at = 0; y < height; y++) {
    for (let x = 0; x < width; x++, at += 4) {
      const rgb = colour(x, y);
      for (let c = 0; c < 3; c++) data[at + c] = byteOf(rgb[c]);
      data[at + 3] = 255;
    }
  }
  return { width, height, data };
}
function checks(tones2, warp, weft2 = warp) {
  return image(warp.length, weft2.length, (x, y) => tones2(warp[x], weft2[y]));
}
function cloth(tones2, stripes, wide, high = wide) {
  const bands = evenBands(stripes);
  return checks(tones2, [...planOf(bands, 1, wide)], [...planOf(bands, 1, high)]);
}
function asLight(light, share2, first, second) {
  return tonesOf(light, share2, [second, first])(1, 0);
}

// lesson/steps/crossing.js
var SHOWN = 0.05;
function sharesOf({ at }) {
  const a = at.strength / 100;
  return { a, weft: a * (1 - a), ground: (1 - a) ** 2 };
}
function areas2(setting) {
  const { rgb } = setting;
  const { a, weft: weft2, ground } = sharesOf(setting);
  const side = 100 * a;
  const left = 100 - side;
  const tags2 = [
    { text: exact(a), x: side / 2, y: 50 },
    { text: exact(weft2), x: side + left / 2, y: side / 2 },
    { text: exact(ground), x: side + left / 2, y: side + left / 2 }
  ];
  const share2 = [a, weft2, ground];
  return {
    label: `The crossing as a square whose areas are its parts: warp ${exact(a)}, weft ${exact(weft2)}, ground ${exact(ground)}`,
    caption: "The crossing, its parts set apart.",
    drawing: {
      width: 100,
      height: 100,
      shapes: [
        ["rect", { x: 0, y: 0, width: 100, height: 100, fill: rgb.ground }],
        ["rect", { x: side, y: 0, width: left, height: side, fill: rgb.weft }],
        ["rect", { x: 0, y: 0, width: side, height: 100, fill: rgb.warp }]
      ]
    },
    tags: tags2.filter((tag, k) => share2[k] >= SHOWN && tag.x > 12 && tag.x < 88)
  };
}
function sentence(percent2, weft2) {
  if (percent2 === 0) return "At 0 % there are no stripes: all you see is ground.";
  if (percent2 === 100) return "At 100 % the warp hides all that is under it.";
  return `The warp covers ${percent2} of 100 parts and leaves ${100 - percent2}. The weft covers ${percent2} % of those ${100 - percent2}: ${weft2}. What still shows is ground.`;
}
var crossing = {
  work(setting) {
    const { rgb, at, called } = setting;
    const { a, weft: weft2, ground } = sharesOf(setting);
    const tones2 = tonesOf(wayOf(setting, "source-over"), a, [rgb.ground, rgb.warp, rgb.weft]);
    const [over, left] = [fixed(a, 2), fixed(1 - a, 2)];
    return {
      pictures: [
        {
          label: `One warp stripe, ${called.warp}, crossing one weft stripe, ${called.weft}, on ${called.ground}`,
          caption: "The cloth, very near.",
          image: checks(tones2, [0, 1, 0], [0, 2, 0]),
          tags: [
            { text: "ground", x: 16.6, y: 6 },
            { text: "warp", x: 50, y: 6 },
            { text: "weft", x: 16.6, y: 39.5 },
            { text: "crossing", x: 50, y: 39.5 }
          ],
          frame: [33.33, 33.33, 33.34, 33.34]
        },
        areas2(setting)
      ],
      sums: {
        caption: "What the crossing is made of",
        heads: [],
        rows: [
          { name: "Warp, on top", chip: rgb.warp, cells: [over, exact(a)] },
          { name: "Weft, under it", chip: rgb.weft, cells: [`${left} × ${over}`, exact(weft2)] },
          { name: "Ground, under both", chip: rgb.ground, cells: [`${left} × ${left}`, exact(ground)] }
        ]
      },
      said: sentence(at.strength, exact(weft2).replace(" %", ""))
    };
  },
  answer() {
    const miss = (at) => Math.abs(at / 100 * (1 - at / 100) - (1 - at / 100) ** 2);
    let best = 1;
    for (let at = 1; at < 100; at++) if (miss(at) < miss(best)) best = at;
    const a = best / 100;
    const [over, left] = [fixed(a, 2), fixed(1 - a, 2)];
    return `At ${best} %. There the weft has ${left} × ${over} and the ground ${left} × ${left}: ${exact(a * (1 - a))} each, and the warp ${exact(a)}. (At 100 % both have nothing, and so are equal too.)`;
  }
};

// lesson/steps/depth.js
var THREADS = 12;
var ASKED = 0.9;
function woven(setting) {
  const { rgb, at } = setting;
  const yarn = asLight(wayOf(setting, "source-over-linear"), at.strength / 100, rgb.stripe, rgb.ground);
  const dyed = (thread) => Math.floor(thread / THREADS) === 1;
  return image(3 * THREADS, 3 * THREADS, (x, y) => dyed((x + y) % 2 ? y : x) ? yarn : rgb.ground);
}
function tags(single, crossing2) {
  return [
    { text: single, x: 50, y: 6 },
    { text: single, x: 16.6, y: 39.5 },
    { text: crossing2, x: 50, y: 39.5 }
  ];
}
function sentence2(strength) {
  if (strength === 0) return "At 0 % there is no stripe.";
  if (strength === 100) return "At 100 % both crossings are all stripe. But the woven single is still only half.";
  const a = strength / 100;
  return `Laid over, the second layer covers ${strength} % of the ${100 - strength} that were left: ${strength} + ${exact(a * (1 - a)).replace(" %", "")} = ${exact(1 - (1 - a) ** 2)}. Woven, no thread gets a second layer: the crossing stays as strong as its yarn, ${strength} %.`;
}
var depth = {
  work(setting) {
    const { rgb, at } = setting;
    const a = at.strength / 100;
    const twice = 1 - (1 - a) ** 2;
    const tones2 = tonesOf(wayOf(setting, "source-over"), a, [rgb.ground, rgb.stripe]);
    return {
      pictures: [
        {
          label: `Laid over: single ${exact(a)}, crossing ${exact(twice)} stripe`,
          caption: "Laid over, as in print.",
          image: checks(tones2, [0, 1, 0]),
          tags: tags(exact(a), exact(twice))
        },
        {
          label: `Woven: single ${exact(a / 2)}, crossing ${exact(a)} stripe`,
          caption: "Woven, thread by thread.",
          image: woven(setting),
          tags: tags(exact(a / 2), exact(a))
        }
      ],
      sums: {
        caption: "How much of the stripe’s colour is seen",
        heads: ["", "Single", "Crossing"],
        rows: [
          { name: "Laid over", cells: [exact(a), exact(twice)] },
          { name: "Woven", cells: [exact(a / 2), exact(a)] }
        ]
      },
      said: sentence2(at.strength)
    };
  },
  answer() {
    const depthAt = (at) => 1 - (1 - at / 100) ** 2;
    let found = 0;
    while (depthAt(found) < ASKED - 1e-12) found++;
    const left = (1 - found / 100).toFixed(2);
    return `Laid over, ${found} %: then 1 − ${left} × ${left} = ${percent(depthAt(found))}; at ${found - 1} % it is ${percent(depthAt(found - 1))}. Woven, ${exact(ASKED)}: the crossing is as strong as its yarn.`;
  }
};

// lesson/steps/distance.js
var MINUTE = Math.PI / 180 / 60;
var SPOT = 2;
var REPEATS = 2;
var PIXELS = 20;
function minutesOf(millimetres, metres) {
  return 2 * Math.atan(millimetres / 1e3 / metres / 2) / MINUTE;
}
function fusesBeyond(millimetres) {
  return millimetres / 1e3 / (2 * Math.tan(MINUTE / 2));
}
function below(x) {
  const z = Math.abs(x) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * z);
  const tail = ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t * Math.exp(-z * z) / 2;
  return x < 0 ? tail : 1 - tail;
}
function seenShares(stripes, deviation) {
  const bands = evenBands(stripes);
  const repeat = checksIn(bands);
  const reach = Math.ceil(5 * deviation / repeat);
  return Array.from({ length: repeat * PIXELS }, (_, pixel) => {
    const shares = new Float64Array(stripes + 1);
    const x = (pixel + 0.5) / PIXELS;
    for (let turn2 = -reach; turn2 <= reach; turn2++) {
      let edge = turn2 * repeat;
      for (const [stripe, checks2] of bands) {
        shares[stripe] += below((edge + checks2 - x) / deviation) - below((edge - x) / deviation);
        edge += checks2;
      }
    }
    return shares;
  });
}
function lights(tones2, stripes) {
  const side = Array.from({ length: stripes + 1 }, (_, at) => at);
  return side.map((i) => side.map((j) => Float64Array.from(tones2(i, j), srgbToLinear)));
}
function weigh(shares, light) {
  const sum = new Float64Array(3);
  for (let at = 0; at < shares.length; at++) {
    const part = light(at);
    for (let c = 0; c < 3; c++) sum[c] += shares[at] * part[c];
  }
  return sum;
}
function repeated(once, side) {
  const size = REPEATS * side;
  const data = new Uint8ClampedArray(size * size * 4);
  for (let y = 0; y < size; y++) {
    const row = once.subarray(y % side * side * 4, (y % side + 1) * side * 4);
    for (let turn2 = 0; turn2 < REPEATS; turn2++) data.set(row, (y * size + turn2 * side) * 4);
  }
  return { width: size, height: size, data, smooth: true };
}
function blurred(tones2, stripes, minutes) {
  const light = lights(tones2, stripes);
  const shares = seenShares(stripes, SPOT / minutes / (2 * Math.sqrt(2 * Math.log(2))));
  const once = shares.length;
  const columns = shares.map((across) => light[0].map((_, weft2) => weigh(across, (warp) => light[warp][weft2])));
  const data = new Uint8ClampedArray(once * once * 4);
  for (let y = 0, at = 0; y < once; y++) {
    for (let x = 0; x < once; x++, at += 4) {
      const sum = weigh(shares[y], (weft2) => columns[x][weft2]);
      for (let c = 0; c < 3; c++) data[at + c] = linearToByte(sum[c]);
      data[at + 3] = 255;
    }
  }
  return repeated(data, once);
}
function farColour(tones2, stripes) {
  const area = Float64Array.from({ length: stripes + 1 }, (_, at) => (at ? 1 : stripes) / (2 * stripes));
  const light = lights(tones2, stripes);
  const [red, green, blue] = weigh(area, (warp) => weigh(area, (weft2) => light[warp][weft2]));
  return [linearToSrgb(red), linearToSrgb(green), linearToSrgb(blue)];
}
function facts(setting) {
  const { at, options } = setting;
  const millimetres = options.mm[at.size];
  return { minutes: minutesOf(millimetres, at.distance), limit: fusesBeyond(millimetres) };
}
var distance = {
  work(setting) {
    const { at, options } = setting;
    const { colours, names, stripes } = clothColours(setting);
    const tones2 = tonesOf(options.recipe, options.strength, colours);
    const { minutes, limit } = facts(setting);
    const flat = farColour(tones2, stripes);
    const from = `${fixed(at.distance, at.distance % 1 ? 1 : 0)} m`;
    return {
      layout: "cl-three",
      pictures: [
        { label: `${names.slice(1).join(", ")} on ${names[0]}`, caption: "Close by.", image: cloth(tones2, stripes, REPEATS * 2 * stripes) },
        { label: `The same from ${from}`, caption: `From ${from}.`, image: blurred(tones2, stripes, minutes) },
        { label: `Far off it is ${hexOf(flat)}`, caption: "Far off.", image: image(1, 1, () => flat) }
      ],
      sums: {
        caption: "What a check covers",
        heads: [],
        rows: [
          { name: "A check covers", cells: [`${fixed(minutes, 2)} minutes of arc`] },
          { name: "Such checks fuse beyond", cells: [`${fixed(limit)} m`] },
          { name: "Far off, the cloth is", chip: flat, cells: [hexOf(flat)] }
        ]
      },
      said: `From ${from} a check covers ${fixed(minutes, 2)} minutes of arc: ${minutes > 1 ? "still seen" : "fused"}.`
    };
  },
  answer({ options }) {
    const near = options.mm[options.size];
    return `${fixed(fusesBeyond(2 * near))} m, twice the ${fixed(fusesBeyond(near))} m of ${options.size_words}: the angle is size over distance. A rule of thumb, for good eyes, good light and strong contrast.`;
  }
};

// shared/eye_data.js
var LINEAR_TO_RATIO = Float64Array.of(
  0.43388734556604,
  0.37622400913749876,
  0.18988864529646143,
  0.21263900587151036,
  0.7151686787677559,
  0.07219231536073371,
  0.017750040070973257,
  0.10944762085523849,
  0.8728023390737882
);
var MACHADO_PROTAN = Float64Array.of(
  1,
  0,
  0,
  0,
  1,
  0,
  0,
  0,
  1,
  0.856167,
  0.182038,
  -0.038205,
  0.029342,
  0.955115,
  0.015544,
  -288e-5,
  -1563e-6,
  1.004443,
  0.734766,
  0.334872,
  -0.069637,
  0.05184,
  0.919198,
  0.028963,
  -4928e-6,
  -4209e-6,
  1.009137,
  0.630323,
  0.465641,
  -0.095964,
  0.069181,
  0.890046,
  0.040773,
  -6308e-6,
  -7724e-6,
  1.014032,
  0.539009,
  0.579343,
  -0.118352,
  0.082546,
  0.866121,
  0.051332,
  -7136e-6,
  -0.011959,
  1.019095,
  0.458064,
  0.679578,
  -0.137642,
  0.092785,
  0.846313,
  0.060902,
  -7494e-6,
  -0.016807,
  1.024301,
  0.38545,
  0.769005,
  -0.154455,
  0.100526,
  0.829802,
  0.069673,
  -7442e-6,
  -0.02219,
  1.029632,
  0.319627,
  0.849633,
  -0.169261,
  0.106241,
  0.815969,
  0.07779,
  -7025e-6,
  -0.028051,
  1.035076,
  0.259411,
  0.923008,
  -0.18242,
  0.110296,
  0.80434,
  0.085364,
  -6276e-6,
  -0.034346,
  1.040622,
  0.203876,
  0.990338,
  -0.194214,
  0.112975,
  0.794542,
  0.092483,
  -5222e-6,
  -0.041043,
  1.046265,
  0.152286,
  1.052583,
  -0.204868,
  0.114503,
  0.786281,
  0.099216,
  -3882e-6,
  -0.048116,
  1.051998
);
var MACHADO_DEUTAN = Float64Array.of(
  1,
  0,
  0,
  0,
  1,
  0,
  0,
  0,
  1,
  0.866435,
  0.177704,
  -0.044139,
  0.049567,
  0.939063,
  0.01137,
  -3453e-6,
  7233e-6,
  0.99622,
  0.760729,
  0.319078,
  -0.079807,
  0.090568,
  0.889315,
  0.020117,
  -6027e-6,
  0.013325,
  0.992702,
  0.675425,
  0.43385,
  -0.109275,
  0.125303,
  0.847755,
  0.026942,
  -795e-5,
  0.018572,
  0.989378,
  0.605511,
  0.52856,
  -0.134071,
  0.155318,
  0.812366,
  0.032316,
  -9376e-6,
  0.023176,
  0.9862,
  0.547494,
  0.607765,
  -0.155259,
  0.181692,
  0.781742,
  0.036566,
  -0.01041,
  0.027275,
  0.983136,
  0.498864,
  0.674741,
  -0.173604,
  0.205199,
  0.754872,
  0.039929,
  -0.011131,
  0.030969,
  0.980162,
  0.457771,
  0.731899,
  -0.18967,
  0.226409,
  0.731012,
  0.042579,
  -0.011595,
  0.034333,
  0.977261,
  0.422823,
  0.781057,
  -0.203881,
  0.245752,
  0.709602,
  0.044646,
  -0.011843,
  0.037423,
  0.974421,
  0.392952,
  0.82361,
  -0.216562,
  0.263559,
  0.69021,
  0.046232,
  -0.01191,
  0.040281,
  0.97163,
  0.367322,
  0.860646,
  -0.227968,
  0.280085,
  0.672501,
  0.047413,
  -0.01182,
  0.04294,
  0.968881
);
var MACHADO_TRITAN = Float64Array.of(
  1,
  0,
  0,
  0,
  1,
  0,
  0,
  0,
  1,
  0.92667,
  0.092514,
  -0.019184,
  0.021191,
  0.964503,
  0.014306,
  8437e-6,
  0.054813,
  0.93675,
  0.89572,
  0.13333,
  -0.02905,
  0.029997,
  0.9454,
  0.024603,
  0.013027,
  0.104707,
  0.882266,
  0.905871,
  0.127791,
  -0.033662,
  0.026856,
  0.941251,
  0.031893,
  0.01341,
  0.148296,
  0.838294,
  0.948035,
  0.08949,
  -0.037526,
  0.014364,
  0.946792,
  0.038844,
  0.010853,
  0.193991,
  0.795156,
  1.017277,
  0.027029,
  -0.044306,
  -6113e-6,
  0.958479,
  0.047634,
  6379e-6,
  0.248708,
  0.744913,
  1.104996,
  -0.046633,
  -0.058363,
  -0.032137,
  0.971635,
  0.060503,
  1336e-6,
  0.317922,
  0.680742,
  1.193214,
  -0.109812,
  -0.083402,
  -0.058496,
  0.97941,
  0.079086,
  -2346e-6,
  0.403492,
  0.598854,
  1.257728,
  -0.139648,
  -0.118081,
  -0.078003,
  0.975409,
  0.102594,
  -3316e-6,
  0.501214,
  0.502102,
  1.278864,
  -0.125333,
  -0.153531,
  -0.084748,
  0.957674,
  0.127074,
  -989e-6,
  0.601151,
  0.399838,
  1.255528,
  -0.076749,
  -0.178779,
  -0.078411,
  0.930809,
  0.147602,
  4733e-6,
  0.691367,
  0.3039
);

// shared/difference.js
var EPSILON = 216 / 24389;
var KAPPA = 24389 / 27;
function labOf(ratio) {
  return ratio > EPSILON ? Math.cbrt(ratio) : (KAPPA * ratio + 16) / 116;
}
function srgbToLab(rgb) {
  const [red, green, blue] = [srgbToLinear(rgb[0]), srgbToLinear(rgb[1]), srgbToLinear(rgb[2])];
  const [x, y, z] = [0, 1, 2].map((row) => labOf(dot(LINEAR_TO_RATIO, row, red, green, blue)));
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}
function luminance(rgb) {
  return dot(LINEAR_TO_RATIO, 1, srgbToLinear(rgb[0]), srgbToLinear(rgb[1]), srgbToLinear(rgb[2]));
}
var RADIANS = Math.PI / 180;
var cosine = (degrees) => Math.cos(degrees * RADIANS);
function seventhShare(chroma) {
  return Math.sqrt(chroma ** 7 / (chroma ** 7 + 25 ** 7));
}
function hueOf(a, b) {
  return a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / RADIANS + 360) % 360;
}
function hues(h1, h2, grey) {
  if (grey) return { step: 0, mean: h1 + h2 };
  const apart2 = h2 - h1;
  const sum = h1 + h2;
  if (Math.abs(apart2) <= 180) return { step: apart2, mean: sum / 2 };
  return { step: apart2 > 180 ? apart2 - 360 : apart2 + 360, mean: sum < 360 ? sum / 2 + 180 : sum / 2 - 180 };
}
function deltaE2000(first, second) {
  const g = 1.5 - 0.5 * seventhShare((Math.hypot(first[1], first[2]) + Math.hypot(second[1], second[2])) / 2);
  const [a1, a2] = [first[1] * g, second[1] * g];
  const [c1, c2] = [Math.hypot(a1, first[2]), Math.hypot(a2, second[2])];
  const { step, mean: h } = hues(hueOf(a1, first[2]), hueOf(a2, second[2]), c1 * c2 === 0);
  const hue = 2 * Math.sqrt(c1 * c2) * Math.sin(step / 2 * RADIANS);
  const c = (c1 + c2) / 2;
  const t = 1 - 0.17 * cosine(h - 30) + 0.24 * cosine(2 * h) + 0.32 * cosine(3 * h + 6) - 0.2 * cosine(4 * h - 63);
  const turn2 = 30 * Math.exp(-(((h - 275) / 25) ** 2));
  const middle = ((first[0] + second[0]) / 2 - 50) ** 2;
  const l = (second[0] - first[0]) / (1 + 0.015 * middle / Math.sqrt(20 + middle));
  const k = (c2 - c1) / (1 + 0.045 * c);
  const m = hue / (1 + 0.015 * c * t);
  const r = -2 * seventhShare(c) * Math.sin(2 * turn2 * RADIANS);
  return Math.sqrt(Math.max(0, l * l + k * k + m * m + r * k * m));
}
function apart(first, second) {
  return deltaE2000(srgbToLab(first), srgbToLab(second));
}

// lesson/steps/greys.js
var THREADS2 = 12;
var MOST_N = 10;
function half(setting, name, n = 1) {
  return tonesOf(wayOf(setting, name), 0.5, [setting.rgb.light, setting.rgb.dark], n)(1, 0);
}
function endless({ rgb: { dark, light } }) {
  const mean2 = (c) => linearToSrgb(Math.sqrt(srgbToLinear(dark[c]) * srgbToLinear(light[c])));
  return [mean2(0), mean2(1), mean2(2)];
}
function sums(setting) {
  const { n } = setting.at;
  return [
    { name: "Added as light", tone: half(setting, "source-over-linear") },
    { name: `Yule–Nielsen, n = ${fixed(n)}`, tone: half(setting, "source-over-linear", n) },
    { name: "As n grows without end", tone: endless(setting) },
    { name: "Pigment (estimate)", tone: half(setting, "pigment") }
  ].map((sum) => ({ ...sum, light: luminance(sum.tone) }));
}
function bars(all) {
  return {
    label: `Bars of the light that each sum reflects: ${all.map(({ name, light }) => `${name} ${percent(light)}`).join(", ")}`,
    caption: "Light that each sum reflects.",
    drawing: {
      width: 100,
      height: 100,
      shapes: all.flatMap(({ tone, light }, k) => (
        /** @type {[string, Record<string, any>][]} */
        [
          ["rect", { x: 0, y: 25 * k, width: 100, height: 24, class: "cl-wash" }],
          ["rect", { x: 0, y: 25 * k, width: 100 * light, height: 24, fill: tone, class: "cl-outlined" }]
        ]
      ))
    },
    tags: all.map(({ light }, k) => ({
      text: `${["light", "n", "n without end", "pigment"][k]} ${percent(light)}`,
      x: 97,
      y: 25 * k + 12,
      end: true
    }))
  };
}
function sentence3(n) {
  if (n === 1) return "At n = 1 the second sum is the first: nothing spreads in the cloth.";
  if (n > 2) return `n = ${fixed(n)} is past full scattering: a number fitted to prints, no more.`;
  return n === 2 ? "At n = 2 light is fully scattered before it leaves." : "The larger n, the darker the mixture.";
}
var greys = {
  work(setting) {
    const { rgb, at, called } = setting;
    const all = sums(setting);
    return {
      pictures: [
        {
          label: `Threads by turns, ${called.dark} and ${called.light}`,
          caption: "Half and half, thread by thread.",
          image: image(THREADS2, 1, (x) => x % 2 ? rgb.light : rgb.dark),
          tags: [
            { text: percent(luminance(rgb.dark)), x: 29, y: 6 },
            { text: percent(luminance(rgb.light)), x: 71, y: 6 }
          ]
        },
        bars(all)
      ],
      sums: {
        caption: "Light reflected by the mixture",
        heads: [],
        rows: all.map(({ name, tone, light }) => ({ name, chip: tone, cells: [percent(light)] }))
      },
      said: sentence3(at.n)
    };
  },
  answer(setting) {
    const reflected = (n) => luminance(half(setting, "source-over-linear", n));
    const pigment = luminance(half(setting, "pigment"));
    const close = `pigment (estimate) reflects ${percent(pigment)}.`;
    if (pigment < reflected(MOST_N)) {
      return `None up to 10. n = 10 still reflects ${percent(reflected(MOST_N))}, and however large n is, not below ${percent(luminance(endless(setting)))}; ${close}`;
    }
    let tenths = 10;
    while (reflected(tenths / 10) > pigment) tenths++;
    return `n = ${fixed(tenths / 10)}, which reflects ${percent(reflected(tenths / 10))}; ${close}`;
  }
};

// lesson/steps/kinds.js
var ASKED2 = 0.8;
function crossings({ rgb, mixings }, strength) {
  return mixings.map((way) => {
    const tones2 = tonesOf(way, strength, [rgb.ground, rgb.warp, rgb.weft]);
    return { way, tones: tones2, code: hexOf(tones2(1, 2)), tone: tones2(1, 2), green: srgbToLab(tones2(1, 2))[1] };
  });
}
function sentence4(percent2, green) {
  if (percent2 === 0) return "At 0 % there are no stripes: all five show the ground.";
  const range = `The five crossings run from a* ${fixed(Math.min(...green))} to ${fixed(Math.max(...green))}.`;
  if (percent2 < 100) return range;
  return `${range} At 100 % an upper stripe that is laid over hides the lower one; multiply and woven still show it.`;
}
var kinds = {
  choices: ({ mixings }) => mixings.map((way) => way.label),
  work(setting) {
    const { at } = setting;
    const all = crossings(setting, at.strength / 100);
    return {
      layout: "cl-five",
      pictures: all.map(({ way, tones: tones2, code }) => ({
        label: `${way.label}: the crossing is ${code}`,
        caption: way.label,
        shape: "cl-ribbon",
        image: checks(tones2, [0, 1, 0], [0, 2, 0, 2, 0, 2, 0])
      })),
      sums: {
        caption: "The crossing under each way of mixing",
        heads: ["Way of mixing", "Crossing", "a*"],
        rows: all.map(({ way, tone, code, green }) => ({
          name: way.label.includes("estimate") ? way.label : `${way.label}, ${way.hint}`,
          chip: tone,
          cells: [code, fixed(green)]
        }))
      },
      said: sentence4(at.strength, all.map(({ green }) => green))
    };
  },
  answer(setting) {
    const [first, second] = crossings(setting, ASKED2).sort((one, other) => one.green - other.green);
    return `${first.way.label}: ${first.code}, a* ${fixed(first.green)}. Next comes ${second.way.label}, ${fixed(second.green)}.`;
  }
};

// lesson/steps/order.js
var PLAIN = 10;
function pair(setting, name, strength) {
  const { rgb } = setting;
  const tones2 = tonesOf(wayOf(setting, name), strength, [rgb.ground, rgb.first, rgb.second]);
  return { tones: tones2, first: tones2(1, 2), second: tones2(2, 1), far: apart(tones2(1, 2), tones2(2, 1)) };
}
var order = {
  work(setting) {
    const { at, called } = setting;
    const strength = at.strength / 100;
    const both = [["Laid over", "source-over"], ["Woven", "woven"]].map(([words, name]) => ({ words, ...pair(setting, name, strength) }));
    const [one, two] = [cut(called.first), cut(called.second)];
    return {
      pictures: both.map(({ words, tones: tones2, first, second }, k) => ({
        label: `${words}: ${called.first} over ${called.second} is ${hexOf(first)}, the other way ${hexOf(second)}`,
        caption: k ? "Woven, threads too fine to see." : "Laid over: the warp lies on top.",
        image: checks(tones2, [0, 1, 0, 2, 0]),
        tags: [
          { text: k ? "1 as warp" : "1 over 2", x: 30, y: 64 },
          { text: k ? "2 as warp" : "2 over 1", x: 70, y: 24 }
        ]
      })),
      sums: {
        caption: "The two crossings",
        heads: ["", `${one} up`, `${two} up`, "ΔE00"],
        rows: both.map(({ words, first, second, far }) => ({ name: words, cells: [hexOf(first), hexOf(second), fixed(far)] }))
      },
      said: `At ${exact(strength)} the two crossings differ by ΔE00 ${fixed(both[0].far)} laid over, and by ${fixed(both[1].far)} woven.`
    };
  },
  answer(setting) {
    const far = Array.from({ length: 101 }, (_, at) => pair(setting, "source-over", at / 100).far);
    const found = far.findIndex((value) => value >= PLAIN);
    if (found < 0) return `Never: they end at ΔE00 ${fixed(far[100])}.`;
    return `From ${found} %, where they are ΔE00 ${fixed(far[found])} apart. At 100 % only the upper one is left to see, and it is ${fixed(far[100])}. Woven it stays 0 throughout.`;
  }
};

// lesson/steps/pastel.js
var STEPS2 = 101;
var PLAIN2 = 10;
var HIGH = 29;
function singles(setting, key) {
  const { rgb } = setting;
  const way = wayOf(setting, "source-over");
  const tones2 = Array.from({ length: STEPS2 }, (_, at) => tonesOf(way, at / 100, [rgb.ground, rgb[key]])(1, 0));
  return { tones: tones2, far: tones2.map((tone) => apart(tone, rgb.ground)) };
}
function chart(pale, deep, at) {
  const top = Math.max(PLAIN2, ...pale.far, ...deep.far) * 1.1;
  const y = (far) => HIGH * (1 - far / top);
  const line = (far) => far.map((value, x) => `${x},${y(value).toFixed(2)}`).join(" ");
  return {
    label: `ΔE00 from the ground over strength; at ${at} % the pastel has ${fixed(pale.far[at])}, the deep one ${fixed(deep.far[at])}`,
    caption: "ΔE00 from the ground over strength, 0 to 100 %; the level line is 10.",
    shape: "cl-chart",
    drawing: {
      width: 100,
      height: HIGH,
      shapes: [
        ["rect", { x: 0, y: 0, width: 100, height: HIGH, class: "cl-wash" }],
        ["path", { d: `M0 ${y(PLAIN2)}H100`, class: "cl-level" }],
        ["path", { d: `M${at} 0V${HIGH}`, class: "cl-level" }],
        ["polyline", { points: line(deep.far), class: "cl-curve" }],
        ["polyline", { points: line(pale.far), class: "cl-curve cl-dashed" }],
        // A dot is a line of no length with round ends: it stays round however the chart is stretched.
        ["path", { d: `M${at} ${y(deep.far[at])}h0.001M${at} ${y(pale.far[at])}h0.001`, class: "cl-dot" }]
      ]
    },
    tags: [
      { text: "deep", x: 97, y: Math.max(8, 100 * (1 - deep.far[90] / top) + 9), end: true },
      { text: "pastel", x: 97, y: Math.max(8, 100 * (1 - pale.far[90] / top) + 9), end: true },
      { text: "10", x: 1, y: 100 * (1 - PLAIN2 / top) - 6, bare: true, start: true }
    ]
  };
}
var pastel = {
  work(setting) {
    const { at, called } = setting;
    const [pale, deep] = [singles(setting, "pale"), singles(setting, "deep")];
    const now = at.strength;
    return {
      layout: "cl-stack",
      pictures: [
        {
          label: `Two stripes on ${called.ground}, each from 0 to 100 %: above ${called.deep}, below ${called.pale}`,
          caption: "Each stripe on the ground, from 0 to 100 %; the mark is where you are.",
          shape: "cl-strips",
          image: image(STEPS2, 2, (x, y) => (y ? pale : deep).tones[x]),
          frame: [100 * now / STEPS2, 0, 100 / STEPS2, 100]
        },
        chart(pale, deep, now)
      ],
      sums: {
        caption: "The two stripes on the ground",
        heads: ["", `At ${exact(now / 100)}`, "ΔE00"],
        rows: [{ name: "Pastel", ...pale }, { name: "Deep", ...deep }].map(({ name, tones: tones2, far }) => ({
          name,
          chip: tones2[now],
          cells: [hexOf(tones2[now]), fixed(far[now])]
        }))
      },
      said: `At ${exact(now / 100)} the pastel stripe stands ΔE00 ${fixed(pale.far[now])} from the ground, the deep one ${fixed(deep.far[now])}.`
    };
  },
  answer(setting) {
    const said = [["pastel", "pale"], ["deep", "deep"]].map(([name, key]) => {
      const { far } = singles(setting, key);
      const found = far.findIndex((value) => value >= PLAIN2);
      return found < 0 ? `${name} never: it ends at ΔE00 ${fixed(far[100])}` : `${name} from ${found} %, where it stands ΔE00 ${fixed(far[found])} from it`;
    });
    return `${said.join("; ")}.`;
  }
};

// lesson/steps/side_by_side.js
var ASKED3 = 0.6;
function crossings2(stripes) {
  const side = Array.from({ length: stripes }, (_, at) => at + 1);
  return side.flatMap((i) => side.map((j) => (
    /** @type {[number, number]} */
    [i, j]
  )));
}
function everyWay({ mixings, options, ...setting }, strength) {
  const { colours, stripes } = clothColours({ mixings, options, ...setting });
  return mixings.map((way) => {
    const own2 = way.layout === "woven" ? { ...way, warpShare: options.warpShare } : way;
    const tones2 = tonesOf(own2, strength, colours, options.yuleNielsen);
    return { way, tones: tones2, labs: crossings2(stripes).map(([i, j]) => srgbToLab(tones2(i, j))) };
  });
}
function differences(one, other) {
  return one.labs.map((lab, k) => deltaE2000(lab, other.labs[k]));
}
function mean(values) {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
function farthest(all) {
  let best = { far: -1, one: "", other: "" };
  all.forEach((one, k) => all.slice(k + 1).forEach((other) => {
    const far = mean(differences(one, other));
    if (far > best.far) best = { far, one: one.way.label, other: other.way.label };
  }));
  return best;
}
function namesOf(setting) {
  const { names, stripes } = clothColours(setting);
  return crossings2(stripes).map(([i, j]) => `${names[i]} over ${names[j]}`);
}
var sideBySide = {
  choices: namesOf,
  work(setting) {
    const strength = setting.at.strength / 100;
    const { stripes } = clothColours(setting);
    const all = everyWay(setting, strength);
    const best = farthest(all);
    return {
      layout: "cl-five",
      pictures: all.map(({ way, tones: tones2 }) => ({
        label: `The cloth under ${way.label}`,
        caption: way.label,
        shape: "cl-ribbon",
        image: cloth(tones2, stripes, 2 * stripes, Math.round(14 * stripes / 3))
      })),
      sums: {
        caption: "How far the crossings lie from those under source-over",
        heads: ["", "Mean ΔE00", "Largest"],
        rows: all.slice(1).map((other) => {
          const far = differences(all[0], other);
          return { name: other.way.label, cells: [fixed(mean(far)), fixed(Math.max(...far))] };
        })
      },
      said: best.far < 0.05 ? `At ${exact(strength)} every way gives the same cloth.` : `At ${exact(strength)} crossings differ most between ${best.one} and ${best.other}: ΔE00 ${fixed(best.far)} on average.`
    };
  },
  answer(setting) {
    const all = everyWay(setting, ASKED3);
    const [over, woven2] = ["source-over", "woven"].map((name) => (
      /** @type {typeof all[0]} */
      all.find(({ way }) => way.mixing === name)
    ));
    const far = differences(over, woven2);
    const most = far.indexOf(Math.max(...far));
    const [i, j] = crossings2(clothColours(setting).stripes)[most];
    return `${namesOf(setting)[most]}: from ${hexOf(over.tones(i, j))} to ${hexOf(woven2.tones(i, j))}, ΔE00 ${fixed(far[most])}. The crossing that changes least moves by ${fixed(Math.min(...far))}.`;
  }
};

// lesson/steps/task.js
var WIDE = 27;
var HIGH2 = 13;
function facts2(setting) {
  const { rgb, at } = setting;
  const tones2 = tonesOf(wayOf(setting, "source-over"), at.strength / 100, [rgb.ground, rgb.first, rgb.second]);
  const lightness = (tone) => srgbToLab(tone)[0];
  return { tones: tones2, apart: Math.abs(lightness(tones2(1, 0)) - lightness(tones2(2, 0))), light: lightness(farColour(tones2, 2)) };
}
var task = {
  work(setting) {
    const { called, at, options } = setting;
    const { tones: tones2, apart: apart2, light } = facts2(setting);
    const goals = [
      { words: `On the menu the two stripes are told apart: their lightness differs by ${options.apart} or more.`, value: apart2, wanted: options.apart, most: 2.5 * options.apart },
      { words: `From across the street the cloth still looks light: lightness ${options.light} or more.`, value: light, wanted: options.light, most: 100 }
    ].map((goal) => ({ ...goal, met: goal.value >= goal.wanted }));
    const met = goals.filter((goal) => goal.met).length;
    return {
      layout: "cl-stack",
      pictures: [{
        label: `Your cloth: ${called.first} and ${called.second} on ${called.ground}, ${at.strength} %`,
        caption: "Your cloth.",
        shape: "cl-wide",
        image: cloth(tones2, 2, WIDE, HIGH2)
      }],
      sums: { caption: "", heads: [], rows: [] },
      said: met === goals.length ? "Both wishes are met." : `${met} of ${goals.length} wishes met.`,
      goals
    };
  },
  answer(setting) {
    const { apart: apart2, light } = facts2(setting);
    return `Lightness ${fixed(apart2)} apart, ${fixed(light)} from afar.`;
  }
};

// lesson/steps/threads.js
var WITHIN = 0.01;
function warpUp(ends) {
  const whole = ends * ends;
  const more = Math.ceil(whole / 2);
  return { whole, crossing: more, single: whole - more };
}
function drawnWeave({ rgb, at: { ends } }) {
  const own2 = (stripe, thread) => Math.floor(thread / ends) === 1 ? stripe : rgb.ground;
  return image(3 * ends, 3 * ends, (x, y) => (x + y) % 2 === 0 ? own2(rgb.warp, x) : own2(rgb.weft, y));
}
function fused(setting) {
  const { rgb, at: { ends } } = setting;
  const { whole, crossing: crossing2, single } = warpUp(ends);
  const light = wayOf(setting, "source-over-linear");
  return image(3, 3, (x, y) => {
    const share2 = x === 1 === (y === 1) ? crossing2 / whole : single / whole;
    return asLight(light, share2, x === 1 ? rgb.warp : rgb.ground, y === 1 ? rgb.weft : rgb.ground);
  });
}
function share(part, whole) {
  return `${fixed(100 * part / whole, 2)} %`;
}
function sentence5(ends) {
  const { whole, crossing: crossing2, single } = warpUp(ends);
  if (ends % 2 === 0) return `${ends} × ${ends} threads: every cell shows the warp on ${crossing2} of ${whole}, exactly half.`;
  return `${ends} × ${ends} threads: each crossing shows the warp on ${crossing2} of ${whole}, each single on ${single}. So the warp stripe has ${share(single, whole)} of its single, the weft stripe ${share(whole - single, whole)} of its own.`;
}
var threads = {
  work(setting) {
    const { at: { ends }, called } = setting;
    const { whole, crossing: crossing2, single } = warpUp(ends);
    const row = (name, part) => ({ name, cells: [`${part} of ${whole}`, share(part, whole)] });
    return {
      pictures: [
        {
          label: `Plain weave of ${ends} ends and ${ends} picks a band: warp stripe ${called.warp}, weft stripe ${called.weft}, on ${called.ground}`,
          caption: "Thread by thread.",
          image: drawnWeave(setting)
        },
        {
          label: "The same from farther off, each cell mixed as light",
          caption: "Farther off, as light; the warp’s share.",
          image: fused(setting),
          tags: [
            { text: exact(crossing2 / whole), x: 16.6, y: 6 },
            { text: exact(single / whole), x: 50, y: 6 },
            { text: exact(single / whole), x: 16.6, y: 39.5 },
            { text: exact(crossing2 / whole), x: 50, y: 39.5 }
          ]
        }
      ],
      sums: {
        caption: "How often the stripe’s own thread is on top",
        heads: ["", "Threads", "Share"],
        rows: [
          row("Warp stripe in its single", single),
          row("Weft stripe in its single", whole - single),
          row("Warp in the crossing", crossing2)
        ]
      },
      said: sentence5(ends)
    };
  },
  answer() {
    const off = (ends) => Math.abs(warpUp(ends).crossing / warpUp(ends).whole - 0.5);
    let found = 1;
    while (off(found) > WITHIN) found += 2;
    const [now, before] = [warpUp(found), warpUp(found - 2)];
    return `${found} ends: a crossing shows the warp on ${now.crossing} of ${now.whole}, ${share(now.crossing, now.whole)}, a single on ${now.single}, ${share(now.single, now.whole)}. With ${found - 2} it is ${share(before.crossing, before.whole)} and ${share(before.single, before.whole)}. Any even count shows exactly half.`;
  }
};

// shared/severity.js
var STEPS3 = 10;
var TABLES = new Map(Object.entries({ protan: MACHADO_PROTAN, deutan: MACHADO_DEUTAN, tritan: MACHADO_TRITAN }));
function seeAtSeverity(rgb, vision2, severity) {
  const table = TABLES.get(vision2);
  if (!table || severity >= 1) return seeAs(rgb, vision2);
  if (severity <= 0) return Float64Array.from(rgb);
  const step = Math.min(Math.floor(severity * STEPS3), STEPS3 - 1);
  const share2 = severity * STEPS3 - step;
  const entry = (at) => (1 - share2) * table[9 * step + at] + share2 * table[9 * step + 9 + at];
  const light = Float64Array.from(rgb, srgbToLinear);
  const seen2 = new Float64Array(light.length);
  for (let at = 0; at < light.length; at += 3) {
    for (let row = 0; row < 3; row++) {
      const value = entry(3 * row) * light[at] + entry(3 * row + 1) * light[at + 1] + entry(3 * row + 2) * light[at + 2];
      seen2[at + row] = linearToSrgb(Math.min(Math.max(value, 0), 1));
    }
  }
  return seen2;
}

// lesson/steps/vision.js
var CLEAR = 3;
function seen(tones2, vision2, severity) {
  return (i, j) => (
    /** @type {Rgb} */
    [...seeAtSeverity(tones2(i, j), vision2, severity)]
  );
}
function faintest(tones2, stripes) {
  const lab = Array.from({ length: stripes + 1 }, (_, i) => Array.from({ length: stripes + 1 }, (__, j) => srgbToLab(tones2(i, j))));
  let least = Infinity;
  const meet = (one, other) => {
    least = Math.min(least, deltaE2000(one, other));
  };
  for (let i = 1; i <= stripes; i++) {
    meet(lab[0][0], lab[i][0]);
    meet(lab[0][0], lab[0][i]);
    for (let j = 1; j <= stripes; j++) {
      meet(lab[i][0], lab[i][j]);
      meet(lab[0][j], lab[i][j]);
    }
  }
  return least;
}
function nameOf(vision2) {
  return vision2 === "normal" ? "as it is" : vision2;
}
function estimated({ options }) {
  return options.recipe.label.includes("estimate") ? " (estimate)" : "";
}
var vision = {
  work(setting) {
    const { at, options } = setting;
    const { colours, stripes } = clothColours(setting);
    const tones2 = tonesOf(options.recipe, at.strength / 100, colours);
    const views = VISIONS.map((name) => {
      const looks = seen(tones2, name, at.severity / 100);
      return { name: nameOf(name), looks, far: faintest(looks, stripes) };
    });
    const worst = views.reduce((one, other) => other.far < one.far - 1e-9 ? other : one);
    const least = worst === views[0] ? "and no fainter for anyone" : `and least for ${worst.name}: ${fixed(worst.far)}`;
    return {
      layout: "cl-five",
      pictures: views.map(({ name, looks, far }) => ({
        label: `The cloth ${name === "as it is" ? name : `for ${name}`}: faintest edge ΔE00 ${fixed(far)}`,
        caption: name,
        shape: "cl-ribbon",
        image: cloth(looks, stripes, 2 * stripes, Math.round(14 * stripes / 3))
      })),
      sums: {
        caption: `The faintest edge of the cloth${estimated(setting)}`,
        heads: ["", "Faintest edge, ΔE00"],
        rows: views.map(({ name, far }) => ({ name, cells: [fixed(far)] }))
      },
      said: `The faintest edge of this cloth${estimated(setting)} is ΔE00 ${fixed(views[0].far)} as it is, ${least}.`
    };
  },
  answer(setting) {
    const { options } = setting;
    const { colours, stripes } = clothColours(setting);
    const rows = Array.from({ length: 101 }, (_, at) => {
      const tones2 = tonesOf(options.recipe, at / 100, colours);
      return VISIONS.map((name) => faintest(seen(tones2, name, 1), stripes));
    });
    const everyone = rows.map((row) => Math.min(...row));
    const best = everyone.indexOf(Math.max(...everyone));
    const of = VISIONS[rows[best].indexOf(everyone[best])];
    const enough = everyone.flatMap((value, at) => value >= CLEAR ? [at] : []);
    if (!enough.length) {
      return `At none. The best is ${best} %, where the faintest edge is still only ΔE00 ${fixed(everyone[best])}, for ${of} vision.`;
    }
    const last = enough[enough.length - 1];
    const gaps = last - enough[0] < enough.length ? "" : ", with gaps";
    return `From ${enough[0]} to ${last} %${gaps}; best at ${best} %, where the faintest edge is ΔE00 ${fixed(everyone[best])}, for ${of} vision.`;
  }
};

// lesson/steps/all.js
var STEPS4 = { crossing, kinds, greys, order, depth, pastel, threads, distance, side_by_side: sideBySide, vision, task };

// lesson/step_view.js
var QUIET = 300;
function defined(words) {
  return together(words).split(/[{}]/).map((part, at) => at % 2 ? make("dfn", { text: part }) : document.createTextNode(part));
}
function sumRow({ name, chip, cells }) {
  const square = chip ? make("i", { class: "cl-chip", "aria-hidden": "true" }) : null;
  if (square && chip) square.style.background = hexOf(chip);
  return make(
    "tr",
    {},
    make("th", { scope: "row" }, square, name),
    ...cells.map((text2, at) => make("td", { text: text2, class: at === cells.length - 1 ? "cl-total" : "" }))
  );
}
function headRow(heads) {
  return heads.length ? make("thead", {}, make("tr", {}, ...heads.map((text2) => text2 ? make("th", { scope: "col", text: text2 }) : make("td")))) : null;
}
function goalNode({ met, words, value, wanted, most }) {
  const fill = make("i");
  const mark = make("u");
  fill.style.width = `${Math.min(100, 100 * value / most)}%`;
  mark.style.left = `${100 * wanted / most}%`;
  return make(
    "div",
    { class: "cl-goal" },
    make("b", { text: met ? "✓" : "·", "aria-hidden": "true" }),
    make("p", {}, make("b", { text: met ? "Met. " : "Not yet. " }), words),
    make("p", { class: "cl-have", text: `${fixed(value)}, wanted ${wanted}` }),
    make("div", { class: "cl-gauge", "aria-hidden": "true" }, fill, mark)
  );
}
var StepView = class {
  /** @type {PictureView[]} */
  #views = [];
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #quiet;
  /**
   * @param {LessonData} data
   * @param {StepData} step
   * @param {KeptStep} kept
   * @param {() => void} onchange
   */
  constructor(data, step, kept, onchange) {
    this.data = data;
    this.step = step;
    this.kept = kept;
    this.onchange = onchange;
    this.code = STEPS4[step.key];
    this.book = new ColourBook(data, step);
    this.request = perFrame(() => this.draw());
    this.sliders = new Map(step.sliders.map((slider) => [slider.key, this.#slider(slider)]));
    this.fields = new ColourFields(this.#startColours(), this.book, (key, name) => this.#coloured(key, name));
    this.pictures = make("div", { class: "cl-pictures" });
    this.sums = make("table", { class: "cl-sums" });
    this.said = make("p", { class: "cl-said" });
    this.aloud = make("p", { class: "cl-unseen", role: "status" });
    this.goals = make("div", { class: "cl-goals" });
    this.question = step.boxes.length ? this.#question() : null;
    this.root = this.#section();
    this.draw();
  }
  /** @param {StepData["sliders"][0]} slider */
  #slider(slider) {
    const start = this.kept.at[slider.key] ?? slider.value;
    return new SliderView(slider, start, (value) => {
      this.kept.at[slider.key] = value;
      this.#changed();
    });
  }
  #startColours() {
    return this.step.fields.map(([key, label, name]) => {
      const found = this.book.read(this.kept.colours[key] ?? "") ?? this.book.read(name);
      return { key, label, ...found ?? { name, rgb: (
        /** @type {Rgb} */
        [1, 1, 1]
      ) } };
    });
  }
  /**
   * @param {string} key
   * @param {string} name
   */
  #coloured(key, name) {
    this.kept.colours[key] = name;
    this.#changed();
  }
  #changed() {
    this.request();
    this.onchange();
  }
  /** @returns {Setting} */
  setting() {
    const { fields } = this.fields;
    return {
      rgb: Object.fromEntries(fields.map(({ key, rgb }) => [key, rgb])),
      called: Object.fromEntries(fields.map(({ key, name }) => [key, name])),
      at: Object.fromEntries([...this.sliders].map(([key, slider]) => [key, slider.value])),
      options: this.step.options,
      mixings: this.data.mixings
    };
  }
  #question() {
    return new Question({
      step: this.step,
      kept: this.kept,
      choices: this.code.choices?.(this.setting()) ?? [],
      answer: () => this.code.answer(this.setting()),
      trial: (key, value) => this.#trial(key, value),
      onchange: this.onchange
    });
  }
  /**
   * @param {string} key
   * @param {number} value
   */
  #trial(key, value) {
    const slider = (
      /** @type {SliderView} */
      this.sliders.get(key)
    );
    const { low, high, unit } = slider.data;
    if (value < low || value > high) return `“${fixed(value, value % 1 ? 1 : 0)}” is beyond the slider. Try ${low} to ${high}${unit}.`;
    slider.goTo(value);
    return "";
  }
  #section() {
    const { step } = this;
    const id = `cl-title-${step.key}-${Math.random().toString(36).slice(2, 8)}`;
    const mark = step.number ? String(step.number) : "Last";
    const left = make(
      "div",
      { class: "cl-left" },
      this.pictures,
      make(
        "div",
        { class: "cl-controls" },
        make("div", { class: "cl-sliders" }, ...[...this.sliders.values()].map(({ root }) => root)),
        this.fields.root
      )
    );
    const right = make(
      "div",
      { class: "cl-text" },
      make("p", { class: "cl-words" }, ...defined(step.words)),
      step.key === "task" ? this.goals : this.sums,
      step.key === "task" ? null : this.said,
      this.question?.root,
      this.aloud
    );
    this.right = right;
    return make(
      "section",
      { class: "cl-step", "data-step": step.key, tabindex: "-1", "aria-labelledby": id },
      make("h2", { id }, make("span", { text: mark }), " ", step.title),
      make("div", { class: "cl-halves" }, left, right)
    );
  }
  draw() {
    const work = this.code.work(this.setting());
    this.work = work;
    this.pictures.className = `cl-pictures ${work.layout ?? ""}`;
    work.pictures.forEach((picture, at) => {
      if (!this.#views[at]) this.pictures.append((this.#views[at] = new PictureView()).root);
      this.#views[at].fill(picture);
    });
    this.#sum(work);
    say(this.said, together(work.said));
    this.goals.replaceChildren(...(work.goals ?? []).map(goalNode));
    if (this.question) {
      this.question.asking.choices = this.code.choices?.(this.setting()) ?? [];
      this.question.refresh();
    }
    clearTimeout(this.#quiet);
    this.#quiet = setTimeout(() => say(this.aloud, work.said), QUIET);
  }
  /** @param {Work} work */
  #sum({ sums: sums2 }) {
    this.sums.replaceChildren(...[
      make("caption", { class: "cl-unseen", text: sums2.caption }),
      headRow(sums2.heads),
      make("tbody", {}, ...sums2.rows.map(sumRow))
    ].filter((node) => node !== null));
  }
  /** Where colours and sliders stand, in one line. */
  settingWords() {
    const colours = this.fields.fields.map(({ label, name }) => `${label}: ${name}`);
    const sliders = [...this.sliders.values()].map(({ data, value }) => `${data.name}: ${valueWords(data, value)}`);
    return [...colours, ...sliders].join(", ");
  }
  saidWords() {
    return saidWords(this.step.boxes, this.kept.said);
  }
  canvas() {
    return this.#views[0].canvas;
  }
  close() {
    clearTimeout(this.#quiet);
    this.request.stop();
  }
};

// lesson/lesson.js
var TURNS = { PageDown: 1, ArrowRight: 1, PageUp: -1, ArrowLeft: -1 };
var WIDTH = 1180;
var HEIGHT = 720;
var LARGEST = 2.6;
var NARROW = 640;
var READ = 0.4;
var Lesson = class {
  /** @type {StepView[]} */
  views = [];
  now = 0;
  mode = "";
  handedIn = false;
  nameless = false;
  // whether saving without a name was warned of
  /**
   * @param {HTMLElement} root
   * @param {LessonData} data
   */
  constructor(root, data) {
    this.root = root;
    this.data = data;
    this.single = data.steps.length === 1;
    this.kept = load(data.alone);
    root.className = `cl${data.alone ? " cl-alone" : ""}`;
    this.giveKeysBack = data.alone ? () => void 0 : keepKeys(root);
    this.stop = new AbortController();
    this.fill();
    const listening = { signal: this.stop.signal };
    (data.alone ? globalThis : root).addEventListener("keydown", (event) => this.#key(
      /** @type {KeyboardEvent} */
      event
    ), listening);
    globalThis.addEventListener("resize", () => this.#measure(), listening);
    if (data.alone) globalThis.addEventListener("scroll", perFrame(() => this.#read()), { ...listening, passive: true });
    this.observer = new ResizeObserver(() => this.#measure());
    this.observer.observe(root);
  }
  fill() {
    this.views.forEach((view) => view.close());
    this.views = this.data.steps.map((step) => new StepView(this.data, step, this.#keptStep(step), () => this.#keep()));
    const sections = this.views.map(({ root }) => root);
    if (this.single) {
      this.root.replaceChildren(...sections);
      this.#setMode("single");
      return;
    }
    this.steps = make("div", { class: "cl-steps" });
    this.links = this.data.steps.map((step, at) => this.#link(step, at));
    this.steps.append(...this.links);
    this.where = make("span", { class: "cl-where cl-quiet" });
    this.before = make("button", { type: "button", class: "cl-button", text: "Previous", onclick: () => this.go(this.now - 1) });
    this.after = make("button", { type: "button", class: "cl-button", text: "Next", onclick: () => this.go(this.now + 1) });
    const last = this.views[this.views.length - 1];
    if (last.step.key === "task") last.right?.append(this.#handIn());
    this.root.replaceChildren(
      this.#top(),
      make(this.data.alone ? "main" : "div", { class: "cl-main" }, this.#introduction(), ...sections),
      make("nav", { class: "cl-nav", "aria-label": "Steps" }, this.before, this.steps, this.where, this.after)
    );
    this.#setMode(this.mode || (this.data.alone ? "scroll" : "screen"));
    this.#showNow();
  }
  /** @param {StepData} step */
  #keptStep(step) {
    const kept = this.kept.steps[step.key] ??= { said: [], shown: false, colours: {}, at: {} };
    kept.said = step.boxes.map((_, at) => kept.said[at] ?? "");
    return kept;
  }
  #keep() {
    if (this.data.alone && !this.handedIn) save(this.kept);
    this.#marks();
  }
  #top() {
    this.modes = [["screen", "Step by step"], ["scroll", "All steps"]].map(([mode, text2]) => make("button", { type: "button", "data-mode": mode, text: text2, onclick: () => this.#switchTo(mode) }));
    return make(
      this.data.alone ? "header" : "div",
      { class: "cl-top" },
      make("h1", { text: "A lesson in mixing" }),
      make("div", { class: "cl-mode", role: "group", "aria-label": "How the lesson is shown" }, ...this.modes)
    );
  }
  #introduction() {
    const again = make("button", {
      type: "button",
      class: "cl-plain",
      text: "Begin again",
      "aria-label": "Begin again: forget all answers and colours",
      onclick: () => this.#beginAgain()
    });
    return make(
      "div",
      { class: "cl-introduction" },
      make("p", { text: this.data.introduction }),
      make("p", { class: "cl-quiet", text: this.data.caution }),
      this.data.alone ? make("p", { class: "cl-quiet" }, "Your answers stay in this browser until you hand them in. ", again) : null
    );
  }
  #beginAgain() {
    this.kept = nothingKept();
    this.handedIn = this.nameless = false;
    save(null);
    this.now = 0;
    this.fill();
    this.views[0].root.focus({ preventScroll: true });
  }
  #handIn() {
    this.sent = make("p", { role: "status", class: "cl-quiet" });
    const field = (key, label, fill) => make("label", {}, label, make("input", {
      class: "cl-input",
      type: "text",
      maxlength: 80,
      autocomplete: fill,
      value: this.kept[key],
      oninput: (event) => {
        this.kept[key] = /** @type {HTMLInputElement} */
        event.target.value;
        this.#keep();
      }
    }));
    return make(
      "div",
      { class: "cl-ask" },
      make("p", {}, make("b", { text: "Hand in. " }), "Your name, your answers and your cloth go into one file. Nothing is sent."),
      make(
        "div",
        { class: "cl-hand" },
        field("name", "Name", "name"),
        field("group", "Class", "off"),
        make("button", { type: "button", class: "cl-button cl-strong", text: "Save my work as a file", onclick: () => this.#save() }),
        this.sent
      )
    );
  }
  #save() {
    const task2 = this.views[this.views.length - 1];
    const { name, group } = this.kept;
    const sent = (
      /** @type {HTMLElement} */
      this.sent
    );
    if (!name.trim() && !this.nameless) {
      this.nameless = true;
      say(sent, "There is no name yet, and the file is named after you. Write it, or press again to save without.");
      return;
    }
    const file = fileName(name);
    download(file, handInHtml({
      name: name.trim(),
      group: group.trim(),
      steps: this.views.filter(({ step }) => step.number).map((view) => ({
        number: view.step.number,
        title: view.step.title,
        question: view.step.question,
        said: view.saidWords(),
        shown: view.kept.shown,
        setting: view.settingWords()
      })),
      cloth: {
        words: task2.settingWords(),
        goals: (task2.work?.goals ?? []).map(({ met, words, value }) => ({ met, words, value: `(${fixed(value)})` })),
        picture: enlarged(task2.canvas())
      }
    }), "text/html;charset=utf-8");
    this.handedIn = true;
    if (this.data.alone) save(null);
    say(sent, `Saved as ${file}, in your downloads. Give it to your teacher. This browser now forgets your answers; only this page still shows them.`);
  }
  /**
   * @param {StepData} step
   * @param {number} at
   */
  #link(step, at) {
    return make("a", {
      href: `#${step.key}`,
      text: step.number ? String(step.number) : "Last",
      title: step.title,
      onclick: (event) => {
        event.preventDefault();
        this.go(at);
      }
    });
  }
  /** Numbers: which is here, which are done. */
  #marks() {
    this.links?.forEach((link, at) => {
      const { step, kept, work } = this.views[at];
      const done = step.boxes.length ? kept.shown : Boolean(work?.goals?.every(({ met }) => met));
      link.toggleAttribute("data-done", done);
      if (at === this.now) setAttribute(link, "aria-current", "step");
      else link.removeAttribute("aria-current");
      setAttribute(link, "aria-label", `${step.number ? `Step ${step.number}` : "Last task"}: ${step.title}${done ? ", done" : ""}`);
    });
  }
  /** @param {number} at */
  go(at) {
    if (at < 0 || at >= this.views.length) return;
    this.now = at;
    this.#showNow();
    const { root } = this.views[at];
    root.focus({ preventScroll: true });
    if (this.mode === "scroll") root.scrollIntoView();
    else if (this.data.alone) scrollTo(0, 0);
  }
  #showNow() {
    this.views.forEach(({ root }, at) => root.toggleAttribute("data-now", at === this.now));
    this.#marks();
    const { step } = this.views[this.now];
    const [before, after, where] = (
      /** @type {[HTMLButtonElement, HTMLButtonElement, HTMLElement]} */
      [this.before, this.after, this.where]
    );
    say(where, step.number ? `Step ${step.number} of ${this.data.steps.filter(({ number }) => number).length}` : "Last task");
    this.#turn(before, "Previous", this.now - 1);
    this.#turn(after, "Next", this.now + 1);
  }
  /** Among all steps the one that is being read is where the reader is. */
  #read() {
    if (this.mode !== "scroll") return;
    const line = globalThis.innerHeight * READ;
    const at = this.views.findLastIndex(({ root }) => root.getBoundingClientRect().top < line);
    if (at < 0 || at === this.now) return;
    this.now = at;
    this.#showNow();
  }
  /**
   * @param {HTMLButtonElement} node
   * @param {string} word
   * @param {number} to
   */
  #turn(node, word, to) {
    const title = this.data.steps[to]?.title;
    node.disabled = title === void 0;
    setAttribute(node, "aria-label", title ? `${word}: ${title}` : word);
  }
  /** @param {string} mode */
  #switchTo(mode) {
    this.#setMode(mode);
    if (mode === "scroll" && this.now) this.views[this.now].root.scrollIntoView();
  }
  /** @param {string} mode */
  #setMode(mode) {
    this.mode = this.root.dataset.mode = mode;
    this.modes?.forEach((node) => setAttribute(node, "aria-pressed", String(node.dataset.mode === mode)));
    this.#measure();
  }
  /** One number, --u, scales a whole step: 1 at a desk, larger on a projector. */
  #measure() {
    const wide = this.root.clientWidth;
    const fits2 = Math.min(wide / WIDTH, globalThis.innerHeight / HEIGHT, LARGEST);
    const unit = this.mode === "screen" && this.data.alone && wide > NARROW ? Math.max(1, fits2) : 1;
    this.root.style.setProperty("--u", unit.toFixed(3));
  }
  /** @param {KeyboardEvent} event */
  #key(event) {
    const turn2 = event.altKey || event.ctrlKey || event.metaKey ? 0 : TURNS[event.key] ?? 0;
    const target = (
      /** @type {Element} */
      event.target
    );
    if (!turn2 || this.mode !== "screen" || target.closest?.("input, select, textarea, [role=radiogroup]")) return;
    event.preventDefault();
    this.go(this.now + turn2);
  }
  close() {
    this.stop.abort();
    this.giveKeysBack();
    this.observer.disconnect();
    this.views.forEach((view) => view.close());
  }
};
function enlarged(canvas) {
  const times = 20;
  const large = make("canvas", { width: canvas.width * times, height: canvas.height * times });
  const context = (
    /** @type {CanvasRenderingContext2D} */
    large.getContext("2d")
  );
  context.imageSmoothingEnabled = false;
  context.drawImage(canvas, 0, 0, large.width, large.height);
  return large.toDataURL("image/png");
}
function render({ model, el }) {
  const root = make("div");
  el.append(root);
  const lesson = new Lesson(root, model.get("data"));
  return () => lesson.close();
}
var own = globalThis.document?.getElementById("lesson-data");
if (own) {
  const root = make("div");
  document.body.append(root);
  new Lesson(root, JSON.parse(own.textContent ?? ""));
}
var lesson_default = { render };
export {
  lesson_default as default
};
