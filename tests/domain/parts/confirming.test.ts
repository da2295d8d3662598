/**
 * The steps that confirm a patient: exactly those of the procedure that a patient's weight and age call for, whole.
 * Checked against the text of the demo's FCR-T-29, read by hand.
 */
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { confirmingOf, sayConfirming } from "../../../src/domain/parts/confirming.ts";
import { MASS_PER_KG } from "../../../src/schema/units.ts";
import { runHere } from "../../commands/run-here.ts";
import { readCollection } from "../../read-collection.ts";

const root = resolve(import.meta.dirname, "../../..");

describe("what confirms the patient", async () => {
  const { service, platforms } = await readCollection(resolve(root, "procedures")),
    tern = platforms[0]!;
  const idsAt = (kg: number) => {
    const found = confirmingOf(tern, service.crew, { weight: (BigInt(kg * 1000) * MASS_PER_KG) / 1000n })!;
    const { steps } = tern.procedures.find(({ id }) => id === found.procedure.id)!;
    return found.steps.map(({ number }) => steps[number - 1]!.id);
  };
  it.each([
    [2, ["small-newborn"]],
    [3.9, []],
    [4.5, ["edge-five"]],
    [5.5, []],
    [38, ["edge-forty"]],
    [44, []],
  ])("at %d kg has the steps for everybody, and %j", (kg, more) => {
    const all = ["ask-unit", "ask-weight", "ask-scale", "second-fact", ...more, "name-band"];
    expect(idsAt(kg)).toEqual(all);
  });
  it("is said whole: warnings, who, why, and the answer to each check", () => {
    const said = sayConfirming(confirmingOf(tern, service.crew, {})!).join("\n");
    for (const words of [
      "WARNING: The band decides",
      "Lead, SAFETY-CRITICAL: Ask for the unit",
      "Why: whoever",
      "Unit? heard",
    ])
      expect(said).toContain(words);
  });
  it("stands in the answer, begins a changeover with its warning, and is never what is not in force", async () => {
    const steps = { procedure: "confirm-band", steps: [1, 2, 3, 4, 7, 8] };
    const TODAY = "2026-11-28";
    const asked = JSON.parse((await runHere(["choose", "--weight", "2 kg", "--json"], TODAY)).stdout) as object;
    expect(asked).toMatchObject({ confirm: steps });
    const args = ["changeover", "--from", "child-cradle", "--to", "newborn-capsule+roll-supports", "--weight", "2 kg"];
    const planned = JSON.parse((await runHere([...args, "--json"], TODAY)).stdout) as {
      procedures: string[];
      steps: { procedure: string; step: number }[];
    };
    expect(planned.procedures[0]).toBe("confirm-band");
    expect(planned.steps.slice(0, 6).map(({ procedure, step }) => [procedure, step])).toEqual(
      steps.steps.map((step) => ["confirm-band", step]),
    );
    const { stdout } = await runHere(args, TODAY);
    expect(stdout.indexOf("WARNING: The band decides")).toBeLessThan(stdout.indexOf(" 0:00 "));
    const draft = {
      ...tern,
      procedures: tern.procedures.map((each) => ({ ...each, status: "draft" as const })),
    };
    expect(confirmingOf(draft, service.crew)).toBeUndefined();
  });
});
