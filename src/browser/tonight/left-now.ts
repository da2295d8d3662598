/** What a changeover is planned with on this device: the pieces that are not out of service. */
import type { Platform } from "../../schema/collection.ts";
import { type Arrangement, validArrangements } from "../../domain/parts/arrangements.ts";
import { arrangementNamed } from "../../domain/states/changeover.ts";
import { type Model, modelOf } from "../../domain/states/model.ts";
import { without } from "../../domain/tonight/out-of-service.ts";
import { piecesOut, readOut, type KeptItem } from "./out-store.ts";

/** Both ends of a changeover with the model to plan in, or what stands in the way of its end. */
type Ends =
  | {
      readonly kind: "ends";
      readonly model: Model;
      readonly from: Arrangement;
      readonly to: Arrangement;
      /** Out of service, and part of what stands now: it is taken off by the steps as they are written. */
      readonly broken: readonly KeptItem[];
    }
  | { readonly kind: "blocked"; readonly by: readonly KeptItem[] }
  | { readonly kind: "unknown" };

/**
 * The two arrangements of these names, and the model to plan between them. What is out of service can't be fitted;
 * where it stands on the platform now it is still there to be taken off, and the plan is the usual one. `isBegun`: the
 * platform is half-built, and whatever stands there counts.
 */
export function endsNow(platform: Platform, fromName: string, toName: string, isBegun = false): Ends {
  const kept = readOut(platform.id),
    whole = modelOf(platform),
    less = kept.length > 0 ? modelOf(without(platform, piecesOut(kept))) : whole;
  const [from, to] = [fromName, toName].map((name) => arrangementNamed(whole, name));
  if (!from || !to) return { kind: "unknown" };
  if (!arrangementNamed(less, toName)) return { kind: "blocked", by: blocking(platform, kept, to) };
  const model = arrangementNamed(less, fromName) && !isBegun ? less : whole;
  return {
    kind: "ends",
    model,
    from: arrangementNamed(model, fromName)!,
    to: arrangementNamed(model, toName)!,
    broken: model === whole && less !== whole ? blocking(platform, kept, from) : [],
  };
}

/** The items out of service each of which alone keeps an arrangement from being built. */
function blocking(platform: Platform, kept: readonly KeptItem[], { name }: Arrangement): readonly KeptItem[] {
  return kept.filter(
    (each) => !validArrangements(without(platform, piecesOut([each]))).some((other) => other.name === name),
  );
}
