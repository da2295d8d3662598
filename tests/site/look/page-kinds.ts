/** One page of every kind in a built site, found by its address, so that a new kind of page is not forgotten. */
import { readdir } from "node:fs/promises";
import { dirname, join } from "node:path";

/** Addresses by kind: the kind is the address with its ids left open, such as `(platform)/procedures/(id)/`. */
export async function pagesByKind(folder: string): Promise<ReadonlyMap<string, readonly string[]>> {
  const files = (await readdir(folder, { recursive: true })).filter((file) => file.endsWith(".html")).sort();
  const kinds = new Map<string, string[]>();
  for (const file of files) {
    const address = file.endsWith("index.html") ? join(dirname(file), "/").replace(/^\.\//, "") : file;
    const kind = kindOf(address);
    kinds.set(kind, [...(kinds.get(kind) ?? []), address]);
  }
  return kinds;
}

/** Words of addresses that are the same in every collection; everything else is an id. */
const FIXED = new Set([
  "procedures",
  "configurations",
  "options",
  "items",
  "places",
  "fastenings",
  "cards",
  "card",
  "band",
  "with",
  "print",
  "checker",
  "key",
  "changeovers",
  "step-through",
  "reading",
  "study",
  "practise",
  "paper",
  "sign-off",
  "bands",
  "tonight",
  "ready",
  "drills",
  "away",
  "restock",
  "endurance",
  "call",
  "state",
  "amendments",
  "history",
  "revisions",
  "find",
  "glossary",
  "folders",
  "audit",
  "swap",
  "C",
  "check",
  "review",
  "sheet",
  "incidents",
  "device",
  "data",
  "notices",
  "proposed",
  "rules",
  "guide",
  "steps",
  "draw",
  "404.html",
  "start",
  "arrangements",
]);

function kindOf(address: string): string {
  return (
    address
      .split("/")
      .map((part) => (part === "" || FIXED.has(part) ? part : "*"))
      .join("/") || "/"
  );
}
