/** From the call to ready: band, fetch, changeover, power and gas, card, with the walk to each store. */
import type { Platform, Procedure, Service, Step } from "../../schema/collection.ts";
import type { Patient } from "../bands/bands.ts";
import type { Changeover } from "../states/changeover.ts";
import { confirmingOf } from "../parts/confirming.ts";
import { listFetches } from "../states/counts.ts";
import { lookup } from "../parts/lookup.ts";
import { phaseOf } from "../parts/phase.ts";
import { type PlannedStep, readsCard } from "../parts/reading.ts";
import { planTimeline } from "../time/timeline.ts";

type Stage = "band" | "fetch" | "changeover" | "supply" | "card";

/** The stages in the order in which they begin. */
const STAGES: readonly Stage[] = ["band", "fetch", "changeover", "supply", "card"];

/** When the steps of a stage begin and end, in seconds from the call. Stages may overlap: one fetches, one strips. */
interface CallStage {
  readonly stage: Stage;
  readonly start: number;
  readonly end: number;
  readonly steps: number;
}

interface CallToReady {
  /** Those that have a step. */
  readonly stages: readonly CallStage[];
  /** Seconds from the call to the card that has been read. */
  readonly seconds: number;
  /** Stores walked to, in walking order; `walkSeconds` one way, absent where the platform says none: then 0 counts. */
  readonly walks: readonly { readonly store: string; readonly walkSeconds?: number }[];
}

/**
 * The time from the call to ready. The band is confirmed first, by its own steps for this patient; then the crew does
 * the rest as the timeline places it: a walk to each store, there and back, by whoever makes the whole shortest, before
 * the first step that takes something from there; then the steps of the changeover. *Power and gas* are the procedures
 * of that phase and the steps that turn a valve, a cable or a switch.
 */
export function callToReady(
  platform: Platform,
  { crew }: Pick<Service, "crew">,
  { steps }: Pick<Changeover, "steps">,
  patient: Patient = {},
): CallToReady {
  const roles = crew.map(({ id }) => id);
  const band = planTimeline(confirmingSteps(platform, crew, patient), roles, platform);
  const fetches = listFetches(steps, platform),
    { places } = lookup(platform),
    stores = [...new Set(fetches.map(({ place }) => place))];
  const walking = stores.map((store) =>
    walkTo(
      platform,
      store,
      fetches.filter(({ place }) => place === store).map(({ item }) => item),
      steps[0],
    ),
  );
  const rest = planTimeline([...walking.filter((walk) => walk !== undefined), ...steps], roles, platform);
  const kinds = new Map(platform.fastenings.map(({ id, kind }) => [id, kind]));
  const stageOf = ({ procedure, step }: PlannedStep): Stage =>
    walking.some((walk) => walk?.step === step)
      ? "fetch"
      : readsCard(step)
        ? "card"
        : isSupply(step, kinds) || phaseOf(platform, procedure) === "supply"
          ? "supply"
          : "changeover";
  const timed = [
    ...band.steps.map(({ start, end }) => ({ stage: "band" as const, start, end })),
    ...rest.steps.map((each) => ({
      stage: stageOf(each),
      start: band.elapsed + each.start,
      end: band.elapsed + each.end,
    })),
  ];
  return {
    stages: STAGES.flatMap((stage) => {
      const own = timed.filter((each) => each.stage === stage);
      if (own.length === 0) return [];
      return [
        {
          stage,
          start: Math.min(...own.map(({ start }) => start)),
          end: Math.max(...own.map(({ end }) => end)),
          steps: own.length,
        },
      ];
    }),
    seconds: band.elapsed + rest.elapsed,
    walks: stores.map((store) => {
      const { walkSeconds } = places.get(store)!;
      return { store, ...(walkSeconds === undefined ? {} : { walkSeconds }) };
    }),
  };
}

function isSupply({ operations }: Step, kinds: ReadonlyMap<string, string | undefined>): boolean {
  return operations.some(
    (operation) =>
      operation.kind === "turn" && ["valve", "lead", "switch"].includes(kinds.get(operation.fastening) ?? ""),
  );
}

/** The steps that confirm the band of a patient, as they are run; empty if no procedure in force does. */
function confirmingSteps(platform: Platform, crew: Service["crew"], patient: Patient): PlannedStep[] {
  const confirming = confirmingOf(platform, crew, patient),
    procedure = confirming && lookup(platform).procedures.get(confirming.procedure.id);
  if (!procedure) return [];
  const numbers = new Set(confirming.steps.map(({ number }) => number));
  return procedure.steps.filter(({ number }) => numbers.has(number)).map((step) => ({ procedure, step }));
}

/**
 * A walk to a store and back as a step that the timeline can place: tied to all that takes the same items, done by
 * whoever is free. `undefined` where no way is given.
 */
function walkTo(
  platform: Platform,
  store: string,
  items: readonly string[],
  like: PlannedStep | undefined,
): PlannedStep | undefined {
  const place = lookup(platform).places.get(store);
  if (!place?.walkSeconds || !like) return undefined;
  const { where, at } = place;
  const id = `walk/${store}`;
  const step: Step = {
    kind: "step",
    where,
    at,
    number: 1,
    procedure: id,
    by: [],
    critical: false,
    hold: false,
    photos: [],
    takesSeconds: 2 * place.walkSeconds,
    takesGiven: true,
    band: like.step.band,
    after: [],
    guards: [],
    alerts: [],
    alertsAfter: [],
    instruction: { kind: "paragraph", children: [], where },
    detail: [],
    // It moves nothing: it ties what is fetched to what takes it from there.
    operations: items.map((item) => ({ kind: "move", item, count: 1, from: store, to: store, where, at })),
    checks: [],
  };
  const procedure: Procedure = {
    ...like.procedure,
    id,
    title: place.name,
    purpose: [],
    sections: [],
    steps: [step],
  };
  return { procedure, step };
}
