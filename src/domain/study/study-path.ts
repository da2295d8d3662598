/**
 * The order in which a new starter goes through a platform: that of the work, worked out from what the procedures build
 * and take down, and from whose patients they are for.
 */
import type { Band, Configuration, Option, Platform, Procedure } from "../../schema/collection.ts";
import { compareCuts, lowerCut, meetBands } from "../bands/bands.ts";
import { compareByTrade } from "../parts/phase.ts";
import { remember } from "../words/remember.ts";
import { usesOf } from "../parts/builds.ts";
import { heard } from "../../words/heard.ts";
import { inUse, usableProcedures } from "../parts/lookup.ts";

/** One page on the path. */
interface Stop {
  readonly kind: "page" | "lesson";
  readonly title: string;
  readonly address: string;
  /** For a lesson: `procedure seat-capsule`, its code, its revision, steps and how many are safety-critical. */
  readonly document?: string;
  readonly code?: string;
  readonly revision?: number;
  readonly steps?: number;
  readonly critical?: number;
}

/** A leg of the path. */
interface Leg {
  readonly title: string;
  /** What it is, as the room `study` of the fixed text says it. */
  readonly about?: "background" | "everyRun" | "others" | "changeovers" | "seen";
  readonly band?: Band;
  readonly entries: readonly Stop[];
}

/**
 * The path through a platform; each procedure that is in force is a lesson once, where it is first needed. What is not
 * in force is learnt by nobody: a draft may never come, and what was withdrawn is gone.
 */
export const studyPath: (platform: Platform) => readonly Leg[] = remember((platform: Platform) => {
  const taken = new Set<string>();
  const byTrade = compareByTrade(platform);
  const lessons = usableProcedures(platform).filter(({ steps }) => steps.length > 0);
  const approved = inUse(platform);
  // The one in which the platform waits is met first; then from the lightest patients to the heaviest.
  const configurations = approved.toSorted(
    (a, b) => Number(b.standing) - Number(a.standing) || compareCuts(lowerCut(a.band.weight), lowerCut(b.band.weight)),
  );
  const take = (wanted: (procedure: Procedure) => boolean, order = byTrade) =>
    lessons
      .toSorted(order)
      .filter((procedure) => !taken.has(procedure.id) && wanted(procedure) && taken.add(procedure.id))
      .map(lessonOf);
  const builds = (document: Configuration | Option) => (procedure: Procedure) => {
    const { configurations, options } = usesOf(platform, procedure);
    return [...configurations, ...options].includes(document);
  };
  const takesDown = (document: Configuration | Option) => (procedure: Procedure) =>
    usesOf(platform, procedure).takesDown.includes(document);
  // What every arrangement has alike is no part of building this one: it comes after what is this one's own.
  const isShared = (procedure: Procedure) => {
    const { configurations: built, takesDown: down } = usesOf(platform, procedure);
    return approved.length > 1 && approved.every((each) => built.includes(each) || down.includes(each));
  };
  const ownFirst = (a: Procedure, b: Procedure) => Number(isShared(a)) - Number(isShared(b)) || byTrade(a, b);
  const isFree = (procedure: Procedure) => {
    const { configurations: built, options, takesDown: down } = usesOf(platform, procedure);
    return built.length + options.length + down.length === 0;
  };
  // What builds nothing and is for the patients of one arrangement alone is learnt with it: how they are strapped in.
  const isFor = (configuration: Configuration) => (procedure: Procedure) =>
    isFree(procedure) &&
    approved.length > 1 &&
    approved.every((each) => (meetBands(each.band, procedure.band) !== undefined) === (each === configuration));
  const isEverybodys = (procedure: Procedure) => isFree(procedure) && !approved.some((each) => isFor(each)(procedure));
  const own = (path: string) => `${platform.id}/${path}/`;
  const background: Stop[] = [
    ...platform.readings.map(({ id, title }): Stop => ({ kind: "page", title, address: own(`reading/${id}`) })),
    { kind: "page", title: heard("studyPath").tableOfBands, address: own("bands") },
    { kind: "page", title: heard("studyPath").words, address: "glossary/" },
  ];
  const legs: Leg[] = [{ title: heard("studyPath").background, about: "background", entries: background }];
  const [first, ...others] = take(isEverybodys, (a, b) => a.code.localeCompare(b.code, "en", { numeric: true }));
  // A shift begins before a patient is known; then nothing is fetched before weight and band are confirmed.
  const confirms = ({ document }: Stop) => document === `procedure ${platform.confirms?.id}`;
  legs.push({
    title: heard("studyPath").everyRun,
    about: "everyRun",
    entries: [...(first ? [first] : []), ...others.toSorted((a, b) => Number(confirms(b)) - Number(confirms(a)))],
  });
  for (const configuration of configurations) {
    const page: Stop = {
      kind: "page",
      title: heard("studyPath").theArrangement({ configuration: configuration.title }),
      address: own(`configurations/${configuration.id}`),
    };
    const card: Stop = {
      kind: "page",
      title: heard("studyPath").itsChecklist,
      address: own(`cards/${configuration.id}`),
    };
    legs.push({
      title: configuration.title,
      band: configuration.band,
      entries: [
        page,
        ...take(builds(configuration), ownFirst),
        card,
        ...take(isFor(configuration)),
        ...take(takesDown(configuration), ownFirst),
      ],
    });
  }
  for (const option of platform.options.filter(({ status }) => status === "approved")) {
    const page: Stop = {
      kind: "page",
      title: heard("studyPath").theOption({ option: option.title }),
      address: own(`options/${option.id}`),
    };
    legs.push({
      title: option.title,
      band: option.band,
      entries: [page, ...take(builds(option)), ...take(takesDown(option))],
    });
  }
  legs.push({
    title: heard("studyPath").theRest,
    about: "others",
    entries: take(() => true),
  });
  legs.push({
    title: heard("studyPath").changeovers,
    about: "changeovers",
    entries: [{ kind: "page", title: heard("studyPath").fromAnyArrangement, address: own("changeovers") }],
  });
  legs.push({
    title: heard("studyPath").practiseThenBeSeen,
    about: "seen",
    entries: [
      { kind: "page", title: heard("studyPath").practise, address: own("practise") },
      { kind: "page", title: heard("studyPath").questionPaperToPrint, address: own("practise/paper") },
      { kind: "page", title: heard("studyPath").signOffRecords, address: own("sign-off") },
    ],
  });
  return legs.filter(({ entries }) => entries.length > 0);
});

function lessonOf({ platform, id, code, title, revision, steps }: Procedure): Stop {
  return {
    kind: "lesson",
    title,
    address: `${platform}/study/${id}/`,
    document: `procedure ${id}`,
    code,
    revision,
    steps: steps.length,
    critical: steps.filter(({ critical }) => critical).length,
  };
}
