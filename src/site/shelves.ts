/**
 * Procedures in groups, in the order of the trade: what takes down, what builds each configuration, what adds each
 * option, and the rest; within a group in the order in which changeovers do them.
 */
import type { Platform, Procedure } from "../schema/collection.ts";
import { remember } from "../domain/words/remember.ts";
import { compareByTrade } from "../domain/parts/phase.ts";
import { usesOf } from "../domain/parts/builds.ts";
import { heard } from "../words/heard.ts";

interface Shelf {
  readonly title: string;
  readonly procedures: readonly Procedure[];
}

/** Every procedure of the platform on exactly one shelf; withdrawn ones on the last. Empty shelves are left out. */
export const shelvesOf: (platform: Platform) => readonly Shelf[] = remember((platform: Platform) => {
  const build: Procedure[] = [],
    add: Procedure[] = [],
    away: Procedure[] = [],
    use: Procedure[] = [],
    old: Procedure[] = [];
  for (const procedure of platform.procedures.toSorted(compareByTrade(platform))) {
    const { configurations, options, takesDown } = usesOf(platform, procedure);
    if (procedure.status === "withdrawn") old.push(procedure);
    else if (configurations.length > 0) build.push(procedure);
    else if (options.length > 0) add.push(procedure);
    else if (takesDown.length > 0) away.push(procedure);
    else use.push(procedure);
  }
  return [
    { title: heard("shelves").takeDown, procedures: away },
    { title: heard("shelves").buildAConfiguration, procedures: build.sort(lighterFirst) },
    { title: heard("shelves").addAnOption, procedures: add },
    { title: heard("shelves").prepareCheckAndUse, procedures: use },
    { title: heard("shelves").withdrawn, procedures: old },
  ]
    .map((shelf) => ({ ...shelf, procedures: [...shelf.procedures] }))
    .filter(({ procedures }) => procedures.length > 0);
});

function lighterFirst(a: Procedure, b: Procedure): number {
  const [low, other] = [a.band.weight.from?.value ?? 0n, b.band.weight.from?.value ?? 0n];
  return low < other ? -1 : low > other ? 1 : 0;
}
