/**
 * One table of outputs by days: over the eight days of a change every output names the same revision, and everything
 * that names the card names the same edition, its day and its check code. Each cell is read from the output itself: the
 * built site, the printed pack, the commands' own words. Compared with one another and with the frozen files under
 * `issued/`; the collection is invented. That only documents in force are at the point of use is ISO 9001:2015, 7.5.3.
 */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { addressOfCode } from "../../src/domain/cards/check-address.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { Findings } from "../../src/findings/finding.ts";
import { formatFor } from "../../src/paper/card-format.ts";
import { packHtml } from "../../src/paper/card-pack.ts";
import { type Asked, requestCards } from "../../src/paper/card-requests.ts";
import { foldersShape } from "../../src/schema/results.ts";
import { buildForTest } from "../builder/built-site.ts";
import { runHere } from "../commands/run-here.ts";
import { DAYS, edit, PROCEDURE, tellStory } from "../domain/force/eight-days.ts";
import { outputsOn } from "../domain/force/outputs.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-by-day-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const filesOf = (day: string) => join(work, "files", day);
const siteOf = (day: string) => join(work, "site", day);

/** What an output says of the card: `2 from 2026-02-09, 7K3F-QS`; `none` where it names no card in force. */
type Cell = string;
const card = (edition: unknown, from: unknown, code: unknown): Cell => `${edition} from ${from}, ${code}`;
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** The card that a text names by its edition, its day and its check code, in whatever order. */
function cardIn(text: string | undefined): Cell {
  const code = /\b[0-9A-Z]{4}-[0-9A-Z]{2}\b/.exec(text ?? "")?.[0];
  if (!text || !code) return "none";
  const edition = /(?:edition|ed\.)\s+(\d+)/i.exec(text)?.[1];
  const [, day = "", month = "", year] = /(\d{1,2}) ([A-Z][a-z]{2}) (\d{4})/.exec(text) ?? [];
  const iso =
    /\d{4}-\d{2}-\d{2}/.exec(text)?.[0] ??
    `${year}-${String(MONTHS.indexOf(month) + 1).padStart(2, "0")}-${day.padStart(2, "0")}`;
  return card(edition, iso, code);
}
const textOf = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&nbsp;/g, " ")
    .replace(/\s+/g, " ");
/** The text of the first part of a page that a pattern finds. */
const partOf = (html: string, pattern: RegExp) => {
  const found = pattern.exec(html)?.[0];
  return found && textOf(found);
};
const CONTROL = /<div class="c-control[\s\S]*?<\/dl>/;

/** What every output says of the child shell's card on a day. */
async function cardsOn(day: string): Promise<Readonly<Record<string, Cell>>> {
  const site = siteOf(day),
    // What a device shows from a later day on is told in tests/browser/replaced.test.ts.
    page = (address: string) =>
      readFileSync(join(site, address, "index.html"), "utf8").replaceAll(
        /<(span|article) [^>]*\bhidden\b[^>]*>[\s\S]*?<\/\1>/g,
        "",
      );
  const files = await loadCollection(filesOf(day), new Findings());
  const { collection } = forceOn(files, day);
  const frozen = readdirSync(join(filesOf(day), "issued/sled"))
    .filter((name) => name.startsWith("card-child-shell@"))
    .map(
      (name) =>
        JSON.parse(readFileSync(join(filesOf(day), "issued/sled", name), "utf8")) as {
          edition: number;
          effective: string;
          code: string;
        },
    )
    .filter(({ effective }) => effective <= day)
    .sort((a, b) => a.edition - b.edition)
    .at(-1);
  const isInForce = collection.platforms[0]!.configurations.some(({ id }) => id === "child-shell");
  const pack = async (asked: Asked) =>
    packHtml({
      title: "Pack",
      language: "en-GB",
      format: formatFor(collection.service.cards.paper),
      cards: requestCards(collection, asked, day).requests,
    });
  const own = isInForce ? await pack({ card: ["child-shell"] }) : "",
    ofFolder = isInForce ? await pack({ folder: "ridge-hut" }) : "";
  const command = async (...args: string[]) => runHere([...args, "--procedures", filesOf(day)], day);
  const told = (await command("folders")).stdout.split("\n");
  const asJson = foldersShape.parse(JSON.parse((await command("folders", "--json")).stdout));
  const inData = foldersShape.parse(JSON.parse(readFileSync(join(site, "data/folders.json"), "utf8")));
  const rowOf = ({ folders }: typeof asJson) => {
    const now = folders[0]!.copies.find((copy) => copy.card === "child-shell")!.current;
    return now ? card(now.edition, now.from, now.check) : "none";
  };
  const listed = /<h3 class="sub">Child shell[\s\S]*?<\/ul>/.exec(page("check"))![0].split("</li>");
  const current = listed.find((row) => textOf(row).includes(" current "));
  const code = /data-code="([^"]+)"/.exec(current ?? "")?.[1];
  const codePage = code && textOf(/<main[\s\S]*<\/main>/.exec(page(addressOfCode(code)))![0]);
  const margins = [
    ...page("sled/cards/child-shell").matchAll(/<link rel="stylesheet" href="(?:\.\.\/)*([^"]+)" media="print"/g),
  ]
    .map(([, file]) => readFileSync(join(site, file!), "utf8"))
    .join("\n");
  const device = JSON.parse(readFileSync(join(site, "offline.json"), "utf8")) as {
    documents: { address: string; card?: { code: string; edition: number; from: string } }[];
  };
  const kept = device.documents.find(({ address }) => address === "sled/configurations/child-shell/")?.card;
  const swap = partOf(page("folders/ridge-hut/swap"), /Insert<\/h2>[\s\S]*?<\/ul>/),
    audit = page("folders/ridge-hut/audit"),
    folder = page("folders/ridge-hut");
  const orders = /<ul class="opt-list orders">[\s\S]*?<\/ul>/.exec(page("folders"))?.[0].split("</li>");
  const row = (html: string) => html.split("</tr>").find((each) => each.includes("Child shell</a>"));
  return {
    "frozen file": frozen && isInForce ? card(frozen.edition, frozen.effective, frozen.code) : "none",
    "page of the card": cardIn(partOf(page("sled/cards/child-shell"), /<div class="card-band">[\s\S]*?<\/dl>/)),
    "foot of its print": cardIn(/edition \d+ from [^"]*check code [^"\s]+/.exec(margins)?.[0]),
    "printed card on the site": cardIn(partOf(page("sled/cards/child-shell/card"), CONTROL)),
    "rerig cards": cardIn(partOf(own, CONTROL)),
    "list of effective cards": cardIn(partOf(own, /<section class="c-side c-other c-contents">[\s\S]*?<\/section>/)),
    "pack of the folder": cardIn(partOf(ofFolder, CONTROL)),
    "check page": cardIn(current && textOf(current)),
    "page of the code": codePage?.includes("that is in force") ? cardIn(codePage.replace(/.*Check code/, "")) : "none",
    "list of folders": cardIn(textOf(orders?.find((each) => each.includes("Child shell</a>")) ?? "")),
    "page of the folder": cardIn(textOf(row(folder) ?? "").replace(/Read its code.*/, "")),
    "swap pack": cardIn(swap?.includes("Nothing for") ? undefined : swap),
    "audit sheet": cardIn(textOf(audit.split("</tr>").find((each) => /scope="row">\s*child.shell</i.test(each))!)),
    "rerig folders": cardIn(/put in .*/.exec(told.find((line) => line.includes("copy 1 of Child shell"))!)?.[0]),
    "rerig folders --json": rowOf(asJson),
    "data/folders.json": rowOf(inData),
    "set of a device": kept ? card(kept.edition, kept.from, kept.code) : "none",
  };
}

/** What else a service does when it withdraws an arrangement, so that its site can be built again. */
async function settleWithdrawal(day: string): Promise<void> {
  const files = filesOf(day);
  edit(files, "service.yaml", [/^weight: .*$/m, "weight: from 30 kg to under 150 kg"]);
  edit(files, "sled/change-to-mattress.mdx", [/^status: approved$/m, "status: withdrawn"]);
  rmSync(join(files, "incidents.yaml"));
  edit(files, PROCEDURE, [/ guards=near-miss-1/, ""]);
  const { status, stderr } = await runHere(["issue", "--procedures", files], day);
  expect(status, stderr).toBe(0);
}

/** Builds the site of a day as it is on that day; what an error would refuse is refused. */
const build = (day: string): Promise<void> =>
  buildForTest({ collectionFolder: filesOf(day), outFolder: siteOf(day), on: day, checked: true });

describe("over the eight days of a change", () => {
  const revisions = new Map<string, Readonly<Record<string, number>>>(),
    cards = new Map<string, Readonly<Record<string, Cell>>>();

  beforeAll(async () => {
    const folder = join(work, "story");
    await tellStory(folder, (day) => cpSync(folder, filesOf(day), { recursive: true }));
    await settleWithdrawal(DAYS.at(-1)![1]);
    const days = DAYS.map(([, day]) => day);
    for (const day of days) {
      await build(day);
      revisions.set(day, outputsOn(filesOf(day), await loadCollection(filesOf(day), new Findings()), day));
      cards.set(day, await cardsOn(day));
    }
  }, 900_000);

  it.each(DAYS)("%s, %s: every output names revision %i, and the same edition", (_stage, day, revision) => {
    expect(new Set(Object.values(revisions.get(day)!))).toEqual(new Set([revision]));
    const own = cards.get(day)!;
    expect(own).toEqual(Object.fromEntries(Object.keys(own).map((name) => [name, own["frozen file"]])));
  });

  it("the card has an edition of its own for each thing that changed it", () => {
    const editions = DAYS.map(([, day]) => cards.get(day)!["frozen file"]!.split(",")[0]);
    expect(editions).toEqual([
      "1 from 2026-01-12",
      ...Array<string>(4).fill("2 from 2026-02-09"),
      "3 from 2026-03-16",
      "4 from 2026-04-20",
      "none",
    ]);
  });

  it("makes one table, no cell of which is written by hand", async () => {
    const days = DAYS.map(([, day]) => day);
    const rowsOf = (by: ReadonlyMap<string, Readonly<Record<string, string | number>>>) =>
      Object.keys(by.get(days[0]!)!).map((name) => [name, ...days.map((day) => String(by.get(day)![name] || "none"))]);
    const table = (head: string, rows: readonly string[][], width: number) =>
      [[head, ...days], ...rows].map((row) =>
        row
          .map((cell, at) => cell.padEnd(at ? width : 26))
          .join("  ")
          .trimEnd(),
      );
    // A code is of all that is printed: in the table it is told from others, so that another layout is no other table.
    const codes = [...new Set([...cards.values()].flatMap((own) => Object.values(own)))].map((cell) => cell.slice(-7));
    const letters = new Map(
      [...new Set(codes)].filter((code) => code.includes("-")).map((code, at) => [code, "ABCDEF"[at]!]),
    );
    const lettered = (text: string) =>
      [...letters].reduce((line, [code, letter]) => line.replaceAll(code, `code ${letter}`), text);
    const lines = [...table("revision", rowsOf(revisions), 10), "", ...table("edition of the card", rowsOf(cards), 26)];
    await expect(`${lines.map(lettered).join("\n")}\n`).toMatchFileSnapshot("../fixtures/force/outputs-by-day.txt");
  });
});
