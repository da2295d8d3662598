/** The rooms of src/ only import what stands before them, without a circle, and the domain is pure. */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const src = resolve(import.meta.dirname, "../src");
/** Files of one folder, about twenty: what is beside what can still be seen. */
const LARGEST_FOLDER = 22;
const filesIn = (folder: string): number =>
  readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isFile()).length;
/** Each room and the rooms that it may import from, beside itself; a room stands after all that it imports. */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  schema: [],
  words: ["schema"],
  findings: ["schema"],
  read: ["schema", "words", "findings"],
  compile: ["schema", "words", "findings", "read"],
  "domain/words": ["schema", "words"],
  "domain/numbers": ["schema"],
  "domain/bands": ["schema", "words", "domain/words", "domain/numbers"],
  "domain/parts": ["schema", "words", "domain/words", "domain/numbers", "domain/bands"],
  "domain/states": ["schema", "words", "domain/words", "domain/bands", "domain/parts"],
  "domain/time": ["schema", "words", "domain/words", "domain/numbers", "domain/bands", "domain/parts", "domain/states"],
  "domain/load": ["schema", "words", "domain/words", "domain/numbers", "domain/bands", "domain/parts"],
  "domain/records": ["schema", "words", "domain/words", "domain/numbers", "domain/bands"],
  "domain/force": ["schema", "words", "domain/words", "domain/bands", "domain/records"],
  "domain/cards": [
    "schema",
    "words",
    "domain/words",
    "domain/numbers",
    "domain/bands",
    "domain/parts",
    "domain/load",
    "domain/records",
    "domain/force",
  ],
  "domain/slips": [
    "schema",
    "words",
    "domain/words",
    "domain/bands",
    "domain/parts",
    "domain/states",
    "domain/time",
    "domain/cards",
  ],
  "domain/device": ["schema", "words", "domain/words", "domain/bands", "domain/parts", "domain/states", "domain/time"],
  "domain/study": [
    "schema",
    "words",
    "domain/words",
    "domain/numbers",
    "domain/bands",
    "domain/parts",
    "domain/states",
    "domain/time",
    "domain/slips",
  ],
  "domain/tonight": [
    "schema",
    "words",
    "domain/words",
    "domain/bands",
    "domain/parts",
    "domain/states",
    "domain/time",
    "domain/force",
    "domain/cards",
    "domain/slips",
    "domain/study",
  ],
  "domain/ready": [
    "schema",
    "words",
    "domain/words",
    "domain/numbers",
    "domain/bands",
    "domain/parts",
    "domain/states",
    "domain/time",
    "domain/records",
  ],
  "domain/after": [
    "schema",
    "words",
    "domain/words",
    "domain/numbers",
    "domain/bands",
    "domain/parts",
    "domain/states",
    "domain/time",
    "domain/slips",
    "domain/device",
    "domain/tonight",
  ],
  "domain/find": ["schema", "domain/words", "domain/bands", "domain/cards"],
  drawing: ["schema", "words", "domain"],
  paper: ["schema", "words", "domain", "drawing"],
  rules: ["schema", "words", "findings", "read", "domain", "paper"],
  site: ["schema", "words", "findings", "domain", "drawing", "paper", "rules"],
  docs: ["schema", "compile"],
  build: ["schema", "words", "findings", "read", "compile", "domain", "paper", "site"],
  import: ["schema", "words", "findings", "read", "site"],
  issuing: ["schema", "findings", "read", "domain", "rules", "paper", "build"],
  browser: ["schema", "words", "domain", "drawing", "paper", "site"],
  desk: [
    ...[
      "schema",
      "words",
      "findings",
      "read",
      "compile",
      "domain",
      "rules",
      "site",
      "docs",
      "drawing",
      "build",
      "import",
      "issuing",
    ],
    "browser",
  ],
  commands: [
    ...[
      "schema",
      "words",
      "findings",
      "read",
      "compile",
      "domain",
      "rules",
      "paper",
      "site",
      "docs",
      "build",
      "import",
    ],
    ...["issuing", "desk"],
  ],
  layouts: ["schema", "words", "findings", "domain", "drawing", "paper", "site", "build"],
  pages: ["schema", "words", "findings", "domain", "drawing", "rules", "paper", "site", "docs", "build", "layouts"],
};

const files = readdirSync(src, { recursive: true, encoding: "utf8" }).filter((file) =>
  /\.(?:ts|astro|mjs)$/.test(file),
);
const importsOf = (file: string) =>
  [
    ...readFileSync(join(src, file), "utf8").matchAll(
      /(?:import|export)\s[^"';]*?from\s+"([^"]+)"|import\("([^"]+)"\)|^import "([^"]+)"/gm,
    ),
  ].map((found) => (found[1] ?? found[2] ?? found[3])!);
/** `domain/bands/patients.ts` stands in the room `domain/bands`, `site/plans/walks.ts` in `site`. */
const roomOf = (file: string) =>
  file
    .split("/")
    .slice(0, file.startsWith("domain/") ? 2 : 1)
    .join("/");

/** Rooms that each room really imports from. */
function arrowsFound(): ReadonlyMap<string, ReadonlySet<string>> {
  const found = new Map(Object.keys(ROOMS).map((room) => [room, new Set<string>()]));
  for (const file of files)
    for (const target of importsOf(file).filter((each) => each.startsWith("."))) {
      const room = roomOf(relative(src, resolve(src, dirname(file), target)));
      if (room !== roomOf(file) && ROOMS[room]) found.get(roomOf(file))?.add(room);
    }
  return found;
}

/** The rooms on floors, each above all that it imports from, and the arrows that no other way leads along. */
function pictureOf(rooms: readonly string[], arrows: ReadonlyMap<string, ReadonlySet<string>>): string {
  const floors = new Map<string, number>(),
    reach = new Map<string, Set<string>>();
  for (const room of rooms) {
    const below = [...arrows.get(room)!];
    floors.set(room, Math.max(-1, ...below.map((each) => floors.get(each)!)) + 1);
    reach.set(room, new Set(below.flatMap((each) => [each, ...reach.get(each)!])));
  }
  const direct = rooms.map((room) => {
    const below = [...arrows.get(room)!];
    return [room, rooms.filter((each) => below.includes(each) && !below.some((other) => reach.get(other)!.has(each)))];
  }) as [string, string[]][];
  const named = (room: string) => (room === "words" ? "language" : room.replace("domain/", ""));
  const top = Math.max(...floors.values());
  return [
    "# The rooms of `src/`",
    "",
    "Made from the imports (`UPDATE=1 npx vitest run tests/imports.test.ts`). Each room stands above all that it " +
      "imports from; there is no arrow upwards and no circle.",
    "",
    "| floor | rooms |",
    "| --- | --- |",
    ...Array.from({ length: top + 1 }, (_, at) => top - at).map(
      (floor) => `| ${floor} | ${rooms.filter((room) => floors.get(room) === floor).join(", ")} |`,
    ),
    "",
    `${[...arrows.values()].reduce((sum, each) => sum + each.size, 0)} arrows between ${rooms.length} rooms; ` +
      "drawn are those that no other way leads along:",
    "",
    "```mermaid",
    "flowchart TB",
    ...direct.flatMap(([room, below]) => below.map((each) => `  ${named(room)} --> ${named(each)}`)),
    "```",
    "",
  ].join("\n");
}

describe("imports", () => {
  it("are found at all", () => expect(files.flatMap(importsOf).length).toBeGreaterThan(100));

  it.each(Object.keys(ROOMS))("of src/%s come from rooms before it", (room) => {
    const allowed = ROOMS[room]!;
    const wrong = files
      .filter((file) => roomOf(file) === room)
      .flatMap((file) =>
        importsOf(file)
          .filter((target) => target.startsWith("."))
          .map((target) => relative(src, resolve(src, dirname(file), target)))
          .filter((target) => !target.startsWith(".."))
          .map(roomOf)
          .filter(
            (target) => target !== room && !allowed.some((each) => target === each || target.startsWith(`${each}/`)),
          )
          .map((target) => `${file} imports ${target}/`),
      );
    expect(wrong).toEqual([]);
  });

  it("of a room come only from rooms that stand before it in the list, so that there is no circle", () => {
    const order = Object.keys(ROOMS);
    const wrong = order.flatMap((room, at) =>
      ROOMS[room]!.filter(
        (each) => !order.slice(0, at).some((before) => before === each || before.startsWith(`${each}/`)),
      ),
    );
    expect(wrong).toEqual([]);
  });

  it("stand in files that all have a room in the list", () => {
    const rooms = new Set(Object.keys(ROOMS));
    expect(
      files.filter((file) => file.includes("/") && !file.startsWith("starter/") && !rooms.has(roomOf(file))),
    ).toEqual([]);
  });

  it("of the domain name no Node module, no clock, no randomness and no environment", () => {
    const wrong = files
      .filter((file) => file.startsWith("domain/") || file.startsWith("drawing/") || file.startsWith("schema/"))
      .filter((file) =>
        /from "(?:node:|astro)|Date\.now|new Date\(\)|Math\.random|process\.env/.test(
          readFileSync(join(src, file), "utf8"),
        ),
      );
    expect(wrong).toEqual([]);
  });

  it("of components name nothing that knows the site: they are given what they show", () => {
    const root = resolve(src, "..");
    // These make addresses, or are types of what a component is given.
    const plain = /^site\/(href|outside|placed-here|sections|plans\/\w[\w-]*|records\/changes)\.ts$/;
    const wrong = readdirSync(join(root, "components"), { recursive: true, encoding: "utf8" })
      .filter((file) => /\.(?:ts|astro)$/.test(file))
      .flatMap((file) => {
        const text = readFileSync(join(root, "components", file), "utf8");
        const named = [...text.matchAll(/import (type )?[^"';]*?from\s+"[^"]*\/src\/(site\/[^"]+)"/g)];
        return [
          ...named.filter(([, , target]) => !plain.test(target!)).map(([, , target]) => `${file} imports ${target}`),
          // What authors place in a text has only the attributes that they wrote.
          ...(/\blocals\.site\b/.test(text) && !file.startsWith("author/") ? [`${file} reads the site`] : []),
        ];
      });
    expect(wrong).toEqual([]);
  });

  it("of the build that is under way stand where Astro hands over no value, and nowhere else", () => {
    const wrong = files
      .filter((file) => /\b(siteUnderWay|renderFrom|isUnderWay)\b/.test(readFileSync(join(src, file), "utf8")))
      .sort();
    expect(wrong).toEqual([
      "build/render/page-maker.ts",
      "build/render/page-thread.ts",
      "middleware.ts",
      "site/text/readings.ts",
      "site/under-way.ts",
    ]);
  });

  it("are those in the picture of the rooms", () => {
    const path = join(src, "ROOMS.md");
    const made = pictureOf(Object.keys(ROOMS), arrowsFound());
    if (process.env["UPDATE"]) writeFileSync(path, made);
    expect(readFileSync(path, "utf8")).toBe(made);
  });

  it("find no folder with more files than somebody takes in at a glance", () => {
    const root = resolve(src, "..");
    const crowded = ["src", "components", "tests"].flatMap((top) =>
      readdirSync(join(root, top), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .map((entry) => join(entry.parentPath, entry.name))
        .map((folder) => [relative(root, folder), filesIn(folder)] as const)
        .filter(([, count]) => count > LARGEST_FOLDER),
    );
    expect(crowded).toEqual([]);
  });

  it("find a file that opens with a sentence on what it is for", () => {
    const silent = files
      .filter((file) => file.endsWith(".ts") && !file.startsWith("starter/"))
      .filter((file) => !/^\/\*\*\s*\S/.test(readFileSync(join(src, file), "utf8")));
    expect(silent).toEqual([]);
  });
});
