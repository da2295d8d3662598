/** The omission proof as plain values, for `data/` and for pages. */
import type { Model } from "../states/model.ts";
import { silenceReason } from "./ends.ts";
import { type Outcome, proveSlips, type SlipCarrier, type SlipRow } from "./prove.ts";

/** The rows and cards of a platform's omission proof; ids, challenges and seconds. */
export function slipsResult(model: Model, service: SlipCarrier) {
  const { rows, cards, changeovers, complete } = proveSlips(model, service);
  return {
    platform: model.platform.id,
    changeovers,
    complete,
    slips: rows.map(slipResult),
    cards: cards.map(({ configuration, lines, slips, seen, sees, idle, cover }) => ({
      configuration,
      lines: lines.map(({ challenge }) => challenge),
      slips,
      seen,
      sees,
      idle: idle.map(({ challenge }) => challenge),
      enough: cover.lines.map((at) => lines[at]!.challenge),
      isLeast: cover.isLeast,
      atLeast: cover.atLeast,
    })),
  };
}

function slipResult(row: SlipRow) {
  const { slip, outcomes, worst } = row,
    { context, noticed } = worst,
    reason = silenceReason(row);
  const { procedure, step, operation, kind } = slip,
    act = step.operations[operation]!;
  return {
    procedure: procedure.id,
    step: step.number,
    act:
      act.kind === "turn"
        ? { turn: act.fastening, to: act.to }
        : { move: act.item, count: act.count, from: act.from, to: act.to },
    slip: kind,
    critical: step.critical,
    outcomes: Object.fromEntries(Object.entries(outcomes).filter(([, count]) => count > 0)) as Partial<
      Record<Outcome, number>
    >,
    worst: {
      ...context,
      outcome: noticed.outcome,
      ...(noticed.at ? { procedure: noticed.at.procedure.id, step: noticed.at.step.number } : {}),
      ...(noticed.check ? { line: noticed.check.challenge } : {}),
      ...(noticed.onCard ? { card: true } : {}),
      by: noticed.by,
      afterSeconds: noticed.afterSeconds,
    },
    ...(reason ? { reason } : {}),
  };
}
