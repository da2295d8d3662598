/** The little that is asked of every platform, also of those whose texts nobody needs to read again. */
import type { Controlled, Platform, Where } from "./collection.ts";

/** What a platform comes to in numbers, ids and codes. Plain data, which can be kept beside the platform. */
export interface PlatformFacts {
  readonly counts: {
    readonly configurations: number;
    readonly options: number;
    readonly procedures: number;
    /** Of procedures as they are written: what another one includes counts where it stands. */
    readonly steps: number;
    readonly photos: number;
  };
  /** In the order of the platform. */
  readonly configurations: readonly string[];
  readonly options: readonly string[];
  /** Of every document that has a code: configurations, options, then procedures. */
  readonly codes: readonly { readonly code: string; readonly title: string; readonly where: Where }[];
}

const known = new WeakMap<Platform, PlatformFacts>();

/** The facts of a platform, worked out once. */
export function factsOf(platform: Platform): PlatformFacts {
  const facts = known.get(platform) ?? workOut(platform);
  known.set(platform, facts);
  return facts;
}

/** Says what the facts of a platform are, for who kept them beside it. */
export function knowFacts(platform: Platform, facts: PlatformFacts): void {
  known.set(platform, facts);
}

const readings = new WeakMap<Platform, string>();

/**
 * Stands for all that a platform was read from: platforms with equal keys, read by the same version of the program, say
 * the same. `undefined` for a platform that is not as it was read.
 */
export const readingOf = (platform: Platform): string | undefined => readings.get(platform);

/** Says what a platform was read from. */
export function knowReading(platform: Platform, key: string): void {
  readings.set(platform, key);
}

function workOut({ configurations, options, procedures, photos }: Platform): PlatformFacts {
  const documents: readonly Controlled[] = [...configurations, ...options, ...procedures];
  return {
    counts: {
      configurations: configurations.length,
      options: options.length,
      procedures: procedures.length,
      // Asked of the procedures each time: steps tell who has read them (`domain/words/reads.ts`).
      get steps() {
        return procedures.reduce(
          (total, { id, steps }) => total + steps.filter((step) => step.procedure === id).length,
          0,
        );
      },
      photos: photos.length,
    },
    configurations: configurations.map(({ id }) => id),
    options: options.map(({ id }) => id),
    codes: documents
      .filter(({ code }) => code !== "")
      .map(({ code, title, at, where }) => ({ code, title, where: Object.hasOwn(at, "code") ? at["code"]! : where })),
  };
}
