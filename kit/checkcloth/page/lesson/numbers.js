// Numbers in words. What is exact is shown exactly; nothing shows the sign of a zero.

/**
 * A share as per cent with as many decimals as it has, two at most: "21 %", "22.75 %".
 * @param {number} share
 */
export function exact(share) {
  return `${Math.round(share * 1e4) / 100} %`;
}

/**
 * With so many decimals, a true minus sign, and none before a zero.
 * @param {number} value
 * @param {number} [digits]
 */
export function fixed(value, digits = 1) {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}

/**
 * A share as per cent with one decimal.
 * @param {number} share
 * @param {number} [digits]
 */
export function percent(share, digits = 1) {
  return `${fixed(share * 100, digits)} %`;
}

/**
 * What was typed as a number, a comma taken for a point; NaN where it is none.
 * @param {string} text
 */
export function readNumber(text) {
  const clean = text.trim().replace(",", ".").replace(/\s*(%|m|ends)$/, "");
  return /^[+-]?\d*\.?\d+$/.test(clean) ? Number(clean) : NaN;
}

/**
 * Cut a long name.
 * @param {string} text
 * @param {number} [longest]
 */
export function cut(text, longest = 16) {
  return text.length > longest ? `${text.slice(0, longest - 1)}…` : text;
}

/**
 * Keep a number and its sign, or what it is a number of, on one line.
 * @param {string} text
 */
export function together(text) {
  return text.replace(/(\d|ΔE00|=|≥|n =) (?=[%\d]|[cm]?m\b|in\b)/g, "$1\u00a0");
}
