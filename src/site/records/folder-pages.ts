/** What the pages of a folder say of each copy, in words. */
import type { Words } from "../../words/hear.ts";
import { sayConcern } from "../../domain/cards/card-concern.ts";
import { addressOfBand } from "../../domain/cards/band-cards.ts";
import { sayBand } from "../../domain/bands/bands.ts";
import type { AuditedCopy, AuditedFolder, FolderCard } from "../../paper/folder-audit.ts";
import { configurationOf } from "../../domain/parts/arrangements.ts";
import { faultOfCode, titleOfCopy } from "../../paper/folder-audit.ts";
import { fittedCards } from "../plans/checklists.ts";
import { audits } from "./revisions.ts";
import { lookup } from "../../domain/parts/lookup.ts";
import { needed, type Site } from "../site.ts";
import { sayDate } from "../../domain/words/say.ts";
import { heard } from "../../words/heard.ts";

/** Routes of the pages of all folders. */
export function folderRoutes(site: Site) {
  return audits(site).map(({ folder }) => ({ params: { id: folder.id } }));
}

/** The audited folder of that id; throws if there is none. */
export function folderOf(site: Site, id: string): AuditedFolder {
  return needed(
    audits(site).find(({ folder }) => folder.id === id),
    `folder ${id}`,
  );
}

/**
 * Address of the page of a card that lies or should lie in a folder; the whole configuration's card where its
 * arrangement has no page of its own.
 */
export function addressOfCard({ collection }: Pick<Site, "collection">, card: FolderCard): string {
  const { platform, configuration, band } = card;
  if (configurationOf(configuration) === undefined) return `${platform}/changeovers/${configuration}/card/`;
  const own = collection.platforms.find((each) => each.id === platform),
    [id = ""] = configuration.split("+"),
    whole = own && lookup(own).configurations.get(id);
  if (whole && id !== configuration)
    return (
      fittedCards(own, whole).find(({ arrangement }) => arrangement.name === configuration)?.address ??
      `${platform}/cards/${id}/card/`
    );
  return `${platform}/cards/${configuration}/${band ? `band/${addressOfBand(band)}/` : ""}`;
}

/** Title of a copy's card as the folder's pages show it: with the band that the card is only for. */
export function titleInFolder({ collection }: Site, { copy, now, next }: AuditedCopy): string {
  const band = (now ?? next)?.band;
  return `${titleOfCopy(collection, copy)}${band ? heard("folderPages").only({ band: sayBand(band) }) : ""}`;
}

/** What is so with a copy, and what to do, in two short texts. */
export function sayCopy(
  audited: AuditedCopy,
  words: Words["records"],
): { readonly state: string; readonly act: string } {
  const { copy, state, now, next, found, onlyWith = [], oneOf } = audited;
  const later = next?.from ? heard("folderPages").fromFromCode({ from: sayDate(next.from), code: next.code }) : "";
  const fromDay = next?.from ? ` ${heard("folderPages").inForce({ from: sayDate(next.from) })}` : "";
  switch (state) {
    case "current":
      return { state: heard("folderPages").current, act: heard("folderPages").keep({ later }) };
    case "replace":
      return {
        state:
          found || copy.check
            ? heard("folderPages").anOldCard({ concern: onlyWith.length > 0 ? `. ${sayConcern({ onlyWith })}` : "" })
            : heard("folderPages").placedBeforeTheCard,
        act: heard("folderPages").pullIt({ code: now!.code, copy: copy.copy, later }),
      };
    case "coming":
      return {
        state: heard("folderPages").theNextCardToo,
        act: now
          ? heard("folderPages").untilMustLie({
              from: found?.from ? sayDate(found.from) : heard("folderPages").itsDay,
              code: now.code,
            })
          : heard("folderPages").inForce({ from: found?.from ? sayDate(found.from) : heard("folderPages").itsDay }),
      };
    case "unread":
      return {
        state: heard("folderPages").noCodeWrittenDown,
        act: heard("folderPages").itShouldBe({ code: now?.code ?? next?.code ?? "", later: now ? later : fromDay }),
      };
    case "unclear":
      if (oneOf)
        return {
          state: copy.check ? heard("folderPages").noSuchCard : heard("folderPages").itsCode,
          act: words.samePatients({ cards: oneOf.map(({ code, content }) => `${code} (${content.title})`).join(", ") }),
        };
      return {
        state: heard("folderPages").neitherCodeNorDay,
        act: now ? heard("folderPages").readItsCodeIf({ code: now.code }) : heard("folderPages").readItsCode,
      };
    case "wrong-code":
      return {
        state:
          faultOfCode(copy.check ?? "") === "misread"
            ? heard("folderPages").codeMisreadItsLast
            : heard("folderPages").noCardEverHad,
        act: now ? heard("folderPages").readItsCodeAgainIf({ code: now.code }) : heard("folderPages").readItsCodeAgain,
      };
    case "withdrawn":
      return { state: heard("folderPages").noLongerUsed, act: heard("folderPages").pullItNothingGoes };
    case "not-tracked":
      return { state: heard("folderPages").notMadeHere, act: heard("folderPages").nothingIsKnown };
  }
}
