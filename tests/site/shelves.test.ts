/**
 * The lists of procedures stand in the order in which changeovers do the work (design, section 7: the same order serves
 * the study path, the lists of procedures and the sign-off sheets). Compared with the order of phases written by hand.
 */
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { usesOf } from "../../src/domain/parts/builds.ts";
import { compareByTrade, phaseOf, PHASES } from "../../src/domain/parts/phase.ts";
import { studyPath } from "../../src/domain/study/study-path.ts";
import { shelvesOf } from "../../src/site/shelves.ts";
import { readCollection } from "../read-collection.ts";

const root = resolve(import.meta.dirname, "../..");

describe.each(["procedures", "tests/fixtures/collections/sled", "tests/fixtures/collections/theatre"])(
  "%s",
  (folder) => {
    it("lists procedures by the order of the trade, on shelves and on the study path", async () => {
      const { platforms } = await readCollection(resolve(root, folder));
      for (const platform of platforms) {
        const order = platform.procedures.toSorted(compareByTrade(platform)).map(({ id }) => id);
        const rank = (id: string) => order.indexOf(id);
        const shelves = shelvesOf(platform);
        expect(shelves.flatMap(({ procedures }) => procedures.map(({ id }) => id)).sort()).toEqual([...order].sort());
        for (const { title, procedures } of shelves) {
          const own = procedures.map(({ id }) => rank(id));
          if (title !== "Build a configuration") expect(own).toEqual(own.toSorted((a, b) => a - b));
          const phases = procedures.map((each) => PHASES.indexOf(phaseOf(platform, each)));
          if (title !== "Withdrawn" && title !== "Build a configuration")
            expect(phases).toEqual(phases.toSorted((a, b) => a - b));
        }
        // On the path what builds an arrangement comes in the order of the trade, up to its card; what each arrangement
        // has alike (a bag that goes back to its bay) comes after what is its own.
        const legs = studyPath(platform).filter(({ entries }) =>
          entries.some(({ title }) => title === "Its checklist"),
        );
        const idOf = (address: string) => address.split("/").at(-2)!;
        const approved = platform.configurations.filter(({ status }) => status === "approved");
        const isShared = (address: string) => {
          const { configurations, takesDown } = usesOf(
            platform,
            platform.procedures.find(({ id }) => id === idOf(address))!,
          );
          return approved.length > 1 && approved.every((each) => [...configurations, ...takesDown].includes(each));
        };
        for (const { entries } of legs) {
          const card = entries.findIndex(({ title }) => title === "Its checklist");
          const built = entries.slice(0, card).filter(({ kind }) => kind === "lesson");
          const parts = [
            built.filter(({ address }) => !isShared(address)),
            built.filter(({ address }) => isShared(address)),
          ];
          expect(built).toEqual(parts.flat());
          for (const part of parts) {
            const own = part.map(({ address }) => rank(idOf(address)));
            expect(own).toEqual(own.toSorted((a, b) => a - b));
          }
        }
      }
    });
  },
);
