/** Where the collection of a command is, and how the next call is told of the same. */
import { resolve } from "node:path";

/** The folder of a built site where none is named. */
export const SITE_FOLDER = "dist";

/** The collection's folder, absolute: the option, else the environment, else `procedures` in the present folder. */
export function collectionFolder(option: string | undefined): string {
  return resolve(option ?? process.env["RERIG_PROCEDURES"] ?? "procedures");
}

/**
 * What a call needs to be about the same collection as this one: ` --procedures DIR` as it was given here or in the
 * environment; empty where it was not.
 */
export function sameCollection(option: string | undefined): string {
  const given = option ?? process.env["RERIG_PROCEDURES"];
  return given === undefined ? "" : sameOption("--procedures", given);
}

/** An option as it is typed again, with a space before it; in quotation marks where it has spaces or signs. */
export function sameOption(option: string, given: string): string {
  return ` ${option} ${/^[\p{L}\p{N}_./:~-]+$/u.test(given) ? given : JSON.stringify(given)}`;
}
