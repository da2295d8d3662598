/** A drill in words, for page, paper and command: a sheet for the crew, and one with the key for whoever runs it. */
import type { Crew, Platform } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { sayFirstQuestion } from "../bands/doubts.ts";
import { sayArrangement } from "../parts/arrangements.ts";
import { nameItem, nameOption, namePlace } from "../parts/lookup.ts";
import { alertsOfPlan } from "../parts/plan-alerts.ts";
import { countParts } from "../states/counts.ts";
import { inStartingOrder, type TimedStep } from "../time/timeline.ts";
import { linesOf, sayDuration, sayInstruction, sayMinutes, sayWho } from "../words/say.ts";
import type { Words } from "../../words/hear.ts";
import { type Drill, type DrillChange, type DrillKey, type DrillLeg, stepsBefore } from "./drill.ts";
import { heard } from "../../words/heard.ts";
import { sayRange } from "../bands/bands.ts";

/** A heading with lines. */
interface SheetBlock {
  readonly heading: string;
  readonly lines: readonly string[];
}

/** The two sheets of a drill. */
interface DrillSheets {
  readonly title: string;
  readonly crew: readonly SheetBlock[];
  readonly key: readonly SheetBlock[];
}

/** What is told of an act that is left out, by procedure and number of the step; empty where nothing is. */
export type MissedTold = Readonly<Record<string, Readonly<Record<number, readonly string[]>>>>;

type DrillWords = Words["drill"];

/** Both sheets. The sheet of the crew holds nothing of the key; `told` is that of the omission proof. */
export function sayDrill(
  drill: Drill,
  platform: Platform,
  crew: readonly Crew[],
  words: DrillWords,
  told: MissedTold = {},
): DrillSheets {
  const { seed, from, patient, asked, missing, signal, key } = drill;
  const scenario: SheetBlock[] = [
    { heading: heard("drillSheet").whatStands, lines: [`${platform.name}: ${sayArrangement(from)}.`] },
    {
      heading: heard("drillSheet").whoComes,
      lines: [
        words.whoComes(patient.said),
        ...(asked.length
          ? [heard("drillSheet").theyAskForToo({ asked: sayList(asked.map((id) => nameOption(platform, id))) })]
          : []),
      ],
    },
    {
      heading: heard("drillSheet").whatIsMissing,
      lines: [missing ? heard("drillSheet").onePiece({ missing: missing.name }) : heard("drillSheet").nothing],
    },
    {
      heading: heard("drillSheet").signal,
      lines: [signal ? heard("drillSheet").thereIs : heard("drillSheet").noneEveryDeviceGoes],
    },
  ];
  return {
    title: heard("drillSheet").drill({ seed, whichPlatform: platform.name }),
    crew: [
      ...scenario,
      {
        heading: heard("drillSheet").whatYouDo,
        lines: [heard("drillSheet").chooseTheArrangementSay, words.noneOnIt],
      },
    ],
    key: [...scenario, ...sayKey(key, platform, crew, words), ...sayMissed(drill, told)],
  };
}

/** The steps that the crew does in a drill, in that order, of which the proof tells what leaving them out does. */
export function stepsMissable(
  { key }: Drill,
  told: MissedTold,
): { readonly text: string; readonly critical: boolean; readonly told: readonly string[] }[] {
  if (key.kind === "nobody") return [];
  const { change } = key,
    before = change ? stepsBefore(key, change) : [],
    all = [...before, ...inStartingOrder((change ?? key).timeline)];
  return all.flatMap(({ index, procedure, step }, at) => {
    const lines = told[procedure.id]?.[step.number] ?? [],
      leg = change && at >= before.length ? heard("drillSheet").afterTheChange : "";
    return lines.length > 0
      ? [
          {
            text: `${index + 1}${leg}. ${sayInstruction(step).replace(/\s+/g, " ")}`,
            critical: step.critical,
            told: lines,
          },
        ]
      : [];
  });
}

/** For whoever runs it: what a safety-critical step does that is left out. */
function sayMissed(drill: Drill, told: MissedTold): SheetBlock[] {
  const lines = stepsMissable(drill, told)
    .filter(({ critical }) => critical)
    .map((each) => `${each.text} ${each.told.join(" ")}`);
  return lines.length > 0 ? [{ heading: heard("drillSheet").ifASafetyCritical, lines }] : [];
}

/** What the crew is told when the call changes, the heading first. */
export function sayNews({ patient }: Pick<DrillChange, "patient">, words: DrillWords): string[] {
  return patient
    ? [heard("drillSheet").theCallHasChanged, words.changed(patient.said), heard("drillSheet").sayAloudWhat]
    : [heard("drillSheet").standDown, heard("drillSheet").theCallIsOff];
}

function sayKey(key: DrillKey, platform: Platform, crew: readonly Crew[], words: DrillWords): SheetBlock[] {
  const first: SheetBlock[] = key.questions.length
    ? [{ heading: heard("drillSheet").theyAskFirst, lines: key.questions.map(sayFirstQuestion) }]
    : [];
  if (key.kind === "nobody")
    return [
      ...first,
      {
        heading: words.notCarried,
        lines: [words.tellAtOnce],
      },
    ];
  const { to, refused, changeover, change } = key,
    { code, band } = to.configuration;
  return [
    ...first,
    {
      heading: heard("drillSheet").keyTheArrangement,
      lines: [
        `${sayArrangement(to)} (${code}): ${sayRange(band.weight)}, ${sayRange(band.age)}.`,
        ...(refused.length
          ? [
              heard("drillSheet").withoutWithThatPiece({
                refused: sayList(refused.map((id) => nameOption(platform, id))),
              }),
            ]
          : []),
      ],
    },
    ...(change
      ? [
          {
            heading: heard("drillSheet").keyStepOfThen({ after: change.after, steps: changeover.steps.length }),
            lines: saySteps(stepsBefore(key, change), key, platform, crew),
          },
          ...sayChange(change, platform, crew, words),
        ]
      : sayLeg(key, platform, crew)),
  ];
}

/** What is told on the way, and the key from there. */
function sayChange(change: DrillChange, platform: Platform, crew: readonly Crew[], words: DrillWords): SheetBlock[] {
  const { patient, to } = change;
  return [
    { heading: heard("drillSheet").tellThemNow, lines: [`“${sayNews(change, words).slice(0, 2).join(". ")}”`] },
    {
      heading: heard("drillSheet").keyTheArrangementAfter,
      lines: [
        heard("drillSheet").theySayAloudWhat({
          to: sayArrangement(to),
          code: to.configuration.code,
          inWhich: patient ? "" : heard("drillSheet").inWhichItWaits,
        }),
      ],
    },
    ...sayLeg(change, platform, crew),
  ];
}

/** Time, steps, count and card of a way. */
function sayLeg({ to, changeover, timeline }: DrillLeg, platform: Platform, crew: readonly Crew[]): SheetBlock[] {
  const { out, into, moved, total } = countParts(changeover, platform);
  const row = (way: string) => (each: (typeof out)[number]) =>
    heard("drillSheet").nowIn({
      way,
      count: each.count,
      whichPlatform: nameItem(platform, each.item),
      namePlace: namePlace(platform, each.to),
    });
  return [
    {
      heading: heard("drillSheet").keyTheTime,
      lines: [
        heard("drillSheet").forTheCrew({ elapsed: sayDuration(timeline.elapsed), alone: sayDuration(timeline.alone) }),
      ],
    },
    {
      heading: heard("drillSheet").keyStep({ steps: changeover.steps.length }),
      lines: saySteps(timeline.steps, { timeline }, platform, crew),
    },
    {
      heading: heard("drillSheet").keyTheCountOut({
        out: total.out,
        into: total.into,
        moved: total.moved ? heard("drillSheet").moved({ moved: total.moved }) : "",
      }),
      lines: [
        ...out.map(row(heard("drillSheet").out)),
        ...into.map(row(heard("drillSheet").in)),
        ...moved.map(row(heard("drillSheet").moved2)),
      ],
    },
    {
      heading: heard("drillSheet").keyTheCard,
      lines: [
        heard("drillSheet").itIsReadAloud({ configuration: to.configuration.title, code: to.configuration.code }),
      ],
    },
  ];
}

/** Steps of a way, its warnings and cautions each before the step that they belong to. */
function saySteps(
  steps: readonly TimedStep[],
  { timeline }: Pick<DrillLeg, "timeline">,
  platform: Platform,
  crew: readonly Crew[],
): string[] {
  const alerts = alertsOfPlan(timeline.steps, platform);
  return steps.flatMap((timed) => {
    const { between, own } = alerts[timed.index]!;
    return [
      ...[...between, ...own]
        .filter(({ signal }) => signal !== "note")
        .map(({ signal, children }) => `${signal.toUpperCase()}: ${children.flatMap(linesOf).join(" ")}`),
      sayStep(timed, crew),
    ];
  });
}

const sayStep = ({ index, start, step, procedure: { code }, by }: TimedStep, crew: readonly Crew[]): string =>
  `${index + 1}. ${sayMinutes(start)} ${sayWho(by, crew)}${step.critical ? heard("drillSheet").safetyCritical : ""}` +
  `${step.hold ? heard("drillSheet").hold : ""}: ${sayInstruction(step).replace(/\s+/g, " ")} (${code}, ${step.number})`;
