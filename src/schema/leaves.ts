/** Every kind of single value that a field of an author's file holds: how it is read, and what is said of it. */
import { z } from "zod";
import type { Range } from "./collection.ts";
import { sorted } from "./described.ts";
import type { JsonSchema, Named, Sort } from "./described.ts";
import { sayList, slugOf } from "./wording.ts";
import { parseDate, parseDuration, parseForce, parseKg, parseLength, parseLitres, parseRange } from "./quantities.ts";
import type { ReadResult } from "./quantities.ts";

/** A text that is read by `parse`; what goes wrong is passed on in our own words. */
function leaf<T>(sort: Sort, parse: (text: string) => ReadResult<T>) {
  const type = z.string().transform((text, context): T => {
    const reading = parse(text);
    if (reading.ok) return reading.value;
    const { rule, message, fix, guess, index, expected } = reading;
    context.addIssue({ code: "custom", message, params: { rule, fix, guess, index, expected } });
    return z.NEVER;
  });
  return sorted(type, sort);
}

/** A value that YAML takes for a text or for something else; a pattern speaks of texts alone. */
function written(pattern: string, types: readonly string[] = ["string"]): JsonSchema {
  return { type: types, pattern };
}

const ANYTHING = ["string", "number", "boolean"];
/** Numbers are written with or without quotes. */
const FIGURE = ["string", "number"];
const MASS = String.raw`^[^,]*(?:kg|g|lb)\s*$`;
/** Words that say who owns an end, in capitals or not. */
const OWNS = ["any", "from", "over", "under", "up"].map(anyCase).join("|");
const BAND = `^\\s*(?:(?:${OWNS})\\s|\\d.*\\s${anyCase("and")}\\s+${anyCase("over")})`;
const ID_PATTERN = "^[a-z0-9]+(?:-+[a-z0-9]+)*$";

/** A pattern for a word in capitals or not: patterns of a JSON Schema have no flags. */
function anyCase(word: string): string {
  return [...word].map((letter) => `[${letter.toUpperCase()}${letter}]`).join("");
}

function bad<T>(
  message: string,
  fix: string,
  more: { rule?: string; index?: number; guess?: T; expected?: readonly string[] } = {},
): ReadResult<T> {
  return { ok: false, rule: more.rule ?? "text/bad-value", message, fix, ...more };
}

/** What an id looks like: lower-case letters, digits and hyphens. */
export const ID = new RegExp(ID_PATTERN);

const text = leaf<string>(
  {
    name: "a text",
    how: "In double quotes if it holds a `:`, `#` or `, ` in braces",
    good: "Tern trolley",
    bad: "",
    entered: "text",
    json: written("\\S", ANYTHING),
  },
  (words) =>
    words.trim() === ""
      ? bad("The text is empty", "Write something or remove the field")
      : { ok: true, value: words.trim() },
);
/** An id as lower-case letters, digits and hyphens, suggested from what was written. */
const id = leaf<string>(
  {
    name: "an id",
    how: "Lower-case letters, digits and hyphens",
    good: "push-pins",
    bad: "Push Pins",
    json: written(ID_PATTERN, FIGURE),
  },
  (words) => {
    const proper = slugOf(words);
    return ID.test(words)
      ? { ok: true, value: words }
      : bad(
          `Unexpected \`${words}\`, expected an id of lower-case letters, digits and hyphens`,
          proper ? `Write \`${proper}\`` : "Write an id such as `deck-lever`",
          proper ? { guess: proper } : {},
        );
  },
);
const date = leaf(
  {
    name: "a date",
    how: "Year, month and day",
    good: "2026-09-14",
    bad: "14.9.2026",
    entered: "date",
    json: written(String.raw`^\s*\d{4}-\d{2}-\d{2}\s*$`),
  },
  parseDate,
);
const length = leaf(
  {
    name: "a length",
    how: "In `mm`, `cm` or `m`",
    good: "820 mm",
    bad: "820",
    entered: { units: ["mm", "cm", "m"] },
    json: { anyOf: [{ const: 0 }, written(String.raw`^[^,]*(?:mm|cm|m)\s*$|^-?0+(?:\.0+)?$`)] },
  },
  parseLength,
);
const mass = leaf(
  {
    name: "a mass",
    how: "In `kg`, `g` or `lb`, with a decimal point",
    good: "8.2 kg",
    bad: "8,2 kg",
    entered: { units: ["kg", "g", "lb"] },
    json: written(MASS),
  },
  parseKg,
);
const force = leaf(
  {
    name: "a force",
    how: "In `N` or `kN`",
    good: "9 kN",
    bad: "900 kg",
    entered: { units: ["N", "kN"] },
    json: { anyOf: [{ const: 0 }, written(String.raw`^[^,]*N\s*$|^0+(?:\.0+)?$`)] },
  },
  parseForce,
);
const duration = leaf(
  {
    name: "a duration",
    how: "In `h`, `min` and `s`",
    good: "1 min 30 s",
    bad: "90",
    entered: { units: ["s", "min", "h"] },
    json: written(String.raw`[hns]\s*$`),
  },
  parseDuration,
);
const litres = leaf(
  {
    name: "litres of gas",
    how: "At 1 bar, in `l` or `m³`",
    good: "430 l",
    bad: "430",
    entered: { units: ["l", "m³"] },
    json: written(String.raw`(?:l|L|m³)\s*$`),
  },
  parseLitres,
);
const weight = leaf(
  {
    name: "a band of weights",
    how:
      "In words that say who owns each end: `from … to under …`, `from " +
      "… up to …`, `over …`, `under …`, `up to …`, `… and over`, `any weight`; in `kg`, `g` or `lb`",
    good: "from 5 kg to under 40 kg",
    bad: "5-40 kg",
    entered: "weight",
    json: written(BAND),
  },
  (words): ReadResult<Range> => parseRange(words, "weight"),
);
const age = leaf(
  {
    name: "a band of ages",
    how: "As a band of weights, in `days`, `weeks`, `months` or `years`, or `any age`",
    good: "under 18 months",
    bad: "< 18 months",
    entered: "age",
    json: written(BAND),
  },
  (words): ReadResult<Range> => parseRange(words, "age"),
);
const flag = leaf<boolean>(
  {
    name: "yes or no",
    how: "`true` or `false`",
    good: "true",
    bad: "yes",
    entered: "flag",
    json: { enum: [true, false, "true", "false"] },
  },
  (words) =>
    words === "true" || words === ""
      ? { ok: true, value: true }
      : words === "false"
        ? { ok: true, value: false }
        : bad(`Unexpected \`${words}\`, expected \`true\` or \`false\``, "Write `true` or `false`", {
            expected: ["true", "false"],
          }),
);
/** Pieces of one item that a platform can have: enough for any, and all sums of them fit into a state's 16 bits. */
const MOST_PIECES = 9_999;
const count = leaf<number>(
  {
    name: "a count",
    how: `A whole number from 1 to ${MOST_PIECES}`,
    good: "4",
    bad: "4 pieces",
    entered: "figure",
    json: written("^[1-9][0-9]{0,3}$", FIGURE),
  },
  (words) =>
    /^[1-9]\d{0,3}$/.test(words)
      ? { ok: true, value: Number(words) }
      : bad(
          `Unexpected \`${words}\`, expected a whole number from 1 to ${MOST_PIECES}`,
          "Write a whole number such as `4`, without a unit",
        ),
);
const revision = leaf<number>(
  {
    name: "a number of a revision",
    how: "A whole number from 1",
    good: "3",
    bad: "3.1",
    entered: "figure",
    json: { ...written("^[1-9][0-9]{0,5}$", ["string", "integer"]), minimum: 1 },
  },
  (words) =>
    /^[1-9]\d{0,5}$/.test(words)
      ? { ok: true, value: Number(words) }
      : bad(`Unexpected \`${words}\`, expected a whole number from 1`, "Write a whole number such as `3`"),
);
/** A number: `pattern` says how it is written, `holds` which are meant. */
function figureLeaf({
  pattern,
  expected,
  fix,
  holds = () => true,
  ...sort
}: Sort & {
  readonly pattern: RegExp;
  readonly expected: string;
  readonly fix: string | ((words: string) => string);
  readonly holds?: (value: number) => boolean;
}) {
  return leaf<number>(sort, (words) =>
    pattern.test(words) && holds(Number(words))
      ? { ok: true, value: Number(words) }
      : bad(`Unexpected \`${words}\`, expected ${expected}`, typeof fix === "string" ? fix : fix(words)),
  );
}

const PLAIN_FIGURE = /^\d{1,4}(?:\.\d{1,6})?$/;
const order = figureLeaf({
  name: "a number",
  good: "2",
  bad: "second",
  entered: "figure",
  json: written(String.raw`^-?\d`, FIGURE),
  pattern: /^-?\d{1,6}(?:\.\d{1,6})?$/,
  expected: "a number",
  fix: "Write a number such as `2`",
});
const factor = figureLeaf({
  name: "a multiple of g",
  how: "A plain number",
  good: "16",
  bad: "16 g",
  entered: "figure",
  json: written(PLAIN_FIGURE.source, FIGURE),
  pattern: PLAIN_FIGURE,
  expected: "a multiple of g, such as `16`",
  fix: "Write a plain number",
});
/** How many times the need is carried; 1 keeps nothing back. */
const reserve = figureLeaf({
  name: "a number from 1",
  good: "2",
  bad: "half",
  entered: "figure",
  json: { ...written(String.raw`^\d`, FIGURE), minimum: 1 },
  pattern: /^\d{1,3}(?:\.\d{1,6})?$/,
  holds: (value) => value >= 1,
  expected: "a number from 1, such as `2`",
  fix: "Write what minutes are divided by: `2` keeps half in reserve, `1` keeps nothing",
});
/** A flow: litres a minute. */
const flow = figureLeaf({
  name: "litres a minute",
  how: "A plain number above 0",
  good: "5",
  bad: "5 l/min",
  entered: "figure",
  json: written(PLAIN_FIGURE.source, FIGURE),
  pattern: PLAIN_FIGURE,
  holds: (value) => value > 0,
  expected: "litres a minute as a plain number above 0, such as `5`",
  fix: "Write the number alone: it is litres a minute",
});
/** `40 %` as a fraction. */
function percentFix(words: string): string | undefined {
  const [, figure] = /^(\d{1,3}(?:\.\d{1,6})?)\s*(?:%|per ?cent)$/i.exec(words) ?? [];
  return figure === undefined ? undefined : `Write \`${Number((Number(figure) / 100).toPrecision(12))}\``;
}

const fraction = figureLeaf({
  name: "a part of the picture",
  how: "From 0 to 1: 0.5 is the middle",
  good: "0.31",
  bad: "31 %",
  entered: "figure",
  json: written(String.raw`^-?\d{1,6}(?:\.\d{1,15})?$`, FIGURE),
  pattern: /^-?\d{1,6}(?:\.\d{1,15})?$/,
  expected: "a fraction of the image such as `0.25`",
  fix: (words) => percentFix(words) ?? "Write a number from 0 to 1",
});
const site = leaf<string>(
  {
    name: "an address of the web",
    good: "https://procedures.example.org/",
    bad: "procedures.example.org",
    json: written("^[Hh][Tt][Tt][Pp][Ss]?:"),
  },
  (words) => {
    let url: URL | undefined;
    try {
      url = new URL(words);
    } catch {
      url = undefined;
    }
    return url && /^https?:$/.test(url.protocol)
      ? { ok: true, value: words.endsWith("/") ? words : `${words}/` }
      : bad<string>(
          `Unexpected \`${words}\`, expected the address of the site`,
          "Write it in full, such as `https://procedures.example.org/`",
        );
  },
);
const language = leaf<string>(
  {
    name: "a language",
    how: "A language tag (BCP 47)",
    good: "en-GB",
    bad: "British English",
    json: written("^[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*$"),
  },
  (words) =>
    /^[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*$/.test(words)
      ? { ok: true, value: words }
      : bad(`Unexpected \`${words}\`, expected a language tag such as \`en-GB\``, "Write a BCP 47 language tag"),
);

/** One of some words, all of which the finding quotes. */
function oneOf<const T extends string>(...names: readonly [T, ...T[]]) {
  const sort = {
    name: "one word of a list",
    how: sayWords(names),
    good: names[0],
    bad: "other",
    entered: { words: names },
    json: { enum: names },
  };
  return leaf<T>(sort, readOneOf(names));
}

function sayWords(names: readonly string[]): string {
  return sayList(
    names.map((name) => `\`${name}\``),
    "or",
  );
}

function readOneOf<const T extends string>(names: readonly T[]) {
  return (words: string): ReadResult<T> => {
    const found = names.find((name) => name === words);
    const meant = names.find(
      (name) => name.toLowerCase().replace(/\W/g, "") === words.toLowerCase().replace(/\W/g, ""),
    );
    const list = sayWords(names);
    return found !== undefined
      ? { ok: true, value: found }
      : bad(`Unexpected \`${words}\`, expected ${list}`, meant ? `Write \`${meant}\`` : `Write ${list}`, {
          expected: meant ? [meant] : names,
          ...(meant ? { guess: meant } : {}),
        });
  };
}

/** What a fastening is, or a state that holds nothing. */
const fasteningKind = oneOf("strap", "clasp", "pin", "lever", "valve", "lead", "brake", "switch");
const direction = oneOf("forward", "rearward", "sideward", "upward", "downward");
const status = oneOf("draft", "in review", "approved", "withdrawn");

const phase = oneOf("confirm", "take away", "clean", "build", "option", "supply");
const placeKind = oneOf("mount", "stowage", "store");
const paper = oneOf("A4", "A5", "A6");
const every = oneOf("shift", "day", "week", "run");
const afterRun = oneOf("clean", "charge", "refill", "reseal");
const signOffs = oneOf("again", "stand");

const SEVERITIES = ["error", "warning", "off"] as const;
const severity = readOneOf(SEVERITIES);
/** How severe a rule is, or for how many days an amendment may run. */
const policy = leaf<"error" | "warning" | "off" | number>(
  {
    name: "how severe a rule is",
    how: "`error`, `warning` or `off`; for `amendment-days` a number of days",
    good: "warning",
    bad: "none",
    entered: { words: SEVERITIES },
    json: { anyOf: [{ enum: [...SEVERITIES, false] }, written("^[1-9][0-9]{0,3}$", FIGURE)] },
  },
  (words) => (/^[1-9]\d{0,3}$/.test(words) ? { ok: true, value: Number(words) } : severity(words)),
);

/** Names of things that are declared elsewhere; the reader asks there whether there is one. */
function reference(named: Named, good: string, bad: string) {
  const name = `the id of ${/^[aeio]/.test(named) ? "an" : "a"} ${named}`;
  return sorted(text, { name, good, bad, json: written(ID_PATTERN, FIGURE), names: [named] });
}

const itemId = reference("item", "capsule-pin", "Capsule pins");
const placeId = reference("place", "pin-tray", "the pin tray");
const fasteningId = reference("fastening", "base-pins", "Base pins");
const configurationId = reference("configuration", "newborn-capsule", "Newborn capsule");
const optionId = reference("option", "gas-shelf", "Gas shelf");
const documentId = sorted(text, {
  name: "a procedure, configuration or option",
  how: "The id of its platform, a `/`, and its own id; without the platform where only one has such a document",
  good: "tern/seat-capsule",
  bad: "Seat the capsule",
  names: ["procedure", "configuration", "option"],
  json: written("^(?:[a-z0-9-]+/)?[a-z0-9-]+$", FIGURE),
});
const procedureId = reference("procedure", "seat-capsule", "Seat the capsule");
const pieces = sorted(text, {
  name: "an item, with how many of it",
  how: "The id of an item, with a number before it where it is more than one piece",
  good: "4 capsule-pin",
  bad: "capsule-pin x4",
  entered: "pieces",
  names: ["item"],
  json: written(String.raw`^(?:\d+\s+)?[a-z0-9]+(?:-+[a-z0-9]+)*$`, FIGURE),
});
const cardId = sorted(text, {
  name: "a card",
  how:
    "The id of a configuration, with a `+` before each option, and the platform " +
    "before it where two have such a card",
  good: "newborn-capsule+gas-shelf",
  bad: "Newborn capsule",
  names: ["configuration", "option"],
  json: written("^[a-z0-9+/-]+$", FIGURE),
});
const crew = sorted(text, {
  name: "roles of the crew",
  how: "Ids of roles, separated by spaces",
  good: "lead",
  bad: "nurse",
  names: ["role"],
  json: written("\\S"),
});

const term = leaf<string>(
  {
    name: "a noun",
    how: "As it stands within a sentence; with `a` or `an` before it where the letters mislead",
    good: "casualty",
    bad: "the casualty",
    json: written(String.raw`^(?!(?:the|our) )\p{L}[^{}|:]{0,39}$`),
  },
  (words) => {
    const bare = words.replace(/^(?:the|our)\s+/i, "");
    return bare === words && /^\p{L}[\p{L}\p{M}\p{N} '’-]{0,39}$/u.test(words)
      ? { ok: true, value: words }
      : bad(
          `Unexpected \`${words}\`, expected a noun of at most 40 letters without \`the\``,
          bare === words ? "Write the noun alone, such as `casualty`" : `Write \`${bare}\``,
        );
  },
);

/** Every kind of single value, by name. */
export const kinds = {
  text,
  id,
  date,
  length,
  mass,
  force,
  duration,
  litres,
  weight,
  age,
  flag,
  count,
  revision,
  order,
  factor,
  reserve,
  flow,
  fraction,
  site,
  language,
  fasteningKind,
  direction,
  status,
  phase,
  placeKind,
  paper,
  every,
  afterRun,
  signOffs,
  policy,
  itemId,
  placeId,
  fasteningId,
  configurationId,
  optionId,
  procedureId,
  pieces,
  cardId,
  crew,
  documentId,
  term,
};
