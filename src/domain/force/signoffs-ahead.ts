/** Sign-offs judged by what is in force, and ahead by what is issued and still to come; never by a draft. */
import type { SignOff } from "../../schema/sign-off.ts";
import { type CardMarks, type Judgement, judgeSignOffs } from "../records/signoffs.ts";
import type { Force } from "./force.ts";

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
  const { collection, proposed, proposals, day } = force;
  const today = judgeSignOffs(collection, signOffs, day, soonDays, marks);
  const coming = new Map(
    proposals.flatMap(({ status, record, kind, platform, id }) =>
      status === "coming" ? [[`${platform}/${kind}/${id}`, record] as const] : [],
    ),
  );
  return today.map((judgement) => {
    const { document } = judgement.signOff;
    const kind = "steps" in document ? "procedure" : "configuration";
    const next = coming.get(`${document.platform}/${kind}/${document.id}`);
    if (!next || !("steps" in next || "standing" in next) || !["stands", "soon"].includes(judgement.state))
      return judgement;
    const [ahead] = judgeSignOffs(proposed, [{ ...judgement.signOff, document: next }], day, soonDays, marks);
    return ahead?.state === "again" ? ahead : judgement;
  });
}
