/** Which known name an author probably meant. */
import { distance } from "fastest-levenshtein";

/** The known name with the fewest edits (Levenshtein) from the given one, at most two or a third of its letters; `undefined` if none is that near. */
export function nearestName(name: string, known: Iterable<string>): string | undefined {
  const wanted = name.toLowerCase().slice(0, 100);
  let best: string | undefined, least = Math.max(2, Math.floor(wanted.length / 3)) + 1;
  if (wanted.length <= 3) least = 2;
  for (const candidate of known) {
    if (Math.abs(candidate.length - wanted.length) >= least) continue;
    const edits = distance(wanted, candidate.toLowerCase());
    if (edits < least) [best, least] = [candidate, edits];
  }
  return best;
}

/** Names in backticks: `` `a`, `b` or `c` ``; at most eight, then how many more. */
export function listNames(names: Iterable<string>, joint = "or"): string {
  const all = [...names].map((name) => `\`${name}\``);
  if (all.length === 0) return "none";
  if (all.length > 8) return `${all.slice(0, 8).join(", ")} … (${all.length} in all)`;
  return all.length === 1 ? all[0]! : `${all.slice(0, -1).join(", ")} ${joint} ${all.at(-1)}`;
}
