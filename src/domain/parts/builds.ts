/**
 * What a procedure builds and takes down: what stands elsewhere when it is done, against what documents fit; and the
 * other way round, which procedures build a document.
 */
import type { Configuration, Option, Platform, Procedure } from "../../schema/collection.ts";
import { meetBands } from "../bands/bands.ts";
import { remember } from "../words/remember.ts";

/** As much of a procedure as is asked what it moves. */
interface Moving {
  readonly steps: readonly { readonly operations: Procedure["steps"][number]["operations"] }[];
}

/** What a procedure leaves changed; everything empty if it moves nothing, or back all that it moves. */
interface Moved {
  /** `item place` for what stands there at the end because a step put it there. */
  readonly into: ReadonlySet<string>;
  /** `item place` for what stands there no longer. */
  readonly from: ReadonlySet<string>;
  /** Pieces that came home, less those that were put elsewhere. */
  readonly homeward: number;
}

/** What a procedure leaves changed when all its steps are done. */
export function netMoved({ steps }: Moving, items: Platform["items"]): Moved {
  const homes = new Map(items.map(({ id, home }) => [id, home]));
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
  const ends = [...counts].filter(([, { count }]) => count > 0),
    starts = [...counts].filter(([, { count }]) => count < 0);
  return {
    into: new Set(ends.map(([key]) => key)),
    from: new Set(starts.map(([key]) => key)),
    homeward: ends.reduce((sum, [, { item, place, count }]) => sum + (homes.get(item) === place ? count : -count), 0),
  };
}

/** What a procedure builds and takes down. */
interface Builds {
  /** Configurations that fit what it puts in place, and options; both empty for one that takes down. */
  readonly configurations: readonly Configuration[];
  readonly options: readonly Option[];
  /** Options, then configurations, that have what it takes off to its home; empty for one that builds. */
  readonly takesDown: readonly (Configuration | Option)[];
}

/**
 * What a procedure builds or takes down, of the documents of its platform whose patients it is for. What brings more
 * pieces home than it fits takes down, even if it puts something else back in their place; so does what clears away an
 * option.
 */
export function buildsOf(platform: Platform, procedure: Procedure): Builds {
  const moved = netMoved(procedure, platform.items);
  const fits = (document: Configuration | Option, which: ReadonlySet<string>) =>
    document.fitted.some(({ item, place }) => which.has(`${item} ${place}`)) &&
    meetBands(document.band, procedure.band) !== undefined;
  const builds =
    moved.homeward === 0 ? !platform.options.some((option) => fits(option, moved.from)) : moved.homeward < 0;
  return builds
    ? {
        configurations: platform.configurations.filter((document) => fits(document, moved.into)),
        options: platform.options.filter((document) => fits(document, moved.into)),
        takesDown: [],
      }
    : {
        configurations: [],
        options: [],
        takesDown: [
          ...platform.options.filter((document) => fits(document, moved.from)),
          ...platform.configurations.filter((document) => fits(document, moved.from)),
        ],
      };
}

/** Where a procedure is used: what it builds and takes down, and the procedures that run it. */
export interface Uses extends Builds {
  /** Procedures that run this one's steps. */
  readonly includedIn: readonly Procedure[];
}

/** The uses of a procedure; all lists empty when there are none. */
export const usesOf: (platform: Platform, procedure: Procedure) => Uses = remember(
  (platform: Platform, procedure: Procedure): Uses => {
    return {
      ...buildsOf(platform, procedure),
      includedIn: platform.procedures.filter((other) =>
        other.sections.some(({ entries }) =>
          entries.some((entry) => entry.kind === "include" && entry.procedure === procedure.id),
        ),
      ),
    };
  },
);

/** Procedures that put in place something that the configuration or option fits, in the collection's order. */
export function buildersOf(platform: Platform, document: Configuration | Option): Procedure[] {
  return platform.procedures.filter((procedure) => {
    const { configurations, options } = usesOf(platform, procedure);
    return configurations.some(({ id }) => id === document.id) || options.some((option) => option === document);
  });
}
