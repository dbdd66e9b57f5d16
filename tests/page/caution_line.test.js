// Cautions folded to one quiet line.

import assert from "node:assert/strict";
import { test } from "node:test";

import { cautionLine } from "../../kit/checkcloth/page/desk/hand/whole_tray.js";

/** The whole line, as it stands while it is folded. @param {Parameters<typeof cautionLine>[0]} remarks */
function lineOf(remarks) {
  const { count, which } = cautionLine(remarks);
  return `${count}${which}`;
}

test("no caution, one, and several with the kernel's short forms", () => {
  assert.equal(lineOf([["comfort", "all is well"], ["fact", "a fact"]]), "No cautions");
  assert.equal(lineOf([["caution", "stripes 2 and 4 are alike: in grey", ""]]), "1 caution: stripes 2 and 4 are alike");
  assert.equal(lineOf([["caution", "long words", "two alike in grey"], ["comfort", "x"],
    ["caution", "other long words", "one edge by hue alone"]]),
  "2 cautions: two alike in grey, one edge by hue alone");
  // Over the list of them itself the count is enough.
  assert.equal(cautionLine([["caution", "long words", "two alike in grey"]]).count, "1 caution");
  // Two of one kind differ in their text alone.
  assert.equal(lineOf([["caution", "stripes, in grey", "in grey"], ["caution", "an edge, in grey", "in grey"]]), "2 cautions: in grey");
});

test("a caution without a short form is cut", () => {
  const line = lineOf([["caution", "a very long caution that goes on and on without any comma at all"]]);
  assert.ok(line.length < 60 && line.endsWith("…"));
});
