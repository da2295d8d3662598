/**
 * Faults of an author's file that only a build meets: code of a background page that fails, a picture that is damaged
 * inside.
 */
import { relative } from "node:path";
import type { Finding } from "../findings/finding.ts";
import type { Where } from "../schema/collection.ts";
import type { Site } from "./site.ts";

/** A file of the collection stops the build; nothing was built, and the finding says why. */
export class AuthorFault extends Error {
  override readonly name = "AuthorFault";
  readonly finding: Finding;

  constructor(finding: Finding) {
    super(finding.message);
    this.finding = finding;
  }
}

/** The fault as the author's, if a background page caused it: while it was translated, or while it was rendered. */
export function pageFaultOf(error: unknown, site: Site): AuthorFault | undefined {
  const files = site.collection.platforms.flatMap(({ readings }) => readings.map(({ file }) => file));
  const causes = [
    error,
    ...(error instanceof Error && "errors" in error && Array.isArray(error.errors) ? (error.errors as unknown[]) : []),
  ];
  for (const cause of causes) {
    const text = cause instanceof Error ? cause.message : String(cause),
      loc = placeOf(cause);
    const file = files.find(
      (name) => (loc?.file !== undefined && relative(site.folder, loc.file) === name) || text.includes(`/${name}`),
    );
    if (file) return pageFault({ file, line: loc?.line ?? 1, column: loc?.column ?? 1 }, text);
  }
  return site.rendering === undefined
    ? undefined
    : pageFault({ file: site.rendering, line: 1, column: 1 }, error instanceof Error ? error.message : String(error));
}

function pageFault(where: Where, text: string): AuthorFault {
  return new AuthorFault({
    rule: "text/bad-value",
    severity: "error",
    ...where,
    message: `The code in this page fails: ${reasonOf(text)}`,
    fix: "Correct it, or remove it",
  });
}

function placeOf(cause: unknown): Partial<Where> | undefined {
  return typeof cause === "object" &&
    cause !== null &&
    "loc" in cause &&
    typeof cause.loc === "object" &&
    cause.loc !== null
    ? (cause.loc as Partial<Where>)
    : undefined;
}

/** The first line that says something, without colours, plugin names and paths. */
function reasonOf(text: string): string {
  const lines = text
    .replace(/\u001b\[[\d;]*m/g, "")
    .split(/\r?\n/)
    .map((line) =>
      line
        .replace(/^\[plugin [^\]]*\].*$|^Build failed with .*$|^\s*at .*$/, "")
        .replace(/^(?:\w*Error: )?(?:\d+:\d+: )?/, "")
        .trim(),
    );
  return (lines.find(Boolean) ?? "it can't be run").slice(0, 200);
}
