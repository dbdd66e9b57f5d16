// The wall's tones: mixed when they are asked for, and again only when something has changed.

import assert from "node:assert/strict";
import { test } from "node:test";

import { colourOffsets, keptTones, WallTones } from "../../kit/checkcloth/page/desk/tones.js";
import { mixTones } from "../../kit/checkcloth/page/shared/mixing.js";

// As the kernel sends recipes, and as they are mixed by.
const SENT_OVER = ["source-over", "layered", "as-is", 0.5, 1];
const SENT_PIGMENT = ["pigment", "layered", "absorption", 0.5, 1];
const [OVER, PIGMENT] = [SENT_OVER, SENT_PIGMENT].map(
  ([mixing, layout, decode, warpShare, yuleNielsen]) => (
    { mixing, layout, decode, warpShare, yuleNielsen }));
// One stripe over white, then two over black by pigment: absorptions of 36 bands each.
const FIRST = [1, 1, 1, 0.2, 0.4, 0.6];
const SECOND = Array.from({ length: 3 * 36 }, (_, i) => (i < 36 ? 4 : (i % 36) / 40));

function modelOf(changes = {}) {
  const traits = {
    counts: Uint8Array.of(1, 2),
    recipes: [SENT_PIGMENT, SENT_OVER],
    recipe_of: Uint8Array.of(1, 0),
    strengths: Float32Array.of(0.25, 0.75),
    colours: Float32Array.from([...FIRST, ...SECOND]),
    strength: 0.5,
    vision: "normal",
    numbers: [7, 8],
    facts: {},
    ...changes,
  };
  return { traits, get: (name) => traits[name] };
}

function mixed(recipe, strength, offset, stripes, vision = "normal") {
  const out = new Uint8Array(3 * (stripes + 1) ** 2);
  mixTones(recipe, strength, Float32Array.from([...FIRST, ...SECOND]), offset, stripes, out, 0, vision);
  return out;
}

test("colours of three channels and of 36 bands lie one after the other", () => {
  const colourways = [{ recipe: OVER, stripes: 1 }, { recipe: PIGMENT, stripes: 2 }, { recipe: OVER, stripes: 5 }];
  assert.deepEqual(colourOffsets(colourways), [0, 6, 6 + 108, 6 + 108 + 18]);
  assert.deepEqual(colourOffsets([]), [0]);
});

test("each is mixed by its own recipe, at the wall's strength", () => {
  const tones = new WallTones(modelOf());
  assert.deepEqual([tones.stripes(0), tones.stripes(1), tones.stripes(2)], [1, 2, 0]);
  assert.deepEqual(tones.of(0), mixed(OVER, 0.5, 0, 1));
  assert.deepEqual(tones.of(1), mixed(PIGMENT, 0.5, 6, 2));
});

test("without a strength of the wall each has its own", () => {
  const tones = new WallTones(modelOf({ strength: null }));
  assert.deepEqual(tones.of(0), mixed(OVER, 0.25, 0, 1));
  assert.deepEqual(tones.of(1), mixed(PIGMENT, 0.75, 6, 2));
  assert.equal(tones.meanStrength, 0.5);
});

test("what is by hand keeps its own strength", () => {
  const tones = new WallTones(modelOf({ facts: { own: [7] } }));
  assert.deepEqual(tones.of(0), mixed(OVER, 0.25, 0, 1));
  assert.deepEqual(tones.of(1), mixed(PIGMENT, 0.5, 6, 2));
});

test("a colourway under the hand is shown as it is there, until the kernel tells of it", () => {
  const tones = new WallTones(modelOf());
  const bytes = mixed(OVER, 1, 0, 1);
  assert.equal(tones.put(0, bytes), true);
  assert.deepEqual(tones.of(0), bytes);
  assert.equal(tones.put(1, bytes), false, "it has another number of stripes");
  assert.equal(tones.put(-1, bytes), false, "it is not on the wall");
  tones.take();
  assert.deepEqual(tones.of(0), mixed(OVER, 0.5, 0, 1));
});

test("strength and vision are followed once it is said that they changed, and not before", () => {
  const model = modelOf();
  const tones = new WallTones(model);
  const before = tones.of(0).slice();
  model.traits.strength = 1;
  assert.deepEqual(tones.of(0), before, "nothing is mixed twice for nothing");
  tones.invalidate();
  assert.deepEqual(tones.of(0), mixed(OVER, 1, 0, 1));
  model.traits.vision = "protan";
  tones.invalidate();
  assert.deepEqual(tones.of(0), mixed(OVER, 1, 0, 1, "protan"));
});

test("another deal is taken in", () => {
  const model = modelOf();
  const tones = new WallTones(model);
  tones.of(0);
  Object.assign(model.traits, { counts: Uint8Array.of(2), recipe_of: Uint8Array.of(0),
    strengths: Float32Array.of(0.75), colours: Float32Array.from(SECOND) });
  tones.take();
  assert.deepEqual(tones.of(0), mixed(PIGMENT, 0.5, 6, 2));
  assert.equal(tones.stripes(1), 0);
});

test("half a message is no wall", () => {
  const whole = modelOf().traits;
  for (const half of [{ colours: whole.colours.slice(0, -1) }, { recipes: [] },
    { recipe_of: Uint8Array.of(1) }, { counts: Uint8Array.of(1, 2, 3) }]) {
    const tones = new WallTones(modelOf(half));
    assert.equal(tones.stripes(0), 0);
    assert.equal(tones.meanStrength, 0.5);
  }
});

test("what is kept is mixed at its own strength and mixing", () => {
  const kept = [
    { count: 2, recipe: SENT_PIGMENT, strength: 0.3 },
    { count: 1, recipe: SENT_OVER, strength: 0.9 },
  ];
  const [pigment, over] = keptTones(kept, Float32Array.from([...SECOND, ...FIRST]));
  assert.deepEqual(pigment, mixed(PIGMENT, 0.3, 6, 2));
  assert.deepEqual(over, mixed(OVER, 0.9, 0, 1));
});
