/**
 * `rerig without`: what is still possible while pieces are out of service; without an item, how many of each may be
 * missing before somebody can't be carried.
 */
import type { Command } from "commander";
import type { OutOfService } from "../../domain/tonight/blocked.ts";
import { outOfServiceResult, singlePointsResult } from "../../domain/tonight/out-of-service-result.ts";
import { type SaidBlock, sayPoints, sayWithout } from "../../domain/tonight/say-out-of-service.ts";
import { nameItem } from "../../domain/parts/lookup.ts";
import { wordsFor } from "../../words/words.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import type { Item, Platform } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { heard } from "../../words/heard.ts";
import { openPlatform, printJson, withCollection, withDay } from "../collection-option.ts";
import { writeTo } from "../../findings/terminal.ts";

/** Defines the command's arguments and options, and what it does. */
export function define(command: Command): void {
  const say = heard("rerigWithout"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .argument("[item...]", say.takesItems)
    .option("--platform <id>", every.takesPlatform)
    .option("--json", every.printsAnswerAsJson)
    .addHelpText("after", `\n${say.more}`)
    .action(
      async (
        words: readonly string[],
        options: { procedures?: string; on?: string; platform?: string; json?: boolean },
      ) => {
        const names = words.map((word) => word.split("=")[0]!),
          asked = await openPlatform(
            options,
            names.length > 0 ? (platform) => names.every((name) => itemNamed(name, platform)) : undefined,
          );
        if (!asked) return;
        const { opened, platform } = asked,
          { service } = opened.collection,
          own = heard("rerigWithout");
        const out = new Map([...readItems(words, platform), ...(platform.out ?? [])]);
        for (const [id, count] of platform.out ?? []) {
          const item = nameItem(platform, id);
          writeTo(process.stderr, `${count > 1 ? own.amendedAllOut({ item, count }) : own.amendedOut({ item })}\n`);
        }
        if (options.json)
          return printJson(
            out.size ? outOfServiceResult(platform, service, out) : singlePointsResult(platform, service),
          );
        writeTo(
          process.stdout,
          print(
            out.size ? sayWithout(platform, service, out, wordsFor(service).tonight) : sayPoints(platform, service),
          ),
        );
        writeTo(process.stderr, `${own.reckoned}\n`);
      },
    );
}

/** The item with this id, or this name in any case; `undefined` if there is none. */
export function itemNamed(word: string, { items }: Platform): Item | undefined {
  const name = word.trim().toLowerCase();
  return items.find((each) => each.id === name) ?? items.find((each) => each.name.toLowerCase() === name);
}

/** The same; throws `CannotRun` if there is none. */
export function itemAsked(word: string, platform: Platform): Item {
  const item = itemNamed(word, platform),
    { name: which, items } = platform;
  if (item) return item;
  const there = sayList(items.map(({ id }) => `\`${id}\``));
  throw new CannotRun(heard("rerigRecall").noItemThereIs({ item: word, which, items: there }));
}

/** Items, each with `=COUNT` if more than one is out; throws `CannotRun` for what is not there. */
function readItems(words: readonly string[], platform: Platform): OutOfService {
  const out = new Map<string, number>(),
    say = heard("rerigWithout");
  for (const word of words) {
    const [name = "", many = "1"] = word.split("="),
      item = itemAsked(name, platform);
    const count = /^\d+$/.test(many) ? Number(many) : 0;
    if (count < 1) throw new CannotRun(say.writeHowMany({ word, item: item.id }));
    const all = (out.get(item.id) ?? 0) + count;
    if (all > item.count) throw new CannotRun(say.thereIsInAll({ word, item: item.id, count: item.count }));
    out.set(item.id, all);
  }
  return out;
}

const print = (blocks: readonly SaidBlock[]): string =>
  blocks.map(({ heading, lines }) => `${heading}\n${lines.map((line) => `  ${line}\n`).join("")}`).join("\n");
