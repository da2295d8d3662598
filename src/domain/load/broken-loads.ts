/**
 * Which configurations and options break a limit of mass, balance or strength, each reported once in its simplest
 * arrangement.
 */
import type { Band, Fastening, Option, Platform } from "../../schema/collection.ts";
import { type Arrangement, validArrangements } from "../parts/arrangements.ts";
import { placesUnder, standingIn } from "../parts/support.ts";
import { type DirectionLoad, findHeld, type HeldLoad } from "./inertia.ts";
import { itemsWithoutMass, listRows, type Totals } from "./load-rows.ts";
import { bandEnds, brokenLimits, type Crossing, findCrossings, type LimitName, totalLoad } from "./load.ts";
import { compare, type Rational } from "../numbers/rational.ts";
import { remember } from "../words/remember.ts";

/**
 * What breaks a limit: the arrangement with the fewest options that does, and the option whose addition does it (none:
 * the configuration).
 */
interface Blame {
  readonly arrangement: Arrangement;
  readonly option: Option | undefined;
  /**
   * Names of further arrangements that break the same limit by the same option, in other configurations or with other
   * options.
   */
  readonly also: readonly string[];
  /** The patient at the end of the band at which it is broken (the lighter end if at both). */
  readonly patientKg: Rational;
}

/** A limit of mass or balance that is broken. */
export interface BrokenLimit extends Blame {
  readonly kind: "limit";
  readonly limit: LimitName;
  readonly totals: Totals;
  readonly crossing: Crossing;
  /** Whether it is broken at both ends of the band, so for every patient. */
  readonly always: boolean;
}

/** A fastening whose rated strength is exceeded; `direction` is the one with the largest load. */
export interface BrokenRating extends Blame {
  readonly kind: "rating";
  readonly fastening: Fastening;
  readonly held: HeldLoad;
  readonly direction: DirectionLoad;
}

type Broken = (Omit<BrokenLimit, "option" | "also"> | Omit<BrokenRating, "option" | "also">) & { readonly key: string };

/**
 * Everything that is broken on a platform. Each arrangement is judged at both ends of its band (an end that the
 * arrangement leaves open
 * is the service's; with no upper end at all only the lower one is judged, and `findCrossings` says where the limit
 * lies). Strength is
 * judged with the heaviest patient. An arrangement is left out when the same limit is broken with fewer of its options.
 */
export const findBrokenLoads: (platform: Platform, service: Band) => readonly (BrokenLimit | BrokenRating)[] =
  remember(judgeAll);

function judgeAll(platform: Platform, service: Band): (BrokenLimit | BrokenRating)[] {
  const found = new Map<string, (BrokenLimit | BrokenRating) & { also: string[] }>();
  const byConfiguration = Map.groupBy(validArrangements(platform), ({ configuration }) => configuration.id);
  for (const arrangements of byConfiguration.values()) {
    const reported: { key: string; options: ReadonlySet<string> }[] = [];
    for (const arrangement of arrangements.toSorted((a, b) => a.options.length - b.options.length)) {
      const options = new Set(arrangement.options.map(({ id }) => id));
      for (const { key, ...broken } of judge(platform, arrangement, service)) {
        if (reported.some((simpler) => simpler.key === key && [...simpler.options].every((id) => options.has(id))))
          continue;
        reported.push({ key, options });
        const option = arrangement.options.at(-1);
        const place = `${key}|${option ? `option ${option.id}` : `configuration ${arrangement.configuration.id}`}`;
        const known = found.get(place);
        if (known) known.also.push(arrangement.name);
        else found.set(place, { ...broken, option, also: [] });
      }
    }
  }
  return [...found.values()];
}

function judge(platform: Platform, arrangement: Arrangement, service: Band): Broken[] {
  const own = bandEnds(arrangement.band);
  const outer = bandEnds(service);
  const fromKg = arrangement.band.weight.from ? own.fromKg : outer.fromKg;
  const toKg = own.toKg ?? outer.toKg;
  const ends = toKg && compare(toKg, fromKg) !== 0 ? [fromKg, toKg] : [fromKg];
  return [...judgeLimits(platform, arrangement, ends), ...judgeRatings(platform, arrangement, toKg ?? fromKg)];
}

function judgeLimits(platform: Platform, arrangement: Arrangement, ends: readonly Rational[]): Broken[] {
  const crossings = findCrossings(platform, arrangement);
  const atEnds = ends.map((patientKg) => {
    const totals = totalLoad(platform, arrangement, patientKg);
    return { patientKg, totals, limits: brokenLimits(platform, totals) };
  });
  return crossings.flatMap((crossing) => {
    const broken = atEnds.filter(({ limits }) => limits.includes(crossing.limit));
    const first = broken[0];
    return first
      ? [
          {
            kind: "limit",
            key: crossing.limit,
            arrangement,
            crossing,
            limit: crossing.limit,
            totals: first.totals,
            patientKg: first.patientKg,
            always: broken.length === ends.length,
          } satisfies Broken,
        ]
      : [];
  });
}

function judgeRatings(platform: Platform, arrangement: Arrangement, patientKg: Rational): Broken[] {
  return findHeld(platform, listRows(platform, arrangement), patientKg).flatMap((held) => {
    const over = held.directions
      .filter(({ within }) => within === false)
      .sort((a, b) => compare(b.newtons!, a.newtons!));
    const direction = over[0];
    return direction
      ? [
          {
            kind: "rating",
            key: `fastening ${held.fastening.id}`,
            arrangement,
            fastening: held.fastening,
            held,
            direction,
            patientKg,
          } satisfies Broken,
        ]
      : [];
  });
}

/**
 * What the load of a platform cannot be known for: items without mass, and, where balance has limits, places and a
 * patient without x.
 */
interface UnknownLoads {
  readonly items: Platform["items"];
  readonly places: Platform["places"];
  readonly patient: boolean;
}

/**
 * What some arrangement of the platform has on it without a mass or, where the balance is limited, without a known
 * place.
 */
export function findUnknownLoads(platform: Platform): UnknownLoads {
  const rows = validArrangements(platform).flatMap((arrangement) => listRows(platform, arrangement));
  const limited = platform.limits.balance !== undefined;
  // Wherever an item stands first: what is missing there is missing wherever it stands.
  const stands = standingIn(rows),
    standsIn = (item: string) => stands(item).slice(0, 1);
  const placeOf = new Map(platform.places.map((place) => [place.id, place]));
  /** The place whose x is missing: the platform's own, under everything that stands on it. */
  const rootOf = (id: string): string => placesUnder(id, placeOf, standsIn).at(-1)!;
  const missing = new Set(rows.filter(({ xMm, massKg }) => !xMm && massKg.n !== 0n).map(({ place }) => rootOf(place)));
  return {
    items: itemsWithoutMass(platform, rows),
    places: limited ? platform.places.filter(({ id }) => missing.has(id)) : [],
    patient: limited && platform.patient === undefined,
  };
}
