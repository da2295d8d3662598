/** The file of times and notes that a device gives out: its shape. No names, no patient, no hour. */
import { z } from "zod";
import { isDate } from "../quantities.ts";

const id = z.string().min(1),
  count = z.int().min(0),
  number = z.int().min(1),
  seconds = z.number().min(0),
  day = z.string().refine(isDate).describe("YYYY-MM-DD");

/** A step of a run. Seconds count from the beginning of the run. */
export const timedStepShape = z
  .object({
    number: number.describe("in the changeover"),
    procedure: id,
    revision: number,
    step: number.describe("in its procedure"),
    /** A step that the way from a half-built state undoes. */
    back: z.literal(true).optional().describe("the step was walked back: worked out, not written"),
    takes: seconds.describe("what the procedure says that it takes"),
    start: seconds.describe("when the plan begins it"),
    end: seconds.describe("when the plan ends it"),
    took: seconds
      .optional()
      .describe("how long it was in front; absent where a pause fell into it, or the clock was set"),
    done: seconds.describe("when *Done* was pressed, the last time"),
    interrupted: count.describe("pauses that fell into it, and groups begun again at it"),
  })
  .readonly();

/** A step of a run. */
export type TimedRunStep = z.infer<typeof timedStepShape>;

/** One changeover, stepped through to its end. */
export const timedRunShape = z
  .object({
    /** Tells a run from others, also where the same file is given twice; drawn, and of no meaning. */
    id,
    day,
    platform: id,
    from: id.describe("the arrangement that stood"),
    to: id.describe("the arrangement that it led to"),
    begun: id
      .optional()
      .describe("it began half-built: the steps done since `from` (`seat-base:1-7;seat-capsule:1-3/4-9`)"),
    drill: count.optional().describe("number of the drill that it was"),
    steps: z.array(timedStepShape).readonly(),
    counted: seconds.describe("when the count was finished"),
  })
  .readonly();

/** One changeover, stepped through to its end. */
export type TimedRun = z.infer<typeof timedRunShape>;

/** Something at a step that is not as it says, in the words of whoever met it. */
export const stepNoteShape = z
  .object({ id, day, platform: id, procedure: id, revision: number, step: number, words: id })
  .readonly();

/** Something at a step that is not as it says. */
export type StepNote = z.infer<typeof stepNoteShape>;

/** All that a file holds; `collection` is the service's name. */
export const timesFileShape = z
  .object({ collection: z.string(), runs: z.array(timedRunShape).readonly(), notes: z.array(stepNoteShape).readonly() })
  .readonly();

/** All that a file holds. */
export type TimesFile = z.infer<typeof timesFileShape>;
