/**
 * `rerig issue`: freezes approved revisions under `issued/`, so that later edits, cards and sign-offs can be compared
 * with them.
 */
import type { Command } from "commander";
import { reportToPerson } from "../../findings/report.ts";
import { capital } from "../../domain/words/say.ts";
import { planIssue } from "../../issuing/plan-issue.ts";
import { mendInterrupted } from "../../issuing/write-issues.ts";
import { sayList } from "../../schema/wording.ts";
import { heard } from "../../words/heard.ts";
import { collectionFolder } from "../collection-folder.ts";
import { openAsked, printJson, withCollection } from "../collection-option.ts";
import { today } from "../../site/today.ts";

interface Options {
  readonly procedures?: string;
  readonly json?: boolean;
  readonly dryRun?: boolean;
  readonly signed?: readonly string[];
}

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigIssue");
  withCollection(command)
    .argument("[ids...]", say.takesIds)
    .option("--signed <codes...>", say.takesSigned)
    .option("--dry-run", say.takesDryRun)
    .option("--json", say.printsAsJson)
    .addHelpText("after", `\n${say.more}`)
    .action((ids: string[], options: Options) => issue(ids, options));
}

/** Issues what is asked for; sets exit code 1 and says why if it refuses. Throws `CannotRun`. */
export async function issue(ids: readonly string[], options: Options): Promise<void> {
  mendInterrupted(collectionFolder(options.procedures));
  const opened = await openAsked(options.procedures, { hashPhotos: true });
  const plan = await planIssue(opened, { ids, signed: options.signed ?? [], on: today() });
  const { documents: results, cards, already: there, refusals } = plan;
  const say = heard("rerigIssue");
  warnOfNoDay(plan.withoutDay);
  if (refusals.length > 0) {
    console.error(`${reportToPerson(refusals)}\n${say.notWhileErrors}`);
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
        `${(options.dryRun ? say.documentToCome : say.document)({ document: `${platform}/${id}`, revision, file })}\n`,
      );
    for (const { platform, card, edition, effective, code, differs } of cards)
      process.stdout.write(
        (options.dryRun ? say.cardToCome : say.card)({
          document: `${platform}/${card}`,
          edition: String(edition),
          code,
          day: effective,
        }) + `${differs.length ? say.differsIn({ differs: sayList(differs) }) : ""}\n`,
      );
    for (const document of there) process.stdout.write(`${say.before({ document })}\n`);
    const counts = [
      ...(results.length ? [say.documents({ count: results.length })] : []),
      ...(cards.length ? [say.editions({ count: cards.length })] : []),
    ];
    const what = capital(sayList(counts));
    console.error(
      results.length + cards.length === 0 ? say.nothing : options.dryRun ? say.toIssue({ what }) : say.issued({ what }),
    );
  }
}

/** Says of what the first day is not known: afterwards none can be added. */
function warnOfNoDay(names: readonly string[]): void {
  if (names.length > 0)
    console.error(heard("rerigIssue").withoutDay({ count: names.length, documents: sayList(names) }));
}
