/** The option `--procedures` that every command has, and reading the collection that it names. */
import type { Command } from "commander";
import { compiledIn, shelfIn } from "../build/shelf.ts";
import { today } from "../site/today.ts";
import { loadCollection, readPlatforms, type LoadOptions, NoCollection } from "../compile/load.ts";
import { type Finding, Findings, inFileOrder } from "../findings/finding.ts";
import { type checkResult, reportToPerson } from "../findings/report.ts";
import { judgePlatforms, runRules } from "../rules/run-rules.ts";
import { amendedInVain } from "../domain/force/amendments.ts";
import { type Force, forceOn } from "../domain/force/force.ts";
import { sayDate } from "../domain/words/say.ts";
import { keepOn } from "../domain/words/keep.ts";
import { plainJson } from "../domain/numbers/plain-json.ts";
import type { Collection, Platform } from "../schema/collection.ts";
import { addDays } from "../domain/records/signoffs.ts";
import { CannotRun } from "../findings/cannot-run.ts";
import { heard } from "../words/heard.ts";
import { beginHelpers, type Helpers } from "./at-once.ts";
import { speakFor } from "../words/words.ts";
import { isDate } from "../schema/quantities.ts";
import { collectionFolder } from "./collection-folder.ts";

/** Adds `--procedures DIR`; `RERIG_PROCEDURES` does the same. */
export function withCollection(command: Command): Command {
  return command.option("--procedures <dir>", heard("everyCommand").takesCollection);
}

/** Adds `--on DATE`: what held, or will hold, on that day. */
export function withDay(command: Command): Command {
  return command.option("--on <date>", heard("everyCommand").takesDay);
}

/** A collection as it was read, with what reading found wrong, and what of it is in force on the day asked for. */
interface Opened {
  readonly folder: string;
  /** The files as they were read. */
  readonly files: Collection;
  /** What is in force: what every answer is made from. */
  readonly collection: Collection;
  readonly force: Force;
  /** The day asked for, else today; `YYYY-MM-DD`. */
  readonly day: string;
  readonly findings: Findings;
  /** Threads that have read it too. */
  readonly helpers: Helpers | undefined;
}

interface OpenOptions {
  readonly on?: string | undefined;
  /** Reads it in several threads, where it is large and new: for who then judges it by `judgeAtOnce`. */
  readonly atOnce?: boolean;
}

/** Reads a collection and sees it from a day; throws `CannotRun` if there is none, or the day is no date. */
export async function openAsked(
  option: string | undefined,
  { on, atOnce = false, ...how }: LoadOptions & OpenOptions = {},
): Promise<Opened> {
  const folder = collectionFolder(option),
    day = on === undefined ? today() : readDay("--on", on);
  const findings = new Findings();
  keepOn(shelfIn());
  try {
    const helpers = atOnce ? beginHelpers(folder, day, how.hashPhotos ?? false) : undefined;
    if (helpers) {
      await readPlatforms(folder, helpers.toRead(), { compiled: compiledIn(folder), ...how });
      await helpers.untilRead();
    }
    const files = await loadCollection(folder, findings, { compiled: compiledIn(folder), ...how });
    if (on === undefined) refuseSlowClock(files, day);
    speakFor(files.service);
    return {
      folder,
      files,
      day,
      findings,
      helpers,
      // Who only judges the files does not ask what is in force of all of them.
      get force() {
        return forceOn(files, day);
      },
      get collection() {
        return forceOn(files, day).collection;
      },
    };
  } catch (error) {
    throw withWayOut(error);
  }
}

/** The error itself; where there is no collection, a `CannotRun` that says how to name one or to begin one. */
export function withWayOut(error: unknown): unknown {
  return error instanceof NoCollection
    ? new CannotRun(`${error.message}\n${heard("everyCommand").nameOrBegin}`)
    : error;
}

/** The number that `--port` gives; throws `CannotRun` for anything that is no port. */
export function portAsked(given: string): number {
  const port = Number(given);
  if (Number.isInteger(port) && port >= 0 && port <= 65535) return port;
  throw new CannotRun(heard("everyCommand").noPort({ given }));
}

/**
 * A clock that is behind would call what is in force still to come. Throws `CannotRun` where an issue, or an edition of
 * a card, was frozen after today by this computer; one day is let pass, since days do not begin at once everywhere.
 */
function refuseSlowClock({ issued, editions = [] }: Collection, day: string): void {
  const frozen = [
    ...issued.map(({ file, head }) => ({ file, on: head?.["issued"] })),
    ...editions.map((edition) => ({ file: edition.file, on: edition.frozen["issued"] })),
  ];
  const last = frozen.findLast(({ on }) => typeof on === "string" && on > addDays(day, 1));
  if (last) throw new CannotRun(heard("everyCommand").slowClock({ day, file: last.file, issued: String(last.on) }));
}

/** A day of the calendar; throws `CannotRun` for anything else. `option`: by which it was given, as it is said. */
export function readDay(option: string, given: string): string {
  if (!isDate(given)) throw new CannotRun(heard("everyCommand").noDay({ option, given }));
  return given;
}

/** All findings of a collection on its day after its rules and policy, in file order. */
export function judge({ files, findings, day }: Opened): Finding[] {
  return inFileOrder(runRules(files, findings, day));
}

/** As `judge`, in as many threads as it was read in (`openAsked`). */
export async function judgeAtOnce(opened: Opened): Promise<Finding[]> {
  const { files, findings, day, helpers } = opened;
  if (helpers) {
    judgePlatforms(files, findings, day, helpers.toJudge());
    await helpers.untilJudged();
  }
  return judge(opened);
}

/**
 * Stops with exit code 1, saying why, if the files could not be read whole: no answer is given from half a collection.
 */
export function readWhole(opened: Opened): boolean {
  const errors = opened.findings.list.filter(({ severity }) => severity === "error");
  if (errors.length === 0) {
    sayInVain(opened);
    return true;
  }
  console.error(`${reportToPerson(inFileOrder(errors))}\n${heard("everyCommand").noAnswer}`);
  process.exitCode = 1;
  return false;
}

/** Says on standard error which amendments run on the day and change nothing then: of a day to come `check` can't. */
function sayInVain({ collection, day }: Opened): void {
  const say = heard("amendmentFindings");
  for (const platform of collection.platforms)
    for (const { amendment, procedure: id, revision, inForce } of amendedInVain(platform, day)) {
      const procedure = platform.procedures.find((each) => each.id === id)?.title ?? id,
        facts = { number: amendment.number, procedure, revision, day: sayDate(day) };
      console.error(inForce === undefined ? say.inVain(facts) : say.inVainFor({ ...facts, other: inForce }));
    }
}

/**
 * The platform asked for, or the only one that may be meant (`isMeant`, by what else was asked); says which where the
 * collection has others. Throws `CannotRun` where there is none, or one of several has to be named.
 */
export function platformAsked(
  { platforms }: Collection,
  id: string | undefined,
  isMeant: (platform: Platform) => boolean = () => true,
): Platform {
  const ids = platforms.map((platform) => platform.id),
    isAmongSeveral = id === undefined && platforms.length > 1,
    // What is not on the only one there is, is said of that one.
    [found, ...others] = platforms.filter((each) => (isAmongSeveral ? isMeant(each) : (id ?? each.id) === each.id)),
    say = heard("everyCommand"),
    there = ids.join(", ");
  if (found && others.length === 0) {
    if (isAmongSeveral) console.error(say.onlyThisHasIt({ which: found.name }));
    return found;
  }
  throw new CannotRun(
    id === undefined
      ? say.sayWhichPlatform({ option: "--platform", there: there || say.collectionHasNone })
      : say.noSuchPlatform({ id, there: there || say.none }),
  );
}

/**
 * What a question about one platform is asked of: its collection, read whole, and the platform asked for, or the only
 * one that may be meant; `undefined` where `readWhole` has said why there is no answer. Throws as `openAsked` and
 * `platformAsked` do.
 */
export async function openPlatform(
  {
    procedures,
    on,
    platform: id,
  }: {
    readonly procedures?: string;
    readonly on?: string;
    readonly platform?: string;
  },
  isMeant?: (platform: Platform) => boolean,
): Promise<{ readonly opened: Opened; readonly platform: Platform } | undefined> {
  const opened = await openAsked(procedures, { on });
  const platform = platformAsked(opened.collection, id, isMeant);
  return readWhole(opened) ? { opened, platform } : undefined;
}

type Result = ReturnType<typeof checkResult>;

/** `1 error, 2 warnings`. */
export function sayErrorCounts({ error, warning }: Result["counts"]): string {
  return heard("everyCommand").counts({ errors: error, warnings: warning });
}

/** `1 platform, 3 configurations, …`: what was read. */
export function sayRead(read: Result["read"]): string {
  const say = heard("everyCommand"),
    { platforms: count } = read;
  return say.read({ ...read, onPlatforms: count === 1 ? say.onePlatform : say.morePlatforms({ count }) });
}

/** Prints a result as JSON on standard output. */
export function printJson(result: unknown): void {
  process.stdout.write(`${plainJson(result, 2)}\n`);
}
