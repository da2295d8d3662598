/** Reads a whole collection: every file once, every finding of a run at once. */
import { existsSync, readdirSync, statSync } from "node:fs";
import type { Stats } from "node:fs";
import { findPackageJSON } from "node:module";
import { basename, dirname, extname, join, resolve, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { Findings } from "../findings/finding.ts";
import type {
  CardEdition,
  Collection,
  Configuration,
  Issued,
  KeptPicture,
  Platform,
  Reading,
  Review,
  Service,
} from "../schema/collection.ts";
import { ID } from "../schema/leaves.ts";
import { Files } from "../read/files.ts";
import { hashFile } from "../read/image.ts";
import { type MarkdownFile, readMarkdown, readPage } from "../read/markdown.ts";
import type { Source } from "../read/source.ts";
import { isCopy, reportUnread } from "../read/unread.ts";
import { compileAmendment } from "./amendment.ts";
import { compileConfiguration, compileOption } from "./configuration.ts";
import { DIRECTIVES } from "./text/directives.ts";
import type { Compiled, Context } from "./document.ts";
import { type CompiledShelf, sayContext, viaCompiled } from "./kept/keep-compiled.ts";
import { type Loaded, PLATFORM_PACKING } from "./kept/keep-platform.ts";
import { compileIssued } from "./issued.ts";
import { resolveName } from "./names.ts";
import type { Known, Names } from "./names.ts";
import { compilePhoto, NIGHT } from "./photos.ts";
import { checkPlaced } from "./text/placed.ts";
import type { PlacedComponent } from "./text/placed.ts";
import { type AskedFiles, readAgain } from "./kept/read-again.ts";
import { compileReading } from "./reading.ts";
import { compileReview } from "./review.ts";
import { compilePlatform } from "./platform.ts";
import { assembleProcedures, compileProcedure } from "./procedure.ts";
import { type CardNames, compileFolders, compileIncidents, compileService } from "./service.ts";
import { factsOf } from "../schema/platform-facts.ts";
import { slugOf } from "../schema/wording.ts";

/** There is no collection where one was looked for. */
export class NoCollection extends Error {
  constructor(folder: string, reason: string) {
    super(`${folder} ${reason}`);
    this.name = "NoCollection";
  }
}

const IMAGES = new Set([".jpg", ".jpeg", ".png", ".webp"]);

/** The names of the components that authors may place. */
export function listAuthorComponents(): ReadonlySet<string> {
  const folder = fileURLToPath(new URL("../../components/author/", import.meta.url));
  try {
    return new Set(
      readdirSync(folder)
        .filter((name) => name.endsWith(".astro"))
        .map((name) => name.slice(0, -".astro".length)),
    );
  } catch {
    return new Set();
  }
}

/** What of a collection is read beside its texts. */
export interface LoadOptions {
  /**
   * Hash the file of every photo, for an issue that is about to be written; else only of those whose hash an issue has.
   */
  readonly hashPhotos?: boolean;
  /** Where compiled files are kept; left out, each is compiled anew. */
  readonly compiled?: CompiledShelf;
}

/**
 * The collection in a folder; what is wrong with it goes to `findings`, at its place, and gets a stand-in.
 * Throws `NoCollection` if there is no such folder or no service.yaml in it.
 */
export async function loadCollection(
  folder: string,
  findings: Findings,
  { hashPhotos = false, compiled }: LoadOptions = {},
): Promise<Collection> {
  const beside = await readBeside(folder, findings, { hashPhotos, compiled }),
    { files, top, service, incidents, issued, editions, pictures } = beside;
  const platforms: Platform[] = [],
    shelves = new Map<string, Loaded>();
  for (const name of top.folders)
    if (name !== "issued") {
      const platform = await readPlatform(name, folder, beside);
      if (platform) {
        platforms.push(platform.platform);
        shelves.set(name, platform);
      }
    }
  compiled?.done();
  await reportUnread(
    "",
    top,
    {
      reads: (name) => ["service.yaml", "folders.yaml", "incidents.yaml"].includes(name),
      folders: new Set(["issued", "reviews", ...shelves.keys()]),
    },
    files,
  );
  checkPlaced(
    [...shelves.values()].flatMap(({ placed }) => placed),
    shelves,
    findings,
  );
  if (platforms.length === 0)
    findings.error("text/missing-field", service.where, {
      message: "There is no platform in this collection",
      fix: "Add a folder with platform.yaml, equipment.yaml and the folder configurations",
    });
  const reviews = await loadReviews(files, top.folders, platforms);
  const aside = await namesAside(files, top.folders);
  const cardsOn = (on: readonly Platform[]): CardNames => {
    const named = (word: string, kind: "configurations" | "options"): Known => {
      const ids = on.flatMap((platform) => factsOf(platform)[kind]);
      return { ...known(word, ids, `the folder ${kind}`, true), aside: aside[kind] };
    };
    return {
      configurations: named("configuration", "configurations"),
      options: named("option", "options"),
      aside: aside.platforms,
    };
  };
  const cards = cardsOn(platforms),
    cardsByPlatform = new Map(platforms.map((platform) => [platform.id, cardsOn([platform])]));
  const doubts = service.doubts?.map((doubt) => ({
    ...doubt,
    fetch: doubt.fetch.map(({ id, where }) => ({
      id: resolveName(cards.configurations, id, where, findings),
      where,
    })),
  }));
  const demands = service.demands && resolveDemands(service.demands, platforms, findings);
  const foldersSource = top.files.includes("folders.yaml") ? files.read("folders.yaml") : undefined;
  return {
    service: {
      ...service,
      ...(doubts ? { doubts } : {}),
      ...(demands ? { demands } : {}),
      ...(platforms.length > 1 ? { hasSeveral: true as const } : {}),
    },
    platforms,
    folders: foldersSource ? compileFolders(foldersSource, cards, cardsByPlatform, findings) : [],
    incidents,
    ...(reviews.length ? { reviews } : {}),
    issued,
    ...(editions.length ? { editions } : {}),
    ...(pictures.length ? { pictures } : {}),
  };
}

/**
 * Reads platforms of a collection onto its shelf, one after the other as they come, for who then reads it whole: what
 * is wrong is said to him. Throws as `loadCollection` does.
 */
export async function readPlatforms(
  folder: string,
  names: Iterable<string>,
  { hashPhotos = false, compiled }: LoadOptions,
): Promise<void> {
  const beside = await readBeside(folder, new Findings(), { hashPhotos, compiled });
  for (const name of names) await readPlatform(name, folder, beside);
  compiled?.done();
}

/** What stands beside the platforms, and what they are all read with. */
type Beside = Awaited<ReturnType<typeof readBeside>>;

async function readBeside(
  folder: string,
  findings: Findings,
  {
    hashPhotos,
    compiled,
  }: Required<Pick<LoadOptions, "hashPhotos">> & { readonly compiled: CompiledShelf | undefined },
) {
  if (!statOf(folder)?.isDirectory()) throw new NoCollection(folder, "is not a folder");
  if (!statOf(join(folder, "service.yaml"))?.isFile())
    throw new NoCollection(folder, "has no service.yaml: it is not a collection");
  const files = new Files(folder, findings),
    top = await files.list("");
  const serviceSource = files.read("service.yaml");
  const { service, complete: isServiceWhole } = compileService(serviceSource, findings);
  const incidentsSource = top.files.includes("incidents.yaml") ? files.read("incidents.yaml") : undefined;
  const { incidents, complete } = incidentsSource
    ? compileIncidents(incidentsSource, findings)
    : { incidents: [], complete: true };
  const isIncidentsWhole =
    complete &&
    !findings.list.some(({ file, rule }) => file === "incidents.yaml" && (rule === "text/syntax" || !incidentsSource));
  const { issued, editions, pictures } = await loadIssued(files, findings, compiled);
  const hashed = new Set(
    issued.flatMap(({ platform, content }) => hashedPhotos(content).map((id) => `${platform}/${id}`)),
  );
  const shared: Shared = {
    isHashed: (platform: string, photo: string) => hashPhotos || hashed.has(`${platform}/${photo}`),
    roles: known(
      "crew role",
      service.crew.map((role) => role.id),
      "service.yaml",
      isServiceWhole && service.crew.length > 0,
    ),
    incidents: known(
      "incident",
      incidents.map((incident) => incident.id),
      "incidents.yaml",
      isIncidentsWhole,
    ),
    components: listAuthorComponents(),
    compiled,
  };
  return { files, findings, top, service, incidents, issued, editions, pictures, shared };
}

/** A platform as it was read before, or read now; `undefined` for a folder that is none. */
async function readPlatform(
  name: string,
  folder: string,
  { findings, issued, shared }: Beside,
): Promise<Loaded | undefined> {
  return readAgain(
    shared.compiled,
    {
      name,
      said: sayShared(shared),
      here: issued.map(numberOf).join(" "),
      root: folder,
      others: othersOf(shared, folder),
      packing: PLATFORM_PACKING,
    },
    findings,
    async (asked) => loadPlatform(name, asked, shared),
  );
}

/** What reviewers said, file by file. */
async function loadReviews(
  files: Files,
  folders: readonly string[],
  platforms: readonly Platform[],
): Promise<readonly Review[]> {
  if (!folders.includes("reviews")) return [];
  const listing = await files.list("reviews"),
    reads = (name: string) => name.endsWith(".yaml");
  await reportUnread("reviews", listing, { reads, folders: new Set() }, files);
  return listing.files
    .filter((name) => reads(name) && !isCopy(name))
    .flatMap((name) => compileReview(files.read(`reviews/${name}`), platforms, files.findings) ?? []);
}

/** What feeds a demand is an item of some platform, and one that holds gas. */
function resolveDemands(
  demands: NonNullable<Service["demands"]>,
  platforms: readonly Platform[],
  findings: Findings,
): NonNullable<Service["demands"]> {
  const items = platforms.flatMap((platform) => platform.items);
  const names = known(
    "item",
    items.map(({ id }) => id),
    "equipment.yaml",
    !findings.list.some(({ rule, file }) => rule === "text/syntax" && file.endsWith("/equipment.yaml")),
  );
  return demands.map((demand) => ({
    ...demand,
    from: demand.from.map(({ id: written, where }) => {
      const id = resolveName(names, written, where, findings);
      if (names.ids.has(id) && !items.some((item) => item.id === id && (item.contentsLitres || item.at.contents)))
        findings.error("text/bad-value", where, {
          message: `\`${id}\` feeds a demand and says nowhere how much gas it holds`,
          fix: `Add \`contents\` to \`${id}\` in equipment.yaml, such as \`430 l\`, or remove it here`,
        });
      return { id, where };
    }),
  }));
}

/** What a path leads to; nothing if it leads nowhere, or round in a circle of links. */
function statOf(path: string): Stats | undefined {
  try {
    return statSync(path);
  } catch {
    return undefined;
  }
}

interface Shared {
  readonly isHashed: (platform: string, photo: string) => boolean;
  readonly roles: Known;
  readonly incidents: Known;
  readonly components: ReadonlySet<string>;
  readonly compiled: CompiledShelf | undefined;
}

/**
 * What platforms that are set aside have, each with its folder: named in a binder, it is not to be written anew. The
 * platform itself bears the name that it had.
 */
async function namesAside(files: Files, folders: Iterable<string>) {
  const platforms = new Map<string, string>(),
    named = { configurations: new Map<string, string>(), options: new Map<string, string>() };
  for (const folder of folders) {
    if (!folder.startsWith("_") || !(await files.list(folder)).files.includes("platform.yaml")) continue;
    platforms.set(folder.slice(1), folder);
    for (const kind of ["configurations", "options"] as const)
      for (const name of (await files.list(`${folder}/${kind}`)).files)
        if (isMarkdown(name)) named[kind].set(name.replace(/\.mdx$/i, ""), folder);
  }
  return { platforms, ...named };
}

function known(word: string, ids: Iterable<string>, declaredIn: string, complete: boolean): Known {
  return { word, ids: new Set(ids), declaredIn, complete };
}

/** What all platforms are read with, beside what is asked. */
const sayShared = ({ roles, incidents, components }: Shared): string =>
  JSON.stringify([roles, incidents, components], (_key, value: unknown) =>
    value instanceof Set ? [...(value as Iterable<unknown>)] : value,
  );

/** What a process remembers of a platform's records may rest on what was issued: after an issue they are others. */
const numbers = new WeakMap<Issued, number>();
let numbered = 0;

/** A number for each record of an issue: one that says something else is another record. */
function numberOf(issue: Issued): number {
  const number = numbers.get(issue) ?? (numbered += 1);
  numbers.set(issue, number);
  return number;
}

/** What a platform asks beside its files. */
const othersOf = ({ isHashed }: Shared, root: string) => ({
  isHashed,
  finds: (from: string, importer: string) => isThere(root, from, importer),
});

async function loadPlatform(folder: string, files: AskedFiles, shared: Shared): Promise<Loaded | undefined> {
  const { findings } = files;
  // Set aside, as the guide says: nothing reads it.
  if (folder.startsWith("_")) return undefined;
  const listing = await files.list(folder);
  const has = (name: string) => listing.files.includes(name);
  if (
    !has("platform.yaml") &&
    !has("equipment.yaml") &&
    !["configurations", "options"].some((name) => listing.folders.includes(name)) &&
    !listing.files.some((name) => name.endsWith(".mdx"))
  )
    return undefined;
  reportId(folder, `${folder}/platform.yaml`, "folder", findings);
  const [platformSource, equipmentSource] = ["platform.yaml", "equipment.yaml"].map((name) =>
    has(name) ? files.read(`${folder}/${name}`) : undefined,
  );
  const { platform, complete, doubtful } = compilePlatform(folder, platformSource, equipmentSource, findings);
  const [configurations, options] = [
    await listMarkdown(`${folder}/configurations`, files, findings),
    await listMarkdown(`${folder}/options`, files, findings),
  ];
  const procedures = await listMarkdown(folder, files, findings, listing.files);
  await reportUnread(
    folder,
    listing,
    {
      reads: (name) => name === "platform.yaml" || name === "equipment.yaml" || isMarkdown(name),
      folders: new Set(["configurations", "options", "photos", "reading", "amendments"]),
    },
    files,
  );
  for (const name of ["configurations", "options", "reading", "amendments"])
    await reportUnread(
      `${folder}/${name}`,
      await files.list(`${folder}/${name}`),
      { reads: isMarkdown, folders: new Set() },
      files,
    );
  const doubted = (...args: Parameters<typeof known>): Known => ({ ...known(...args), doubtful });
  const names: Names = {
    items: doubted(
      "item",
      platform.items.map((item) => item.id),
      "equipment.yaml",
      complete,
    ),
    places: doubted(
      "place",
      ["aside", ...platform.places.map((place) => place.id)],
      "platform.yaml or equipment.yaml",
      complete,
    ),
    fastenings: doubted(
      "fastening",
      platform.fastenings.map((fastening) => fastening.id),
      "platform.yaml",
      complete,
    ),
    states: new Map(
      platform.fastenings
        .filter((fastening) => fastening.states.length > 0)
        .map((fastening) => [fastening.id, fastening.states]),
    ),
    options: known(
      "option",
      options.map(({ id }) => id),
      "the folder options",
      true,
    ),
    configurations: known(
      "configuration",
      configurations.map(({ id }) => id),
      "the folder configurations",
      true,
    ),
    procedures: known(
      "procedure",
      procedures.map(({ id }) => id),
      `the folder ${folder}`,
      true,
    ),
    roles: shared.roles,
    incidents: shared.incidents,
  };
  const context: Context = {
    platform: folder,
    names,
    directives: DIRECTIVES,
    components: shared.components,
    finds: (from, importer) => files.other<boolean>("finds", from, importer),
    findings,
  };
  const placed: PlacedComponent[] = [],
    said = sayContext(context);
  // One file after the other is parsed and compiled, so that only one syntax tree is kept at a time.
  const compileAll = <T>(
    list: readonly MarkdownName[],
    compile: (file: MarkdownFile, id: string, context: Context) => Compiled<T>,
  ): T[] =>
    list.map(({ id, path }) => {
      const source = files.read(path);
      const { value, placed: own } = viaCompiled(shared.compiled, compile.name, source, said, findings, (heard) =>
        compile(readMarkdown(source, heard), id, { ...context, findings: heard }),
      );
      placed.push(...own);
      return value;
    });
  const drafts = compileAll(procedures, compileProcedure);
  const amendments = compileAll(await listMarkdown(`${folder}/amendments`, files, findings), compileAmendment);
  // What a page imports is looked for each time.
  const readings = (await listMarkdown(`${folder}/reading`, files, findings)).map(({ id, path }) => {
    const { value, placed: own } = compileReading(readPage(files.read(path), findings), id, context);
    placed.push(...own);
    return value;
  });
  const whole: Platform = {
    id: folder,
    ...platform,
    ...(platform.confirms
      ? {
          confirms: {
            ...platform.confirms,
            id: resolveName(names.procedures, platform.confirms.id, platform.confirms.where, findings),
          },
        }
      : {}),
    configurations: inOrder(compileAll(configurations, compileConfiguration)),
    options: compileAll(options, compileOption),
    procedures: assembleProcedures(drafts, findings),
    photos: await loadPhotos(folder, files, shared, context, said),
    readings: inReadingOrder(readings),
    ...(amendments.length > 0
      ? { amendments: amendments.toSorted((a, b) => (a.from === b.from ? 0 : a.from < b.from ? -1 : 1)) }
      : {}),
  };
  return { platform: whole, names, placed };
}

/** By `order`, then by title. */
function inReadingOrder(readings: readonly Reading[]): Reading[] {
  const place = (reading: Reading) => reading.order ?? Infinity;
  return [...readings].sort((a, b) => (place(a) === place(b) ? (a.title < b.title ? -1 : 1) : place(a) - place(b)));
}

/** By the lower end of the weights, then by file name. */
function inOrder(configurations: readonly Configuration[]): Configuration[] {
  const low = ({ band: { weight } }: Configuration) => weight.from?.value ?? -1n;
  return [...configurations].sort((a, b) => (low(a) < low(b) ? -1 : low(a) > low(b) ? 1 : a.file < b.file ? -1 : 1));
}

interface MarkdownName {
  readonly id: string;
  readonly path: string;
}

function isMarkdown(name: string): boolean {
  return extname(name) === ".mdx";
}

async function listMarkdown(
  folder: string,
  files: Files,
  findings: Findings,
  names?: readonly string[],
): Promise<MarkdownName[]> {
  const listed: MarkdownName[] = [];
  const listing = names ?? (await files.list(folder)).files;
  for (const name of listing) {
    const path = `${folder}/${name}`;
    if (!isMarkdown(name) || isCopy(name) || name.startsWith("_")) continue;
    const id = basename(name, ".mdx");
    reportId(id, path, "file", findings, listing);
    listed.push({ id, path });
  }
  return listed;
}

/** Names that editors and file managers give to locks, backups and copies. */
const SPARE = /^~|^\.|^#|~$|\bcopy\b|\(\d+\)$|\bbackup\b|\.(?:bak|old)$/i;

/** `beside`: names of the files in the same folder, onto none of which a file may be told to be renamed. */
function reportId(id: string, file: string, what: string, findings: Findings, beside: readonly string[] = []): void {
  if (ID.test(id)) return;
  const proper = slugOf(id);
  findings.error(
    "text/bad-value",
    { file, line: 1, column: 1 },
    {
      message: `Unexpected ${what} name \`${id}\`, expected lower-case letters, digits and hyphens`,
      fix: renaming(id, proper, beside),
      actual: id,
      expected: renaming(id, proper, beside).startsWith("Rename it to") ? [proper] : [],
    },
  );
}

/** What to do about a file's name: a spare file is to go, and no file is put in another's place. */
function renaming(id: string, proper: string, beside: readonly string[]): string {
  if (SPARE.test(id))
    return (
      "If an editor or a file manager made it (a lock, a backup, a copy), move it out of the collection; if it is " +
      "a document of its own, give it a name of its own of lower-case letters, digits and hyphens, and its own " +
      "`title` and `code`"
    );
  if (!proper) return "Give it a name of lower-case letters, digits and hyphens";
  return beside.some((name) => name.replace(/\.[a-z]+$/i, "") === proper)
    ? `Give it another name: \`${proper}\` is taken`
    : `Rename it to \`${proper}\``;
}

async function loadPhotos(
  folder: string,
  files: AskedFiles,
  { compiled }: Shared,
  context: Context,
  said: string,
): Promise<Platform["photos"]> {
  const { findings } = context;
  const listing = await files.list(`${folder}/photos`),
    images = new Map<string, string>(),
    nights = new Map<string, string>(),
    sidecars = new Map<string, string>();
  const isImage = (name: string) => IMAGES.has(extname(name).toLowerCase());
  // Of two under one name the first counts, as below.
  const pictures = new Map(
    listing.files
      .filter(isImage)
      .map((name) => [name.slice(0, -extname(name).length), name] as const)
      .toReversed(),
  );
  const stale = new Set<string>();
  for (const name of listing.files) {
    const [, id, of] = NIGHT.exec(name) ?? [];
    const day = id && pictures.get(id);
    if (id && day && (await files.hash(`${folder}/photos/${day}`))?.startsWith(of!))
      nights.set(id, `${folder}/photos/${name}`);
    else if (id) stale.add(name);
  }
  const isRead = (name: string) => (isImage(name) && !stale.has(name)) || extname(name) === ".yaml";
  await reportUnread(`${folder}/photos`, listing, { reads: isRead, folders: new Set() }, files);
  for (const name of listing.files) {
    if (isCopy(name) || name.startsWith("_")) continue;
    if (NIGHT.test(name)) continue;
    const extension = extname(name).toLowerCase(),
      id = name.slice(0, -extension.length || undefined),
      path = `${folder}/photos/${name}`;
    const map = IMAGES.has(extension) ? images : extname(name) === ".yaml" ? sidecars : undefined;
    if (!map) continue;
    const earlier = map.get(id);
    if (earlier)
      findings.error(
        "text/duplicate-id",
        { file: path, line: 1, column: 1 },
        {
          message: `Two images have the id \`${id}\`: \`${basename(earlier)}\` and \`${name}\``,
          fix: "Rename one of the two, or remove it",
          cause: { file: earlier, line: 1, column: 1 },
        },
      );
    else map.set(id, path);
    if (!earlier && !(map === sidecars && images.has(id))) reportId(id, path, "file", findings);
  }
  return Promise.all(
    [...new Set([...images.keys(), ...sidecars.keys()])].sort().map(async (id) => {
      const file = images.get(id),
        sidecar = sidecars.get(id);
      const source = sidecar ? files.read(sidecar) : undefined;
      const header = file ? await files.header(file) : undefined;
      const sha256 =
        file && header && files.other<boolean>("isHashed", folder, id) ? await files.hash(file) : undefined;
      const image = header && { ...header, ...(sha256 ? { sha256 } : {}) };
      const night = nights.get(id);
      const found = file ? { file, ...(night ? { night } : {}), ...(image ? { image } : {}) } : undefined,
        compile = (heard: Findings) => ({
          value: compilePhoto(id, { image: found, sidecar: source }, { ...context, findings: heard }),
          placed: [],
        });
      if (!source) return compile(findings).value;
      const all = JSON.stringify([said, id, found]);
      return viaCompiled(compiled, compilePhoto.name, source, all, findings, compile).value;
    }),
  );
}

/** Whether what a background page imports is a file of the collection, or a package of this project. */
function isThere(root: string, from: string, importer: string): boolean {
  if (/^[./]/.test(from)) {
    const file = resolve(root, dirname(importer), from.replace(/[?#].*$/, ""));
    return file.startsWith(resolve(root) + sep) && existsSync(file);
  }
  try {
    return Boolean(findPackageJSON(from, import.meta.url));
  } catch {
    return false;
  }
}

/** What was frozen of a collection. */
interface Frozen {
  readonly issued: Issued[];
  readonly editions: CardEdition[];
  readonly pictures: KeptPicture[];
}

/** Frozen files as they were read last, for who reads a collection again: nobody edits them. */
const frozenBefore = new WeakMap<CompiledShelf, Map<string, { readonly written: string; readonly read: FrozenFile }>>();
type FrozenFile = NonNullable<ReturnType<typeof compileIssued>>;

/** A frozen file; the very record that was read before where the file says the same, and nothing is wrong with it. */
function readFrozen(
  source: Source,
  platform: string,
  id: string,
  revision: number,
  findings: Findings,
  before: Map<string, { readonly written: string; readonly read: FrozenFile }>,
): FrozenFile | undefined {
  const known = before.get(source.file);
  if (known?.written === source.written) return known.read;
  const found = findings.list.length,
    read = compileIssued(source, platform, id, revision, findings);
  if (read && findings.list.length === found) before.set(source.file, { written: source.written, read });
  else before.delete(source.file);
  return read;
}

async function loadIssued(files: Files, findings: Findings, shelf: CompiledShelf | undefined): Promise<Frozen> {
  const before: Parameters<typeof readFrozen>[5] = (shelf && frozenBefore.get(shelf)) ?? new Map<string, never>();
  if (shelf) frozenBefore.set(shelf, before);
  const issued: Issued[] = [],
    editions: CardEdition[] = [],
    pictures: KeptPicture[] = [];
  // `rerig issue` stopped between its two renames has set the last whole set aside under this name.
  const folder = existsSync(join(files.root, "issued")) ? "issued" : ".issued-last";
  for (const platform of (await files.list(folder)).folders) {
    for (const name of (await files.list(`${folder}/${platform}`)).files) {
      const found = ISSUE.exec(name);
      if (!found) {
        if (name.endsWith(".json")) sayNoIssue(`${folder}/${platform}/${name}`, name, findings);
        continue;
      }
      const source = files.read(`${folder}/${platform}/${name}`);
      const issue = source.isText
        ? readFrozen(source, platform, found[1]!, Number(found[2]), findings, before)
        : undefined;
      if (issue && "edition" in issue) editions.push(issue);
      else if (issue) issued.push(issue);
    }
    for (const name of (await files.list(`${folder}/${platform}/photos`)).files) {
      const file = `${folder}/${platform}/photos/${name}`;
      const sha256 = KEPT.test(name) ? await hashFile(join(files.root, file)) : undefined;
      if (sha256) pictures.push({ file, platform, sha256 });
      else sayNoPicture(file, name, findings);
    }
  }
  editions.sort((a, b) => a.edition - b.edition);
  return { issued, editions, pictures };
}

/** The name of a picture that an issue keeps: the hash of its bytes. */
const KEPT = /^[0-9a-f]{64}\.jpg$/;

function sayNoPicture(file: string, name: string, findings: Findings): void {
  findings.add(
    "text/not-read",
    "warning",
    { file, line: 1, column: 1 },
    {
      message: `\`${name}\` is not read: here \`rerig issue\` keeps small pictures under names of its own`,
      fix: "Take it out of the collection; photos that steps show belong into the platform's folder photos",
    },
  );
}

/** A copy that a shared folder made of two issues with one number is read by nobody, and not passed over in silence. */
function sayNoIssue(file: string, name: string, findings: Findings): void {
  findings.add(
    "text/not-read",
    "warning",
    { file, line: 1, column: 1 },
    {
      message: `\`${name}\` is not read: a frozen issue is called by its id, \`@\`, its revision and \`.json\``,
      fix: "If it is a second issue with the same number, compare the two; then take it out of the collection",
    },
  );
}

/** `seat-capsule@3.json` */
const ISSUE = /^(.+)@(\d{1,6})\.json$/;

/** Ids of the photos in a frozen content whose files' hashes it has. */
function hashedPhotos(content: unknown): string[] {
  if (Array.isArray(content)) return content.flatMap(hashedPhotos);
  if (content === null || typeof content !== "object") return [];
  const { id, image } = content as { id?: unknown; image?: { sha256?: unknown } };
  return typeof id === "string" && typeof image?.sha256 === "string"
    ? [id]
    : Object.values(content).flatMap(hashedPhotos);
}
