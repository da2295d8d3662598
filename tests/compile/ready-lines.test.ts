/** Lines of readiness, contents, walks and demands as an educator gets them wrong: one finding each, in her words. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled"),
  work = mkdtempSync(join(tmpdir(), "rerig-ready-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const BOTTLE = "oxygen-bottle: { name: Oxygen bottle, mass: 3.4 kg, home: hut }";

/** The sled with its oxygen bottle written otherwise, and lines added to service.yaml. */
async function read(bottle: string, service = "") {
  const folder = mkdtempSync(join(work, "c-")),
    findings = new Findings();
  cpSync(sled, folder, { recursive: true });
  const kit = join(folder, "sled/equipment.yaml"),
    text = readFileSync(kit, "utf8");
  expect(text).toContain(BOTTLE);
  writeFileSync(kit, text.replace(BOTTLE, BOTTLE.replace(" }", `, ${bottle} }`).replace(",  }", " }")));
  writeFileSync(join(folder, "service.yaml"), readFileSync(join(folder, "service.yaml"), "utf8") + service);
  const collection = await loadCollection(folder, findings);
  return { collection, said: findings.list.map(({ rule, message, fix }) => `${rule}: ${message}. ${fix}`) };
}

describe("lines of readiness", () => {
  it("are read with all that they say", async () => {
    const { collection, said } = await read(
      "ready: [{ every: week, look: stamp in date, until: 2027-03-01 }], after-run: refill, contents: 430 l, runs: 4 h",
      "reserve: 2\ndemands: [{ name: Oxygen, litres: 5, from: [oxygen-bottle] }]\n",
    );
    expect(said).toEqual([]);
    const bottle = collection.platforms[0]!.items.find(({ id }) => id === "oxygen-bottle")!;
    expect(bottle).toMatchObject({
      ready: [{ every: "week", look: "stamp in date", until: "2027-03-01" }],
      afterRun: ["refill"],
      contentsLitres: 430,
      runsSeconds: 14_400,
    });
    expect(collection.service).toMatchObject({ reserve: 2, demands: [{ name: "Oxygen", litres: 5 }] });
  });

  it.each([
    ["ready: [{ every: daily, look: stamp }]", "", "expected `shift`, `day`, `week` or `run`"],
    ["ready: [{ look: stamp }]", "", "says neither how often somebody looks nor until when it is good"],
    ["ready: [{ every: day }]", "", "`look` is missing"],
    ["ready: [{ every: day, look: stamp, until: 2027-02-30 }]", "", "there is no day `2027-02-30`"],
    ["after-run: wash", "", "expected `clean`, `charge`, `refill` or `reseal`"],
    ["contents: 430", "", "the unit of `430` is missing"],
    ["contents: 0 l", "", "holds nothing"],
    ["runs: long", "", "expected a duration"],
    ["contents: 430 l", "reserve: 0.5\n", "expected a number from 1"],
    ["contents: 430 l", "demands: [{ name: Oxygen, litres: 0 }]\n", "above 0"],
    ["contents: 430 l", "demands: [{ name: Oxygen, litres: 5, from: [oxygen-botle] }]\n", "oxygen-bottle"],
    ["runs: 4 h", "demands: [{ name: Oxygen, litres: 5, from: [oxygen-bottle] }]\n", "how much gas it holds"],
  ])("%s %s: one finding that says what was expected", async (bottle, service, expected) => {
    const { said } = await read(bottle, service);
    expect(said).toHaveLength(1);
    expect(said[0]).toContain(expected);
  });

  it("a walk to what travels is a mistake, a walk to a store is not", async () => {
    const folder = mkdtempSync(join(work, "c-"));
    cpSync(sled, folder, { recursive: true });
    const file = join(folder, "sled/platform.yaml"),
      text = readFileSync(file, "utf8");
    const withWalk = text.replace(/kind: (store|mount)/g, "kind: $1, walk: 30 s");
    expect(withWalk.match(/walk/g)!.length).toBeGreaterThan(1);
    writeFileSync(file, withWalk);
    const findings = new Findings(),
      collection = await loadCollection(folder, findings);
    const mounts = text.match(/kind: mount/g)!.length;
    expect(findings.list.filter(({ message }) => message.includes("nobody walks to what travels"))).toHaveLength(
      mounts,
    );
    expect(findings.list).toHaveLength(mounts);
    for (const { kind, walkSeconds } of collection.platforms[0]!.places)
      expect(walkSeconds).toBe(kind === "store" ? 30 : undefined);
  });
});
