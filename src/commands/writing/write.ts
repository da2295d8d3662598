/** `rerig write`: opens the desk over a collection, for the person who writes it, on this machine only. */
import type { Command } from "commander";
import { openDesk } from "../../desk/server.ts";
import { collectionFolder, portAsked, withCollection, withWayOut } from "../collection-option.ts";

/** Defines the command's options and what it does. */
export function define(command: Command): void {
  withCollection(command)
    .option("--port <number>", "the port to begin with; the next free one is taken", "4330")
    .addHelpText(
      "after",
      "\nOpen the address that it prints: the key in it is new each time. Only this machine can reach it.",
    )
    .action(async (options: { procedures?: string; port: string }) => {
      const folder = collectionFolder(options.procedures),
        port = portAsked(options.port);
      const desk = await openDesk(folder, port).catch((error: unknown) => {
        throw withWayOut(error);
      });
      for (const signal of ["SIGINT", "SIGTERM"] as const)
        process.once(signal, () => void desk.close().finally(() => process.exit(0)));
      process.stdout.write(`The desk is at ${desk.address} (stop with Ctrl+C)\n`);
    });
}
