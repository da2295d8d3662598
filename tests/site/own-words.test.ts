/**
 * A collection of another trade, with its own nouns: no page says those of the program's usual one (compared with the
 * built pages themselves). Left out are the guide and the rules, which show the format with examples of one collection,
 * and the rooms whose text has not moved to the table yet: study, practice, sign-off and the sheets of readiness.
 */
import { mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parse } from "parse5";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildSite } from "../../src/build/build.ts";

const FOREIGN = /\b(?:patients?|trolleys?|aircraft|coordinators?|vehicles?)\b/i;
let out: string;

beforeAll(async () => {
  out = join(await mkdtemp(join(tmpdir(), "own-words-")), "site");
  await buildSite({
    collectionFolder: resolve(import.meta.dirname, "../fixtures/collections/crate"),
    outFolder: out,
    log: () => {},
  });
}, 600_000);
afterAll(() => rm(join(out, ".."), { recursive: true, force: true }));

it("no page of animals in a crate speaks of patients, trolleys or aircraft, and some speak of animals", async () => {
  const wrong: string[] = [];
  let own = 0;
  for (const file of (await readdir(out, { recursive: true })).filter((name) => name.endsWith(".html"))) {
    if (/^(?:guide|rules)\/|^crate\/(?:study|practise|sign-off|ready)\//.test(file)) continue;
    for (const text of textsOf(parse(await readFile(join(out, file), "utf8")) as unknown as Html)) {
      if (FOREIGN.test(text)) wrong.push(`${file}: ${text.trim().slice(0, 120)}`);
      if (/\banimals?\b/i.test(text)) own += 1;
    }
  }
  expect(own).toBeGreaterThan(10);
  expect([...new Set(wrong)]).toEqual([]);
});

interface Html {
  readonly nodeName: string;
  readonly value?: string;
  readonly attrs?: readonly { readonly name: string; readonly value: string }[];
  readonly childNodes?: readonly Html[];
}

/** All that is read or read out: text, and the names and titles of elements; not the data of scripts. */
function textsOf(node: Html): string[] {
  if (node.nodeName === "script" || node.nodeName === "style") return [];
  return [
    ...(node.nodeName === "#text" ? [node.value ?? ""] : []),
    ...(node.attrs ?? [])
      .filter(({ name }) => /^(?:alt|title|aria-label|content|placeholder)$/.test(name))
      .map(({ value }) => value),
    ...(node.childNodes ?? []).flatMap(textsOf),
  ];
}
