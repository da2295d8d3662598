/**
 * `rerig without`: what is still possible while pieces are out of service; without an item, how many of each may be
 * missing before somebody can't be carried.
 */
import type { Command } from "commander";
import type { OutOfService } from "../../domain/tonight/blocked.ts";
import { outOfServiceResult, singlePointsResult } from "../../domain/tonight/out-of-service-result.ts";
import { type SaidBlock, sayPoints, sayWithout } from "../../domain/tonight/say-out-of-service.ts";
import { wordsFor } from "../../words/words.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import type { Item, Platform } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { openAsked, platformAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";

/** Defines the command's arguments and options, and what it does. */
export function define(command: Command): void {
  withDay(withCollection(command))
    .argument("[item...]", "what is out of service: an item, and how many of it if not one (`cradle-strap=2`)")
    .option("--platform <id>", "the platform; may be left out if there is only one")
    .option("--json", "print the answer as JSON on standard output")
    .addHelpText(
      "after",
      "\nWithout an item: how many of each may be missing before somebody can't be carried.\n" +
        "It reckons with what the collection says there is. Look yourself, and follow your service's own rules.",
    )
    .action(
      async (
        words: readonly string[],
        options: { procedures?: string; on?: string; platform?: string; json?: boolean },
      ) => {
        const opened = await openAsked(options.procedures, { on: options.on });
        const platform = platformAsked(opened.collection, options.platform),
          { service } = opened.collection;
        if (!readWhole(opened)) return;
        const out = new Map([...readItems(words, platform), ...(platform.out ?? [])]);
        for (const [id, count] of platform.out ?? [])
          process.stderr.write(
            `Out of service by a temporary amendment: ${id}${count > 1 ? ` (all ${count})` : ""}.\n`,
          );
        if (options.json)
          return printJson(
            out.size ? outOfServiceResult(platform, service, out) : singlePointsResult(platform, service),
          );
        process.stdout.write(
          print(
            out.size ? sayWithout(platform, service, out, wordsFor(service).tonight) : sayPoints(platform, service),
          ),
        );
        process.stderr.write("Reckoned from the counts in the collection; your service's own rules decide.\n");
      },
    );
}

/** The item with this id, or this name in any case; throws `CannotRun` if there is none. */
export function itemAsked(word: string, { id: platform, items }: Platform): Item {
  const name = word.trim().toLowerCase(),
    item = items.find((each) => each.id === name) ?? items.find((each) => each.name.toLowerCase() === name);
  if (item) return item;
  throw new CannotRun(
    `There is no item \`${word}\` on \`${platform}\`; there is ${sayList(items.map(({ id }) => `\`${id}\``))}`,
  );
}

/** Items, each with `=COUNT` if more than one is out; throws `CannotRun` for what is not there. */
function readItems(words: readonly string[], platform: Platform): OutOfService {
  const out = new Map<string, number>();
  for (const word of words) {
    const [name = "", many = "1"] = word.split("="),
      item = itemAsked(name, platform);
    const count = /^\d+$/.test(many) ? Number(many) : 0;
    if (count < 1) throw new CannotRun(`\`${word}\`: write how many are out as a whole number, \`${item.id}=2\``);
    const all = (out.get(item.id) ?? 0) + count;
    if (all > item.count)
      throw new CannotRun(
        `\`${word}\`: of \`${item.id}\` there ${item.count === 1 ? "is 1" : `are ${item.count}`} in all`,
      );
    out.set(item.id, all);
  }
  return out;
}

const print = (blocks: readonly SaidBlock[]): string =>
  blocks.map(({ heading, lines }) => `${heading}\n${lines.map((line) => `  ${line}\n`).join("")}`).join("\n");
