/**
 * `rerig signoffs FILE.csv`: reads a service's own register, says who must be signed off again and why, and keeps none
 * of it.
 */
import { existsSync, realpathSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import type { Command } from "commander";
import { signOffForms } from "../../site/records/sign-off-form.ts";
import { criticalChallenges } from "../../domain/cards/card-content.ts";
import { toldOf } from "../../domain/cards/amendment-slips.ts";
import { currentCards } from "../../domain/cards/cards-issued.ts";
import { judgeAhead, newestOf, signedFor, withIssueSigned } from "../../domain/force/signoffs-ahead.ts";
import { type CardMarks, type Judgement, writtenAfter } from "../../domain/records/signoffs.ts";
import { sayDays } from "../../domain/words/days.ts";
import { printedCodes } from "../../paper/printed-card.ts";
import type { Collection } from "../../schema/collection.ts";
import { Findings, inFileOrder } from "../../findings/finding.ts";
import { reportToPerson } from "../../findings/report.ts";
import { readRegister } from "../../read/register.ts";
import { issueAltered } from "../../rules/record/issue-altered.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { heard } from "../../words/heard.ts";
import { SITE_FOLDER } from "../collection-folder.ts";
import { openAsked, printJson, readWhole, withCollection, withDay } from "../collection-option.ts";
import { writeTo } from "../../findings/terminal.ts";

/** Days ahead on which a lapse is soon, unless `--soon` says otherwise. */
const SOON_DAYS = 30;

interface Options {
  readonly procedures?: string;
  readonly on?: string;
  readonly json?: boolean;
  readonly soon: string;
  readonly form?: string;
  readonly out: string;
}

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigSignoffs"),
    every = heard("everyCommand");
  withDay(withCollection(command))
    .argument("<register>", say.takesRegister)
    .option("--json", every.printsResultAsJson)
    .option("--soon <days>", say.takesSoon, String(SOON_DAYS))
    .option("--form <file>", say.takesForm)
    .option("--out <dir>", say.takesOut, SITE_FOLDER)
    .addHelpText("after", `\n${say.more}`)
    .action(async (register: string, options: Options) => {
      const opened = await openAsked(options.procedures, { on: options.on }),
        say = heard("rerigSignoffs");
      const soon = /^\d{1,4}$/.test(options.soon) ? Number(options.soon) : undefined;
      if (soon === undefined) throw new CannotRun(say.noDays({ given: options.soon }));
      for (const path of [register, options.form])
        if (path !== undefined) keepApart(path, opened.folder, resolve(options.out));
      const text = await readFile(register).catch((error: NodeJS.ErrnoException) => {
        throw new CannotRun(
          error.code === "ENOENT"
            ? say.noRegister({ register })
            : say.unreadable({ register, why: error.code ?? error.message }),
        );
      });
      if (!readWhole(opened)) return;
      const findings = new Findings();
      const { day } = opened;
      const read = readRegister(decode(text, register), {
        file: basename(register),
        collection: signedFor(opened.force),
        today: day,
        findings,
        newest: (document) => newestOf(opened.force, document),
      }).map((signOff) => withIssueSigned(opened.force, signOff));
      const signOffs = read.filter((signOff) => {
        const written = writtenAfter(signOff);
        if (written === undefined) return true;
        const { revision, document, date, where } = signOff,
          said = heard("registerFindings");
        findings.error("register/date-order", where, {
          message: said.writtenLater({ revision, code: document.code, written, seen: date }),
          fix: said.correctOne,
        });
        return false;
      });
      // A record that somebody edited is judged by nobody in silence: what rests on it is asked whole, and it is named.
      issueAltered.check!(opened.files, (where, remark) => findings.error(issueAltered.id, where, remark), {
        today: day,
        damaged: new Set(),
      });
      const judgements = judgeAhead(opened.force, signOffs, soon, cardMarks(opened.collection));
      // Nobody signs off what holds for days; whoever does the work is told of it.
      const told = toldOf(
        opened.collection.platforms,
        judgements.filter(({ state }) => state !== "withdrawn" && state !== "ahead").map(({ signOff }) => signOff),
        day,
      );
      const asked = judgements.filter(({ state }) => state === "again" || state === "lapsed");
      if (options.form) await writeFile(options.form, signOffForms(opened.collection.service.name, asked, day));
      const list = inFileOrder(findings.list);
      if (options.json)
        printJson({
          today: day,
          findings: list,
          rows: signOffs.length,
          ...asJson(judgements),
          amendments: told.map(asTold),
        });
      else {
        if (list.length) writeTo(process.stderr, `${reportToPerson(list)}\n\n`);
        writeTo(process.stdout, asText(judgements, soon) + sayTold(told));
      }
      if (list.some(({ severity }) => severity === "error")) process.exitCode = 1;
    });
}

/** Which lines of each configuration's card are safety-critical. */
function cardMarks(collection: Collection): CardMarks {
  const cards = collection.platforms.flatMap((platform) => currentCards(platform, printedCodes(collection)));
  return ({ platform, id }) => {
    const card = cards.find((each) => each.platform === platform && each.configuration === id);
    return card ? criticalChallenges(card.content) : new Set();
  };
}

/** A register saved by a spreadsheet in another encoding would spoil names in silence. */
function decode(bytes: Uint8Array, register: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new CannotRun(heard("rerigSignoffs").notUtf8({ register }));
  }
}

/**
 * Refuses a path inside the collection, its repository or the site: names of staff must not be published by mistake.
 */
function keepApart(path: string, collection: string, site: string): void {
  const place = realPath(path);
  const shown = relative(process.cwd(), place) || place,
    say = heard("rerigSignoffs");
  const fences: [string, string][] = [
    [collection, say.theCollection],
    [site, say.theSite],
  ];
  const repository = repositoryOf(collection);
  if (repository) fences.push([repository, say.theRepository]);
  for (const [folder, name] of fences)
    if (isInside(place, realPath(folder))) throw new CannotRun(say.inside({ register: shown, folder: name }));
}

function isInside(path: string, folder: string): boolean {
  return path === folder || path.startsWith(folder.endsWith(sep) ? folder : folder + sep);
}

/** The path with links followed as far as it exists. */
function realPath(path: string): string {
  const whole = resolve(path);
  if (existsSync(whole)) return realpathSync(whole);
  const parent = dirname(whole);
  return parent === whole ? whole : join(realPath(parent), basename(whole));
}

function repositoryOf(folder: string): string | undefined {
  for (let at = realPath(folder); ; at = dirname(at)) {
    if (existsSync(join(at, ".git"))) return at;
    if (dirname(at) === at) return undefined;
  }
}

function asJson(judgements: readonly Judgement[]) {
  const basics = ({
    signOff: { person, document, revision, date, assessor, lapses, attempts },
    earliest,
  }: Judgement) => ({
    person,
    kind: "steps" in document ? "procedure" : "configuration",
    platform: document.platform,
    id: document.id,
    code: document.code,
    title: document.title,
    signed: {
      revision,
      date,
      assessor,
      ...(lapses ? { lapses } : {}),
      ...(attempts === undefined ? {} : { attempts }),
    },
    revision: document.revision,
    earliestStanding: earliest,
  });
  const of = (state: Judgement["state"]) => judgements.filter((each) => each.state === state);
  const asked = (judgement: Judgement) => ({
    ...basics(judgement),
    ...(judgement.from ? { from: judgement.from } : {}),
    because: judgement.because.map(({ document, revision, date, summary, reason }) => ({
      code: document.code,
      id: document.id,
      revision,
      ...(date ? { date } : {}),
      summary,
      ...(reason ? { reason } : {}),
    })),
    lines: judgement.lines.map(({ step, text, whom, critical, why, checks }) => ({
      ...(step === undefined ? {} : { step }),
      text,
      ...(whom ? { whom } : {}),
      critical,
      why,
      checks: checks.map(({ challenge, answer }) => ({ challenge, answer })),
    })),
    removed: judgement.removed,
  });
  return {
    again: of("again").map(asked),
    lapsed: of("lapsed").map(asked),
    soon: of("soon").map(basics),
    stands: of("stands").map(basics),
    withdrawn: of("withdrawn").map(basics),
    ahead: of("ahead").map((judgement) => ({ ...basics(judgement), from: judgement.from })),
  };
}

type Told = ReturnType<typeof toldOf>[number];

const asTold = ({ amendment: { platform, number, title, from, until }, people }: Told) => ({
  platform,
  number,
  title,
  from,
  until,
  people,
});

function sayTold(told: readonly Told[]): string {
  if (told.length === 0) return "";
  const lines = told.map(
    ({ amendment, people }) =>
      `  ${amendment.number} ${amendment.title}. ${sayDays(amendment)}\n    ${people.join(", ")}\n`,
  );
  return `\n${heard("rerigSignoffs").toBeTold}\n${lines.join("")}`;
}

function asText(judgements: readonly Judgement[], soonDays: number): string {
  const of = (state: Judgement["state"]) => judgements.filter((each) => each.state === state);
  const say = heard("rerigSignoffs");
  const name = ({ signOff: { person, document, revision } }: Judgement) =>
    say.signedFor({ person, document: `${document.title} (${document.code})`, revision, now: document.revision });
  const again = of("again").map((judgement) =>
    [
      `  ${name(judgement)}${judgement.from ? say.from({ day: judgement.from }) : ""}`,
      ...judgement.because.map(({ document, revision, summary }) =>
        document === judgement.signOff.document
          ? `    ${say.because({ revision, summary })}`
          : `    ${say.becauseOther({ document: document.title, revision, summary })}`,
      ),
      ...judgement.lines.map(({ step, text, whom, why }) => {
        const line = `${step === undefined ? text : say.step({ step, line: text })}${whom ? ` (${whom})` : ""}`;
        return `    ${(why === "depends" ? say.withIt : say.see)({ line })}`;
      }),
      ...judgement.removed.map((line) => `    ${say.gone({ line })}`),
    ].join("\n"),
  );
  const lapsed = of("lapsed").map((each) => `  ${name(each)}${say.lapsedOn({ day: each.signOff.lapses ?? "" })}`);
  const soon = of("soon").map((each) => `  ${name(each)}${say.lapsesOn({ day: each.signOff.lapses ?? "" })}`);
  const ahead = of("ahead").map((each) => `  ${name(each)}${say.from({ day: each.from ?? "" })}`);
  const part = (title: string, lines: readonly string[]) => (lines.length ? `${title}\n${lines.join("\n")}\n\n` : "");
  const withdrawn = of("withdrawn").length,
    sums = { again: again.length + lapsed.length, soon: soon.length, stand: of("stands").length };
  return (
    part(say.again, again) +
    part(say.lapsed, lapsed) +
    part(say.lapseWithin({ days: soonDays }), soon) +
    part(say.ahead, ahead) +
    `${withdrawn ? say.sumWithWithdrawn({ ...sums, withdrawn }) : say.sum(sums)}\n`
  );
}
