/**
 * An index that is held from site to site has the very files of one that begins with nothing, whatever became of the
 * pages, and reads only what is new: compared with such an index. Common practice, no source.
 */
import { afterEach, expect, it } from "vitest";
import { HeldIndex, type IndexedPage } from "../../../src/site/find/held-index.ts";

const held = new HeldIndex();
afterEach(() => held.end());

/** Addresses of the pages whose text somebody has asked for. */
let asked: string[] = [];
const page = (address: string, text: string, same?: object): IndexedPage => ({
  address,
  content: () => {
    asked.push(address);
    return `<html lang="en"><main data-pagefind-body><h1>${address}</h1><p>${text}</p></main></html>`;
  },
  same,
});

async function filesOf(index: HeldIndex, pages: readonly IndexedPage[], language = "en") {
  const site = await index.begin(language);
  for (const each of pages) await site.add(each);
  const files = await site.files();
  return files.map(({ path, content }) => [path, Buffer.from(content).toString("base64")]).sort();
}

async function both(pages: readonly IndexedPage[], language?: string) {
  asked = [];
  const kept = await filesOf(held, pages, language),
    read = [...asked],
    fresh = new HeldIndex();
  try {
    return { kept, read, bare: await filesOf(fresh, pages, language) };
  } finally {
    fresh.end();
  }
}

const [pump, rack, strap] = [
  page("pump/", "Turn the red knob", {}),
  page("rack/", "Lift it", {}),
  page("strap/", "Pull"),
];

it("has the files of an index that begins with nothing, and reads what has changed alone", async () => {
  const before = await both([pump, rack, strap]);
  expect(before.kept).toEqual(before.bare);
  const other = page("rack/", "Lower the lantern"),
    after = await both([pump, other, strap]);
  expect(after.kept).toEqual(after.bare);
  expect(after.kept).not.toEqual(before.kept);
  // Of one that is not known as the same thing the text is asked for, and compared.
  expect(after.read).toEqual(["rack/", "strap/"]);
  expect((await both([pump, rack, strap])).kept).toEqual(before.kept);
});

it("has them where pages came, went and changed places, and in another language", async () => {
  for (const pages of [
    [pump, rack, strap],
    [pump, rack, strap, page("lamp/", "Light it")],
    [pump, strap],
    [strap, pump],
    [page("first/", "Begin"), strap, pump],
  ]) {
    const { kept, bare } = await both(pages);
    expect(kept).toEqual(bare);
  }
  const { kept, bare } = await both([strap, pump], "de");
  expect(kept).toEqual(bare);
});

it("begins with nothing after a site that was given up, or whose index was lost", async () => {
  await filesOf(held, [pump, rack]);
  await (await held.begin("en")).add(page("pump/", "Given up"));
  const { kept, bare } = await both([pump, rack]);
  expect(kept).toEqual(bare);
  const broken = await held.begin("en");
  held.end();
  await broken.add(page("pump/", "Lost"));
  await expect(broken.files()).rejects.toThrow();
  const again = await both([pump, rack]);
  expect(again.kept).toEqual(again.bare);
});
