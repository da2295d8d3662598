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
import { sayDate } from "../../domain/words/say.ts";
import { reportToPerson } from "../../findings/report.ts";
import type { Band, Collection, Folder } from "../../schema/collection.ts";
import { parseRange } from "../../schema/quantities.ts";
import { sayList } from "../../schema/wording.ts";
import { heard } from "../../words/heard.ts";
import type { Words } from "../../words/hear.ts";
import { wordsFor } from "../../words/words.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { patientAsked } from "../answers/choose.ts";
import { judge, openAsked, sayErrorCounts, withCollection, withDay } from "../collection-option.ts";
import { writeTo } from "../../findings/terminal.ts";
import { today } from "../../site/today.ts";

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
  const say = heard("rerigCards");
  withDay(withCollection(command))
    .option("--folder <id>", say.takesFolder)
    .option("--platform <id>", say.takesPlatform)
    .option("--card <id...>", say.takesCard)
    .option("--proposed", say.takesProposed)
    .option("--weight <weight>", say.takesWeight)
    .option("--age <age>", say.takesAge)
    .option("--band <band>", say.takesBand)
    .option("--each-band", say.takesEachBand)
    .option("--changeover <from--to...>", say.takesChangeover)
    .option("--second-look", say.takesSecondLook)
    .option("--paper <size>", say.takesPaper)
    .option("--landscape", say.takesLandscape)
    .option("--out <file>", say.takesOut)
    .addHelpText("after", `\n${say.more}`)
    .action(async (options: Options) => {
      const opened = await openAsked(options.procedures, { on: options.on }),
        say = heard("rerigCards");
      const { collection } = opened;
      const format = formatFrom(collection, options),
        asked = askedFrom(options);
      const out = outPdfFor(options.out ?? `${options.folder ?? "cards"}.pdf`);
      const errors = judge(opened).filter(({ severity }) => severity === "error");
      if (errors.length) {
        writeTo(
          process.stderr,
          `${reportToPerson(errors)}\n\n` +
            `${say.notWhileErrors({ counts: sayErrorCounts({ error: errors.length, warning: 0 }) })}\n`,
        );
        process.exitCode = 1;
        return;
      }
      const {
        requests,
        unknown,
        left = [],
      } = options.proposed ? requestProposed(opened.force, asked) : requestCards(collection, asked, opened.day);
      if (unknown.length) throw new CannotRun(unknown.join("\n"));
      if (requests.length === 0 && left.length > 0) throw new CannotRun(left.join("\n"));
      if (requests.length === 0)
        throw new CannotRun(options.folder === undefined ? say.noCard : say.noCopy({ folder: options.folder }));
      const tooLong = requests.flatMap(({ card }) => {
        const { tooLongMm } = layoutCard(card, format);
        return tooLongMm > 0
          ? [say.tooLong({ card: card.title, band: card.band, mm: tooLongMm, paper: format.name })]
          : [];
      });
      if (tooLong.length) {
        writeTo(process.stderr, `${[...new Set(tooLong)].join("\n")}\n${say.notPrinted}\n`);
        process.exitCode = 1;
        return;
      }
      const browser = findBrowser();
      if (!browser) throw new CannotRun(say.noBrowser);
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
        writeTo(process.stderr, `${asked.patient.age === undefined ? say.alsoByAge : say.alsoByWeight}\n`);
      for (const line of [...left, ...warningsOf(looks)]) writeTo(process.stderr, `${line}\n`);
      if (slips.length > 0)
        writeTo(
          process.stderr,
          `${words.slipsToPrint({ numbers: sayList(slips.map(({ amendment }) => amendment.number)) })}\n`,
        );
      if (opened.day !== today()) {
        const of = { day: sayDate(opened.day) };
        writeTo(process.stderr, `${opened.day > today() ? say.ofLaterDay(of) : say.ofEarlierDay(of)}\n`);
      }
      writeTo(
        process.stderr,
        `${
          options.secondLook
            ? say.printedWithLooks({ cards: requests.length, looks: looks.length, paper: format.name })
            : say.printed({ cards: requests.length, paper: format.name })
        }\n`,
      );
      writeTo(process.stdout, `${out}\n`);
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
  if (!["a4", "a5", "a6"].includes(size)) throw new CannotRun(heard("rerigCards").noPaper({ given: paper }));
  return formatOf(`${size}${landscape ? "-landscape" : ""}`);
}

/** What is asked for, with weights and ages read. Throws `CannotRun` for what can't be read or does not go together. */
function askedFrom({ folder, platform, changeover, card, weight, age, band, eachBand, proposed }: Options): Asked {
  const say = heard("rerigCards");
  const parts = [
    card && "--card",
    weight !== undefined && "--weight",
    age !== undefined && "--age",
    band !== undefined && "--band",
    eachBand && "--each-band",
  ].filter((part) => typeof part === "string");
  if (folder !== undefined && parts.length) throw new CannotRun(say.folderWith({ option: parts[0]! }));
  const [beside] = [
    folder !== undefined && "--folder",
    changeover && "--changeover",
    ...parts.slice(card ? 1 : 0),
  ].filter((part) => typeof part === "string");
  if (proposed && beside) throw new CannotRun(say.proposedWith({ option: beside }));
  const one = card?.find((name) => name.includes("+"));
  if (proposed && one !== undefined) throw new CannotRun(say.proposedWhole({ card: one.split("+")[0]! }));
  if (band !== undefined && (weight ?? age) !== undefined) throw new CannotRun(say.bandWith);
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
        checker.warnings.map((warning) => heard("rerigCards").secondLookWarning({ card: card.title, warning })),
      ),
    ),
  ];
}
