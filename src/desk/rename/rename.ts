/** An id changed everywhere: in the file that declares it and in every file that names it, all of them or none. */
import { readdir, readFile } from "node:fs/promises";
import { extname, join, relative, sep } from "node:path";
import { compiledIn } from "../../build/shelf.ts";
import { loadCollection } from "../../compile/load.ts";
import { remember } from "../../domain/words/remember.ts";
import { Findings } from "../../findings/finding.ts";
import type { Collection, Platform, Procedure } from "../../schema/collection.ts";
import { documentsOf } from "../../schema/documents.ts";
import { ID } from "../../schema/leaves.ts";
import type { Words } from "../../words/hear.ts";
import { wordsFor } from "../../words/words.ts";
import { contentHash } from "../disk/keep-states.ts";
import { isOwnFile } from "../disk/own-paths.ts";
import type { FileToSave } from "../disk/save.ts";
import { NIGHT } from "../../compile/photos.ts";
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
  "step",
  "platform",
] as const;
export type Renamed = (typeof RENAMED)[number];

/** Which id is to be another. */
export interface Renaming {
  readonly what: Renamed;
  /** The platform that has it, or that it is; absent for roles and incidents, which the whole collection has. */
  readonly platform?: string | undefined;
  /** Of a step: the procedure in whose file it stands. */
  readonly procedure?: string | undefined;
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
  const { from } = renaming,
    files = await loadCollection(folder, new Findings(), { compiled: compiledIn(folder) }),
    say = sayIn(files);
  const why = refusalOf(files, renaming) ?? (await whatStays(folder, renaming, say));
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
  return saved.length === 0 ? { refused: say.isGone({ from }) } : { files: saved };
}

const sayIn = ({ service }: Collection): Words["deskRename"] => wordsFor(service).deskRename;

/** Of a platform, whose folder gets the new name: what in it the desk does not write would stay behind. */
async function whatStays(
  folder: string,
  { what, from }: Renaming,
  say: Words["deskRename"],
): Promise<string | undefined> {
  if (what !== "platform") return undefined;
  const names = await readdir(join(folder, from), { recursive: true, withFileTypes: true }),
    paths = names.filter((each) => !each.isDirectory()).map((each) => join(each.parentPath, each.name));
  const other = paths
    .map((path) => relative(folder, path).split(sep).join("/"))
    .sort()
    .find((path) => !isOwnFile(path));
  return other && say.otherFiles({ other, from });
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

function refusalOf(files: Collection, renaming: Renaming): string | undefined {
  const { what, platform: on, from, to } = renaming,
    platform = files.platforms.find(({ id }) => id === on),
    say = sayIn(files);
  if (!ID.test(to)) return say.noId({ to });
  if (to === from) return say.isSame;
  if (what === "role" || what === "incident") {
    const taken =
      what === "role"
        ? [...files.service.crew.map(({ id }) => id), "both", "all"]
        : files.incidents.map(({ id }) => id);
    return taken.includes(to) ? say.taken({ to }) : undefined;
  }
  if (!platform) return say.platformGone;
  if (wasIssued(files, renaming)) return what === "platform" ? say.platformIssued({ from }) : say.issued({ from });
  if (what === "platform")
    return [...files.platforms.map(({ id }) => id), "issued", "reviews"].includes(to) ? say.taken({ to }) : undefined;
  if (what === "step") {
    const [own, ...others] = stepsOf(platform, renaming);
    if (own?.filter((id) => id === from).length !== 1)
      return own?.includes(from) ? say.several({ from, where: platform.name }) : say.isGone({ from });
    return [own, ...others].some((ids) => ids.includes(to)) ? say.taken({ to }) : undefined;
  }
  const alike = idsLike(platform, what);
  if (alike.filter((id) => id === from).length > 1) return say.several({ from, where: platform.name });
  return alike.includes(to) ? say.taken({ to }) : undefined;
}

/** Whether a document, or anything of a platform, was issued under this id, which then stays. */
export function wasIssued(
  { issued, editions = [] }: Collection,
  { what, platform, from }: Omit<Renaming, "to">,
): boolean {
  if (what === "platform") return [...issued, ...editions].some((each) => each.platform === from);
  return (
    what in FOLDERS &&
    what !== "photo" &&
    issued.some((issue) => issue.kind === what && issue.platform === platform && issue.id === from)
  );
}

/** The ids of the steps that a procedure's own file holds, then of those of each procedure that includes it. */
function stepsOf({ procedures }: Platform, { procedure }: Pick<Renaming, "procedure">): string[][] {
  const own = procedures.find(({ id }) => id === procedure);
  if (!own) return [];
  const including = procedures.filter((each) => each !== own && includes(each, own.id));
  return [
    own.steps.flatMap(({ id, procedure: written }) => (id !== undefined && written === own.id ? [id] : [])),
    ...[own, ...including].map(({ steps }) => steps.flatMap(({ id }) => id ?? [])),
  ];
}

/** Whether steps of another procedure's file stand in a procedure. */
const includes = ({ steps }: Procedure, other: string): boolean => steps.some(({ procedure }) => procedure === other);

/** Whether a file can speak of a step: the procedure's own, one that includes it, an amendment or a review of it. */
function speaksOfStep(file: string, { platform: on, procedure = "" }: Renaming, files: Collection): boolean {
  const platform = files.platforms.find(({ id }) => id === on);
  if (file.startsWith("reviews/"))
    return (
      files.reviews?.some((each) => each.file === file && each.platform === on && each.document === procedure) ?? false
    );
  return (
    platform?.procedures.some((each) => each.file === file && (each.id === procedure || includes(each, procedure))) ===
      true ||
    platform?.amendments?.some(
      (each) => each.file === file && each.amends.some(({ procedure: id }) => id === procedure),
    ) === true
  );
}

/** The ids among which one must be the only one: a file may name any of these sorts in one field. */
function idsLike(platform: Platform, what: Renamed): string[] {
  const { items, places, fastenings, photos } = platform;
  const all = ["item", "place", "fastening"].includes(what)
    ? [...items, ...places, ...fastenings]
    : what === "photo"
      ? photos
      : documentsOf(platform);
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
  if (what === "platform") return file.startsWith(`${from}/`) ? `${to}/${file.slice(from.length + 1)}` : file;
  // A picture for dark screens goes with its picture.
  const [, day] = NIGHT.exec(file) ?? [];
  if (what === "photo" && day === stem) return `${platform!}/${below}${to}${file.slice(stem.length)}`;
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
  const { what, from, to } = renaming,
    // A platform is nobody's.
    platform = what === "platform" ? undefined : renaming.platform,
    say = sayIn(files);
  // Most files say nothing of it.
  if (!text.includes(from)) return text;
  if (what === "step" && !speaksOfStep(file, renaming, files)) return text;
  const words = namesIn(file, text);
  if (!words) return { refused: say.unread({ file }) };
  const own = what === "step" ? platform : files.platforms.find(({ id }) => file.startsWith(`${id}/`))?.id;
  const meant: NamingWord[] = [];
  for (const word of words.filter((each) => each.word === from && each.names.includes(what))) {
    const on = word.platform ?? own;
    if (platform !== undefined && on !== undefined && on !== platform) continue;
    const where = say.line({ file, line: word.line });
    if (platform !== undefined && on === undefined) {
      const having = files.platforms.filter((each) => idsLike(each, what).includes(from));
      if (having.length > 1)
        return {
          refused: say.whichPlatform({ where, from, having: having.length }),
        };
    }
    if (word.from === undefined) return { refused: say.notPlain({ where, from }) };
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
