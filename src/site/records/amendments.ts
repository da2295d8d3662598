/** Temporary amendments on the pages: those that run, or will, and what each page that they are about shows of them. */
import type { Amendment, Configuration, Option, Platform, Procedure, Section } from "../../schema/collection.ts";
import { cardsUnder } from "../../domain/cards/cards-under.ts";
import { idsRunBy } from "../../domain/parts/builds.ts";
import { amendmentsToCome, isAbout } from "../../domain/force/amendments.ts";
import type { Site } from "../site.ts";

/** Those about one of these procedures (or one whose steps they run), or an item that one of the documents fits. */
export function amendmentsFor(
  site: Site,
  platform: Platform,
  procedures: readonly Procedure[],
  documents: readonly (Configuration | Option)[] = [],
): Amendment[] {
  const run = idsRunBy(procedures);
  const about = platform.procedures.filter(({ id }) => run.has(id));
  const items = new Set([
    ...documents.flatMap(({ fitted }) => fitted.map(({ item }) => item)),
    ...procedures.flatMap(({ steps }) =>
      steps.flatMap(({ operations }) => operations.flatMap((act) => (act.kind === "move" ? act.item : []))),
    ),
  ]);
  return amendmentsToCome(platform, site.today).filter(
    (amendment) =>
      about.some((procedure) => isAbout(amendment, procedure)) || amendment.out.some(({ id }) => items.has(id)),
  );
}

/** Sections without what amendments add to them: a page that says it at its top does not say it twice. */
export function withoutAmendments(sections: readonly Section[]): Section[] {
  return sections.filter(({ entries }) => !entries.some((entry) => entry.kind === "alert" && entry.amendment));
}

/** Those that lie over the card of a configuration. */
export function amendmentsOver(site: Site, platform: Platform, { id }: Pick<Configuration, "id">): Amendment[] {
  return amendmentsToCome(platform, site.today).filter((amendment) =>
    cardsUnder(amendment, platform).some((configuration) => configuration.id === id),
  );
}

/** What a device needs to go by an amendment's days without the site: what it takes out of service, and when. */
export interface AmendmentOut {
  readonly number: string;
  readonly from: string;
  readonly until: string;
  readonly items: readonly { readonly id: string; readonly name: string; readonly count: number }[];
}

/** Of each amendment to come what it takes out of service; empty if none does. */
export function outByAmendments(site: Site, platform: Platform): AmendmentOut[] {
  return amendmentsToCome(platform, site.today).flatMap(({ number, from, until, out }) => {
    const items = platform.items
      .filter((item) => out.some(({ id }) => id === item.id))
      .map(({ id, name, count }) => ({ id, name, count }));
    return items.length > 0 ? { number, from, until, items } : [];
  });
}
