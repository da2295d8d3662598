/** A walk for one of the patients for whom it was laid out: without the steps that are only for others. */
import type { Walk, WalkStop } from "./walk.ts";

/**
 * The walk without the stops of these numbers; the same walk if it has none of them. Numbers stay as they are printed.
 * What comes after a stop that is left out comes earlier by as long as that took, if nobody did anything else
 * meanwhile.
 */
export function leaveOut(walk: Walk, numbers: ReadonlySet<number>): Walk {
  const kept = walk.stops.filter(({ number }) => !numbers.has(number)),
    left = walk.stops.filter(({ number }) => numbers.has(number));
  if (left.length === 0) return walk;
  const saved = left.filter((stop) => !kept.some(({ start, end }) => start < stop.end && stop.start < end));
  const earlier = (stop: WalkStop): WalkStop => {
    const gained = saved.filter(({ end }) => end <= stop.start).reduce((sum, { start, end }) => sum + end - start, 0);
    return { ...stop, start: stop.start - gained, end: stop.end - gained };
  };
  return {
    ...walk,
    key: `${walk.key} without ${left.map(({ number }) => number).join(",")}`,
    stops: kept.map((stop) => ({
      ...earlier(stop),
      group: walk.stops.slice(0, stop.group).filter(({ number }) => !numbers.has(number)).length,
    })),
    ...(walk.reading ? { reading: earlier(walk.reading) } : {}),
  };
}
