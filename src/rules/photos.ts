/** Photos and the steps that show them, for the photo rules. */
import type { Collection, Photo, Platform, Reference } from "../schema/collection.ts";
import { nearestName } from "../read/nearest.ts";
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

/** A photo's name with the ending of its file, which it does not take. */
const PHOTO_ENDING = /^(.+)\.(?:jpe?g|png|webp|heic|gif)$/i;

/** A photo's name without the ending of its file. */
export const bareName = (name: string): string => PHOTO_ENDING.exec(name)?.[1] ?? name;

/**
 * The photo that is meant by a name of which there is none: one with a name nearly like it, those first that no step
 * shows yet; `undefined` where there is none.
 */
export function photoMeant(platform: Platform, name: string): string | undefined {
  const shown = new Set(
      platform.procedures.flatMap(({ steps }) => steps.flatMap(({ photos }) => photos.map(({ id }) => id))),
    ),
    there = platform.photos.flatMap(({ id, file }) => (file ? id : []));
  return (
    nearestName(
      name,
      there.filter((id) => !shown.has(id)),
    ) ?? nearestName(name, there)
  );
}

/** All photos, platform by platform. */
export function photosOf(collection: Collection): Photo[] {
  return collection.platforms.flatMap((platform) => platform.photos);
}
