/** Other names in place of the service's own word. */
import { nameInText } from "../../domain/words/names.ts";
import type { Collection } from "../../schema/collection.ts";
import type { Rule } from "../../findings/finding.ts";
import { textsOf } from "../texts.ts";
import { flatten } from "../words.ts";

/**
 * One word per thing: text uses the service's own word of `other-names`. Part of a longer name of the service's (`side
 * rail` in `side rails`, an item's,
 * place's or fastening's name) is not an other name. Plural `s` and `es` are taken along.
 */
export const otherName: Rule = {
  id: "wording/other-name",
  severity: "warning",
  asks: "Text uses the service's own word for a thing, not another name for it.",
  why: "Two names for one thing are two things to a new starter; text and label say the same word.",
  source:
    "Degani & Wiener 1990, NASA CR-177549, appendix A (the same terms in the list and on the equipment, from memory)",
  when: ({ service }) => Object.keys(service.otherNames).length > 0,
  check(collection, report, { damaged }) {
    // A name that could not be read may be the service's own.
    if ([...damaged].some((file) => /(?:^|\/)(?:service|platform|equipment)\.yaml$/.test(file))) return;
    const ownNames = namesOf(collection).map((name) => namePattern(name));
    const others = Object.entries(collection.service.otherNames).flatMap(([own, names]) =>
      names
        .filter((name) => !sameWord(name, own))
        .map((name) => ({ own, name, letters: longestWord(name), pattern: namePattern(name) })),
    );
    if (!others.length) return;
    for (const { paragraph } of textsOf(collection)) {
      const text = flatten(paragraph);
      const lower = text.text.toLowerCase();
      for (const { own, name, letters, pattern } of others) {
        if (!lower.includes(letters)) continue;
        for (const span of spansOf(text.text, pattern)) {
          if (
            ownNames.some((ownName) =>
              spansOf(text.text, ownName).some((inside) => inside.start <= span.start && inside.end >= span.end),
            )
          )
            continue;
          report(text.whereAt(span.start, span.end - span.start), {
            message: `\`${text.text.slice(span.start, span.end)}\` is another name for \`${own}\``,
            fix: `Write \`${own}\`, or take \`${name}\` out of \`other-names\` in service.yaml`,
            actual: name,
            expected: [own],
          });
        }
      }
    }
  },
};

/** Names that belong to the service: its own words, and what its items, places and fastenings are called. */
function namesOf({ service, platforms }: Collection): string[] {
  const named = platforms.flatMap((platform) =>
    [platform, ...platform.items, ...platform.places, ...platform.fastenings].map(({ name }) => name),
  );
  return [...Object.keys(service.otherNames), ...named].filter((name) => name.trim());
}

const namePattern = (name: string): RegExp => new RegExp(nameInText(name), "giu");

/** The longest word of a name in small letters: whether a text has it is asked first, because it is cheap. */
function longestWord(name: string): string {
  return name
    .toLowerCase()
    .split(/\s+/)
    .reduce((longest, word) => (word.length > longest.length ? word : longest), "");
}

function spansOf(text: string, pattern: RegExp): { readonly start: number; readonly end: number }[] {
  return [...text.matchAll(pattern)].map((match) => ({ start: match.index, end: match.index + match[0].length }));
}

function sameWord(a: string, b: string): boolean {
  return a.trim().toLowerCase() === b.trim().toLowerCase();
}
