/** Which editions of cards are due: where a card prints something else than its newest edition froze. */
import type { CardEdition, Collection, Configuration, Platform, Service } from "../schema/collection.ts";
import { documentsOf } from "../schema/documents.ts";
import { bandCardsOf } from "../domain/cards/band-cards.ts";
import { cardContentOf } from "../domain/cards/card-content.ts";
import { contentsInForce } from "../domain/cards/cards-issued.ts";
import {
  cardsOf,
  cardWith,
  codeOfInk,
  documentName,
  type EditionCard,
  type EditionFile,
  editionOn,
  editionsOf,
} from "../domain/cards/editions.ts";
import { inkDifferences } from "../domain/cards/card-concern.ts";
import { forceOn } from "../domain/force/force.ts";
import { nameOf } from "../domain/records/issues.ts";
import { remember } from "../domain/words/remember.ts";
import type { ConfigurationContent } from "../domain/records/content.ts";
import { contentOf, contentOfIssue, hashOf, rangeOf } from "../domain/records/freeze.ts";
import { inkOfCard } from "./printed-card.ts";

/** A card that prints something else than the edition in force on a day. */
interface DueCard {
  readonly platform: Platform;
  readonly configuration: Configuration;
  readonly day: string;
  /** The edition before it; absent for the first. */
  readonly last?: CardEdition;
  readonly differs: readonly string[];
  /** What it prints: the configuration's own card first, then those of its elementary bands. */
  readonly cards: ReturnType<typeof cardsNow>;
}

/**
 * The days on which cards are judged: today, those of issues that are still coming, and those from which documents will
 * be withdrawn, so that the next edition is issued before them as before any other. Rising, each once.
 */
export function daysOfCards({ issued, platforms }: Collection, today: string): string[] {
  const issues = issued.flatMap((issue) => contentOfIssue(issue)?.effective ?? []);
  const withdrawals = platforms.flatMap((platform) =>
    documentsOf(platform).flatMap(({ status, effective }) => (status === "withdrawn" && effective ? [effective] : [])),
  );
  const coming = [...issues, ...withdrawals].filter((day) => day > today);
  return [today, ...new Set(coming)].sort();
}

/**
 * The cards of issued configurations that print something else on one of these days than the edition in force then
 * froze, in the order of the days; empty if every card is as it was issued. `files`: the collection as it was read.
 */
export function dueCards(files: Collection, days: readonly string[]): DueCard[] {
  return days.flatMap((day) => {
    const { collection, notIssued } = forceOn(files, day);
    return collection.platforms.flatMap((platform) =>
      platform.configurations.flatMap((configuration): DueCard[] => {
        if (notIssued.has(nameOf(configuration, "configuration"))) return [];
        const last = editionOn(editionsOf(files, platform.id, configuration.id), day);
        const cards = cardsNow(collection.service, platform, configuration);
        const isSame =
          last !== undefined &&
          cards.length === cardsOf(last).length &&
          cards.every(({ ink, band }) => cardWith(last, ink, band));
        if (isSame) return [];
        const differs = last ? inkDifferences(cardsOf(last)[0]!.ink, cards[0]!.ink) : [];
        return [{ platform, configuration, day, ...(last ? { last } : {}), differs, cards }];
      }),
    );
  });
}

/**
 * The editions to freeze so that every card printed from these days on is frozen, in the order of the days. A day
 * before a card's newest edition makes none: what was issued for it stays. `issued`: today.
 */
export function editionsDue(files: Collection, days: readonly string[], issued: string): EditionFile[] {
  const made: EditionFile[] = [];
  let so: Collection = files;
  for (const day of days)
    for (const due of dueCards(so, [day])) {
      if (editionsOf(so, due.platform.id, due.configuration.id).at(-1) !== due.last) continue;
      const edition = freezeEdition(due, issued);
      made.push(edition);
      so = { ...so, editions: [...(so.editions ?? []), asRead(edition)] };
    }
  return made;
}

const cardsNow = remember((service: Service, platform: Platform, configuration: Configuration) => {
  const own = contentOf(configuration, platform) as ConfigurationContent,
    contents = contentsInForce(platform);
  const shared = { platform, configuration: configuration.id };
  return [{ content: cardContentOf(own, contents), band: undefined }, ...bandCardsOf(own, contents)].map(
    ({ content, band }) => ({
      content,
      band,
      ink: inkOfCard(service, { ...shared, content, ...(band ? { band } : {}) }),
    }),
  );
});

function freezeEdition(
  { platform, configuration, day, last, differs, cards: now }: DueCard,
  issued: string,
): EditionFile {
  const edition = (last?.edition ?? 0) + 1;
  const cards = now.map(({ content, ink, band }): EditionCard => ({
    code: codeOfInk(ink, edition, day),
    ...(band ? { band: { weight: rangeOf(band.weight), age: rangeOf(band.age) } } : {}),
    ink,
    content,
  }));
  const head = {
    form: 1 as const,
    kind: "card" as const,
    platform: platform.id,
    id: configuration.id,
    edition,
    issued,
    effective: day,
    code: cards[0]!.code,
    differs,
  };
  const documents = contentsInForce(platform).map(documentName).sort();
  const rest = JSON.parse(JSON.stringify({ documents, cards })) as Pick<EditionFile, "documents" | "cards">;
  return { ...head, hash: hashOf({ ...head, ...rest }), ...rest };
}

/** The edition as it will be read back. */
function asRead(file: EditionFile): CardEdition {
  const { hash, ...frozen } = file;
  const path = `issued/${file.platform}/card-${file.id}@${file.edition}.json`;
  return {
    file: path,
    platform: file.platform,
    card: file.id,
    edition: file.edition,
    effective: file.effective,
    code: file.code,
    frozen,
    hash,
    where: { file: path, line: 1, column: 1 },
    at: {},
  };
}
