// Cautions folded to one quiet line.

import assert from "node:assert/strict";
import { test } from "node:test";

import { cautionLine } from "../../kit/checkcloth/page/desk/hand/rest_tray.js";

test("no caution, one, and several with the kernel's short forms", () => {
  assert.equal(cautionLine([["comfort", "all is well"], ["fact", "a fact"]]), "No cautions");
  assert.equal(cautionLine([["caution", "stripes 2 and 4 are alike: in grey", ""]]), "1 caution: stripes 2 and 4 are alike");
  assert.equal(cautionLine([["caution", "long words", "two alike in grey"], ["comfort", "x"],
    ["caution", "other long words", "one edge by hue alone"]]),
  "2 cautions: two alike in grey, one edge by hue alone");
  // Two of one kind differ in their text alone.
  assert.equal(cautionLine([["caution", "stripes, in grey", "in grey"], ["caution", "an edge, in grey", "in grey"]]), "2 cautions: in grey");
});

test("a caution without a short form is cut", () => {
  const line = cautionLine([["caution", "a very long caution that goes on and on without any comma at all"]]);
  assert.ok(line.length < 60 && line.endsWith("…"));
});
