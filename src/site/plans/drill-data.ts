/** What the page of drills gives to its script beside the platform: what the service asks first. */
import type { Platform } from "../../schema/collection.ts";
import { questionsFirst, type Site } from "../site.ts";
import { bandData, type BandData } from "./chooser-data.ts";
import { inPage } from "./walks.ts";

/** A question with the ids of the configurations to have at hand. */
export interface DrillQuestion {
  readonly band: BandData;
  readonly say: string;
  readonly fetch: readonly string[];
}

/** The questions as JSON that may stand in a page. */
export function drillQuestions(site: Site, platform: Platform): string {
  const questions: DrillQuestion[] = questionsFirst(site, platform).map(({ band, say, fetch }) => ({
    band: bandData(band),
    say,
    fetch: fetch.map(({ id }) => id),
  }));
  return inPage(questions);
}
