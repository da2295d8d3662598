/** The file of times and notes that a device gives out: its shape and its columns. No names, no patient, no hour. */

/** A step of a run. Seconds count from the beginning of the run. */
export interface TimedRunStep {
  /** Number in the changeover, from 1. */
  readonly number: number;
  readonly procedure: string;
  readonly revision: number;
  /** Number in its procedure. */
  readonly step: number;
  /** What the procedure says that it takes. */
  readonly takes: number;
  /** When the plan begins and ends it. */
  readonly start: number;
  readonly end: number;
  /** How long it was in front; absent where a pause fell into it, or the clock was set meanwhile. */
  readonly took?: number | undefined;
  /** When *Done* was pressed, the last time. */
  readonly done: number;
  /** Pauses that fell into it, and groups begun again at it. */
  readonly interrupted: number;
}

/** One changeover, stepped through to its end. */
export interface TimedRun {
  /** Tells a run from others, also where the same file is given twice; drawn, and of no meaning. */
  readonly id: string;
  /** `YYYY-MM-DD`. */
  readonly day: string;
  readonly platform: string;
  /** Names of arrangements. */
  readonly from: string;
  readonly to: string;
  /** Seed of the drill that it was; absent: it was no drill. */
  readonly drill?: number | undefined;
  readonly steps: readonly TimedRunStep[];
  /** When the count was finished. */
  readonly counted: number;
}

/** Something at a step that is not as it says, in the words of whoever met it. */
export interface StepNote {
  readonly id: string;
  readonly day: string;
  readonly platform: string;
  readonly procedure: string;
  readonly revision: number;
  readonly step: number;
  readonly words: string;
}

/** All that a file holds. */
export interface TimesFile {
  /** The service's name. */
  readonly collection: string;
  readonly runs: readonly TimedRun[];
  readonly notes: readonly StepNote[];
}

/** What a row of the CSV is; `whole` is the last one, and its number says how many rows stand before it. */
export type TimesRow = "step" | "counted" | "note" | "whole";

/** The columns of the CSV, in order. */
export const TIMES_COLUMNS = [
  "row",
  "collection",
  "id",
  "day",
  "platform",
  "from",
  "to",
  "drill",
  "number",
  "procedure",
  "revision",
  "step",
  "takes",
  "start",
  "end",
  "took",
  "done",
  "interrupted",
  "words",
] as const;

/** The last cell of a whole CSV. */
export const TIMES_END = "end";

/** The first field of the JSON, which says what it is. */
export const TIMES_MARK = "rerig-times";
