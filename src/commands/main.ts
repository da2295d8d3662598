/** The command line: one subcommand a file, loaded only when it is asked for. */
import { Command, CommanderError } from "commander";
import { CannotRun, sayRefusal } from "../findings/cannot-run.ts";
import { heard } from "../words/heard.ts";
import { speakFor } from "../words/words.ts";
import { inOurWords } from "./help.ts";
import { speakerFor } from "./spoken-for.ts";

/** Who needs what, in the order in which `--help` lists them: the group's name in the table, with its commands. */
interface Entry {
  readonly group: "write" | "publish" | "paper" | "ask" | "people";
  readonly load: () => Promise<{ readonly define: (command: Command) => void }>;
}

const commands = {
  new: { group: "write", load: () => import("./writing/new.ts") },
  write: { group: "write", load: () => import("./writing/write.ts") },
  import: { group: "write", load: () => import("./writing/import.ts") },
  check: { group: "write", load: () => import("./writing/check.ts") },
  build: { group: "publish", load: () => import("./publishing/build.ts") },
  serve: { group: "publish", load: () => import("./publishing/serve.ts") },
  approve: { group: "publish", load: () => import("./publishing/approve.ts") },
  issue: { group: "publish", load: () => import("./publishing/issue.ts") },
  cards: { group: "paper", load: () => import("./paper/cards.ts") },
  folders: { group: "paper", load: () => import("./paper/folders.ts") },
  choose: { group: "ask", load: () => import("./answers/choose.ts") },
  changeover: { group: "ask", load: () => import("./answers/changeover.ts") },
  without: { group: "ask", load: () => import("./answers/without.ts") },
  recall: { group: "ask", load: () => import("./answers/recall.ts") },
  ready: { group: "ask", load: () => import("./answers/ready.ts") },
  load: { group: "ask", load: () => import("./answers/load.ts") },
  signoffs: { group: "people", load: () => import("./records/signoffs.ts") },
  drill: { group: "people", load: () => import("./records/drill.ts") },
  times: { group: "people", load: () => import("./records/times.ts") },
  notes: { group: "people", load: () => import("./records/notes.ts") },
} as const satisfies Readonly<Record<string, Entry>>;

/** What each does, by the table. */
function summariesOf(): Readonly<Record<keyof typeof commands, string>> {
  const say = heard("commandList");
  return {
    new: say.aboutNew,
    write: say.aboutWrite,
    import: say.aboutImport,
    check: say.aboutCheck,
    build: say.aboutBuild,
    serve: say.aboutServe,
    approve: say.aboutApprove,
    issue: say.aboutIssue,
    cards: say.aboutCards,
    folders: say.aboutFolders,
    choose: say.aboutChoose,
    changeover: say.aboutChangeover,
    without: say.aboutWithout,
    recall: say.aboutRecall,
    ready: say.aboutReady,
    load: say.aboutLoad,
    signoffs: say.aboutSignoffs,
    drill: say.aboutDrill,
    times: say.aboutTimes,
    notes: say.aboutNotes,
  };
}

/** Runs the command line; sets the exit code: 0 done, 1 findings of severity error, 2 it could not run. */
export async function main(argv: readonly string[]): Promise<void> {
  // Whoever reads the result may stop early (`| head`): that is no fault, and there is nobody left to tell.
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE") throw error;
    process.exit();
  });
  speakFor(speakerFor(argv));
  const say = heard("commandList"),
    summaries = summariesOf(),
    groups = { write: say.write, publish: say.publish, paper: say.paper, ask: say.ask, people: say.people };
  const program = inOurWords(new Command("rerig").description(say.whatItIs))
    .exitOverride()
    .helpCommand(false)
    .addHelpText("after", `\n${say.forOneOfThem}`)
    .showHelpAfterError(heard("wrongCall").showsWhatItTakes);
  const asked = argv.find((word) => !word.startsWith("-"));
  for (const [name, { group, load }] of Object.entries(commands)) {
    const command = program
      .command(name)
      .description(summaries[name as keyof typeof commands])
      .helpGroup(groups[group])
      .exitOverride();
    if (name === asked) (await load()).define(command);
  }
  try {
    await program.parseAsync([...argv], { from: "user" });
  } catch (error) {
    process.exitCode = exitCodeOf(error);
  }
}

function exitCodeOf(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof CannotRun) {
    console.error(error.message);
    return 2;
  }
  const refusal = sayRefusal(error);
  if (refusal !== undefined) {
    console.error(refusal);
    return 2;
  }
  // Anything else is a fault of the program; its message is for whoever mends it.
  const reason = error instanceof Error ? (process.env["RERIG_DEBUG"] ? error.stack : error.message) : String(error);
  console.error(heard("wrongCall").fault({ reason: reason ?? "" }));
  return 2;
}
