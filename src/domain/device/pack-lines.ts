/**
 * What a packed platform leaves out and the question of what is out of service needs: the lines of the cards, and which
 * weights an item holds.
 */
import type { Check, Platform, Range } from "../../schema/collection.ts";
import { packRange, unpackRange, type PackedRange } from "./pack.ts";

type PackedLine = Pick<Check, "challenge" | "answer" | "by" | "about" | "replaces">;

/** Lines by the id of their configuration or option, and ranges of weight by the id of the item that holds them. */
export interface PackedLines {
  readonly configurations: Readonly<Record<string, readonly PackedLine[]>>;
  readonly options: Readonly<Record<string, readonly PackedLine[]>>;
  readonly restrains: Readonly<Record<string, PackedRange>>;
}

/** Packs them, to go beside `packPlatform`. */
export function packLines({ configurations, options, items }: Platform): PackedLines {
  const linesOf = (records: readonly { readonly id: string; readonly checks: readonly Check[] }[]) =>
    Object.fromEntries(
      records.map(({ id, checks }) => [
        id,
        checks.map(({ challenge, answer, by, about, replaces }) => ({
          challenge,
          answer,
          by,
          ...(about ? { about } : {}),
          ...(replaces ? { replaces } : {}),
        })),
      ]),
    );
  return {
    configurations: linesOf(configurations),
    options: linesOf(options),
    restrains: Object.fromEntries(
      items.flatMap(({ id, restrains }) => (restrains ? [[id, packRange(restrains)]] : [])),
    ),
  };
}

/** The unpacked platform with them. */
export function withLines(platform: Platform, packed: PackedLines): Platform {
  const { where, at } = platform;
  const checksOf = (lines: readonly PackedLine[] = []) => lines.map((line): Check => ({ ...line, where, at }));
  const restrainsOf = (id: string): { readonly restrains?: Range } =>
    packed.restrains[id] ? { restrains: unpackRange(packed.restrains[id]) } : {};
  return {
    ...platform,
    items: platform.items.map((item) => ({ ...item, ...restrainsOf(item.id) })),
    configurations: platform.configurations.map((each) => ({
      ...each,
      checks: checksOf(packed.configurations[each.id]),
    })),
    options: platform.options.map((each) => ({ ...each, checks: checksOf(packed.options[each.id]) })),
  };
}
