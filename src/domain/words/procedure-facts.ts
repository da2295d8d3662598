/** What others ask of a procedure without reading its steps; each is told as itself (`words/fact.ts`). */
import type { Band, Platform, Procedure } from "../../schema/collection.ts";
import { fact } from "./fact.ts";

/** Ids of the procedures whose steps a procedure runs by including them, in its order; empty for most. */
export const idsIncludedBy = /* @__PURE__ */ fact("includes", ({ sections }: Pick<Procedure, "sections">): string[] =>
  sections.flatMap(({ entries }) => entries.flatMap((entry) => (entry.kind === "include" ? [entry.procedure] : []))),
);

/** The patients that a procedure is for. */
export const bandOfProcedure = /* @__PURE__ */ fact("band", ({ band }: Pick<Procedure, "band">): Band => band);

/** Ids of the items, places and fastenings that steps name in what they move and turn; an id may be of any of these. */
const named = /* @__PURE__ */ fact(
  "names",
  ({ steps }: Pick<Procedure, "steps">): ReadonlySet<string> =>
    new Set(
      steps.flatMap(({ operations }) =>
        operations.flatMap((act) => (act.kind === "move" ? [act.item, act.from, act.to] : [act.fastening])),
      ),
    ),
);

/** Of a platform's procedures those whose steps move or turn something of one of these ids. */
export const proceduresNaming = ({ procedures }: Pick<Platform, "procedures">, ids: readonly string[]): Procedure[] =>
  procedures.filter((procedure) => ids.some((id) => named(procedure).has(id)));

/** Photos of the steps that move an item, by the item's id: the photos' ids. */
const photosOfMoves = /* @__PURE__ */ fact("photos", ({ steps }: Pick<Procedure, "steps">) =>
  Map.groupBy(
    steps.flatMap(({ operations, photos }) =>
      operations.flatMap((act) => (act.kind === "move" ? photos.map(({ id }) => ({ item: act.item, photo: id })) : [])),
    ),
    ({ item }) => item,
  ),
);

/** Ids of the photos of all steps of a platform that move an item. */
export const photosMoving = ({ procedures }: Platform, item: string): ReadonlySet<string> =>
  new Set(procedures.flatMap((procedure) => photosOfMoves(procedure).get(item) ?? []).map(({ photo }) => photo));
