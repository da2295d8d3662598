/** `rerig write`: opens the desk over a collection, for the person who writes it, on this machine only. */
import type { Command } from "commander";
import { openDesk } from "../../desk/server.ts";
import { heard } from "../../words/heard.ts";
import { collectionFolder } from "../collection-folder.ts";
import { portAsked, withCollection, withWayOut } from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  const say = heard("rerigWrite"),
    every = heard("everyCommand");
  withCollection(command)
    .option("--port <number>", every.takesPort, "4330")
    .addHelpText("after", `\n${say.more}`)
    .action(async (options: { procedures?: string; port: string }) => {
      const folder = collectionFolder(options.procedures),
        port = portAsked(options.port);
      const desk = await openDesk(folder, port).catch((error: unknown) => {
        throw withWayOut(error);
      });
      for (const signal of ["SIGINT", "SIGTERM"] as const)
        process.once(signal, () => void desk.close().finally(() => process.exit(0)));
      process.stdout.write(`${heard("rerigWrite").deskIsAt({ address: desk.address })}\n`);
    });
}
