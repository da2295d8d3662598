/** What is set aside is said so, where another file still names it (invented collection; the guide: `_` sets aside). */
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";

const work = mkdtempSync(join(tmpdir(), "rerig-aside-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

describe("a copy in a folder whose platform is set aside", () => {
  it.each([
    ["with its platform", "sled/child-shell", "platform `sled`"],
    ["alone", "child-shell", "configuration `child-shell`"],
    ["with an option of another platform", "barrow/child-shell+oxygen", undefined],
  ])("named %s is told so, and nobody is told to write it anew", async (_, card, said) => {
    const folder = mkdtempSync(join(work, "c-"));
    cpSync(resolve(import.meta.dirname, "../fixtures/collections/sled"), folder, { recursive: true });
    cpSync(join(folder, "sled"), join(folder, "barrow"), { recursive: true });
    renameSync(join(folder, "sled"), join(folder, "_sled"));
    if (said !== undefined) {
      // The other platform has no such arrangement.
      const own = join(folder, "barrow/configurations/child-shell.mdx");
      writeFileSync(join(folder, "barrow/configurations/tub.mdx"), readFileSync(own));
      rmSync(own);
    }
    writeFileSync(join(folder, "folders.yaml"), `van: { name: Van, copies: [{ card: ${card}, copy: 1 }] }\n`);
    const findings = new Findings();
    await loadCollection(folder, findings);
    const found = findings.list.filter(({ file }) => file === "folders.yaml");
    expect(found.map(({ message, fix }) => `${message}. ${fix}`)).toEqual(
      said === undefined
        ? []
        : [
            `The ${said} is set aside: it is in the folder \`_sled\`, which is not read. Take it out here; or, if it ` +
              "is to be used again, take the `_` off the name of the folder `_sled`",
          ],
    );
  });
});
