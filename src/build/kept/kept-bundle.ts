/**
 * What Astro has bundled of the program's pages, kept from process to process: bundling takes longer than many a site's
 * rendering. It rests on the code, the packages, the settings that are named here, and the background pages of the
 * collection, which are compared by their bytes (`PageMaker`).
 */
import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { deserialize, serialize } from "node:v8";
import { type BundleShelf, versionRunning } from "../shelf.ts";

/** Raised when what is kept of a bundle is written otherwise. */
const FORM = 2;

/** What is known of a bundle beside its files. */
export interface BundleFacts {
  /** The list of background pages, and the files that they are made of, from the collection's folder, by their hash. */
  readonly readings: string;
  readonly files: ReadonlyMap<string, string>;
  /**
   * The collection's folder, where a background page takes something from a file beside itself or elsewhere: its bundle
   * is then that of no collection in another place.
   */
  readonly place?: string;
}

interface Kept extends BundleFacts {
  /** The files of the bundle's folder, named from it with `/`. */
  readonly bundled: readonly (readonly [string, Uint8Array])[];
}

/** The parts of a bundle's key: all that it rests on beside the background pages. */
interface KeyParts {
  readonly form: number;
  /** The code that runs, and the code that is bundled. */
  readonly code: readonly string[];
  /** Where the program is: names of files stand in what is bundled. */
  readonly root: string;
  /** What of the program's folder is neither code nor a package, and is read when pages are bundled. */
  readonly beside: readonly (readonly [string, string])[];
  readonly mode: string | undefined;
}

/**
 * What a bundle is kept by, to be asked before anything is bundled. `version`: of the code that pages are bundled from.
 */
export function keyOfBundle(root: string, version: string): string {
  const parts: KeyParts = {
    form: FORM,
    code: [versionRunning(), version],
    root,
    beside: besideIn(root),
    mode: process.env["NODE_ENV"],
  };
  return createHash("sha256").update(JSON.stringify(parts)).digest("hex");
}

/** Settings, and what every site is given as it is. */
function besideIn(root: string): readonly (readonly [string, string])[] {
  const settings = readdirSync(root).filter((name) => /^(?:\.env.*|package\.json|tsconfig.*\.json)$/.test(name));
  return [...settings, ...filesIn(join(root, "public")).map((name) => `public/${name}`)].sort().map((name) => [
    name,
    createHash("sha256")
      .update(readFileSync(join(root, name)))
      .digest("hex"),
  ]);
}

/**
 * Writes the bundle that is kept under a key into a folder, and says what is known of it; `undefined`, and nothing is
 * written, where there is none, or `isOf` says that the background pages are others.
 */
export async function takeBundle(
  shelf: BundleShelf,
  key: string,
  folder: string,
  isOf: (facts: BundleFacts) => Promise<boolean>,
): Promise<BundleFacts | undefined> {
  const found = shelf.find(key);
  if (!found) return undefined;
  const { bundled, ...facts } = deserialize(found) as Kept;
  if (!(await isOf(facts))) return undefined;
  for (const parent of new Set(bundled.map(([name]) => dirname(join(folder, name)))))
    mkdirSync(parent, { recursive: true });
  for (const [name, bytes] of bundled) writeFileSync(join(folder, name), bytes);
  return facts;
}

/** Keeps what is in a bundle's folder under its key. */
export function keepBundle(shelf: BundleShelf, key: string, folder: string, facts: BundleFacts): void {
  const { readings, files, place } = facts,
    bundled = filesIn(folder).map((name) => [name, readFileSync(join(folder, name))] as const);
  shelf.put(key, serialize({ readings, files, ...(place === undefined ? {} : { place }), bundled } satisfies Kept));
}

function filesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
      .sort();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return [];
    throw error;
  }
}
