/** One `:::step` to a step: who, what, why, for whom, and what it moves, turns and checks. */
import type { Nodes, RootContent } from "mdast";
import type { ContainerDirective, LeafDirective } from "mdast-util-directive";
import type { Alert, At, Band, Block, Check, Operation, Paragraph, Reference, Step } from "../schema/collection.ts";
import { DEFAULT_STEP_SECONDS } from "../schema/units.ts";
import { checkAttributes, moveAttributes, stepAttributes, turnAttributes } from "../schema/files.ts";
import { scanOpening } from "../read/attributes.ts";
import { wordsOf } from "../read/raw.ts";
import type { Raw } from "../read/raw.ts";
import { readFields } from "../read/read-fields.ts";
import { startOf, whereOfNode } from "./document.ts";
import type { Doc } from "./document.ts";
import { resolveCrew, resolveName, resolveState } from "./names.ts";
import { compileAlert, compileBlock, compileInlines, isAlert, reportDirective, textOf } from "./prose.ts";

/** Words of an attribute, each with its place; none if it is absent. */
export function wordsAt(raws: ReadonlyMap<string, Raw>, key: string, doc: Doc): Reference[] {
  const raw = raws.get(key);
  return raw?.kind === "text" ? wordsOf(doc.source, raw) : [];
}

/** A step as far as its own file tells: `number` is 0 and `after` unchecked until the procedure is whole. */
export function compileStep(node: ContainerDirective, doc: Doc, procedure: string, procedureBand: Band): Step {
  const where = whereOfNode(doc, node),
    opening = scanOpening(doc.source, startOf(node), doc.findings);
  const { fields, at, raws } = readFields(stepAttributes, opening.attributes, doc.reader, { what: "the step", where });
  const guards = wordsAt(raws, "guards", doc).map((guard) => ({
    ...guard,
    id: resolveName(doc.names.incidents, guard.id, guard.where, doc.findings),
  }));
  const content = compileContent(node.children as RootContent[], doc);
  const instruction: Paragraph = content.instruction ?? { kind: "paragraph", children: [], where };
  if (!content.instruction)
    doc.findings.error("text/missing-field", where, {
      message: "The instruction of this step is missing",
      fix: "Write what to do as the step's first paragraph",
    });
  return {
    kind: "step",
    number: 0,
    ...(fields.id !== undefined ? { id: fields.id } : {}),
    procedure,
    by: resolveCrew(wordsAt(raws, "by", doc), doc.names, doc.findings),
    critical: fields.critical ?? false,
    hold: fields.hold ?? false,
    photos: wordsAt(raws, "photo", doc),
    takesSeconds: fields.takes ?? DEFAULT_STEP_SECONDS,
    takesGiven: fields.takes !== undefined,
    ...(fields.weight ? { ownWeight: fields.weight } : {}),
    ...(fields.age ? { ownAge: fields.age } : {}),
    band: { weight: fields.weight ?? procedureBand.weight, age: fields.age ?? procedureBand.age },
    after: wordsAt(raws, "after", doc),
    guards,
    alerts: content.alerts,
    alertsAfter: content.alertsAfter,
    instruction,
    ...(content.reason ? { reason: content.reason } : {}),
    detail: content.detail,
    operations: content.operations,
    checks: content.checks,
    where,
    at: at as At,
  };
}

interface Content {
  instruction?: Paragraph;
  reason?: Paragraph;
  readonly alerts: Alert[];
  readonly alertsAfter: Alert[];
  readonly detail: Block[];
  readonly operations: Operation[];
  readonly checks: Check[];
}

function compileContent(nodes: readonly RootContent[], doc: Doc): Content {
  const content: Content = { alerts: [], alertsAfter: [], detail: [], operations: [], checks: [] };
  for (const node of nodes) {
    if (isAlert(node)) {
      (content.instruction ? content.alertsAfter : content.alerts).push(compileAlert(node, doc));
      continue;
    }
    if (node.type === "leafDirective" && OPERATIONS.has(node.name)) {
      if (node.name === "check") content.checks.push(compileCheck(node, doc));
      else content.operations.push(...compileOperation(node, doc));
      continue;
    }
    if (node.type === "leafDirective" && node.name === "include") {
      reportDirective(node, doc, "inside a step");
      continue;
    }
    if (node.type === "paragraph" && (node.data as { directiveLabel?: boolean } | undefined)?.directiveLabel)
      doc.findings.error("text/syntax", whereOfNode(doc, node), {
        message: "A step takes no label in brackets",
        fix: "Write the instruction as the step's first paragraph",
      });
    const block = compileBlock(node, doc);
    if (!block) continue;
    if (block.kind === "paragraph" && !content.reason) {
      const reason = readReason(block);
      if (reason) {
        content.reason = reason;
        continue;
      }
    }
    if (!content.instruction && block.kind === "paragraph") content.instruction = block;
    else content.detail.push(block);
  }
  return content;
}

const OPERATIONS = new Set(["move", "turn", "check"]);

/** The paragraph without its `Why:`; nothing if it does not begin so. */
function readReason(paragraph: Paragraph): Paragraph | undefined {
  const [first, ...rest] = paragraph.children;
  if (first?.kind !== "text") return undefined;
  const found = /^Why:\s*/.exec(first.text);
  if (!found) return undefined;
  const { file, line, column } = first.where;
  const shifted = /[\r\n]/.test(found[0]) ? first.where : { file, line, column: column + found[0].length };
  const text = { ...first, text: first.text.slice(found[0].length), where: shifted };
  return { ...paragraph, children: text.text === "" ? rest : [text, ...rest] };
}

function compileOperation(node: LeafDirective, doc: Doc): Operation[] {
  const where = whereOfNode(doc, node),
    opening = scanOpening(doc.source, startOf(node), doc.findings);
  refuseLabel(opening.label, node, doc);
  if (node.name === "move") {
    const { fields, at } = readFields(moveAttributes, opening.attributes, doc.reader, { what: "`::move`", where });
    const name = (kind: "items" | "places", id: string | undefined, key: string) =>
      id === undefined ? undefined : resolveName(doc.names[kind], id, at[key] ?? where, doc.findings);
    const item = name("items", fields.item, "item"),
      from = name("places", fields.from, "from"),
      to = name("places", fields.to, "to");
    if (item === undefined || from === undefined || to === undefined) return [];
    if (from === to)
      doc.findings.error("text/bad-value", at.to ?? where, {
        message: `\`::move\` leaves \`${item}\` in \`${to}\`, where it is`,
        fix: "Name another place in `to`, or remove the move",
      });
    return [{ kind: "move", item, count: fields.count ?? 1, from, to, where, at: at as At }];
  }
  const { fields, at } = readFields(turnAttributes, opening.attributes, doc.reader, { what: "`::turn`", where });
  if (fields.fastening === undefined) return [];
  const fastening = resolveName(doc.names.fastenings, fields.fastening, at.fastening ?? where, doc.findings);
  if (fields.to === undefined) return [];
  return [
    {
      kind: "turn",
      fastening,
      to: resolveState(doc.names, fastening, fields.to, at.to ?? where, doc.findings),
      where,
      at: at as At,
    },
  ];
}

function refuseLabel(label: { offset: number } | undefined, node: LeafDirective, doc: Doc): void {
  if (label)
    doc.findings.error("text/syntax", doc.source.where(label.offset - 1), {
      message: `\`::${node.name}\` takes no label in brackets`,
      fix: "Remove the brackets and what is in them",
    });
}

/** A challenge with its answer. */
export function compileCheck(node: LeafDirective, doc: Doc): Check {
  const where = whereOfNode(doc, node),
    opening = scanOpening(doc.source, startOf(node), doc.findings);
  const { fields, at, raws } = readFields(checkAttributes, opening.attributes, doc.reader, {
    what: "`::check`",
    where,
  });
  const challenge = node.children
    .map((child) => textOf(child as Nodes, doc))
    .join("")
    .trim();
  compileInlines(node.children, doc);
  if (challenge === "")
    doc.findings.error("text/missing-field", where, {
      message: "The challenge of `::check` is missing",
      fix: 'Write `::check[challenge]{answer="…"}`',
    });
  return {
    challenge,
    answer: fields.answer ?? "",
    by: resolveCrew(wordsAt(raws, "by", doc), doc.names, doc.findings),
    where,
    at: at as At,
  };
}
