/** What changed in each document since a revision that somebody knows: for who was away. */
import { documentsOf, type Issuable } from "../../schema/documents.ts";
import type { Content } from "../../domain/records/content.ts";
import { kindOf } from "../../domain/records/freeze.ts";
import { changesToSee } from "../../domain/records/revisions.ts";
import { instructionOf } from "../../domain/records/step-lines.ts";
import { withdrawalOf } from "../../domain/records/issues.ts";
import { addDays } from "../../domain/records/signoffs.ts";
import type { Platform } from "../../schema/collection.ts";
import type { Site } from "../site.ts";
import { addressOfDocument, comparisonAddress, differenceOf, revisionsOf } from "./revisions.ts";

/** What somebody has to look at who knows a document in an earlier revision. */
interface Missed {
  readonly document: Issuable;
  /** `procedure seat-capsule`. */
  readonly key: string;
  readonly address: string;
  /** The revision that is known (0: none yet), and the day from which another was in force, `YYYY-MM-DD`. */
  readonly known: number;
  readonly until: string;
  /** The day from which the present revision is in force, or the document is not; empty if it was withdrawn at once. */
  readonly since: string;
  /** It is no longer used. */
  readonly isWithdrawn?: true;
  /** Whether one of the changes asks for sign-offs again. */
  readonly again: boolean;
  /** What the authors said of the changes, the newest first. */
  readonly said: readonly string[];
  /** The steps to be seen again, as they are now; empty if only other things changed. */
  readonly steps: readonly { readonly number: number; readonly text: string }[];
  /** What is no longer done. */
  readonly gone: readonly string[];
  /** The page that shows the two side by side; absent of what is new. */
  readonly comparison?: string;
}

const NEW = { known: 0, again: false, said: [], steps: [], gone: [] } as const;

/**
 * For each document in force, for each earlier issue that is known, and for none: what is another now. What is done no
 * more and what asks for sign-offs again stands first, then the newest: of many only the first are read, and what was
 * withdrawn at once has no day. Empty where nothing has an issue with a day.
 */
export function missedChanges(site: Site, platform: Platform): Missed[] {
  const withdrawn = documentsOf(platform).flatMap((document) => withdrawnOf(site, document));
  const changed = documentsOf(platform)
    .filter(({ status }) => status === "approved")
    .flatMap((document) => {
      const chain = revisionsOf(site, platform, document).filter(({ proposal }) => proposal === undefined);
      const now = chain.at(-1)?.after;
      if (now?.effective === undefined || now.effective > site.today) return [];
      const about = {
        document,
        key: `${kindOf(document)} ${document.id}`,
        address: addressOfDocument(document, kindOf(document)),
        since: now.effective,
      };
      const isWhole = chain[0]!.number === 1;
      return chain.flatMap(({ after: next }, at): Missed[] => {
        const before = chain[at - 1]?.after;
        if (next.effective === undefined || (!before && !isWhole)) return [];
        return [{ ...about, until: next.effective, ...(before ? missedFrom(before, now) : NEW) }];
      });

      function missedFrom(before: Content, present: Content): Pick<Missed, keyof typeof NEW | "comparison"> {
        const told = document.changes.filter(({ revision }) => revision > before.revision).reverse();
        const changes = changesToSee(differenceOf({ before, after: present }));
        return {
          known: before.revision,
          again: told.some(({ signOffs }) => signOffs === "again"),
          said: told.map(({ summary }) => summary),
          steps: changes.flatMap(({ after }) =>
            after ? [{ number: after.number, text: instructionOf(after.step) }] : [],
          ),
          gone: changes.flatMap((change) =>
            change.kind === "removed" && change.before ? [instructionOf(change.before.step)] : [],
          ),
          comparison: comparisonAddress(site, platform, document, before.revision, present.revision),
        };
      }
    });
  const comesFirst = ({ again, isWithdrawn }: Missed) => Number(again || isWithdrawn === true),
    dayOf = ({ since }: Missed) => since || site.today;
  return [...withdrawn, ...changed].sort(
    (a, b) => comesFirst(b) - comesFirst(a) || (dayOf(a) < dayOf(b) ? 1 : dayOf(a) > dayOf(b) ? -1 : 0),
  );
}

/**
 * A document that was issued and is withdrawn: who knows any revision of it is told. Withdrawn at once it has no day of
 * that: everybody is told who was away before that of the site.
 */
function withdrawnOf(site: Site, document: Issuable): Missed[] {
  const withdrawal = withdrawalOf(site.collection, document);
  if (!withdrawal) return [];
  const { issued, from: since = "" } = withdrawal;
  return [
    {
      ...NEW,
      document,
      key: `${kindOf(document)} ${document.id}`,
      address: addressOfDocument(document, kindOf(document)),
      known: issued,
      until: since || addDays(site.today, 1),
      since,
      isWithdrawn: true,
      said: document.changes.filter(({ revision }) => revision > issued).map(({ summary }) => summary),
    },
  ];
}
