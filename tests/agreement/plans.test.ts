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
import { holdsPatient, type Patient } from "../../src/domain/bands/bands.ts";
import { layWalk } from "../../src/domain/device/walk.ts";
import type { Changeover } from "../../src/domain/states/changeover.ts";
import { plansBetween } from "../../src/domain/time/plans.ts";
import { planTimeline } from "../../src/domain/time/timeline.ts";
import { sayInstruction } from "../../src/domain/words/say.ts";
import { Findings } from "../../src/findings/finding.ts";
import { changeoverCards } from "../../src/paper/changeover-card.ts";
import { AGE_PER_DAY, MASS_PER_KG } from "../../src/schema/units.ts";
import type { Platform } from "../../src/schema/collection.ts";
import { runHere } from "../commands/run-here.ts";

const root = resolve(import.meta.dirname, "../..");
const TODAY = "2026-11-28";

/**
 * The steps of the procedure that `platform.yaml` names in `confirms`, those whose own band holds the patient, read off
 * its file: what every output of a changeover has to begin with, once.
 */
const confirming = ({ confirms, procedures }: Platform, patient: Patient) =>
  (procedures.find(({ id, status }) => id === confirms?.id && status === "approved")?.steps ?? [])
    .filter(({ band }) => holdsPatient(band, patient))
    .map(({ procedure, number }) => `${procedure} ${number}`);

const crewOf = ({ crew }: { readonly crew: readonly { readonly id: string }[] }) => crew.map(({ id }) => id);
const sayLine = (line: object) => ("text" in line ? String(line.text).replace(/^\d+\. /, "") : "");
const sayStep = ({ steps }: Changeover, at: number) => sayInstruction(steps[at]!.step);

/** Decimal kilograms and days of an exact patient, as the command takes them. */
const exactly = (value: bigint, scale: bigint) => {
  const whole = value / scale,
    part = (value % scale)
      .toString()
      .padStart(scale.toString().length - 1, "0")
      .replace(/0+$/, "");
  return part ? `${whole}.${part}` : String(whole);
};

describe.each(["procedures", "tests/fixtures/collections/sled", "tests/fixtures/collections/theatre"])(
  "changeovers of %s",
  (folder) => {
    it("are the same procedures and steps on pages, on paper, on a device and by command", async () => {
      const { collection } = forceOn(await loadCollection(join(root, folder), new Findings()), TODAY);
      const { service } = collection;
      const platform = collection.platforms[0]!,
        model = modelOf(platform);
      const carried = unpackPlatform(
        JSON.parse(JSON.stringify(packPlatform(platform, service))) as ReturnType<typeof packPlatform>,
      );
      const device = modelOf(carried.platform);
      let answered = 0,
        confirmed = 0;
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
          const result = JSON.parse(run.stdout) as {
            seconds: number;
            elapsed: number;
            steps: { procedure: string; step: number }[];
          };
          expect(result.steps.map(({ procedure, step }) => `${procedure} ${step}`)).toEqual(stepsOf(plan));
          answered += 1;
          const { changeover, cells } = plan,
            first = changeover.procedures.length === 0 ? [] : confirming(platform, cells[0]!.patient);
          confirmed += first.length;
          expect(stepsOf(plan)!.slice(0, first.length)).toEqual(first);
          expect(stepsOf(plan)!.filter((step) => step.startsWith(`${platform.confirms?.id} `))).toEqual(first);
          const timeline = planTimeline(changeover.steps, crewOf(service), platform, 0),
            carriedPlan = onDevice[plans.indexOf(plan)]!.changeover!,
            onDeviceTimeline = planTimeline(carriedPlan.steps, crewOf(service), carried.platform, 0);
          expect(onDeviceTimeline.steps.map(({ start, end }) => [start, end])).toEqual(
            timeline.steps.map(({ start, end }) => [start, end]),
          );
          expect([result.seconds, result.elapsed]).toEqual([
            changeover.steps.reduce((sum, { step }) => sum + step.takesSeconds, 0),
            timeline.elapsed,
          ]);
          // Nothing else begins before the last of them has ended, and the step-through shows them before all else.
          const ended = Math.max(0, ...timeline.steps.slice(0, first.length).map(({ end }) => end));
          for (const { start } of timeline.steps.slice(first.length)) expect(start).toBeGreaterThanOrEqual(ended);
          const walk = layWalk(carriedPlan, onDeviceTimeline, carried.platform, service.crew, "");
          const walked = walk.stops.slice(0, first.length).map(({ procedure, step }) => `${procedure} ${step}`);
          expect(walked.toSorted()).toEqual(first.toSorted());
          if (from.options.length + to.options.length > 0) return;
          const paper = changeoverCards(collection, platform)(`${from.name}--${to.name}`);
          const printed = paper.map(
            (card) =>
              card.parts.flatMap(({ lines }) => lines).filter(({ kind }) => kind !== "pause" && kind !== "alarm")
                .length,
          );
          expect(printed).toEqual(plans.flatMap((each) => each.changeover?.steps.length ?? []));
          const card = paper[plans.filter((each) => each.changeover).indexOf(plan)]!;
          const lines = card.parts[0]!.lines.filter(({ kind }) => kind === "step" || kind === "hold");
          if (first.length > 0) expect(lines.map(sayLine)).toEqual(first.map((_, at) => sayStep(changeover, at)));
        }),
        { numRuns: folder === "procedures" ? 10 : 25 },
      );
      expect(answered).toBeGreaterThan(3);
      expect(confirmed > 0).toBe(platform.confirms !== undefined);
    }, 240_000);
  },
);
