/**
 * `rerig issue`: freezes approved revisions under `issued/`, so that later edits, cards and sign-offs can be compared
 * with them.
 */
import type { Command } from "commander";
import { reportToPerson } from "../../findings/report.ts";
import { capital, sayNumber } from "../../domain/words/say.ts";
import { planIssue } from "../../issuing/plan-issue.ts";
import { mendInterrupted } from "../../issuing/write-issues.ts";
import { sayList } from "../../schema/wording.ts";
import { collectionFolder, openAsked, printJson, withCollection } from "../collection-option.ts";
import { today } from "../../site/today.ts";

interface Options {
  readonly procedures?: string;
  readonly json?: boolean;
  readonly dryRun?: boolean;
  readonly signed?: readonly string[];
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
  const plan = await planIssue(opened, { ids, signed: options.signed ?? [], on: today() });
  const { documents: results, cards, already: there, refusals } = plan;
  warnOfNoDay(plan.withoutDay);
  if (refusals.length > 0) {
    console.error(`${reportToPerson(refusals)}\nNothing is issued while there are errors.`);
    process.exitCode = 1;
    return;
  }
  if (!options.dryRun) plan.write();
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
function warnOfNoDay(names: readonly string[]): void {
  if (names.length > 0)
    console.error(
      `Without \`effective\`, and so counting as if ${names.length === 1 ? "it" : "they"} always had: ` +
        `${sayList(names)}. A day can't be added to what is issued, only to a higher revision; ` +
        "`--dry-run` says so before anything is written.",
    );
}
