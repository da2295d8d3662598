/** What runs say of the times that procedures give: a median for each step, and where runs were interrupted. */
import type { TimedRun } from "../../schema/times/times.ts";

/** The times of one step of one revision, over all runs. */
export interface StepTimes {
  readonly platform: string;
  readonly procedure: string;
  readonly revision: number;
  readonly step: number;
  /** The step walked back, on a way from a half-built state. */
  readonly back?: true;
  /** Seconds that the procedure gives. */
  readonly takes: number;
  /** How many runs had the step. */
  readonly runs: number;
  /** In how many of them its time is known: no pause fell into it. */
  readonly timed: number;
  /** Seconds; absent where no time is known. */
  readonly median?: number;
  readonly least?: number;
  readonly most?: number;
  /** How often a run was interrupted at it. */
  readonly interrupted: number;
}

/**
 * The median: the middle value, or half the sum of the two in the middle; `undefined` of none. (NIST/SEMATECH
 * e-Handbook of Statistical Methods, 1.3.5.1.)
 */
export function median(values: readonly number[]): number | undefined {
  const sorted = values.toSorted((a, b) => a - b),
    middle = sorted.length >> 1;
  return sorted.length % 2 === 1 || sorted.length === 0 ? sorted[middle] : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/** The times of every step in the runs, by platform, procedure, revision and step; empty for no runs. */
export function stepTimes(runs: readonly TimedRun[]): StepTimes[] {
  const found = new Map<string, { head: Pick<StepTimes, Head>; took: (number | undefined)[]; interrupted: number }>();
  for (const { platform, steps } of runs)
    for (const { procedure, revision, step, back, takes, took, interrupted } of steps) {
      const key = [platform, procedure, revision, step, back].join(" ");
      const known = found.get(key) ?? {
        head: { platform, procedure, revision, step, ...(back ? { back } : {}), takes },
        took: [],
        interrupted: 0,
      };
      known.took.push(took);
      known.interrupted += interrupted;
      found.set(key, known);
    }
  return [...found.values()]
    .map(({ head, took, interrupted }): StepTimes => {
      const times = took.filter((each) => each !== undefined),
        middle = median(times);
      return {
        ...head,
        runs: took.length,
        timed: times.length,
        ...(middle === undefined ? {} : { median: middle, least: Math.min(...times), most: Math.max(...times) }),
        interrupted,
      };
    })
    .sort(
      (a, b) =>
        compare(a.platform, b.platform) ||
        compare(a.procedure, b.procedure) ||
        b.revision - a.revision ||
        a.step - b.step ||
        Number(a.back ?? false) - Number(b.back ?? false),
    );
}

type Head = "platform" | "procedure" | "revision" | "step" | "back" | "takes";
const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
