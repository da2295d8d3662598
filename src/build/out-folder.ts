/** Which folder or file a command may replace, and getting a site back whose replacement was interrupted. */
import {
  closeSync,
  existsSync,
  lstatSync,
  openSync,
  readdirSync,
  readSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
} from "node:fs";
import { homedir } from "node:os";
import { basename, dirname, join, parse, relative, resolve, sep } from "node:path";
import { CannotRun } from "../findings/cannot-run.ts";
import { heard } from "../words/heard.ts";
import { isRunning } from "./is-running.ts";

/** The file by which a build knows a site that it made itself, and may replace. */
export const MARKER = ".rerig-site";
/** What the marker says to whoever opens it. */
export const MARKER_TEXT =
  "`rerig build` made this folder and replaces it whole at the next build. Keep nothing else in it.\n";
/** The program's own folders: a site in one of them would be mixed with it. */
const OF_PROGRAM = ["src", "components", "public", "tests", "node_modules", ".git", "procedures"];

/** The path with the links on the way resolved, as far as it is there. */
function realPath(path: string): string {
  const full = resolve(path);
  let there = full;
  while (!existsSync(there) && dirname(there) !== there) there = dirname(there);
  return join(realpathSync(there), relative(there, full));
}

/** Whether `inner` is `outer` or lies in it; both real paths. */
const isWithin = (inner: string, outer: string) =>
  inner === outer || inner.startsWith(outer.endsWith(sep) ? outer : outer + sep);

/**
 * The folder that a build may write or replace, with the links on the way resolved. A folder is replaced only if it is
 * empty, absent, or a site that a build made itself; never one that is or holds the collection, the program or the home
 * folder, nor one in the collection or in a folder of the program's own. Throws `CannotRun` otherwise; nothing is
 * changed. `home`: the person's own folder.
 */
export function outFolderFor(out: string, collection: string, program: string, home = homedir()): string {
  const target = realPath(out),
    say = heard("outFolder");
  const refuse = (why: string): never => {
    throw new CannotRun(say.siteCant({ target, why }));
  };
  const [source, root] = [realPath(collection), realPath(program)];
  if (target === parse(target).root) refuse(say.wholeDisk);
  if (isWithin(source, target)) refuse(target === source ? say.isCollection : say.holdsCollection);
  if (isWithin(target, source)) refuse(say.inCollection);
  if (isWithin(root, target)) refuse(target === root ? say.isProgram : say.holdsProgram);
  if (OF_PROGRAM.some((name) => isWithin(target, join(root, name)))) refuse(say.inProgram);
  if (isWithin(realPath(home), target)) refuse(say.home);
  bringBack(target);
  if (!existsSync(target)) return target;
  if (!lstatSync(target).isDirectory()) refuse(say.isFile);
  const found = readdirSync(target);
  if (found.length > 0 && !found.includes(MARKER))
    refuse(found.length === 1 ? say.holdsOne({ name: found[0]! }) : say.holdsSeveral({ count: found.length }));
  return target;
}

/** The first bytes of every PDF (ISO 32000-1, 7.5.2). */
const PDF_HEAD = "%PDF-";

/**
 * The PDF that a command may write or replace, its path made whole: one whose name ends in `.pdf` and that is absent,
 * empty or a PDF. Throws `CannotRun` otherwise; nothing is changed.
 */
export function outPdfFor(out: string): string {
  const target = resolve(out),
    say = heard("outFolder");
  const refuse = (why: string): never => {
    throw new CannotRun(say.cardsCant({ target, why }));
  };
  if (!existsSync(dirname(target))) refuse(say.noFolder({ folder: dirname(target) }));
  if (existsSync(target)) {
    if (!statSync(target).isFile()) refuse(say.isFolder);
    if (!startsLikePdf(target)) refuse(say.noPdf);
  }
  if (!/\.pdf$/i.test(target)) refuse(say.notNamedPdf);
  return target;
}

function startsLikePdf(file: string): boolean {
  const open = openSync(file, "r");
  try {
    const bytes = Buffer.alloc(PDF_HEAD.length);
    const length = readSync(open, bytes, 0, bytes.length, 0);
    return length === 0 || bytes.toString("latin1") === PDF_HEAD;
  } finally {
    closeSync(open);
  }
}

/**
 * Puts the last site back where a build was stopped between setting it aside and putting the new one in its place, and
 * removes what stopped builds have left beside it. `target`: the site's folder; its parent need not be there.
 */
export function bringBack(target: string): void {
  const parent = dirname(target),
    stem = `.${basename(target)}.`;
  if (!existsSync(parent)) return;
  for (const name of readdirSync(parent)) {
    if (!name.startsWith(stem)) continue;
    const found = /^(new|old)-(\d+)$/.exec(name.slice(stem.length));
    const pid = Number(found?.[2]);
    if (!found || (pid !== process.pid && isRunning(pid))) continue;
    // What no build made is a person's own, whatever its name.
    if (!existsSync(join(parent, name, MARKER))) continue;
    if (found[1] === "old" && !existsSync(target)) renameSync(join(parent, name), target);
    else removeSite(join(parent, name));
  }
}

/**
 * Removes a site that a build made, its marker last: who is stopped meanwhile leaves what is known for a build's own,
 * and the next one removes it. Nothing happens where there is none.
 */
export function removeSite(folder: string): void {
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder).filter((each) => each !== MARKER))
    rmSync(join(folder, name), { recursive: true, force: true });
  rmSync(folder, { recursive: true, force: true });
}
