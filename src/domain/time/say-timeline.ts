/**
 * What a timeline means, in words: which steps set the total, who waits for whom, and how far from the best it can be.
 */
import type { PlannedStep } from "../parts/reading.ts";
import { sayDuration, sayRole } from "../words/say.ts";
import { sayList } from "../../schema/wording.ts";
import type { TimedStep, Timeline, Wait } from "./timeline.ts";
import { heard } from "../../words/heard.ts";

/** How much shorter any other schedule could be; says plainly what is proved and what is not. */
export function sayBest({ elapsed, bound, proved, provedAsWritten }: Timeline): string {
  if (proved) return heard("timeline").noScheduleIsShorter;
  const most = heard("timeline").atMost({
    elapsed: sayDuration(elapsed - bound),
    ceil: Math.ceil(((elapsed - bound) / elapsed) * 100),
  });
  return provedAsWritten
    ? heard("timeline").inTheWrittenOrder({ most })
    : heard("timeline").noScheduleCan({ most: most.replace(heard("timeline").atMost2, "") });
}

/** The steps that set the total, as one sentence. */
export function sayCritical({ criticalPath, steps }: Timeline): string {
  const numbers = sayRuns(criticalPath.map((index) => index + 1)),
    critical = steps.filter(({ critical }) => critical).length;
  if (numbers.length === 0) return "";
  const rest = steps.length - critical;
  return heard("timeline").stepsFollowOneAnother({
    numbers: sayList(numbers),
    rest: rest > 0 ? heard("timeline").oneStepHasTime({ rest }) : "",
  });
}

/** Numbers with runs of three and more joined: `1 to 14`, `16`. */
function sayRuns(numbers: readonly number[]): string[] {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last && last[1] + 1 === number) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.flatMap(([from, to]) =>
    to - from > 1
      ? [heard("timeline").fromTo({ from, to })]
      : from === to
        ? [String(from)]
        : [String(from), String(to)],
  );
}

/** For whom or what somebody waits: `Second, to finish step 4`. */
export function sayWaitFor({ forSteps, forPersons, person }: Wait): string {
  const steps =
    forSteps.length > 0
      ? heard("timeline").step({ forSteps: forSteps.length, list: sayList(forSteps.map((index) => String(index + 1))) })
      : "";
  const others = forPersons.filter((other) => other !== person);
  if (others.length === 0) return steps || heard("timeline").whatComesBefore;
  return `${sayList(others.map(sayRole))}${steps ? heard("timeline").toFinish({ steps }) : ""}`;
}

/** `at most ` where some of the steps are only for some of the patients: no patient takes longer. Else empty. */
export function sayMost({ steps }: { readonly steps: readonly Pick<PlannedStep, "only">[] }): string {
  return steps.some(({ only }) => only) ? heard("timeline").atMost2 : "";
}

/** How long the crew takes: `14 min 30 s`, or `at most 14 min 30 s`. */
export function sayElapsed(timeline: Timeline): string {
  return sayMost(timeline) + sayDuration(timeline.elapsed);
}

/** What one person alone would take, and why one person alone is not enough. */
export function sayAlone(timeline: Timeline): string {
  const { alone, steps } = timeline;
  const together = steps.filter(({ step, by }) => step.by.length > 1 && by.length > 1).length;
  const but = together > 0 ? heard("timeline").butStepNeedsMore({ together }) : "";
  return sayMost(timeline) + sayDuration(alone) + but;
}

/** What a hold holds for: the first check of its step, else that it is to be done. */
export function sayHold({ step }: Pick<TimedStep, "step">): string {
  const [check] = step.checks;
  return check ? `${check.challenge}: ${check.answer}` : heard("timeline").nobodyGoesOnUntil;
}

/** Until when the clock stands at a hold; `people`: how many there are. */
export function sayAgreement(people: number): string {
  return heard("timeline").theClockStandsUntil({ both: people === 2 ? heard("timeline").both : heard("timeline").all });
}

/** What is written into a stretch of waiting: `waits 20 s for second`. */
export function sayWaiting({ start, end, forPersons }: Pick<Wait, "start" | "end" | "forPersons">): string {
  const whom =
    forPersons.length > 0 ? heard("timeline").forForPersons({ forPersons: sayList(forPersons.map(sayRole)) }) : "";
  return heard("timeline").waits({ end: sayDuration(end - start), whom });
}

/** What is read out beside a step of the score: whether it sets the total, and who waits before it; else empty. */
export function sayPlaced(critical: boolean, waited: readonly Wait[]): string {
  const waits = waited.map(({ person, start, end }) =>
    heard("timeline").waitsFirst({ person: sayRole(person), end: sayDuration(end - start) }),
  );
  return `${critical ? heard("timeline").setsTheTotal : ""}${waits.join("")}`;
}
