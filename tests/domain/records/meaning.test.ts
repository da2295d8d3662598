/** Whether a change of words is a change of doing: hand-made pairs of sentences (tests/domain/records/pairs.ts). */
import { describe, expect, it } from "vitest";
import { compareWords } from "../../../src/domain/records/meaning.ts";
import { OTHERWISE, THE_SAME } from "./pairs.ts";

describe("a change of words", () => {
  it.each(OTHERWISE)("%s -> %s is in doubt or worse, either way round", (was, is) => {
    expect([compareWords(was, is), compareWords(is, was)]).toEqual([
      expect.stringMatching(/doubtful|telling|more/),
      expect.stringMatching(/doubtful|telling|more/),
    ]);
  });
  it.each(THE_SAME)("%s -> %s is none of doing", (was, is) => {
    expect([compareWords(was, is), compareWords(is, was)]).toEqual([
      expect.stringMatching(/same|alike/),
      expect.stringMatching(/same|alike/),
    ]);
  });
});
