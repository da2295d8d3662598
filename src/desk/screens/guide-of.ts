/** The page of the author's guide that says how a file is written. */
import { FILE_KINDS } from "../../schema/file-kinds.ts";

/** Address below `site/` for a file of the collection; the guide's first page for one that it says nothing of. */
export function guideOf(file: string): string {
  const kind = FILE_KINDS.find((each) => fitsKind(file, each));
  return kind ? `guide/${kind.id}/` : "guide/";
}

/** Whether a file stands where files of a kind do. */
export function fitsKind(file: string, { path }: { readonly path: string }): boolean {
  return new RegExp(`^${path.replace(".", String.raw`\.`).replace(/PLATFORM|NAME/g, "[^/]+")}$`).test(file);
}
