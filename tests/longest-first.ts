/**
 * The order of test files: those that take minutes first, so that none of them is left to one core at the end while the
 * other stands still: by the time of the last run in this folder, where Vitest remembers one; in a fresh checkout,
 * which remembers none, by that of a whole run on a quiet machine. Vitest itself goes by the length of a file's text
 * there, and a page walk is short to write.
 */
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Seconds by the clock, two files at a time (tests/bench/MEASURED.md); of a file not named nothing is known. */
const LONG: Readonly<Record<string, number>> = {
  "browser/offline": 82,
  "site/every-page": 80,
  "desk/stories/whole-story": 67,
  "build/kept-pages": 57,
  "build/watch": 53,
  "paper/cards": 47,
  "desk/stories/every-screen": 42,
  "site/machine-made": 41,
  "search/queries": 37,
  "browser/amendments": 34,
  "site/rows-that-hold": 33,
  "desk/stories/take-in": 33,
  "domain/study/questions": 32,
  "desk/stories/story": 32,
  "desk/stories/photo-story": 32,
  "site/crews": 31,
  "rules/judged-again": 31,
  "browser/tonight": 30,
  "rules/kept": 29,
  "desk/rename": 29,
  "agreement/every-output": 29,
  "browser/injection": 25,
  "build/build": 23,
  "browser/changeover": 23,
  "desk/as-before": 21,
  "domain/tonight/out-of-service": 20,
  "desk/stories/forms-story": 20,
  "domain/slips/prove": 18,
  "desk/photos": 18,
  "rules/fixes": 17,
  "desk/stories/rename-screen": 16,
  "commands/commands": 16,
  "browser/chooser": 15,
  "browser/drills": 14,
  "agreement/outputs-by-day": 14,
  "site/print": 13,
  "browser/replaced": 13,
  "site/records": 12,
  "desk/random-forms": 12,
  "site/own-words": 11,
  "domain/time/on-what-is-taken": 11,
  "docs/guide": 11,
  "desk/killed": 11,
  "browser/seeing": 11,
  "agreement/cards": 11,
  "site/ready": 10,
  "rules/rules": 10,
  "browser/practice": 10,
  "browser/call-changed": 10,
  "words/ratchet": 9,
  "paper/sides": 9,
  "domain/states/puzzles": 9,
  "rules/planted-contradictions": 8,
  "domain/study/worth": 8,
  "commands/mishaps": 8,
  "browser/after": 8,
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
