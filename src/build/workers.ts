/** How many threads a long work is shared among: where other programs have the processor, threads only cost. */
import { availableParallelism, loadavg } from "node:os";

/**
 * The number of workers, the process that asks among them: at most `most`, and no more than there are cores without
 * work. `RERIG_WORKERS` says another number, whatever the machine does.
 */
export function workersAtMost(most: number): number {
  const asked = Number(process.env["RERIG_WORKERS"]);
  if (Number.isInteger(asked) && asked > 0) return asked;
  // The load of the last minute; this process itself is one of those that had work.
  const free = Math.round(availableParallelism() - Math.max(0, loadavg()[0]! - 1));
  return Math.max(1, Math.min(most, free));
}
