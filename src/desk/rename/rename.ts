/** An id changed everywhere: in the file that declares it and in every file that names it, all of them or none. */
import { readdir, readFile } from "node:fs/promises";
import { extname, join } from "node:path";
import { compiledIn } from "../../build/shelf.ts";
import { loadCollection } from "../../compile/load.ts";
import { remember } from "../../domain/words/remember.ts";
import { Findings } from "../../findings/finding.ts";
import type { Collection, Platform } from "../../schema/collection.ts";
import { ID } from "../../schema/leaves.ts";
import { contentHash } from "../keep-states.ts";
import { isOwnFile } from "../own-paths.ts";
import type { FileToSave } from "../save.ts";
import { kindOfFile } from "../screens/guide-of.ts";
import { splice } from "../edits/splice.ts";
import { linksTo } from "./links-to.ts";
import { type NamingWord, namesIn } from "./names-in.ts";

/** What can be given another id at the desk. */
export const RENAMED = [
  "item",
  "place",
  "fastening",
  "configuration",
  "option",
  "procedure",
  "role",
  "incident",
  "photo",
] as const;
export type Renamed = (typeof RENAMED)[number];

/** Which id is to be another. */
export interface Renaming {
  readonly what: Renamed;
  /** The platform that has it; absent for roles and incidents, which the whole collection has. */
  readonly platform?: string | undefined;
  readonly from: string;
  readonly to: string;
}

/** The files to save, or why there are none, in a sentence. */
type Renamings = { readonly files: readonly FileToSave[] } | { readonly refused: string };

/** Where a document or a photo of that sort lies in its platform's folder. */
const FOLDERS: Readonly<Partial<Record<Renamed, string>>> = {
  procedure: "",
  configuration: "configurations/",
  option: "options/",
  photo: "photos/",
};

/**
 * What has to be written so that the collection in a folder says the new id wherever it says the old one. What was
 * issued is not touched: it is as it was frozen. Refused where the new id is none or is taken, where a document of
 * that id was issued, and where a file can't be read or says the id so that nobody can tell what it means.
 */
export async function renameIn(folder: string, renaming: Renaming): Promise<Renamings> {
  const { what, platform, from } = renaming,
    files = await loadCollection(folder, new Findings(), { compiled: compiledIn(folder) });
  const why = refusalOf(files, renaming);
  if (why !== undefined) return { refused: why };
  const saved: FileToSave[] = [];
  for (const file of await ownFiles(folder)) {
    const isText = [".mdx", ".yaml"].includes(extname(file));
    const path = newPath(file, renaming);
    if (!isText && path === file) continue;
    const bytes = await readFile(join(folder, file)),
      basedOn = contentHash(bytes);
    let made: string | Buffer = bytes;
    if (isText) {
      const text = bytes.toString("utf8"),
        changed = changeIn(file, text, renaming, files);
      if (typeof changed !== "string") return changed;
      if (changed !== text) made = changed;
    }
    if (path !== file) saved.push({ path: file, basedOn, text: null }, { path, basedOn: null, text: made });
    else if (made !== bytes) saved.push({ path, basedOn, text: made });
  }
  if (saved.length === 0) return { refused: `There is no ${what} \`${from}\`${platform ? ` in ${platform}` : ""}` };
  return { files: saved };
}

/** How many issued documents name it: they stay as they were issued. */
export function issuedNaming({ issued }: Collection, { platform, from }: Omit<Renaming, "to">): number {
  const word = new RegExp(`"(?:\\d+ )?${from}"`);
  const own = issued.filter((issue) => platform === undefined || issue.platform === platform);
  const naming = own.filter((issue) => word.test(frozenText(issue)));
  return new Set(naming.map((issue) => `${issue.kind} ${issue.platform}/${issue.id}`)).size;
}

const frozenText = remember(({ content, head }: Collection["issued"][number]) =>
  JSON.stringify([content, head?.["uses"]]),
);

function refusalOf(files: Collection, { what, platform: on, from, to }: Renaming): string | undefined {
  const platform = files.platforms.find(({ id }) => id === on);
  if (!ID.test(to)) return `\`${to}\` can't be an id: write small letters, digits and hyphens, such as \`head-pin\``;
  if (to === from) return "That is its id already";
  if (what === "role" || what === "incident") {
    const taken =
      what === "role"
        ? [...files.service.crew.map(({ id }) => id), "both", "all"]
        : files.incidents.map(({ id }) => id);
    return taken.includes(to) ? `\`${to}\` is taken: choose another` : undefined;
  }
  if (!platform) return "There is no such platform any more: go back to the start of the desk";
  if (
    what in FOLDERS &&
    what !== "photo" &&
    files.issued.some((issue) => issue.kind === what && issue.platform === on && issue.id === from)
  )
    return (
      `\`${from}\` was issued under this id, which stands on cards, in sign-offs and in the history, and stays as it ` +
      "was issued. To use another id, withdraw it and begin a new one"
    );
  const alike = idsLike(platform, what);
  if (alike.filter((id) => id === from).length > 1)
    return (
      `Several things of ${platform.name} are called \`${from}\`, so that nobody can tell which of them a file ` +
      "names: change it in the text"
    );
  return alike.includes(to) ? `\`${to}\` is taken: choose another` : undefined;
}

/** The ids among which one must be the only one: a file may name any of these sorts in one field. */
function idsLike(platform: Platform, what: Renamed): string[] {
  const { items, places, fastenings, procedures, configurations, options, photos } = platform;
  const all = ["item", "place", "fastening"].includes(what)
    ? [...items, ...places, ...fastenings]
    : what === "photo"
      ? photos
      : [...procedures, ...configurations, ...options];
  return [...all.map(({ id }) => id), ...(what === "place" ? ["aside"] : [])];
}

/** The files of a collection that people write, in the order of their names. */
async function ownFiles(folder: string): Promise<string[]> {
  const names = await readdir(folder, { recursive: true });
  return names
    .map((name) => name.replaceAll("\\", "/"))
    .filter(isOwnFile)
    .sort();
}

/** Where a file lies when its document or photo has the new id. */
function newPath(file: string, { what, platform, from, to }: Renaming): string {
  const below = FOLDERS[what],
    stem = `${platform ?? ""}/${below ?? ""}${from}`;
  const isIt =
    below !== undefined &&
    file.slice(0, -extname(file).length) === stem &&
    (what === "photo") === (kindOfFile(file)?.id === "photo" || extname(file) !== ".mdx");
  return isIt ? `${platform!}/${below}${to}${extname(file)}` : file;
}

/** The text with the new id; or why it can't be changed. */
function changeIn(
  file: string,
  text: string,
  renaming: Renaming,
  files: Collection,
): string | { readonly refused: string } {
  const { what, platform, from, to } = renaming;
  // Most files say nothing of it.
  if (!text.includes(from)) return text;
  const words = namesIn(file, text);
  if (!words) return { refused: `${file} can't be read, and may name it: mend that file first` };
  const own = files.platforms.find(({ id }) => file.startsWith(`${id}/`))?.id;
  const meant: NamingWord[] = [];
  for (const word of words.filter((each) => each.word === from && each.names.includes(what))) {
    const on = word.platform ?? own;
    if (platform !== undefined && on !== undefined && on !== platform) continue;
    const where = `${file}, line ${word.line}`;
    if (platform !== undefined && on === undefined) {
      const having = files.platforms.filter((each) => idsLike(each, what).includes(from));
      if (having.length > 1)
        return {
          refused: `${where} names \`${from}\`, which ${having.length} platforms have: change it there in the text`,
        };
    }
    if (word.from === undefined)
      return {
        refused: `${where} says \`${from}\` in a way that can't be changed alone: write it plainly there first`,
      };
    meant.push(word);
  }
  const bom = text.startsWith("\ufeff") ? 1 : 0;
  const places = new Set([
    ...meant.map((word) => word.from! + bom),
    ...linksTo(file, text, renaming).map((at) => at + bom),
  ]);
  return splice(
    text,
    [...places].map((at) => ({ from: at, to: at + from.length, text: to })),
  );
}
