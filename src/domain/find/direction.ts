/** Which way something goes, in a title and in a query: on the trolley and into things, or off and out of them. */
import type { FindEntry } from "./entry.ts";
import { plain, searchWords } from "./query-words.ts";

/** Which way something goes: on the trolley and into things, or off and out of them. */
export interface Going {
  readonly to: boolean;
  readonly away: boolean;
}

/** Which way a procedure goes, by the word that its title begins with. */
export function goingOf({ kind, title }: FindEntry): Going {
  const deed = kind === "Procedure" ? (searchWords(title)[0] ?? "") : "";
  return { to: PUTS.has(deed), away: TAKES.has(deed) || deed.startsWith("un") };
}

/** Which way a query asks for: `off`, `out`; `into`, or an `on`, `in` or `up` at its end. */
export function goingAsked(query: string): Going {
  const words = plain(query);
  return { to: /\b(?:into|onto|on to)\b|\b(?:on|in|up)$/.test(words), away: /\b(?:off|out)\b/.test(words) };
}

/** Deeds that put something where it is used, and those that take it from there; `un…` does so too. */
const PUTS: ReadonlySet<string> = new Set([
    "attach",
    "dress",
    "fit",
    "install",
    "lay",
    "load",
    "lock",
    "mount",
    "place",
    "put",
    "seat",
    "setup",
    "strap",
  ]),
  TAKES: ReadonlySet<string> = new Set(["detach", "dismount", "lift", "remove", "stow", "strip", "take", "undo"]);
