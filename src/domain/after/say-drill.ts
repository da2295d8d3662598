/** A drill in words, for page, paper and command: a sheet for the crew, and one with the key for whoever runs it. */
import type { Crew, Platform } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { sayFirstQuestion } from "../bands/doubts.ts";
import { sayArrangement } from "../parts/arrangements.ts";
import { nameItem, nameOption, namePlace } from "../parts/lookup.ts";
import { countParts } from "../states/counts.ts";
import { sayDuration, sayInstruction, sayMinutes, sayNumber, sayWho } from "../words/say.ts";
import type { Drill, DrillKey } from "./drill.ts";

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

/** Both sheets. The sheet of the crew holds nothing of the key. */
export function sayDrill(drill: Drill, platform: Platform, crew: readonly Crew[]): DrillSheets {
  const { seed, from, patient, asked, missing, signal, key } = drill;
  const scenario: SheetBlock[] = [
    { heading: "What stands", lines: [`${platform.name}: ${sayArrangement(from)}.`] },
    {
      heading: "Who comes",
      lines: [
        `A patient of ${patient.said.weight}, ${patient.said.age}, as told on the telephone.`,
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
          "No patient is on it, and none waits for it: whoever runs the drill says stop, and everybody stops.",
        ],
      },
    ],
    key: [...scenario, ...sayKey(key, platform, crew)],
  };
}

function sayKey(key: DrillKey, platform: Platform, crew: readonly Crew[]): SheetBlock[] {
  const first: SheetBlock[] = key.questions.length
    ? [{ heading: "They ask first", lines: key.questions.map(sayFirstQuestion) }]
    : [];
  if (key.kind === "nobody")
    return [
      ...first,
      {
        heading: "Key: this patient can’t be carried",
        lines: [
          "With that piece missing nothing can be built for this patient. They say so to the coordinator at once.",
        ],
      },
    ];
  const { to, refused, changeover, timeline } = key,
    { code, band } = to.configuration;
  const { out, into, moved, total } = countParts(changeover, platform);
  const row = (way: string) => (each: (typeof out)[number]) =>
    `${way} ${each.count} × ${nameItem(platform, each.item)}, now in ${namePlace(platform, each.to)}`;
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
    {
      heading: "Key: the time",
      lines: [
        `${sayDuration(timeline.elapsed)} for the crew by the plan, ${sayDuration(timeline.alone)} for one person. ` +
          "A drill is right before it is quick.",
      ],
    },
    {
      heading: `Key: ${sayNumber(changeover.steps.length, "step")}`,
      lines: timeline.steps.map(
        ({ index, start, step, procedure: { code: from }, by }) =>
          `${index + 1}. ${sayMinutes(start)} ${sayWho(by, crew)}${step.critical ? ", safety-critical" : ""}` +
          `${step.hold ? ", HOLD" : ""}: ${sayInstruction(step).replace(/\s+/g, " ")} (${from}, ${step.number})`,
      ),
    },
    {
      heading: `Key: the count, ${total.out} out, ${total.into} in${total.moved ? `, ${total.moved} moved` : ""}`,
      lines: [...out.map(row("Out:")), ...into.map(row("In:")), ...moved.map(row("Moved:"))],
    },
    {
      heading: "Key: the card",
      lines: [`${to.configuration.title}, ${code}. It is read aloud at the end, and it decides.`],
    },
  ];
}
