/** Configuration and option files to configurations and options. */
import type { RootContent } from "mdast";
import { Findings } from "../findings/finding.ts";
import type { Block, Check, Configuration, Fitted, Option } from "../schema/collection.ts";
import { ASIDE } from "../schema/units.ts";
import { configurationHead, optionHead } from "../schema/files.ts";
import type { MarkdownFile } from "../read/markdown.ts";
import { placeIn } from "../read/raw.ts";
import { readFields } from "../read/read-fields.ts";
import type { Found, Placed } from "../read/read-fields.ts";
import { compileControlled } from "./controlled.ts";
import { openDoc } from "./document.ts";
import type { Doc } from "./document.ts";
import { mendFences } from "./mend-fences.ts";
import { resolveName, resolveState } from "./names.ts";
import type { Names } from "./names.ts";
import { compileBlock, reportDirective } from "./prose.ts";
import { compileCheck } from "./step.ts";

/** Compiles a configuration. */
export function compileConfiguration(
  file: MarkdownFile,
  id: string,
  platform: string,
  names: Names,
  components: ReadonlySet<string>,
  all: Findings,
): Configuration {
  const findings = file.brokenHead ? new Findings() : all;
  const path = file.source.file,
    doc = openDoc(file, all, names, components);
  const head = readFields(
    configurationHead,
    file.head,
    { source: file.source, findings, quiet: file.brokenHead },
    { what: "the front matter", where: { file: path, line: 1, column: 1 } },
  );
  const { fields, at } = head;
  return {
    ...compileControlled(head, id, platform, path),
    authority: (fields.authority ?? []).map(({ value, where }) => ({
      kind: value.fields.kind ?? "",
      reference: value.fields.reference ?? "",
      ...(value.fields.date !== undefined ? { date: value.fields.date } : {}),
      where,
      at: value.at,
    })),
    standing: fields.standing ?? false,
    fitted: compileFitted(fields.fitted, names, file, findings),
    fastenings: [...(fields.fastenings ?? new Map<string, Placed<string>>())].map(([name, { value, where }]) => {
      const fastening = resolveName(names.fastenings, name, where, findings);
      return {
        fastening,
        state: resolveState(names, fastening, value, at[`fastenings.${name}`] ?? where, findings),
        where,
      };
    }),
    options: resolveOptions(fields.options, names, findings),
    ...compileCardBody(mendFences(file.tree.children, doc), doc),
  };
}

/** Compiles an option. */
export function compileOption(
  file: MarkdownFile,
  id: string,
  platform: string,
  names: Names,
  components: ReadonlySet<string>,
  all: Findings,
): Option {
  const findings = file.brokenHead ? new Findings() : all;
  const path = file.source.file,
    doc = openDoc(file, all, names, components),
    where = { file: path, line: 1, column: 1 };
  const head = readFields(
    optionHead,
    file.head,
    { source: file.source, findings, quiet: file.brokenHead },
    { what: "the front matter", where },
  );
  const { fields, raws } = head;
  if (!file.brokenHead && !raws.has("fitted") && !raws.has("empty"))
    findings.error("text/missing-field", where, {
      message: "`fitted` is missing from the option",
      fix: "Add `fitted`, or `empty` with the places it clears",
    });
  return {
    ...compileControlled(head, id, platform, path),
    fitted: compileFitted(fields.fitted, names, file, findings),
    empty: (fields.empty ?? []).map((place) => ({
      place: resolveName(names.places, place.value, place.where, findings),
      where: place.where,
    })),
    notWith: resolveOptions(fields["not-with"], names, findings).map((option) => option.id),
    ...compileCardBody(mendFences(file.tree.children, doc), doc),
  };
}

function resolveOptions(
  list: readonly Placed<string>[] | undefined,
  names: Names,
  findings: Findings,
): { id: string; where: Placed<string>["where"] }[] {
  const options: { id: string; where: Placed<string>["where"] }[] = [];
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
      if (!found || !/^[1-9]\d{0,5}$/.test(count)) {
        findings.error("text/bad-value", entry.where, {
          message: `Unexpected \`${entry.value}\`, expected an item, or a count and an item such as \`4 capsule-pin\``,
          fix: "Write the count as a whole number before the item's id",
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
    if (node.type === "leafDirective" && node.name === "check") checks.push(compileCheck(node, doc));
    else if (node.type === "leafDirective" && ["move", "turn", "include"].includes(node.name))
      reportDirective(node, doc, "in a configuration or option");
    else {
      const block = compileBlock(node, doc);
      if (block) body.push(block);
    }
  }
  return { checks, body };
}
