/** Rule plan/silent-slip. */
import { modelOf } from "../../domain/states/model.ts";
import { isUnexplained } from "../../domain/slips/ends.ts";
import { proveSlips, type SlipRow } from "../../domain/slips/prove.ts";
import { type Rule, whereOf } from "../../findings/finding.ts";
import type { Operation, Step } from "../../schema/collection.ts";
import { isProved } from "../proof.ts";

/** A slip at a safety-critical step is noticed by somebody. */
export const silentSlip: Rule = {
  id: "plan/silent-slip",
  severity: "warning",
  asks:
    "When an act of a safety-critical step is left out, done to a piece too few or turned half, somebody notices; " +
    "or the step says in `unnoticed` why nobody can, and what stands instead.",
  why:
    "What stops nobody, is on no later line and changes no count stays wrong until it matters. Reminders belong " +
    "where a step can be left out without the task stopping.",
  source: "Reason 2002, Combating omission errors through task analysis and good reminders, Qual Saf Health Care 11:40",
  byPlatform: true,
  check(collection, report, context) {
    for (const platform of collection.platforms) {
      if (!isProved(platform, collection, context)) continue;
      const bySteps = new Map<Step, SlipRow[]>();
      const { rows: all, complete } = proveSlips(modelOf(platform), collection.service);
      for (const row of all)
        if (isUnexplained(row)) bySteps.set(row.slip.step, [...(bySteps.get(row.slip.step) ?? []), row]);
      const told = new Set<string>();
      for (const [step, rows] of bySteps) {
        const key = JSON.stringify(step.where);
        if (told.has(key)) continue;
        told.add(key);
        const first = rows[0]!,
          subject = thingOf(step.operations[first.slip.operation]!),
          { from, to } = first.worst.context;
        report(step.where, {
          message:
            `Nobody notices when ${sayActs(rows)}: no later act, line or count depends on it ` +
            (from === to ? `(done alone, with \`${from}\`)` : `(for example from \`${from}\` to \`${to}\`)`),
          fix:
            `Add a \`::check\` that is about \`${subject}\` to a later step or to the card, or name it in \`about\` ` +
            "of a line that looks at it; if nobody can look, say why, and what stands instead, in `unnoticed` of " +
            "the step",
        });
      }
      if (complete) for (const step of needlessReasons(all)) report(whereOf(step, "unnoticed"), NEEDLESS);
    }
  },
};

const NEEDLESS = {
  message: "`unnoticed` gives a reason, but every slip of this step is noticed",
  fix: "Take `unnoticed` out: whoever reads it would believe that nobody looks",
};

/** Steps with a reason for what does not happen: none of their slips is silent. Each once. */
function needlessReasons(rows: readonly SlipRow[]): Step[] {
  const placeOf = ({ where }: Step) => JSON.stringify(where);
  const silent = new Set(rows.filter(({ outcomes }) => outcomes.silent > 0).map(({ slip }) => placeOf(slip.step)));
  const reasoned = rows.map(({ slip }) => slip.step).filter(({ unnoticed }) => unnoticed !== undefined);
  return [...new Map(reasoned.map((step) => [placeOf(step), step])).values()].filter(
    (step) => !silent.has(placeOf(step)),
  );
}

/** What the slips of a step come to: each act once, with the ways in which it goes wrong unnoticed. */
function sayActs(rows: readonly SlipRow[]): string {
  const acts = [...new Set(rows.map(({ slip }) => slip.operation))].map((at) => {
    const own = rows.filter(({ slip }) => slip.operation === at);
    const ways = own.map(({ slip }) => (slip.kind === "one too few" ? "done to one piece too few" : slip.kind));
    return `${sayAct(own[0]!.slip.step.operations[at]!)} is ${ways.join(" or ")}`;
  });
  return acts.join(", or ");
}

function sayAct(operation: Operation): string {
  return operation.kind === "turn"
    ? `the turn of \`${operation.fastening}\` to \`${operation.to}\``
    : `the move of \`${operation.item}\` to \`${operation.to}\``;
}

const thingOf = (operation: Operation): string => (operation.kind === "turn" ? operation.fastening : operation.item);
