/** Words of the format that people read on pages, in the language of the page. */
import { heard } from "../../words/heard.ts";
import type { AfterRun, Every } from "../../schema/collection.ts";

/** How often something is looked at, as it follows “every”. */
export function sayOften(every: Every): string {
  const say = heard("keywords");
  return { shift: say.shift, day: say.day, week: say.week, run: say.run }[every];
}

/** What a thing needs after a run. */
export function sayAfterRun(act: AfterRun): string {
  const say = heard("keywords");
  return { clean: say.clean, charge: say.charge, refill: say.refill, reseal: say.reseal }[act];
}

/** A direction in which a fastening holds; another word as it is. */
export function sayDirection(direction: string): string {
  const say = heard("keywords");
  const { forward, rearward, sideward, upward, downward } = say;
  return new Map(Object.entries({ forward, rearward, sideward, upward, downward })).get(direction) ?? direction;
}
