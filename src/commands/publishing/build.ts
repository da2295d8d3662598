/**
 * `rerig build`: checks the collection and builds the site, once or after every change; a collection with errors, or a
 * build that fails, leaves the last site as it was.
 */
import { resolve } from "node:path";
import type { Command } from "commander";
import { buildSite, openPageMaker } from "../../build/build.ts";
import { HeldSite } from "../../build/held-site.ts";
import { tellingWords } from "../../build/kept/pages-by-words.ts";
import type { PageMaker } from "../../build/render/page-maker.ts";
import { stateOfFolder, untilChanged } from "../../build/watch.ts";
import { AuthorFault } from "../../site/author-fault.ts";
import { today } from "../../site/today.ts";
import { checkResult, reportToPerson } from "../../findings/report.ts";
import { progressOn } from "../../findings/terminal.ts";
import { heard } from "../../words/heard.ts";
import { writeDecimal } from "../../schema/spoken.ts";
import { collectionFolder, sameOption, SITE_FOLDER } from "../collection-folder.ts";
import { judgeAtOnce, openAsked, sayErrorCounts, withCollection, withDay } from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigBuild");
  withDay(withCollection(command))
    .option("--out <dir>", say.takesOut, SITE_FOLDER)
    .option("--watch", say.takesWatch)
    .addHelpText("after", `\n${say.more}`)
    .action(async ({ watch = false, ...options }: Options) => {
      if (watch) await watchAndBuild(options);
      else if (!(await checkAndBuild(options))) process.exitCode = 1;
    });
}

interface Options {
  readonly procedures?: string;
  readonly on?: string;
  readonly out: string;
  readonly watch?: boolean;
}

/** What builds that follow each other share. */
interface Watching {
  readonly maker: PageMaker;
  readonly held: HeldSite;
}

/** Checks and builds once, and says how it went; whether a site was built. */
async function checkAndBuild({ procedures, on, out }: Options, watching?: Watching): Promise<boolean> {
  const began = Date.now(),
    opened = await openAsked(procedures, { on, hashPhotos: true, atOnce: true });
  tellingWords(opened.files);
  watching?.held.readAgain(opened.files);
  const findings = await judgeAtOnce(opened);
  const { counts, read } = checkResult(opened.files, findings),
    say = heard("rerigBuild");
  const progress = progressOn(process.stderr);
  if (findings.length) process.stderr.write(`${reportToPerson(findings)}\n\n`);
  process.stderr.write(`${say.checked({ procedures: read.procedures, counts: sayErrorCounts(counts) })}\n`);
  if (counts.error) {
    process.stderr.write(`${say.notWhileErrors}\n`);
    return false;
  }
  const outFolder = resolve(out),
    checked = Date.now();
  try {
    await buildSite({
      collectionFolder: opened.folder,
      outFolder,
      collection: opened.files,
      on: opened.day,
      findings,
      // Who watches reads findings, and not the same steps after each edit.
      log: watching ? () => {} : progress.say,
      ...watching,
    });
  } catch (error) {
    if (!(error instanceof AuthorFault)) throw error;
    progress.end();
    process.stderr.write(`${reportToPerson([error.finding])}\n\n${say.notBuilt}\n`);
    return false;
  }
  progress.end();
  const seconds = (Date.now() - (watching ? began : checked)) / 1000;
  process.stderr.write(`${say.built({ seconds: writeDecimal(seconds.toFixed(1)), folder: outFolder })}\n`);
  const same = out === SITE_FOLDER ? "" : sameOption("--out", out);
  if (!watching) process.stderr.write(`${say.next({ same })}\n`);
  return true;
}

/**
 * Checks and builds after every change of the collection's files, and when a new day begins, until the process is told
 * to stop. What can't be read or built is said, and the next change waited for.
 */
async function watchAndBuild(options: Options): Promise<never> {
  const folder = collectionFolder(options.procedures),
    watching: Watching = { maker: openPageMaker(), held: new HeldSite() };
  // In the middle of a build too: the last site stays, and the next build clears away what was begun.
  for (const signal of ["SIGINT", "SIGTERM"] as const)
    process.once(signal, () => void watching.maker.close().finally(() => process.exit(0)));
  for (let state = await stateOfFolder(folder); ;) {
    const day = today();
    try {
      await checkAndBuild(options, watching);
    } catch (error) {
      // A file may have been half written, or gone between two looks: the next change says.
      process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    }
    process.stderr.write(`${heard("rerigBuild").waiting}\n`);
    watching.held.catchUp();
    state = await untilChanged(folder, state, { otherwise: () => today() !== day });
  }
}
