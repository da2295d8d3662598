/**
 * No card contradicts itself or what stands on the platform: every printed card, of every arrangement and band, is read
 * again from its HTML and compared with a second, naive model of where each piece is. That a checklist asks nothing
 * that is not so, and that a drawing shows what is there, is common practice, no source.
 */
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { bandCardsOf, contentForArrangement } from "../../src/domain/cards/band-cards.ts";
import { cardContentOf } from "../../src/domain/cards/card-content.ts";
import { contentsInForce } from "../../src/domain/cards/cards-issued.ts";
import { checkerCardOf } from "../../src/domain/cards/checker-card.ts";
import { contradictionsOf } from "../../src/domain/cards/subjects.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { type Arrangement, validArrangements } from "../../src/domain/parts/arrangements.ts";
import type { ConfigurationContent } from "../../src/domain/records/content.ts";
import { contentOf } from "../../src/domain/records/freeze.ts";
import { formatFor } from "../../src/paper/card-format.ts";
import { layoutCard } from "../../src/paper/card-layout.ts";
import { drawCard } from "../../src/paper/draw-card.ts";
import { drawChecker } from "../../src/paper/draw-checker.ts";
import { printCard } from "../../src/paper/printed-card.ts";
import type { Band, Check, Collection, Configuration, Option, Platform } from "../../src/schema/collection.ts";
import { naiveStart, type NaiveState } from "../domain/states/naive-run.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";
import { readCollection } from "../read-collection.ts";

const load = async (folder: string) =>
  forceOn(await readCollection(join(import.meta.dirname, "../..", folder)), "2026-11-28").collection;

/** What the paper says. */
interface Read {
  readonly parts: readonly {
    readonly title: string;
    readonly lines: readonly { readonly number: number; readonly challenge: string; readonly aside: string }[];
    /** `item, place` -> pieces, as the option changes them. */
    readonly changes: ReadonlyMap<string, number>;
  }[];
  readonly looks: readonly string[];
  readonly counts: readonly { readonly number: number; readonly what: string; readonly count: number }[];
  /** Numbers on the drawing; absent without one. */
  readonly drawn?: readonly number[];
  /** How many things are drawn, that are fitted. */
  readonly boxes: number;
  readonly headings: readonly string[];
}

const textOf = (html: string) =>
  html
    .replace(/<[^>]*>/g, "")
    .replace(
      /&(amp|lt|gt|quot|apos);/g,
      (_, name: string) => ({ amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" })[name]!,
    )
    .replace(/\s+/g, " ")
    .trim();
const all = (html: string, pattern: RegExp) => [...html.matchAll(pattern)].map((match) => match[1]!);

/** Reads a printed card from its HTML, in the order in which it stands on the paper. */
function readPaper(html: string): Read {
  const parts: {
    title: string;
    lines: { number: number; challenge: string; aside: string }[];
    changes: Map<string, number>;
  }[] = [{ title: "", lines: [], changes: new Map() }];
  const looks: string[] = [];
  const blocks = [
    /<div class="c-part"><h3>(?<part>.*?)<\/h3>/,
    /<p class="c-change">(?<change>.*?)<\/p>/,
    /<li class="c-row [^"]*">(?<row>.*?)<\/li>/,
    /<li class="c-hold">(?<hold>.*?)<\/li>/,
  ];
  const pieces = html.matchAll(new RegExp(blocks.map(({ source }) => source).join("|"), "gs"));
  for (const { groups } of pieces) {
    const { part, change, row, hold } = groups!;
    // A heading that is said again goes on with what stood over the page, and with nothing else.
    if (part !== undefined && textOf(part) === `${parts.at(-1)!.title}, continued`) continue;
    if (part !== undefined) parts.push({ title: textOf(part), lines: [], changes: new Map() });
    else if (change !== undefined)
      for (const each of textOf(change).replace("Count: ", "").split("; ")) {
        const [, place, pieces] = /^(.*?): (.*)$/.exec(each)!;
        for (const [, item, count] of pieces!.matchAll(/(?:^|, )(.*?) (\d+|none)(?=, |$)/g))
          parts.at(-1)!.changes.set(`${item}, ${place}`, count === "none" ? 0 : Number(count));
      }
    else if (row !== undefined)
      parts.at(-1)!.lines.push({
        number: Number(/<span class="hide">(\d+)/.exec(row)![1]),
        challenge: textOf(/<p class="c-q[^"]*"><span>(.*?)<\/span>/s.exec(row)![1]!),
        aside: textOf(/<em>(.*?)<\/em>/s.exec(row)?.[1] ?? ""),
      });
    else looks.push(...all(hold!, /<b>(.*?)<\/b>/gs).map((look) => textOf(look).split(": ")[0]!));
  }
  const table = /<div class="c-count">.*?<\/ul><\/div>/s.exec(html)?.[0] ?? "";
  const counts = [...table.matchAll(/<li><span><b>(\d+)<\/b> (.*?)<\/span> <b>(\d+)<\/b>/gs)].map(
    ([, number, what, count]) => ({ number: Number(number), what: textOf(what!), count: Number(count) }),
  );
  const drawing = /<svg class="c-mp".*?<\/svg>/s.exec(html)?.[0];
  return {
    parts,
    looks,
    counts,
    ...(drawing
      ? {
          drawn: all(drawing, /<text x[^>]*>(\d+)<\/text>/g)
            .map(Number)
            .sort((a, b) => a - b),
        }
      : {}),
    boxes: drawing ? all(drawing, /(<rect class="c-fit)/g).length : 0,
    headings: all(html, /<h3>(.*?)<\/h3>/gs).map(textOf),
  };
}

/** Where everything is: the configuration, then each option on top of it, read from the files' own words. */
function naiveState(platform: Platform, configuration: Configuration, options: readonly Option[]): NaiveState {
  let fitted = configuration.fitted.map(({ item, place, count }) => ({ item, place, count }));
  for (const option of options) {
    const taken = [...option.empty, ...option.fitted].map(({ place }) => place);
    fitted = [...fitted.filter(({ place }) => !taken.includes(place)), ...option.fitted];
  }
  return naiveStart(
    platform,
    fitted,
    new Map(configuration.fastenings.map(({ fastening, state }) => [fastening, state])),
  );
}

const words = (text: string) => text.trim().toLowerCase().replace(/\s+/g, " ").replace(/s$/, "");

/** How what a line is about stands, in words; empty for what it is about that nobody knows. */
function wayOf(
  check: Check,
  platform: Platform,
  { pieces, fastenings }: NaiveState,
  otherNames: Readonly<Record<string, readonly string[]>>,
): string {
  const meant = [
    check.challenge,
    ...Object.keys(otherNames).filter((word) =>
      otherNames[word]!.some((other) => words(other) === words(check.challenge)),
    ),
  ].map(words);
  const isIt = ({ id, name }: { id: string; name: string }) =>
    check.about ? check.about.includes(id) : meant.includes(words(name));
  const list = (pick: (item: string, place: string) => string | undefined) =>
    [...pieces]
      .flatMap(([piece, place]) => pick(piece.split("#")[0]!, place) ?? [])
      .sort()
      .join(", ");
  return [
    ...platform.items
      .filter(isIt)
      .map(({ id }) => list((item, place) => (item === id ? `${item} in ${place}` : undefined))),
    ...platform.places.filter(isIt).map(({ id }) => list((item, place) => (place === id ? item : undefined))),
    ...platform.fastenings.filter(isIt).map(({ id }) => fastenings.get(id) ?? "not there"),
  ].join("; ");
}

/** `item name, place name` -> pieces there. */
function countsOf({ items, places }: Platform, { pieces }: NaiveState): Map<string, number> {
  const found = new Map<string, number>();
  for (const [piece, place] of pieces) {
    const item = items.find(({ id }) => id === piece.split("#")[0])!;
    const key = `${item.name}, ${places.find(({ id }) => id === place)?.name ?? place}`;
    found.set(key, (found.get(key) ?? 0) + 1);
  }
  return found;
}

/** What is wrong with a card that is read with what is fitted, in words; `plain`: every option stands apart on it. */
function faultsOf(
  read: Read,
  plain: boolean,
  platform: Platform,
  { configuration, options }: Arrangement,
  otherNames: Readonly<Record<string, readonly string[]>>,
): string[] {
  const state = naiveState(platform, configuration, options),
    counts = countsOf(platform, state);
  const faults: string[] = [];
  const titleOf = (part: string) => part.replace(/^(If fitted|Fitted always[^:]*): /, "");
  const parts = read.parts.filter(({ title }) => !title || options.some((option) => option.title === titleOf(title)));
  if (!plain && parts.length < read.parts.length) faults.push("speaks of an option that is not fitted");
  const standing: { record: Configuration | Option; check: Check }[] = [];
  for (const { title, lines } of parts) {
    const record = title ? options.find((option) => option.title === titleOf(title))! : configuration;
    for (const { number, challenge, aside } of lines) {
      const check = record.checks.find((each) => each.challenge === challenge);
      if (!check) {
        faults.push(`line ${number} is nobody's: ${challenge}`);
        continue;
      }
      const isLeftOut = options.some((option) => aside.includes(`With ${option.title.toLowerCase()}: line`));
      if (isLeftOut) continue;
      standing.push({ record, check });
      const written = naiveState(platform, configuration, record === configuration ? [] : [record as Option]);
      const [was, is] = [written, state].map((each) => wayOf(check, platform, each, otherNames));
      if (was !== is) faults.push(`line ${number}, ${challenge}: ${was} is written, ${is} is so`);
    }
  }
  // Nothing is lost: each written line is read, or one that takes its place is.
  for (const record of [configuration, ...options])
    for (const check of record.checks)
      if (
        !standing.some(
          (each) =>
            each.check === check ||
            (each.record !== configuration &&
              [each.check.challenge, each.check.replaces].some(
                (said) => said && words(said) === words(check.challenge),
              )),
        )
      )
        faults.push(`nobody reads ${check.challenge}`);
  const told = new Map(read.counts.map(({ what, count }) => [what, count]));
  for (const { changes } of parts) for (const [what, count] of changes) told.set(what, count);
  for (const [what, count] of told)
    if (count !== (counts.get(what) ?? 0))
      faults.push(`count of ${what}: ${count} is told, ${counts.get(what) ?? 0} is so`);
  const fitted = [configuration, ...options].flatMap((record) => record.fitted);
  for (const { item, place } of fitted) {
    const nameOf = (list: readonly { id: string; name: string }[], id: string) =>
      list.find((each) => each.id === id)!.name;
    const key = `${nameOf(platform.items, item)}, ${nameOf(platform.places, place)}`;
    if ((counts.get(key) ?? 0) > 0 && !told.get(key)) faults.push(`nobody counts ${key}`);
  }
  return faults;
}

/** Every card of a configuration, as HTML, with what it is for. */
function* papersOf(collection: Collection, platform: Platform, configuration: Configuration) {
  const format = formatFor(collection.service.cards.paper);
  const arrangements = validArrangements(platform).filter((each) => each.configuration === configuration);
  const draw = (options: { band?: Band; arrangement?: Arrangement }) => {
    const card = printCard(collection, platform, configuration, options);
    return { card, html: drawCard(card, layoutCard(card, format)), layout: layoutCard(card, format) };
  };
  const own = contentOf(configuration, platform) as ConfigurationContent;
  const bands = bandCardsOf(own, contentsInForce(platform)).map(({ band }) => band);
  for (const arrangement of arrangements) {
    for (const band of [undefined, ...bands]) {
      if (band && !contentForArrangement(own, contentsInForce(platform), arrangement, band)) continue;
      const part = band ? { band } : {};
      const holds = !band || meets(band, arrangement.band);
      if (!holds) continue;
      const whole = draw(part);
      // Whom the card is for needs these options: the arrangement without them is none of theirs.
      const needs = whole.card.parts.flatMap(({ title }) => /^Fitted always: (.*)$/.exec(title ?? "")?.[1] ?? []);
      if (needs.some((title) => !arrangement.options.some((option) => option.title === title))) continue;
      yield { arrangement, plain: true, ...whole };
      if (arrangement.options.length > 0) yield { arrangement, plain: false, ...draw({ ...part, arrangement }) };
    }
  }
}

function meets(a: Band, b: Band): boolean {
  return (["weight", "age"] as const).every((key) => {
    const lower = (x: Band[typeof key], y: Band[typeof key]) =>
      !x.to || !y.from || y.from.value < x.to.value || (y.from.value === x.to.value && y.from.owned && x.to.owned);
    return lower(a[key], b[key]) && lower(b[key], a[key]);
  });
}

let demo: Collection;
beforeAll(async () => {
  demo = await load("procedures");
});

describe("every printed card", () => {
  it.each(COLLECTIONS)(
    "says, counts and draws what is there, in each arrangement and band: %s",
    async (folder) => {
      const collection = folder === "procedures" ? demo : await load(folder);
      let cards = 0;
      for (const platform of collection.platforms)
        for (const configuration of platform.configurations)
          for (const { arrangement, plain, html, card, layout } of papersOf(collection, platform, configuration)) {
            cards++;
            const read = readPaper(html);
            const name = `${plain ? "all options" : "fitted"}: ${arrangement.name}, ${card.band}`;
            expect([name, faultsOf(read, plain, platform, arrangement, collection.service.otherNames ?? {})]).toEqual([
              name,
              [],
            ]);
            expect([name, layout.tooLongMm]).toEqual([name, 0]);
            // What the drawing numbers is what is counted; and says for what it stands.
            const needed = read.parts.flatMap(
              ({ title }) => /^Fitted always: (.*)$/.exec(title)?.[1]?.toLowerCase() ?? [],
            );
            const apart = plain && read.parts.length > 1;
            const standsFor = needed.length > 0 ? `with ${needed.join(" and ")}` : "with no option";
            for (const heading of ["Where it stands", "Count", "Loaded"])
              for (const said of read.headings.filter((each) => each.startsWith(heading)))
                expect([name, said]).toEqual([name, apart ? `${heading}, ${standsFor}` : heading]);
            if (card.plan && !plain) expect([name, read.drawn !== undefined]).toEqual([name, true]);
            if (read.drawn)
              expect([name, read.drawn]).toEqual([
                name,
                placedNumbers(
                  platform,
                  plain
                    ? configuration.options.flatMap(
                        ({ id }) =>
                          platform.options.find(
                            (each) => each.id === id && needed.includes(each.title.toLowerCase()),
                          ) ?? [],
                      )
                    : arrangement.options,
                  read,
                  configuration,
                ),
              ]);
          }
      expect(cards).toBeGreaterThan(2);
    },
    120_000,
  );

  it("of the demo that is planted with contradictions is found out at its line, by the paper and by the rule", () => {
    const [tern] = demo.platforms;
    const planted: Platform = {
      ...tern!,
      options: tern!.options.map((option) => ({
        ...option,
        checks: option.checks.map(({ replaces: _, ...check }) => check),
      })),
    };
    const capsule = planted.configurations.find(({ id }) => id === "newborn-capsule")!;
    const collection = { ...demo, platforms: [planted] };
    const faults = [...papersOf(collection, planted, capsule)].flatMap(({ arrangement, plain, html }) =>
      faultsOf(readPaper(html), plain, planted, arrangement, demo.service.otherNames ?? {}).map(
        (fault) => `${plain ? "all" : "fitted"} ${arrangement.name} ${fault.split(":")[0]}`,
      ),
    );
    const line = capsule.checks.findIndex(({ challenge }) => challenge === "Warming mattress") + 1;
    expect(faults).toContain(`all newborn-capsule+cooling-unit line ${line}, Warming mattress`);
    expect(faults).toContain(`fitted newborn-capsule+cooling-unit line ${line}, Warming mattress`);
    expect(faults.every((fault) => fault.includes("cooling-unit") && fault.endsWith("Warming mattress"))).toBe(true);
    expect(contradictionsOf(planted, capsule).map(({ check }) => check.challenge)).toEqual(["Warming mattress"]);
  });

  it("finds every planted line, count and number that is not so", () => {
    const [tern] = demo.platforms;
    const capsule = tern!.configurations.find(({ id }) => id === "newborn-capsule")!;
    const papers = [...papersOf(demo, tern!, capsule)];
    const cooled = papers.find(({ arrangement, plain }) => !plain && arrangement.name.endsWith("+cooling-unit"))!;
    const faults = (html: string) => faultsOf(readPaper(html), false, tern!, cooled.arrangement, {});
    expect(faults(cooled.html)).toEqual([]);
    expect(faults(cooled.html.replace("Cooling mat, Capsule mattress", "Response bag, Lower bay")).length).toBe(2);
    expect(faults(cooled.html.replace("<span>Warmer slot</span>", "<span>Warming mattress</span>"))).toHaveLength(3);
    expect(readPaper(cooled.html.replace(/(<svg class="c-mp".*?<text x[^>]*>)2</s, "$19<")).drawn).not.toEqual(
      readPaper(cooled.html).drawn,
    );
  });
});

/** Numbers of the counted things that stand where something says where: worked out from the places' own numbers. */
function placedNumbers(
  platform: Platform,
  options: readonly Option[],
  { counts }: Read,
  configuration: Configuration,
): number[] {
  const { pieces } = naiveState(platform, configuration, options);
  const isPlaced = (id: string, depth = 0): boolean => {
    const place = platform.places.find((each) => each.id === id);
    if (!place || depth > 20) return false;
    if (place.on === undefined) return place.kind !== "store" && place.xMm !== undefined;
    const under = pieces.get(`${place.on}#0`);
    return under !== undefined && isPlaced(under, depth + 1);
  };
  return counts
    .filter(({ what }) =>
      platform.places.some(
        ({ id, name }) => what.endsWith(`, ${name}`) && [...pieces.values()].includes(id) && isPlaced(id),
      ),
    )
    .map(({ number }) => number);
}

describe("the second look", () => {
  it("asks in an arrangement what its card asks, and says on the whole card with what a question is not asked", () => {
    const [tern] = demo.platforms;
    for (const configuration of tern!.configurations) {
      const own = contentOf(configuration, tern!) as ConfigurationContent;
      for (const { arrangement, plain, card } of papersOf(demo, tern!, configuration)) {
        if (plain || card.isPart) continue;
        const content = contentForArrangement(own, contentsInForce(tern!), arrangement);
        const asked = checkerCardOf(content).sittings.flat();
        const lines = card.parts.flatMap(({ lines: each }) => each.filter((line) => line.kind === "check"));
        expect(
          asked
            .filter(({ line }) => line > 0)
            .map(({ thing }) => thing)
            .sort(),
        ).toEqual(lines.map((line) => (line.kind === "check" ? line.challenge : "")).sort());
      }
    }
    const capsule = tern!.configurations.find(({ id }) => id === "newborn-capsule")!;
    const card = printCard(demo, tern!, capsule);
    const whole = contentForArrangement(
      contentOf(capsule, tern!) as ConfigurationContent,
      contentsInForce(tern!),
      validArrangements(tern!).find(({ name }) => name === "newborn-capsule+cooling-unit")!,
    );
    expect(
      checkerCardOf(whole)
        .sittings.flat()
        .map(({ thing }) => thing),
    ).not.toContain("Warming mattress");
    const format = formatFor(demo.service.cards.paper);
    const html = drawChecker(card, checkerCardOf(contentsOfCard(tern!, capsule)), format);
    expect(html).toMatch(/<b>Warming mattress<\/b><em>Not with cooling unit<\/em>/);
  });
});

function contentsOfCard(platform: Platform, configuration: Configuration) {
  const own = contentOf(configuration, platform) as ConfigurationContent;
  return cardContentOf(own, contentsInForce(platform));
}
