// Runs the page's arithmetic over cases that test_page_mixing.py wrote.
//
//     node tests/page/mix_cases.mjs FOLDER      (in a browser: import and call runCases)

import * as mixing from "../../kit/checkcloth/page/shared/mixing.js";
import * as spaces from "../../kit/checkcloth/page/shared/spaces.js";
import * as vision from "../../kit/checkcloth/page/shared/vision.js";

const FUNCTIONS = { ...mixing, ...spaces, ...vision };

/** Call a function once for each list of arguments; an error's message is an answer too. */
function callEach({ name, calls }) {
  return calls.map((given) => {
    try {
      const answer = FUNCTIONS[name](...given);
      return ArrayBuffer.isView(answer) ? [...answer] : answer;
    } catch (error) {
      return String(error);
    }
  });
}

/**
 * @param cases batches to mix, each {recipe, vision, stripes, wefts, count}, and functions to call
 * @param colours Float32Array of all batches, one after the other
 * @param strengths Float32Array, one a colourway
 * @returns {{tones: Uint8Array, answers: unknown[]}}
 */
export function runCases({ batches, functions }, colours, strengths) {
  const bytes = ({ stripes, wefts, count }) => count * (stripes + 1) * ((wefts || stripes) + 1) * 3;
  const tones = new Uint8Array(batches.reduce((sum, batch) => sum + bytes(batch), 0));
  let from = 0;
  let to = 0;
  let number = 0;
  for (const batch of batches) {
    const { recipe, vision: seen, stripes, wefts, count } = batch;
    for (let k = 0; k < count; k++) {
      mixing.mixTones(recipe, strengths[number++], colours, from, stripes, tones, to, seen, wefts);
      from += (stripes + wefts + 1) * mixing.channelsOf(recipe);
      to += bytes({ stripes, wefts, count: 1 });
    }
  }
  return { tones, answers: functions.map(callEach) };
}

if (typeof process !== "undefined") {
  const { readFileSync, writeFileSync } = await import("node:fs");
  const folder = process.argv[2];
  // A copy of its own: what readFileSync gives may begin anywhere in a buffer.
  const bytes = (name) => new Uint8Array(readFileSync(`${folder}/${name}`));
  const floats = (name) => new Float32Array(bytes(name).buffer);
  const cases = JSON.parse(readFileSync(`${folder}/cases.json`, "utf-8"));
  const { tones, answers } = runCases(cases, floats("colours.bin"), floats("strengths.bin"));
  writeFileSync(`${folder}/tones.bin`, tones);
  writeFileSync(`${folder}/answers.json`, JSON.stringify(answers));
}
