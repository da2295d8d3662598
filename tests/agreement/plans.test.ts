/**
 * One changeover, told in four places: what the site plans for its pages, what is printed, what a device works out from
 * the platform that a page carries, and what the command answers. Generated pairs with options, for patients at and
 * beside every end of the bands (invented; compared with each other).
 */
import { join, resolve } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { packPlatform, unpackPlatform } from "../../src/domain/device/pack.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { modelOf } from "../../src/domain/states/model.ts";
import { viewChangeover } from "../../src/domain/time/changeover-view.ts";
import { holdsPatient, type Patient } from "../../src/domain/bands/bands.ts";
import type { Cell } from "../../src/domain/bands/patients.ts";
import { leaveOut, ledApart } from "../../src/domain/device/for-patient.ts";
import { layWalk } from "../../src/domain/device/walk.ts";
import type { Changeover } from "../../src/domain/states/changeover.ts";
import { plansBetween, waysBetween } from "../../src/domain/time/plans.ts";
import { planTimeline } from "../../src/domain/time/timeline.ts";
import { sayInstruction } from "../../src/domain/words/say.ts";
import { changeoverCards } from "../../src/paper/changeover-card.ts";
import { AGE_PER_DAY, MASS_PER_KG } from "../../src/schema/units.ts";
import type { Platform } from "../../src/schema/collection.ts";
import { runHere } from "../commands/run-here.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../..");
const TODAY = "2026-11-28",
  GRAM = MASS_PER_KG / 1000n;

/**
 * The steps of the procedure that `platform.yaml` names in `confirms`, those whose own band holds the patient, read off
 * its file: what every output of a changeover has to begin with, once.
 */
const confirming = (platform: Platform, patient: Patient) =>
  confirmingOf(platform)
    .filter(({ band }) => holdsPatient(band, patient))
    .map(({ procedure, number }) => `${procedure} ${number}`);
const confirmingOf = ({ confirms, procedures }: Platform) =>
  procedures.find(({ id, status }) => id === confirms?.id && status === "approved")?.steps ?? [];

/** Patients of some cells: those who stand for a cell, and those at and within a gram of each end of a question. */
const someOf = (platform: Platform, cells: readonly Cell[]): Patient[] =>
  cells.flatMap(({ band, patient }) =>
    [
      patient.weight,
      ...confirmingOf(platform).flatMap(({ band: { weight } }) =>
        [weight.from, weight.to].flatMap((end) => (end ? [end.value - GRAM, end.value, end.value + GRAM] : [])),
      ),
    ]
      .map((weight): Patient => ({ ...patient, ...(weight === undefined ? {} : { weight }) }))
      .filter((each) => holdsPatient(band, each)),
  );

const crewOf = ({ crew }: { readonly crew: readonly { readonly id: string }[] }) => crew.map(({ id }) => id);
const sayLine = (line: object) => ("text" in line ? String(line.text).replace(/^\d+\. /, "") : "");
/** A step as it is said for some patients only, put together here. */
const sayStep = ({ steps }: Changeover, at: number) => {
  const { step, only } = steps[at]!;
  return `${only ? `Only ${only.weight.text}: ` : ""}${sayInstruction(step)}`;
};

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
    const { collection } = forceOn(await readCollection(join(root, folder)), TODAY);
    const { service } = collection;
    // Of two platforms the one on which more is done.
    const platform = collection.platforms.toSorted((a, b) => b.procedures.length - a.procedures.length)[0]!,
      model = modelOf(platform);
    const carried = unpackPlatform(
      JSON.parse(JSON.stringify(packPlatform(platform, service))) as ReturnType<typeof packPlatform>,
    );
    const device = modelOf(carried.platform);
    const plain = model.arrangements.flatMap(({ options }, at) => (options.length === 0 ? [at] : []));
    let answered = 0,
      confirmed = 0,
      some = 0;
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
        const { changeover, cells } = plan,
          patients = someOf(platform, cells),
          patient = patients[three % patients.length]!,
          { weight, age } = patient;
        const told = [
          ...(weight === undefined ? [] : ["--weight", `${exactly(weight, MASS_PER_KG)} kg`]),
          ...(age === undefined ? [] : ["--age", `${exactly(age, AGE_PER_DAY)} days`]),
        ];
        const asked = ["--platform", platform.id, "--from", from.name, "--to", to.name, ...told, "--json"];
        const run = await runHere(["changeover", "--procedures", join(root, folder), ...asked], TODAY);
        expect(run.status, `${asked.join(" ")}: ${run.stderr}`).toBe(0);
        const result = JSON.parse(run.stdout) as {
          seconds: number;
          elapsed: number;
          steps: { procedure: string; step: number }[];
        };
        const forOne = plansBetween(model, service, from, to, patient);
        expect(forOne).toHaveLength(1);
        const exact = forOne[0]!.changeover!;
        expect(result.steps.map(({ procedure, step }) => `${procedure} ${step}`)).toEqual(stepsOf(forOne[0]));
        answered += 1;
        // For one patient exactly what confirms this one; for a group what confirms any, and it says whom if not all.
        const first = confirming(platform, patient),
          isConfirming = (step: string) => step.startsWith(`${platform.confirms?.id} `);
        confirmed += first.length;
        expect(stepsOf(forOne[0])!.slice(0, first.length)).toEqual(first);
        expect(stepsOf(forOne[0])!.filter(isConfirming)).toEqual(first);
        expect(exact.steps.some(({ only }) => only)).toBe(false);
        const asks = patients.map((each) => confirming(platform, each)),
          ofAny = confirmingOf(platform)
            .map(({ procedure, number }) => `${procedure} ${number}`)
            .filter((step) => asks.some((steps) => steps.includes(step)));
        expect(stepsOf(plan)!.slice(0, ofAny.length)).toEqual(ofAny);
        expect(stepsOf(plan)!.filter(isConfirming)).toEqual(ofAny);
        expect(changeover.steps.map(({ only }) => only !== undefined)).toEqual(
          stepsOf(plan)!.map((step) => isConfirming(step) && !asks.every((steps) => steps.includes(step))),
        );
        some += changeover.steps.filter(({ only }) => only).length;
        expect(stepsOf(plan)!.slice(ofAny.length)).toEqual(stepsOf(forOne[0])!.slice(first.length));
        const timeline = planTimeline(exact.steps, crewOf(service), platform, 0),
          carriedPlan = onDevice[plans.indexOf(plan)]!.changeover!,
          groupTimeline = planTimeline(carriedPlan.steps, crewOf(service), carried.platform, 0);
        expect([result.seconds, result.elapsed]).toEqual([
          exact.steps.reduce((sum, { step }) => sum + step.takesSeconds, 0),
          timeline.elapsed,
        ]);
        expect(groupTimeline.elapsed).toBeGreaterThanOrEqual(timeline.elapsed);
        // Nothing else begins before the last of them has ended.
        const ended = Math.max(0, ...timeline.steps.slice(0, first.length).map(({ end }) => end));
        for (const { start } of timeline.steps.slice(first.length)) expect(start).toBeGreaterThanOrEqual(ended);
        // The step-through of a page, led through for this patient, is the one that the device lays out anew.
        const walk = layWalk(carriedPlan, groupTimeline, carried.platform, service.crew, "");
        const others = carriedPlan.steps.flatMap(({ only }, at) =>
          only && !holdsPatient(only, patient) ? [at + 1] : [],
        );
        const apart = ledApart(carriedPlan, groupTimeline, cells, carried.platform, service.crew);
        const led = leaveOut(walk, new Set(others), apart),
          numbers = carriedPlan.steps.map((_, at) => at + 1).filter((number) => !others.includes(number)),
          anew = layWalk(exact, timeline, platform, service.crew, "", numbers);
        // Whom a question is for is said to all, also to those for whom it is.
        const plainly = (said: string) => said.replace(/(?<=, )only [^:]*: ./g, (all) => all.at(-1)!.toLowerCase());
        const stops = ({ stops: all }: typeof walk) =>
          all.map(({ number, procedure, step, start, end, group, who, meanwhile }) => {
            return [number, procedure, step, start, end, group, who, meanwhile.map(plainly)];
          });
        expect(stops(led)).toEqual(stops(anew));
        expect([led.reading?.start, led.reading?.end]).toEqual([anew.reading?.start, anew.reading?.end]);
        if (from.options.length + to.options.length > 0) return;
        // One card for each way, not one for each question: whom a question is for stands before it.
        const paper = changeoverCards(collection, platform)(`${from.name}--${to.name}`);
        expect(paper).toHaveLength(waysBetween(model, service, from, to).filter((each) => each.changeover).length);
        const printed = paper.map(
          (card) =>
            card.parts.flatMap(({ lines }) => lines).filter(({ kind }) => kind !== "pause" && kind !== "alarm").length,
        );
        expect(printed).toEqual(plans.flatMap((each) => each.changeover?.steps.length ?? []));
        const card = paper[plans.filter((each) => each.changeover).indexOf(plan)]!;
        const lines = card.parts[0]!.lines.filter(({ kind }) => kind === "step" || kind === "hold");
        if (ofAny.length > 0) expect(lines.map(sayLine)).toEqual(ofAny.map((_, at) => sayStep(changeover, at)));
        expect(walk.stops.slice(0, ofAny.length).map(({ text }) => text)).toEqual(
          walk.stops.slice(0, ofAny.length).map(({ number }) => sayStep(changeover, number - 1)),
        );
      }),
      // The first two configurations there and back always, so that something is answered whatever is drawn.
      {
        numRuns: folder === "procedures" ? 6 : 25,
        examples: [
          [plain[0]!, plain[1] ?? 0, 0],
          [plain[1] ?? 0, plain[0]!, 1],
        ],
      },
    );
    expect(answered).toBeGreaterThan(0);
    expect(confirmed > 0).toBe(platform.confirms !== undefined);
    expect(some > 0).toBe(platform.confirms !== undefined);
  }, 600_000);
});
