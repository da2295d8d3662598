/** The weight rail of a platform; apart from `rail.ts`, which browsers load. */
import type { Platform, Service } from "../schema/collection.ts";
import { weightRows } from "../domain/parts/table.ts";
import { remember } from "../domain/words/remember.ts";
import { layRail, type Rail } from "./rail.ts";

/** The weight rail of a platform, over all the patients of the service. */
export const railOf: (service: Service, platform: Platform) => Rail = remember((service: Service, platform: Platform) =>
  layRail(weightRows(platform), service.band.weight),
);
