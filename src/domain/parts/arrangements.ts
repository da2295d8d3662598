/**
 * Arrangements: each configuration with each set of its options that can be together, and what keeps one from existing.
 */
import type {
  Band,
  Configuration,
  Fastening,
  Fitted,
  Item,
  Option,
  Place,
  Platform,
  Range,
  Requirement,
  Where,
} from "../../schema/collection.ts";
import {
  compareCuts,
  findGaps,
  holds,
  holdsPatient,
  lowerCut,
  meetBands,
  type Patient,
  rangeBetween,
  upperCut,
} from "../bands/bands.ts";
import { placesUnder, standingIn } from "./support.ts";
import { remember } from "../words/remember.ts";
import { lowerFirst } from "../../schema/wording.ts";
import { sayOptionTitles } from "../words/say.ts";
import { heard } from "../../words/heard.ts";

/** Pieces of an item in a place. */
export interface Contents {
  readonly item: string;
  readonly place: string;
  readonly count: number;
}

/** A configuration with a set of its options: where everything is and how every fastening stands. */
export interface Arrangement {
  /** `configuration+option+option`, options in the configuration's order. */
  readonly name: string;
  readonly configuration: Configuration;
  readonly options: readonly Option[];
  /** For whom it is: patients who need an option that is not in it are left out, as far as a band can say it. */
  readonly band: Band;
  /** Patients of the band for whom it is not, because they need an option that is not in it; empty for most. */
  readonly without: readonly Band[];
  /** Every piece of every item, at home if it is not fitted. */
  readonly contents: readonly Contents[];
  /** State of each fastening that holds nothing or whose place is on the platform. */
  readonly fastenings: ReadonlyMap<string, string>;
  /** Why it can't exist; empty for a valid arrangement. */
  readonly problems: readonly Problem[];
}

/** What keeps an arrangement from existing, at the words that say so. */
interface Problem {
  readonly where: Where;
  readonly message: string;
  readonly fix: string;
}

/**
 * How many sets of options are looked at for one configuration; above that only sets of at most two, and the full one.
 */
const MOST_SETS = 1024;

/** All arrangements of a platform, invalid ones too: configurations in the collection's order, fewer options first. */
export const listArrangements: (platform: Platform) => readonly Arrangement[] =
  /* @__PURE__ */ remember(makeArrangements);

function makeArrangements(platform: Platform): Arrangement[] {
  const layout = layoutOf(platform);
  return platform.configurations.flatMap((configuration) =>
    optionSets(platform, configuration).flatMap((options) => {
      const arrangement = arrange(layout, configuration, options);
      return arrangement ? [arrangement] : [];
    }),
  );
}

/** The arrangements that can exist. */
export function validArrangements(platform: Platform): Arrangement[] {
  return listArrangements(platform).filter((arrangement) => arrangement.problems.length === 0);
}

/** The arrangement that `configuration+option+option` (any order) names; `undefined` if there is none. */
export function findArrangement(arrangements: readonly Arrangement[], name: string): Arrangement | undefined {
  const key = sortedName(name);
  return arrangements.find((arrangement) => sortedName(arrangement.name) === key);
}

function sortedName(name: string): string {
  const [configuration = "", ...options] = name.split("+").map((part) => part.trim());
  return [configuration, ...options.sort()].join("+");
}

/** Whether two options can't be together; `not-with` counts both ways. */
export function areApart(a: Pick<Option, "id" | "notWith">, b: Pick<Option, "id" | "notWith">): boolean {
  return a.notWith.includes(b.id) || b.notWith.includes(a.id);
}

/** Options of a platform that can't be together with this one, in the platform's order; empty if there is none. */
export function excludedBy({ options }: Pick<Platform, "options">, option: Option): Option[] {
  return options.filter((other) => other.id !== option.id && areApart(option, other));
}

/** What the changeover between two arrangements is called, by their names: `Newborn capsule to child cradle`. */
export function sayWay(from: string, to: string): string {
  return heard("fitting").fromTo({ from, to: lowerFirst(to) });
}

/** What an arrangement is called: `Newborn capsule with gas shelf and roll supports`. */
export function sayArrangement({
  configuration,
  options,
}: {
  readonly configuration: { readonly title: string };
  readonly options: readonly { readonly title: string }[];
}): string {
  return options.length === 0
    ? configuration.title
    : heard("fitting").configurationWithOptions({
        configuration: configuration.title,
        options: sayOptionTitles(options),
      });
}

/**
 * The configuration in the name of an arrangement, or of its card: `newborn-capsule` of `newborn-capsule+gas-shelf`;
 * `undefined` for a changeover's `from--to`.
 */
export function configurationOf(name: string): string | undefined {
  return name.includes("--") ? undefined : name.split("+")[0];
}

function optionSets(platform: Platform, configuration: Configuration): Option[][] {
  // With a configuration in force only options that are so, too: a draft changes nothing that a crew is asked to build.
  const options = configuration.options
    .flatMap(({ id }) => platform.options.find((option) => option.id === id) ?? [])
    .filter(({ status }) => status === "approved" || configuration.status !== "approved");
  let sets: Option[][] = [[]];
  for (const option of options) {
    const larger = sets.filter((set) => !set.some((other) => areApart(other, option)));
    if (sets.length + larger.length > MOST_SETS) return someSets(options);
    sets = [...sets, ...larger.map((set) => [...set, option])];
  }
  return sets.sort((a, b) => a.length - b.length);
}

function someSets(options: readonly Option[]): Option[][] {
  const pairs = options.flatMap((a, at) =>
    options
      .slice(at + 1)
      .filter((b) => !areApart(a, b))
      .map((b) => [a, b]),
  );
  const full = options.reduce<Option[]>(
    (set, option) => (set.some((other) => areApart(other, option)) ? set : [...set, option]),
    [],
  );
  return [[], ...options.map((option) => [option]), ...pairs, ...(full.length > 2 ? [full] : [])];
}

/** A platform's records by id, so that nothing is searched twice. */
interface Layout {
  readonly platform: Platform;
  readonly items: ReadonlyMap<string, Item>;
  readonly places: ReadonlyMap<string, Place>;
  readonly fastenings: readonly Fastening[];
}

/** The platform's records by id. */
export function layoutOf(platform: Platform): Layout {
  return {
    platform,
    items: new Map(platform.items.map((item) => [item.id, item])),
    places: new Map(platform.places.map((place) => [place.id, place])),
    fastenings: platform.fastenings,
  };
}

/** The configuration with these options; `undefined` if no patient is in all their bands. */
function arrange(layout: Layout, configuration: Configuration, options: readonly Option[]): Arrangement | undefined {
  const band = options.reduce<Band | undefined>(
    (sofar, option) => sofar && meetBands(sofar, option.band),
    configuration.band,
  );
  if (!band) return undefined;
  const needed = needsOf(configuration, options).map((each) => each.band),
    own = bandWithout(band, needed);
  // The platform waits without options also where every patient needs one.
  if (!own && options.length > 0) return undefined;
  const fitted = fittedIn(configuration, options);
  const { contents, problems } = placeAll(layout, fitted);
  const onPlatform = placesOnPlatform(layout, contents);
  for (const entry of fitted)
    if (layout.places.has(entry.place) && !onPlatform.has(entry.place))
      problems.push({
        where: entry.where,
        message: heard("fitting").isFitted({ item: entry.item, place: entry.place }),
        fix: heard("fitting").fitWhatCarriesToo({ place: entry.place }),
      });
  const name = [configuration.id, ...options.map((option) => option.id)].join("+");
  return {
    name,
    configuration,
    options,
    band: own ?? band,
    without: needed.filter((each) => meetBands(each, own ?? band)),
    contents,
    problems,
    fastenings: fasteningStates(layout, configuration, contents, onPlatform),
  };
}

/** The requirements of a configuration that a set of its options does not meet. */
function needsOf({ requires = [] }: Configuration, options: readonly Option[]): readonly Requirement[] {
  return requires.filter(({ option }) => !options.some(({ id }) => id === option));
}

/** The least band that holds all of a band's patients but these; `undefined` if nobody is left. */
function bandWithout(band: Band, others: readonly Band[]): Band | undefined {
  if (!others.some((other) => meetBands(band, other))) return band;
  const rest = findGaps(band, others);
  if (rest.length === 0) return undefined;
  const hull = (key: "weight" | "age") => {
    const low = rest.map((each) => lowerCut(each[key])).toSorted(compareCuts)[0]!,
      high = rest
        .map((each) => upperCut(each[key]))
        .toSorted(compareCuts)
        .at(-1)!;
    const isWhole = compareCuts(low, lowerCut(band[key])) === 0 && compareCuts(high, upperCut(band[key])) === 0;
    return isWhole ? band[key] : rangeBetween(low, high, key === "weight" ? "any weight" : "any age");
  };
  return { weight: hull("weight"), age: hull("age") };
}

/**
 * The options that a patient needs with a configuration, in the order of its requirements. A weight or an age that is
 * not known leaves none of them out; with `surely` those that it might not be.
 */
export function requirementsFor(
  { requires = [] }: Pick<Configuration, "requires">,
  patient: Patient,
  surely = false,
): readonly Requirement[] {
  return requires.filter(({ band }) => (surely ? holdsSurely(band, patient) : holdsPatient(band, patient)));
}

/** Whether an arrangement is for a patient; what is not known of the patient rules nothing out. */
export function isFor({ band, without }: Pick<Arrangement, "band" | "without">, patient: Patient): boolean {
  return holdsPatient(band, patient) && !without.some((each) => holdsSurely(each, patient));
}

/** The options that this patient needs and an arrangement does not have; empty if it has all that is surely needed. */
export function optionsMissing({ configuration, options }: Arrangement, patient: Patient): readonly string[] {
  return needsOf(configuration, options)
    .filter(({ band }) => holdsSurely(band, patient))
    .map(({ option }) => option);
}

/** Whether a patient is in a band whatever is not known of her. */
function holdsSurely({ weight, age }: Band, patient: Patient): boolean {
  const isIn = (range: Range, value: bigint | undefined) =>
    value === undefined ? !range.from && !range.to : holds(range, value);
  return isIn(weight, patient.weight) && isIn(age, patient.age);
}

/** What is fitted: the configuration's, then each option's in place of what was there. */
export function fittedIn(configuration: Configuration, options: readonly Option[]): readonly Fitted[] {
  let fitted = configuration.fitted;
  for (const option of options) {
    const replaced = new Set([...option.fitted.map(({ place }) => place), ...option.empty.map(({ place }) => place)]);
    fitted = [...fitted.filter(({ place }) => !replaced.has(place)), ...option.fitted];
  }
  return fitted;
}

/** Every piece: fitted or at home; with a problem for more pieces than there are and for a place over its room. */
function placeAll(layout: Layout, fitted: readonly Fitted[]): { contents: Contents[]; problems: Problem[] } {
  const counts = new Map<string, Map<string, number>>();
  const problems: Problem[] = [];
  const put = (item: string, place: string, count: number) => {
    const places = counts.get(item) ?? new Map<string, number>();
    counts.set(item, places.set(place, (places.get(place) ?? 0) + count));
  };
  const used = new Map<string, number>();
  for (const { item, place, count, where } of fitted) {
    const record = layout.items.get(item);
    if (!record || !layout.places.has(place)) continue;
    put(item, place, count);
    const total = (used.get(item) ?? 0) + count;
    used.set(item, total);
    if (total > record.count && total - count <= record.count)
      problems.push({
        where,
        message: heard("fitting").areFitted({ total, item, count: record.count }),
        fix: heard("fitting").fitAtMost({ count: record.count, item }),
      });
  }
  for (const item of layout.platform.items) {
    const left = item.count - (used.get(item.id) ?? 0);
    if (left > 0) put(item.id, item.home, left);
  }
  const contents = [...counts].flatMap(([item, places]) =>
    [...places].map(([place, count]) => ({ item, place, count })),
  );
  problems.push(...overRoom(layout, contents, fitted));
  return { contents, problems };
}

function overRoom(layout: Layout, contents: readonly Contents[], fitted: readonly Fitted[]): Problem[] {
  const problems: Problem[] = [];
  for (const place of layout.platform.places) {
    const inside = contents.filter((each) => each.place === place.id);
    const pieces = inside.reduce((sum, { count }) => sum + count, 0);
    if (place.room === undefined || pieces <= place.room) continue;
    const where = fitted.filter((each) => each.place === place.id).at(-1)?.where;
    // Without a fitted entry the homes alone overfill the place: that is parts/no-home, reported at the item.
    if (!where) continue;
    problems.push({
      where,
      message: heard("fitting").wouldHoldPieces({
        place: place.id,
        pieces,
        inside: inside.map(({ item, count }) => `${count} \`${item}\``).join(", "),
        room: place.room,
      }),
      fix: heard("fitting").fitFewerThereEmpty({ place: place.id }),
    });
  }
  return problems;
}

/** Ids of the places that are on the platform: its own mounts and stowages, and places on items that stand there. */
export function placesOnPlatform({ platform, places }: Layout, contents: readonly Contents[]): Set<string> {
  const standsIn = standingIn(contents);
  const isOwn = (id: string) => places.get(id)?.on === undefined && places.get(id)?.kind !== "store";
  return new Set(platform.places.flatMap(({ id }) => (placesUnder(id, places, standsIn).some(isOwn) ? [id] : [])));
}

/**
 * The state that a fastening has when nothing says otherwise: secure if filled, else when-empty, else secure. What
 * holds nothing has no `whenEmpty` and is secure.
 */
export function restState(fastening: Fastening, filled: boolean): string {
  return filled ? fastening.secure : (fastening.whenEmpty ?? fastening.secure);
}

function fasteningStates(
  layout: Layout,
  configuration: Configuration,
  contents: readonly Contents[],
  onPlatform: ReadonlySet<string>,
): Map<string, string> {
  const filled = new Set(contents.map(({ place }) => place));
  const states = new Map<string, string>();
  for (const fastening of layout.fastenings) {
    if (fastening.holds.length > 0 && !fastening.holds.some((place) => onPlatform.has(place))) continue;
    const named = configuration.fastenings.find((each) => each.fastening === fastening.id);
    states.set(
      fastening.id,
      named?.state ??
        restState(
          fastening,
          fastening.holds.some((place) => filled.has(place)),
        ),
    );
  }
  return states;
}
