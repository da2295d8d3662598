/** The command line: one subcommand a file, loaded only when it is asked for. */
import { Command, CommanderError } from "commander";
import { CannotRun, sayRefusal } from "../findings/cannot-run.ts";

interface Entry {
  readonly summary: string;
  readonly load: () => Promise<{ readonly define: (command: Command) => void }>;
}

const commands: Readonly<Record<string, Entry>> = {
  check: { summary: "read and prove a collection, and say what is wrong where", load: () => import("./check.ts") },
  build: {
    summary: "build the site; the last one stays untouched unless all goes well",
    load: () => import("./build.ts"),
  },
  choose: { summary: "say which configuration a patient's weight and age ask for", load: () => import("./choose.ts") },
  issue: {
    summary: "freeze approved revisions, so that later edits, cards and sign-offs are compared with them",
    load: () => import("./issue.ts"),
  },
  folders: {
    summary: "what to reprint, where to put it and what to destroy, in walking order",
    load: () => import("./folders.ts"),
  },
  cards: {
    summary: "print cards as one PDF, for a folder or the whole service, with the list of effective cards",
    load: () => import("./cards.ts"),
  },
  changeover: {
    summary: "the least-time way from one arrangement to another, step by step",
    load: () => import("./changeover.ts"),
  },
  without: {
    summary: "what is still possible while something is out of service, and for whom",
    load: () => import("./without.ts"),
  },
  recall: {
    summary: "everything that an item touches, in the order in which somebody would deal with it",
    load: () => import("./recall.ts"),
  },
  ready: {
    summary: "what is looked at before, seen to after a run, and how long gas, batteries and a rebuild last",
    load: () => import("./ready.ts"),
  },
  drill: {
    summary: "a scenario to practise, by its number, with its key",
    load: () => import("./drill.ts"),
  },
  times: {
    summary: "what runs on devices took, step by step, against what the procedures give",
    load: () => import("./times.ts"),
  },
  notes: {
    summary: "what crews found not to be as it says, by step, from the files of their devices",
    load: () => import("./notes.ts"),
  },
  load: {
    summary: "mass, moment and balance point of an arrangement with its patient",
    load: () => import("./load.ts"),
  },
  signoffs: {
    summary: "read a service's own register and say who must be signed off again, and why",
    load: () => import("./signoffs.ts"),
  },
  serve: { summary: "serve a built site on this machine and print its address", load: () => import("./serve.ts") },
  import: {
    summary: "make a draft procedure with its photos from a Word document",
    load: () => import("./import.ts"),
  },
  write: { summary: "open the desk: write the collection beside its live pages", load: () => import("./write.ts") },
  new: { summary: "write a small collection of your own to start from", load: () => import("./new.ts") },
};

/** Runs the command line; sets the exit code: 0 done, 1 findings of severity error, 2 it could not run. */
export async function main(argv: readonly string[]): Promise<void> {
  // Whoever reads the result may stop early (`| head`): that is no fault, and there is nobody left to tell.
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE") throw error;
    process.exit();
  });
  const program = new Command("rerig").description(
    "Illustrated configuration procedures: checked, proved and built into a site and cards.",
  );
  program.exitOverride().showHelpAfterError("(`--help` shows what it takes)");
  const asked = argv.find((word) => !word.startsWith("-"));
  for (const [name, { summary, load }] of Object.entries(commands)) {
    const command = program.command(name).description(summary).exitOverride();
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
  console.error(
    `Rerig could not go on: ${reason}\nThis is a fault in Rerig, not in your files. Please report it with the ` +
      "command that you ran.",
  );
  return 2;
}
