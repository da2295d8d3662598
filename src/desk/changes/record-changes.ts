/**
 * What becomes of a document from its last word to its issue: handed in, remarked on, answered, approved, issued,
 * raised. Each change is made in the files as `rerig approve` and `rerig issue` make it.
 */
import { z } from "zod";
import { compiledIn } from "../../build/shelf.ts";
import { loadCollection } from "../../compile/load.ts";
import { CannotRun, whatIsRefused } from "../../findings/cannot-run.ts";
import { reviewsOn } from "../../domain/records/remarks.ts";
import { type Finding, Findings } from "../../findings/finding.ts";
import { planIssue } from "../../issuing/plan-issue.ts";
import { mendInterrupted } from "../../issuing/write-issues.ts";
import { ownChange, type PlatformRecord, recordsOf } from "../../rules/records.ts";
import type { Collection } from "../../schema/collection.ts";
import { isDate } from "../../schema/quantities.ts";
import { today } from "../../site/today.ts";
import { wordsFor } from "../../words/words.ts";
import { hindrancesOf, withApproval } from "./approval.ts";
import { applyAll } from "../edits/apply-all.ts";
import type { FileEdit } from "../edits/edit.ts";
import { contentHash } from "../disk/keep-states.ts";
import { type Handler, reading, sentLine } from "../handler.ts";
import type { ChangeOutcome } from "../outcome.ts";
import { wordsIn } from "../say-in.ts";
import type { CollectionReader, Moment } from "../reader.ts";
import { fileText } from "../disk/file-text.ts";
import { nameOfFile } from "../screens/file-names.ts";
import { tellSaved } from "./tell-saved.ts";
import { saveFiles } from "../disk/save.ts";

const words = z.string().max(20_000),
  name = sentLine;
/** `document`: `tern/seat-capsule`. `basedOn`: the hash of its text as whoever decides has read it. */
const onText = { document: name, basedOn: name };

const SENT = {
  "hand-in": z.strictObject({ ...onText, owner: name, summary: words.optional(), reason: words.optional() }),
  remark: z.strictObject({ document: name, step: name.optional(), by: name, text: words }),
  /** `at`: which remark of the file, from 0; `said`: its words, so that no other one is answered. */
  answer: z.strictObject({ file: name, at: z.coerce.number().int().min(0), said: words, answer: words }),
  approve: z.strictObject({ ...onText, role: name, effective: name, reviewBy: name }),
  issue: z.strictObject({ document: name }),
  raise: z.strictObject({
    ...onText,
    by: name,
    summary: words,
    reason: words.optional(),
    signOffs: z.enum(["", "again", "stand"]).optional(),
  }),
} as const;

type Address = keyof typeof SENT;
type Sent<Name extends Address> = z.infer<(typeof SENT)[Name]>;
/** By the address to which it is sent. */
export const RECORD_HANDLERS: Readonly<Record<Address, Handler>> = {
  "hand-in": reading(SENT["hand-in"], handIn),
  remark: reading(SENT.remark, addRemark),
  answer: reading(SENT.answer, answerRemark),
  approve: reading(SENT.approve, approve),
  issue: reading(SENT.issue, issue),
  raise: reading(SENT.raise, raise),
};

async function handIn(sent: Sent<"hand-in">, reader: CollectionReader): Promise<ChangeOutcome> {
  const { deskSaid: say } = await wordsIn(reader);
  return onDocument(sent, reader, ({ record }) => {
    const { owner, summary = "", reason = "" } = sent,
      isExplained = record.revision === 1 || ownChange(record) !== undefined;
    if (owner.trim() === "") return { refused: say.whoWrote };
    if (!isExplained && summary.trim() === "") return { refused: say.whatChanges({ revision: record.revision }) };
    return [
      set("owner", owner.trim()),
      ...(isExplained ? [] : [changeEntry({ revision: record.revision, by: owner, summary, reason, signOffs: "" })]),
      set("status", "in review"),
    ];
  });
}

async function raise(sent: Sent<"raise">, reader: CollectionReader): Promise<ChangeOutcome> {
  const { deskSaid: say } = await wordsIn(reader);
  return onDocument(sent, reader, ({ record }) => {
    const { by, summary, reason = "", signOffs = "" } = sent;
    if (by.trim() === "") return { refused: say.whoChanges };
    if (summary.trim() === "") return { refused: say.whatIsToChange };
    const revision = record.revision + 1;
    return [
      set("revision", String(revision)),
      set("status", "draft"),
      // These were of the revision before; what was issued keeps them.
      ...(record.effective === undefined ? [] : [{ kind: "remove-field", path: ["effective"] } as const]),
      ...(record.approvedBy === undefined ? [] : [{ kind: "remove-field", path: ["approved-by"] } as const]),
      changeEntry({ revision, by, summary, reason, signOffs }),
    ];
  });
}

const set = (field: string, value: string): FileEdit => ({ kind: "set-field", path: [field], value });

function changeEntry(entry: {
  readonly revision: number;
  readonly by: string;
  readonly summary: string;
  readonly reason: string;
  readonly signOffs: string;
}): FileEdit {
  const { revision, by, summary, reason, signOffs } = entry;
  const value = {
    revision: String(revision),
    date: today(),
    by: by.trim(),
    summary: summary.trim(),
    ...(reason.trim() === "" ? {} : { reason: reason.trim() }),
    ...(signOffs === "" ? {} : { "sign-offs": signOffs }),
  };
  return { kind: "insert-entry", path: ["changes"], value };
}

async function addRemark(sent: Sent<"remark">, reader: CollectionReader): Promise<ChangeOutcome> {
  const moment = await reader.now(),
    { deskSaid: say } = await wordsIn(reader),
    found = documentOf(moment, sent.document);
  if (!found) return { refused: say.documentGone };
  const [by, said] = [sent.by.trim(), sent.text.trim()];
  if (by === "") return { refused: say.whoYouAre };
  if (said === "") return { refused: say.noticed };
  const { platform, id, revision } = found.record,
    [there] = reviewsOn(moment.files, found.record);
  const file = there?.file ?? `reviews/${platform}.${id}.${revision}.yaml`,
    old = await fileText(reader, file);
  const step = sent.step?.trim() ?? "",
    remark = { ...(step === "" ? {} : { step }), by, date: today(), text: said };
  const made =
    old === undefined
      ? applyAll(`document: ${platform}/${id}\nrevision: ${revision}\n`, [
          { kind: "set-field", path: ["remarks"], value: [remark] },
        ])
      : applyAll(old, [{ kind: "insert-entry", path: ["remarks"], value: remark }]);
  return keep(reader, file, old, made);
}

async function answerRemark(sent: Sent<"answer">, reader: CollectionReader): Promise<ChangeOutcome> {
  const { files } = await reader.now(),
    remark = files.reviews?.find(({ file }) => file === sent.file)?.remarks[sent.at],
    { deskSaid: say } = await wordsIn(reader),
    old = await fileText(reader, sent.file);
  if (remark?.text !== sent.said || old === undefined) return { refused: say.remarksChanged };
  if (sent.answer.trim() === "") return { refused: say.writeAnswer };
  const at = (field: string, value: string): FileEdit => ({
    kind: "set-field",
    path: ["remarks", sent.at, field],
    value,
  });
  return keep(reader, sent.file, old, applyAll(old, [at("answer", sent.answer.trim()), at("answered", today())]));
}

async function approve(sent: Sent<"approve">, reader: CollectionReader): Promise<ChangeOutcome> {
  const { files, textFindings } = await reader.now(),
    { deskSaid: say } = await wordsIn(reader);
  return onDocument(sent, reader, ({ record }, text) => {
    const role = sent.role.trim();
    if (role === "") return { refused: say.whoApproves };
    if (!isDate(sent.effective)) return { refused: say.dayFrom };
    if (!isDate(sent.reviewBy)) return { refused: say.dayBy };
    if (record.status !== "in review") return { refused: say.notHandedIn };
    const approval = { role, effective: sent.effective, reviewBy: sent.reviewBy },
      { errors, why } = hindrancesOf(files, textFindings, record, approval);
    if (errors.length + why.length > 0) return { refused: [...why, ...sayErrors(files, errors)].join(" ") };
    return withApproval(text, approval);
  });
}

async function issue({ document }: Sent<"issue">, reader: CollectionReader): Promise<ChangeOutcome> {
  const { folder } = reader,
    findings = new Findings(),
    day = today(),
    { deskSaid: say } = await wordsIn(reader);
  try {
    mendInterrupted(folder);
    const files = await loadCollection(folder, findings, { compiled: compiledIn(folder), hashPhotos: true });
    const plan = await planIssue({ folder, files, findings, day }, { ids: [document], on: day });
    const { documents, cards, refusals } = plan;
    if (refusals.length > 0) return { refused: say.nothingIssued({ why: sayErrors(files, refusals).join(" ") }) };
    if (documents.length + cards.length === 0) return { refused: say.nothingToIssue };
    plan.write();
  } catch (error) {
    const what = error instanceof CannotRun ? error.message : whatIsRefused(error);
    if (what === undefined) throw error;
    return { refused: error instanceof CannotRun ? what : say.cantIssue({ what }) };
  }
  const { number } = await reader.refresh();
  return { saved: true, hash: null, number };
}

/** How many errors a refusal says in full; the screen lists all, each with its file and line behind a press. */
const SAID = 3;

function sayErrors(files: Collection, errors: readonly Finding[]): string[] {
  const { deskSaid: say } = wordsFor(files.service),
    more = errors.length - SAID;
  return [
    ...errors
      .slice(0, SAID)
      .map(({ file, message, fix }) => say.error({ what: nameOfFile(files, file), message, fix })),
    ...(more > 0 ? [say.moreErrors({ errors: more })] : []),
  ];
}

function documentOf({ files }: Moment, document: string): PlatformRecord | undefined {
  return recordsOf(files).find(({ record }) => `${record.platform}/${record.id}` === document);
}

/** Changes a document's file, if it still says what whoever decides has read. */
async function onDocument(
  { document, basedOn }: { readonly document: string; readonly basedOn: string },
  reader: CollectionReader,
  change: (
    found: PlatformRecord,
    text: string,
  ) => readonly FileEdit[] | { readonly refused: string } | { readonly text: string },
): Promise<ChangeOutcome> {
  // What was saved in another editor a moment ago counts.
  const found = documentOf(await reader.refresh(), document),
    { deskSaid: say } = await wordsIn(reader),
    text = found && (await fileText(reader, found.record.file));
  if (!found || text === undefined) return { refused: say.documentGone };
  if (contentHash(text) !== basedOn) return { refused: say.textChanged };
  const made = change(found, text);
  if ("refused" in made) return made;
  return keep(reader, found.record.file, text, "text" in made ? made : applyAll(text, made), true);
}

async function keep(
  reader: CollectionReader,
  file: string,
  old: string | undefined,
  made: { readonly text: string } | { readonly refused: string },
  isDocument = false,
): Promise<ChangeOutcome> {
  if ("refused" in made) return made;
  const basedOn = old === undefined ? null : contentHash(old),
    outcome = await tellSaved(reader, file, saveFiles(reader.folder, [{ path: file, basedOn, text: made.text }]));
  if ("changed" in outcome) return { refused: (await wordsIn(reader)).deskSaid.raced };
  // The screen goes on upon its document's text, which a file of remarks is not.
  return "saved" in outcome && !isDocument ? { ...outcome, hash: null } : outcome;
}
