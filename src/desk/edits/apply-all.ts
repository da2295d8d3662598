/** Several changes of one file, made together. */
import { applyEdit, type FileEdit } from "./edit.ts";

/** The text after all changes, each made in what the one before it left; or why one of them can't be made. */
export function applyAll(
  text: string,
  edits: readonly FileEdit[],
): { readonly text: string } | { readonly refused: string } {
  let made = text;
  for (const edit of edits) {
    const result = applyEdit(made, edit);
    if ("refused" in result) return result;
    made = result.text;
  }
  return { text: made };
}
