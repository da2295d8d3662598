/** One `:::step` to a step: who, what, why, for whom, and what it moves, turns and checks. */
import type { Nodes, RootContent } from "mdast";
import type { Alert, Block, Check, Operation, Paragraph, Reference, Step, Where } from "../../schema/collection.ts";
import { DEFAULT_STEP_SECONDS } from "../../schema/units.ts";
import type { checkAttributes, moveAttributes, stepAttributes, turnAttributes } from "../../schema/files.ts";
import { placedWords } from "../../read/raw.ts";
import type { Raw } from "../../read/raw.ts";
import { compileDirective, isDirective } from "./directive.ts";
import { whereOfNode } from "../document.ts";
import type { Doc, Given, Part } from "../document.ts";
import { resolveCrew, resolveName, resolveState, thingsOf } from "../names.ts";
import { compileBlock, compileInlines, textOf } from "./prose.ts";

/** Words of an attribute, each with its place; none if it is absent. */
function wordsAt(raws: ReadonlyMap<string, Raw>, key: string, doc: Doc): Reference[] {
  const raw = raws.get(key);
  return raw?.kind === "text" ? placedWords(doc.source, raw) : [];
}

/** A step as far as its own file tells: `number` is 0 and `after` unchecked until the procedure is whole. */
export function compileStep({ node, where, fields, at, raws }: Given<typeof stepAttributes>, doc: Doc): Step {
  const { id: procedure, band: procedureBand } = doc.owner;
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
    ...(fields.unnoticed !== undefined ? { unnoticed: fields.unnoticed } : {}),
    alerts: content.alerts,
    alertsAfter: content.alertsAfter,
    instruction,
    ...(content.reason ? { reason: content.reason } : {}),
    detail: content.detail,
    operations: content.operations,
    checks: content.checks,
    ...(content.readsCard ? { readsCard: content.readsCard } : {}),
    ...(fields.replaces !== undefined ? { replaces: { id: fields.replaces, where: at["replaces"] ?? where } } : {}),
    where,
    at,
  };
}

interface Content {
  instruction?: Paragraph;
  reason?: Paragraph;
  readsCard?: Where;
  readonly alerts: Alert[];
  readonly alertsAfter: Alert[];
  readonly detail: Block[];
  readonly operations: Operation[];
  readonly checks: Check[];
}

function compileContent(nodes: readonly RootContent[], doc: Doc): Content {
  const content: Content = { alerts: [], alertsAfter: [], detail: [], operations: [], checks: [] };
  for (const node of nodes) {
    if (isDirective(node)) {
      const part = compileDirective(node, "step", doc);
      if (part?.kind === "alert") (content.instruction ? content.alertsAfter : content.alerts).push(part);
      else if (part?.kind === "check") content.checks.push(part.check);
      else if (part?.kind === "card") content.readsCard ??= part.where;
      else if (part?.kind === "move" || part?.kind === "turn") content.operations.push(part);
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

/** A move; nothing if its item or one of its places is missing. */
export function compileMove({ where, fields, at }: Given<typeof moveAttributes>, doc: Doc): Operation | undefined {
  const name = (kind: "items" | "places", id: string | undefined, key: string) =>
    id === undefined ? undefined : resolveName(doc.names[kind], id, at[key] ?? where, doc.findings);
  const item = name("items", fields.item, "item"),
    from = name("places", fields.from, "from"),
    to = name("places", fields.to, "to");
  if (item === undefined || from === undefined || to === undefined) return undefined;
  if (from === to)
    doc.findings.error("text/bad-value", at.to ?? where, {
      message: `\`::move\` leaves \`${item}\` in \`${to}\`, where it is`,
      fix: "Name another place in `to`, or remove the move",
    });
  return { kind: "move", item, count: fields.count ?? 1, from, to, where, at };
}

/** A turn; nothing if its fastening or state is missing. */
export function compileTurn({ where, fields, at }: Given<typeof turnAttributes>, doc: Doc): Operation | undefined {
  if (fields.fastening === undefined) return undefined;
  const fastening = resolveName(doc.names.fastenings, fields.fastening, at.fastening ?? where, doc.findings);
  if (fields.to === undefined) return undefined;
  const to = resolveState(doc.names, fastening, fields.to, at.to ?? where, doc.findings);
  return { kind: "turn", fastening, to, where, at };
}

/** The card of the arrangement is read here. */
export function compileCard({ where }: Given): Part {
  return { kind: "card", where };
}

/** A challenge with its answer. */
export function compileCheck({ node, where, fields, at, raws }: Given<typeof checkAttributes>, doc: Doc): Part {
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
  const about = wordsAt(raws, "about", doc).map(({ id, where: at }) =>
    resolveName(thingsOf(doc.names), id, at, doc.findings),
  );
  return {
    kind: "check",
    check: {
      challenge,
      answer: fields.answer ?? "",
      by: resolveCrew(wordsAt(raws, "by", doc), doc.names, doc.findings),
      ...(about.length ? { about } : {}),
      ...(fields.replaces !== undefined ? { replaces: fields.replaces } : {}),
      where,
      at,
    },
  };
}
