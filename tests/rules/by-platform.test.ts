/**
 * A rule that says that it judges each platform alone finds in several platforms what it finds in each of them: the
 * platforms of all small collections stand in one, beside the one of its own fixture, which has its fault. Common
 * practice, no source.
 */
import { existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import type { Remark, Rule } from "../../src/findings/finding.ts";
import { rules } from "../../src/rules/all.ts";
import type { Collection, Where } from "../../src/schema/collection.ts";
import { readCollection } from "../read-collection.ts";
import { FIXTURES_TODAY, layOver } from "./judge.ts";

const root = resolve(import.meta.dirname, "../fixtures"),
  work = mkdtempSync(join(tmpdir(), "rerig-alone-")),
  context = { today: FIXTURES_TODAY, damaged: new Set<string>() };

afterAll(() => rmSync(work, { recursive: true }));

/** What it says, each as a line, sorted; the same place and words once, as findings are. */
function said(rule: Rule, collection: Collection): string[] {
  const lines = new Set<string>();
  rule.check!(collection, (where: Where, remark: Remark) => lines.add(JSON.stringify([where, remark])), context);
  return [...lines].sort();
}

const others = Promise.all(
  readdirSync(join(root, "collections")).map((name) => readCollection(join(root, "collections", name))),
);
const ofPlatforms = rules.filter(({ byPlatform }) => byPlatform);

describe("a rule that judges each platform alone", () => {
  it("is one of several", () => expect(ofPlatforms.length).toBeGreaterThan(8));

  it.each(ofPlatforms.map((rule) => [rule.id, rule] as const))("%s finds the same in all", async (id, rule) => {
    const fixtures = readdirSync(join(root, "rules", id.split("/")[0]!)).map((name) => `${id.split("/")[0]!}/${name}`),
      own = fixtures.filter(
        (name) => (name === id || name.startsWith(`${id}.`)) && existsSync(join(root, "rules", name, "not-ok")),
      );
    expect(own.length).toBeGreaterThan(0);
    for (const name of own) {
      const collection = await readCollection(layOver(join(root, "rules", name, "not-ok"), work)),
        ids = new Set(collection.platforms.map((platform) => platform.id));
      const rest = (await others).flatMap(({ platforms }) => platforms.filter((platform) => !ids.has(platform.id)));
      const all = { ...collection, platforms: [...rest.slice(0, 5), ...collection.platforms, ...rest.slice(5)] };
      const alone = all.platforms.flatMap((platform) => said(rule, { ...all, platforms: [platform] }));
      expect(said(rule, collection).length, name).toBeGreaterThan(0);
      expect(said(rule, all), name).toEqual([...new Set(alone)].sort());
    }
  });
});
