/** Which files the desk may write: those that a collection has, below its folder and nowhere else. */
import { lstatSync, realpathSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { isCopy, isLeftBehind } from "../../read/unread.ts";
import { heard } from "../../words/heard.ts";
import { Refusal } from "./refusal.ts";

const NAME = String.raw`[^/\\.][^/\\]*`;
/** The files of a collection that people write; frozen issues are written by `rerig issue` alone. */
const OWN = [
  String.raw`(?:service|folders|incidents)\.yaml`,
  String.raw`reviews/(?:${NAME}/)?${NAME}\.yaml`,
  String.raw`(?!issued/)${NAME}/(?:platform|equipment)\.yaml`,
  String.raw`(?!issued/)${NAME}/(?:(?:configurations|options|amendments|reading)/)?${NAME}\.mdx`,
  String.raw`(?!issued/)${NAME}/photos/${NAME}\.(?:yaml|jpe?g|png|webp)`,
].map((pattern) => new RegExp(`^${pattern}$`, "u"));

/** A camera writes how a picture's name ends in capitals. */
const ENDING = /\.(?:jpe?g|png|webp)$/i;

/** Whether people write a file of that path in a collection. */
export function isOwnFile(path: string): boolean {
  const name = path.split("/").at(-1)!,
    usual = path.replace(ENDING, (ending) => ending.toLowerCase());
  return OWN.some((own) => own.test(usual)) && !path.includes("\0") && !isLeftBehind(name) && !isCopy(name);
}

/** The real folder of a collection; refused where there is none. */
export function realFolder(root: string): string {
  try {
    const real = realpathSync(root);
    if (lstatSync(real).isDirectory()) return real;
  } catch {
    // Said below.
  }
  throw new Refusal(heard("deskRefused").folderGone({ folder: root }));
}

/**
 * The real file of a path of the collection (`tern/seat-capsule.mdx`), to be written or not there yet; refused where it
 * is none of a collection, or a link leads out of it.
 */
export function ownFile(root: string, path: string): string {
  if (!isOwnFile(path)) throw new Refusal(heard("deskRefused").notOwn({ file: path }));
  const file = realAsFar(join(root, path)),
    inside = relative(root, file);
  if (inside === "" || inside === ".." || inside.startsWith(`..${sep}`) || inside.startsWith(sep))
    throw new Refusal(heard("deskRefused").leadsOut({ file: path }));
  return file;
}

/** A path with its links followed as far as it is there. */
function realAsFar(path: string): string {
  try {
    return realpathSync(path);
  } catch (error) {
    // A link to nothing would be written through.
    if (isLink(path)) throw new Refusal(heard("deskRefused").leadsNowhere({ file: path }));
    const parent = dirname(path);
    if (parent === path) throw error;
    return join(realAsFar(parent), path.slice(parent.length));
  }
}

function isLink(path: string): boolean {
  try {
    return lstatSync(path).isSymbolicLink();
  } catch {
    return false;
  }
}
