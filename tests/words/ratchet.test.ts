/**
 * How far the fixed text has moved into the table: a room that was moved whole never says a text by itself again, and
 * in the others what is left can only become less. (What counts as said stands in `literals.ts`.)
 */
import { existsSync, readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { literalsIn, literalsUnder } from "./literals.ts";

const root = resolve(import.meta.dirname, "../..");

/** Rooms that were moved whole, those of `components` and `src`. */
const WHOLE = [
  "components/author",
  "components/page",
  "src/browser/changeover",
  "src/browser/chooser",
  "src/browser/find",
  "src/browser/practice",
  "src/browser/tonight",
  "src/commands",
  "src/desk",
  "src/domain/device",
  "src/domain/ready",
  "src/domain/states",
  "src/domain/tonight",
  "src/drawing",
  "src/layouts",
  "src/pages",
];

/** What is left in the others. A number may only be made smaller; at none the room goes up to those that are whole. */
const LEFT: Readonly<Record<string, number>> = {
  "src/browser/after": 3,
  "src/browser/device": 3,
  "src/build": 19,
  "src/compile": 278,
  "src/docs": 6,
  "src/domain/after": 7,
  "src/domain/bands": 5,
  "src/domain/cards": 3,
  "src/domain/find": 21,
  "src/domain/force": 1,
  "src/domain/load": 3,
  "src/domain/parts": 3,
  "src/domain/records": 7,
  "src/domain/slips": 7,
  "src/domain/study": 14,
  "src/domain/time": 5,
  "src/domain/words": 1,
  "src/findings": 36,
  "src/import": 80,
  "src/issuing": 3,
  "src/paper": 8,
  "src/read": 203,
  "src/rules": 587,
  "src/site": 5,
};

/** What reads as words and is said to nobody. */
const UNSAID: Readonly<Record<string, readonly string[]>> = {
  "src/desk": [
    // Words of the format: how a band is written, a status, the head of a new document.
    "browser/compose.ts: up to",
    "browser/compose.ts: to under",
    "changes/amendments.ts: --- number: New ---",
    "changes/changes.ts: --- title: New code: New revision: 1 status: draft --- What it is for.",
    "changes/record-changes.ts: in review",
    "screens/forms/head-form.ts: in review",
    "screens/review.ts: in review",
    // Patterns of paths, styles of YAML, a kind of a dragged thing, the name of an error, what no step says.
    "browser/take-photo.ts: Files",
    "disk/own-paths.ts: (?!issued/)…/(?:platform|equipment).yaml",
    "disk/own-paths.ts: (?!issued/)…/(?:(?:configurations|options|amendments|reading)/)?….mdx",
    "disk/own-paths.ts: (?!issued/)…/photos/….(?:yaml|jpe?g|png|webp)",
    "disk/refusal.ts: Refusal",
    "edits/steps.ts: not as it was asked",
    "edits/write-value.ts: PLAIN",
    "edits/yaml-splices.ts: BLOCK",
  ],
};

/** Rooms that have no table to speak from: the table itself, and shapes, whose words are the guide's to authors. */
const APART = new Set(["src/words", "src/schema", "src/starter", "src/styles"]);

describe("text that is not in the table", () => {
  it.each(WHOLE)("is none in %s", (room) => {
    const found = literalsUnder(join(root, room)),
      unsaid = UNSAID[room] ?? [];
    expect(found.filter((each) => !unsaid.includes(each))).toEqual([]);
    expect(unsaid.filter((each) => !found.includes(each))).toEqual([]);
  });

  it.each(Object.entries(LEFT))("is no more than was left in %s: %i", (room, left) => {
    const found = literalsUnder(join(root, room));
    // Fewer is good news, which the number has to tell, or the next text would slip in unseen.
    expect(found.length, found.slice(0, 400).join("\n")).toBe(left);
  });

  it("is none in what the browser runs of no room", () => {
    const found = literalsUnder(join(root, "src/browser")).filter(
      (each) => !each.slice(0, each.indexOf(":")).includes("/"),
    );
    // Media of pictures and of the page's theme.
    expect(found).toEqual([
      "night-picture.ts: screen and (prefers-color-scheme:dark)",
      "night-picture.ts: not all",
      "theme.ts: (prefers-color-scheme: dark)",
    ]);
  });

  it("is looked for in every room", () => {
    const known = [...WHOLE, ...Object.keys(LEFT), ...APART, "src/domain/numbers"];
    const rooms = ["components", "src", "src/domain", "src/browser", "components/page"].flatMap((folder) =>
      readdirSync(join(root, folder), { withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .map((entry) => `${folder}/${entry.name}`),
    );
    const isKnown = (room: string) =>
      known.some((each) => each === room || each.startsWith(`${room}/`) || room.startsWith(`${each}/`));
    expect(rooms.filter((room) => !isKnown(room))).toEqual([]);
    expect([...WHOLE, ...Object.keys(LEFT)].filter((room) => !existsSync(join(root, room)))).toEqual([]);
  });
});

describe("the count", () => {
  it("sees text between tags, in attributes, in templates and where a condition chooses", () =>
    expect(
      literalsIn(
        "page.astro",
        `---
import x from "some words";
const title = \`\${x} is ready\`;
---
<p class="two words" title={"read out"} aria-label="Said">Some text <code>name: value</code></p>
<b>{x ? "if so" : "two-words"}</b>
<a href={\`\${x}/some/place\`}>{words.frame.find}</a>`,
      ).sort(),
    ).toEqual(["Said", "Some text", "if so", "read out", "… is ready"]));

  it("sees what a screen of the desk says, and why a change is not made", () =>
    expect(
      literalsIn(
        "screen.ts",
        `html\`<p class="two words" title="Read out">Some \${x} text \${y && html\`selected\`}</p>\`;
html\` data-x="\${x}" aria-label="Said"\`; if (!x) throw new Refusal("It is gone"); throw new Error("A mistake");`,
      ),
    ).toEqual(["Read out", "Some … text …", "Said", "It is gone"]));

  it("sees what a script says, and not what it reads", () =>
    expect(
      literalsIn(
        "script.ts",
        `const kind = "some-kind", said = "Nothing is left" + more;
if (kind === "two words") throw new Error("A programmer's mistake");
document.querySelector("form.ask input"); element("p", {}, \`\${said} pieces\`);`,
      ),
    ).toEqual(["Nothing is left", "… pieces"]));
});
