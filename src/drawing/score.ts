/**
 * The score of a timeline: who does what when, drawn to scale. Seconds and lanes only; a page turns them into heights
 * and widths.
 */
import { inStartingOrder, type TimedStep, type Timeline, type Wait } from "../domain/time/timeline.ts";

/**
 * A step on the score. Lanes count from 0 in the order of the crew; `top` and `seconds` are measured within its part.
 */
interface ScoreBlock {
  readonly timed: TimedStep;
  /** First and last lane that the block covers. */
  readonly from: number;
  readonly to: number;
  readonly top: number;
  readonly seconds: number;
  /** The text needs smaller letters to fit. */
  readonly tight: boolean;
  /** Waits that end when this step starts. */
  readonly waited: readonly Wait[];
}

/** A stretch in which one person waits. */
interface ScoreWait {
  readonly wait: Wait;
  readonly lane: number;
  readonly top: number;
  readonly seconds: number;
}

/** A stretch of the score at whose ends nobody is in the middle of anything, so that a page of paper may end there. */
interface ScorePart {
  readonly start: number;
  readonly end: number;
  /** In starting order, then as written: the order in which the list on a phone is read. */
  readonly blocks: readonly ScoreBlock[];
  readonly waits: readonly ScoreWait[];
  readonly ticks: readonly { readonly at: number; readonly top: number }[];
  /** The hold step with which the part ends: after it stands the bar. */
  readonly hold: TimedStep | undefined;
}

interface Score {
  readonly lanes: readonly string[];
  readonly parts: readonly ScorePart[];
  readonly elapsed: number;
  /** Pixels for a second, so that every text fits its block as far as that is reasonable. */
  readonly pxPerSecond: number;
}

const LEAST_SCALE = 2.6;
/** A step of three seconds whose words take two lines still has them whole; below that a block is cut. */
const MOST_SCALE = 16;
/** Height of a line, of a block's edges, and width of a letter: at 17 px, and at 15 px. */
const ROOMY = { line: 22, edges: 12, letter: 10 };
const TIGHT = { line: 18, edges: 8, letter: 9 };
/**
 * Width of the drawing on a screen of 1200 px (below that it is a list), of the gap between lanes, and of what stands
 * beside the text: its number, and "Second, 20 s".
 */
const WIDTH = 1030;
const GAP = 24;
const NUMBER = 76;
const WHO = 126;
/** Height of the mark of a safety-critical step: a square of 30 px on its corner. */
const DIAMOND = 44;

/**
 * Lays out a timeline. `textOf` gives the words that a block shows. Roles outside `crew` get lanes of their own after
 * it.
 */
export function layoutScore(timeline: Timeline, crew: readonly string[], textOf: (timed: TimedStep) => string): Score {
  const lanes = [...new Set([...crew, ...timeline.steps.flatMap(({ by }) => by)])];
  const ordered = inStartingOrder(timeline);
  const pxPerSecond = chooseScale(ordered, lanes.length, textOf);
  const ticks = ticksOf(timeline.elapsed, pxPerSecond);
  const groups = splitSteps(ordered, timeline.waits);
  const parts = groups.map((steps, at): ScorePart => {
    const start = steps[0]!.start;
    const end = groups[at + 1]?.[0]?.start ?? timeline.elapsed;
    const blocks = steps.map((timed): ScoreBlock => {
      const own = timed.by.map((role) => lanes.indexOf(role));
      return {
        timed,
        from: Math.min(...own),
        to: Math.max(...own),
        top: timed.start - start,
        seconds: timed.end - timed.start,
        tight: heightOf(timed, ROOMY, lanes.length, textOf) > (timed.end - timed.start) * pxPerSecond,
        waited: timeline.waits.filter(({ next }) => next === timed.index),
      };
    });
    const waits = timeline.waits
      .filter((wait) => wait.start >= start && wait.start < end)
      .map((wait) => ({
        wait,
        lane: lanes.indexOf(wait.person),
        top: wait.start - start,
        seconds: wait.end - wait.start,
      }));
    const last = steps.at(-1)!;
    const inside = ticks.filter(
      (tick) => tick >= start && (tick < end || (tick === timeline.elapsed && at === groups.length - 1)),
    );
    return {
      start,
      end,
      blocks,
      waits,
      ticks: inside.map((tick) => ({ at: tick, top: tick - start })),
      hold: last.step.hold ? last : undefined,
    };
  });
  return { lanes, parts, elapsed: timeline.elapsed, pxPerSecond };
}

/** Groups of steps between moments at which nobody works or waits across; a hold ends its group. */
function splitSteps(ordered: readonly TimedStep[], waits: readonly Wait[]): TimedStep[][] {
  const groups: TimedStep[][] = [];
  let reach = 0;
  for (const timed of ordered) {
    const isWaitedOver = waits.some(({ start, end }) => start < timed.start && timed.start < end);
    const current = groups.at(-1);
    if (!current || current.at(-1)!.step.hold || (timed.start >= reach && !isWaitedOver)) groups.push([timed]);
    else current.push(timed);
    reach = Math.max(reach, timed.end);
  }
  return groups;
}

/**
 * The least scale at which every block is high enough for its text; within limits, so that one short step does not
 * stretch the whole.
 */
function chooseScale(steps: readonly TimedStep[], lanes: number, textOf: (timed: TimedStep) => string): number {
  const needed = steps
    .filter(({ start, end }) => end > start)
    .map((timed) => heightOf(timed, TIGHT, lanes, textOf) / (timed.end - timed.start));
  return Math.ceil(Math.min(MOST_SCALE, Math.max(LEAST_SCALE, ...needed)) * 10 - 1e-9) / 10;
}

/**
 * Pixels that a block's text takes, by counting letters. With more than two lanes, who does it stands below the text of
 * a single lane.
 */
function heightOf(
  timed: TimedStep,
  { line, edges, letter }: typeof ROOMY,
  lanes: number,
  textOf: (timed: TimedStep) => string,
): number {
  const width = (timed.by.length * (WIDTH + GAP)) / lanes - GAP;
  const isBelow = lanes > 2 && timed.by.length === 1;
  const lines = Math.ceil((textOf(timed).length * letter) / (width - NUMBER - (isBelow ? 0 : WHO)));
  const { critical } = timed.step;
  // Across all lanes the tag stands beside who does it, in a single one above it.
  const isTwo = critical && (timed.by.length < lanes || lanes === 1);
  const height = Math.max(lines + (isBelow ? (critical ? 2 : 1) : 0), isTwo ? 2 : 1) * line + edges;
  return Math.max(height, critical ? DIAMOND : 0);
}

/** Times at a round distance of at least 60 px, and the end; a tick too close before the end is left out. */
function ticksOf(elapsed: number, scale: number): number[] {
  const step = [10, 15, 30, 60, 120, 300, 600].find((seconds) => seconds * scale >= 60) ?? 1800;
  const regular = Array.from({ length: Math.ceil(elapsed / step) }, (_, at) => at * step);
  return [...regular.filter((at) => (elapsed - at) * scale >= 20), ...(elapsed > 0 ? [elapsed] : [])];
}
