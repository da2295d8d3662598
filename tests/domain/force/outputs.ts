/** Which revision each output of the program names on a day of the story of eight days: computed, none by hand. */
import { holdsPatient } from "../../../src/domain/bands/bands.ts";
import { dataFiles } from "../../../src/build/data.ts";
import { currentCards } from "../../../src/domain/cards/cards-issued.ts";
import { packPlatform } from "../../../src/domain/device/pack.ts";
import { forceOn } from "../../../src/domain/force/force.ts";
import { arrangementNamed, graphFor, planChangeover } from "../../../src/domain/states/changeover.ts";
import { modelOf } from "../../../src/domain/states/model.ts";
import { judgeSignOffs } from "../../../src/domain/records/signoffs.ts";
import { requestCards } from "../../../src/paper/card-requests.ts";
import { changeoverCards } from "../../../src/paper/changeover-card.ts";
import { auditFolders } from "../../../src/paper/folder-audit.ts";
import { printedCodes } from "../../../src/paper/printed-card.ts";
import type { Collection, Controlled } from "../../../src/schema/collection.ts";
import { contentFor } from "../../../src/site/plans/checklists.ts";
import { changesOf } from "../../../src/site/records/changes.ts";
import { reviewDates } from "../../../src/site/records/reviews.ts";
import { signOffRecord } from "../../../src/site/records/sign-off-pages.ts";
import { makeSite, platformOf } from "../../../src/site/site.ts";
import { questionsOf } from "../../../src/site/study/questions.ts";

/**
 * The revision of the child shell, or of the way to it, that each output names on a day; 0 for none. `folder`: where
 * the files are.
 */
export function outputsOn(folder: string, files: Collection, day: string): Readonly<Record<string, number>> {
  const { collection } = forceOn(files, day);
  const site = makeSite(folder, files, day),
    own = platformOf(site, "sled");
  const inForce = (document: Controlled | undefined) => (document?.status === "approved" ? document.revision : 0);
  const page = own.procedures.find(({ id }) => id === "change-to-shell")!,
    shellPage = own.configurations.find(({ id }) => id === "child-shell")!;
  const entries = changesOf(site, page, "procedure", "x/");
  const [platform] = collection.platforms;
  const model = modelOf(platform!);
  const configuration = platform!.configurations.find(({ band }) => holdsPatient(band, { weight: 10n ** 21n }));
  const [from, to] = ["vacuum-mattress", "child-shell"].map((name) => arrangementNamed(model, name));
  const plan = from && to && planChangeover(model, graphFor(model, { weight: 10n ** 21n }), from, to);
  const printed = changeoverCards(collection, platform!)("vacuum-mattress--child-shell")[0];
  const card = requestCards(collection, { card: ["child-shell"] }, day).requests[0];
  const located = { where: { file: "folders.yaml", line: 1, column: 1 }, at: {} };
  const copies = [{ ...located, card: "child-shell", platform: "sled", copy: 1 }];
  const audited = auditFolders({ ...collection, folders: [{ ...located, id: "f", name: "F", copies }] }, day)[0];
  const procedure = platform!.procedures.find(({ id }) => id === "change-to-shell");
  const pack = packPlatform(platform!, collection.service);
  const bands = dataFiles(site).get("bands.json")!() as {
    configurations: { configuration: string; revision: number }[];
  }[];
  const signed = procedure && { person: "A", document: procedure, revision: 1, date: "2026-01-20", assessor: "B" };
  const judged = signed && judgeSignOffs(collection, [{ ...signed, ...located } as never], day, 0, () => new Set())[0];
  return {
    chooser: configuration?.revision ?? 0,
    changeover: plan?.procedures.find(({ id }) => id === "change-to-shell")?.revision ?? 0,
    "step of the changeover": Number(/way (\d)/.exec(JSON.stringify(plan?.steps ?? []))?.[1] ?? 0),
    "changeover on paper": Number(/way (\d)/.exec(JSON.stringify(printed ?? ""))?.[1] ?? 0),
    "card in force":
      currentCards(platform!, printedCodes(collection)).find(({ configuration: id }) => id === "child-shell")?.content
        .revision ?? 0,
    "card on paper": card?.card.revision ?? 0,
    "line of the card": Number(/way (\d)/.exec(JSON.stringify(card?.card.parts ?? []))?.[1] ?? 0),
    "card of the folder": audited?.copies[0]?.now?.content.revision ?? 0,
    "sign-off": judged?.signOff.document.revision ?? 0,
    "page of the procedure": inForce(page),
    "page of the configuration": inForce(shellPage),
    "history in force": entries.find(({ state }) => state === "now")?.revision ?? 0,
    "checklist on the page": inForce(shellPage) && wayIn(contentFor(site, own, shellPage)),
    "sheet of sign-offs": inForce(page) && signOffRecord(site, own, page).revision,
    "review dates": reviewDates(site).find(({ title }) => title.includes(page.code))?.revision ?? 0,
    "pack of a device": pack.configurations.find(({ id }) => id === "child-shell")?.revision ?? 0,
    "data/bands.json": bands[0]!.configurations.find((row) => row.configuration === "child-shell")?.revision ?? 0,
    questions: wayIn(questionsOf(site, own).filter(({ source }) => source.id === "child-shell")),
  };
}

/** The revision whose words stand in something, 0 for none. */
function wayIn(value: unknown): number {
  const text = JSON.stringify(value, (_key, entry: unknown) => (typeof entry === "bigint" ? String(entry) : entry));
  return Number(/way (\d)/.exec(text ?? "")?.[1] ?? 0);
}
