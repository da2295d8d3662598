/** `rerig cards`: the cards of a folder, or of the whole service, as one PDF with the list of effective cards in front. */
import { existsSync } from "node:fs";
import { dirname, resolve } from "node:path";
import type { Command } from "commander";
import { packHtml, type PackCard } from "../build/card-pack.ts";
import { findBrowser } from "../build/find-browser.ts";
import { printPdf } from "../build/print-pack.ts";
import { writeWhole } from "../build/write-whole.ts";
import { type CardFormat, formatOf } from "../domain/card-format.ts";
import { layoutCard } from "../domain/card-layout.ts";
import { checkerCardOf } from "../domain/checker-card.ts";
import { contentOfCard, type CardRequest, requestCards } from "../domain/card-requests.ts";
import { sayNumber } from "../domain/say.ts";
import { countText, reportText } from "../findings/report.ts";
import type { Collection } from "../schema/collection.ts";
import { CannotRun } from "./cannot-run.ts";
import { judge, openCollection, withCollection } from "./collection-option.ts";

interface Options {
  procedures?: string;
  folder?: string;
  platform?: string;
  changeover?: string[];
  paper?: string;
  landscape?: boolean;
  out?: string;
}

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withCollection(command)
    .option("--folder <id>", "the copies of one folder, each with its number; left out, one of every card")
    .option("--platform <id>", "the cards of one platform only")
    .option("--changeover <from--to...>", "also, or only, the card of a changeover, such as newborn-capsule--child-cradle")
    .option("--paper <size>", "A4, A5 or A6 (default: the service's own)")
    .option("--landscape", "lying; A4 lying is two A5 sides next to each other, to be folded")
    .option("--out <file>", "the PDF (default: cards.pdf, or the folder's id)")
    .addHelpText("after", "\nNeeds Chromium (set CHROME_PATH if it is not found). Without it, print the cards from the site's own pages: they are the same.\nExit code: 0 printed, 1 errors in the collection or a card that does not fit (nothing is written), 2 it could not run. The same cards give the same bytes.")
    .action(async (options: Options) => {
      const opened = await openCollection(options.procedures);
      const { collection } = opened;
      const format = formatFrom(collection, options);
      const out = resolve(options.out ?? `${options.folder ?? "cards"}.pdf`);
      if (!existsSync(dirname(out))) throw new CannotRun(`There is no folder ${dirname(out)} to write into`);
      const errors = judge(opened).filter(({ severity }) => severity === "error");
      if (errors.length) {
        process.stderr.write(`${reportText(errors)}\n\n${countText({ error: errors.length, warning: 0 })}. Nothing is printed while there are errors.\n`);
        process.exitCode = 1;
        return;
      }
      const { requests, unknown } = requestCards(collection, options);
      if (unknown.length) throw new CannotRun(unknown.join("\n"));
      if (requests.length === 0) throw new CannotRun("There is no card to print: no configuration here is approved.");
      const tooLong = requests.flatMap(({ card }) => {
        const { tooLongMm } = layoutCard(card, format);
        return tooLongMm > 0 ? [`${card.title}: ${tooLongMm} mm too long for ${format.name} (card/does-not-fit)`] : [];
      });
      if (tooLong.length) {
        process.stderr.write(`${[...new Set(tooLong)].join("\n")}\nNothing is printed. Use larger paper, or shorten the lines.\n`);
        process.exitCode = 1;
        return;
      }
      const browser = findBrowser();
      if (!browser) throw new CannotRun("To print a pack, Rerig needs Chromium or Chrome, and found none. Install it (Debian, Ubuntu: `sudo apt-get install chromium`), or set CHROME_PATH to it.\nWithout it, open the site and print each card's own page: it is the same card.");
      const cards: PackCard[] = requests.map(({ card, copy }) => ({ card, copy }));
      const folder = collection.folders.find(({ id }) => id === options.folder);
      const title = `${folder ? folder.name : "Cards"}, ${collection.service.name}`;
      await writeWhole(out, await printPdf(await packHtml({ title, language: collection.service.language, format, cards }), browser));
      for (const line of secondLookWarnings(collection, requests)) process.stderr.write(`${line}\n`);
      process.stderr.write(`${sayNumber(cards.length, "card")} on ${format.name}. Print at 100 %, on both sides; laminate matt, 3 mm beyond every edge.\n`);
      process.stdout.write(`${out}\n`);
    });
}

function formatFrom({ service }: Collection, { paper = service.cards.paper, landscape = false }: Options): CardFormat {
  const size = paper.toLowerCase();
  if (!["a4", "a5", "a6"].includes(size)) throw new CannotRun(`\`--paper\` takes A4, A5 or A6, not \`${paper}\``);
  return formatOf(`${size}${landscape ? "-landscape" : ""}`);
}

/** What is wrong with the second looks of these cards, each said once. */
function secondLookWarnings(collection: Collection, requests: readonly CardRequest[]): string[] {
  const lines = requests.flatMap((request) => {
    const content = contentOfCard(collection, request);
    return content ? checkerCardOf(content).warnings.map((warning) => `warning  Second look at ${request.card.title}: ${warning}`) : [];
  });
  return [...new Set(lines)];
}
