/** The order of the trade: in which phase of a changeover a procedure belongs, and which of one phase comes first. */
import type { Phase, Platform, Procedure } from "../../schema/collection.ts";
import { remember } from "../words/remember.ts";
import { buildsOf, netMoved } from "./builds.ts";

/** The phases in the order of the trade (common practice, no source). */
export const PHASES: readonly Phase[] = ["confirm", "take away", "clean", "build", "option", "supply"];

/**
 * The phase of a procedure: as its author says it, else by what it does. What turns and moves nothing confirms; what
 * turns or moves, and leaves everything where it was, supplies; what takes down and builds nothing takes away; of what
 * builds, what builds an option alone is an option's.
 */
export const phaseOf = /* @__PURE__ */ remember((platform: Platform, procedure: Procedure): Phase => {
  if (procedure.phase) return procedure.phase;
  if (procedure.steps.every(({ operations }) => operations.length === 0)) return "confirm";
  const { into, from } = netMoved(procedure);
  if (into.size === 0) return "supply";
  const { configurations, options, takesDown } = buildsOf(platform, procedure);
  if (configurations.length > 0) return "build";
  if (options.length > 0) return "option";
  if (takesDown.length > 0) return "take away";
  const fitted = [...platform.configurations, ...platform.options].flatMap((document) => document.fitted);
  return fitted.some(({ item, place }) => from.has(`${item} ${place}`)) ? "take away" : "build";
});

/**
 * Compares procedures by the order of the trade: by phase; what is taken away from the options down to the platform,
 * what is built from the platform up; then by file name.
 */
export const compareByTrade = /* @__PURE__ */ remember(
  (platform: Platform): ((a: Procedure, b: Procedure) => number) => {
    const keys = new Map<Procedure, readonly [phase: number, within: number]>();
    const keyOf = (procedure: Procedure) => keys.get(procedure) ?? keep(procedure);
    const keep = (procedure: Procedure) => {
      const phase = phaseOf(platform, procedure);
      const away = phase === "take away";
      const { into, from } = netMoved(procedure);
      const heights = [...(away ? from : into).keys()].map((key) =>
        heightOf(platform, key.slice(key.indexOf(" ") + 1)),
      );
      const forOption = buildsOf(platform, procedure).takesDown.some(
        (document) => !platform.configurations.some((configuration) => configuration === document),
      );
      const key = [
        PHASES.indexOf(phase),
        away ? (forOption ? -100 : 0) - Math.max(0, ...heights) : Math.min(100, ...heights),
      ] as const;
      keys.set(procedure, key);
      return key;
    };
    return (a, b) => {
      const [left, right] = [keyOf(a), keyOf(b)];
      return left[0] - right[0] || left[1] - right[1] || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
    };
  },
);

/** How many items a place stands on, where documents fit them; 0 for a place of the platform. */
function heightOf(platform: Platform, place: string, under: readonly string[] = []): number {
  const on = platform.places.find(({ id }) => id === place)?.on;
  if (on === undefined || under.includes(place)) return 0;
  const stands = [...platform.configurations, ...platform.options].flatMap(({ fitted }) =>
    fitted.flatMap((entry) => (entry.item === on ? [entry.place] : [])),
  );
  return 1 + Math.max(0, ...[...new Set(stands)].map((each) => heightOf(platform, each, [...under, place])));
}
