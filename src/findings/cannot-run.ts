/** What a command throws when it can't run (arguments, no collection, no disk); a disk's refusals in plain words. */

/** Ends a command with exit code 2; its message is for the person who ran it, one line or two, without a stack. */
export class CannotRun extends Error {
  override readonly name = "CannotRun";
}

/** Error code of the system (errno(3)) -> what happened, and what to do. */
const REFUSALS: Readonly<Record<string, readonly [what: string, todo: string]>> = {
  ENOSPC: ["the disk is full", "Make room on it, or name a folder on another disk"],
  EDQUOT: ["your share of the disk is used up", "Make room, or name a folder on another disk"],
  EFBIG: ["the file would be larger than the system allows", "Make it smaller, or name a folder on another disk"],
  EROFS: ["the disk can only be read", "Name a folder on a disk that can be written to"],
  EACCES: ["you may not write or read there", "Ask whoever looks after this folder, or name one of your own"],
  EPERM: ["the system does not allow it", "Ask whoever looks after this folder, or name one of your own"],
  ENOTDIR: ["a part of the path is a file, not a folder", "Check the path, or name another"],
  EISDIR: ["that is a folder, not a file", "Name a file"],
  ENAMETOOLONG: ["the name is too long", "Choose a shorter one"],
  ENOENT: ["a folder or file on the way is missing", "Check the path"],
  EBUSY: ["another program uses it", "Close that program and try again"],
  ENOTEMPTY: ["another program has written into it meanwhile", "Try again"],
  EMFILE: ["too many files are open on this machine", "Close other programs and try again"],
  ELOOP: ["links lead in a circle there", "Mend the link, or name another folder"],
  EIO: ["the disk does not answer", "Check the disk"],
};

/** What a refusal of the disk means, as half a sentence (`the disk is full`); `undefined` for any other error. */
export function whatIsRefused(error: unknown): string | undefined {
  const { code } = (error ?? {}) as NodeJS.ErrnoException;
  return error instanceof Error && code !== undefined ? REFUSALS[code]?.[0] : undefined;
}

/**
 * What a refusal of the disk means, in one or two sentences that name the file or folder; `undefined` if the error is
 * none of a disk. Source of the codes: errno(3), POSIX.1-2017.
 */
export function sayRefusal(error: unknown): string | undefined {
  const { code, path, dest } = (error ?? {}) as NodeJS.ErrnoException & { dest?: string };
  const found = code === undefined ? undefined : REFUSALS[code];
  if (!found || !(error instanceof Error)) return undefined;
  const where = dest ?? path;
  return `Can't go on${where ? ` at ${where}` : ""}: ${found[0]}. ${found[1]}, and run the command again.`;
}
