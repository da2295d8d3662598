/**
 * A frozen issue as a file: its head, its content, and the equipment, places and fastenings that the content names, so
 * that it can be shown and run when none of them is in today's files any more. The hash binds all of it.
 */
import type { Issuable } from "../../schema/documents.ts";
import type { Collection, Fastening, Issued, Item, Place, Platform } from "../../schema/collection.ts";
import { remember } from "../words/remember.ts";
import type { Content } from "./content.ts";
import type { Picture } from "./pictures.ts";
import { canonicalJson, contentOf, hashOf, kindOf } from "./freeze.ts";

/** What a content names, as it was on the day of issue; without places in files. */
export interface NamedParts {
  readonly items: readonly Omit<Item, "where" | "at">[];
  readonly places: readonly Omit<Place, "where" | "at">[];
  readonly fastenings: readonly Omit<Fastening, "where" | "at">[];
}

/** The file of an issue, form 2. `with` names the other issues of the same run: none of them can go missing unseen. */
export interface FrozenFile {
  readonly form: 2;
  readonly kind: Issued["kind"];
  readonly platform: string;
  readonly id: string;
  readonly revision: number;
  /** The day on which it was issued, `YYYY-MM-DD`. */
  readonly issued: string;
  /** The check code of the content, which the review sheet prints and the approver signed. */
  readonly signed: string;
  /** `platform/id@revision`, sorted. */
  readonly with: readonly string[];
  /** The newest issue of every other document and the newest edition of every card at that time, as in `with`. */
  readonly beside: readonly string[];
  /** Photo id -> the small picture that is kept of it beside this file; absent where it shows none. */
  readonly pictures?: Readonly<Record<string, Picture>>;
  readonly hash: string;
  readonly uses: NamedParts;
  readonly content: Content;
}

/** The frozen file of a record: everything but `hash` is bound by it. */
export function freezeRecord(
  record: Issuable,
  platform: Platform,
  {
    issued,
    signed,
    others,
    beside,
    pictures,
  }: {
    readonly issued: string;
    readonly signed: string;
    readonly others: readonly string[];
    readonly beside: readonly string[];
    readonly pictures: ReadonlyMap<string, Picture>;
  },
): FrozenFile {
  const content = contentOf(record, platform);
  const head = {
    form: 2 as const,
    kind: kindOf(record),
    platform: record.platform,
    id: record.id,
    revision: record.revision,
    issued,
    signed,
    with: [...others].sort(),
    beside: [...beside].sort(),
    ...(pictures.size > 0 ? { pictures: Object.fromEntries(pictures) } : {}),
  };
  const rest = { uses: namedParts(content, platform), content };
  return { ...head, hash: hashOf({ ...head, ...rest }), ...rest };
}

/** The items, places and fastenings that a content names, and where those are; in the order of the platform. */
function namedParts(content: Content, platform: Platform): NamedParts {
  const named = new Set(idsIn(content));
  // What an item or a fastening names is needed to run it, and so on until nothing new is named.
  for (let size = -1; size !== named.size;) {
    size = named.size;
    for (const item of platform.items)
      if (named.has(item.id)) for (const id of [item.home, ...item.places]) named.add(id);
    for (const place of platform.places) if (named.has(place.id) && place.on) named.add(place.on);
    for (const fastening of platform.fastenings)
      if (named.has(fastening.id) || fastening.holds.some((id) => named.has(id)))
        for (const id of [fastening.id, ...fastening.holds]) named.add(id);
  }
  const pick = <T extends { readonly id: string; readonly where: unknown; readonly at: unknown }>(list: readonly T[]) =>
    list
      .filter(({ id }) => named.has(id))
      // What is looked at between runs is today's business, and its lines have places in files.
      .map(({ where: _w, at: _a, ...rest }) => plain({ ...rest, ready: undefined }) as Omit<T, "where" | "at">);
  return { items: pick(platform.items), places: pick(platform.places), fastenings: pick(platform.fastenings) };
}

/** Exact ends are written in decimal, as everywhere in frozen files. */
function plain(value: unknown): unknown {
  if (typeof value === "bigint") return String(value);
  if (Array.isArray(value)) return value.map(plain);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, plain(entry)]));
}

const KEYS = new Set(["item", "from", "to", "fastening", "place", "id"]);

function idsIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap((entry) => (typeof entry === "string" ? [entry] : idsIn(entry)));
  if (value === null || typeof value !== "object") return [];
  return Object.entries(value).flatMap(([key, entry]) =>
    typeof entry === "string" ? (KEYS.has(key) ? [entry] : []) : idsIn(entry),
  );
}

/** Whether an issue is as it was written: its hash fits all that it binds. Hashed once. */
export const isAsWritten = remember(
  ({ form = 1, head, hash, content }: Issued): boolean =>
    (form === 1 ? hashOf(content) : hashOf({ ...head, content })) === hash,
);

/**
 * The newest issue of each document, as `platform/id@revision`, and the newest edition of each card, as
 * `platform/card-id@edition`; the document `but` is left out, whatever its revision.
 */
export function newestIssues(
  { issued, editions = [] }: Pick<Collection, "issued" | "editions">,
  but: { readonly platform: string; readonly id: string },
): string[] {
  const newest = new Map<string, Issued>();
  for (const issue of issued) {
    const name = `${issue.platform}/${issue.id}`;
    if ((newest.get(name)?.revision ?? 0) < issue.revision) newest.set(name, issue);
  }
  newest.delete(`${but.platform}/${but.id}`);
  const cards = new Map(editions.map(({ platform, card, edition }) => [`${platform}/card-${card}`, edition]));
  return [
    ...[...newest].map(([name, { revision }]) => `${name}@${revision}`),
    ...[...cards].map(([name, edition]) => `${name}@${edition}`),
  ];
}

/** Numbers missing in the row of a document's frozen issues, between the lowest and the newest. */
export function missingNumbers(revisions: readonly number[]): number[] {
  const there = new Set(revisions),
    lowest = Math.min(...revisions),
    newest = Math.max(...revisions);
  return Array.from({ length: Math.max(0, newest - lowest) }, (_, at) => lowest + at).filter((n) => !there.has(n));
}

/** Whether a file's own words for its owner, approver or review date are those that were frozen. */
export function isApprovedAsFrozen(now: Content, issued: Content): boolean {
  const approval = ({ record: { owner, approvedBy, reviewBy } }: Content) => ({ owner, approvedBy, reviewBy });
  return canonicalJson(approval(now)) === canonicalJson(approval(issued));
}
