/**
 * The difference between two issues of a document: step by step for a procedure, field by field for everything else.
 */
import { remember } from "../words/remember.ts";
import {
  classOfAspect,
  classOfBlocks,
  classOfChecks,
  classOfReading,
  classOfStep,
  greatest,
  sameRange,
  signOffsStand,
  type Aspect,
  type ChangeClass,
} from "./change-class.ts";
import {
  plainBlocks,
  type BlockContent,
  type Content,
  type EntryContent,
  type ProcedureContent,
  type StepContent,
} from "./content.ts";
import { wordEdits, type Edit } from "./edits.ts";
import { canonicalJson, samePhotos } from "./freeze.ts";
import { matchSteps, movedAcrossCritical, numberedSteps, type NumberedStep } from "./match-steps.ts";
import type { SignOffs } from "../../schema/collection.ts";
import { plainText } from "../words/say.ts";

/** What became of a step. */
export interface StepChange {
  readonly kind: "same" | "changed" | "added" | "removed";
  /** Absent for an added step. */
  readonly before?: NumberedStep;
  /** Absent for a removed step. */
  readonly after?: NumberedStep;
  /** It stands in another order among the steps that stayed; its text may be the same. */
  readonly moved: boolean;
  /** What changed in it, in the order of the page. */
  readonly aspects: readonly Aspect[];
  /** The instruction word by word; absent if it is the same. */
  readonly words?: readonly Edit<string>[];
  readonly class: ChangeClass;
  /**
   * Why it is to be seen again whatever else changed in it: a change entry names it, or it guards against an incident
   * against which something guards otherwise now. Absent for all other steps.
   */
  readonly because?: { readonly named: boolean; readonly incidents: readonly string[] };
}

/** A field outside the steps that changed, with both values; one of them is absent if the field came or went. */
export interface FieldChange {
  readonly field: string;
  readonly before?: unknown;
  readonly after?: unknown;
  /** Word by word, for text; absent for other values. */
  readonly words?: readonly Edit<string>[];
  readonly class: ChangeClass;
}

/** Sections of the later issue: headings, and for each entry the index of its step in `steps` or the entry itself. */
interface Layout {
  readonly title: string;
  readonly entries: readonly (number | EntryContent)[];
}

/** What changed from one issue to another; both lists are as long as what changed, empty for no change. */
export interface Difference {
  readonly from: number;
  readonly to: number;
  /** Steps in the later issue's order, removed ones where they stood. Empty for a configuration or option. */
  readonly steps: readonly StepChange[];
  readonly fields: readonly FieldChange[];
  /** Absent for a configuration or option. */
  readonly layout?: readonly Layout[];
  /** The least class that the change can have. */
  readonly class: ChangeClass;
}

/** Difference of two issues of one document. What is under `record`, and the revision itself, are not compared. */
export const differenceBetween: (before: Content, after: Content) => Difference =
  /* @__PURE__ */ remember(findDifference);

function findDifference(before: Content, after: Content): Difference {
  const steps = before.kind === "procedure" && after.kind === "procedure" ? stepChanges(before, after) : [];
  const fields = [
    ...fieldChanges(before, after),
    ...(before.kind === "procedure" && after.kind === "procedure" ? layoutChanges(before, after) : []),
  ];
  return {
    from: before.revision,
    to: after.revision,
    steps,
    fields,
    ...(after.kind === "procedure" ? { layout: layoutOf(after, steps) } : {}),
    class: greatest([...steps, ...fields].map((change) => change.class)),
  };
}

/**
 * The steps of a difference that are to be seen again: those of which something else is done; if there are none, those
 * of other words. Spelling alone is never one. The one owner of this: notices, sign-offs and forms ask here.
 */
export function changesToSee({ steps }: Pick<Difference, "steps">): StepChange[] {
  const real = steps.filter(
    (change) => change.class !== "editorial" && (change.kind !== "same" || change.moved || change.because),
  );
  const doing = real.filter((change) => !signOffsStand(change.class));
  return doing.length ? doing : real;
}

/** Whether a difference holds nothing that a reader could notice. */
export function isEmptyDifference({ steps, fields }: Difference): boolean {
  return fields.length === 0 && steps.every((step) => step.kind === "same" && !step.moved);
}

/**
 * The later issue from the earlier one and the difference; `record` stays the earlier one's, because it is not
 * compared.
 */
export function applyDifference(before: Content, difference: Difference): Content {
  const result: Record<string, unknown> = { ...before, revision: difference.to };
  for (const { field, after } of difference.fields) {
    if (DERIVED.has(field)) continue;
    if (after === undefined) delete result[field];
    else result[field] = after;
  }
  if (before.kind === "procedure" && difference.layout) {
    const earlier = numberedSteps(before);
    result["sections"] = difference.layout.map(({ title, entries }) => ({
      title,
      entries: entries.map((entry) =>
        typeof entry === "number" ? applyToStep(earlier, difference.steps[entry]!) : entry,
      ),
    }));
  }
  return result as unknown as Content;
}

/**
 * The earliest revision at which a sign-off still stands, over the chain of issues (rising revisions; the last is the
 * current one). A sign-off lapses at each issue whose author asks for it
 * again, and at each whose difference from the one before is procedural or critical, whatever its author says. 1 at the
 * least; an issue that is missing from the
 * chain is judged by what its author declared, and lapses if nothing is declared.
 */
export function earliestStanding(chain: readonly Content[]): number {
  const current = chain.at(-1);
  if (!current) return 1;
  const declared = new Map(current.record.changes.map(({ revision, signOffs }) => [revision, signOffs] as const));
  for (let revision = current.revision; revision > 1; revision -= 1) {
    const own = chain.findLast((issue) => issue.revision === revision);
    const earlier = chain.findLast((issue) => issue.revision === revision - 1);
    if (
      lapsesAt(
        own,
        earlier,
        own?.record.changes.find((change) => change.revision === revision)?.signOffs ?? declared.get(revision),
      )
    )
      return revision;
  }
  return 1;
}

function lapsesAt(issue: Content | undefined, earlier: Content | undefined, declared: SignOffs | undefined): boolean {
  if (declared === "again") return true;
  if (issue && earlier) return !signOffsStand(differenceBetween(earlier, issue).class);
  return declared !== "stand";
}

/** Keys of a step by what they are about. */
const KEYS: Readonly<Record<Exclude<Aspect, "parts" | "turns">, readonly (keyof StepContent)[]>> = {
  name: ["id", "after"],
  critical: ["critical"],
  hold: ["hold"],
  by: ["by"],
  band: ["weight", "age"],
  alerts: ["alerts", "alertsAfter"],
  instruction: ["instruction"],
  reason: ["reason", "unnoticed"],
  detail: ["detail"],
  checks: ["checks"],
  photo: ["photos"],
  takes: ["takesSeconds"],
  after: ["after"],
  guards: ["guards"],
};

/**
 * What differs between two steps, in the order of the page. `renamed` gives the later ids of steps that have another
 * one.
 */
function aspectsOf(
  before: StepContent,
  after: StepContent,
  renamed: ReadonlyMap<string, string> = new Map(),
): Aspect[] {
  const waitsFor = (ids: readonly string[]) => ids.map((id) => renamed.get(id) ?? id).sort();
  const waitsOtherwise = !isSame(waitsFor(before.after), [...after.after].sort());
  const found = (Object.keys(KEYS) as (keyof typeof KEYS)[]).filter((aspect) => {
    if (aspect === "after") return waitsOtherwise;
    if (aspect === "name") return before.id !== after.id || (!waitsOtherwise && !isSame(before.after, after.after));
    if (aspect === "photo") return !samePhotos(before.photos, after.photos);
    return KEYS[aspect].some((key) => !isSame(before[key], after[key]));
  });
  const moves = (step: StepContent) => step.operations.filter(({ kind }) => kind === "move");
  const turns = (step: StepContent) => step.operations.filter(({ kind }) => kind === "turn");
  const handling: Aspect[] = [
    ...(isSame(moves(before), moves(after)) ? [] : ["parts" as const]),
    ...(isSame(turns(before), turns(after)) ? [] : ["turns" as const]),
  ];
  // The same moves and turns in another order are other states on the way.
  return [
    ...found,
    ...(handling.length || isSame(before.operations, after.operations) ? handling : (["parts", "turns"] as const)),
  ];
}

function stepChanges(before: ProcedureContent, after: ProcedureContent): StepChange[] {
  const [earlier, later] = [numberedSteps(before), numberedSteps(after)];
  const pairs = matchSteps(earlier, later);
  const renamed = new Map(
    pairs.flatMap((pair) =>
      pair.before.step.id && pair.after.step.id ? [[pair.before.step.id, pair.after.step.id] as const] : [],
    ),
  );
  const changes: StepChange[] = later.map((step) => {
    const pair = pairs.find((candidate) => candidate.after === step);
    if (!pair) return { kind: "added", after: step, moved: false, aspects: [], class: classOfStep(step.step) };
    const [was, is] = [pair.before.step, pair.after.step];
    const aspects = aspectsOf(was, is, renamed);
    const classes = [
      ...aspects.map((aspect) => classOfAspect(aspect, was, is)),
      ...(pair.moved ? [movedAcrossCritical(pair, pairs) ? ("procedural" as const) : ("informative" as const)] : []),
    ];
    const words = aspects.includes("instruction")
      ? { words: wordEdits(plainText(was.instruction), plainText(is.instruction)) }
      : {};
    return {
      kind: aspects.length ? "changed" : "same",
      before: pair.before,
      after: step,
      moved: pair.moved,
      aspects,
      ...words,
      class: greatest(classes),
    };
  });
  for (const gone of earlier.filter((step) => !pairs.some((pair) => pair.before === step))) {
    const neighbour = changes.findLastIndex(
      (change) => change.before && change.before.number < gone.number && !change.moved,
    );
    changes.splice(neighbour + 1, 0, {
      kind: "removed",
      before: gone,
      moved: false,
      aspects: [],
      class: classOfStep(gone.step),
    });
  }
  return withReasons(changes, before, after);
}

/** The changes with those steps raised that are always seen again. */
function withReasons(changes: readonly StepChange[], before: ProcedureContent, after: ProcedureContent): StepChange[] {
  const named = new Set(
    after.record.changes
      .filter(({ revision }) => revision > before.revision && revision <= after.revision)
      .flatMap(({ steps }) => steps ?? []),
  );
  const incidents = new Set(changes.flatMap(incidentsTouched));
  return changes.map((change) => {
    const guarded = change.after?.step.guards.filter((id) => incidents.has(id)) ?? [];
    const because = { named: named.has(change.after?.step.id ?? ""), incidents: guarded };
    if (!change.after || (!because.named && guarded.length === 0)) return change;
    return { ...change, because, class: greatest([change.class, "procedural"]) };
  });
}

/** The incidents against which a changed step guards or guarded, unless only what is read or looked at changed. */
function incidentsTouched({ kind, before, after, aspects, moved }: StepChange): string[] {
  const [was, is] = [before?.step.guards ?? [], after?.step.guards ?? []];
  const isDoing =
    kind === "added" ||
    kind === "removed" ||
    moved ||
    aspects.some(
      (aspect) => !READ_ONLY.has(aspect) && classOfAspect(aspect, before!.step, after!.step) !== "editorial",
    );
  return isDoing ? [...was, ...is] : [...was, ...is].filter((id) => !was.includes(id) || !is.includes(id));
}

const READ_ONLY = new Set<Aspect>(["reason", "photo", "takes", "name"]);

function applyToStep(earlier: readonly NumberedStep[], change: StepChange): StepContent {
  if (!change.before) return change.after!.step;
  // A photo that only got its hash is no change to say, and yet the later issue's.
  const result: Record<string, unknown> = {
    ...earlier[change.before.number - 1]!.step,
    photos: change.after!.step.photos,
  };
  for (const aspect of change.aspects)
    for (const key of aspect === "parts" || aspect === "turns" ? (["operations"] as const) : KEYS[aspect]) {
      const value = change.after!.step[key];
      if (value === undefined) delete result[key];
      else result[key] = value;
    }
  return result as unknown as StepContent;
}

function layoutOf(after: ProcedureContent, steps: readonly StepChange[]): Layout[] {
  let number = 0;
  const indexOf = (count: number) => steps.findIndex((change) => change.after?.number === count);
  return after.sections.map(({ title, entries }) => ({
    title,
    entries: entries.map((entry) => (entry.kind === "step" ? indexOf((number += 1)) : entry)),
  }));
}

/** Fields that are read off the layout: they say what changed there, the layout itself is what is applied. */
const DERIVED = new Set(["headings", "notes", "includes"]);

function layoutChanges(before: ProcedureContent, after: ProcedureContent): FieldChange[] {
  const notes = (content: ProcedureContent) =>
    content.sections.flatMap(({ entries }) =>
      entries.filter((entry): entry is BlockContent => entry.kind !== "step" && entry.kind !== "include"),
    );
  const includes = (content: ProcedureContent) =>
    content.sections.flatMap(({ entries }) =>
      entries.flatMap((entry) => (entry.kind === "include" ? [entry.procedure] : [])),
    );
  const headings = (content: ProcedureContent) => content.sections.map(({ title }) => title);
  return [
    ...fieldChange(
      "headings",
      headings(before),
      headings(after),
      classOfReading(headings(before).join("\n"), headings(after).join("\n")),
    ),
    ...fieldChange("notes", notes(before), notes(after), classOfBlocks(notes(before), notes(after))),
    ...fieldChange("includes", includes(before), includes(after), "procedural"),
  ];
}

function fieldChanges(before: Content, after: Content): FieldChange[] {
  const [was, is] = [before as unknown as Record<string, unknown>, after as unknown as Record<string, unknown>];
  const fields = [...new Set([...Object.keys(was), ...Object.keys(is)])].filter((field) => !NOT_COMPARED.has(field));
  return fields.flatMap((field) => fieldChange(field, was[field], is[field], classOfField(field, before, after)));
}

const NOT_COMPARED = new Set(["form", "kind", "platform", "id", "revision", "record", "sections"]);

function classOfField(field: string, before: Content, after: Content): ChangeClass {
  if (field === "weight" || field === "age") return sameRange(before[field], after[field]) ? "editorial" : "procedural";
  if (field === "effective" || field === "authority") return "editorial";
  if (field === "title") return classOfReading(before.title, after.title);
  if (field === "purpose" && before.kind === "procedure" && after.kind === "procedure")
    return classOfPurpose(before.purpose, after.purpose);
  if (before.kind !== "procedure" && after.kind !== "procedure") {
    if (field === "body") return classOfBlocks(before.body, after.body);
    if (field === "checks") return classOfChecks(before.checks, after.checks, "procedural");
    if (
      field === "fitted" ||
      field === "fastenings" ||
      field === "empty" ||
      field === "notWith" ||
      field === "requires"
    )
      return "procedural";
  }
  return "informative";
}

/** What it is for is read; only a warning among it is acted by. */
function classOfPurpose(before: readonly BlockContent[], after: readonly BlockContent[]): ChangeClass {
  const alerts = (blocks: readonly BlockContent[]) => blocks.filter(({ kind }) => kind === "alert");
  return greatest([
    classOfReading(plainBlocks(before), plainBlocks(after)),
    classOfBlocks(alerts(before), alerts(after)),
  ]);
}

function fieldChange(field: string, before: unknown, after: unknown, changeClass: ChangeClass): FieldChange[] {
  if (isSame(before, after)) return [];
  const words =
    textOf(before) !== undefined && textOf(after) !== undefined
      ? { words: wordEdits(textOf(before)!, textOf(after)!) }
      : {};
  return [
    {
      field,
      ...(before === undefined ? {} : { before }),
      ...(after === undefined ? {} : { after }),
      ...words,
      class: changeClass,
    },
  ];
}

/** A field's value as text; `undefined` if it is none. */
function textOf(value: unknown): string | undefined {
  if (typeof value === "string") return value;
  const isBlocks =
    Array.isArray(value) &&
    value.length > 0 &&
    value.every((entry) => entry && typeof entry === "object" && ("children" in entry || "items" in entry));
  return isBlocks ? plainBlocks(value as readonly BlockContent[]) : undefined;
}

function isSame(a: unknown, b: unknown): boolean {
  return canonicalJson(a ?? null) === canonicalJson(b ?? null);
}
