/**
 * What of a set of pages counts no more on a later day, as far as that is issued by now. Pages say it with their days
 * (`domain/words/days.ts`), and a device shows it by its own clock, as it does temporary amendments.
 */
import { documentsOf, type Issuable } from "../../schema/documents.ts";
import type { Configuration, Platform, Procedure } from "../../schema/collection.ts";
import { idsRunBy } from "../../domain/parts/builds.ts";
import { inUse, usableProcedures } from "../../domain/parts/lookup.ts";
import { asIssued } from "../../domain/force/amendments.ts";
import { forceOn } from "../../domain/force/force.ts";
import { contentOfIssue, kindOf } from "../../domain/records/freeze.ts";
import { nameOf } from "../../domain/records/issues.ts";
import { addDays } from "../../domain/records/signoffs.ts";
import type { AuditedFolder } from "../../paper/folder-audit.ts";
import { withoutTelling } from "../../domain/words/reads.ts";
import { remember } from "../../domain/words/remember.ts";
import { type Days, type Lapse, writeDays } from "../../domain/words/days.ts";
import type { Site } from "../site.ts";
import { tellingForce } from "../telling-force.ts";
import { proposalsFor } from "./proposals.ts";
import { addressOfCode } from "../../domain/cards/check-address.ts";
import { type ChangeoverCode, changeoverCodes, standings, standingsOfBands, type Standing } from "./revisions.ts";

/** A later day on which something else comes into force, and the site as it will be from it. */
interface LaterDay {
  readonly day: string;
  readonly view: Site;
}

const keyOf = (document: Issuable) => nameOf(document, kindOf(document));

const inForceOf = ({ force }: Site): ReadonlyMap<string, Issuable> =>
  new Map(
    force.collection.platforms.flatMap((platform) =>
      documentsOf(asIssued(platform)).map((document) => [keyOf(document), document] as const),
    ),
  );

/** The later days of a site, the nearest first; none where nothing is issued for one. */
export const laterDays: (site: Site) => readonly LaterDay[] = remember((site: Site) =>
  // What is in force on them, as far as words decide it, is in the key of kept pages (`pages-by-words.ts`).
  withoutTelling(() => findLaterDays(site)),
);

function findLaterDays(site: Site): readonly LaterDay[] {
  const { files } = site.force;
  const written = files.platforms.flatMap((platform) => documentsOf(platform).map(({ effective }) => effective)),
    issued = files.issued.map((issue) => contentOfIssue(issue)?.effective),
    editions = (files.editions ?? []).map(({ effective }) => effective);
  const days = [...new Set([...written, ...issued, ...editions])].flatMap((day) =>
    day !== undefined && day > site.today ? day : [],
  );
  const sayAll = (view: Site) => [...inForceOf(view)].map(([name, { revision }]) => `${name}@${revision}`).join();
  let before = sayAll(site);
  return days.sort().flatMap((day): LaterDay[] => {
    const force = tellingForce(forceOn(files, day)),
      view = { ...site, force, collection: force.shown, today: day, ofPlatforms: new Map() };
    const now = sayAll(view),
      isOther = now !== before || editions.includes(day);
    before = now;
    return isOther ? [{ day, view }] : [];
  });
}

/** Closes each span on the day before the next of the same thing. */
function closed<Link extends { readonly day: string }>(
  chain: readonly Link[],
): (Omit<Link, "day"> & { readonly days: Days })[] {
  return chain.map(({ day, ...rest }, at) => ({
    ...rest,
    days: { from: day, until: chain[at + 1] ? addDays(chain[at + 1]!.day, -1) : "" },
  }));
}

const documentLapses = remember((site: Site): ReadonlyMap<string, readonly (Lapse & { revision?: number })[]> => {
  const chains = new Map<string, (Omit<Lapse, "days"> & { day: string })[]>();
  let before = inForceOf(site);
  for (const { day, view } of laterDays(site)) {
    const now = inForceOf(view);
    for (const [name, document] of before) {
      const next = now.get(name);
      if (next?.revision === document.revision) continue;
      const address =
        next &&
        proposalsFor(site, document, kindOf(document)).find(
          ({ proposal: { status, revision } }) => status === "coming" && revision === next.revision,
        )?.address;
      chains.set(name, [
        ...(chains.get(name) ?? []),
        {
          day,
          title: document.title,
          ...(next ? { revision: next.revision } : {}),
          ...(address ? { address } : {}),
        },
      ]);
    }
    before = now;
  }
  return new Map([...chains].map(([name, chain]) => [name, closed(chain)]));
});

/** What takes the place of these documents on later days; of newer text only what comes after it. */
export function lapsesOf(site: Site, documents: readonly Issuable[]): Lapse[] {
  const seen = new Map(documents.map((document) => [keyOf(document), document]));
  return [...seen].flatMap(([name, document]) =>
    (documentLapses(site).get(name) ?? []).filter(({ revision }) => (revision ?? Infinity) > document.revision),
  );
}

/** The days on which something that lapses still counts, as they are written on a part of a page. */
export function untilLapse(lapses: readonly Lapse[]): string | undefined {
  const [first] = lapses.map(({ days: { from } }) => from).sort();
  return first === undefined ? undefined : writeDays([{ from: "", until: addDays(first, -1) }]);
}

/** What takes the place on later days of what patients of a platform travel in. */
export function arrangementLapses(site: Site, platform: Platform): Lapse[] {
  return lapsesOf(site, [...inUse(platform), ...platform.options]);
}

/** What takes the place of anything of a platform on later days: its arrangements and the ways between them. */
export function platformLapses(site: Site, platform: Platform): Lapse[] {
  return lapsesOf(site, [...usableProcedures(platform), ...inUse(platform), ...platform.options]);
}

/** Procedures with those whose steps they run. */
export function withIncluded(platform: Platform, procedures: readonly Procedure[]): Procedure[] {
  const run = idsRunBy(procedures);
  return [...procedures, ...platform.procedures.filter((each) => run.has(each.id) && !procedures.includes(each))];
}

/** What takes the place of the card of a configuration on later days, and of what it is made of. */
export function cardLapses(site: Site, platform: Platform, configuration: Configuration): Lapse[] {
  const currentOf = (view: Site) =>
    standings(view).find(
      ({ state, platform: { id }, card }) =>
        state === "current" && id === platform.id && card.configuration === configuration.id,
    )?.card.code;
  let before = currentOf(site);
  const chain = laterDays(site).flatMap(({ day, view }) => {
    const code = currentOf(view);
    if (code === undefined || code === before) return [];
    before = code;
    return { day, title: configuration.title, card: code, address: addressOfCode(code) };
  });
  return [...lapsesOf(site, [configuration]), ...closed(chain)];
}

/**
 * What takes the place of what a card of a changeover is made of, where it is then made no more; the first to come
 * comes first.
 */
export function changeoverLapses(site: Site, { code, platform, procedures, ends }: ChangeoverCode): Lapse[] {
  const run = new Set(procedures.map(({ id }) => id));
  const lapses = lapsesOf(site, [
    ...withIncluded(
      platform,
      platform.procedures.filter(({ id }) => run.has(id)),
    ),
    ...platform.configurations.filter(({ id }) => ends.includes(id)),
  ]);
  const isMadeOn = (day: string) =>
    changeoverCodes(laterDays(site).find((later) => later.day === day)!.view).some((card) => card.code === code);
  return lapses.filter(({ days: { from } }) => !isMadeOn(from)).sort((a, b) => (a.days.from < b.days.from ? -1 : 1));
}

/** What takes the place on later days of the cards that lie in folders now. */
export function folderLapses(site: Site, folders: readonly AuditedFolder[]): Lapse[] {
  const copies = folders.flatMap((folder) => folder.copies.flatMap(({ now }) => now ?? []));
  const lapses = copies.flatMap(({ platform: on, configuration: name, code }) => {
    const platform = site.collection.platforms.find(({ id }) => id === on)!,
      configuration = platform.configurations.find(({ id }) => id === name.split("+")[0]),
      way = changeoverCodes(site).find((card) => card.platform === platform && card.code === code);
    if (way) return changeoverLapses(site, way);
    return configuration ? cardLapses(site, platform, configuration).filter(({ card }) => card !== undefined) : [];
  });
  return [...new Map(lapses.map((lapse) => [JSON.stringify(lapse), lapse])).values()];
}

/** What has become of a card from a day on. */
interface StandingOn {
  readonly days: readonly Days[];
  /** The site on those days; the set's own for those of its day. */
  readonly view: Site;
  readonly standing: Standing;
}

/** What becomes of a card by date alone: first on the day of the site; the only one has no days. */
export function standingsAhead(site: Site, standing: Standing): readonly StandingOn[] {
  const isSame = ({ platform, card }: Standing) =>
    platform.id === standing.platform.id &&
    card.configuration === standing.card.configuration &&
    card.code === standing.card.code &&
    (card.band === undefined) === (standing.card.band === undefined);
  const sayState = ({ state, now, next }: Standing) => [state, now?.code, next?.code].join();
  const found = [{ day: "", view: site, standing }];
  for (const { day, view } of laterDays(site)) {
    const then = [...standings(view), ...standingsOfBands(view)].find(isSame);
    if (then && sayState(then) !== sayState(found.at(-1)!.standing)) found.push({ day, view, standing: then });
  }
  if (found.length === 1) return [{ days: [], view: site, standing }];
  return closed(found).map(({ days, ...rest }) => ({ ...rest, days: [days] }));
}
