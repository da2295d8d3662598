/** The results of what is still possible, and of single points of failure, as commands and `data/` give them. */
import { sayBand } from "../bands/bands.ts";
import type { Platform } from "../../schema/collection.ts";
import type { OutOfService } from "./blocked.ts";
import { otherWays, singlePoints, standIns, stillPossible, unansweredLines } from "./out-of-service.ts";

/** Whom the service carries, who does the steps, and its other names. */
type Carrier = Parameters<typeof otherWays>[1];

/** What `rerig without` answers; the shape of its `--json`. */
export function outOfServiceResult(platform: Platform, service: Carrier, out: OutOfService) {
  const left = stillPossible(platform, service, out);
  return {
    platform: platform.id,
    out: [...out].map(([item, count]) => ({ item, count })),
    possible: left.possible.map(({ name }) => name),
    lost: left.lost.map(({ name }) => name),
    nobodyFor: left.nobodyFor.map(sayBand),
    lostOptions: left.lostOptions.map(({ configuration, option }) => ({
      configuration: configuration.id,
      option: option.id,
    })),
    lines: unansweredLines(platform, left, service.otherNames).map(({ check, arrangements }) => ({
      line: check.challenge,
      arrangements: arrangements.map(({ name }) => name),
    })),
    standIns: standIns(platform, out).map(({ item, instead }) => ({
      item: item.id,
      instead: instead.map(({ id }) => id),
    })),
    otherWays: otherWays(platform, service, out).map(({ from, to, patients, before, now }) => ({
      from: from.name,
      to: to.name,
      patients: patients.map(sayBand).join("; "),
      seconds: before.seconds,
      now: now ? { seconds: now.seconds, procedures: now.procedures.map(({ id }) => id) } : null,
    })),
  };
}

/** `data/single-points.json` for one platform. */
export function singlePointsResult(platform: Platform, service: Pick<Carrier, "band">) {
  return {
    platform: platform.id,
    items: singlePoints(platform, service).map(({ item, spare, nobodyFor, lostOptions }) => ({
      item: item.id,
      count: item.count,
      spare: spare ?? null,
      nobodyFor: nobodyFor.map(sayBand),
      lostOptions: lostOptions.map(({ configuration, option }) => ({
        configuration: configuration.id,
        option: option.id,
      })),
    })),
  };
}
