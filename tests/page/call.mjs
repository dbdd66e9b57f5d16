// Calls functions of the page's modules: on standard input [[module, function, arguments], ...],
// on standard output the answers, in JSON. Modules are named from kit/checkcloth/page.

import { readFileSync } from "node:fs";

const asJson = (_key, value) => (ArrayBuffer.isView(value) ? [...value] : value);
const answers = [];
for (const [module, name, given] of JSON.parse(readFileSync(0, "utf-8"))) {
  const found = await import(new URL(`../../kit/checkcloth/page/${module}`, import.meta.url));
  answers.push(found[name](...given));
}
process.stdout.write(JSON.stringify(answers, asJson));
