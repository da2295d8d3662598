/** Which pages stand behind all others, and how much each kind of page is worth. */
import type { FindEntry } from "./entry.ts";
import { searchWords } from "./query-words.ts";

/** Points of each kind, fitted with the others: what crews want of it when all else is equal. */
export const KIND_WORTH: Readonly<Record<string, number>> = {
  Option: 22,
  Procedure: 15,
  Configuration: 13,
  Item: 6,
  Reading: 10,
  Page: 9,
  Changeover: -3,
  Fastening: -11,
  Place: -8,
  Form: -12,
  Card: -19,
  History: -20,
  "Check code": -106,
};

/**
 * Pages about a document, or about the program: history and notices, forms, old cards, rules. Whatever else answers
 * stands before them, unless a word asks for one of them.
 */
export const BEHIND: Readonly<Record<string, ReadonlySet<string>>> = {
  // Not `change`: who types it has something to change.
  History: wordSet(
    "changed",
    "changes",
    "difference",
    "differences",
    "history",
    "incident",
    "near-miss",
    "notice",
    "notices",
    "old",
    "revision",
    "revisions",
  ),
  Form: wordSet("assessor", "form", "forms", "record", "records", "sign", "signed", "signoff"),
  "Check code": wordSet("code", "codes", "edition", "old", "replaced"),
  Guide: wordSet("author", "guide", "markdown", "writing", "yaml"),
  Rule: wordSet(
    "checker",
    "complains",
    "error",
    "errors",
    "finding",
    "findings",
    "message",
    "messages",
    "policy",
    "rule",
    "rules",
    "wording",
  ),
};

/** Whether a page stands behind others unless it is asked for. */
export function isBehind({ kind }: FindEntry): boolean {
  return BEHIND[kind] !== undefined;
}

function wordSet(...words: readonly string[]): ReadonlySet<string> {
  return new Set(words.flatMap(searchWords));
}
