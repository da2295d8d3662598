/**
 * What is still possible while pieces are out of service: whom the platform can carry, with which options, by which
 * ways, and which lines of its cards can't be answered.
 */
import type { Band, Check, Configuration, Crew, Item, Option, Platform } from "../../schema/collection.ts";
import { isSameRange } from "../bands/bands.ts";
import { joinBands } from "../bands/join-bands.ts";
import { elementaryBands } from "../bands/patients.ts";
import { standingChecks, subjectsOf, wayOf } from "../cards/subjects.ts";
import { type Arrangement, configurationOf, isFor, validArrangements } from "../parts/arrangements.ts";
import type { Changeover } from "../states/changeover.ts";
import { modelOf } from "../states/model.ts";
import { waysBetween, stepsKey } from "../time/plans.ts";
import { remember } from "../words/remember.ts";
import type { OutOfService, Spares } from "./blocked.ts";

/** Whom the service carries, and who does the steps. */
interface Carrier {
  readonly band: Band;
  readonly crew: readonly Pick<Crew, "id">[];
  readonly otherNames?: Readonly<Record<string, readonly string[]>> | undefined;
}

/** An option that no arrangement of a configuration can have any more. */
interface LostOption {
  readonly configuration: Configuration;
  readonly option: Option;
}

/** What the pieces that are left can carry. */
interface StillPossible {
  readonly possible: readonly Arrangement[];
  readonly lost: readonly Arrangement[];
  /** Configurations that can't be built with any options. */
  readonly lostConfigurations: readonly Configuration[];
  /** Of configurations that can still be built. */
  readonly lostOptions: readonly LostOption[];
  /** Patients whom an arrangement was for, and none is now; joined, lightest first. */
  readonly nobodyFor: readonly Band[];
}

/** The platform with so many pieces fewer. Ids that are not its own are passed over. */
export function without(platform: Platform, out: OutOfService): Platform {
  const left = (item: Item) => Math.max(0, item.count - (out.get(item.id) ?? 0));
  return {
    ...platform,
    items: platform.items.map((item) => (out.has(item.id) ? { ...item, count: left(item) } : item)),
  };
}

/** What can still be built of the pieces that are left, and for whom. */
export const stillPossible = /* @__PURE__ */ remember(findPossible);

function findPossible(platform: Platform, service: Pick<Carrier, "band">, out: OutOfService): StillPossible {
  const before = validArrangements(platform),
    possible = validArrangements(without(platform, out)),
    names = new Set(possible.map(({ name }) => name));
  const lost = before.filter(({ name }) => !names.has(name));
  const canBuild = (configuration: Configuration, option?: Option) =>
    possible.some(
      (each) =>
        each.configuration.id === configuration.id && (!option || each.options.some(({ id }) => id === option.id)),
    );
  const lostConfigurations = platform.configurations.filter(
    (configuration) => lost.some((each) => each.configuration.id === configuration.id) && !canBuild(configuration),
  );
  const lostOptions = platform.configurations
    .filter((configuration) => canBuild(configuration))
    .flatMap((configuration) =>
      platform.options
        .filter(
          (option) =>
            lost.some((each) => each.configuration.id === configuration.id && each.options.includes(option)) &&
            !canBuild(configuration, option),
        )
        .map((option) => ({ configuration, option })),
    );
  const nobody = patientsTold(platform, service.band).filter(
    ({ patient }) => before.some((each) => isFor(each, patient)) && !possible.some((each) => isFor(each, patient)),
  );
  return { possible, lost, lostConfigurations, lostOptions, nobodyFor: joinBands(nobody.map(({ band }) => band)) };
}

/** The patients whom arrangements tell apart: the same whatever is out of service. */
const patientsTold = /* @__PURE__ */ remember((platform: Platform, carried: Band) =>
  elementaryBands(
    carried,
    validArrangements(platform).flatMap(({ band, without: others }) => [band, ...others]),
  ),
);

/**
 * For each arrangement by its name what it can miss: item id -> how many pieces may be out of service while it can
 * still be built. Items all of which may be missing are left out. `blockedBy` reads it.
 */
export const sparesOf = /* @__PURE__ */ remember((platform: Platform): ReadonlyMap<string, Spares> => {
  const spares = new Map(validArrangements(platform).map(({ name }) => [name, {} as Record<string, number>]));
  for (const { id, count } of platform.items)
    for (let out = 1; out <= count; out += 1) {
      const left = new Set(validArrangements(without(platform, new Map([[id, out]]))).map(({ name }) => name));
      for (const [name, spare] of spares) if (!left.has(name)) spare[id] ??= out - 1;
    }
  return spares;
});

/** What each arrangement of a configuration can miss, the one with the fewest options first; each table once. */
export const sparesWith = /* @__PURE__ */ remember((platform: Platform, { id }: Configuration): readonly Spares[] => {
  const tables = [...sparesOf(platform)].flatMap(([name, spares]) => (configurationOf(name) === id ? [spares] : []));
  return tables.filter((each, at) => tables.findIndex((other) => isSameTable(other, each)) === at);
});

const isSameTable = (a: Spares, b: Spares): boolean =>
  Object.keys(a).length === Object.keys(b).length && Object.entries(a).every(([item, spare]) => b[item] === spare);

/** A line of a card that can't be answered as it is written: a piece that it is about is not where it should be. */
interface Unanswered {
  readonly check: Check;
  /** The arrangements whose card has it. */
  readonly arrangements: readonly Arrangement[];
}

/** Lines of the cards of what is still possible that are about something of which there is less than the card says. */
export function unansweredLines(
  platform: Platform,
  { possible }: StillPossible,
  otherNames?: Carrier["otherNames"],
): Unanswered[] {
  const whole = new Map(validArrangements(platform).map((each) => [each.name, each]));
  const lines = new Map<Check, Arrangement[]>();
  for (const arrangement of possible) {
    const full = whole.get(arrangement.name)!;
    for (const check of standingChecks(full)) {
      const subjects = subjectsOf(check, platform, otherNames ?? {});
      if (subjects.some((subject) => wayOf(full, subject) !== wayOf(arrangement, subject)))
        lines.set(check, [...(lines.get(check) ?? []), arrangement]);
    }
  }
  return [...lines].map(([check, arrangements]) => ({ check, arrangements }));
}

/** For an item that holds a patient, others that hold the same patients and are not fitted together with it. */
interface StandIn {
  readonly item: Item;
  /** Those of which pieces are left; empty if there are none. */
  readonly instead: readonly Item[];
}

/** What could stand in for the items out of service that hold a patient. */
export function standIns(platform: Platform, out: OutOfService): StandIn[] {
  const fitted = platform.configurations.map((configuration) => new Set(configuration.fitted.map(({ item }) => item)));
  const together = (a: Item, b: Item) => fitted.some((items) => items.has(a.id) && items.has(b.id));
  return platform.items.flatMap((item) => {
    const { restrains } = item;
    if (!out.has(item.id) || !restrains) return [];
    const instead = without(platform, out).items.filter(
      (other) =>
        other.id !== item.id &&
        other.count > 0 &&
        other.restrains !== undefined &&
        isSameRange(other.restrains, restrains) &&
        !together(item, other),
    );
    return [{ item, instead }];
  });
}

/** A changeover between two arrangements that are still possible, which is now done otherwise, or not at all. */
interface OtherWay {
  readonly from: Arrangement;
  readonly to: Arrangement;
  /** The patients for whom it was planned before. */
  readonly patients: readonly Band[];
  readonly before: Changeover;
  /** `undefined`: there is no way any more. */
  readonly now: Changeover | undefined;
}

/** Changeovers that take another way with the pieces that are left; empty if every changeover goes as before. */
export function otherWays(platform: Platform, service: Carrier, out: OutOfService): OtherWay[] {
  return [...otherWaysByPair(platform, service, out)].flat();
}

/**
 * As `otherWays`, a list for each pair of arrangements in turn, mostly empty: a large platform takes seconds, so that a
 * page stops between two pairs to hear its reader.
 */
export function* otherWaysByPair(platform: Platform, service: Carrier, out: OutOfService): Generator<OtherWay[]> {
  const [whole, less] = [modelOf(platform), lessOf(platform, out)];
  const stands = (name: string) => whole.arrangements.find((each) => each.name === name);
  for (const from of less.arrangements)
    for (const to of less.arrangements) {
      const [start, end] = [stands(from.name), stands(to.name)];
      if (from === to || !start || !end) continue;
      const ways: OtherWay[] = [];
      for (const { cells, changeover } of waysBetween(whole, service, start, end)) {
        if (!changeover) continue;
        const now = waysBetween(less, service, from, to, cells[0]!.patient)[0]?.changeover;
        if (stepsKey(now) !== stepsKey(changeover))
          ways.push({
            from: start,
            to: end,
            patients: joinBands(cells.map(({ band }) => band)),
            before: changeover,
            now,
          });
      }
      yield ways;
    }
}

/** The model of what is left; the same for the same losses of a platform. */
const lessOf = /* @__PURE__ */ remember((platform: Platform, out: OutOfService) => modelOf(without(platform, out)));

/** How many pieces of an item may be missing before somebody can't be carried, or an option can't be had. */
interface SinglePoint {
  readonly item: Item;
  /** So many may be missing, and everybody can still be carried; `undefined`: all of them. */
  readonly spare: number | undefined;
  /** Who can't be carried with one more missing; empty where `spare` is undefined. */
  readonly nobodyFor: readonly Band[];
  /** So many may be missing, and every option can still be had; of those lost with one more, `lostOptions`. */
  readonly spareForOptions: number;
  readonly lostOptions: readonly LostOption[];
}

/** For every item, what the loss of its pieces does; those with the fewest to spare first, then in file order. */
export const singlePoints = /* @__PURE__ */ remember(
  (platform: Platform, service: Pick<Carrier, "band">): SinglePoint[] => {
    const order = ({ spare }: SinglePoint) => spare ?? Infinity;
    return platform.items
      .map((item): SinglePoint => {
        const losses = Array.from({ length: item.count }, (_, at) =>
          stillPossible(platform, service, new Map([[item.id, at + 1]])),
        );
        const somebody = losses.findIndex(({ nobodyFor }) => nobodyFor.length > 0),
          option = losses.findIndex(({ lostOptions }) => lostOptions.length > 0);
        return {
          item,
          spare: somebody < 0 ? undefined : somebody,
          nobodyFor: losses[somebody]?.nobodyFor ?? [],
          spareForOptions: option < 0 ? item.count : option,
          lostOptions: losses[option]?.lostOptions ?? [],
        };
      })
      .sort((a, b) => order(a) - order(b));
  },
);
