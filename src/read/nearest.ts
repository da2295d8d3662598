/** Which known name an author probably meant. */
import { distance } from "fastest-levenshtein";
import { sayList } from "../schema/wording.ts";

/**
 * The known name with the fewest edits (Levenshtein) from the given one, at most two or a third of its letters;
 * `undefined` if none is that near.
 */
export function nearestName(name: string, known: Iterable<string>): string | undefined {
  const wanted = name.toLowerCase().slice(0, 100);
  let best: string | undefined,
    least = Math.max(2, Math.floor(wanted.length / 3)) + 1;
  if (wanted.length <= 3) least = 2;
  for (const candidate of known) {
    if (Math.abs(candidate.length - wanted.length) >= least) continue;
    const edits = hasSameLetters(wanted, candidate) ? 1 : distance(wanted, candidate.toLowerCase());
    if (edits < least) [best, least] = [candidate, edits];
  }
  return best;
}

/** Whether two letters have only changed places, or the like: two edits for Levenshtein, one slip for the author. */
function hasSameLetters(wanted: string, candidate: string): boolean {
  return (
    wanted.length === candidate.length &&
    wanted.length > 2 &&
    [...wanted].sort().join("") === [...candidate.toLowerCase()].sort().join("")
  );
}

/** Names in backticks: `` `a`, `b` or `c` ``; at most twelve or `most`, then how many there are. */
export function listNames(names: Iterable<string>, joint: "and" | "or" = "or", most = 12): string {
  const all = [...names].map((name) => `\`${name}\``);
  if (all.length === 0) return "none";
  if (all.length > most) return `${all.slice(0, most).join(", ")} … (${all.length} in all)`;
  return sayList(all, joint);
}
