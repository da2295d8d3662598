/** A frozen issue as a record again, so that what was issued is shown, run and proved like any text in a file. */
import type { Issuable } from "../../schema/documents.ts";
import type {
  Alert,
  Band,
  Block,
  Change,
  Check,
  Configuration,
  Controlled,
  End,
  Include,
  Inline,
  Option,
  Paragraph,
  Procedure,
  Range,
  Section,
  Step,
  Where,
} from "../../schema/collection.ts";
import { parseRange } from "../../schema/quantities.ts";
import { AGE_PER_DAY, formatDecimal, formatKg } from "../bands/bands.ts";
import type {
  AlertContent,
  BlockContent,
  CheckContent,
  ConfigurationContent,
  Content,
  DocumentContent,
  InlineContent,
  OptionContent,
  ProcedureContent,
  RangeContent,
  StepContent,
} from "../records/content.ts";

/**
 * The record that a frozen content holds, as approved. All its parts stand at `where`, since an author can't edit what
 * is frozen: the first line of the document's file, or of the frozen file if there is no other. Includes are left
 * empty and steps are numbered without them; `assemble` puts the included steps in place. Photos are named only: their
 * pictures are the collection's. What files frozen before it was kept can't say, the phase and which step reads the
 * card, is taken from `beside`, the text that stands in the file now.
 */
export function thaw(content: Content, file: string, beside?: Issuable): Issuable {
  const where: Where = { file, line: 1, column: 1 };
  if (content.kind === "procedure")
    return thawProcedure(content, where, beside && "steps" in beside ? beside : undefined);
  return content.kind === "configuration" ? thawConfiguration(content, where) : thawOption(content, where);
}

/**
 * A frozen range with its exact ends; the words of each end are the author's as far as the frozen words still say
 * that number, else the number itself.
 */
function thawRange({ text, from, to }: RangeContent, kind: "weight" | "age"): Range {
  const read = parseRange(text, kind),
    said = read.ok ? read.value : undefined;
  const end = (content: { value: string; owned: boolean }, own: End | undefined): End => {
    const value = BigInt(content.value);
    const number = kind === "weight" ? formatKg(value) : `${formatDecimal((value * 1000n) / AGE_PER_DAY, 1000n)} days`;
    return { value, owned: content.owned, text: own?.value === value ? own.text : number };
  };
  return { text, ...(from ? { from: end(from, said?.from) } : {}), ...(to ? { to: end(to, said?.to) } : {}) };
}

/** A frozen record's band with its exact ends and their words; any weight and any age where there is none. */
export function thawBand({ weight, age }: { readonly weight?: RangeContent; readonly age?: RangeContent }): Band {
  return {
    weight: weight ? thawRange(weight, "weight") : { text: "any weight" },
    age: age ? thawRange(age, "age") : { text: "any age" },
  };
}

/** An item as it was frozen with an issue that names it: its ends are exact again. */
export function thawItem<T extends { readonly restrains?: unknown }>(
  item: T,
): Omit<T, "restrains"> & { restrains?: Range } {
  const { restrains, ...rest } = item;
  return { ...rest, ...(restrains ? { restrains: thawRange(restrains as RangeContent, "weight") } : {}) };
}

/** What was frozen under `record`, as fields of a controlled document. */
export function thawApproval(
  { record }: DocumentContent,
  where: Where,
): Pick<Controlled, "reviewBy" | "owner" | "approvedBy" | "changes"> {
  const { reviewBy, owner, approvedBy, changes } = record;
  return {
    ...(reviewBy ? { reviewBy } : {}),
    ...(owner ? { owner } : {}),
    ...(approvedBy ? { approvedBy } : {}),
    changes: changes.map((change): Change => ({ ...change, where, at: {} })),
  };
}

function thawControlled(content: DocumentContent, where: Where): Controlled {
  const { id, platform, title, code, revision, effective } = content;
  return {
    id,
    platform,
    file: where.file,
    title,
    code,
    revision,
    status: "approved",
    ...(effective ? { effective } : {}),
    ...thawApproval(content, where),
    band: thawBand(content),
    where,
    at: {},
  };
}

function thawConfiguration(content: ConfigurationContent, where: Where): Configuration {
  return {
    ...thawControlled(content, where),
    authority: content.authority.map((each) => ({ ...each, where, at: {} })),
    standing: content.standing,
    fitted: content.fitted.map((each) => ({ ...each, where })),
    fastenings: content.fastenings.map((each) => ({ ...each, where })),
    options: content.options.map((id) => ({ id, where })),
    ...(content.requires
      ? { requires: content.requires.map((each) => ({ option: each.option, band: thawBand(each), where })) }
      : {}),
    checks: content.checks.map((check) => thawCheck(check, where)),
    body: thawBlocks(content.body, where),
  };
}

function thawOption(content: OptionContent, where: Where): Option {
  return {
    ...thawControlled(content, where),
    fitted: content.fitted.map((each) => ({ ...each, where })),
    empty: content.empty.map((place) => ({ place, where })),
    notWith: content.notWith,
    checks: content.checks.map((check) => thawCheck(check, where)),
    body: thawBlocks(content.body, where),
  };
}

function thawProcedure(content: ProcedureContent, where: Where, beside: Procedure | undefined): Procedure {
  const controlled = thawControlled(content, where);
  const reading = new Set(beside?.steps.flatMap((step) => (step.readsCard && step.id ? [step.id] : [])));
  const steps: Step[] = [];
  const sections = content.sections.map(({ title, entries }): Section => ({
    title,
    where,
    entries: entries.map((entry) => {
      if (entry.kind === "include")
        return { kind: "include", procedure: entry.procedure, where, steps: [] } satisfies Include;
      if (entry.kind !== "step") return thawBlock(entry, where);
      const own = thawStep(entry, controlled, steps.length + 1, where);
      const step = own.id && reading.has(own.id) ? { ...own, readsCard: where } : own;
      steps.push(step);
      return step;
    }),
  }));
  const phase = content.phase ?? beside?.phase;
  return { ...controlled, ...(phase ? { phase } : {}), purpose: thawBlocks(content.purpose, where), sections, steps };
}

/** Seconds that are assumed where an author gives none: a frozen step of that length is taken to have had none. */
const ASSUMED_SECONDS = 20;

function thawStep(content: StepContent, { id, band }: Controlled, number: number, where: Where): Step {
  const ownWeight = content.weight && thawRange(content.weight, "weight"),
    ownAge = content.age && thawRange(content.age, "age");
  return {
    kind: "step",
    number,
    ...(content.id ? { id: content.id } : {}),
    procedure: id,
    by: content.by,
    critical: content.critical,
    hold: content.hold,
    photos: content.photos.map((photo) => ({ id: photo.id, where })),
    takesSeconds: content.takesSeconds,
    takesGiven: content.takesSeconds !== ASSUMED_SECONDS,
    ...(ownWeight ? { ownWeight } : {}),
    ...(ownAge ? { ownAge } : {}),
    band: { weight: ownWeight ?? band.weight, age: ownAge ?? band.age },
    after: content.after.map((each) => ({ id: each, where })),
    guards: content.guards.map((each) => ({ id: each, where })),
    ...(content.unnoticed !== undefined ? { unnoticed: content.unnoticed } : {}),
    alerts: content.alerts.map((alert) => thawAlert(alert, where)),
    alertsAfter: content.alertsAfter.map((alert) => thawAlert(alert, where)),
    instruction: thawParagraph(content.instruction, where),
    ...(content.reason ? { reason: thawParagraph(content.reason, where) } : {}),
    detail: thawBlocks(content.detail, where),
    operations: content.operations.map((operation) => ({ ...operation, where, at: {} })),
    checks: content.checks.map((check) => thawCheck(check, where)),
    ...(content.readsCard ? { readsCard: where } : {}),
    where,
    at: {},
  };
}

function thawCheck(check: CheckContent, where: Where): Check {
  return { ...check, where, at: {} };
}

function thawAlert({ signal, children }: AlertContent, where: Where): Alert {
  return { kind: "alert", signal, children: thawBlocks(children, where), where };
}

function thawParagraph(children: readonly InlineContent[], where: Where): Paragraph {
  return { kind: "paragraph", children: thawInlines(children, where), where };
}

function thawBlocks(blocks: readonly BlockContent[], where: Where): Block[] {
  return blocks.map((block) => thawBlock(block, where));
}

function thawBlock(block: BlockContent, where: Where): Block {
  switch (block.kind) {
    case "paragraph":
      return thawParagraph(block.children, where);
    case "alert":
      return thawAlert(block, where);
    case "heading":
      return { ...block, children: thawInlines(block.children, where), where };
    case "list":
      return { ...block, items: block.items.map((item) => thawBlocks(item, where)), where };
    case "quote":
      return { ...block, children: thawBlocks(block.children, where), where };
    case "table":
      return { ...block, rows: block.rows.map((row) => row.map((cell) => thawInlines(cell, where))), where };
    case "code":
    case "rule":
    case "component":
      return { ...block, where };
  }
}

function thawInlines(nodes: readonly InlineContent[], where: Where): Inline[] {
  return nodes.map((node): Inline => {
    if (node.kind === "text") return { ...node, where };
    if (node.kind === "code" || node.kind === "break") return node;
    const children = thawInlines(node.children, where);
    return { ...node, children, where } as Inline;
  });
}
