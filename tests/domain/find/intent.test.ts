/**
 * What a query composes, on the list of another trade: a workshop's lift with three frames for machines of different
 * weights. The right pages follow from the list by hand; no source.
 */
import { describe, expect, it } from "vitest";
import type { FindEntry } from "../../../src/domain/find/entry.ts";
import { meantPages, withMeant } from "../../../src/domain/find/intent.ts";
import { en } from "../../../src/words/en.ts";

const FRAMES = [
  ["light-tray", "Light tray", [1, 5]],
  ["medium-sling", "Medium sling", [5, 40]],
  ["heavy-bridge", "Heavy bridge", [40, 200]],
] as const;
const frame = (id: string) => `lift/configurations/${id}/`,
  over = (from: string, to: string) => `lift/changeovers/${from}--${to}/`;
const pages: readonly FindEntry[] = [
  { address: "", title: "Which frame", kind: "Page", chooses: true },
  ...FRAMES.map(([id, title, weights]): FindEntry => ({
    address: frame(id),
    title,
    kind: "Configuration",
    platform: "Lift",
    weights,
  })),
  ...FRAMES.flatMap(([from]) =>
    FRAMES.filter(([to]) => to !== from).map(([to]): FindEntry => ({
      address: over(from, to),
      title: `${from} to ${to}`,
      kind: "Changeover",
      platform: "Lift",
      of: [frame(from), frame(to)],
    })),
  ),
  ...FRAMES.map(([id, title]): FindEntry => ({
    address: `lift/cards/${id}/`,
    title: `Checklist: ${title}`,
    kind: "Card",
    platform: "Lift",
    of: [frame(id)],
    fitted: { "lift/options/lamp-arm/": [`lift/cards/${id}/with/lamp-arm/`, `Card: ${title} with lamp arm`] },
  })),
  { address: "lift/cards/", title: "Cards", kind: "Page", platform: "Lift" },
  { address: "lift/options/lamp-arm/", title: "Lamp arm", kind: "Option", platform: "Lift" },
  { address: "lift/items/bridge/", title: "Winch", kind: "Item", platform: "Lift" },
  { address: "lift/procedures/hang-sling/", title: "Hang the sling", kind: "Procedure", platform: "Lift" },
  { address: "lift/sign-off/hang-sling/", title: "Sign-off", kind: "Form", of: ["lift/procedures/hang-sling/"] },
  { address: "lift/away/", title: "I was away", kind: "Page", platform: "Lift", catchesUp: true },
  { address: "guide/photo/", title: "A photo", kind: "Rule", writes: ["photo", "picture"] },
  { address: "guide/steps/", title: "Steps", kind: "Rule", writes: ["step", "steps"] },
];
const otherNames = { bridge: ["gantry"], "light tray": ["saucer"] };
const meant = (query: string, filters = {}) =>
  meantPages(pages, query, filters, otherNames, en.intents).map(({ entry }) => entry.address);

describe("two arrangements and the way between them", () => {
  it.each([
    ["tray to sling", "light-tray", "medium-sling"],
    ["from the sling to the tray", "medium-sling", "light-tray"],
    ["sling off, tray back on", "medium-sling", "light-tray"],
    ["tray on after sling off", "medium-sling", "light-tray"],
    ["remove the tray, fit the bridge", "light-tray", "heavy-bridge"],
    ["tray from sling", "medium-sling", "light-tray"],
    ["bridge instead of sling", "medium-sling", "heavy-bridge"],
    ["swap tray for gantry", "light-tray", "heavy-bridge"],
    ["saucer to gantry how long", "light-tray", "heavy-bridge"],
    ["how many minutes sling to bridge", "medium-sling", "heavy-bridge"],
    ["rebuild from child to adult", "medium-sling", "heavy-bridge"],
    ["child sling to adult bridge", "medium-sling", "heavy-bridge"],
    ["child dropped off, back to the tray on standby", "medium-sling", "light-tray"],
  ])("%s", (query, from, to) => expect(meant(query)).toEqual([over(from, to)]));

  it.each([
    "tray or sling",
    "tray and sling",
    "sling",
    "child to bridge",
    "tray to sling to bridge",
    "hydraulic hose tray to sling",
    "lamp arm tray to sling",
  ])("says nothing for sure of: %s", (query) => expect(meant(query)).toEqual([]));
});

describe("a card", () => {
  it.each(["sling card", "read out the checklist for the sling", "child checklist", "quick card for the big sling"])(
    "%s",
    (query) => expect(meant(query)).toEqual(["lift/cards/medium-sling/"]),
  );
  it("is meant by the size of its paper, and all of them where no arrangement is named", () => {
    expect(meant("print sling a5")).toEqual(["lift/cards/medium-sling/"]);
    expect(meant("challenge response sling card with lamp arm")[0]).toBe("lift/cards/medium-sling/with/lamp-arm/");
    expect(meant("print a6 checklist")).toEqual(["lift/cards/"]);
    expect(meant("checklist")).toEqual([]);
    expect(meant("print question paper")).toEqual([]);
  });
  it("with the option that is named comes before the one without", () => {
    expect(meant("gantry card with two lamp arms on")).toEqual([
      "lift/cards/heavy-bridge/with/lamp-arm/",
      "lift/cards/heavy-bridge/",
    ]);
  });
  it("is not sure where more is asked, or of no arrangement or two", () => {
    for (const query of ["who approved the sling card", "card", "card for sling or tray", "lamp arm card"])
      expect(meant(query), query).toEqual([]);
  });
});

describe("a record", () => {
  it("is that of the procedure whose words are all there", () => {
    expect(meant("sheet for my assessor to sign, hanging sling")).toEqual(["lift/sign-off/hang-sling/"]);
    for (const query of ["sign off", "hang the sling", "signed off for welding the sling", "crane driver's sign"])
      expect(meant(query), query).toEqual([]);
  });
});

describe("a time away", () => {
  it.each(["back after 3 months what is different", "I was on leave", "been away a few weeks, what changed"])(
    "%s",
    (query) => expect(meant(query)).toEqual(["lift/away/"]),
  );
  it.each(["tray back after 3 months", "back strap", "what changed", "3 months old"])("is not: %s", (query) =>
    expect(meant(query)).toEqual([]),
  );
});

describe("what is to be written", () => {
  it("is answered by the guide, with what is named first before the rest", () => {
    expect(meant("add a picture to a step")).toEqual(["guide/photo/", "guide/steps/"]);
    expect(meant("how do I write steps")).toEqual(["guide/steps/"]);
    for (const query of ["add a sling", "picture of the sling", "add a picture of the sling"])
      expect(meant(query), query).toEqual([]);
  });
});

describe("what is meant", () => {
  it("keeps to the filters", () => expect(meant("tray to sling", { kind: "Procedure" })).toEqual([]));
  it("comes before what is found, once", () => {
    const [a, b, c] = ["a", "b", "c"].map((address) => ({ entry: { address, title: address, kind: "Page" as const } }));
    expect(withMeant([a!, b!, c!], [c!])).toEqual([c, a, b]);
    expect(withMeant([a!], [])).toEqual([a]);
  });
  it("is read in the words that are given, and in no others", () => {
    const asked = { ...en.intents, to: "nach" };
    const found = (query: string) => meantPages(pages, query, {}, {}, asked).map(({ entry }) => entry.address);
    expect(found("tray nach sling")).toEqual([over("light-tray", "medium-sling")]);
    expect(found("tray to sling")).toEqual([over("light-tray", "medium-sling")].slice(1));
  });
});
