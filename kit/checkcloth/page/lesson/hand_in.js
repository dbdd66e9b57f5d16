// What a pupil hands in: one HTML file that opens anywhere and asks for nothing. No DOM here.

import { together } from "./numbers.js";

const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";
const STYLE = "body{font:16px/1.5 system-ui,sans-serif;max-width:48em;margin:24px auto;padding:0 16px;color:#1c1c1c;background:#fff}" +
  "table{border-collapse:collapse;width:100%}th,td{text-align:left;vertical-align:top;padding:4px 12px 4px 0;border-top:1px solid #ccc}" +
  "th{font-weight:600}img{image-rendering:pixelated;max-width:100%;border:1px solid #999}h1{font-size:24px}h2{font-size:18px}" +
  "@media screen and (max-width:640px){thead{display:none}tr,th,td{display:block}tr{border-top:1px solid #ccc;padding:8px 0}" +
  "th,td{border:0;padding:2px 0}td[data-head]::before{content:attr(data-head) \": \";color:#595959}}" +
  "@page{size:A4;margin:15mm}@media print{body{font-size:10pt;margin:0}}";

// Not written out: the page that holds this code stands between such tags itself.
const END = "</";

/** @param {string} text */
export function escape(text) {
  return text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}

const HEADS = ["Step", "Question", "Own answer", "Our answer", "Colours and sliders"];

/** @param {string} text */
function written(text) {
  return together(escape(text));
}

/**
 * A file name of letters and digits, whatever the pupil is called.
 * @param {string} name
 */
export function fileName(name) {
  const plain = name.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "");
  return `mixing-${plain.slice(0, 40) || "no-name"}.html`;
}

/**
 * @typedef {object} HandIn
 * @property {string} name
 * @property {string} group
 * @property {{number: number, title: string, question: string, said: string, shown: boolean, setting: string}[]} steps
 * @property {{words: string, goals: {met: boolean, words: string, value: string}[], picture: string}} cloth
 */

/** @param {HandIn} work */
export function handInHtml({ name, group, steps, cloth }) {
  const who = [name || "no name", group].filter(Boolean).map(escape).join(", ");
  const rows = steps.map(({ number, title, question, said, shown, setting }) =>
    `<tr><th scope="row">${number}</th><td><b>${escape(title)}</b><br>${written(question)}</td>` +
    `<td data-head="${HEADS[2]}">${written(said || "nothing written")}</td><td data-head="${HEADS[3]}">${shown ? "seen after" : "not seen"}</td>` +
    `<td data-head="${HEADS[4]}">${written(setting)}</td></tr>`).join("");
  const many = steps.filter(({ said }) => said).length;
  const heads = HEADS.map((head) => `<th scope="col">${head}</th>`).join("");
  const goals = cloth.goals.map(({ met, words, value }) =>
    `<li><b>${met ? "Met." : "Not yet."}</b> ${escape(words)} ${escape(value)}</li>`).join("");
  return "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">" +
    `<meta http-equiv="Content-Security-Policy" content="${POLICY}">` +
    `<meta name="viewport" content="width=device-width, initial-scale=1"><title>Mixing: ${who}</title><style>${STYLE}${END}style></head><body>` +
    `<main><h1>A lesson in mixing: ${who}</h1><p>${many} of ${steps.length} questions answered.</p><table><thead><tr>${heads}</tr></thead><tbody>${rows}</tbody></table>` +
    `<h2>My cloth</h2><p>${escape(cloth.words)}</p><ul>${goals}</ul>` +
    `<img alt="${escape(cloth.words)}" width="540" src="${escape(cloth.picture)}"></main></body></html>\n`;
}
