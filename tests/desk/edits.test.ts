/**
 * One change of an author's file and nothing else. Examples are invented; the measure that nothing else was touched is
 * the text itself, compared by hand, and for random changes by the package `diff` line by line.
 */
import { describe, expect, it } from "vitest";
import { applyEdit } from "../../src/desk/edits/edit.ts";
import type { FileEdit } from "../../src/desk/edits/edit.ts";

/** The text after a change that is made. */
function edited(source: string, edit: FileEdit): string {
  const made = applyEdit(source, edit);
  if ("refused" in made) throw new Error(made.refused);
  return made.text;
}

const DOCUMENT = `---
# who may
title: 'Seat it'   # short
code: FCR-T-02
revision: 3
status: approved
changes:
  - { revision: 2, date: 2026-01-12, by: Ed, summary: A hold., steps: [a, b] }

  # the newest
  - revision: 3   # three
    date: 2026-09-10
    by: Ed
    summary: "Flap: first"
---
Text.
`;

describe("a field of a head", () => {
  const set = (path: (string | number)[], value: never | string | object) =>
    edited(DOCUMENT, { kind: "set-field", path, value: value as string });

  it("is taken out of brackets of several lines, and the line that it ended ends as before", () => {
    const text = "names:\n  [one, two,\n   three, # last\n   four]\n",
      without = (at: number) => edited(text, { kind: "remove-field", path: ["names", at] });
    expect(without(1)).toBe("names:\n  [one,\n   three, # last\n   four]\n");
    expect(without(2)).toBe("names:\n  [one, two,\n   four]\n");
    expect(without(3)).toBe("names:\n  [one, two,\n   three]\n");
    expect(without(0)).toBe("names:\n  [two,\n   three, # last\n   four]\n");
  });
  it("is changed in its own quotes, its remark stays", () =>
    expect(set(["title"], "It's new")).toBe(DOCUMENT.replace("'Seat it'", "'It''s new'")));
  it("gets quotes where it would be read as something else without", () =>
    expect(set(["code"], "a: b #1")).toBe(DOCUMENT.replace("FCR-T-02", '"a: b #1"')));
  it("is added where the format names it", () =>
    expect(set(["owner"], "Educator")).toBe(DOCUMENT.replace("approved\n", "approved\nowner: Educator\n")));
  it("is changed in an entry of a list, in braces and in lines", () => {
    expect(set(["changes", 0, "summary"], "A hold, now")).toBe(DOCUMENT.replace("A hold.", '"A hold, now"'));
    expect(set(["changes", 1, "date"], "2026-09-11")).toBe(DOCUMENT.replace("2026-09-10", "2026-09-11"));
    expect(set(["changes", 0, "reason"], "Why")).toBe(DOCUMENT.replace("[a, b] }", "[a, b], reason: Why }"));
    expect(set(["changes", 1, "reason"], "Why")).toBe(
      DOCUMENT.replace('"Flap: first"\n', '"Flap: first"\n    reason: Why\n'),
    );
  });
  it("is a list of which one entry is changed", () =>
    expect(set(["changes", 0, "steps"], ["a", "c", "b"])).toBe(DOCUMENT.replace("[a, b]", "[a, c, b]")));
  it("is taken away with its line", () => {
    expect(edited(DOCUMENT, { kind: "remove-field", path: ["code"] })).toBe(DOCUMENT.replace("code: FCR-T-02\n", ""));
    expect(edited(DOCUMENT, { kind: "remove-field", path: ["changes", 0] })).toBe(
      DOCUMENT.replace(/ {2}- \{.*\}\n/, ""),
    );
    expect(edited(DOCUMENT, { kind: "remove-field", path: ["changes", 1, "revision"] })).toBe(
      DOCUMENT.replace("revision: 3   # three\n    ", ""),
    );
  });
  it("is a list with one entry more, or in another order", () => {
    expect(edited(DOCUMENT, { kind: "insert-entry", path: ["changes"], value: { revision: "4", summary: "x" } })).toBe(
      DOCUMENT.replace('first"\n', 'first"\n  - { revision: 4, summary: x }\n'),
    );
    expect(edited(DOCUMENT, { kind: "move-entry", path: ["changes", 0, "steps"], from: 0, to: 1 })).toBe(
      DOCUMENT.replace("[a, b]", "[b, a]"),
    );
    const moved = edited(DOCUMENT, { kind: "move-entry", path: ["changes"], from: 1, to: 0 });
    expect(moved).toContain(
      '  - revision: 3   # three\n    date: 2026-09-10\n    by: Ed\n    summary: "Flap: first"\n\n',
    );
    expect(moved).toContain("  # the newest\n  - { revision: 2,");
  });
  it("is refused where there is none, or where the head can't be read", () => {
    expect(applyEdit(DOCUMENT, { kind: "remove-field", path: ["owner"] })).toEqual({
      refused: "There is no `owner` here any more: look at the file anew",
    });
    expect(
      applyEdit(DOCUMENT.replace("'Seat it'", "'Seat it"), { kind: "set-field", path: ["code"], value: "x" }),
    ).toHaveProperty("refused");
  });
});

describe("a YAML file", () => {
  const crlf = `\ufeffpin: { name: Pin, count: 4 }

# big
capsule:
  name: Capsule
  places:
    pouch: { kind: stowage }`.replaceAll("\n", "\r\n");
  it("keeps its byte-order mark, its line ends and the end of its last line", () => {
    expect(edited(crlf, { kind: "set-field", path: ["capsule", "mass"], value: "8 kg" })).toBe(
      crlf.replace("name: Capsule\r\n", "name: Capsule\r\n  mass: 8 kg\r\n"),
    );
    expect(edited(crlf, { kind: "set-field", path: ["strap"], value: { name: "Strap" } })).toBe(
      `${crlf}\r\nstrap: { name: Strap }`,
    );
  });
  it("begins with its first field", () =>
    expect(edited("", { kind: "set-field", path: ["alt"], value: "Four pins" })).toBe("alt: Four pins\n"));
  it("gives a field another name", () =>
    expect(edited(crlf, { kind: "rename-field", path: ["pin"], to: "base-pin" })).toBe(
      crlf.replace("pin:", "base-pin:"),
    ));
});
