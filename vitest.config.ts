/** Where vitest finds the tests. */
import { defineConfig } from "vitest/config";

// One file at a time: several of them drive a browser or build a site, and wait for what two others would take the
// cores from.
export default defineConfig({
  test: { include: ["tests/**/*.test.ts"], testTimeout: 30_000, hookTimeout: 60_000, fileParallelism: false },
});
