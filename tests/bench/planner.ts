/**
 * The planner at scale, for the benchmark: 200 procedures, 60 arrangements and more, all pairs; prints time and memory.
 */
import { graphFor, planAll } from "../../src/domain/states/changeover.ts";
import { buildModel } from "../../src/domain/states/model.ts";
import {
  configuration,
  fastening,
  item,
  move,
  option,
  place,
  platform,
  procedure,
  turn,
} from "../arbitraries/platform.ts";

const restraints = Array.from({ length: 15 }, (_, at) => `restraint-${at}`);
const options = ["shelf", "rack"];
const filler = Array.from({ length: 166 }, (_, at) =>
  procedure(`round-${at}`, [move("pin", "tray", "aside", 4), move("pin", "aside", "tray", 4)]),
);
const built = platform({
  places: [
    place("deck", { room: 1 }),
    ...options.map((id) => place(`${id}-rail`, { room: 1 })),
    place("tray", { kind: "stowage" }),
    place("store", { kind: "store" }),
  ],
  items: [
    ...restraints.map((id) => item(id, "store")),
    ...options.map((id) => item(id, "store")),
    item("pin", "tray", { count: 4 }),
  ],
  fastenings: [fastening("lever", ["deck"], { states: ["locked", "released"], secure: "locked", whenEmpty: "locked" })],
  configurations: restraints.map((id) =>
    configuration(
      id,
      { deck: { [id]: 1 } },
      { options: options.map((each) => ({ id: each, where: { file: "", line: 1, column: 1 } })) },
    ),
  ),
  options: options.map((id) => option(id, { [`${id}-rail`]: { [id]: 1 } })),
  procedures: [
    ...restraints.flatMap((id) => [
      procedure(`fit-${id}`, [turn("lever", "released"), move(id, "store", "deck"), turn("lever", "locked")]),
      procedure(`remove-${id}`, [turn("lever", "released"), move(id, "deck", "store"), turn("lever", "locked")]),
    ]),
    ...options.flatMap((id) => [
      procedure(`fit-${id}`, [move(id, "store", `${id}-rail`)]),
      procedure(`remove-${id}`, [move(id, `${id}-rail`, "store")]),
    ]),
    ...filler,
  ],
});

const began = performance.now();
const model = buildModel(built);
const graph = graphFor(model, {});
let ways = 0;
for (const from of model.arrangements)
  ways += planAll(model, graph, from, model.arrangements).filter((way) => way !== undefined).length;
const milliseconds = performance.now() - began;
process.stdout.write(
  `planner: ${built.procedures.length} procedures, ${model.arrangements.length} arrangements, ${ways} ` +
    `of ${model.arrangements.length ** 2} pairs in ${(milliseconds / 1000).toFixed(2)} ` +
    `s, ${(process.memoryUsage().rss / 2 ** 20).toFixed(0)} MB\n`,
);
