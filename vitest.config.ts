/** Where vitest finds the tests. */
import { defineConfig } from "vitest/config";
import { LongestFirst } from "./tests/longest-first.ts";

/**
 * Files that a worker of their own runs: each has a cache of its own (tests/desk/work-folder.ts) or the desk's own
 * browser, or adds languages. All others share a worker and so its modules: to load these and to read the demo anew for
 * each file takes as long as the tests.
 */
const ALONE = [
  "tests/desk/{as-before,elsewhere,full-disk,killed,photos,rename,save}.test.ts",
  "tests/desk/stories/*.test.ts",
  "tests/{site,words}/machine-made.test.ts",
];
const shared = {
  // Long enough for a machine that does other things too: a limit finds what hangs, not what is slow.
  testTimeout: 90_000,
  hookTimeout: 120_000,
  // Functions say the fixed text by what the process speaks: English, where a test does not say otherwise.
  setupFiles: ["tests/each-file.ts"],
  globalSetup: ["tests/builder/start.ts", "tests/builder/keep-browsers.ts"],
};

// Two files at a time, one for each core of a small machine: many of them wait for a browser. Three take 858 s for 916,
// and the cores from those that say within which time something answers.
export default defineConfig({
  test: {
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    projects: [
      { test: { name: "together", include: ["tests/**/*.test.ts"], exclude: ALONE, isolate: false, ...shared } },
      // They start browsers of their own: in a kept one a story at the desk once waited for a press until its limit.
      { test: { name: "alone", include: ALONE, ...shared, env: { RERIG_BROWSERS: "" } } },
    ],
  },
});
