// What a client said of a colourway, in words.
import assert from "node:assert/strict";
import { test } from "node:test";
import { saidWords } from "../../kit/checkcloth/page/desk/client_panel.js";

test("answer, remark, or both", () => {
  assert.equal(saidWords({ answer: "yes", remark: "" }), "Client: yes");
  assert.equal(saidWords({ answer: "no", remark: "too pale" }), "Client: no. too pale");
  assert.equal(saidWords({ answer: "", remark: "for napkins?" }), "Client: for napkins?");
});
