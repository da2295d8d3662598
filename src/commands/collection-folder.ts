/** Where the collection of a command is. */
import { resolve } from "node:path";

/** The collection's folder, absolute: the option, else the environment, else `procedures` in the present folder. */
export function collectionFolder(option: string | undefined): string {
  return resolve(option ?? process.env["RERIG_PROCEDURES"] ?? "procedures");
}
