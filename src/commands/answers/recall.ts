/** `rerig recall ITEM`: everything that an item touches, in the order in which somebody would deal with it. */
import type { Command } from "commander";
import { type Recall, recall } from "../../domain/tonight/recall.ts";
import { sayDays } from "../../domain/words/days.ts";
import { sayNumber } from "../../domain/words/say.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { sayList } from "../../schema/wording.ts";
import { openAsked, platformAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";
import { itemAsked } from "./without.ts";

interface Options {
  readonly procedures?: string;
  readonly on?: string;
  readonly platform?: string;
  readonly json?: boolean;
}

/** Defines the command's arguments and options, and what it does. */
export function define(command: Command): void {
  withDay(withCollection(command))
    .argument("<item>", "the item that is recalled, or replaced by another model: its id or its name")
    .option("--platform <id>", "the platform; may be left out if there is only one")
    .option("--json", "print the answer as JSON on standard output")
    .addHelpText(
      "after",
      "\nWhat a collection can't know is not in it: pieces in other stores, other services, what people remember.",
    )
    .action(async (word: string, options: Options) => {
      const opened = await openAsked(options.procedures, { on: options.on });
      const platform = platformAsked(opened.collection, options.platform);
      if (!readWhole(opened)) return;
      const { id } = itemAsked(word, platform),
        found = recall(opened.collection, platform, id);
      if (!found) throw new CannotRun(`There is no item \`${word}\` on \`${platform.id}\``);
      if (options.json) return printJson(resultOf(platform.id, found));
      process.stdout.write(`${sayRecall(found)}\n`);
    });
}

function resultOf(platform: string, found: Recall) {
  const { item, fittedIn, copies, cards, procedures, amendments, photos, questions, signOffs } = found;
  return {
    platform,
    item: item.id,
    count: item.count,
    home: item.home,
    fittedIn: fittedIn.map(({ id }) => id),
    copies: copies.flatMap(({ folder, copies: own }) =>
      own.map(({ card, copy }) => ({ folder: folder.id, card, copy })),
    ),
    cards: cards.map(({ configuration, lines }) => ({
      configuration: configuration.id,
      lines: lines.map(({ challenge }) => challenge),
    })),
    procedures: procedures.map(({ procedure, steps }) => ({
      procedure: procedure.id,
      steps: steps.map(({ step, how }) => ({ step: step.number, how: [...how] })),
    })),
    amendments: amendments.map(({ id }) => id),
    photos: photos.map(({ id }) => id),
    questions,
    signOffs: signOffs.map(({ id }) => id),
  };
}

const HOW = { moves: "moves it", turns: "turns what holds it", looks: "looks at it", names: "names it" };

function sayCard({ configuration, lines }: Recall["cards"][number]): string {
  const said = lines.map(({ challenge }) => `“${challenge}”`);
  return `${configuration.title}: ${said.length ? sayList(said) : "counted or drawn only"}`;
}

function sayRecall(found: Recall): string {
  const { item, fittedIn, copies, cards, procedures, amendments, photos, questions, signOffs } = found;
  const blocks: [heading: string, lines: string[]][] = [
    [
      `1. The pieces: ${item.count} of ${item.name}`,
      [
        `at home in ${item.home}`,
        ...(fittedIn.length ? [`fitted in ${sayList(fittedIn.map(({ title }) => title))}`] : []),
        `who can still be carried without it: rerig without ${item.id}${item.count > 1 ? `=${item.count}` : ""}`,
      ],
    ],
    [
      "2. Cards in folders",
      copies.map(
        ({ folder, copies: own }) => `${folder.name}: ${sayList(own.map((each) => `${each.card}, copy ${each.copy}`))}`,
      ),
    ],
    ["3. Cards, with the lines that are about it", cards.map(sayCard)],
    [
      "4. Procedures, by step",
      procedures.map(
        ({ procedure, steps }) =>
          `${procedure.code} ${procedure.title}: ${steps
            .map(({ step, how }) => `${step.number} (${how.map((each) => HOW[each]).join(", ")})`)
            .join(", ")}`,
      ),
    ],
    [
      "5. Temporary amendments, with their slips",
      amendments.map((each) => `${each.number} ${each.title}. ${sayDays(each)}`),
    ],
    ["6. Pictures", photos.length ? [sayList(photos.map(({ id }) => id))] : []],
    ["7. Practice", questions ? [sayNumber(questions, "question")] : []],
    [
      "8. Sign-offs to look at, once the texts are changed (rerig signoffs says who)",
      signOffs.map(({ code, title }) => `${code} ${title}`),
    ],
  ];
  return blocks
    .map(
      ([heading, lines]) => `${heading}\n${(lines.length ? lines : ["none"]).map((line) => `   ${line}`).join("\n")}`,
    )
    .join("\n\n");
}
