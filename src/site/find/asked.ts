/** The questions of a page as the table of fixed text has them: a line each (`words/english/asking.ts`). */
import { anchorOfAnswer, type FindAsk } from "../../domain/find/entry.ts";
import { anchorOfRule } from "../href.ts";

/**
 * Of each line the anchor, the question, the answer and other wordings; without an anchor that of its own answer.
 * `part` stands before an anchor that begins with a hyphen.
 */
export function readAsked(lines: string, part = ""): FindAsk[] {
  return lines
    .trim()
    .split("\n")
    .map((line, at): FindAsk => {
      const [anchor, question, answer, others] = line.split("|").map((text) => text.trim());
      return [
        (anchor?.startsWith("-") ? part + anchor : anchor) || anchorOfAnswer(at + 1),
        question!,
        answer!,
        ...others!.split(/[;؛]\s*/u),
      ];
    });
}

/** The questions that rules answer, as authors put them: the rule's id with the first wording, and all others. */
export function rulesAsked(ids: readonly string[], lines: string): FindAsk[] {
  const typed = new Map(
    lines
      .trim()
      .split("\n")
      .map((line) => line.trim().split(": ") as [string, string]),
  );
  return ids.flatMap((id): FindAsk[] => {
    const wordings = typed.get(id)?.split(/[;؛]\s*/u) ?? [];
    return wordings.length > 0 ? [[anchorOfRule(id), `${id}: ${wordings[0]}`, "", ...wordings]] : [];
  });
}
