/** What is done to a fastening, in words: a part is turned, a valve is opened, a cable plugged in, a brake put on. */
import type { Fastening, FasteningKind } from "../../schema/collection.ts";
import { lowerFirst } from "../../schema/wording.ts";

type Kinded = Pick<Fastening, "kind">;

/** A verb, and what of it stands after the name. */
type Verb = readonly [verb: string, after: string];

const ON_OR_OFF = { on: ["Turn", "on"], off: ["Turn", "off"] } as const;

/** For each kind of what is no part (a valve, a cable, a brake, a switch), what brings it into a state. */
const VERBS: { readonly [Kind in FasteningKind]?: Readonly<Record<string, Verb>> } = {
  valve: { open: ["Open", ""], shut: ["Shut", ""], closed: ["Close", ""], ...ON_OR_OFF },
  lead: {
    plugged: ["Plug", "in"],
    unplugged: ["Unplug", ""],
    connected: ["Connect", ""],
    disconnected: ["Disconnect", ""],
    on: ["Connect", ""],
    off: ["Disconnect", ""],
  },
  brake: { on: ["Put", "on"], set: ["Put", "on"], off: ["Release", ""], released: ["Release", ""] },
  switch: ON_OR_OFF,
};

/** Whether a fastening is a state rather than a part: a valve, a cable, a brake, a switch. */
export function isState({ kind }: Kinded): boolean {
  return kind !== undefined && VERBS[kind] !== undefined;
}

/** The verb alone: `Turn` for a part, `Open`, `Plug in` or `Put on` for a state; `Set` where no verb is known. */
export function sayVerb(fastening: Kinded, to: string): string {
  return isState(fastening) ? verbOf(fastening, to).filter(Boolean).join(" ") : "Turn";
}

/**
 * A turn in a line: `Turn Deck lever → locked`, `Open the oxygen valves`, `Plug the power cable in`; where no verb is
 * known for a state, `Set the power cable → halfway`.
 */
export function sayTurn(fastening: Kinded & Pick<Fastening, "name">, to: string): string {
  const { name } = fastening;
  if (!isState(fastening)) return `Turn ${name} → ${to}`;
  const [verb, after] = verbOf(fastening, to),
    what = `${verb} the ${lowerFirst(name)}`;
  return verb === UNKNOWN ? `${what} → ${to}` : [what, after].filter(Boolean).join(" ");
}

const UNKNOWN = "Set";

function verbOf({ kind }: Kinded, to: string): Verb {
  const verbs = kind && VERBS[kind];
  return verbs && Object.hasOwn(verbs, to) ? verbs[to]! : [UNKNOWN, ""];
}
