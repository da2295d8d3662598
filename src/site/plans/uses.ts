/**
 * Where a procedure is used: the configurations and options it builds, the procedures that run it, and the changeovers
 * that need it.
 */
import type { Configuration, Option, Platform, Procedure } from "../../schema/collection.ts";
import { meetBands } from "../../domain/bands/bands.ts";
import { remember } from "../../domain/words/remember.ts";

export interface Uses {
  /** Configurations that fit what the procedure puts in place. */
  readonly configurations: readonly Configuration[];
  /** Options that fit what the procedure puts in place. */
  readonly options: readonly Option[];
  /** Configurations and options that have what the procedure takes off to its home. */
  readonly takesDown: readonly (Configuration | Option)[];
  /** Procedures that run this one's steps. */
  readonly includedIn: readonly Procedure[];
}

/** The uses of a procedure; all lists empty when there are none. */
export const usesOf: (platform: Platform, procedure: Procedure) => Uses = remember(
  (platform: Platform, procedure: Procedure): Uses => {
    const moved = netMoved(platform, procedure);
    const fits = (document: Configuration | Option, which: ReadonlySet<string>) =>
      document.fitted.some(({ item, place }) => which.has(`${item} ${place}`)) &&
      meetBands(document.band, procedure.band) !== undefined;
    // What brings more pieces home than it fits takes down, even if it puts something else back in their place; so does
    // what clears away an option.
    const builds =
      moved.homeward === 0 ? !platform.options.some((option) => fits(option, moved.from)) : moved.homeward < 0;
    return {
      configurations: builds ? platform.configurations.filter((document) => fits(document, moved.into)) : [],
      options: builds ? platform.options.filter((document) => fits(document, moved.into)) : [],
      takesDown: builds
        ? []
        : [
            ...platform.options.filter((document) => fits(document, moved.from)),
            ...platform.configurations.filter((document) => fits(document, moved.from)),
          ],
      includedIn: platform.procedures.filter((other) =>
        other.sections.some(({ entries }) =>
          entries.some((entry) => entry.kind === "include" && entry.procedure === procedure.id),
        ),
      ),
    };
  },
);

interface Moved {
  /** `item place` for what stands there at the end because a step put it there, and for what no longer does. */
  readonly into: ReadonlySet<string>;
  readonly from: ReadonlySet<string>;
  /** How many more pieces end at their homes than elsewhere; negative if fewer do. */
  readonly homeward: number;
}

/** What the steps of a procedure change altogether. */
function netMoved(platform: Platform, { steps }: Procedure): Moved {
  const homes = new Map(platform.items.map(({ id, home }) => [id, home]));
  const counts = new Map<string, { item: string; place: string; count: number }>();
  const add = (item: string, place: string, count: number) => {
    const key = `${item} ${place}`;
    counts.set(key, { item, place, count: (counts.get(key)?.count ?? 0) + count });
  };
  for (const { operations } of steps)
    for (const operation of operations)
      if (operation.kind === "move") {
        add(operation.item, operation.from, -operation.count);
        add(operation.item, operation.to, operation.count);
      }
  const ends = [...counts.entries()].filter(([, { count }]) => count > 0),
    starts = [...counts.entries()].filter(([, { count }]) => count < 0);
  const balance = ends.reduce(
    (sum, [, { item, place, count }]) => sum + (homes.get(item) === place ? count : -count),
    0,
  );
  return { into: new Set(ends.map(([key]) => key)), from: new Set(starts.map(([key]) => key)), homeward: balance };
}

/** Procedures that put in place something that the configuration or option fits, in the collection's order. */
export function buildersOf(platform: Platform, document: Configuration | Option): Procedure[] {
  return platform.procedures.filter((procedure) => {
    const { configurations, options } = usesOf(platform, procedure);
    return configurations.some(({ id }) => id === document.id) || options.some((option) => option === document);
  });
}
