/**
 * What a question is worth: what it could cost that somebody does not know its answer. The first week asks what is
 * worth most.
 */
import type { Words } from "../../words/hear.ts";
import { wordsFor } from "../../words/words.ts";
import type { Band, Crew, Incident, Platform, Service, Step } from "../../schema/collection.ts";
import { MASS_PER_LB } from "../../schema/units.ts";
import { type Danger, isWithin, type SlipKind } from "../bands/slips.ts";
import { fraction } from "../numbers/rational.ts";
import { type Outcome, proveSlips, type SlipRow } from "../slips/prove.ts";
import { modelOf } from "../states/model.ts";
import { remember } from "../words/remember.ts";
import { sayInstruction } from "../words/say.ts";
import { type Question, readAlike } from "./questions/question.ts";
import { dangerWeights } from "../parts/table.ts";

/** The worth of a question, and what makes it. */
export interface Worth {
  readonly points: number;
  /** Whether it is one of the first week's. */
  readonly firstWeek: boolean;
  /** Why it is worth asking, the gravest reason first, in sentences; empty if nothing but its kind speaks for it. */
  readonly because: readonly string[];
}

/** How many questions the first week has. */
export const FIRST_WEEK = 60;

/**
 * Points for what a slip of the step comes to where it survives longest. All points here are common practice, no
 * source: their order matters, not their size. What nobody notices is the worst, since nothing else stands against it.
 */
const SLIP_POINTS: Readonly<Record<Outcome, number>> = { silent: 6, counted: 4, seen: 3, stopped: 1, "made good": 1 };
const INCIDENT = 5;
const CRITICAL = 3;
const HOLD = 3;
/**
 * A patient whom a slip with the weight puts into another arrangement. Card and count are those of the arrangement that
 * was chosen, so that nothing later tells: it counts as a safety-critical slip that nobody notices. A decimal point in
 * the wrong place makes a weight that the patient belies; that, and the end of a band, counts as one that the count
 * tells.
 */
const DANGER = SLIP_POINTS.silent + CRITICAL;
const EDGE = SLIP_POINTS.counted + CRITICAL;
const BELIED: ReadonlySet<SlipKind> = new Set(["ten-times", "a-tenth"]);
/** What is asked of the platform as it stands, of an option and of a patient whom a step is for. */
const STANDS = 2;

/** What a kind of question finds out: what is done and why counts whole; names, numbers and who does it count half. */
const HALF: ReadonlySet<Question["kind"]> = new Set(["home", "count", "photo", "mark", "critical", "who"]);

/** The slips with a weight, by what says them. */
const SAY_DANGER: Readonly<Record<SlipKind, keyof Words["worth"]>> = {
  "pounds-as-kilograms": "poundsAsKilograms",
  "kilograms-as-pounds": "kilogramsAsPounds",
  "ten-times": "decimalPoint",
  "a-tenth": "decimalPoint",
  rounded: "rounded",
  estimate: "estimate",
};

interface Carrier extends Pick<Service, "band" | "otherNames" | "language" | "words"> {
  readonly crew: readonly Crew[];
}

/** The worth of each of a platform's questions, by its id. */
export function worthsOf(
  service: Carrier,
  platform: Platform,
  incidents: readonly Incident[],
  questions: readonly Question[],
): ReadonlyMap<string, Worth> {
  const words = wordsFor(service).worth,
    rows = worstRows(service, platform),
    dangers = dangerWeights(platform);
  const judged = questions.map((question) => {
    const step = stepOf(question);
    const found =
      question.source.step === undefined ? ofCard(question, platform, dangers, words) : step ? ofStep(step) : [];
    const half = HALF.has(question.kind) ? 2 : 1;
    return { question, step, points: found.reduce((sum, { points }) => sum + points, 0) / half, found };
  });
  const first = firstOf(judged);
  return new Map(
    judged.map((each) => [
      each.question.id,
      {
        points: each.points,
        firstWeek: first.has(each),
        because: each.found.toSorted((a, b) => b.points - a.points).flatMap(({ told }) => told ?? []),
      },
    ]),
  );

  function stepOf({ source }: Question): Step | undefined {
    return source.step === undefined
      ? undefined
      : platform.procedures.find(({ id }) => id === source.id)?.steps[source.step - 1];
  }

  function ofStep(step: Step): Reason[] {
    const row = rows.get(step),
      guarded = incidents.filter(({ id }) => step.guards.some((guard) => guard.id === id));
    return [
      ...(row ? [ofSlip(row, words)] : []),
      ...(guarded.length ? [{ points: INCIDENT, told: words.happened({ incident: guarded[0]!.summary }) }] : []),
      ...(step.critical ? [{ points: CRITICAL, told: words.critical }] : []),
      ...(step.hold ? [{ points: HOLD, told: words.hold }] : []),
    ];
  }
}

interface Reason {
  readonly points: number;
  readonly told?: string;
}

/** The slip of each step that survives longest; steps that move and turn nothing have none. */
const worstRows = remember((service: Carrier, platform: Platform): ReadonlyMap<Step, SlipRow> => {
  const worst = new Map<Step, SlipRow>();
  const pointsOf = ({ worst: { noticed } }: SlipRow) => SLIP_POINTS[noticed.outcome];
  for (const row of proveSlips(modelOf(platform), service).rows) {
    const known = worst.get(row.slip.step);
    if (!known || pointsOf(row) > pointsOf(known)) worst.set(row.slip.step, row);
  }
  return worst;
});

function ofSlip({ worst: { noticed } }: SlipRow, words: Words["worth"]): Reason {
  const told: Readonly<Record<Outcome, string>> = {
    silent: words.silent,
    counted: words.counted,
    seen: noticed.onCard ? words.onCard : words.laterLine,
    stopped: words.stopped,
    "made good": words.twice,
  };
  return { points: SLIP_POINTS[noticed.outcome] + (noticed.onCard ? 1 : 0), told: told[noticed.outcome] };
}

/** What speaks for a question about an arrangement, an option or a card. */
function ofCard(
  { kind, asks, source }: Question,
  platform: Platform,
  dangers: readonly Danger[],
  words: Words["worth"],
): Reason[] {
  if (kind === "arrangement" && asks["weight"]) {
    const weight = BigInt(asks["weight"]);
    const met = dangers.filter(({ from, to }) => isWithin(fraction(weight), from, to)).map(({ slip }) => slip);
    const slip = met.find((each) => !BELIED.has(each)) ?? met[0];
    if (slip) return [{ points: BELIED.has(slip) ? EDGE : DANGER, told: words[SAY_DANGER[slip]] as string }];
    if (
      isAtEnd(
        weight,
        platform.configurations.map(({ band }) => band),
      )
    )
      return [{ points: EDGE, told: words.atEnd }];
    return [{ points: STANDS }];
  }
  return source.critical ? [{ points: CRITICAL, told: words.restsOn }] : [{ points: STANDS }];
}

/** Whether a weight is within a pound of an end of a band. */
function isAtEnd(weight: bigint, bands: readonly Band[]): boolean {
  const near = (end: bigint) => (end > weight ? end - weight : weight - end) <= (MASS_PER_LB * 11n) / 10n;
  return bands.some(({ weight: { from, to } }) => [from, to].some((end) => end && near(end.value)));
}

interface Judged {
  readonly question: Question;
  readonly points: number;
  /** The step that it is about, if it is about one. */
  readonly step: Step | undefined;
  readonly found: readonly Reason[];
}

/**
 * The first week: the most worth, one after the other, where each further question about the same deed or the same
 * answer (of a weight: the same slip) counts half of the one before, so that no step fills the week; of equals the kind
 * that was taken least.
 */
function firstOf<Each extends Judged>(judged: readonly Each[]): ReadonlySet<Each> {
  const taken = new Map<string, number>(),
    first = new Set<Each>();
  const kinds = new Map<string, number>();
  const kindTaken = ({ question }: Each) => kinds.get(question.kind) ?? 0;
  const worth = (each: Each) => each.points / 2 ** (taken.get(subjectOf(each)) ?? 0);
  while (first.size < Math.min(FIRST_WEEK, judged.length)) {
    let best: Each | undefined;
    for (const each of judged) {
      if (first.has(each)) continue;
      const more = best ? worth(each) - worth(best) : 1;
      if (more > 0 || (more === 0 && kindTaken(each) < kindTaken(best!))) best = each;
    }
    if (!best) break;
    first.add(best);
    kinds.set(best.question.kind, kindTaken(best) + 1);
    taken.set(subjectOf(best), (taken.get(subjectOf(best)) ?? 0) + 1);
  }
  return first;
}

/**
 * What a question is about: a step (the same deed in several procedures is one), an answer about a card, or a slip that
 * takes a weight from an arrangement.
 */
function subjectOf({ question: { kind, source, key }, step, found }: Judged): string {
  if (step) return readAlike(sayInstruction(step));
  const slip = kind === "arrangement" ? (found[0]?.told ?? "") : "";
  return `${source.kind} ${source.id} ${key[0]!.means} ${slip}`;
}
