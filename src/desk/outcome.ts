/** What the desk answers to a change. */

/** What became of a change, for the screen that sent it. */
export type ChangeOutcome =
  /** `hash`: what the next change of the file is based on; `number`: of the reading that has the change. */
  | { readonly saved: true; readonly hash: string | null; readonly number: number; readonly address?: string }
  /** Nothing was saved; the file says `theirs` now, whose hash is `hash`. */
  | { readonly changed: true; readonly theirs: string | null; readonly hash: string | null }
  /** Nothing was saved, and why. */
  | { readonly refused: string };
