/**
 * Every command that is asked about an arrangement with a patient says when it is for others: whoever hears "within the
 * limits" or a time takes it for a yes. Over the demo (invented). That an answer outside its range of use says so is
 * common practice, no source.
 */
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { runHere } from "./run-here.ts";

const procedures = resolve(import.meta.dirname, "../../procedures");
const ASKED = [
  ["load", "--configuration=deck-harness", "--patient"],
  ["changeover", "--from=newborn-capsule", "--to=deck-harness", "--weight"],
  ["ready", "call", "--to=deck-harness", "--weight"],
];

describe.each(ASKED)("rerig %s", (...asked) => {
  const run = (weight: string) => runHere([...asked, weight, "--procedures", procedures], "2026-11-28");

  it("cautions where the arrangement is not for the patient", async () => {
    const { stderr } = await run("20 kg");
    expect(stderr).toContain("“Deck harness” is for a patient from 40 kg to under 130 kg, any age, not for this one.");
  });

  it("says nothing of it where the arrangement is for the patient", async () => {
    const { status, stdout, stderr } = await run("50 kg");
    expect([status, stdout.length > 0]).toEqual([0, true]);
    expect(stderr).not.toContain("not for this one");
  });
});
