// Colours encoded on the page where it can, and asked for once where it cannot.

import assert from "node:assert/strict";
import { test } from "node:test";

import { Encoder } from "../../kit/checkcloth/page/desk/hand/encoder.js";

const LIGHT = { mixing: "source-over-linear", layout: "layered", decode: "light", warpShare: 0.5, yuleNielsen: 1 };
const PIGMENT = { ...LIGHT, mixing: "pigment", decode: "absorption" };

/** A kernel that encodes every colour as 36 times its red, and counts how often it is asked. */
function kernel() {
  const asked = [];
  const ask = async ({ recipe, colours }) => {
    asked.push({ recipe, colours });
    const values = colours.flatMap((hex) => Array(36).fill(Number.parseInt(hex.slice(1, 3), 16)));
    return { buffers: [new DataView(Float32Array.from(values).buffer)] };
  };
  return { asked, encoder: new Encoder(ask) };
}

test("linear light is worked out here, and nobody is asked", async () => {
  const { asked, encoder } = kernel();
  await encoder.learn(LIGHT, ["#ff0000"]);
  assert.deepEqual([...encoder.of(LIGHT, { hex: "#ff0000" })], [1, 0, 0]);
  assert.equal(asked.length, 0);
});

test("what only the kernel can encode it is asked for once", async () => {
  const { asked, encoder } = kernel();
  assert.equal(encoder.of(PIGMENT, { hex: "#0a0000" }), undefined);
  await Promise.all([encoder.learn(PIGMENT, ["#0a0000", "#0b0000"]), encoder.learn(PIGMENT, ["#0a0000", "#0b0000"])]);
  await encoder.learn(PIGMENT, ["#0b0000", "#0c0000", "#0c0000"]);
  assert.deepEqual(asked.map(({ colours }) => colours), [["#0a0000", "#0b0000"], ["#0c0000"]]);
  assert.deepEqual(asked[0].recipe, ["pigment", "layered", "absorption", 0.5, 1]);
  assert.deepEqual([...encoder.of(PIGMENT, { hex: "#0b0000" })], Array(36).fill(11));
});

test("an answer of another length is not taken, and a refusal is passed on", async () => {
  const short = new Encoder(async () => ({ buffers: [] }));
  await short.learn(PIGMENT, ["#0a0000"]);
  assert.equal(short.of(PIGMENT, { hex: "#0a0000" }), undefined);
  const refusing = new Encoder(async () => { throw new Error("no"); });
  await assert.rejects(refusing.learn(PIGMENT, ["#0a0000"]), /no/);
});

test("a cloth gets every encoding that is known; one that came with a colour stays", () => {
  const { encoder } = kernel();
  const own = Float32Array.of(9, 9, 9);
  const cloth = encoder.encode({ recipe: LIGHT, strength: 1, ground: { name: "", hex: "#000000", stays: false },
    stripes: [{ name: "", hex: "#ffffff", stays: true, encoded: own }] });
  assert.deepEqual([...cloth.ground.encoded], [0, 0, 0]);
  assert.equal(cloth.stripes[0].encoded, own);
  assert.equal(cloth.stripes[0].stays, true);
});
