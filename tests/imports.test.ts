/** The folders of src/ only import what stands before them, and the domain is pure. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const src = resolve(import.meta.dirname, "../src");
/** Which folders a folder may import from, beside itself. */
const before: Readonly<Record<string, readonly string[]>> = {
  schema: [],
  findings: ["schema"],
  read: ["schema", "findings"],
  compile: ["schema", "findings", "read"],
  domain: ["schema"],
  rules: ["schema", "findings", "domain"],
  build: ["schema", "findings", "read", "compile", "domain", "rules"],
  commands: ["schema", "findings", "read", "compile", "domain", "rules", "build"],
  browser: ["schema", "domain", "build"],
  layouts: ["schema", "findings", "domain", "build"],
  pages: ["schema", "findings", "domain", "rules", "build", "layouts"],
};

const files = readdirSync(src, { recursive: true, encoding: "utf8" }).filter((file) =>
  /\.(?:ts|astro|mjs)$/.test(file),
);
const importsOf = (file: string) =>
  [
    ...readFileSync(join(src, file), "utf8").matchAll(
      /(?:import|export)\s[^"';]*?from\s+"([^"]+)"|import\("([^"]+)"\)|^import "([^"]+)"/gm,
    ),
  ].map((found) => (found[1] ?? found[2] ?? found[3])!);

describe("imports", () => {
  it("are found at all", () => expect(files.flatMap(importsOf).length).toBeGreaterThan(100));

  it.each(Object.keys(before))("of src/%s point back up the list", (folder) => {
    const wrong = files
      .filter((file) => file.startsWith(`${folder}/`))
      .flatMap((file) =>
        importsOf(file)
          .filter((target) => target.startsWith("."))
          .map((target) => relative(src, resolve(src, dirname(file), target)).split("/")[0]!)
          .filter((target) => target !== ".." && target !== folder && !before[folder]!.includes(target))
          .map((target) => `${file} imports ${target}/`),
      );
    expect(wrong).toEqual([]);
  });

  it("of the domain name no Node module, no clock, no randomness and no environment", () => {
    const wrong = files
      .filter((file) => file.startsWith("domain/") || file.startsWith("schema/"))
      .filter((file) =>
        /from "(?:node:|astro)|Date\.now|new Date\(\)|Math\.random|process\.env/.test(
          readFileSync(join(src, file), "utf8"),
        ),
      );
    expect(wrong).toEqual([]);
  });

  it("find a file that opens with a sentence on what it is for", () => {
    const silent = files
      .filter((file) => file.endsWith(".ts") && !file.startsWith("starter/"))
      .filter((file) => !/^\/\*\*\s*\S/.test(readFileSync(join(src, file), "utf8")));
    expect(silent).toEqual([]);
  });
});
