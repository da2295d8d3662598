/**
 * A changeover that was begun, as one word in an address, so that a reload or another page finds it:
 * `seat-base:1-7;seat-capsule:1-3/4-9` are the procedures of the plan with the steps that are done, and after the
 * stroke those that are not.
 */
import type { Arrangement } from "../parts/arrangements.ts";
import type { Model } from "../states/model.ts";
import { type PlannedStep, writtenOf } from "../parts/reading.ts";
import { type Begun, begunOf, upToBegun } from "./from-here.ts";

/** A step of what was begun, by the ids of the files. */
export interface BegunStep {
  readonly procedure: string;
  /** Its number in the procedure. */
  readonly step: number;
  readonly isDone: boolean;
}

/**
 * What is begun when steps were walked through after `first` (empty, or what an earlier change left). A step that was
 * walked back is undone again; one that was left is done; any other is new. In the order of the plans, up to the last
 * procedure that was begun.
 */
export function begunAfter(first: readonly BegunStep[], walked: readonly BegunStep[]): BegunStep[] {
  const all = [...first];
  for (const each of walked) {
    const { procedure: id, isBack } = writtenOf(each.procedure);
    const known = all.findIndex(
      (other) => other.procedure === id && other.step === each.step && other.isDone === isBack,
    );
    if (known < 0 && !isBack) all.push(each);
    else if (known >= 0 && each.isDone) all[known] = { ...all[known]!, isDone: !isBack };
  }
  return upToBegun(all, ({ procedure }) => procedure);
}

/** Writes it; empty if nothing was begun. */
export function writeBegun(steps: readonly BegunStep[]): string {
  const runs: BegunStep[][] = [];
  for (const each of steps) {
    const last = runs.at(-1);
    if (last?.[0]!.procedure === each.procedure) last.push(each);
    else runs.push([each]);
  }
  return runs
    .map((run) => {
      const list = (wanted: boolean) =>
        writeRanges(run.filter(({ isDone }) => isDone === wanted).map(({ step }) => step));
      return `${run[0]!.procedure}:${list(true)}${list(false) && `/${list(false)}`}`;
    })
    .join(";");
}

/** Reads it again; `undefined` where it makes no sense. */
export function readBegun(text: string): readonly BegunStep[] | undefined {
  const steps: BegunStep[] = [];
  for (const part of text.split(";")) {
    const [, procedure = "", before = "", after = ""] = /^([\w-]+):([\d,-]*)(?:\/([\d,-]+))?$/.exec(part) ?? [],
      done = readRanges(before),
      left = readRanges(after);
    if (!procedure || !done || !left || done.length + left.length === 0) return undefined;
    steps.push(
      ...[
        ...done.map((step) => ({ procedure, step, isDone: true })),
        ...left.map((step) => ({ procedure, step, isDone: false })),
      ].sort((a, b) => a.step - b.step),
    );
  }
  return steps;
}

/** The steps themselves; `undefined` where a procedure or a step is not there, or no longer. */
export function findBegun(
  { procedures }: Pick<Model, "procedures">,
  from: Arrangement,
  begun: readonly BegunStep[],
): Begun | undefined {
  const steps: (PlannedStep & { readonly isDone: boolean })[] = [];
  for (const { procedure: id, step: number, isDone } of begun) {
    const procedure = procedures.get(id),
      step = procedure?.steps.find((each) => each.number === number);
    if (!procedure || !step) return undefined;
    steps.push({ procedure, step, isDone });
  }
  return begunOf(from, steps);
}

/** `1-3,5` for 1, 2, 3, 5 (given in this order). */
function writeRanges(numbers: readonly number[]): string {
  const ranges: [number, number][] = [];
  for (const number of numbers) {
    const last = ranges.at(-1);
    if (last?.[1] === number - 1) last[1] = number;
    else ranges.push([number, number]);
  }
  return ranges.map(([first, last]) => (first === last ? String(first) : `${first}-${last}`)).join(",");
}

/** The numbers again; `undefined` for what is none, or more than a procedure can have. */
function readRanges(text: string): readonly number[] | undefined {
  const numbers: number[] = [];
  if (text === "") return numbers;
  for (const part of text.split(",")) {
    const [first = 0, last = first] = part.split("-").map(Number);
    if (!(first >= 1 && last >= first && last < 10_000)) return undefined;
    for (let number = first; number <= last; number += 1) numbers.push(number);
  }
  return numbers;
}
