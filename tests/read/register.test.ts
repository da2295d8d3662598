/** Registers of sign-offs: CSV as RFC 4180 writes it; every bad row a finding at its cell. */
import { resolve } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import { readRegister } from "../../src/read/register.ts";
import type { Collection } from "../../src/schema/collection.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
let collection: Collection;
beforeAll(async () => {
  collection = await loadCollection(sled, new Findings());
});

const HEAD = "person,procedure,revision,date,assessor";
const read = (text: string) => {
  const findings = new Findings();
  const rows = readRegister(text, { file: "register.csv", collection, today: "2026-11-25", findings });
  return {
    rows: rows.map(({ person, document, revision, date, assessor, lapses, attempts }) => ({
      person,
      id: document.id,
      revision,
      date,
      assessor,
      lapses,
      attempts,
    })),
    findings: findings.list,
  };
};
const good = {
  id: "fit-oxygen",
  revision: 1,
  date: "2026-03-01",
  assessor: "B. Berg",
  lapses: undefined,
  attempts: undefined,
};

describe("RFC 4180, section 2", () => {
  it("1, 2: lines end in CRLF; the last one may lack it", () => {
    const rows = [
      { ...good, person: "A. Aal" },
      { ...good, person: "C. Cook" },
    ];
    const lines = [HEAD, "A. Aal,fit-oxygen,1,2026-03-01,B. Berg", "C. Cook,fit-oxygen,1,2026-03-01,B. Berg"];
    for (const [text, name] of [
      [`${lines.join("\r\n")}\r\n`, "CRLF"],
      [lines.join("\r\n"), "no last CRLF"],
      [lines.join("\n"), "LF"],
      [`\uFEFF${lines.join("\r\n")}`, "byte-order mark"],
    ] as const)
      expect(read(text), name).toEqual({ rows, findings: [] });
  });
  it("4: spaces belong to a cell; around a name, a code or a date they are no difference", () =>
    expect(read(`${HEAD}\nA. Aal , fit-oxygen, 1, 2026-03-01, B. Berg`).rows).toEqual([{ ...good, person: "A. Aal" }]));
  it("reads a day in figures where only one number can be the month", () => {
    for (const day of ["30.11.2025", "11/30/2025", "30-11-2025"])
      expect(read(`${HEAD}\nA. Aal,fit-oxygen,1,${day},B. Berg`).rows).toEqual([
        { ...good, person: "A. Aal", date: "2025-11-30" },
      ]);
  });
  it("5: each cell may stand in quotes", () =>
    expect(
      read(`"person","procedure","revision","date","assessor"\r\n"A. Aal","fit-oxygen","1","2026-03-01","B. Berg"`)
        .rows,
    ).toEqual([{ ...good, person: "A. Aal" }]));
  it("6: commas, quotes and line breaks stand in quoted cells", () => {
    const { rows, findings } = read(
      `${HEAD}\r\n"Aal, Ann",fit-oxygen,1,2026-03-01,"B.\r\nBerg"\r\nC,nothing,1,2026-03-01,D`,
    );
    expect(rows).toEqual([{ ...good, person: "Aal, Ann", assessor: "B.\r\nBerg" }]);
    // The row after a cell of two lines is found on its own line.
    expect(findings.map(({ rule, line, column }) => ({ rule, line, column }))).toEqual([
      { rule: "register/unknown-document", line: 4, column: 3 },
    ]);
  });
  it("7: a quote in a quoted cell is written twice", () =>
    expect(read(`${HEAD}\n"Ann ""Nan"" Aal",fit-oxygen,1,2026-03-01,B. Berg`).rows).toEqual([
      { ...good, person: 'Ann "Nan" Aal' },
    ]));
  it("reads any names back that were written by these rules", () => {
    const name = fc
      .string({
        unit: fc.constantFrom("a", "B", "é", ",", '"', "\n", "\r\n", ";", "'", "=", " "),
        minLength: 1,
        maxLength: 12,
      })
      .map((text) => `x${text}y`);
    const cell = (text: string) => `"${text.replaceAll('"', '""')}"`;
    fc.assert(
      fc.property(fc.array(name, { minLength: 1, maxLength: 5 }), (names) => {
        const { rows, findings } = read(
          [HEAD, ...names.map((person) => `${cell(person)},fit-oxygen,1,2026-03-01,Z`)].join("\r\n"),
        );
        expect(findings.filter(({ severity }) => severity === "error")).toEqual([]);
        expect(rows.map(({ person }) => person)).toEqual([...new Set(names)]);
      }),
    );
  });
});

describe("a register", () => {
  it("has its columns in any order and passes over others", () => {
    expect(
      read(
        "Date,Note,ASSESSOR,Revision,configuration,person,lapses,attempts\n2026-03-01,x,B. " +
          "Berg,r1,child-shell,A. Aal,2027-03-01,4",
      ).rows,
    ).toEqual([{ ...good, id: "child-shell", person: "A. Aal", lapses: "2027-03-01", attempts: 4 }]);
  });
  it("names documents by id, by code or by platform and id", () => {
    const { code } = collection.platforms[0]!.procedures.find(({ id }) => id === "fit-oxygen")!;
    for (const name of ["fit-oxygen", code, code.toLowerCase(), "sled/fit-oxygen"])
      expect(read(`${HEAD}\nA,${name},1,2026-03-01,B`).rows, name).toHaveLength(1);
  });
  it.each([";", "\t"])(
    "is divided by %j where its first row is, commas and all, as spreadsheets save it (common practice, no source)",
    (sign) => {
      const rowsOf = (...rows: string[][]) => rows.map((row) => row.join(sign)).join("\r\n");
      const text = rowsOf(HEAD.split(","), ["Aal, Ann", "fit-oxygen", "1", "2026-03-01", `"B.${sign}Berg"`]);
      expect(read(`\ufeff${text}`)).toEqual({
        rows: [{ ...good, person: "Aal, Ann", assessor: `B.${sign}Berg` }],
        findings: [],
      });
      const wrong = rowsOf(
        [...HEAD.split(","), "attempts"],
        ["A", "fit-oxygen", "1,0", "2026-03-01", "B"],
        ["A", "fit-oxygen", "1", "2026-03-01", "B", "3,5"],
        ["A", "fit-oxygen", "1", "2026-03-01", "B", "3", "more"],
      );
      const { rows, findings } = read(wrong);
      expect(rows).toEqual([]);
      expect(findings.map(({ rule, line, column }) => [rule, line, column])).toEqual([
        ["register/bad-value", 2, 14],
        ["register/bad-value", 3, 29],
        ["register/too-many-cells", 4, 31],
      ]);
      expect(findings[2]!.fix).toMatch(sign === ";" ? /semicolon/ : /tab/);
    },
  );
  it("may hold empty lines", () =>
    expect(read(`${HEAD}\n\n,,,,\nA,fit-oxygen,1,2026-03-01,B\n`)).toMatchObject({
      rows: [{ person: "A" }],
      findings: [],
    }));

  it.each([
    ["nothing at all", "", "register/empty", 1, 1, /Begin it with/],
    [
      "a column that is missing",
      "person,procedure,revision,date\nA,fit-oxygen,1,2026-03-01",
      "register/missing-column",
      1,
      1,
      /assessor|Add it/,
    ],
    [
      "a column with a slip",
      "person,procedure,revison,date,assessor\n",
      "register/missing-column",
      1,
      1,
      /Rename `revison` to `revision`/,
    ],
    ["a column twice", `${HEAD},date\n`, "register/repeated-column", 1, 41, /Delete or rename/],
    ["an open quote", `${HEAD}\n"A,fit-oxygen,1,2026-03-01,B\n`, "register/syntax", 2, 1, /Close it/],
    [
      "a quote inside a cell",
      `${HEAD}\nA "Nan" Aal,fit-oxygen,1,2026-03-01,B`,
      "register/syntax",
      2,
      1,
      /whole cell in quotes/,
    ],
    [
      "an unknown procedure",
      `${HEAD}\nA,fit-oxigen,1,2026-03-01,B`,
      "register/unknown-document",
      2,
      3,
      /Write `fit-oxygen`/,
    ],
    ["no assessor", `${HEAD}\nA,fit-oxygen,1,2026-03-01,`, "register/missing-value", 2, 27, /no sign-off/],
    ["a revision in words", `${HEAD}\nA,fit-oxygen,latest,2026-03-01,B`, "register/bad-value", 2, 14, /such as `3`/],
    [
      "a revision that is not there yet",
      `${HEAD}\nA,fit-oxygen,9,2026-03-01,B`,
      "register/unknown-revision",
      2,
      14,
      /stands on the form/,
    ],
    [
      "a date that could be read two ways",
      `${HEAD}\nA,fit-oxygen,1,03/04/2026,B`,
      "register/bad-value",
      2,
      16,
      /year-month-day/,
    ],
    [
      "a day in figures that is not in the calendar",
      `${HEAD}\nA,fit-oxygen,1,31.02.2026,B`,
      "register/bad-value",
      2,
      16,
      /year-month-day/,
    ],
    [
      "a day that is not in the calendar",
      `${HEAD}\nA,fit-oxygen,1,2026-02-30,B`,
      "register/bad-value",
      2,
      16,
      /year-month-day/,
    ],
    ["a day to come", `${HEAD}\nA,fit-oxygen,1,2026-11-26,B`, "register/date-order", 2, 16, /on which it was seen/],
    [
      "a lapse before the day",
      `${HEAD},lapses\nA,fit-oxygen,1,2026-03-01,B,2026-02-01`,
      "register/date-order",
      2,
      29,
      /Correct/,
    ],
    [
      "someone who watched themselves",
      `${HEAD}\nA,fit-oxygen,1,2026-03-01,a`,
      "register/same-person",
      2,
      27,
      /who watched/,
    ],
    [
      "a comma without quotes",
      `${HEAD}\nAal, Ann,fit-oxygen,1,2026-03-01,B`,
      "register/too-many-cells",
      2,
      34,
      /in quotes/,
    ],
    [
      "attempts in words",
      `${HEAD},attempts\nA,fit-oxygen,1,2026-03-01,B,some`,
      "register/bad-value",
      2,
      29,
      /such as `4`/,
    ],
  ])("with %s says where and what to do", (_, text, rule, line, column, fix) => {
    const { findings } = read(text);
    expect(findings).toContainEqual(
      expect.objectContaining({ rule, line, column, file: "register.csv", severity: "error" }),
    );
    expect(findings.find((finding) => finding.rule === rule)!.fix).toMatch(fix);
    expect(findings.map((finding) => finding.rule)).toEqual([rule]);
  });

  it("judges the good rows beside a bad one, and points out a row that is there twice", () => {
    const { rows, findings } = read(
      `${HEAD}\nA,fit-oxygen,1,2026-03-01,B\nC,fit-oxygen,x,2026-03-01,B\nA,fit-oxygen,1,2026-03-01,B`,
    );
    expect(rows.map(({ person }) => person)).toEqual(["A"]);
    expect(findings.map(({ rule, line, severity }) => [rule, line, severity])).toEqual([
      ["register/bad-value", 3, "error"],
      ["register/repeated", 4, "warning"],
    ]);
  });
});
