/**
 * A changeover's card in a folder while a temporary amendment changes a step of it: the slip lies over that card too,
 * and what is to be printed, what the pack prints and what the code is looked up by are the same card. Over the demo
 * (invented). That a temporary note stays with every paper that it changes is common practice, no source.
 */
import { resolve } from "node:path";
import { expect, it } from "vitest";
import { slipsIn } from "../../src/domain/cards/amendment-slips.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { requestCards } from "../../src/paper/card-requests.ts";
import { auditFolders } from "../../src/paper/folder-audit.ts";
import type { Collection, Folder } from "../../src/schema/collection.ts";
import { changeoverCodes } from "../../src/site/records/revisions.ts";
import { makeSite } from "../../src/site/site.ts";
import { readCollection } from "../read-collection.ts";

const procedures = resolve(import.meta.dirname, "../../procedures"),
  files = await readCollection(procedures);
const DAY = "2026-11-28";
/** The demo on a day on which FCR-T-A1 runs, with one folder that holds only the card of a changeover. */
function withCopy(card: string, check?: string): { collection: Collection; folder: Folder } {
  const { collection } = forceOn(files, DAY),
    [some] = collection.folders;
  const copy = { ...some!.copies[0]!, card, copy: 1, platform: "tern" };
  const { check: _, ...rest } = copy,
    folder = { ...some!, copies: [check === undefined ? rest : { ...rest, check }] };
  return { collection: { ...collection, folders: [folder] }, folder };
}

it.each([
  ["newborn-capsule--child-cradle", true],
  // By its arrangement, though no step on it is amended: a slip too many does no harm.
  ["child-cradle--newborn-capsule", true],
  ["newborn-capsule--deck-harness", false],
])("lies over %s: %s", (pair, lies) => {
  const { collection, folder } = withCopy(pair);
  const over = slipsIn(collection, folder, DAY).flatMap((slip) => slip.over.map(({ id }) => id));
  expect(over).toEqual(lies ? [pair] : []);
});

it("lies over the card that the folder orders, which has a code, and is what the pack prints", () => {
  const { collection, folder } = withCopy("newborn-capsule--child-cradle", "7K3F-QS");
  const ordered = auditFolders(collection, DAY)[0]!.copies.flatMap(({ now, oneOf }) => oneOf ?? now ?? []);
  const printed = requestCards(collection, { folder: folder.id }, DAY).requests.map(({ card }) => card);
  expect(printed.map(({ checkCode }) => checkCode)).toEqual(ordered.map(({ code }) => code));
  for (const { checkCode, onlyUntil } of printed) {
    expect(checkCode).toMatch(/^\w{4}-\w{2}$/);
    expect(onlyUntil).toBeUndefined();
  }
  const site = makeSite(procedures, files, DAY);
  expect(changeoverCodes(site).map(({ code }) => code)).toEqual(
    expect.arrayContaining(printed.map(({ checkCode }) => checkCode)),
  );
  // Asked for by itself, for the run of today, it holds the amended step and belongs in no folder.
  const { requests } = requestCards(collection, { changeover: ["newborn-capsule--child-cradle"] }, DAY);
  expect(requests.map(({ card }) => [card.checkCode, card.onlyUntil])).toEqual(
    requests.map(() => [undefined, "2026-12-11"]),
  );
});
