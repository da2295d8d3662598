/**
 * `rerig cards`: the cards of a folder, of the whole service, or for some patients, as one PDF with the list of
 * effective cards in front.
 */
import type { Command } from "commander";
import { packHtml, type PackLook, type PackSlip } from "../../paper/card-pack.ts";
import { findBrowser } from "../../paper/find-browser.ts";
import { printPdf } from "../../paper/print-pack.ts";
import { outPdfFor } from "../../build/out-folder.ts";
import { writeWhole } from "../../build/write-whole.ts";
import { type CardFormat, formatOf } from "../../paper/card-format.ts";
import { layoutCard } from "../../paper/card-layout.ts";
import { type LyingSlip, slipsIn } from "../../domain/cards/amendment-slips.ts";
import { checkerCardOf } from "../../domain/cards/checker-card.ts";
import { type Asked, type CardRequest, requestCards, requestProposed } from "../../paper/card-requests.ts";
import { stateOn } from "../../domain/words/days.ts";
import { sayDate, sayNumber } from "../../domain/words/say.ts";
import { countText, reportToPerson } from "../../findings/report.ts";
import type { Band, Collection, Folder } from "../../schema/collection.ts";
import { parseRange } from "../../schema/quantities.ts";
import { sayList } from "../../schema/wording.ts";
import type { Words } from "../../words/hear.ts";
import { wordsFor } from "../../words/words.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { patientAsked } from "../answers/choose.ts";
import { judge, openAsked, withCollection, withDay } from "../collection-option.ts";

interface Options {
  procedures?: string;
  on?: string;
  folder?: string;
  platform?: string;
  card?: string[];
  weight?: string;
  age?: string;
  band?: string;
  eachBand?: boolean;
  changeover?: string[];
  secondLook?: boolean;
  proposed?: boolean;
  paper?: string;
  landscape?: boolean;
  out?: string;
}

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withDay(withCollection(command))
    .option("--folder <id>", "the copies of one folder, each with its number; left out, one of every card")
    .option("--platform <id>", "the cards of one platform only")
    .option(
      "--card <id...>",
      "only the cards of these configurations: newborn-capsule, or tern/newborn-capsule; of one arrangement with its " +
        "options: newborn-capsule+gas-shelf",
    )
    .option(
      "--proposed",
      "the cards that proposals would change, as they would be: marked on every side, without edition and check code",
    )
    .option(
      "--weight <weight>",
      'only the card for a patient of this weight, such as "7.2 kg": where lines differ within a ' +
        "configuration, of exactly that band",
    )
    .option("--age <age>", 'the age of that patient, such as "8 months"')
    .option("--band <band>", 'only cards for patients of this band, such as "from 5 kg to under 12 kg"')
    .option(
      "--each-band",
      "a card for each band in which the lines are not the same, in the place of one card that says for whom " +
        "each line is",
    )
    .option(
      "--changeover <from--to...>",
      "also, or only, the card of a changeover, such as newborn-capsule--child-cradle",
    )
    .option("--second-look", "also the checker's cards, and at the end their keys")
    .option("--paper <size>", "A4, A5 or A6 (default: the service's own)")
    .option("--landscape", "lying; A4 lying is two A5 sides next to each other, to be folded")
    .option("--out <file>", "the PDF (default: cards.pdf, or the folder's id)")
    .addHelpText(
      "after",
      "\nNeeds Chromium (set CHROME_PATH if it is not found). Without it, print the cards from the site's own " +
        "pages: they are the same.\nExit code: 0 printed, 1 errors in the collection or a card that does not fit " +
        "(nothing is written), 2 it could not run. The same cards give the same bytes.",
    )
    .action(async (options: Options) => {
      const opened = await openAsked(options.procedures, { on: options.on });
      const { collection } = opened;
      const format = formatFrom(collection, options),
        asked = askedFrom(options);
      const out = outPdfFor(options.out ?? `${options.folder ?? "cards"}.pdf`);
      const errors = judge(opened).filter(({ severity }) => severity === "error");
      if (errors.length) {
        process.stderr.write(
          `${reportToPerson(errors)}\n\n${countText({ error: errors.length, warning: 0 })}. Nothing is printed ` +
            `while there are errors.\n`,
        );
        process.exitCode = 1;
        return;
      }
      const { requests, unknown } = options.proposed
        ? requestProposed(opened.force, asked)
        : requestCards(collection, asked, opened.day);
      if (unknown.length) throw new CannotRun(unknown.join("\n"));
      if (requests.length === 0) throw new CannotRun("There is no card to print: no configuration here is approved.");
      const tooLong = requests.flatMap(({ card }) => {
        const { tooLongMm } = layoutCard(card, format);
        return tooLongMm > 0
          ? [`${card.title}, ${card.band}: ${tooLongMm} mm too long for ${format.name} (card/does-not-fit)`]
          : [];
      });
      if (tooLong.length) {
        process.stderr.write(
          `${[...new Set(tooLong)].join("\n")}\nNothing is printed. Use larger paper, or shorten the lines.\n`,
        );
        process.exitCode = 1;
        return;
      }
      const browser = findBrowser();
      if (!browser)
        throw new CannotRun(
          "To print a pack, Rerig needs Chromium or Chrome, and found none. Install it (Debian, Ubuntu: `sudo " +
            "apt-get install chromium`), or set CHROME_PATH to it.\nWithout it, open the site and print each " +
            "card's own page: it is the same card.",
        );
      const looks = looksOf(requests);
      const folder = collection.folders.find(({ id }) => id === options.folder);
      const slips = folder ? slipsRunning(collection, folder, opened.day) : [],
        words = wordsFor(collection.service).cards;
      const title = `${folder ? folder.name : wordsFor(collection.service).cardList.cards}, ${collection.service.name}`;
      await writeWhole(
        out,
        await printPdf(
          await packHtml({
            title,
            language: collection.service.language,
            format,
            cards: requests,
            looks: options.secondLook ? looks : [],
            slips: { heading: words.slipsThatLieOver, rows: slips.map((slip) => rowOf(slip, words)) },
          }),
          browser,
        ),
      );
      if (
        asked.patient &&
        requests.some(
          ({ card }, at) =>
            requests.findIndex((other) => other.platform === requests[at]!.platform && other.card.id === card.id) !==
            at,
        )
      )
        process.stderr.write(
          asked.patient.age === undefined
            ? "The lines also differ with the age: give `--age` for one card.\n"
            : "The lines also differ with the weight: give `--weight` for one card.\n",
        );
      for (const line of warningsOf(looks)) process.stderr.write(`${line}\n`);
      if (slips.length > 0)
        process.stderr.write(
          `${words.slipsToPrint({ numbers: sayList(slips.map(({ amendment }) => amendment.number)) })}\n`,
        );
      process.stderr.write(
        sayNumber(requests.length, "card") +
          (options.secondLook ? `, ${sayNumber(looks.length, "second look")} and their keys` : "") +
          ` on ${format.name}. Print at 100 %, on both sides; laminate matt, 3 mm beyond every edge.\n`,
      );
      process.stdout.write(`${out}\n`);
    });
}

/** The slips that lie in a folder on a day; one that is still to come has no place there yet. */
function slipsRunning(collection: Collection, folder: Folder, day: string): LyingSlip[] {
  return slipsIn(collection, folder, day).filter(({ amendment }) => stateOn(day, amendment) === "running");
}

/** The slip of an amendment as the list of a folder's cards says it. */
function rowOf({ amendment, code, over }: LyingSlip, words: Words["cards"]): PackSlip {
  const { number, title, from, until } = amendment;
  const cards = sayList(over.map((configuration) => configuration.title));
  return {
    title,
    about: words.slipNumberOverCards({ number, cards, date: sayDate(until) }),
    from: sayDate(from),
    code,
    copy: words.slip,
  };
}

function formatFrom({ service }: Collection, { paper = service.cards.paper, landscape = false }: Options): CardFormat {
  const size = paper.toLowerCase();
  if (!["a4", "a5", "a6"].includes(size)) throw new CannotRun(`\`--paper\` takes A4, A5 or A6, not \`${paper}\``);
  return formatOf(`${size}${landscape ? "-landscape" : ""}`);
}

/** What is asked for, with weights and ages read. Throws `CannotRun` for what can't be read or does not go together. */
function askedFrom({ folder, platform, changeover, card, weight, age, band, eachBand, proposed }: Options): Asked {
  const parts = [
    card && "--card",
    weight !== undefined && "--weight",
    age !== undefined && "--age",
    band !== undefined && "--band",
    eachBand && "--each-band",
  ].filter((part) => typeof part === "string");
  if (folder !== undefined && parts.length)
    throw new CannotRun(
      `\`--folder\` prints the copies that folders.yaml lists; it does not go together with \`${parts[0]}\``,
    );
  const [beside] = [
    folder !== undefined && "--folder",
    changeover && "--changeover",
    ...parts.slice(card ? 1 : 0),
  ].filter((part) => typeof part === "string");
  if (proposed && beside)
    throw new CannotRun(`\`--proposed\` prints whole cards; it does not go together with \`${beside}\``);
  const one = card?.find((name) => name.includes("+"));
  if (proposed && one !== undefined)
    throw new CannotRun(`\`--proposed\` prints whole cards, with all options: ask for \`${one.split("+")[0]!}\``);
  if (band !== undefined && (weight ?? age) !== undefined)
    throw new CannotRun("`--band` does not go together with `--weight` or `--age`: give the patient, or the band");
  return {
    ...(folder !== undefined ? { folder } : {}),
    ...(platform !== undefined ? { platform } : {}),
    ...(changeover ? { changeover } : {}),
    ...(card ? { card } : {}),
    ...(eachBand ? { eachBand } : {}),
    ...((weight ?? age) !== undefined ? { patient: patientAsked(weight, age) } : {}),
    ...(band !== undefined ? { band: readBand(band) } : {}),
  };
}

/** A band in the words of the collection: weights, or ages. */
function readBand(text: string): Band {
  const weight = parseRange(text, "weight"),
    age = parseRange(text, "age");
  if (weight.ok) return { weight: weight.value, age: { text: "any age" } };
  if (age.ok) return { weight: { text: "any weight" }, age: age.value };
  throw new CannotRun(`--band: ${weight.message}. ${weight.fix}`);
}

/** The second look at each card, once where a folder holds several copies. */
function looksOf(requests: readonly CardRequest[]): PackLook[] {
  const first = requests.filter(
    ({ content, card }, at) =>
      content &&
      requests.findIndex(
        (other) => other.content && other.card.checkCode === card.checkCode && other.card.complete === card.complete,
      ) === at,
  );
  return first.flatMap(({ content, card }) => (content ? [{ card, checker: checkerCardOf(content) }] : []));
}

/** What is wrong with the second looks of these cards, each said once. */
function warningsOf(looks: readonly PackLook[]): string[] {
  return [
    ...new Set(
      looks.flatMap(({ card, checker }) =>
        checker.warnings.map((warning) => `warning  Second look at ${card.title}: ${warning}`),
      ),
    ),
  ];
}
