/**
 * What is kept from one run to the next, in the project's cache folder: the one owner of its keys, its files and its
 * bounds. A folder that is damaged, foreign, of another version or not to be written costs time, and nothing else.
 */
import { createHash } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { deserialize, serialize } from "node:v8";
import type { CompiledShelf } from "../compile/kept/keep-compiled.ts";
import type { ResultShelf } from "../domain/words/keep.ts";

/** The project's own folder. */
const ROOT = resolve(import.meta.dirname, "../..");
/** Where builds work: below the project's folder, so that what Astro bundles there finds the project's packages. */
export const WORKSHOP = join(ROOT, "node_modules/.cache/rerig");
/** The project's cache: what is in it may be removed at any moment. `RERIG_CACHE` names another folder, for tests. */
export const CACHE = resolve(process.env["RERIG_CACHE"] ?? WORKSHOP);
/** Raised when files of the shelf are written otherwise. */
const FORM = 1;
/** What is kept at most; files that were not asked for longest go first. */
const MOST_KEPT = { files: 2000, bytes: 500_000_000 };
/** The folder is looked through again after so much was put there: looking at every file each time takes longer. */
const LOOK_AFTER = { files: 50, bytes: 25_000_000 };
/** Larger answers are not kept. */
const MOST_BYTES = 50_000_000;

/** A shelf in a folder, for what this version of the code works out (another `version` is for tests). */
export function shelfIn(folder = join(CACHE, "kept"), version?: string): ResultShelf {
  const fileOf = (name: string, question: string) => {
    const key = sha256(JSON.stringify([FORM, version ?? versionRunning(), name]), question);
    return { key, file: join(folder, `${/^[a-z]*/.exec(name)![0]}-${key}`) };
  };
  return {
    find: (name, question) => {
      const { key, file } = fileOf(name, question);
      try {
        const text = readFileSync(file, "utf8"),
          end = text.indexOf("\n");
        const answer = text.slice(end + 1);
        // The first line binds the answer to its question: a file that was cut, changed or moved is as good as none.
        if (end < 0 || text.slice(0, end) !== sha256(key, answer)) return undefined;
        touch(file);
        return answer;
      } catch {
        return undefined;
      }
    },
    put: (name, question, answer) => {
      if (answer.length > MOST_BYTES) return;
      const { key, file } = fileOf(name, question);
      write(file, [Buffer.from(`${sha256(key, answer)}\n${answer}`)]);
    },
  };
}

/**
 * The compiled files of one folder of the collection lie in one file of the shelf, and are read when one of them is
 * asked for. By the name of a collection's file: the key of what it was made from, and the compiled file as bytes.
 */
type Drawer = Map<string, { readonly key: string; readonly answer: Uint8Array }>;
const openDrawers = new Map<string, CompiledShelf>();

/** The shelf for the compiled files of one collection; the same one for a whole process. The rest: as above. */
export function compiledIn(collection: string, folder = join(CACHE, "kept"), version?: string): CompiledShelf {
  const own = JSON.stringify([folder, version, resolve(collection)]),
    shelf = openDrawers.get(own) ?? openCompiled(resolve(collection), folder, version ?? versionRunning());
  openDrawers.set(own, shelf);
  return shelf;
}

function openCompiled(collection: string, folder: string, version: string): CompiledShelf {
  const drawers = new Map<string, Drawer>(),
    changed = new Set<string>();
  let asked = new Set<string>();
  const fileOf = (kind: string, name: string) =>
    join(folder, `${kind}-${sha256(JSON.stringify([FORM, version, name]), collection)}`);
  const drawerOf = (name: string): Drawer => {
    const known = drawers.get(name) ?? readDrawer(fileOf("files", name));
    drawers.set(name, known);
    return known;
  };
  return {
    find: (name, question) => {
      asked.add(name);
      const found = drawerOf(topOf(name)).get(name);
      return found?.key === sha256(...question) ? found.answer : undefined;
    },
    put: (name, question, answer) => {
      drawerOf(topOf(name)).set(name, { key: sha256(...question), answer });
      changed.add(topOf(name));
    },
    hold: (name) => void asked.add(name),
    findWhole: (name) => readSealed(fileOf("folder", name)),
    putWhole: (name, answer) => writeSealed(fileOf("folder", name), answer),
    holdsWhole: (name) => existsSync(fileOf("folder", name)),
    done: () => {
      for (const top of changed) {
        const drawer = drawerOf(top);
        for (const name of drawer.keys()) if (!asked.has(name)) drawer.delete(name);
        writeSealed(fileOf("files", top), serialize(drawer));
      }
      changed.clear();
      asked = new Set();
    },
  };
}

/** Where the pages of platforms are kept: those of the last build of each, and no others. */
export interface PageShelf {
  /** What was put there for the platform under this key (64 signs); `undefined` if it was another one. */
  readonly find: (platform: string, key: string) => Uint8Array | undefined;
  readonly put: (platform: string, key: string, pages: Uint8Array) => void;
}

/** The shelf for the pages of one collection. */
export function pagesIn(collection: string, folder = join(CACHE, "pages")): PageShelf {
  const fileOf = (platform: string) => join(folder, `pages-${sha256(String(FORM), resolve(collection), platform)}`);
  return {
    find: (platform, key) => readKeyed(fileOf(platform), key),
    put: (platform, key, pages) => putKeyed(fileOf(platform), key, pages),
  };
}

/** Where bundled pages are kept: those of one version of the code. */
export interface BundleShelf {
  /** What was put there under this key (64 signs); `undefined` if it was another one. */
  readonly find: (key: string) => Uint8Array | undefined;
  readonly put: (key: string, bundle: Uint8Array) => void;
}

/** The shelf for the bundle with these background pages (`PageMaker`); one for all collections without any. */
export function bundleIn(readings: string, folder = join(CACHE, "bundles")): BundleShelf {
  const file = join(folder, `bundle-${sha256(String(FORM), readings)}`);
  return { find: (key) => readKeyed(file, key), put: (key, bundle) => putKeyed(file, key, bundle) };
}

/** The folder of the collection that a file is in. */
const topOf = (name: string): string => name.slice(0, Math.max(0, name.indexOf("/")));
/** Length of a hash in bytes. */
const HASH = 32;

/** A drawer as it was written; empty where it is not there any more. */
function readDrawer(file: string): Drawer {
  const bytes = readSealed(file);
  return bytes ? (deserialize(bytes) as Drawer) : new Map();
}

/**
 * What a file of the shelf holds behind its seal; `undefined` where it is not there, not whole any more, or was put
 * there under another name.
 */
function readSealed(file: string): Uint8Array | undefined {
  const bytes = read(file),
    content = bytes.subarray(HASH);
  if (bytes.length <= HASH || !sealOf(file, content).equals(bytes.subarray(0, HASH))) return undefined;
  touch(file);
  return content;
}

/** What a sealed file holds behind its key; `undefined` too where it was put there under another one. */
function readKeyed(file: string, key: string): Uint8Array | undefined {
  const bytes = readSealed(file);
  return bytes && Buffer.from(key).equals(bytes.subarray(0, key.length)) ? bytes.subarray(key.length) : undefined;
}

const putKeyed = (file: string, key: string, content: Uint8Array): void =>
  writeSealed(file, Buffer.concat([Buffer.from(key), content]));

function writeSealed(file: string, content: Uint8Array): void {
  if (content.length <= MOST_BYTES) write(file, [sealOf(file, content), content]);
}

/** Binds a content to the name of its file. */
function sealOf(file: string, content: Uint8Array): Buffer {
  return createHash("sha256")
    .update(`${basename(file)}\0`)
    .update(content)
    .digest();
}

/** Writes a file of the shelf whole, or not at all. */
function write(file: string, parts: readonly Uint8Array[]): void {
  const fresh = `${file}.${process.pid}.part`;
  try {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(fresh, Buffer.concat(parts));
    renameSync(fresh, file);
    keepBounded(
      dirname(file),
      parts.reduce((sum, part) => sum + part.length, 0),
    );
  } catch {
    remove(fresh);
  }
}

function remove(file: string): void {
  try {
    rmSync(file, { force: true });
  } catch {
    // A folder that can't be written to.
  }
}

/** Says that a file was asked for. */
function touch(file: string): void {
  try {
    const now = new Date();
    utimesSync(file, now, now);
  } catch {
    // Another user's folder: it goes when its owner's runs say so.
  }
}

/** What was put into a folder by this process since it was looked through. */
const sinceLook = new Map<string, { files: number; bytes: number }>();

/** Keeps a folder within its bounds; the first file that a process puts there has it looked through too. */
function keepBounded(folder: string, bytes: number): void {
  const since = sinceLook.get(folder) ?? { files: LOOK_AFTER.files, bytes: 0 };
  sinceLook.set(folder, since);
  since.files += 1;
  since.bytes += bytes;
  if (since.files < LOOK_AFTER.files && since.bytes < LOOK_AFTER.bytes) return;
  since.files = since.bytes = 0;
  clearShelf(folder, {
    files: MOST_KEPT.files - LOOK_AFTER.files,
    bytes: MOST_KEPT.bytes - LOOK_AFTER.bytes,
  });
}

/** Removes the files of a folder that were not asked for longest, till it holds no more than this. */
export function clearShelf(folder: string, most: { readonly files: number; readonly bytes: number }): void {
  const aged = readdirSync(folder)
    .map((name) => ({ name, stat: statSync(join(folder, name), { throwIfNoEntry: false }) }))
    .flatMap(({ name, stat }) => (stat ? [{ name, at: stat.mtimeMs, bytes: stat.size }] : []))
    .sort((a, b) => a.at - b.at);
  let files = aged.length,
    bytes = aged.reduce((sum, each) => sum + each.bytes, 0);
  for (const each of aged) {
    if (files <= most.files && bytes <= most.bytes) return;
    rmSync(join(folder, each.name), { force: true });
    files -= 1;
    bytes -= each.bytes;
  }
}

function sha256(...parts: readonly string[]): string {
  const hash = createHash("sha256");
  for (const part of parts) hash.update(part).update("\0");
  return hash.digest("hex");
}

/**
 * What results rest on beside their question: the code below `root` (every file of `src`, by its bytes), the packages
 * as they are installed, and Node.
 */
export function versionOfCode(root = ROOT, folders: readonly string[] = ["src"]): string {
  const code = folders
    .flatMap((folder) => readdirSync(join(root, folder), { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .sort();
  const hash = createHash("sha256").update(process.version);
  for (const file of [...code, ...INSTALLED]) {
    const bytes = read(join(root, file));
    hash.update(`\0${file}\0${bytes.length}\0`).update(bytes);
  }
  return hash.digest("hex");
}

let running: string | undefined;

/**
 * The version of the code that runs, read once for a process: it goes on as it was loaded when somebody edits `src`
 * beside it, and what it works out must not be kept as the edited code's.
 */
export const versionRunning = (): string => (running ??= versionOfCode());

/** What pages rest on beside: the code below `root` that they are bundled from, as it is now. */
export const versionOfPages = (root = ROOT): string =>
  versionOfCode(root, ["src", "components"]) + sha256(read(join(root, "astro.config.mjs")).toString("latin1"));

const INSTALLED = ["package-lock.json", "node_modules/.package-lock.json"];

function read(file: string): Buffer {
  try {
    return readFileSync(file);
  } catch {
    return Buffer.alloc(0);
  }
}
