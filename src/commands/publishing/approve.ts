/** `rerig approve`: a role other than the author's approves revisions, all or none; without version control. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Command } from "commander";
import { writeWhole } from "../../build/write-whole.ts";
import { hindrancesOf, withApproval } from "../../desk/changes/approval.ts";
import type { Approval } from "../../domain/records/remarks.ts";
import { sayDate } from "../../domain/words/say.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import { inFileOrder } from "../../findings/finding.ts";
import { reportText } from "../../findings/report.ts";
import { nearestName } from "../../read/nearest.ts";
import { recordsOf, type PlatformRecord } from "../../rules/records.ts";
import type { Collection } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";
import { sameCollection } from "../collection-folder.ts";
import { openAsked, readDay, withCollection } from "../collection-option.ts";
import { issue } from "./issue.ts";

interface Options {
  readonly procedures?: string;
  readonly as: string;
  readonly effective: string;
  readonly reviewBy?: string;
  readonly issue?: boolean;
}

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigApprove");
  withCollection(command)
    .argument("<ids...>", say.takesIds)
    .requiredOption("--as <role>", say.takesRole)
    .requiredOption("--effective <date>", say.takesEffective)
    .option("--review-by <date>", say.takesReview)
    .option("--issue", say.takesIssue)
    .addHelpText("after", `\n${say.more}`)
    .action(approve);
}

async function approve(ids: readonly string[], options: Options): Promise<void> {
  const approval: Approval = {
    role: options.as.trim(),
    effective: dayOf("--effective", options.effective),
    ...(options.reviewBy === undefined ? {} : { reviewBy: dayOf("--review-by", options.reviewBy) }),
  };
  if (approval.role === "") throw new CannotRun(heard("rerigApprove").noRole);
  const { folder, files, findings } = await openAsked(options.procedures);
  const records = [...new Set(ids.map((id) => chosen(files, id).record))],
    say = heard("rerigApprove");
  const hindered = records.filter((record) => {
    const { errors, why } = hindrancesOf(files, findings.list, record, approval);
    if (errors.length > 0) console.error(reportText(inFileOrder(errors)));
    for (const each of why) console.error(each);
    return errors.length + why.length > 0;
  });
  if (hindered.length > 0) {
    for (const record of hindered) console.error(say.notApproved({ id: record.id }));
    if (records.length > hindered.length) console.error(say.noneApproved);
    process.exitCode = 1;
    return;
  }
  const written: { readonly path: string; readonly text: string }[] = [];
  for (const { file } of records) {
    const path = join(folder, file),
      made = withApproval(await readFile(path, "utf8"), approval);
    if ("refused" in made) throw new CannotRun(say.refused({ why: made.refused }));
    written.push({ path, text: made.text });
  }
  for (const { path, text } of written) writeWhole(path, text);
  const { role, effective } = approval,
    nameOf = ({ platform, id }: (typeof records)[number]) => `${platform}/${id}`,
    documents = records.map(nameOf);
  for (const record of records)
    process.stdout.write(
      `${say.approves({ role, revision: record.revision, document: nameOf(record), day: sayDate(effective) })}\n`,
    );
  if (options.issue) await issue(documents, options);
  else console.error(say.next({ document: documents.join(" "), same: sameCollection(options.procedures) }));
}

const dayOf = (option: string, given: string) => readDay(`\`${option}\``, given);

function chosen(collection: Collection, id: string): PlatformRecord {
  const records = recordsOf(collection),
    found = records.filter(({ record }) => record.id === id || `${record.platform}/${record.id}` === id);
  if (found.length === 1) return found[0]!;
  const near = nearestName(
    id,
    records.map(({ record }) => record.id),
  );
  const say = heard("rerigApprove"),
    count = found.length;
  if (count > 0) throw new CannotRun(say.several({ count, id, document: `${found[0]!.record.platform}/${id}` }));
  throw new CannotRun(near === undefined ? say.nothingSo({ id }) : say.nothingSoMeant({ id, near }));
}
