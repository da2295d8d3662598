/** Temporary amendments outside the site: the check codes of their slips, where these lie, and who is told. */
import type { Amendment, Collection, Configuration, Folder, Platform } from "../../schema/collection.ts";
import type { SignOff } from "../../schema/sign-off.ts";
import { amendmentsToCome } from "../force/amendments.ts";
import { configurationOf, sayWay } from "../parts/arrangements.ts";
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
  /** The cards over which it lies there: a configuration's by its id, a changeover's by `from--to`. */
  readonly over: readonly Pick<Configuration, "platform" | "id" | "title">[];
}

/**
 * The slips that lie in a folder on a day, or will: those over one of its cards, of a configuration, or of a changeover
 * from or to one, whose steps may be those that the amendment changes.
 */
export function slipsIn(
  { platforms }: Pick<Collection, "platforms">,
  { copies }: Pick<Folder, "copies">,
  day: string,
): LyingSlip[] {
  return platforms.flatMap((platform) =>
    amendmentsToCome(platform, day).flatMap((amendment) => {
      const under = cardsUnder(amendment, platform),
        own = copies.filter((copy) => copy.platform === platform.id).map(({ card }) => card);
      const over = [
        ...under.filter(({ id }) => own.some((card) => configurationOf(card) === id)),
        ...[...new Set(own)].flatMap((pair) => changeoverUnder(platform, pair, under) ?? []),
      ];
      return over.length > 0 ? [{ amendment, code: slipCode(amendment), over }] : [];
    }),
  );
}

/** The changeover that a copy is the card of, if one of its two ends is under an amendment. */
function changeoverUnder(
  { id: on, configurations }: Platform,
  pair: string,
  under: readonly Configuration[],
): LyingSlip["over"][number] | undefined {
  const [from, to, ...more] = pair.split("--").map((end) => configurations.find(({ id }) => id === end));
  if (!from || !to || more.length > 0 || !(under.includes(from) || under.includes(to))) return undefined;
  return { platform: on, id: pair, title: sayWay(from.title, to.title) };
}

/** A temporary amendment with the people who have to be told of it. */
interface ToldAmendment {
  readonly amendment: Amendment;
  /** In alphabetical order, each once. */
  readonly people: readonly string[];
}

/**
 * Who is to be told of the amendments that run on a day or are still to come: whoever is signed off for a procedure
 * that one changes, or for a configuration over whose card its slip lies. An amendment of which nobody is to be told is
 * left out.
 */
export function toldOf(platforms: readonly Platform[], signOffs: readonly SignOff[], day: string): ToldAmendment[] {
  return platforms.flatMap((platform) =>
    amendmentsToCome(platform, day).flatMap((amendment) => {
      const ids = new Set([
        ...amendment.amends.map(({ procedure }) => procedure),
        ...cardsUnder(amendment, platform).map(({ id }) => id),
      ]);
      const people = signOffs
        .filter(({ document }) => document.platform === platform.id && ids.has(document.id))
        .map(({ person }) => person);
      return people.length > 0 ? { amendment, people: [...new Set(people)].sort() } : [];
    }),
  );
}
