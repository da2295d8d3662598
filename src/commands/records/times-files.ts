/** Reads the files of times and notes that a command is given, each entry once, and names those that are none. */
import { readFile } from "node:fs/promises";
import { readTimes } from "../../read/times.ts";
import type { Collection, Procedure } from "../../schema/collection.ts";
import type { TimedRun, StepNote } from "../../schema/times/times.ts";
import { heard } from "../../words/heard.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { writeTo } from "../../findings/terminal.ts";

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
    wrong: string[] = [],
    say = heard("rerigTimes");
  let twice = 0;
  const keep = <T extends { readonly id: string }>(into: Map<string, T>, entries: readonly T[]) => {
    for (const entry of entries) {
      if (into.has(entry.id)) twice += 1;
      into.set(entry.id, entry);
    }
  };
  for (const path of paths) {
    const read = await open(path);
    if (typeof read === "string") wrong.push(read);
    else if (read.collection !== service.name)
      wrong.push(say.ofAnother({ file: path, other: read.collection || say.withoutName, own: service.name }));
    else {
      keep(runs, read.runs);
      keep(notes, read.notes);
    }
  }
  if (wrong.length === paths.length) throw new CannotRun(wrong.join("\n"));
  if (wrong.length > 0) {
    writeTo(process.stderr, `${wrong.join("\n")}\n${say.othersCounted}\n`);
    process.exitCode = 1;
  }
  if (twice > 0) writeTo(process.stderr, `${say.twice({ count: twice })}\n`);
  return { runs: [...runs.values()], notes: [...notes.values()], files: paths.length - wrong.length };
}

/** What a file holds, or what is wrong with it in a sentence. */
async function open(path: string) {
  const say = heard("rerigTimes");
  const bytes = await readFile(path).catch((error: NodeJS.ErrnoException) => error);
  if (bytes instanceof Error)
    return bytes.code === "ENOENT"
      ? say.notThere({ file: path })
      : say.cantBeRead({ file: path, why: bytes.code ?? bytes.message });
  const read = readTimes(bytes);
  return read.kind === "times" ? read.file : say.notTimes({ file: path, why: read.what });
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
  const say = heard("rerigTimes");
  if (!known) return { heading: say.notInForce({ document: `${platform}/${id}`, revision }), current: undefined };
  const isNow = known.revision === revision,
    document = `${known.code} ${known.title}`;
  return {
    heading: isNow
      ? say.heading({ document, revision })
      : say.headingOther({ document, revision, now: known.revision }),
    current: isNow ? known : undefined,
  };
}
