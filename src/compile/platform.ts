/** platform.yaml and equipment.yaml to places, fastenings, items and limits. */
import { Findings } from "../findings/finding.ts";
import type {
  AfterRun,
  Direction,
  Every,
  Fastening,
  FasteningKind,
  Item,
  Place,
  Platform,
  Where,
} from "../schema/collection.ts";
import { equipmentFile, platformFile } from "../schema/files.ts";
import { ASIDE } from "../schema/units.ts";
import { readFields, readRecords } from "../read/read-fields.ts";
import type { Source } from "../read/source.ts";
import { readYaml } from "../read/yaml.ts";
import type { Known } from "./names.ts";
import { resolveName, reportNoState } from "./names.ts";

/** What the two files tell of a platform; `complete` is false if one of them could not be read whole. */
interface Equipped {
  readonly platform: Omit<Platform, "id" | "configurations" | "options" | "procedures" | "photos" | "readings">;
  readonly complete: boolean;
  /** An id is used twice or something is missing in one of the files, so that a name may have been lost. */
  readonly doubtful: boolean;
}

/** Compiles a platform's places, fastenings and items. A file that is missing is reported at its first line. */
export function compilePlatform(
  folder: string,
  platformSource: Source | undefined,
  equipmentSource: Source | undefined,
  all: Findings,
): Equipped {
  const platformPath = `${folder}/platform.yaml`,
    where: Where = { file: platformPath, line: 1, column: 1 };
  if (!platformSource)
    all.error("text/missing-field", where, {
      message: `The file \`${platformPath}\` is missing`,
      fix: "Add it, with the platform's name, places and fastenings",
    });
  if (!equipmentSource)
    all.error("text/missing-field", where, {
      message: `The file \`${folder}/equipment.yaml\` is missing`,
      fix: "Add it beside platform.yaml, with the items",
    });
  const yaml = platformSource ? readYaml(platformSource, platformSource.text, 0, all) : undefined;
  const kit = equipmentSource ? readYaml(equipmentSource, equipmentSource.text, 0, all) : undefined;
  const readable = yaml?.broken === false && kit?.broken === false;
  // What can't be told for want of the other file is not said.
  const findings = readable ? all : new Findings();
  const head = platformSource
    ? readFields(
        platformFile,
        yaml?.raw,
        { source: platformSource, findings: all, quiet: yaml?.broken ?? true },
        { what: "platform.yaml", where },
      )
    : undefined;
  const records: ReturnType<typeof readItems> = equipmentSource ? readItems(equipmentSource, kit, all) : new Map();

  const places: Place[] = [],
    fields = head?.fields ?? {},
    at = head?.at ?? {};
  const complete =
    readable &&
    fields.places !== undefined &&
    !all.list.some(
      ({ rule, file }) => rule === "text/syntax" && (file === platformPath || file === `${folder}/equipment.yaml`),
    );
  for (const [id, { value, where: place }] of fields.places ?? [])
    places.push({
      ...basics(id, value, place, all),
      ...number("xMm", value.fields.x),
      ...number("yMm", value.fields.y),
      ...walkOf(id, value, place, all),
    });
  for (const [
    item,
    {
      value: { fields: own },
    },
  ] of records)
    for (const [id, { value, where: place }] of own.places ?? [])
      places.push({
        ...basics(id, value, place, all),
        ...number("dxMm", value.fields.dx),
        ...number("dyMm", value.fields.dy),
        on: item,
      });
  reportDuplicates(places, records, findings);
  const kept = places.filter(
    (place, index) => place.id !== ASIDE && places.findIndex((other) => other.id === place.id) === index,
  );
  const doubtful = all.list.some(
    ({ rule, file }) =>
      (rule === "text/duplicate-id" || rule === "text/missing-field") &&
      (file === platformPath || file === `${folder}/equipment.yaml`),
  );
  const known: Known = {
    word: "place",
    doubtful,
    ids: new Set([ASIDE, ...kept.map((place) => place.id)]),
    complete,
    declaredIn: "platform.yaml or equipment.yaml",
  };

  const items: Item[] = [...records].map(([id, { value, where: place }]) => {
    const { fields: own, at: itsAt } = value,
      count = own.count ?? 1,
      onIt = kept.filter((other) => other.on === id).map((other) => other.id);
    if (count > 1 && own.places && own.places.size > 0)
      findings.error("text/bad-value", itsAt.places ?? place, {
        message: `\`${id}\` has a count of ${count} and places of its own, expected one or the other`,
        fix: "Set `count` to 1 and list each piece by itself, or remove `places`",
      });
    return {
      id,
      name: own.name ?? id,
      count,
      ...number("massKg", own.mass),
      home: own.home === undefined ? "" : resolveName(known, own.home, itsAt.home ?? place, findings),
      carries: own.carries ?? false,
      ...(own.restrains ? { restrains: own.restrains } : {}),
      ...(own.replaced !== undefined ? { replaced: own.replaced } : {}),
      ...readied(own, place, all),
      ...number("contentsLitres", own.contents),
      ...number("runsSeconds", own.runs),
      places: onIt,
      where: place,
      at: itsAt,
    };
  });
  reportCircles(items, kept, findings);

  const limits = fields.limits?.fields,
    balance = limits?.balance?.fields;
  if (balance?.from !== undefined && balance.to !== undefined && balance.from > balance.to)
    findings.error("text/bad-value", at["limits.balance.from"] ?? where, {
      message: "The balance limits are the wrong way round",
      fix: "Write the smaller length in `from`",
    });
  const factors = fields.factors?.fields;
  return {
    complete,
    doubtful,
    platform: {
      name: fields.name ?? folder,
      ...(fields.datum !== undefined ? { datum: fields.datum } : {}),
      ...(fields.confirms !== undefined ? { confirms: { id: fields.confirms, where: at.confirms ?? where } } : {}),
      ...(fields.patient?.fields.x !== undefined ? { patient: { xMm: fields.patient.fields.x } } : {}),
      own: { massKg: fields.own?.fields.mass ?? 0, xMm: fields.own?.fields.x ?? 0 },
      places: kept,
      fastenings: [...(fields.fastenings ?? [])].map(([id, { value, where: place }]) =>
        compileFastening(id, value, place, known, findings),
      ),
      limits: {
        ...number("massKg", limits?.mass),
        ...(balance?.from !== undefined && balance.to !== undefined
          ? { balance: { fromMm: balance.from, toMm: balance.to } }
          : {}),
      },
      ...(factors ? { factors: { ...factors } } : {}),
      items,
      where,
      at,
    },
  };
}

function readItems(source: Source, kit: ReturnType<typeof readYaml> | undefined, findings: Findings) {
  return readRecords(equipmentFile, kit?.raw, { source, findings, quiet: kit?.broken ?? true });
}

function number<Key extends string>(key: Key, value: number | undefined): { [K in Key]?: number } {
  return value === undefined ? {} : ({ [key]: value } as { [K in Key]?: number });
}

function basics(
  id: string,
  value: {
    fields: { name?: string; kind?: Place["kind"]; room?: number } & ReadiedFields;
    at: Record<string, Where>;
  },
  where: Where,
  findings: Findings,
): Place {
  return {
    id,
    name: value.fields.name ?? id,
    kind: value.fields.kind ?? "mount",
    ...number("room", value.fields.room),
    ...readied(value.fields, where, findings),
    where,
    at: value.at,
  };
}

/** Fields of the readiness sheet as they were read. */
interface ReadiedFields {
  readonly ready?: readonly {
    readonly value: {
      readonly fields: { readonly every?: Every; readonly look?: string; readonly until?: string };
      readonly at: Record<string, Where>;
    };
    readonly where: Where;
  }[];
  readonly "after-run"?: readonly { readonly value: AfterRun }[];
}

/** The lines of the readiness sheet; one that says neither how often nor until when would be looked at by nobody. */
function readied(
  { ready, "after-run": afterRun }: ReadiedFields,
  where: Where,
  findings: Findings,
): Pick<Place, "ready" | "afterRun"> {
  for (const { value, where: place } of ready ?? [])
    if (value.fields.every === undefined && value.fields.until === undefined && !value.at.every && !value.at.until)
      findings.error("text/missing-field", place.line ? place : where, {
        message: "This line of `ready` says neither how often somebody looks nor until when it is good",
        fix: "Add `every: shift`, `day`, `week` or `run`, or `until` with a date",
        expected: ["every", "until"],
      });
  return {
    ...(ready
      ? {
          ready: ready.map(({ value: { fields, at }, where: place }) => ({
            look: fields.look ?? "",
            ...(fields.every ? { every: fields.every } : {}),
            ...(fields.until ? { until: fields.until } : {}),
            where: place,
            at,
          })),
        }
      : {}),
    ...(afterRun?.length ? { afterRun: [...new Set(afterRun.map(({ value }) => value))] } : {}),
  };
}

/** Only to a store does anybody walk: what travels is at hand. */
function walkOf(
  id: string,
  { fields, at }: { fields: { kind?: Place["kind"]; walk?: number }; at: Record<string, Where> },
  where: Where,
  findings: Findings,
): Pick<Place, "walkSeconds"> {
  if (fields.walk !== undefined && fields.kind !== undefined && fields.kind !== "store")
    findings.error("text/bad-value", at.walk ?? where, {
      message: `\`${id}\` is a ${fields.kind}, and nobody walks to what travels with the platform`,
      fix: "Remove `walk`, or make the place a `store`",
    });
  return number("walkSeconds", fields.kind === "store" ? fields.walk : undefined);
}

function reportDuplicates(
  places: readonly Place[],
  items: ReadonlyMap<string, { where: Where }>,
  findings: Findings,
): void {
  const first = new Map<string, { where: Where; what: string }>();
  for (const place of places) {
    if (place.id === ASIDE)
      findings.error("text/bad-value", place.where, {
        message: "Every platform has the place `aside` already",
        fix: "Remove it, or choose another id",
      });
    const earlier = first.get(place.id);
    if (earlier)
      findings.error("text/duplicate-id", place.where, {
        message: `The place id \`${place.id}\` is used twice`,
        fix: "Give one of the two places another id",
        cause: earlier.where,
      });
    else first.set(place.id, { where: place.where, what: "place" });
  }
  for (const [id, { where }] of items) {
    const place = first.get(id);
    if (place)
      findings.error("text/duplicate-id", where, {
        message: `\`${id}\` is the id of an item and of a place`,
        fix: "Give one of the two another id",
        cause: place.where,
      });
  }
}

/** The home of an item may be on another item, but not in the end on itself. */
function reportCircles(items: readonly Item[], places: readonly Place[], findings: Findings): void {
  const itemOf = new Map(places.filter((place) => place.on !== undefined).map((place) => [place.id, place.on!]));
  const homes = new Map(items.map((item) => [item.id, itemOf.get(item.home)]));
  const told = new Set<string>();
  for (const item of items) {
    const path = [item.id];
    for (let next = homes.get(item.id); next !== undefined && !path.includes(next); next = homes.get(next))
      path.push(next);
    if (homes.get(path.at(-1)!) !== item.id || told.has(item.id)) continue;
    for (const id of path) told.add(id);
    findings.error("text/bad-value", item.at.home ?? item.where, {
      message:
        `The home of \`${item.id}\` goes round in a ` +
        `circle: ${[...path, item.id].map((id) => `\`${id}\``).join(" is at home on ")}`,
      fix: "Give one of them a home on the platform or in a store",
    });
  }
}

function compileFastening(
  id: string,
  {
    fields,
    at,
  }: {
    fields: {
      name?: string;
      states?: readonly { value: string; where: Where }[];
      secure?: string;
      holds?: readonly { value: string; where: Where }[];
      "when-empty"?: string;
      rated?: number;
      kind?: FasteningKind;
      against?: readonly { value: Direction }[];
    };
    at: Record<string, Where>;
  },
  where: Where,
  places: Known,
  findings: Findings,
): Fastening {
  const states: string[] = [];
  for (const state of fields.states ?? []) {
    if (states.includes(state.value))
      findings.error("text/duplicate-id", state.where, {
        message: `The state \`${state.value}\` is named twice`,
        fix: "Remove one of the two",
      });
    else states.push(state.value);
  }
  if (fields.states && states.length < 2)
    findings.error("text/bad-value", at.states ?? where, {
      message: `\`${id}\` has ${states.length === 0 ? "no state" : "one state"}, expected at least two`,
      fix: "Name the states that it can be in, such as `[locked, released]`",
    });
  const state = (name: string | undefined, key: string): string | undefined => {
    if (name === undefined || states.includes(name) || states.length === 0) return name;
    return reportNoState(id, name, states, at[key] ?? where, findings) ?? states[0];
  };
  const holds = (fields.holds ?? []).map((place) => {
    if (place.value === ASIDE)
      findings.error("text/bad-value", place.where, {
        message: "No fastening holds `aside`",
        fix: "Name another place",
      });
    return resolveName(places, place.value, place.where, findings);
  });
  const whenEmpty = state(fields["when-empty"], "when-empty");
  if (whenEmpty !== undefined && fields.holds?.length === 0)
    findings.error("text/bad-value", at["when-empty"] ?? where, {
      message: `\`${id}\` holds nothing, so it is never empty`,
      fix: "Remove `when-empty`, or name in `holds` what it holds",
    });
  return {
    id,
    name: fields.name ?? id,
    states,
    secure: state(fields.secure, "secure") ?? states[0] ?? "",
    holds: [...new Set(holds)],
    ...(whenEmpty !== undefined && holds.length > 0 ? { whenEmpty } : {}),
    ...number("ratedN", fields.rated),
    ...(fields.kind !== undefined ? { kind: fields.kind } : {}),
    ...(fields.against ? { against: [...new Set(fields.against.map(({ value }) => value))] } : {}),
    where,
    at,
  };
}
