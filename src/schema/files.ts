/**
 * The shape of every file that authors write and of every directive's attributes. What a value may be stands here and
 * nowhere else.
 */
import { z } from "zod";
import type { Range } from "./collection.ts";
import { sayList, slugOf } from "./wording.ts";
import { parseDate, parseDuration, parseForce, parseKg, parseLength, parseLitres, parseRange } from "./quantities.ts";
import type { ReadResult } from "./quantities.ts";

/** A text that is read by `parse`; what goes wrong is passed on in our own words. */
function leaf<T>(parse: (text: string) => ReadResult<T>) {
  return z.string().transform((text, context): T => {
    const reading = parse(text);
    if (reading.ok) return reading.value;
    const { rule, message, fix, guess, index, expected } = reading;
    context.addIssue({ code: "custom", message, params: { rule, fix, guess, index, expected } });
    return z.NEVER;
  });
}

function bad<T>(
  message: string,
  fix: string,
  more: { rule?: string; index?: number; guess?: T; expected?: readonly string[] } = {},
): ReadResult<T> {
  return { ok: false, rule: more.rule ?? "text/bad-value", message, fix, ...more };
}

/** What an id looks like: lower-case letters, digits and hyphens. */
export const ID = /^[a-z0-9]+(?:-+[a-z0-9]+)*$/;

const text = leaf<string>((words) =>
  words.trim() === ""
    ? bad("The text is empty", "Write something or remove the field")
    : { ok: true, value: words.trim() },
);
/** An id as lower-case letters, digits and hyphens, suggested from what was written. */
const id = leaf<string>((words) => {
  const proper = slugOf(words);
  return ID.test(words)
    ? { ok: true, value: words }
    : bad(
        `Unexpected \`${words}\`, expected an id of lower-case letters, digits and hyphens`,
        proper ? `Write \`${proper}\`` : "Write an id such as `deck-lever`",
        proper ? { guess: proper } : {},
      );
});
const date = leaf(parseDate);
const length = leaf(parseLength);
const mass = leaf(parseKg);
const force = leaf(parseForce);
const duration = leaf(parseDuration);
const litres = leaf(parseLitres);
const weight = leaf((words): ReadResult<Range> => parseRange(words, "weight"));
const age = leaf((words): ReadResult<Range> => parseRange(words, "age"));
const flag = leaf<boolean>((words) =>
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
const count = leaf<number>((words) =>
  /^[1-9]\d{0,3}$/.test(words)
    ? { ok: true, value: Number(words) }
    : bad(
        `Unexpected \`${words}\`, expected a whole number from 1 to ${MOST_PIECES}`,
        "Write a whole number such as `4`, without a unit",
      ),
);
const revision = leaf<number>((words) =>
  /^[1-9]\d{0,5}$/.test(words)
    ? { ok: true, value: Number(words) }
    : bad(`Unexpected \`${words}\`, expected a whole number from 1`, "Write a whole number such as `3`"),
);
const order = leaf<number>((words) =>
  /^-?\d{1,6}(?:\.\d{1,6})?$/.test(words)
    ? { ok: true, value: Number(words) }
    : bad(`Unexpected \`${words}\`, expected a number`, "Write a number such as `2`"),
);
const factor = leaf<number>((words) =>
  /^\d{1,4}(?:\.\d{1,6})?$/.test(words)
    ? { ok: true, value: Number(words) }
    : bad(`Unexpected \`${words}\`, expected a multiple of g, such as \`16\``, "Write a plain number"),
);
/** How many times the need is carried; 1 keeps nothing back. */
const reserve = leaf<number>((words) =>
  /^\d{1,3}(?:\.\d{1,6})?$/.test(words) && Number(words) >= 1
    ? { ok: true, value: Number(words) }
    : bad(
        `Unexpected \`${words}\`, expected a number from 1, such as \`2\``,
        "Write what minutes are divided by: `2` keeps half in reserve, `1` keeps nothing",
      ),
);
/** A flow: litres a minute. */
const flow = leaf<number>((words) =>
  /^\d{1,4}(?:\.\d{1,6})?$/.test(words) && Number(words) > 0
    ? { ok: true, value: Number(words) }
    : bad(
        `Unexpected \`${words}\`, expected litres a minute as a plain number above 0, such as \`5\``,
        "Write the number alone: it is litres a minute",
      ),
);
/** `40 %` as a fraction. */
function percentFix(words: string): string | undefined {
  const [, figure] = /^(\d{1,3}(?:\.\d{1,6})?)\s*(?:%|per ?cent)$/i.exec(words) ?? [];
  return figure === undefined ? undefined : `Write \`${Number((Number(figure) / 100).toPrecision(12))}\``;
}

const fraction = leaf<number>((words) =>
  /^-?\d{1,6}(?:\.\d{1,15})?$/.test(words)
    ? { ok: true, value: Number(words) }
    : bad(
        `Unexpected \`${words}\`, expected a fraction of the image such as \`0.25\``,
        percentFix(words) ?? "Write a number from 0 to 1",
      ),
);
const site = leaf<string>((words) => {
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
});
const language = leaf<string>((words) =>
  /^[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*$/.test(words)
    ? { ok: true, value: words }
    : bad(`Unexpected \`${words}\`, expected a language tag such as \`en-GB\``, "Write a BCP 47 language tag"),
);

/** One of some words, all of which the finding quotes. */
function oneOf<const T extends string>(...names: readonly T[]) {
  return leaf<T>(readOneOf(names));
}

function readOneOf<const T extends string>(names: readonly T[]) {
  return (words: string): ReadResult<T> => {
    const found = names.find((name) => name === words);
    const meant = names.find(
      (name) => name.toLowerCase().replace(/\W/g, "") === words.toLowerCase().replace(/\W/g, ""),
    );
    const list = sayList(
      names.map((name) => `\`${name}\``),
      "or",
    );
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

/** Lines of the readiness sheet, and what is done after a run, of an item or a place. */
const readied = {
  ready: z
    .array(
      z.strictObject({
        every: oneOf("shift", "day", "week", "run").optional(),
        look: text,
        until: date.optional(),
      }),
    )
    .optional(),
  "after-run": z.array(oneOf("clean", "charge", "refill", "reseal")).optional(),
};

const severity = readOneOf(["error", "warning", "off"]);
/** How severe a rule is, or for how many days an amendment may run. */
const policy = leaf<"error" | "warning" | "off" | number>((words) =>
  /^[1-9]\d{0,3}$/.test(words) ? { ok: true, value: Number(words) } : severity(words),
);

/** `service.yaml`. */
export const serviceFile = z.strictObject({
  name: text,
  language: language.optional(),
  site: site.optional(),
  weight,
  age: age.optional(),
  crew: z.record(id, text),
  policy: z.record(text, policy).optional(),
  cards: z.strictObject({ paper: oneOf("A4", "A5", "A6").optional(), laminate: flag.optional() }).optional(),
  "other-names": z.record(text, z.array(text)).optional(),
  chooser: flag.optional(),
  doubt: z
    .array(
      z.strictObject({ weight: weight.optional(), age: age.optional(), say: text, fetch: z.array(text).optional() }),
    )
    .optional(),
  demands: z.array(z.strictObject({ name: text, litres: flow, from: z.array(text).optional() })).optional(),
  reserve: reserve.optional(),
});

const placeFields = { name: text, kind: oneOf("mount", "stowage", "store"), room: count.optional(), ...readied };

/** A place of the platform. */
const platformPlace = z.strictObject({
  ...placeFields,
  x: length.optional(),
  y: length.optional(),
  walk: duration.optional(),
});
/** A place on an item. */
const itemPlace = z.strictObject({ ...placeFields, dx: length.optional(), dy: length.optional() });
/** A fastening. */
const fastening = z.strictObject({
  name: text,
  states: z.array(text),
  secure: text,
  holds: z.array(text),
  "when-empty": text.optional(),
  rated: force.optional(),
  kind: fasteningKind.optional(),
  against: z.array(direction).optional(),
});

/** `platform.yaml`. */
export const platformFile = z.strictObject({
  name: text,
  datum: text.optional(),
  confirms: text.optional(),
  patient: z.strictObject({ x: length }).optional(),
  own: z.strictObject({ mass, x: length }).optional(),
  places: z.record(id, platformPlace),
  fastenings: z.record(id, fastening).optional(),
  limits: z
    .strictObject({ mass: mass.optional(), balance: z.strictObject({ from: length, to: length }).optional() })
    .optional(),
  factors: z
    .strictObject({
      source: text.optional(),
      forward: factor.optional(),
      rearward: factor.optional(),
      sideward: factor.optional(),
      upward: factor.optional(),
      downward: factor.optional(),
    })
    .optional(),
});

/** An item. */
const item = z.strictObject({
  name: text,
  count: count.optional(),
  mass: mass.optional(),
  home: text,
  carries: flag.optional(),
  places: z.record(id, itemPlace).optional(),
  restrains: weight.optional(),
  replaced: date.optional(),
  ...readied,
  contents: litres.optional(),
  runs: duration.optional(),
});

/** `equipment.yaml`. */
export const equipmentFile = z.record(id, item);

const change = z.strictObject({
  revision,
  date,
  by: text,
  summary: text,
  reason: text.optional(),
  "sign-offs": oneOf("again", "stand").optional(),
  steps: z.array(id).optional(),
});

const controlled = {
  effective: date.optional(),
  "review-by": date.optional(),
  owner: text.optional(),
  "approved-by": text.optional(),
  changes: z.array(change).optional(),
};

/** Front matter of a procedure. */
export const procedureHead = z.strictObject({
  title: text,
  code: text,
  revision,
  status,
  phase: oneOf("confirm", "take away", "clean", "build", "option", "supply").optional(),
  ...controlled,
  weight: weight.optional(),
  age: age.optional(),
});

const fitted = z.record(text, z.array(text));

/** Front matter of a configuration. */
export const configurationHead = z.strictObject({
  title: text,
  code: text,
  revision: revision.optional(),
  status,
  ...controlled,
  weight,
  age: age.optional(),
  authority: z.array(z.strictObject({ kind: text, reference: text, date: date.optional() })).optional(),
  standing: flag.optional(),
  fitted,
  fastenings: z.record(text, text).optional(),
  options: z.array(text).optional(),
  requires: z.array(z.strictObject({ option: text, weight: weight.optional(), age: age.optional() })).optional(),
});

/** Front matter of an option. */
export const optionHead = z.strictObject({
  title: text,
  code: text.optional(),
  revision: revision.optional(),
  status,
  ...controlled,
  weight: weight.optional(),
  age: age.optional(),
  fitted: fitted.optional(),
  empty: z.array(text).optional(),
  "not-with": z.array(text).optional(),
});

/** Front matter of a temporary amendment. */
export const amendmentHead = z.strictObject({
  number: text,
  title: text,
  reason: text,
  from: date,
  until: date,
  owner: text,
  "approved-by": text,
  amends: z.array(z.strictObject({ procedure: text, revision })).optional(),
  out: z.array(text).optional(),
});

/** Front matter of a background page. */
export const readingHead = z.strictObject({ title: text, summary: text.optional(), order: order.optional() });

/** A photo's sidecar. A missing `alt` is the photo rules' business. */
export const photoFile = z.strictObject({
  alt: text.optional(),
  taken: date.optional(),
  shows: z.array(text).optional(),
  marks: z
    .array(
      z.strictObject({
        n: count.optional(),
        x: fraction.optional(),
        y: fraction.optional(),
        label: text.optional(),
        arrow: z.array(fraction).optional(),
      }),
    )
    .optional(),
  crop: z.strictObject({ x: fraction, y: fraction, width: fraction, height: fraction }).optional(),
});

/** `folders.yaml`. */
export const foldersFile = z.record(
  id,
  z.strictObject({
    name: text,
    copies: z
      .array(z.strictObject({ card: text, copy: count, check: text.optional(), placed: date.optional() }))
      .optional(),
  }),
);

/** `incidents.yaml`. */
export const incidentsFile = z.record(id, z.strictObject({ date, summary: text, reference: text.optional() }));

/** Attributes of each directive. */
export const stepAttributes = z.strictObject({
  id: id.optional(),
  by: text.optional(),
  critical: flag.optional(),
  hold: flag.optional(),
  photo: text.optional(),
  takes: duration.optional(),
  weight: weight.optional(),
  age: age.optional(),
  after: text.optional(),
  guards: text.optional(),
  unnoticed: text.optional(),
  replaces: text.optional(),
});
/** `::move`: one piece where no `count` is given. */
export const moveAttributes = z.strictObject({ item: text, count: count.optional(), from: text, to: text });
/** `::turn`. */
export const turnAttributes = z.strictObject({ fastening: text, to: text });
/** `::check`; the challenge is its text. */
export const checkAttributes = z.strictObject({
  by: text.optional(),
  answer: text,
  about: text.optional(),
  replaces: text.optional(),
});
/** `::include`. */
export const includeAttributes = z.strictObject({ procedure: text });
/** `:item` and `:place`. */
export const linkAttributes = z.strictObject({ id: text });
/** Directives without attributes. */
export const noAttributes = z.strictObject({});
