/** Addresses relative to the page that they stand on lead where a browser takes them. */
import { expect, test } from "vitest";
import { linksFrom } from "../../src/site/href.ts";

const pages = [
  "",
  "find/",
  "tern/",
  "tern/procedures/",
  "tern/procedures/lift/",
  "tern/procedures/lift/history/",
  "C/AB/",
];

// The URL Standard (WHATWG), "relative URL string", as the platform's own `URL` resolves it.
test("a link leads where it says, from every page to every page", () => {
  for (const from of pages)
    for (const to of [...pages, "ternary/", "tern/procedures/lift/#step-2", "find/?q=a/b#c", "offline.json", "/tern/"])
      for (const base of ["https://example.org/", "https://example.org/deep/er/"]) {
        const link = linksFrom(new URL(from, "https://example.org/"))(to);
        expect(new URL(link, new URL(from, base)).href, `${from} to ${to}: ${link}`).toBe(
          new URL(to.replace(/^\//, ""), base).href,
        );
      }
});

test("a link goes up no further than it must, and others come back as they are", () => {
  const href = linksFrom(new URL("https://example.org/tern/procedures/lift/"));
  expect(href("tern/procedures/seat/")).toBe("../seat/");
  expect(href("tern/procedures/lift/")).toBe("./");
  expect(href("tern/procedures/lift/#step-2")).toBe("#step-2");
  expect(href("tern/procedures/lifting/")).toBe("../lifting/");
  expect(href("https://example.org/a/")).toBe("https://example.org/a/");
  expect(href("#here")).toBe("#here");
});

test("the page for lost ones counts from the top", () => {
  expect(linksFrom(new URL("https://example.org/404.html"))("tern/items/")).toBe("/tern/items/");
});
