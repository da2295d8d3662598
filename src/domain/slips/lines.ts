/** What a line looks at, as slots of a state: whether somebody who asks it notices that something is otherwise. */
import type { Check } from "../../schema/collection.ts";
import type { Model, State } from "../states/model.ts";
import { subjectsOf } from "../cards/subjects.ts";

/** Indices into a state that a line looks at; empty for a line that is about nothing known. */
type Looked = readonly number[];

/** Words that count as others, from service.yaml. */
export type OtherNames = Readonly<Record<string, readonly string[]>>;

/** Gives what each line of a platform looks at; each worked out once. */
export function lookerOf(model: Model, otherNames?: OtherNames): (check: Check) => Looked {
  const known = new Map<Check, Looked>();
  return (check) => {
    const looked = known.get(check) ?? lookedAt(check, model, otherNames);
    known.set(check, looked);
    return looked;
  };
}

function lookedAt(check: Check, model: Model, otherNames?: OtherNames): Looked {
  const at = subjectsOf(check, model.platform, otherNames).flatMap(({ kind, id }) => {
    if (kind === "item") return model.items.find((item) => item.id === id)?.slots ?? [];
    if (kind === "place") return model.places.find((place) => place.id === id)?.slots ?? [];
    return model.slots.length + model.fastenings.findIndex((fastening) => fastening.id === id);
  });
  return [...new Set(at)];
}

/** Whether a line sees that a state is not the right one: something that it is about is otherwise. */
export function sees(looked: Looked, right: State, wrong: State): boolean {
  return looked.some((at) => right[at] !== wrong[at]);
}
