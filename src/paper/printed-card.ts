/**
 * Everything that a printed card says, in the order in which it is read: what `card-content.ts` covers by the check
 * code, and the few things beside it.
 */
import type {
  Band,
  Collection,
  Configuration,
  Crew,
  Platform,
  Range,
  Requirement,
  Service,
} from "../schema/collection.ts";
import type { Arrangement } from "../domain/parts/arrangements.ts";
import { arrangementNeeded } from "../domain/parts/lookup.ts";
import { bandCardsOf, contentForBand, isSameBand } from "../domain/cards/band-cards.ts";
import { covers, kgOf, meetBands, sayBand, shareOf } from "../domain/bands/bands.ts";
import { cardContentOf, type CardContent, type CardLine } from "../domain/cards/card-content.ts";
import { addressOfCode } from "../domain/cards/check-address.ts";
import { type CodedCard, type CodeOf, contentsInForce } from "../domain/cards/cards-issued.ts";
import type { ConfigurationContent } from "../domain/records/content.ts";
import { takesPlaceOf } from "../domain/cards/subjects.ts";
import { findLoadEnds } from "../drawing/drawing-load.ts";
import { layoutPlan, type PlanBox } from "../drawing/drawing-plan.ts";
import { contentOf } from "../domain/records/freeze.ts";
import {
  cardWith,
  codeOfInk,
  editionOn,
  editionsOf,
  FITTED_ALWAYS,
  IF_FITTED,
  type Ink,
} from "../domain/cards/editions.ts";
import { formatFor } from "./card-format.ts";
import { listRows } from "../domain/load/load-rows.ts";
import { layRail, placeOnRail, type Rail } from "../drawing/rail.ts";
import { capital, sayDecimal, sayRole, sayWho } from "../domain/words/say.ts";

/**
 * In which lane the pin of a line is: on the side of whoever looks. `free`: the crew is not two, and the line says who.
 */
type Lane = "left" | "right" | "both" | "free";

/** A line with its number, its lane and its words; `aside` is what stands below it in smaller type. */
export type PrintedLine =
  | {
      readonly kind: "check";
      readonly number: number;
      readonly challenge: string;
      readonly answer: string;
      readonly lane: Lane;
      readonly critical: boolean;
      readonly aside: string;
    }
  | {
      readonly kind: "hold";
      readonly text: string;
      readonly looks: readonly string[];
      readonly lane: Lane;
      readonly aside: string;
    }
  | {
      readonly kind: "step";
      readonly number: number;
      readonly text: string;
      readonly lane: Lane;
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
  readonly lines: readonly PrintedLine[];
}

/** Pieces in a place, to be counted out before and in after. */
export interface PrintedCount {
  readonly number: number;
  readonly item: string;
  readonly place: string;
  readonly count: number;
}

/** The plan with the numbers of the counted things; millimetres as in `Plan`. */
export interface PrintedPlan {
  readonly fromMm: number;
  readonly toMm: number;
  readonly halfWidthMm: number;
  readonly unit: number;
  readonly boxes: readonly (Pick<PlanBox, "x" | "y" | "width" | "height" | "apart"> & { readonly fitted: boolean })[];
  readonly numbers: readonly { readonly number: number; readonly x: number; readonly y: number }[];
}

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
  readonly band: string;
  /** Whether it is only for some of the configuration's patients. */
  readonly isPart?: boolean;
  readonly weight?: Range;
  readonly rail?: Rail;
  readonly checkCode?: string;
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
  readonly loads: readonly { readonly label: string; readonly kg: string; readonly mm: string }[];
  readonly plan?: PrintedPlan;
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
  /** As a proposal would make it: marked on every side, without edition, day and check code. */
  readonly proposed?: boolean;
}

/** What stands across every side of a card that a proposal would make. */
const PROPOSED = "PROPOSED";

/**
 * The card of a configuration in force (`forceOn`), or of one of its elementary bands; that of one which is not in
 * force, or of a proposal, is marked as not for use and has no check code.
 */
export function printCard(
  collection: Collection,
  platform: Platform,
  configuration: Configuration,
  { band: part, proposed = false }: PrintOptions = {},
): PrintedCard {
  const own = contentOf(configuration, platform) as ConfigurationContent,
    contents = contentsInForce(platform);
  const known = part && bandCardsOf(own, contents).find(({ band }) => isSameBand(band, part));
  const content = known?.content ?? (part ? contentForBand(own, part, contents) : cardContentOf(own, contents));
  const isIssued = configuration.status === "approved" && (!part || known !== undefined);
  const { service } = collection,
    band = known?.band ?? part,
    coded: CodedCard = { platform, configuration: configuration.id, content, ...(band ? { band } : {}) };
  const { card } = printWhole(service, coded);
  if (proposed) {
    const { effective: _e, ...rest } = card;
    return { ...rest, notForUse: PROPOSED };
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
export function printedCodes(collection: Collection): CodeOf {
  return (coded) => {
    const { platform, configuration, content, band, day } = coded;
    const { ink } = printWhole(collection.service, coded);
    const edition = editionOn(editionsOf(collection, platform.id, configuration), day ?? collection.on);
    const frozen = edition && cardWith(edition, ink, band);
    if (edition && frozen) return { code: frozen.code, edition: edition.edition, from: edition.effective };
    return { code: codeOfInk(ink, undefined, content.effective) };
  };
}

/** Everything that is printed on a card but edition, day and code. */
export function inkOfCard(service: Service, coded: CodedCard): Ink {
  return printWhole(service, coded).ink;
}

interface Whole {
  readonly card: PrintedCard;
  readonly ink: Ink;
}

const printed = new WeakMap<Service, WeakMap<Platform, Map<string, Whole>>>();

/** A card as it is printed, without code and address, and its ink; made once. */
function printWhole(service: Service, { platform, configuration: id, content, band }: CodedCard): Whole {
  const platforms = printed.get(service) ?? new WeakMap<Platform, Map<string, Whole>>();
  printed.set(service, platforms);
  const known = platforms.get(platform) ?? new Map<string, Whole>();
  platforms.set(platform, known);
  const key = `${id} ${band ? sayBand(band) : ""}`;
  const configuration = platform.configurations.find((each) => each.id === id);
  if (!configuration) throw new Error(`There is no configuration ${id} on ${platform.id}`);
  const whole = known.get(key) ?? makeWhole(service, platform, configuration, content, band);
  known.set(key, whole);
  return whole;
}

function makeWhole(
  service: Service,
  platform: Platform,
  configuration: Configuration,
  content: CardContent,
  part: Band | undefined,
): Whole {
  const card = makeCard(service, platform, configuration, content, part);
  const ink = { platform: platform.id, configuration: configuration.id, ...inkOf(card, service) };
  // As it comes back from a file.
  return { card, ink: JSON.parse(JSON.stringify(ink)) as Ink };
}

/**
 * What of a printed card can be seen on its paper beside the day from which it is in force. Lengths are rounded as the
 * drawings round them; of the rail it is what is drawn, and nothing where the paper has no rail.
 */
function inkOf(
  { id, platform: _, rail, weight, plan, hasCritical: _h, effective: _e, ...card }: PrintedCard,
  service: Service,
): object {
  const format = formatFor(service.cards.paper);
  const round = (value: number) => Number(value.toFixed(2)),
    fine = (value: number) => Number(value.toFixed(3));
  const own = rail?.segments.find((segment) => segment.id === id);
  const sayEnd = (end: Range["from"]) => end && { owned: end.owned, text: end.text };
  return {
    ...card,
    paper: service.cards.paper,
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
    plan: plan
      ? {
          size: [plan.fromMm, plan.toMm, plan.halfWidthMm, plan.unit].map(round),
          boxes: plan.boxes.map(({ x, y, width, height, apart, fitted }) => [
            ...[x, y, width, height].map(round),
            apart,
            fitted,
          ]),
          numbers: plan.numbers.map(({ number, x, y }) => [number, round(x), round(y)]),
        }
      : null,
  };
}

function makeCard(
  service: Service,
  platform: Platform,
  configuration: Configuration,
  content: CardContent,
  part: Band | undefined,
): PrintedCard {
  const approved = configuration.status === "approved",
    band = part ?? configuration.band;
  const arrangement = arrangementNeeded(platform, configuration, band);
  const parts = partsOf(content, platform, band, service.crew, configuration.requires);
  const count = arrangement ? countOf(platform, configuration, arrangement) : undefined;
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
    title: content.title,
    code: content.code,
    revision: content.revision,
    ...(approved ? {} : { notForUse: configuration.status.toUpperCase() }),
    ...(content.effective ? { effective: content.effective } : {}),
    ...(configuration.reviewBy ? { reviewBy: configuration.reviewBy } : {}),
    band: part ? `Only ${sayBand(band)}` : sayBand(band),
    ...(part ? { isPart: true } : {}),
    weight: band.weight,
    rail: part ? narrowRail(rail, configuration.id, band.weight) : rail,
    ...(left && right && service.crew.length === 2
      ? { leftLooks: sayRole(left.id), rightLooks: sayRole(right.id) }
      : {}),
    hasCritical: parts.some(({ lines }) => lines.some((line) => line.kind === "check" && line.critical)),
    parts,
    warnings: content.warnings.map(readWarning),
    count: count?.rows ?? [],
    ...(count?.plan ? { plan: count.plan } : {}),
    loads: arrangement ? loadsOf(service, platform, arrangement, meetBands(arrangement.band, band) ?? band) : [],
    complete: `${content.title} complete`,
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

/** The lane of a line by who looks. */
export function laneOf(by: readonly string[], crew: readonly Crew[]): Lane {
  if (crew.length !== 2) return "free";
  const [first, second] = crew.map(({ id }) => by.includes(id));
  return first && second ? "both" : second ? "right" : first ? "left" : "both";
}

/** Own lines, then each option's, numbered through as on the site's checklist. */
function partsOf(
  content: CardContent,
  platform: Platform,
  whole: Band,
  crew: readonly Crew[],
  requires: readonly Requirement[] = [],
): PrintedPart[] {
  const options = content.options.flatMap(({ id, title, lines }) => {
    const record = platform.options.find((option) => option.id === id);
    const band = record && meetBands(whole, record.band);
    return lines.length && (band || !record)
      ? [
          {
            title,
            lines,
            only: record && band ? onlyOf(record.band, whole, band) : "",
            always: alwaysFor(
              requires.find((each) => each.option === id),
              whole,
            ),
          },
        ]
      : [];
  });
  const numbered: {
    title?: string;
    only?: string;
    always?: string | undefined;
    lines: { line: CardLine; number: number }[];
  }[] = [];
  let next = 1;
  for (const part of [{ lines: content.lines }, ...options])
    numbered.push({ ...part, lines: part.lines.map((line) => ({ line, number: line.kind === "check" ? next++ : 0 })) });
  const notes = replacedLines(numbered);
  return numbered.map(({ title, only, always, lines }) => ({
    ...(title ? { title: always === undefined ? `${IF_FITTED}${title}` : `${FITTED_ALWAYS}${always}: ${title}` } : {}),
    ...(only && always === undefined ? { only } : {}),
    lines: addPauses(lines.map(({ line, number }) => printLine(line, number, notes.get(number), crew))),
  }));
}

/** ` under 2.5 kg` where only some of the patients need it, empty where all do; `undefined` for a free option. */
function alwaysFor(requirement: Requirement | undefined, whole: Band): string | undefined {
  if (!requirement || !meetBands(requirement.band, whole)) return undefined;
  return shareOf(requirement.band, whole) === "all" ? "" : ` ${sayBand(requirement.band)}`;
}

function onlyOf(option: Band, whole: Band, band: Band): string {
  return [
    covers(option.weight, whole.weight) ? "" : band.weight.text,
    covers(option.age, whole.age) ? "" : band.age.text,
  ]
    .filter(Boolean)
    .join(", ");
}

/**
 * What to say below lines that ask the same challenge, because the option's answer counts when it is fitted: number ->
 * words.
 */
function replacedLines(
  parts: readonly { title?: string; lines: readonly { line: CardLine; number: number }[] }[],
): ReadonlyMap<number, string> {
  const [own, ...options] = parts;
  const notes = new Map<number, string[]>();
  const add = (number: number, note: string) => notes.set(number, [...(notes.get(number) ?? []), note]);
  for (const { line, number } of own?.lines ?? [])
    for (const { title, lines } of options)
      for (const other of lines)
        if (line.kind === "check" && other.line.kind === "check" && takesPlaceOf(other.line, line)) {
          add(number, `With ${title!.toLowerCase()}: line ${other.number} instead`);
          add(other.number, `Instead of line ${number}`);
        }
  return new Map([...notes].map(([number, words]) => [number, words.join("; ")]));
}

function printLine(line: CardLine, number: number, note: string | undefined, crew: readonly Crew[]): PrintedLine {
  if (line.kind === "check") {
    const lane = laneOf(line.by, crew);
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
  const lane = laneOf(by.length ? by : line.by, crew);
  const only = line.only ? `Only ${line.only}` : "";
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
        ? [line, { kind: "pause", text: `Say “${line.number} answered”` }]
        : [line],
    );
  });
}

function readWarning(text: string): PrintedCard["warnings"][number] {
  const caution = text.startsWith("caution: ");
  return { signal: caution ? "caution" : "warning", text: text.slice(text.indexOf(": ") + 2).replaceAll("\n", " ") };
}

/**
 * What is fitted, and where the rest of every set of pieces is (pins in their tray): counted by place, not in total.
 */
function countOf(
  platform: Platform,
  configuration: Configuration,
  arrangement: Arrangement,
): { rows: PrintedCount[]; plan?: PrintedPlan } {
  const items = new Map(platform.items.map((item) => [item.id, item])),
    places = new Map(platform.places.map((place) => [place.id, place]));
  const fitted = new Set(configuration.fitted.map(({ item, place }) => `${item} ${place}`));
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
  const { fromMm, toMm, halfWidthMm, unit, boxes } = plan;
  return {
    rows,
    plan: {
      fromMm,
      toMm,
      halfWidthMm,
      unit,
      numbers,
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
    label: `Patient ${end.text}`,
    kg: `${sayDecimal(end.massKg)} kg`,
    mm: end.balanceMm === undefined ? "" : `${sayDecimal(end.balanceMm)} mm`,
  }));
}
