// Nudges colours read from standard input as JSON, for test_page_nudge.py.

import { NUDGES, nudged, nudgedName } from "../../kit/checkcloth/page/shared/nudge.js";

let text = "";
for await (const part of process.stdin) text += part;
const moved = JSON.parse(text).map(([hex, axis, steps]) => {
  const nudge = NUDGES.find((one) => one.axis === axis);
  return [nudgedName("one", nudge, steps), nudged(hex, nudge, steps)];
});
process.stdout.write(JSON.stringify(moved));
