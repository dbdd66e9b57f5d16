// Files, pixels, resolutions and bytes of an export, in words. No DOM here.

import { sizeWords } from "../../shared/sent_file.js";
import { capital, counted } from "../../shared/words.js";

/** @typedef {[kind: string, files: number, across: [number, number] | null, dpi: string[], bytes: number]} Part */

/**
 * A resolution: whole where it is, else exactly, as a mixed number.
 * @param {string} dpi a whole number, or a fraction "2540/17"
 */
export function dpiWords(dpi) {
  const [over, under] = dpi.split("/").map(Number);
  if (!under || over % under === 0) return `${over / (under || 1)} dpi`;
  const whole = Math.floor(over / under);
  return `${whole ? `${whole} ` : ""}${over % under}/${under} dpi`;
}

/** @param {[number, number] | null} across pixels of the least picture and of the largest */
export function pixelWords(across) {
  if (!across) return "";
  const [least, most] = across.map((pixels) => pixels.toLocaleString("en"));
  return least === most ? `${most} px across` : `${least} to ${most} px across`;
}

/**
 * Files of one kind, in one line. What a tile's name says of its resolution is left to the exact one.
 * @param {Part} part
 */
export function partWords([kind, files, across, dpi]) {
  const many = files === 1 ? kind : `${files} × ${kind}`;
  const asked = / at ([\d.]+) dpi$/.exec(kind)?.[1];
  const exact = dpi.filter((one) => one !== asked).map(dpiWords);
  return [many, pixelWords(across), exact.length ? `exact at ${exact.join(" and ")}` : ""].filter(Boolean).join(", ");
}

/** @param {number} bytes */
export function aboutWords(bytes) {
  return bytes ? sizeWords(bytes) : "";
}

/**
 * @param {number} files
 * @param {string} folder that it goes to, where that is another than the one named
 */
export function exportWords(files, folder) {
  const many = `Export ${counted(files, "file")}`;
  return folder ? `${many} to ${folder}` : many;
}

/**
 * One thing that a pre-flight looked at; named are a few of those that it is of, where it is not of all.
 * @typedef {[item: string, passes: boolean, found: string, limit: string, reason: string, names: string[], many: number]} Looked
 */

/** @param {Looked} row */
export function preflightWords([item, , found, limit, reason]) {
  return `${item}: ${found}; wanted: ${limit}${reason && `. ${capital(reason)}`}`;
}

/** @param {Looked} row */
export function whoseWords([, , , , , names, many]) {
  if (!names.length) return many < 3 ? ["", "the one colourway", "both colourways"][many] : `all ${many.toLocaleString("en")} colourways`;
  const more = many - names.length;
  return more ? `${names.join(", ")} and ${more.toLocaleString("en")} more` : names.join(", ");
}
