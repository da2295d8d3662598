/** What went wrong in the code of a background page, for its author: a check reads such code, but only a build runs it. */
import { relative } from "node:path";
import type { Where } from "../schema/collection.ts";
import type { Job } from "./job.ts";

/** The code of a background page fails; nothing was built. */
export class PageFault extends Error {
  override readonly name = "PageFault";
  readonly where: Where;

  constructor(where: Where, reason: string) {
    super(reason);
    this.where = where;
  }
}

/** The fault as the author's, if a background page caused it: while it was translated, or while it was rendered. */
export function pageFaultOf(error: unknown, job: Job): PageFault | undefined {
  const files = job.collection.platforms.flatMap(({ readings }) => readings.map(({ file }) => file));
  const causes = [error, ...(error instanceof Error && "errors" in error && Array.isArray(error.errors) ? (error.errors as unknown[]) : [])];
  for (const cause of causes) {
    const text = cause instanceof Error ? cause.message : String(cause), loc = placeOf(cause);
    const file = files.find((name) => (loc?.file !== undefined && relative(job.folder, loc.file) === name) || text.includes(`/${name}`));
    if (file) return new PageFault({ file, line: loc?.line ?? 1, column: loc?.column ?? 1 }, reasonOf(text));
  }
  return job.rendering === undefined ? undefined : new PageFault({ file: job.rendering, line: 1, column: 1 }, reasonOf(error instanceof Error ? error.message : String(error)));
}

function placeOf(cause: unknown): Partial<Where> | undefined {
  return typeof cause === "object" && cause !== null && "loc" in cause && typeof cause.loc === "object" && cause.loc !== null ? (cause.loc as Partial<Where>) : undefined;
}

/** The first line that says something, without colours, plugin names and paths. */
function reasonOf(text: string): string {
  const lines = text.replace(/\u001b\[[\d;]*m/g, "").split(/\r?\n/).map((line) => line.replace(/^\[plugin [^\]]*\].*$|^Build failed with .*$|^\s*at .*$/, "").replace(/^(?:\w*Error: )?(?:\d+:\d+: )?/, "").trim());
  return (lines.find(Boolean) ?? "it can't be run").slice(0, 200);
}
