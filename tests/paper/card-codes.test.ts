/**
 * A check code covers all that is printed: over 300 generated edits of every sort of file (procedure, configuration,
 * option, equipment, platform, photo, service, incidents) the printed card differs exactly where its code does, and
 * exactly there a finding asks for a new edition before it is issued. Compared with the card's
 * own HTML, which is what the printer gets; the collections are invented.
 */
import { resolve } from "node:path";
import fc from "fast-check";
import { beforeAll, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { contentOf, hashOf } from "../../src/domain/records/freeze.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { Findings } from "../../src/findings/finding.ts";
import { dueCards, editionsDue } from "../../src/paper/card-editions.ts";
import { layoutCard } from "../../src/paper/card-layout.ts";
import { formatFor } from "../../src/paper/card-format.ts";
import { drawCard } from "../../src/paper/draw-card.ts";
import { printCard } from "../../src/paper/printed-card.ts";
import { editionNotRaised } from "../../src/rules/record/edition-not-raised.ts";
import type { Collection, Platform, Service, Step } from "../../src/schema/collection.ts";

const DAY = "2026-06-01";
/** An edit of somebody's file, by a name that a failure shows. */
interface Edit {
  readonly name: string;
  readonly make: (collection: Collection) => Collection;
}

const onPlatform =
  (change: (platform: Platform) => Partial<Platform>) =>
  (collection: Collection): Collection => ({
    ...collection,
    platforms: collection.platforms.map((platform) => ({ ...platform, ...change(platform) })),
  });
const onService =
  (change: (service: Service) => Partial<Service>) =>
  (collection: Collection): Collection => ({
    ...collection,
    service: { ...collection.service, ...change(collection.service) },
  });
const where = { file: "x.mdx", line: 1, column: 1 };
/** The procedures with one step of each changed; nothing of them is issued, so that it counts at once. */
const onSteps = (at: number, change: (step: Step) => Partial<Step>) =>
  onPlatform(({ procedures }) => ({
    procedures: procedures.map((procedure) => {
      const steps = changed(procedure.steps, at, change);
      const entryOf = new Map(procedure.steps.map((step, index) => [step, steps[index]!]));
      return {
        ...procedure,
        steps,
        sections: procedure.sections.map((section) => ({
          ...section,
          entries: section.entries.map((entry) => (entry.kind === "step" ? (entryOf.get(entry) ?? entry) : entry)),
        })),
      };
    }),
  }));
/** A list with one entry of it changed; `at` counts round the list. */
const changed = <T extends object>(list: readonly T[], at: number, change: (entry: T) => Partial<T>): T[] =>
  list.map((entry, index) => (index === at % list.length ? { ...entry, ...change(entry) } : entry));

/** Edits of every sort of file; `n` makes them different from one another, `at` chooses the entry. */
const edits: readonly ((n: number, at: number) => Edit)[] = [
  (n, at) => ({
    name: `item ${at} renamed`,
    make: onPlatform(({ items }) => ({ items: changed(items, at, ({ name }) => ({ name: `${name} ${n}` })) })),
  }),
  (n, at) => ({
    name: `mass of item ${at}`,
    make: onPlatform(({ items }) => ({ items: changed(items, at, () => ({ massKg: n / 10 })) })),
  }),
  (n, at) => ({
    name: `count of item ${at}`,
    make: onPlatform(({ items }) => ({ items: changed(items, at, ({ count }) => ({ count: count + n })) })),
  }),
  (n, at) => ({
    name: `place ${at} renamed`,
    make: onPlatform(({ places }) => ({ places: changed(places, at, ({ name }) => ({ name: `${name} ${n}` })) })),
  }),
  (n, at) => ({
    name: `place ${at} moved`,
    make: onPlatform(({ places }) => ({
      places: changed(places, at, ({ xMm }) => (xMm === undefined ? {} : { xMm: xMm + n })),
    })),
  }),
  (n, at) => ({
    name: `fastening ${at} renamed`,
    make: onPlatform(({ fastenings }) => ({
      fastenings: changed(fastenings, at, ({ name }) => ({ name: `${name} ${n}` })),
    })),
  }),
  (n, at) => ({
    name: `rating of fastening ${at}`,
    make: onPlatform(({ fastenings }) => ({ fastenings: changed(fastenings, at, () => ({ ratedN: 1000 * n })) })),
  }),
  (n) => ({ name: "platform renamed", make: onPlatform(({ name }) => ({ name: `${name} ${n}` })) }),
  (n) => ({ name: "platform's own mass", make: onPlatform(({ own }) => ({ own: { ...own, massKg: 20 + n } })) }),
  (n) => ({ name: "patient moved", make: onPlatform(() => ({ patient: { xMm: 100 + n } })) }),
  (n) => ({ name: "limit of mass", make: onPlatform(({ limits }) => ({ limits: { ...limits, massKg: 300 + n } })) }),
  (n, at) => ({
    name: `lines of option ${at}, not issued`,
    make: onPlatform(({ options }) => ({
      options: changed(options, at, ({ checks }) => ({
        checks: changed(checks, 0, ({ answer }) => ({ answer: `${answer} ${n}` })),
      })),
    })),
  }),
  (n, at) => ({
    name: `title of configuration ${at}, not issued`,
    make: onPlatform(({ configurations }) => ({
      configurations: changed(configurations, at, ({ title }) => ({ title: `${title} ${n}` })),
    })),
  }),
  (n, at) => ({
    name: `review of configuration ${at}`,
    make: onPlatform(({ configurations }) => ({
      configurations: changed(configurations, at, () => ({ reviewBy: `20${30 + n}-01-01` })),
    })),
  }),
  (n) => ({ name: "service renamed", make: onService(({ name }) => ({ name: `${name} ${n}` })) }),
  (n) => ({ name: "site moved", make: onService(() => ({ site: `https://p${n}.example.org/` })) }),
  (n, at) => ({
    name: `role ${at} described otherwise`,
    make: onService(({ crew }) => ({ crew: changed(crew, at, ({ name }) => ({ name: `${name} ${n}` })) })),
  }),
  (n) => ({
    name: "paper",
    make: onService(({ cards }) => ({ cards: { ...cards, paper: (["A4", "A5", "A6"] as const)[n % 3]! } })),
  }),
  (n, at) => ({
    name: `step ${at} of a procedure reworded`,
    make: onSteps(at, ({ instruction }) => ({
      instruction: { ...instruction, children: [...instruction.children, { kind: "text", text: ` ${n}.`, where }] },
    })),
  }),
  (_n, at) => ({ name: `hold of step ${at}`, make: onSteps(at, ({ hold }) => ({ hold: !hold })) }),
  (_n, at) => ({ name: `mark of step ${at}`, make: onSteps(at, ({ critical }) => ({ critical: !critical })) }),
  (n, at) => ({
    name: `check of step ${at}`,
    make: onSteps(at, ({ checks }) => ({
      checks: checks.map((check) => ({ ...check, answer: `${check.answer} ${n}` })),
    })),
  }),
  (n, at) => ({ name: `time of step ${at}`, make: onSteps(at, () => ({ takesSeconds: 5 * n, takesGiven: true })) }),
  (n, at) => ({ name: `photos of step ${at}`, make: onSteps(at, () => ({ photos: [{ id: `other-${n}`, where }] })) }),
  (n) => ({
    name: "words of a photo",
    make: onPlatform(({ photos }) => ({ photos: changed(photos, 0, ({ alt = "" }) => ({ alt: `${alt} ${n}` })) })),
  }),
  (n) => ({
    name: "crop and marks of a photo",
    make: onPlatform(({ photos }) => ({
      photos: changed(photos, 0, () => ({ crop: { x: 0, y: 0, width: n / 10, height: 1 }, marks: [] })),
    })),
  }),
  (n) => ({
    name: "file of a photo",
    make: onPlatform(({ photos }) => ({
      photos: changed(photos, 0, ({ image }) => ({ image: image && { ...image, sha256: String(n).repeat(64) } })),
    })),
  }),
  (n) => ({
    name: "an incident",
    make: (collection) => ({
      ...collection,
      incidents: changed(collection.incidents, 0, ({ summary }) => ({ summary: `${summary} ${n}` })),
    }),
  }),
  () => ({ name: "other names", make: onService(() => ({ otherNames: { sled: ["sledge"] } })) }),
  () => ({ name: "policy", make: onService(() => ({ policy: { "photo/none": "off" } })) }),
];
const anEdit = fc
  .tuple(fc.constantFrom(...edits), fc.integer({ min: 1, max: 9 }), fc.nat({ max: 20 }))
  .map(([edit, n, at]) => edit(n, at));

let issued: Collection;

beforeAll(async () => {
  const read = await loadCollection(resolve(import.meta.dirname, "../fixtures/collections/sled"), new Findings());
  const [platform] = read.platforms;
  const files: Collection = {
    ...read,
    issued: [...platform!.configurations, ...platform!.options].map((record) => {
      const content = contentOf(record, platform!);
      const file = `issued/sled/${record.id}@${record.revision}.json`;
      return {
        file,
        platform: "sled",
        kind: content.kind,
        id: record.id,
        revision: record.revision,
        hash: hashOf(content),
        content,
        where: { file, line: 1, column: 1 },
        at: {},
      };
    }),
  };
  const editions = editionsDue(files, [DAY], DAY).map((file) => {
    const { hash, ...frozen } = file,
      path = `issued/sled/card-${file.id}@${file.edition}.json`;
    return {
      file: path,
      platform: "sled",
      card: file.id,
      edition: file.edition,
      effective: file.effective,
      code: file.code,
      frozen,
      hash,
      where: { file: path, line: 1, column: 1 },
      at: {},
    };
  });
  issued = { ...files, editions };
});

/** The two sides as they go to the printer, without what the code itself adds. */
function bytesOf(collection: Collection): Map<string, { readonly html: string; readonly code: string | undefined }> {
  const { collection: view } = forceOn(collection, DAY),
    [platform] = view.platforms;
  return new Map(
    platform!.configurations.map((configuration) => {
      const { checkCode, edition: _e, effective: _f, ...printed } = printCard(view, platform!, configuration);
      const { address } = printed;
      const card = { ...printed, ...(address ? { address: address.replace(/C\/[^/]*\/?$/, "C/") } : {}) };
      const format = formatFor(view.service.cards.paper);
      return [configuration.id, { html: drawCard(card, layoutCard(card, format)), code: checkCode }];
    }),
  );
}

/** The configurations of whose cards `check` says that they print something else than was issued. */
function findingsOf(collection: Collection): Set<string> {
  const files: string[] = [];
  editionNotRaised.check!(collection, ({ file }) => files.push(file), { today: DAY, damaged: new Set() });
  const [platform] = collection.platforms;
  return new Set(platform!.configurations.flatMap(({ id, file }) => (files.includes(file) ? [id] : [])));
}

it("differs exactly where what is printed differs, and a new edition is asked for exactly there", () => {
  const before = bytesOf(issued);
  const seen = { same: 0, other: 0 };
  fc.assert(
    fc.property(fc.array(anEdit, { minLength: 1, maxLength: 2 }), (made) => {
      const after = made.reduce((collection, { make }) => make(collection), issued);
      const due = new Set(dueCards(after, [DAY]).map(({ configuration }) => configuration.id)),
        found = findingsOf(after);
      for (const [id, { html, code }] of bytesOf(after)) {
        const isSame = html === before.get(id)!.html;
        seen[isSame ? "same" : "other"] += 1;
        const what = `${id}: ${made.map(({ name }) => name).join(", ")}`;
        const said = [code === before.get(id)!.code, due.has(id), found.has(id)];
        expect([what, ...said]).toEqual([what, isSame, !isSame, !isSame]);
      }
    }),
    { numRuns: 300, seed: 20261128 },
  );
  // Both kinds occurred often enough to mean something.
  expect(Math.min(seen.same, seen.other)).toBeGreaterThan(100);
}, 120_000);

it("is the issued edition's while nothing printed changes, and stays so when a later day asks", () => {
  for (const [id, { code }] of bytesOf(issued))
    expect(code).toBe(issued.editions!.find(({ card }) => card === id)!.code);
  expect(dueCards(issued, ["2027-06-01"])).toEqual([]);
});
