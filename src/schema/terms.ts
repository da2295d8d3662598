/** The nouns that only one trade says, with the words that stand for them where a service gives no others. */

/** A noun as sentences need it: `casualty`, `casualties`, `a`. */
export interface Term {
  readonly one: string;
  readonly many: string;
  readonly article: "a" | "an";
}

/** The fixed nouns, in the order of the guide; the program says each of them by the service's own word. */
export const TERMS = {
  patient: { one: "patient", many: "patients", article: "a" },
  platform: { one: "platform", many: "platforms", article: "a" },
  head: { one: "head", many: "heads", article: "a" },
  foot: { one: "foot", many: "feet", article: "a" },
  coordinator: { one: "coordinator", many: "coordinators", article: "a" },
  vehicle: { one: "vehicle", many: "vehicles", article: "a" },
  aircraft: { one: "aircraft", many: "aircraft", article: "an" },
  "kit room": { one: "store", many: "stores", article: "a" },
} as const satisfies Readonly<Record<string, Term>>;

/** The name of a fixed noun: a field of `words` in service.yaml. */
export type TermName = keyof typeof TERMS;

const AN = /^an?\s+/i;

/**
 * A noun from what a service wrote: its singular, with `a` or `an` before it where the letters mislead (`an hour`), and
 * its plural where it is not made as usual. English spelling, from memory; no source.
 */
export function termOf(written: string, plural?: string): Term {
  const one = written.replace(AN, ""),
    said = AN.exec(written)?.[0].trim().toLowerCase();
  const article = said === "a" || said === "an" ? said : /^[aeiou]/i.test(one) ? "an" : "a";
  return { one, many: plural?.replace(AN, "") ?? pluralOf(one), article };
}

function pluralOf(one: string): string {
  if (/[^aeiou]y$/i.test(one)) return `${one.slice(0, -1)}ies`;
  return /(?:s|x|z|ch|sh)$/i.test(one) ? `${one}es` : `${one}s`;
}
