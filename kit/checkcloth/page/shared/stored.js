// What this browser keeps for a page. A private window, or one that forbids it, keeps nothing.

/** @param {string} key */
export function stored(key) {
  try {
    return globalThis.localStorage?.getItem(key) ?? "";
  } catch {
    return "";
  }
}

/**
 * @param {string} key
 * @param {string} text "" takes it away
 */
export function store(key, text) {
  try {
    if (text) globalThis.localStorage?.setItem(key, text);
    else globalThis.localStorage?.removeItem(key);
  } catch {
    // nothing is kept
  }
}
