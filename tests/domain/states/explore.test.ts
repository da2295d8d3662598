/** The state graph against running every program in every state, and its limits. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { StateGraph } from "../../../src/domain/states/explore.ts";
import { buildModel, keyOf, programOf, type State } from "../../../src/domain/states/model.ts";
import { run } from "../../../src/domain/states/run.ts";
import {
  configuration,
  fastening,
  item,
  move,
  place,
  platform,
  procedure,
  somePlatform,
  turn,
} from "../../arbitraries/platform.ts";

const made = somePlatform().map((built) => {
  const model = buildModel(built);
  return { model, programs: built.procedures.map((each) => programOf(model, each, each.steps)) };
});

describe("the graph of any small platform", () => {
  it(
    "leads on by every program that runs and changes something, in the order of the programs, to a state kept " +
      "once; forced ones too",
    () => {
      let arrows = 0;
      fc.assert(
        fc.property(made, fc.boolean(), fc.boolean(), ({ model, programs }, isForced, isStrict) => {
          // Where a program does not run, a forced one ends where the platform began.
          const force = isForced
            ? (_: State, program: (typeof programs)[number]) =>
                programs.indexOf(program) % 2 ? model.states[0] : undefined
            : undefined;
          const strict = new Set(isStrict ? programs : []);
          const graph = new StateGraph(model, programs, { force, strict });
          const { nodes, complete } = graph.reach(model.states.map((state) => graph.add(state)));
          expect(complete).toBe(true);
          expect([...nodes].sort((a, b) => a - b)).toEqual(graph.states.map((_, at) => at));
          expect(new Set(graph.states.map(keyOf)).size).toBe(graph.states.length);
          for (const node of nodes) {
            const expected = programs.flatMap((program, at) => {
              const { state, stops } = run(model, graph.states[node]!, program, { noVainTurns: strict.has(program) });
              const end = stops.length === 0 && program.whole ? state : force?.(graph.states[node]!, program);
              return end && keyOf(end) !== keyOf(graph.states[node]!) ? [[at, keyOf(end)]] : [];
            });
            expect(graph.from(node).map(({ program, to }) => [program, keyOf(graph.states[to]!)])).toEqual(expected);
            expect(graph.from(node)).toBe(graph.from(node));
            arrows += expected.length;
          }
        }),
        { numRuns: 400 },
      );
      expect(arrows).toBeGreaterThan(100);
    },
  );

  it(
    "goes there and back, by programs that begin with a move or a turn, and by way of what is put aside " +
      "(invented case)",
    () => {
      const built = platform({
        places: [place("deck"), place("rail"), place("tray", { kind: "stowage" }), place("shelf", { kind: "store" })],
        items: [item("box", "shelf"), item("bag", "shelf")],
        fastenings: [fastening("lever", ["deck"])],
        configurations: [configuration("bare", {})],
        procedures: [
          procedure("0", [move("box", "shelf", "rail")]),
          procedure("1", [turn("lever", "out"), move("bag", "shelf", "deck"), turn("lever", "in")]),
          procedure("2", [move("bag", "shelf", "aside"), move("bag", "aside", "tray")]),
          procedure("3", [move("box", "rail", "shelf")]),
          procedure("4", [turn("lever", "out"), move("bag", "deck", "shelf"), turn("lever", "in")]),
          procedure("5", [move("bag", "tray", "shelf")]),
        ],
      });
      const model = buildModel(built),
        graph = new StateGraph(
          model,
          built.procedures.map((each) => programOf(model, each, each.steps)),
        );
      const { nodes } = graph.reach([graph.add(model.states[0]!)]);
      // The box on the rail or the shelf; the bag on the deck, in the tray or on the shelf.
      expect(nodes).toEqual([0, 1, 2, 3, 4, 5]);
      expect(
        nodes.map((node) =>
          graph
            .from(node)
            .map(({ program }) => program)
            .join(""),
        ),
      ).toEqual(["012", "123", "04", "05", "34", "35"]);
      expect(graph.from(0).map(({ to }) => to)).toEqual([1, 2, 3]);
    },
  );

  it("is seen whole, or as far as asked: until enough, or until there are more states than may be", () => {
    let cut = 0;
    fc.assert(
      fc.property(made, fc.nat(6), ({ model, programs }, most) => {
        const fresh = () => {
          const graph = new StateGraph(model, programs);
          return { graph, starts: model.states.map((state) => graph.add(state)) };
        };
        const whole = fresh(),
          all = whole.graph.reach(whole.starts).nodes;
        const some = fresh(),
          limited = some.graph.reach(some.starts, most);
        expect(limited.complete).toBe(all.length <= most);
        if (limited.complete) expect(limited.nodes).toEqual(all);
        else
          (cut++,
            expect(limited.nodes.length).toBeGreaterThan(most),
            expect(limited.nodes).toEqual(all.slice(0, limited.nodes.length)));
        const asked: number[] = [],
          stopped = fresh();
        const until = stopped.graph.reach(stopped.starts, Infinity, (node) => asked.push(node) > most);
        expect(asked).toEqual(all.slice(0, most + 1));
        expect(until.complete).toBe(all.length <= most);
      }),
      { numRuns: 200 },
    );
    expect(cut).toBeGreaterThan(20);
  });
});
