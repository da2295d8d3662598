/** From the call to ready: band, fetch, changeover, power and gas, card, with the walk to each store. */
import type { Platform, Procedure, Service, Step } from "../../schema/collection.ts";
import type { Changeover } from "../states/changeover.ts";
import { isConfirming } from "../parts/confirming.ts";
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
 * The time from the call to ready, for the patients of a planned changeover: what confirms them first, which the plan
 * begins with; then the rest as the timeline places it: a walk to each store, there and back, by whoever makes the
 * whole shortest, before the first step that takes something from there; then the steps of the changeover. *Power and
 * gas* are the procedures of that phase and the steps that turn a valve, a cable or a switch.
 */
export function callToReady(
  platform: Platform,
  { crew }: Pick<Service, "crew">,
  { steps }: Pick<Changeover, "steps">,
): CallToReady {
  const roles = crew.map(({ id }) => id),
    band = steps.filter((each) => isConfirming(platform, each)),
    rest = steps.filter((each) => !isConfirming(platform, each));
  const fetches = listFetches(rest, platform),
    { places } = lookup(platform),
    stores = [...new Set(fetches.map(({ place }) => place))];
  const walking = stores.map((store) =>
    walkTo(
      platform,
      store,
      fetches.filter(({ place }) => place === store).map(({ item }) => item),
      rest[0],
    ),
  );
  const { steps: timed, elapsed } = planTimeline(
    [...band, ...walking.filter((walk) => walk !== undefined), ...rest],
    roles,
    platform,
  );
  const kinds = new Map(platform.fastenings.map(({ id, kind }) => [id, kind]));
  const stageOf = (planned: PlannedStep): Stage => {
    const { procedure, step } = planned;
    if (isConfirming(platform, planned)) return "band";
    if (walking.some((walk) => walk?.step === step)) return "fetch";
    if (readsCard(step)) return "card";
    return isSupply(step, kinds) || phaseOf(platform, procedure) === "supply" ? "supply" : "changeover";
  };
  return {
    stages: STAGES.flatMap((stage) => {
      const own = timed.filter((each) => stageOf(each) === stage);
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
    seconds: elapsed,
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
