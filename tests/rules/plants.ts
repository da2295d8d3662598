/**
 * Defects planted one at a time in the collection `theatre`, which was written from the format's description alone, by
 * someone who had not read this code. The place at which each is to be found is where `§` stands in what is planted.
 */
import { cpSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";

const FIT = "carriage/fit-seat-harness.mdx",
  UNFIT = "carriage/unfit-seat-harness.mdx",
  FULL = "carriage/fit-full-harness.mdx",
  SET = "wagon/set-rostrum.mdx",
  STRIKE = "wagon/strike-rostrum.mdx";
const JUNIOR = "carriage/configurations/junior.mdx",
  SENIOR = "carriage/configurations/senior.mdx",
  EQUIPMENT = "carriage/equipment.yaml",
  PLATFORM = "carriage/platform.yaml";

/** Rule, file, words that stand there, and what is put in their place. */
export const plants: readonly (readonly [rule: string, file: string, find: string, planted: string])[] = [
  ["text/syntax", FIT, ":::step{#draw", "§::: step{#draw"],
  ["text/syntax", FULL, 'by=lead photo=yoke takes="30 s"', 'by=lead photo=yoke takes="30 s" §by=second'],
  ["text/syntax", JUNIOR, "for light performers", "for performers §<55 kg"],
  ["text/syntax", SET, "Lift the rostrum onto the deck.\n", "Lift the rostrum onto the deck.\n§:::\n"],
  ["text/syntax", "service.yaml", "  second: Stagehand", "§    second: Stagehand"],
  ["text/syntax", "carriage/reading/why-two-shackles.mdx", "There are {pins}", "There are §{pins"],
  ["text/unknown-field", PLATFORM, "y: 0 mm, room: 3", "y: 0 mm, §rooms: 3"],
  ["text/unknown-field", "carriage/reading/why-two-shackles.mdx", "<ItemCount item=", "<ItemCount §itm="],
  ["text/missing-field", FULL, "::turn{fastening=yoke-pin to=home}", "§::turn{fastening=yoke-pin}"],
  ["text/bad-value", EQUIPMENT, "mass: 2.4 kg", "mass: §2,4 kg"],
  ["text/bad-value", FIT, "sign-offs: again", "sign-offs: §repeat"],
  ["text/unknown-directive", UNFIT, ":item[shackles]", "§:itme[shackles]"],
  ["text/unknown-id", JUNIOR, "[seat-harness,", "[§seat-harnes,"],
  ["text/unknown-id", FIT, "guards=shackle-2024", "guards=§shackle-2042"],
  ["text/unknown-id", "carriage/reading/why-two-shackles.mdx", "<WeightBands", "§<WeightBand"],
  ["text/duplicate-id", "wagon/equipment.yaml", "wedge: {", "§barre: {name: X, home: dock}\nwedge: {"],
  ["text/not-data", SET, "Lift the rostrum onto", "Lift the §<b>rostrum</b> onto"],
  ["bands/unclear", "service.yaml", "from 30 kg up to 110 kg", "§30-110 kg"],
  ["bands/unclear", FULL, 'weight="from 90 kg"', 'weight="§90–110 kg"'],
  ["bands/empty", FULL, 'weight="from 90 kg"', 'weight="§from 90 kg to under 80 kg"'],
  ["bands/gap", SENIOR, "weight: from 55 kg", "weight: §over 55 kg"],
  ["bands/overlap", "wagon/configurations/speech.mdx", "weight: from 60 kg", "weight: §from 50 kg"],
  ["bands/outside-service", "wagon/configurations/dance.mdx", "weight: from 30 kg", "weight: §from 29.999 kg"],
  ["bands/step-never-applies", FULL, 'weight="from 90 kg"', 'weight="§under 55 kg"'],
  ["parts/not-there", UNFIT, "::move{item=seat-harness from=yoke", "§::move{item=seat-harness from=side-rail"],
  ["parts/not-enough", FIT, "::move{item=shackle count=2", "§::move{item=shackle count=3"],
  [
    "parts/left-loose",
    UNFIT,
    "::move{item=shackle count=2 from=yoke to=tool-bag}",
    "§::move{item=shackle count=2 from=yoke to=aside}",
  ],
  [
    "parts/no-home",
    EQUIPMENT,
    "Constructor's plate\n  mass: 1 kg\n  home: rack",
    "Constructor's plate\n  mass: 1 kg\n  home: §aside",
  ],
  ["fastening/held", SET, "::turn{fastening=brake to=up}\n::move", "§::move"],
  [
    "fastening/left-open",
    STRIKE,
    "::turn{fastening=brake to=up}\n::move{item=rostrum from=deck to=dock}\n::turn{fastening=brake to=down}\n",
    "§::turn{fastening=brake to=up}\n::move{item=rostrum from=deck to=dock}\n",
  ],
  [
    "fastening/no-change",
    STRIKE,
    "::turn{fastening=brake to=up}",
    "::turn{fastening=brake to=up}\n§::turn{fastening=brake to=up}",
  ],
  ["photo/mark-outside", "carriage/photos/yoke.yaml", "[{n: 1, x: 0.31", "[§{n: 1, x: 0.05"],
  ["photo/older-than-item", "carriage/photos/yoke.yaml", "taken: 2026-08-30", "taken: §2025-12-30"],
  ["record/same-approver", STRIKE, "approved-by: Technical director", "approved-by: §Head of flying"],
  ["record/date-order", STRIKE, "review-by: 2036-09-14", "review-by: §2026-09-13"],
  ["record/review-overdue", STRIKE, "review-by: 2036-09-14", "review-by: §2026-10-14"],
  ["record/no-change-entry", STRIKE, "revision: 1", "revision: §2"],
  ["card/unknown-check", "folders.yaml", "check: QF5J-F7", "check: §QF5J-FX"],
  ["wording/vague", UNFIT, "Hang the seat harness on the rack.", "Hang the seat harness on the rack §if necessary."],
  [
    "wording/weight-in-text",
    UNFIT,
    "Hang the seat harness on the rack.",
    "Hang the seat harness on the rack for a performer under §55 kg.",
  ],
];

/** A copy of the theatre below `work` with one defect; `marked` is the damaged file with its `§`, line ends as LF. */
export function plant(work: string, file: string, find: string, planted: string) {
  const folder = mkdtempSync(join(work, "c-"));
  cpSync(resolve(import.meta.dirname, "../fixtures/collections/theatre"), folder, { recursive: true });
  const path = join(folder, file),
    text = readFileSync(path, "utf8"),
    isCrlf = text.includes("\r\n"),
    plain = text.replaceAll("\r\n", "\n");
  if (!plain.includes(find)) throw new Error(`${file} does not hold ${find}`);
  const marked = plain.replace(find, () => planted),
    damaged = marked.replace("§", "");
  writeFileSync(path, isCrlf ? damaged.replaceAll("\n", "\r\n") : damaged);
  return { folder, marked };
}
