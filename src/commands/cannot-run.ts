/** What a command throws when it can't run: wrong arguments, no collection, no disk. */

/** Ends a command with exit code 2; its message is for the person who ran it, one line or two, without a stack. */
export class CannotRun extends Error {
  override readonly name = "CannotRun";
}
