/** Routes of the pages about one revision of a document. */
import { documentsOf, type Issuable } from "../../schema/documents.ts";
import { needed, platformOf, type Site } from "../site.ts";
import { FOLDERS, type Revision } from "./revisions.ts";
import { kindOf } from "../../domain/records/freeze.ts";
import type { Platform } from "../../schema/collection.ts";

/** `n`: which revision it is about, as `name` says it. */
interface RevisionParams {
  readonly platform: string;
  readonly kind: string;
  readonly id: string;
  readonly n?: string;
}

/** The revisions of a document that have a page of a kind. */
type Choice<Chosen extends Revision> = (site: Site, platform: Platform, document: Issuable) => readonly Chosen[];

/** What the page of a comparison with an issue further back is called: `2-4`. */
export const nameOfWider = ({ before, number }: Revision): string => `${before!.revision}-${number}`;

const numberOf = ({ number }: Revision): string => String(number);

/**
 * One route for each revision that `choose` gives of each document. The page finds the revision by its address
 * (`revisionAt`): handed over with the list it would rest on the words of all documents that are listed.
 */
export function revisionRoutes(
  site: Site,
  choose: Choice<Revision>,
  name: (revision: Revision) => string = numberOf,
): { readonly params: RevisionParams }[] {
  return site.collection.platforms.flatMap((platform) =>
    documentsOf(platform).flatMap((document) =>
      choose(site, platform, document).map((revision) => ({
        params: { platform: platform.id, kind: FOLDERS[kindOf(document)], id: document.id, n: name(revision) },
      })),
    ),
  );
}

/** The revision that a route of `revisionRoutes` names; throws if there is none. */
export function revisionAt<Chosen extends Revision>(
  site: Site,
  { platform: on, kind, id, n }: { readonly [Name in keyof RevisionParams]?: string | undefined },
  choose: Choice<Chosen>,
  name: (revision: Revision) => string = numberOf,
): { readonly platform: Platform; readonly document: Issuable; readonly revision: Chosen } {
  const platform = platformOf(site, on ?? ""),
    document = needed(
      documentsOf(platform).find((each) => each.id === id && FOLDERS[kindOf(each)] === kind),
      `document ${kind}/${id}`,
    );
  const revision = needed(
    // Of two at one address Astro shows the last of a list.
    choose(site, platform, document).findLast((each) => name(each) === n),
    `revision ${n} of ${kind}/${id}`,
  );
  return { platform, document, revision };
}
