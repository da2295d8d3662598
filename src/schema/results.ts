/**
 * The shapes of the machine-readable results: `--json` of the commands and the files of `data/`, with a JSON Schema for
 * each.
 */
import { z } from "zod";
import { stepNoteShape } from "./times/times.ts";

const seconds = z.number().nonnegative().describe("seconds");
const outcome = z.enum(["stopped", "seen", "counted", "made good", "silent"]);
const kilograms = z.number().describe("kilograms, not rounded");

/** `rerig check --json`. Lines and columns count from 1. */
export const checkShape = z.object({
  findings: z.array(
    z.object({
      rule: z.string().regex(/^[a-z]+\/[a-z-]+$/),
      severity: z.enum(["error", "warning"]),
      file: z.string(),
      line: z.int().min(1),
      column: z.int().min(1),
      endLine: z.int().min(1).optional().describe("line in which the words at fault end"),
      endColumn: z.int().min(1).optional().describe("column after their last character"),
      message: z.string().min(1),
      fix: z.string().min(1),
      expected: z.array(z.string()).optional().describe("what could stand there; each would do"),
      actual: z.string().optional().describe("what stands there, as written or as it comes out"),
      proposed: z.literal(true).optional().describe("it comes with newer text that is not in force"),
    }),
  ),
  counts: z.object({ error: z.int().nonnegative(), warning: z.int().nonnegative() }),
  read: z.object({
    platforms: z.int(),
    configurations: z.int(),
    options: z.int(),
    procedures: z.int(),
    steps: z.int(),
    photos: z.int(),
  }),
});

/** The steps of the procedure that confirms patient and band, for this patient. */
const confirmShape = z.object({ procedure: z.string(), steps: z.array(z.int().min(1)) }).optional();

/** `rerig choose --json`. */
const chooseShape = z.object({
  weight: z.string().optional().describe("absent where only an age is known"),
  age: z.string().optional().describe("the age, where it is all that is known"),
  configurations: z.array(z.string()).describe("empty while what is asked has not been read back"),
  items: z.array(z.string()),
  confirm: confirmShape,
  arrangements: z
    .array(z.string())
    .optional()
    .describe("with the options that this patient needs; absent if none needs any"),
  outOfService: z
    .array(z.object({ arrangement: z.string(), why: z.string() }))
    .optional()
    .describe("what can't be built while a temporary amendment takes something out of service; absent if nothing"),
  open: z.array(z.string()).optional().describe("what an age alone leaves open: it chooses nothing"),
  ask: z
    .array(z.object({ say: z.string(), fetch: z.array(z.string()) }))
    .optional()
    .describe("what the service asks before it answers; absent if nothing"),
});

const netMove = z.object({ item: z.string(), count: z.int().min(1), from: z.string(), to: z.string() });

/** `rerig changeover --json`: `parts` is the net change. */
const changeoverShape = z.object({
  from: z.string(),
  stoppedBefore: z.string().optional().describe("with --from-step: `procedure:step`; the way begins half-built"),
  toward: z.string().optional().describe("with --from-step: the arrangement that the changeover was to lead to"),
  to: z.string(),
  procedures: z.array(z.string()),
  seconds,
  elapsed: seconds,
  steps: z.array(
    z.object({
      procedure: z.string(),
      step: z.int().min(1),
      by: z.string(),
      critical: z.boolean(),
      only: z
        .string()
        .optional()
        .describe("the patients for whom the step is; absent where it is for all that were asked for"),
      start: seconds,
      end: seconds,
    }),
  ),
  parts: z.array(netMove),
});

/** `rerig load --json`: nothing is rounded. */
const loadShape = z.object({
  mass: z.object({ kg: kilograms, limit: kilograms.nullable() }),
  moment: z.object({ kgm: z.number().describe("kilogram metres") }),
  balance: z.object({ mm: z.number().nullable(), from: z.number().nullable(), to: z.number().nullable() }),
  within: z.boolean(),
  broken: z.array(z.string()),
  items: z.array(
    z.object({
      item: z.string(),
      place: z.string(),
      count: z.int().min(1),
      kg: kilograms,
      mm: z.number().nullable(),
      kgm: z.number(),
    }),
  ),
  own: z.object({ kg: kilograms, mm: z.number(), kgm: z.number() }),
  patient: z.object({ kg: kilograms, mm: z.number().nullable(), kgm: z.number() }).nullable(),
  noMass: z.array(z.string()),
  crossings: z.array(z.object({ limit: z.string(), broken: z.string(), kg: kilograms.nullable() })),
  fastenings: z.array(
    z.object({
      fastening: z.string(),
      kg: kilograms,
      patient: z.boolean(),
      ratedN: z.number().nullable().describe("newtons"),
      loads: z.record(
        z.string(),
        z.object({ factor: z.number(), newtons: z.number(), within: z.boolean().nullable() }).nullable(),
      ),
      within: z.boolean().nullable(),
    }),
  ),
  factorSource: z.string().nullable(),
});

/** `data/bands.json`: the table of bands of each platform, in its words and in exact kilograms and days. */
const bandsShape = z.array(
  z.object({
    platform: z.string(),
    service: z.string(),
    configurations: z.array(
      z.object({
        configuration: z.string(),
        title: z.string(),
        code: z.string(),
        revision: z.int(),
        weight: z.string(),
        age: z.string(),
        from: z.object({ kg: z.string().describe("exact decimal"), owned: z.boolean() }).nullable(),
        to: z.object({ kg: z.string().describe("exact decimal"), owned: z.boolean() }).nullable(),
      }),
    ),
  }),
);

/**
 * `data/changeovers.json`: the least-time changeover of every ordered pair of configurations without options, for a
 * patient of each band in which it differs.
 */
const changeoversShape = z.array(z.object({ platform: z.string(), patients: z.string(), changeover: changeoverShape }));

/** `data/loads.json`: each arrangement with a patient at both ends of its band; an open end counts as its value. */
const loadsShape = z.array(
  z.object({ platform: z.string(), arrangement: z.string(), patientKg: z.number().nullable(), load: loadShape }),
);

const day = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}$/)
  .describe("YYYY-MM-DD");
const checkCode = z
  .string()
  .regex(/^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{2}$/)
  .describe("check code of a card");
const revision = z.int().nullable().describe("null for the card of a changeover, which has none of its own");
const edition = z.int().min(1).nullable().describe("of the frozen card; null for one that was never frozen");
const cardInForce = z.object({ revision, edition, check: checkCode, from: day.nullable() });

/**
 * `rerig folders --json` and `data/folders.json`: folders and copies in walking order; `print` is what to print first.
 */
export const foldersShape = z.object({
  today: day,
  print: z.array(
    z.object({
      platform: z.string(),
      card: z.string(),
      code: z.string(),
      revision,
      edition,
      check: checkCode,
      from: day.nullable(),
      copies: z.array(z.object({ folder: z.string(), copy: z.int() })),
    }),
  ),
  folders: z.array(
    z.object({
      folder: z.string(),
      name: z.string(),
      stale: z.int().nonnegative(),
      copies: z.array(
        z.object({
          card: z.string().describe("without its platform"),
          platform: z.string().nullable().describe("null while the files do not say which one it is"),
          copy: z.int(),
          state: z.enum([
            "current",
            "replace",
            "coming",
            "unread",
            "unclear",
            "wrong-code",
            "withdrawn",
            "not-tracked",
          ]),
          stale: z.boolean(),
          current: cardInForce
            .extend({ platform: z.string(), code: z.string() })
            .nullable()
            .describe("the card that must lie there today"),
          next: cardInForce.nullable().describe("the card that takes its place on a later day"),
          found: cardInForce.nullable().describe("the card that lies there, by its code"),
          onlyWith: z
            .array(z.string())
            .describe("titles of the options without which the old card that lies there differs in nothing"),
          check: z.string().nullable().describe("the code as it is written in folders.yaml"),
          placed: day.nullable(),
        }),
      ),
      slips: z
        .array(
          z.object({
            number: z.string(),
            check: checkCode,
            from: day,
            until: day,
            over: z.array(z.object({ platform: z.string(), card: z.string() })),
          }),
        )
        .describe("of temporary amendments that run or are still to come"),
      absent: z.array(z.object({ platform: z.string(), card: z.string() })),
    }),
  ),
});

/**
 * `data/slips.json`: the omission proof of each platform. `outcomes` counts the changeovers in which a slip ends how,
 * or the arrangements for a procedure that is in none; `worst` is where it survives longest.
 */
const slipsShape = z.array(
  z.object({
    platform: z.string(),
    changeovers: z.int().describe("changeovers looked at"),
    complete: z.boolean().describe("whether these are all"),
    slips: z.array(
      z.object({
        procedure: z.string(),
        step: z.int().min(1),
        act: z.union([
          z.object({ turn: z.string(), to: z.string() }),
          z.object({ move: z.string(), count: z.int().min(1), from: z.string(), to: z.string() }),
        ]),
        slip: z.enum(["left out", "one too few", "half turned"]),
        critical: z.boolean(),
        outcomes: z.partialRecord(outcome, z.int().min(1)),
        worst: z.object({
          from: z.string(),
          to: z.string().describe("the same as `from` where the procedure is done alone"),
          outcome,
          procedure: z.string().optional().describe("that is stopped, or whose line sees it"),
          step: z.int().min(1).optional(),
          line: z.string().optional().describe("the challenge that sees it"),
          card: z.literal(true).optional().describe("that line stands on the card"),
          by: z.array(z.string()),
          afterSeconds: seconds,
        }),
        reason: z
          .string()
          .optional()
          .describe("why nobody can notice it where it is silent, and what stands instead, as the step says"),
      }),
    ),
    cards: z.array(
      z.object({
        configuration: z.string(),
        lines: z.array(z.string()),
        slips: z.int().describe("slips that are still there when the card is read, in all changeovers"),
        seen: z.int().describe("those of them that it sees"),
        sees: z.array(z.int().min(0)).describe("how many of them each line sees, in the order of `lines`"),
        idle: z.array(z.string()).describe("lines that see none"),
        enough: z.array(z.string()).describe("the fewest lines that see all that the card sees"),
        isLeast: z.boolean(),
        atLeast: z.int().describe("no fewer lines are enough"),
      }),
    ),
  }),
);

const lostOption = z.object({ configuration: z.string(), option: z.string() });

/** `rerig without ITEM --json`: what is still possible while pieces are out of service. */
const withoutShape = z.object({
  platform: z.string(),
  out: z.array(z.object({ item: z.string(), count: z.int().min(1) })),
  possible: z.array(z.string()).describe("arrangements that can still be built of the pieces that are left"),
  lost: z.array(z.string()),
  nobodyFor: z.array(z.string()).describe("patients whom an arrangement was for, and none is now"),
  lostOptions: z.array(lostOption).describe("of configurations that can still be built"),
  lines: z
    .array(z.object({ line: z.string(), arrangements: z.array(z.string()) }))
    .describe("lines of cards that can't be answered as they are written"),
  standIns: z
    .array(z.object({ item: z.string(), instead: z.array(z.string()) }))
    .describe("for what holds a patient, other items that hold the same weights"),
  otherWays: z
    .array(
      z.object({
        from: z.string(),
        to: z.string(),
        patients: z.string(),
        seconds: seconds.describe("of the way as it was"),
        now: z
          .object({ seconds, procedures: z.array(z.string()) })
          .nullable()
          .describe("null: there is no way"),
      }),
    )
    .describe("changeovers between what is still possible that take another way"),
});

/** `rerig recall ITEM --json`: everything on a platform that an item touches. */
const recallShape = z.object({
  platform: z.string(),
  item: z.string(),
  count: z.int().min(1),
  home: z.string(),
  fittedIn: z.array(z.string()).describe("configurations and options"),
  copies: z.array(z.object({ folder: z.string(), card: z.string(), copy: z.int().min(1) })),
  cards: z.array(
    z.object({ configuration: z.string(), lines: z.array(z.string()).describe("none: it is only counted or drawn") }),
  ),
  procedures: z.array(
    z.object({
      procedure: z.string(),
      steps: z.array(
        z.object({ step: z.int().min(1), how: z.array(z.enum(["moves", "turns", "looks", "names"])).min(1) }),
      ),
    }),
  ),
  amendments: z.array(z.string()).describe("temporary amendments that run or are still to come"),
  photos: z.array(z.string()),
  questions: z.int().nonnegative(),
  signOffs: z.array(z.string()),
});

const inForce = z.boolean().describe("whether this revision is the one in force; if not, the text is another one");

/** `rerig times FILE… --json`: seconds; a median is absent where no time is known. */
const timesShape = z.object({
  runs: z.int().min(0),
  drills: z.int().min(0).describe("of the runs"),
  halfBuilt: z.int().min(0).describe("of the runs, those that began half-built: the call had changed"),
  steps: z.array(
    z.object({
      platform: z.string(),
      procedure: z.string(),
      revision: z.int().min(1),
      step: z.int().min(1),
      back: z.literal(true).optional().describe("the step walked back: worked out, not written"),
      takes: seconds,
      runs: z.int().min(1).describe("that had the step"),
      timed: z.int().min(0).describe("of them, those into whose step no pause fell"),
      median: seconds.optional(),
      least: seconds.optional(),
      most: seconds.optional(),
      interrupted: z.int().min(0),
      inForce,
    }),
  ),
});

/** `rerig notes FILE… --json`, by step. */
const notesShape = z.object({
  notes: z.array(z.object({ ...stepNoteShape.unwrap().shape, inForce })),
});

const counted = z.array(z.object({ item: z.string(), count: z.int().min(1), place: z.string() }));

const drillLeg = {
  to: z.string(),
  card: z.string(),
  elapsed: seconds,
  seconds,
  steps: z.array(z.object({ procedure: z.string(), step: z.int().min(1) })),
  count: z.object({ out: counted, in: counted, moved: counted }),
};

/** `rerig drill --seed N --json`. */
const drillShape = z.object({
  seed: z.int().min(0),
  platform: z.string(),
  from: z.string(),
  weight: z.string(),
  age: z.string(),
  asked: z.array(z.string()).describe("options that are asked for beside what the patient needs"),
  missing: z.object({ item: z.string(), count: z.int().min(1) }).nullable(),
  signal: z.boolean(),
  ask: z.array(z.string()).describe("what the service asks first"),
  key: z
    .object({
      ...drillLeg,
      refused: z.array(z.string()).describe("options asked for that can't be had with what is missing"),
      change: z
        .object({
          after: z.int().min(1).describe("steps done before it, in starting order"),
          weight: z.string().nullable().describe("of the next patient; null: stood down"),
          age: z.string().nullable(),
          ...drillLeg,
        })
        .nullable()
        .describe("what changes on the way, and the way from there; null: nothing does"),
    })
    .nullable()
    .describe("null: with what is missing this patient can't be carried"),
});

/** `data/single-points.json`: how many pieces of each item may be missing before somebody can't be carried. */
const singlePointsShape = z.array(
  z.object({
    platform: z.string(),
    items: z.array(
      z.object({
        item: z.string(),
        count: z.int().min(0),
        spare: z.int().min(0).nullable().describe("null: all of them may be missing"),
        nobodyFor: z.array(z.string()).describe("who can't be carried with one more missing"),
        lostOptions: z.array(lostOption),
      }),
    ),
  }),
);

const callFields = {
  seconds: z.number().nonnegative().describe("from the call to the card that has been read"),
  stages: z.array(
    z.object({
      stage: z.enum(["band", "fetch", "changeover", "supply", "card"]),
      start: z.number().nonnegative(),
      end: z.number().nonnegative(),
      steps: z.int().min(1),
    }),
  ),
  walks: z.array(
    z.object({
      store: z.string(),
      walkSeconds: z.number().nonnegative().nullable().describe("one way; null: not given"),
    }),
  ),
};
const every = z.enum(["shift", "day", "week", "run"]).nullable().describe("null: by its date alone");
const readyParts = {
  sheet: z.array(
    z.object({
      place: z.string(),
      depth: z.int().nonnegative().describe("on how many items the place stands"),
      stands: z.array(z.object({ item: z.string(), count: z.int().min(1) })),
      looks: z.array(z.object({ of: z.string(), every, look: z.string(), until: day.nullable() })),
    }),
  ),
  endurance: z.array(
    z.object({
      item: z.string(),
      pieces: z.int().min(1),
      demand: z.string().nullable().describe("null: it runs on its own battery"),
      minutes: z.int().nonnegative().describe("after the reserve, rounded down"),
      arithmetic: z.string(),
    }),
  ),
  dates: z.array(z.object({ of: z.string(), look: z.string(), until: day })),
};
const restockPart = z.object({
  from: z.string(),
  to: z.string(),
  rows: z.array(
    z.object({
      of: z.string().describe("an item, or a place"),
      count: z.int().min(1),
      at: z.string(),
      reasons: z.array(z.enum(["worn", "emptied", "used", "opened", "moved", "along"])).min(1),
      acts: z.array(z.enum(["clean", "charge", "refill", "reseal"])).min(1),
      sure: z.boolean().describe("false: only if it was used"),
    }),
  ),
  unsaid: z.array(z.string()).describe("mounted, and nothing is written of what is done after a run"),
});

/** `data/ready.json`: readiness, restock, endurance, dates and calls of each platform. */
const readyDataShape = z.array(
  z.object({
    platform: z.string(),
    ...readyParts,
    restock: z.array(restockPart),
    calls: z.array(z.object({ to: z.string(), patients: z.string(), ...callFields })),
  }),
);

/** `rerig ready WHAT --json`: the platform and the part that was asked for. */
const readyShape = z.object({
  platform: z.string(),
  sheet: readyParts.sheet.optional(),
  restock: restockPart.optional(),
  endurance: readyParts.endurance.optional(),
  dates: readyParts.dates.optional(),
  call: z.object({ from: z.string(), to: z.string(), ...callFields }).optional(),
});

/** Every file of `data/` with its shape. */
export const dataShapes = {
  check: checkShape,
  bands: bandsShape,
  changeovers: changeoversShape,
  loads: loadsShape,
  slips: slipsShape,
  "single-points": singlePointsShape,
  ready: readyDataShape,
  folders: foldersShape,
} as const;

/** Results that only commands print. */
export const commandShapes = {
  choose: chooseShape,
  changeover: changeoverShape,
  load: loadShape,
  without: withoutShape,
  recall: recallShape,
  ready: readyShape,
  times: timesShape,
  drill: drillShape,
  notes: notesShape,
} as const;

/** The JSON Schema (2020-12) of a shape. */
export function jsonSchemaOf(shape: z.ZodType): unknown {
  return z.toJSONSchema(shape, { target: "draft-2020-12" });
}
