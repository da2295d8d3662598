/**
 * What a device holds of the site, with caches in memory in the place of the browser's: one whole set, also after a
 * phone was switched off between two.
 */
import { expect, it } from "vitest";
import { cacheName, dropOlder, dropOthers, fillSet, heldSets } from "../../../src/browser/device/saved-set.ts";
import type { SavedSet } from "../../../src/schema/offline.ts";

const SCOPE = "https://cards.example/";

/** Caches of one browser, by name; those of `stuck` can't be removed. */
function memory(stuck: ReadonlySet<string> = new Set()) {
  const held = new Map<string, Map<string, Response>>();
  const open = (name: string) => {
    const files = held.get(name) ?? new Map<string, Response>();
    held.set(name, files);
    return Promise.resolve({
      match: (address: string) => Promise.resolve(files.get(address)?.clone()),
      put: (address: string, response: Response) => Promise.resolve(void files.set(address, response)),
    } as unknown as Cache);
  };
  return {
    open,
    keys: () => Promise.resolve([...held.keys()]),
    delete: (name: string) =>
      stuck.has(name) ? Promise.reject(new Error("busy")) : Promise.resolve(held.delete(name)),
  };
}

const setOf = (version: string): SavedSet => ({
  version,
  built: "2026-11-28",
  bytes: 4,
  documents: [],
  files: [{ address: "", bytes: 4, hash: version }],
});

const around = (caches: ReturnType<typeof memory>, time: string, version: string) => ({
  caches,
  scope: SCOPE,
  now: () => new Date(time),
  fetch: () => Promise.resolve(new Response("page")),
  digest: () => Promise.resolve(version),
});

const fill = (caches: ReturnType<typeof memory>, version: string, time: string) =>
  fillSet(setOf(version), around(caches, time, version), () => undefined);
const versions = async (caches: ReturnType<typeof memory>) =>
  (await heldSets({ caches, scope: SCOPE })).map(({ version }) => version);

it("goes on with the newer set where the browser can't remove the older one yet, and removes it later", async () => {
  const stuck = new Set([cacheName(SCOPE, "a")]),
    caches = memory(stuck);
  await fill(caches, "a", "2026-11-28T08:00:00Z");
  await fill(caches, "b", "2026-11-29T08:00:00Z");
  await dropOthers("b", { caches, scope: SCOPE });
  expect(await versions(caches)).toEqual(["b", "a"]);
  stuck.clear();
  await dropOlder("b", { caches, scope: SCOPE });
  expect(await versions(caches)).toEqual(["b"]);
});

it("removes neither a set that is being fetched, nor a newer one, nor for a set that is not whole", async () => {
  const caches = memory();
  await fill(caches, "a", "2026-11-28T08:00:00Z");
  await fill(caches, "b", "2026-11-29T08:00:00Z");
  await (await caches.open(cacheName(SCOPE, "c"))).put(`${SCOPE}index`, new Response("half"));
  await (await caches.open("another program")).put("x", new Response("theirs"));
  await dropOlder("c", { caches, scope: SCOPE });
  await dropOlder("a", { caches, scope: SCOPE });
  expect((await caches.keys()).toSorted()).toEqual(
    ["another program", ...["a", "b", "c"].map((version) => cacheName(SCOPE, version))].toSorted(),
  );
  await dropOlder("b", { caches, scope: SCOPE });
  expect((await caches.keys()).toSorted()).toEqual(
    ["another program", cacheName(SCOPE, "b"), cacheName(SCOPE, "c")].toSorted(),
  );
});
