/** What the page of what is out of service gives to its script: the platform, and the lines of its cards. */
import type { Platform, Service } from "../../schema/collection.ts";
import { packPlatform, type Pack } from "../../domain/device/pack.ts";
import { packLines, type PackedLines } from "../../domain/device/pack-lines.ts";
import type { Site } from "../site.ts";
import { platformsOn } from "./changeovers.ts";
import { inPage } from "./walks.ts";

/** What the page of what is out of service works from: the platform packed for the planner, and its lines. */
export interface TonightData {
  readonly pack: Pack;
  readonly lines: PackedLines;
  readonly otherNames: Service["otherNames"];
}

/** The data for a platform as JSON that may stand in a page. */
export function tonightData(site: Site, platform: Platform): string {
  const { service } = site.collection;
  return inPage({
    pack: packPlatform(platform, service, platformsOn(site, platform).slice(1)),
    lines: packLines(platform),
    otherNames: service.otherNames,
  } satisfies TonightData);
}
