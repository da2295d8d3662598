/** How long gas and batteries last, in exact fractions, with the arithmetic in words beside the answer. */
import type { Item, Platform, Service } from "../../schema/collection.ts";
import { validArrangements } from "../parts/arrangements.ts";
import { lookup } from "../parts/lookup.ts";
import { exactly, floorOf, fraction, over, type Rational, times, toText, isDecimal } from "../numbers/rational.ts";
import { heard } from "../../words/heard.ts";

/** How long a number of full pieces lasts. */
interface EnduranceRow {
  readonly item: Item;
  /** Full pieces, one after the other; 1 for what runs on its own battery. */
  readonly pieces: number;
  /** What draws on it: a demand's name; absent for a battery. */
  readonly demand?: string;
  /** What is left after the reserve, before rounding. */
  readonly exact: Rational;
  /** Whole minutes, rounded down: what the sheet says. */
  readonly minutes: number;
  /** `2 × 430 l = 860 l; 860 l ÷ 5 l/min = 172 min; 172 min ÷ 2 in reserve = 86 min`. */
  readonly arithmetic: string;
}

/**
 * Minutes that full pieces last at a flow: `pieces × litres ÷ litres a minute ÷ reserve`, exactly. Contents are at 1
 * bar, as makers print them (nominal contents); nothing is derived from a cylinder's letter, since letters mean other
 * sizes elsewhere. Throws a RangeError for a flow or a reserve of 0.
 */
export function enduranceOfGas(litres: number, pieces: number, flow: number, reserve = 1): Omit<EnduranceRow, "item"> {
  const one = exactly(litres),
    all = times(one, fraction(BigInt(pieces))),
    draw = exactly(flow),
    full = over(all, draw);
  const sum = pieces > 1 ? [`${pieces} × ${say(one)} l = ${say(all)} l`] : [];
  const { words, ...kept } = keepReserve(full, reserve);
  return {
    pieces,
    ...kept,
    arithmetic: [...sum, `${say(all)} l ÷ ${say(draw)} l/min = ${say(full)} min`, ...words].join("; "),
  };
}

/** Minutes that a battery lasts: its time ÷ reserve, exactly. */
export function enduranceOfBattery(seconds: number, reserve = 1): Omit<EnduranceRow, "item"> {
  const full = over(exactly(seconds), fraction(60n));
  const { words, ...kept } = keepReserve(full, reserve);
  return { pieces: 1, ...kept, arithmetic: [heard("readiness").minWhenFull({ full: say(full) }), ...words].join("; ") };
}

function keepReserve(full: Rational, reserve: number) {
  const by = exactly(reserve),
    exact = over(full, by),
    minutes = Number(floorOf(exact));
  return {
    exact,
    minutes,
    words: [
      ...(reserve === 1 ? [] : [heard("readiness").minInReserve({ full: say(full), by: say(by), left: say(exact) })]),
      ...(exact.d === 1n ? [] : [heard("readiness").roundedDown({ minutes })]),
    ],
  };
}

/** A fraction as people write it: `86`, `21.5`, `14 1/3`. */
function say(value: Rational): string {
  if (isDecimal(value, 2)) return toText(value, 2);
  const whole = floorOf(value),
    rest = value.n - whole * value.d;
  return `${whole > 0n ? `${whole} ` : ""}${rest}/${value.d}`;
}

/**
 * The endurance table of a platform, by item in the order of the equipment: for what holds gas, one full piece and each
 * number of pieces that any arrangement carries, at every demand that it feeds; for what runs on a battery, one piece.
 * Empty if nothing has `contents` or `runs`. What has contents and feeds no demand has no row.
 */
export function enduranceTable(
  platform: Platform,
  { demands = [], reserve = 1 }: Pick<Service, "demands" | "reserve">,
): EnduranceRow[] {
  const { items } = lookup(platform);
  return [...items.values()].flatMap((item): EnduranceRow[] => {
    const { contentsLitres: litres, runsSeconds: runs } = item;
    const fed = demands.filter(({ from }) => from.length === 0 || from.some(({ id }) => id === item.id));
    return [
      ...(litres === undefined
        ? []
        : fed.flatMap((demand) =>
            piecesCarried(platform, item.id).map((pieces) => ({
              item,
              demand: demand.name,
              ...enduranceOfGas(litres, pieces, demand.litres, reserve),
            })),
          )),
      ...(runs === undefined ? [] : [{ item, ...enduranceOfBattery(runs, reserve) }]),
    ];
  });
}

/** 1, and each number of pieces of an item that some arrangement carries outside the stores; the fewest first. */
function piecesCarried(platform: Platform, item: string): number[] {
  const { places } = lookup(platform);
  const carried = validArrangements(platform).map(({ contents }) =>
    contents
      .filter((entry) => entry.item === item && places.get(entry.place)?.kind !== "store")
      .reduce((sum, { count }) => sum + count, 0),
  );
  return [...new Set([1, ...carried])].filter((pieces) => pieces > 0).sort((a, b) => a - b);
}
