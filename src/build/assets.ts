/** Bundles stylesheets, fonts and browser modules under names that change with their content. */
import { readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { build } from "esbuild";
import { currentJob } from "./job.ts";

export interface Assets {
  /** Entry (`print.css`, `chooser.js`) -> address in the site (`assets/print-ABCD.css`). */
  readonly names: ReadonlyMap<string, string>;
  /** The parts of `screen.css` in their order; each page gets those that it uses (`finish-pages.ts`). */
  readonly parts: readonly StylePart[];
  /** Address in the site -> content. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** A part of the screen's stylesheet: one file of `src/styles/`. */
export interface StylePart {
  readonly css: string;
  /** Class names in its selectors. */
  readonly classes: ReadonlySet<string>;
  /** Whether every page has it. */
  readonly always: boolean;
}

/** Parts that dress what every page has. */
const ALWAYS = ["tokens", "base", "top", "parts", "foot"];

/** The bundled assets of the build that is under way: `src/styles/print.css`, every `src/browser/NAME.entry.ts`, and the parts that `src/styles/screen.css` lists. */
export function assetsOf(job = currentJob()): Promise<Assets> {
  return (job.assets ??= bundle(job.root));
}

/**
 * Scripts become classic ones (no ES modules), since browsers refuse modules on pages opened from a folder.
 */
async function bundle(root: string): Promise<Assets> {
  const partNames = [...readFileSync(resolve(root, "src/styles/screen.css"), "utf8").matchAll(/@import "([\w-]+)\.css"/g)].map(([, name]) => name!);
  const scripts = readdirSync(resolve(root, "src/browser")).filter((name) => name.endsWith(".entry.ts"));
  const entryPoints = [
    ...["print", ...partNames].map((name) => ({ in: resolve(root, `src/styles/${name}.css`), out: name })), ...scripts.map((name) => ({ in: resolve(root, "src/browser", name), out: name.replace(".entry.ts", "") })),
  ];
  const { outputFiles, metafile } = await build({
    entryPoints, absWorkingDir: root, outdir: resolve(root, "assets"), write: false, metafile: true, bundle: true, minify: true,
    format: "iife", target: ["es2022", "chrome111", "firefox114", "safari16.4"], entryNames: "[name]-[hash]", assetNames: "fonts/[name]-[hash]",
    loader: { ".woff2": "file" }, legalComments: "none", logLevel: "silent",
  });
  const names = new Map<string, string>(), files = new Map(outputFiles.map(({ path, contents }) => [path.slice(root.length + 1).replaceAll("\\", "/"), contents]));
  for (const [address, { entryPoint }] of Object.entries(metafile.outputs)) {
    if (entryPoint) names.set(entryPoint.split("/").at(-1)!.replace(/\.entry\.ts$/, ".js"), address);
  }
  const parts = partNames.map((name) => {
    const address = names.get(`${name}.css`)!, css = new TextDecoder().decode(files.get(address));
    files.delete(address);
    names.delete(`${name}.css`);
    return { css, classes: classesIn(css), always: ALWAYS.includes(name) };
  });
  return { names, parts, files };
}

/** Class names in the selectors of a stylesheet. */
function classesIn(css: string): Set<string> {
  return new Set([...css.matchAll(/\.([A-Za-z_][\w-]*)(?=[^;}]*\{)/g)].map(([, name]) => name!));
}

/** Address in the site of an entry; throws if there is none of that name. */
export async function assetNamed(name: string): Promise<string> {
  const address = (await assetsOf()).names.get(name);
  if (!address) throw new Error(`No stylesheet or browser module is called ${name}`);
  return address;
}
