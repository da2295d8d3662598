/** What the omission proof tells of a step that is left out, in words, for the key of a drill. */
import type { Platform, Service } from "../../schema/collection.ts";
import { proveSlips } from "../slips/prove.ts";
import { showSlips } from "../slips/say-slips.ts";
import { modelOf } from "../states/model.ts";
import type { MissedTold } from "./say-drill.ts";
import { heard } from "../../words/heard.ts";
import { usableProcedures } from "../parts/lookup.ts";

/** By procedure and step: `Deck lever, left out: seen by Second 2 steps later`. Takes a whole proof the first time. */
export function missedTold(platform: Platform, service: Service): MissedTold {
  const proof = proveSlips(modelOf(platform), service);
  return Object.fromEntries(
    usableProcedures(platform).map((procedure) => {
      const told: Record<number, string[]> = {};
      for (const { step, act, ways, told: said } of showSlips(proof, procedure, platform, service.crew))
        if (ways.includes("left out")) (told[step] ??= []).push(heard("drillSheet").leftOut({ act, said }));
      return [procedure.id, told];
    }),
  );
}
