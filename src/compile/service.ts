/** service.yaml, folders.yaml and incidents.yaml to records. */
import { Findings } from "../findings/finding.ts";
import type { At, Folder, FolderCopy, Incident, Service, Severity, Where } from "../schema/collection.ts";
import { foldersFile, incidentsFile, serviceFile } from "../schema/files.ts";
import { FIXED_GROUPS, RULE_NAMES, WARNINGS, isRuleName } from "../schema/rule-names.ts";
import { TERMS, type TermName, termOf } from "../schema/terms.ts";
import { AMENDMENT_DAYS } from "../schema/units.ts";
import { nearestName } from "../read/nearest.ts";
import { type Placed, readFields, readRecords } from "../read/read-fields.ts";
import type { Source } from "../read/source.ts";
import { readYaml } from "../read/yaml.ts";
import { heard } from "../words/heard.ts";
import { bandOf } from "./controlled.ts";
import type { Known } from "./names.ts";
import { resolveName } from "./names.ts";

/**
 * The service; what is missing gets a stand-in, since it has been reported. `complete` is false if the file could not
 * be read whole.
 */
export function compileService(source: Source, all: Findings): { service: Service; complete: boolean } {
  const { raw, broken } = readYaml(source, source.text, 0, all),
    where = { file: source.file, line: 1, column: 1 };
  const findings = broken ? new Findings() : all,
    reader = { source, findings, quiet: broken };
  const { fields, at, raws } = readFields(serviceFile, raw, reader, { what: "service.yaml", where });
  const policy: Record<string, "error" | "warning" | "off"> = Object.create(null);
  let amendmentDays = AMENDMENT_DAYS;
  for (const [rule, { value, where: place }] of fields.policy ?? []) {
    if (rule === "amendment-days" && typeof value === "number") {
      amendmentDays = value;
      continue;
    }
    if ((rule === "amendment-days") !== (typeof value === "number")) {
      findings.error("text/bad-value", place, {
        message: `Unexpected \`${value}\` for \`${rule}\``,
        fix:
          rule === "amendment-days"
            ? "Write for how many days a temporary amendment may run, such as `90`"
            : "Write `error`, `warning` or `off`",
        actual: String(value),
      });
      continue;
    }
    const group = rule.split("/")[0]!;
    if (!isRuleName(rule)) {
      const near = nearestName(rule, RULE_NAMES);
      findings.error("text/unknown-id", place, {
        message: `There is no rule \`${rule}\`${near ? `, expected \`${near}\`` : ""}`,
        fix: near ? `Write \`${near}\`` : "Write a rule's name as `group/name`",
      });
    } else if (group === "text")
      findings.add("text/bad-value", "warning", place, {
        message: heard("slipFindings").readingFixed({ rule }),
        fix: heard("slipFindings").dropLine,
      });
    else if (FIXED_GROUPS.includes(group) && value !== "error" && !(value === "warning" && WARNINGS.includes(rule)))
      findings.error("text/bad-value", place, {
        message: `\`${rule}\` can't be switched off or weakened: it is a rule of the group \`${group}\``,
        fix: "Remove the line",
      });
    else policy[rule] = value as Severity | "off";
  }
  const crew = [...(fields.crew ?? [])].map(([id, entry]) => ({
    id,
    name: entry.value,
    where: entry.where,
    at: { name: at[`crew.${id}`] ?? entry.where } as At,
  }));
  // A role whose name is missing or wrong has been reported; it is a role all the same, so that the steps that name it
  // are not.
  const declared = raws.get("crew"),
    read = new Set(crew.map(({ where: { line, column } }) => `${line}:${column}`));
  for (const { key, keyOffset } of declared?.kind === "map" ? declared.entries : []) {
    const place = source.where(keyOffset);
    if (!read.has(`${place.line}:${place.column}`) && !crew.some(({ id }) => id === key))
      crew.push({ id: key, name: key, where: place, at: {} });
  }
  if (fields.crew && crew.length === 0)
    findings.error("text/missing-field", at.crew ?? where, {
      message: "`crew` names nobody",
      fix: "Add a role, such as `lead: Transport nurse`",
    });
  for (const role of crew)
    if (role.id === "both" || role.id === "all")
      findings.error("text/bad-value", role.where, {
        message: `\`${role.id}\` can't be a crew role: in \`by\` it means several`,
        fix: "Choose another name for the role",
      });
  for (const { value: doubt, where: place } of fields.doubt ?? [])
    if (doubt.fields.weight === undefined && doubt.fields.age === undefined && !doubt.at.weight && !doubt.at.age)
      findings.error("text/missing-field", place, {
        message: "This entry of `doubt` names no patients: without `weight` or `age` it would be asked of everybody",
        fix: "Add `weight`, such as `from 4.5 kg to under 5.5 kg`",
      });
  const words = compileTerms(fields.words?.fields ?? {}, findings);
  const service: Service = {
    name: fields.name ?? "",
    language: fields.language ?? "en",
    ...(fields.site !== undefined ? { site: fields.site } : {}),
    band: bandOf(fields.weight, fields.age),
    crew,
    policy,
    ...(amendmentDays === AMENDMENT_DAYS ? {} : { amendmentDays }),
    cards: { paper: fields.cards?.fields.paper ?? "A5", laminate: fields.cards?.fields.laminate ?? false },
    ...(Object.keys(words).length > 0 ? { words } : {}),
    otherNames: namesOf(fields["other-names"]),
    ...(fields.search ? { searched: namesOf(fields.search) } : {}),
    chooser: fields.chooser ?? true,
    ...(fields.doubt
      ? {
          doubts: fields.doubt.map(({ value: doubt, where: place }) => ({
            band: bandOf(doubt.fields.weight, doubt.fields.age),
            say: doubt.fields.say ?? "",
            fetch: (doubt.fields.fetch ?? []).map((named) => ({ id: named.value, where: named.where })),
            where: place,
            at: doubt.at,
          })),
        }
      : {}),
    ...(fields.demands
      ? {
          demands: fields.demands.map(({ value: demand, where: place }) => ({
            name: demand.fields.name ?? "",
            litres: demand.fields.litres ?? 0,
            from: (demand.fields.from ?? []).map((named) => ({ id: named.value, where: named.where })),
            where: place,
            at: demand.at,
          })),
        }
      : {}),
    ...(fields.reserve !== undefined ? { reserve: fields.reserve } : {}),
    where,
    at,
  };
  return { service, complete: !broken };
}

/** A word of the service's -> the words in its list. */
function namesOf(
  written: ReadonlyMap<string, Placed<readonly Placed<string>[]>> = new Map(),
): Record<string, readonly string[]> {
  return Object.fromEntries([...written].map(([word, list]) => [word, list.value.map((other) => other.value)]));
}

/** The nouns that a service calls otherwise. */
function compileTerms(
  written: { readonly [Name in TermName]?: readonly Placed<string>[] | undefined },
  findings: Findings,
): NonNullable<Service["words"]> {
  return Object.fromEntries(
    (Object.keys(TERMS) as TermName[]).flatMap((name) => {
      const [one, many, third] = written[name] ?? [];
      if (third)
        findings.error("text/bad-value", third.where, {
          message: `\`${name}\` has more than two words: \`${third.value}\``,
          fix: "Write the singular and the plural, such as `[casualty, casualties]`",
          actual: third.value,
        });
      return one ? [[name, termOf(one.value, many?.value)]] : [];
    }),
  );
}

/** What cards are named by. */
export interface CardNames {
  readonly configurations: Known;
  readonly options: Known;
  /** Platforms that are set aside, each with its folder. */
  readonly aside: ReadonlyMap<string, string>;
}

/** The binders and the copies in them; `cards` are the names on all platforms, `byPlatform` those on each. */
export function compileFolders(
  source: Source,
  cards: CardNames,
  byPlatform: ReadonlyMap<string, CardNames>,
  findings: Findings,
): Folder[] {
  const { raw, broken } = readYaml(source, source.text, 0, findings);
  const records = readRecords(foldersFile, raw, { source, findings, quiet: broken });
  return [...records].map(([id, { value, where: place }]) => ({
    id,
    name: value.fields.name ?? id,
    copies: (value.fields.copies ?? []).map(({ value: copy, where: copyWhere }) => ({
      ...(copy.fields.card === undefined
        ? { card: "" }
        : resolveCard(copy.fields.card, cards, byPlatform, copy.at.card ?? copyWhere, findings)),
      copy: copy.fields.copy ?? 0,
      ...(copy.fields.check !== undefined ? { check: copy.fields.check } : {}),
      ...(copy.fields.placed !== undefined ? { placed: copy.fields.placed } : {}),
      where: copyWhere,
      at: copy.at,
    })),
    where: place,
    at: value.at,
  }));
}

/**
 * A card's name: a configuration, perhaps with options (`a+b`), or two of these for a changeover (`a--b`); with its
 * platform before it (`tern/a`), which can be left out where only one platform has such a card.
 */
function resolveCard(
  written: string,
  cards: CardNames,
  byPlatform: ReadonlyMap<string, CardNames>,
  where: Where,
  findings: Findings,
): Pick<FolderCopy, "card" | "platform"> {
  const slash = written.indexOf("/"),
    named = slash < 0 ? undefined : written.slice(0, slash),
    card = written.slice(slash + 1);
  if (named !== undefined) {
    const ids = new Set(byPlatform.keys());
    const platform = resolveName(
      { word: "platform", ids, complete: true, declaredIn: "the collection, as a folder", aside: cards.aside },
      named,
      where,
      findings,
    );
    const own = byPlatform.get(platform);
    return own ? { card: namesIn(card, own, where, findings), platform } : { card };
  }
  const resolved = namesIn(card, cards, where, findings);
  const on = [...byPlatform].filter(([, own]) => isCardOf(resolved, own)).map(([id]) => id);
  if (on.length > 1)
    findings.error("text/bad-value", where, {
      message: `\`${card}\` is a card of ${on.length} platforms: ${on.map((id) => `\`${id}\``).join(", ")}`,
      fix: `Write which one: ${on.map((id) => `\`${id}/${card}\``).join(" or ")}`,
      actual: card,
      expected: on.map((id) => `${id}/${card}`),
    });
  return { card: resolved, ...(on.length === 1 ? { platform: on[0]! } : {}) };
}

/** Whether a platform has all that a card's name names. */
function isCardOf(card: string, { configurations, options }: CardNames): boolean {
  return card
    .split("--")
    .every((side) => side.split("+").every((name, at) => (at === 0 ? configurations : options).ids.has(name)));
}

/** A card's name without the platform, with each part as it is known. */
function namesIn(card: string, { configurations, options }: CardNames, where: Where, findings: Findings): string {
  if (configurations.ids.has(card)) return card;
  return card
    .split("--")
    .map((side) =>
      side
        .split("+")
        .map((name, index) => resolveName(index === 0 ? configurations : options, name, where, findings))
        .join("+"),
    )
    .join("--");
}

/** What went wrong once. */
export function compileIncidents(source: Source, findings: Findings): { incidents: Incident[]; complete: boolean } {
  const { raw, broken } = readYaml(source, source.text, 0, findings);
  const records = readRecords(incidentsFile, raw, { source, findings, quiet: broken });
  const incidents = [...records].map(([id, { value, where: place }]) => ({
    id,
    date: value.fields.date ?? "",
    summary: value.fields.summary ?? "",
    ...(value.fields.reference !== undefined ? { reference: value.fields.reference } : {}),
    where: place,
    at: value.at,
  }));
  return { incidents, complete: !broken };
}
