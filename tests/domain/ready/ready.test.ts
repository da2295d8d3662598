/** Readiness, restock and call to ready of the demo, against what was reckoned by hand (`by-hand.ts`). */
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { forceOn } from "../../../src/domain/force/force.ts";
import { findArrangement, validArrangements } from "../../../src/domain/parts/arrangements.ts";
import { standingArrangement } from "../../../src/domain/parts/lookup.ts";
import { modelOf } from "../../../src/domain/states/model.ts";
import { callToReady } from "../../../src/domain/ready/call.ts";
import { readinessOf, readyDates } from "../../../src/domain/ready/readiness.ts";
import { readyCalendar } from "../../../src/domain/ready/ready-calendar.ts";
import { restockAfter, restockOf, restockSheet } from "../../../src/domain/ready/restock.ts";
import { sayWhen } from "../../../src/domain/ready/say-ready.ts";
import { planFor } from "../../../src/domain/time/plans.ts";
import { parseMass } from "../../../src/schema/quantities.ts";
import type { Collection, Platform } from "../../../src/schema/collection.ts";
import { COOLING, CRADLE_ACTS, CRADLE_FROM_EQUIPMENT, WAITING } from "./by-hand.ts";
import { readCollection } from "../../read-collection.ts";

let collection: Collection, tern: Platform;
beforeAll(async () => {
  const files = await readCollection(resolve(import.meta.dirname, "../../../procedures"));
  collection = forceOn(files, "2026-11-28").collection;
  tern = collection.platforms.find(({ id }) => id === "tern")!;
});
const arrangement = (name: string) => findArrangement(validArrangements(tern), name)!;
const kg = (text: string) => {
  const mass = parseMass(text);
  if (!mass.ok) throw new Error(mass.message);
  return { weight: mass.value.value };
};
const sayRows = ({ rows }: ReturnType<typeof restockAfter>) =>
  rows.map(
    ({ of, count, at, reasons, acts, sure }) =>
      `${count} ${of.id} at ${at}: ${reasons.join(", ")}: ${acts.join(", ")}${sure ? "" : "?"}`,
  );

describe("readiness of the waiting trolley", () => {
  it("is by place in walking order what was reckoned by hand", () => {
    const rows = readinessOf(tern, standingArrangement(tern)!).map(({ place, stands, looks }) => [
      place.id,
      stands.map(({ item, count }) => `${count} ${item.id}`).join(", "),
      looks.map(({ line }) => `${line.every} ${line.look}`).join("; "),
    ]);
    expect(rows).toEqual(WAITING);
  });

  it("names every piece of the equipment once, wherever it stands", () => {
    for (const each of validArrangements(tern)) {
      const counted = new Map<string, number>();
      for (const { stands } of readinessOf(tern, each))
        for (const { item, count } of stands) counted.set(item.id, (counted.get(item.id) ?? 0) + count);
      expect(counted).toEqual(new Map(tern.items.map(({ id, count }) => [id, count])));
    }
  });

  it("has its dates, the earliest first", () => {
    expect(readyDates([tern]).map(({ of, line }) => `${line.until} ${of.id}`)).toEqual([
      "2027-03-01 response-bag",
      "2027-04-30 newborn-capsule",
      "2027-05-31 ventilator",
      "2027-06-30 inhaled-gas-cylinder",
    ]);
  });
});

describe("restock after a run", () => {
  it("with the cradle is what was reckoned from the equipment", () => {
    const restock = restockOf(tern, collection.service, standingArrangement(tern)!, arrangement("child-cradle"));
    expect(sayRows(restock).sort()).toEqual([...CRADLE_FROM_EQUIPMENT].sort());
    expect(restock.unsaid).toEqual([]);
  });

  it("with the cradle rests on the acts that were read from the texts", () => {
    const way = planFor(
      modelOf(tern),
      collection.service,
      standingArrangement(tern)!,
      arrangement("child-cradle"),
      kg("12 kg"),
    )!;
    const acts = way.steps.flatMap(({ step }) =>
      step.operations.map((act) =>
        act.kind === "move" ? `move ${act.count} ${act.item} ${act.from} ${act.to}` : `turn ${act.fastening} ${act.to}`,
      ),
    );
    expect(acts).toEqual(CRADLE_ACTS);
    // The second reckoning: what that list moves and opens, with what stays mounted, is what the equipment said.
    const byActs = sayRows(restockAfter(tern, arrangement("child-cradle"), [way.steps]));
    expect(byActs.sort()).toEqual([...CRADLE_FROM_EQUIPMENT].sort());
  });

  it("with the cooling unit on the waiting capsule is what was reckoned by hand", () => {
    const restock = restockOf(
      tern,
      collection.service,
      standingArrangement(tern)!,
      arrangement("newborn-capsule+cooling-unit"),
    );
    expect(sayRows(restock).sort()).toEqual([...COOLING].sort());
  });

  it("names what was mounted and has no word about afterwards", () => {
    const restock = restockAfter(tern, arrangement("child-cradle+second-ventilator"), []);
    expect(restock.unsaid.map(({ id }) => id)).toEqual(["second-hose"]);
  });

  it("leaves out nothing that has something to be done and was mounted", () => {
    for (const each of validArrangements(tern)) {
      const rows = restockAfter(tern, each, []).rows;
      const mounted = each.contents.filter(
        ({ item, place }) =>
          tern.items.find(({ id }) => id === item)!.afterRun &&
          each.configuration.fitted.some((fit) => fit.place === place),
      );
      for (const { item } of mounted) expect(rows.map(({ of }) => of.id)).toContain(item);
    }
  });
});

describe("from the call to ready", () => {
  const callFor = (platform: Platform, to: string, weight: string) =>
    callToReady(
      platform,
      collection.service,
      planFor(
        modelOf(platform),
        collection.service,
        standingArrangement(platform)!,
        findArrangement(validArrangements(platform), to)!,
        kg(weight),
      )!,
    );

  /**
   * By hand, for a cradle and 12 kg. Band: four questions of lead, 20 s each, then the hold of 20 s: 100 s. One store,
   * the kit room: 2 × 30 s. Without the walk the changeover takes 11:55, as `rerig changeover` says.
   */
  it("is the band, the walk and the changeover of the cradle", () => {
    const { stages, seconds, walks } = callFor(tern, "child-cradle", "12 kg");
    expect(walks).toEqual([{ store: "store", walkSeconds: 30 }]);
    expect(stages.map(({ stage }) => stage)).toEqual(["band", "fetch", "changeover", "supply", "card"]);
    const [band, fetch, , , card] = stages;
    expect(band).toMatchObject({ start: 0, end: 100, steps: 5 });
    expect(fetch!.start).toBe(band!.end);
    expect(fetch!.end - fetch!.start).toBe(60);
    expect(card!.end).toBe(seconds);
    // One walks while the other may begin: never quicker than without, never slower than one after the other.
    expect(seconds).toBeGreaterThanOrEqual(band!.end + 715);
    expect(seconds).toBeLessThanOrEqual(band!.end + 60 + 715);
  });

  it("grows by no more than the way there and back of each store, and never shrinks", () => {
    const longer = (walkSeconds: number): Platform => ({
      ...tern,
      places: tern.places.map((place) => (place.kind === "store" ? { ...place, walkSeconds } : place)),
    });
    for (const to of ["child-cradle", "deck-harness+gas-shelf", "newborn-capsule+cooling-unit"]) {
      const weight = to.startsWith("deck") ? "60 kg" : to.startsWith("child") ? "12 kg" : "3 kg";
      const near = callFor(longer(10), to, weight),
        far = callFor(longer(70), to, weight);
      expect(far.seconds).toBeGreaterThanOrEqual(near.seconds);
      expect(far.seconds - near.seconds).toBeLessThanOrEqual(2 * 60 * near.walks.length);
    }
  });

  it("counts no walk where the platform gives none, and says so", () => {
    const silent: Platform = {
      ...tern,
      places: tern.places.map(({ walkSeconds: _, ...place }) => place),
    };
    const { stages, walks } = callFor(silent, "child-cradle", "12 kg");
    expect(walks).toEqual([{ store: "store" }]);
    expect(stages.map(({ stage }) => stage)).not.toContain("fetch");
  });
});

describe("the sheet of a configuration with all its options", () => {
  it("says of each row with which options it holds: asked of every arrangement by itself, it is the same", () => {
    for (const configuration of tern.configurations) {
      const all = validArrangements(tern).filter((each) => each.configuration.id === configuration.id);
      const sheet = restockSheet(tern, collection.service, standingArrangement(tern)!, all);
      for (const each of all) {
        const has = (options: readonly { readonly id: string }[]) =>
          options.some(({ id }) => each.options.some((option) => option.id === id));
        const told = sheet.rows.filter(
          ({ when }) =>
            when.kind === "always" ||
            ("options" in when ? has(when.options) === (when.kind === "any") : when.arrangements.includes(each)),
        );
        const alone = restockOf(tern, collection.service, standingArrangement(tern)!, each);
        expect(sayRows({ ...alone, rows: told }).sort()).toEqual(sayRows(alone).sort());
      }
    }
  });

  it("says where the bag is in words (by hand: two options of the capsule send it to the locker)", () => {
    const all = validArrangements(tern).filter((each) => each.configuration.id === "newborn-capsule");
    const { rows } = restockSheet(tern, collection.service, standingArrangement(tern)!, all);
    expect(rows.filter(({ of }) => of.id === "response-bag").map(({ at, when }) => `${at}: ${sayWhen(when)}`)).toEqual([
      "lower-bay: without gas shelf or cooling unit",
      "vehicle-locker: with gas shelf or cooling unit",
    ]);
  });
});

describe("the calendar of dates", () => {
  it("is the same twice, folded at 75 octets, with CRLF; a date that moves keeps its UID (RFC 5545, 3.1)", () => {
    const text = readyCalendar(collection);
    expect(readyCalendar(collection)).toBe(text);
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    for (const line of text.split("\r\n")) expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    const moved = readyCalendar({
      ...collection,
      platforms: collection.platforms.map((platform) => ({
        ...platform,
        items: platform.items.map((item) => ({
          ...item,
          ...(item.ready
            ? { ready: item.ready.map((line) => (line.until ? { ...line, until: "2028-01-01" } : line)) }
            : {}),
        })),
      })),
    });
    const uids = (calendar: string) => calendar.match(/^UID:.*$/gm)!.sort();
    const sequences = (calendar: string) => calendar.match(/^SEQUENCE:\d+/gm)!.map((line) => Number(line.slice(9)));
    expect(uids(moved)).toEqual(uids(text));
    expect(Math.min(...sequences(moved))).toBeGreaterThan(Math.max(...sequences(text)));
  });
});
