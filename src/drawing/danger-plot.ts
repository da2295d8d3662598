/** The danger weights as bars over the weight rail: slip by slip, and on which side of the truth it leads. */
import type { Danger, SlipKind } from "../domain/bands/slips.ts";
import { fraction, over, toNumber } from "../domain/numbers/rational.ts";
import { MASS_PER_KG } from "../schema/units.ts";
import { placeOnRail, type Rail } from "./rail.ts";

/** True weights from `a` to `b`, in per cent of the rail, that a slip takes for others. */
interface DangerBar {
  readonly a: number;
  readonly b: number;
  /** Whether what would be taken is for heavier patients. */
  readonly isHeavier: boolean;
  readonly taken: readonly string[];
  /** Per cent of the rail from `a` to the next bar on the same side, or to the end: the room for a name. */
  readonly room: number;
}

/** Bars of each slip, in rising weight; a slip that takes nobody anywhere has none. */
export function layDangers(
  dangers: readonly Danger[],
  rail: Pick<Rail, "fromKg" | "toKg" | "segments">,
): ReadonlyMap<SlipKind, readonly DangerBar[]> {
  const place = ({ value }: Danger["from"]) =>
    placeOnRail(rail, Math.max(toNumber(over(value, fraction(MASS_PER_KG))), rail.fromKg));
  const begins = (ids: readonly string[]) =>
    Math.min(...rail.segments.filter(({ id }) => ids.includes(id)).map(({ a }) => a));
  return new Map(
    [...Map.groupBy(dangers, ({ slip }) => slip)].map(([slip, own]) => {
      const bars = own
        .map(({ from, to, right, taken }) => ({
          a: place(from),
          b: place(to),
          isHeavier: begins(taken) > begins(right),
          taken,
        }))
        .sort((one, other) => one.a - other.a);
      return [
        slip,
        bars.map((bar, at) => {
          const next = bars.slice(at + 1).find(({ isHeavier }) => isHeavier === bar.isHeavier);
          return { ...bar, room: (next?.a ?? 100) - bar.a };
        }),
      ];
    }),
  );
}
