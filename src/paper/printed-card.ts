/**
 * Everything that a printed card says, in the order in which it is read: what `card-content.ts` covers by the check
 * code, and the few things beside it.
 */
import type { Band, Collection, Configuration, Crew, Platform, Range, Service } from "../schema/collection.ts";
import { type Arrangement, validArrangements } from "../domain/parts/arrangements.ts";
import { arrangementNeeded } from "../domain/parts/lookup.ts";
import { bandCardsOf, contentForArrangement, contentForBand, isSameBand } from "../domain/cards/band-cards.ts";
import { covers, kgOf, meetBands, sayBand, sayOnly } from "../domain/bands/bands.ts";
import { cardContentOf, type CardContent, type CardLine, readDanger } from "../domain/cards/card-content.ts";
import { addressOfCode } from "../domain/cards/check-address.ts";
import { type CodedCard, type CodeOf, contentsInForce } from "../domain/cards/cards-issued.ts";
import type { ConfigurationContent } from "../domain/records/content.ts";
import {
  type ChecklistPart,
  layChecklist,
  notesOfReplaced,
  numberLines,
  sayAlways,
  sayOptionHead,
} from "../domain/cards/checklist.ts";
import { type Side, sideOf } from "../domain/time/step-rows.ts";
import { fixed } from "../drawing/axes.ts";
import { findLoadEnds } from "../drawing/drawing-load.ts";
import { layoutPlan, type PlanBox } from "../drawing/drawing-plan.ts";
import { withoutProcedures } from "../domain/parts/without-procedures.ts";
import { contentOf, hashOf } from "../domain/records/freeze.ts";
import { resultOf, type Told, noteReads } from "../domain/words/reads.ts";
import { rememberInForce } from "../domain/force/in-force.ts";
import { remember } from "../domain/words/remember.ts";
import { lowerFirst, smallFirst } from "../schema/wording.ts";
import { cardWith, codeOfInk, editionOn, editionsOf, type Ink } from "../domain/cards/editions.ts";
import { formatFor } from "./card-format.ts";
import { listRows } from "../domain/load/load-rows.ts";
import { layRail, placeOnRail, type Rail } from "../drawing/rail.ts";
import { capital, sayDecimal, sayOptionTitles, sayRole, sayStatus, sayWho } from "../domain/words/say.ts";
import { isPair } from "../domain/words/crew.ts";
import { heard, heardFor } from "../words/heard.ts";

/** A line with its number, its lane and its words; `aside` is what stands below it in smaller type. */
export type PrintedLine =
  | {
      readonly kind: "check";
      readonly number: number;
      readonly challenge: string;
      readonly answer: string;
      readonly lane: Side;
      readonly critical: boolean;
      readonly aside: string;
    }
  | {
      readonly kind: "hold";
      readonly text: string;
      readonly looks: readonly string[];
      readonly lane: Side;
      readonly aside: string;
    }
  | {
      readonly kind: "step";
      readonly number: number;
      readonly text: string;
      readonly lane: Side;
      readonly critical: boolean;
      readonly aside: string;
    }
  | { readonly kind: "alarm"; readonly signal: "warning" | "caution"; readonly text: string }
  | { readonly kind: "pause"; readonly text: string };

/**
 * Lines that belong together under a heading; an option's say for whom the option is where that is not everybody on the
 * card.
 */
export interface PrintedPart {
  readonly title?: string;
  readonly only?: string;
  /** What the option changes in the count, on a card on which options stand apart; absent if nothing. */
  readonly count?: readonly PrintedChange[];
  readonly lines: readonly PrintedLine[];
}

/** Pieces in a place, to be counted out before and in after. */
export interface PrintedCount {
  readonly number: number;
  readonly item: string;
  readonly place: string;
  readonly count: number;
}

/** Pieces in a place while an option is fitted: so many in the place of those of the count; 0 for none there. */
export type PrintedChange = Omit<PrintedCount, "number">;

/** The plan with the numbers of the counted things; millimetres as in `Plan`. */
export interface PrintedPlan {
  readonly fromMm: number;
  readonly toMm: number;
  readonly halfWidthMm: number;
  readonly unit: number;
  readonly boxes: readonly (Pick<PlanBox, "x" | "y" | "width" | "height" | "apart"> & { readonly fitted: boolean })[];
  readonly numbers: readonly { readonly number: number; readonly x: number; readonly y: number }[];
  /** What is read aloud of it, and what stands at its left end. */
  readonly label: string;
  readonly head: string;
}

/** All that is printed on a card, in the order in which it is read; lines and counts are numbered from 1. */
export interface PrintedCard {
  readonly id: string;
  readonly platform: string;
  readonly title: string;
  readonly code: string;
  /** Absent for a changeover, whose procedures have their own. */
  readonly revision?: number;
  /** `DRAFT`, `IN REVIEW` or `WITHDRAWN`, printed across every side; absent for a card that may be used. */
  readonly notForUse?: string;
  readonly effective?: string;
  readonly reviewBy?: string;
  /** The day of the one run that it is printed for; then it has no check code and is no card of a folder. */
  readonly onlyOn?: string;
  /** The last day of a temporary amendment that it holds: it has no check code either, and is destroyed after it. */
  readonly onlyUntil?: string;
  readonly band: string;
  /** Whether it is only for some of the configuration's patients. */
  readonly isPart?: boolean;
  readonly weight?: Range;
  readonly rail?: Rail;
  readonly checkCode?: string;
  /**
   * Titles of the options with which it is the card, in their order; absent on a configuration's own card, on which
   * every option stands apart.
   */
  readonly fitted?: readonly string[];
  /** For what count, masses and drawing stand where options stand apart: `with no option`. */
  readonly standsFor?: string;
  /** Number of the frozen edition; absent while it was never frozen. */
  readonly edition?: number;
  /**
   * What the QR code says: in capitals as far as addresses allow, because these take the least room. Absent if the
   * service has no site.
   */
  readonly address?: string;
  readonly leftLooks?: string;
  readonly rightLooks?: string;
  readonly hasCritical: boolean;
  readonly parts: readonly PrintedPart[];
  readonly warnings: readonly { readonly signal: "warning" | "caution"; readonly text: string }[];
  readonly count: readonly PrintedCount[];
  /** Stores in the order of the walk, and how much is fetched there; absent where they are not two or more. */
  readonly walk?: readonly { readonly place: string; readonly fetched: string }[];
  readonly loads: readonly { readonly label: string; readonly kg: string; readonly mm: string }[];
  readonly plan?: PrintedPlan;
  /**
   * Who is never without an option, where options stand apart: `Under 2.5 kg: never without roll supports.` Said where
   * the own lines end, since "if none" would pass for them; `nobody` if no patient of the card goes without.
   */
  readonly bare?: { readonly said: readonly string[]; readonly nobody: boolean };
  /** One part follows the other over as many sides as they need; otherwise all parts but the first are for options. */
  readonly flows?: boolean;
  /** Said aloud when the last line is answered. */
  readonly complete: string;
}

/**
 * Most lines between two pauses (Gawande, Boorman, Berry, A Checklist for Checklists, 2010: fewer than ten items a
 * pause point).
 */
export const MOST_LINES = 9;

/** How a card is printed. */
interface PrintOptions {
  /** Only for these patients, who all have the same lines: an elementary band of the configuration. */
  readonly band?: Band;
  /** Only for this arrangement of the configuration: its lines, count and drawing with these options fitted. */
  readonly arrangement?: Arrangement;
  /** As a proposal would make it: marked on every side, without edition, day and check code. */
  readonly proposed?: boolean;
}

/** What stands across every side of a card that a proposal would make. */
function proposedMark(): string {
  return heard("printedCard").proposed;
}

/**
 * The card of a configuration in force (`forceOn`), or of one of its elementary bands; that of one which is not in
 * force, or of a proposal, is marked as not for use and has no check code. The card of one arrangement has edition and
 * check code of the card that it is made from, which cover it: what changes with each option is part of that card.
 */
export function printCard(
  collection: Collection,
  platform: Platform,
  configuration: Configuration,
  { band: part, arrangement, proposed = false }: PrintOptions = {},
): PrintedCard {
  const own = contentOf(configuration, platform) as ConfigurationContent,
    contents = contentsInForce(platform);
  const known = part && bandCardsOf(own, contents).find(({ band }) => isSameBand(band, part));
  const content = known?.content ?? (part ? contentForBand(own, part, contents) : cardContentOf(own, contents));
  const isIssued = configuration.status === "approved" && (!part || known !== undefined);
  const { service } = collection,
    band = known?.band ?? part,
    coded: CodedCard = { platform, configuration: configuration.id, content, ...(band ? { band } : {}) };
  const card = arrangement?.options.length
    ? makeCard(
        service,
        withoutProcedures(platform),
        configuration,
        contentForArrangement(own, contents, arrangement, band),
        band,
        arrangement,
      )
    : printWhole(service, coded).card;
  if (proposed) {
    const { effective: _day, ...rest } = card;
    return { ...rest, notForUse: proposedMark() };
  }
  if (!isIssued) return card;
  const { code, edition, from } = printedCodes(collection)(coded);
  const address = addressOf(service.site, code);
  return {
    ...card,
    checkCode: code,
    ...(edition === undefined ? {} : { edition }),
    ...(from ? { effective: from } : {}),
    ...(address ? { address } : {}),
  };
}

/**
 * Gives the check codes of a collection's cards: each of everything that is printed on it, edition and day included. A
 * card that prints what its edition in force froze has the code, the number and the day of that.
 */
export const printedCodes: (collection: Collection) => CodeOf = /* @__PURE__ */ rememberInForce(
  (collection: Collection): CodeOf =>
    (coded) => {
      const { platform, configuration, content, band, day } = coded;
      const { ink } = printWhole(collection.service, coded);
      const edition = editionOn(editionsOf(collection, platform.id, configuration), day ?? collection.on);
      const frozen = edition && cardWith(edition, ink, band);
      if (edition && frozen) return { code: frozen.code, edition: edition.edition, from: edition.effective };
      return { code: codeOfInk(ink, undefined, content.effective) };
    },
);

/** Everything that is printed on a card but edition, day and code. */
export function inkOfCard(service: Service, coded: CodedCard): Ink {
  return printWhole(service, coded).ink;
}

interface Whole {
  readonly card: PrintedCard;
  readonly ink: Ink;
}

/** The cards of a service on one platform, by all that they are made from beside it. */
const printed = /* @__PURE__ */ remember((_service: Service, _platform: Platform) => new Map<string, Told<Whole>>());

/**
 * A card as it is printed, without code and address, and its ink; made once. Of the platform it reads all but the
 * procedures, whose part in it is the content: an issue of a procedure leaves the cards that it does not change as they
 * are known.
 */
function printWhole(service: Service, { platform: own, configuration: id, content, band }: CodedCard): Whole {
  const platform = withoutProcedures(own),
    known = printed(service, platform),
    key = JSON.stringify([id, band && sayBand(band), content]);
  const configuration = platform.configurations.find((each) => each.id === id);
  if (!configuration) throw new Error(`There is no configuration ${id} on ${platform.id}`);
  const whole = known.get(key) ?? noteReads(() => makeWhole(service, platform, configuration, content, band));
  known.set(key, whole);
  return resultOf(whole);
}

function makeWhole(
  service: Service,
  platform: Platform,
  configuration: Configuration,
  content: CardContent,
  part: Band | undefined,
): Whole {
  const card = makeCard(service, platform, configuration, content, part);
  const ink = {
    platform: platform.id,
    configuration: configuration.id,
    ...inkOf(card, service, withOptions(service, platform, configuration)),
  };
  // As it comes back from a file.
  return { card, ink: JSON.parse(JSON.stringify(ink)) as Ink };
}

/**
 * Of each option, by its title: a hash of what its own card prints of count, drawing and masses, which the
 * configuration's card does not show, so that its check code covers them too.
 */
const withOptions = /* @__PURE__ */ remember((service: Service, platform: Platform, configuration: Configuration) => {
  const single = validArrangements(platform).filter(
    (each) => each.configuration === configuration && each.options.length === 1,
  );
  return new Map(
    single.map((arrangement) => {
      const { rows, plan } = countOf(service, platform, configuration, arrangement);
      const loads = loadsOf(service, platform, arrangement, arrangement.band);
      const seen = JSON.parse(JSON.stringify({ rows, plan: plan && inkOfPlan(plan), loads })) as unknown;
      return [arrangement.options[0]!.title, hashOf(seen)];
    }),
  );
});

/**
 * What a card is called on paper and in lists of cards: with its platform where the service has several, since two
 * platforms may well have an arrangement of one name (`Child nest · Summer sled`).
 */
export function titleOnCard(
  { hasSeveral }: Pick<Service, "hasSeveral">,
  platform: Pick<Platform, "name"> | undefined,
  title: string,
): string {
  return hasSeveral && platform ? heard("printedCard").titleOn({ title, where: platform.name }) : title;
}

/**
 * Which things stand where on a card, by a number that rises when the program puts them elsewhere: a card of before
 * looks different, so it has another check code. 2: warnings stand before the lines, a heading of an option once more
 * where its lines go on over the page. Their order counts, not on which side they come to stand.
 */
const LAYOUT = 2;

/**
 * What of a printed card can be seen on its paper beside the day from which it is in force. Lengths are rounded as the
 * drawings round them; of the rail it is what is drawn, and nothing where the paper has no rail.
 */
function inkOf(
  { id, platform: _, rail, weight, plan, hasCritical: _h, effective: _e, ...card }: PrintedCard,
  service: Service,
  drawn: ReadonlyMap<string, string>,
): object {
  const format = formatFor(service.cards.paper);
  const fine = (value: number) => Number(value.toFixed(3));
  const own = rail?.segments.find((segment) => segment.id === id);
  const sayEnd = (end: Range["from"]) => end && { owned: end.owned, text: end.text };
  return {
    ...card,
    parts: card.parts.map((part) => ({
      ...part,
      drawn: part.title === undefined ? undefined : drawn.get(part.title.slice(part.title.indexOf(": ") + 2)),
    })),
    paper: service.cards.paper,
    layout: LAYOUT,
    site: addressOf(service.site, "") ?? null,
    tab:
      own && (weight?.from ?? weight?.to) ? [fine(own.a), fine(own.b), sayEnd(weight?.from), sayEnd(weight?.to)] : null,
    rail:
      rail && format.hasRail
        ? {
            bars: rail.segments.map((segment) => [segment.id === id, fine(segment.a), fine(segment.b)]),
            pins: rail.pins.map(({ x, owned }) => [fine(x), owned]),
            ticks: rail.ticks.map(({ x, label, minor }) => [fine(x), (!minor && label) || ""]),
          }
        : null,
    plan: plan ? inkOfPlan(plan) : null,
  };
}

function inkOfPlan(plan: PrintedPlan): object {
  return {
    size: [plan.fromMm, plan.toMm, plan.halfWidthMm, plan.unit].map(fixed),
    boxes: plan.boxes.map(({ x, y, width, height, apart, fitted }) => [
      ...[x, y, width, height].map(fixed),
      apart,
      fitted,
    ]),
    numbers: plan.numbers.map(({ number, x, y }) => [number, fixed(x), fixed(y)]),
  };
}

function makeCard(
  service: Service,
  platform: Platform,
  configuration: Configuration,
  content: CardContent,
  part: Band | undefined,
  fitted?: Arrangement,
): PrintedCard {
  const approved = configuration.status === "approved",
    band = fitted ? (meetBands(part ?? configuration.band, fitted.band) ?? fitted.band) : (part ?? configuration.band);
  const arrangement = fitted ?? arrangementNeeded(platform, configuration, band);
  const changes = fitted ? undefined : changesOf(service, platform, configuration);
  const laid = layChecklist(
    content,
    platform,
    { ...configuration, band },
    ({ id }) => (changes?.get(id) ?? []).length > 0,
  );
  const parts = partsOf(laid, service.crew, changes),
    bare = fitted ? undefined : bareOf(laid);
  const count = arrangement ? countOf(service, platform, configuration, arrangement) : undefined;
  const told = part ? heard("printedCard").only({ band: sayBand(band) }) : sayBand(band);
  const used = platform.configurations.filter(
    (other) => other.status === "approved" || (!approved && other === configuration),
  );
  const rail = layRail(
    used.map(({ id, band: { weight } }) => ({ id, weight })),
    service.band.weight,
  );
  const [left, right] = service.crew;
  return {
    id: configuration.id,
    platform: platform.name,
    title: titleOnCard(service, platform, content.title),
    code: content.code,
    revision: content.revision,
    ...(approved ? {} : { notForUse: sayStatus(configuration.status).toUpperCase() }),
    ...(content.effective ? { effective: content.effective } : {}),
    ...(configuration.reviewBy ? { reviewBy: configuration.reviewBy } : {}),
    band: fitted
      ? heard("printedCard").withOptionsTold({ options: sayOptionTitles(fitted.options), told: smallFirst(told) })
      : told,
    ...(part ? { isPart: true } : {}),
    ...(fitted ? { fitted: fitted.options.map((option) => option.title) } : {}),
    ...(bare ? { bare } : {}),
    ...(!fitted && arrangement && parts.length > 1
      ? {
          standsFor: heard("printedCard").withOptions({
            options:
              arrangement.options.length > 0 ? sayOptionTitles(arrangement.options) : heard("printedCard").noOption,
          }),
        }
      : {}),
    weight: band.weight,
    rail:
      part || (fitted && !isSameBand(fitted.band, configuration.band))
        ? narrowRail(rail, configuration.id, band.weight)
        : rail,
    ...(left && right && isPair(service.crew) ? { leftLooks: sayRole(left.id), rightLooks: sayRole(right.id) } : {}),
    hasCritical: parts.some(({ lines }) => lines.some((line) => line.kind === "check" && line.critical)),
    parts,
    warnings: content.warnings.map(readDanger),
    count: count?.rows ?? [],
    ...(count?.plan ? { plan: count.plan } : {}),
    loads: arrangement ? loadsOf(service, platform, arrangement, meetBands(arrangement.band, band) ?? band) : [],
    complete: heard("printedCard").complete({
      content: content.title,
      options: fitted ? heard("printedCard").withTheseOptions({ options: sayOptionTitles(fitted.options) }) : "",
    }),
  };
}

/** The rail on which only these weights of the configuration are the card's own: a thin line goes on to the others. */
function narrowRail(rail: Rail, id: string, { from, to }: Range): Rail {
  return {
    ...rail,
    segments: rail.segments.flatMap((segment) =>
      segment.id === id
        ? [
            { ...segment, id: `${id} whole` },
            {
              ...segment,
              a: from ? placeOnRail(rail, kgOf(from.value)) : segment.a,
              b: to ? placeOnRail(rail, kgOf(to.value)) : segment.b,
            },
          ]
        : [segment],
    ),
  };
}

/**
 * The address behind the QR code. Scheme and host are the same in capitals (RFC 3986, 6.2.2.1); a path is left as it
 * is.
 */
export function addressOf(site: string | undefined, code: string): string | undefined {
  const [, origin, path] = /^(https?:\/\/[^/?#]+)(\/[^?#]*)?$/i.exec(site ?? "") ?? [];
  return origin && `${origin.toUpperCase()}${(path ?? "/").replace(/\/*$/, "/")}${addressOfCode(code)}`;
}

/**
 * Own lines, then each option's, as they are laid out. `changes`: what each option changes in the count; absent on the
 * card of one arrangement, whose parts are all fitted.
 */
function partsOf(
  parts: readonly ChecklistPart[],
  crew: readonly Crew[],
  changes: ReadonlyMap<string, readonly PrintedChange[]> | undefined,
): PrintedPart[] {
  const notes = changes ? notesOfReplaced(parts) : new Map<number, string>();
  return parts.map((part) => {
    const count = (part.option && changes?.get(part.option.id)) ?? [];
    return {
      ...headOf(part, changes !== undefined),
      ...(count.length ? { count } : {}),
      lines: addPauses(
        numberLines(part).flatMap(({ line, number }) => [
          ...(line.kind === "hold"
            ? (line.warnings ?? []).map((said) => ({ kind: "alarm" as const, ...readDanger(said) }))
            : []),
          printLine(line, number, notes.get(number), crew),
        ]),
      ),
    };
  });
}

/** Who of the patients of a card is never without one of its options; `undefined` if everybody may be. */
function bareOf(parts: readonly ChecklistPart[]): PrintedCard["bare"] {
  const say = heard("cardSides");
  const needed = parts.flatMap((part) => (part.option && part.always ? [{ part, option: part.option }] : []));
  if (needed.length === 0) return undefined;
  return {
    nobody: needed.some(({ part }) => part.always === "all"),
    said: needed.map(({ part, option: { title } }) => {
      const whom = sayAlways(part),
        option = lowerFirst(title);
      return whom ? say.neverWithoutFor({ whom: capital(whom), option }) : say.neverWithout({ option });
    }),
  };
}

/** What stands above an option's lines: whether and for whom it is fitted; on the card of one arrangement its title. */
function headOf(part: ChecklistPart, isApart: boolean): Pick<PrintedPart, "title" | "only"> {
  const { option, only, always } = part;
  if (!option) return {};
  if (!isApart) return { title: option.title };
  const patients = isToldBy(always, only) ? "" : sayOnly(only ?? {});
  return { title: sayOptionHead(part, option), ...(patients ? { only: patients } : {}) };
}

/** Whether those who are never without an option are all for whom it is: then one of the two is said. */
function isToldBy(always: ChecklistPart["always"], only: ChecklistPart["only"]): boolean {
  if (!always || always === "all") return always === "all";
  const holdsAll = (outer: Range, inner: Range | undefined) => (inner ? covers(outer, inner) : true);
  return always.some(({ weight, age }) => holdsAll(weight, only?.weight) && holdsAll(age, only?.age));
}

function printLine(line: CardLine, number: number, note: string | undefined, crew: readonly Crew[]): PrintedLine {
  if (line.kind === "check") {
    const lane = sideOf(line.by, crew);
    const who = lane === "free" || lane === "both" ? sayWho(line.by, crew) : "";
    return {
      kind: "check",
      number,
      challenge: line.challenge,
      answer: line.answer,
      lane,
      critical: line.critical,
      aside: [who, note].filter(Boolean).join(". "),
    };
  }
  const by = [...new Set(line.checks.flatMap((check) => check.by))];
  const lane = sideOf(by.length ? by : line.by, crew);
  const only = line.only ? heard("printedCard").onlyOnly({ only: line.only }) : "";
  return {
    kind: "hold",
    text: line.text,
    looks: line.checks.map(({ challenge, answer }) => `${challenge}: ${answer}`),
    lane,
    aside: [only, lane === "free" ? sayWho(by.length ? by : line.by, crew) : ""].filter(Boolean).join(". "),
  };
}

/**
 * Puts a pause into every run of more than nine lines that no hold interrupts, so that the runs are about equally long.
 */
export function addPauses(lines: readonly PrintedLine[]): PrintedLine[] {
  const runs: PrintedLine[][] = [[]];
  for (const line of lines) {
    if (line.kind === "hold") runs.push([line], []);
    else runs.at(-1)!.push(line);
  }
  return runs.flatMap((run) => {
    const numbers = run.flatMap((line) => (line.kind === "check" || line.kind === "step" ? [line.number] : []));
    const size = Math.ceil(numbers.length / Math.ceil(numbers.length / MOST_LINES));
    const ends = new Set(numbers.filter((_, at) => (at + 1) % size === 0 && at + 1 < numbers.length));
    return run.flatMap((line): PrintedLine[] =>
      (line.kind === "check" || line.kind === "step") && ends.has(line.number)
        ? [line, { kind: "pause", text: heard("printedCard").sayAnswered({ number: line.number }) }]
        : [line],
    );
  });
}

/**
 * What is fitted, and where the rest of every set of pieces is (pins in their tray): counted by place, not in total.
 * Of the arrangement, with its options; rows that the plan numbers come in the order of its numbers.
 */
const countOf = /* @__PURE__ */ remember(makeCount);

function makeCount(
  service: Service,
  platform: Platform,
  configuration: Configuration,
  arrangement: Arrangement,
): { readonly rows: readonly PrintedCount[]; readonly plan?: PrintedPlan } {
  const items = new Map(platform.items.map((item) => [item.id, item])),
    places = new Map(platform.places.map((place) => [place.id, place]));
  const fitted = new Set(
    [configuration, ...arrangement.options].flatMap((record) =>
      record.fitted.map(({ item, place }) => `${item} ${place}`),
    ),
  );
  const isCounted = ({ item, place }: { item: string; place: string }) =>
    fitted.has(`${item} ${place}`) || ((items.get(item)?.count ?? 1) > 1 && isPartOfOther(platform, item));
  const plan = layoutPlan(platform, arrangement);
  const order = new Map(plan?.entries.map(({ item, place, number }) => [`${item} ${place}`, number]));
  const listed = listRows(platform, arrangement)
    .filter(isCounted)
    .sort((a, b) => (order.get(`${a.item} ${a.place}`) ?? 1e9) - (order.get(`${b.item} ${b.place}`) ?? 1e9));
  const rows = listed.map(({ item, place, count }, at) => ({
    number: at + 1,
    item: items.get(item)?.name ?? capital(item),
    place: places.get(place)?.name ?? capital(place),
    count,
  }));
  if (!plan) return { rows };
  const numbers = listed.flatMap(({ item, place }, at) =>
    plan.largeNumbers
      .filter(({ number }) => number === order.get(`${item} ${place}`))
      .map(({ x, y }) => ({ number: at + 1, x, y })),
  );
  const { fromMm, toMm, halfWidthMm, unit, boxes } = plan,
    words = heardFor(service, "load");
  return {
    rows,
    plan: {
      fromMm,
      toMm,
      halfWidthMm,
      unit,
      numbers,
      label: words.plan,
      head: words.headEnd.toUpperCase(),
      boxes: boxes.map(({ x, y, width, height, apart, entry }) => ({
        x,
        y,
        width,
        height,
        apart,
        fitted: entry.fitted,
      })),
    },
  };
}

/**
 * What each option changes in the count, by its id: pieces in a place that are another number with it than without it,
 * in any arrangement in which it can be fitted. Read one after the other, in the order of the options, these make the
 * count of every arrangement. Options that change nothing are left out.
 */
const changesOf = /* @__PURE__ */ remember((service: Service, platform: Platform, configuration: Configuration) => {
  const arrangements = validArrangements(platform).filter((each) => each.configuration === configuration);
  const byName = new Map(arrangements.map((each) => [each.name, each]));
  const counts = new Map(arrangements.map((each) => [each, rowsByPlace(service, platform, configuration, each)]));
  const changes = new Map<string, Map<string, PrintedChange>>();
  for (const without of arrangements)
    for (const option of platform.options) {
      // The option is read last: those before it are in the count already.
      const order = configuration.options.map(({ id }) => id);
      if (without.options.some(({ id }) => order.indexOf(id) >= order.indexOf(option.id))) continue;
      const fitted = byName.get([without.name, option.id].join("+"));
      if (!fitted) continue;
      const [before, after] = [counts.get(without)!, counts.get(fitted)!];
      const own = changes.get(option.id) ?? new Map<string, PrintedChange>();
      changes.set(option.id, own);
      for (const [key, row] of [...after, ...before]) {
        const now = after.get(key)?.count ?? 0;
        if (now !== (before.get(key)?.count ?? 0)) own.set(key, { item: row.item, place: row.place, count: now });
      }
    }
  return new Map<string, readonly PrintedChange[]>(
    [...changes].map(([id, rows]) => [id, [...rows.values()].sort((a, b) => b.count - a.count)]),
  );
});

function rowsByPlace(service: Service, platform: Platform, configuration: Configuration, arrangement: Arrangement) {
  const { rows } = countOf(service, platform, configuration, arrangement);
  return new Map(rows.map((row) => [`${row.item}, ${row.place}`, row]));
}

/**
 * Whether an item is fitted in some configuration or option: only then does its number tell one arrangement from
 * another.
 */
function isPartOfOther(platform: Platform, item: string): boolean {
  return [...platform.configurations, ...platform.options].some(
    ({ status, fitted }) => status === "approved" && fitted.some((entry) => entry.item === item),
  );
}

function loadsOf(service: Service, platform: Platform, arrangement: Arrangement, band: Band): PrintedCard["loads"] {
  if (platform.items.every(({ massKg }) => massKg === undefined)) return [];
  return findLoadEnds(platform, arrangement, band, service.band).map((end) => ({
    label: heardFor(service, "load").patientEnd({ end: end.text }),
    kg: `${sayDecimal(end.massKg)} kg`,
    mm: end.balanceMm === undefined ? "" : `${sayDecimal(end.balanceMm)} mm`,
  }));
}
