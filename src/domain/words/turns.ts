/** What is done to a fastening, in words: a part is turned, a valve is opened, a cable plugged in, a brake put on. */
import type { Fastening, FasteningKind } from "../../schema/collection.ts";
import { lowerFirst } from "../../schema/wording.ts";
import { heard } from "../../words/heard.ts";

type Kinded = Pick<Fastening, "kind">;

/** A verb in the table: alone (`Plug in`), and with what it is done to (`Plug the power cable in`). */
const ACTS = {
  turnOn: ["turnOn", "turnOnIt"],
  turnOff: ["turnOff", "turnOffIt"],
  open: ["open", "openIt"],
  shut: ["shut", "shutIt"],
  close: ["close", "closeIt"],
  plug: ["plug", "plugIt"],
  unplug: ["unplug", "unplugIt"],
  connect: ["connect", "connectIt"],
  disconnect: ["disconnect", "disconnectIt"],
  putOn: ["putOn", "putOnIt"],
  release: ["release", "releaseIt"],
} as const;
type Act = (typeof ACTS)[keyof typeof ACTS];

const ON_OR_OFF = { on: ACTS.turnOn, off: ACTS.turnOff } as const;

/** For each kind of what is no part (a valve, a cable, a brake, a switch), what brings it into a state. */
const VERBS: { readonly [Kind in FasteningKind]?: Readonly<Record<string, Act>> } = {
  valve: { open: ACTS.open, shut: ACTS.shut, closed: ACTS.close, ...ON_OR_OFF },
  lead: {
    plugged: ACTS.plug,
    unplugged: ACTS.unplug,
    connected: ACTS.connect,
    disconnected: ACTS.disconnect,
    on: ACTS.connect,
    off: ACTS.disconnect,
  },
  brake: { on: ACTS.putOn, set: ACTS.putOn, off: ACTS.release, released: ACTS.release },
  switch: ON_OR_OFF,
};

/** Whether a fastening is a state rather than a part: a valve, a cable, a brake, a switch. */
export function isState({ kind }: Kinded): boolean {
  return kind !== undefined && VERBS[kind] !== undefined;
}

/** The verb alone: `Turn` for a part, `Open`, `Plug in` or `Put on` for a state; `Set` where no verb is known. */
export function sayVerb(fastening: Kinded, to: string): string {
  if (!isState(fastening)) return heard("turning").turn;
  const act = actOf(fastening, to);
  return act ? heard("turning")[act[0]] : heard("turning").set;
}

/**
 * A turn in a line: `Turn Deck lever → locked`, `Open the oxygen valves`, `Plug the power cable in`; where no verb is
 * known for a state, `Set the power cable → halfway`.
 */
export function sayTurn(fastening: Kinded & Pick<Fastening, "name">, to: string): string {
  if (!isState(fastening)) return heard("turning").turnTo({ name: fastening.name, state: to });
  const act = actOf(fastening, to),
    name = lowerFirst(fastening.name);
  return act ? heard("turning")[act[1]]({ name }) : heard("turning").setTo({ name, state: to });
}

function actOf({ kind }: Kinded, to: string): Act | undefined {
  const acts = kind && VERBS[kind];
  return acts && Object.hasOwn(acts, to) ? acts[to] : undefined;
}
