/** Names that a file may refer to, and what is said when there is no such name. */
import { heard } from "../words/heard.ts";
import type { Findings } from "../findings/finding.ts";
import type { Where } from "../schema/collection.ts";
import { listNames, nearestName } from "../read/nearest.ts";

/**
 * Known names of one kind. If `complete` is false, the file that declares them could not be read, and nothing is said
 * about unknown ones.
 */
export interface Known {
  /** For example `item`. */
  readonly word: string;
  readonly ids: ReadonlySet<string>;
  readonly complete: boolean;
  /**
   * The declaring file has a mistake that may have cost a name: nothing is said about a name that is like none of the
   * others.
   */
  readonly doubtful?: boolean;
  /** Where such names are declared, for the fix. */
  readonly declaredIn: string;
  /** Names that stand in a folder which is set aside (`_barrow`), each with that folder. */
  readonly aside?: ReadonlyMap<string, string>;
}

/**
 * The name if it is known. Otherwise reports it and gives the nearest known name, so that what follows is judged
 * as the author probably meant it; without a near one, the name itself. `fix`: where it is known what was meant.
 */
export function resolveName(
  known: Known,
  name: string,
  where: Where,
  findings: Findings,
  rule = "text/unknown-id",
  fix?: string,
): string {
  if (known.ids.has(name)) return name;
  const aside = known.aside?.get(name);
  if (aside !== undefined) {
    findings.error(rule, where, {
      message: heard("asideFindings").isAside({ word: known.word, name, folder: aside }),
      fix: heard("asideFindings").takeOut({ folder: aside }),
      actual: name,
    });
    return name;
  }
  const near = fix === undefined ? nearestName(name, known.ids) : undefined;
  if (known.complete && (near || !known.doubtful)) {
    findings.error(rule, where, {
      message: `There is no ${known.word} \`${name}\`${near ? `, expected \`${near}\`` : ""}`,
      fix:
        fix ??
        (near
          ? `Write \`${near}\`, or add \`${name}\` to ${known.declaredIn}`
          : `${known.ids.size > 0 ? `Use ${listNames(known.ids)}, or add` : "Add"} \`${name}\` to ${known.declaredIn}`),
      actual: name,
      expected: near ? [near] : [...known.ids],
    });
  }
  return near ?? name;
}

/** What a platform's procedures, configurations and options may refer to. */
export interface Names {
  readonly items: Known;
  readonly places: Known;
  readonly fastenings: Known;
  readonly states: ReadonlyMap<string, readonly string[]>;
  readonly options: Known;
  readonly configurations: Known;
  readonly procedures: Known;
  readonly roles: Known;
  readonly incidents: Known;
}

/** Items, places and fastenings together: what a line of a card can be about. */
export function thingsOf({ items, places, fastenings }: Names): Known {
  const all = [items, places, fastenings];
  return {
    word: "item, place or fastening",
    ids: new Set(all.flatMap(({ ids }) => [...ids])),
    complete: all.every(({ complete }) => complete),
    doubtful: all.some(({ doubtful }) => doubtful),
    declaredIn: "equipment.yaml or platform.yaml",
  };
}

/** The state of a fastening; an unknown one is reported with those there are. */
export function resolveState(names: Names, fastening: string, state: string, where: Where, findings: Findings): string {
  const states = names.states.get(fastening);
  if (!states || states.includes(state)) return state;
  return reportNoState(fastening, state, states, where, findings) ?? state;
}

/** Reports a state that a fastening does not have; gives the one that was probably meant, if any is near. */
export function reportNoState(
  fastening: string,
  state: string,
  states: readonly string[],
  where: Where,
  findings: Findings,
): string | undefined {
  const near = nearestName(state, states);
  findings.error("text/bad-value", where, {
    message: `\`${fastening}\` has no state \`${state}\`, expected ${listNames(states)}`,
    fix: near ? `Write \`${near}\`` : `Write ${listNames(states)}`,
    actual: state,
    expected: near ? [near] : states,
  });
  return near;
}

/** Roles that were written with another sign than a space between them, or a word that was: none of its own. */
const partsOfCrew = (word: string): string[] => word.split(/[^\p{L}\p{N}-]+|^and$/u).filter(Boolean);

/** Crew role ids of `by`: a role, several, `both` or `all`. */
export function resolveCrew(
  words: readonly { id: string; where: Where }[],
  names: Names,
  findings: Findings,
): string[] {
  const roles = [...names.roles.ids],
    by: string[] = [],
    two = roles.slice(0, 2).join(" "),
    nameThem = `Name the roles with a space between them, as in \`by="${two}"\`, or write \`by=all\``;
  for (const { id, where } of words) {
    const parts = partsOfCrew(id);
    if (id === "all") by.push(...roles);
    else if (id === "both" && !names.roles.ids.has("both")) {
      if (roles.length !== 2 && names.roles.complete)
        findings.error("text/bad-value", where, {
          message: `\`both\` needs exactly two crew roles, and service.yaml has ${roles.length}`,
          fix: roles.length > 2 ? nameThem : "Name the role",
        });
      by.push(...roles.slice(0, 2));
    } else if (roles.length > 1 && parts.length !== 1 && parts.every((part) => names.roles.ids.has(part))) {
      resolveName(names.roles, id, where, findings, undefined, nameThem);
      by.push(...parts);
    } else by.push(resolveName(names.roles, id, where, findings));
  }
  return [...new Set(by)];
}
