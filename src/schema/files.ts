/**
 * The shape of every file that authors write and of every directive's attributes, each field with what the author's
 * guide says of it. What a field may be stands here and nowhere else.
 */
import { z } from "zod";
import { declaring, field, naming } from "./described.ts";
import { kinds } from "./leaves.ts";
import { TERMS, type TermName } from "./terms.ts";
import { AMENDMENT_DAYS, ASIDE, DEFAULT_STEP_SECONDS } from "./units.ts";

const { text, id, date, length, mass, force, duration, litres, weight, age, flag, count, revision, order } = kinds;
const { factor, reserve, flow, fraction, site, language, fasteningKind, direction, status, phase, placeKind } = kinds;
const { paper, every, afterRun, signOffs, policy, pieces, cardId, crew, documentId, term } = kinds;
const { itemId, placeId, fasteningId, configurationId, optionId, procedureId } = kinds;

const state = naming(text, "state");

const bandOfDocument = {
  weight: field(weight.optional(), "The patients that it is for, by weight.", { without: "any weight" }),
  age: field(age.optional(), "The patients that it is for, by age.", { without: "any age" }),
};

/** Lines of the readiness sheet, and what is done after a run, of an item or a place. */
const readied = {
  ready: field(
    z
      .array(
        z.strictObject({
          every: field(every.optional(), "How often somebody looks.", {
            without: "never: then `until` must be there",
            good: "shift",
            bad: "now and then",
          }),
          look: field(text, "What is to be seen when it is ready.", { good: "charged to four bars" }),
          until: field(date.optional(), "The last day on which it is good: an expiry or a service.", {
            without: "it does not expire",
            good: "2027-03-01",
            bad: "March 2027",
          }),
        }),
      )
      .optional(),
    "Lines of the readiness sheet.",
    {
      without: "nobody looks at it between runs",
      good: "[{ every: shift, look: charged to four bars }]",
      bad: "charged to four bars",
    },
  ),
  "after-run": field(
    z.array(afterRun).optional(),
    "What is done after a run that " + "used, wore, opened or emptied it.",
    {
      without: "nothing",
      good: "[clean, charge]",
      bad: "[wash]",
    },
  ),
};

/** A noun of the program's that a service may call otherwise: its singular, or singular and plural. */
function noun(name: TermName, says: string, good: string) {
  return field(z.array(term).optional(), says, { without: `\`${TERMS[name].one}\``, good, bad: `the ${good}` });
}

/** `service.yaml`. */
export const serviceFile = z.strictObject({
  name: field(text, "What the service is called. It stands on every page and card.", {
    good: "Fennmark Coast Retrieval",
  }),
  language: field(
    language.optional(),
    "The language that the procedures are written in; numbers, dates and lists are written as it does.",
    { without: "`en-GB`" },
  ),
  site: field(
    site.optional(),
    "Where the site will stand. Cards print it, so that their code can be looked up there.",
    {
      without: "cards say no address",
    },
  ),
  weight: field(weight, "Every patient whom the service carries, by weight. The bands must fill it.", {
    good: "from 1.2 kg to under 130 kg",
    bad: "1.2-130 kg",
  }),
  age: field(age.optional(), "Every patient whom the service carries, by age.", {
    without: "any age",
    good: "under 18 years",
    bad: "<18 years",
  }),
  crew: field(
    z.record(declaring(id, "role"), text),
    "The crew’s roles: an id, which steps name and pages and cards say (`lead` is “Lead”), and who that is.",
    {
      good: "{ lead: Transport nurse, second: Second crew member }",
      bad: "[Transport nurse, Second crew member]",
    },
  ),
  policy: field(
    z.record(naming(text, "rule"), policy).optional(),
    "How severe a rule is here, by the rule's name; and `amendment-days`, how long " +
      "an amendment may run. Rules of the " +
      "groups bands, parts, fastening and load can't be switched off.",
    {
      without: `each rule as the page of rules says; amendments run for ${AMENDMENT_DAYS} days at most`,
      good: "{ wording/long-sentence: off, photo/missing: error }",
      bad: "{ wording/long-sentence: never }",
    },
  ),
  cards: field(
    z
      .strictObject({
        paper: field(paper.optional(), "The size of a card.", { without: "`A5`", good: "A5", bad: "A3" }),
        laminate: field(flag.optional(), "Whether cards are laminated: then they keep a margin to be sealed.", {
          without: "no",
        }),
      })
      .optional(),
    "How cards are printed.",
    { without: "on A5, not laminated", good: "{ paper: A5, laminate: true }", bad: "A5" },
  ),
  "other-names": field(
    z.record(text, z.array(text)).optional(),
    "Your word for a thing, and the words that others use for it: search finds them, the check points them out.",
    { without: "none", good: "{ trolley: [stretcher, cot], capsule: [pod] }", bad: "[stretcher, cot]" },
  ),
  search: field(
    z.record(text, z.array(text)).optional(),
    "What people type when they look for a thing: search finds it by these. Nothing shows them, and no rule minds " +
      "them in a text.",
    { without: "none", good: "{ capsule: [bubble], loose article check: [flying objects] }", bad: "[bubble]" },
  ),
  words: field(
    z
      .strictObject({
        patient: noun("patient", "Whoever or whatever is carried.", "casualty"),
        platform: noun("platform", "What is rebuilt between two runs, whatever its own name.", "crate"),
        head: noun("head", "The end of the platform that is drawn on the left.", "nose"),
        foot: noun("foot", "The other end of it.", "tail"),
        coordinator: noun("coordinator", "Whom the crew asks when no arrangement fits.", "dispatcher"),
        vehicle: noun("vehicle", "What carries the platform on the road.", "lorry"),
        aircraft: noun("aircraft", "What carries the platform in the air.", "helicopter"),
        "kit room": noun("kit room", "Where things are kept that stay behind.", "shed"),
      })
      .optional(),
    "Your own nouns for those that the program says: every page, card and command then says yours. Where the plural " +
      "is not made as usual, write both.",
    {
      without: "the program's own",
      good: "{ patient: [casualty, casualties], aircraft: helicopter }",
      bad: "[casualty]",
    },
  ),
  chooser: field(
    flag.optional(),
    "Whether a weight can be entered on the site. The table of bands is there either way.",
    {
      without: "yes",
      good: "false",
    },
  ),
  doubt: field(
    z
      .array(
        z.strictObject({
          weight: field(weight.optional(), "For which weights.", {
            without: "any weight",
            good: "from 4.5 kg to under 5.5 kg",
            bad: "about 5 kg",
          }),
          age: field(age.optional(), "For which ages.", { without: "any age" }),
          say: field(text, "What is asked, in a sentence.", { good: "Ask for a weight of today." }),
          fetch: field(z.array(configurationId).optional(), "The configurations that are fetched meanwhile.", {
            without: "none",
            good: "[newborn-capsule, child-cradle]",
            bad: "[Newborn capsule]",
          }),
        }),
      )
      .optional(),
    "Patients for whom the chooser asks something first: it answers when that has been read back.",
    {
      without: "it asks nothing",
      good: "[{ weight: from 4.5 kg to under 5.5 kg, say: Ask for a weight of today., fetch: [newborn-capsule] }]",
      bad: "[{ weight: from 4.5 kg to under 5.5 kg }]",
    },
  ),
  demands: field(
    z
      .array(
        z.strictObject({
          name: field(text, "What the flow is called on the sheet.", { good: "Oxygen 5 l/min" }),
          litres: field(flow, "The flow, in litres a minute."),
          from: field(z.array(itemId).optional(), "The items that feed it; each says its `contents`.", {
            without: "every item with `contents`",
            good: "[oxygen-cylinder]",
            bad: "[Oxygen cylinder]",
          }),
        }),
      )
      .optional(),
    "Flows of gas, for the table that says how long the cylinders last.",
    {
      without: "no table for gas",
      good: "[{ name: Oxygen 5 l/min, litres: 5, from: [oxygen-cylinder] }]",
      bad: "[{ name: Oxygen 5 l/min, litres: 5 l/min }]",
    },
  ),
  reserve: field(
    reserve.optional(),
    "What the minutes of gas and batteries are divided by: `2` keeps half in reserve, `1` keeps nothing.",
    { without: "`1`" },
  ),
});

const placeFields = {
  name: field(text, "What it is called on pages and cards.", { good: "Pin tray" }),
  kind: field(
    placeKind,
    "A `mount` on the platform, a `stowage` that travels with it, or a `store` that stays behind.",
    { good: "stowage", bad: "shelf" },
  ),
  room: field(count.optional(), "How many pieces it takes.", { without: "as many as there are" }),
  ...readied,
};

/** A place of the platform. */
const platformPlace = z.strictObject({
  ...placeFields,
  x: field(length.optional(), "Where it is along the platform, from the datum.", {
    without: "its load is not worked out",
  }),
  y: field(length.optional(), "Where it is across the platform, from the middle line.", {
    without: "in the middle",
    good: "-140 mm",
  }),
  walk: field(duration.optional(), "The way to a store, one way. A fetch counts it there and back.", {
    without: "no time",
    good: "60 s",
    bad: "60",
  }),
});
/** A place on an item. */
const itemPlace = z.strictObject({
  ...placeFields,
  dx: field(length.optional(), "How far along it is from where the item itself stands.", {
    without: "where the item stands",
    good: "120 mm",
    bad: "120",
  }),
  dy: field(length.optional(), "How far across it is from where the item itself stands.", {
    without: "where the item stands",
    good: "-20 mm",
    bad: "-20",
  }),
});
/** A fastening. */
const fastening = z.strictObject({
  name: field(text, "What it is called on pages and cards.", { good: "Deck lever" }),
  states: field(z.array(text), "The names of its states: two or more.", {
    good: "[locked, released]",
    bad: "{ locked: released }",
  }),
  secure: field(state, "The state in which it holds: one of its `states`.", { good: "locked", bad: "shut" }),
  holds: field(
    z.array(placeId),
    "The place that it holds, or a list of them. `[]` for what holds nothing and " +
      "still must stand right: a brake, a " +
      "valve, a plug, a switch. A lever or pin that keeps something in its place names " +
      "that place; the brake of the " +
      "wheels keeps nothing in a place, and names none.",
    { good: "deck", bad: "the deck" },
  ),
  "when-empty": field(state.optional(), "The state in which it is left while its place is empty.", {
    without: "its secure state",
    good: "locked",
    bad: "shut",
  }),
  rated: field(force.optional(), "The force that it is rated for.", { without: "its rating is not checked" }),
  kind: field(fasteningKind.optional(), "What it is, so that it is drawn and named right.", {
    without: "worked out from what it holds",
    good: "lever",
    bad: "handle",
  }),
  against: field(z.array(direction).optional(), "The directions in which it holds. Only these are rated.", {
    without: "all of them",
    good: "[forward, upward]",
    bad: "[up]",
  }),
});

const multiple = (way: string) =>
  field(factor.optional(), `The load factor ${way}, in multiples of g.`, { without: "not checked" });

/** `platform.yaml`. */
export const platformFile = z.strictObject({
  name: field(text, "What the platform is called."),
  datum: field(text.optional(), "In words, from where `x` is measured, and which way.", {
    without: "pages do not say it",
    good: "head end of the deck, positive towards the foot",
  }),
  confirms: field(
    procedureId.optional(),
    "The procedure that confirms patient and band. The chooser shows its steps.",
    {
      without: "the chooser shows none",
      good: "confirm-band",
      bad: "Confirm the band",
    },
  ),
  patient: field(
    z.strictObject({ x: field(length, "Where it acts along the platform, from the datum.") }).optional(),
    "Where the patient's mass acts.",
    { without: "the balance is worked out without a patient", good: "{ x: 820 mm }", bad: "820 mm" },
  ),
  own: field(
    z
      .strictObject({
        mass: field(mass, "The mass of the bare platform.", { good: "58 kg", bad: "58" }),
        x: field(length, "Where it acts along the platform, from the datum.", { good: "900 mm", bad: "900" }),
      })
      .optional(),
    "The bare platform.",
    { without: "it weighs nothing", good: "{ mass: 58 kg, x: 900 mm }", bad: "58 kg" },
  ),
  places: field(
    z.record(declaring(id, "place"), platformPlace),
    `The places on the platform, what travels with it, and the stores, each by its ` +
      `id. Every platform also has the place ` +
      `\`${ASIDE}\`: put down within reach for now.`,
    { good: "{ deck: { name: Deck, kind: mount, x: 900 mm, room: 1 } }", bad: "[deck, pin-tray, store]" },
  ),
  fastenings: field(
    z.record(declaring(id, "fastening"), fastening).optional(),
    "What holds something, or must stand right, each by its id.",
    {
      without: "none",
      good: "{ deck-lever: { name: Deck lever, states: [locked, released], secure: locked, holds: deck } }",
      bad: "[deck-lever]",
    },
  ),
  limits: field(
    z
      .strictObject({
        mass: field(mass.optional(), "The most that platform, load and patient may weigh.", {
          without: "not checked",
          good: "210 kg",
          bad: "210",
        }),
        balance: field(
          z
            .strictObject({
              from: field(length, "The end nearer to the datum.", { good: "700 mm", bad: "700" }),
              to: field(length, "The end farther from it.", { good: "1000 mm", bad: "1000" }),
            })
            .optional(),
          "Between which points the balance point must lie.",
          { without: "not checked", good: "{ from: 700 mm, to: 1000 mm }", bad: "700 mm to 1000 mm" },
        ),
      })
      .optional(),
    "What the platform may carry, by its maker's or operator's approved data.",
    {
      without: "not checked",
      good: "{ mass: 210 kg, balance: { from: 700 mm, to: 1000 mm } }",
      bad: "{ weight: 210 kg }",
    },
  ),
  factors: field(
    z
      .strictObject({
        source: field(text.optional(), "The paper that they come from.", {
          without: "pages name none",
          good: "The operator's approved data",
        }),
        forward: multiple("forward"),
        rearward: multiple("rearward"),
        sideward: multiple("sideward"),
        upward: multiple("upward"),
        downward: multiple("downward"),
      })
      .optional(),
    "Load factors, by which what each fastening holds is compared with its rating.",
    { without: "ratings are not checked", good: "{ forward: 16, sideward: 8 }", bad: "{ forwards: 16 }" },
  ),
});

/** An item. */
const item = z.strictObject({
  name: field(text, "What it is called on pages and cards.", { good: "Newborn capsule" }),
  count: field(count.optional(), "How many pieces there are. What has places of its own is one piece.", {
    without: "one",
    good: "1",
  }),
  mass: field(mass.optional(), "What one piece weighs.", {
    without: "its load is not worked out, which is a " + "warning",
  }),
  home: field(placeId, "Where it is when nobody needs it.", { good: "store", bad: "Kit room" }),
  carries: field(
    flag.optional(),
    "Whether what is in its places travels with it. Else it is emptied before it is moved.",
    {
      without: "no",
    },
  ),
  places: field(z.record(declaring(id, "place"), itemPlace).optional(), "Places on the item, each by its id.", {
    without: "none",
    good: "{ capsule-pouch: { name: Capsule pouch, kind: stowage, dx: 120 mm } }",
    bad: "[capsule-pouch]",
  }),
  restrains: field(weight.optional(), "The patients whom it is rated to hold, by its maker's data.", {
    without: "it holds no patient",
    good: "from 1.2 kg to under 5 kg",
    bad: "1.2 to 5 kg",
  }),
  replaced: field(date.optional(), "The day since which this model is in use. Older photos of it are pointed out.", {
    without: "it was never replaced",
    good: "2026-04-01",
    bad: "1 April 2026",
  }),
  ...readied,
  contents: field(litres.optional(), "The gas in one full piece, at 1 bar.", { without: "it holds no gas" }),
  runs: field(duration.optional(), "How long one full battery lasts.", {
    without: "it has no battery",
    good: "4 h",
    bad: "4",
  }),
});

/** `equipment.yaml`. */
export const equipmentFile = z.record(declaring(id, "item"), item);

const change = z.strictObject({
  revision: field(revision, "The revision that the change made.", { good: "2" }),
  date: field(date, "The day of the change.", { good: "2026-09-10" }),
  by: field(text, "Who made it.", { good: "Clinical educator" }),
  summary: field(text, "What is different, in a sentence.", { good: "A check after the pins" }),
  reason: field(text.optional(), "Why.", { without: "pages give none", good: "A pin was left out" }),
  "sign-offs": field(
    signOffs.optional(),
    "Whether people must be seen to do it `again`, or the sign-offs of the revision before `stand`.",
    { without: "worked out from what changed", good: "again", bad: "yes" },
  ),
  steps: field(z.array(naming(id, "step")).optional(), "The ids of the steps that are always seen again.", {
    without: "those that changed",
    good: "[push-pins]",
    bad: "[Push pins]",
  }),
});

const inApproved = "in what is approved";

const controlled = {
  effective: field(date.optional(), "The day from which this revision counts.", {
    needed: "in an approved procedure",
    without: "it counts as if it always had, and no day can be added once it is issued",
  }),
  "review-by": field(date.optional(), "The day by which it is looked at again.", {
    needed: "in an approved procedure",
    without: "nobody is reminded",
    good: "2027-09-14",
    bad: "autumn 2027",
  }),
  owner: field(text.optional(), "Who answers for it.", {
    needed: inApproved,
    without: "nobody yet",
    good: "Clinical educator",
  }),
  "approved-by": field(text.optional(), "Who approved it: somebody other than who made the change.", {
    needed: inApproved,
    without: "nobody yet",
    good: "Lead transport nurse",
  }),
  changes: field(z.array(change).optional(), "What each revision changed: one entry for every revision above 1.", {
    needed: "from revision 2 on",
    without: "nothing changed yet",
    good: "[{ revision: 2, date: 2026-09-10, by: Clinical educator, summary: A check after the pins }]",
    bad: "A check after the pins",
  }),
};

/** Front matter of a procedure. */
export const procedureHead = z.strictObject({
  title: field(text, "What is done, as an order.", { good: "Seat the newborn capsule" }),
  code: field(text, "Its number in your own papers: no two documents have the same.", { good: "FCR-T-02" }),
  revision: field(revision, "The number of this version.", { good: "2" }),
  status: field(status, "Only what is `approved` counts; the others are drafts of what may come, or what is gone.", {
    good: "in review",
    bad: "final",
  }),
  phase: field(phase.optional(), "Where it belongs in a changeover, among ways of the same length.", {
    without: "worked out from what it does",
    good: "build",
    bad: "second",
  }),
  ...controlled,
  ...bandOfDocument,
});

const fittedSays =
  "What stands where: each place by its id, with what is in it; a number before an " + "item is how many.";
const fittedExamples = {
  good: "{ deck: [capsule-base], capsule-seat: [newborn-capsule, 4 capsule-pin] }",
  bad: "{ capsule-seat: [capsule-pin x4] }",
};
const fitted = z.record(placeId, z.array(pieces));

/** Front matter of a configuration. */
export const configurationHead = z.strictObject({
  title: field(text, "What the arrangement is called.", { good: "Newborn capsule" }),
  code: field(text, "Its number in your own papers: no two documents have the same.", { good: "FCR-T-C1" }),
  revision: field(revision.optional(), "The number of this version.", { without: "`1`", good: "1" }),
  status: field(status, "Only what is `approved` counts.", { good: "in review", bad: "final" }),
  ...controlled,
  weight: field(weight, "The patients whom it carries, by weight: together the configurations leave no gap.", {
    good: "from 1.2 kg to under 5 kg",
    bad: "1.2-5 kg",
  }),
  age: bandOfDocument.age,
  authority: field(
    z
      .array(
        z.strictObject({
          kind: field(text, "Whose paper it is.", { good: "maker" }),
          reference: field(text, "Which paper, with its issue.", { good: '"Handbook NC-H-01, issue 6"' }),
          date: field(date.optional(), "The date of the paper.", { without: "pages give none", good: "2026-02-01" }),
        }),
      )
      .optional(),
    "The papers that allow the arrangement.",
    {
      without: "none, which is a warning",
      good: "[{ kind: maker, reference: Handbook NC-H-01, date: 2026-02-01 }]",
      bad: "Handbook NC-H-01",
    },
  ),
  standing: field(flag.optional(), "Whether the platform waits for the next call in this arrangement.", {
    without: "no",
  }),
  fitted: field(fitted, `${fittedSays} Every other item is at its home.`, fittedExamples),
  fastenings: field(
    z.record(fasteningId, state).optional(),
    "Fastenings that stand otherwise than secure, or than `when-empty` where their place is empty.",
    { without: "each stands as it should", good: "{ wheel-brakes: off }", bad: "[wheel-brakes]" },
  ),
  options: field(z.array(optionId).optional(), "The options that go with it, in the order in which they are read.", {
    without: "none",
    good: "[second-ventilator, gas-shelf]",
    bad: "[Gas shelf]",
  }),
  requires: field(
    z
      .array(
        z.strictObject({
          option: field(optionId, "One of its `options`."),
          weight: field(weight.optional(), "For which weights it is needed.", {
            without: "any weight",
            good: "under 2.5 kg",
            bad: "<2.5 kg",
          }),
          age: field(age.optional(), "For which ages it is needed.", { without: "any age" }),
        }),
      )
      .optional(),
    "Options that some patients need: for them only arrangements with it exist.",
    { without: "none", good: "[{ option: gas-shelf, weight: under 2.5 kg }]", bad: "[Gas shelf]" },
  ),
});

/** Front matter of an option. */
export const optionHead = z.strictObject({
  title: field(text, "What the option is called.", { good: "Gas shelf" }),
  code: field(text.optional(), "Its number in your own papers.", { without: "it has none", good: "FCR-T-A2" }),
  revision: field(revision.optional(), "The number of this version.", { without: "`1`", good: "1" }),
  status: field(status, "Only what is `approved` counts.", { good: "in review", bad: "final" }),
  ...controlled,
  ...bandOfDocument,
  fitted: field(fitted.optional(), `${fittedSays} It replaces what the configuration has in those places.`, {
    needed: "unless `empty` is",
    without: "it adds nothing",
    good: "{ foot-rail: [ventilator] }",
    bad: "[ventilator]",
  }),
  empty: field(z.array(placeId).optional(), "The places that it clears.", {
    needed: "unless `fitted` is",
    without: "none",
    good: "[foot-rail]",
    bad: "[Foot rail]",
  }),
  "not-with": field(z.array(optionId).optional(), "Options that it can't be together with. It counts both ways.", {
    without: "none",
    good: "[second-ventilator]",
    bad: "[Second ventilator]",
  }),
});

/** Front matter of a temporary amendment. */
export const amendmentHead = z.strictObject({
  number: field(text, "Its number in your own papers.", { good: "FCR-T-T1" }),
  title: field(text, "What it is about.", { good: "Pins of one delivery are withdrawn" }),
  reason: field(text, "Why.", { good: "Two of them bent at the yearly test" }),
  from: field(date, "The first day on which it holds.", { good: "2026-11-28", bad: "tomorrow" }),
  until: field(date, "The last day on which it holds; then it lapses by itself.", {
    good: "2026-12-11",
    bad: "in two weeks",
  }),
  owner: field(text, "Who answers for it.", { good: "Clinical educator" }),
  "approved-by": field(text, "Who approved it: not the owner.", { good: "Lead transport nurse" }),
  amends: field(
    z
      .array(
        z.strictObject({
          procedure: field(procedureId, "Which procedure it changes."),
          revision: field(revision, "This revision and no other.", { good: "2" }),
        }),
      )
      .optional(),
    "The procedures that its warnings and steps belong to.",
    {
      needed: "unless `out` is",
      without: "none",
      good: "[{ procedure: seat-capsule, revision: 2 }]",
      bad: "[seat-capsule]",
    },
  ),
  out: field(z.array(itemId).optional(), "Items of which every piece is out of service meanwhile.", {
    needed: "unless `amends` is",
    without: "none",
    good: "[ventilator]",
    bad: "[Ventilator]",
  }),
});

/** Front matter of a background page. */
export const readingHead = z.strictObject({
  title: field(text, "What the page is called.", { good: "Why there are four pins" }),
  summary: field(text.optional(), "What it tells, for the list of pages.", {
    without: "the list gives the title alone",
    good: "What each pin holds, and against what",
  }),
  order: field(order.optional(), "Where it stands in the list: smaller numbers first.", {
    without: "after those with a number",
  }),
});

/** A photo's sidecar. A missing `alt` is the photo rules' business. */
export const photoFile = z.strictObject({
  alt: field(text.optional(), "What is to be seen, in words, for who can't see it.", {
    needed: "with every picture",
    good: "Four pins seated in the capsule base",
  }),
  taken: field(date.optional(), "The day on which it was taken.", {
    without: "it can't be said whether it is older than what it shows",
    good: "2026-08-30",
  }),
  shows: field(z.array(itemId).optional(), "The items that are to be seen.", {
    without: "none",
    good: "[capsule-pin, capsule-base]",
    bad: "[Capsule pins]",
  }),
  marks: field(
    z
      .array(
        z.strictObject({
          n: field(count.optional(), "The number in the mark.", { needed: "in a mark that is no arrow", good: "2" }),
          x: field(fraction.optional(), "From the left edge of the whole picture.", {
            needed: "in a mark that is no arrow",
          }),
          y: field(fraction.optional(), "From the top edge of the whole picture.", {
            needed: "in a mark that is no arrow",
            good: "0.44",
            bad: "44 %",
          }),
          label: field(text.optional(), "What the mark points at.", {
            needed: "in a mark that is no arrow",
            good: "Left front pin",
          }),
          arrow: field(z.array(fraction).optional(), "Where an arrow begins and ends: `[x1, y1, x2, y2]`.", {
            without: "it is a number",
            good: "[0.5, 0.1, 0.45, 0.3]",
            bad: "[0.5, 0.1]",
          }),
        }),
      )
      .optional(),
    "Numbers and arrows on the picture.",
    {
      without: "none",
      good: "[{ n: 1, x: 0.31, y: 0.44, label: Left front pin }, { arrow: [0.5, 0.1, 0.45, 0.3] }]",
      bad: "[Left front pin]",
    },
  ),
  crop: field(
    z
      .strictObject({
        x: field(fraction, "Its left edge.", { good: "0.1", bad: "10 %" }),
        y: field(fraction, "Its upper edge.", { good: "0", bad: "top" }),
        width: field(fraction, "Its width.", { good: "0.8", bad: "80 %" }),
        height: field(fraction, "Its height.", { good: "0.9", bad: "90 %" }),
      })
      .optional(),
    "The part of the picture that is shown.",
    {
      without: "the whole picture",
      good: "{ x: 0.1, y: 0, width: 0.8, height: 0.9 }",
      bad: "[0.1, 0, 0.8, 0.9]",
    },
  ),
});

/** `folders.yaml`. */
export const foldersFile = z.record(
  id,
  z.strictObject({
    name: field(text, "What the binder is called.", { good: "Helicopter folder" }),
    copies: field(
      z
        .array(
          z.strictObject({
            card: field(
              cardId,
              "Which card: a configuration, perhaps with options; the platform before it, " +
                "where two have such a card.",
            ),
            copy: field(count, "The number of the copy.", { good: "1" }),
            check: field(text.optional(), "The check code that is printed on this copy.", {
              without: "it can't be said whether the copy is in force",
              good: "7K3F-Q2",
            }),
            placed: field(date.optional(), "The day on which it was put there.", {
              without: "not known",
              good: "2026-09-15",
            }),
          }),
        )
        .optional(),
      "The copies of cards in it.",
      {
        without: "none",
        good: "[{ card: newborn-capsule, copy: 1, check: 7K3F-Q2, placed: 2026-09-15 }]",
        bad: "[newborn-capsule]",
      },
    ),
  }),
);

/** `incidents.yaml`. */
export const incidentsFile = z.record(
  declaring(id, "incident"),
  z.strictObject({
    date: field(date, "The day on which it went wrong.", { good: "2025-11-02" }),
    summary: field(text, "What went wrong, in a sentence.", { good: "A head pin was left in the tray" }),
    reference: field(text.optional(), "The report.", { without: "pages give none", good: "Report 7" }),
  }),
);

/** `reviews/NAME.yaml`. */
export const reviewFile = z.strictObject({
  document: field(documentId, "The procedure, configuration or option that was read.", {
    good: "trolley/seat-capsule",
    bad: "Seat the capsule",
  }),
  revision: field(revision, "The revision that was read.", { good: "2" }),
  remarks: field(
    z.array(
      z.strictObject({
        step: field(naming(text, "step").optional(), "The step: its id, or its number.", {
          without: "the remark is about the whole document",
          good: "push-pins",
          bad: "",
        }),
        by: field(text, "Who says it: a role or a name.", { good: "Second crew member" }),
        date: field(date, "The day on which it was said.", { good: "2026-09-11" }),
        text: field(text, "What is said.", { good: '"Which pin first? The left rear one is hard to reach."' }),
        answer: field(text.optional(), "What the author answers. A remark without an answer is open.", {
          without: "the remark is open, and keeps the revision from being approved",
          good: "Any order; the check counts all four.",
        }),
        answered: field(date.optional(), "The day of the answer.", { without: "not said", good: "2026-09-12" }),
      }),
    ),
    "What was said, in the order in which it was said.",
    {
      good: "[{ step: push-pins, by: Second crew member, date: 2026-09-11, text: Which pin first? }]",
      bad: "Which pin first?",
    },
  ),
});

/** Attributes of each directive. */
export const stepAttributes = z.strictObject({
  id: field(
    declaring(id, "step").optional(),
    "The step's name, by which others refer to it; it is written `#push-pins`.",
    {
      without: "nothing can refer to it",
    },
  ),
  by: field(crew.optional(), "Who does it: a role of the crew, several, `both`, or `all`.", {
    without: "anybody",
    good: "both",
    bad: "nurse",
  }),
  critical: field(flag.optional(), "Whether it hurts somebody if it is left out or done wrong.", { without: "no" }),
  hold: field(flag.optional(), "Whether nobody goes on until it is done and its answer is heard.", { without: "no" }),
  photo: field(
    naming(text, "photo").optional(),
    "The photos that show it, by the names of their files without the ending.",
    {
      without: "none, which is a warning where something is moved or turned",
      good: "capsule-pins",
      bad: "capsule-pin.jpg",
    },
  ),
  takes: field(duration.optional(), "How long it takes.", {
    without: `${DEFAULT_STEP_SECONDS} s`,
    good: "40 s",
    bad: "40",
  }),
  weight: field(weight.optional(), "The patients for whom it is done, by weight.", {
    without: "those of the procedure",
    good: "from 1.2 kg to under 2.5 kg",
    bad: "<2.5 kg",
  }),
  age: field(age.optional(), "The patients for whom it is done, by age.", { without: "those of the procedure" }),
  after: field(naming(text, "step").optional(), "The ids of steps that must be done before it.", {
    without: "it follows from what they share",
    good: "lower-capsule",
    bad: "lower-the-capsule",
  }),
  guards: field(naming(text, "incident").optional(), "The ids of incidents that it guards against.", {
    without: "none",
    good: "near-miss-7",
    bad: "near-miss-8",
  }),
  unnoticed: field(
    text.optional(),
    "Why it does not matter, or can't be helped, that leaving it out would go unnoticed.",
    {
      without: "the check points out a safety-critical step that nobody would notice was left out",
      good: "The crew chief counts the pins at the hatch",
    },
  ),
  replaces: field(
    naming(text, "step").optional(),
    "In a temporary amendment: the id of the step whose place it takes.",
    {
      needed: "in a temporary amendment, and nowhere else",
      good: "push-pins",
      bad: "push-the-pins",
    },
  ),
});
/** `::move`: one piece where no `count` is given. */
export const moveAttributes = z.strictObject({
  item: field(itemId, "What is moved."),
  count: field(count.optional(), "How many pieces of it.", { without: "one" }),
  from: field(placeId, "Where it is before.", { good: "pin-tray", bad: "tray" }),
  to: field(placeId, "Where it is afterwards.", { good: "capsule-seat", bad: "base" }),
});
/** `::turn`. */
export const turnAttributes = z.strictObject({
  fastening: field(fasteningId, "What is opened, shut, locked, switched or plugged."),
  to: field(state, "The state in which it is afterwards: one of its `states`.", { good: "in", bad: "locked" }),
});
/** `::check`; the challenge is its text. */
export const checkAttributes = z.strictObject({
  by: field(crew.optional(), "Who looks and answers.", { without: "anybody", good: "second", bad: "nurse" }),
  answer: field(text, "What must be there for the crew to go on.", { good: "four in, four locked" }),
  about: field(
    naming(text, "item", "place", "fastening").optional(),
    "The ids of what is looked at: items, places, fastenings.",
    {
      without: "what has the challenge's name",
      good: "capsule-pin base-pins",
      bad: "pins",
    },
  ),
  replaces: field(text.optional(), "In an option: the challenge of the configuration's line whose place it takes.", {
    without: "the line with the same challenge, if there is one",
    good: "Capsule pins",
    bad: "",
  }),
});
/** `::include`. */
export const includeAttributes = z.strictObject({
  procedure: field(procedureId, "The procedure whose steps are done here.", {
    good: "confirm-band",
    bad: "Confirm the band",
  }),
});
/** `:item`. */
export const itemLinkAttributes = z.strictObject({ id: field(itemId, "The id of the item.") });
/** `:place`. */
export const placeLinkAttributes = z.strictObject({ id: field(placeId, "The id of the place.") });
/** Directives without attributes. */
export const noAttributes = z.strictObject({});
