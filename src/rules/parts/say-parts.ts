/** Words for what stops a procedure: what is wrong at which directive, and what to do. */
import type { Remark } from "../../findings/finding.ts";
import type { Include, Procedure, Where } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import type { Model, State } from "../../domain/states/model.ts";
import { type Broken, faultyProcedure } from "../../domain/states/prove-parts.ts";
import { type Hindrance, piecesIn, type Stop } from "../../domain/states/run.ts";

/** A finding of the proof, without its severity. */
interface Said extends Remark {
  readonly rule: Hindrance;
  readonly where: Where;
}

/**
 * Every stop of every broken procedure, at the directive, or at the include when the included procedure runs on its
 * own.
 */
export function sayBroken(model: Model, broken: readonly Broken[]): Said[] {
  const names = new Set(broken.map(({ program }) => program.procedure.id));
  return broken.flatMap(({ program, run, fragment }) =>
    run.stops.map((stop): Said => {
      const fault = faultyProcedure(program, stop);
      const include =
        fault === program.procedure.id || fault === fragment?.id || names.has(fault)
          ? undefined
          : includeOf(program.procedure, program.steps[stop.act.step]!.number);
      const { message, ...rest } = fragment
        ? sayOpenAround(model, stop, fragment.around)
        : words[stop.rule](model, run.state, stop);
      const around = include
        ? `In \`${include.procedure}\`, included here as step ${program.steps[stop.act.step]!.number}: `
        : "";
      return { rule: stop.rule, where: include?.where ?? stop.act.source.where, message: around + message, ...rest };
    }),
  );
}

/** What a fragment leaves loose or open in each procedure that includes it: put right there, after the include. */
function sayOpenAround(model: Model, stop: Stop, around: readonly Broken[]): Remark {
  const each = around.flatMap(({ program, run }) =>
    run.stops
      .filter(
        ({ rule, act, fastening }) =>
          rule === stop.rule && act.source === stop.act.source && fastening === stop.fastening,
      )
      .map((theirs) => ({
        file: program.procedure.file.split("/").at(-1)!,
        ...words[theirs.rule](model, run.state, theirs),
      })),
  );
  const [first] = each;
  if (!first) throw new TypeError("a fragment is at fault in a procedure that includes it");
  const others = [...new Set(each.map(({ file }) => `\`${file}\``))];
  return {
    message: `In each procedure that includes this one (${sayList(others)}): ${first.message}`,
    fix: each
      .filter(({ file }, at) => each.findIndex((other) => other.file === file) === at)
      .map(({ file, fix }) => `In \`${file}\`, after the include: ${fix}`)
      .join(". "),
    ...(first.actual === undefined ? {} : { actual: first.actual }),
    ...(first.expected ? { expected: first.expected } : {}),
  };
}

function includeOf(procedure: Procedure, number: number): Include | undefined {
  const includes = procedure.sections.flatMap(({ entries }) => entries.filter((entry) => entry.kind === "include"));
  return includes.find(({ steps }) => steps.some((step) => step.number === number));
}

const words: Readonly<Record<Hindrance, (model: Model, state: State, stop: Stop) => Remark>> = {
  "parts/not-there": (model, state, { act }) => {
    if (act.kind !== "move") throw new TypeError("only a move can miss its item");
    const { item, from, to } = act.source as { item: string; from: string; to: string };
    const where = elsewhere(model, state, act.item);
    return {
      message: `\`::move\` takes \`${item}\` from \`${from}\`, where there is none here${where ? `: ${where}` : ""}`,
      fix: where
        ? `Take it from where it is, or move it to \`${from}\` in a step before`
        : `Move it to \`${from}\` in a step before, or leave this move to \`${to}\` out`,
      actual: where || "nowhere",
      expected: [from],
    };
  },
  "parts/not-enough": (_model, state, { act }) => {
    if (act.kind !== "move") throw new TypeError("only a move can want more than there is");
    const there = state[act.fromSlot]!;
    const { item, from, count } = act.source as { item: string; from: string; count: number };
    return {
      message:
        `\`::move\` takes ${count} \`${item}\` from \`${from}\`, where ` +
        `there ${there === 1 ? "is 1" : `are ${there}`}`,
      fix: `Take at most ${there}; raise \`count\` of \`${item}\` in equipment.yaml only if there are more of them`,
      actual: String(there),
      expected: [String(count)],
    };
  },
  "fastening/held": (model, _state, { act, fastening }) => {
    const { id, states, secure, holds } = model.fastenings[fastening]!;
    const { name } = model.platform.fastenings.find((each) => each.id === id)!;
    const place =
      act.kind === "move" && holds.includes(act.from)
        ? model.places[act.from]!.id
        : act.kind === "move"
          ? model.places[act.to]!.id
          : id;
    const open = states.find((_, at) => at !== secure) ?? "open";
    return {
      message: `\`${id}\` is \`${states[secure]}\` here and holds \`${place}\`, so nothing can go in or come out`,
      // A brake let off to lift something from a trolley lets the trolley roll: what is wrong there is `holds`.
      fix: BRAKE.test(`${id} ${name}`)
        ? `If \`${id}\` keeps the platform from rolling, leave it \`${states[secure]}\` and take \`${place}\` out of ` +
          `its \`holds\` in platform.yaml; only if it really keeps what is in \`${place}\` there, put ` +
          `\`::turn{fastening=${id} to=${open}}\` before this move`
        : `If \`${id}\` has to be undone for this, put \`::turn{fastening=${id} to=${open}}\` before this move; ` +
          `if it keeps nothing in \`${place}\`, take \`${place}\` out of its \`holds\` in platform.yaml`,
      actual: states[secure],
      expected: states.filter((_, at) => at !== secure),
    };
  },
  "parts/stands-on": (model, state, { act }) => {
    if (act.kind !== "move") throw new TypeError("only a move can lift something");
    const { id, places } = model.items[act.item]!;
    const full = places.find((place) => piecesIn(model, state, place) > 0);
    if (full === undefined)
      return {
        message: `\`${id}\` can't be put in \`${model.places[act.to]!.id}\`, which is on it`,
        fix: "Name another place in `to`",
      };
    return {
      message:
        `\`${id}\` is moved ` +
        `while ${contentsOf(model, state, full)} ${piecesIn(model, state, full) === 1 ? "is" : "are"} in ` +
        `\`${model.places[full]!.id}\` on it`,
      fix:
        `Empty \`${model.places[full]!.id}\` in a step before; give \`${id}\` \`carries: true\` only if what is ` +
        "on it may travel with it",
    };
  },
  "parts/place-in-use": (model, state, { act }) => {
    if (act.kind !== "move") throw new TypeError("only a move can want room");
    const { id, room } = model.places[act.to]!;
    const pieces = piecesIn(model, state, act.to);
    return {
      message:
        `\`${id}\` has room ` +
        `for ${room}; ${pieces ? `it already holds ${contentsOf(model, state, act.to)}, and ` : ""}this move ` +
        `adds ${act.count}`,
      fix: pieces
        ? `Empty \`${id}\` in a step before; raise its \`room\` only if both fit there`
        : `Move fewer; raise \`room\` of \`${id}\` only if so many fit there`,
      actual: String(pieces + act.count),
      expected: [`at most ${room}`],
    };
  },
  "fastening/no-change": (model, _state, { act, fastening, vain }) => {
    const { id, states, holds } = model.fastenings[fastening]!;
    const to = act.kind === "turn" ? states[act.state] : "";
    const carrier = holds.map((place) => model.places[place]!.on).find((item) => item >= 0);
    if (vain)
      return {
        message:
          `\`${id}\` is turned to \`${to}\` here, while ` +
          (carrier === undefined ? "its place" : `\`${model.items[carrier]!.id}\``) +
          " is not on the platform: the turn changes nothing there",
        fix:
          carrier === undefined
            ? "Leave this turn out, or put its place on the platform in a step before"
            : `Move \`${model.items[carrier]!.id}\` on to the platform in a step before, or leave this turn out`,
      };
    return {
      message: `\`${id}\` is already \`${to}\` here`,
      fix: "Leave this turn out, or turn the fastening the other way in a step before",
      actual: to,
      expected: states.filter((state) => state !== to),
    };
  },
  "parts/left-loose": (model, state, { act }) => {
    if (act.kind !== "move") throw new TypeError("only a move can put something aside");
    const { id } = model.items[act.item]!;
    const left = state[act.toSlot]!;
    return {
      message: `${left === 1 ? `\`${id}\` is` : `${left} \`${id}\` are`} still \`aside\` when the procedure ends`,
      fix: `Add a step with \`::move{item=${id}${left > 1 ? ` count=${left}` : ""} from=aside to=…}\``,
      actual: `${left} aside`,
      expected: ["0 aside"],
    };
  },
  "fastening/left-open": (model, state, { fastening }) => {
    const { id, states, secure, empty, holds } = model.fastenings[fastening]!;
    const filled = holds.some((place) => piecesIn(model, state, place) > 0);
    const now = states[state[model.slots.length + fastening]!];
    const should = states[filled ? secure : empty];
    const places = holds.map((place) => `\`${model.places[place]!.id}\``).join(", ");
    const inside = sayList(
      holds
        .filter((place) => piecesIn(model, state, place) > 0)
        .map((place) => `${contentsOf(model, state, place)} in \`${model.places[place]!.id}\``),
    );
    return {
      message:
        `\`${id}\` is left \`${now}\` when the procedure ends` +
        `${places ? `, with ${places} ${filled ? "filled" : "empty"}` : ""}; expected \`${should}\``,
      // What was forgotten in the place may be the mistake, and the fastening must not be closed over it.
      fix:
        `${filled ? `If ${inside} should be there, add` : "Add"} \`::turn{fastening=${id} to=${should}}\` to a ` +
        `later step${filled ? "; if not, move it out first" : ""}`,
      actual: now,
      expected: should === undefined ? [] : [should],
    };
  },
};

/** What keeps the platform itself from moving, by its name: no fastening of what is on it. */
const BRAKE = /\b(?:hand|foot|park(?:ing)?|wheel)?-?(?:brakes?|castors?|chocks?)\b|\bwheel-?locks?\b/i;

function elsewhere(model: Model, state: State, item: number): string {
  const spots = model.items[item]!.slots.filter((slot) => state[slot]! > 0).map(
    (slot) => `${state[slot]} in \`${model.places[model.slots[slot]!.place]!.id}\``,
  );
  return spots.join(", ");
}

function contentsOf(model: Model, state: State, place: number): string {
  const inside = model.places[place]!.slots.filter((slot) => state[slot]! > 0);
  return inside
    .map((slot) =>
      state[slot] === 1
        ? `\`${model.items[model.slots[slot]!.item]!.id}\``
        : `${state[slot]} \`${model.items[model.slots[slot]!.item]!.id}\``,
    )
    .join(", ");
}
