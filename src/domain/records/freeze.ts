/**
 * What an issue freezes: the content of a procedure, configuration or option without its places in files, and the hash
 * of it.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import type {
  Alert,
  Block,
  Change,
  Check,
  Controlled,
  Inline,
  Issued,
  Operation,
  Paragraph,
  Photo,
  Platform,
  Range,
  Requirement,
  Section,
  Step,
} from "../../schema/collection.ts";
import type {
  AlertContent,
  BlockContent,
  ChangeContent,
  CheckContent,
  Content,
  DocumentContent,
  EntryContent,
  InlineContent,
  OperationContent,
  PhotoContent,
  ProcedureContent,
  RangeContent,
  RequirementContent,
  SectionContent,
  StepContent,
} from "./content.ts";
import type { Issuable } from "../../schema/documents.ts";
import { onceInProcess } from "../../schema/once-in-process.ts";
import { resultOf, type Told, noteReads } from "../words/reads.ts";
import { remember } from "../words/remember.ts";

/** `procedure`, `configuration` or `option`. */
export function kindOf(record: Controlled): Issued["kind"] {
  if ("steps" in record) return "procedure";
  return "standing" in record ? "configuration" : "option";
}

/**
 * What is frozen of a record. Everything that a reader could notice is in it, and the title, code, revision and
 * effective date by which she knows it.
 * Owner, approver, review date and the list of changes are under `record`: they are frozen and hashed, but altering
 * them asks for no new revision
 * (a review that finds nothing to change only moves `review-by`). The status is left out: whatever is frozen was
 * approved.
 * Line breaks and spaces within text are evened out, so that wrapping a paragraph anew is no change. An `::include` is
 * frozen as such: the steps
 * that it runs belong to the other procedure's issue. What a temporary amendment changes is not frozen.
 */
export function contentOf(record: Issuable, platform: Platform): Content {
  if ("asIssued" in record && record.asIssued) return contentOf(record.asIssued, platform);
  const known = contents.get(record) ?? noteReads(() => makeContent(record, platform));
  contents.set(record, known);
  return resultOf(known);
}

/** What was frozen of a record, where that is known (`rememberContent`), or worked out. */
const contents = /* @__PURE__ */ onceInProcess("contents", () => new WeakMap<Issuable, Told<Content>>());

/** Says which frozen content a record was made from, so that `contentOf` gives that very content; gives the record. */
export function rememberContent<R extends Issuable>(record: R, content: Content): R {
  contents.set(record, { result: content });
  return record;
}

function makeContent(record: Issuable, platform: Platform): Content {
  if ("steps" in record) {
    const photos = new Map(platform.photos.map((photo) => [photo.id, photo]));
    const content: ProcedureContent = {
      ...documentOf(record, "procedure"),
      kind: "procedure",
      ...(record.phase ? { phase: record.phase } : {}),
      purpose: record.purpose.map(blockOf),
      sections: record.sections.map((section) => sectionOf(section, photos)),
    };
    return content;
  }
  const shared = {
    fitted: record.fitted.map(({ place, item, count }) => ({ place, item, count })),
    checks: record.checks.map(checkOf),
    body: record.body.map(blockOf),
  };
  if ("standing" in record)
    return {
      ...documentOf(record, "configuration"),
      kind: "configuration",
      ...shared,
      standing: record.standing,
      authority: record.authority.map(({ kind, reference, date }) => ({ kind, reference, ...(date ? { date } : {}) })),
      fastenings: record.fastenings.map(({ fastening, state }) => ({ fastening, state })),
      options: record.options.map(({ id }) => id),
      ...(record.requires ? { requires: record.requires.map(requirementOf) } : {}),
    };
  return {
    ...documentOf(record, "option"),
    kind: "option",
    ...shared,
    empty: record.empty.map(({ place }) => place),
    notWith: [...record.notWith],
  };
}

/**
 * JSON with sorted keys and no white space, the same for the same content wherever it was made (RFC 8785, for the
 * values that content has).
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map((entry) => canonicalJson(entry ?? null)).join(",")}]`;
  if (value !== null && typeof value === "object") {
    const entries = Object.entries(value).filter(([, entry]) => entry !== undefined);
    entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${entries.map(([key, entry]) => `${JSON.stringify(key)}:${canonicalJson(entry)}`).join(",")}}`;
  }
  return JSON.stringify(value);
}

/** SHA-256 of the canonical JSON, as 64 hexadecimal digits (FIPS 180-4). */
export function hashOf(content: unknown): string {
  return bytesToHex(sha256(utf8ToBytes(canonicalJson(content))));
}

/**
 * The content of a frozen issue; `undefined` if it was altered since it was issued, or has a form that is not known
 * here.
 */
export const contentOfIssue: (issue: Issued) => Content | undefined = remember(readIssue);

function readIssue(issue: Issued): Content | undefined {
  const content = issue.content;
  if (content === null || typeof content !== "object" || !("form" in content) || content.form !== 1) return undefined;
  const { form = 1, head } = issue;
  const whole = form === 1 ? content : { ...head, content };
  return hashOf(whole) === issue.hash && !mislabelled(issue) ? (content as Content) : undefined;
}

/** Whether an issue's own words for what it is differ from what its content says. */
export function mislabelled({ content, head, kind, platform, id, revision, file }: Issued): boolean {
  const inside = content as Partial<DocumentContent> | null;
  const name = file.split("/").slice(-2).join("/");
  return (
    (head !== undefined && (head.platform !== platform || head.id !== id || head.revision !== revision)) ||
    inside?.kind !== kind ||
    inside.platform !== platform ||
    inside.id !== id ||
    inside.revision !== revision ||
    name !== `${platform}/${id}@${revision}.json`
  );
}

/** Whether a reader could notice a difference between two contents: anything but what is under `record`. */
export function differs(a: Content, b: Content): boolean {
  const [readA, readB] = [asRead(a), asRead(b)];
  return (
    readA.text !== readB.text &&
    canonicalJson(withoutLoneHashes(readA.content, readB.text)) !==
      canonicalJson(withoutLoneHashes(readB.content, readA.text))
  );
}

/** What a reader sees of a content, and its text: a frozen one is compared again and again. */
const asRead = remember(({ record: _, ...read }: Content) => {
  const content = withoutSubjects(read);
  return { content, text: canonicalJson(content) };
});

/**
 * The value without what nobody reads: what lines are about, which step reads the card, and where a procedure stands
 * in a changeover. Files frozen before these were kept have none of them.
 */
function withoutSubjects(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutSubjects);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, entry]) =>
      (key === "about" && "challenge" in value) ||
      (key === "readsCard" && "operations" in value) ||
      (key === "phase" && "sections" in value)
        ? []
        : [[key, withoutSubjects(entry)]],
    ),
  );
}

/**
 * Whether two lists of photos are the same. An issue without the hash of a photo's file says nothing of its bytes, so
 * that these can't differ from it.
 */
export function samePhotos(a: readonly PhotoContent[], b: readonly PhotoContent[]): boolean {
  const [textA, textB] = [canonicalJson(a), canonicalJson(b)];
  return textA === textB || canonicalJson(withoutLoneHashes(a, textB)) === canonicalJson(withoutLoneHashes(b, textA));
}

/** The value without the hashes of photos for which the other text has none. */
function withoutLoneHashes(value: unknown, other: string): unknown {
  if (Array.isArray(value)) return value.map((entry) => withoutLoneHashes(entry, other));
  if (value === null || typeof value !== "object") return value;
  const { id, image } = value as PhotoContent;
  if (image?.sha256 && !hashedPhoto(id).test(other))
    return { ...value, image: { width: image.width, height: image.height } };
  return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, withoutLoneHashes(entry, other)]));
}

/**
 * A photo with a hash in canonical JSON: keys stand in order, so that `id` comes before `image` with nothing between
 * them.
 */
function hashedPhoto(id: string): RegExp {
  return new RegExp(`"id":${JSON.stringify(id).replace(/[^"a-z0-9-]/gi, "\\$&")},"image":\\{"height":[^{}]*"sha256":`);
}

function documentOf<K extends Issued["kind"]>(record: Controlled, kind: K): DocumentContent & { readonly kind: K } {
  const { platform, id, code, title, revision, effective, reviewBy, owner, approvedBy, changes, band } = record;
  return {
    form: 1,
    kind,
    platform,
    id,
    code,
    title: evenOut(title).trim(),
    revision,
    ...(effective ? { effective } : {}),
    weight: rangeOf(band.weight),
    age: rangeOf(band.age),
    record: {
      ...(reviewBy ? { reviewBy } : {}),
      ...(owner ? { owner } : {}),
      ...(approvedBy ? { approvedBy } : {}),
      changes: changes.map(changeOf),
    },
  };
}

function changeOf({ revision, date, by, summary, reason, signOffs, steps }: Change): ChangeContent {
  return {
    revision,
    date,
    by,
    summary,
    ...(reason ? { reason } : {}),
    ...(signOffs ? { signOffs } : {}),
    ...(steps ? { steps: [...steps] } : {}),
  };
}

function requirementOf({ option, band }: Requirement): RequirementContent {
  return { option, weight: rangeOf(band.weight), age: rangeOf(band.age) };
}

/** A range as it is frozen: `from 5 kg` keeps its words, and its end as a whole number of 1e-20 kg in decimal. */
export function rangeOf({ from, to, text }: Range): RangeContent {
  const end = ({ value, owned }: { value: bigint; owned: boolean }) => ({ value: String(value), owned });
  return { text, ...(from ? { from: end(from) } : {}), ...(to ? { to: end(to) } : {}) };
}

function sectionOf({ title, entries }: Section, photos: ReadonlyMap<string, Photo>): SectionContent {
  return {
    title: evenOut(title).trim(),
    entries: entries.map((entry): EntryContent => {
      if (entry.kind === "step") return stepOf(entry, photos);
      if (entry.kind === "include") return { kind: "include", procedure: entry.procedure };
      return blockOf(entry);
    }),
  };
}

function stepOf(step: Step, photos: ReadonlyMap<string, Photo>): StepContent {
  return {
    kind: "step",
    ...(step.id ? { id: step.id } : {}),
    by: [...step.by],
    critical: step.critical,
    hold: step.hold,
    photos: step.photos.map(({ id }) => photoOf(id, photos.get(id))),
    takesSeconds: step.takesSeconds,
    ...(step.ownWeight ? { weight: rangeOf(step.ownWeight) } : {}),
    ...(step.ownAge ? { age: rangeOf(step.ownAge) } : {}),
    after: step.after.map(({ id }) => id),
    guards: step.guards.map(({ id }) => id),
    ...(step.unnoticed !== undefined ? { unnoticed: evenOut(step.unnoticed).trim() } : {}),
    alerts: step.alerts.map(alertOf),
    alertsAfter: step.alertsAfter.map(alertOf),
    instruction: inlinesOf(step.instruction.children),
    ...(step.reason ? { reason: inlinesOf(step.reason.children) } : {}),
    detail: step.detail.map(blockOf),
    operations: step.operations.map(operationOf),
    checks: step.checks.map(checkOf),
    ...(step.readsCard ? { readsCard: true } : {}),
  };
}

/**
 * A photo by what its author says of it (when it was taken, what it shows, marks and crop), its size in pixels and the
 * hash of its file.
 */
function photoOf(id: string, photo: Photo | undefined): PhotoContent {
  if (!photo) return { id };
  const { alt, taken, crop, image } = photo;
  return {
    id,
    ...(alt ? { alt: evenOut(alt).trim() } : {}),
    ...(taken ? { taken } : {}),
    marks: photo.marks.map(({ n, x, y, label }) => ({ n, x, y, label })),
    arrows: photo.arrows.map(({ from, to }) => [...from, ...to]),
    crop: { x: crop.x, y: crop.y, width: crop.width, height: crop.height },
    ...(image
      ? { image: { width: image.width, height: image.height, ...(image.sha256 ? { sha256: image.sha256 } : {}) } }
      : {}),
  };
}

function operationOf(operation: Operation): OperationContent {
  return operation.kind === "move"
    ? { kind: "move", item: operation.item, count: operation.count, from: operation.from, to: operation.to }
    : { kind: "turn", fastening: operation.fastening, to: operation.to };
}

function checkOf({ challenge, answer, by, about, replaces }: Check): CheckContent {
  return {
    challenge: evenOut(challenge).trim(),
    answer: evenOut(answer).trim(),
    by: [...by],
    ...(about ? { about: [...about] } : {}),
    ...(replaces !== undefined ? { replaces: evenOut(replaces).trim() } : {}),
  };
}

function alertOf({ signal, children }: Alert): AlertContent {
  return { kind: "alert", signal, children: children.map(blockOf) };
}

function blockOf(block: Block): BlockContent {
  switch (block.kind) {
    case "paragraph":
      return paragraphOf(block);
    case "alert":
      return alertOf(block);
    case "heading":
      return { kind: "heading", depth: block.depth, children: inlinesOf(block.children) };
    case "list":
      return { kind: "list", ordered: block.ordered, items: block.items.map((item) => item.map(blockOf)) };
    case "quote":
      return { kind: "quote", children: block.children.map(blockOf) };
    case "code":
      return { kind: "code", text: block.text };
    case "table":
      return { kind: "table", rows: block.rows.map((row) => row.map(inlinesOf)) };
    case "rule":
      return { kind: "rule" };
    case "component":
      return { kind: "component", name: block.name, attributes: { ...block.attributes } };
  }
}

function paragraphOf({ children }: Paragraph): BlockContent {
  return { kind: "paragraph", children: inlinesOf(children) };
}

/** Running text with neighbouring texts joined and white space evened out. */
function inlinesOf(nodes: readonly Inline[]): InlineContent[] {
  const result: InlineContent[] = [];
  for (const node of nodes) {
    const last = result.at(-1);
    if (node.kind === "text" && last?.kind === "text")
      result[result.length - 1] = { kind: "text", text: evenOut(last.text + node.text) };
    else result.push(inlineOf(node));
  }
  return result;
}

function inlineOf(node: Inline): InlineContent {
  if (node.kind === "text") return { kind: "text", text: evenOut(node.text) };
  if (node.kind === "code") return { kind: "code", text: node.text };
  if (node.kind === "break") return { kind: "break" };
  if (node.kind === "link") return { kind: "link", href: node.href, children: inlinesOf(node.children) };
  if (node.kind === "item" || node.kind === "place")
    return { kind: node.kind, id: node.id, children: inlinesOf(node.children) };
  return { kind: node.kind, children: inlinesOf(node.children) };
}

function evenOut(text: string): string {
  return /[\t\r\n]|  /.test(text) ? text.replace(/[ \t\r\n]+/g, " ") : text;
}
