/** A procedure file to a procedure; `assembleProcedures` puts included steps in place and numbers all. */
import type { RootContent } from "mdast";
import type { Findings } from "../findings/finding.ts";
import type { Block, Controlled, Include, Procedure, Section, Step } from "../schema/collection.ts";
import type { includeAttributes } from "../schema/files.ts";
import { procedureHead } from "../schema/files.ts";
import type { MarkdownFile } from "../read/markdown.ts";
import { nearestName } from "../read/nearest.ts";
import { readFields } from "../read/read-fields.ts";
import { compileControlled, requireApproval } from "./controlled.ts";
import { canStand, compileDirective, isDirective } from "./text/directive.ts";
import { openDoc, whereOfNode } from "./document.ts";
import type { Compiled, Context, Doc, Given } from "./document.ts";
import { mendFences } from "./text/mend-fences.ts";
import { resolveName } from "./names.ts";
import { compileBlock, compileInlines, textOf } from "./text/prose.ts";

type Entry = Section["entries"][number];

/** A procedure whose includes are still names. */
interface DraftProcedure {
  readonly controlled: Controlled & Pick<Procedure, "phase">;
  /** The body was read without a mistake, so that what is missing from it is missing. */
  readonly isSound: boolean;
  readonly purpose: readonly Block[];
  readonly sections: readonly {
    readonly title: string;
    readonly where: Section["where"];
    readonly entries: readonly Entry[];
  }[];
}

/** Compiles one file on its own. */
export function compileProcedure(file: MarkdownFile, id: string, context: Context): Compiled<DraftProcedure> {
  const path = file.source.file,
    where = { file: path, line: 1, column: 1 };
  const head = readFields(
    procedureHead,
    file.head,
    { source: file.source, findings: context.findings, quiet: file.brokenHead },
    { what: "the front matter", where },
  );
  if (!file.brokenHead) requireApproval(head, "procedure", path, context.findings);
  const controlled = {
    ...compileControlled(head, id, context.platform, path),
    ...(head.fields.phase !== undefined ? { phase: head.fields.phase } : {}),
  };
  const doc = openDoc(file, context, controlled),
    before = doc.findings.list.length;
  const body = compileBody(mendFences(file.tree.children, doc), doc);
  const steps = body.sections.flatMap(({ entries }) => entries.filter((entry): entry is Step => entry.kind === "step"));
  checkStepIds(steps, doc.findings);
  for (const { replaces } of steps)
    if (replaces)
      doc.findings.error("text/unknown-field", replaces.where, {
        message: "`replaces` stands only in a temporary amendment",
        fix: "Remove it; to replace a step for some days, write an amendment in the folder amendments",
      });
  checkNamedSteps(controlled, steps, doc.findings);
  const isSound = !file.brokenBody && doc.findings.list.length === before;
  return { value: { controlled, isSound, ...body }, placed: doc.placed };
}

function compileBody(
  nodes: readonly RootContent[],
  doc: Doc,
): { purpose: Block[]; sections: DraftProcedure["sections"] } {
  const purpose: Block[] = [],
    sections: { title: string; where: Section["where"]; entries: Entry[] }[] = [];
  let entries: Entry[] | undefined;
  const current = (node: RootContent): Entry[] => {
    if (!entries) sections.push({ title: "", where: whereOfNode(doc, node), entries: (entries = []) });
    return entries;
  };
  for (const node of nodes) {
    if (node.type === "heading" && node.depth <= 2) {
      compileInlines(node.children, doc);
      sections.push({ title: textOf(node, doc).trim(), where: whereOfNode(doc, node), entries: (entries = []) });
    } else if (isDirective(node)) {
      // A section begins with what stands in it, whether or not that can be read.
      const list = canStand(node, "procedure", doc) ? current(node) : undefined,
        part = compileDirective(node, "procedure", doc);
      if (part?.kind === "step" || part?.kind === "include" || part?.kind === "alert") list?.push(part);
    } else {
      const block = compileBlock(node, doc);
      if (block) (entries ?? purpose).push(block);
    }
  }
  return { purpose, sections };
}

/** Another procedure's steps, still by its name; nothing if it names none. */
export function compileInclude({ where, fields, at }: Given<typeof includeAttributes>, doc: Doc): Include | undefined {
  if (fields.procedure === undefined) return undefined;
  const place = at.procedure ?? where;
  return {
    kind: "include",
    procedure: resolveName(doc.names.procedures, fields.procedure, place, doc.findings),
    where: place,
    steps: [],
  };
}

function checkStepIds(steps: readonly Step[], findings: Findings): void {
  const first = new Map<string, number>();
  steps.forEach((step, index) => {
    if (step.id === undefined) return;
    const earlier = first.get(step.id);
    if (earlier === undefined) first.set(step.id, index);
    else
      findings.error("text/duplicate-id", step.at.id ?? step.where, {
        message: `The step id \`${step.id}\` is used twice`,
        fix: "If the step was pasted twice, delete one of the two; else give one of them another id",
        cause: steps[earlier]!.at.id ?? steps[earlier]!.where,
      });
  });
  steps.forEach((step, index) => {
    for (const { id, where } of step.after) {
      const other = first.get(id);
      if (other === undefined) {
        const near = nearestName(id, first.keys());
        findings.error("text/unknown-id", where, {
          message: `No step of this procedure has the id \`${id}\`${near ? `, expected \`${near}\`` : ""}`,
          fix: near ? `Write \`${near}\`` : `Give the step it must follow the id \`#${id}\``,
        });
      } else if (other >= index)
        findings.error("text/bad-value", where, {
          message:
            other === index ? "A step can't follow itself" : `\`${id}\` stands after this step, which is to follow it`,
          fix: "Name an earlier step, or put the steps in another order",
        });
    }
  });
}

/** The change entry of this revision names steps that are there; earlier entries may name steps that are gone since. */
function checkNamedSteps({ changes, revision }: Controlled, steps: readonly Step[], findings: Findings): void {
  const known = steps.flatMap(({ id }) => id ?? []);
  for (const change of changes.filter((each) => each.revision === revision))
    for (const id of change.steps ?? [])
      if (!known.includes(id)) {
        const near = nearestName(id, known);
        findings.error("text/unknown-id", change.at["steps"] ?? change.where, {
          message: `No step of this procedure has the id \`${id}\`${near ? `, expected \`${near}\`` : ""}`,
          fix: near ? `Write \`${near}\`` : `Give the step that the change is about the id \`#${id}\``,
        });
      }
}

/**
 * A procedure with all it includes may have this many steps; includes that double at every level would otherwise grow
 * without bound.
 */
const MOST_STEPS = 2000;

/**
 * Procedures with included steps in place, numbered from 1. Includes that go in a circle or grow too large are reported
 * and left empty.
 */
export function assembleProcedures(drafts: readonly DraftProcedure[], findings: Findings): Procedure[] {
  const stepsOf = gatherSteps(new Map(drafts.map((draft) => [draft.controlled.id, draft])), findings);
  return drafts.map(({ controlled, isSound, purpose, sections }) => {
    const steps: Step[] = [];
    const number = (step: Step): Step => {
      const numbered = { ...step, number: steps.length + 1 };
      steps.push(numbered);
      return numbered;
    };
    const place = (entry: Entry): Entry =>
      entry.kind === "step"
        ? number(entry)
        : entry.kind === "include"
          ? { ...entry, steps: (stepsOf.get(entry) ?? []).map(number) }
          : entry;
    const placed = sections.map((section) => ({ ...section, entries: section.entries.map(place) }));
    if (steps.length === 0 && isSound && !placed.some(({ entries }) => entries.some(({ kind }) => kind === "include")))
      reportNoStep(controlled, findings);
    return { ...controlled, purpose, sections: placed, steps };
  });
}

/** An approved procedure without a step would take no time and do nothing: its text is no procedure yet. */
function reportNoStep({ status, where, at }: Controlled, findings: Findings): void {
  if (status !== "approved") return;
  findings.error("text/missing-field", where, {
    message: "This approved procedure has no step: numbered lines and paragraphs are text that nobody does",
    fix: "Put each instruction between a line `:::step` and a line `:::`, or set `status` to `draft`",
    ...(at.status ? { cause: at.status } : {}),
  });
}

/** The steps that each include runs, in order; none for an include that was reported. */
function gatherSteps(
  byId: ReadonlyMap<string, DraftProcedure>,
  findings: Findings,
): ReadonlyMap<Entry, readonly Step[]> {
  const included = new Map<Entry, readonly Step[]>(),
    whole = new Map<string, readonly Step[]>(),
    path: string[] = [];
  const visit = (id: string): readonly Step[] => {
    const known = whole.get(id),
      draft = byId.get(id);
    if (known || !draft) return known ?? [];
    path.push(id);
    const steps: Step[] = [];
    for (const section of draft.sections)
      for (const entry of section.entries) {
        if (entry.kind === "step") steps.push(entry);
        if (entry.kind !== "include") continue;
        const at = path.indexOf(entry.procedure);
        if (at >= 0) {
          const round = [...path.slice(at), entry.procedure].map((name) => `\`${name}\``).join(" → ");
          findings.error("text/bad-value", entry.where, {
            message: `Including \`${entry.procedure}\` here goes round in a circle: ${round}`,
            fix: "Remove one of these includes",
          });
          continue;
        }
        const theirs = visit(entry.procedure);
        if (steps.length + theirs.length > MOST_STEPS) {
          findings.error("text/bad-value", entry.where, {
            message: `With \`${entry.procedure}\` this procedure has more than ${MOST_STEPS} steps`,
            fix: "Include less, or split the procedure",
          });
          continue;
        }
        included.set(entry, theirs);
        steps.push(...theirs);
      }
    path.pop();
    whole.set(id, steps);
    return steps;
  };
  for (const id of byId.keys()) visit(id);
  return included;
}
