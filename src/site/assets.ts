/** Bundles stylesheets, fonts and browser modules under names that change with their content. */
import { readdirSync, readFileSync } from "node:fs";
import { basename, relative, resolve, sep } from "node:path";
import { build, type Plugin } from "esbuild";
import { onceInProcess } from "../schema/once-in-process.ts";
import { WHOLE_ROOM } from "../words/words.ts";
import type { Site } from "./site.ts";

/** What pages load beside their text: bundled styles, scripts and fonts, each named by a hash of its content. */
export interface Assets {
  /** Entry (`print.css`, `chooser.js`) -> address in the site (`assets/print-ABCD.css`). */
  readonly names: ReadonlyMap<string, string>;
  /** Address in the site -> content. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** Entry (`chooser.js`) -> what its functions say of the fixed text by `heard`, as `room.entry`. */
  readonly said: ReadonlyMap<string, readonly string[]>;
}

const assetsByRoot = onceInProcess("assets", () => new Map<string, Promise<Assets>>());

/**
 * The bundled assets of a site: `src/styles/screen.css` and `print.css`, and every
 * `src/browser/ROOM/NAME.entry.ts`. Bundled once for a process: they are code, and the same for every site.
 */
export function assetsOf({ root }: Site): Promise<Assets> {
  const assets = assetsByRoot.get(root) ?? bundle(root);
  assetsByRoot.set(root, assets);
  return assets;
}

/** Says what the assets of a site are, for a thread that is handed them. */
export function knowAssets({ root }: Site, assets: Assets): void {
  assetsByRoot.set(root, Promise.resolve(assets));
}

/**
 * Scripts become classic ones (no ES modules), since browsers refuse modules on pages opened from a folder.
 */
async function bundle(root: string): Promise<Assets> {
  const scripts = readdirSync(resolve(root, "src/browser"), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".entry.ts"))
    .sort((a, b) => (basename(a) < basename(b) ? -1 : 1));
  const [page, others] = await Promise.all([
    bundleAssets(root, [...["screen", "print"].map((name) => `src/styles/${name}.css`), `src/browser/${PAGE_SCRIPT}`]),
    bundleAssets(
      root,
      scripts.filter((name) => name !== PAGE_SCRIPT).map((name) => `src/browser/${name}`),
      [fromPage(root)],
    ),
  ]);
  const merged = <Key, Value>(one: ReadonlyMap<Key, Value>, other: ReadonlyMap<Key, Value>) =>
    new Map([...one, ...other]);
  return {
    names: merged(page.names, others.names),
    files: merged(page.files, others.files),
    said: merged(page.said, others.said),
  };
}

/** In the head of every page, before all other scripts. */
const PAGE_SCRIPT = "page.entry.ts";

/** What the page's own script has and lends to the others of the page (`browser/lend.ts`), by the file's name. */
const LENT: Readonly<Record<string, string>> = {
  "src/words/heard.ts": "heard",
  "src/words/long-words.ts": "long",
  "src/browser/tonight/out-store.ts": "out",
  "src/schema/spoken.ts": "spoken",
};

/** Functions that every page has loaded already are taken from there, and not brought once more by each script. */
function fromPage(root: string): Plugin {
  return {
    name: "from-page",
    setup({ onLoad }) {
      onLoad({ filter: new RegExp(`(?:${Object.keys(LENT).join("|")})$`) }, async ({ path }) => {
        const name = LENT[relative(root, path).split(sep).join("/")],
          own = readFileSync(path, "utf8");
        if (name === undefined) return undefined;
        const lent = [...own.matchAll(/^export function (\w+)/gm)].map(([, each]) => each!);
        return {
          contents: [
            `const lent = rerigLent.${name};`,
            ...lent.map((each) => `export const ${each} = /* @__PURE__ */ (() => lent.${each})();`),
          ].join("\n"),
          loader: "ts",
        };
      });
    },
  };
}

/** A library of units that nothing is done by loading, though it does not say so: left out where nobody asks it. */
const UNITS = "js-quantities";
const onlyIfAsked: Plugin = {
  name: "only-if-asked",
  setup({ onResolve, resolve: find }) {
    onResolve({ filter: new RegExp(`^${UNITS}$`) }, async ({ path, pluginData, ...from }) => {
      if (pluginData === UNITS) return undefined;
      return { ...(await find(path, { ...from, pluginData: UNITS })), sideEffects: false };
    });
  },
};

/** Bundles stylesheets and browser modules (`NAME.css`, `NAME.entry.ts`), named from `root`, the project's folder. */
export async function bundleAssets(
  root: string,
  entries: readonly string[],
  plugins: readonly Plugin[] = [],
): Promise<Assets> {
  const entryPoints = entries.map((name) => ({
    in: resolve(root, name),
    out: basename(name).replace(/(\.entry)?\.[a-z]+$/, ""),
  }));
  const { outputFiles, metafile } = await build({
    entryPoints,
    absWorkingDir: root,
    outdir: resolve(root, "assets"),
    write: false,
    metafile: true,
    bundle: true,
    minify: true,
    format: "iife",
    target: ["es2022", "chrome111", "firefox114", "safari16.4"],
    entryNames: "[name]-[hash]",
    assetNames: "fonts/[name]-[hash]",
    loader: { ".woff2": "file" },
    legalComments: "none",
    define: { RERIG_IN_BROWSER: "true" },
    plugins: [onlyIfAsked, ...plugins],
    logLevel: "silent",
  });
  const names = new Map<string, string>(),
    said = new Map<string, readonly string[]>();
  for (const [address, { entryPoint, inputs }] of Object.entries(metafile.outputs)) {
    if (!entryPoint) continue;
    const name = basename(entryPoint).replace(/\.entry\.ts$/, ".js");
    names.set(name, address);
    const sources = Object.keys(inputs).filter((file) => isScript(file) && inputs[file]!.bytesInOutput > 0),
      made = outputFiles.find(({ path }) => path === resolve(root, address))!.text;
    said.set(name, saidIn(sources, made, root));
  }
  return {
    names,
    said,
    files: new Map(outputFiles.map(({ path, contents }) => [relative(root, path).split(sep).join("/"), contents])),
  };
}

const isScript = (file: string): boolean => file.endsWith(".ts");

/**
 * `room.entry` of all that these files say by `heard("room").entry`, as far as it has come into the script that is made
 * of them; a room in other hands is said whole.
 */
function saidIn(files: readonly string[], made: string, root: string): readonly string[] {
  const calls = (text: string) =>
    [...text.matchAll(/[\w$]\((?:[\w$]+,\s*)?["'`](\w+)["'`]\)(?:\s*\.(\w+))?/g)].map(
      ([, room, entry = WHOLE_ROOM]) => `${room}.${entry}`,
    );
  const written = files.flatMap((file) =>
    calls(
      (readFileSync(resolve(root, file), "utf8").match(/\bheard(?:For\(\w+, |\()"\w+"\)(?:\s*\.\w+)?/g) ?? []).join(
        " ",
      ),
    ),
  );
  const left = new Set(calls(made));
  return [...new Set(written)].filter((said) => left.has(said)).sort();
}

/** What an entry's functions say of the fixed text by `heard`, as `room.entry`. */
export async function saidBy(site: Site, name: string): Promise<readonly string[]> {
  return (await assetsOf(site)).said.get(name) ?? [];
}

/** Address in the site of an entry; throws if there is none of that name. */
export async function assetNamed(site: Site, name: string): Promise<string> {
  const address = (await assetsOf(site)).names.get(name);
  if (!address) throw new Error(`No stylesheet or browser module is called ${name}`);
  return address;
}
