/**
 * The changed step is in the notice, in the difference, in what `signoffs` asks for and on the form, and nobody else's
 * is: over generated edits of the demo's procedures. What has to be seen is told by the edit, not by the program.
 */
import { wordsFor } from "../../src/words/words.ts";
import { resolve } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { contentOf, hashOf } from "../../src/domain/records/freeze.ts";
import { noticeOf } from "../../src/domain/records/notice.ts";
import { differenceBetween } from "../../src/domain/records/revisions.ts";
import { judgeSignOffs } from "../../src/domain/records/signoffs.ts";
import { signOffForms } from "../../src/site/records/sign-off-form.ts";
import type { Alert, Change, Collection, Paragraph, Platform, Procedure, Step } from "../../src/schema/collection.ts";
import { readCollection } from "../read-collection.ts";

const where = { file: "x.mdx", line: 1, column: 1 };
const paragraph = (text: string): Paragraph =>
  ({ kind: "paragraph", children: [{ kind: "text", text }] }) as unknown as Paragraph;
const alert = (signal: Alert["signal"], text: string) =>
  ({ kind: "alert", signal, children: [paragraph(text)], where }) as unknown as Alert;
const say = (step: Step, text: string): Step => ({ ...step, instruction: paragraph(text) });
const words = ({ instruction }: Step): string =>
  instruction.children.map((each) => ("text" in each ? each.text : "")).join("");

/** An edit of one step: what it makes of it; nothing where there is nothing to edit so. */
type Edit = (step: Step) => Step | undefined;
const EDITS: Readonly<Record<string, Edit>> = {
  "a number more": (step) => say(step, `${words(step)} Do it twice.`),
  "a negation": (step) => say(step, `Do not do this: ${words(step)}`),
  "a word": (step) => say(step, words(step).replace(/[a-z]{4,}/, "zzzz")),
  "a hold": (step) => ({ ...step, hold: !step.hold }),
  "a mark": (step) => ({ ...step, critical: !step.critical }),
  "other people": (step) => ({ ...step, by: step.by.length === 1 && step.by[0] === "lead" ? ["second"] : ["lead"] }),
  "a check more": (step) => ({
    ...step,
    checks: [...step.checks, { challenge: "Needle", answer: "> 50 bar", by: ["lead"], where } as never],
  }),
  "a check gone": (step) => (step.checks.length ? { ...step, checks: step.checks.slice(1) } : undefined),
  "an answer's sign": (step) =>
    step.checks.length
      ? { ...step, checks: step.checks.map((check, at) => (at ? check : { ...check, answer: `-${check.answer} 5` })) }
      : undefined,
  "a count": (step) =>
    step.operations.some(({ kind }) => kind === "move")
      ? {
          ...step,
          operations: step.operations.map((each) => (each.kind === "move" ? { ...each, count: each.count + 1 } : each)),
        }
      : undefined,
  "a turn": (step) =>
    step.operations.some(({ kind }) => kind === "turn")
      ? { ...step, operations: step.operations.map((each) => (each.kind === "turn" ? { ...each, to: "ajar" } : each)) }
      : undefined,
  "other patients": (step) => ({
    ...step,
    ownWeight: { text: "from 2 kg", from: { value: 2n, owned: true, text: "2 kg" } },
  }),
  "a number in a detail": (step) => ({ ...step, detail: [...step.detail, paragraph("It shows 5 bar.")] }),
  "a warning gone": (step) =>
    step.alerts.some(({ signal }) => signal === "warning") ? { ...step, alerts: [] } : undefined,
  "a warning with a never": (step) => ({ ...step, alerts: [...step.alerts, alert("warning", "Never let go.")] }),
  "a warning that is a note now": (step) =>
    step.alerts.some(({ signal }) => signal === "warning")
      ? { ...step, alerts: step.alerts.map((each) => ({ ...each, signal: "note" as const })) }
      : undefined,
  "what a critical step waits for": (step) =>
    step.critical && step.number > 1 ? { ...step, after: [...step.after, { id: "whistle", where }] } : undefined,
  "a guard": (step) => ({ ...step, guards: [...step.guards, { id: "near-miss-99", where }] }),
};
const SHAPES = ["added", "removed", "swapped", "named"] as const;

let collection: Collection, platform: Platform;
beforeAll(async () => {
  collection = await readCollection(resolve(import.meta.dirname, "../../procedures"));
  platform = collection.platforms[0]!;
}, 60_000);

/** The procedure's next revision with its own steps exchanged for others; steps of includes stay as they are. */
function revise(procedure: Procedure, steps: readonly Step[], entry: Partial<Change> = {}): Procedure {
  const numbered = steps.map((step, at) => ({ ...step, number: at + 1 }));
  const change = {
    revision: procedure.revision + 1,
    date: "2026-11-01",
    by: "Educator",
    summary: "Edited.",
    where,
    at: {},
  };
  return {
    ...procedure,
    revision: procedure.revision + 1,
    effective: "2026-11-01",
    changes: [...procedure.changes, { ...change, ...entry }],
    sections: [{ title: "", entries: numbered, where } as unknown as Procedure["sections"][number]],
    steps: numbered,
  };
}

/** What every output says of a revision: the numbers of the steps that are to be done or seen otherwise. */
function outputs(procedure: Procedure, later: Procedure) {
  const flat = revise(
    { ...procedure, revision: procedure.revision - 1, changes: procedure.changes.slice(0, -1) },
    procedure.steps,
  );
  const [before, after] = [contentOf(flat, platform), contentOf(later, platform)];
  const difference = differenceBetween(before, after);
  const same = (id: string) => id;
  const names = {
    item: same,
    place: same,
    fastening: same,
    option: same,
    incident: same,
    words: wordsFor({ language: "en-GB" }).records,
    crew: collection.service.crew,
  };
  const { different } = noticeOf(difference, names);
  const issue = {
    kind: "procedure" as const,
    platform: platform.id,
    id: procedure.id,
    revision: before.revision,
    file: `issued/${platform.id}/${procedure.id}@${before.revision}.json`,
    content: before,
    hash: hashOf(before),
    where,
    at: {},
  };
  const others = platform.procedures.map((each) => (each.id === procedure.id ? later : each));
  const whole = { ...collection, issued: [issue], platforms: [{ ...platform, procedures: others }] };
  const signOff = {
    person: "Ann",
    document: later,
    revision: before.revision,
    date: "2026-10-01",
    assessor: "Zoe",
    where,
  };
  const [judgement] = judgeSignOffs(whole, [signOff], "2026-11-28", 30, () => new Set());
  const rows = signOffForms("Service", [judgement!], "2026-11-28").split("<tr>").slice(2);
  const unique = (numbers: readonly number[]) => [...new Set(numbers)].sort((a, b) => a - b);
  return {
    difference: unique(
      difference.steps.flatMap(({ kind, moved, because, after: step }) =>
        step && (kind !== "same" || moved || because) ? [step.number] : [],
      ),
    ),
    notice: unique(different.flatMap(({ step }) => step ?? [])),
    gone: different.flatMap(({ gone }) => gone ?? []),
    asked: unique(judgement!.lines.flatMap(({ why, step }) => (why === "changed" ? [step!] : []))),
    form: rows
      .filter((row) => !row.includes("Depends on a changed step"))
      .map((row) => Number(/<td>(\d+)<\/td>/.exec(row)![1])),
    state: judgement!.state,
    removed: judgement!.removed,
    whole: judgement!.lines.every(({ why }) => why === "whole"),
  };
}

const edited = fc.record({
  procedure: fc.nat(),
  step: fc.nat(),
  edit: fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(...Object.keys(EDITS)) },
    { weight: 1, arbitrary: fc.constantFrom(...SHAPES) },
  ),
});

describe("an edit of an issued procedure", () => {
  const done = new Map<string, number>();
  it("is in the notice, in the difference, asked for and on the form at its step, and at no other (300 edits)", () => {
    fc.assert(
      fc.property(edited, (chosen) => {
        const procedure = platform.procedures[chosen.procedure % platform.procedures.length]!;
        const steps = procedure.steps
          .filter((step) => step.procedure === procedure.id)
          .map((step) => ({ ...step, alerts: [...step.alerts, alert("warning", "It slips.")] }));
        const own: Procedure = { ...procedure, steps, status: "approved" };
        if (steps.length < 2) return fc.pre(false);
        const at = chosen.step % steps.length,
          step = steps[at]!;
        /** Steps that guard against one of the incidents, but for the edited one. */
        const guardsBeside = (list: readonly Step[], incidents: readonly { id: string }[]) =>
          list.flatMap((each, index) =>
            each.guards.some(({ id }) => incidents.some((i) => i.id === id)) ? [index + 1] : [],
          );
        let later: Procedure, expected: number[];
        if (chosen.edit === "added") {
          const added = {
            ...say(step, "Blow the whistle."),
            id: "whistle",
            checks: [],
            guards: [],
            after: [],
            operations: [],
          } as unknown as Step;
          later = revise(own, [...steps.slice(0, at), added, ...steps.slice(at)]);
          expected = [at + 1];
        } else if (chosen.edit === "removed") {
          const rest = steps.filter((each) => each !== step);
          later = revise(own, rest);
          expected = guardsBeside(rest, step.guards);
        } else if (chosen.edit === "swapped") {
          const next = steps[at + 1];
          if (!next || (!step.critical && !next.critical)) return fc.pre(false);
          later = revise(own, [...steps.slice(0, at), next, step, ...steps.slice(at + 2)]);
          expected = [at + 1, at + 2, ...guardsBeside(later.steps, [...step.guards, ...next.guards])];
        } else if (chosen.edit === "named") {
          if (!step.id) return fc.pre(false);
          later = revise(own, steps, { steps: [step.id] });
          expected = [at + 1];
        } else {
          const changed = EDITS[chosen.edit]!(step);
          if (!changed) return fc.pre(false);
          later = revise(
            own,
            steps.map((each) => (each === step ? changed : each)),
          );
          // A guard more is one against that incident alone.
          expected = [at + 1, ...(chosen.edit === "a guard" ? [] : guardsBeside(later.steps, changed.guards))];
        }
        done.set(chosen.edit, (done.get(chosen.edit) ?? 0) + 1);
        const wanted = [...new Set(expected)].sort((a, b) => a - b);
        const found = outputs(own, later);
        expect(found).toMatchObject({ difference: wanted, notice: wanted, state: "again" });
        expect(found.gone).toEqual(chosen.edit === "removed" ? [at + 1] : []);
        // Where only a step is gone there is no step to be seen, so that the whole is.
        if (wanted.length) expect(found).toMatchObject({ asked: wanted, form: wanted });
        else if (chosen.edit === "removed") expect(found.removed).toHaveLength(1);
      }),
      { numRuns: 300, seed: 20261128 },
    );
    expect([...done.keys()].sort()).toEqual([...Object.keys(EDITS), ...SHAPES].sort());
  }, 300_000);

  it("of reason, picture or time alone leaves sign-offs standing", () => {
    const procedure = platform.procedures.find(({ id }) => id === "seat-capsule")!;
    const steps = procedure.steps.map((step, at) =>
      at === 1 ? { ...step, takesSeconds: 99, reason: paragraph("So.") } : step,
    );
    expect(outputs(procedure, revise(procedure, steps))).toMatchObject({
      state: "stands",
      notice: [],
      difference: [2],
    });
  });
});
