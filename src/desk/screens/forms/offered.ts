/** What exists and can be named in a file, for the lists of its forms. */
import { documentsOf } from "../../../schema/documents.ts";
import { sayArrangement, validArrangements } from "../../../domain/parts/arrangements.ts";
import type { Collection, Platform } from "../../../schema/collection.ts";
import type { Named } from "../../../schema/described.ts";
import { isOpenToPolicy } from "../../../schema/rule-names.ts";
import { rules } from "../../../rules/all.ts";
import { heard } from "../../../words/heard.ts";
import type { Offered } from "./controls.ts";

/** From where names are looked up. */
export interface Around {
  readonly files: Collection;
  /** The platforms whose things can be named: of a file in a platform's folder that one alone. */
  readonly platforms: readonly Platform[];
  /** Of what is being entered, where it names a state: those that there are. */
  readonly states?: readonly string[];
}

/** The platforms whose things a file can name. */
export function platformsOf({ platforms }: Collection, file: string): readonly Platform[] {
  const own = platforms.filter(({ id }) => file.startsWith(`${id}/`));
  return own.length > 0 ? own : platforms;
}

/** All that can stand where one of these is named; `value` is what stands there now. */
export function offeredFor(names: readonly Named[], around: Around, value = ""): readonly Offered[] {
  const { platforms } = around,
    prefix = (platform: Platform) => (value === "" || value.includes("/") ? `${platform.id}/` : "");
  if (names.includes("procedure") && names.includes("configuration"))
    return platforms.flatMap((platform) =>
      documentsOf(platform).map(({ id, title }) => ({ value: prefix(platform) + id, name: title || id })),
    );
  if (names.includes("configuration") && names.includes("option"))
    return platforms.flatMap((platform) =>
      validArrangements(platform).map((arrangement) => ({
        value: prefix(platform) + arrangement.name,
        name: sayArrangement(arrangement),
      })),
    );
  return names.flatMap((each) => LISTS[each]?.(around) ?? []);
}

const named = (all: readonly { readonly id: string; readonly name: string }[]): Offered[] =>
  all.map(({ id, name }) => ({ value: id, name }));
const titled = (all: readonly { readonly id: string; readonly title: string }[]): Offered[] =>
  all.map(({ id, title }) => ({ value: id, name: title || id }));
const plain = (words: readonly string[]): Offered[] => words.map((value) => ({ value, name: value }));

const LISTS: Readonly<Partial<Record<Named, (around: Around) => readonly Offered[]>>> = {
  item: ({ platforms }) => platforms.flatMap(({ items }) => named(items)),
  place: ({ platforms }) => platforms.flatMap(({ places }) => named(places)),
  fastening: ({ platforms }) => platforms.flatMap(({ fastenings }) => named(fastenings)),
  configuration: ({ platforms }) => platforms.flatMap(({ configurations }) => titled(configurations)),
  option: ({ platforms }) => platforms.flatMap(({ options }) => titled(options)),
  procedure: ({ platforms }) => platforms.flatMap(({ procedures }) => titled(procedures)),
  role: ({ files }) => named(files.service.crew),
  incident: ({ files }) => files.incidents.map(({ id, summary }) => ({ value: id, name: summary })),
  state: ({ states = [] }) => plain(states),
  // By what they ask, those alone of which a service can say how grave they are.
  rule: () => [
    ...rules
      .filter(({ id }) => isOpenToPolicy(id))
      .map(({ id, asks }) => ({ value: id, name: asks.replaceAll("`", ""), isRule: true })),
    { value: "amendment-days", name: heard("deskForms").amendmentDays },
  ],
};
