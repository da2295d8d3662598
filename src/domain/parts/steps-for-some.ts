/** Steps and options that are not for every patient of a configuration. */
import type { Configuration, Platform, Procedure, Range, Step } from "../../schema/collection.ts";
import { covers, meetBands } from "../bands/bands.ts";
import { buildersOf } from "./builds.ts";

/** A step for some of the configuration's patients only. */
interface Differing {
  readonly procedure: Procedure;
  readonly step: Step;
  readonly only: { readonly weight?: Range; readonly age?: Range };
}

/** The steps of its procedures that apply to some of the configuration's patients but not to all. */
export function differingSteps(platform: Platform, configuration: Configuration): Differing[] {
  return buildersOf(platform, configuration)
    .filter(({ status }) => status !== "withdrawn")
    .flatMap((procedure) =>
      procedure.steps.flatMap((step): Differing[] => {
        if (!meetBands(step.band, configuration.band)) return [];
        const weight =
          step.ownWeight && !covers(step.ownWeight, configuration.band.weight) ? step.ownWeight : undefined;
        const age = step.ownAge && !covers(step.ownAge, configuration.band.age) ? step.ownAge : undefined;
        return weight || age
          ? [{ procedure, step, only: { ...(weight ? { weight } : {}), ...(age ? { age } : {}) } }]
          : [];
      }),
    );
}
