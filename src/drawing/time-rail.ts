/** Where the revisions of a document stand on a rail of time. */
import type { Controlled } from "../schema/collection.ts";
import { heard } from "../words/heard.ts";

/** A pin of the rail; `x` in per cent of its length. */
interface Station {
  readonly kind: "revision" | "review";
  readonly x: number;
  /** In force from, or review by; where nobody knows from when a revision was in force, the day of its change. */
  readonly date: string;
  readonly isWritten?: boolean;
  readonly revision?: number;
  readonly summary?: string;
  readonly overdue?: boolean;
}

/** Pins that stand at most this close are pushed apart, in per cent: a text is as wide. */
const APART = 21;
/** The rail shows the last three revisions; the rest is on the page of changes. */
const SHOWN = 3;

/**
 * The last revisions with a date, and the date by which it has to be reviewed, oldest first, in the order of time but
 * spread so that their texts do not meet. `inForceFrom` says from when a revision was in force. `span` is while the
 * present revision is in force; missing when it is not approved or has no date.
 */
export function stationsOf(
  {
    revision,
    changes,
    effective,
    reviewBy,
    status,
  }: Pick<Controlled, "revision" | "changes" | "effective" | "reviewBy" | "status">,
  today: string,
  inForceFrom: (revision: number) => string | undefined,
): { readonly stations: readonly Station[]; readonly span?: { readonly a: number; readonly b: number } } {
  const dated = [...changes]
    .sort((a, b) => a.revision - b.revision)
    .slice(-SHOWN)
    .map(({ revision, summary, date }): Omit<Station, "x"> => {
      const from = inForceFrom(revision);
      return { kind: "revision", date: from ?? date, ...(from ? {} : { isWritten: true }), revision, summary };
    });
  if (effective && !dated.some((station) => station.revision === revision))
    dated.push({
      kind: "revision",
      date: effective,
      revision,
      summary: revision === 1 ? heard("reviewList").firstIssue : "",
    });
  if (reviewBy) dated.push({ kind: "review", date: reviewBy, overdue: status === "approved" && reviewBy < today });
  if (dated.length === 0) return { stations: [] };
  const times = dated.map(({ date }) => Date.parse(date));
  const first = Math.min(...times),
    reach = Math.max(...times) - first;
  const most = 100 - APART;
  const wanted = times.map((time) => 2 + (reach > 0 ? ((time - first) / reach) * (most - 2) : 0));
  const spread: number[] = [];
  for (const [index, place] of wanted.entries())
    spread.push(index === 0 ? place : Math.max(place, spread[index - 1]! + APART));
  // Pushed over the end, they are drawn together from the right.
  for (let index = spread.length - 1, limit = most; index >= 0; index--, limit -= APART)
    spread[index] = Math.min(spread[index]!, limit);
  const stations = dated.map((station, index) => ({ ...station, x: spread[index]! }));
  const current = stations.find((station) => station.kind === "revision" && station.revision === revision);
  const review = stations.find(({ kind }) => kind === "review");
  const inForce = status === "approved" && current && current.date <= today;
  return { stations, ...(inForce ? { span: { a: current.x, b: review ? review.x : 100 } } : {}) };
}
