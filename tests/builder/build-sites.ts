/**
 * A process that builds the small sites of all test files, one after the other: most of a small build is starting up
 * and bundling the program's pages, and both are done once here. What a process of its own adds (exit codes, kills),
 * and that a site after others is that of a fresh build, is tested in tests/build/.
 */
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { PageMaker } from "../../src/build/render/page-maker.ts";
import type { WantedSite } from "./built-site.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-builder-"));
const makers = new Map<string, PageMaker>();

/**
 * Builds as `rerig build` does. Background pages are bundled by where they are: collections with the same ones are
 * built from the same folder, and so share a bundle.
 */
async function build({ collectionFolder, outFolder, on, checked }: WantedSite): Promise<void> {
  // Loaded when the first site is wanted: most runs of a few files want none, and it takes seconds.
  const { buildSite, openPageMaker } = await import("../../src/build/build.ts"),
    { judge, openAsked } = await import("../../src/commands/collection-option.ts"),
    { addMachineMade } = await import("../words/machine-made.ts");
  // Nobody but the tests of them writes a collection in these languages.
  addMachineMade();
  const key = keyOf(collectionFolder),
    source = join(work, key);
  rmSync(source, { recursive: true, force: true });
  cpSync(collectionFolder, source, { recursive: true });
  const maker = makers.get(key) ?? openPageMaker();
  makers.set(key, maker);
  const site = { collectionFolder: source, outFolder, log: () => {}, maker, on };
  if (!checked) return buildSite(site);
  const opened = await openAsked(source, { on, hashPhotos: true }),
    findings = judge(opened),
    errors = findings.filter(({ severity }) => severity === "error");
  if (errors.length) throw new Error(errors.map((each) => String(each.message)).join("\n"));
  await buildSite({ ...site, collection: opened.files, on: opened.day, findings });
}

function keyOf(folder: string): string {
  const hash = createHash("sha256");
  for (const name of readdirSync(folder, { recursive: true, encoding: "utf8" }).sort())
    if (/(^|\/)reading\/.*\.mdx$/.test(name)) hash.update(name).update(readFileSync(join(folder, name)));
  return hash.digest("hex").slice(0, 12);
}

let last: Promise<void> = Promise.resolve();
const server = createServer((request, response) => {
  let text = "";
  request.on("data", (piece: Buffer) => (text += piece.toString()));
  request.on("end", () => {
    last = last
      .then(() => build(JSON.parse(text) as WantedSite))
      .then(
        () => void response.writeHead(200).end(),
        (error: unknown) => void response.writeHead(500).end(error instanceof Error ? error.stack : String(error)),
      );
  });
});
server.listen(0, "127.0.0.1", () => process.send!((server.address() as AddressInfo).port));

process.once("disconnect", () => {
  rmSync(work, { recursive: true, force: true });
  void Promise.all([...makers.values()].map((maker) => maker.close())).finally(() => process.exit(0));
});
