/**
 * A valve is opened, a cable plugged in, a brake put on: what the step-through, the printed changeover and the page say
 * of every turn, against a naive reading of the procedure files that never met the compiler.
 */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { packPlatform, unpackPlatform } from "../../src/domain/device/pack.ts";
import { layWalk } from "../../src/domain/device/walk.ts";
import { modelOf } from "../../src/domain/states/model.ts";
import { plansBetween } from "../../src/domain/time/plans.ts";
import { planTimeline } from "../../src/domain/time/timeline.ts";
import { sayTurn, sayVerb } from "../../src/domain/words/turns.ts";
import { printChangeover } from "../../src/paper/changeover-card.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../../procedures");

/** What a person says who reads `kind`, `name` and `to` in the files. Common practice, no source. */
const SAID: Readonly<Record<string, (name: string) => string>> = {
  "valve open": (name) => `Open the ${name}`,
  "valve shut": (name) => `Shut the ${name}`,
  "valve on": (name) => `Turn the ${name} on`,
  "valve off": (name) => `Turn the ${name} off`,
  "lead plugged": (name) => `Plug the ${name} in`,
  "lead unplugged": (name) => `Unplug the ${name}`,
  "lead connected": (name) => `Connect the ${name}`,
  "lead off": (name) => `Disconnect the ${name}`,
  "brake on": (name) => `Put the ${name} on`,
  "brake off": (name) => `Release the ${name}`,
  "switch on": (name) => `Turn the ${name} on`,
  "switch off": (name) => `Turn the ${name} off`,
};

interface Written {
  readonly name: string;
  readonly kind?: string;
}
const { fastenings } = parse(readFileSync(join(root, "tern/platform.yaml"), "utf8")) as {
  fastenings: Readonly<Record<string, Written>>;
};
/** The lines of a procedure, with those of the procedures that it includes in their places. */
function linesOf(id: string): string[] {
  return readFileSync(join(root, "tern", `${id}.mdx`), "utf8")
    .split("\n")
    .flatMap((line) => {
      const included = /^::include\{procedure=([\w-]+)\}/.exec(line);
      return included ? linesOf(included[1]!) : [line];
    });
}

/** For each step of a procedure what is turned in it, as a person says it. */
function turnsIn(id: string): string[][] {
  const steps: string[][] = [];
  for (const line of linesOf(id)) {
    if (/^:{3,}step\b/.test(line)) steps.push([]);
    const [, fastening = "", to = ""] = /::turn\{fastening="?([\w-]+)"? to="?([\w-]+)"?/.exec(line) ?? [];
    if (!fastening) continue;
    const { name, kind = "" } = fastenings[fastening]!;
    steps.at(-1)!.push(SAID[`${kind} ${to}`]?.(plain(name)) ?? `Turn ${name} → ${to}`);
  }
  return steps;
}
const plain = (name: string) => name.charAt(0).toLowerCase() + name.slice(1);

describe("what is said of a turn", async () => {
  // The files as they are, whatever of them is in force today: they are what is read beside it.
  const { platforms, service } = await readCollection(root),
    platform = platforms[0]!,
    model = modelOf(platform),
    { platform: carried } = unpackPlatform(
      JSON.parse(JSON.stringify(packPlatform(platform, service))) as ReturnType<typeof packPlatform>,
    );
  const roles = service.crew.map(({ id }) => id);
  const cells = plansBetween(model, service, model.arrangements[0]!, model.arrangements[1]!)[0]!.cells;
  /** Every procedure by itself, whole, as a way from one arrangement to the next: it is about words, not about ways. */
  const all = platform.procedures.map((procedure) => ({
    from: model.arrangements[0]!.name,
    to: model.arrangements[1]!.name,
    procedures: [procedure],
    steps: procedure.steps.map((step) => ({ procedure, step })),
    seconds: 0,
    parts: [],
    undone: [],
  }));
  it("stands in the step-through, turn by turn, also on a device that has no network", () => {
    const seen = new Set<string>();
    for (const changeover of all) {
      const timeline = planTimeline(changeover.steps, roles, carried, 0);
      for (const { procedure, step, acts } of layWalk(changeover, timeline, carried, service.crew, "").stops) {
        const turns = acts.filter((act) => !act.startsWith("Move "));
        expect(turns, `${procedure} ${step}`).toEqual(turnsIn(procedure)[step - 1]);
        for (const turn of turns) seen.add(turn);
      }
    }
    // The demo turns every kind of state between its configurations.
    for (const said of ["Open the oxygen valves", "Unplug the capsule cable", "Turn the warmer switch on"])
      expect([...seen]).toContain(said);
  });
  it("stands on the printed changeover beside its step, for all that is no part", () => {
    let found = 0;
    for (const changeover of all) {
      const lines = printChangeover({ service }, platform, changeover, cells).parts.flatMap(({ lines: own }) =>
        own.filter(({ kind }) => kind === "step" || kind === "hold"),
      );
      changeover.steps.forEach(({ procedure, step }, at) => {
        const said = turnsIn(procedure.id)[step.number - 1]!;
        const printed = lines[at]! as { readonly aside?: string };
        for (const turn of said.filter((each) => !each.includes("→"))) {
          expect(printed.aside, `${procedure.id} ${step.number}`).toContain(turn);
          found += 1;
        }
      });
    }
    expect(found).toBeGreaterThan(20);
  });
});

describe("verbs", () => {
  it("are the beginning of what is said, for every kind and state of the demo", () => {
    for (const [key, say] of Object.entries(SAID)) {
      const [kind, to] = key.split(" ") as ["valve", string];
      expect(sayTurn({ name: "Green thing", kind }, to)).toBe(say("green thing"));
      // The verb alone is what is left without the thing: `Put the  on`.
      expect(sayVerb({ kind }, to)).toBe(
        say("")
          .replace(/ the ?/, " ")
          .replace(/ +/, " ")
          .trim(),
      );
    }
  });
  it("say the state where none is known, and turn what is a part", () => {
    expect(sayTurn({ name: "Gas valve", kind: "valve" }, "half")).toBe("Set the gas valve → half");
    expect(sayTurn({ name: "Deck lever", kind: "lever" }, "locked")).toBe("Turn Deck lever → locked");
    expect(sayTurn({ name: "T-handle" }, "in")).toBe("Turn T-handle → in");
    expect([sayVerb({ kind: "valve" }, "constructor"), sayVerb({}, "open")]).toEqual(["Set", "Turn"]);
  });
});
