/** What a file of the collection is by where it stands: its page of the author's guide, and whether it has a form. */
import { FILE_KINDS } from "../../schema/file-kinds.ts";

type FileKind = (typeof FILE_KINDS)[number];

/** Address below `site/` for a file of the collection; the guide's first page for one that it says nothing of. */
export function guideOf(file: string): string {
  const kind = kindOfFile(file);
  return kind ? `guide/${kind.id}/` : "guide/";
}

/** The kind of a file that has a form; nothing for procedures and photos, which have screens of their own. */
export function formKindOf(file: string): FileKind | undefined {
  const kind = kindOfFile(file);
  return kind && !["procedure", "photo"].includes(kind.id) ? kind : undefined;
}

/** What a file is by where it stands; nothing where it is none of a collection. */
export function kindOfFile(file: string): FileKind | undefined {
  return FILE_KINDS.find(({ path }) =>
    new RegExp(`^${path.replace(".", String.raw`\.`).replace(/PLATFORM|NAME/g, "[^/]+")}$`).test(file),
  );
}
