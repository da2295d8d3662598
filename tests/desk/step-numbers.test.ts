/** Which number a step has after a change, held against what the change makes of a file's text. */
import { expect, it } from "vitest";
import { applyAll } from "../../src/desk/edits/apply-all.ts";
import type { FileEdit } from "../../src/desk/edits/edit.ts";
import { outlineOf } from "../../src/desk/edits/outline.ts";
import { renumberedBy } from "../../src/desk/browser/step-numbers.ts";

const COUNT = 5;
const numbers = Array.from({ length: COUNT }, (_, at) => at + 1);
const TEXT = `---\ntitle: Fit\ncode: X-1\nrevision: 1\nstatus: draft\n---\nWhy.\n\n${numbers
  .map((n) => `:::step{by=lead}\nStep ${n}.\n\nMore of ${n}.\n:::\n`)
  .join("\n")}`;

const places = [...numbers.map((before) => ({ before })), ...numbers.map((after) => ({ after }))];
const EDITS: readonly FileEdit[] = [
  { kind: "insert-step", new: { text: "New." } },
  ...places.map((place): FileEdit => ({ kind: "insert-step", place, new: { text: "New." } })),
  ...numbers.flatMap((step): FileEdit[] => [
    { kind: "delete-step", step },
    { kind: "split-step", step, paragraph: 2 },
    { kind: "set-text", step, text: `Step ${step}. Other words.` },
    ...(step < COUNT ? [{ kind: "join-step", step } as const] : []),
    ...places
      .filter((place) => ("before" in place ? place.before : place.after) !== step)
      .map((place): FileEdit => ({ kind: "move-step", step, place })),
  ]),
];

it(`says of ${EDITS.length} changes where each step then stands`, () => {
  for (const edit of EDITS) {
    const made = applyAll(TEXT, [edit]);
    if ("refused" in made) throw new Error(`${JSON.stringify(edit)}: ${made.refused}`);
    const steps = outlineOf(made.text)!.flatMap((entry) => (entry.kind === "step" ? [entry.step.text] : []));
    const renumbered = renumberedBy(edit) ?? ((step: number) => step);
    const where = (n: number) => steps.findIndex((text) => text.includes(`Step ${n}.`)) + 1 || undefined;
    expect(numbers.map(renumbered), JSON.stringify(edit)).toEqual(numbers.map(where));
  }
});
