/** What is still possible while pieces are out of service, in the words of pages and commands. */
import type { Words } from "../../words/hear.ts";
import type { Band, Configuration, Option, Platform } from "../../schema/collection.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import { sayBand } from "../bands/bands.ts";
import { type Arrangement, sayArrangement } from "../parts/arrangements.ts";
import { sayDuration, sayOptionTitles } from "../words/say.ts";
import type { OutOfService } from "./blocked.ts";
import { otherWays, singlePoints, standIns, stillPossible, unansweredLines } from "./out-of-service.ts";
import { heard } from "../../words/heard.ts";

/** Lines under a heading; there is at least one. */
export interface SaidBlock {
  readonly heading: string;
  readonly lines: readonly string[];
  /** Something that can't be done any more, which is to be seen first. */
  readonly isLoss: boolean;
}

/** Whom the service carries, who does the steps, and its other names. */
type Carrier = Parameters<typeof otherWays>[1];

/** The answer to: so many pieces of these items are out of service. What can't be done comes first, ways last. */
export function sayWithout(
  platform: Platform,
  service: Carrier,
  out: OutOfService,
  words: Words["tonight"],
): SaidBlock[] {
  return [...sayStillPossible(platform, service, out), ...sayOtherWays(otherWays(platform, service, out), words)];
}

/** What can be built of what is left and for whom, without the ways. */
export function sayStillPossible(
  platform: Platform,
  service: Pick<Carrier, "band" | "otherNames">,
  out: OutOfService,
): SaidBlock[] {
  const left = stillPossible(platform, service, out);
  const pieces = platform.items
    .filter(({ id }) => out.has(id))
    .map(({ id, name, count }) => heard("withoutIt").outOfCountName({ out: out.get(id)!, count, name }));
  const say = heard("withoutIt");
  return blocks([
    [say.outOfService, pieces],
    [say.cantBeCarried, left.nobodyFor.map(sayBand), "loss"],
    [say.cantBeBuilt, left.lostConfigurations.map(({ title }) => title), "loss"],
    [say.optionsNotHad, sayOptions(platform, left.lostOptions), "loss"],
    [left.lost.length ? say.canStillBeBuilt : say.canBeBuilt, sayPossible(platform, left.possible)],
    [
      say.couldStandIn,
      standIns(platform, out).map(({ item, instead }) =>
        say.forItemInstead({
          item: item.name,
          instead: instead.length ? sayList(instead.map(({ name }) => name)) : say.nothing,
        }),
      ),
    ],
    [say.linesNotAnswered, sayLines(unansweredLines(platform, left, service.otherNames))],
  ]);
}

/** Changeovers that are done otherwise with what is left; empty if all are done as before. */
export function sayOtherWays(ways: ReturnType<typeof otherWays>, words: Words["tonight"]): SaidBlock[] {
  return blocks([
    [
      heard("withoutIt").noWay,
      sayPairs(
        ways.filter(({ now }) => !now).map((way) => ({ ...way, said: "" })),
        words,
      ),
      "loss",
    ],
    [
      heard("withoutIt").anotherWay,
      sayPairs(
        ways.flatMap((way) =>
          way.now
            ? [{ ...way, said: `: ${way.now.procedures.map(({ title }) => title).join(", ")}; ${sayMore(way)}` }]
            : [],
        ),
        words,
      ),
    ],
  ]);
}

/** An item in the picture of what can be missing. */
interface ShownPoint {
  readonly name: string;
  /** Pieces that are to spare, and those that must be there. */
  readonly spare: number;
  readonly must: number;
  /** What one more missing does, or what looks at the item. */
  readonly then: string;
}

/** How many of each item may be missing: without whom somebody can't be carried, or an option can't be had. */
export function showPoints(platform: Platform, service: Carrier) {
  const points = singlePoints(platform, service);
  const needed = points.flatMap(({ item: { name, count }, spare, nobodyFor }): ShownPoint[] =>
    spare === undefined
      ? []
      : [
          {
            name,
            spare,
            must: count - spare,
            then: heard("withoutIt").thenNobody({ spare: sayLeft(spare, count), nobodyFor: sayAll(nobodyFor) }),
          },
        ],
  );
  const forOptions = points.flatMap(({ item: { name, count }, spare, lostOptions, spareForOptions }): ShownPoint[] => {
    if (spare !== undefined || !lostOptions.length) return [];
    const options = lowerFirst(sayOptions(platform, lostOptions).join("; ")),
      then = heard("withoutIt").thenNo({ spareForOptions: sayLeft(spareForOptions, count), options });
    return [{ name, spare: spareForOptions, must: count - spareForOptions, then }];
  });
  const others = points.flatMap(({ item, spare, lostOptions }): ShownPoint[] => {
    if (spare !== undefined || lostOptions.length) return [];
    const none = stillPossible(platform, service, new Map([[item.id, item.count]])),
      { length } = unansweredLines(platform, none, service.otherNames);
    const looked = length ? heard("withoutIt").lineOfTheCards({ length }) : heard("withoutIt").noLine;
    return [{ name: item.name, spare: item.count, must: 0, then: heard("withoutIt").staysAtHome({ looked }) }];
  });
  return { needed, forOptions, others };
}

/** `one missing of 4`, `3 missing of 4`: the first loss that matters. */
const sayLeft = (spare: number, count: number): string => heard("withoutIt").missingOf({ spare: spare + 1, count });

/** The same in words alone. */
export function sayPoints(platform: Platform, service: Carrier): SaidBlock[] {
  const { needed, forOptions, others } = showPoints(platform, service);
  const say = ({ name, then }: ShownPoint) => `${name}: ${then}`;
  return blocks([
    [heard("withoutIt").tooFewToCarry, needed.map(say)],
    [heard("withoutIt").tooFewForOption, forOptions.map(say)],
    [heard("withoutIt").notCounted, others.map(say)],
  ]);
}

/** The blocks of which there is something to say. */
const blocks = (all: readonly (readonly [heading: string, lines: readonly string[], isLoss?: "loss"])[]): SaidBlock[] =>
  all.flatMap(([heading, lines, loss]) => (lines.length ? [{ heading, lines, isLoss: loss !== undefined }] : []));

const sayAll = (bands: readonly Band[]): string => sayList(bands.map(sayBand), "or");

const titlesOf = (arrangements: readonly Arrangement[]): string[] => [
  ...new Set(arrangements.map(({ configuration }) => configuration.title)),
];

/** Each challenge once, with the cards that ask it. */
function sayLines(lines: ReturnType<typeof unansweredLines>): string[] {
  return [...Map.groupBy(lines, ({ check }) => check.challenge)].map(([challenge, asked]) =>
    heard("withoutIt").onTheCard({
      challenge,
      asked: sayList(titlesOf(asked.flatMap(({ arrangements }) => arrangements))),
    }),
  );
}

/** Each option once, with the configurations that it is lost with, unless these are all that have it. */
function sayOptions(
  { configurations }: Platform,
  lost: readonly { readonly configuration: Configuration; readonly option: Option }[],
): string[] {
  return [...new Set(lost.map(({ option }) => option))].map((option) => {
    const having = configurations.filter(({ options }) => options.some(({ id }) => id === option.id)),
      losing = lost.filter((each) => each.option === option).map(({ configuration }) => configuration.title);
    return losing.length === having.length
      ? option.title
      : heard("withoutIt").optionWithLosing({ option: option.title, losing: sayList(losing) });
  });
}

/** Each configuration with the options that can be had; how many arrangements these make. */
function sayPossible({ configurations }: Platform, possible: readonly Arrangement[]): string[] {
  return configurations.flatMap((configuration) => {
    const own = possible.filter((each) => each.configuration.id === configuration.id),
      options = [...new Set(own.flatMap((each) => each.options))];
    if (own.length === 0) return [];
    const always = own[0]!.options,
      free = options.filter((option) => !always.includes(option));
    return [
      configuration.title +
        (always.length ? heard("withoutIt").onlyWith({ always: sayOptionTitles(always) }) : "") +
        (free.length
          ? heard("withoutIt").optionsArrangementInAll({ free: sayOptionTitles(free), own: own.length })
          : ""),
    ];
  });
}

/** Pairs with the same end configuration, the same patients and the same words as one line. */
function sayPairs(
  pairs: readonly { from: Arrangement; to: Arrangement; patients: readonly Band[]; said: string }[],
  words: Words["tonight"],
): string[] {
  const lines = new Map<string, Arrangement[]>();
  for (const { from, to, patients, said } of pairs) {
    const key = `${words.wayFor({
      from: sayArrangement(from),
      to: `${to.configuration.title}#`,
      bands: sayAll(patients),
    })}${said}`;
    lines.set(key, [...(lines.get(key) ?? []), to]);
  }
  return [...lines].map(([line, to]) =>
    line.replace(
      "#",
      to.length > 1
        ? heard("withoutIt").arrangements({ to: to.length })
        : sayArrangement(to[0]!).slice(to[0]!.configuration.title.length),
    ),
  );
}

function sayMore({ now, before }: { now: { seconds: number } | undefined; before: { seconds: number } }): string {
  const more = (now?.seconds ?? 0) - before.seconds;
  return more === 0
    ? heard("withoutIt").asLongAsBefore
    : `${sayDuration(Math.abs(more))} ${more > 0 ? "longer" : "shorter"}`;
}
