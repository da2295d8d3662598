/**
 * What is near a procedure: what somebody who has not learnt it could take for it. Wrong answers come from there and
 * from nowhere else: one from far away is seen to be wrong by those who have read nothing.
 */
import type { Procedure } from "../../../schema/collection.ts";
import { usesOf } from "../../parts/builds.ts";
import { remember } from "../../words/remember.ts";
import type { Ground } from "./ground.ts";
import { usableProcedures } from "../../parts/lookup.ts";

/**
 * How near the platform's other approved procedures are, by id; those that are not near are left out. 2: they build or
 * take down a document that this one builds or takes down; 1: they move something into or out of the same place on the
 * platform, move the same item or turn the same fastening, so that one arrangement's work stands beside its
 * neighbour's (common practice, no source).
 */
export const nearProcedures = remember((ground: Ground, procedure: Procedure): ReadonlyMap<string, 1 | 2> => {
  const documents = documentsOf(ground, procedure),
    things = thingsOf(ground, procedure);
  const near = new Map<string, 1 | 2>();
  for (const other of usableProcedures(ground.platform)) {
    if (other.id === procedure.id) continue;
    if (intersects(documents, documentsOf(ground, other))) near.set(other.id, 2);
    else if (intersects(things, thingsOf(ground, other))) near.set(other.id, 1);
  }
  return near;
});

/** How near a procedure is to itself. */
export const OWN = 3;

/** How near a procedure is to another one: `OWN` for itself, 0 for what is far away. */
export function nearness(ground: Ground, procedure: Procedure, other: string): number {
  return procedure.id === other ? OWN : (nearProcedures(ground, procedure).get(other) ?? 0);
}

/** Wrong answers that a paper shows; so many of a procedure's own leave those of its neighbours out. */
const ENOUGH = 3;

/**
 * Wrong answers of a procedure's own, then those of procedures near it, as far as its own are too few: an answer from
 * another procedure than the one that the question names is the first that somebody who has read nothing leaves out.
 */
export function ownFirst<Each>(own: readonly Each[], near: readonly Each[]): Each[] {
  return own.length >= ENOUGH ? [...own] : [...own, ...near.slice(0, ENOUGH - own.length)];
}

/** What a procedure builds and takes down. */
const documentsOf = remember((ground: Ground, procedure: Procedure): ReadonlySet<unknown> => {
  const { configurations, options, takesDown } = usesOf(ground.platform, procedure);
  return new Set([...configurations, ...options, ...takesDown]);
});

/** The items that it moves, the fastenings that it turns, and the places that are not stores. */
const thingsOf = remember(({ platform }: Ground, { steps }: Procedure): ReadonlySet<string> => {
  const places = new Set(platform.places.filter(({ kind }) => kind !== "store").map(({ id }) => id));
  return new Set(
    steps.flatMap(({ operations }) =>
      operations.flatMap((operation) =>
        operation.kind === "turn"
          ? [`fastening ${operation.fastening}`]
          : [
              `item ${operation.item}`,
              ...[operation.from, operation.to].filter((id) => places.has(id)).map((id) => `place ${id}`),
            ],
      ),
    ),
  );
});

function intersects<Each>(one: ReadonlySet<Each>, other: ReadonlySet<Each>): boolean {
  for (const each of one) if (other.has(each)) return true;
  return false;
}
