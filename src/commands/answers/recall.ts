/** `rerig recall ITEM`: everything that an item touches, in the order in which somebody would deal with it. */
import type { Command } from "commander";
import { type Recall, recall } from "../../domain/tonight/recall.ts";
import { namePlace } from "../../domain/parts/lookup.ts";
import { sayDays } from "../../domain/words/days.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { titleOfCopy } from "../../paper/folder-audit.ts";
import type { Collection, Platform } from "../../schema/collection.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import { heard } from "../../words/heard.ts";
import { openPlatform, printJson, withCollection, withDay } from "../collection-option.ts";
import { itemAsked, itemNamed } from "./without.ts";
import { writeTo } from "../../findings/terminal.ts";

interface Options {
  readonly procedures?: string;
  readonly on?: string;
  readonly platform?: string;
  readonly json?: boolean;
}

/** Defines the command's arguments and options, and what it does. */
export function define(command: Command): void {
  const say = heard("rerigRecall"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .argument("<item>", say.takesItem)
    .option("--platform <id>", every.takesPlatform)
    .option("--json", every.printsAnswerAsJson)
    .addHelpText("after", `\n${say.more}`)
    .action(async (word: string, options: Options) => {
      const asked = await openPlatform(options, (platform) => itemNamed(word, platform) !== undefined);
      if (!asked) return;
      const { opened, platform } = asked;
      const { id } = itemAsked(word, platform),
        found = recall(opened.collection, platform, id);
      if (!found) throw new CannotRun(heard("rerigRecall").noItem({ item: word, which: platform.name }));
      if (options.json) return printJson(resultOf(platform.id, found));
      writeTo(process.stdout, `${sayRecall(found, opened.collection, platform)}\n`);
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

function sayCard({ configuration, lines }: Recall["cards"][number]): string {
  const said = lines.map(({ challenge }) => `“${challenge}”`);
  return `${configuration.title}: ${said.length ? sayList(said) : heard("rerigRecall").countedOnly}`;
}

function sayRecall(found: Recall, collection: Collection, platform: Platform): string {
  const { item, fittedIn, copies, cards, procedures, amendments, photos, questions, signOffs } = found;
  const say = heard("rerigRecall"),
    sayCopy = (copy: Recall["copies"][number]["copies"][number]) =>
      heard("rerigFolders").copyOf({ copy: copy.copy, card: titleOfCopy(collection, copy) }),
    how = { moves: say.moves, turns: say.turns, looks: say.looks, names: say.names };
  const blocks: [heading: string, lines: string[]][] = [
    [
      say.pieces({ count: item.count, item: item.name }),
      [
        say.atHome({ place: lowerFirst(namePlace(platform, item.home)) }),
        ...(fittedIn.length ? [say.fittedIn({ arrangements: sayList(fittedIn.map(({ title }) => title)) })] : []),
        say.whoWithout({
          item:
            `${item.id}${item.count > 1 ? `=${item.count}` : ""}` +
            (collection.service.hasSeveral ? ` --platform ${platform.id}` : ""),
        }),
      ],
    ],
    [say.inFolders, copies.map(({ folder, copies: own }) => `${folder.name}: ${sayList(own.map(sayCopy))}`)],
    [say.cards, cards.map(sayCard)],
    [
      say.procedures,
      procedures.map(
        ({ procedure, steps }) =>
          `${procedure.code} ${procedure.title}: ${steps
            .map(({ step, how: ways }) => `${step.number} (${ways.map((each) => how[each]).join(", ")})`)
            .join(", ")}`,
      ),
    ],
    [say.amendments, amendments.map((each) => `${each.number} ${each.title}. ${sayDays(each)}`)],
    [say.pictures, photos.length ? [sayList(photos.map(({ id }) => id))] : []],
    [say.practice, questions ? [say.questions({ count: questions })] : []],
    [say.signOffs, signOffs.map(({ code, title }) => `${code} ${title}`)],
  ];
  return blocks
    .map(
      ([heading, lines]) =>
        `${heading}\n${(lines.length ? lines : [heard("everyCommand").none]).map((line) => `   ${line}`).join("\n")}`,
    )
    .join("\n\n");
}
