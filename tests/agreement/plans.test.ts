/**
 * One changeover, told in four places: what the site plans for its pages, what is printed, what a device works out from
 * the platform that a page carries, and what the command answers. Generated pairs with options, for patients at and
 * beside every end of the bands (invented; compared with each other).
 */
import { join, resolve } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { packPlatform, unpackPlatform } from "../../src/domain/device/pack.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { modelOf } from "../../src/domain/states/model.ts";
import { viewChangeover } from "../../src/domain/time/changeover-view.ts";
import { plansBetween } from "../../src/domain/time/plans.ts";
import { Findings } from "../../src/findings/finding.ts";
import { changeoverCards } from "../../src/paper/changeover-card.ts";
import { AGE_PER_DAY, MASS_PER_KG } from "../../src/schema/units.ts";
import { runHere } from "../commands/run-here.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";

const root = resolve(import.meta.dirname, "../..");
const TODAY = "2026-11-28";

/** Decimal kilograms and days of an exact patient, as the command takes them. */
const exactly = (value: bigint, scale: bigint) => {
  const whole = value / scale,
    part = (value % scale)
      .toString()
      .padStart(scale.toString().length - 1, "0")
      .replace(/0+$/, "");
  return part ? `${whole}.${part}` : String(whole);
};

describe.each(COLLECTIONS)("changeovers of %s", (folder) => {
  it("are the same procedures and steps on pages, on paper, on a device and by command", async () => {
    const { collection } = forceOn(await loadCollection(join(root, folder), new Findings()), TODAY);
    const { service } = collection;
    // Of two platforms the one on which more is done.
    const platform = collection.platforms.toSorted((a, b) => b.procedures.length - a.procedures.length)[0]!,
      model = modelOf(platform);
    const carried = unpackPlatform(
      JSON.parse(JSON.stringify(packPlatform(platform, service))) as ReturnType<typeof packPlatform>,
    );
    const device = modelOf(carried.platform);
    let answered = 0;
    await fc.assert(
      fc.asyncProperty(fc.nat(), fc.nat(), fc.nat(), async (one, two, three) => {
        const from = model.arrangements[one % model.arrangements.length]!,
          to = model.arrangements[two % model.arrangements.length]!;
        if (from === to) return;
        const plans = plansBetween(model, service, from, to);
        const stepsOf = (plan: (typeof plans)[number] | undefined) =>
          plan?.changeover?.steps.map(({ procedure, step }) => `${procedure.id} ${step.number}`);
        const named = (name: string) => device.arrangements.find((each) => each.name === name)!;
        const onDevice = plansBetween(device, service, named(from.name), named(to.name));
        expect(onDevice.map(stepsOf)).toEqual(plans.map(stepsOf));
        // What is to be fetched and counted, and what is said of it, word for word.
        const shown = (all: typeof plans, of: typeof platform) =>
          all.map(({ changeover }) => changeover && viewChangeover(changeover, of));
        expect(shown(onDevice, carried.platform)).toEqual(shown(plans, platform));
        const plan = plans[three % Math.max(1, plans.length)];
        if (!plan?.changeover) return;
        const { weight, age } = plan.cells[three % plan.cells.length]!.patient;
        const told = [
          ...(weight === undefined ? [] : ["--weight", `${exactly(weight, MASS_PER_KG)} kg`]),
          ...(age === undefined ? [] : ["--age", `${exactly(age, AGE_PER_DAY)} days`]),
        ];
        const asked = ["--platform", platform.id, "--from", from.name, "--to", to.name, ...told, "--json"];
        const run = await runHere(["changeover", "--procedures", join(root, folder), ...asked], TODAY);
        const result = JSON.parse(run.stdout) as { steps: { procedure: string; step: number }[] };
        expect(result.steps.map(({ procedure, step }) => `${procedure} ${step}`)).toEqual(stepsOf(plan));
        answered += 1;
        if (from.options.length + to.options.length > 0) return;
        const paper = changeoverCards(collection, platform)(`${from.name}--${to.name}`);
        const printed = paper.map(
          (card) =>
            card.parts.flatMap(({ lines }) => lines).filter(({ kind }) => kind !== "pause" && kind !== "alarm").length,
        );
        expect(printed).toEqual(plans.flatMap(({ changeover }) => changeover?.steps.length ?? []));
      }),
      { numRuns: folder === "procedures" ? 10 : 25 },
    );
    expect(answered).toBeGreaterThan(3);
  }, 240_000);
});
