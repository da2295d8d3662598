/** Components placed in texts, judged once the whole collection is known: their attributes, and what these name. */
import type { Findings } from "../../findings/finding.ts";
import { PLACED_COMPONENTS } from "../../schema/placed-components.ts";
import type { PlacedAttribute } from "../../schema/placed-components.ts";
import { parseMass } from "../../schema/quantities.ts";
import type { Platform, Where } from "../../schema/collection.ts";
import { listNames, nearestName } from "../../read/nearest.ts";
import { resolveName } from "../names.ts";
import type { Known, Names } from "../names.ts";

/**
 * A component in a text. The value of an attribute is absent if it is worked out by code, which only background pages
 * may.
 */
export interface PlacedComponent {
  readonly name: string;
  readonly platform: string;
  readonly attributes: ReadonlyMap<string, { readonly value?: string | number | boolean; readonly where: Where }>;
  readonly where: Where;
}

/** What a platform has that a component may name. */
export interface Shelf {
  readonly platform: Platform;
  readonly names: Names;
}

/** Reports attributes that a component does not take or lacks, and names that there are not. */
export function checkPlaced(
  all: readonly PlacedComponent[],
  shelves: ReadonlyMap<string, Shelf>,
  findings: Findings,
): void {
  const platforms: Known = {
    word: "platform",
    ids: new Set(shelves.keys()),
    complete: true,
    declaredIn: "the collection, as a folder",
  };
  for (const placed of all) {
    const takes = PLACED_COMPONENTS.get(placed.name);
    if (!takes) continue;
    for (const [key, { where }] of placed.attributes)
      if (!takes.has(key)) {
        const near = nearestName(key, takes.keys());
        findings.error("text/unknown-field", where, {
          message: `Unexpected attribute \`${key}\` of \`<${placed.name}>\`${near ? `, expected \`${near}\`` : ""}`,
          fix: near ? `Write \`${near}\`` : `Remove it, or use ${listNames(takes.keys())}`,
        });
      }
    const misspelt = [...placed.attributes.keys()].some((key) => !takes.has(key));
    for (const [key, { needed }] of takes)
      if (needed && !misspelt && !placed.attributes.has(key))
        findings.error("text/missing-field", placed.where, {
          message: `\`${key}\` is missing from \`<${placed.name}>\``,
          fix: `Write \`<${placed.name} ${key}="…" />\``,
        });
    const named = placed.attributes.get("platform"),
      other =
        typeof named?.value === "string" ? resolveName(platforms, named.value, named.where, findings) : placed.platform;
    const shelf = shelves.get(other);
    if (!shelf || (named && named.value === undefined)) continue;
    for (const [key, { value, where }] of placed.attributes) {
      const attribute = takes.get(key);
      if (attribute && value !== undefined)
        checkValue({ component: placed.name, key, kind: attribute.value, value, where }, shelf, findings);
    }
  }
}

/** An attribute with what it is to be. */
interface Attribute {
  readonly component: string;
  readonly key: string;
  readonly kind: PlacedAttribute["value"];
  readonly value: string | number | boolean;
  readonly where: Where;
}

function checkValue(
  { component, key, kind, value, where }: Attribute,
  { platform, names }: Shelf,
  findings: Findings,
): void {
  if (typeof value !== "string" || value.trim() === "") {
    findings.error("text/bad-value", where, {
      message: `\`${key}\` of \`<${component}>\` has no text, expected a name in quotes`,
      fix: `Write \`${key}="…"\``,
    });
    return;
  }
  if (kind === "item") resolveName(names.items, value, where, findings);
  else if (kind === "photo") {
    const photos: Known = {
      word: "photo",
      ids: new Set(platform.photos.map(({ id }) => id)),
      complete: true,
      declaredIn: `the folder ${platform.id}/photos`,
    };
    resolveName(photos, value, where, findings, "photo/missing");
  } else if (kind === "weight") {
    const reading = parseMass(value);
    if (!reading.ok) findings.error("text/bad-value", where, { message: reading.message, fix: reading.fix });
  } else if (kind === "arrangement") checkArrangement(value, where, { platform, names }, findings);
}

function checkArrangement(words: string, where: Where, { platform, names }: Shelf, findings: Findings): void {
  const [first = "", ...options] = words.split("+").map((word) => word.trim());
  const configuration = platform.configurations.find(
    ({ id }) => id === resolveName(names.configurations, first, where, findings),
  );
  for (const option of options) {
    const id = resolveName(names.options, option, where, findings);
    if (configuration && names.options.ids.has(id) && !configuration.options.some((allowed) => allowed.id === id))
      findings.error("text/bad-value", where, {
        message: `\`${configuration.id}\` does not take the option \`${id}\``,
        fix: `Name an option that the configuration lists under \`options\`, or add \`${id}\` there`,
      });
  }
}
