/** Why a change is not made: thrown inside, given out as a sentence by `applyEdit` and `saveFiles`. */

/** The message is a sentence for who writes: what is in the way, and what to do. */
export class Refusal extends Error {
  override readonly name = "Refusal";
}
