/** Where vitest finds the tests. */
import { defineConfig } from "vitest/config";
import { LongestFirst } from "./tests/longest-first.ts";

/** Tests of functions share a worker and so its modules: to load them anew for each file takes as long as the tests. */
const FUNCTIONS = ["agreement", "compile", "domain", "drawing", "findings", "read", "rules", "schema", "styles"].map(
  (folder) => `tests/${folder}/**/*.test.ts`,
);
// Long enough for a machine that does other things too: a limit finds what hangs, not what is slow.
const times = { testTimeout: 90_000, hookTimeout: 120_000 };
// Functions say the fixed text by what the process speaks: English, where a test does not say otherwise.
const setupFiles = ["src/words/words.ts"];
const globalSetup = ["tests/builder/start.ts"];

// Two files at a time, one for each core of a small machine: many of them wait for a browser. More would take the cores
// from those that say within which time something answers.
export default defineConfig({
  test: {
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    projects: [
      { test: { name: "functions", include: FUNCTIONS, isolate: false, globalSetup, setupFiles, ...times } },
      {
        test: {
          name: "programs",
          include: ["tests/**/*.test.ts"],
          exclude: FUNCTIONS,
          globalSetup,
          setupFiles,
          ...times,
        },
      },
    ],
  },
});
