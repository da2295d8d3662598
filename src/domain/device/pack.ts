/**
 * A platform packed small, so that a page can carry all that a changeover is planned from and a browser can plan it
 * without a signal.
 */
import type {
  Alert,
  Band,
  Block,
  Check,
  Configuration,
  Crew,
  Item,
  Operation,
  Option,
  Paragraph,
  Place,
  Platform,
  Procedure,
  Range,
  Service,
  Status,
  Step,
  Where,
} from "../../schema/collection.ts";
import { alertsBefore } from "../parts/plan-alerts.ts";
import { linesOf } from "../words/say.ts";
import { plainText } from "../words/say.ts";

/** `text`, then the ends as `[digits, owned, words]`; a missing end is 0. Digits are exact, in units of `End`. */
type PackedEnd = readonly [value: string, owned: 0 | 1, text: string] | 0;
type PackedRange = readonly [text: string, from?: PackedEnd, to?: PackedEnd];
type PackedPlace = readonly [id: string, name: string, kind: string, room?: number, on?: string];
type PackedItem = readonly [
  id: string,
  name: string,
  count: number,
  home: string,
  carries: 0 | 1,
  places?: readonly string[],
];
type PackedFastening = readonly [
  id: string,
  name: string,
  states: readonly string[],
  secure: string,
  holds: readonly string[],
  whenEmpty?: string,
];
type PackedFitted = readonly [place: string, item: string, count: number];
type PackedConfiguration = readonly [
  id: string,
  title: string,
  code: string,
  revision: number,
  status: string,
  band: number,
  standing: 0 | 1,
  fitted: readonly PackedFitted[],
  fastenings: readonly (readonly [string, string])[],
  options: readonly string[],
];
type PackedOption = readonly [
  id: string,
  title: string,
  code: string,
  revision: number,
  status: string,
  band: number,
  fitted: readonly PackedFitted[],
  empty: readonly string[],
  notWith: readonly string[],
];
/**
 * A move as `[item, from, to, count]`, a turn as `[fastening, state]`: positions in `w`, the words that come again and
 * again.
 */
type PackedOperation = readonly number[];
type PackedCheck = readonly [challenge: string, answer: string, by: readonly number[]];
type PackedAlert = readonly [signal: string, text: string];
/**
 * Trailing values that are empty are left out. `by` and `after` are positions in the crew and in `w`; flags: 1
 * critical, 2 hold, 4 its time is given.
 */
type PackedStep = readonly [
  text: string,
  by: readonly number[],
  flags: number,
  takes: number,
  band: number,
  operations?: readonly PackedOperation[],
  checks?: readonly PackedCheck[],
  photos?: readonly string[],
  alerts?: readonly PackedAlert[],
  before?: readonly PackedAlert[],
  detail?: readonly string[],
  after?: readonly number[],
  id?: number,
  procedure?: string,
];
type PackedProcedure = readonly [
  id: string,
  title: string,
  code: string,
  revision: number,
  status: string,
  band: number,
  steps: readonly PackedStep[],
];

/** The packed form: plain JSON. */
export interface Pack {
  readonly platform: readonly [id: string, name: string];
  readonly crew: readonly (readonly [id: string, name: string])[];
  readonly service: number;
  readonly bands: readonly (readonly [weight: PackedRange, age: PackedRange])[];
  readonly w: readonly string[];
  readonly places: readonly PackedPlace[];
  readonly items: readonly PackedItem[];
  readonly fastenings: readonly PackedFastening[];
  readonly configurations: readonly PackedConfiguration[];
  readonly options: readonly PackedOption[];
  readonly procedures: readonly PackedProcedure[];
}

/** What comes out again: enough of a platform for `buildModel`, `planChangeover`, `planTimeline` and `layWalk`. */
interface Unpacked {
  readonly platform: Platform;
  readonly crew: readonly Crew[];
  /** The patients whom the service carries. */
  readonly service: Band;
}

/**
 * Packs a platform with its approved procedures. Of others only what approved ones include is kept, without steps:
 * their band decides for whom an included
 * step is. Left out: masses, distances, reasons, checks of configurations, and who approved what.
 */
export function packPlatform(platform: Platform, service: Pick<Service, "crew" | "band">): Pack {
  const bands = new Table<Band>(),
    words = new Table<string>();
  words.add("", "");
  const crew = service.crew.map(({ id, name }) => [id, name] as const),
    roles = service.crew.map(({ id }) => id);
  const by = (ids: readonly string[]) => ids.map((id) => roles.indexOf(id)).filter((at) => at >= 0);
  const bandOf = (band: Band) => bands.add(JSON.stringify(packBand(band)), band);
  const word = (text: string) => words.add(text, text);
  const operation = (each: Operation): PackedOperation =>
    each.kind === "move"
      ? [word(each.item), word(each.from), word(each.to), each.count]
      : [word(each.fastening), word(each.to)];
  const approved = platform.procedures.filter(({ status }) => status === "approved");
  const included = new Set(approved.flatMap(({ steps }) => steps.map(({ procedure }) => procedure)));
  const named = new Set(approved.flatMap(({ steps }) => steps.flatMap(({ after }) => after.map(({ id }) => id))));
  const packStep = (procedure: Procedure, step: Step, before: readonly Alert[]): PackedStep =>
    trim(5, [
      plainText(step.instruction.children),
      by(step.by),
      (step.critical ? 1 : 0) + (step.hold ? 2 : 0) + (step.takesGiven ? 4 : 0),
      step.takesSeconds,
      bandOf(step.band),
      step.operations.map(operation),
      step.checks.map(({ challenge, answer, by: who }) => [challenge, answer, by(who)] as const),
      step.photos.map(({ id }) => id),
      [...step.alerts, ...step.alertsAfter].map(packAlert),
      before.map(packAlert),
      step.detail.flatMap(linesOf),
      step.after.map(({ id }) => word(id)),
      step.id !== undefined && named.has(step.id) ? word(step.id) : 0,
      step.procedure === procedure.id ? "" : step.procedure,
    ]) as unknown as PackedStep;
  const byId = new Map(platform.procedures.map((each) => [each.id, each]));
  const procedures = platform.procedures
    .filter(({ id, status }) => status === "approved" || included.has(id))
    .map((procedure): PackedProcedure => {
      const before = alertsBefore(procedure, byId);
      const steps =
        procedure.status !== "approved"
          ? []
          : procedure.steps.map((step) =>
              packStep(
                procedure,
                step,
                before.filter(({ number }) => number === step.number).map(({ alert }) => alert),
              ),
            );
      return [
        procedure.id,
        procedure.title,
        procedure.code,
        procedure.revision,
        procedure.status,
        bandOf(procedure.band),
        steps,
      ];
    });
  const fitted = (list: Configuration["fitted"]) => list.map(({ place, item, count }) => [place, item, count] as const);
  const configurations = platform.configurations.map((each): PackedConfiguration => [
    each.id,
    each.title,
    each.code,
    each.revision,
    each.status,
    bandOf(each.band),
    each.standing ? 1 : 0,
    fitted(each.fitted),
    each.fastenings.map(({ fastening, state }) => [fastening, state]),
    each.options.map(({ id }) => id),
  ]);
  const options = platform.options.map((each): PackedOption => [
    each.id,
    each.title,
    each.code,
    each.revision,
    each.status,
    bandOf(each.band),
    fitted(each.fitted),
    each.empty.map(({ place }) => place),
    each.notWith,
  ]);
  const carried = bandOf(service.band);
  return {
    platform: [platform.id, platform.name],
    crew,
    service: carried,
    configurations,
    options,
    procedures,
    places: platform.places.map(
      (place) => trim(3, [place.id, place.name, place.kind, place.room ?? 0, place.on ?? ""]) as unknown as PackedPlace,
    ),
    items: platform.items.map(
      (item) =>
        trim(5, [
          item.id,
          item.name,
          item.count,
          item.home,
          item.carries ? 1 : 0,
          item.places,
        ]) as unknown as PackedItem,
    ),
    fastenings: platform.fastenings.map(
      (each) =>
        trim(5, [
          each.id,
          each.name,
          each.states,
          each.secure,
          each.holds,
          each.whenEmpty ?? "",
        ]) as unknown as PackedFastening,
    ),
    bands: bands.values.map(packBand),
    w: words.values,
  };
}

const WHERE: Where = { file: "", line: 1, column: 1 };
const located = { where: WHERE, at: {} };

/** Unpacks what `packPlatform` made. */
export function unpackPlatform(pack: Pack): Unpacked {
  const [id, name] = pack.platform,
    { w } = pack;
  const bands = pack.bands.map(([weight, age]): Band => ({ weight: unpackRange(weight), age: unpackRange(age) }));
  const crew = pack.crew.map(([role, title]): Crew => ({ ...located, id: role, name: title }));
  const by = (list: readonly number[]) => list.map((at) => crew[at]!.id);
  const controlled = (
    folder: string,
    own: string,
    title: string,
    code: string,
    revision: number,
    status: string,
    band: number,
  ) => ({
    ...located,
    id: own,
    platform: id,
    file: `${id}/${folder}${own}.mdx`,
    title,
    code,
    revision,
    status: status as Status,
    changes: [],
    band: bands[band]!,
  });
  const fitted = (list: readonly PackedFitted[]) =>
    list.map(([place, item, count]) => ({ place, item, count, where: WHERE }));
  const check = ([challenge, answer, who]: PackedCheck): Check => ({ ...located, challenge, answer, by: by(who) });
  const operation = ([a, b, c, count]: PackedOperation): Operation =>
    c === undefined
      ? { kind: "turn", fastening: w[a!]!, to: w[b!]!, where: WHERE, at: {} }
      : { kind: "move", item: w[a!]!, from: w[b!]!, to: w[c]!, count: count!, where: WHERE, at: {} };
  const step = (procedure: string, packed: PackedStep, at: number): Step => {
    const [
      text,
      who,
      flags,
      takesSeconds,
      band,
      operations = [],
      checks = [],
      photos = [],
      alerts = [],
      ,
      detail = [],
      after = [],
      own = 0,
      from = "",
    ] = packed;
    return {
      ...located,
      kind: "step",
      number: at + 1,
      procedure: from || procedure,
      ...(own ? { id: w[own]! } : {}),
      by: by(who),
      critical: (flags & 1) > 0,
      hold: (flags & 2) > 0,
      takesGiven: (flags & 4) > 0,
      takesSeconds,
      band: bands[band]!,
      photos: photos.map((photo) => ({ id: photo, where: WHERE })),
      after: after.map((word) => ({ id: w[word]!, where: WHERE })),
      guards: [],
      alerts: alerts.map(unpackAlert),
      alertsAfter: [],
      instruction: paragraph(text),
      detail: detail.map(paragraph),
      operations: operations.map(operation),
      checks: checks.map(check),
    };
  };
  const procedures = pack.procedures.map(([own, title, code, revision, status, band, packed]): Procedure => {
    const steps = packed.map((each, at) => step(own, each, at));
    const entries = steps.flatMap((each, at) => [...(packed[at]![9] ?? []).map(unpackAlert), each]);
    return {
      ...controlled("", own, title, code, revision, status, band),
      purpose: [],
      sections: [{ title: "", where: WHERE, entries }],
      steps,
    };
  });
  const configurations = pack.configurations.map(
    ([own, title, code, revision, status, band, standing, inside, states, options]): Configuration => ({
      ...controlled("configurations/", own, title, code, revision, status, band),
      authority: [],
      standing: standing === 1,
      fitted: fitted(inside),
      fastenings: states.map(([fastening, state]) => ({ fastening, state, where: WHERE })),
      options: options.map((option) => ({ id: option, where: WHERE })),
      checks: [],
      body: [],
    }),
  );
  const options = pack.options.map(([own, title, code, revision, status, band, inside, empty, notWith]): Option => ({
    ...controlled("options/", own, title, code, revision, status, band),
    fitted: fitted(inside),
    empty: empty.map((place) => ({ place, where: WHERE })),
    notWith,
    checks: [],
    body: [],
  }));
  const places = pack.places.map(([own, title, kind, room = 0, on = ""]): Place => ({
    ...located,
    id: own,
    name: title,
    kind: kind as Place["kind"],
    ...(room ? { room } : {}),
    ...(on ? { on } : {}),
  }));
  const items = pack.items.map(([own, title, count, home, carries = 0, inside = []]): Item => ({
    ...located,
    id: own,
    name: title,
    count,
    home,
    carries: carries === 1,
    places: inside,
  }));
  const fastenings = pack.fastenings.map(([own, title, states, secure, held, whenEmpty = ""]) => ({
    ...located,
    id: own,
    name: title,
    states,
    secure,
    holds: held,
    ...(whenEmpty ? { whenEmpty } : {}),
  }));
  const platform: Platform = {
    ...located,
    id,
    name,
    own: { massKg: 0, xMm: 0 },
    places,
    fastenings,
    limits: {},
    items,
    configurations,
    options,
    procedures,
    photos: [],
    readings: [],
  };
  return { platform, crew, service: bands[pack.service]! };
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

function packBand({ weight, age }: Band): readonly [PackedRange, PackedRange] {
  return [packRange(weight), packRange(age)];
}

function packRange({ text, from, to }: Range): PackedRange {
  const end = (given: Range["from"]): PackedEnd => (given ? [String(given.value), given.owned ? 1 : 0, given.text] : 0);
  return from || to ? [text, end(from), end(to)] : [text];
}

function unpackRange([text, from = 0, to = 0]: PackedRange): Range {
  const end = ([value, owned, words]: Exclude<PackedEnd, 0>) => ({
    value: BigInt(value),
    owned: owned === 1,
    text: words,
  });
  return { ...(from ? { from: end(from) } : {}), ...(to ? { to: end(to) } : {}), text };
}

function packAlert({ signal, children }: Alert): PackedAlert {
  return [signal, (children as readonly Block[]).flatMap(linesOf).join(" ")];
}

function unpackAlert([signal, text]: PackedAlert): Alert {
  return { kind: "alert", signal: signal as Alert["signal"], children: [paragraph(text)], where: WHERE };
}

function paragraph(text: string): Paragraph {
  return { kind: "paragraph", children: [{ kind: "text", text, where: WHERE }], where: WHERE };
}

/** Without empty lists, empty words and zeros at the end, after the first `least`. */
function trim(least: number, values: readonly unknown[]): readonly unknown[] {
  const last = values.findLastIndex((value) => (Array.isArray(value) ? value.length > 0 : value !== "" && value !== 0));
  return values.slice(0, Math.max(last + 1, least));
}
