/** Sign-offs judged by what is in force, and ahead by what is issued and still to come; never by a draft. */
import type { Collection, Controlled, Platform } from "../../schema/collection.ts";
import type { SignOff } from "../../schema/sign-off.ts";
import { type CardMarks, type Judgement, judgeSignOffs } from "../records/signoffs.ts";
import { kindOf } from "../records/freeze.ts";
import { nameOf } from "../records/issues.ts";
import { type Force, withProposal } from "./force.ts";

/**
 * What a register is read by: what is in force, and beside it documents that are withdrawn, so that a sign-off for one
 * of these is told from a slip of the pen.
 */
export function signedFor({ collection, shown }: Force): Collection {
  const withdrawn = <T extends Controlled>(list: readonly T[]) => list.filter(({ status }) => status === "withdrawn");
  const platforms = collection.platforms.map((platform, at): Platform => {
    const { procedures, configurations } = shown.platforms[at]!;
    return {
      ...platform,
      procedures: [...platform.procedures, ...withdrawn(procedures)],
      configurations: [...platform.configurations, ...withdrawn(configurations)],
    };
  });
  return { ...collection, platforms };
}

/**
 * Each person's latest sign-off for each document, as `judgeSignOffs` gives it, on the day of `force`. One that stands
 * today and does not outlast an issue that is still to come is `again`, with the day `from` which it no longer counts.
 */
export function judgeAhead(
  force: Force,
  signOffs: readonly SignOff[],
  soonDays: number,
  marks: CardMarks,
): Judgement[] {
  const { collection, proposals, day } = force;
  const today = judgeSignOffs(collection, signOffs, day, soonDays, marks);
  const coming = Map.groupBy(
    proposals.filter(({ status }) => status === "coming"),
    ({ record, kind }) => nameOf(record, kind),
  );
  return today.map((judgement) => {
    const { document } = judgement.signOff;
    if (!["stands", "soon"].includes(judgement.state)) return judgement;
    for (const proposal of coming.get(nameOf(document, kindOf(document))) ?? []) {
      const { record } = proposal;
      if (!("steps" in record || "standing" in record)) continue;
      const then = withProposal(force, proposal);
      const [ahead] = judgeSignOffs(then, [{ ...judgement.signOff, document: record }], day, soonDays, marks);
      // The first of them that asks again is the day until which the sign-off counts.
      if (ahead?.state === "again") return ahead;
    }
    return judgement;
  });
}
