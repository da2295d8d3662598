/** Routes of the pages about one revision of a document. */
import type { Site } from "../site.ts";
import { documentsOf, FOLDERS, type Revision } from "./revisions.ts";
import { kindOf, type Issuable } from "../../domain/records/freeze.ts";
import type { Platform } from "../../schema/collection.ts";

interface RevisionRoute {
  readonly params: { readonly platform: string; readonly kind: string; readonly id: string; readonly n?: string };
  readonly props: { readonly platform: Platform; readonly document: Issuable; readonly revision: Revision };
}

/** One route for each revision that `choose` gives of each document. */
export function revisionRoutes(
  site: Site,
  choose: (site: Site, platform: Platform, document: Issuable) => readonly Revision[],
  name: (revision: Revision) => string = ({ number }) => String(number),
): RevisionRoute[] {
  return site.collection.platforms.flatMap((platform) =>
    documentsOf(platform).flatMap((document) =>
      choose(site, platform, document).map((revision) => ({
        params: { platform: platform.id, kind: FOLDERS[kindOf(document)], id: document.id, n: name(revision) },
        props: { platform, document, revision },
      })),
    ),
  );
}
