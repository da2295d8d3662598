/**
 * The order of test files: those that take minutes first, so that none of them is left to one core at the end while the
 * other stands still: by the time of the last run in this folder, where Vitest remembers one; in a fresh checkout,
 * which remembers none, by that of a whole run on a quiet machine. Vitest itself goes by the length of a file's text
 * there, and a page walk is short to write.
 */
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Seconds by the clock, two files at a time (tests/bench/MEASURED.md); of a file not named nothing is known. */
const LONG: Readonly<Record<string, number>> = {
  "site/every-page": 85,
  "site/machine-made": 65,
  "browser/offline": 58,
  "desk/stories/whole-story": 58,
  "build/watch": 58,
  "build/build": 40,
  "build/kept-pages": 45,
  "site/crews": 47,
  "browser/injection": 47,
  "paper/cards": 45,
  "desk/rename": 30,
  "desk/stories/photo-story": 35,
  "browser/amendments": 34,
  "search/queries": 32,
  "rules/kept": 20,
  "browser/changeover": 29,
  "browser/tonight": 29,
  "desk/stories/every-screen": 25,
  "desk/stories/story": 24,
  "site/records": 24,
  "desk/stories/take-in": 23,
  "domain/slips/prove": 22,
  "rules/judged-again": 18,
  "rules/planted-contradictions": 21,
  "browser/chooser": 20,
  "rules/fixes": 14,
  "desk/stories/rename-screen": 19,
  "desk/as-before": 19,
  "desk/stories/forms-story": 18,
  "browser/after": 16,
  "desk/killed": 16,
  "domain/study/questions": 15,
  "agreement/every-output": 15,
  "domain/tonight/out-of-service": 14,
  "domain/time/on-what-is-taken": 14,
  "browser/drills": 14,
  "desk/photos": 13,
  "site/ready": 13,
  "commands/mishaps": 12,
  "site/print": 11,
  "browser/seeing": 11,
  "commands/commands": 11,
  "words/ratchet": 11,
  "rules/rules": 10,
  "domain/states/independent": 10,
  "docs/guide": 9,
  "browser/practice": 9,
  "agreement/cards": 9,
  "browser/call-changed": 9,
  "commands/issue": 9,
  "agreement/plans": 8,
  "domain/states/puzzles": 8,
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
