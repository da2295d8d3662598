/** The slips of temporary amendments: their check codes, and which of them lie in a folder. */
import type { Amendment, Collection, Configuration, Folder } from "../../schema/collection.ts";
import { amendmentsToCome } from "../force/amendments.ts";
import { hashOf } from "../records/freeze.ts";
import { linesOf, sayInstruction } from "../words/say.ts";
import { cardsUnder } from "./cards-under.ts";
import { codeOf } from "./check-code.ts";

/** The check code of a slip: of its number, days, what it is about, and every word of it. */
export function slipCode({ number, title, reason, from, until, amends, out, alerts, steps, body }: Amendment): string {
  return codeOf(
    hashOf({
      number,
      title,
      reason,
      from,
      until,
      amends: amends.map(({ procedure, revision }) => ({ procedure, revision })),
      out: out.map(({ id }) => id),
      alerts: alerts.map((alert) => ({ signal: alert.signal, lines: linesOf(alert) })),
      steps: steps.map((step) => ({
        replaces: step.replaces?.id ?? "",
        by: step.by,
        critical: step.critical,
        hold: step.hold,
        text: sayInstruction(step),
        lines: [...step.alerts, ...step.alertsAfter, ...(step.reason ? [step.reason] : []), ...step.detail].flatMap(
          linesOf,
        ),
        acts: step.operations.map((act) =>
          act.kind === "move" ? [act.item, String(act.count), act.from, act.to] : [act.fastening, act.to],
        ),
        checks: step.checks.map(({ challenge, answer }) => [challenge, answer]),
      })),
      body: body.flatMap(linesOf),
    }),
  );
}

/** The slip of an amendment in a folder. */
export interface LyingSlip {
  readonly amendment: Amendment;
  /** Its check code. */
  readonly code: string;
  /** Configurations over whose cards it lies there. */
  readonly over: readonly Configuration[];
}

/** The slips that lie in a folder on a day, or will: those over one of its cards of a configuration. */
export function slipsIn(
  { platforms }: Pick<Collection, "platforms">,
  { copies }: Pick<Folder, "copies">,
  day: string,
): LyingSlip[] {
  return platforms.flatMap((platform) =>
    amendmentsToCome(platform, day).flatMap((amendment) => {
      const over = cardsUnder(amendment, platform).filter(({ id }) =>
        copies.some((copy) => copy.platform === platform.id && copy.card.split("+")[0] === id),
      );
      return over.length > 0 ? [{ amendment, code: slipCode(amendment), over }] : [];
    }),
  );
}
