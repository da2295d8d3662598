/** The weight rail of a platform; apart from `rail.ts`, which browsers load. */
import type { Platform, Service } from "../schema/collection.ts";
import { inUse } from "../domain/parts/lookup.ts";
import { remember } from "../domain/words/remember.ts";
import { layRail, type Rail } from "./rail.ts";

/** The weight rail of a platform, over all the patients of the service. */
export const railOf: (service: Service, platform: Platform) => Rail = remember((service: Service, platform: Platform) =>
  layRail(
    inUse(platform).map(({ id, band }) => ({ id, weight: band.weight })),
    service.band.weight,
  ),
);
