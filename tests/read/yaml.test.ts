/** YAML values as people paste them from word processors (common practice, no source). */
import { describe, expect, it } from "vitest";
import { Findings } from "../../src/findings/finding.ts";
import type { RawMap } from "../../src/read/raw.ts";
import { Source } from "../../src/read/source.ts";
import { readYaml } from "../../src/read/yaml.ts";

const read = (text: string) => {
  const findings = new Findings();
  const { raw } = readYaml(new Source("service.yaml", text), text, 0, findings);
  const values = (raw as RawMap).entries.map(({ value }) => (value.kind === "text" ? value.text : value.kind));
  return {
    values,
    said: findings.list.map(({ line, column, message, fix }) => `${line}:${column} ${message}. ${fix}`),
  };
};

describe("a value that stands wholly in curly quotes", () => {
  it.each([
    ["title: “Fit oxygen”", "Fit oxygen"],
    ["title: ‘Fit oxygen’", "Fit oxygen"],
    ["title: „Fit oxygen“", "Fit oxygen"],
    ["weight: ”from 5 kg”", "from 5 kg"],
  ])("is told at its place and read as meant: %s", (text, meant) => {
    const { values, said } = read(`owner: Lead\n${text}\n`);
    expect(values).toEqual(["Lead", meant]);
    const column = text.indexOf(":") + 3;
    expect(said).toEqual([
      `2:${column} The quotes round \`${meant}\` are curly ones of a word processor. ` +
        `Write \`"${meant}"\`, with straight quotes, or none`,
    ]);
  });

  it.each([
    ["title: Say “go” and wait", "Say “go” and wait"],
    ["title: “Go” is said by “all”", "“Go” is said by “all”"],
    ['title: "“Fit oxygen”"', "“Fit oxygen”"],
    ["title: the crew’s", "the crew’s"],
    ["title: « Étoile »", "« Étoile »"],
  ])("is none where the quotes belong to the words: %s", (text, meant) => {
    expect(read(`${text}\n`)).toEqual({ values: [meant], said: [] });
  });
});
