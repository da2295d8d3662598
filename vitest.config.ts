/** Where vitest finds the tests. */
import { defineConfig } from "vitest/config";

// Two files at a time, one for each core of a small machine: many of them wait for a browser. More would take the cores
// from those that say within which time something answers.
export default defineConfig({
  test: { include: ["tests/**/*.test.ts"], testTimeout: 30_000, hookTimeout: 60_000, maxWorkers: 2 },
});
