/**
 * Lines that an option makes untrue, planted one at a time in every collection of the tests: each is found at its own
 * line, and nothing else is found as a contradiction. What an option makes untrue is worked out by the naive model of
 * where each piece is and how each fastening stands. That a checklist asks nothing that is not so is common practice,
 * no source.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { type Arrangement, validArrangements } from "../../src/domain/parts/arrangements.ts";
import type { Check, Platform } from "../../src/schema/collection.ts";
import { naiveStart } from "../domain/states/naive-run.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";
import { placesOf } from "./judge.ts";

const TODAY = "2026-11-28",
  root = resolve(import.meta.dirname, "../.."),
  work = mkdtempSync(join(tmpdir(), "rerig-contradictions-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Contradictions of a copy of a collection of which one file was changed: `error file:line`. */
async function contradictionsWith(folder: string, file: string, change: (text: string) => string): Promise<string[]> {
  const copy = mkdtempSync(join(work, "c-"));
  cpSync(join(root, folder), copy, { recursive: true });
  const path = join(copy, file);
  writeFileSync(path, change(readFileSync(path, "utf8")));
  const places = await placesOf("card/contradiction", copy, TODAY);
  rmSync(copy, { recursive: true });
  return places;
}

/** The platforms of a collection as they are judged: a revision in review as if it were in force. */
async function platformsOf(folder: string): Promise<{ platforms: Platform[]; otherNames: OtherNames }> {
  const { platforms, service } = await readCollection(join(root, folder));
  const asIfInForce = <T extends { readonly status: string }>(all: readonly T[]) =>
    all.map((each) => (each.status === "in review" ? { ...each, status: "approved" as const } : each));
  return {
    platforms: platforms.map((platform) => ({
      ...platform,
      configurations: asIfInForce(platform.configurations),
      options: asIfInForce(platform.options),
    })),
    otherNames: service.otherNames ?? {},
  };
}

/** Where the pieces of each item are, and how each fastening stands: id -> in words. */
function standing(platform: Platform, { configuration, options }: Arrangement): Map<string, string> {
  let fitted = configuration.fitted.map(({ item, place, count }) => ({ item, place, count }));
  for (const option of options) {
    const taken = [...option.empty, ...option.fitted].map(({ place }) => place);
    fitted = [...fitted.filter(({ place }) => !taken.includes(place)), ...option.fitted];
  }
  const { pieces, fastenings } = naiveStart(
    platform,
    fitted,
    new Map(configuration.fastenings.map(({ fastening, state }) => [fastening, state])),
  );
  return new Map([
    ...platform.items.map(({ id }): [string, string] => [
      id,
      [...pieces]
        .flatMap(([piece, place]) => (piece.split("#")[0] === id ? [place] : []))
        .toSorted()
        .join(),
    ]),
    ...platform.fastenings.map(({ id }): [string, string] => [id, fastenings.get(id) ?? "not there"]),
    ...platform.places.map(({ id }): [string, string] => [
      id,
      [...pieces]
        .flatMap(([piece, place]) => (place === id ? [piece] : []))
        .toSorted()
        .join(),
    ]),
  ]);
}

type OtherNames = Readonly<Record<string, readonly string[]>>;

/** What a line is about: what it says, else what has its name, or another name of it. */
function subjectsOf(
  { items, places, fastenings }: Platform,
  { about, challenge }: Check,
  otherNames: OtherNames,
): readonly string[] {
  const said = challenge.toLowerCase(),
    others = Object.keys(otherNames).filter((word) => otherNames[word]!.some((other) => other.toLowerCase() === said));
  const names = [said, ...others.map((word) => word.toLowerCase())];
  const named = [...items, ...places, ...fastenings].filter(({ name }) => names.includes(name.toLowerCase()));
  return about ?? named.map(({ id }) => id);
}

const linesOf = (text: string) => text.split("\n").length;

describe.each(COLLECTIONS.filter((folder) => folder !== "procedures"))(
  "a line that an option makes untrue, %s",
  (folder) => {
    it("is found at its line, whatever it is about", async () => {
      const { platforms } = await platformsOf(folder);
      let planted = 0;
      for (const platform of platforms) {
        const arrangements = validArrangements(platform);
        for (const configuration of platform.configurations) {
          const of = arrangements.filter((each) => each.configuration === configuration),
            plain = of.find(({ options }) => options.length === 0);
          if (!plain) continue;
          const is = standing(platform, plain);
          // One item and one fastening for each option: whatever else it changes is changed alike.
          for (const with_ of of.filter(({ options }) => options.length === 1)) {
            const now = standing(platform, with_),
              unlike = [...is.keys()].filter((id) => is.get(id) !== now.get(id));
            const about = [platform.items, platform.fastenings].flatMap(
              (all) => all.find(({ id }) => unlike.includes(id))?.id ?? [],
            );
            for (const id of about) {
              const text = readFileSync(join(root, folder, configuration.file), "utf8").trimEnd();
              const found = await contradictionsWith(
                folder,
                configuration.file,
                () => `${text}\n\n::check[Planted line]{about=${id} answer="as it was"}\n`,
              );
              expect([id, with_.name, new Set(found)]).toEqual([
                id,
                with_.name,
                new Set([`error ${configuration.file}:${linesOf(text) + 2}`]),
              ]);
              planted += 1;
            }
          }
        }
      }
      const hasOptions = platforms.some(({ options }) => options.length > 0);
      expect(planted > 0).toBe(hasOptions);
    }, 300_000);

    it("is found where an option's line no longer says whose place it takes", async () => {
      const { platforms, otherNames } = await platformsOf(folder);
      for (const platform of platforms)
        for (const option of platform.options)
          for (const { replaces } of option.checks.filter((check) => check.replaces !== undefined)) {
            const whole = `replaces="${replaces!}"`,
              found = await contradictionsWith(folder, option.file, (text) => text.replace(` ${whole}`, ""));
            const lines = validArrangements(platform)
              .filter(({ options }) => options.length === 1 && options[0] === option)
              .flatMap((arrangement) => {
                const is = standing(platform, { ...arrangement, options: [] }),
                  now = standing(platform, arrangement);
                return arrangement.configuration.checks
                  .filter(({ challenge }) => challenge === replaces)
                  .filter((check) => subjectsOf(platform, check, otherNames).some((id) => is.get(id) !== now.get(id)))
                  .map(({ where }) => `error ${where.file}:${where.line}`);
              });
            // What is found in a frozen issue stands at the head of its file: its lines may stand there no more.
            const heads = platform.configurations.map(({ file }) => `error ${file}:1`);
            const here = found.filter((each) => !heads.includes(each));
            expect([option.id, whole, new Set(here)]).toEqual([option.id, whole, new Set(lines)]);
          }
    }, 300_000);
  },
);
