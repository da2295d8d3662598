/** Photos and the steps that show them, for the photo rules. */
import type { Collection, Photo, Platform, Reference } from "../schema/collection.ts";
import { ownSteps } from "./texts.ts";

/** A photo as a step names it; `photo` is absent if there is neither an image nor a sidecar of that name. */
interface PhotoUse {
  readonly reference: Reference;
  readonly photo?: Photo;
  readonly platform: Platform;
}

/** Every `photo=` of steps, in order. Withdrawn procedures are left out. */
export function photoUses(collection: Collection): PhotoUse[] {
  const byPlatform = new Map(
    collection.platforms.map((platform) => [platform, new Map(platform.photos.map((photo) => [photo.id, photo]))]),
  );
  return ownSteps(collection).flatMap(({ step, platform }) =>
    step.photos.map((reference) => {
      const photo = byPlatform.get(platform)!.get(reference.id);
      return { reference, platform, ...(photo ? { photo } : {}) };
    }),
  );
}

/** All photos, platform by platform. */
export function photosOf(collection: Collection): Photo[] {
  return collection.platforms.flatMap((platform) => platform.photos);
}
