/** What the address or the form asks of the planner: from an arrangement, or from where a changeover was left. */
import type { Platform } from "../../schema/collection.ts";
import type { Patient } from "../../domain/bands/bands.ts";
import type { Arrangement } from "../../domain/parts/arrangements.ts";
import { type Carrier, type PatientPlan, plansBetween, waysBetween } from "../../domain/time/plans.ts";
import { findBegun, readBegun } from "../../domain/tonight/begun-text.ts";
import { type Begun, plansFromHere } from "../../domain/tonight/from-here.ts";
import { endsNow } from "../tonight/left-now.ts";
import type { KeptItem } from "../tonight/out-store.ts";

type Asked =
  | {
      readonly kind: "ends";
      readonly from: Arrangement;
      readonly to: Arrangement;
      /** What was begun from there, if it was left half-built. */
      readonly begun: Begun | undefined;
      /** Out of service, and standing there now. */
      readonly broken: readonly KeptItem[];
      readonly plansFor: (patient?: Patient) => readonly PatientPlan[];
    }
  | { readonly kind: "blocked"; readonly by: readonly KeptItem[] }
  /** What was begun names steps that there are not, or no longer. */
  | { readonly kind: "lost" }
  | { readonly kind: "unknown" };

/**
 * Reads what is asked: names of arrangements, the word for what was begun (empty for nothing), and whether the crew
 * stands down: nobody is carried then, and nobody's weight is asked.
 */
export function askedOf(
  platform: Platform,
  carrier: Carrier,
  {
    from: fromName,
    to: toName,
    begun: word,
    standsDown,
  }: {
    readonly from: string;
    readonly to: string;
    readonly begun: string;
    readonly standsDown: boolean;
  },
): Asked {
  const ends = endsNow(platform, fromName, toName, word !== "");
  if (ends.kind !== "ends") return ends;
  const { model, from, to, broken } = ends;
  if (word === "")
    return {
      kind: "ends",
      from,
      to,
      begun: undefined,
      broken,
      plansFor: (patient) => (standsDown ? waysBetween : plansBetween)(model, carrier, from, to, patient),
    };
  const steps = readBegun(word),
    begun = steps && findBegun(model, from, steps);
  if (!begun) return { kind: "lost" };
  return {
    kind: "ends",
    from,
    to,
    begun,
    broken: [],
    plansFor: (patient) => plansFromHere(model, carrier, begun, to, standsDown ? "nobody" : patient),
  };
}
