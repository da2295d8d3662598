/**
 * What the chooser in the browser knows of a platform: the table of bands, options, and what to carry for each
 * arrangement.
 */
import type { Band, Configuration, Platform, Range } from "../../schema/collection.ts";
import { confirmingOf, type ConfirmingStep } from "../../domain/parts/confirming.ts";
import { netMoves, stateOf, type NetMove } from "../../domain/states/changeover.ts";
import { bandsOf } from "./checklists.ts";
import { modelOf } from "../../domain/states/model.ts";
import { inUse, lookup, standingArrangement } from "../../domain/parts/lookup.ts";
import type { Spares } from "../../domain/tonight/blocked.ts";
import { sparesOf } from "../../domain/tonight/out-of-service.ts";
import { questionsFirst, type Site } from "../site.ts";

/** A range in JSON: exact values as strings of digits, in units of `End`. */
export interface RangeData {
  readonly from?: readonly [value: string, owned: boolean, text: string];
  readonly to?: readonly [value: string, owned: boolean, text: string];
  readonly text: string;
}

/** Weights and ages of a band, as pages carry them. */
export interface BandData {
  readonly weight: RangeData;
  readonly age: RangeData;
}

/** Something to carry: how many, what, and from where to where, in names. */
export type CarryData = readonly [count: number, item: string, from: string, to: string];

/** All that the chooser of a platform answers from, without the network. */
export interface ChooserData {
  readonly service: BandData;
  readonly rows: readonly {
    readonly id: string;
    readonly title: string;
    readonly band: BandData;
    readonly options: readonly string[];
    /** Options that some of its patients need. */
    readonly requires: readonly { readonly option: string; readonly band: BandData }[];
    readonly cards?: readonly { readonly band: BandData; readonly address: string }[];
  }[];
  /** The steps that confirm patient and band; absent if the platform names no procedure for it. */
  readonly confirms?: {
    readonly steps: readonly (Omit<ConfirmingStep, "band" | "number" | "hold"> & { readonly band: BandData })[];
  };
  /** What the service asks before it answers, with ids of the configurations to have at hand. */
  readonly questions: readonly { readonly band: BandData; readonly say: string; readonly fetch: readonly string[] }[];
  readonly options: Readonly<
    Record<string, { readonly title: string; readonly band: BandData; readonly notWith: readonly string[] }>
  >;
  /**
   * What can be missing: ids of items, and for each arrangement, fewest options first, the items that it needs as pairs
   * of a position in that list and of how many of them it can miss.
   */
  readonly spares: {
    readonly items: readonly string[];
    readonly of: Readonly<Record<string, readonly number[]>>;
  };
  /** Name of the arrangement in which the platform waits; absent if none is standing. */
  readonly standing?: string;
  /**
   * Arrangement -> what to fetch from a store, what to move on the platform, and what to put back, against the standing
   * one.
   */
  readonly carry: Readonly<
    Record<
      string,
      { readonly fetch: readonly CarryData[]; readonly move: readonly CarryData[]; readonly back: readonly CarryData[] }
    >
  >;
}

/** The chooser's data for a platform. */
export function chooserData(site: Site, platform: Platform): ChooserData {
  const standing = standingArrangement(platform),
    model = modelOf(platform);
  return {
    service: bandData(site.collection.service.band),
    rows: inUse(platform).map((configuration) => ({
      id: configuration.id,
      title: configuration.title,
      band: bandData(configuration.band),
      options: configuration.options.map((option) => option.id),
      requires: (configuration.requires ?? []).map(({ option, band }) => ({ option, band: bandData(band) })),
      ...cardsData(site, platform, configuration),
    })),
    ...confirmsData(site, platform),
    questions: questionsFirst(site, platform).map(({ band, say, fetch }) => ({
      band: bandData(band),
      say,
      fetch: fetch.map(({ id }) => id),
    })),
    options: Object.fromEntries(
      platform.options.map(({ id, title, band, notWith }) => [id, { title, band: bandData(band), notWith }]),
    ),
    spares: sparesData(platform),
    ...(standing ? { standing: standing.name } : {}),
    carry: standing
      ? Object.fromEntries(
          model.arrangements.map((arrangement) => [
            arrangement.name,
            carryData(platform, netMoves(model, stateOf(model, standing), stateOf(model, arrangement))),
          ]),
        )
      : {},
  };
}

function sparesData(platform: Platform): ChooserData["spares"] {
  const items = platform.items.map(({ id }) => id);
  const pairs = (spares: Spares) => Object.entries(spares).flatMap(([id, spare]) => [items.indexOf(id), spare]);
  return { items, of: Object.fromEntries([...sparesOf(platform)].map(([name, spares]) => [name, pairs(spares)])) };
}

function confirmsData({ collection }: Site, platform: Platform): Pick<ChooserData, "confirms"> {
  const found = confirmingOf(platform, collection.service.crew);
  const steps = found?.steps.map(({ number: _n, hold: _h, band, ...step }) => ({ ...step, band: bandData(band) }));
  return steps ? { confirms: { steps } } : {};
}

/** The cards for a part of a configuration's patients, with addresses below the platform's own. */
function cardsData(
  site: Site,
  platform: Platform,
  configuration: Configuration,
): Pick<ChooserData["rows"][number], "cards"> {
  const cards = bandsOf(site, platform, configuration);
  return cards.length
    ? {
        cards: cards.map(({ band, address }) => ({
          band: bandData(band),
          address: address.slice(platform.id.length + 1),
        })),
      }
    : {};
}

function carryData(platform: Platform, moves: readonly NetMove[]): ChooserData["carry"][string] {
  const { items, places } = lookup(platform);
  const inStore = (id: string) => places.get(id)?.kind === "store";
  const said = moves.map(({ item, count, from, to }) => ({
    from,
    to,
    data: [count, items.get(item)?.name ?? item, places.get(from)?.name ?? from, places.get(to)?.name ?? to] as const,
  }));
  return {
    fetch: said.filter(({ from, to }) => inStore(from) && !inStore(to)).map(({ data }) => data),
    move: said.filter(({ from, to }) => inStore(from) === inStore(to)).map(({ data }) => data),
    back: said.filter(({ from, to }) => !inStore(from) && inStore(to)).map(({ data }) => data),
  };
}

/** A band as JSON. */
export const bandData = ({ weight, age }: Band): BandData => ({ weight: rangeData(weight), age: rangeData(age) });

function rangeData({ from, to, text }: Range): RangeData {
  const end = (given: Range["from"]) => given && ([String(given.value), given.owned, given.text] as const);
  return { ...(from ? { from: end(from)! } : {}), ...(to ? { to: end(to)! } : {}), text };
}
