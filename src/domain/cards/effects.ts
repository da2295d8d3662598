/** What a new issue makes stale: cards, their copies in folders, changeovers and sign-offs. */
import type { Collection, Controlled, FolderCopy, Platform, Procedure } from "../../schema/collection.ts";
import { type CodeOf, currentCards, type IssuedCard } from "./cards-issued.ts";
import { assemble } from "../force/assemble.ts";
import { thaw } from "../force/thaw.ts";
import { idsIncludedBy } from "../words/procedure-facts.ts";
import { signOffsStand } from "../records/change-class.ts";
import type { Content } from "../records/content.ts";
import { remember } from "../words/remember.ts";
import { differenceBetween, type Difference } from "../records/revisions.ts";

/**
 * A card that comes out otherwise, with its check codes before and after; one is absent if the configuration came or
 * went.
 */
interface CardEffect {
  readonly configuration: string;
  readonly title: string;
  readonly before?: string;
  readonly after?: string;
}

/** A changeover with the procedures that it runs, as the planner gives it. */
export interface Planned {
  readonly from: string;
  readonly to: string;
  readonly procedures: readonly string[];
}

/** What a revision makes stale. Each list is empty where it touches nothing of the kind. */
export interface Effects {
  readonly difference: Difference;
  readonly cards: readonly CardEffect[];
  /** Every numbered copy of those cards, and of the cards of those changeovers. */
  readonly copies: readonly { readonly folder: string; readonly folderName: string; readonly copy: FolderCopy }[];
  /**
   * Of the changeovers given: those that run the procedure, or a procedure that includes it, or lead from or to the
   * configuration.
   */
  readonly changeovers: readonly Planned[];
  /** Whether sign-offs made before this issue still stand, by what changed and by what the author declared. */
  readonly signOffsStand: boolean;
}

/** Effects of replacing one issue by a later one, everything else being as it is in force now. */
export function effectsOf(
  collection: Collection,
  platform: Platform,
  before: Content,
  after: Content,
  codeOf: CodeOf,
  changeovers: readonly Planned[] = [],
): Effects {
  const difference = differenceBetween(before, after);
  const cards = changedCards(
    currentCards(withText(platform, before), codeOf),
    currentCards(withText(platform, after), codeOf),
  );
  const touched = new Set(cards.map(({ configuration }) => configuration));
  const planned = changeovers.filter((each) => concerns(each, after, runners(platform, after.id)));
  const pairs = new Set(planned.map(({ from, to }) => `${from}--${to}`));
  const declared = after.record.changes.findLast((change) => change.revision === after.revision)?.signOffs;
  return {
    difference,
    cards,
    copies: collection.folders.flatMap((folder) =>
      folder.copies
        .filter((copy) => copy.platform === platform.id && (touched.has(copy.card) || pairs.has(copy.card)))
        .map((copy) => ({ folder: folder.id, folderName: folder.name, copy })),
    ),
    changeovers: planned,
    signOffsStand: declared !== "again" && signOffsStand(difference.class),
  };
}

/**
 * The platform with another text of one document in force; made once for each, since an issue comes after one and
 * before another.
 */
const withText = /* @__PURE__ */ remember((platform: Platform, content: Content): Platform => {
  const record = thaw(content, `issued/${content.platform}/${content.id}@${content.revision}.json`);
  const exchange = <T extends Controlled>(records: readonly T[]): T[] =>
    records.some(({ id }) => id === content.id)
      ? records.map((other) => (other.id === content.id ? (record as unknown as T) : other))
      : [...records, record as unknown as T];
  const { procedures, configurations, options } = platform;
  if (content.kind === "configuration") return { ...platform, configurations: exchange(configurations) };
  if (content.kind === "option") return { ...platform, options: exchange(options) };
  return { ...platform, procedures: assemble(exchange(procedures), procedures, new Set([record as Procedure])) };
});

function changedCards(before: readonly IssuedCard[], after: readonly IssuedCard[]): CardEffect[] {
  const cardsOf = (cards: readonly IssuedCard[]) =>
    new Map(cards.map(({ configuration, content, code }) => [configuration, { title: content.title, code }]));
  const [was, is] = [cardsOf(before), cardsOf(after)];
  return [...new Set([...was.keys(), ...is.keys()])].sort().flatMap((configuration) => {
    const [old, now] = [was.get(configuration), is.get(configuration)];
    if (old?.code === now?.code) return [];
    return [
      {
        configuration,
        title: (now ?? old)!.title,
        ...(old ? { before: old.code } : {}),
        ...(now ? { after: now.code } : {}),
      },
    ];
  });
}

/** The procedure and those that include it, at any depth. */
function runners(platform: Platform, id: string): Set<string> {
  const found = new Set([id]);
  for (let size = 0; size !== found.size;) {
    size = found.size;
    for (const procedure of platform.procedures)
      if (idsIncludedBy(procedure).some((included) => found.has(included))) found.add(procedure.id);
  }
  return found;
}

function concerns({ from, to, procedures }: Planned, { kind, id }: Content, running: ReadonlySet<string>): boolean {
  if (kind === "procedure") return procedures.some((procedure) => running.has(procedure));
  return [from, to].some((arrangement) => arrangement.split("+").includes(id));
}
