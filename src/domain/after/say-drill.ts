/** A drill in words, for page, paper and command: a sheet for the crew, and one with the key for whoever runs it. */
import type { Crew, Platform } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { sayFirstQuestion } from "../bands/doubts.ts";
import { sayArrangement } from "../parts/arrangements.ts";
import { nameItem, nameOption, namePlace } from "../parts/lookup.ts";
import { alertsOfPlan } from "../parts/plan-alerts.ts";
import { countParts } from "../states/counts.ts";
import { inStartingOrder, type TimedStep } from "../time/timeline.ts";
import { linesOf, sayCount, sayDuration, sayInstruction, sayMinutes, sayNumber, sayWho } from "../words/say.ts";
import type { Words } from "../../words/hear.ts";
import { type Drill, type DrillChange, type DrillKey, type DrillLeg, stepsBefore } from "./drill.ts";

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
    { heading: "What stands", lines: [`${platform.name}: ${sayArrangement(from)}.`] },
    {
      heading: "Who comes",
      lines: [
        words.whoComes(patient.said),
        ...(asked.length ? [`They ask for ${sayList(asked.map((id) => nameOption(platform, id)))} too.`] : []),
      ],
    },
    {
      heading: "What is missing",
      lines: [missing ? `One piece of ${missing.name} is out of service; it stands where nobody looks.` : "Nothing."],
    },
    {
      heading: "Signal",
      lines: [
        signal
          ? "There is one."
          : "None: every device goes into flight mode now. What is saved on it, and paper, is what there is.",
      ],
    },
  ];
  return {
    title: `Drill ${seed}, ${platform.name}`,
    crew: [
      ...scenario,
      {
        heading: "What you do",
        lines: [
          "Choose the arrangement, say why, change over, count, read the card. Say when you are ready to go.",
          words.noneOnIt,
        ],
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
      leg = change && at >= before.length ? ", after the change" : "";
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
  return lines.length > 0 ? [{ heading: "If a safety-critical step is missed", lines }] : [];
}

/** What the crew is told when the call changes, the heading first. */
export function sayNews({ patient }: Pick<DrillChange, "patient">, words: DrillWords): string[] {
  return patient
    ? [
        "The call has changed",
        words.changed(patient.said),
        "Say aloud what is done and what is open, and which arrangement it will be.",
      ]
    : ["Stand down", "The call is off. Say aloud what is done and what is open."];
}

function sayKey(key: DrillKey, platform: Platform, crew: readonly Crew[], words: DrillWords): SheetBlock[] {
  const first: SheetBlock[] = key.questions.length
    ? [{ heading: "They ask first", lines: key.questions.map(sayFirstQuestion) }]
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
      heading: "Key: the arrangement",
      lines: [
        `${sayArrangement(to)} (${code}): ${band.weight.text}, ${band.age.text}.`,
        ...(refused.length
          ? [
              `Without ${sayList(refused.map((id) => nameOption(platform, id)))}: ` +
                "with that piece missing it can’t be had, and they say so.",
            ]
          : []),
      ],
    },
    ...(change
      ? [
          {
            heading: `Key: ${sayNumber(change.after, "step")} of ${sayCount(changeover.steps.length)}, then a change`,
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
    { heading: "Tell them now", lines: [`“${sayNews(change, words).slice(0, 2).join(". ")}”`] },
    {
      heading: "Key: the arrangement after the change",
      lines: [
        `${sayArrangement(to)} (${to.configuration.code})${patient ? "" : ", in which it waits"}. ` +
          "They say aloud what is done and what is open before they go on.",
      ],
    },
    ...sayLeg(change, platform, crew),
  ];
}

/** Time, steps, count and card of a way. */
function sayLeg({ to, changeover, timeline }: DrillLeg, platform: Platform, crew: readonly Crew[]): SheetBlock[] {
  const { out, into, moved, total } = countParts(changeover, platform);
  const row = (way: string) => (each: (typeof out)[number]) =>
    `${way} ${each.count} × ${nameItem(platform, each.item)}, now in ${namePlace(platform, each.to)}`;
  return [
    {
      heading: "Key: the time",
      lines: [
        `${sayDuration(timeline.elapsed)} for the crew by the plan, ${sayDuration(timeline.alone)} for one person. ` +
          "A drill is right before it is quick.",
      ],
    },
    {
      heading: `Key: ${sayNumber(changeover.steps.length, "step")}`,
      lines: saySteps(timeline.steps, { timeline }, platform, crew),
    },
    {
      heading: `Key: the count, ${total.out} out, ${total.into} in${total.moved ? `, ${total.moved} moved` : ""}`,
      lines: [...out.map(row("Out:")), ...into.map(row("In:")), ...moved.map(row("Moved:"))],
    },
    {
      heading: "Key: the card",
      lines: [`${to.configuration.title}, ${to.configuration.code}. It is read aloud at the end, and it decides.`],
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
  `${index + 1}. ${sayMinutes(start)} ${sayWho(by, crew)}${step.critical ? ", safety-critical" : ""}` +
  `${step.hold ? ", HOLD" : ""}: ${sayInstruction(step).replace(/\s+/g, " ")} (${code}, ${step.number})`;
