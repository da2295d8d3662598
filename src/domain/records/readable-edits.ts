/** A changed text for reading: what was taken out and what came in as whole runs of words, not in shreds. */
import { wordEdits, type Edit } from "./edits.ts";

/** Of texts with less than this in common, neither is read in pieces. */
const KEPT = 0.34;

/**
 * Word edits with neighbouring changes joined: between two changes, a kept run without a letter or a figure, or a
 * single short word, belongs to both. Kept and removed runs
 * joined are the earlier text, kept and added the later, but for white space at the joints. Texts with hardly a word in
 * common are shown whole, one after the other.
 */
export function readableEdits(before: string, after: string): Edit<string>[] {
  const edits = joinChanges(wordEdits(before, after));
  const kept = edits.filter(({ kind }) => kind === "keep").reduce((sum, { value }) => sum + value.trim().length, 0);
  if (before !== after && kept < KEPT * Math.max(before.length, after.length))
    return [
      { kind: "removed", value: before },
      { kind: "added", value: after },
    ].filter(({ value }) => value) as Edit<string>[];
  return edits;
}

function joinChanges(edits: readonly Edit<string>[]): Edit<string>[] {
  const result: Edit<string>[] = [];
  let removed = "",
    added = "",
    waiting = "";
  const flush = () => {
    const [lead, taken, came, tail] = withoutCommonSpace(removed, added);
    if (lead) result.push({ kind: "keep", value: lead });
    if (taken) result.push({ kind: "removed", value: taken });
    if (came) result.push({ kind: "added", value: came });
    if (tail) result.push({ kind: "keep", value: tail });
    if (waiting) result.push({ kind: "keep", value: waiting });
    removed = added = waiting = "";
  };
  for (const { kind, value } of edits) {
    if (kind === "keep") {
      if ((removed || added) && isJoint(value)) waiting += value;
      else {
        flush();
        result.push({ kind, value });
      }
      continue;
    }
    removed += waiting;
    added += waiting;
    waiting = "";
    if (kind === "removed") removed += value;
    else added += value;
  }
  flush();
  return result;
}

/**
 * White space before and after two texts that both have there, and the texts without it: a bare space is never marked.
 */
function withoutCommonSpace(removed: string, added: string): [string, string, string, string] {
  const both = removed && added;
  if (!both) return (removed + added).trim() ? ["", removed, added, ""] : [removed + added, "", "", ""];
  const lead = /^\s+/.exec(removed)?.[0] ?? "",
    start = added.startsWith(lead) ? lead.length : 0;
  const [rest, other] = [removed.slice(start), added.slice(start)];
  const tail = /\s+$/.exec(rest)?.[0] ?? "",
    end = tail && other.endsWith(tail) ? tail.length : 0;
  return [
    removed.slice(0, start),
    rest.slice(0, rest.length - end),
    other.slice(0, other.length - end),
    tail.slice(0, end),
  ];
}

function isJoint(text: string): boolean {
  return !/[\p{L}\p{N}]/u.test(text) || (/^\s*\p{L}{1,3}\s*$/u.test(text) && /^\s|\s$/.test(text));
}
