/** When a question comes back: the FSRS schedule, for one learner, on this device. No page and no clock in here. */
import { type Card, type CardInput, createEmptyCard, type FSRS, fsrs, Rating, State } from "ts-fsrs";

/**
 * What the device keeps of a question that was answered: plain values, so that it can be stored, exported and read
 * again.
 */
export interface Kept {
  /** The question's id; it changes when what is asked or what is right changes. */
  readonly id: string;
  readonly platform: string;
  /** `procedure seat-capsule` or `configuration child-cradle`, with the revision when it was answered last. */
  readonly document: string;
  readonly title: string;
  readonly revision: number;
  /** What was asked, to name a question that is void. */
  readonly prompt: string;
  readonly answered: number;
  readonly missed: number;
  readonly card: KeptCard;
}

/** The schedule's card with its times as ISO 8601. */
export interface KeptCard extends Omit<Card, "due" | "last_review"> {
  readonly due: string;
  readonly last_review?: string;
}

/**
 * How sure the learner should be at the next question, and how far apart questions may come. Without use, half of the
 * gain in accuracy is gone
 * after about 6.5 months (Tatel, Ackerman, Procedural skill retention and decay, Psychological Bulletin,
 * doi:10.1037/bul0000481):
 * nothing stays away for longer than 180 days. Spaced beats massed retrieval (Latimier, Peyre, Ramus, Educational
 * Psychology Review 33
 * (2021) 959: g = 0.74). No chance in the intervals, so that the same answers give the same days.
 */
export const SETTINGS = {
  request_retention: 0.9,
  maximum_interval: 180,
  enable_fuzz: false,
  enable_short_term: true,
} as const;

let scheduler: FSRS | undefined;
const schedule = (): FSRS => (scheduler ??= fsrs(SETTINGS));

/** The card after an answer: right counts as "good", wrong as "again". */
export function gradeCard(card: KeptCard | undefined, right: boolean, now: Date): KeptCard {
  const before: Card | CardInput = card ?? createEmptyCard(now);
  const { card: after } = schedule().next(before, now, right ? Rating.Good : Rating.Again);
  const { last_review, ...rest } = after;
  // The library keeps its four grades a day apart, and so goes above its own maximum by a day or two.
  const days = Math.min(after.scheduled_days, SETTINGS.maximum_interval);
  const due = days < after.scheduled_days ? new Date(now.getTime() + days * 86_400_000) : after.due;
  return {
    ...rest,
    scheduled_days: days,
    due: due.toISOString(),
    ...(last_review ? { last_review: last_review.toISOString() } : {}),
  };
}

/** How probable it is that the learner still knows it, from 0 to 1. */
export function recallOf(card: KeptCard, now: Date): number {
  return schedule().get_retrievability(card, now, false);
}

/** Whether it should be asked now. */
export function isDue({ due }: KeptCard, now: Date): boolean {
  return Date.parse(due) <= now.getTime();
}

/** Whether the last answer stuck: it is on its way with days between. */
export function isKnown({ state }: KeptCard): boolean {
  return state === State.Review;
}

/** What a round needs to know of a question. */
export interface Candidate {
  readonly id: string;
  readonly critical: boolean;
  /** Id of the document; a round mixes documents. */
  readonly document: string;
  readonly kind: string;
  /** The steps that its screen or its answer says: another question about one of them would be given away by it. */
  readonly says: readonly string[];
  /** What it is worth (`domain/study/worth`), and whether it is one of the first week's. */
  readonly worth: number;
  readonly firstWeek: boolean;
}

/** Seconds for one question, reading the answer included, in a round that must stay short. Own estimate, no source. */
const SECONDS_A_QUESTION = 35;
/**
 * A refresher stays under five minutes: 8 questions (5 min, just in time before the task: Just-in-time training,
 * PMC10287658).
 */
export const REFRESHER_QUESTIONS = Math.floor((5 * 60 - 1) / SECONDS_A_QUESTION);

/**
 * The questions of a round, by their ids. `refresher`: what is most probably forgotten first, safety-critical before
 * the rest, whether due or
 * not; then new safety-critical ones. `round`: what is due, longest overdue first; then new ones, those of the first
 * week first, what is worth most before the rest. Of new ones about the same step one is enough for a round. `pick`
 * draws among equals (0 ≤ pick(n) < n).
 */
export function chooseRound(
  candidates: readonly Candidate[],
  kept: ReadonlyMap<string, Kept>,
  now: Date,
  count: number,
  manner: "refresher" | "round",
  pick: (below: number) => number,
): string[] {
  const seen = candidates.flatMap((candidate) => {
    const entry = kept.get(candidate.id);
    return entry ? [{ candidate, entry, recall: recallOf(entry.card, now) }] : [];
  });
  const due = seen
    .filter(({ entry }) => isDue(entry.card, now))
    .sort((a, b) => Date.parse(a.entry.card.due) - Date.parse(b.entry.card.due));
  const weakest = [...seen].sort(
    (a, b) => Number(b.candidate.critical) - Number(a.candidate.critical) || a.recall - b.recall,
  );
  const known = manner === "refresher" ? weakest.filter(({ candidate }) => candidate.critical) : due;
  const fresh = apart(
    byWorth(
      candidates.filter(({ id }) => !kept.has(id)),
      pick,
    ),
    known.slice(0, count).map(({ candidate }) => candidate),
  );
  const wanted =
    manner === "refresher"
      ? [
          ...weakest.filter(({ candidate }) => candidate.critical).map(({ candidate }) => candidate),
          ...fresh.filter(({ critical }) => critical),
          ...weakest.map(({ candidate }) => candidate),
          ...fresh,
        ]
      : [...due.map(({ candidate }) => candidate), ...fresh];
  return [...new Set(wanted.map(({ id }) => id))].slice(0, count);
}

/**
 * New questions: the first week's first, what is worth most before the rest, equals as they are drawn. The same kind
 * does not come twice in a row where another one is worth at least half as much.
 */
function byWorth(candidates: readonly Candidate[], pick: (below: number) => number): Candidate[] {
  const left = [...candidates],
    drawn: Candidate[] = [];
  while (left.length > 0) drawn.push(...left.splice(pick(left.length), 1));
  const sorted = drawn.sort((a, b) => Number(b.firstWeek) - Number(a.firstWeek) || b.worth - a.worth);
  const order: Candidate[] = [];
  while (sorted.length > 0) {
    const best = sorted[0]!,
      last = order.at(-1)?.kind;
    const other = sorted.findIndex(
      ({ kind, worth, firstWeek }) => kind !== last && worth * 2 >= best.worth && firstWeek === best.firstWeek,
    );
    order.push(...sorted.splice(Math.max(0, other), 1));
  }
  return order;
}

/** New questions in their order, but those last that say a step which one before them, or one of `known`, says. */
function apart(candidates: readonly Candidate[], known: readonly Candidate[]): Candidate[] {
  const said = new Set(known.flatMap(({ says }) => says)),
    first: Candidate[] = [],
    last: Candidate[] = [];
  for (const candidate of candidates) {
    const isSaid = candidate.says.some((step) => said.has(step));
    (isSaid ? last : first).push(candidate);
    if (!isSaid) for (const step of candidate.says) said.add(step);
  }
  return [...first, ...last];
}

/** What the device keeps that the site no longer asks: void, with the documents as they are now. */
export function findVoid(kept: Iterable<Kept>, platform: string, ids: ReadonlySet<string>): Kept[] {
  return [...kept].filter((entry) => entry.platform === platform && !ids.has(entry.id));
}
