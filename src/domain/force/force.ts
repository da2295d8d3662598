/**
 * What is in force on a day: the one answer that site, plans, proofs, chooser, cards, folders, audits, questions and
 * sign-offs are handed in the place of the files as they were read.
 */
import type { Collection, Controlled, Issued, Platform, Procedure, Status, Where } from "../../schema/collection.ts";
import { documentsOf, type Issuable } from "../../schema/documents.ts";
import type { Content } from "../records/content.ts";
import { canonicalJson, contentOf, contentOfIssue, differs, kindOf, rememberContent } from "../records/freeze.ts";
import type { NamedParts } from "../records/frozen.ts";
import { issuesByDocument, nameOf } from "../records/issues.ts";
import { aloneIn } from "./alone.ts";
import { amendPlatform } from "./amendments.ts";
import { asBefore, comparing, followOn, readBefore } from "./as-before.ts";
import { assemble } from "./assemble.ts";
import { knowShown } from "./in-force.ts";
import { thaw, thawApproval, thawItem } from "./thaw.ts";
import { resultOf, type Told, noteReads, withoutTelling } from "../words/reads.ts";
import { remember } from "../words/remember.ts";

/**
 * Newer text of a document than what is in force: a draft, a text in review, one that is approved and not issued, or
 * an issue whose day is still to come. It takes nothing away from what is in force.
 */
export interface Proposal {
  readonly platform: string;
  readonly kind: Issued["kind"];
  readonly id: string;
  readonly revision: number;
  /** The file's status; `coming` for what is issued and takes effect on a later day. */
  readonly status: Status;
  /** The day on which it takes effect, as far as it says one. */
  readonly effective?: string;
  /** The text itself. */
  readonly record: Issuable;
  /** What is in force of the document; absent if nothing is. */
  readonly inForce?: Issuable;
}

/** A collection seen from a day. */
export interface Force {
  /** `YYYY-MM-DD`. */
  readonly day: string;
  /** The files as they were read. */
  readonly files: Collection;
  /**
   * What is in force, and nothing else: every document in it is approved. This is what everybody answers from who is
   * asked what to do, whom a configuration is for, or which card is right. Temporary amendments that run on the day are
   * in it: their steps and warnings, and what they take out of service as `out` of its platform; `asIssued` gives a
   * platform without them.
   */
  readonly collection: Collection;
  /**
   * What is in force, and beside it documents of which nothing is: drafts, texts in review, issues that are still
   * coming, withdrawn ones. For those who show documents with their status.
   */
  readonly shown: Collection;
  /**
   * What would hold if every proposal were in force; the same object as `collection` where there is none. For proofs
   * and rules that judge a proposal before its day.
   */
  readonly proposed: Collection;
  readonly proposals: readonly Proposal[];
  /** Documents in force of which nothing was ever issued, as `platform/kind/id`. */
  readonly notIssued: ReadonlySet<string>;
  /**
   * Documents in force whose issue is of the first form, by the same names: owner and approver that it does not hold,
   * and the equipment, places and fastenings that it names, are those of today's files.
   */
  readonly filled: ReadonlySet<string>;
}

const knownDays = remember((_files: Collection) => new Map<string, Told<Force>>());

/**
 * What is in force on a day, `YYYY-MM-DD`. Of each document that is its newest frozen issue whose effective date has
 * come; of a document of which nothing was ever issued, its file while it is approved and its own day has come. A
 * document whose file says
 * `withdrawn` is in force no more: from its `effective` on if its revision is above the newest issue, else at once.
 * Of a document whose file is gone the issue stays in force: `status: withdrawn` takes it out of use, not a lost file.
 * A frozen issue that was altered, or of a form unknown here, is none. Worked out once for a collection and a day.
 */
export function forceOn(files: Collection, day: string): Force {
  const days = knownDays(files);
  const force = days.get(day) ?? noteReads(() => makeAsBefore(files, day));
  days.set(day, force);
  return resultOf(force);
}

/**
 * What is in force of one platform (`alone`: `aloneIn` of all files): what is known of all by now, or else worked out
 * of it alone.
 */
export function forceOfOne(all: Collection, alone: Collection, day: string): Force {
  const whole = all === alone ? undefined : knownDays(all).get(day),
    [own] = alone.platforms,
    days = knownDays(alone);
  if (!whole || !own || days.has(day)) return forceOn(alone, day);
  const force = forceIn(resultOf(whole), alone, own);
  days.set(day, { ...whole, result: force });
  return force;
}

/** What of a force is about one platform; `alone`: its files alone (`aloneIn`). */
export function forceIn(whole: Force, alone: Collection, own: Platform): Force {
  const isOwn = (name: string) => name.startsWith(`${own.id}/`),
    viewOf = (view: Collection) =>
      aloneIn(
        view,
        view.platforms.find(({ id }) => id === own.id)!,
      );
  const proposals = whole.proposals.filter(({ platform }) => platform === own.id),
    collection = viewOf(whole.collection);
  return {
    day: whole.day,
    files: alone,
    ...knowShown({ collection, shown: viewOf(whole.shown) }),
    proposed: proposals.length > 0 ? viewOf(whole.proposed) : collection,
    proposals,
    notIssued: new Set([...whole.notIssued].filter(isOwn)),
    filled: new Set([...whole.filled].filter(isOwn)),
  };
}

/** As `makeForce`; of what the reading before it said as well, the same records (`as-before.ts`). */
function makeAsBefore(files: Collection, day: string): Force {
  const force = makeForce(files, day),
    earlier = readBefore(files),
    old = earlier && knownDays(earlier).get(day)?.result;
  if (!old) return knowShown(force);
  const views = [force.collection, force.shown, force.proposed],
    oldViews = [old.collection, old.shown, old.proposed];
  // It says the same with the records of before: what is compared decides nothing.
  const [collection, shown, proposed] = withoutTelling(() => asBefore(oldViews, views, comparing(earlier, files))) as [
    Collection,
    Collection,
    Collection,
  ];
  [collection, shown, proposed].forEach((view, at) => {
    if (view !== oldViews[at]) followOn(view, oldViews[at]!);
  });
  return {
    ...force,
    ...knowShown({ collection, shown }),
    proposed: force.proposed === force.collection ? collection : proposed,
  };
}

/**
 * What would hold if a proposal were in force, beside the newest proposal of every other document. Of the same
 * document no newer proposal counts.
 */
export function withProposal(force: Force, { platform: on, kind, id, record }: Proposal): Collection {
  const newest = force.proposals.findLast((each) => each.platform === on && each.kind === kind && each.id === id);
  if (!newest || newest.record === record) return force.proposed;
  const own = asInForce(record)!;
  const swap = <T extends Issuable>(list: readonly T[]) => list.map((each) => (each.id === id ? (own as T) : each));
  const files = force.files.platforms.find((platform) => platform.id === on)?.procedures ?? [];
  const swapped = (platform: Platform): Platform => {
    if (kind === "configuration") return { ...platform, configurations: inOrder(swap(platform.configurations)) };
    if (kind === "option") return { ...platform, options: swap(platform.options) };
    const procedures = swap(platform.procedures);
    return {
      ...platform,
      procedures: assemble(procedures, files, new Set(procedures.filter((each) => !files.includes(each)))),
    };
  };
  return {
    ...force.proposed,
    platforms: force.proposed.platforms.map((platform) => (platform.id === on ? swapped(platform) : platform)),
  };
}

/**
 * The day from which a document is withdrawn: `""` for at once and always; `undefined` while its file does not say so.
 * `issued` is the newest revision that was issued, 0 if none was.
 */
function withdrawnFrom(record: Controlled | undefined, issued: number): string | undefined {
  if (record?.status !== "withdrawn") return undefined;
  return record.revision > issued ? (record.effective ?? "") : "";
}

function makeForce(files: Collection, day: string): Force {
  const chains = chainsOf(files);
  const parts = files.platforms.map((platform) => judgePlatform(platform, chains, day));
  const proposals = parts.flatMap((part) => part.proposals);
  const collection = { ...files, on: day, platforms: parts.map(({ inForce }) => inForce) };
  return {
    day,
    files,
    collection,
    shown: { ...files, on: day, platforms: parts.map(({ shown }) => shown) },
    proposed: proposals.length ? { ...files, on: day, platforms: parts.map(({ proposed }) => proposed) } : collection,
    proposals,
    notIssued: new Set(parts.flatMap(({ notIssued }) => notIssued)),
    filled: new Set(parts.flatMap(({ filled }) => filled)),
  };
}

/** A whole frozen issue. */
interface Frozen {
  readonly content: Content;
  /** What it names, as it was; absent in the first form. */
  readonly uses?: NamedParts;
  readonly where: Where;
}

/** The whole frozen issues of each document by `nameOf`, in rising order of revision. */
function chainsOf(collection: Collection): ReadonlyMap<string, readonly Frozen[]> {
  const whole = [...issuesByDocument(collection)].map(([name, issues]) => [name, issues.flatMap(readFrozen)] as const);
  return new Map(whole.filter(([, issues]) => issues.length > 0));
}

function readFrozen(issue: Issued): Frozen | [] {
  const content = contentOfIssue(issue);
  if (!content) return [];
  const { form = 1, head, where } = issue;
  return { content, where, ...(form === 1 ? {} : { uses: head!["uses"] as NamedParts }) };
}

/** A document with what a day makes of it. */
interface Judged {
  readonly kind: Issued["kind"];
  readonly file?: Issuable;
  readonly inForce?: Issuable;
  /** The issue in force; absent for a file of which nothing was issued. */
  readonly issue?: Frozen;
  readonly proposals: readonly Proposal[];
  readonly isIssued: boolean;
}

function judgePlatform(today: Platform, chains: ReadonlyMap<string, readonly Frozen[]>, day: string) {
  const platform = withFrozen(today, chains, day);
  const records = documentsOf(platform);
  const named = new Map(records.map((record) => [nameOf(record, kindOf(record)), record]));
  const lost = [...chains.keys()].filter((name) => name.startsWith(`${platform.id}/`) && !named.has(name));
  const judged = [...named.keys(), ...lost].map((name) =>
    judge(named.get(name), chains.get(name) ?? [], platform, day),
  );
  const of = (kind: Issued["kind"], pick: (each: Judged) => Issuable | undefined): Issuable[] =>
    judged.flatMap((each) => (each.kind === kind ? (pick(each) ?? []) : []));
  const view = (pick: (each: Judged) => Issuable | undefined): Platform => {
    const procedures = of("procedure", pick) as Procedure[];
    const exchanged = new Set(procedures.filter((procedure) => !platform.procedures.includes(procedure)));
    const seen = {
      ...platform,
      procedures: assemble(procedures, platform.procedures, exchanged),
      configurations: inOrder(of("configuration", pick) as Platform["configurations"][number][]),
      options: of("option", pick) as Platform["options"][number][],
    };
    return amendPlatform(seen, platform.procedures, day);
  };
  return {
    inForce: view(({ inForce }) => inForce),
    shown: view(shownOf),
    proposed: view(({ inForce, proposals }) => asInForce(proposals.at(-1)?.record) ?? inForce),
    proposals: judged.flatMap(({ proposals }) => proposals),
    notIssued: judged.flatMap(({ kind, inForce, isIssued }) => (inForce && !isIssued ? [nameOf(inForce, kind)] : [])),
    filled: judged.flatMap(({ kind, inForce, issue }) =>
      inForce && issue && !issue.uses ? [nameOf(inForce, kind)] : [],
    ),
  };
}

/**
 * The platform with the items, places and fastenings that today's files no longer have and an issue in force still
 * names, as they were frozen with it.
 */
function withFrozen(platform: Platform, chains: ReadonlyMap<string, readonly Frozen[]>, day: string): Platform {
  const used = [...chains].flatMap(([name, chain]) => {
    const hasCome = name.startsWith(`${platform.id}/`)
      ? chain.findLast(({ content: { effective } }) => (effective ?? "") <= day)
      : undefined;
    return hasCome?.uses ? [{ uses: hasCome.uses, where: hasCome.where }] : [];
  });
  const lost = <T extends { readonly id: string }>(
    pick: (uses: NamedParts) => readonly T[],
    known: readonly { id: string }[],
  ) => {
    const ids = new Set(known.map(({ id }) => id));
    return used.flatMap(({ uses, where }) =>
      pick(uses).flatMap((each) => {
        if (ids.has(each.id)) return [];
        ids.add(each.id);
        return [{ ...each, where, at: {} }];
      }),
    );
  };
  const items = lost(({ items }) => items, platform.items).map(thawItem),
    places = lost(({ places }) => places, platform.places),
    fastenings = lost(({ fastenings }) => fastenings, platform.fastenings);
  if (items.length + places.length + fastenings.length === 0) return platform;
  return {
    ...platform,
    items: [...platform.items, ...items],
    places: [...platform.places, ...places],
    fastenings: [...platform.fastenings, ...fastenings],
  };
}

/** What is in force, else the text in the file; what is issued and still coming is shown as that. */
function shownOf({ inForce, file, proposals }: Judged): Issuable | undefined {
  const coming = proposals.findLast(({ status }) => status === "coming");
  if (inForce) return inForce;
  if (coming) return { ...coming.record, status: "coming" };
  // Approved, never issued, and its day has not come.
  return file?.status === "approved" ? { ...file, status: "coming" } : file;
}

function asInForce(record: Issuable | undefined): Issuable | undefined {
  return record && record.status !== "approved" ? { ...record, status: "approved" } : record;
}

function judge(file: Issuable | undefined, chain: readonly Frozen[], platform: Platform, day: string): Judged {
  const kind = file ? kindOf(file) : chain[0]!.content.kind;
  const newest = chain.at(-1);
  const withdrawn = withdrawnFrom(file, newest?.content.revision ?? 0);
  if (withdrawn !== undefined && withdrawn <= day)
    return { kind, ...(file ? { file } : {}), proposals: [], isIssued: newest !== undefined };
  const hasCome = chain.findLast(({ content: { effective } }) => (effective ?? "") <= day);
  const inForce = hasCome
    ? recordOf(hasCome, file, platform)
    : !newest && file?.status === "approved" && (file.effective ?? "") <= day
      ? file
      : undefined;
  const coming = chain
    .filter(
      ({ content: { revision, effective } }) => revision > (hasCome?.content.revision ?? 0) && (effective ?? "") > day,
    )
    .map((frozen) => ({ status: "coming" as const, record: recordOf(frozen, file, platform) }));
  const isOwn = (frozen: Frozen | undefined) =>
    file !== undefined &&
    frozen?.content.revision === file.revision &&
    // Who asks for proposals is told of them as such (`site/telling-force.ts`).
    withoutTelling(() => !differs(frozen.content, contentOf(file, platform)));
  // A file that is older than the newest issue proposes nothing: record/revision-not-raised says so.
  const text =
    file &&
    file !== inForce &&
    file.revision >= (newest?.content.revision ?? 0) &&
    withdrawn === undefined &&
    ![hasCome, newest].some(isOwn)
      ? [{ status: file.status, record: file }]
      : [];
  return {
    kind,
    ...(file ? { file } : {}),
    ...(inForce ? { inForce } : {}),
    ...(hasCome ? { issue: hasCome } : {}),
    isIssued: newest !== undefined,
    proposals: [...coming, ...text].map(({ status, record }): Proposal => {
      const { platform: on, id, revision, effective } = record;
      return {
        platform: on,
        kind,
        id,
        revision,
        status,
        ...(effective ? { effective } : {}),
        record,
        ...(inForce ? { inForce } : {}),
      };
    }),
  };
}

/**
 * The record of a frozen content: the file's own where it says the same, so that its parts have their places, with what
 * was frozen of owner, approver, review date and changes; else the frozen text thawed. What an issue of the first form
 * lacks of owner and approver is the file's.
 */
function recordOf(frozen: Frozen, file: Issuable | undefined, platform: Platform): Issuable {
  const { content, uses } = frozen,
    known = records.get(content);
  if (known?.file === file && known?.platform === platform) return resultOf(known.record);
  const record = noteReads(() => makeRecord(content, uses ? undefined : file, file, platform));
  records.set(content, { file, platform, record });
  return record.result;
}

const records = new WeakMap<
  Content,
  { readonly file: Issuable | undefined; readonly platform: Platform; readonly record: Told<Issuable> }
>();

function makeRecord(
  content: Content,
  filler: Issuable | undefined,
  file: Issuable | undefined,
  platform: Platform,
): Issuable {
  // Either way it says the same.
  const now = file && withoutTelling(() => contentOf(file, platform));
  const approval = {
    ...(filler?.owner ? { owner: filler.owner } : {}),
    ...(filler?.approvedBy ? { approvedBy: filler.approvedBy } : {}),
  };
  if (!now || now.revision !== content.revision || withoutTelling(() => differs(content, now))) {
    const { platform: on, id, revision } = content;
    return rememberContent(
      { ...approval, ...thaw(content, file?.file ?? `issued/${on}/${id}@${revision}.json`, file) } as Issuable,
      content,
    );
  }
  const isFrozenSo = withoutTelling(
    () => canonicalJson(now.record) === canonicalJson({ ...approval, ...content.record }),
  );
  if (isFrozenSo && file.status === "approved") return file;
  if (isFrozenSo) return { ...file, status: "approved" };
  const { reviewBy: _r, owner: _o, approvedBy: _a, changes: _c, ...rest } = file;
  return { ...rest, ...approval, ...thawApproval(content, file.where), status: "approved" };
}

/** By the lower end of the weights, then by file name. */
function inOrder<T extends Controlled>(configurations: readonly T[]): T[] {
  const low = ({ band: { weight } }: T) => weight.from?.value ?? -1n;
  return [...configurations].sort((a, b) => (low(a) < low(b) ? -1 : low(a) > low(b) ? 1 : a.file < b.file ? -1 : 1));
}
