/** Bundles stylesheets, fonts and browser modules under names that change with their content. */
import { readdirSync } from "node:fs";
import { basename, relative, resolve, sep } from "node:path";
import { build, type Plugin } from "esbuild";
import { en, numbers } from "../words/en.ts";
import type { WordRoom } from "../words/hear.ts";
import type { Site } from "./site.ts";

/** What pages load beside their text: bundled styles, scripts and fonts, each named by a hash of its content. */
export interface Assets {
  /** Entry (`print.css`, `chooser.js`) -> address in the site (`assets/print-ABCD.css`). */
  readonly names: ReadonlyMap<string, string>;
  /** Address in the site -> content. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** Astro loads the modules of pages apart from those of the build around them: both ask for the same assets. */
const KEY = Symbol.for("rerig.assets");
type Holder = { [KEY]?: Map<string, Promise<Assets>> };

/**
 * The bundled assets of a site: `src/styles/screen.css` and `print.css`, and every
 * `src/browser/ROOM/NAME.entry.ts`. Bundled once for a process: they are code, and the same for every site.
 */
export function assetsOf({ root }: Site): Promise<Assets> {
  const known = ((globalThis as Holder)[KEY] ??= new Map<string, Promise<Assets>>()),
    assets = known.get(root) ?? bundle(root);
  known.set(root, assets);
  return assets;
}

/**
 * Scripts become classic ones (no ES modules), since browsers refuse modules on pages opened from a folder.
 */
async function bundle(root: string): Promise<Assets> {
  const scripts = readdirSync(resolve(root, "src/browser"), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".entry.ts"))
    .sort((a, b) => (basename(a) < basename(b) ? -1 : 1));
  return bundleAssets(root, [
    ...["screen", "print"].map((name) => `src/styles/${name}.css`),
    ...scripts.map((name) => `src/browser/${name}`),
  ]);
}

/** Rooms that functions say which pages share with scripts, as cards do: no script carries more of the table. */
const SHARED_ROOMS: readonly WordRoom[] = ["load"];

/** Puts only these into a script, whatever it takes in: the whole table would be a third of a page's weight. */
const fewWords: Plugin = {
  name: "few-words",
  setup({ onLoad }) {
    const table = Object.fromEntries(SHARED_ROOMS.map((room) => [room, en[room]]));
    const contents = `export const numbers = ${JSON.stringify(numbers)}, en = ${JSON.stringify(table)};`;
    onLoad({ filter: /[/\\]words[/\\]en\.ts$/ }, () => ({ loader: "js", contents }));
  },
};

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
export async function bundleAssets(root: string, entries: readonly string[]): Promise<Assets> {
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
    plugins: [fewWords, onlyIfAsked],
    logLevel: "silent",
  });
  const names = new Map<string, string>();
  for (const [address, { entryPoint }] of Object.entries(metafile.outputs)) {
    if (entryPoint)
      names.set(
        entryPoint
          .split("/")
          .at(-1)!
          .replace(/\.entry\.ts$/, ".js"),
        address,
      );
  }
  return {
    names,
    files: new Map(outputFiles.map(({ path, contents }) => [relative(root, path).split(sep).join("/"), contents])),
  };
}

/** Address in the site of an entry; throws if there is none of that name. */
export async function assetNamed(site: Site, name: string): Promise<string> {
  const address = (await assetsOf(site)).names.get(name);
  if (!address) throw new Error(`No stylesheet or browser module is called ${name}`);
  return address;
}
