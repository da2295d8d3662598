/**
 * The order of test files. First those that have a worker of their own (vitest.config.ts): Vitest ends a shared worker
 * as soon as such a file is the next, and the file after it loads modules and reads the demo anew. Then those that take
 * minutes, so that none of them is left to one core at the end while the other stands still: by the time of the last
 * run in this folder, where Vitest remembers one; in a fresh checkout, which remembers none, by that of a whole run on
 * a quiet machine. Vitest itself goes by the length of a file's text there, and a page walk is short to write.
 */
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Seconds by the clock, two files at a time (tests/bench/MEASURED.md); of a file not named nothing is known. */
const LONG: Readonly<Record<string, number>> = {
  "site/every-page": 106,
  "desk/stories/whole-story": 65,
  "site/rows-that-hold": 64,
  "browser/offline": 55,
  "desk/stories/every-screen": 53,
  "build/kept-pages": 52,
  "search/queries": 52,
  "desk/stories/photo-story": 47,
  "paper/cards": 42,
  "site/machine-made": 39,
  "browser/amendments": 37,
  "browser/injection": 37,
  "desk/stories/story": 36,
  "build/watch": 35,
  "desk/stories/take-in": 34,
  "browser/tonight": 29,
  "desk/rename": 29,
  "site/crews": 29,
  "browser/changeover": 26,
  "domain/study/questions": 25,
  "rules/kept": 23,
  "agreement/outputs-by-day": 22,
  "desk/as-before": 22,
  "desk/random-forms": 22,
  "rules/judged-again": 22,
  "agreement/every-output": 21,
  "build/build": 21,
  "desk/stories/forms-story": 21,
  "domain/tonight/out-of-service": 20,
  "site/print": 20,
  "desk/stories/rename-screen": 19,
  "browser/replaced": 18,
  "build/kept-bundle": 18,
  "browser/chooser": 17,
  "rules/fixes": 17,
  "agreement/cards": 16,
  "browser/drills": 15,
  "rules/rules": 15,
  "commands/commands": 14,
  "desk/photos": 14,
  "docs/guide": 14,
  "domain/states/puzzles": 14,
  "domain/study/worth": 13,
  "paper/sides": 13,
  "site/ready": 13,
  "desk/killed": 12,
  "site/records": 12,
  "desk/stories/machine-made": 11,
  "domain/slips/prove": 11,
  "rules/planted-contradictions": 11,
  "commands/mishaps": 10,
  "desk/server": 10,
  "browser/call-changed": 9,
  "browser/practice": 9,
  "commands/issue": 9,
  "desk/steps": 9,
  "domain/time/on-what-is-taken": 9,
  "site/own-words": 9,
  "words/ratchet": 9,
  "agreement/bands": 8,
  "agreement/plans": 8,
  "agreement/warnings": 8,
  "browser/after": 8,
  "commands/at-once": 8,
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
    const isShared = (file: TestSpecification) => Number(file.project.name !== "alone");
    return (await super.sort(files)).sort((a, b) => isShared(a) - isShared(b) || seconds(b) - seconds(a));
  }
}
