// Time of mixing 5,000 colourways of six stripes (49 tones each): node tests/page/bench_mixing.mjs

import { channelsOf, mixTones } from "../../kit/checkcloth/page/shared/mixing.js";

const COUNT = 5000;
const STRIPES = 6;
const ROUNDS = 7;
const RECIPES = [
  ["source-over", "layered", "as-is", 1],
  ["multiply", "multiply", "as-is", 1],
  ["source-over-linear", "layered", "light", 1],
  ["woven", "woven", "light", 1],
  ["woven", "woven", "light", 1.7],
  ["pigment", "layered", "absorption", 1],
];

/** K/S of a smooth reflectance with one hill, as the kernel's recovered spectra are. */
function smoothSpectrum(bands, next) {
  const [level, height, phase] = [2 * next() - 1.5, 1.5 * next(), 2 * Math.PI * next()];
  bands.forEach((_, band) => {
    const z = level + height * Math.cos((1.5 * Math.PI * band) / bands.length + phase);
    const reflectance = (1 + Math.tanh(z)) / 2;
    bands[band] = (1 - reflectance) ** 2 / (2 * reflectance);
  });
}

const out = new Uint8Array(COUNT * (STRIPES + 1) ** 2 * 3);
for (const [mixing, layout, decode, yuleNielsen] of RECIPES) {
  const recipe = { mixing, layout, decode, warpShare: 0.5, yuleNielsen };
  const channels = channelsOf(recipe);
  const size = (STRIPES + 1) * channels;
  let seed = 1;
  const next = () => (seed = (seed * 48271) % 2147483647) / 2147483647;
  const colours = new Float32Array(COUNT * size);
  for (let at = 0; at < colours.length; at += channels) {
    if (channels === 3) for (let c = 0; c < 3; c++) colours[at + c] = next();
    else smoothSpectrum(colours.subarray(at, at + channels), next);
  }
  for (const vision of ["normal", "deutan", "tritan"]) {
    const times = [];
    for (let round = 0; round < ROUNDS; round++) {
      const start = performance.now();
      for (let k = 0; k < COUNT; k++) {
        mixTones(recipe, 0.5, colours, k * size, STRIPES, out, k * 147, vision);
      }
      times.push(performance.now() - start);
    }
    times.sort((a, b) => a - b);
    console.log(`${mixing} n=${yuleNielsen} ${vision}: ${times[ROUNDS >> 1].toFixed(1)} ms`);
  }
}
