/** How words are joined, begun and turned into names: shared by findings, pages and paper. */
import { keepsCapitals, writeList } from "./spoken.ts";

/** Words in a row: `a`, `a and b`, `a, b and c`; with `or` in the place of `and` if asked; empty for none. */
export function sayList(words: readonly string[], joint: "and" | "or" = "and"): string {
  return writeList(words, joint);
}

/**
 * A name or a title as it stands within a sentence: small (`Capsule` -> `capsule`; `QR code` and `A4` stay), unless the
 * language that is spoken keeps its capital there.
 */
export function lowerFirst(text: string): string {
  return keepsCapitals() ? text : smallFirst(text);
}

/** The first letter made small, unless the word is an abbreviation: of words that stand at a sentence's beginning. */
export function smallFirst(text: string): string {
  return /^\p{Lu}(?![\p{Lu}\p{N}-])/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/**
 * A text as an id or a part of an address: lower-case letters a to z, digits and single hyphens, accents dropped
 * (`Straße 7` -> `stra-e-7`, `Café` -> `cafe`); empty if nothing of it is left.
 */
export function slugOf(text: string): string {
  return text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "");
}
