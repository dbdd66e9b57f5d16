// Bundles the page; with --verify, compares the committed bundles with freshly made ones.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const PAGE = fileURLToPath(new URL("../../kit/checkcloth/page", import.meta.url));
const BUNDLES = { desk: "desk/view.js" };

/** @param {string} folder */
async function bundleInto(folder) {
  await build({
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
}

if (process.argv.includes("--verify")) {
  const folder = mkdtempSync(join(tmpdir(), "bundles-"));
  try {
    await bundleInto(folder);
    for (const name of Object.keys(BUNDLES)) {
      const [made, committed] = [folder, join(PAGE, "bundles")].map((where) => readFileSync(join(where, `${name}.js`)));
      if (!made.equals(committed)) {
        console.error(`bundles/${name}.js is not what its sources make: run npm run build`);
        process.exitCode = 1;
      }
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
} else await bundleInto(join(PAGE, "bundles"));
