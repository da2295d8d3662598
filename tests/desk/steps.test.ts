/**
 * Changes of steps touch what is meant and nothing else: random changes of every procedure of the demo, compared with
 * the lines that stood there before; single ones compared with what an author would write by hand. Common practice, no
 * source.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyEdit, type FileEdit } from "../../src/desk/edits/edit.ts";
import { outlineOf } from "../../src/desk/edits/outline.ts";

const demo = resolve(import.meta.dirname, "../../procedures/tern");
const texts = readdirSync(demo)
  .filter((name) => name.endsWith(".mdx"))
  .sort()
  .map((name) => readFileSync(join(demo, name), "utf8"));
const stepsOf = (text: string) =>
  (outlineOf(text) ?? []).flatMap((entry) => (entry.kind === "step" ? [entry.step] : []));

const FILE = `---
title: Seat it   # kept
code: T-1
revision: 1
status: draft
---
What it is for.

:::step{#first by='both'  critical takes="20 s"}
Press the lever.

Why: it must not move.

::turn{fastening=lever to=down}
:::

:::step{by=lead}
Look at it.
:::
`;
/** The text after a change; throws where it is refused. */
function made(edit: FileEdit, text = FILE): string {
  const result = applyEdit(text, edit);
  if ("refused" in result) throw new Error(result.refused);
  return result.text;
}

describe("a change of a step", () => {
  it("writes what an author would write by hand", () => {
    const attribute = (name: string, value: string | true, part?: number): FileEdit => ({
      kind: "set-attribute",
      step: 1,
      name,
      value,
      ...(part === undefined ? {} : { part }),
    });
    expect(made(attribute("by", "lead"))).toBe(FILE.replace("by='both'", "by=lead"));
    expect(made(attribute("hold", true))).toBe(FILE.replace('"20 s"}', '"20 s" hold}'));
    expect(made(attribute("id", "press"))).toBe(FILE.replace("#first", "#press"));
    expect(made(attribute("to", "up", 1))).toBe(FILE.replace("to=down", "to=up"));
    expect(made({ kind: "remove-attribute", step: 1, name: "critical" })).toBe(FILE.replace("  critical", ""));
    expect(made({ kind: "set-text", step: 1, text: "Pull.\n\nWhy: so." })).toBe(
      FILE.replace("Press the lever.\n\nWhy: it must not move.", "Pull.\n\nWhy: so."),
    );
    expect(made({ kind: "delete-step", step: 2 })).toBe(FILE.slice(0, FILE.indexOf(":::step{by=lead}")));
    const move = { name: "move" as const, attributes: { item: "pin", count: "4", from: "tray", to: "seat" } };
    expect(made({ kind: "insert-part", step: 1, new: move })).toBe(
      FILE.replace("to=down}\n", "to=down}\n::move{item=pin count=4 from=tray to=seat}\n"),
    );
    expect(made({ kind: "insert-part", step: 2, new: { name: "warning", text: "It falls." } })).toBe(
      FILE.replace(
        ":::step{by=lead}\nLook at it.\n:::",
        "::::step{by=lead}\n:::warning\nIt falls.\n:::\n\nLook at it.\n::::",
      ),
    );
    const wait = { attributes: { by: "both" }, text: "Wait." };
    expect(made({ kind: "insert-step", place: { after: 1 }, new: wait })).toBe(
      FILE.replace("to=down}\n:::\n", "to=down}\n:::\n\n:::step{by=both}\nWait.\n:::\n"),
    );
  });

  const TWO = `---
title: a
---
:::step{#one by=lead photo=a takes="10 s"}
Do.
:::

:::step{#two by=lead photo="a b" hold guards=near-miss after="zero one"}
Look.
:::

:::step{by=second}
Wait.
:::
`;
  it("makes one of two, and loses nothing that either said", () => {
    expect(made({ kind: "join-step", step: 1 }, TWO)).toBe(
      TWO.replace(
        /:::step\{#one[^]*?Look\.\n:::/,
        ':::step{#one by=lead photo="a b" takes="30 s" hold guards=near-miss after=zero}\nDo.\n\nLook.\n:::',
      ),
    );
    expect(applyEdit(TWO, { kind: "join-step", step: 2 })).toEqual({
      refused: "The two steps differ in who does it: make that the same in both, then join them",
    });
    const named = TWO.replace("{by=second}", "{by=second after=two}");
    expect(applyEdit(named, { kind: "join-step", step: 1 })).toEqual({
      refused: expect.stringContaining("names the second step as `two`"),
    });
    expect(applyEdit(TWO.replace("title: a", "title: a # two"), { kind: "join-step", step: 1 })).toHaveProperty(
      "refused",
    );
  });

  const WARNED = "---\ntitle: a\n---\n::::step{by=lead}\nOne.\n\n:::caution\nHot.\n:::\n\nTwo.\n::::\n";
  it("leaves a warning before the paragraph that it stands before", () => {
    expect(made({ kind: "split-step", step: 1, paragraph: 2 }, WARNED)).toBe(
      WARNED.replace("One.\n", "One.\n::::\n\n::::step{by=lead}").replace(
        "{by=lead}\n:::caution",
        "{by=lead}\n:::caution",
      ),
    );
    expect(made({ kind: "set-text", step: 1, text: "Uno.\n\nDue.\n\nTre." }, WARNED)).toBe(
      WARNED.replace("One.", "Uno.").replace("Two.", "Due.\n\nTre."),
    );
    expect(made({ kind: "set-text", step: 1, text: "Uno." }, WARNED)).toBe(
      WARNED.replace("One.", "Uno.").replace("Two.\n", ""),
    );
  });

  it("keeps the line ends of the file", () => {
    const text = FILE.replace(/\n/g, "\r\n");
    const edit: FileEdit = { kind: "insert-step", new: { text: "Wait.\n\nWhy: so." } };
    expect(made(edit, text)).toBe(made(edit).replace(/\n/g, "\r\n"));
  });

  it("is refused in a sentence where it can't be read as it is meant", () => {
    for (const edit of [
      { kind: "set-text", step: 1, text: "Press.\n\n:::\n\nMore." },
      { kind: "set-text", step: 1, text: "Press.\n\n::turn{fastening=lever to=up}" },
      { kind: "set-text", step: 9, text: "Press." },
      { kind: "insert-step", new: { text: "<script>" } },
      { kind: "split-step", step: 1, paragraph: 7 },
      { kind: "join-step", step: 2 },
    ] satisfies FileEdit[])
      expect(applyEdit(FILE, edit), JSON.stringify(edit)).toEqual({ refused: expect.stringMatching(/^[A-Z].{20,}$/s) });
  });

  it("leaves every other step as it was, character by character, at 300 random changes of the demo", () => {
    const words = fc.constantFrom("Press it.", "Press it: 4 of 10:30, “so”.", "Do it.\n\nWhy: *thus*.", "a] b [c");
    const change = fc.record({ file: fc.nat(), step: fc.nat(), part: fc.nat(), kind: fc.nat(8), text: words });
    let done = 0;
    fc.assert(
      fc.property(change, (asked) => {
        const text = texts[asked.file % texts.length]!,
          before = stepsOf(text);
        if (before.length === 0) return;
        const step = (asked.step % before.length) + 1,
          { parts } = before[step - 1]!,
          part = (asked.part % Math.max(1, parts.length)) + 1;
        const edits: FileEdit[] = [
          { kind: "set-text", step, text: asked.text },
          { kind: "insert-step", place: { after: step }, new: { text: asked.text, attributes: { by: "both" } } },
          { kind: "delete-step", step },
          { kind: "move-step", step, place: { before: 1 } },
          { kind: "set-attribute", step, name: "takes", value: "35 s" },
          { kind: "remove-attribute", step, name: "by" },
          { kind: "insert-part", step, new: { name: "check", text: asked.text, attributes: { answer: asked.text } } },
          { kind: "insert-part", step, new: { name: "caution", text: asked.text } },
          { kind: "delete-part", step, part },
        ];
        const edit = edits[asked.kind]!;
        if (edit.kind === "delete-part" && parts.length === 0) return;
        const after = made(edit, text),
          now = stepsOf(after);
        const written = (source: string, all: typeof before) => all.map(({ start, end }) => source.slice(start, end));
        const kept = written(text, before).filter((_, at) => at !== step - 1),
          left = written(after, now);
        for (const each of kept) expect(left).toContain(each);
        const more = edit.kind === "insert-step" ? 1 : edit.kind === "delete-step" ? -1 : 0;
        expect(now.length).toBe(before.length + more);
        // The head and what stands before the first step.
        const begin = Math.min(before[0]!.start, now[0]?.start ?? Infinity);
        expect(after.slice(0, begin)).toBe(text.slice(0, begin));
        done += 1;
      }),
      { numRuns: 300, seed: 13 },
    );
    expect(done).toBeGreaterThan(250);
  });
});

describe("what stands in the body of a card", () => {
  const CARD =
    "---\ntitle: Seat\n---\nFor children.\n\n" + `::check[Lever]{by=lead answer="down"}\n::check[Pins]{answer="in"}\n`;
  const make = (edit: FileEdit) => applyEdit(CARD, edit);
  it.each<[FileEdit, string, string]>([
    [
      { kind: "insert-part", new: { name: "check", text: "Bag", attributes: { answer: "shut" } } },
      `answer="in"}\n`,
      `answer="in"}\n::check[Bag]{answer=shut}\n`,
    ],
    [
      { kind: "insert-part", new: { name: "warning", text: "It falls." } },
      "::check[Lever]",
      ":::warning\nIt falls.\n:::\n\n::check[Lever]",
    ],
    [
      { kind: "insert-part", new: { name: "note", text: "So." } },
      `answer="in"}\n`,
      `answer="in"}\n\n:::note\nSo.\n:::\n`,
    ],
    [{ kind: "set-attribute", part: 2, name: "answer", value: "four in" }, `"in"`, `"four in"`],
    [{ kind: "set-part-text", part: 1, text: "Deck lever" }, "[Lever]", "[Deck lever]"],
  ])("%j", (edit, old, made) => {
    expect(make(edit)).toEqual({ text: CARD.replace(old, made) });
  });
});
