/** What the pages of changeovers give to their scripts: the walk through one, and all that is needed to ask for any. */
import type { Crew, Paper, Platform } from "../../schema/collection.ts";
import { joinBands } from "../../domain/bands/join-bands.ts";
import { packPlatform, type Pack } from "../../domain/device/pack.ts";
import { type Led, ledApart } from "../../domain/device/for-patient.ts";
import { layWalk, type Walk } from "../../domain/device/walk.ts";
import type { Days } from "../../domain/words/days.ts";
import { platformsOn, type PlanOn } from "./changeovers.ts";
import { bandData, type BandData } from "./chooser-data.ts";
import { canChange } from "../../domain/states/usable.ts";
import { photoFor } from "../images.ts";
import type { Site } from "../site.ts";
import { usableProcedures } from "../../domain/parts/lookup.ts";

/** One plan of a changeover page. */
export interface WalkData {
  /** The walk, and the one of other days, by the days of temporary amendments; the first is that of the site's day. */
  readonly walks: readonly { readonly walk: Walk; readonly led: readonly Led[]; readonly days: readonly Days[] }[];
  /** The patients whom it is for. */
  readonly cells: readonly BandData[];
  /** Numbers of the steps that are only for some of them, with whom. */
  readonly only: readonly (readonly [number: number, whom: BandData])[];
  /** Before the ids of its steps on the page. */
  readonly prefix: string;
}

/**
 * A picture of a step: end of its address, size, words, marks as `[n, x, y]` and arrows as `[x, y, x, y]` in fractions,
 * and what the marks mean.
 */
export type PictureData = readonly [
  address: string,
  width: number,
  height: number,
  alt: string,
  marks?: readonly (readonly [number, number, number, string])[],
  arrows?: readonly (readonly number[])[],
];

/** All that a changeover is asked from. */
export interface AskData {
  readonly pack: Pack;
  /** Photo id -> picture; its address begins `photos/PLATFORM-ID-`. */
  readonly pictures: Readonly<Record<string, PictureData>>;
}

/** All that the card of any changeover is laid out from. */
export interface PrintData {
  readonly pack: Pack;
  readonly paper: Paper;
}

/** The data of one plan as JSON that may stand in a page. */
export function walkData(
  plans: readonly [PlanOn, ...PlanOn[]],
  crew: readonly Crew[],
  title: string,
  prefix: string,
): string {
  // An amendment changes what a step says, not which steps there are.
  const [{ cells, changeover: first }] = plans;
  const data: WalkData = {
    walks: plans.map(({ changeover, timeline, platform, days }) => ({
      walk: layWalk(changeover, timeline, platform, crew, title),
      led: ledApart(changeover, timeline, cells, platform, crew),
      days,
    })),
    cells: joinBands(cells.map(({ band }) => band)).map(bandData),
    only: first.steps.flatMap(({ only }, at) => (only ? [[at + 1, bandData(only)] as const] : [])),
    prefix,
  };
  return inPage(data);
}

/** The data for asking as JSON that may stand in a page. */
export function askData(site: Site, platform: Platform): string {
  const shown = new Set(
    usableProcedures(platform)
      .filter((procedure) => canChange(platform, procedure))
      .flatMap(({ steps }) => steps.flatMap(({ photos }) => photos.map(({ id }) => id))),
  );
  const short = (value: number) => Math.round(value * 1000) / 1000;
  const pictures = platform.photos.flatMap((photo): (readonly [string, PictureData])[] => {
    const view = shown.has(photo.id) ? photoFor(site, photo) : undefined;
    if (!view) return [];
    const marks = view.marks.map(({ n, x, y, label }) => [n, short(x), short(y), label] as const),
      arrows = view.arrows.map(({ from, to }) => [...from, ...to].map(short));
    const data = [
      view.src.slice(`photos/${platform.id}-${photo.id}-`.length),
      view.width,
      view.height,
      view.alt,
      marks,
      arrows,
    ] as const;
    return [
      [
        photo.id,
        arrows.length > 0
          ? data
          : marks.length > 0
            ? [data[0], data[1], data[2], data[3], marks]
            : [data[0], data[1], data[2], data[3]],
      ],
    ];
  });
  const data: AskData = {
    pack: packPlatform(platform, site.collection.service, platformsOn(site, platform).slice(1)),
    pictures: Object.fromEntries(pictures),
  };
  return inPage(data);
}

/** The data for printing the card of any changeover, as JSON that may stand in a page. */
export function printData(site: Site, platform: Platform): string {
  const { service } = site.collection,
    pack = packPlatform(platform, service, platformsOn(site, platform).slice(1));
  return inPage({ pack, paper: service.cards.paper } satisfies PrintData);
}

/** No text of an author can close the block that it stands in. */
export function inPage(data: unknown): string {
  return JSON.stringify(data).replaceAll("<", "\\u003c");
}
