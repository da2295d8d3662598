/**
 * What a procedure builds and takes down: what stands elsewhere when it is done, against what documents fit; and the
 * other way round, which procedures build a document.
 */
import type { Configuration, Option, Platform, Procedure } from "../../schema/collection.ts";
import { bandOfProcedure, idsIncludedBy } from "../words/procedure-facts.ts";
import { meetBands, shareOf } from "../bands/bands.ts";
import { fact } from "../words/fact.ts";
import { remember } from "../words/remember.ts";

/** As much of a procedure as is asked what it moves: the record, or what an issue froze of it. */
interface Moving {
  readonly steps: readonly { readonly operations: readonly (Moves | { readonly kind: "turn" })[] }[];
}

interface Moves {
  readonly kind: "move";
  readonly item: string;
  readonly count: number;
  readonly from: string;
  readonly to: string;
}

/** As much of a configuration or an option as is asked what it fits. */
interface Fitting {
  readonly fitted: readonly { readonly item: string; readonly place: string }[];
}

/** What a procedure leaves changed; empty if it moves nothing, or back all that it moves. Pieces by `item place`. */
interface Moved {
  /** What stands there at the end because a step put it there. */
  readonly into: ReadonlyMap<string, number>;
  /** What stands there no longer. */
  readonly from: ReadonlyMap<string, number>;
}

/** What a procedure leaves changed when all its steps are done. */
export const netMoved = /* @__PURE__ */ fact("moves", ({ steps }: Moving): Moved => netOf(steps));

/** The same of a list of steps, worked out once for it. */
const netOf = /* @__PURE__ */ remember((steps: Moving["steps"]): Moved => {
  const counts = new Map<string, number>();
  const add = (key: string, count: number) => counts.set(key, (counts.get(key) ?? 0) + count);
  for (const { operations } of steps)
    for (const operation of operations)
      if (operation.kind === "move") {
        add(`${operation.item} ${operation.from}`, -operation.count);
        add(`${operation.item} ${operation.to}`, operation.count);
      }
  return {
    into: new Map([...counts].filter(([, count]) => count > 0)),
    from: new Map([...counts].flatMap(([key, count]) => (count < 0 ? [[key, -count]] : []))),
  };
});

/** What a list of `fitted` puts where, as `item place`; made once for it. */
const fittedKeys = /* @__PURE__ */ remember((fitted: Fitting["fitted"]): readonly string[] =>
  fitted.map(({ item, place }) => `${item} ${place}`),
);

/** What a procedure builds and takes down. */
interface Builds<C, O> {
  /** Configurations that fit what it puts in place, and options; both empty for one that takes down. */
  readonly configurations: readonly C[];
  readonly options: readonly O[];
  /** Options, then configurations, that fit what it takes away; empty for one that only adds an option. */
  readonly takesDown: readonly (C | O)[];
}

/**
 * What a procedure builds or takes down, of the documents given: the one owner of this for pages, cards, phases and
 * the path of study. What it puts where a document fits it builds that document. But what clears an option away and
 * fits no more pieces than it takes off builds nothing, even if it puts something back in the option's place; and what
 * only adds an option takes nothing down, even if it moves something out of its way. What exchanges one configuration
 * for another builds the one and takes down the other.
 *
 * Example: what takes a cooling unit out of a bay and puts the bag back takes down the option `cooling-unit`, and does
 * not build the configuration that fits the bag there.
 */
export function buildsAmong<C extends Fitting, O extends Fitting>(
  procedure: Moving,
  configurations: readonly C[],
  options: readonly O[],
): Builds<C, O> {
  const { into, from } = netMoved(procedure);
  const fits = (which: ReadonlyMap<string, number>) => (document: Fitting) =>
    fittedKeys(document.fitted).some((key) => which.has(key));
  const places = new Set([...configurations, ...options].flatMap(({ fitted }) => fittedKeys(fitted)));
  const pieces = (which: ReadonlyMap<string, number>) =>
    [...which].reduce((sum, [key, count]) => sum + (places.has(key) ? count : 0), 0);
  const cleared = options.filter(fits(from));
  if (cleared.length > 0 && pieces(into) <= pieces(from))
    return { configurations: [], options: [], takesDown: [...cleared, ...configurations.filter(fits(from))] };
  const built = configurations.filter(fits(into)),
    added = options.filter(fits(into));
  const onlyAdds = built.length === 0 && added.length > 0;
  return {
    configurations: built,
    options: added,
    takesDown: onlyAdds ? [] : configurations.filter((each) => fits(from)(each) && !built.includes(each)),
  };
}

/**
 * Of the procedures that put something of a configuration in place, those that build it: not what builds another one
 * that shares some pieces with it, since it also puts in place what only others fit. But where nothing else puts a
 * piece of it there for all its patients (`isForAll`), such a procedure does build it, and what is too much is taken
 * away later. In the order given.
 *
 * Example: three arrangements are pinned with the same four pins, each by its own procedure; each is built by its own
 * alone, though all three put pins where it has pins.
 */
export function ownBuilders<P extends Moving>(
  configuration: Fitting,
  builders: readonly P[],
  others: readonly Fitting[],
  isForAll: (builder: P) => boolean,
): P[] {
  const own = new Set(fittedKeys(configuration.fitted)),
    foreign = new Set(others.flatMap(({ fitted }) => fittedKeys(fitted)).filter((key) => !own.has(key)));
  const put = (builder: P) => [...netMoved(builder).into.keys()];
  const isOther = (builder: P) => put(builder).some((key) => foreign.has(key));
  const covered = new Set(builders.filter((builder) => !isOther(builder) && isForAll(builder)).flatMap(put));
  return builders.filter(
    (builder) => !isOther(builder) || put(builder).some((key) => own.has(key) && !covered.has(key)),
  );
}

/** What a procedure builds or takes down, of the documents of its platform whose patients it is for. */
export function buildsOf(platform: Platform, procedure: Procedure): Builds<Configuration, Option> {
  const builds = metBuilds(platform, procedure),
    builders = buildersIn(platform);
  const isOwn = (each: Configuration) => {
    const { all, own } = builders.get(each)!;
    if (all.includes(procedure)) return own.includes(procedure);
    // As another day has it, in the place of the platform's own.
    return ownAmong(platform, each, [...all.filter(({ id }) => id !== procedure.id), procedure]).includes(procedure);
  };
  return { ...builds, configurations: builds.configurations.filter(isOwn) };
}

function metBuilds({ configurations, options }: Platform, procedure: Procedure): Builds<Configuration, Option> {
  const patients = bandOfProcedure(procedure),
    isMet = ({ band }: Configuration | Option) => meetBands(band, patients) !== undefined;
  return buildsAmong(procedure, configurations.filter(isMet), options.filter(isMet));
}

function ownAmong(platform: Platform, configuration: Configuration, builders: readonly Procedure[]): Procedure[] {
  return ownBuilders(configuration, builders, platform.configurations, ({ band, steps }) =>
    [{ band }, ...steps].every((part) => shareOf(part.band, configuration.band) === "all"),
  );
}

/** Of each configuration what puts something of it in place, and which of that builds it; in the collection's order. */
const buildersIn = /* @__PURE__ */ remember((platform: Platform) => {
  const builders = new Map<Configuration, Procedure[]>(platform.configurations.map((each) => [each, []]));
  for (const procedure of platform.procedures)
    for (const each of metBuilds(platform, procedure).configurations) builders.get(each)!.push(procedure);
  return new Map([...builders].map(([each, all]) => [each, { all, own: ownAmong(platform, each, all) }] as const));
});

/** Where a procedure is used: what it builds and takes down, and the procedures that run it. */
export interface Uses extends Builds<Configuration, Option> {
  /** Procedures that run this one's steps. */
  readonly includedIn: readonly Procedure[];
}

/** The uses of a procedure; all lists empty when there are none. */
export const usesOf: (platform: Platform, procedure: Procedure) => Uses = /* @__PURE__ */ remember(
  (platform: Platform, procedure: Procedure): Uses => {
    return {
      ...buildsOf(platform, procedure),
      includedIn: platform.procedures.filter((other) => idsIncludedBy(other).includes(procedure.id)),
    };
  },
);

/** Ids of procedures and of those whose steps they run. */
export function idsRunBy(procedures: readonly Pick<Procedure, "id" | "steps">[]): ReadonlySet<string> {
  return new Set(procedures.flatMap(({ id, steps }) => [id, ...steps.map(({ procedure }) => procedure)]));
}

/** Procedures that put in place something that the configuration or option fits, in the collection's order. */
export function buildersOf(platform: Platform, document: Configuration | Option): Procedure[] {
  return platform.procedures.filter((procedure) => {
    const { configurations, options } = usesOf(platform, procedure);
    return configurations.some(({ id }) => id === document.id) || options.some((option) => option === document);
  });
}
