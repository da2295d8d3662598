/**
 * The card of a changeover: its steps in order, procedure by procedure, for those patients for whom they are the same.
 */
import type { Alert, Collection, Platform, Service, Step } from "../schema/collection.ts";
import { sayBand } from "../domain/bands/bands.ts";
import { codeOf } from "../domain/cards/check-code.ts";
import { sayArrangement, sayWay } from "../domain/parts/arrangements.ts";
import { arrangementNamed, type Changeover } from "../domain/states/changeover.ts";
import { sideOf } from "../domain/time/step-rows.ts";
import { type PlannedStep, sayPlanned } from "../domain/parts/reading.ts";
import { hashOf } from "../domain/records/freeze.ts";
import { joinBands } from "../domain/bands/join-bands.ts";
import { modelOf } from "../domain/states/model.ts";
import type { Cell } from "../domain/bands/patients.ts";
import { alertsOfPlan, startsRun, type StepAlerts } from "../domain/parts/plan-alerts.ts";
import { plansBetween } from "../domain/time/plans.ts";
import { viewChangeover, walkOf } from "../domain/time/changeover-view.ts";
import {
  addPauses,
  addressOf,
  type PrintedCard,
  type PrintedLine,
  type PrintedPart,
  titleOnCard,
} from "./printed-card.ts";
import { linesOf, sayDate, sayMinutes, sayRole, sayStatus, sayWho } from "../domain/words/say.ts";
import { isState, sayTurn } from "../domain/words/turns.ts";
import { isPair } from "../domain/words/crew.ts";
import { heard } from "../words/heard.ts";

/**
 * Gives the cards of a pair `from--to` of configurations: one for each different list of steps, none if there is no
 * way.
 */
export type ChangeoverCards = (pair: string) => PrintedCard[];

/**
 * The cards of a platform's changeovers, each worked out when it is asked for. A pair with options
 * (`a+option--b+option`) is printed for one run, on the day that is asked for.
 */
export function changeoverCards(collection: Collection, platform: Platform): ChangeoverCards {
  const model = modelOf(platform);
  return (pair) => {
    const [from, to] = pair.split("--").map((name) => {
      const arrangement = arrangementNamed(model, name);
      return arrangement?.configuration.status === "approved" ? arrangement : undefined;
    });
    if (!from || !to || from === to) return [];
    const hasOptions = from.options.length + to.options.length > 0;
    const run = hasOptions && collection.on ? { onlyOn: collection.on } : {};
    return plansBetween(model, collection.service, from, to).flatMap(({ cells, changeover }) =>
      changeover ? [printChangeover(collection, platform, changeover, cells, run)] : [],
    );
  };
}

/**
 * The card of a changeover for the patients of some cells. Its check code is of what it prints: patients, steps,
 * checks, what is counted, and the walk to the stores. One that is printed for the run of a day (`onlyOn`,
 * `YYYY-MM-DD`) has none, nor has one with a temporary amendment: nobody looks it up later.
 */
export function printChangeover(
  { service }: { readonly service: Pick<Service, "crew" | "site" | "hasSeveral"> },
  platform: Platform,
  changeover: Changeover,
  cells: readonly Cell[],
  { onlyOn }: { readonly onlyOn?: string } = {},
): PrintedCard {
  const { crew } = service;
  const from = arrangementNamed(modelOf(platform), changeover.from),
    to = arrangementNamed(modelOf(platform), changeover.to);
  const items = new Map(platform.items.map(({ id, name }) => [id, name])),
    places = new Map(platform.places.map(({ id, name }) => [id, name]));
  const alerts = alertsOfPlan(changeover.steps, platform);
  const parts = partsOf(changeover.steps, alerts, crew, platform);
  const amendments = [
      ...changeover.steps.flatMap(({ step }) => step.amended?.by ?? []),
      ...alerts.flatMap(({ between, own }) => [...between, ...own]).flatMap(({ amendment }) => amendment ?? []),
    ],
    onlyUntil = amendments.map(({ until }) => until).sort()[0];
  const band = joinBands(cells.map((cell) => cell.band))
    .map(sayBand)
    .join("; ");
  const count = changeover.parts.map((part, at) => ({
    number: at + 1,
    item: items.get(part.item) ?? part.item,
    place: heard("printedCard").fromTo({
      from: places.get(part.from) ?? part.from,
      to: places.get(part.to) ?? part.to,
    }),
    count: part.count,
  }));
  const walk = walkOf(viewChangeover(changeover, platform), platform).map(
    ({ placeName, count: pieces, walkSeconds }) => ({
      place: placeName,
      fetched: [
        heard("toCount").piecesThere({ count: pieces }),
        ...(walkSeconds === undefined ? [] : [heard("toCount").oneWay({ time: sayMinutes(walkSeconds) })]),
      ].join(", "),
    }),
  );
  const [left, right] = crew;
  // It holds since the last of all that it is made of does: its patients, and the card that is read at its end, are the
  // configurations' and options'; steps and warnings may be an amendment's.
  const documents = [
    ...changeover.procedures,
    ...[from, to].flatMap((end) => (end ? [end.configuration, ...end.options] : [])),
  ];
  const effective = [
      ...documents.flatMap((document) => document.effective ?? []),
      ...amendments.map((amendment) => amendment.from),
    ]
      .sort()
      .at(-1),
    reviewBy = documents.flatMap((document) => document.reviewBy ?? []).sort()[0];
  const checkCode = codeOf(
    hashOf({
      platform: platform.id,
      from: changeover.from,
      to: changeover.to,
      band,
      parts,
      count,
      ...(walk.length > 0 ? { walk } : {}),
    }),
  );
  const address = addressOf(service.site, checkCode);
  const notForUse = [from, to].find((arrangement) => arrangement && arrangement.configuration.status !== "approved");
  const [before, after] = [from ? sayArrangement(from) : changeover.from, to ? sayArrangement(to) : changeover.to];
  return {
    id: `${changeover.from}--${changeover.to}`,
    platform: platform.name,
    title: titleOnCard(service, platform, sayWay(before, after)),
    code: heard("printedCard").fromCode({
      fromCode: from?.configuration.code ?? "",
      toCode: to?.configuration.code ?? "",
    }),
    ...(effective ? { effective } : {}),
    ...(reviewBy ? { reviewBy } : {}),
    band,
    ...(onlyUntil ? { onlyUntil } : {}),
    ...(onlyOn ? { onlyOn } : {}),
    ...(onlyOn || onlyUntil ? {} : { checkCode, ...(address ? { address } : {}) }),
    ...(left && right && isPair(crew) ? { leftLooks: sayRole(left.id), rightLooks: sayRole(right.id) } : {}),
    ...(notForUse ? { notForUse: sayStatus(notForUse.configuration.status).toUpperCase() } : {}),
    hasCritical: changeover.steps.some(({ step }) => step.critical),
    parts,
    warnings: [],
    count,
    ...(walk.length > 0 ? { walk } : {}),
    loads: [],
    flows: true,
    complete: heard("printedCard").afterComplete({ after }),
  };
}

/**
 * A part for every run of a procedure, with its code and revision; steps are numbered through, each after its warnings
 * and cautions. Moves and turns are in the instruction's words; a valve, a cable, a brake and a switch are named with
 * the state in which they are left.
 */
function partsOf(
  steps: readonly PlannedStep[],
  alerts: readonly StepAlerts[],
  crew: Collection["service"]["crew"],
  { fastenings }: Pick<Platform, "fastenings">,
): PrintedPart[] {
  const runs: { title: string; lines: PrintedLine[] }[] = [];
  for (const [index, planned] of steps.entries()) {
    const { procedure, step } = planned;
    if (startsRun(steps, index))
      runs.push({
        title: heard("printedCard").revision({
          procedure: procedure.title,
          code: procedure.code,
          revision: procedure.revision,
        }),
        lines: [],
      });
    const lane = sideOf(step.by, crew);
    const who = lane === "free" ? sayWho(step.by, crew) : "";
    const looks = step.checks.map(
      ({ challenge, answer, by }) =>
        `${by.length && !isPair(crew) ? `${sayWho(by, crew)}: ` : ""}${challenge}: ${answer}`,
    );
    const states = step.operations
      .filter((act) => act.kind === "turn")
      .flatMap(({ fastening, to }) =>
        fastenings.filter((each) => each.id === fastening && isState(each)).map((each) => sayTurn(each, to)),
      );
    const { lines } = runs.at(-1)!;
    const number = index + 1,
      { between, own } = alerts[index]!;
    lines.push(...[...between, ...own].flatMap((alert) => alarmOf(alert)));
    if (step.hold)
      lines.push({
        kind: "hold",
        text: `${number}. ${sayPlanned(planned)}${sayAmended(step)}`,
        looks,
        lane,
        aside: [who, ...states].filter(Boolean).join(". "),
      });
    else
      lines.push({
        kind: "step",
        number,
        text: `${sayPlanned(planned)}${sayAmended(step)}`,
        lane,
        critical: step.critical,
        aside: [who, ...states, ...looks].filter(Boolean).join(". "),
      });
  }
  return runs.map(({ title, lines }) => ({ title, lines: addPauses(lines) }));
}

/** Which amendment has this step done in the place of the issued one, and until when; empty for none. */
function sayAmended({ amended }: Step): string {
  return amended
    ? heard("printedCard").temporaryAmendmentUntil({ number: amended.by.number, until: sayDate(amended.by.until) })
    : "";
}

/** What is for injury or damage; a note informs, and is on the page. */
function alarmOf({ signal, children }: Alert): PrintedLine[] {
  return signal === "note" ? [] : [{ kind: "alarm", signal, text: children.flatMap(linesOf).join(" ") }];
}
