/**
 * The order of test files: those that take minutes first, so that none of them is left to one core at the end while the
 * other stands still: by the time of the last run in this folder, where Vitest remembers one; in a fresh checkout,
 * which remembers none, by that of a whole run on a quiet machine. Vitest itself goes by the length of a file's text
 * there, and a page walk is short to write.
 */
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Seconds by the clock, two files at a time (tests/bench/MEASURED.md); of a file not named nothing is known. */
const LONG: Readonly<Record<string, number>> = {
  "site/every-page": 304,
  "browser/offline": 153,
  "search/queries": 125,
  "desk/whole-story": 122,
  "browser/tonight": 117,
  "paper/cards": 108,
  "build/watch": 108,
  "browser/amendments": 105,
  "browser/injection": 98,
  "site/crews": 97,
  "site/records": 94,
  "build/build": 88,
  "desk/photo-story": 70,
  "browser/changeover": 69,
  "desk/story": 68,
  "browser/drills": 49,
  "browser/chooser": 41,
  "site/print": 36,
  "desk/photos": 32,
  "commands/commands": 29,
  "browser/after": 28,
};

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const seconds = (file: TestSpecification) => {
      const known = Object.entries(LONG).find(([name]) => file.moduleId.endsWith(`tests/${name}.test.ts`))?.[1];
      if (known === undefined) return 0;
      const { duration = 0 } = this.ctx.cache.getTestSpecificationResult(file) ?? {};
      return duration > 0 ? duration / 1000 : known;
    };
    // The sort is stable: what is not named stays as Vitest has it, its groups of files that share a worker together.
    return (await super.sort(files)).sort((a, b) => seconds(b) - seconds(a));
  }
}
