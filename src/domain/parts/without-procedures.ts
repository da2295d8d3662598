/** A platform as it is seen by who reads none of its procedures. */
import type { Platform } from "../../schema/collection.ts";

/**
 * The platform for work that reads no procedure (asked for them, it throws): one and the same for platforms that differ
 * in their procedures alone, so that whatever is remembered of it is known when an issue has changed one of them.
 */
export function withoutProcedures(platform: Platform): Platform {
  const known = views.get(platform.configurations) ?? [];
  const alike = known.find((view) => isAlike(view, platform));
  if (alike) return alike;
  const { procedures: _, ...rest } = platform;
  const view = Object.defineProperty(rest, "procedures", {
    get: () => {
      throw new Error(`A procedure of ${platform.id} is asked for where nothing may rest on one`);
    },
  }) as Platform;
  views.set(platform.configurations, [...known, view]);
  return view;
}

/** By the list of configurations, which is a new one wherever one of them is. */
const views = new WeakMap<Platform["configurations"], readonly Platform[]>();

/** Whether all that stands in the view is the very same in the platform, and nothing else is there. */
function isAlike(view: Platform, platform: Platform): boolean {
  const fields = Object.keys(view) as (keyof Platform)[];
  return fields.length === Object.keys(platform).length - 1 && fields.every((field) => view[field] === platform[field]);
}
