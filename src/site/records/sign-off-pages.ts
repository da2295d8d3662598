/**
 * What the sign-off pages need: lines to be seen, check codes, the earliest revision that stands, and a question at a
 * boundary.
 */
import type { Alert, Configuration, Platform, Procedure } from "../../schema/collection.ts";
import { MASS_PER_LB } from "../../schema/units.ts";
import { criticalChallenges } from "../../domain/cards/card-content.ts";
import { alertsOfPlan } from "../../domain/parts/plan-alerts.ts";
import { earliestStanding } from "../../domain/records/revisions.ts";
import { chainOf, type SeenAgain, wholeOf } from "../../domain/records/signoffs.ts";
import type { Site } from "../site.ts";
import { cardOf } from "../plans/checklists.ts";
import { contentCodeOf } from "./revisions.ts";
import { questionsOf } from "../study/questions.ts";

/** A sign-off record, ready to be drawn. */
interface SignOffRecord {
  readonly title: string;
  readonly code: string;
  readonly revision: number;
  readonly check: string;
  readonly earliest: number;
  readonly lines: readonly SeenAgain[];
  /** The warnings and cautions that stand before each line, by its index; those of a card before its first. */
  readonly dangers: readonly (readonly Alert[])[];
  readonly ask?: { readonly prompt: string; readonly answer: string };
}

/** The record of a procedure or a configuration. A configuration has the check code of its card. */
export function signOffRecord(site: Site, platform: Platform, document: Procedure | Configuration): SignOffRecord {
  const isProcedure = "steps" in document;
  const card = isProcedure ? undefined : cardOf(site, platform, document);
  const asked = isProcedure ? undefined : boundaryQuestion(site, platform, document);
  const { title, code, revision } = document,
    lines = wholeOf(document, () => (card ? criticalChallenges(card.content) : new Set()));
  return {
    title,
    code,
    revision,
    check: card?.code ?? contentCodeOf(site, platform, document),
    earliest: earliestStanding(chainOf(site.collection, document)),
    lines,
    dangers: isProcedure ? dangersBefore(platform, document, lines) : [dangersOf(document)],
    ...(asked ? { ask: { prompt: asked.prompt, answer: asked.key[0]!.text } } : {}),
  };
}

/** What a configuration's card warns of, before its lines. */
function dangersOf({ body }: Configuration): Alert[] {
  return body.flatMap((block) => (block.kind === "alert" && block.signal !== "note" ? [block] : []));
}

/** Warnings and cautions before the steps of a record, with those that stand between a step and the line before it. */
function dangersBefore(platform: Platform, procedure: Procedure, lines: readonly SeenAgain[]): Alert[][] {
  const steps = lines.map(({ step }) => ({ procedure, step: procedure.steps.find(({ number }) => number === step)! }));
  return alertsOfPlan(steps, platform).map(({ between, own }) =>
    [...between, ...own].filter(({ signal }) => signal !== "note"),
  );
}

/**
 * The question, in pounds, nearest to where the arrangement's band meets another one: the ends of what the service
 * carries are nobody's to mix up. `undefined` if none is asked in pounds.
 */
function boundaryQuestion(site: Site, platform: Platform, { id, band }: Configuration) {
  const { from, to } = site.collection.service.band.weight,
    outer = [from?.value, to?.value],
    meets = [band.weight.from, band.weight.to].flatMap((end) =>
      end && !outer.includes(end.value) ? [Number(end.value)] : [],
    );
  const away = (pounds: string) =>
    Math.min(...meets.map((end) => Math.abs(Math.log((parseFloat(pounds) * Number(MASS_PER_LB)) / end))));
  return questionsOf(site, platform)
    .filter(({ kind, source, asks }) => kind === "arrangement" && source.id === id && asks["told"]!.includes("lb"))
    .toSorted((a, b) => (meets.length > 0 ? away(a.asks["told"]!) - away(b.asks["told"]!) : 0))[0];
}
