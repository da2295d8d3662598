/** Generated edits of a collection of several platforms, of any of its files and of what is kept of it. */
import {
  cpSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { basename, join, resolve } from "node:path";
import fc from "fast-check";
import { runHere } from "../commands/run-here.ts";

const collections = resolve(import.meta.dirname, "../fixtures/collections");

/** Folders of a test that edits: `work` is its own, `whole` the collection before edits, `folder` the edited one. */
export interface Edited {
  readonly work: string;
  readonly whole: string;
  readonly folder: string;
}

/** Writes a collection of three platforms with frozen issues, cards in folders and incidents. */
export async function writeWhole({ work, whole, folder }: Edited): Promise<void> {
  cpSync(join(collections, "theatre"), whole, { recursive: true });
  // A question that concerns the one platform that has the arrangement, and all of them where none has it.
  const service = join(whole, "service.yaml");
  writeFileSync(
    service,
    `${readFileSync(service, "utf8")}\n` +
      "doubt: [{weight: from 50 kg to under 55 kg, say: Ask again, fetch: [child-shell]}]\n",
  );
  // A third platform, with errors of its own: it names a crew of another service.
  cpSync(join(collections, "sled/sled"), join(whole, "sled"), { recursive: true });
  cpSync(join(collections, "theatre"), join(work, "issuing"), { recursive: true });
  const { status } = await runHere(["issue", "--procedures", join(work, "issuing")], "2026-11-28");
  if (status !== 0) throw new Error(`The collection could not be issued: ${status}`);
  cpSync(join(work, "issuing/issued"), join(whole, "issued"), { recursive: true });
  writeFileSync(join(work, "outside.yaml"), "name: Outside\n");
  cpSync(whole, folder, { recursive: true });
}

const KINDS = [
  "word",
  "number",
  "line out",
  "line twice",
  "line moved",
  "renamed",
  "away",
  "copied",
  "photos exchanged",
  "no text",
  "too large",
  "link",
  "folder copied",
  "folder away",
  "issue edited",
  "day",
  "cache cut",
  "cache turned",
  "cache exchanged",
  "cache away",
  "undone",
  "undone",
  "undone",
  "undone",
  "undone",
  "nothing",
] as const;
/** An edit: what is done, and numbers between 0 and 1 that say where. */
export const anyEdit = fc.record({
  how: fc.constantFrom(...KINDS),
  at: fc.double({ min: 0, max: 0.999, noNaN: true }),
  to: fc.double({ min: 0, max: 0.999, noNaN: true }),
  which: fc.nat(9),
});
export type Edit = typeof anyEdit extends fc.Arbitrary<infer T> ? T : never;
/** Days on which different things of that collection are in force or due. */
export const EDIT_DAYS = ["2026-11-28", "2026-11-29", "2026-03-01", "2027-07-01", "2029-01-01"];

/** Files below a folder whose names end so, in the order of their names. */
export const filesIn = (of: string, ending: RegExp) =>
  (existsSync(of) ? readdirSync(of, { recursive: true, encoding: "utf8" }) : [])
    .filter((name) => ending.test(name))
    .sort()
    .map((name) => join(of, name));
/** The one of a list that a number between 0 and 1 says. */
export const pick = <T>(list: readonly T[], at: number): T | undefined => list[Math.floor(at * list.length)];

/** Edits the folder, or a file of `cache`. */
export function edit({ work, whole, folder }: Edited, { how, at, to, which }: Edit, cache: string): void {
  const texts = filesIn(folder, how === "issue edited" ? /issued.*\.json$/ : /^(?!issued).*\.(?:mdx|yaml)$/),
    kept = filesIn(cache, /-/),
    // What stands beside the platforms is a few files of many, and rests in every answer.
    beside = texts.filter((name) => ["service.yaml", "incidents.yaml", "folders.yaml"].includes(basename(name))),
    file = how.startsWith("cache") ? pick(kept, at) : pick(which < 3 ? beside : texts, at);
  if (how === "undone") {
    rmSync(folder, { recursive: true, force: true });
    cpSync(whole, folder, { recursive: true });
  }
  if (how === "folder copied") cpSync(join(folder, "wagon"), join(folder, "wagon-two"), { recursive: true });
  if (how === "folder away")
    rmSync(join(folder, pick(["wagon-two", "sled", "reviews"], at)!), { recursive: true, force: true });
  if (how === "photos exchanged") {
    const photos = filesIn(folder, /photos.*\.(?:jpg|png)$/),
      [one, other] = [pick(photos, at), pick(photos, to)];
    if (one && other) exchange(one, other);
  }
  if (!file || !existsSync(file)) return;
  const lines = () => readFileSync(file, "utf8").split("\n");
  const number = Math.floor(to * lines().length);
  const put = (changed: readonly string[]) => writeFileSync(file, changed.join("\n"));
  if (how === "line out") put(lines().toSpliced(number, 1));
  if (how === "line twice" || how === "issue edited") put(lines().toSpliced(number, 0, lines()[number]!));
  if (how === "line moved") put([...lines().toSpliced(number, 1), lines()[number]!]);
  if (how === "word" || how === "number") {
    const text = readFileSync(file, "utf8"),
      found = pick([...text.matchAll(how === "word" ? /[a-z]{4,}/g : /\d+/g)], to);
    if (found)
      writeFileSync(
        file,
        text.slice(0, found.index) +
          (how === "word" ? `${found[0].slice(1)}x` : String(Number(found[0]) + 1)) +
          text.slice(found.index + found[0].length),
      );
  }
  if (how === "renamed") renameSync(file, file.replace(/(\.\w+)$/, "-x$1"));
  if (how === "away") rmSync(file);
  if (how === "copied") cpSync(file, file.replace(/(\.\w+)$/, "-two$1"));
  if (how === "no text") writeFileSync(file, "\0");
  if (how === "too large") writeFileSync(file, Buffer.alloc(2_000_001, 32));
  if (how === "link") {
    rmSync(file);
    symlinkSync(join(work, "outside.yaml"), file);
  }
  if (how === "cache cut") truncateSync(file, Math.floor(to * readFileSync(file).length));
  if (how === "cache turned") {
    const bytes = readFileSync(file);
    if (bytes.length) bytes[Math.floor(to * bytes.length)]! ^= 1;
    writeFileSync(file, bytes);
  }
  if (how === "cache exchanged") exchange(file, pick(kept, to)!);
  if (how === "cache away") rmSync(file);
}

function exchange(one: string, other: string): void {
  const [a, b] = [readFileSync(one), readFileSync(other)];
  writeFileSync(one, b);
  writeFileSync(other, a);
}
