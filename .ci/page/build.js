// Bundles the page; with --verify, compares the committed bundles with freshly
// made ones and names modules that are in none.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const PAGE = fileURLToPath(new URL("../../kit/checkcloth/page", import.meta.url));
const BUNDLES = {
  desk: "desk/view.js",
  file_field: "forms/file_field.js",
  lesson: "lesson/lesson.js",
  range: "range/range.js",
};
/** Style sheets that make one, in this order. */
const STYLES = { desk: ["desk/desk.css", "desk/hand.css", "desk/export.css"] };

const NO_CODE = ["desk/types.js", "lesson/types.js"];

/**
 * @param {string} folder
 * @returns {Promise<string[]>} the modules that went into the bundles
 */
async function bundleInto(folder) {
  const { metafile } = await build({
    metafile: true,
    absWorkingDir: PAGE,
    entryPoints: BUNDLES,
    outdir: folder,
    bundle: true,
    format: "esm",
    target: "es2022",
    charset: "utf8",
    legalComments: "inline",
    banner: { js: "// Made from page/ by `npm run build` in .ci/page; not to be edited." },
    logLevel: "warning",
  });
  for (const [name, sheets] of Object.entries(STYLES)) {
    const texts = sheets.map((sheet) => `/* page/${sheet} */\n${readFileSync(join(PAGE, sheet), "utf8")}`);
    writeFileSync(join(folder, `${name}.css`), texts.join("\n"));
  }
  return Object.keys(metafile.inputs);
}

/** @param {string} words */
function fail(words) {
  console.error(words);
  process.exitCode = 1;
}

if (process.argv.includes("--verify")) {
  const folder = mkdtempSync(join(tmpdir(), "bundles-"));
  try {
    const used = new Set([...(await bundleInto(folder)), ...NO_CODE]);
    const rooms = ["shared", "desk", "desk/hand", "desk/export", "forms", "lesson", "lesson/steps", "range"];
    for (const room of rooms) {
      for (const file of readdirSync(join(PAGE, room)).filter((name) => name.endsWith(".js"))) {
        if (!used.has(`${room}/${file}`)) fail(`${room}/${file} is in no bundle`);
      }
    }
    const files = [...Object.keys(BUNDLES).map((name) => `${name}.js`), ...Object.keys(STYLES).map((name) => `${name}.css`)];
    for (const file of files) {
      const [made, committed] = [folder, join(PAGE, "bundles")].map((where) => readFileSync(join(where, file)));
      if (!made.equals(committed)) fail(`bundles/${file} is not what its sources make: run npm run build`);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
} else await bundleInto(join(PAGE, "bundles"));
