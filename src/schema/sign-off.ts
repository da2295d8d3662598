/** A sign-off as a service's own register holds it. Registers are read and never kept. */
import type { Configuration, Procedure, Where } from "./collection.ts";

/** Who was seen doing which document in which revision, by whom and when. */
export interface SignOff {
  readonly person: string;
  readonly document: Procedure | Configuration;
  readonly revision: number;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly assessor: string;
  /** The last day on which it counts; absent when the register does not say. */
  readonly lapses?: string;
  /** Supervised attempts before it. */
  readonly attempts?: number;
  readonly where: Where;
}
