/** The arrangement that a call names, for every command that takes one. */
import { type Arrangement, listArrangements } from "../../domain/parts/arrangements.ts";
import { arrangementNamed } from "../../domain/states/changeover.ts";
import { type Model, modelOf } from "../../domain/states/model.ts";
import { CannotRun } from "../../findings/cannot-run.ts";
import type { Platform } from "../../schema/collection.ts";
import { heard } from "../../words/heard.ts";

/** How many arrangements are named to whoever asks for one that is not there. */
const NAMED = 12;

/** Whether a platform has all of these arrangements, by their names. */
export const hasArrangements =
  (...names: readonly string[]) =>
  (platform: Platform): boolean =>
    names.every((name) => arrangementNamed(modelOf(platform), name) !== undefined);

/** By its name (`newborn-capsule+oxygen`); throws `CannotRun` where there is none, and says why it can't be. */
export function askedArrangement(model: Model, name: string): Arrangement {
  const found = arrangementNamed(model, name);
  if (found) return found;
  const say = heard("everyCommand"),
    invalid = listArrangements(model.platform).find((arrangement) => arrangement.name === name);
  if (invalid?.problems[0]) throw new CannotRun(say.cantExist({ arrangement: name, why: invalid.problems[0].message }));
  const first = model.arrangements.slice(0, NAMED).map((arrangement) => arrangement.name),
    arrangements = `${first.join(", ")}${model.arrangements.length > NAMED ? " …" : ""}`;
  throw new CannotRun(say.noSuchArrangement({ name, arrangements }));
}
