/** What becomes of a collection: typed records, each value with its place. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings, whereOf } from "../../src/findings/finding.ts";
import type { Collection, Platform, Procedure, Text, Where } from "../../src/schema/collection.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
const work = mkdtempSync(join(tmpdir(), "rerig-load-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Loads the sled collection with some files changed; findings are those of reading. */
async function load(
  name: string,
  change: (folder: string) => void | Promise<void> = () => {},
): Promise<{ platform: Platform; collection: Collection; findings: Findings; folder: string }> {
  const folder = join(work, name),
    findings = new Findings();
  cpSync(sled, folder, { recursive: true });
  await change(folder);
  const collection = await loadCollection(folder, findings);
  return { platform: collection.platforms[0]!, collection, findings, folder };
}

/** The text of a file from a place on. */
const textAt = (folder: string, { file, line, column }: Where, length: number) =>
  readFileSync(join(folder, file), "utf8")
    .split("\n")
    [line - 1]!.slice(column - 1, column - 1 + length);
const find = (platform: Platform, id: string): Procedure =>
  platform.procedures.find((procedure) => procedure.id === id)!;

describe("a fastening that holds nothing (design, section 7)", () => {
  it("is read without a finding, and has no state for when it is empty", async () => {
    const sled = (more: string) => (folder: string) =>
      writeFileSync(
        join(folder, "sled/platform.yaml"),
        readFileSync(join(folder, "sled/platform.yaml"), "utf8").replace(
          /^fastenings:\n/m,
          `fastenings:\n  drag-brake: ` +
            `{ name: Drag brake, kind: brake, states: [on, off], secure: on, holds: []${more} }\n`,
        ),
      );
    const plain = await load("brake", sled("")),
      empty = await load("brake-empty", sled(", when-empty: off"));
    expect(plain.findings.list).toEqual([]);
    expect(plain.platform.fastenings[0]).toMatchObject({ id: "drag-brake", kind: "brake", holds: [] });
    expect(empty.findings.list.map(({ message }) => message)).toEqual([
      "`drag-brake` holds nothing, so it is never empty",
    ]);
    expect(empty.platform.fastenings[0]).not.toHaveProperty("whenEmpty");
  });
});

describe("the sled collection", () => {
  let sledNow: Awaited<ReturnType<typeof load>>;
  beforeAll(async () => {
    sledNow = await load("plain");
  });

  it("is read without a finding", () => expect(sledNow.findings.list).toEqual([]));

  it("has its places, items and fastenings, in exact units", () => {
    const { platform } = sledNow;
    expect(platform.places.map(({ id, xMm, dxMm, on, room }) => ({ id, xMm, dxMm, on, room }))).toEqual([
      { id: "bed", xMm: 900, room: 1 },
      { id: "bottle-bay", xMm: 300, room: 1 },
      { id: "tail-bag", xMm: 1500 },
      { id: "hut" },
      { id: "pin-holes", dxMm: 0, on: "child-shell", room: 2 },
    ]);
    expect(platform.items.map(({ id, count, massKg, home, places }) => [id, count, massKg, home, places])).toEqual([
      ["vacuum-mattress", 1, 6, "hut", []],
      ["child-shell", 1, 5.5, "hut", ["pin-holes"]],
      ["shell-pin", 2, 0.1, "tail-bag", []],
      ["oxygen-bottle", 1, 3.4, "hut", []],
    ]);
    expect(
      platform.fastenings.map(({ id, states, secure, holds, whenEmpty, ratedN }) => [
        id,
        states,
        secure,
        holds,
        whenEmpty,
        ratedN,
      ]),
    ).toEqual([
      ["bed-straps", ["closed", "open"], "closed", ["bed"], "open", 9000],
      ["bottle-latch", ["shut", "raised"], "shut", ["bottle-bay"], "shut", 900],
      ["pin-clip", ["across", "back"], "across", ["pin-holes"], "back", undefined],
    ]);
    expect(platform).toMatchObject({
      patient: { xMm: 900 },
      own: { massKg: 22, xMm: 880 },
      limits: { massKg: 260, balance: { fromMm: 800, toMm: 1000 } },
    });
  });

  it("has its configurations in order of weight, with what is fitted", () => {
    expect(
      sledNow.platform.configurations.map(({ id, band, fitted, standing, options, revision, status }) => [
        id,
        band.weight.text,
        band.age.text,
        fitted.map(({ place, item, count }) => `${count} ${item} in ${place}`),
        standing,
        options.map((option) => option.id),
        revision,
        status,
      ]),
    ).toEqual([
      [
        "child-shell",
        "from 8 kg to under 30 kg",
        "any age",
        ["1 child-shell in bed", "2 shell-pin in pin-holes"],
        false,
        ["oxygen"],
        1,
        "approved",
      ],
      [
        "vacuum-mattress",
        "from 30 kg to under 150 kg",
        "any age",
        ["1 vacuum-mattress in bed"],
        true,
        ["oxygen"],
        1,
        "approved",
      ],
    ]);
  });

  it("has steps with who, what, why, how long, and what they move, turn and check", () => {
    const step = find(sledNow.platform, "change-to-shell").steps[3]!;
    expect(step).toMatchObject({
      number: 4,
      procedure: "change-to-shell",
      by: ["tail"],
      critical: true,
      hold: false,
      takesSeconds: 60,
      takesGiven: true,
      guards: [{ id: "near-miss-1" }],
      photos: [{ id: "bed" }],
      alertsAfter: [],
      detail: [],
    });
    expect(step.alerts).toMatchObject([{ signal: "caution" }]);
    expect(step.instruction.children).toMatchObject([
      { kind: "text", text: "Push both pins in until each one clicks." },
    ]);
    expect(step.reason?.children).toMatchObject([{ kind: "text", text: "with one pin the shell turns on the slope." }]);
    expect(step.operations).toMatchObject([
      { kind: "move", item: "shell-pin", count: 2, from: "tail-bag", to: "pin-holes" },
      { kind: "turn", fastening: "pin-clip", to: "across" },
    ]);
    expect(step.checks).toMatchObject([{ challenge: "Shell pins", answer: "two, clip across", by: ["leader"] }]);
  });

  it("writes out `both` and assumes 20 s for a step without a time", () => {
    const steps = find(sledNow.platform, "change-to-shell").steps;
    expect(steps[2]!.by).toEqual(["leader", "tail"]);
    expect(steps[4]).toMatchObject({ takesSeconds: 20, takesGiven: false, hold: true });
  });

  it("points at the words that an author would change", () => {
    const { platform, folder, collection } = sledNow,
      step = find(platform, "change-to-shell").steps[3]!,
      move = step.operations[0]!;
    expect(textAt(folder, whereOf(step, "takes"), 5)).toBe("1 min");
    expect(textAt(folder, whereOf(step, "critical"), 8)).toBe("critical");
    expect(textAt(folder, step.photos[0]!.where, 3)).toBe("bed");
    expect(textAt(folder, whereOf(move, "count"), 1)).toBe("2");
    expect(textAt(folder, whereOf(move, "to"), 9)).toBe("pin-holes");
    expect(textAt(folder, (step.reason!.children[0] as Text).where, 8)).toBe("with one");
    expect(textAt(folder, whereOf(platform, "limits.mass"), 6)).toBe("260 kg");
    expect(textAt(folder, whereOf(platform.fastenings[2]!, "when-empty"), 4)).toBe("back");
    expect(textAt(folder, platform.configurations[0]!.fitted[1]!.where, 11)).toBe("2 shell-pin");
    expect(textAt(folder, whereOf(platform.configurations[0]!.authority[1]!, "date"), 10)).toBe("2026-01-05");
    expect(textAt(folder, whereOf(collection.folders[0]!.copies[1]!, "placed"), 10)).toBe("2026-02-01");
    expect(textAt(folder, platform.photos[0]!.marks[1]!.where, 5)).toBe("{ n: ");
  });

  it("puts `10:30` and `3:1` back into the text", () =>
    expect(find(sledNow.platform, "fit-oxygen").purpose).toMatchObject([
      {
        kind: "paragraph",
        children: [
          {
            kind: "text",
            text: "Puts the bottle into its bay. At 10:30 or at a slope of 3:1 it is done in the same way.",
          },
        ],
      },
    ]));

  it("links items and places in running text", () =>
    expect(find(sledNow.platform, "change-to-mattress").purpose).toMatchObject([
      {
        children: [
          { text: "Takes the " },
          { kind: "item", id: "child-shell", children: [{ text: "shell" }] },
          { text: " off the " },
          { kind: "place", id: "bed" },
          {},
        ],
      },
    ]));

  it("reads an image's size from its header", () =>
    expect(sledNow.platform.photos[0]!.image).toMatchObject({ width: 1280, height: 960, format: "jpeg" }));
});

describe("includes", () => {
  it("run the other procedure's steps in place, numbered on, each still knowing who wrote it", async () => {
    const { platform, findings } = await load("include", (folder) => {
      const file = join(folder, "sled/fit-oxygen.mdx");
      writeFileSync(
        file,
        readFileSync(file, "utf8").replace(
          ":::step{by=tail",
          ":::step\nLook into the bay.\n:::\n\n::include{procedure=change-to-shell}\n\n:::step{by=tail",
        ),
      );
    });
    expect(findings.list).toEqual([]);
    const procedure = find(platform, "fit-oxygen");
    expect(procedure.steps.map((step) => [step.number, step.procedure])).toEqual([
      [1, "fit-oxygen"],
      [2, "change-to-shell"],
      [3, "change-to-shell"],
      [4, "change-to-shell"],
      [5, "change-to-shell"],
      [6, "change-to-shell"],
      [7, "fit-oxygen"],
    ]);
    expect(procedure.steps[1]!.where.file).toBe("sled/change-to-shell.mdx");
    const include = procedure.sections.flatMap((section) => section.entries).find((entry) => entry.kind === "include");
    expect(include?.kind === "include" && include.steps).toEqual(procedure.steps.slice(1, 6));
    expect(find(platform, "change-to-shell").steps[0]!.number).toBe(1);
  });

  it("that double at every level do not grow without bound", async () => {
    const { platform, findings } = await load("doubling", (folder) => {
      const head = (name: string) => `---\ntitle: ${name}\ncode: X\nrevision: 1\nstatus: draft\n---\n`;
      for (let level = 0; level < 30; level += 1)
        writeFileSync(
          join(folder, `sled/level-${level}.mdx`),
          `${head(`Level ${level}`)}\n` +
            (level === 29 ? ":::step\nLook.\n:::\n" : `::include{procedure=level-${level + 1}}\n\n`.repeat(2)),
        );
    });
    expect(Math.max(...platform.procedures.map((procedure) => procedure.steps.length))).toBeLessThanOrEqual(2000);
    expect(findings.list[0]).toMatchObject({
      rule: "text/bad-value",
      message: expect.stringContaining("more than 2000 steps"),
    });
  }, 20_000);
});

describe("tables", () => {
  it(
    "are read, though CommonMark has none (example 198 of GitHub Flavored Markdown 0.29, section 4.10, from " +
      "memory)",
    async () => {
      const { platform } = await load("table", (folder) => {
        const file = join(folder, "sled/fit-oxygen.mdx");
        writeFileSync(
          file,
          readFileSync(file, "utf8").replace(
            "Puts the bottle",
            "| foo | bar |\n| --- | --- |\n| baz | **bim** |\n\na | b is no table\n\nPuts the bottle",
          ),
        );
      });
      const [table, text] = find(platform, "fit-oxygen").purpose;
      expect(table).toMatchObject({
        kind: "table",
        rows: [
          [[{ text: "foo" }], [{ text: "bar" }]],
          [[{ text: "baz" }], [{ kind: "strong", children: [{ text: "bim" }] }]],
        ],
      });
      expect(text).toMatchObject({ kind: "paragraph" });
    },
  );
});

describe("bands of steps", () => {
  it("are their own, else their procedure's; each part by itself", async () => {
    const { platform } = await load("bands", (folder) => {
      const file = join(folder, "sled/fit-oxygen.mdx");
      writeFileSync(
        file,
        readFileSync(file, "utf8")
          .replace("owner:", "weight: under 50 kg\nage: under 2 years\nowner:")
          .replace("step{by=tail", 'step{weight="from 10 kg" by=tail'),
      );
    });
    const [step] = find(platform, "fit-oxygen").steps;
    expect([step!.ownWeight?.text, step!.ownAge?.text, step!.band.weight.text, step!.band.age.text]).toEqual([
      "from 10 kg",
      undefined,
      "from 10 kg",
      "under 2 years",
    ]);
  });
});

describe("images", () => {
  it("are measured upright (Exif 2.32, tag 274: orientation 5 to 8 turns by a quarter, from memory)", async () => {
    const { platform } = await load("turned", async (folder) => {
      await sharp({ create: { width: 40, height: 30, channels: 3, background: "#888" } })
        .jpeg()
        .withMetadata({ orientation: 6 })
        .toFile(join(folder, "sled/photos/turned.jpg"));
      writeFileSync(join(folder, "sled/photos/broken.png"), "no image");
    });
    const image = (id: string) => platform.photos.find((photo) => photo.id === id);
    expect(image("turned")!.image).toMatchObject({ width: 30, height: 40 });
    expect(image("broken")).toMatchObject({ file: "sled/photos/broken.png" });
    expect(image("broken")!.image).toBeUndefined();
  });
});

describe("the real collection of the demo", () => {
  it("is read without a finding of the text", async () => {
    const findings = new Findings();
    const collection = await loadCollection(resolve(import.meta.dirname, "../../procedures"), findings);
    expect(findings.list).toEqual([]);
    expect(collection.platforms[0]!.procedures.length).toBeGreaterThan(15);
  });
});
