/** The return of questions, held to the schedule's published examples; rounds that ask what matters. */
import fc from "fast-check";
import { createEmptyCard, fsrs, Rating } from "ts-fsrs";
import { describe, expect, it } from "vitest";
import {
  type Candidate,
  chooseRound,
  findVoid,
  gradeCard,
  isDue,
  isKnown,
  type Kept,
  type KeptCard,
  recallOf,
  REFRESHER_QUESTIONS,
  SETTINGS,
} from "../../src/browser/practice/schedule.ts";
import { readExport } from "../../src/browser/practice/practice-store.ts";
import { wordsFor } from "../../src/words/words.ts";

const { asked } = wordsFor({ language: "en" });

const START = new Date("2022-11-29T12:30:00Z");
const DAY = 86_400_000;
const { Good, Again } = Rating;

describe("the schedule", () => {
  // FSRS-6 with its default weights: py-fsrs tests/test_basic.py, test_review_card; the same list in ts-fsrs
  // FSRS-6.test.ts, ivl_history.
  const published = [0, 2, 11, 46, 163, 498, 0, 0, 2, 4, 7, 12, 21];
  const grades = [Good, Good, Good, Good, Good, Good, Again, Again, Good, Good, Good, Good, Good] as const;

  it("gives the published intervals when nothing is capped (py-fsrs and ts-fsrs, FSRS-6)", () => {
    const scheduler = fsrs({ ...SETTINGS, maximum_interval: 36_500 });
    let card = createEmptyCard(START),
      now = START;
    expect(
      grades.map((grade) => {
        card = scheduler.next(card, now, grade).card;
        now = card.due;
        return card.scheduled_days;
      }),
    ).toEqual(published);
  });

  it("gives the same as long as no interval is above 180 days, and 180 then", () => {
    let card: KeptCard | undefined,
      now = START;
    const days = grades.slice(0, 6).map((grade) => {
      card = gradeCard(card, grade === Good, now);
      now = new Date(card.due);
      return card.scheduled_days;
    });
    expect(days).toEqual(published.slice(0, 6).map((interval) => Math.min(interval, 180)));
  });

  it("reaches the published memory state: stability 53.62691, difficulty 6.3574867 (py-fsrs, test_memo_state)", () => {
    let card: KeptCard | undefined,
      now = START.getTime();
    [Again, Good, Good, Good, Good, Good].forEach((grade, at) => {
      now += [0, 0, 1, 3, 8, 21][at]! * DAY;
      card = gradeCard(card, grade === Good, new Date(now));
    });
    expect(card!.stability).toBeCloseTo(53.62691, 4);
    expect(card!.difficulty).toBeCloseTo(6.3574867, 4);
  });

  it("outlives being stored as JSON, and never lets a question go for more than 180 days", () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 25 }), (answers) => {
        let card: KeptCard | undefined,
          now = START;
        for (const right of answers) {
          card = gradeCard(card && (JSON.parse(JSON.stringify(card)) as KeptCard), right, now);
          const days = (Date.parse(card.due) - now.getTime()) / DAY;
          expect(days).toBeGreaterThan(0);
          expect(days).toBeLessThanOrEqual(180);
          expect(isDue(card, new Date(card.due))).toBe(true);
          expect(isDue(card, now)).toBe(false);
          now = new Date(card.due);
        }
      }),
    );
  });

  it("holds a question for the learner's own once it was right twice in a row, as the page says", () => {
    const after = (...answers: boolean[]) =>
      isKnown(answers.reduce<KeptCard | undefined>((card, right) => gradeCard(card, right, START), undefined)!);
    expect([after(true), after(false, true), after(true, false, true)]).toEqual([false, false, false]);
    expect([after(true, true), after(false, true, true), after(true, false, true, true)]).toEqual([true, true, true]);
  });

  it("expects 90 % recall of a well-known question on the day when it is due", () => {
    let card: KeptCard | undefined,
      now = START;
    for (let at = 0; at < 4; at++) {
      card = gradeCard(card, true, now);
      now = new Date(card.due);
    }
    // The interval is rounded to whole days.
    expect(recallOf(card!, now)).toBeCloseTo(0.9, 2);
  });
});

const candidate = (id: string, critical = false, kind = "next"): Candidate => ({
  id,
  critical,
  kind,
  document: "seat",
  says: [],
  worth: critical ? 3 : 0,
  firstWeek: false,
});
const kept = (id: string, answers: readonly boolean[], daysAgo: number): Kept => {
  const now = new Date(START.getTime() - daysAgo * DAY);
  const card = answers.reduce<KeptCard | undefined>((before, right) => gradeCard(before, right, now), undefined)!;
  return {
    id,
    platform: "tern",
    document: "procedure seat",
    title: "Seat",
    revision: 1,
    prompt: "?",
    answered: answers.length,
    missed: 0,
    card,
  };
};
const mapOf = (...entries: Kept[]) => new Map(entries.map((entry) => [entry.id, entry]));
const first = () => 0;

describe("a round", () => {
  it("asks what is due first, longest overdue first, then new ones with the safety-critical before the rest", () => {
    const candidates = [
      candidate("new"),
      candidate("new-critical", true),
      candidate("due-late"),
      candidate("due-early"),
      candidate("not-due"),
    ];
    const known = mapOf(
      kept("due-late", [true], 1),
      kept("due-early", [true], 9),
      kept("not-due", [true, true, true], 0),
    );
    expect(chooseRound(candidates, known, START, 10, "round", first)).toEqual([
      "due-early",
      "due-late",
      "new-critical",
      "new",
    ]);
  });

  it(
    "as a refresher asks the safety-critical ones that are most probably forgotten, due or not, and stays under " +
      "five minutes",
    () => {
      const candidates = [
        candidate("plain"),
        candidate("strong", true),
        candidate("weak", true),
        candidate("new", true),
      ];
      const known = mapOf(kept("strong", [true, true], 1), kept("weak", [true, true], 9), kept("plain", [true], 30));
      expect(chooseRound(candidates, known, START, 3, "refresher", first)).toEqual(["weak", "strong", "new"]);
      expect(REFRESHER_QUESTIONS * 35).toBeLessThan(300);
      expect(REFRESHER_QUESTIONS).toBeGreaterThan(4);
    },
  );

  it("asks no new question whose answer another one of the round has shown, while there are others", () => {
    const about = (id: string, worth: number, ...says: string[]) => ({ ...candidate(id), worth, says });
    const candidates = [
      about("next", 9, "seat 4", "Push the pins in."),
      about("missing", 8, "seat 4", "Push the pins in."),
      about("order", 7, "seat 3", "Lower the flap.", "Push the pins in."),
      about("elsewhere", 6, "fit 2"),
      about("card", 5),
      about("due-too", 4, "fit 9"),
    ];
    expect(chooseRound(candidates, new Map(), START, 4, "round", first)).toEqual([
      "next",
      "elsewhere",
      "card",
      "due-too",
    ]);
    expect(chooseRound(candidates, new Map(), START, 6, "round", first).slice(4)).toEqual(["missing", "order"]);
    // What is due is asked whatever it says; what is new beside it gives it not away.
    const known = mapOf(kept("order", [true], 9));
    expect(chooseRound(candidates, known, START, 4, "round", first)).toEqual(["order", "elsewhere", "card", "due-too"]);
  });

  it("never repeats a question and never asks more than it should", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.string({ minLength: 1, maxLength: 4 }), { maxLength: 30 }),
        fc.integer({ min: 1, max: 12 }),
        fc.constantFrom("refresher" as const, "round" as const),
        (ids, count, manner) => {
          const candidates = ids.map((id, at) => candidate(id, at % 2 === 0, `kind ${at % 3}`));
          const known = mapOf(...ids.slice(0, 10).map((id, at) => kept(id, [at % 2 === 0], at)));
          const round = chooseRound(candidates, known, START, count, manner, (below) => below - 1);
          expect(new Set(round).size).toBe(round.length);
          expect(round.length).toBe(
            manner === "refresher"
              ? Math.min(count, ids.length)
              : Math.min(count, ids.filter((id) => !known.has(id) || isDue(known.get(id)!.card, START)).length),
          );
        },
      ),
    );
  });

  it("knows which answers are void: those to questions that the site no longer asks so", () => {
    const known = mapOf(kept("still", [true], 1), kept("gone", [true], 1));
    expect(findVoid(known.values(), "tern", new Set(["still", "new"])).map(({ id }) => id)).toEqual(["gone"]);
    expect(findVoid(known.values(), "sled", new Set())).toEqual([]);
  });
});

describe("an export", () => {
  const whole = {
    form: "rerig practice 1",
    exported: START.toISOString(),
    kept: [kept("a", [true, false], 3)],
    studied: [{ key: "tern procedure seat", title: "Seat", revision: 2, at: START.toISOString() }],
  };

  it("is read back as it was written", () => expect(readExport(JSON.stringify(whole), asked)).toEqual(whole));

  it.each([
    ["", /not JSON/],
    ["[]", /not a practice file/],
    ["{}", /not a practice file/],
    [JSON.stringify({ ...whole, form: "other" }), /not a practice file/],
    [
      JSON.stringify({ ...whole, kept: [{ ...whole.kept[0], card: { ...whole.kept[0]!.card, due: "soon" } }] }),
      /damaged/,
    ],
    [
      JSON.stringify({ ...whole, kept: [{ ...whole.kept[0], card: { ...whole.kept[0]!.card, stability: "1" } }] }),
      /damaged/,
    ],
    [JSON.stringify({ ...whole, kept: [null] }), /damaged/],
    [JSON.stringify({ ...whole, studied: [{}] }), /damaged/],
  ])("is refused as a whole when it is something else: %.40s", (text, why) =>
    expect(readExport(text, asked)).toMatch(why),
  );
});
