/** Which one move, written otherwise, would be the way that is missing: the likely slip, which stands in a step. */
import type { Move, Platform } from "../../schema/collection.ts";
import { usableProcedures } from "../parts/lookup.ts";
import type { Missing } from "./changeover.ts";

/** What of a move is at fault, and what it would have to say. */
type Fault =
  { readonly name: "to" | "from"; readonly right: string } | { readonly name: "count"; readonly right: number };

/** A move that keeps a way away, and the platform with that move as it would have to be. */
export interface MoveAtFault<Proof> {
  readonly procedure: string;
  readonly move: Move;
  readonly fault: Fault;
  /** What is proved of the platform with the move put right. */
  readonly proof: Proof;
}

/** Moves tried for one way that is missing: each is a proof of the whole platform. */
const MOST_TRIED = 8;

/**
 * The only move with which, written otherwise, `prove` is content; `undefined` if there is none or more than one, since
 * a guess among several would lead an author astray. `lacks`: what is missing where the way breaks off.
 */
export function moveAtFault<Proof>(
  platform: Platform,
  lacks: readonly Missing[],
  prove: (platform: Platform) => Proof | undefined,
): MoveAtFault<Proof> | undefined {
  const tried = candidates(platform, lacks);
  if (tried.length > MOST_TRIED) return undefined;
  const found = tried.flatMap((each): MoveAtFault<Proof>[] => {
    const proof = prove(withMove(platform, each.move, { ...each.move, [each.fault.name]: each.fault.right }));
    return proof === undefined ? [] : [{ ...each, proof }];
  });
  return found.length === 1 ? found[0] : undefined;
}

/**
 * Moves of what is missing that put it where it is, take it from where it is not, or move too few of it. What is put
 * back at its home, or fetched from there, is not sent elsewhere: where a step is missing, that would be a way too.
 */
function candidates(platform: Platform, lacks: readonly Missing[]): Omit<MoveAtFault<unknown>, "proof">[] {
  const homes = new Map(platform.items.map(({ id, home }) => [id, home]));
  return usableProcedures(platform).flatMap(({ id, steps }) =>
    steps
      .filter(({ procedure }) => procedure === id)
      .flatMap(({ operations }) => operations.filter((act) => act.kind === "move"))
      .flatMap((move) =>
        lacks
          .filter((lack) => lack.id === move.item)
          .flatMap(({ places: [is, should], count = 0 }) => {
            if (is === undefined || should === undefined) return [];
            const isAtHome = (place: string) => place === homes.get(move.item);
            const fault: Fault | undefined =
              move.from === is && move.to === should
                ? { name: "count", right: move.count + count }
                : move.to === is && move.from !== should && !isAtHome(is)
                  ? { name: "to", right: should }
                  : move.to === should && move.from !== is && !isAtHome(move.from)
                    ? { name: "from", right: is }
                    : undefined;
            return fault ? [{ procedure: id, move, fault }] : [];
          }),
      ),
  );
}

/** The platform with another move in place of one, wherever its step is done. */
function withMove(platform: Platform, old: Move, now: Move): Platform {
  return {
    ...platform,
    procedures: platform.procedures.map((procedure) =>
      procedure.steps.some(({ operations }) => operations.includes(old))
        ? {
            ...procedure,
            steps: procedure.steps.map((step) =>
              step.operations.includes(old)
                ? { ...step, operations: step.operations.map((each) => (each === old ? now : each)) }
                : step,
            ),
          }
        : procedure,
    ),
  };
}
