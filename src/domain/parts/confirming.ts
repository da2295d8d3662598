/**
 * What confirms the patient and the band before anything is chosen or moved: the steps of one procedure, for exactly
 * this patient.
 */
import type { Alert, Band, Crew, Platform, Procedure, Step } from "../../schema/collection.ts";
import { holdsPatient, meetBands, type Patient, shareOf } from "../bands/bands.ts";
import { linesOf, plainText, sayInstruction, sayWho } from "../words/say.ts";
import { lookup } from "./lookup.ts";
import { alertsBefore } from "./plan-alerts.ts";
import type { PlannedStep } from "./reading.ts";
import { heard } from "../../words/heard.ts";

/** A step in plain words, whole: what is done, by whom, why, and what is asked and answered. */
export interface ConfirmingStep {
  readonly number: number;
  readonly band: Band;
  readonly who: string;
  readonly critical: boolean;
  readonly hold: boolean;
  readonly text: string;
  readonly detail: readonly string[];
  readonly reason?: string;
  readonly alerts: readonly { readonly signal: Alert["signal"]; readonly text: string }[];
  readonly checks: readonly { readonly challenge: string; readonly answer: string; readonly who: string }[];
}

/** The procedure that confirms, with its steps for some patients. */
interface Confirming {
  readonly procedure: Pick<Procedure, "id" | "title" | "code">;
  readonly steps: readonly ConfirmingStep[];
}

/** The procedure that `confirms` names; `undefined` if none is named, or the one named is not in force. */
function confirmingProcedure(platform: Pick<Platform, "confirms" | "procedures">): Procedure | undefined {
  const procedure = platform.procedures.find(({ id }) => id === platform.confirms?.id);
  return procedure?.status === "approved" ? procedure : undefined;
}

/**
 * Whether a step is one with which a changeover confirms its patients. What confirms turns and moves nothing: a
 * procedure that does is one of those that lead from one state to another, and stands where the plan needs it.
 */
export function isConfirming(
  { confirms }: Pick<Platform, "confirms">,
  { procedure }: Pick<PlannedStep, "procedure">,
): boolean {
  return procedure.id === confirms?.id && procedure.steps.every(({ operations }) => operations.length === 0);
}

/** The steps of the procedure that confirms, each with the patients for whom it is; those for nobody are left out. */
function stepsOf(platform: Platform, procedure: Procedure): { readonly step: Step; readonly band: Band }[] {
  const { procedures } = lookup(platform);
  return procedure.steps.flatMap((step) => {
    const own = procedures.get(step.procedure)?.band ?? procedure.band,
      within = meetBands(procedure.band, own),
      band = within && meetBands(step.band, within);
    return band ? [{ step, band }] : [];
  });
}

/**
 * What a changeover for some patients begins with: the steps that confirm any of them, in order, each with whom it is
 * for where that is not all of them. Empty if nothing confirms.
 */
export function confirmingSteps(platform: Platform, whom: readonly Band[]): PlannedStep[] {
  const procedure = confirmingProcedure(platform);
  if (!procedure || !isConfirming(platform, { procedure })) return [];
  return stepsOf(platform, procedure).flatMap(({ step, band }) => {
    const shares = whom.map((each) => shareOf(band, each));
    if (shares.every((share) => share === "none")) return [];
    return [{ procedure, step, ...(shares.every((share) => share === "all") ? {} : { only: band }) }];
  });
}

/**
 * The procedure that confirms, with its steps for a patient; what is not known of the patient leaves none out.
 * `undefined` if there is none.
 */
export function confirmingOf(platform: Platform, crew: readonly Crew[], patient: Patient = {}): Confirming | undefined {
  const { procedures } = lookup(platform),
    procedure = confirmingProcedure(platform);
  if (!procedure) return undefined;
  const placed = alertsBefore(procedure, procedures);
  const say = ({ signal, children }: Alert) => ({ signal, text: children.flatMap(linesOf).join(" ") });
  const steps = stepsOf(platform, procedure).map(({ step, band }): ConfirmingStep => {
    const before = placed.filter(({ number }) => number === step.number).map(({ alert }) => alert);
    return {
      number: step.number,
      band,
      who: sayWho(step.by, crew),
      critical: step.critical,
      hold: step.hold,
      text: sayInstruction(step),
      detail: step.detail.flatMap(linesOf),
      ...(step.reason ? { reason: plainText(step.reason.children) } : {}),
      alerts: [...before, ...step.alerts, ...step.alertsAfter].map(say),
      checks: step.checks.map(({ challenge, answer, by }) => ({
        challenge,
        answer,
        who: by.length ? sayWho(by, crew) : "",
      })),
    };
  });
  const { id, title, code } = procedure;
  return { procedure: { id, title, code }, steps: stepsOfPatient(steps, patient) };
}

/** Those of the steps that are for a patient, in order. */
export function stepsOfPatient<S extends Pick<ConfirmingStep, "band">>(steps: readonly S[], patient: Patient): S[] {
  return steps.filter(({ band }) => holdsPatient(band, patient));
}

/** The confirming procedure as lines of text, for a command. */
export function sayConfirming({ procedure, steps }: Confirming): readonly string[] {
  return [
    heard("confirming").confirmFirst({ procedure: procedure.title, code: procedure.code }),
    ...steps.flatMap(({ number, who, text, detail, reason, alerts, checks, critical, hold }) => [
      ...alerts.map((alert) => `      ${alert.signal.toUpperCase()}: ${alert.text}`),
      [
        `  ${String(number).padStart(2)}. ${who}`,
        ...(critical ? [heard("confirming").safetyCritical] : []),
        ...(hold ? [heard("confirming").hold] : []),
        `: ${text}`,
      ].join(""),
      ...detail.map((line) => `      ${line}`),
      ...(reason ? [heard("confirming").why({ reason })] : []),
      ...checks.map((check) => `      ${check.challenge}? ${check.answer}${check.who ? ` (${check.who})` : ""}`),
    ]),
  ];
}

/** The confirming procedure and the numbers of its steps, as JSON gives them. */
export function stepsToConfirm({ procedure, steps }: Confirming): {
  readonly procedure: string;
  readonly steps: readonly number[];
} {
  return { procedure: procedure.id, steps: steps.map(({ number }) => number) };
}
