/** Procedures in groups, in the order of the work: what builds each configuration, what adds each option, what takes down, and the rest. */
import type { Platform, Procedure } from "../schema/collection.ts";
import { once } from "./job.ts";
import { usesOf } from "./uses.ts";

export interface Shelf {
  readonly title: string;
  readonly procedures: readonly Procedure[];
}

/** Every procedure of the platform on exactly one shelf; withdrawn ones on the last. Empty shelves are left out. */
export function shelvesOf(platform: Platform): readonly Shelf[] {
  return once(`shelves/${platform.id}`, () => {
    const build: Procedure[] = [], add: Procedure[] = [], away: Procedure[] = [], use: Procedure[] = [], old: Procedure[] = [];
    const homes = new Map(platform.items.map(({ id, home }) => [id, home]));
    for (const procedure of platform.procedures) {
      const { configurations, options } = usesOf(platform, procedure);
      const { home, out } = directionOf(procedure, homes);
      if (procedure.status === "withdrawn") old.push(procedure);
      else if (home > out) away.push(procedure);
      else if (configurations.length > 0) build.push(procedure);
      else if (options.length > 0) add.push(procedure);
      else use.push(procedure);
    }
    return [
      { title: "Build a configuration", procedures: build.sort(lighterFirst) },
      { title: "Add an option", procedures: add },
      { title: "Take down", procedures: away },
      { title: "Prepare, check and use", procedures: use },
      { title: "Withdrawn", procedures: old },
    ].map((shelf) => ({ ...shelf, procedures: [...shelf.procedures] })).filter(({ procedures }) => procedures.length > 0);
  });
}

/** How many pieces end at their homes, and how many end elsewhere, among those that the steps leave in another place than before. */
function directionOf({ steps }: Procedure, homes: ReadonlyMap<string, string>): { home: number; out: number } {
  const net = new Map<string, { count: number; home: boolean }>();
  const add = (item: string, place: string, count: number) => {
    const key = `${item} ${place}`;
    net.set(key, { count: (net.get(key)?.count ?? 0) + count, home: homes.get(item) === place });
  };
  for (const { operations } of steps)
    for (const operation of operations)
      if (operation.kind === "move") {
        add(operation.item, operation.from, -operation.count);
        add(operation.item, operation.to, operation.count);
      }
  let home = 0, out = 0;
  for (const { count, home: isHome } of net.values()) {
    if (count <= 0) continue;
    if (isHome) home += count;
    else out += count;
  }
  return { home, out };
}

function lighterFirst(a: Procedure, b: Procedure): number {
  const [low, other] = [a.band.weight.from?.value ?? 0n, b.band.weight.from?.value ?? 0n];
  return low < other ? -1 : low > other ? 1 : a.code.localeCompare(b.code, "en");
}
