// Answers stay in this browser until they are handed in; where it keeps nothing, only a reload forgets.

const KEY = "checkcloth lesson in mixing";

/**
 * @typedef {object} KeptStep
 * @property {string[]} said
 * @property {boolean} shown
 * @property {Record<string, string>} colours
 * @property {Record<string, number>} at
 *
 * @typedef {{name: string, group: string, steps: Record<string, KeptStep>}} Kept
 */

/** @returns {Kept} */
export function nothingKept() {
  return { name: "", group: "", steps: {} };
}

/**
 * @param {unknown} value
 * @returns {value is Record<string, unknown>}
 */
function isRecord(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/**
 * @param {unknown} record
 * @param {string} kind
 */
function onlyOf(record, kind) {
  /** @type {any} */
  const kept = isRecord(record) ? Object.fromEntries(Object.entries(record).filter(([, value]) => typeof value === kind)) : {};
  return kept;
}

/** @param {unknown} value */
function text(value) {
  return typeof value === "string" ? value : "";
}

/** @param {Record<string, unknown>} step */
function keptStep(step) {
  const said = Array.isArray(step.said) ? step.said.map(text) : [];
  return { said, shown: step.shown === true, colours: onlyOf(step.colours, "string"), at: onlyOf(step.at, "number") };
}

/**
 * What was kept, whatever stands there: another program's, half of it, nothing.
 * @param {string | null} json
 * @returns {Kept}
 */
export function readKept(json) {
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
    steps: Object.fromEntries(steps.map(([key, step]) => [key, keptStep(/** @type {Record<string, unknown>} */ (step))])),
  };
}

/** @param {boolean} alone whether this page keeps anything */
export function load(alone) {
  try {
    return readKept(alone ? globalThis.localStorage.getItem(KEY) : null);
  } catch {
    return nothingKept();
  }
}

/** @param {Kept | null} kept null forgets */
export function save(kept) {
  try {
    if (kept) globalThis.localStorage.setItem(KEY, JSON.stringify(kept));
    else globalThis.localStorage.removeItem(KEY);
  } catch {
    // this browser keeps nothing
  }
}
