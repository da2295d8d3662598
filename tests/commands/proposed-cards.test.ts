/**
 * Cards as a proposal would make them: on its own page and in `rerig cards --proposed`, marked on every side, without
 * edition, day of effect and check code; and cards asked for by platform and id. That changes to come are kept from
 * being taken for present ones is ISO 9001:2015, 7.5.3; the collection is invented.
 */
import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { Findings } from "../../src/findings/finding.ts";
import { formatFor } from "../../src/paper/card-format.ts";
import { packHtml } from "../../src/paper/card-pack.ts";
import { requestCards, requestProposed } from "../../src/paper/card-requests.ts";
import { buildForTest } from "../builder/built-site.ts";
import { edit } from "../domain/force/eight-days.ts";
import { runHere } from "./run-here.ts";

const root = resolve(import.meta.dirname, "../..");
const work = mkdtempSync(join(tmpdir(), "rerig-proposed-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const folder = join(work, "collection"),
  site = join(work, "site");
const DAY = "2026-06-01";
const SHELL = "sled/configurations/child-shell.mdx";
const CODE = /\b[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{2}\b/;
const force = async () => forceOn(await loadCollection(folder, new Findings()), DAY);

beforeAll(async () => {
  cpSync(join(root, "tests/fixtures/collections/sled"), folder, { recursive: true });
  expect((await runHere(["issue", "--procedures", folder], DAY)).status).toBe(0);
  edit(
    folder,
    SHELL,
    [/^status: approved$/m, "status: in review"],
    [/^(owner: .*)$/m, "revision: 2\neffective: 2026-09-01\n$1"],
    [/\n---\n/, "\nchanges: [{ revision: 2, date: 2026-05-20, by: Training officer, summary: Both pins. }]\n---\n"],
    [/two, clip across/, "two, clip across and down"],
  );
}, 60_000);

/** The sides that would go to the printer. */
async function sidesOf(asked: { readonly card?: readonly string[] }): Promise<{ html: string; unknown: string[] }> {
  const { requests, unknown } = requestProposed(await force(), asked);
  const html = await packHtml({ title: "Pack", language: "en-GB", format: formatFor("A5"), cards: requests });
  return { html: html.slice(html.indexOf('<section class="c-side')), unknown };
}

// Common practice, no source: what is printed ahead is exchanged on its day, and not when it comes from the printer.
describe.skipIf(!process.env["RERIG_BROWSER"])("`rerig cards --on`", () => {
  it.each([
    ["2026-07-01", /^These are the cards of 1 Jul 2026\. Until then those of today hold/m],
    ["2026-05-01", /^These are the cards of 1 May 2026\. Others may be in force today/m],
    [DAY, undefined],
  ])("%s: says whose day's cards these are, where it is not today's", async (on, said) => {
    const out = join(work, `${on}.pdf`),
      // Nothing is issued in the sled's own files: before its first issue a collection has errors.
      own = join(root, "tests/fixtures/collections/sled"),
      asked = ["cards", "--card", "vacuum-mattress", "--on", on, "--out", out, "--procedures", own];
    const { status, stderr } = await runHere(asked, DAY);
    expect([status, stderr]).toEqual([0, expect.stringContaining("Print at 100 %")]);
    if (said) expect(stderr).toMatch(said);
    else expect(stderr).not.toContain("These are the cards of");
  });
});

describe("`rerig cards --proposed`", () => {
  it("prints the cards that a proposal would change, and no other", async () => {
    const { requests } = requestProposed(await force(), {});
    expect(requests.map(({ platform, card }) => [platform, card.id, card.revision])).toEqual([
      ["sled", "child-shell", 2],
    ]);
    expect((await sidesOf({ card: ["vacuum-mattress"] })).unknown).toEqual([
      "No proposal would change the card of vacuum-mattress",
    ]);
  });

  it("marks every side, and gives no edition, no day of effect and no check code", async () => {
    const [request] = requestProposed(await force(), {}).requests;
    expect(request!.card).toMatchObject({ notForUse: "PROPOSED" });
    for (const key of ["edition", "effective", "checkCode", "address"]) expect(request!.card).not.toHaveProperty(key);
    const { html } = await sidesOf({});
    expect(html).toContain("two, clip across and down");
    const sides = html.split('<section class="c-side').slice(1);
    const own = sides.filter((side) => !/c-contents|c-blank/.test(side));
    expect(own.length).toBeGreaterThanOrEqual(1);
    expect(own.filter((side) => !side.includes(">PROPOSED<"))).toEqual([]);
    expect(html).not.toMatch(CODE);
  });

  it("does not go together with a folder", async () => {
    const { status, stderr } = await runHere(
      ["cards", "--proposed", "--folder", "ridge-hut", "--procedures", folder],
      DAY,
    );
    expect([status, stderr]).toEqual([2, expect.stringContaining("`--folder`")]);
  });
});

it("a card in force is asked for by its id, or by platform and id", async () => {
  const { collection } = await force();
  const names = (...card: string[]) =>
    requestCards(collection, { card }, DAY).requests.map(({ platform, card: { id } }) => `${platform}/${id}`);
  expect(names("sled/child-shell")).toEqual(["sled/child-shell"]);
  expect(names("child-shell")).toEqual(["sled/child-shell"]);
  expect(requestCards(collection, { card: ["boat/child-shell"] }, DAY).unknown).toEqual([
    "There is no card `boat/child-shell` in force; there is child-shell, vacuum-mattress",
  ]);
  const [sled] = collection.platforms;
  const boat = {
    ...sled!,
    id: "boat",
    configurations: sled!.configurations.map((configuration) => ({ ...configuration, platform: "boat" })),
  };
  const two = { ...collection, platforms: [...collection.platforms, boat] };
  const asked = (name: string) => requestCards(two, { card: [name] }, DAY);
  expect(asked("boat/child-shell").requests.map(({ platform }) => platform)).toEqual(["boat"]);
  expect(asked("sled").unknown[0]).toContain("sled/child-shell, sled/vacuum-mattress, boat/child-shell");
});

it("the page of a proposed configuration leads to its card, marked on every side; that in force stays", async () => {
  await buildForTest({ collectionFolder: folder, outFolder: site, on: DAY, checked: true });
  const read = (address: string) => readFileSync(join(site, address, "index.html"), "utf8");
  const proposal = "sled/configurations/child-shell/proposed/2/";
  expect(read(proposal)).toMatch(/href="[^"]*card\/">Its card, as it would be</);
  const card = read(`${proposal}card/`),
    sides = card.slice(card.indexOf('class="c-sheets"'));
  expect(card).toContain("Proposed, not in force.");
  expect(sides).toContain("two, clip across and down");
  const own = sides.split('<section class="c-side').slice(1);
  expect(own.length).toBeGreaterThanOrEqual(1);
  expect(own.filter((side) => !side.includes(">PROPOSED<"))).toEqual([]);
  expect(sides).not.toMatch(CODE);
  // What its review says would become stale is what the command prints.
  const review = read(`${proposal}review/`),
    stale = review.slice(review.indexOf('id="stale"')).split("</section>")[0]!;
  const { proposed } = await force();
  const printed = requestProposed(await force(), {}).requests.map(({ card: { id } }) => id);
  const named = proposed.platforms[0]!.configurations.filter(({ code }) => stale.includes(code)).map(({ id }) => id);
  expect([printed, named]).toEqual([["child-shell"], ["child-shell"]]);
  const inForce = read("sled/cards/child-shell/card/");
  expect(inForce).not.toContain("PROPOSED");
  expect(inForce).not.toContain("across and down");
  expect(inForce.slice(inForce.indexOf('class="c-sheets"'))).toMatch(CODE);
}, 240_000);
