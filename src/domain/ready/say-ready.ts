/** What the sheets of readiness say, in the same words on page, paper and command. */
import type { Words } from "../../words/hear.ts";
import type { AfterRun, Every, Item, Place, Platform, ReadyLine } from "../../schema/collection.ts";
import { lowerFirst, sayList } from "../../schema/wording.ts";
import { namePlace } from "../parts/lookup.ts";
import { sayAfterRun, sayOften } from "../words/keywords.ts";
import { capital, sayDate, sayOptionTitles } from "../words/say.ts";
import type { callToReady } from "./call.ts";
import type { readinessOf } from "./readiness.ts";
import type { restockAfter, restockSheet } from "./restock.ts";
import { heard } from "../../words/heard.ts";

type ReadyPlace = ReturnType<typeof readinessOf>[number];
type RestockRow = ReturnType<typeof restockAfter>["rows"][number];
type CallToReady = ReturnType<typeof callToReady>;

/** What the endurance sheet is not. */
export function sayEnduranceCaution(): string {
  return heard("readiness").enduranceCaution;
}

/** How often somebody looks: `every shift`; `by its date` where only a date is given. */
export function sayEvery(every: Every | undefined): string {
  return every === undefined ? heard("readiness").byItsDate : heard("readiness").every({ every: sayOften(every) });
}

/** `until 1 Mar 2027`, or empty. */
export function sayUntil({ until }: Pick<ReadyLine, "until">): string {
  return until === undefined ? "" : heard("readiness").until({ until: sayDate(until) });
}

/** Pieces of a thing: `Monitor`, `4 × Capsule pin`. */
export function sayPieces({ name }: Pick<Item | Place, "name">, count: number): string {
  return count === 1 ? name : `${count} × ${name}`;
}

/** What must stand in a place: `Newborn capsule, 4 × Capsule pin`; `empty` for nothing. */
export function sayStands({ stands }: Pick<ReadyPlace, "stands">): string {
  return stands.length ? stands.map(({ item, count }) => sayPieces(item, count)).join(", ") : heard("readiness").empty;
}

const REASONS: Readonly<Record<Exclude<RestockRow["reasons"][number], "worn">, string>> = {
  get emptied() {
    return heard("readiness").gaveGasOrRan;
  },
  get used() {
    return heard("readiness").wasUsed;
  },
  get opened() {
    return heard("readiness").wasOpened;
  },
  get moved() {
    return heard("readiness").wasMoved;
  },
  get along() {
    return heard("readiness").travelledAlong;
  },
};

/** Why a thing is on the restock sheet: `Held the patient, was opened`. */
export function sayReasons({ reasons }: Pick<RestockRow, "reasons">, words: Words["ready"]): string {
  // What gave gas or ran was used: once is enough.
  const said = reasons.filter((reason) => !(reason === "used" && reasons.includes("emptied")));
  return capital(said.map((reason) => (reason === "worn" ? words.worn : REASONS[reason])).join(", "));
}

/** When a row holds: `with gas shelf or cooling unit`, `without gas shelf`; empty for always. */
export function sayWhen(when: ReturnType<typeof restockSheet>["rows"][number]["when"]): string {
  if (when.kind === "always") return "";
  if ("options" in when) {
    const titles = when.options.map(({ title }) => lowerFirst(title));
    const options = sayList(titles, "or");
    return when.kind === "any" ? heard("readiness").withOptions({ options }) : heard("readiness").without({ options });
  }
  return heard("readiness").only({
    arrangements: sayList(
      when.arrangements.map(({ options }) =>
        options.length
          ? heard("readiness").withOptions({ options: sayOptionTitles(options) })
          : heard("readiness").withoutAnOption,
      ),
      "or",
    ),
  });
}

/** What is done: `Clean and charge`; `If it was used: clean`. */
export function sayActs({ acts, sure }: { readonly acts: readonly AfterRun[]; readonly sure: boolean }): string {
  const said = sayList(acts.map(sayAfterRun));
  return sure ? capital(said) : heard("readiness").ifItWasUsed({ acts: said });
}

const STAGES: Readonly<Record<CallToReady["stages"][number]["stage"], string>> = {
  get band() {
    return heard("readiness").bandConfirmed;
  },
  get fetch() {
    return heard("readiness").everythingFetched;
  },
  get changeover() {
    return heard("readiness").changedOver;
  },
  get supply() {
    return heard("readiness").powerAndGas;
  },
  get card() {
    return heard("readiness").cardRead;
  },
};

/** What has been reached at the end of a stage: `Band confirmed`. */
export function sayStage(stage: keyof typeof STAGES): string {
  return STAGES[stage];
}

/** Stores whose way is not given, as a sentence; empty if all have one. */
export function sayUnwalked(platform: Platform, walks: CallToReady["walks"]): string {
  const names = walks.flatMap(({ store, walkSeconds }) =>
    walkSeconds === undefined ? [namePlace(platform, store)] : [],
  );
  return names.length === 0 ? "" : heard("readiness").theWay({ names: sayList(names) });
}
