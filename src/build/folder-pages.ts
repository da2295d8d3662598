/** What the pages of a folder say of each copy, in words. */
import type { AuditedCopy, AuditedFolder } from "../domain/folder-audit.ts";
import { configurationOf, faultOfCode, isStale } from "../domain/folder-audit.ts";
import { audits } from "./revisions.ts";
import { collection, lookup, needed, sayDate } from "./site.ts";

/** Routes of the pages of all folders. */
export function folderRoutes() {
  return audits().map(({ folder }) => ({ params: { id: folder.id } }));
}

/** The audited folder of that id; throws if there is none. */
export function folderOf(id: string): AuditedFolder {
  return needed(audits().find(({ folder }) => folder.id === id), `folder ${id}`);
}

/** Title of a copy's card: the configuration's, both of a changeover, or the card's own word. */
export function titleOfCopy({ copy, now, next }: AuditedCopy): string {
  const nameOf = (name: string) => {
    const [id = "", ...options] = name.split("+");
    const platform = collection.platforms.find(({ configurations }) => configurations.some((configuration) => configuration.id === id));
    const title = platform && lookup(platform).configurations.get(id)?.title;
    return [title ?? id, ...options.map((option) => platform?.options.find((each) => each.id === option)?.title ?? option)].join(" with ");
  };
  return configurationOf(copy.card) === undefined ? copy.card.split("--").map(nameOf).join(" to ") : ((now ?? next) ? nameOf(copy.card) : copy.card);
}

/** What is so with a copy, and what to do, in two short texts. */
export function sayCopy(audited: AuditedCopy): { readonly state: string; readonly act: string } {
  const { copy, state, now, next, found } = audited;
  const later = next?.from ? ` From ${sayDate(next.from)}: ${next.code}.` : "";
  switch (state) {
    case "current":
      return { state: "current", act: `Keep.${later}` };
    case "replace":
      return { state: found ? "an old card" : "placed before the card in force", act: `Pull it, put in ${now!.code} as copy ${copy.copy}.${later}` };
    case "coming":
      return { state: "the next card, too early", act: now ? `Until ${found?.from ? sayDate(found.from) : "its day"}, ${now.code} must lie there.` : `In force from ${found?.from ? sayDate(found.from) : "its day"}.` };
    case "unread":
      return { state: "no code written down", act: `Read its code: it should be ${now?.code ?? next?.code ?? "there"}.${later}` };
    case "unclear":
      return { state: "neither code nor day written down", act: now ? `Read its code. If it is not ${now.code}, replace it.` : "Read its code." };
    case "wrong-code":
      return { state: faultOfCode(copy.check ?? "") === "misread" ? "code misread: its last symbol does not fit" : "no card ever had this code", act: now ? `Read its code again. If it is not ${now.code}, replace it.` : "Read its code again." };
    case "withdrawn":
      return { state: "no longer used", act: "Pull it. Nothing goes in its place." };
    case "not-tracked":
      return { state: "a card of a changeover", act: "Compare its lines with its page." };
  }
}

/** Whether a copy has to be looked at or changed. */
export function needsHand(audited: AuditedCopy): boolean {
  return isStale(audited) || audited.state === "unread" || audited.state === "coming";
}
