/** Trimming keeps every rule that a page can use. */
import { describe, expect, it } from "vitest";
import { possibleClasses, trimStyles } from "../../src/build/trim-styles.ts";

const trim = (css: string, ...names: string[]) => trimStyles(css, (name) => names.includes(name)).screen;

describe("trimming a stylesheet", () => {
  it("keeps rules without classes and those whose classes are there", () => {
    expect(trim("a{b:c}.x{d:e}.y{f:g}", "x")).toBe("a{b:c}.x{d:e}");
  });
  it("leaves out the blank before the value of a custom property", () => {
    expect(trim(":root{--a: 1px;--b:2px;c: d}")).toBe(":root{--a:1px;--b:2px;c: d}");
  });
  it("keeps the selectors of a list that can match", () => {
    expect(trim(".x .y,.x>b,i:is(.z,u){d:e}", "x")).toBe(".x>b,i:is(.z,u){d:e}");
  });
  it("looks into conditions and drops empty ones", () => {
    expect(trim("@media screen{.x{a:b}.y{a:b}}@media screen{.y{a:b}}", "x")).toBe("@media screen{.x{a:b}}");
  });
  it("keeps fonts, pages and what holds rules of its own", () => {
    const css = '@font-face{font-family:"x";src:url("./a.b")}@page{@top-left{content:"}{"}}';
    expect(trim(css)).toBe(css);
  });
  it("is not led astray by strings, decimals, attributes and brackets", () => {
    expect(
      trim(
        '.x::after{content:"}.y{"}.x{width:.5em}.x[data-a=".q"]{a:b}.x:not(.y){a:b}.x:has(.z:not(.y)){a:b}.y{a:b}',
        "x",
      ),
    ).toBe('.x::after{content:"}.y{"}.x{width:.5em}.x[data-a=".q"]{a:b}.x:not(.y){a:b}.x:has(.z:not(.y)){a:b}');
  });
  it("leaves out what is for an element of ours that is not there, and takes no property, id or state for one", () => {
    expect(
      trim("check-code[hidden]{a:b}of-set>b{a:b}#of-set{a:b}a:focus-visible{a:b}.x of-set{a:b}", "check-code"),
    ).toBe("check-code[hidden]{a:b}#of-set{a:b}a:focus-visible{a:b}");
  });
  it("gives what is for paper alone apart, and nothing else", () => {
    const css =
      "a{b:c}@media print{.x{a:b}}.y{c:d}@media print{.x{e:f}.z{g:h}}@media print and (min-width:1px){.z{a:b}}";
    expect(trimStyles(`${css}@media screen and (width>1px){.x{a:b}}`, (name) => name !== "z")).toEqual({
      screen: "a{b:c}.y{c:d}@media screen and (width>1px){.x{a:b}}",
      paper: "@media print{.x{a:b}}@media print{.x{e:f}}",
    });
  });
  it("keeps everything when every class is there", () => {
    const css = '@charset "utf-8";.a,.b>.c:hover{d:e}@supports (a:b){.d{e:f}}';
    expect(Object.values(trimStyles(css, () => true)).join("")).toBe(css);
  });
});

describe("the words of a script that may be classes", () => {
  it("are those of its texts and templates, but not members, keys, or the words of a sentence", () => {
    const script =
      'a.step;b={held:1};f("p",{class:"go quiet"},`late ${c?"open now":"shut"} x`,"ask again when there is one")';
    const found = possibleClasses(script);
    for (const word of ["go", "quiet", "late", "open", "now", "shut", "x"]) expect(found).toContain(word);
    for (const word of ["step", "held", "ask", "again", "when", "one"]) expect(found).not.toContain(word);
  });
});
