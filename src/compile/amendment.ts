/** A temporary amendment's file to its record: what it is about, what it adds, and what it replaces. */
import { Findings } from "../findings/finding.ts";
import type { Alert, Amendment, Block, Reference, Step } from "../schema/collection.ts";
import { amendmentHead } from "../schema/files.ts";
import type { MarkdownFile } from "../read/markdown.ts";
import { readFields } from "../read/read-fields.ts";
import { bandOf } from "./controlled.ts";
import { compileDirective, isDirective } from "./text/directive.ts";
import { openDoc } from "./document.ts";
import type { Compiled, Context } from "./document.ts";
import { mendFences } from "./text/mend-fences.ts";
import { resolveName } from "./names.ts";
import { compileBlock } from "./text/prose.ts";

/** Compiles one file; what is missing gets a stand-in, since it has been reported. */
export function compileAmendment(file: MarkdownFile, id: string, context: Context): Compiled<Amendment> {
  const { names, platform } = context,
    findings = file.brokenHead ? new Findings() : context.findings;
  const where = { file: file.source.file, line: 1, column: 1 };
  const { fields, at } = readFields(
    amendmentHead,
    file.head,
    { source: file.source, findings: context.findings, quiet: file.brokenHead },
    { what: "the front matter", where },
  );
  const amends = (fields.amends ?? []).flatMap(({ value, where: place }) =>
    value.fields.procedure === undefined
      ? []
      : {
          procedure: resolveName(names.procedures, value.fields.procedure, value.at.procedure ?? place, findings),
          revision: value.fields.revision ?? 0,
          where: value.at.revision ?? value.at.procedure ?? place,
        },
  );
  const out = (fields.out ?? []).map(({ value, where: place }): Reference => ({
    id: resolveName(names.items, value, place, findings),
    where: place,
  }));
  if (amends.length === 0 && out.length === 0 && !at["amends"] && !at["out"])
    findings.error("text/missing-field", where, {
      message: "This amendment is about nothing: it names no procedure in `amends` and no item in `out`",
      fix: "Add `amends: [{ procedure: …, revision: … }]`, `out: [item]`, or both",
    });
  const doc = openDoc(file, context, { id, band: bandOf(undefined, undefined) });
  const alerts: Alert[] = [],
    steps: Step[] = [],
    body: Block[] = [];
  for (const node of mendFences(file.tree.children, doc)) {
    if (!isDirective(node)) {
      const block = compileBlock(node, doc);
      if (block) body.push(block);
      continue;
    }
    const part = compileDirective(node, "procedure", doc);
    if (part?.kind === "alert") alerts.push(part);
    else if (part?.kind === "include")
      doc.findings.error("text/unknown-directive", part.where, {
        message: "`::include` can't stand in an amendment: it adds warnings and replaces steps",
        fix: "Write the steps that take its place, each as `:::step{replaces=…}`",
      });
    else if (part?.kind === "step" && !part.replaces)
      doc.findings.error("text/missing-field", part.where, {
        message: "This step of an amendment does not say which step it replaces",
        fix: "Write `:::step{replaces=…}` with the id of the step, which stands after `#` in the procedure",
      });
    else if (part?.kind === "step") steps.push(part);
  }
  const first = steps[0]?.where ?? alerts[0]?.where;
  if (first && amends.length === 0 && !at["amends"])
    doc.findings.error("text/missing-field", first, {
      message: "Nobody would read this: the amendment names no procedure in `amends`",
      fix: "Add `amends: [{ procedure: …, revision: … }]`",
    });
  const value: Amendment = {
    id,
    platform,
    file: file.source.file,
    number: fields.number ?? id,
    title: fields.title ?? id,
    reason: fields.reason ?? "",
    from: fields.from ?? "",
    until: fields.until ?? "",
    owner: fields.owner ?? "",
    approvedBy: fields["approved-by"] ?? "",
    amends,
    out,
    alerts,
    steps,
    body,
    where,
    at,
  };
  return { value, placed: doc.placed };
}
