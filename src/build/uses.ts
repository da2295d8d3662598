/** Where a procedure is used: the configurations and options it builds, the procedures that run it, and the changeovers that need it. */
import type { Configuration, Option, Platform, Procedure } from "../schema/collection.ts";
import { meetBands } from "../domain/bands.ts";
import { once } from "./job.ts";

export interface Uses {
  /** Configurations that fit what the procedure puts in place. */
  readonly configurations: readonly Configuration[];
  /** Options that fit what the procedure puts in place. */
  readonly options: readonly Option[];
  /** Procedures that run this one's steps. */
  readonly includedIn: readonly Procedure[];
}

/** The uses of a procedure; all lists empty when there are none. */
export function usesOf(platform: Platform, procedure: Procedure): Uses {
  return once(`uses/${platform.id}/${procedure.id}`, () => {
    const brings = netPlaced(procedure);
    const fits = (document: Configuration | Option) =>
      document.fitted.some(({ item, place }) => brings.has(`${item} ${place}`)) && meetBands(document.band, procedure.band) !== undefined;
    return {
      configurations: platform.configurations.filter(fits),
      options: platform.options.filter(fits),
      includedIn: platform.procedures.filter((other) => other.sections.some(({ entries }) => entries.some((entry) => entry.kind === "include" && entry.procedure === procedure.id))),
    };
  });
}

/** `item place` for what stands somewhere at the end because a step put it there. */
function netPlaced({ steps }: Procedure): Set<string> {
  const counts = new Map<string, number>();
  for (const { operations } of steps)
    for (const operation of operations) {
      if (operation.kind !== "move") continue;
      const { item, from, to, count } = operation;
      counts.set(`${item} ${from}`, (counts.get(`${item} ${from}`) ?? 0) - count);
      counts.set(`${item} ${to}`, (counts.get(`${item} ${to}`) ?? 0) + count);
    }
  return new Set([...counts].filter(([, count]) => count > 0).map(([key]) => key));
}

/** Procedures that put in place something that the configuration or option fits, in the collection's order. */
export function buildersOf(platform: Platform, document: Configuration | Option): Procedure[] {
  return platform.procedures.filter((procedure) => {
    const { configurations, options } = usesOf(platform, procedure);
    return configurations.some(({ id }) => id === document.id) || options.some((option) => option === document);
  });
}
