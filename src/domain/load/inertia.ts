/** Inertia loads of what fastenings hold, against their rated strength: F = m · n · g0. */
import type { Fastening, Platform } from "../../schema/collection.ts";
import { placesUnder, standingIn } from "../parts/support.ts";
import type { LoadRow } from "./load-rows.ts";
import { compare, exactly, type Rational, sum, times } from "../numbers/rational.ts";

/**
 * Standard acceleration of gravity, exactly 9.80665 m/s² (3rd CGPM 1901, NIST SP 811; citation from memory, value
 * universal).
 */
const STANDARD_GRAVITY: Rational = exactly(9.80665);

/**
 * Extra factor for local attachments of items that are removed often (14 CFR 25.561(c)(2), confirmed). Off unless asked
 * for:
 * whether it applies is for the approved data to say.
 */
const QUICK_CHANGE_FACTOR: Rational = exactly(1.33);

/** Directions in which a platform can have a factor, in the order in which they are shown. */
const DIRECTIONS = ["forward", "rearward", "sideward", "upward", "downward"] as const;
type Direction = (typeof DIRECTIONS)[number];

/** Load in one direction. Without a factor there is no load and no check: it is "no factor in this rule", never 0. */
export interface DirectionLoad {
  readonly name: Direction;
  readonly factor: Rational | undefined;
  readonly newtons: Rational | undefined;
  /** Not over the rated strength; undefined when there is no factor or no rating. */
  readonly within: boolean | undefined;
}

/** What one fastening has to hold by itself. */
export interface HeldLoad {
  readonly fastening: Fastening;
  readonly massKg: Rational;
  /** Whether the patient is part of it, because an item there restrains one. */
  readonly patient: boolean;
  /** Item ids without a mass among what it holds: the load is then too low. */
  readonly noMass: readonly string[];
  readonly directions: readonly DirectionLoad[];
}

/** Force in newtons on a mass under `factor` times standard gravity; `quickChange` multiplies by 1.33. */
export function inertiaNewtons(massKg: Rational, factor: Rational, quickChange = false): Rational {
  return times(massKg, factor, STANDARD_GRAVITY, ...(quickChange ? [QUICK_CHANGE_FACTOR] : []));
}

/**
 * The load of every fastening whose places hold something, in the order of the platform's file. A fastening holds
 * everything in its
 * places, everything in places on those items, and so on; the patient too, if one of these items restrains one. It is
 * taken to hold
 * the whole, also where others hold the same place, in the directions that it holds `against`: all, if none is named.
 * `patientKg` undefined: nobody lies on it.
 */
export function findHeld(
  platform: Platform,
  rows: readonly LoadRow[],
  patientKg?: Rational,
  quickChange = false,
): HeldLoad[] {
  const restraining = new Set(platform.items.filter(({ restrains }) => restrains).map(({ id }) => id));
  return platform.fastenings.flatMap((fastening) => {
    const held = rowsHeld(platform, rows, fastening.holds);
    if (held.length === 0) return [];
    const patient = patientKg !== undefined && held.some(({ item }) => restraining.has(item));
    const massKg = sum(...held.map((row) => row.massKg), ...(patient ? [patientKg] : []));
    const rated = fastening.ratedN === undefined ? undefined : exactly(fastening.ratedN);
    const against = DIRECTIONS.filter((name) => fastening.against?.includes(name) ?? true);
    const directions = against.map((name): DirectionLoad => {
      const given = platform.factors?.[name];
      if (given === undefined) return { name, factor: undefined, newtons: undefined, within: undefined };
      const factor = exactly(given);
      const newtons = inertiaNewtons(massKg, factor, quickChange);
      return { name, factor, newtons, within: rated && compare(newtons, rated) <= 0 };
    });
    return [
      {
        fastening,
        massKg,
        patient,
        noMass: [...new Set(held.filter((row) => !row.hasMass).map(({ item }) => item))],
        directions,
      },
    ];
  });
}

/** Rows in the places, and in places on what stands there, and so on up. */
function rowsHeld(platform: Platform, rows: readonly LoadRow[], holds: readonly string[]): LoadRow[] {
  const places = new Map(platform.places.map((place) => [place.id, place])),
    standsIn = standingIn(rows);
  return rows.filter(({ place }) => placesUnder(place, places, standsIn).some((id) => holds.includes(id)));
}
