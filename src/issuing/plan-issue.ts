/** What an issue would freeze, and what is in its way: worked out once, for the command and for the desk. */
import { codeOf, normalizeCode } from "../domain/cards/check-code.ts";
import type { EditionFile } from "../domain/cards/editions.ts";
import { contentOf, hashOf } from "../domain/records/freeze.ts";
import { issueOf } from "../domain/records/issues.ts";
import { type FrozenFile, freezeRecord, newestIssues } from "../domain/records/frozen.ts";
import { type Finding, Findings, inFileOrder } from "../findings/finding.ts";
import { listNames, nearestName } from "../read/nearest.ts";
import { daysOfCards, editionsDue } from "../paper/card-editions.ts";
import { editionNotRaised } from "../rules/record/edition-not-raised.ts";
import { noChangeEntry } from "../rules/record/no-change-entry.ts";
import { revisionNotRaised } from "../rules/record/revision-not-raised.ts";
import { sameApprover } from "../rules/record/same-approver.ts";
import { type PlatformRecord, recordsOf } from "../rules/records.ts";
import { runRules } from "../rules/run-rules.ts";
import type { Collection, Issued } from "../schema/collection.ts";
import { CannotRun } from "../findings/cannot-run.ts";
import { keepPictures } from "../build/kept/keep-pictures.ts";
import { pathOfPicture, type Picture } from "../domain/records/pictures.ts";
import { type IssueFile, writeIssues } from "./write-issues.ts";

/** A collection as it was read, photos hashed, with what reading found wrong. */
interface ToIssue {
  readonly folder: string;
  readonly files: Collection;
  readonly findings: Findings;
  /** The day that decides what is in force; `YYYY-MM-DD`. */
  readonly day: string;
}

/** One frozen issue as it is reported. */
interface IssueResult {
  readonly platform: string;
  readonly kind: Issued["kind"];
  readonly id: string;
  readonly revision: number;
  /** Relative to the collection. */
  readonly file: string;
  readonly hash: string;
}

/** One frozen edition of a card as it is reported. */
type EditionResult = Pick<EditionFile, "platform" | "edition" | "effective" | "code" | "differs"> & {
  readonly card: string;
};

/** What would be frozen. */
interface IssuePlan {
  readonly documents: readonly IssueResult[];
  readonly cards: readonly EditionResult[];
  /** Those asked for that were issued before: `tern/seat-capsule revision 2`. */
  readonly already: readonly string[];
  /** Those that say no first day, which can't be added afterwards. */
  readonly withoutDay: readonly string[];
  /** Why nothing may be issued, in file order; empty if all may. */
  readonly refusals: readonly Finding[];
  /** Freezes all of it or none; does nothing where something refuses. Throws `CannotRun` as `writeIssues` does. */
  readonly write: () => void;
}

/**
 * What is to be issued: the named documents (`seat-capsule`, `tern/seat-capsule`), or every approved one whose revision
 * is not frozen yet, with the editions of cards that are due then. `signed`: the content codes that alone may be
 * issued; `on`: the day that is written into the issues. Throws `CannotRun` for a name that there is not or that is not
 * approved, for an unsigned text, and for two documents of one name.
 */
export async function planIssue(
  opened: ToIssue,
  { ids = [], signed = [], on }: { ids?: readonly string[]; signed?: readonly string[]; on: string },
): Promise<IssuePlan> {
  const { due, there } = chooseRecords(opened.files, ids);
  keepToSigned(due, signed);
  const withoutDay = due.filter(({ record }) => !record.effective).map(nameIn);
  const refusals = [...errorsAfter(opened, due, on), ...refusalsWhateverThePolicy(opened.files, on)];
  if (refusals.length > 0)
    return {
      documents: [],
      cards: [],
      already: there,
      withoutDay,
      refusals: inFileOrder(withoutTwins(refusals)),
      write: () => undefined,
    };
  const kept = await Promise.all(
    due.map(({ record, platform }) => keepPictures(opened.folder, opened.files, platform, record)),
  );
  const files = due.map((each, at) =>
    freeze(each, on, due, opened.files, new Map(kept[at]!.map(({ photo, picture }) => [photo, picture]))),
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
    on,
  );
  // A photo that several documents show is kept once.
  const lies = new Set(opened.files.pictures?.map(({ platform, sha256 }) => pathOfPicture(platform, { sha256 })));
  const pictures = new Map(
    kept.flat().flatMap(({ file }) => (file && !lies.has(file.path) ? [[file.path, file] as const] : [])),
  );
  const written = [...files.map(({ file }) => file), ...editions.map(editionFile), ...pictures.values()];
  return {
    documents: files.map(({ result }) => result),
    cards: editions.map(editionResult),
    already: there,
    withoutDay,
    refusals: [],
    write: () => {
      if (written.length > 0) writeIssues(opened.folder, written);
    },
  };
}

/**
 * The errors that stand once these documents are issued. A new fastening is turned only by the revisions that are about
 * to be issued: what is in force until then cannot know it, and must not keep them from being issued. Files that could
 * not be read whole are judged as they are.
 */
function errorsAfter(opened: ToIssue, due: readonly PlatformRecord[], on: string): Finding[] {
  // A card that prints something else is what an edition is issued for.
  const errors = (findings: readonly Finding[]): Finding[] =>
    findings.filter(({ severity, rule }) => severity === "error" && rule !== editionNotRaised.id);
  const { files, findings, day } = opened;
  if (due.length === 0 || errors(findings.list).length > 0) return errors(runRules(files, findings, day));
  const issues = due.map((each) => freeze(each, on, due, files, new Map()).issue);
  return errors(runRules(withIssues(files, issues), findings, day));
}

/** The collection once these are issued too. */
function withIssues(files: Collection, issues: readonly Issued[]): Collection {
  return { ...files, issued: [...files.issued, ...issues] };
}

/** What keeps anything from being issued even if the service's policy has switched the rule off. */
function refusalsWhateverThePolicy(collection: Collection, today: string): Finding[] {
  const findings = new Findings();
  for (const rule of [revisionNotRaised, noChangeEntry, sameApprover])
    rule.check!(collection, (where, remark) => findings.add(rule.id, "error", where, remark), {
      today,
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
  const isIssued = ({ record }: PlatformRecord) => issueOf(collection, record) !== undefined;
  if (!ids.length)
    return { due: records.filter((each) => each.record.status === "approved" && !isIssued(each)), there: [] };
  const chosen = ids.flatMap((id) => {
    const found = records.filter((each) => each.record.id === id || nameIn(each) === id);
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
    there: distinct.filter(isIssued).map((each) => `${nameIn(each)} revision ${each.record.revision}`),
  };
}

function suggest(id: string, ids: readonly string[]): string {
  const near = nearestName(id, ids);
  return near ? `; did you mean \`${near}\`?` : `; there is ${listNames(ids)}.`;
}

/** How a document is named on the way in and out: `tern/seat-capsule`. */
function nameIn({ record }: PlatformRecord): string {
  return `${record.platform}/${record.id}`;
}

/** The check code of what a document says: the review sheet prints it, and an approver signs for it. */
function contentCode({ record, platform }: PlatformRecord): string {
  return codeOf(hashOf(contentOf(record, platform)));
}

/** Refuses to issue any content but that whose code was signed. */
function keepToSigned(due: readonly PlatformRecord[], signed: readonly string[]): void {
  if (!signed.length) return;
  const codes = signed.map(normalizeCode),
    found = due.map((each) => ({ code: contentCode(each), name: nameIn(each) }));
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
  const file = freezeRecord(record, platform, {
    issued,
    signed: contentCode({ record, platform }),
    others: all.filter((each) => each.record !== record).map((each) => `${nameIn(each)}@${each.record.revision}`),
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
  const after = withIssues(files, issues);
  return editionsDue(after, daysOfCards(after, day), day);
}

/** One frozen edition of a card as it is reported. */
function editionResult({ platform, id, edition, effective, code, differs }: EditionFile): EditionResult {
  return { platform, card: id, edition, effective, code, differs };
}

function editionFile(edition: EditionFile): IssueFile {
  return {
    path: `${edition.platform}/card-${edition.id}@${edition.edition}.json`,
    text: `${JSON.stringify(edition, null, 1)}\n`,
  };
}
