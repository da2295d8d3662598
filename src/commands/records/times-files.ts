/** Reads the files of times and notes that a command is given, each entry once, and names those that are none. */
import { readFile } from "node:fs/promises";
import { readTimes } from "../../read/times.ts";
import { sayNumber } from "../../domain/words/say.ts";
import type { Collection, Procedure } from "../../schema/collection.ts";
import type { TimedRun, StepNote } from "../../schema/times.ts";
import { CannotRun } from "../../findings/cannot-run.ts";

/** What the files hold together. */
interface Gathered {
  readonly runs: readonly TimedRun[];
  readonly notes: readonly StepNote[];
  readonly files: number;
}

/**
 * The runs and notes of files of this collection. What is wrong with a file goes to standard error, and the exit code
 * is then 1; throws `CannotRun` if no file could be read.
 */
export async function gatherTimes(
  paths: readonly string[],
  { service }: Pick<Collection, "service">,
): Promise<Gathered> {
  const runs = new Map<string, TimedRun>(),
    notes = new Map<string, StepNote>(),
    wrong: string[] = [];
  let twice = 0;
  const keep = <T extends { readonly id: string }>(into: Map<string, T>, entries: readonly T[]) => {
    for (const entry of entries) {
      if (into.has(entry.id)) twice += 1;
      into.set(entry.id, entry);
    }
  };
  for (const path of paths) {
    const read = await open(path);
    if (typeof read === "string") wrong.push(`\`${path}\` ${read}.`);
    else if (read.collection !== service.name)
      wrong.push(
        `\`${path}\` is of another collection: ${read.collection || "one without a name"}, not ${service.name}.`,
      );
    else {
      keep(runs, read.runs);
      keep(notes, read.notes);
    }
  }
  if (wrong.length === paths.length) throw new CannotRun(wrong.join("\n"));
  if (wrong.length > 0) {
    process.stderr.write(`${wrong.join("\n")}\nThe other files are counted.\n`);
    process.exitCode = 1;
  }
  if (twice > 0) process.stderr.write(`${sayNumber(twice, "entry", "entries")} in more than one file: counted once.\n`);
  return { runs: [...runs.values()], notes: [...notes.values()], files: paths.length - wrong.length };
}

async function open(path: string) {
  const bytes = await readFile(path).catch((error: NodeJS.ErrnoException) => error);
  if (bytes instanceof Error)
    return bytes.code === "ENOENT" ? "is not there" : `can't be read (${bytes.code ?? bytes.message})`;
  const read = readTimes(bytes);
  return read.kind === "times" ? read.file : read.what;
}

/** Where a step of a file stands in what is in force, with words for a heading. */
interface Placed {
  /** `FCR-T-02 Seat the newborn capsule, revision 3`; says so where another revision, or none, is in force. */
  readonly heading: string;
  /** The procedure in force, if this is its revision. */
  readonly current: Procedure | undefined;
}

/** Finds a procedure of a file in the collection. */
export function placeOf(
  { platforms }: Pick<Collection, "platforms">,
  { platform, procedure: id, revision }: Pick<StepNote, "platform" | "procedure" | "revision">,
): Placed {
  const known = platforms.find((each) => each.id === platform)?.procedures.find((each) => each.id === id);
  if (!known) return { heading: `${platform}/${id}, revision ${revision}: not in force here`, current: undefined };
  const isNow = known.revision === revision;
  return {
    heading:
      `${known.code} ${known.title}, revision ${revision}` +
      (isNow ? "" : ` (another text: ${known.revision} is in force)`),
    current: isNow ? known : undefined,
  };
}
