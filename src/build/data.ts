/**
 * The files of `data/`: the same results as the commands print, as JSON beside the pages, with a JSON Schema for each.
 */
import { formatDecimal, MASS_PER_KG, sayBand } from "../domain/bands/bands.ts";
import { changeoverResult } from "../domain/time/changeover-result.ts";
import { foldersResult } from "../paper/folders-result.ts";
import { bandEnds, reportLoad } from "../domain/load/load.ts";
import { toNumber } from "../domain/numbers/rational.ts";
import { checkResult } from "../findings/report.ts";
import type { End, Platform, Service } from "../schema/collection.ts";
import { dataShapes, jsonSchemaOf } from "../schema/results.ts";
import { singlePointsResult } from "../domain/tonight/out-of-service-result.ts";
import { readyResult } from "../domain/ready/ready-result.ts";
import { slipsResult } from "../domain/slips/slips-result.ts";
import { changeoversOf } from "../site/plans/changeovers.ts";
import { modelOf } from "../domain/states/model.ts";
import { openFindings } from "../site/records/reviews.ts";
import { audits } from "../site/records/revisions.ts";
import { validArrangements } from "../domain/parts/arrangements.ts";
import type { Site } from "../site/site.ts";

/** File name -> what works out the content, of everything in `data/`. */
export function dataFiles(site: Site): ReadonlyMap<string, () => unknown> {
  const { collection, today, force } = site;
  const results: Readonly<Record<keyof typeof dataShapes, () => unknown>> = {
    check: () => checkResult(collection, openFindings(site)),
    // Pages show a draft or a withdrawn configuration with its status; a row here would be taken for one in force.
    bands: () => force.collection.platforms.map((platform) => bandsOf(collection.service, platform)),
    changeovers: () => collection.platforms.flatMap((platform) => changeoverRows(site, platform)),
    loads: () => collection.platforms.flatMap(loadRows),
    slips: () => collection.platforms.map((platform) => slipsResult(modelOf(platform), collection.service)),
    "single-points": () => collection.platforms.map((platform) => singlePointsResult(platform, collection.service)),
    ready: () => collection.platforms.map((platform) => readyResult(platform, collection.service)),
    folders: () => foldersResult(audits(site), collection, today),
  };
  const names = Object.keys(dataShapes) as (keyof typeof dataShapes)[];
  return new Map(
    names.flatMap((name) => [
      [`${name}.json`, results[name]] as const,
      [`${name}.schema.json`, () => jsonSchemaOf(dataShapes[name])] as const,
    ]),
  );
}

function bandsOf(service: Service, { id, configurations }: Platform) {
  const end = (each: End | undefined) =>
    each ? { kg: formatDecimal(each.value, MASS_PER_KG), owned: each.owned } : null;
  return {
    platform: id,
    service: service.band.weight.text,
    configurations: configurations.map(({ id: configuration, title, code, revision, band: { weight, age } }) => ({
      configuration,
      title,
      code,
      revision,
      weight: weight.text,
      age: age.text,
      from: end(weight.from),
      to: end(weight.to),
    })),
  };
}

function changeoverRows(site: Site, platform: Platform) {
  const crew = site.collection.service.crew.map(({ id }) => id);
  return [...changeoversOf(site, platform).values()].flat().map(({ changeover, timeline, cells }) => ({
    platform: platform.id,
    patients: cells.map(({ band }) => sayBand(band)).join("; "),
    changeover: changeoverResult(changeover, modelOf(platform), crew, timeline),
  }));
}

function loadRows(platform: Platform) {
  return validArrangements(platform).flatMap((arrangement) => {
    const { fromKg, toKg } = bandEnds(arrangement.band);
    return [fromKg, ...(toKg ? [toKg] : [])].map((kg) => ({
      platform: platform.id,
      arrangement: arrangement.name,
      patientKg: toNumber(kg),
      load: reportLoad(platform, arrangement, kg),
    }));
  });
}
