/**
 * A collection of another trade, with its own nouns: nothing that is made of it says those of the program's usual one
 * (compared with the built pages themselves, printed ones among them; with what pages tell their scripts; and with the
 * screens of the desk). Left out are the guide and the rules, which show the format with examples of one collection,
 * and the desk's forms, which say what the guide says of each field: that text is not the service's own yet.
 */
import { cp, mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parse } from "parse5";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { openDesk } from "../../src/desk/server.ts";
import { textsOfPdf } from "../agreement/words-of-pdf.ts";
import { runHere } from "../commands/run-here.ts";
import { needBrowser } from "./find-browser.ts";

const FOREIGN = new RegExp(
  String.raw`\b(?:patients?|trolleys?|aircraft|coordinators?|vehicles?|platforms?|kit rooms?|stores)\b|` +
    String.raw`\b(?:head end|foot end|newborns?|capsules?|ambulances?)\b|\b(?:a|the|each|from) store\b`,
  "i",
);
const HEAD = /\bHEAD\b/;
/** Said to authors alone, in the words of the files: findings that the browser has too, a title of the guide. */
const FOR_AUTHORS = [
  ", which is not on the platform in this arrangement",
  " too, or choose a place on the platform",
  "not an arrangement of this platform: …",
  "Writing: The platform",
];
const COMMANDS = [
  ...["new", "write", "import", "check", "build", "serve", "approve", "issue", "cards", "folders", "choose"],
  ...["changeover", "without", "recall", "ready", "load", "signoffs", "drill", "times", "notes"],
];
/** In a command: names of options and files, which are those of the format. */
const OF_FORMAT = /--[\w-]+|[\w-]+\.yaml/g;
/** Nouns that the animals' own files never say: where one stands, the program said it. */
const OWN = {
  ...{ patient: "guest", platform: "raft", head: "prow", foot: "stern" },
  ...{ coordinator: "harbour master", vehicle: "tram", aircraft: "airship", "kit room": "boathouse" },
};
const NOUNS = Object.values(OWN);
let work: string, collection: string, out: string;

beforeAll(async () => {
  work = await mkdtemp(join(tmpdir(), "own-words-"));
  out = join(work, "site");
  collection = join(work, "here/procedures");
  await cp(resolve(import.meta.dirname, "../fixtures/collections/crate"), collection, { recursive: true });
  const service = join(collection, "service.yaml"),
    [before] = (await readFile(service, "utf8")).split("words:");
  const words = Object.entries(OWN).map(([name, noun]) => `  ${name}: ${noun}\n`);
  await writeFile(service, `${before}words:\n${words.join("")}`);
  await buildSite({ collectionFolder: collection, outFolder: out, log: () => {} });
}, 600_000);
afterAll(() => rm(work, { recursive: true, force: true }));

const written = async (ending: string) =>
  (await readdir(out, { recursive: true })).filter((name) => name.endsWith(ending) && !/^(?:guide|rules)\//.test(name));
const foreignIn = (texts: readonly string[]) => texts.filter((text) => FOREIGN.test(text) || HEAD.test(text));

it("no page of animals in a crate speaks of patients, trolleys or aircraft, and its own nouns are said", async () => {
  const wrong: string[] = [],
    said = new Set<string>();
  const files = await written(".html");
  for (const file of files) {
    const texts = textsOf(parse(await readFile(join(out, file), "utf8")) as unknown as Html);
    wrong.push(...foreignIn(texts).map((text) => `${file}: ${text.trim().slice(0, 120)}`));
    for (const noun of NOUNS) if (texts.some((text) => text.toLowerCase().includes(noun))) said.add(noun);
  }
  expect(files.length).toBeGreaterThan(60);
  expect([...said].sort()).toEqual([...NOUNS].sort());
  expect([...new Set(wrong)]).toEqual([]);
});

it("what pages tell their scripts, feeds, calendars and tables say none of them either", async () => {
  const wrong: string[] = [];
  let heard = 0;
  for (const file of await written(".html")) {
    for (const data of scriptsOf(parse(await readFile(join(out, file), "utf8")) as unknown as Html)) {
      const texts = stringsIn(JSON.parse(data)).filter((text) => text.includes(" "));
      heard += texts.length;
      wrong.push(...foreignIn(texts).map((text) => `${file}: ${text.slice(0, 120)}`));
    }
  }
  for (const ending of [".ics", ".atom", ".csv", ".xml", ".txt"])
    for (const file of await written(ending))
      wrong.push(
        ...foreignIn((await readFile(join(out, file), "utf8")).split(/\r?\n/)).map((line) => `${file}: ${line}`),
      );
  expect(heard).toBeGreaterThan(100);
  expect([...new Set(wrong)]).toEqual([]);
});

it("the browser's own scripts hold no sentence with one of them", async () => {
  const wrong: string[] = [];
  const files = await written(".js");
  for (const file of files.filter((name) => !name.startsWith("pagefind/")))
    for (const [text] of (await readFile(join(out, file), "utf8")).matchAll(/"[^"\n]*"|'[^'\n]*'|`[^`]*`/g)) {
      // Of a template only what is said, not what is worked out between its braces.
      const literal = text.slice(1, -1).replace(/\$\{[^}]*\}/g, "…");
      if (/[a-z] [a-z]/i.test(literal) && !/[{};=]/.test(literal))
        if (!FOR_AUTHORS.includes(literal))
          wrong.push(...foreignIn([literal]).map((each) => `${file}: ${each.slice(0, 120)}`));
    }
  expect(files.length).toBeGreaterThan(5);
  expect(wrong).toEqual([]);
});

it("one noun is the same on pages, cards, devices, in commands and the PDF", async () => {
  const pages = await Promise.all(
    (await written(".html")).map(async (file) => ({ file, text: await readFile(join(out, file), "utf8") })),
  );
  const read = (of: typeof pages) =>
    of.flatMap(({ text }) => textsOf(parse(text) as unknown as Html)).filter((text) => text.trim() !== "");
  const pdf = join(work, "pack.pdf"),
    before = process.env["CHROME_PATH"];
  process.env["CHROME_PATH"] = needBrowser();
  const printed = await runHere(["cards", "--second-look", "--out", pdf, "--procedures", collection], "2026-11-28");
  if (before === undefined) delete process.env["CHROME_PATH"];
  else process.env["CHROME_PATH"] = before;
  expect(printed).toMatchObject({ status: 0 });
  const asked = [
    ...COMMANDS.map((name) => [name, "--help"]),
    ...[
      ["choose", "--weight", "1 kg"],
      ["choose", "--weight", "20 kg"],
      ["ready"],
      ["recall", "steel-floor"],
      ["check"],
    ],
    ...[
      ["load", "--configuration", "large-animal", "--patient", "200 kg"],
      ["drill", "--seed", "1"],
    ],
  ];
  const answers: string[] = [];
  for (const args of asked) {
    const { stdout, stderr } = await runHere(args, "2026-11-28", join(work, "here"));
    answers.push(...`${stdout}\n${stderr}`.split("\n"));
  }
  const told: Readonly<Record<string, readonly string[]>> = {
    pages: read(pages.filter(({ file }) => !/cards?\//.test(file))),
    cards: read(pages.filter(({ file }) => /cards?\//.test(file))),
    devices: pages
      .flatMap(({ text }) => scriptsOf(parse(text) as unknown as Html))
      .flatMap((data) => stringsIn(JSON.parse(data)))
      .filter((text) => text.includes(" ")),
    commands: [...answers, `${printed.stdout}${printed.stderr}`],
    pdf: await textsOfPdf(await readFile(pdf)),
  };
  const said = Object.fromEntries(
    Object.entries(told).map(([where, texts]) => [
      where,
      NOUNS.filter((noun) => texts.some((text) => text.toLowerCase().includes(noun))),
    ]),
  );
  expect(said).toEqual({
    pages: ["guest", "raft", "prow", "harbour master", "tram", "airship", "boathouse"],
    cards: ["guest", "prow", "stern"],
    devices: ["guest", "raft", "harbour master", "boathouse"],
    commands: ["guest", "raft", "airship", "boathouse"],
    pdf: ["guest", "prow"],
  });
  for (const [where, texts] of Object.entries(told))
    expect(foreignIn(texts.map((text) => text.replace(OF_FORMAT, "|"))), where).toEqual([]);
}, 600_000);

it("no screen of the desk but its forms says one of them", async () => {
  const folder = join(work, "collection");
  await cp(collection, folder, { recursive: true });
  const desk = await openDesk(folder, 0);
  try {
    const seen = new Set<string>(),
      wrong: string[] = [],
      open = [desk.address];
    while (open.length > 0 && seen.size < 40) {
      const address = open.shift()!;
      if (seen.has(address)) continue;
      seen.add(address);
      const response = await fetch(address);
      if (!response.headers.get("content-type")?.includes("html")) continue;
      const page = parse(await response.text()) as unknown as Html;
      wrong.push(
        ...foreignIn(textsOf(page, "textarea").map((text) => text.replaceAll("platform.yaml", ""))).map(
          (text) => `${address}: ${text.trim().slice(0, 120)}`,
        ),
      );
      for (const href of linksIn(page)) {
        const to = new URL(href, address);
        to.hash = "";
        if (to.href.startsWith(desk.address) && !/\/(?:guide|rules|form)\//.test(to.pathname)) open.push(to.href);
      }
    }
    expect(seen.size).toBeGreaterThan(10);
    expect([...new Set(wrong)]).toEqual([]);
  } finally {
    await desk.close();
  }
}, 600_000);

interface Html {
  readonly nodeName: string;
  readonly value?: string;
  readonly attrs?: readonly { readonly name: string; readonly value: string }[];
  readonly childNodes?: readonly Html[];
}

const attribute = ({ attrs = [] }: Html, wanted: string) => attrs.find(({ name }) => name === wanted)?.value;

/** All that is read or read out: text, names and titles of elements; not what elements of the name `but` hold. */
function textsOf(node: Html, but = "style"): string[] {
  if (["script", "style", but].includes(node.nodeName)) return [];
  return [
    ...(node.nodeName === "#text" ? [node.value ?? ""] : []),
    ...(node.attrs ?? [])
      .filter(({ name }) =>
        /^(?:alt|title|aria-(?:label|description|roledescription|valuetext)|content|placeholder)$/.test(name),
      )
      .map(({ value }) => value),
    ...(node.childNodes ?? []).flatMap((child) => textsOf(child, but)),
  ];
}

/** The JSON that a page holds for its scripts. */
function scriptsOf(node: Html): string[] {
  if (node.nodeName === "script")
    return attribute(node, "type") === "application/json" ? [node.childNodes?.[0]?.value ?? "null"] : [];
  return (node.childNodes ?? []).flatMap(scriptsOf);
}

function stringsIn(value: unknown): string[] {
  if (typeof value === "string") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(stringsIn) : [];
}

function linksIn(node: Html): string[] {
  const href = node.nodeName === "a" ? attribute(node, "href") : undefined;
  return [...(href === undefined ? [] : [href]), ...(node.childNodes ?? []).flatMap(linksIn)];
}
