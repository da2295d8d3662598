/** `rerig approve`: a role other than the author's approves a revision; without version control. */
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
import { isDate } from "../../schema/quantities.ts";
import { openAsked, withCollection } from "../collection-option.ts";
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
  withCollection(command)
    .argument("<id>", "the procedure, configuration or option: `seat-capsule`, or `tern/seat-capsule`")
    .requiredOption("--as <role>", "who approves: a role or a name, not the author's")
    .requiredOption("--effective <date>", "the day from which the revision counts, YYYY-MM-DD")
    .option("--review-by <date>", "the day of its next review, YYYY-MM-DD (default: the one in the file)")
    .option("--issue", "issue it at once, as `rerig issue` does")
    .addHelpText(
      "after",
      "\nWrites `status`, `approved-by`, `effective` and `review-by` into the head of the file, and nothing else." +
        "\nRefuses while a remark in the folder reviews has no answer, while the file has errors, and when the " +
        "role is the author's.\nIt is a record, not a lock: whoever can change the files can write the same by hand." +
        "\nExit code: 0 done; 1 refused; 2 it could not run.",
    )
    .action(approve);
}

async function approve(id: string, options: Options): Promise<void> {
  const approval: Approval = {
    role: options.as.trim(),
    effective: dayOf("--effective", options.effective),
    ...(options.reviewBy === undefined ? {} : { reviewBy: dayOf("--review-by", options.reviewBy) }),
  };
  if (approval.role === "") throw new CannotRun("`--as` takes the role or the name of whoever approves.");
  const { folder, files, findings } = await openAsked(options.procedures);
  const { record } = chosen(files, id);
  const { errors, why } = hindrancesOf(files, findings.list, record, approval);
  if (errors.length + why.length > 0) {
    if (errors.length > 0) console.error(reportText(inFileOrder(errors)));
    for (const each of why) console.error(each);
    console.error(`\`${record.id}\` is not approved, and nothing is written.`);
    process.exitCode = 1;
    return;
  }
  const path = join(folder, record.file);
  const made = withApproval(await readFile(path, "utf8"), approval);
  if ("refused" in made) throw new CannotRun(`${made.refused}. Nothing is written.`);
  writeWhole(path, made.text);
  process.stdout.write(
    `${approval.role} approves revision ${record.revision} of ${record.platform}/${record.id}, ` +
      `from ${sayDate(approval.effective)}\n`,
  );
  if (options.issue) await issue([`${record.platform}/${record.id}`], options);
  else console.error(`Next: rerig issue ${record.platform}/${record.id}`);
}

function dayOf(option: string, day: string): string {
  if (isDate(day)) return day;
  throw new CannotRun(`\`${option}\` takes a day as YYYY-MM-DD, such as 2026-09-14, not \`${day}\``);
}

function chosen(collection: Collection, id: string): PlatformRecord {
  const records = recordsOf(collection),
    found = records.filter(({ record }) => record.id === id || `${record.platform}/${record.id}` === id);
  if (found.length === 1) return found[0]!;
  const near = nearestName(
    id,
    records.map(({ record }) => record.id),
  );
  throw new CannotRun(
    found.length === 0
      ? `There is no \`${id}\` to approve${near ? `; did you mean \`${near}\`?` : "."}`
      : `There are ${found.length} documents \`${id}\`: write the platform before it, as in ` +
          `\`${found[0]!.record.platform}/${id}\`.`,
  );
}
