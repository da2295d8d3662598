/**
 * What a timeline means, in words: which steps set the total, who waits for whom, and how far from the best it can be.
 */
import type { PlannedStep } from "../parts/reading.ts";
import { sayDuration, sayNumber, sayRole } from "../words/say.ts";
import { sayList } from "../../schema/wording.ts";
import type { TimedStep, Timeline, Wait } from "./timeline.ts";

/** How much shorter any other schedule could be; says plainly what is proved and what is not. */
export function sayBest({ elapsed, bound, proved, provedAsWritten }: Timeline): string {
  if (proved) return "No schedule is shorter with these steps: proved.";
  const most = `at most ${sayDuration(elapsed - bound)} (${Math.ceil(((elapsed - bound) / elapsed) * 100)} %)`;
  return provedAsWritten
    ? "In the written order no schedule is shorter: proved. If each person did their steps in any " +
        `order, ${most} could be saved.`
    : `No schedule can be shorter by more than ${most.replace("at most ", "")}.`;
}

/** The steps that set the total, as one sentence. */
export function sayCritical({ criticalPath, steps }: Timeline): string {
  const numbers = sayRuns(criticalPath.map((index) => index + 1)),
    critical = steps.filter(({ critical }) => critical).length;
  if (numbers.length === 0) return "";
  const rest = steps.length - critical;
  return (
    `Steps ${sayList(numbers)} follow one another without a gap and set the total: a second lost there is lost ` +
    `for good.${rest > 0 ? ` ${rest === 1 ? "One step has" : `${rest} steps have`} time to spare.` : ""}`
  );
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
    to - from > 1 ? [`${from} to ${to}`] : from === to ? [String(from)] : [String(from), String(to)],
  );
}

/** For whom or what somebody waits: `Second, to finish step 4`. */
export function sayWaitFor({ forSteps, forPersons, person }: Wait): string {
  const steps =
    forSteps.length > 0
      ? `step${forSteps.length > 1 ? "s" : ""} ${sayList(forSteps.map((index) => String(index + 1)))}`
      : "";
  const others = forPersons.filter((other) => other !== person);
  if (others.length === 0) return steps || "what comes before";
  return `${sayList(others.map(sayRole))}${steps ? `, to finish ${steps}` : ""}`;
}

/** `at most ` where some of the steps are only for some of the patients: no patient takes longer. Else empty. */
export function sayMost({ steps }: { readonly steps: readonly Pick<PlannedStep, "only">[] }): string {
  return steps.some(({ only }) => only) ? "at most " : "";
}

/** How long the crew takes: `14 min 30 s`, or `at most 14 min 30 s`. */
export function sayElapsed(timeline: Timeline): string {
  return sayMost(timeline) + sayDuration(timeline.elapsed);
}

/** What one person alone would take, and why one person alone is not enough. */
export function sayAlone(timeline: Timeline): string {
  const { alone, steps } = timeline;
  const together = steps.filter(({ step, by }) => step.by.length > 1 && by.length > 1).length;
  const but = together > 0 ? `, but ${sayNumber(together, "step needs", "steps need")} more than one person` : "";
  return sayMost(timeline) + sayDuration(alone) + but;
}

/** What a hold holds for: the first check of its step, else that it is to be done. */
export function sayHold({ step }: Pick<TimedStep, "step">): string {
  const [check] = step.checks;
  return check ? `${check.challenge}: ${check.answer}` : "Nobody goes on until this is done";
}

/** Until when the clock stands at a hold; `people`: how many there are. */
export function sayAgreement(people: number): string {
  return `the clock stands until ${people === 2 ? "both" : "all"} agree`;
}

/** What is written into a stretch of waiting: `waits 20 s for second`. */
export function sayWaiting({ start, end, forPersons }: Pick<Wait, "start" | "end" | "forPersons">): string {
  const whom = forPersons.length > 0 ? ` for ${sayList(forPersons.map(sayRole))}` : "";
  return `waits ${sayDuration(end - start)}${whom}`;
}

/** What is read out beside a step of the score: whether it sets the total, and who waits before it; else empty. */
export function sayPlaced(critical: boolean, waited: readonly Wait[]): string {
  const waits = waited.map(({ person, start, end }) => ` ${sayRole(person)} waits ${sayDuration(end - start)} first.`);
  return `${critical ? " Sets the total." : ""}${waits.join("")}`;
}
