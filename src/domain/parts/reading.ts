/** The reading of the card: every changeover ends with it, once, whatever its procedures say. */
import type { Band, Configuration, Crew, Procedure, Step } from "../../schema/collection.ts";
import { DEFAULT_STEP_SECONDS } from "../../schema/units.ts";
import { lowerFirst } from "../../schema/wording.ts";
import type { Arrangement } from "./arrangements.ts";
import { remember } from "../words/remember.ts";
import { sayBand } from "../bands/bands.ts";
import { paragraphOf, sayInstruction } from "../words/say.ts";
import { heard } from "../../words/heard.ts";

/** A step of a changeover, with the procedure that is run (not the included one that wrote it). */
export interface PlannedStep {
  readonly procedure: Procedure;
  readonly step: Step;
  /** The patients for whom the step is, where that is not everybody for whom the changeover is planned. */
  readonly only?: Band;
}

/** The instruction of a step, with whom it is for: `Only from 4.5 kg to under 5.5 kg: Ask for a weight of today.` */
export function sayPlanned({ step, only }: Pick<PlannedStep, "step" | "only">): string {
  return `${only ? heard("readingOfCard").only({ only: sayBand(only) }) : ""}${sayInstruction(step)}`;
}

/** Whether a step only reads the card: it says `::card`, and moves and turns nothing. */
export function readsCard({ readsCard: where, operations }: Pick<Step, "readsCard" | "operations">): boolean {
  return where !== undefined && operations.length === 0;
}

/**
 * The steps of a changeover with the reading of its arrangement's card at the end. Steps that read the card on the way
 * are left out; the last of them is the reading, in its author's words. Where none does, the tool adds one that holds
 * everybody.
 */
export function endWithReading(
  steps: readonly PlannedStep[],
  { configuration }: Arrangement,
  crew: readonly Pick<Crew, "id">[],
): PlannedStep[] {
  const written = steps.findLast(({ step }) => readsCard(step));
  return [...steps.filter(({ step }) => !readsCard(step)), written ?? readingOf(configuration, crew)];
}

/** Before the configuration's id, in place of the id of a procedure. */
const CARD = "card/";

/** Before a procedure's id where its steps are walked back, as nobody has written it. */
export const BACK = "back/";

/**
 * Where to read about a procedure of a changeover, from the site's root: its page, also for steps of it that are walked
 * back, or the card for the reading.
 */
export function pageOfProcedure(platform: string, id: string): string {
  if (id.startsWith(CARD)) return `${platform}/cards/${id.slice(CARD.length)}/`;
  return `${platform}/procedures/${writtenOf(id).procedure}/`;
}

/** The written procedure in whose name a step of a plan stands, and whether that step is one of it walked back. */
export function writtenOf(id: string): { readonly procedure: string; readonly isBack: boolean } {
  return id.startsWith(BACK) ? { procedure: id.slice(BACK.length), isBack: true } : { procedure: id, isBack: false };
}

/** The reading that the tool adds: a procedure of one step, whose id is that of no file. */
const readingOf = /* @__PURE__ */ remember(
  (configuration: Configuration, crew: readonly Pick<Crew, "id">[]): PlannedStep => {
    const { where, at, title, code, revision, file, band } = configuration;
    const located = { where, at };
    const say = (text: string) => paragraphOf(text, where);
    const step: Step = {
      ...located,
      kind: "step",
      number: 1,
      procedure: `${CARD}${configuration.id}`,
      by: crew.map(({ id }) => id),
      critical: false,
      hold: true,
      photos: [],
      takesSeconds: DEFAULT_STEP_SECONDS,
      takesGiven: false,
      band,
      after: [],
      guards: [],
      alerts: [],
      alertsAfter: [],
      instruction: say(heard("readingOfCard").readTheCardAloud({ title: lowerFirst(title) })),
      detail: [say(heard("readingOfCard").withTheLines)],
      operations: [],
      checks: [],
      readsCard: where,
    };
    const procedure: Procedure = {
      ...located,
      id: `${CARD}${configuration.id}`,
      platform: configuration.platform,
      file,
      title: heard("readingOfCard").readTheCard,
      code,
      revision,
      status: configuration.status,
      changes: [],
      band,
      purpose: [],
      sections: [],
      steps: [step],
    };
    return { procedure, step };
  },
);
