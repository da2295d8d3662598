/**
 * The order in which a new starter goes through a platform: worked out from what the procedures build and take down.
 */
import type { Band, Configuration, Option, Platform, Procedure } from "../../schema/collection.ts";
import { compareByTrade } from "../parts/phase.ts";
import { remember } from "../words/remember.ts";
import { usesOf } from "../parts/builds.ts";

/** One page on the path. */
interface Stop {
  readonly kind: "page" | "lesson";
  readonly title: string;
  readonly address: string;
  /** For a lesson: `procedure seat-capsule`, its revision, steps and how many are safety-critical. */
  readonly document?: string;
  readonly revision?: number;
  readonly steps?: number;
  readonly critical?: number;
}

/** A leg of the path. */
interface Leg {
  readonly title: string;
  readonly about?: string;
  readonly band?: Band;
  readonly entries: readonly Stop[];
}

/**
 * The path through a platform; each procedure that is in force is a lesson once, where it is first needed. What is not
 * in force is learnt by nobody: a draft may never come, and what was withdrawn is gone.
 */
export const studyPath: (platform: Platform) => readonly Leg[] = remember((platform: Platform) => {
  const taken = new Set<string>();
  const lessons = platform.procedures
    .filter(({ status, steps }) => status === "approved" && steps.length > 0)
    .toSorted(compareByTrade(platform));
  const take = (wanted: (procedure: Procedure) => boolean) =>
    lessons
      .filter((procedure) => !taken.has(procedure.id) && wanted(procedure) && taken.add(procedure.id))
      .map(lessonOf);
  const builds = (document: Configuration | Option) => (procedure: Procedure) => {
    const { configurations, options } = usesOf(platform, procedure);
    return [...configurations, ...options].includes(document);
  };
  const takesDown = (document: Configuration | Option) => (procedure: Procedure) =>
    usesOf(platform, procedure).takesDown.includes(document);
  const own = (path: string) => `${platform.id}/${path}/`;
  const background: Stop[] = [
    ...platform.readings.map(({ id, title }): Stop => ({ kind: "page", title, address: own(`reading/${id}`) })),
    { kind: "page", title: "Table of bands", address: own("bands") },
    { kind: "page", title: "Words", address: "glossary/" },
  ];
  const legs: Leg[] = [
    { title: "Background", about: "Why things are as they are, and what the words mean.", entries: background },
  ];
  for (const configuration of platform.configurations.filter(({ status }) => status === "approved")) {
    const page: Stop = {
      kind: "page",
      title: `The arrangement: ${configuration.title}`,
      address: own(`configurations/${configuration.id}`),
    };
    const card: Stop = { kind: "page", title: "Its checklist", address: own(`cards/${configuration.id}`) };
    legs.push({
      title: configuration.title,
      band: configuration.band,
      entries: [page, ...take(builds(configuration)), card, ...take(takesDown(configuration))],
    });
  }
  for (const option of platform.options.filter(({ status }) => status === "approved")) {
    const page: Stop = { kind: "page", title: `The option: ${option.title}`, address: own(`options/${option.id}`) };
    legs.push({
      title: option.title,
      band: option.band,
      entries: [page, ...take(builds(option)), ...take(takesDown(option))],
    });
  }
  legs.push({
    title: "Around every mission",
    about: "Checks, the vehicle, the patient, and what to do when something fails.",
    entries: take(() => true),
  });
  legs.push({
    title: "Changeovers",
    about: "A rebuild begins with what was there before.",
    entries: [{ kind: "page", title: "From any arrangement to any other", address: own("changeovers") }],
  });
  legs.push({
    title: "Practise, then be seen",
    about: "Questions first; then somebody watches.",
    entries: [
      { kind: "page", title: "Practise", address: own("practise") },
      { kind: "page", title: "Question paper to print", address: own("practise/paper") },
      { kind: "page", title: "Sign-off records", address: own("sign-off") },
    ],
  });
  return legs.filter(({ entries }) => entries.length > 0);
});

function lessonOf({ platform, id, title, revision, steps }: Procedure): Stop {
  return {
    kind: "lesson",
    title,
    address: `${platform}/study/${id}/`,
    document: `procedure ${id}`,
    revision,
    steps: steps.length,
    critical: steps.filter(({ critical }) => critical).length,
  };
}
