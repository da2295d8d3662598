/**
 * Before each test file: files share a process (vitest.config.ts), and what one has left in it would be found by the
 * next: whose language and nouns are spoken, where results are kept, which browser is named.
 */
import { keepOn } from "../src/domain/words/keep.ts";
import { speakFor } from "../src/words/words.ts";

const atFirst = globalThis as { environmentOfTests?: NodeJS.ProcessEnv };
atFirst.environmentOfTests ??= { ...process.env };
for (const name of ["CHROME_PATH", "RERIG_TODAY", "RERIG_CACHE"]) {
  const value = atFirst.environmentOfTests[name];
  if (value === undefined) delete process.env[name];
  else process.env[name] = value;
}
speakFor({ language: "en" });
keepOn(undefined);
