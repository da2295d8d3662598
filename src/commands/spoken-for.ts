/** For whom a command speaks before it has read a collection: whoever the collection is of, where there is one. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { compileService } from "../compile/service.ts";
import { Findings } from "../findings/finding.ts";
import { Source } from "../read/source.ts";
import type { Speaker } from "../words/hear.ts";
import { collectionFolder } from "./collection-folder.ts";

/** The language and the nouns of the collection that the words of a command line name; English where there is none. */
export function speakerFor(argv: readonly string[]): Speaker {
  const at = argv.findIndex((word) => word === "--procedures" || word.startsWith("--procedures="));
  const given = argv[at]?.includes("=") ? argv[at].slice(argv[at].indexOf("=") + 1) : argv[at + 1];
  try {
    const text = readFileSync(join(collectionFolder(at < 0 ? undefined : given), "service.yaml"), "utf8");
    // What is wrong with the file is said when it is read for good.
    return compileService(new Source("service.yaml", text), new Findings()).service;
  } catch {
    return { language: "en" };
  }
}
