/** The sections of the site, in the order in which header, foot and phone bar show them. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { Platform } from "../schema/collection.ts";
import { remember } from "../domain/words/remember.ts";
import { wordsFor } from "../words/words.ts";
import { chooserAddress, type Site } from "./site.ts";

/** The parts of a site that its header and foot lead to. */
export type SectionName =
  | "choose"
  | "bands"
  | "procedures"
  | "changeovers"
  | "cards"
  | "study"
  | "items"
  | "reading"
  | "history"
  | "folders"
  | "check"
  | "incidents"
  | "review"
  | "glossary"
  | "rules"
  | "guide"
  | "find"
  | "practise"
  | "sign-off"
  | "tonight"
  | "ready"
  | "drills"
  | "away"
  | "amendments"
  | "device";

type SectionGroup = (typeof SECTION_GROUPS)[number];

/** What one goes to a part of the site for, in the order of the foot. */
export const SECTION_GROUPS = ["build", "duty", "learn", "records"] as const;

/** A link to a part of the site; the address is from the root of the site. */
export interface SectionLink {
  readonly name: SectionName;
  readonly label: string;
  readonly address: string;
  /** For what one goes there: the foot shows all, by this. */
  readonly group: SectionGroup;
  /** Whether it has a place in the header. */
  readonly top: boolean;
}

/** Sections that exist for the collection; those of a platform only where a page has one. */
export function sectionsOf(site: Site, platform: Platform | undefined): SectionLink[] {
  const own = (path: string) => `${platform!.id}/${path}/`;
  const said = wordsFor(site.collection.service).sections;
  const links: (SectionLink | false)[] = [
    { name: "choose", group: "build", label: said.choose, address: chooserAddress(site, platform), top: false },
    platform !== undefined && {
      name: "procedures",
      group: "build",
      label: said.procedures,
      address: own("procedures"),
      top: true,
    },
    platform !== undefined && {
      name: "changeovers",
      group: "build",
      label: said.changeovers,
      address: own("changeovers"),
      top: true,
    },
    platform !== undefined && { name: "cards", group: "build", label: said.cards, address: own("cards"), top: true },
    platform !== undefined && {
      name: "tonight",
      group: "duty",
      label: said.tonight,
      address: own("tonight"),
      top: true,
    },
    platform !== undefined && { name: "ready", group: "duty", label: said.ready, address: own("ready"), top: false },
    platform?.amendments !== undefined && {
      name: "amendments",
      group: "duty",
      label: said.amendments,
      address: own("amendments"),
      top: false,
    },
    platform !== undefined && { name: "study", group: "learn", label: said.study, address: own("study"), top: true },
    platform !== undefined && {
      name: "practise",
      group: "learn",
      label: said.practise,
      address: own("practise"),
      top: false,
    },
    platform !== undefined && {
      name: "drills",
      group: "learn",
      label: said.drills,
      address: own("drills"),
      top: false,
    },
    platform !== undefined && { name: "away", group: "learn", label: said.away, address: own("away"), top: false },
    platform !== undefined && {
      name: "sign-off",
      group: "learn",
      label: said.signOff,
      address: own("sign-off"),
      top: false,
    },
    platform !== undefined && {
      name: "bands",
      group: "build",
      label: said.bands,
      address: own("bands"),
      top: false,
    },
    platform !== undefined && { name: "items", group: "build", label: said.items, address: own("items"), top: false },
    platform !== undefined &&
      platform.readings.length > 0 && {
        name: "reading",
        group: "learn",
        label: said.reading,
        address: own("reading"),
        top: false,
      },
    { name: "history", group: "records", label: said.history, address: "history/", top: false },
    site.collection.folders.length > 0 && {
      name: "folders",
      group: "duty",
      label: said.folders,
      address: "folders/",
      top: false,
    },
    site.collection.incidents.length > 0 && {
      name: "incidents",
      group: "learn",
      label: said.incidents,
      address: "incidents/",
      top: false,
    },
    { name: "check", group: "duty", label: said.check, address: "check/", top: false },
    { name: "review", group: "records", label: said.review, address: "review/", top: false },
    { name: "glossary", group: "learn", label: said.glossary, address: "glossary/", top: false },
    { name: "rules", group: "records", label: said.rules, address: "rules/", top: false },
    { name: "guide", group: "records", label: said.guide, address: "guide/", top: false },
    { name: "find", group: "build", label: said.find, address: "find/", top: false },
    { name: "device", group: "duty", label: said.device, address: "device/", top: false },
  ];
  return links
    .filter((link) => link !== false)
    .filter(
      ({ name, address }) =>
        name === "choose" || hasPage(site, platform ? address.replace(`${platform.id}/`, "[platform]/") : address),
    );
}

/** Whether the site has a page at that address; sections may be left out of a site. */
export function hasPage(site: Site, address: string): boolean {
  const known = pagesOf(site),
    found =
      known.get(address) ??
      [`${address}index.astro`, `${address.slice(0, -1)}.astro`].some((file) =>
        existsSync(join(site.root, "src/pages", file)),
      );
  known.set(address, found);
  return found;
}

/** Which addresses have a page, as far as that was asked. */
const pagesOf = remember((_: Site) => new Map<string, boolean>());
