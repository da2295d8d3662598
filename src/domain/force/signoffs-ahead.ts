/** Sign-offs judged by what is in force, and ahead by what is issued and still to come; never by a draft. */
import type { Collection, Configuration, Controlled, Platform, Procedure } from "../../schema/collection.ts";
import type { SignOff } from "../../schema/sign-off.ts";
import { type CardMarks, type Judgement, judgeSignOffs, personAndDocument } from "../records/signoffs.ts";
import { kindOf } from "../records/freeze.ts";
import { nameOf } from "../records/issues.ts";
import { remember } from "../words/remember.ts";
import { type Force, type Proposal, withProposal } from "./force.ts";

/** What somebody is signed off for. */
type Signed = Procedure | Configuration;

/**
 * What a register is read by: what is in force, and beside it documents of which nothing is because they are withdrawn
 * or their first day is still to come, so that a sign-off for one of these is told from a slip of the pen.
 */
export function signedFor({ collection, shown }: Force): Collection {
  const others = <T extends Controlled>(list: readonly T[]) =>
    list.filter(({ status }) => status === "withdrawn" || status === "coming");
  const platforms = collection.platforms.map((platform, at): Platform => {
    const { procedures, configurations } = shown.platforms[at]!;
    return {
      ...platform,
      procedures: [...platform.procedures, ...others(procedures)],
      configurations: [...platform.configurations, ...others(configurations)],
    };
  });
  return { ...collection, platforms };
}

/** Issues of what can be signed off that are still to come, by document, the nearest revision first. */
const comingOf = remember(({ proposals }: Force) =>
  Map.groupBy(
    proposals
      .flatMap((proposal) => {
        const { status, record } = proposal;
        return status === "coming" && ("steps" in record || "standing" in record)
          ? [{ proposal, record: { ...record, status: "coming" as const } }]
          : [];
      })
      .sort((a, b) => a.record.revision - b.record.revision),
    ({ record }) => keyOf(record),
  ),
);

const keyOf = (document: Signed): string => nameOf(document, kindOf(document));

/** The number of the newest revision of a document that crews can be trained for: in force, or issued for a day. */
export function newestOf(force: Force, document: Signed): number {
  return Math.max(
    document.revision,
    ...(comingOf(force).get(keyOf(document)) ?? []).map(({ record }) => record.revision),
  );
}

/**
 * The sign-off with the issue that it is for: what is in force, or the first one to come that has its revision, whose
 * status is `coming` then.
 */
export function withIssueSigned(force: Force, signOff: SignOff): SignOff {
  const { document, revision } = signOff;
  if (document.status !== "coming" && revision <= document.revision) return signOff;
  const record = comingOf(force)
    .get(keyOf(document))
    ?.find((each) => each.record.revision >= revision)?.record;
  return record ? { ...signOff, document: record } : signOff;
}

/**
 * Each person's latest sign-off for each document, as `judgeSignOffs` gives it, on the day of `force`; sign-offs as
 * `withIssueSigned` gives them. One that stands today and does not outlast an issue that is still to come, for which
 * its person is not signed either, is `again`, with the day `from` which it no longer counts. Who is signed for what is
 * still to come and for nothing else is `ahead`: the work may be done `from` its day.
 */
export function judgeAhead(
  force: Force,
  signOffs: readonly SignOff[],
  soonDays: number,
  marks: CardMarks,
): Judgement[] {
  const { collection, day } = force,
    all = Map.groupBy(signOffs, personAndDocument),
    isAhead = ({ document }: SignOff) => document.status === "coming";
  const judgeOne = (own: readonly SignOff[], { proposal, record }: { proposal: Proposal; record: Signed }) =>
    judgeSignOffs(
      withProposal(force, proposal),
      own.flatMap((each) => (each.revision <= record.revision ? [{ ...each, document: record }] : [])),
      day,
      soonDays,
      marks,
    )[0];
  const today = judgeSignOffs(
    collection,
    signOffs.filter((each) => !isAhead(each)),
    day,
    soonDays,
    marks,
  ).map((judgement) => {
    if (!["stands", "soon"].includes(judgement.state)) return judgement;
    const own = all.get(personAndDocument(judgement.signOff))!;
    // The first of those to come that asks again is the day until which the sign-off counts.
    for (const coming of comingOf(force).get(keyOf(judgement.signOff.document)) ?? []) {
      const ahead = judgeOne(own, coming);
      if (ahead?.state === "again") return ahead;
    }
    return judgement;
  });
  const judged = new Set(today.map(({ signOff }) => personAndDocument(signOff)));
  const ahead = [...all].flatMap(([key, own]): Judgement[] => {
    if (judged.has(key)) return [];
    const first = own.reduce((best, each) => (each.revision < best.revision ? each : best)),
      { effective, revision } = first.document;
    return [
      {
        signOff: first,
        state: "ahead",
        earliest: revision,
        ...(effective ? { from: effective } : {}),
        because: [],
        lines: [],
        removed: [],
      },
    ];
  });
  return [...today, ...ahead];
}
