/**
 * The order of test files: those that take minutes first, so that none of them is left to one core at the end while the
 * other stands still. Vitest remembers how long files took in a folder that a fresh checkout does not have, and goes by
 * the length of their text there; a page walk is short to write.
 */
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** The longest first, by processor time (tests/bench/MEASURED.md); of a file that is not named nothing is known. */
const LONG = [
  "site/every-page",
  "browser/injection",
  "site/crews",
  "paper/cards",
  "browser/tonight",
  "browser/changeover",
  "browser/offline",
  "build/watch",
  "desk/story",
  "desk/killed",
  "search/queries",
  "browser/amendments",
];

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const at = LONG.findIndex((name) => moduleId.endsWith(`tests/${name}.test.ts`));
      return at < 0 ? LONG.length : at;
    };
    // The sort is stable: what is not named stays as Vitest has it, its groups of files that share a worker together.
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b));
  }
}
