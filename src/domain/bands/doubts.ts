/** Patients of whom the service asks before anything is answered: which of its questions hold for a patient. */
import type { Band, Configuration, Platform, Service } from "../../schema/collection.ts";
import { sayList } from "../../schema/wording.ts";
import { holdsPatient, type Patient } from "./bands.ts";
import { heard } from "../../words/heard.ts";

/** A question of the service on one platform, with the configurations to have at hand until it is settled. */
export interface FirstQuestion {
  readonly band: Band;
  /** In the service's words; it is read back before anything else is answered. */
  readonly say: string;
  readonly fetch: readonly Pick<Configuration, "id" | "title" | "band">[];
}

/**
 * The questions of the service that concern a platform, in the order of the file; empty if there is none. One that
 * names configurations concerns the platforms that have one of them, and all of them if none has.
 */
export function firstQuestionsOn(
  {
    service,
    platforms,
  }: {
    readonly service: Service;
    readonly platforms: readonly { readonly configurations: readonly { readonly id: string }[] }[];
  },
  platform: Platform,
): readonly FirstQuestion[] {
  const has = <T extends { readonly id: string }>(
    on: { readonly configurations: readonly T[] },
    ids: readonly { readonly id: string }[],
  ) => on.configurations.filter((configuration) => ids.some(({ id }) => id === configuration.id));
  return (service.doubts ?? []).flatMap(({ band, say, fetch }) => {
    const own = has(platform, fetch);
    const isElsewhere = own.length === 0 && platforms.some((other) => has(other, fetch).length > 0);
    return isElsewhere ? [] : [{ band, say, fetch: own }];
  });
}

/** Those that hold for a patient; a weight or an age that is not known leaves no question out. */
export function firstQuestionsFor<Q extends Pick<FirstQuestion, "band">>(
  questions: readonly Q[],
  patient: Patient,
): readonly Q[] {
  return questions.filter(({ band }) => holdsPatient(band, patient));
}

/** `Ask for a weight of today. Fetch newborn capsule and child cradle.`, as table and command say it. */
export function sayFirstQuestion({ say, fetch }: Pick<FirstQuestion, "say" | "fetch">): string {
  const asked = /[.!?]$/.test(say) ? say : `${say}.`;
  return fetch.length
    ? heard("choice").atHandUntilThen({ asked, fetch: sayList(fetch.map(({ title }) => title)) })
    : asked;
}
