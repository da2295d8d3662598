/** The command line: one subcommand a file, loaded only when it is asked for. */
import { Command, CommanderError } from "commander";
import { CannotRun, sayRefusal } from "../findings/cannot-run.ts";

/** Who needs what, in the order in which `--help` lists them. */
const GROUPS = {
  write: "Write and check:",
  publish: "Publish:",
  paper: "Paper:",
  ask: "Ask:",
  people: "Sign-offs, practice, and what runs tell:",
} as const;

interface Entry {
  readonly group: keyof typeof GROUPS;
  readonly summary: string;
  readonly load: () => Promise<{ readonly define: (command: Command) => void }>;
}

const commands: Readonly<Record<string, Entry>> = {
  new: {
    group: "write",
    summary: "write a small collection of your own to start from",
    load: () => import("./writing/new.ts"),
  },
  write: {
    group: "write",
    summary: "open the desk: write the collection beside its live pages",
    load: () => import("./writing/write.ts"),
  },
  import: {
    group: "write",
    summary: "make a draft procedure from a Word document, or equipment from a table",
    load: () => import("./writing/import.ts"),
  },
  check: {
    group: "write",
    summary: "read and prove a collection, and say what is wrong where",
    load: () => import("./writing/check.ts"),
  },
  build: {
    group: "publish",
    summary: "build the site; the last one stays untouched unless all goes well",
    load: () => import("./publishing/build.ts"),
  },
  serve: {
    group: "publish",
    summary: "serve a built site on this machine and print its address",
    load: () => import("./publishing/serve.ts"),
  },
  approve: {
    group: "publish",
    summary: "approve a revision as another role than its author, once every remark is answered",
    load: () => import("./publishing/approve.ts"),
  },
  issue: {
    group: "publish",
    summary: "freeze approved revisions, so that later edits, cards and sign-offs are compared with them",
    load: () => import("./publishing/issue.ts"),
  },
  cards: {
    group: "paper",
    summary: "print cards as one PDF, for a folder or the whole service, with the list of effective cards",
    load: () => import("./paper/cards.ts"),
  },
  folders: {
    group: "paper",
    summary: "what to reprint, where to put it and what to destroy, in walking order",
    load: () => import("./paper/folders.ts"),
  },
  choose: {
    group: "ask",
    summary: "say which configuration a patient's weight and age ask for",
    load: () => import("./answers/choose.ts"),
  },
  changeover: {
    group: "ask",
    summary: "the least-time way from one arrangement to another, step by step",
    load: () => import("./answers/changeover.ts"),
  },
  without: {
    group: "ask",
    summary: "what is still possible while something is out of service, and for whom",
    load: () => import("./answers/without.ts"),
  },
  recall: {
    group: "ask",
    summary: "everything that an item touches, in the order in which somebody would deal with it",
    load: () => import("./answers/recall.ts"),
  },
  ready: {
    group: "ask",
    summary: "what is looked at before, seen to after a run, and how long gas, batteries and a rebuild last",
    load: () => import("./answers/ready.ts"),
  },
  load: {
    group: "ask",
    summary: "mass, moment and balance point of an arrangement with its patient",
    load: () => import("./answers/load.ts"),
  },
  signoffs: {
    group: "people",
    summary: "read a service's own register and say who must be signed off again, and why",
    load: () => import("./records/signoffs.ts"),
  },
  drill: {
    group: "people",
    summary: "a scenario to practise, by its number, with its key",
    load: () => import("./records/drill.ts"),
  },
  times: {
    group: "people",
    summary: "what runs on devices took, step by step, against what the procedures give",
    load: () => import("./records/times.ts"),
  },
  notes: {
    group: "people",
    summary: "what crews found not to be as it says, by step, from the files of their devices",
    load: () => import("./records/notes.ts"),
  },
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
  program
    .exitOverride()
    .helpCommand(false)
    .addHelpText("after", "\nHelp for one of them: rerig check --help")
    .showHelpAfterError("(`--help` shows what it takes)");
  const asked = argv.find((word) => !word.startsWith("-"));
  for (const [name, { group, summary, load }] of Object.entries(commands)) {
    const command = program.command(name).description(summary).helpGroup(GROUPS[group]).exitOverride();
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
