/**
 * `rerig issue`: freezes approved revisions under `issued/`, so that later edits, cards and sign-offs can be compared
 * with them.
 */
import type { Command } from "commander";
import { codeOf, normalizeCode } from "../domain/cards/check-code.ts";
import type { EditionFile } from "../domain/cards/editions.ts";
import { contentOf, hashOf } from "../domain/records/freeze.ts";
import { issueOf } from "../domain/records/issues.ts";
import { type FrozenFile, freezeRecord, newestIssues } from "../domain/records/frozen.ts";
import { type Finding, Findings, inFileOrder } from "../findings/finding.ts";
import { reportToPerson } from "../findings/report.ts";
import { listNames, nearestName } from "../read/nearest.ts";
import { daysOfCards, editionsDue } from "../paper/card-editions.ts";
import { capital, sayNumber } from "../domain/words/say.ts";
import { sayList } from "../schema/wording.ts";
import { editionNotRaised } from "../rules/record/edition-not-raised.ts";
import { noChangeEntry } from "../rules/record/no-change-entry.ts";
import { revisionNotRaised } from "../rules/record/revision-not-raised.ts";
import { sameApprover } from "../rules/record/same-approver.ts";
import { type PlatformRecord, recordsOf } from "../rules/records.ts";
import type { Collection, Issued } from "../schema/collection.ts";
import { CannotRun } from "../findings/cannot-run.ts";
import { collectionFolder, judge, openAsked, type Opened, printJson, withCollection } from "./collection-option.ts";
import { today } from "../site/today.ts";
import { keepPictures } from "../build/keep-pictures.ts";
import { pathOfPicture, type Picture } from "../domain/records/pictures.ts";
import { type IssueFile, mendInterrupted, writeIssues } from "./write-issues.ts";

interface Options {
  readonly procedures?: string;
  readonly json?: boolean;
  readonly dryRun?: boolean;
  readonly signed?: readonly string[];
}

/** One frozen issue as it is reported. */
export interface IssueResult {
  readonly platform: string;
  readonly kind: Issued["kind"];
  readonly id: string;
  readonly revision: number;
  /** Relative to the collection. */
  readonly file: string;
  readonly hash: string;
}

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withCollection(command)
    .argument(
      "[ids...]",
      "only these procedures, configurations and options: `seat-capsule`, or `tern/seat-capsule` (default: " +
        "every approved one whose revision is not frozen yet)",
    )
    .option(
      "--signed <codes...>",
      "issue only what has these content codes, as the signed review sheets print them; refuse anything else",
    )
    .option("--dry-run", "say what would be issued, and write nothing")
    .option("--json", "print what was issued as JSON on standard output")
    .addHelpText(
      "after",
      "\nRefuses while there are errors, when the approver is the author, when the revision was not raised or " +
        "has no change entry.\nExit code: 0 done, also if there was nothing to issue; 1 refused; 2 it could not " +
        "run. Nothing is written unless all of it is.",
    )
    .action((ids: string[], options: Options) => issue(ids, options));
}

/** Issues what is asked for; sets exit code 1 and says why if it refuses. Throws `CannotRun`. */
export async function issue(ids: readonly string[], options: Options): Promise<void> {
  mendInterrupted(collectionFolder(options.procedures));
  const opened = await openAsked(options.procedures, { hashPhotos: true });
  const { due, there } = chooseRecords(opened.files, ids);
  keepToSigned(due, options.signed ?? []);
  warnOfNoDay(due);
  const refusals = [...errorsAfter(opened, due), ...refusalsWhateverThePolicy(opened.files)];
  if (refusals.length) {
    console.error(`${reportToPerson(inFileOrder(withoutTwins(refusals)))}\nNothing is issued while there are errors.`);
    process.exitCode = 1;
    return;
  }
  const kept = await Promise.all(
    due.map(({ record, platform }) => keepPictures(opened.folder, opened.files, platform, record)),
  );
  const files = due.map((each, at) =>
    freeze(each, today(), due, opened.files, new Map(kept[at]!.map(({ photo, picture }) => [photo, picture]))),
  );
  const twice = files.find(({ result }, at) => files.findIndex((other) => other.result.file === result.file) !== at);
  if (twice)
    throw new CannotRun(
      `Two documents would be issued as ${twice.result.file}: a procedure, a configuration and an option of ` +
        "one platform can't have the same id. Rename one.",
    );
  const editions = editionsAfter(
    opened.files,
    files.map(({ issue }) => issue),
    today(),
  );
  // A photo that several documents show is kept once.
  const lies = new Set(opened.files.pictures?.map(({ platform, sha256 }) => pathOfPicture(platform, { sha256 })));
  const pictures = new Map(
    kept.flat().flatMap(({ file }) => (file && !lies.has(file.path) ? [[file.path, file] as const] : [])),
  );
  const written = [...files.map(({ file }) => file), ...editions.map(editionFile), ...pictures.values()];
  if (written.length && !options.dryRun) writeIssues(opened.folder, written);
  const results = files.map(({ result }) => result),
    cards = editions.map(editionResult);
  if (options.json)
    printJson({
      issued: options.dryRun ? [] : results,
      due: options.dryRun ? results : [],
      already: there,
      cards,
    });
  else {
    for (const { id, platform, revision, file } of results)
      process.stdout.write(
        `${options.dryRun ? "would issue" : "issued"} ${platform}/${id} revision ${revision}  ${file}\n`,
      );
    for (const { platform, card, edition, effective, code, differs } of cards)
      process.stdout.write(
        `${options.dryRun ? "would issue" : "issued"} the card of ${platform}/${card}, edition ${edition}, ` +
          `check code ${code}, in force from ${effective}${differs.length ? `: differs in ${sayList(differs)}` : ""}\n`,
      );
    for (const name of there) process.stdout.write(`${name} was issued before\n`);
    const counts = [
      ...(results.length ? [sayNumber(results.length, "document")] : []),
      ...(cards.length ? [`${sayNumber(cards.length, "edition")} of cards`] : []),
    ];
    console.error(
      results.length + cards.length
        ? `${capital(sayList(counts))} ${options.dryRun ? "to issue" : "issued"}.`
        : "Nothing to issue: every approved revision and every card is frozen.",
    );
  }
}

/** Says of what the first day is not known: afterwards none can be added. */
function warnOfNoDay(due: readonly PlatformRecord[]): void {
  const names = due.filter(({ record }) => !record.effective).map(({ record }) => `${record.platform}/${record.id}`);
  if (names.length > 0)
    console.error(
      `Without \`effective\`, and so counting as if ${names.length === 1 ? "it" : "they"} always had: ` +
        `${sayList(names)}. A day can't be added to what is issued, only to a higher revision; ` +
        "`--dry-run` says so before anything is written.",
    );
}

/**
 * The errors that stand once these documents are issued. A new fastening is turned only by the revisions that are about
 * to be issued: what is in force until then cannot know it, and must not keep them from being issued. Files that could
 * not be read whole are judged as they are.
 */
function errorsAfter(opened: Opened, due: readonly PlatformRecord[]): Finding[] {
  // A card that prints something else is what an edition is issued for.
  const errors = (findings: readonly Finding[]): Finding[] =>
    findings.filter(({ severity, rule }) => severity === "error" && rule !== editionNotRaised.id);
  if (due.length === 0 || errors(opened.findings.list).length > 0) return errors(judge(opened));
  const { issued } = opened.files,
    issues = due.map((each) => freeze(each, today(), due, opened.files, new Map()).issue);
  return errors(judge({ ...opened, files: { ...opened.files, issued: [...issued, ...issues] } }));
}

/** What keeps anything from being issued even if the service's policy has switched the rule off. */
function refusalsWhateverThePolicy(collection: Collection): Finding[] {
  const findings = new Findings();
  for (const rule of [revisionNotRaised, noChangeEntry, sameApprover])
    rule.check!(collection, (where, remark) => findings.add(rule.id, "error", where, remark), {
      today: today(),
      damaged: new Set(),
    });
  const approved = new Set(
    recordsOf(collection)
      .filter(({ record }) => record.status === "approved")
      .map(({ record }) => record.file),
  );
  return findings.list.filter(({ file }) => approved.has(file));
}

function withoutTwins(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter(({ rule, file, line, column }) => {
    const key = JSON.stringify([rule, file, line, column]);
    return !seen.has(key) && seen.add(key);
  });
}

/**
 * The records to issue, and the names of those asked for that were issued before. Throws `CannotRun` for a name that
 * there is not, or that is not approved.
 */
function chooseRecords(collection: Collection, ids: readonly string[]): { due: PlatformRecord[]; there: string[] } {
  const records = recordsOf(collection);
  const nameOf = ({ record }: PlatformRecord) => `${record.platform}/${record.id}`;
  const isIssued = ({ record }: PlatformRecord) => issueOf(collection, record) !== undefined;
  if (!ids.length)
    return { due: records.filter((each) => each.record.status === "approved" && !isIssued(each)), there: [] };
  const chosen = ids.flatMap((id) => {
    const found = records.filter((each) => each.record.id === id || nameOf(each) === id);
    if (!found.length)
      throw new CannotRun(
        `There is no \`${id}\` to issue${suggest(
          id,
          records.map(({ record }) => record.id),
        )} Nothing was issued.`,
      );
    const unapproved = found.find(({ record }) => record.status !== "approved");
    if (unapproved)
      throw new CannotRun(
        `\`${id}\` is ${unapproved.record.status === "draft" ? "a draft" : unapproved.record.status}: only ` +
          "what is approved is issued. Nothing was issued.",
      );
    return found;
  });
  const distinct = [...new Set(chosen)];
  return {
    due: distinct.filter((each) => !isIssued(each)),
    there: distinct.filter(isIssued).map((each) => `${nameOf(each)} revision ${each.record.revision}`),
  };
}

function suggest(id: string, ids: readonly string[]): string {
  const near = nearestName(id, ids);
  return near ? `; did you mean \`${near}\`?` : `; there is ${listNames(ids)}.`;
}

/** The check code of what a document says: the review sheet prints it, and an approver signs for it. */
function contentCode({ record, platform }: PlatformRecord): string {
  return codeOf(hashOf(contentOf(record, platform)));
}

/** Refuses to issue any content but that whose code was signed. */
function keepToSigned(due: readonly PlatformRecord[], signed: readonly string[]): void {
  if (!signed.length) return;
  const codes = signed.map(normalizeCode),
    found = due.map((each) => ({ code: contentCode(each), name: `${each.record.platform}/${each.record.id}` }));
  const unsigned = found.find(({ code }) => !codes.includes(code));
  if (unsigned)
    throw new CannotRun(
      `What \`${unsigned.name}\` says now has the content code ${unsigned.code}, which nobody signed: its text was ` +
        "changed after the review sheet was printed, or it was not among what was signed. Print the sheet again " +
        "and have it signed. Nothing was issued.",
    );
  const idle = codes.find((code) => !found.some((each) => each.code === code));
  if (idle) throw new CannotRun(`Nothing that is to be issued has the content code ${idle}. Nothing was issued.`);
}

function freeze(
  { record, platform }: PlatformRecord,
  issued: string,
  all: readonly PlatformRecord[],
  there: Collection,
  pictures: ReadonlyMap<string, Picture>,
): { readonly result: IssueResult; readonly file: IssueFile; readonly issue: Issued } {
  const nameIn = (each: PlatformRecord) => `${each.record.platform}/${each.record.id}@${each.record.revision}`;
  const file = freezeRecord(record, platform, {
    issued,
    signed: contentCode({ record, platform }),
    others: all.filter((each) => each.record !== record).map(nameIn),
    beside: newestIssues(there, record),
    pictures,
  });
  const { kind, platform: on, id, revision, hash } = file;
  const path = `${on}/${id}@${revision}.json`;
  return {
    result: { kind, platform: on, id, revision, file: `issued/${path}`, hash },
    file: { path, text: `${JSON.stringify(file, null, 1)}\n` },
    issue: asRead(file, `issued/${path}`),
  };
}

/** The issue as it will be read back. */
function asRead(frozen: FrozenFile, file: string): Issued {
  const { hash, content, ...head } = frozen;
  const { kind, platform, id, revision, form } = frozen;
  const where = { file, line: 1, column: 1 };
  return { file, platform, kind, id, revision, form, head, hash, content, where, at: {} };
}

/**
 * The editions of cards that are due once these documents are issued: today, and on the days of issues that are still
 * coming. No edition is in force before the day on which it was issued: nobody can have printed it.
 */
function editionsAfter(files: Collection, issues: readonly Issued[], day: string): EditionFile[] {
  const after: Collection = { ...files, issued: [...files.issued, ...issues] };
  return editionsDue(after, daysOfCards(after, day), day);
}

/** One frozen edition of a card as it is reported. */
function editionResult({ platform, id, edition, effective, code, differs }: EditionFile) {
  return { platform, card: id, edition, effective, code, differs };
}

function editionFile(edition: EditionFile): IssueFile {
  return {
    path: `${edition.platform}/card-${edition.id}@${edition.edition}.json`,
    text: `${JSON.stringify(edition, null, 1)}\n`,
  };
}
