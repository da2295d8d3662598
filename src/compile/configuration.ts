/** Configuration and option files to configurations and options. */
import type { RootContent } from "mdast";
import { Findings } from "../findings/finding.ts";
import type { Block, Check, Configuration, Fitted, Option, Requirement } from "../schema/collection.ts";
import { ASIDE } from "../schema/units.ts";
import { configurationHead, optionHead } from "../schema/files.ts";
import { heard } from "../words/heard.ts";
import type { MarkdownFile } from "../read/markdown.ts";
import { placeIn } from "../read/raw.ts";
import { readFields } from "../read/read-fields.ts";
import type { Found, Placed as Value } from "../read/read-fields.ts";
import { bandOf, compileControlled, requireApproval } from "./controlled.ts";
import { compileDirective, isDirective } from "./text/directive.ts";
import { openDoc } from "./document.ts";
import type { Compiled, Context, Doc, Part } from "./document.ts";
import { mendFences } from "./text/mend-fences.ts";
import { resolveName, resolveState } from "./names.ts";
import type { Names } from "./names.ts";
import { compileBlock } from "./text/prose.ts";

/** Compiles a configuration. */
export function compileConfiguration(file: MarkdownFile, id: string, context: Context): Compiled<Configuration> {
  const { names, platform } = context,
    findings = file.brokenHead ? new Findings() : context.findings;
  const path = file.source.file,
    head = readFields(
      configurationHead,
      file.head,
      { source: file.source, findings, quiet: file.brokenHead },
      { what: "the front matter", where: { file: path, line: 1, column: 1 } },
    );
  const { fields, at } = head,
    shared = compileControlled(head, id, platform, path),
    doc = openDoc(file, context, shared);
  requireApproval(head, "configuration", path, findings);
  const options = resolveOptions(fields.options, names, findings);
  const value: Configuration = {
    ...shared,
    authority: (fields.authority ?? []).map(({ value: authority, where }) => ({
      kind: authority.fields.kind ?? "",
      reference: authority.fields.reference ?? "",
      ...(authority.fields.date !== undefined ? { date: authority.fields.date } : {}),
      where,
      at: authority.at,
    })),
    standing: fields.standing ?? false,
    fitted: compileFitted(fields.fitted, names, file, findings),
    fastenings: [...(fields.fastenings ?? new Map<string, Value<string>>())].map(([name, { value: state, where }]) => {
      const fastening = resolveName(names.fastenings, name, where, findings);
      return {
        fastening,
        state: resolveState(names, fastening, state, at[`fastenings.${name}`] ?? where, findings),
        where,
      };
    }),
    options,
    ...(fields.requires ? { requires: compileRequired(fields.requires, options, names, findings) } : {}),
    ...compileCardBody(mendFences(file.tree.children, doc), doc),
  };
  return { value, placed: doc.placed };
}

/** Compiles an option. */
export function compileOption(file: MarkdownFile, id: string, context: Context): Compiled<Option> {
  const { names, platform } = context,
    findings = file.brokenHead ? new Findings() : context.findings;
  const path = file.source.file,
    where = { file: path, line: 1, column: 1 };
  const head = readFields(
    optionHead,
    file.head,
    { source: file.source, findings, quiet: file.brokenHead },
    { what: "the front matter", where },
  );
  const { fields, raws } = head,
    shared = compileControlled(head, id, platform, path),
    doc = openDoc(file, context, shared);
  requireApproval(head, "option", path, findings);
  if (!file.brokenHead && !raws.has("fitted") && !raws.has("empty"))
    findings.error("text/missing-field", where, {
      message: "`fitted` is missing from the option",
      fix: "Add `fitted`, or `empty` with the places it clears",
    });
  const value: Option = {
    ...shared,
    fitted: compileFitted(fields.fitted, names, file, findings),
    empty: (fields.empty ?? []).map((place) => ({
      place: resolveName(names.places, place.value, place.where, findings),
      where: place.where,
    })),
    notWith: resolveOptions(fields["not-with"], names, findings).map((option) => option.id),
    ...compileCardBody(mendFences(file.tree.children, doc), doc),
  };
  return { value, placed: doc.placed };
}

function compileRequired(
  list: NonNullable<Found<(typeof configurationHead)["shape"]["requires"]>>,
  options: Configuration["options"],
  names: Names,
  findings: Findings,
): Requirement[] {
  return list.flatMap(({ value: { fields, at }, where }) => {
    if (fields.option === undefined) return [];
    const place = at.option ?? where,
      option = resolveName(names.options, fields.option, place, findings);
    if (names.options.ids.has(option) && !options.some(({ id }) => id === option))
      findings.error("text/bad-value", place, {
        message: `\`requires\` names the option \`${option}\`, which \`options\` does not list`,
        fix: `Add \`${option}\` to \`options\``,
        actual: option,
        expected: options.map(({ id }) => id),
      });
    return [{ option, band: bandOf(fields.weight, fields.age), where: place }];
  });
}

function resolveOptions(
  list: readonly Value<string>[] | undefined,
  names: Names,
  findings: Findings,
): { id: string; where: Value<string>["where"] }[] {
  const options: { id: string; where: Value<string>["where"] }[] = [];
  for (const { value, where } of list ?? []) {
    const id = resolveName(names.options, value, where, findings),
      earlier = options.find((option) => option.id === id);
    if (earlier)
      findings.error("text/duplicate-id", where, {
        message: `The option \`${id}\` is named twice`,
        fix: "Remove one of the two",
        cause: earlier.where,
      });
    else options.push({ id, where });
  }
  return options;
}

/** What to write in the place of an entry that is no item with its count: what is meant, where that is plain. */
function fittedFix(written: string, names: Names): string {
  const [, count, item] = /^([1-9]\d{0,3})\s*[x×*]\s*(\S+)$/i.exec(written.trim()) ?? [];
  if (count !== undefined) return heard("slipFindings").write({ what: `${count} ${item}` });
  const each = written.trim().match(/(?:[1-9]\d{0,3}\s+)?\S+/g) ?? [];
  const areItems = each.every((one) => names.items.ids.has(one.replace(/^\d+\s+/, "")));
  return each.length > 1 && areItems
    ? heard("slipFindings").comma({ all: each.join(", ") })
    : "Write the count as a whole number before the item's id";
}

function compileFitted(
  fitted: Found<(typeof configurationHead)["shape"]["fitted"]> | undefined,
  names: Names,
  file: MarkdownFile,
  findings: Findings,
): Fitted[] {
  const all: Fitted[] = [];
  for (const [name, { value, where }] of fitted ?? []) {
    const place = resolveName(names.places, name, where, findings);
    if (place === ASIDE)
      findings.error("text/bad-value", where, {
        message: "Nothing stays `aside` in an arrangement",
        fix: "Name another place",
      });
    for (const entry of value) {
      const found = /^(?:(\S+)\s+)?(\S+)$/.exec(entry.value.trim());
      const count = found?.[1] ?? "1";
      if (!found || !/^[1-9]\d{0,3}$/.test(count)) {
        findings.error("text/bad-value", entry.where, {
          message:
            `Unexpected \`${entry.value}\`, expected an item, or a count up to 9999 and an item such as ` +
            "`4 capsule-pin`",
          fix: fittedFix(entry.value, names),
        });
        continue;
      }
      const at =
        entry.raw.kind === "text" && found[1] !== undefined
          ? placeIn(file.source, entry.raw, entry.value.length - found[2]!.length)
          : entry.where;
      const item = resolveName(names.items, found[2]!, at, findings),
        earlier = all.find((other) => other.place === place && other.item === item);
      if (earlier)
        findings.error("text/duplicate-id", entry.where, {
          message: `\`${item}\` is named twice for \`${place}\``,
          fix: `Write it once, with its count, such as \`2 ${item}\``,
          cause: earlier.where,
        });
      else all.push({ place, item, count: Number(count), where: entry.where });
    }
  }
  return all;
}

function compileCardBody(nodes: readonly RootContent[], doc: Doc): { checks: Check[]; body: Block[] } {
  const checks: Check[] = [],
    body: Block[] = [];
  for (const node of nodes) {
    const part = isDirective(node) ? compileDirective(node, "card", doc) : compileBlock(node, doc);
    if (part?.kind === "check") checks.push(part.check);
    else if (part !== undefined && isBlock(part)) body.push(part);
  }
  return { checks, body };
}

/** Of what may stand in a card's body only its checks are no blocks. */
function isBlock(part: Part | Block): part is Block {
  return part.kind !== "check";
}
