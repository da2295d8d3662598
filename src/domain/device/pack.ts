/**
 * A platform as light, plain JSON, so that a page can carry all that a changeover is planned from and a browser can
 * plan it without a signal.
 */
import type {
  Alert,
  AmendmentMark,
  Band,
  Block,
  Check,
  Configuration,
  Crew,
  Fastening,
  Fitted,
  Item,
  Operation,
  Option,
  Paragraph,
  Phase,
  Place,
  Platform,
  Procedure,
  Range,
  Service,
  Status,
  Step,
  Where,
} from "../../schema/collection.ts";
import { lookup, usableProcedures } from "../parts/lookup.ts";
import { alertsBefore } from "../parts/plan-alerts.ts";
import { acts, canChange } from "../states/usable.ts";
import { type Days, holdsOn } from "../words/days.ts";
import { linesOf, paragraphOf, plainText } from "../words/say.ts";

/** A band's number in `Pack.bands`: many steps share one. */
type BandNumber = number;

interface PackedEnd {
  /** Exact, in units of `End`. */
  readonly value: string;
  readonly owned: boolean;
  readonly text: string;
}
/** A `Range` with its exact ends in decimal, since JSON has no whole numbers of that size. */
export interface PackedRange {
  readonly text: string;
  readonly from?: PackedEnd;
  readonly to?: PackedEnd;
}
interface PackedAlert {
  readonly signal: Alert["signal"];
  readonly text: string;
  readonly amendment?: AmendmentMark;
}
type PackedFitted = Pick<Fitted, "place" | "item" | "count">;

interface PackedDocument {
  readonly id: string;
  readonly title: string;
  readonly code: string;
  readonly revision: number;
  readonly status: Status;
  readonly band: BandNumber;
}
interface PackedConfiguration extends PackedDocument {
  readonly standing: boolean;
  readonly fitted: readonly PackedFitted[];
  readonly fastenings: readonly { readonly fastening: string; readonly state: string }[];
  readonly options: readonly string[];
  readonly requires?: readonly { readonly option: string; readonly band: BandNumber }[];
}
interface PackedOption extends PackedDocument {
  readonly fitted: readonly PackedFitted[];
  readonly empty: readonly string[];
  readonly notWith: readonly string[];
}
/** What is false, empty or as usual is left out. */
interface PackedStep {
  readonly id?: string;
  /** The procedure that wrote it, if it is another one. */
  readonly from?: string;
  readonly text: string;
  readonly detail?: readonly string[];
  readonly by?: readonly string[];
  readonly critical?: true;
  readonly hold?: true;
  readonly card?: true;
  readonly takes: number;
  /** The time is assumed, because the author gave none. */
  readonly assumed?: true;
  readonly band: BandNumber;
  readonly after?: readonly string[];
  readonly photos?: readonly string[];
  /** Alerts that stand before the step in its procedure, and its own. */
  readonly before?: readonly PackedAlert[];
  readonly alerts?: readonly PackedAlert[];
  readonly acts?: readonly (
    | { readonly item: string; readonly from: string; readonly to: string; readonly count: number }
    | { readonly fastening: string; readonly to: string }
  )[];
  readonly checks?: readonly Pick<Check, "challenge" | "answer" | "by">[];
  readonly amended?: { readonly by: AmendmentMark; readonly asIssued: PackedStep };
}
interface PackedProcedure extends PackedDocument {
  readonly reviewBy?: string;
  readonly phase?: Phase;
  readonly steps: readonly PackedStep[];
}

/** The packed form. */
export interface Pack {
  readonly id: string;
  readonly name: string;
  /** The procedure that confirms the patient. */
  readonly confirms?: string;
  readonly crew: readonly Pick<Crew, "id" | "name">[];
  readonly service: BandNumber;
  readonly bands: readonly { readonly weight: PackedRange; readonly age: PackedRange }[];
  readonly places: readonly Pick<Place, "id" | "name" | "kind" | "room" | "on" | "walkSeconds">[];
  readonly items: readonly Pick<Item, "id" | "name" | "count" | "home" | "carries" | "places">[];
  readonly fastenings: readonly Pick<Fastening, "id" | "name" | "kind" | "states" | "secure" | "holds" | "whenEmpty">[];
  readonly configurations: readonly PackedConfiguration[];
  readonly options: readonly PackedOption[];
  readonly procedures: readonly PackedProcedure[];
  /** Procedures that are otherwise on other days than that of the site, by the days of temporary amendments. */
  readonly others?: readonly { readonly days: readonly Days[]; readonly procedures: readonly PackedProcedure[] }[];
}

/** What comes out again: enough of a platform for `buildModel`, `plansBetween`, `planTimeline` and `layWalk`. */
interface Unpacked {
  readonly platform: Platform;
  readonly crew: readonly Crew[];
  /** The patients whom the service carries. */
  readonly service: Band;
}

/**
 * Packs a platform with the procedures that a changeover may use. Of others only what those include is kept, without
 * steps: their band decides for whom an included step is. Left out: masses, distances, reasons, checks of
 * configurations, and who approved what. `others`: the same platform on other days, with temporary amendments that run
 * then or without; what they have otherwise goes into the pack too.
 */
export function packPlatform(
  platform: Platform,
  service: Pick<Service, "crew" | "band">,
  others: readonly { readonly platform: Platform; readonly days: readonly Days[] }[] = [],
): Pack {
  const bands = new Table<Band>();
  const bandOf = (band: Band) => bands.add(JSON.stringify(packBand(band)), band);
  const documentOf = ({ id, title, code, revision, status, band }: Configuration | Option | Procedure) => ({
    id,
    title,
    code,
    revision,
    status,
    band: bandOf(band),
  });
  const usable = new Set(
      usableProcedures(platform).filter((procedure) => !acts(procedure) || canChange(platform, procedure)),
    ),
    included = new Set([...usable].flatMap(({ steps }) => steps.map(({ procedure }) => procedure))),
    named = new Set([...usable].flatMap(({ steps }) => steps.flatMap(({ after }) => after.map(({ id }) => id))));
  const packStep = (procedure: Procedure, step: Step, before: readonly Alert[]): PackedStep => ({
    ...(step.id !== undefined && named.has(step.id) ? { id: step.id } : {}),
    ...(step.procedure === procedure.id ? {} : { from: step.procedure }),
    text: plainText(step.instruction.children),
    ...unlessEmpty("detail", step.detail.flatMap(linesOf)),
    ...unlessEmpty("by", step.by),
    ...(step.critical ? { critical: true } : {}),
    ...(step.hold ? { hold: true } : {}),
    ...(step.readsCard ? { card: true } : {}),
    takes: step.takesSeconds,
    ...(step.takesGiven ? {} : { assumed: true }),
    band: bandOf(step.band),
    ...unlessEmpty(
      "after",
      step.after.map(({ id }) => id),
    ),
    ...unlessEmpty(
      "photos",
      step.photos.map(({ id }) => id),
    ),
    ...unlessEmpty("before", before.map(packAlert)),
    ...unlessEmpty("alerts", [...step.alerts, ...step.alertsAfter].map(packAlert)),
    ...unlessEmpty("acts", step.operations.map(packAct)),
    ...unlessEmpty(
      "checks",
      step.checks.map(({ challenge, answer, by }) => ({ challenge, answer, by })),
    ),
    ...(step.amended
      ? { amended: { by: step.amended.by, asIssued: packStep(procedure, step.amended.asIssued, []) } }
      : {}),
  });
  const packProcedures = (own: Platform, list: readonly Procedure[]) =>
    list.map((procedure): PackedProcedure => {
      const placed = alertsBefore(procedure, lookup(own).procedures);
      const before = ({ number }: Step) => placed.filter((each) => each.number === number).map(({ alert }) => alert);
      return {
        ...documentOf(procedure),
        ...(procedure.reviewBy ? { reviewBy: procedure.reviewBy } : {}),
        ...(procedure.phase ? { phase: procedure.phase } : {}),
        steps: isUsable.has(procedure.id) ? procedure.steps.map((step) => packStep(procedure, step, before(step))) : [],
      };
    });
  const isUsable = new Set([...usable].map(({ id }) => id)),
    packed = platform.procedures.filter(({ id }) => isUsable.has(id) || included.has(id)),
    procedures = packProcedures(platform, packed);
  const otherwise = others.flatMap(({ platform: other, days }) => {
    const changed = other.procedures.filter(
      (each) => !packed.includes(each) && packed.some(({ id }) => id === each.id),
    );
    return changed.length > 0 ? { days, procedures: packProcedures(other, changed) } : [];
  });
  const fittedOf = (list: readonly Fitted[]) => list.map(({ place, item, count }) => ({ place, item, count }));
  return {
    id: platform.id,
    name: platform.name,
    ...(platform.confirms ? { confirms: platform.confirms.id } : {}),
    crew: service.crew.map(({ id, name }) => ({ id, name })),
    service: bandOf(service.band),
    places: platform.places.map(({ id, name, kind, room, on, walkSeconds }) => ({
      id,
      name,
      kind,
      ...(room === undefined ? {} : { room }),
      ...(on === undefined ? {} : { on }),
      ...(walkSeconds === undefined ? {} : { walkSeconds }),
    })),
    items: platform.items.map(({ id, name, count, home, carries, places }) => ({
      id,
      name,
      count,
      home,
      carries,
      places,
    })),
    fastenings: platform.fastenings.map(({ id, name, kind, states, secure, holds, whenEmpty }) => ({
      id,
      name,
      ...(kind === undefined ? {} : { kind }),
      states,
      secure,
      holds,
      ...(whenEmpty === undefined ? {} : { whenEmpty }),
    })),
    configurations: platform.configurations.map((each) => ({
      ...documentOf(each),
      standing: each.standing,
      fitted: fittedOf(each.fitted),
      fastenings: each.fastenings.map(({ fastening, state }) => ({ fastening, state })),
      options: each.options.map(({ id }) => id),
      ...(each.requires ? { requires: each.requires.map(({ option, band }) => ({ option, band: bandOf(band) })) } : {}),
    })),
    options: platform.options.map((each) => ({
      ...documentOf(each),
      fitted: fittedOf(each.fitted),
      empty: each.empty.map(({ place }) => place),
      notWith: each.notWith,
    })),
    procedures,
    ...unlessEmpty("others", otherwise),
    // Last, when every other record has added its own.
    bands: bands.values.map(packBand),
  };
}

const WHERE: Where = { file: "", line: 1, column: 1 };
const located = { where: WHERE, at: {} };

/** Unpacks what `packPlatform` made, as it stands on a day, `YYYY-MM-DD`; without one, as on the day of the site. */
export function unpackPlatform(pack: Pack, day = ""): Unpacked {
  const bands = pack.bands.map(({ weight, age }): Band => ({ weight: unpackRange(weight), age: unpackRange(age) }));
  const documentOf = (folder: string, { id, title, code, revision, status, band }: PackedDocument) => ({
    ...located,
    id,
    platform: pack.id,
    file: `${pack.id}/${folder}${id}.mdx`,
    title,
    code,
    revision,
    status,
    changes: [],
    band: bands[band]!,
  });
  const fittedOf = (list: readonly PackedFitted[]): Fitted[] => list.map((entry) => ({ ...entry, where: WHERE }));
  const referTo = (ids: readonly string[] = []) => ids.map((id) => ({ id, where: WHERE }));
  const unpackStep = (procedure: string, packed: PackedStep, number: number): Step => ({
    ...located,
    kind: "step",
    number,
    procedure: packed.from ?? procedure,
    ...(packed.id === undefined ? {} : { id: packed.id }),
    by: packed.by ?? [],
    critical: packed.critical ?? false,
    hold: packed.hold ?? false,
    ...(packed.card ? { readsCard: WHERE } : {}),
    takesSeconds: packed.takes,
    takesGiven: !packed.assumed,
    band: bands[packed.band]!,
    photos: referTo(packed.photos),
    after: referTo(packed.after),
    guards: [],
    alerts: (packed.alerts ?? []).map(unpackAlert),
    alertsAfter: [],
    instruction: paragraph(packed.text),
    detail: (packed.detail ?? []).map(paragraph),
    operations: (packed.acts ?? []).map((act): Operation =>
      "item" in act ? { kind: "move", ...act, ...located } : { kind: "turn", ...act, ...located },
    ),
    checks: (packed.checks ?? []).map((check): Check => ({ ...located, ...check })),
    ...(packed.amended
      ? { amended: { by: packed.amended.by, asIssued: unpackStep(procedure, packed.amended.asIssued, number) } }
      : {}),
  });
  const other =
    pack.others?.find(({ days }) => day !== "" && days.some((span) => holdsOn(span, day)))?.procedures ?? [];
  const procedures = pack.procedures.map((usual): Procedure => {
    const packed = other.find(({ id }) => id === usual.id) ?? usual;
    const steps = packed.steps.map((each, at) => unpackStep(packed.id, each, at + 1));
    const entries = steps.flatMap((each, at) => [...(packed.steps[at]!.before ?? []).map(unpackAlert), each]);
    return {
      ...documentOf("", packed),
      ...(packed.reviewBy ? { reviewBy: packed.reviewBy } : {}),
      ...(packed.phase ? { phase: packed.phase } : {}),
      purpose: [],
      sections: [{ title: "", where: WHERE, entries }],
      steps,
    };
  });
  const platform: Platform = {
    ...located,
    id: pack.id,
    name: pack.name,
    ...(pack.confirms === undefined ? {} : { confirms: { id: pack.confirms, where: WHERE } }),
    own: { massKg: 0, xMm: 0 },
    limits: {},
    places: pack.places.map((place) => ({ ...located, ...place })),
    items: pack.items.map((item) => ({ ...located, ...item })),
    fastenings: pack.fastenings.map((fastening) => ({ ...located, ...fastening })),
    configurations: pack.configurations.map((packed) => ({
      ...documentOf("configurations/", packed),
      authority: [],
      standing: packed.standing,
      fitted: fittedOf(packed.fitted),
      fastenings: packed.fastenings.map((each) => ({ ...each, where: WHERE })),
      options: referTo(packed.options),
      ...(packed.requires
        ? { requires: packed.requires.map(({ option, band }) => ({ option, band: bands[band]!, where: WHERE })) }
        : {}),
      checks: [],
      body: [],
    })),
    options: pack.options.map((packed) => ({
      ...documentOf("options/", packed),
      fitted: fittedOf(packed.fitted),
      empty: packed.empty.map((place) => ({ place, where: WHERE })),
      notWith: packed.notWith,
      checks: [],
      body: [],
    })),
    procedures,
    photos: [],
    readings: [],
  };
  return {
    platform,
    crew: pack.crew.map((role) => ({ ...located, ...role })),
    service: bands[pack.service]!,
  };
}

/** Values once each, in the order in which they came. */
class Table<T> {
  readonly values: T[] = [];
  readonly #positions = new Map<string, number>();

  add(key: string, value: T): number {
    const known = this.#positions.get(key);
    if (known !== undefined) return known;
    this.#positions.set(key, this.values.length);
    return this.values.push(value) - 1;
  }
}

function packBand({ weight, age }: Band): Pack["bands"][number] {
  return { weight: packRange(weight), age: packRange(age) };
}

/** A range as JSON. */
export function packRange({ text, from, to }: Range): PackedRange {
  const pack = ({ value, owned, text: words }: NonNullable<Range["from"]>): PackedEnd => ({
    value: String(value),
    owned,
    text: words,
  });
  return { text, ...(from ? { from: pack(from) } : {}), ...(to ? { to: pack(to) } : {}) };
}

/** The range again. */
export function unpackRange({ text, from, to }: PackedRange): Range {
  const unpack = (end: PackedEnd) => ({ ...end, value: BigInt(end.value) });
  return { ...(from ? { from: unpack(from) } : {}), ...(to ? { to: unpack(to) } : {}), text };
}

function packAlert({ signal, children, amendment }: Alert): PackedAlert {
  const text = (children as readonly Block[]).flatMap(linesOf).join(" ");
  return { signal, text, ...(amendment ? { amendment } : {}) };
}

function unpackAlert({ signal, text, amendment }: PackedAlert): Alert {
  return { kind: "alert", signal, children: [paragraph(text)], where: WHERE, ...(amendment ? { amendment } : {}) };
}

function packAct(operation: Operation): NonNullable<PackedStep["acts"]>[number] {
  if (operation.kind === "turn") return { fastening: operation.fastening, to: operation.to };
  const { item, from, to, count } = operation;
  return { item, from, to, count };
}

function paragraph(text: string): Paragraph {
  return paragraphOf(text, WHERE);
}

/** A list under its key, or nothing if there is nothing in it. */
function unlessEmpty<Key extends string, T>(key: Key, list: readonly T[]): { readonly [K in Key]?: readonly T[] } {
  return list.length > 0 ? ({ [key]: list } as { readonly [K in Key]: readonly T[] }) : {};
}
