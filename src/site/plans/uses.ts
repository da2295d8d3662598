/**
 * Where a procedure is used: the configurations and options it builds, the procedures that run it, and the changeovers
 * that need it.
 */
import type { Configuration, Option, Platform, Procedure } from "../../schema/collection.ts";
import { type Builds, buildsOf } from "../../domain/parts/builds.ts";
import { remember } from "../../domain/words/remember.ts";

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
